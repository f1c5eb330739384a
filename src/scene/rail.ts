/**
 * Names of a row of parts in two rails, one over the row and one under it, as steady as the picture itself.
 *
 * Which rail and which line of it a name stands in follows from the part's place in the row and from the room there is,
 * never from where the eye is; only along its rail does a name move, as near to its part as its neighbours allow, and
 * that changes without a leap as one goes round. Names that would crowd one line stand
 * in turn in two or three, and the leaders of the outer ones pass between the names before them. A leader runs square
 * to the axis, and straight to its name where there is room: it crosses no other part. Pixels, y down; a pure function.
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
import { canSpread, spread, type Apart } from './spread.ts';

type Point = readonly [x: number, y: number];

/** Share of the picture's height that one rail may take, lines of a rail at most, and room between two names. */
const SHARE = 0.24;
const MOST_LINES = 3;
const APART_px = 8;
/** Share of a line that names may fill before they crowd one another away from their parts. */
const LOOSE = 0.7;
/** A rail no deeper than this is clear of the row from any view, px: names that crowd a line get another one. */
const CLEAR_DEPTH_px = 64;
/** Between a leader and the names it passes, and the next leader. */
const PASS_px = 4;
const BESIDE_px = 8;
/** How near to the end of its name a leader may come. */
const INSET_px = 10;
/** How far a leader may lean on its way through a rail, px a px. */
const LEAN = 0.3;
/** What a name's stand off its leader counts for, beside 1 for a leader that bends. */
const NAME_WEIGHT = 0.1;
/** Clear of the row: from there a leader turns to its name. */
const CLEAR_px = 9;
/** A leader that would run flatter than this goes straight up instead. */
const STEEPEST = 0.5;
/** Least slope of a leader's run along the rail. */
const FLATTEST = 0.12;
/** A lower picture has no rails, px. */
const LEAST_px = 200;

/** A line of a rail: where it stands, how far out of the rail's inner edge, and what of it is free. */
interface Line {
  readonly top: number;
  readonly out: number;
  readonly span: readonly [low: number, high: number];
}

interface Rail {
  /** Square to the axis, toward the rail. */
  readonly n: Point;
  readonly reach: number;
  readonly side: 1 | -1;
  /** Next to the row first. */
  readonly lines: readonly Line[];
  readonly height: number;
  /** From the border of the picture to its inner edge. */
  readonly depth: number;
  /** Where its first line begins, toward the row. */
  readonly edge: number;
  /** How far a leader leans to the right for each px outward. */
  readonly lean: number;
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
  const row = [...wishes].sort((a, b) => (a.rank ?? along(a)) - (b.rank ?? along(b)) || a.id.localeCompare(b.id));
  // The row is read from left to right on the screen, whichever way it runs there.
  const isReversed = row.length > 1 && row.at(-1)!.x < row[0]!.x;
  const height = Math.max(...wishes.map((wish) => wish.height));
  const step = height + BETWEEN_px;
  const most = Math.max(1, Math.min(MOST_LINES, Math.floor((SHARE * field.height) / step)));
  return ([-1, 1] as const).flatMap((side) => {
    // Square to the axis, toward the rail.
    const turn = u[0] >= 0 ? side : -side;
    const n: Point = [-u[1] * turn, u[0] * turn];
    const lean = Math.abs(n[1]) < STEEPEST ? 0 : Math.max(-LEAN, Math.min(LEAN, n[0] / Math.abs(n[1])));
    const railOf = (count: number): Rail => {
      const inner = EDGE_px + count * step - BETWEEN_px;
      const lines = Array.from({ length: count }, (_, k): Line => {
        const top = side < 0 ? inner - height - k * step : field.height - inner + k * step;
        return { top, out: k * step, span: freeSpan(field, [top, top + height]) };
      });
      const edge = side < 0 ? inner : field.height - inner;
      return { n, reach, side, lines, height, depth: inner, edge, lean };
    };
    const own = row.filter((_, k) => (k % 2 === 0) === side < 0);
    const { rail, kept } = railFor(
      isReversed ? own.reverse() : own,
      Array.from({ length: most }, (_, k) => railOf(k + 1)),
    );
    return placeInRail(kept, rail);
  });
}

/** What of a line is free: whatever else stands in its band takes it from the nearer end. */
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

/** The rail of the fewest lines, and whose names it has room for: those that must be seen before the others. */
function railFor(
  own: readonly LabelWish[],
  rails: readonly Rail[],
): { readonly rail: Rail; readonly kept: readonly LabelWish[] } {
  const fits = (some: readonly LabelWish[], rail: Rail): boolean =>
    canSpread(2 * some.length, apartsOf(some, { ...rail, lean: 0 }));
  const [first, ...more] = rails as [Rail, ...Rail[]];
  const [low, high] = first.lines[0]!.span;
  const filled = own.reduce((sum, { width }) => sum + width + APART_px, -APART_px);
  const isCrowded = filled > LOOSE * (high - low);
  const airy = isCrowded ? more.filter(({ depth }) => depth <= CLEAR_DEPTH_px) : [];
  for (const rail of [...airy, first, ...more]) if (fits(own, rail)) return { rail, kept: own };
  const rail = rails.at(-1)!;
  const kept = [...own];
  // The widest goes first: it makes the most room.
  const order = [...own].sort(
    (a, b) => Number(a.isFirst) - Number(b.isFirst) || b.width - a.width || a.id.localeCompare(b.id),
  );
  for (const wish of order) {
    if (fits(kept, rail)) break;
    kept.splice(kept.indexOf(wish), 1);
  }
  return { rail, kept };
}

/**
 * What keeps the names of a rail and their leaders apart. The first numbers are where the leaders cross the rail's inner
 * edge, the others the left edges of the names.
 */
function apartsOf(own: readonly LabelWish[], { lines, height, lean }: Rail): Apart[] {
  const count = lines.length;
  const aparts: Apart[] = [];
  const left = (k: number): number => own.length + k;
  const pass = PASS_px + (LEAN * height) / 2;
  own.forEach((wish, k) => {
    const { out, span } = lines[k % count]!;
    const inset = Math.min(INSET_px, wish.width / 2);
    aparts.push({ to: left(k), by: span[0] }, { from: left(k), by: wish.width - span[1] });
    aparts.push({ from: left(k), to: k, by: inset - lean * out });
    aparts.push({ from: k, to: left(k), by: lean * out + inset - wish.width });
    if (k > 0) aparts.push({ from: k - 1, to: k, by: BESIDE_px });
    if (k >= count) aparts.push({ from: left(k - count), to: left(k), by: own[k - count]!.width + APART_px });
    // Past the names of every line nearer to the row, on either side.
    for (let line = 0; line < k % count; line += 1) {
      const before = k - (k % count) + line;
      const after = before + count;
      const shift = lean * (lines[line]!.out + height / 2);
      aparts.push({ from: left(before), to: k, by: own[before]!.width + pass - shift });
      if (after < own.length) aparts.push({ from: k, to: left(after), by: pass + shift });
    }
  });
  return aparts;
}

function placeInRail(own: readonly LabelWish[], rail: Rail): LabelPlace[] {
  const { lines, lean, side } = rail;
  const aims = own.map((wish) => aimOf(wish, rail));
  const solved = spread(
    [
      ...aims.map((at) => ({ at, weight: 1 })),
      ...own.map(({ width }, k) => ({
        at: aims[k]! + lean * lines[k % lines.length]!.out - width / 2,
        weight: NAME_WEIGHT,
      })),
    ],
    apartsOf(own, rail),
  );
  const lefts = inOrder(own, solved.slice(own.length), lines);
  return own.map((wish, k): LabelPlace => {
    const { top, out } = lines[k % lines.length]!;
    const box = { left: lefts[k]!, top: side < 0 ? top + rail.height - wish.height : top };
    const name: Box = { ...box, width: wish.width, height: wish.height };
    return { id: wish.id, ...name, ...leaderOf(wish, solved[k]!, lean * out, name, rail) };
  });
}

/** The same left edges, with what the sweeps have left of one name over another taken out. */
function inOrder(own: readonly LabelWish[], lefts: readonly number[], lines: readonly Line[]): number[] {
  const count = lines.length;
  const mended = [...lefts];
  for (let k = 0; k < own.length; k += 1) {
    const before = k < count ? lines[k]!.span[0] : mended[k - count]! + own[k - count]!.width + APART_px;
    mended[k] = Math.max(mended[k]!, before);
  }
  for (let k = own.length - 1; k >= 0; k -= 1) {
    const after = k + count < own.length ? mended[k + count]! - APART_px : lines[k % count]!.span[1];
    mended[k] = Math.min(mended[k]!, after - own[k]!.width);
  }
  return mended;
}

/** Where a leader square to the axis meets the rail. */
function aimOf({ x, y }: LabelWish, { n, side, edge }: Rail): number {
  return Math.abs(n[1]) < STEEPEST ? x : x + (n[0] * Math.max(0, side * (edge - y))) / Math.abs(n[1]);
}

/** From the name past the names before it, to the row's edge, and from there square to the axis to the part. */
function leaderOf(
  wish: LabelWish,
  x: number,
  shift: number,
  box: Box,
  { n, reach, side, edge }: Rail,
): Pick<LabelPlace, 'from' | 'via' | 'to'> {
  const from: Point = [x + shift, side < 0 ? box.top + box.height : box.top];
  const to: Point = [wish.x + n[0] * wish.r * RIM, wish.y + n[1] * wish.r * RIM];
  const out: Point = [wish.x + n[0] * (reach + CLEAR_px), wish.y + n[1] * (reach + CLEAR_px)];
  const bend: Point = [x, edge];
  // Where the row comes up to the rail there is no room to turn in: a run along the rail would say nothing.
  const isClear = -side * (out[1] - edge) > FLATTEST * Math.abs(out[0] - x);
  return { from, via: isClear ? [bend, out] : [bend], to };
}
