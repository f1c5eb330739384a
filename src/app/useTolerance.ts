/**
 * A pivot's tolerances, worked out in the worker when asked for; a new question takes the old one's place.
 */
import { useCallback, useEffect, useRef, useState } from 'react';
import type { LinkageModel, ToleranceQuestion, ToleranceReport } from '../../shared/index.ts';
import { startWork } from './work.ts';

/** How far it is. */
export type ToleranceState =
  | { readonly is: 'idle' }
  | { readonly is: 'running'; readonly done: number; readonly total: number }
  | { readonly is: 'stopped' }
  | { readonly is: 'failed'; readonly message: string }
  | { readonly is: 'done'; readonly report: ToleranceReport };

/** The state, with what starts and what stops the work. */
export function useTolerance(model: LinkageModel): {
  readonly state: ToleranceState;
  readonly ask: (question: ToleranceQuestion) => void;
  readonly stop: () => void;
} {
  const [state, setState] = useState<ToleranceState>({ is: 'idle' });
  const halt = useRef<(() => void) | undefined>(undefined);
  useEffect(() => () => halt.current?.(), []);
  const ask = useCallback(
    (question: ToleranceQuestion) => {
      halt.current?.();
      setState({ is: 'running', done: 0, total: question.builds ?? 0 });
      halt.current = startWork(
        'tolerance',
        { model, question },
        {
          progress: (done, total) => setState({ is: 'running', done, total }),
          done: (report) => setState({ is: 'done', report }),
          failed: (message) => setState({ is: 'failed', message }),
        },
      );
    },
    [model],
  );
  const stop = useCallback(() => {
    halt.current?.();
    halt.current = undefined;
    setState({ is: 'stopped' });
  }, []);
  return { state, ask, stop };
}
