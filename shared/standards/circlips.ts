/**
 * Circlips in bores and on shafts: the series of DIN 472 and DIN 471, normal type, and what ring and groove carry along
 * the axle.
 *
 * Dimensions from OCT; the 28 mm bore's groove is 29.4 mm, as its neighbours have it, where that table prints 20.4. Loads
 * of rings from 19 mm bores and 20 mm shafts on are from memory, the margins of shafts from 24 mm on as well. The groove's load is that of its wall at yield, with the factor 1.2 that 21
 * published cells share: exact within 1.6 %. N, mm, MPa.
 */
import { requireAbove } from './guard.ts';

/** One row of a series. */
export interface CirclipSize {
  /** The bore it snaps into, or the shaft it snaps onto. */
  readonly on_mm: number;
  readonly thickness_mm: number;
  /** Outside diameter while free, of a bore; inside diameter, of a shaft. */
  readonly free_mm: number;
  readonly groove_mm: number;
  readonly grooveWidth_mm: number;
  /** Metal that must be left between the groove and the face of the bore, or the tip. */
  readonly margin_mm: number;
  /** What the ring carries against a sharp-edged part. */
  readonly ring_N: number;
}

type Cells = readonly [on: number, s: number, d3: number, d2: number, m: number, n: number, ring_kN: number];

const BORES: readonly Cells[] = [
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

const SHAFTS: readonly Cells[] = [
  [8, 0.8, 7.4, 7.6, 0.9, 0.6, 3],
  [9, 1, 8.4, 8.6, 1.1, 0.6, 3.5],
  [10, 1, 9.3, 9.6, 1.1, 0.6, 4],
  [11, 1, 10.2, 10.5, 1.1, 0.8, 4.5],
  [12, 1, 11, 11.5, 1.1, 0.8, 5],
  [13, 1, 11.9, 12.4, 1.1, 0.9, 5.8],
  [14, 1, 12.9, 13.4, 1.1, 0.9, 6.35],
  [15, 1, 13.8, 14.3, 1.1, 1.1, 6.9],
  [16, 1, 14.7, 15.2, 1.1, 1.2, 7.4],
  [17, 1, 15.7, 16.2, 1.1, 1.2, 8],
  [18, 1.2, 16.5, 17, 1.3, 1.5, 17],
  [19, 1.2, 17.5, 18, 1.3, 1.5, 17],
  [20, 1.2, 18.5, 19, 1.3, 1.5, 17.1],
  [22, 1.2, 20.5, 21, 1.3, 1.5, 16.9],
  [24, 1.2, 22.2, 22.8, 1.3, 1.7, 16.1],
  [25, 1.2, 23.2, 23.9, 1.3, 1.7, 16.2],
  [26, 1.2, 24.2, 24.9, 1.3, 1.7, 16.1],
  [28, 1.5, 25.9, 26.6, 1.6, 2.1, 32.1],
  [30, 1.5, 27.9, 28.6, 1.6, 2.1, 32.1],
];

function sizeOf([on_mm, thickness_mm, free_mm, groove_mm, grooveWidth_mm, margin_mm, ring_kN]: Cells): CirclipSize {
  return { on_mm, thickness_mm, free_mm, groove_mm, grooveWidth_mm, margin_mm, ring_N: 1000 * ring_kN };
}

/** The series of circlips, normal type. Source: DIN 472 for bores, DIN 471 for shafts (OCT). */
const CIRCLIPS = { bore: BORES.map(sizeOf), shaft: SHAFTS.map(sizeOf) } as const;

/** The circlip of the series for a bore or a shaft of this size, within what a calliper tells; none beside it. */
export function circlipFor(on_mm: number, of: keyof typeof CIRCLIPS): CirclipSize | undefined {
  return CIRCLIPS[of].find((row) => Math.abs(row.on_mm - on_mm) < 0.05);
}

/** Factor between yield and the load that the series prints for a groove. */
const GROOVE_FACTOR = 1.2;

/**
 * What the wall of a groove carries along the axle, N: (π/4)·|d1² − d2²|·R_p/1.2. Where less metal is left beside it
 * than the series asks for, less in proportion: from memory. Source: DIN 472, by its printed loads at 200 MPa.
 */
export function grooveLoad_N(groove: {
  /** The bore or the shaft it is cut into. */
  readonly on_mm: number;
  readonly groove_mm: number;
  readonly yield_MPa: number;
  readonly margin_mm?: number;
  readonly marginNeeded_mm?: number;
}): number {
  const { on_mm, groove_mm, yield_MPa, margin_mm = 1, marginNeeded_mm = margin_mm } = groove;
  requireAbove('circlips', 'yield_MPa', yield_MPa, 0);
  requireAbove('circlips', 'marginNeeded_mm', marginNeeded_mm, 0);
  const wall_mm2 = (Math.PI / 4) * Math.abs(on_mm ** 2 - groove_mm ** 2);
  return ((wall_mm2 * yield_MPa) / GROOVE_FACTOR) * Math.min(1, margin_mm / marginNeeded_mm);
}
