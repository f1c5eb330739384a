/**
 * Places for labels: boxes near what they name, none over another, all within the picture.
 *
 * Parts of one pivot lie in a row on the screen, each in a strip of its own across the axis. A leader line leaves its
 * part square to the axis, so that it stays in that strip: it crosses no other part and no other line. Boxes stand at
 * the ends of the lines, above and below the row (beside it, where the row runs upright), clear of parts, boxes and
 * lines. Greedy; where a name finds no room, other orders are tried and the best one is taken. Pixels, y down; a pure
 * function.
 */

/** A label to be placed: where its part is on the screen and how big the box is; px. */
export interface LabelWish {
  readonly id: string;
  readonly x: number;
  readonly y: number;
  /** How far the part reaches round its middle on the screen, across the axis. */
  readonly r: number;
  /** The same along the axis; as far as across it when absent. */
  readonly half?: number;
  readonly width: number;
  readonly height: number;
  /** Placed first, and never left out. */
  readonly isFirst: boolean;
  /** Place in the row, whichever way the row lies on the screen. */
  readonly rank?: number;
  /** What is named, where its name must not lie. */
  readonly hardware?: Box;
}

/** A box of the picture, px. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** A placed label and its leader line. */
export interface LabelPlace extends Box {
  readonly id: string;
  readonly from: readonly [x: number, y: number];
  /** Where it bends on the way. */
  readonly via?: readonly (readonly [x: number, y: number])[];
  readonly to: readonly [x: number, y: number];
}

/** The picture labels are placed in, px; `axis` is the direction of the row on the screen, of any length. */
export interface LabelField {
  readonly width: number;
  readonly height: number;
  readonly axis: readonly [x: number, y: number];
  readonly taken: readonly Box[];
}

const GAP_px = 13;
export const BETWEEN_px = 4;
export const EDGE_px = 6;
const TIERS = 9;
/** Clear space between a line and what it may not touch, px. */
const LINE_px = 3;
/** What lying over a part counts for, px. */
const OVER_PARTS_px = 200;
/** Where along its near edge a box may hang on its line: the middle first. */
const HANGS = [0.5, 0.3, 0.7, 0.1, 0.9] as const;
/** From this share of the axis that runs upward on the screen, names stand beside the row. */
const UPRIGHT = 0.8;
/** Share of its reach at which a line ends within its part. */
export const RIM = 0.82;

type Point = readonly [x: number, y: number];

/** A part on the screen: a rectangle that lies along the axis. */
interface Part {
  readonly wish: LabelWish;
  readonly half: number;
}

interface Row {
  readonly field: LabelField;
  /** Along the axis, and square to it. */
  readonly u: Point;
  readonly n: Point;
  readonly parts: readonly Part[];
  /** Largest reach of a part across the axis. */
  readonly reach: number;
  /** Places for a label within the picture and clear of the parts, the best first. */
  readonly tries: (wish: LabelWish, preferred: 1 | -1) => readonly LabelPlace[];
}

/** Places the labels of a row of parts. Labels for which no room is left are missing from the result. */
export function placeLabels(wishes: readonly LabelWish[], field: LabelField): LabelPlace[] {
  const length = Math.hypot(...field.axis);
  const u: Point = length < 1e-6 ? [1, 0] : [field.axis[0] / length, field.axis[1] / length];
  const along = (wish: LabelWish): number => wish.x * u[0] + wish.y * u[1];
  const line = [...wishes].sort((a, b) => along(a) - along(b) || a.id.localeCompare(b.id));
  const known = new Map<string, readonly LabelPlace[]>();
  const row: Row = {
    tries: (wish, preferred) => {
      const key = `${preferred} ${wish.id}`;
      let tries = known.get(key);
      if (!tries) known.set(key, (tries = triesFor(wish, row, preferred)));
      return tries;
    },
    field,
    u,
    n: [-u[1], u[0]],
    parts: line.map((wish) => ({ wish, half: wish.half ?? wish.r })),
    reach: Math.max(0, ...line.map((wish) => wish.r)),
  };
  let best: readonly LabelPlace[] = [];
  for (const order of [line, [...line].reverse(), fromMiddle(line)]) {
    for (const parity of [0, 1]) {
      const placed = placeInOrder(order, row, parity);
      if (placed.length > best.length || best.length === 0) best = placed;
      if (best.length === line.length) return withForced(best, line, row);
    }
  }
  return withForced(best, line, row);
}

/** The outermost parts last: they have the border's room. */
function fromMiddle(line: readonly LabelWish[]): LabelWish[] {
  const middle = (line.length - 1) / 2;
  return line
    .map((wish, k) => ({ wish, k }))
    .sort((a, b) => Math.abs(a.k - middle) - Math.abs(b.k - middle) || a.k - b.k)
    .map(({ wish }) => wish);
}

/** Labels placed one after the other, those that must be seen first; sides alternate along the row. */
function placeInOrder(order: readonly LabelWish[], row: Row, parity: number): LabelPlace[] {
  const side = new Map(row.parts.map(({ wish }, k) => [wish.id, (k + parity) % 2 === 0 ? -1 : 1] as const));
  const placed: LabelPlace[] = [];
  for (const wish of [...order.filter(({ isFirst }) => isFirst), ...order.filter(({ isFirst }) => !isFirst)]) {
    const tries = row.tries(wish, side.get(wish.id) ?? 1);
    const free = tries.filter((one) => isFree(one, placed, row));
    // Of parts that stand close together a line may have to cross a neighbour; it does so where nothing else is left.
    const place = free.find((one) => !crossesPart(one, wish, row)) ?? free[0];
    if (place) placed.push(place);
  }
  return placed;
}

/** A label that must be seen is put where there is room, wherever that is. */
function withForced(placed: readonly LabelPlace[], line: readonly LabelWish[], row: Row): LabelPlace[] {
  const all = [...placed];
  const isFirst = (id: string): boolean => line.some((wish) => wish.id === id && wish.isFirst);
  for (const wish of line) {
    if (!wish.isFirst || all.some(({ id }) => id === wish.id)) continue;
    const { taken } = row.field;
    const firsts = all.filter(({ id }) => isFirst(id));
    const box = scan(wish, [...taken, ...all], row) ?? scan(wish, [...taken, ...firsts], row) ?? scan(wish, taken, row);
    if (!box) continue;
    // What only may be seen gives way.
    for (let k = all.length - 1; k >= 0; k -= 1) if (overlaps(all[k]!, box) && !isFirst(all[k]!.id)) all.splice(k, 1);
    all.push({ id: wish.id, ...box, ...leader(wish, box) });
  }
  return all;
}

/** Places at the ends of lines square to the axis, the nearest first, on the preferred side first. */
function triesFor(wish: LabelWish, row: Row, preferred: 1 | -1): LabelPlace[] {
  const { u, n, reach, field } = row;
  const isUpright = Math.abs(u[1]) > UPRIGHT;
  const { x, y, r, width, height } = wish;
  const step = isUpright ? 26 : height + BETWEEN_px + 1;
  const distances = [r + GAP_px, ...Array.from({ length: TIERS }, (_, tier) => reach + GAP_px + tier * step)];
  const places: (LabelPlace & { readonly cost: number })[] = [];
  for (const side of [preferred, -preferred]) {
    for (const distance of distances) {
      const to: Point = [x + side * n[0] * r * RIM, y + side * n[1] * r * RIM];
      const from: Point = [x + side * n[0] * distance, y + side * n[1] * distance];
      for (const hang of HANGS) {
        const box = isUpright
          ? { left: side * n[0] > 0 ? from[0] : from[0] - width, top: from[1] - hang * height }
          : { left: from[0] - hang * width, top: side * n[1] > 0 ? from[1] : from[1] - height };
        const place = { id: wish.id, ...box, width, height, from, to };
        if (!isInside(place, field) || row.parts.some((part) => liesOn(place, part, row))) continue;
        const cost = distance + (side === preferred ? 0 : step * 1.5) + Math.abs(hang - 0.5) * 14;
        places.push({ ...place, cost });
      }
    }
  }
  return places.sort((a, b) => a.cost - b.cost).map(({ cost: _, ...place }) => place);
}

function isFree(place: LabelPlace, placed: readonly LabelPlace[], row: Row): boolean {
  for (const other of row.field.taken) if (overlaps(place, other) || crosses(place.from, place.to, other)) return false;
  for (const other of placed) {
    if (
      overlaps(place, other) ||
      crosses(place.from, place.to, other) ||
      crosses(other.from, other.to, place) ||
      meet(place, other)
    )
      return false;
  }
  return true;
}

/** Whether a box lies over a part: two rectangles, one upright, one along the axis. */
function liesOn(box: Box, { wish, half }: Part, { u, n }: Row): boolean {
  const middle: Point = [box.left + box.width / 2 - wish.x, box.top + box.height / 2 - wish.y];
  const [w, h] = [box.width / 2 + 2, box.height / 2 + 2];
  if (Math.abs(middle[0]) > w + half * Math.abs(u[0]) + wish.r * Math.abs(n[0])) return false;
  if (Math.abs(middle[1]) > h + half * Math.abs(u[1]) + wish.r * Math.abs(n[1])) return false;
  if (Math.abs(middle[0] * u[0] + middle[1] * u[1]) > half + w * Math.abs(u[0]) + h * Math.abs(u[1])) return false;
  return Math.abs(middle[0] * n[0] + middle[1] * n[1]) <= wish.r + w * Math.abs(n[0]) + h * Math.abs(n[1]);
}

/** Whether a line crosses a part other than its own. */
function crossesPart(place: LabelPlace, own: LabelWish, { parts, u, n }: Row): boolean {
  return parts.some(({ wish, half }) => {
    if (wish.id === own.id) return false;
    const local = ([x, y]: Point): Point => [
      (x - wish.x) * u[0] + (y - wish.y) * u[1],
      (x - wish.x) * n[0] + (y - wish.y) * n[1],
    ];
    return crosses(
      local(place.from),
      local(place.to),
      { left: -half, top: -wish.r, width: 2 * half, height: 2 * wish.r },
      0,
    );
  });
}

/** True when a line from a to b meets a box, a small distance round it included. */
export function crosses(a: Point, b: Point, box: Box, between = LINE_px): boolean {
  let [enter, leave] = [0, 1];
  const bounds = [
    [box.left - between, box.left + box.width + between],
    [box.top - between, box.top + box.height + between],
  ] as const;
  for (const k of [0, 1] as const) {
    const run = b[k] - a[k];
    const [low, high] = bounds[k];
    if (Math.abs(run) < 1e-9) {
      if (a[k] <= low || a[k] >= high) return false;
      continue;
    }
    const [t0, t1] = [(low - a[k]) / run, (high - a[k]) / run];
    enter = Math.max(enter, Math.min(t0, t1));
    leave = Math.min(leave, Math.max(t0, t1));
  }
  return enter < leave;
}

/** True when the lines of two labels cross or run into one another. */
function meet(one: LabelPlace, other: LabelPlace): boolean {
  const side = (a: Point, b: Point, p: Point): number => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
  const isCrossed =
    side(one.from, one.to, other.from) * side(one.from, one.to, other.to) < 0 &&
    side(other.from, other.to, one.from) * side(other.from, other.to, one.to) < 0;
  if (isCrossed) return true;
  // Lines are parallel: those of one side run into one another where they are too near.
  return (
    [one.from, one.to].some((end) => nearLine(end, other)) || [other.from, other.to].some((end) => nearLine(end, one))
  );
}

function nearLine([x, y]: Point, { from, to }: LabelPlace): boolean {
  const run: Point = [to[0] - from[0], to[1] - from[1]];
  const t = Math.min(
    1,
    Math.max(0, ((x - from[0]) * run[0] + (y - from[1]) * run[1]) / (run[0] ** 2 + run[1] ** 2 || 1)),
  );
  return Math.hypot(x - from[0] - t * run[0], y - from[1] - t * run[1]) < LINE_px;
}

/** True when two boxes share more than their edges, a small distance between them included. */
export function overlaps(a: Box, b: Box, between = BETWEEN_px): boolean {
  return (
    a.left < b.left + b.width + between &&
    b.left < a.left + a.width + between &&
    a.top < b.top + b.height + between &&
    b.top < a.top + a.height + between
  );
}

/** The box moved into the picture. */
export function within(box: Box, field: { readonly width: number; readonly height: number }): Box {
  return {
    ...box,
    left: Math.max(EDGE_px, Math.min(field.width - box.width - EDGE_px, box.left)),
    top: Math.max(EDGE_px, Math.min(field.height - box.height - EDGE_px, box.top)),
  };
}

function isInside(box: Box, field: LabelField): boolean {
  return (
    box.left >= EDGE_px - 0.01 &&
    box.top >= EDGE_px - 0.01 &&
    box.left + box.width <= field.width - EDGE_px + 0.01 &&
    box.top + box.height <= field.height - EDGE_px + 0.01
  );
}

/** The free place nearest to the part on a coarse grid, over parts only where nothing else is left. */
function scan(wish: LabelWish, taken: readonly Box[], row: Row): Box | undefined {
  const { field, parts } = row;
  let best: Box | undefined;
  let nearest = Infinity;
  const step = Math.max(8, wish.height / 2);
  for (let top = EDGE_px; top + wish.height <= field.height - EDGE_px; top += step) {
    for (let left = EDGE_px; left + wish.width <= field.width - EDGE_px; left += step) {
      const box = { left, top, width: wish.width, height: wish.height };
      const away = Math.hypot(left + wish.width / 2 - wish.x, top + wish.height / 2 - wish.y);
      const cost = away + (parts.some((part) => liesOn(box, part, row)) ? OVER_PARTS_px : 0);
      if (cost < nearest && !taken.some((other) => overlaps(box, other))) {
        best = box;
        nearest = cost;
      }
    }
  }
  return best;
}

/** A line from the nearest edge of a box to the rim of its part. */
export function leader(wish: LabelWish, box: Box): Pick<LabelPlace, 'from' | 'to'> {
  const x = Math.max(box.left + 6, Math.min(box.left + box.width - 6, wish.x));
  const y =
    box.top + box.height < wish.y ? box.top + box.height : box.top > wish.y ? box.top : box.top + box.height / 2;
  const edgeX = y === box.top + box.height / 2 ? (box.left > wish.x ? box.left : box.left + box.width) : x;
  const dx = edgeX - wish.x;
  const dy = y - wish.y;
  const away = Math.hypot(dx, dy) || 1;
  const rim = Math.min(away, wish.r * 0.82);
  return { from: [edgeX, y], to: [wish.x + (dx / away) * rim, wish.y + (dy / away) * rim] };
}
