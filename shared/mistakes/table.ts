/**
 * The mistake table: every mistake of a pivot, or of the whole model, built and solved, the silent ones first, then
 * worst first.
 *
 * A step at a time, so that a worker can say how far it is and stop between two solves. The order: mistakes that give
 * no sign at the bench; then faulty before unsure before sound, what can be put together before what cannot; then by
 * what is worst among the stop findings, and by how much of the clamp is lost. Deterministic. Every solve starts from
 * nothing: from the shifts as written the clamp solve would be a fifth shorter, but it is a hundredth of the work (`npm
 * run bench`), and a row would then depend on where it came from.
 */
import type { Judging } from '../findings/judge.ts';
import type { LinkageModel } from '../model/schema.ts';
import type { Finding } from '../types.ts';
import { listMistakes, type Mistake, type MistakeKind, type MistakeOptions } from './list.ts';
import { beginMistakes, tryMistake, type TriedMistake } from './try.ts';

/** How far the table has come: `row` is the mistake just solved. */
export interface MistakeStep {
  readonly done: number;
  readonly total: number;
  readonly row: TriedMistake;
}

export interface MistakesOptions extends MistakeOptions {
  /** One pivot; without it every pivot of the model. */
  readonly pivot?: string;
  /** Only these kinds. */
  readonly kinds?: readonly MistakeKind[];
  /** For reference cases. */
  readonly judging?: Judging;
}

/**
 * Solve mistake after mistake, in no order of weight; stop by not asking for the next. About 10 ms a mistake at the
 * most. Throws a RangeError, at the first step, when the model has no such pivot.
 */
export function* tryMistakes(
  model: LinkageModel,
  { pivot, kinds, two = false, judging }: MistakesOptions = {},
): Generator<MistakeStep, readonly TriedMistake[]> {
  const pivots = pivot === undefined ? model.pivots.map(({ id }) => id) : [pivot];
  const list = pivots.flatMap((id) => listMistakes(model, id, { two })).filter((mistake) => isWanted(mistake, kinds));
  const work = beginMistakes(model, judging);
  const rows: TriedMistake[] = [];
  for (const mistake of list) {
    const row = tryMistake(work, mistake);
    rows.push(row);
    yield { done: rows.length, total: list.length, row };
  }
  return rankMistakes(rows);
}

function isWanted(mistake: Mistake, kinds: readonly MistakeKind[] | undefined): boolean {
  return kinds === undefined || kinds.includes(mistake.kind);
}

/**
 * The whole table at once: about 100 ms a pivot, so a page asks `tryMistakes`. Throws a RangeError when the model has no
 * such pivot.
 */
export function mistakes(model: LinkageModel, options: MistakesOptions = {}): readonly TriedMistake[] {
  const steps = tryMistakes(model, options);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value;
}

/** The rows with the silent ones first, then worst first; the rows given stay as they are. O(n log n). */
export function rankMistakes(rows: readonly TriedMistake[]): readonly TriedMistake[] {
  return rows
    .map((row) => ({ row, rank: rankOf(row) }))
    .sort((a, b) => compare(a.rank, b.rank))
    .map(({ row }) => row);
}

/** Stop findings from what may hurt a rider most to what wears a part; our own judgement, no source. */
const GRAVEST: readonly Finding['code'][] = [
  'axle-overstressed',
  'thread-too-short',
  'inner-ring-loose',
  'side-play',
  'bottoms-before-clamp',
  'clamp-too-low',
  'arm-drawn',
  'bearing-side-loaded',
  'outer-ring-touched',
  'arm-rubbed',
  'member-off-line',
  'bearing-not-home',
  'face-crushed',
  'bore-mismatch',
  'fit-too-tight',
  'fit-too-loose',
  'edge-contact',
  'seal-rubbed',
];
const VERDICTS = ['faulty', 'unsure', 'sound'] as const;

type Rank = readonly [silent: number, verdict: number, assembly: number, gravest: number, lost: number, id: string];

function rankOf(row: TriedMistake): Rank {
  const stops = row.findings.filter(({ severity }) => severity === 'stop').map(({ code }) => GRAVEST.indexOf(code));
  const gravest = Math.min(GRAVEST.length, ...stops.filter((at) => at >= 0));
  // Mirror twins lose the same but for rounding: what they are called decides.
  const lost = row.written_N > 0 ? Number((row.clamp_N / row.written_N).toFixed(9)) : 1;
  return [
    row.isSilent ? 0 : 1,
    VERDICTS.indexOf(row.verdict),
    ['yes', 'by-force', 'no'].indexOf(row.assembly.goes),
    gravest,
    lost,
    `${row.pivot} ${row.mistake.id}`,
  ];
}

function compare(a: Rank, b: Rank): number {
  for (let k = 0; k < a.length; k++) {
    const [x, y] = [a[k]!, b[k]!];
    if (x < y) return -1;
    if (x > y) return 1;
  }
  return 0;
}
