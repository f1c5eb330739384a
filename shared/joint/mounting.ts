/**
 * How a bearing is mounted: the sizes of seat, rings and shank with their limits, and what the press into the seat and
 * onto the shank takes of its clearance.
 *
 * Each size is a range: the ring's by ISO 492 Normal, seat and shank by the class or the tolerance of the drawing, or
 * as written; presses are worked out at the middle of the ranges (`standards/press-fit.ts`). What a bearing can move
 * along its axis goes with the clearance that is left. Diametral, mm.
 */
import { LIMITS } from '../limits.ts';
import type { ResolvedSeat, ResolvedStack } from '../model/resolve.ts';
import type { ResolvedBearing } from '../parts/bearing.ts';
import { zRange } from '../profile/polygon.ts';
import { boreTolerance, estimateAxialPlay_mm, outsideTolerance } from '../standards/bearings.ts';
import { sizeLimits, type Bounded, type Deviation } from '../standards/fits.ts';
import { material } from '../standards/materials.ts';
import { seatPress, shankPress, type PressFit } from '../standards/press-fit.ts';
import { pressable_mm } from './press.ts';
import { cylinderAt } from './thread.ts';
import type { Solid } from '../types.ts';

/** What of a stack a bearing is mounted on: its axle, and where that stands. */
interface Carrier {
  readonly stack: ResolvedStack;
  readonly axle: { readonly z0: number };
}

/** What of an item is asked: where it stands, and of a bearing what it is and sits in. */
interface Mounted {
  readonly z0: number;
  readonly local: readonly { readonly solid: Solid }[];
  readonly bearing?: ResolvedBearing;
  readonly seat?: ResolvedSeat;
}

/** The middle of a size's limits, mm. */
export const middle = ({ lower_mm, upper_mm }: Deviation): number => (lower_mm + upper_mm) / 2;

/** The four sizes at a bearing, each with its limits. The shank's are missing where none goes through. */
export interface Mates {
  readonly outside: Deviation;
  readonly seat: Deviation;
  readonly bore: Deviation;
  readonly shank?: Deviation & Bounded & { readonly written_mm: number };
  /** Off by a whole size, or not to be put in at all: said by `bore-mismatch` and `axle-will-not-pass`. */
  readonly isOtherSeat: boolean;
  readonly isOtherShank: boolean;
}

/** The four sizes at a bearing that stands in a seat. */
export function matesOf(own: Carrier, item: Mounted): Mates {
  const { bore_mm, outside_mm } = item.bearing!;
  const { diameter_mm, bounds } = item.seat!;
  const shank = shankAt(own, item);
  return {
    outside: ringLimits(outside_mm, outsideTolerance, 80),
    seat: sizeLimits(diameter_mm, bounds),
    bore: ringLimits(bore_mm, boreTolerance, 50),
    ...(shank
      ? { shank: { ...sizeLimits(shank.diameter_mm, shank), fit: shank.fit, written_mm: shank.diameter_mm } }
      : {}),
    isOtherSeat: Math.abs(diameter_mm - outside_mm) > LIMITS.seatFit_mm.value,
    isOtherShank:
      !shank ||
      bore_mm - shank.diameter_mm > LIMITS.bearingFit_mm.value ||
      shank.diameter_mm > bore_mm + pressable_mm(bore_mm, true),
  };
}

/** Limits of a ring's diameter; beyond the table it is taken as written. */
function ringLimits(nominal_mm: number, tolerance: (at_mm: number) => Deviation, largest_mm: number): Deviation {
  const isTabled = nominal_mm > 2.5 && nominal_mm <= largest_mm;
  const { lower_mm, upper_mm } = isTabled ? tolerance(nominal_mm) : { lower_mm: 0, upper_mm: 0 };
  return { lower_mm: nominal_mm + lower_mm, upper_mm: nominal_mm + upper_mm };
}

/** What the presses at a bearing do at the middle of all sizes: nothing where there is play, or another size. */
export function pressesOf(
  own: Carrier,
  item: Mounted,
  { outside, seat, bore, shank, isOtherSeat, isOtherShank }: Mates,
): { readonly seat: PressFit; readonly shank: PressFit } {
  const bearing = item.bearing!;
  const boss = item.seat!.bore;
  const axle = own.stack.axle.part;
  return {
    seat: seatPress(
      bearing,
      { ...material(boss.member.material), boss_mm: boss.boss_mm },
      isOtherSeat ? 0 : middle(outside) - middle(seat),
    ),
    shank: shankPress(
      bearing,
      { ...material(axle.material), hole_mm: axle.bore_mm ?? 0 },
      isOtherShank ? 0 : middle(shank ?? bore) - middle(bore),
    ),
  };
}

/** Whole axial play of a bearing in its seat and on its axle, mm: what the presses leave of an estimate. */
export function mountedPlay_mm(own: Carrier, item: Mounted): number {
  const bearing = item.bearing!;
  const { seat, shank } = pressesOf(own, item, matesOf(own, item));
  const lost_mm = seat.lost_mm + shank.lost_mm;
  return lost_mm === 0 ? bearing.axialPlay_mm : estimateAxialPlay_mm(bearing, bearing.group, lost_mm);
}

/** The thickest of the axle that stands within an item when the head is home. */
export function shankAt(own: Carrier, item: Mounted) {
  const sign = own.stack.from === 'non-drive' ? 1 : -1;
  const ends = zRange(item.local.map(({ solid }) => solid.polygon));
  const [near, far] = ends.map((z) => sign * (item.z0 + z - own.axle.z0)).sort((a, b) => a - b);
  return cylinderAt(own.stack.axle.part, near!, far!);
}
