/**
 * Motions and worlds of a row of steps for the tests, each worked out once: a test asks for the same step again and
 * again.
 */
import { motionsIn, type Plan, type StepMotion, type StepPlace } from '../../shared/index.ts';
import { type StepRow, type Worlds, worldsOf as worldsIn } from '../../shared/order/places.ts';
import { bodyOf, type Posed, type Shape } from '../../shared/order/bodies.ts';
import { worksOf } from '../../shared/order/possible.ts';
import { placesBefore } from '../../shared/order/steps.ts';
import { move } from '../../shared/order/strip.ts';
import { once } from './once.ts';

const rows = new WeakMap<StepRow, (index: number) => StepMotion>();
const worlds = new WeakMap<StepRow, Worlds>();

/** The motion of a step of a row. */
export function motionOf(row: StepRow, index: number): StepMotion {
  return once(rows, row, () => motionsIn(row))(index);
}

/** What is on the bike before and after every step of a row. */
export function worldsOf(row: StepRow): Worlds {
  return once(worlds, row, () => worldsIn(row));
}

/** Where every item stands after the first `count` steps of a plan: on the bike or not, and how far from home. */
export function placesAfter(plan: Plan, count: number): ReadonlyMap<string, StepPlace> {
  const places = placesBefore(worksOf(plan.analysis).sense);
  for (const step of plan.steps.slice(0, count)) move(places, step);
  return places;
}

/** A bar with round ends as a body of its own, from one end to the other or upright on one, over a stretch of z; mm. */
export function roundBar(
  id: string,
  a: Shape['a'],
  [zFrom_mm, zTo_mm]: readonly [number, number],
  b = a,
): Posed['body'] {
  return bodyOf(id, 'tool', [{ a, b, hole_mm: 0, openings: [], zFrom_mm, zTo_mm }]);
}
