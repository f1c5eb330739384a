/**
 * How far the parts of a screw joint may slip across before the screw begins to turn loose.
 *
 * Method: the screw as a beam held at both ends. As long as the friction under its head bends it along with the parts,
 * head and thread stand still; from the critical slip s = μ·F·c on they slide, and each slide lets the thread turn back
 * a little. c is the beam's give across, l³/(12·E·I) for one cylinder, here for a row of them. Form and its use are
 * from memory; the worked numbers stand in the tests. N, mm, MPa.
 */
import { requireAbove, requireAtLeast, requireFriction } from './guard.ts';

/** One stretch of a screw that bends. */
export interface BeamCylinder {
  readonly length_mm: number;
  readonly outside_mm: number;
  readonly bore_mm?: number;
}

/** How far a row of cylinders held at both ends gives across, mm/N: its ends shift and do not tilt. */
export function beamGive_mm_per_N(cylinders: readonly BeamCylinder[], E_MPa: number): number {
  requireAbove('self-loosening', 'E_MPa', E_MPa, 0);
  let from_mm = 0;
  // Moments of 1/(E·I) along the beam: their first two set the end moment that keeps the ends from tilting.
  let [zeroth, first, second] = [0, 0, 0];
  for (const { length_mm, outside_mm, bore_mm = 0 } of cylinders) {
    requireAtLeast('self-loosening', 'length_mm', length_mm, 0);
    requireAbove('self-loosening', 'outside_mm', outside_mm, bore_mm);
    const to_mm = from_mm + length_mm;
    const stiff = (E_MPa * Math.PI * (outside_mm ** 4 - bore_mm ** 4)) / 64;
    zeroth += (to_mm - from_mm) / stiff;
    first += (to_mm ** 2 - from_mm ** 2) / (2 * stiff);
    second += (to_mm ** 3 - from_mm ** 3) / (3 * stiff);
    from_mm = to_mm;
  }
  return zeroth === 0 ? 0 : Math.max(0, second - first ** 2 / zeroth);
}

/** Slip across that a preload keeps from turning the screw loose, mm. */
export function criticalSlip_mm({
  preload_N,
  friction,
  give_mm_per_N,
}: {
  readonly preload_N: number;
  readonly friction: number;
  readonly give_mm_per_N: number;
}): number {
  requireAtLeast('self-loosening', 'preload_N', preload_N, 0);
  requireFriction('self-loosening', 'friction', friction);
  requireAtLeast('self-loosening', 'give_mm_per_N', give_mm_per_N, 0);
  return friction * preload_N * give_mm_per_N;
}
