/**
 * What the tray says about the task: parts it lacks, and measured sizes that differ, to check the fit with.
 */
import { useMemo, useState, type ReactNode } from 'react';
import { measuredSizes, wordMeasured, wordMissing, type Analysis } from '../../shared/index.ts';
import { openMeasured } from './measured.ts';
import type { SortedDrafts } from './tray.ts';

interface Props {
  readonly sorted: SortedDrafts;
  readonly analysis: Analysis;
}

export function TaskPanel({ sorted, analysis }: Props): ReactNode {
  const { tray } = sorted;
  const sizes = useMemo(() => measuredSizes(tray), [tray]);
  const [refused, setRefused] = useState<readonly string[]>([]);
  if (tray.rows.length === 0) return null;
  const check = (): void => setRefused(openMeasured(sizes).map((size) => wordMeasured(size, analysis)));
  return (
    <>
      {sizes.length > 0 && (
        <section className="stack gap-3 from-start">
          <h3>Into the task</h3>
          <p>These parts measure otherwise than the parts list says:</p>
          <ul className="tray-list stack gap-1 full">
            {sizes.map((size) => (
              <li key={`${size.part} ${size.name}`}>{wordMeasured(size, analysis)}</li>
            ))}
          </ul>
          <button type="button" className="button button-main medium no-wrap" onClick={check}>
            Check the fit with these sizes
          </button>
          <div role="alert">
            {refused.length > 0 && (
              <p className="medium trouble-words any-break">
                The model contradicts itself with: {refused.join('; ')}. Nothing was changed.
              </p>
            )}
          </div>
        </section>
      )}
      {tray.missing.length > 0 && (
        <section className="stack gap-3 from-start">
          <h3>Not on the tray</h3>
          <ul className="tray-list tray-list-columns stack gap-1 full">
            {tray.missing.map((part) => (
              <li key={part.candidate}>{wordMissing(part, tray)}</li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
