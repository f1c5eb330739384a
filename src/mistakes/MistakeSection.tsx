/**
 * The mistake table on the side card: what every mistake at a pivot would do, the ones that give no sign first.
 */
import { useState, type ReactNode } from 'react';
import { wordPlacements, type Analysis } from '../../shared/index.ts';
import { useWork } from '../page/useWork.ts';
import type { Works } from '../worker.ts';
import { WorkProgress } from '../widgets/WorkProgress.tsx';
import { MistakeTableView } from './MistakeTableView.tsx';

interface Props {
  readonly analysis: Analysis;
  /** One pivot; without it the whole bike, worked out only when asked. */
  readonly pivotId?: string;
}

export function MistakeSection({ analysis, pivotId }: Props): ReactNode {
  const isPivot = pivotId !== undefined;
  const [isAsked, setAsked] = useState(false);
  const [two, setTwo] = useState(false);
  const asked = { model: analysis.model, two: isPivot && two, ...(isPivot ? { pivot: pivotId } : {}) };
  const work = useWork(
    analysis,
    `${pivotId ?? ''} ${asked.two}`,
    isPivot || isAsked ? { kind: 'mistakes', asked } : undefined,
  );
  const { state } = work;
  return (
    <section className="mistakes stack gap-4" aria-labelledby="mistakes-title" data-section="mistakes" tabIndex={-1}>
      <h3 id="mistakes-title">{isPivot ? 'Mistakes: what each would do' : 'Mistakes at every pivot'}</h3>
      {state.is === 'idle' ? (
        <>
          <p>Works out what every single mistake on this bike would do.</p>
          <button type="button" className="button medium no-wrap" onClick={() => setAsked(true)}>
            Work out all mistakes
          </button>
        </>
      ) : (
        <WorkProgress work={work} label="Working out the mistakes" />
      )}
      {state.is === 'done' && (
        <>
          {isPivot && <OnlyWay table={state.given} analysis={analysis} />}
          <MistakeTableView rows={state.given.rows} analysis={analysis} hasPivots={!isPivot}>
            {isPivot && (
              <button
                type="button"
                className="button button-small small medium no-wrap"
                aria-pressed={two}
                onClick={() => setTwo(!two)}
              >
                Two at once
              </button>
            )}
          </MistakeTableView>
        </>
      )}
    </section>
  );
}

/** Whether the build as written is the only way to lay the spacers. */
function OnlyWay({
  table,
  analysis,
}: {
  readonly table: Works['mistakes']['given'];
  readonly analysis: Analysis;
}): ReactNode {
  return table.placements.map((found) => {
    const { title, text, others } = wordPlacements(found, analysis);
    return (
      <div key={found.pivot} className="callout">
        <p>
          <strong>{title}.</strong> {text}
        </p>
        {others.length > 0 && (
          <ul className="only-others stack gap-2">
            {others.map((other) => (
              <li key={other}>{other}</li>
            ))}
          </ul>
        )}
      </div>
    );
  });
}
