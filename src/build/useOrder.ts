/**
 * What the page asks the worker about the order of the open build: its plan for the whole page, and for the build
 * order's place the steps of an own order, what it takes to get at a part, and the variants.
 *
 * What has come once is kept by what the build holds, so that a look at another place loses nothing.
 */
import { useEffect, useRef } from 'react';
import type { Analysis, Access, Follow, VariantOrder } from '../../shared/index.ts';
import type { Works } from '../worker.ts';
import { act, useApp } from '../page/store.ts';
import { useWork, type Work } from '../page/useWork.ts';
import type { WorkState } from '../page/work.ts';
import { planCame } from './planned.ts';

/** Asks for the plan of the build as written, and again when another order is to be followed. */
export function usePlanning(): void {
  const opened = useApp((state) => state.opened);
  const follow = useApp((state) => state.follow);
  const isAwaited = useApp(
    ({ planned }) => planned.is === 'running' || (planned.is === 'done' && planned.given.isSoFar),
  );
  const analysis = opened?.analysis;
  const { state } = usePlanWork(analysis, follow);
  const shown = useRef<unknown>(undefined);
  useEffect(() => {
    // What was asked before another model was opened or another order chosen is not what is awaited now.
    const now = useApp.getState();
    if (!analysis || !isAwaited || now.opened !== opened || now.follow !== follow) return;
    if (state.is === 'failed') act.planned({ is: 'failed', message: state.message });
    else if ((state.is === 'done' || state.is === 'running') && state.given) {
      if (state.is === 'running' && now.planned.is === 'done' && state.given === shown.current) return;
      shown.current = state.given;
      const { plan, strip } = state.given;
      act.planned(planCame({ plan: { ...plan, analysis }, strip }, state.is === 'running'));
    }
  }, [analysis, opened, follow, isAwaited, state]);
}

/** How far the plan is, and what stops the search for a better order. */
export function usePlanWork(analysis: Analysis | undefined, follow: Follow): Work<Works['order-plan']['given']> {
  return useWork(analysis, follow, analysis && { kind: 'order-plan', asked: { analysis, follow } });
}

/** The steps of an order of tasks that works, and its strip-down; no tasks ask for nothing. */
export function useOwnSteps(
  analysis: Analysis,
  tasks: readonly string[] | undefined,
): WorkState<Works['order-own']['given']> {
  return useWork(analysis, tasks?.join(' ') ?? '', tasks && { kind: 'order-own', asked: { analysis, tasks } }).state;
}

/** What it takes to reach one thing by its id; none asks for nothing. */
export function useAccess(analysis: Analysis, id: string | undefined): WorkState<Access> {
  return useWork(analysis, id ?? '', id === undefined ? undefined : { kind: 'order-access', asked: { analysis, id } })
    .state;
}

/** The orders of a model's variants beside that of the model as written; undefined asks for nothing. */
export function useVariants(model: Analysis['model'] | undefined): WorkState<readonly VariantOrder[]> {
  return useWork(model && { model }, '', model && { kind: 'order-variants', asked: { model } }).state;
}
