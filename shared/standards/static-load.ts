/**
 * Static safety of a rolling bearing that stands still or swings slowly, as a linkage bearing does.
 *
 * Method: ISO 76 as bearing catalogue, 2018 reprints it. The static equivalent load P0 = 0.6·Fr + 0.5·Fa, at least Fr,
 * for deep groove bearings of one row (and two rows in tandem); the safety s0 = C0/P0. Beside it stands the limit for a
 * load along the axis, which thin and small bearings reach before P0 says anything. N, both loads without sign.
 */
import { requireAbove, requireAtLeast } from './guard.ts';
import { PURE_AXIAL_SHARE } from './bearings.ts';

const RADIAL_FACTOR = 0.6;
const AXIAL_FACTOR = 0.5;

/** Static equivalent load of a deep groove bearing, N. Source: ISO 76, bearing catalogue, 2018, p. 254-255. */
export function staticEquivalentLoad_N(radial_N: number, axial_N: number): number {
  requireAtLeast('static-load', 'radial_N', radial_N, 0);
  requireAtLeast('static-load', 'axial_N', axial_N, 0);
  return Math.max(radial_N, RADIAL_FACTOR * radial_N + AXIAL_FACTOR * axial_N);
}

/** Static safety s0 = C0/P0; Infinity without a load. Source: ISO 76, bearing catalogue, 2018, p. 106. */
export function staticSafety(staticRating_N: number, equivalent_N: number): number {
  requireAbove('static-load', 'staticRating_N', staticRating_N, 0);
  requireAtLeast('static-load', 'equivalent_N', equivalent_N, 0);
  return equivalent_N === 0 ? Infinity : staticRating_N / equivalent_N;
}

/**
 * Least static safety of a ball bearing that seldom turns, when its load may be higher than reckoned (shocks). Source:
 * bearing catalogue, 2018, table 7 p. 106.
 */
export const LEAST_STATIC_SAFETY = 1;

/** The same when the load is known for certain. Source: bearing catalogue, 2018, table 7 p. 106. */
export const LEAST_STATIC_SAFETY_CERTAIN = 0.4;

const SMALL_BORE_mm = 12;
const HEAVY_AXIAL_SHARE = 0.5;
const THIN_SERIES: readonly DiameterSeries[] = ['8', '9', '0', '1'];

/** ISO 15 diameter series, thin to thick: the 9 of 61902, the 0 of 6002, the 2 of 6202. */
export type DiameterSeries = '8' | '9' | '0' | '1' | '2' | '3' | '4';

/**
 * Largest load along the axis, N: 0.25 C0 for bores up to 12 mm and diameter series 8, 9, 0 and 1, else 0.5 C0. A
 * bearing whose series nobody gave counts as thin, which is the safe side. Source: bearing catalogue, 2018, p. 254.
 */
export function axialLimit_N(staticRating_N: number, bore_mm: number, series: DiameterSeries = '9'): number {
  requireAbove('static-load', 'staticRating_N', staticRating_N, 0);
  requireAbove('static-load', 'bore_mm', bore_mm, 0);
  return (
    (bore_mm <= SMALL_BORE_mm || THIN_SERIES.includes(series) ? PURE_AXIAL_SHARE : HEAVY_AXIAL_SHARE) * staticRating_N
  );
}
