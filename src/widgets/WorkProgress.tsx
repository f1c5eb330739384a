/**
 * How far a piece of long work is, with what stops it and what begins it again; nothing once it is done.
 */
import type { ReactNode } from 'react';
import type { Work } from '../page/useWork.ts';

interface Props {
  readonly work: Work<unknown>;
  /** What is going on, for who cannot see the bar. */
  readonly label: string;
  /** Something else on the page begins it again. */
  readonly isBegunElsewhere?: boolean;
}

export function WorkProgress({ work: { state, stop, again }, label, isBegunElsewhere = false }: Props): ReactNode {
  if (state.is === 'idle' || state.is === 'done') return null;
  const isRunning = state.is === 'running';
  return (
    <div className="mistakes-progress line wrap gap-4 numbers">
      {isRunning && (
        <progress aria-label={label} {...(state.total > 0 ? { value: state.done, max: state.total } : {})} />
      )}
      <span role={state.is === 'failed' ? 'alert' : 'status'}>
        {isRunning
          ? state.total > 0
            ? `${state.done.toLocaleString('en-GB')} of ${state.total.toLocaleString('en-GB')}`
            : 'Working it out…'
          : state.is === 'stopped'
            ? 'Stopped.'
            : `It could not be worked out here: ${state.message}`}
      </span>
      {(isRunning || !isBegunElsewhere) && (
        <button type="button" className="button button-small small medium no-wrap" onClick={isRunning ? stop : again}>
          {isRunning ? 'Stop' : 'Work it out'}
        </button>
      )}
    </div>
  );
}
