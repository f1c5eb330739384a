/**
 * The part in the hand: off its seat by a rule of its own size, with what would hide it or its seat told by what lies
 * before them.
 *
 * What covers a part follows from the profiles alone: rays from the eye over its silhouette, met with the solids of
 * revolution of the parts that are on. Whatever covers most is cut open, or faded where it is never cut, until little
 * of the part is covered. Lengths in mm; a pure function of pivot, places and eye.
 */
import type { PivotAnalysis, PlacedItem, Polygon, Side, StepPlace } from '../../shared/index.ts';
import { isUncut } from '../drawings/hatch.ts';
import { fieldOfView_deg, frameAxes, pivotStand, type Frame, type Stand, type View } from './fit.ts';
import { cornersOf, itemsOf, radiusOf, type ItemPlace } from './placement.ts';
import { add, dot, minus, scale, unit, type Point3 } from './vector.ts';

/** The part a step places or turns. */
export interface InHand {
  readonly id: string;
  /** Placed, it comes in from this side; turned, it stays on its seat. */
  readonly from?: Side | undefined;
  /** Where the step leaves it, mm from its tight place. */
  readonly seat_mm: number;
  /**
   * What is on once the step is done, where the step is shown moving: the movement tells the way, so that the part
   * stands off nowhere.
   */
  readonly among?: Readonly<Record<string, StepPlace>> | undefined;
}

/** The part in the hand and what makes way for it. */
export interface Held extends InHand {
  readonly item: PlacedItem;
  /** Where it stands, mm from its tight place. */
  readonly offset_mm: number;
  readonly opened: ReadonlySet<string>;
  readonly faded: ReadonlySet<string>;
}

/** Clear space between a part and the ghost of it on its seat. */
const CLEAR_mm = 8;
/** A longer part stands off no further than this one would: its ends tell the two apart. */
const LONG_mm = 24;

/** Where a part in the hand stands: beside its seat; an axle clear of the row it goes into. */
function standOff(
  pivot: PivotAnalysis,
  { id, from, seat_mm }: InHand,
  places: Readonly<Record<string, ItemPlace>>,
): number {
  const item = itemsOf(pivot).find((candidate) => candidate.id === id);
  if (!item || from === undefined) return seat_mm;
  const sign = from === 'drive' ? 1 : -1;
  const near = sign > 0 ? item.from_mm : -item.to_mm;
  const length = item.to_mm - item.from_mm;
  if (item.role !== 'axle') return seat_mm + sign * (Math.min(length, LONG_mm) + CLEAR_mm);
  const own = id.slice(0, id.indexOf('/') + 1);
  const ends = onItems(pivot, id, places).flatMap(({ item: other, offset_mm }) =>
    other.id.startsWith(own) ? [sign > 0 ? other.to_mm + offset_mm : -(other.from_mm + offset_mm)] : [],
  );
  const row = Math.max(near + sign * seat_mm, ...ends);
  return sign * (row - near + CLEAR_mm);
}

/** The places with the part in the hand off its seat. */
export function withHeld(
  pivot: PivotAnalysis,
  hand: InHand | undefined,
  places: Readonly<Record<string, ItemPlace>>,
): Readonly<Record<string, ItemPlace>> {
  return hand && !hand.among && places[hand.id]
    ? { ...places, [hand.id]: { offset_mm: standOff(pivot, hand, places), isAway: false } }
    : places;
}

/** A part in the hand is seen at least so large, px across. */
const LEAST_HELD_px = 62;
/** Share of its length that a part standing along the sight shows, at the least. */
const SEEN_LENGTH = 0.6;

/**
 * Where the camera stands for a part in the hand: on it, its seat and what is on, and near enough; clear of what covers
 * `aside_px` of the picture, at its left where that is above 0.
 */
export function heldStand(
  pivot: PivotAnalysis,
  hand: InHand,
  places: Readonly<Record<string, ItemPlace>>,
  view: View,
  whole: Frame,
  aside_px = 0,
): Stand {
  const frame = { ...whole, aside_px: Math.abs(aside_px) };
  const focal_px = frame.height / (2 * Math.tan((fieldOfView_deg(frame.width / frame.height) * Math.PI) / 360));
  const aside = (to: Stand): Stand => {
    const shift_mm = (aside_px / 2) * (to.distance_mm / focal_px);
    return { ...to, target: add(to.target, scale(frameAxes(to.direction)[0], -shift_mm)) };
  };
  // The tools of a turn stand out beyond the row.
  if (hand.among && hand.from === undefined) return aside(pivotStand(cornersOf(pivot, places), view, frame));
  const item = itemsOf(pivot).find(({ id }) => id === hand.id);
  const on = { ...pivot, stacks: [{ ...pivot.stacks[0]!, items: onItems(pivot, '', places).map((one) => one.item) }] };
  const own = item ? { ...pivot, stacks: [{ ...pivot.stacks[0]!, items: [item] }] } : on;
  const seat = { [hand.id]: { offset_mm: hand.seat_mm, isAway: false } };
  const near = [...cornersOf(own, places), ...cornersOf(own, seat)];
  const stand = pivotStand([...cornersOf(on, places), ...near], view, frame);
  if (!item) return stand;
  const size_mm = Math.max(2 * radiusOf(item), SEEN_LENGTH * (item.to_mm - item.from_mm));
  const most_mm = (size_mm * focal_px) / LEAST_HELD_px;
  if (stand.distance_mm <= most_mm) return aside(stand);
  // So near there is one name beside it: it needs less room than those of a row.
  const close = pivotStand(near, view, { ...frame, hasFewNames: true });
  return aside({ ...close, distance_mm: Math.max(most_mm, close.distance_mm) });
}

/** How much of the part, and of its seat, may stay covered. */
const COVERED = { part: 0.25, seat: 0.5 } as const;

/** The part in the hand as seen from a stand: what covers it, or its seat, is opened or faded. */
export function heldFrom(
  pivot: PivotAnalysis,
  hand: InHand,
  places: Readonly<Record<string, ItemPlace>>,
  { target, direction, distance_mm }: Stand,
): Held | undefined {
  const item = itemsOf(pivot).find(({ id }) => id === hand.id);
  if (!item) return undefined;
  const offset_mm = places[hand.id]?.offset_mm ?? hand.seat_mm;
  const eye = minus(add(target, scale(direction, distance_mm)), [pivot.x_mm, pivot.y_mm, 0]);
  const others = onItems(pivot, hand.id, places);
  const isWhole = new Set(others.flatMap(({ item: other }) => (isUncut(other) ? [other.id] : [])));
  const rays = coversOf(item, offset_mm, others, eye);
  const covers = rays.map(({ ids }) => ids);
  const cut = inTheWay(covers, COVERED.part, isWhole);
  const faded = inTheWay(
    covers.map((ids) => new Set([...ids].filter((id) => !cut.includes(id)))),
    COVERED.part,
  ).filter((id) => isWhole.has(id));
  // A cut takes the near half away alone: what still covers the part from behind the plane fades as a whole.
  const behind = inTheWay(
    rays.map(({ ids, at }) => {
      const isBehind = at[0] * direction[0] + at[1] * direction[1] < 0;
      return new Set(isBehind ? cut.filter((id) => ids.has(id)) : []);
    }),
    COVERED.part,
  );
  const around =
    hand.from === undefined
      ? []
      : inTheWay(
          coversOf(item, hand.seat_mm, others, eye).map(({ ids }) => ids),
          COVERED.seat,
          isWhole,
        );
  const opened = [...cut, ...around].filter((id) => !behind.includes(id));
  return { ...hand, item, offset_mm, opened: new Set(opened), faded: new Set([...faded, ...behind]) };
}

/** What must make way, the one that covers most first, until no more than `most` of the rays is covered. */
function inTheWay(
  covers: readonly ReadonlySet<string>[],
  most: number,
  stays: ReadonlySet<string> = new Set(),
): readonly string[] {
  const gone: string[] = [];
  for (;;) {
    const left = covers.map((ids) => [...ids].filter((id) => !gone.includes(id) && !stays.has(id)));
    const covered = left.filter((ids) => ids.length > 0);
    if (covered.length <= most * covers.length) return gone;
    const counts = new Map<string, number>();
    for (const id of covered.flat()) counts.set(id, (counts.get(id) ?? 0) + 1);
    gone.push([...counts].reduce((a, b) => (b[1] > a[1] ? b : a))[0]);
  }
}

interface Standing {
  readonly item: PlacedItem;
  readonly offset_mm: number;
}

function onItems(pivot: PivotAnalysis, but: string, places: Readonly<Record<string, ItemPlace>>): readonly Standing[] {
  return itemsOf(pivot).flatMap((item) => {
    const place = places[item.id];
    return item.id === but || place?.isAway === true ? [] : [{ item, offset_mm: place?.offset_mm ?? 0 }];
  });
}

/** Rays across a silhouette in each direction. */
const RAYS = 16;

/** For each ray that meets a part where it does, and what lies before it there, by id; `eye` from the pivot's axis. */
function coversOf(
  item: PlacedItem,
  offset_mm: number,
  others: readonly Standing[],
  eye: Point3,
): readonly { readonly ids: ReadonlySet<string>; readonly at: Point3 }[] {
  const middle: Point3 = [0, 0, (item.from_mm + item.to_mm) / 2 + offset_mm];
  const toEye = unit(minus(eye, middle));
  const [right, up] = frameAxes(toEye);
  const reach = Math.hypot(radiusOf(item), (item.to_mm - item.from_mm) / 2);
  const covers: { ids: ReadonlySet<string>; at: Point3 }[] = [];
  for (let i = 0; i < RAYS; i += 1) {
    for (let j = 0; j < RAYS; j += 1) {
      const [a, b] = [i, j].map((k) => ((k + 0.5) / RAYS - 0.5) * 2 * reach) as [number, number];
      const ray = unit(minus(add(middle, add(scale(right, a), scale(up, b))), eye));
      const own = nearest({ item, offset_mm }, eye, ray);
      if (own === Infinity) continue;
      const before = others.filter((other) => nearest(other, eye, ray) < own - NEAR_mm);
      covers.push({ ids: new Set(before.map((other) => other.item.id)), at: add(eye, scale(ray, own)) });
    }
  }
  return covers;
}

const NEAR_mm = 1e-3;

/** Distance at which a ray first meets a part, mm; infinite where it passes. */
function nearest({ item, offset_mm }: Standing, eye: Point3, ray: Point3): number {
  const from: Point3 = [eye[0], eye[1], eye[2] - offset_mm];
  return Math.min(...item.solids.map(({ polygon }) => meet(polygon, from, ray)));
}

/** Distance at which a ray first meets the solid that a profile sweeps out. */
function meet(polygon: Polygon, [ox, oy, oz]: Point3, ray: Point3): number {
  const [dx, dy, dz] = ray;
  let first = Infinity;
  polygon.forEach(([r0, z0], k) => {
    const [r1, z1] = polygon[(k + 1) % polygon.length]!;
    if (Math.abs(z1 - z0) < 1e-9) {
      const t = (z0 - oz) / dz;
      const r = Math.hypot(ox + t * dx, oy + t * dy);
      if (t > 0 && t < first && r >= Math.min(r0, r1) && r <= Math.max(r0, r1)) first = t;
      return;
    }
    // On the cone r = a + b z: x² + y² = (a + b z)², a quadratic in the distance.
    const b = (r1 - r0) / (z1 - z0);
    const base = r0 + b * (oz - z0);
    const two = dot([dx, dy, 0], [dx, dy, 0]) - (b * dz) ** 2;
    const one = ox * dx + oy * dy - base * b * dz;
    const root = one * one - two * (ox * ox + oy * oy - base * base);
    if (root < 0 || Math.abs(two) < 1e-12) return;
    for (const sign of [-1, 1]) {
      const t = (-one + sign * Math.sqrt(root)) / two;
      const z = oz + t * dz;
      if (t > 0 && t < first && z >= Math.min(z0, z1) && z <= Math.max(z0, z1) && base + b * t * dz >= 0) first = t;
    }
  });
  return first;
}
