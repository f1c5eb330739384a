/**
 * How much preload a screw joint loses as its faces settle.
 *
 * Method: the embedding loss of VDI 2230, F_Z = f_Z/(δ_S + δ_P): roughness of every face is flattened by f_Z in all,
 * and the stretch of screw and parts gives up that much. Guide values f_Z for faces below 10 µm roughness under a load
 * across the axis, which is what a pivot carries, and along it; both from memory. A screw's own resilience is its
 * sections' l/(E·A), with 0.4 d more at each end for head and thread (a course book's form, as FMAT encodes it). N, mm,
 * MPa.
 */
import { requireAbove, requireAtLeast } from './guard.ts';

/** Settling of one face, mm, by where it is and how the joint is loaded. Source: VDI 2230, from memory. */
export const SETTLING_mm = {
  across: { thread: 0.003, bearing: 0.003, inner: 0.002 },
  along: { thread: 0.003, bearing: 0.0025, inner: 0.0015 },
} as const;

/**
 * The length of thread or head that stretches with a screw, as a share of its size. Source: FMAT, 0.4 D at each end.
 */
export const END_SHARE = 0.4;

/** What all faces of a joint settle by, mm: its thread, the faces under head and nut, and those between its parts. */
export function settling_mm({
  bearingFaces,
  innerFaces,
  load = 'across',
}: {
  readonly bearingFaces: number;
  readonly innerFaces: number;
  readonly load?: keyof typeof SETTLING_mm;
}): number {
  requireAtLeast('settling', 'bearingFaces', bearingFaces, 0);
  requireAtLeast('settling', 'innerFaces', innerFaces, 0);
  const { thread, bearing, inner } = SETTLING_mm[load];
  return thread + bearingFaces * bearing + innerFaces * inner;
}

/** Preload lost by settling, N. Source: VDI 2230. */
export function settlingLoss_N({
  settled_mm,
  screw_mm_per_N,
  parts_mm_per_N,
}: {
  readonly settled_mm: number;
  readonly screw_mm_per_N: number;
  readonly parts_mm_per_N: number;
}): number {
  requireAtLeast('settling', 'settled_mm', settled_mm, 0);
  requireAbove('settling', 'screw_mm_per_N', screw_mm_per_N, 0);
  requireAtLeast('settling', 'parts_mm_per_N', parts_mm_per_N, 0);
  return settled_mm / (screw_mm_per_N + parts_mm_per_N);
}

/** Resilience of a rod of cylinders, mm/N: l/(E·A) each, and the two ends that stretch with it. */
export function screwResilience_mm_per_N({
  cylinders,
  end,
  E_MPa,
}: {
  readonly cylinders: readonly { readonly length_mm: number; readonly area_mm2: number }[];
  /** The thread's size and stress section. */
  readonly end: { readonly size_mm: number; readonly area_mm2: number };
  readonly E_MPa: number;
}): number {
  requireAbove('settling', 'E_MPa', E_MPa, 0);
  const ends = (2 * END_SHARE * end.size_mm) / end.area_mm2;
  return (cylinders.reduce((sum, { length_mm, area_mm2 }) => sum + length_mm / area_mm2, 0) + ends) / E_MPa;
}
