/**
 * How hard a turning arm can twist an inner ring through its bearing.
 *
 * A bearing that runs free passes almost nothing on (0.0015 of its load at the bore, bearing catalogue, 2018, p. 100);
 * the most it can pass on is what it drags with when no ball rolls any more: sliding friction 0.15 (boundary
 * lubrication, the same catalogue, p. 105), at the middle circle, under the greatest load a bearing is chosen for, half
 * its static rating (bearing catalogue, 2018, table 7 p. 106: s0 of 2 where loads are not well known and no deformation
 * may be felt). An upper estimate. N, mm; torque in N·m.
 */
import { requireAbove, requireAtLeast } from './guard.ts';

/**
 * Sliding friction of balls that no longer roll. Source: bearing catalogue, 2018, p. 105: about 0.15 without a full
 * film.
 */
export const SLIDING_FRICTION = 0.15;
/**
 * Static rating over the greatest load. Source: bearing catalogue, 2018, table 7 p. 106, loads of low certainty, no
 * deformation accepted.
 */
export const STATIC_SAFETY = 2;

/** Friction of a bearing that rolls, as a share of its load at the bore. Source: bearing catalogue, 2018, p. 100. */
const ROLLING_FRICTION = 0.0015;

/** Friction torque that a load adds to a bearing that rolls, N·m. Source: bearing catalogue, 2018, p. 100. */
export function rollingDrag_Nm(bore_mm: number, load_N: number): number {
  requireAbove('ring drag', 'bore_mm', bore_mm, 0);
  requireAtLeast('ring drag', 'load_N', load_N, 0);
  return (ROLLING_FRICTION * load_N * (bore_mm / 2)) / 1000;
}

/** Twist a dragging bearing puts into its inner ring, N·m: balls sliding under its greatest load. An upper estimate. */
export function worstDrag_Nm({
  bore_mm,
  outside_mm,
  staticRating_N,
}: {
  readonly bore_mm: number;
  readonly outside_mm: number;
  readonly staticRating_N: number;
}): number {
  requireAbove('ring drag', 'bore_mm', bore_mm, 0);
  requireAbove('ring drag', 'outside_mm', outside_mm, bore_mm);
  requireAtLeast('ring drag', 'staticRating_N', staticRating_N, 0);
  const middle_mm = (bore_mm + outside_mm) / 4;
  return (SLIDING_FRICTION * (staticRating_N / STATIC_SAFETY) * middle_mm) / 1000;
}
