/**
 * What the draft comes to: its verdict with what it hangs on, its findings, and what a hand should look at again.
 */
import type { ReactNode } from 'react';
import {
  capital,
  toldVerdict,
  wordDraftQuestion,
  wordDraftSizeOf,
  wordFinding,
  wordVerdict,
  type DraftSize,
  type Stack,
} from '../../shared/index.ts';
import { FindingBody } from '../widgets/FindingList.tsx';
import { VerdictMark } from '../widgets/marks.tsx';
import { itemOf, type Bench } from './bench.ts';
import { useMeasure } from './measureStore.ts';

/** Guesses that are named; more are counted. */
const MOST_NAMED = 3;

export function Verdict({ bench, stack }: { readonly bench: Bench; readonly stack: Stack }): ReactNode {
  const pick = useMeasure((state) => state.pick);
  const { analysis } = bench;
  const pivot = analysis?.pivots.find(({ stacks }) => stacks.some(({ id }) => id === stack.id));
  const open = guessesOf(bench, stack);
  return (
    <section className="stack gap-2" aria-label="Fit check">
      {analysis && pivot && (
        <>
          <p className="line gap-3 large bold" role="status">
            <VerdictMark verdict={toldVerdict(pivot)} />
            {wordVerdict(pivot)}
            {open.length > 0 && <span className="soft usual">with these guesses</span>}
          </p>
          <ul className="findings stack gap-2">
            {[...analysis.findings, ...pivot.findings]
              .filter(({ severity }) => severity !== 'note')
              .map((finding) => {
                const { title, text } = wordFinding(finding, analysis);
                const own = finding.parts.find((id) => id.startsWith(`${stack.id}/`));
                return (
                  <li key={`${finding.code} ${finding.parts.join(' ')} ${text}`}>
                    <button
                      type="button"
                      className={`finding edged flex gap-4 full finding-${finding.severity}`}
                      onClick={() => own !== undefined && pick(own.slice(stack.id.length + 1))}
                    >
                      <FindingBody severity={finding.severity} title={title} text={text} />
                    </button>
                  </li>
                );
              })}
          </ul>
        </>
      )}
      <Guesses open={open} stack={stack} bench={bench} />
    </section>
  );
}

/** Sizes of a stack that nobody has read. */
function guessesOf({ sizes, model }: Bench, stack: Stack): readonly DraftSize[] {
  const pivot = model.pivots.find(({ stacks }) => stacks.some(({ id }) => id === stack.id))!;
  return sizes.filter(
    (size) =>
      size.band.isOpen &&
      (size.owner.what === 'stack' ? size.owner.pivot === pivot.id : itemOf(stack, size) !== undefined),
  );
}

function Guesses({
  bench,
  stack,
  open,
}: {
  readonly bench: Bench;
  readonly stack: Stack;
  readonly open: readonly DraftSize[];
}): ReactNode {
  const ask = useMeasure((state) => state.ask);
  if (open.length === 0) return <p className="medium">Every size of this row was read.</p>;
  return (
    <details className="fold">
      <summary>
        {open.length === 1 ? '1 size is a guess' : `${open.length} sizes are guesses`}:{' '}
        {open.slice(0, MOST_NAMED).map(wordDraftSizeOf).join('; ')}
        {open.length > MOST_NAMED && ' …'}
      </summary>
      <ul className="flow gap-2">
        {open.map((size) => (
          <li key={size.path}>
            <button
              type="button"
              className="button medium"
              onClick={() => ask(stack.id, itemOf(stack, size), size.path)}
            >
              {capital(wordDraftSizeOf(size))}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}

/** Sizes that cannot all be true: what to read again. */
export function Questions({ bench, stack }: { readonly bench: Bench; readonly stack: Stack }): ReactNode {
  const ask = useMeasure((state) => state.ask);
  if (bench.questions.length === 0) return null;
  return (
    <section className="callout callout-warn stack gap-3" aria-label="Read these again">
      <h3>Read these again</h3>
      {bench.questions.map((question) => {
        const size = bench.sizes.find(({ path }) => path === question.path);
        const item = size && itemOf(stack, size);
        return (
          <div key={`${question.code} ${question.path}`} className="stack gap-2 from-start">
            <p>{wordDraftQuestion(question, size ? wordDraftSizeOf(size) : question.path)}</p>
            {size && item !== undefined && (
              <button type="button" className="button medium no-wrap" onClick={() => ask(stack.id, item, size.path)}>
                Go to it
              </button>
            )}
          </div>
        );
      })}
    </section>
  );
}
