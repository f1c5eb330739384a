/**
 * Shim rings of DIN 988: which hole goes with which outside diameter, and the thicknesses they come in.
 *
 * A table. Pairs of bore and outside up to 20 mm as an open part library lists them (its `DIN988` module); 17, 22, 25
 * and 30 mm, and the thicknesses, from memory. The standard itself warns that a shim beside a rolling bearing may
 * scrape on the ring that should run free. Lengths mm.
 */

/** One size of shim ring. */
export interface ShimSize {
  readonly bore_mm: number;
  readonly outside_mm: number;
  readonly source: string;
}

const LIBRARY = 'DIN 988, as an open part library lists it';
const MEMORY = 'DIN 988, from memory';

/** Sizes that linkage axles take, smallest first. */
export const SHIM_SIZES: readonly ShimSize[] = [
  { bore_mm: 8, outside_mm: 14, source: LIBRARY },
  { bore_mm: 10, outside_mm: 16, source: LIBRARY },
  { bore_mm: 12, outside_mm: 18, source: LIBRARY },
  { bore_mm: 13, outside_mm: 19, source: LIBRARY },
  { bore_mm: 14, outside_mm: 20, source: LIBRARY },
  { bore_mm: 15, outside_mm: 21, source: LIBRARY },
  { bore_mm: 16, outside_mm: 22, source: LIBRARY },
  { bore_mm: 17, outside_mm: 24, source: MEMORY },
  { bore_mm: 18, outside_mm: 25, source: LIBRARY },
  { bore_mm: 20, outside_mm: 28, source: LIBRARY },
  { bore_mm: 22, outside_mm: 32, source: MEMORY },
  { bore_mm: 25, outside_mm: 35, source: MEMORY },
  { bore_mm: 30, outside_mm: 42, source: MEMORY },
];

/** Thicknesses a shim ring comes in, mm. Source: DIN 988, from memory. */
export const SHIM_THICKNESSES_mm: readonly number[] = [
  0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1,
];

/** How much wider than the axle a shim's hole may be before it hangs off centre, mm: ours, no source. */
const LOOSEST_mm = 1.2;

/** The shim ring for a shaft, the tightest that slides on; undefined where the table holds none. */
export function shimFor(shaft_mm: number): ShimSize | undefined {
  return SHIM_SIZES.find(({ bore_mm }) => bore_mm >= shaft_mm - 1e-9 && bore_mm - shaft_mm <= LOOSEST_mm);
}
