/**
 * A dimension chain added up: nominal, mean, worst case, root-sum-square, and each dimension's share of the variance.
 *
 * A term is a dimension with its limits and a coefficient: +1 where it opens the gap, −1 where it closes it, anything
 * else for a dimension that counts in part. The tolerance belongs to the magnitude; the sign multiplies afterwards.
 * Worst case: every limit against us at once. Root-sum-square: limits are three standard deviations of independent
 * normal dimensions about the middle of their limits, and so are the result's. Textbook method (*Dimensioning and
 * Tolerancing Handbook*, ch. 9). Lengths in any one unit; here mm.
 */
import { refuse } from '../standards/guard.ts';

/** Standard deviations that a limit stands for. */
export const SIGMAS = 3;

/** One dimension of a chain. */
export interface ChainTerm {
  readonly coefficient: number;
  readonly nominal_mm: number;
  /** Limits about the nominal; `lower_mm` ≤ `upper_mm`. */
  readonly lower_mm: number;
  readonly upper_mm: number;
}

/** What a chain adds up to, mm. */
export interface StackUp {
  readonly nominal_mm: number;
  /** Every dimension at the middle of its limits. */
  readonly mean_mm: number;
  readonly worstLow_mm: number;
  readonly worstHigh_mm: number;
  /** Half the width between which nearly all sets fall. */
  readonly rss_mm: number;
  readonly sigma_mm: number;
  /** Share of the variance of each term, in the order given; sums to 1 unless nothing varies. */
  readonly shares: readonly number[];
}

/** Add up a chain: nominal, worst case and root sum of squares, mm; each term counts with its sign. O(terms). */
export function stackUp(terms: readonly ChainTerm[]): StackUp {
  for (const { lower_mm, upper_mm, nominal_mm, coefficient } of terms) {
    if (!(Number.isFinite(nominal_mm) && Number.isFinite(coefficient)))
      refuse('stack-up', 'nominal_mm and coefficient', `${nominal_mm}, ${coefficient}`, 'finite numbers');
    if (!(Number.isFinite(lower_mm) && Number.isFinite(upper_mm) && lower_mm <= upper_mm))
      refuse('stack-up', 'limits', `${lower_mm} to ${upper_mm} mm`, 'finite limits, the lower one first');
  }
  const sum = (of: (term: ChainTerm) => number): number => terms.reduce((total, term) => total + of(term), 0);
  const nominal_mm = sum((term) => term.coefficient * term.nominal_mm);
  const mean_mm = sum((term) => term.coefficient * (term.nominal_mm + (term.lower_mm + term.upper_mm) / 2));
  const half = (term: ChainTerm): number => (Math.abs(term.coefficient) * (term.upper_mm - term.lower_mm)) / 2;
  const worst = sum(half);
  const squares = sum((term) => half(term) ** 2);
  return {
    nominal_mm,
    mean_mm,
    worstLow_mm: mean_mm - worst,
    worstHigh_mm: mean_mm + worst,
    rss_mm: Math.sqrt(squares),
    sigma_mm: Math.sqrt(squares) / SIGMAS,
    shares: terms.map((term) => (squares === 0 ? 0 : half(term) ** 2 / squares)),
  };
}
