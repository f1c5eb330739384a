/**
 * What settles most of the open draft for a minute's work: what to take, where the calliper goes, why, and the field
 * for what it reads. What was entered leads to the next one.
 */
import { useEffect, useRef, type ReactNode, type RefObject } from 'react';
import {
  capital,
  wordDraftSizeOf,
  wordDraftVerdict,
  wordNextMeasure,
  wordNextWhy,
  type Asked,
  type DraftVerdict,
  type NextMeasure,
} from '../../shared/index.ts';
import type { Work } from '../page/useWork.ts';
import { FailedWork } from '../widgets/FailedWork.tsx';
import { VerdictMark } from '../widgets/marks.tsx';
import { ComparisonAnswer, SizeAnswer } from './Answer.tsx';
import { placeOf, type Bench } from './bench.ts';
import { useMeasure } from './measureStore.ts';
import { MEASURE_WORDS } from './words.ts';

/** A question by what it asks for; one that is asked again after its answer is another one. */
function keyOfNext(next: NextMeasure, { compared = [] }: Bench['draft']): string {
  return next.path ?? `${JSON.stringify(next.compare)} ${compared.length}`;
}

export function NextCard({ bench, work: { state } }: { readonly bench: Bench; readonly work: Work<Asked> }): ReactNode {
  // Whoever enters one reading goes on to the next without looking for its field.
  const entered = useRef<string>(undefined);
  return (
    <section className="callout next-card stack gap-3 from-start" aria-label="Measure next" data-is={state.is}>
      <h3>Measure next</h3>
      {state.is === 'failed' && <FailedWork what="What to measure next" message={state.message} />}
      {(state.is === 'running' || state.is === 'idle') && (
        <p className="soft" role="status">
          {MEASURE_WORDS.weighing}
        </p>
      )}
      {state.is === 'done' && <Weighed bench={bench} asked={state.given} entered={entered} />}
    </section>
  );
}

function Weighed({
  bench,
  asked,
  entered,
}: {
  readonly bench: Bench;
  readonly asked: Asked;
  /** The question that was answered last. */
  readonly entered: RefObject<string | undefined>;
}): ReactNode {
  const { verdicts, next } = asked;
  const [first] = next;
  const key = first && keyOfNext(first, bench.draft);
  const end = useRef<HTMLParagraphElement>(null);
  // Only a hand that has nothing else in it is led on.
  const inHand = document.activeElement;
  const isFirst =
    entered.current !== undefined &&
    entered.current !== key &&
    (inHand === null || inHand === document.body || inHand.closest('.next-card') !== null);
  useEffect(() => {
    if (!isFirst) return;
    end.current?.focus();
    entered.current = undefined;
  }, [isFirst, entered]);
  return (
    <>
      {first ? (
        <Question
          key={key}
          bench={bench}
          next={first}
          pivot={verdicts.find(({ pivot }) => pivot === first.pivot)!.name}
          isFirst={isFirst}
          onEntered={() => {
            entered.current = key;
          }}
        />
      ) : (
        <p ref={end} tabIndex={-1}>
          {verdicts.some(({ verdict }) => verdict === 'unsure') ? MEASURE_WORDS.nothingMore : MEASURE_WORDS.settled}
        </p>
      )}
      <ul className="stack gap-2 full">
        {verdicts.map((verdict) => (
          <li key={verdict.pivot} className="stack gap-1">
            <p className="line gap-2">
              <VerdictMark verdict={verdict.verdict} />
              <span>
                {verdict.name}, whatever was not read: <strong>{wordDraftVerdict(verdict)}</strong>
              </span>
            </p>
            <DependsOn bench={bench} verdict={verdict} />
          </li>
        ))}
      </ul>
    </>
  );
}

function Question({
  bench,
  next,
  pivot,
  isFirst,
  onEntered,
}: {
  readonly bench: Bench;
  readonly next: NextMeasure;
  readonly pivot: string;
  readonly isFirst: boolean;
  readonly onEntered: () => void;
}): ReactNode {
  const go = useMeasure((state) => state.ask);
  const { sizes } = bench;
  const size = sizes.find(({ path }) => path === next.path);
  const place = size && placeOf(bench.model, size);
  return (
    <>
      <p className="large bold">{capital(wordNextMeasure(next, sizes))}</p>
      {size && (
        <SizeAnswer bench={bench} size={size} accuracy={next.accuracy} isFirst={isFirst} onEntered={onEntered} />
      )}
      {next.compare && (
        <ComparisonAnswer
          bench={bench}
          comparison={{ ...next.compare, accuracy: next.accuracy }}
          isFirst={isFirst}
          onEntered={onEntered}
        />
      )}
      <p className="soft">{wordNextWhy(next, sizes, pivot)}</p>
      {size && place && (
        <button
          type="button"
          className="button medium no-wrap"
          onClick={() => go(place.stackId, place.item, size.path)}
        >
          All sizes of this part
        </button>
      )}
    </>
  );
}

/** Sizes that are named at once; more are behind the fold. */
const MOST_NAMED = 3;

/** What a verdict hangs on, each a way to its field. */
function DependsOn({
  bench: { model, sizes },
  verdict: { depends_on },
}: {
  readonly bench: Bench;
  readonly verdict: DraftVerdict;
}): ReactNode {
  const ask = useMeasure((state) => state.ask);
  const deciding = depends_on.flatMap(({ path }) => sizes.find((size) => size.path === path) ?? []);
  if (deciding.length === 0) return null;
  return (
    <details className="fold">
      <summary>
        Hangs on {deciding.length === 1 ? '1 size' : `${deciding.length} sizes`}:{' '}
        {deciding.slice(0, MOST_NAMED).map(wordDraftSizeOf).join('; ')}
        {deciding.length > MOST_NAMED && ' …'}
      </summary>
      <ul className="flow gap-2">
        {deciding.map((size) => {
          const place = placeOf(model, size);
          return (
            place && (
              <li key={size.path}>
                <button
                  type="button"
                  className="button medium"
                  onClick={() => ask(place.stackId, place.item, size.path)}
                >
                  {capital(wordDraftSizeOf(size))}
                </button>
              </li>
            )
          );
        })}
      </ul>
    </details>
  );
}
