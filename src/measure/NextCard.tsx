/**
 * What settles most of the open draft for a minute's work: the size, where the calliper goes and why; a tap leads to it.
 */
import type { ReactNode } from 'react';
import {
  capital,
  wordDraftVerdict,
  wordNextHow,
  wordNextMeasure,
  wordNextWhy,
  type Asked,
} from '../../shared/index.ts';
import { useWork } from '../page/useWork.ts';
import { FailedWork } from '../widgets/FailedWork.tsx';
import { itemOf, type Bench } from './bench.ts';
import { useMeasure } from './measureStore.ts';
import { MEASURE_WORDS } from './words.ts';

export function NextCard({ bench }: { readonly bench: Bench }): ReactNode {
  const { draft, analysis } = bench;
  const { state } = useWork(analysis, JSON.stringify(draft), { kind: 'measure-next', asked: { draft } });
  // Sizes that contradict one another are asked about first.
  if (!analysis) return null;
  return (
    <section className="callout stack gap-3 from-start" aria-label="Measure next">
      <h3>Measure next</h3>
      {state.is === 'failed' && <FailedWork what="What to measure next" message={state.message} />}
      {state.is === 'running' && <p className="soft">{MEASURE_WORDS.weighing}</p>}
      {state.is === 'done' && <Weighed bench={bench} asked={state.given} />}
    </section>
  );
}

function Weighed({ bench, asked }: { readonly bench: Bench; readonly asked: Asked }): ReactNode {
  const go = useMeasure((state) => state.ask);
  const { model, sizes } = bench;
  const { verdicts, next } = asked;
  const [first] = next;
  const size = first && sizes.find(({ path }) => path === first.path);
  const stacks = model.pivots.flatMap((pivot) => pivot.stacks);
  const stack =
    size &&
    stacks.find((own) => (size.owner.what === 'stack' ? own.id === size.owner.stack : itemOf(own, size) !== undefined));
  return (
    <>
      {first ? (
        <>
          <p className="large bold">{capital(wordNextMeasure(first, sizes))}</p>
          <p>{wordNextHow(first, sizes)}.</p>
          <p className="soft">{wordNextWhy(first, sizes, verdicts.find(({ pivot }) => pivot === first.pivot)!.name)}</p>
          {size && stack && (
            <button
              type="button"
              className="button button-main medium no-wrap"
              onClick={() => go(stack.id, itemOf(stack, size), size.path)}
            >
              Type it in
            </button>
          )}
          {first.compare && <p className="soft">{MEASURE_WORDS.compare}</p>}
        </>
      ) : (
        <p>
          {verdicts.some(({ verdict }) => verdict === 'unsure') ? MEASURE_WORDS.nothingMore : MEASURE_WORDS.settled}
        </p>
      )}
      <ul className="stack gap-1">
        {verdicts.map((verdict) => (
          <li key={verdict.pivot}>
            {verdict.name}, whatever was not read: <strong>{wordDraftVerdict(verdict)}</strong>
          </li>
        ))}
      </ul>
    </>
  );
}
