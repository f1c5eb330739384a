/**
 * The moments of each step, as the worker gives them, kept for the runs last looked at.
 *
 * A motion is looked for round everything that stands in its way, which can take some tenths of a second: the page asks
 * for the step shown and its neighbours, and shows the places of the steps until the motion is there.
 */
import { create } from 'zustand';
import type { Analysis, Frame } from '../../shared/index.ts';
import type { StepFrames } from '../worker.ts';
import type { Run } from './orderRun.ts';
import { startWork } from './work.ts';

/** Steps kept of all runs together. */
const MOST_STEPS = 60;

type Kept = StepFrames | 'asked' | 'none';
/** By run and step, those asked for last at the end. */
const kept = new Map<string, Kept>();

const keyOf = (run: Run, index: number): string => `${index} ${run.key ?? ''}`;

/** Counts what has come, so that who waits looks again. */
export const useArrivals = create<{ readonly count: number }>(() => ({ count: 0 }));

/** Ask for the moments of a step, once. */
export function askFrames(analysis: Analysis, run: Run, index: number): void {
  const key = keyOf(run, index);
  if (!run.source || index < 0 || index >= run.steps.length || kept.has(key)) return;
  kept.set(key, 'asked');
  const keep = (value: Kept): void => {
    kept.set(key, value);
    for (const oldest of kept.keys()) if (kept.size > MOST_STEPS) kept.delete(oldest);
    useArrivals.setState(({ count }) => ({ count: count + 1 }));
  };
  startWork(
    'order-frames',
    { analysis, source: run.source, on: run.on, index },
    {
      progress: () => undefined,
      done: keep,
      failed: (message) => {
        // A step without a motion still has its places; what is wrong with it belongs in the log.
        console.error(`order: motion of step ${index + 1}: ${message}`);
        keep('none');
      },
    },
  );
}

/** Whether there is anything to wait for before a step is shown moving. */
export function isAwaited(run: Run, index: number): boolean {
  return (
    run.source !== undefined &&
    index >= 0 &&
    index < run.steps.length &&
    (kept.get(keyOf(run, index)) ?? 'asked') === 'asked'
  );
}

/** How long a way a step is, 0 to 1; undefined while that is not known. */
export function stretchAt(run: Run, index: number): number | undefined {
  const found = kept.get(keyOf(run, index));
  return found === undefined || found === 'asked' ? undefined : found === 'none' ? 0 : found.stretch;
}

/** The moment at a position of a run: whole numbers are steps done. Undefined while it is not there. */
export function momentAt(run: Run, position: number): Frame | undefined {
  const index = Math.max(0, Math.ceil(position) - 1);
  const found = kept.get(keyOf(run, index));
  if (found === undefined || found === 'asked' || found === 'none') return undefined;
  return found.frames[Math.round((position - index) * (found.frames.length - 1))];
}
