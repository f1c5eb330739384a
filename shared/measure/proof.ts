/**
 * What is left until a measured pivot can be trusted: every verdict settled, the readings agree with their sums, the
 * mistakes were run on it as it stands, and a second person has read the three sizes that matter most.
 *
 * A size matters by how much of a coarse reading of it would change a verdict: every reading is taken ten times as
 * coarse and more, until three sizes decide.
 */
import type { Draft, SizeEntry, SizeReading } from '../envelope/draft.ts';
import { contentKey } from '../numbers/figures.ts';
import { bandsOf } from './bands.ts';
import { completed, questionsOf, setSize } from './draft.ts';
import { verdictsOf, type DraftVerdict } from './judge.ts';
import { accuracyOf, readingsOf } from './known.ts';
import { valueAt } from './path.ts';

/** One line of the list. */
export interface ProofStep {
  readonly code: 'settled' | 'agrees' | 'mistakes' | 'second-reading';
  readonly isDone: boolean;
  /** What is open: pivots, or sizes by their paths. */
  readonly open: readonly string[];
}

/** Where a draft stands. */
export interface Proof {
  readonly steps: readonly ProofStep[];
  readonly isTrusted: boolean;
  readonly verdicts: readonly DraftVerdict[];
}

/** How many sizes a second person reads. */
const SECOND = 3;
const COARSER = [10, 40, 160] as const;

/** What the mistakes must have been run on: the key of the analysis of the completed model. */
export function proofKey(draft: Draft): string {
  return contentKey([completed(draft).model, {}]);
}

/** The list of a draft. Two judgings of it. */
export function proofOf(draft: Draft): Proof {
  const verdicts = verdictsOf(draft);
  const unsettled = verdicts.filter(({ verdict }) => verdict === 'unsure').map(({ pivot }) => pivot);
  const disagreeing = questionsOf(draft).map(({ path }) => path);
  const matter = mattersMost(draft);
  const once = matter.filter((path) => readersOf(draft, path) < 2);
  const steps: readonly ProofStep[] = [
    { code: 'settled', isDone: unsettled.length === 0, open: unsettled },
    { code: 'agrees', isDone: disagreeing.length === 0, open: [...new Set(disagreeing)] },
    { code: 'mistakes', isDone: draft.mistakes_run === proofKey(draft), open: [] },
    { code: 'second-reading', isDone: matter.length > 0 && once.length === 0, open: once },
  ];
  return { steps, isTrusted: steps.every(({ isDone }) => isDone), verdicts };
}

function readersOf(draft: Draft, path: string): number {
  const { paths } = bandsOf(draft);
  const said = readingsOf(valueAt(draft.model, paths.get(path)!) as SizeEntry);
  return new Set(said.filter(({ from }) => from === 'measured').map(({ by }) => by ?? '')).size;
}

/** The measured sizes that matter most, the first of them most. */
function mattersMost(draft: Draft): string[] {
  let found: string[] = [];
  for (const coarser of COARSER) {
    found = decidingAt(draft, coarser);
    if (found.length >= SECOND) break;
  }
  return found.slice(0, SECOND);
}

function decidingAt(draft: Draft, coarser: number): string[] {
  let coarse = draft;
  const isMeasured = new Set<string>();
  for (const [name, path] of bandsOf(draft).paths) {
    const said = readingsOf(valueAt(draft.model, path) as SizeEntry).filter(({ from }) => from === 'measured');
    if (said.length === 0) continue;
    isMeasured.add(name);
    coarse = setSize(
      coarse,
      name,
      said.map((own): SizeReading => ({ ...own, accuracy: coarser * accuracyOf(own) })),
    );
  }
  const { compared: _none, ...alone } = coarse;
  return verdictsOf(alone)
    .flatMap(({ depends_on }) => depends_on)
    .filter(({ path }) => isMeasured.has(path))
    .sort((a, b) => b.share - a.share)
    .map(({ path }) => path)
    .filter((path, k, all) => all.indexOf(path) === k);
}
