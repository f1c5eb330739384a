/**
 * What of an axle goes through a bore that is a hair smaller: by hand within what no calliper tells, by a press where
 * an inner ring is made for one.
 *
 * The clamp solve looks along the axis only, where a pressed shank must not stand as a shoulder: for it the shank is as
 * thick as the bore it is pressed into. What the press does to the bearing is told in `findings/fits.ts`. Lengths mm.
 */
import type { ResolvedEntry } from '../model/resolve.ts';
import type { Shanked } from '../parts/shanked.ts';
import { nearestDeviation } from '../standards/fits.ts';

/**
 * A shaft passes a bore this much smaller by calliper: fits are finer than the model's figures. More must be pressed.
 */
export const PRESSED_mm = 0.005;
/** The heaviest fit a bearing's inner ring is pressed on with, by the table of ISO 286-2. */
const HEAVIEST = 'n5';
const ROUNDING_mm = 1e-9;

/** How much thicker than its bore a shaft may be that goes through, mm. Source: ISO 286-2, n5, for an inner ring. */
export function pressable_mm(bore_mm: number, isBearing: boolean): number {
  const most_mm = isBearing ? nearestDeviation(HEAVIEST, bore_mm).upper_mm : 0;
  return Math.max(PRESSED_mm, most_mm) + ROUNDING_mm;
}

/** The axle as the clamp solve sees it: no thicker than the bores that it is pressed into. */
export function slimmed(axle: Shanked, row: readonly ResolvedEntry[]): Shanked {
  const bores = row.map((entry) => {
    if (entry.role === 'bearing') return { bore_mm: entry.bearing.bore_mm, isBearing: true };
    if (entry.role === 'tip' || entry.role === 'lining') return { bore_mm: Infinity, isBearing: false };
    const bore_mm =
      entry.role === 'boss' ? entry.bore.bore_mm : 'bore_mm' in entry.part ? entry.part.bore_mm : undefined;
    return { bore_mm: bore_mm ?? Infinity, isBearing: false };
  });
  const thinned = axle.shank.map((cylinder) => {
    const pressed = bores.flatMap(({ bore_mm, isBearing }) => {
      const over_mm = cylinder.diameter_mm - bore_mm;
      return over_mm > 0 && over_mm <= pressable_mm(bore_mm, isBearing) ? [bore_mm] : [];
    });
    return pressed.length === 0 ? cylinder : { ...cylinder, diameter_mm: Math.min(...pressed) };
  });
  return thinned.every((cylinder, k) => cylinder === axle.shank[k]) ? axle : { ...axle, shank: thinned };
}
