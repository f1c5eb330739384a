/**
 * Circlips in bores: the series of DIN 472, normal type, and what ring and groove carry along the axle.
 *
 * Dimensions from OCT; the 28 mm row's groove is 29.4 mm, as its neighbours have it, where that table prints 20.4. Loads
 * of rings from 19 mm on are from memory. The groove's load is that of its wall at yield, with the factor 1.2 that 21
 * published cells share: exact within 1.6 %. N, mm, MPa.
 */
import { requireAbove } from './guard.ts';

/** One row of the series. */
export interface BoreCirclip {
  /** The bore it snaps into. */
  readonly bore_mm: number;
  readonly thickness_mm: number;
  /** Outside diameter while free. */
  readonly free_mm: number;
  readonly groove_mm: number;
  readonly grooveWidth_mm: number;
  /** Metal that must be left between the groove and the face of the bore. */
  readonly margin_mm: number;
  /** What the ring carries against a sharp-edged part. */
  readonly ring_N: number;
}

type Cells = readonly [bore: number, s: number, d3: number, d2: number, m: number, n: number, ring_kN: number];

const CELLS: readonly Cells[] = [
  [8, 0.8, 8.7, 8.4, 0.9, 0.6, 2],
  [10, 1, 10.8, 10.4, 1.1, 0.6, 4],
  [12, 1, 13, 12.5, 1.1, 0.8, 4],
  [14, 1, 15.1, 14.6, 1.1, 0.9, 4.5],
  [15, 1, 16.2, 15.7, 1.1, 1.1, 5],
  [16, 1, 17.3, 16.8, 1.1, 1.2, 5.5],
  [17, 1, 18.3, 17.8, 1.1, 1.2, 6],
  [18, 1, 19.5, 19, 1.1, 1.5, 6.5],
  [19, 1, 20.5, 20, 1.1, 1.5, 6.8],
  [20, 1, 21.5, 21, 1.1, 1.5, 7.2],
  [22, 1, 23.5, 23, 1.1, 1.5, 8],
  [24, 1.2, 25.9, 25.2, 1.3, 1.8, 13.9],
  [26, 1.2, 27.9, 27.2, 1.3, 1.8, 13.9],
  [28, 1.2, 30.1, 29.4, 1.3, 2.1, 13.3],
  [30, 1.2, 32.1, 31.4, 1.3, 2.1, 13.7],
  [32, 1.2, 34.4, 33.7, 1.3, 2.6, 13.8],
  [35, 1.5, 37.8, 37, 1.6, 3, 26.9],
];

/** The series of circlips for bores. Source: DIN 472 (OCT). */
export const BORE_CIRCLIPS: readonly BoreCirclip[] = CELLS.map(
  ([bore_mm, thickness_mm, free_mm, groove_mm, grooveWidth_mm, margin_mm, ring_kN]) => ({
    bore_mm,
    thickness_mm,
    free_mm,
    groove_mm,
    grooveWidth_mm,
    margin_mm,
    ring_N: 1000 * ring_kN,
  }),
);

/** The circlip of the series for a bore of this size, within what a calliper tells; none beside it. */
export function circlipFor(bore_mm: number): BoreCirclip | undefined {
  return BORE_CIRCLIPS.find((row) => Math.abs(row.bore_mm - bore_mm) < 0.05);
}

/** Factor between yield and the load that the series prints for a groove. */
const GROOVE_FACTOR = 1.2;

/**
 * What the wall of a groove carries along the axle, N: (π/4)·|d1² − d2²|·R_p/1.2. Where less metal is left beside it
 * than the series asks for, less in proportion: from memory. Source: DIN 472, by its printed loads at 200 MPa.
 */
export function grooveLoad_N(groove: {
  readonly bore_mm: number;
  readonly groove_mm: number;
  readonly yield_MPa: number;
  readonly margin_mm?: number;
  readonly marginNeeded_mm?: number;
}): number {
  const { bore_mm, groove_mm, yield_MPa, margin_mm = 1, marginNeeded_mm = margin_mm } = groove;
  requireAbove('circlips', 'yield_MPa', yield_MPa, 0);
  requireAbove('circlips', 'marginNeeded_mm', marginNeeded_mm, 0);
  const wall_mm2 = (Math.PI / 4) * Math.abs(bore_mm ** 2 - groove_mm ** 2);
  return ((wall_mm2 * yield_MPa) / GROOVE_FACTOR) * Math.min(1, margin_mm / marginNeeded_mm);
}
