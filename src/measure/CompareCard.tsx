/**
 * Sums and differences that were read at once: those of the draft, and any other that its row allows.
 */
import { useState, type ReactNode } from 'react';
import { capital, figure, wordComparing, wordComparison, type Comparison } from '../../shared/index.ts';
import { useWork } from '../page/useWork.ts';
import { FailedWork } from '../widgets/FailedWork.tsx';
import { ComparisonAnswer } from './Answer.tsx';
import type { Bench } from './bench.ts';
import { useMeasure } from './measureStore.ts';
import { MEASURE_WORDS } from './words.ts';

export function CompareCard({ bench, pivotId }: { readonly bench: Bench; readonly pivotId: string }): ReactNode {
  const put = useMeasure((state) => state.put);
  const [isOpen, setOpen] = useState(false);
  const { draft, sizes } = bench;
  const compared = draft.compared ?? [];
  return (
    <details className="draft-card fold" open={isOpen} onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>Comparisons{compared.length > 0 && `: ${compared.length}`}</summary>
      <div className="stack gap-3">
        <p className="soft">{MEASURE_WORDS.compare}</p>
        {compared.map((one) => (
          <div key={one.id} className="size-row edged stack gap-2" data-comparison={one.id}>
            <p>
              {one.terms.every(({ size }) => sizes.some(({ path }) => path === size))
                ? capital(wordComparison(one.terms, sizes))
                : one.terms.map(({ size }) => size).join(', ')}
              : <strong className="no-wrap">{figure(one.value_mm, 3)} mm</strong>{' '}
              <span className="soft no-wrap">
                ± {figure(one.accuracy_mm)} mm{one.when === undefined ? '' : `, ${one.when}`}
              </span>
            </p>
            <div>
              <button
                type="button"
                className="button medium no-wrap"
                onClick={() =>
                  put(({ compared: all = [], ...own }) => {
                    const left = all.filter(({ id }) => id !== one.id);
                    return left.length === 0 ? own : { ...own, compared: left };
                  })
                }
              >
                Take it out
              </button>
            </div>
          </div>
        ))}
        {isOpen && <Choices bench={bench} pivotId={pivotId} />}
      </div>
    </details>
  );
}

/** What can be compared in this row, and the field for it. */
function Choices({ bench, pivotId }: { readonly bench: Bench; readonly pivotId: string }): ReactNode {
  const { draft, analysis } = bench;
  const { state } = useWork(analysis, JSON.stringify(draft), { kind: 'measure-compare', asked: { draft } });
  const [picked, setPicked] = useState('');
  if (!analysis) return null;
  if (state.is === 'failed') return <FailedWork what="What can be compared" message={state.message} />;
  if (state.is !== 'done') return <p className="soft">{MEASURE_WORDS.weighing}</p>;
  const list = state.given.find(({ pivot }) => pivot === pivotId)?.comparisons ?? [];
  const keyOf = (own: Comparison): string => JSON.stringify(own.terms);
  const comparison = list.find((own) => keyOf(own) === picked);
  return (
    <>
      <label className="stack hair small soft">
        Compare
        <select
          className="select compare-pick full strong on-sheet"
          value={comparison ? picked : ''}
          onChange={({ target }) => setPicked(target.value)}
        >
          <option value="">Pick what you compared…</option>
          {(['straight-edge', 'feeler', 'gauge', 'outside-jaws'] as const).map((tool) => (
            <optgroup key={tool} label={wordComparing(tool)}>
              {list
                .filter((own) => own.with === tool)
                .map((own) => (
                  <option key={keyOf(own)} value={keyOf(own)}>
                    {capital(wordComparison(own.terms, bench.sizes))}
                  </option>
                ))}
            </optgroup>
          ))}
        </select>
      </label>
      {comparison && (
        <ComparisonAnswer
          key={picked}
          bench={bench}
          comparison={comparison}
          isFirst={false}
          onEntered={() => setPicked('')}
        />
      )}
    </>
  );
}
