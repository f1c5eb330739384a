/**
 * Whether the build order's picture stands close on the pivot of the step or shows the whole bike, and the way to a
 * pivot's steps. It stands in no address.
 */
import { create } from 'zustand';
import type { Run } from './orderRun.ts';
import { useApp } from '../page/store.ts';

export const useCloseUp = create<{ readonly isClose: boolean }>()(() => ({ isClose: true }));

/** A pivot that is pressed: the first step at it that is still to come, or the last one. */
export function pickStepOf(run: Run, pivotId: string): void {
  const { act, order } = useApp.getState();
  const here = run.steps.flatMap(({ step }, k) => (step.pivotId === pivotId ? [k + 1] : []));
  const at = here.find((step) => step > order.at) ?? here.at(-1);
  if (at !== undefined) act.setOrder({ ...order, at });
}
