/**
 * Names of a row of parts in two rails, one over the row and one under it, as steady as the picture itself.
 *
 * Which rail and which line of it a name stands in follows from the part's place in the row and from the room there is,
 * never from where the eye is; only along its rail does a name move, as near to its part as its neighbours allow, and
 * that changes without a leap as one goes round. Where one line has no room for all, names stand in steps, each leader
 * to the left of the names under it. A leader leaves its part square to the axis until it is clear of the row: it
 * crosses no other part. Pixels, y down; a pure function.
 */
import { isWide } from './fit.ts';
import {
  BETWEEN_px,
  EDGE_px,
  overlaps,
  placeLabels,
  RIM,
  type Box,
  type LabelField,
  type LabelPlace,
  type LabelWish,
} from './layout.ts';

type Point = readonly [x: number, y: number];

/** Share of the picture's height that one rail may take, lines of a rail at most, and room between two names. */
const SHARE = 0.24;
const MOST_LINES = 3;
const APART_px = 8;
/** How far a step stands in from the one over it. */
const STEP_px = 11;
/** Clear of the row: from there a leader turns to its name. */
const CLEAR_px = 9;
/** A leader that would run flatter than this goes straight up instead. */
const STEEPEST = 0.5;
/** Least slope of a leader's run along the rail. */
const FLATTEST = 0.12;
/** A lower picture has no rails, px. */
const LEAST_px = 200;

/** A name, and where along the rail its leader would come to it unbent. */
interface Named {
  readonly wish: LabelWish;
  readonly aim: number;
}

/** Names of one rail that stand in steps over one another. */
interface Group {
  readonly named: readonly Named[];
  readonly width: number;
  /** Where its left edge would like to be. */
  readonly wanted: number;
}

interface Rail {
  /** Square to the axis, toward the rail. */
  readonly n: Point;
  readonly reach: number;
  readonly side: 1 | -1;
  readonly lines: number;
  /** Where its last line ends, toward the row. */
  readonly edge: number;
}

/**
 * Places the names of a row in a picture of this aspect: in rails; on a narrow picture, where the row runs down it, and
 * on a low one, which has no height to spare, wherever there is room.
 */
export function placeNames(wishes: readonly LabelWish[], field: LabelField, aspect: number): LabelPlace[] {
  return isWide(aspect) && field.height >= LEAST_px ? placeInRails(wishes, field) : placeLabels(wishes, field);
}

/** Names for which there is no room are missing. */
function placeInRails(wishes: readonly LabelWish[], field: LabelField): LabelPlace[] {
  if (wishes.length === 0) return [];
  const length = Math.hypot(...field.axis) || 1;
  const u: Point = [field.axis[0] / length, field.axis[1] / length];
  const along = ({ x, y }: LabelWish): number => x * u[0] + y * u[1];
  const reach = Math.max(...wishes.map(({ r }) => r));
  const line = [...wishes].sort((a, b) => (a.rank ?? along(a)) - (b.rank ?? along(b)) || a.id.localeCompare(b.id));
  // The row is read from left to right on the screen, whichever way it runs there.
  const isReversed = line.length > 1 && line.at(-1)!.x < line[0]!.x;
  const height = Math.max(...wishes.map((wish) => wish.height));
  const step = height + BETWEEN_px;
  const most = Math.max(1, Math.min(MOST_LINES, Math.floor((SHARE * field.height) / step)));
  return ([-1, 1] as const).flatMap((side) => {
    const own = line.filter((_, k) => (k % 2 === 0) === side < 0);
    const band = side < 0 ? [0, most * step] : [field.height - most * step, field.height];
    const span = freeSpan(field, band as [number, number]);
    const { lines, kept } = linesFor(own, most, span[1] - span[0]);
    const edge = side < 0 ? EDGE_px + lines * step : field.height - EDGE_px - lines * step;
    // Square to the axis, toward the rail.
    const turn = u[0] >= 0 ? side : -side;
    const rail: Rail = { n: [-u[1] * turn, u[0] * turn], reach, side, lines, edge };
    const ordered = (isReversed ? [...kept].reverse() : kept).map((wish) => ({ wish, aim: aimOf(wish, rail) }));
    const groups = groupsOf(ordered, lines);
    const lefts = spread(groups, span);
    return groups.flatMap((group, g) =>
      group.named.map(({ wish, aim }, k): LabelPlace => {
        // Over the row the first of a group stands highest, under it lowest: its leader passes the others on the left.
        const row = lines === 1 ? 0 : k;
        const top = side < 0 ? EDGE_px + row * step : field.height - EDGE_px - wish.height - row * step;
        const left = lefts[g]! + k * STEP_px;
        const box = { left, top, width: wish.width, height: wish.height };
        return { id: wish.id, ...box, ...leaderOf(wish, aim, box, rail) };
      }),
    );
  });
}

/** What of a rail is free: whatever else stands in its band takes it from the nearer end. */
function freeSpan({ width, taken }: LabelField, [top, bottom]: readonly [number, number]): [number, number] {
  let [low, high] = [EDGE_px, width - EDGE_px];
  const band = { left: 0, top, width, height: bottom - top };
  for (const box of taken) {
    if (!overlaps(box, band, 0)) continue;
    if (box.left + box.width / 2 < width / 2) low = Math.max(low, box.left + box.width + APART_px);
    else high = Math.min(high, box.left - APART_px);
  }
  return [low, Math.max(low, high)];
}

/** How many lines a rail needs, and whose names it has room for: those that must be seen before the others. */
function linesFor(
  own: readonly LabelWish[],
  most: number,
  room: number,
): { readonly lines: number; readonly kept: readonly LabelWish[] } {
  const needs = (some: readonly LabelWish[], lines: number): number =>
    groupsOf(
      some.map((wish) => ({ wish, aim: 0 })),
      lines,
    ).reduce((sum, { width }) => sum + width + APART_px, -APART_px);
  for (let lines = 1; lines <= most; lines += 1) if (needs(own, lines) <= room) return { lines, kept: own };
  const kept = [...own];
  // The widest goes first: it makes the most room.
  const order = [...own].sort(
    (a, b) => Number(a.isFirst) - Number(b.isFirst) || b.width - a.width || a.id.localeCompare(b.id),
  );
  for (const wish of order) {
    if (kept.length === 0 || needs(kept, most) <= room) break;
    kept.splice(kept.indexOf(wish), 1);
  }
  return { lines: most, kept };
}

function groupsOf(own: readonly Named[], lines: number): Group[] {
  const groups: Group[] = [];
  for (let k = 0; k < own.length; k += lines) {
    const named = own.slice(k, k + lines);
    const width = Math.max(...named.map(({ wish }, row) => row * STEP_px + wish.width));
    const wanted =
      lines === 1
        ? named[0]!.aim - width / 2
        : named.reduce((sum, { aim }, row) => sum + aim - row * STEP_px, 0) / named.length - STEP_px / 2;
    groups.push({ named, width, wanted });
  }
  return groups;
}

/** Where a leader square to the axis meets the rail. */
function aimOf({ x, y }: LabelWish, { n, side, edge }: Rail): number {
  return Math.abs(n[1]) < STEEPEST ? x : x + (n[0] * Math.max(0, side * (edge - y))) / Math.abs(n[1]);
}

/**
 * Left edges in order, none over another, as near to where they would like to be as can be (least squares: neighbours
 * that would overlap are pooled).
 */
function spread(groups: readonly Group[], [low, high]: readonly [number, number]): number[] {
  const before: number[] = [];
  let sum = 0;
  for (const { width } of groups) {
    before.push(sum);
    sum += width + APART_px;
  }
  const pools: { at: number; count: number }[] = [];
  groups.forEach(({ wanted }, k) => {
    pools.push({ at: wanted - before[k]!, count: 1 });
    for (let last = pools.length - 1; last > 0 && pools[last - 1]!.at > pools[last]!.at; last -= 1) {
      const [a, b] = [pools[last - 1]!, pools[last]!];
      pools.splice(last - 1, 2, {
        at: (a.at * a.count + b.at * b.count) / (a.count + b.count),
        count: a.count + b.count,
      });
    }
  });
  const most = high - (sum - APART_px);
  return pools
    .flatMap(({ at, count }) => Array.from({ length: count }, () => Math.max(low, Math.min(most, at))))
    .map((at, k) => at + before[k]!);
}

/** From the name past the other names of its group, to the row's edge, and from there square to the axis to the part. */
function leaderOf(
  wish: LabelWish,
  aim: number,
  box: Box,
  { n, reach, side, lines, edge }: Rail,
): Pick<LabelPlace, 'from' | 'via' | 'to'> {
  const inset = Math.min(10, box.width / 2);
  const x =
    lines === 1 ? Math.max(box.left + inset, Math.min(box.left + box.width - inset, aim)) : box.left + STEP_px / 2;
  const from: Point = [x, side < 0 ? box.top + box.height : box.top];
  const to: Point = [wish.x + n[0] * wish.r * RIM, wish.y + n[1] * wish.r * RIM];
  const out: Point = [wish.x + n[0] * (reach + CLEAR_px), wish.y + n[1] * (reach + CLEAR_px)];
  const bend: Point = [x, edge];
  // Where the row comes up to the rail there is no room to turn in: a run along the rail would say nothing.
  const isClear = -side * (out[1] - edge) > FLATTEST * Math.abs(out[0] - x);
  return { from, via: isClear ? [bend, out] : [bend], to };
}
