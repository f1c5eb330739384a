/**
 * The steps as a person goes through them: of one pivot or the whole bike, forward or undone, and where every part of
 * the picked pivot is after each.
 *
 * An analysis gives steps per stack, each with the places of its own stack once it is done. Here they are laid end to
 * end in the model's stated order, and the places of a pivot's several stacks are merged: a stack not begun lies spread
 * out beside the bike, a finished one stays at its last step. Position along a run is the number of build steps done;
 * strip-down walks the same positions backwards, so the picture after 'undo step k' is the one before step k.
 */
import { spread, type Analysis, type PivotAnalysis, type Step, type StepPlace } from '../../shared/index.ts';
import type { Direction, Scope } from '../page/route.ts';

export type Places = Readonly<Record<string, StepPlace>>;

const runs = new WeakMap<Analysis, Map<string, readonly Step[]>>();

/** The steps of the run in the order they are gone through; of no pivot and scope 'pivot', none. The same asked, the same list. */
export function stepsOf(
  analysis: Analysis,
  pivotId: string | undefined,
  scope: Scope,
  direction: Direction,
): readonly Step[] {
  const known = runs.get(analysis) ?? new Map<string, readonly Step[]>();
  runs.set(analysis, known);
  const key = `${direction} ${scope === 'bike' ? '' : `of ${pivotId ?? 'none'}`}`;
  const found = known.get(key);
  if (found) return found;
  const build = buildSteps(analysis).filter((step) => scope === 'bike' || step.pivotId === pivotId);
  const steps = direction === 'build' ? build : build.reverse();
  known.set(key, steps);
  return steps;
}

/** Number of build steps done once step `index` of the run has been gone through. */
export function doneAfter(index: number, total: number, direction: Direction): number {
  return direction === 'build' ? index + 1 : total - 1 - index;
}

/**
 * The step to show when the run is walked the other way from the same position. All built is no step at all; all
 * apart is the first build step, since there is none before it.
 */
export function turnedIndex(index: number, total: number, direction: Direction): number | undefined {
  const done = doneAfter(index, total, direction);
  if (direction === 'build') return done === total ? undefined : total - 1 - done;
  return Math.max(done - 1, 0);
}

/** Where every item of a pivot is once `done` build steps of the run have been gone through. */
export function placesAfter(analysis: Analysis, pivot: PivotAnalysis, scope: Scope, done: number): Places {
  const before = stepsOf(analysis, pivot.id, scope, 'build').slice(0, done);
  const places: Record<string, StepPlace> = {};
  for (const stack of pivot.stacks) {
    const last = before.findLast((step) => step.stackId === stack.id);
    Object.assign(places, last ? last.places : laidOut(pivot, stack.id));
  }
  return places;
}

/**
 * A stack before its first step. 'Prepare' moves nothing, so its places are those of the bare bench with the members
 * that are on the bike already; else nothing is on it.
 */
function laidOut(pivot: PivotAnalysis, stackId: string): Places {
  const stack = pivot.stacks.find((candidate) => candidate.id === stackId);
  if (!stack) return {};
  const first = stack.steps[0];
  if (first?.kind === 'prepare') return first.places;
  return Object.fromEntries(Object.entries(spread(stack, 1)).map(([id, offset_mm]) => [id, { offset_mm, on: false }]));
}

/** The steps of all stacks in the model's stated order; a stack the order does not name follows, so that none is lost. */
function buildSteps(analysis: Analysis): Step[] {
  const stacks = analysis.pivots.flatMap((pivot) => pivot.stacks);
  const byId = new Map(stacks.map((stack) => [stack.id, stack]));
  const named = analysis.order.flatMap((id) => byId.get(id) ?? []);
  const told = new Set(named);
  return [...named, ...stacks.filter((stack) => !told.has(stack))].flatMap((stack) => stack.steps);
}
