/**
 * How far a face moves when dimensions leave their nominal: a linear form over the dimensions of a joint, kept sparse.
 *
 * An effect maps the number of a dimension to mm of face travel a mm of the dimension, + to the drive side.
 */
export type Effect = ReadonlyMap<number, number>;

/** Nothing moves. */
export const NO_EFFECT: Effect = new Map();

/** The effect of one dimension alone. */
export function effectOf(dimension: number, coefficient = 1): Effect {
  return new Map([[dimension, coefficient]]);
}

/** Sum of effects, each times its factor; terms that cancel are left out. */
export function combine(...parts: readonly (readonly [Effect, number])[]): Effect {
  const sum = new Map<number, number>();
  for (const [effect, factor] of parts) for (const [k, value] of effect) sum.set(k, (sum.get(k) ?? 0) + factor * value);
  for (const [k, value] of sum) if (Math.abs(value) < 1e-12) sum.delete(k);
  return sum;
}

/** Travel for given deviations, mm. */
export function travel_mm(effect: Effect, deviation_mm: ArrayLike<number>): number {
  let sum = 0;
  for (const [k, value] of effect) sum += value * deviation_mm[k]!;
  return sum;
}
