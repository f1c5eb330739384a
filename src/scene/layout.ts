/**
 * Places for labels: boxes near what they name, none over another, all within the picture.
 *
 * Parts of one pivot lie in a row on the screen. Their labels stand in rows of their own above and below it (beside it,
 * where the row runs upright), each at the nearest free place; a leader line joins box and part. Greedy, in the row's
 * order, the labels that must be seen first. Pixels, y down; a pure function.
 */

/** A label to be placed: where its part is on the screen and how big the box is; px. */
export interface LabelWish {
  readonly id: string;
  readonly x: number;
  readonly y: number;
  /** How far the part reaches round its middle on the screen. */
  readonly r: number;
  readonly width: number;
  readonly height: number;
  /** Placed first, and never left out. */
  readonly isFirst: boolean;
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
  readonly to: readonly [x: number, y: number];
}

/** The picture labels are placed in, px; `axis` is the direction of the row on the screen, of any length. */
export interface LabelField {
  readonly width: number;
  readonly height: number;
  readonly axis: readonly [x: number, y: number];
  readonly taken: readonly Box[];
}

const GAP_px = 14;
const BETWEEN_px = 4;
const EDGE_px = 6;
const TIERS = 6;
/** How far from its part a label that may be left out can stand, and what lying over a part counts for; px. */
const FARTHEST_px = 190;
const OVER_PARTS_px = 200;

/** Places the labels of a row of parts. Labels for which no room is left are missing from the result. */
export function placeLabels(wishes: readonly LabelWish[], field: LabelField): LabelPlace[] {
  const length = Math.hypot(...field.axis);
  const axis = length < 1e-6 ? ([1, 0] as const) : ([field.axis[0] / length, field.axis[1] / length] as const);
  const isUpright = Math.abs(axis[1]) > 0.8;
  const along = (wish: LabelWish): number => wish.x * axis[0] + wish.y * axis[1];
  const row = [...wishes].sort((a, b) => along(a) - along(b) || a.id.localeCompare(b.id));
  const reach = Math.max(0, ...row.map((wish) => wish.r));
  const sides = new Map(row.map((wish, k) => [wish.id, k % 2 === 0 ? -1 : 1]));
  // Boxes lie clear of the parts themselves where they can, over a neighbour where they must.
  const parts = row.map((wish): Box => ({ left: wish.x - wish.r * 0.7, top: wish.y - wish.r * 0.7, width: wish.r * 1.4, height: wish.r * 1.4 }));
  const first = [...row.filter((wish) => wish.isFirst), ...row.filter((wish) => !wish.isFirst)];
  const placed: LabelPlace[] = [];
  const taken: Box[] = [...field.taken];
  for (const wish of first) {
    const preferred = sides.get(wish.id) ?? 1;
    const tries = isUpright ? beside(wish, axis, preferred, reach) : overAndUnder(wish, axis, preferred, reach);
    const boxes = tries.map((at): Box => ({ ...at, width: wish.width, height: wish.height })).filter((at) => isFree(at, taken, field));
    const box = boxes.find((at) => !overlapsAny(at, parts)) ?? boxes[0] ?? scan(wish, taken, parts, field, wish.isFirst ? Infinity : FARTHEST_px);
    if (!box) continue;
    taken.push(box);
    placed.push({ id: wish.id, ...box, ...leader(wish, box) });
  }
  return placed;
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

interface At {
  readonly left: number;
  readonly top: number;
}

/** Places over and under a row that runs across the picture: the nearest tier first, shifted a little along it. */
function overAndUnder(wish: LabelWish, axis: readonly [number, number], preferred: number, reach: number): At[] {
  const tries: At[] = [];
  for (const side of [preferred, -preferred]) {
    for (let tier = 0; tier < TIERS; tier += 1) {
      const distance = reach + GAP_px + tier * (wish.height + BETWEEN_px + 1);
      for (const shift of [0, -0.3, 0.3, -0.6, 0.6]) {
        // Rows run parallel to the axis: a label moved along it moves up or down with it.
        const dx = shift * wish.width;
        const middle = wish.y + (dx * axis[1]) / (Math.abs(axis[0]) < 0.2 ? 1 : axis[0]) + side * distance;
        tries.push({ left: wish.x + dx - wish.width / 2, top: side < 0 ? middle - wish.height : middle });
      }
    }
  }
  return tries;
}

/** Places left and right of an upright row. */
function beside(wish: LabelWish, axis: readonly [number, number], preferred: number, reach: number): At[] {
  const tries: At[] = [];
  for (let tier = 0; tier < TIERS + 2; tier += 1) {
    for (const side of [preferred, -preferred]) {
      for (const step of tier === 0 ? [0] : [tier, -tier]) {
        const top = wish.y - wish.height / 2 + (step * (wish.height + BETWEEN_px)) / 2;
        const lean = ((top + wish.height / 2 - wish.y) * axis[0]) / axis[1];
        const x = wish.x + lean + side * (reach + GAP_px);
        tries.push({ left: side < 0 ? x - wish.width : x, top });
      }
    }
  }
  return tries;
}

function isFree(box: Box, taken: readonly Box[], field: LabelField): boolean {
  return isInside(box, field) && !overlapsAny(box, taken);
}

function isInside(box: Box, field: LabelField): boolean {
  return (
    box.left >= EDGE_px - 0.01 &&
    box.top >= EDGE_px - 0.01 &&
    box.left + box.width <= field.width - EDGE_px + 0.01 &&
    box.top + box.height <= field.height - EDGE_px + 0.01
  );
}

function overlapsAny(box: Box, taken: readonly Box[]): boolean {
  return taken.some((other) => overlaps(box, other));
}

/** The free place nearest to the part on a coarse grid, no farther than `limit`; over parts only where it must be seen. */
function scan(wish: LabelWish, taken: readonly Box[], parts: readonly Box[], field: LabelField, limit: number): Box | undefined {
  let best: Box | undefined;
  let nearest = limit;
  const step = Math.max(8, wish.height / 2);
  for (let top = EDGE_px; top + wish.height <= field.height - EDGE_px; top += step) {
    for (let left = EDGE_px; left + wish.width <= field.width - EDGE_px; left += step) {
      const box = { left, top, width: wish.width, height: wish.height };
      const away = Math.hypot(left + wish.width / 2 - wish.x, top + wish.height / 2 - wish.y);
      const cost = away + (overlapsAny(box, parts) ? OVER_PARTS_px : 0);
      if (cost < nearest && !overlapsAny(box, taken)) {
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
  const y = box.top + box.height < wish.y ? box.top + box.height : box.top > wish.y ? box.top : box.top + box.height / 2;
  const edgeX = y === box.top + box.height / 2 ? (box.left > wish.x ? box.left : box.left + box.width) : x;
  const dx = edgeX - wish.x;
  const dy = y - wish.y;
  const away = Math.hypot(dx, dy) || 1;
  const rim = Math.min(away, wish.r * 0.82);
  return { from: [edgeX, y], to: [wish.x + (dx / away) * rim, wish.y + (dy / away) * rim] };
}
