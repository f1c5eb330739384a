/**
 * The moments of each step, as the worker gives them.
 *
 * A motion is looked for round everything that stands in its way, which can take some tenths of a second: the page asks
 * for the step shown and its neighbours, and shows the places of the steps until the motion is there.
 */
import { useSyncExternalStore } from 'react';
import type { Analysis, Frame } from '../../shared/index.ts';
import type { StepFrames } from '../worker.ts';
import type { Run } from './orderRun.ts';
import { waitForWork, watchWork, workState, type WorkState } from '../page/work.ts';

const nameOf = (analysis: Analysis, { source }: Run, index: number): string =>
  `order-frames ${index} ${JSON.stringify(source)} ${analysis.key}`;

const hasStep = (run: Run, index: number): boolean =>
  run.source !== undefined && index >= 0 && index < run.steps.length;

/** Ask for the moments of a step, once; a step left before they are there may well be come back to. */
export function askFrames(analysis: Analysis, run: Run, index: number): void {
  if (!run.source || !hasStep(run, index)) return;
  waitForWork(nameOf(analysis, run, index), {
    kind: 'order-frames',
    asked: { analysis, source: run.source, on: run.on, index },
  });
}

function framesOf(analysis: Analysis, run: Run, index: number): WorkState<StepFrames> {
  return hasStep(run, index) ? (workState(nameOf(analysis, run, index)) as WorkState<StepFrames>) : { is: 'idle' };
}

/** Whether there is anything to wait for before a step is shown moving. */
export function isAwaited(analysis: Analysis, run: Run, index: number): boolean {
  return framesOf(analysis, run, index).is === 'running';
}

/** How long a way a step is, 0 to 1, nothing for one without a motion; undefined while that is not known. */
export function stretchAt(analysis: Analysis, run: Run, index: number): number | undefined {
  const state = framesOf(analysis, run, index);
  return state.is === 'done' ? state.given.stretch : state.is === 'failed' ? 0 : undefined;
}

/** The moment at a position of a run: whole numbers are steps done. Undefined while it is not there. */
export function useMomentAt(analysis: Analysis, run: Run, position: number): Frame | undefined {
  return useSyncExternalStore(watchWork, () => {
    const index = Math.max(0, Math.ceil(position) - 1);
    const state = framesOf(analysis, run, index);
    return state.is === 'done'
      ? state.given.frames[Math.round((position - index) * (state.given.frames.length - 1))]
      : undefined;
  });
}
