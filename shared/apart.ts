/**
 * Apart along the axis as it is seen: gaps that keep every part's strip of the picture to itself.
 *
 * Seen under an angle a ring is an ellipse that leans over its neighbours; the steeper the sight, the wider a gap must
 * be. A plane through the eye, square to the plane of eye and axis, parts the picture in two along the axis. A ring of
 * radius r lies on one side of it exactly when its two points nearest to and farthest from the eye do, so each gap is
 * found in that plane in closed form. Offsets grow in proportion to the apart-ness: what is hidden when tight only ever
 * comes out. One side alone may be pulled: then what stands in the middle stays, and so does an axle that came from the
 * other side. `spread` is the plain way, for a drawing seen square to the axle: one free gap between every two
 * neighbours, centred on the row. Offsets in mm, + to the drive side; a pure function of its arguments.
 */
import type { Side } from './model/schema.ts';
import type { Corner, PivotAnalysis, PlacedItem, StackAnalysis } from './types.ts';

/** Where the eye is, seen from a pivot's axis. */
export interface Eye {
  /** Distance from the axis, mm. */
  readonly away_mm: number;
  /** Place along the axis, mm. */
  readonly along_mm: number;
}

/** What is pulled apart. */
export type ApartOf = 'both' | Side;

/** Clear space between two silhouettes, mm along the axis. */
const CLEAR_mm = 5;
const ROUNDS = 8;

/**
 * Offset of every item of a pivot at full apart-ness, mm along the axle, + to the drive side, keyed by scene id;
 * elsewhere it grows in proportion. O(items²). Never throws.
 */
export function layApart(pivot: PivotAnalysis, eye: Eye, of: ApartOf = 'both'): Record<string, number> {
  const offsets: Record<string, number> = {};
  const single = pivot.stacks.length < 2;
  const byPlace = [...pivot.stacks].sort((a, b) => middleOf(a) - middleOf(b));
  byPlace.forEach((stack, rank) => {
    const outward: Side = rank < byPlace.length / 2 ? 'non-drive' : 'drive';
    if (!single && of !== 'both' && of !== outward) for (const item of stack.items) offsets[item.id] = 0;
    else if (single && of === 'both') Object.assign(offsets, bothWays(stack, eye));
    else
      Object.assign(
        offsets,
        oneWay(stack, eye, single ? (of as Side) : outward, single, byPlace.slice(0, rank).flatMap(innermost)),
      );
  });
  return offsets;
}

/** A row laid out in axle order, then put back on its own middle. */
function bothWays(stack: StackAnalysis, eye: Eye): Record<string, number> {
  const line = inAxleOrder(stack);
  const row = line.filter((item) => item.role !== 'axle');
  const [first, last] = [row[0], row.at(-1)];
  if (!first || !last) return {};
  const home = (first.from_mm + last.to_mm) / 2;
  let shift = 0;
  let at = new Map<PlacedItem, number>();
  for (let round = 0; round < ROUNDS; round += 1) {
    // The row is laid where it will stand once it is back on its middle: the eye moves the other way instead.
    at = layLine(line, 1, { ...eye, along_mm: eye.along_mm - shift }, 0);
    shift = home - (first.from_mm + at.get(first)! + last.to_mm + at.get(last)!) / 2;
  }
  return Object.fromEntries(line.map((item) => [item.id, at.get(item)! + shift]));
}

/** What lies on one side of the middle laid out from what stays, and clear of what stands `beside` it at home. */
function oneWay(
  stack: StackAnalysis,
  eye: Eye,
  side: Side,
  keepsMiddle: boolean,
  beside: readonly PlacedItem[],
): Record<string, number> {
  const sign = side === 'drive' ? 1 : -1;
  const axles = stack.items.filter((item) => item.role === 'axle');
  const row = stack.items.filter((item) => item.role !== 'axle');
  const middle = middleOf(stack);
  const isMoving = (item: PlacedItem): boolean => !keepsMiddle || sign * (placeOf(item) - middle) > 0.5;
  const still = row.filter((item) => !isMoving(item));
  const moving = row.filter(isMoving);
  const ordered = [...(sign > 0 ? moving : moving.reverse()), ...(stack.from === side ? axles : [])];
  // Of a stack of its own the innermost part is what the others leave.
  const anchor = still.length > 0 ? still : ordered.slice(0, 1);
  const chain = still.length > 0 ? ordered : ordered.slice(1);
  const start = Math.max(-Infinity, ...beside.map((item) => farEdge(item, sign, eye, 0)));
  const at = layLine([...anchor, ...chain], sign, eye, anchor.length, start);
  return Object.fromEntries(stack.items.map((item) => [item.id, at.get(item) ?? 0]));
}

/**
 * Offsets of the items of a line, each after the one before it in direction `sign`, the first after the sight line of
 * slope `start`, if any, or at home. The next ones up to `fixed` stay home.
 */
function layLine(
  line: readonly PlacedItem[],
  sign: 1 | -1,
  eye: Eye,
  fixed: number,
  start = -Infinity,
): Map<PlacedItem, number> {
  const at = new Map<PlacedItem, number>();
  let edge = start;
  line.forEach((item, k) => {
    const offset = k > 0 && k < fixed ? 0 : Math.max(0, clearance(item, sign, eye, edge));
    at.set(item, sign * offset);
    edge = Math.max(edge, farEdge(item, sign, eye, offset));
  });
  return at;
}

/** How far an item must move in direction `sign` until all of it lies beyond a sight line of slope `edge`, mm. */
function clearance(item: PlacedItem, sign: 1 | -1, { away_mm, along_mm }: Eye, edge: number): number {
  let offset = -Infinity;
  for (const [r, z] of rim(item)) offset = Math.max(offset, edge * (away_mm - r) - sign * (z - along_mm));
  return offset + CLEAR_mm;
}

/** Slope of the sight line along the end of an item that lies in direction `sign`. */
function farEdge(item: PlacedItem, sign: 1 | -1, { away_mm, along_mm }: Eye, offset_mm: number): number {
  return Math.max(...rim(item).map(([r, z]) => (sign * (z - along_mm) + offset_mm) / (away_mm - r)));
}

/** The corners of an item in the plane of eye and axis, on the eye's side (r > 0) and beyond the axis; mm. */
function rim(item: PlacedItem): Corner[] {
  const corners = item.solids.flatMap(({ polygon }) =>
    polygon.flatMap(([r, z]): Corner[] => [
      [r, z],
      [-r, z],
    ]),
  );
  return corners.length > 0
    ? corners
    : [
        [0, item.from_mm],
        [0, item.to_mm],
      ];
}

/** The part of a stack that stands nearest to its other stack, where the first stack lies to the non-drive side. */
function innermost(stack: StackAnalysis): PlacedItem[] {
  return stack.items.filter((item) => item.role !== 'axle').slice(-1);
}

function placeOf(item: PlacedItem): number {
  return (item.from_mm + item.to_mm) / 2;
}

function middleOf(stack: StackAnalysis): number {
  const row = stack.items.filter((item) => item.role !== 'axle');
  const ends = (row.length > 0 ? row : stack.items).flatMap((item) => [item.from_mm, item.to_mm]);
  return ends.length === 0 ? 0 : (Math.min(...ends) + Math.max(...ends)) / 2;
}

/** Free gap between neighbours at apart-ness 1 unless told otherwise, mm. */
export const SPREAD_GAP_mm = 12;

/**
 * Offset of every item of `stack` from its tight place at `apart` (0 to 1), mm, + to the drive side, keyed by scene id.
 * O(items).
 */
export function spread(stack: StackAnalysis, apart: number, gap_mm: number = SPREAD_GAP_mm): Record<string, number> {
  const line = inAxleOrder(stack);
  const ends: number[] = [];
  let reach = 0;
  line.forEach((item, k) => {
    ends.push(k === 0 ? 0 : reach + gap_mm);
    reach = ends[k]! + (item.to_mm - item.from_mm);
  });
  const row = line.map((item, k) => ({ item, k })).filter(({ item }) => item.role !== 'axle');
  const first = row[0];
  const last = row[row.length - 1];
  if (!first || !last) return {};
  const apartMiddle = (ends[first.k]! + ends[last.k]! + (last.item.to_mm - last.item.from_mm)) / 2;
  const homeMiddle = (first.item.from_mm + last.item.to_mm) / 2;
  const offsets: Record<string, number> = {};
  line.forEach((item, k) => {
    offsets[item.id] = apart * (ends[k]! - apartMiddle + homeMiddle - item.from_mm);
  });
  return offsets;
}

/** The items from the non-drive to the drive end, the axle outside the row on the side it goes in from. */
export function inAxleOrder(stack: StackAnalysis): readonly PlacedItem[] {
  const axle = stack.items.filter((item) => item.role === 'axle');
  const rest = stack.items.filter((item) => item.role !== 'axle');
  return stack.from === 'non-drive' ? [...axle, ...rest] : [...rest, ...axle];
}

/**
 * Offsets of all items of a pivot at `apart` (0 to 1), mm, + to the drive side: one stack spreads about its middle,
 * several spread outward from the inner ends. O(items).
 */
export function spreadPivot(pivot: PivotAnalysis, apart: number): Record<string, number> {
  const offsets: Record<string, number> = {};
  const single = pivot.stacks.length < 2;
  const byPlace = [...pivot.stacks].sort((a, b) => middleOf(a) - middleOf(b));
  byPlace.forEach((stack, rank) => {
    const own = spread(stack, apart);
    const outward = rank < byPlace.length / 2 ? -1 : 1;
    const shift = single ? 0 : -innerMove_mm(stack, own, outward);
    for (const item of stack.items) offsets[item.id] = (own[item.id] ?? 0) + shift;
  });
  return offsets;
}

/** How far the end of a stack that looks to the bike's middle has been moved by its own spread, mm. */
function innerMove_mm(stack: StackAnalysis, offsets: Readonly<Record<string, number>>, outward: number): number {
  let home = Infinity;
  let moved = Infinity;
  for (const item of stack.items) {
    const offset = offsets[item.id] ?? 0;
    const inner = outward > 0 ? item.from_mm : -item.to_mm;
    home = Math.min(home, inner);
    moved = Math.min(moved, inner + outward * offset);
  }
  return Number.isFinite(home) ? outward * (moved - home) : 0;
}
