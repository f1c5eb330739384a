/**
 * Differences of length as a person at a bench reads them, the unit always beside.
 */
import { figure } from '../../shared/index.ts';

/** A length in mm with at most two decimals. */
export function mm(length_mm: number): string {
  return `${figure(length_mm)} mm`;
}

/** A difference in words: `2 mm longer`, by the pair of words for more and less. */
export function differenceWords(difference_mm: number, more: string, less: string): string {
  return `${mm(Math.abs(difference_mm))} ${difference_mm > 0 ? more : less}`;
}
