/**
 * What presses a bearing in and out of its seat, from the profiles: the widths of driver, support and punch, and which
 * ring of the bearing each can bear on.
 *
 * In: a driver as wide as the outer ring's face at most, hollow at least as far as that ring's inner edge, so that it
 * touches neither seal nor inner ring. Out: the bearing leaves on the side its seat opens to, pushed from the other
 * side through the bore. What of its outer ring shows inside the bore is pushed on; where only the inner ring shows,
 * the balls take the force and the bearing is scrap. Past a second bearing a punch is as wide as that bearing's bore at
 * most and must catch the edge of the ring from beside it; a tube between the two is tilted aside first, as far as its
 * play in the bore lets it go, and what then shows of the inner ring's face is all there is to catch. Under the boss a
 * support leaves the bearing room to come through. Widths are rounded to the half millimetre, to the side that still
 * goes. mm.
 */
import type { PlacedItem } from '../types.ts';
import type { SolidRole } from '../profile/solid.ts';
import type { Side } from '../model/schema.ts';
import { otherSide } from '../numbers/figures.ts';
import { ORDER_LIMITS } from './limits.ts';

/** The widths of what a hand takes to press one bearing. */
export interface Pressing {
  /** The side it goes in from and comes out to. */
  readonly side: Side;
  readonly driver: { readonly most_mm: number; readonly hollow_mm: number };
  /** A ring under the boss as the bearing comes out: wide enough inside for it, no wider outside than the boss. */
  readonly support: { readonly inside_mm: number; readonly outside_mm: number };
  readonly out: PressOut;
}

/** How a bearing is pushed out, from the side that its seat does not open to. */
export interface PressOut {
  readonly from: Side;
  readonly bearsOn: 'outer-ring' | 'inner-ring' | 'nothing';
  /** A punch no wider and no thinner than this; none where it finds nothing to bear on. */
  readonly punch?: { readonly most_mm: number; readonly least_mm: number };
  /** Another bearing of the same boss that is still in: the punch goes through it and catches from beside. */
  readonly past?: string;
  /** The tube between the two that is tilted aside, and what then shows of the ring, mm. */
  readonly tube?: { readonly item: string; readonly lip_mm: number };
  /** Width of the inner ring's bore: what a puller takes hold of where no punch can. */
  readonly bore_mm: number;
}

/**
 * Widths for one bearing of a stack: among these items its boss, the other bearing of it that is in, a tube between.
 */
export function pressingOf(bearing: PlacedItem, items: readonly PlacedItem[]): Pressing | undefined {
  const { seat } = bearing;
  const boss = items.find(
    ({ role, member, bore }) => role === 'boss' && seat !== undefined && member === seat.member && bore === seat.bore,
  );
  if (!seat || !boss) return undefined;
  const outer = faceOf(bearing, 'outer-ring', seat.side);
  return {
    side: seat.side,
    driver: { most_mm: down(2 * outer.to_mm), hollow_mm: up(2 * outer.from_mm) },
    support: { inside_mm: up(2 * widest(bearing) + GAP_mm), outside_mm: down(2 * widest(boss)) },
    out: pressOut(bearing, boss, items),
  };
}

function pressOut(bearing: PlacedItem, boss: PlacedItem, items: readonly PlacedItem[]): PressOut {
  const { seat } = bearing;
  const from = otherSide(seat!.side);
  const [outer, inner] = [faceOf(bearing, 'outer-ring', from), faceOf(bearing, 'inner-ring', from)];
  const bore_mm = 2 * narrowest(bearing);
  const past = items.find(
    (item) => item !== bearing && item.seat?.member === seat!.member && item.seat.bore === seat!.bore,
  );
  const least = ORDER_LIMITS.catch_mm.value;
  const opening = narrowest(boss);
  if (!past) {
    const most_mm = down(2 * opening - GAP_mm);
    if (opening - outer.from_mm >= least)
      return {
        from,
        bearsOn: 'outer-ring',
        punch: { most_mm: Math.min(most_mm, down(2 * outer.to_mm)), least_mm: up(2 * (outer.from_mm + least)) },
        bore_mm,
      };
    const widest_mm = Math.min(most_mm, down(2 * inner.to_mm));
    const thinnest_mm = up(2 * (inner.from_mm + least));
    return widest_mm < thinnest_mm
      ? { from, bearsOn: 'nothing', bore_mm }
      : { from, bearsOn: 'inner-ring', punch: { most_mm: widest_mm, least_mm: thinnest_mm }, bore_mm };
  }
  const through = narrowest(past);
  const between = items.find(
    ({ role, from_mm, to_mm }) =>
      role === 'spacer' &&
      from_mm >= Math.min(past.from_mm, bearing.from_mm) &&
      to_mm <= Math.max(past.to_mm, bearing.to_mm),
  );
  const aside = Math.max(0, opening - (between ? widest(between) : 0));
  // A tube's edge stands off the ring's by how far it goes aside; without a tube all of the ring's face is bare.
  const lip_mm = between ? Math.max(0, narrowest(between) + aside - inner.from_mm) : inner.to_mm - inner.from_mm;
  const tube = between ? { tube: { item: between.id, lip_mm } } : {};
  if (lip_mm < least) return { from, bearsOn: 'nothing', past: past.id, ...tube, bore_mm };
  const clear = between ? Math.min(through, narrowest(between)) : through;
  return {
    from,
    bearsOn: 'inner-ring',
    punch: {
      // It leans to one side: so much thinner than the bore it goes through that its edge comes over the lip.
      most_mm: Math.max(ORDER_LIMITS.leastPunch_mm.value, down(2 * clear - GAP_mm - least)),
      least_mm: ORDER_LIMITS.leastPunch_mm.value,
    },
    past: past.id,
    ...tube,
    bore_mm,
  };
}

/** Play of a tool in what it goes through, mm across. */
const GAP_mm = 0.5;
/** A corner this near to an end belongs to its face, mm: broken edges stand back further. */
const FACE_mm = 0.02;

/** The flat of a ring's end face, from its inner to its outer edge. */
function faceOf(item: PlacedItem, role: SolidRole, side: Side): { readonly from_mm: number; readonly to_mm: number } {
  const corners = item.solids.filter((solid) => solid.role === role).flatMap(({ polygon }) => polygon);
  const sign = side === 'drive' ? 1 : -1;
  const end = Math.max(...corners.map(([, z]) => sign * z));
  const radii = corners.filter(([, z]) => end - sign * z <= FACE_mm).map(([r]) => r);
  return { from_mm: Math.min(...radii), to_mm: Math.max(...radii) };
}

const radiiOf = ({ solids }: PlacedItem): number[] => solids.flatMap(({ polygon }) => polygon.map(([r]) => r));
const widest = (item: PlacedItem): number => Math.max(...radiiOf(item));
const narrowest = (item: PlacedItem): number => Math.min(...radiiOf(item));
const down = (width_mm: number): number => Math.floor(2 * width_mm + 1e-9) / 2;
const up = (width_mm: number): number => Math.ceil(2 * width_mm - 1e-9) / 2;
