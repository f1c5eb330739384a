/**
 * The plan of the open build as the page holds it: on its way from the worker, failed, or there, with the runs of steps
 * that are views of it.
 *
 * A plan takes some tenths of a second, too long to hold up a page. What is asked of it once it is there (a pivot's
 * steps, taking apart) is worked out when it is first looked at and kept with it, so that the same question gives the
 * same list.
 */
import type { Plan, Strip } from '../../shared/index.ts';
import { buildRun, ofPivot, stripRun, type Run } from './orderRun.ts';
import type { Direction } from '../page/route.ts';

/** A plan, its strip-down, and the runs looked at so far. */
export interface PlanInHand {
  readonly plan: Plan;
  readonly strip: Strip;
  readonly runs: Map<string, Run>;
  /** A better order may come. */
  readonly isSoFar: boolean;
}
/** How far the plan of the open build is. */
export type Planned =
  | { readonly is: 'running' }
  | { readonly is: 'failed'; readonly message: string }
  | { readonly is: 'done'; readonly given: PlanInHand };

/** Nothing has come yet. */
export const PLANNING: Planned = { is: 'running' };
const NO_RUN: Run = { steps: [], on: [], isBuilt: false };

/** The plan that has come, or what there is of it so far. */
export function planCame({ plan, strip }: Pick<PlanInHand, 'plan' | 'strip'>, isSoFar = false): Planned {
  return { is: 'done', given: { plan, strip, runs: new Map(), isSoFar } };
}

/** The run of the whole bike, or of one pivot; without a plan an empty one. */
export function runIn(planned: Planned, pivotId: string | undefined, way: Direction): Run {
  if (planned.is !== 'done') return NO_RUN;
  const { plan, strip, runs, isSoFar } = planned.given;
  const key = `${way} ${pivotId ?? ''}`;
  const known = runs.get(key);
  if (known) return known;
  const { analysis, follows: follow } = plan;
  // An order that may be bettered is named by its tasks: the worker may have a better one by now.
  const tasks = plan.tasks.map(({ id }) => id);
  const source = { of: 'plan', way, follow, ...(isSoFar && { tasks }) } as const;
  const run =
    pivotId !== undefined
      ? ofPivot(runIn(planned, undefined, way), pivotId)
      : way === 'strip'
        ? stripRun(analysis, strip.steps, source)
        : buildRun(analysis, plan.steps, source);
  runs.set(key, run);
  return run;
}
