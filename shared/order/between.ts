/**
 * What lies between members and must be there before they meet, with what is on the bike at a time.
 *
 * Two units meet when the second of them is brought to its place. A ring between them that reaches into a bore (see
 * `rings.ts`) is then set before, unless the two can still be moved apart where it lies: they can while they are joined
 * on no other axis than theirs there, one of them hangs on a single axle, and they are not one body.
 */
import type { Bike, Joined } from './bike.ts';
import { wayOf, type RingPlace } from './rings.ts';
import { radiusOf } from './room.ts';
import { swingRoom_rad } from './swing-room.ts';

/** A ring that lies between two different units, with its stack and them. */
export interface Between {
  readonly own: Joined;
  readonly ring: RingPlace;
  /** Unit of its boss toward the non-drive side, and toward the drive side. */
  readonly low: string;
  readonly high: string;
  /** The two can meet along the axle only. */
  readonly isAlong: boolean;
}

/** Rings of a stack that cannot come in from the side. */
export function betweenOf(bike: Bike, own: Joined): Between[] {
  return own.rings.flatMap((ring): Between[] => {
    const way = wayOf(ring);
    if (way !== 'before-they-meet' && way !== 'before-they-meet-along') return [];
    const [low, high] = [ring.low!.boss, ring.high!.boss].map((boss) => bike.unitOf.get(boss.member!)!);
    return [{ own, ring, low: low!, high: high!, isAlong: way === 'before-they-meet-along' }];
  });
}

/** All such rings of a bike, by the two units they lie between. */
export function allBetween(bike: Bike): ReadonlyMap<string, readonly Between[]> {
  const found = new Map<string, Between[]>();
  for (const own of bike.stacks) {
    for (const between of betweenOf(bike, own)) {
      for (const unit of new Set([between.low, between.high])) found.set(unit, [...(found.get(unit) ?? []), between]);
    }
  }
  return found;
}

/** Whether a ring lies in its place already and cannot leave it, given the axles that are in and the units that are on. */
export function isSet(
  bike: Bike,
  { own, low, high }: Between,
  fitted: ReadonlySet<string>,
  on: ReadonlySet<string>,
): boolean {
  if (fitted.has(own.id) || (isOneBody(bike, low, high) && on.has(low) && on.has(high))) return true;
  return bike.byAxis
    .get(own.axis)!
    .some((other) => fitted.has(other.id) && other.units.includes(low) && other.units.includes(high));
}

function isOneBody(bike: Bike, one: string, other: string): boolean {
  return bike.units.get(one)!.body === bike.units.get(other)!.body;
}

/** Rings that have to be set as an axle is fitted, all of them before the two units they lie between meet. */
export interface ToSet {
  /** One of the two is still to come: set before it is brought in. */
  readonly beforeIn: readonly Between[];
  /** Both are on: they have to be moved apart first. */
  readonly apart: readonly Between[];
}

/** What has to be set as the axle `own` is fitted, with these axles in and these units on. */
export function toSet(
  bike: Bike,
  all: ReadonlyMap<string, readonly Between[]>,
  own: Joined,
  fitted: ReadonlySet<string>,
  on: ReadonlySet<string>,
): ToSet {
  const comes = (unit: string): boolean => own.units.includes(unit) && !on.has(unit);
  const beforeIn: Between[] = [];
  const apart: Between[] = [];
  for (const between of new Set(own.units.flatMap((unit) => all.get(unit) ?? []))) {
    const { low, high } = between;
    const areBothHere = own.units.includes(low) && own.units.includes(high);
    const isHere = between.own === own || (between.own.axis === own.axis && areBothHere);
    const meetsHere = (comes(low) && (on.has(high) || comes(high))) || (comes(high) && (on.has(low) || comes(low)));
    if (!isHere && !(meetsHere && isOneBody(bike, low, high))) continue;
    if (isSet(bike, between, fitted, on)) continue;
    (comes(low) || comes(high) ? beforeIn : apart).push(between);
  }
  return { beforeIn, apart };
}

/** A unit that can be moved away again at a ring's axle, and the axle it swings about. */
export interface Movable {
  readonly unit: string;
  readonly about: Joined;
}

/** How far two bosses have to be moved apart in the side plane so that a ring between them comes free: its own radius and that of the boss it does not lie in, mm. */
export function clear_mm({ ring }: Pick<Between, 'ring'>): number {
  const over = ring.low!.into_mm >= ring.high!.into_mm ? ring.high! : ring.low!;
  return radiusOf(ring.item) + radiusOf(over.boss);
}

/**
 * Those of the two units that can be moved away again at the ring's axle, given the axles that are in: they hang on one
 * axis alone, and the swing about it that is left moves their bores by `clear_mm`. What else stands in its way is `others`;
 * without it only the frame and the other unit are looked at.
 */
export function movables(
  bike: Bike,
  between: Pick<Between, 'own' | 'low' | 'high'>,
  fitted: ReadonlySet<string>,
  clear_mm: number,
  others: Iterable<string> = [],
): Movable[] {
  if (isOneBody(bike, between.low, between.high)) return [];
  const frame = [...bike.units.values()].filter(({ isFrame }) => isFrame).map(({ id }) => id);
  const on = new Set([...frame, between.low, between.high, ...others]);
  return [between.low, between.high].flatMap((unit): Movable[] => {
    if (bike.units.get(unit)!.isFrame) return [];
    const held = (bike.byUnit.get(unit) ?? []).filter((own) => fitted.has(own.id));
    const about = held[0];
    if (!about || about.axis === between.own.axis || held.some((own) => own.axis !== about.axis)) return [];
    const { place } = between.own;
    const arm_mm = Math.hypot(place.x_mm - about.place.x_mm, place.y_mm - about.place.y_mm);
    const moved_mm = 2 * arm_mm * Math.sin(swingRoom_rad(bike, unit, about.place, on) / 2);
    return moved_mm >= clear_mm ? [{ unit, about }] : [];
  });
}
