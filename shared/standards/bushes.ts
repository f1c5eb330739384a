/**
 * Plain bushes: what each kind of lining carries where it turns, and what pressing it in does to its bore.
 *
 * Permissible mean pressure on the bore's projected face, F/(d·L), while turning. MPa, mm, N.
 */
import { requireAbove } from './guard.ts';

/** What a bush runs on. */
export const LINING_KEYS = ['dry-composite', 'graphite-bronze', 'sintered-bronze', 'polymer'] as const;
/** One of `LINING_KEYS`. */
type LiningKey = (typeof LINING_KEYS)[number];

/** A permissible pressure, MPa, with where it comes from. */
interface Pressure {
  readonly value: number;
  readonly source: string;
}

/** What a lining carries while it turns. */
export const LINING_PRESSURE: Readonly<Record<LiningKey, Pressure>> = {
  'dry-composite': { value: 140, source: 'plain-bush data page: steel-backed, dry, turning' },
  'graphite-bronze': { value: 130, source: 'plain-bush data page: bronze with graphite, turning' },
  'sintered-bronze': { value: 10, source: 'from memory: sintered bronze takes 10 to 20 MPa' },
  polymer: { value: 15, source: 'from memory: unfilled acetal or polyamide takes 15 to 35 MPa' },
};

/** The mean pressure of a load on a bush. */
export function bushPressure_MPa(load_N: number, bore_mm: number, length_mm: number): number {
  requireAbove('bushes', 'bore_mm', bore_mm, 0);
  requireAbove('bushes', 'length_mm', length_mm, 0);
  return load_N / (bore_mm * length_mm);
}

/**
 * The bore of a bush once it is pressed in: thin walls pass on all of the press, H − 2·wall. Source: plain-bush
 * catalogue, its fitted bores.
 */
export function fittedBore_mm(
  bush: { readonly outside_mm: number; readonly bore_mm: number },
  seat_mm: number,
): number {
  return bush.bore_mm - Math.max(0, bush.outside_mm - seat_mm);
}
