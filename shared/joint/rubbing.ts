/**
 * The friction torque of a face that is pressed and turns, and the mean diameter VDI 2230 takes for one.
 *
 * The face is an annulus under the solved force at even pressure, so that M = μ·F·(2/3)·(Ro³ − Ri³)/(Ro² − Ri²) (the
 * collar-bearing formula of statics textbooks); an edge rubs at its own radius. N, mm, N·m.
 */
import type { ResolvedStack } from '../model/resolve.ts';

const N_mm_PER_N_m = 1000;

/**
 * Radius at which the friction of an annulus pressed evenly acts, mm; bands ([inner, outer] radius) share the force by
 * their area, edges evenly. 0 without bands. O(bands).
 */
export function frictionRadius_mm(bands_mm: readonly (readonly [number, number])[]): number {
  const squares = bands_mm.reduce((sum, [r0, r1]) => sum + (r1 * r1 - r0 * r0), 0);
  if (squares <= 0) return bands_mm.reduce((sum, [r0]) => sum + r0, 0) / Math.max(1, bands_mm.length);
  return ((2 / 3) * bands_mm.reduce((sum, [r0, r1]) => sum + (r1 ** 3 - r0 ** 3), 0)) / squares;
}

/**
 * Mean diameter of a pressed face, (outside + inside)/2 of what touches, mm: D_Km of VDI 2230. Bands share the force by
 * their area, edges evenly.
 */
export function meanDiameter_mm(bands_mm: readonly (readonly [number, number])[]): number {
  const squares = bands_mm.reduce((sum, [r0, r1]) => sum + (r1 * r1 - r0 * r0), 0);
  const weight = ([r0, r1]: readonly [number, number]): number =>
    squares > 0 ? (r1 * r1 - r0 * r0) / squares : 1 / bands_mm.length;
  return bands_mm.reduce((sum, band) => sum + weight(band) * (band[0] + band[1]), 0);
}

/** Friction torque of one pressed face at one coefficient, N·m, ≥ 0 for a push ≥ 0 N; 0 without a band. */
export function frictionTorque_Nm({
  force_N,
  bands_mm,
  friction: mu,
}: {
  readonly force_N: number;
  readonly bands_mm: readonly (readonly [number, number])[];
  readonly friction: number;
}): number {
  return (mu * force_N * frictionRadius_mm(bands_mm)) / N_mm_PER_N_m;
}

/** True when the model greases the faces of a thing in a row, or an end of the stack. */
export function isGreased({ row, greased = [] }: Pick<ResolvedStack, 'row' | 'greased'>, rowId: string): boolean {
  return row.some((entry) => entry.id === rowId && entry.greased === true) || greased.some((id) => id === rowId);
}
