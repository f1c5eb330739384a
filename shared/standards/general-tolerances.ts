/**
 * General tolerances of lengths that carry none of their own: ISO 2768-1, linear dimensions.
 *
 * A table lookup. Values in mm for the classes f, m and c, ranges 'over … up to and including', from 0.5 to 400 mm, as
 * a two-page reprint of DIN ISO 2768-1 lists them; one cell of class c (0.5 to 3 mm) is misprinted there and stands as
 * two other listings have it. The tolerance belongs to the length, ± about its nominal.
 */
import { refuse, requireAtLeast } from './guard.ts';

/** Classes of ISO 2768-1 a workshop meets, from fine to coarse. */
export const GENERAL_CLASSES = ['f', 'm', 'c'] as const;
/** One of `GENERAL_CLASSES`. */
export type GeneralClass = (typeof GENERAL_CLASSES)[number];

/** Where the table comes from. */
export const GENERAL_SOURCE = 'ISO 2768-1, as reprinted (DIN ISO 2768-1, table 1)';

const UPPER_ENDS_mm = [3, 6, 30, 120, 400] as const;
const TABLE_mm: Readonly<Record<GeneralClass, readonly number[]>> = {
  f: [0.05, 0.05, 0.1, 0.15, 0.2],
  m: [0.1, 0.1, 0.2, 0.3, 0.5],
  c: [0.2, 0.3, 0.5, 0.8, 1.2],
};

/**
 * ± tolerance of a length in a class, mm. Source: ISO 2768-1. Below 0.5 mm the standard gives none; the first row is
 * taken.
 */
export function generalTolerance_mm(length_mm: number, name: GeneralClass): number {
  if (!Object.hasOwn(TABLE_mm, name)) refuse('general tolerances', 'class', name, GENERAL_CLASSES.join(', '));
  requireAtLeast('general tolerances', 'length_mm', length_mm, 0);
  const row = UPPER_ENDS_mm.findIndex((end_mm) => length_mm <= end_mm);
  return TABLE_mm[name][row] ?? refuse('general tolerances', 'length_mm', length_mm, `up to ${UPPER_ENDS_mm.at(-1)}`);
}
