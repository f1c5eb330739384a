/**
 * Long work that came to nothing, and what begins it again.
 */
import type { ReactNode } from 'react';
import { PLANNING } from '../build/planned.ts';
import { act, useApp } from '../page/store.ts';
import { restartFailed } from '../page/work.ts';

interface Props {
  /** What could not be worked out, as a sentence begins. */
  readonly what: string;
  readonly message: string;
}

export function FailedWork({ what, message }: Props): ReactNode {
  const again = (): void => {
    restartFailed();
    if (useApp.getState().planned.is === 'failed') act.planned(PLANNING);
  };
  return (
    <div className="stack gap-3 from-start" role="alert">
      <p>
        {what} could not be worked out: {message}
      </p>
      <button type="button" className="button medium no-wrap" onClick={again}>
        Try again
      </button>
    </div>
  );
}
