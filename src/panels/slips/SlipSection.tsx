/**
 * The slip table on the side card: what every mistake at a pivot would do, the ones that give no sign first.
 */
import { useState, type ReactNode } from 'react';
import { wordPlacements, type Analysis } from '../../../shared/index.ts';
import { useSlips, type SlipTable, type TableState } from '../../app/useSlips.ts';
import { SlipTableView } from './SlipTableView.tsx';

interface Props {
  readonly analysis: Analysis;
  /** One pivot; without it the whole bike, worked out only when asked. */
  readonly pivotId?: string;
}

export function SlipSection({ analysis, pivotId }: Props): ReactNode {
  const isPivot = pivotId !== undefined;
  const [isAsked, setAsked] = useState(false);
  const [two, setTwo] = useState(false);
  const { state, stop, again } = useSlips({ analysis, pivotId, two: isPivot && two, isWanted: isPivot || isAsked });
  return (
    <section className="slips" aria-labelledby="slips-title">
      <h3 id="slips-title">{isPivot ? 'Slips: what every mistake would do' : 'Slips at every pivot'}</h3>
      {state.is === 'idle' ? (
        <>
          <p>Works out what every single mistake on this bike would do.</p>
          <button type="button" className="button" onClick={() => setAsked(true)}>
            Work out all slips
          </button>
        </>
      ) : (
        <Progress state={state} stop={stop} again={again} />
      )}
      {state.is === 'done' && (
        <>
          {isPivot && <OnlyWay table={state.table} analysis={analysis} />}
          <SlipTableView rows={state.table.rows} analysis={analysis} hasPivots={!isPivot}>
            {isPivot && (
              <button type="button" className="button button-small" aria-pressed={two} onClick={() => setTwo(!two)}>
                Two at once
              </button>
            )}
          </SlipTableView>
        </>
      )}
    </section>
  );
}

function Progress({
  state,
  stop,
  again,
}: {
  readonly state: TableState;
  readonly stop: () => void;
  readonly again: () => void;
}): ReactNode {
  if (state.is === 'running') {
    return (
      <div className="slips-progress">
        <progress
          aria-label="Working out the slips"
          {...(state.total > 0 ? { value: state.done, max: state.total } : {})}
        />
        <span>{state.total > 0 ? `${state.done} of ${state.total}` : 'Working it out…'}</span>
        <button type="button" className="button button-small" onClick={stop}>
          Stop
        </button>
      </div>
    );
  }
  if (state.is !== 'stopped' && state.is !== 'failed') return null;
  return (
    <div className="slips-progress">
      <span>{state.is === 'stopped' ? 'Stopped.' : `It could not be worked out here: ${state.message}`}</span>
      <button type="button" className="button button-small" onClick={again}>
        Work it out
      </button>
    </div>
  );
}

/** Whether the written build is the only way to lay the rings. */
function OnlyWay({ table, analysis }: { readonly table: SlipTable; readonly analysis: Analysis }): ReactNode {
  return table.placements.map((found) => {
    const { title, text, others } = wordPlacements(found, analysis);
    return (
      <div key={found.pivot} className="only-way">
        <p>
          <strong>{title}.</strong> {text}
        </p>
        {others.length > 0 && (
          <ul className="only-others">
            {others.map((other) => (
              <li key={other}>{other}</li>
            ))}
          </ul>
        )}
      </div>
    );
  });
}
