/**
 * How many cases a seeded series has, and from which seed: a slice of it in `npm test`, as many as asked for in
 * `npm run long -- --seed S --count N`.
 *
 * A series asks here for its seeds, for the settings of a property, or for the cases of a list it goes through.
 */
export interface Long {
  readonly seed: number;
  readonly count: number;
}

/** What the long run was asked for; undefined in `npm test`. Written by `run-long.mjs`. */
export const LONG: Long | undefined =
  process.env.AXLEWRIGHT_LONG === undefined ? undefined : (JSON.parse(process.env.AXLEWRIGHT_LONG) as Long);

/** Seeds one after the other: usually so many from 1. */
export function seeds(usual: number): readonly number[] {
  return Array.from({ length: cases(usual) }, (_, k) => (LONG?.seed ?? 1) + k);
}

/** How many cases a series draws: usually so many. */
export function cases(usual: number): number {
  return LONG?.count ?? usual;
}

/** The seed of a series that draws all its cases from one stream. */
export function seedOf(usual: number): number {
  return LONG?.seed ?? usual;
}

/** Seed and number of cases of a property. */
export function property(seed: number, numRuns: number): { readonly seed: number; readonly numRuns: number } {
  return { seed: seedOf(seed), numRuns: cases(numRuns) };
}

/** Of a list whose every case is slow, usually those at the given places; all of it in the long run. */
export function usually<T>(list: readonly T[], ...places: readonly number[]): readonly T[] {
  return LONG ? list : places.map((at) => list[at]!);
}

/** Of a list whose every case is slow, usually every so-manieth, the first included; all of it in the long run. */
export function someOf<T>(list: readonly T[], usualStep: number): readonly T[] {
  return LONG ? list : list.filter((_, k) => k % usualStep === 0);
}
