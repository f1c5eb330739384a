/**
 * The plan of the open build for the build order's place, and what is asked of it, worked out in the worker.
 *
 * A plan takes some tenths of a second: too long to hold up a page. Its strip-down comes with it. What the worker gives
 * back names a copy of the analysis; the page's own is put in its place, so that what is asked of the plan later finds
 * what is known of it.
 */
import { useMemo } from 'react';
import type { Analysis, Plan, Reach, Strip, VariantOrder } from '../../shared/index.ts';
import type { Works } from '../worker.ts';
import { useWork } from '../page/useWork.ts';
import type { WorkState } from '../page/work.ts';

/** The plan of an analysis and its strip-down. */
export function usePlan(analysis: Analysis): WorkState<{ readonly plan: Plan; readonly strip: Strip }> {
  const { state } = useWork(analysis, '', { kind: 'order-plan', asked: { analysis } });
  const given = state.is === 'done' ? state.given : undefined;
  const own = useMemo(() => given && { plan: { ...given.plan, analysis }, strip: given.strip }, [given, analysis]);
  return state.is === 'done' ? { is: 'done', given: own! } : state;
}

/** The steps of an order of jobs that works, and its strip-down; no jobs ask for nothing. */
export function useOwnSteps(
  analysis: Analysis,
  jobs: readonly string[] | undefined,
): WorkState<Works['order-own']['given']> {
  return useWork(analysis, jobs?.join(' ') ?? '', jobs && { kind: 'order-own', asked: { analysis, jobs } }).state;
}

/** What it takes to reach one thing by its id; none asks for nothing. */
export function useReach(analysis: Analysis, id: string | undefined): WorkState<Reach> {
  return useWork(analysis, id ?? '', id === undefined ? undefined : { kind: 'order-reach', asked: { analysis, id } })
    .state;
}

/** The orders of a model's variants beside that of the model as written; undefined asks for nothing. */
export function useVariants(model: Analysis['model'] | undefined): WorkState<readonly VariantOrder[]> {
  return useWork(model && { model }, '', model && { kind: 'order-variants', asked: { model } }).state;
}
