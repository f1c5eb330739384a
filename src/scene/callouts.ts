/**
 * Call-outs of the whole bike: the pivots' names in columns beside the linkage, as in a manual; on a narrow picture in
 * rows above and below it.
 *
 * Each name keeps the height (or the place across) of what it names as nearly as the others allow, so that leader lines
 * do not cross. Pixels, y down; a pure function.
 */
import { leader, overlaps, within, type Box, type LabelField, type LabelPlace, type LabelWish } from './layout.ts';

/** Distance between the outermost pivot and a column, and between two names; px. */
const AWAY_px = 58;
const BETWEEN_px = 7;

/** Places the names of all pivots. */
export function placeCallouts(wishes: readonly LabelWish[], field: LabelField): LabelPlace[] {
  if (wishes.length === 0) return [];
  const widest = Math.max(...wishes.map((wish) => wish.width));
  const span = (key: 'x' | 'y'): number =>
    Math.max(...wishes.map((wish) => wish[key])) - Math.min(...wishes.map((wish) => wish[key]));
  // Seen from above the pivots lie in a line across the picture: columns would send every leader through all of them.
  const isInRows = field.width < 3 * widest || span('x') > 3 * span('y') + widest;
  const axis = isInRows ? 'y' : 'x';
  const order = [...wishes].sort((a, b) => a[axis] - b[axis] || a.id.localeCompare(b.id));
  const half = Math.ceil(order.length / 2);
  const groups = [order.slice(0, half), order.slice(half)] as const;
  if (isInRows)
    return [...rows(groups[0], -1, field), ...rows(groups[1], 1, field)].map(({ wish, box }) => ({
      id: wish.id,
      ...box,
      ...leader(wish, box),
    }));
  return [...column(groups[0], -1, wishes, field), ...column(groups[1], 1, wishes, field)].map(({ wish, box }) => ({
    id: wish.id,
    ...box,
    ...(box.left < wish.x + wish.r && wish.x - wish.r < box.left + box.width ? leader(wish, box) : fromSide(wish, box)),
  }));
}

/** A line from the middle of the side of a box that looks at what it names. */
function fromSide(wish: LabelWish, box: Box): Pick<LabelPlace, 'from' | 'to'> {
  const x = box.left > wish.x ? box.left : box.left + box.width;
  const y = box.top + box.height / 2;
  const away = Math.hypot(x - wish.x, y - wish.y) || 1;
  const rim = Math.min(away, wish.r * 0.82);
  return { from: [x, y], to: [wish.x + ((x - wish.x) / away) * rim, wish.y + ((y - wish.y) / away) * rim] };
}

interface Placed {
  readonly wish: LabelWish;
  readonly box: Box;
}

function column(group: readonly LabelWish[], side: -1 | 1, all: readonly LabelWish[], field: LabelField): Placed[] {
  const edge =
    side < 0
      ? Math.min(...all.map(({ x, hardware }) => Math.min(x - AWAY_px, (hardware?.left ?? x) - BETWEEN_px)))
      : Math.max(
          ...all.map(({ x, hardware }) =>
            Math.max(x + AWAY_px, (hardware ? hardware.left + hardware.width : x) + BETWEEN_px),
          ),
        );
  const lean = [...group].sort((a, b) => a.y - b.y || a.id.localeCompare(b.id));
  const boxes = lean.map((wish) =>
    within(
      {
        left: side < 0 ? edge - wish.width : edge,
        top: wish.y - wish.height / 2,
        width: wish.width,
        height: wish.height,
      },
      field,
    ),
  );
  const tops = clearOfHardware(lean, boxes, all, field) ?? stackUp(boxes, field);
  return lean.map((wish, k) => ({ wish, box: { ...boxes[k]!, top: tops[k]! } }));
}

/**
 * Tops of boxes none of which lies on what is named: one that would moves over it, or under it at the upper border.
 * None where that leaves a name without room.
 */
function clearOfHardware(
  lean: readonly LabelWish[],
  boxes: readonly Box[],
  all: readonly LabelWish[],
  field: LabelField,
): number[] | undefined {
  const hardware = all.flatMap((wish) => (wish.hardware ? [wish.hardware] : []));
  const taken = [...field.taken, ...hardware].sort((a, b) => a.top - b.top);
  const lifted = boxes.map((box, k) => {
    const own = lean[k]!.hardware;
    const top = own && overlaps(box, own) ? own.top - box.height - BETWEEN_px : box.top;
    return { ...box, top: top < 0 ? box.top : top };
  });
  const tops = stackUp(lifted, { ...field, taken });
  const placed = boxes.map((box, k) => ({ ...box, top: tops[k]! }));
  const isClear = placed.every(
    (box, k) =>
      box.top >= 0 &&
      box.top + box.height <= field.height &&
      ![...taken, ...placed.slice(k + 1)].some((other) => overlaps(box, other, 0)),
  );
  return isClear ? tops : undefined;
}

/** Tops of boxes moved apart, first downward past each other and past what is taken, then back up from the floor. */
function stackUp(boxes: readonly Box[], field: LabelField): number[] {
  const tops: number[] = [];
  let floor = -Infinity;
  for (const box of boxes) {
    let top = Math.max(box.top, floor);
    for (const taken of field.taken) if (overlaps({ ...box, top }, taken)) top = taken.top + taken.height + BETWEEN_px;
    tops.push(top);
    floor = top + box.height + BETWEEN_px;
  }
  let ceiling = field.height;
  for (let k = boxes.length - 1; k >= 0; k -= 1) {
    let top = Math.min(tops[k]!, ceiling - boxes[k]!.height - BETWEEN_px);
    for (const taken of field.taken)
      if (overlaps({ ...boxes[k]!, top }, taken)) top = Math.min(top, taken.top - boxes[k]!.height - BETWEEN_px);
    tops[k] = top;
    ceiling = tops[k]!;
  }
  return tops;
}

/**
 * Rows from the upper border downward and from the lower one upward, each name as near across to what it names as it
 * can be.
 */
function rows(group: readonly LabelWish[], side: -1 | 1, field: LabelField): Placed[] {
  const placed: Placed[] = [];
  let step = 0;
  for (const row of fillRows(
    [...group].sort((a, b) => side * (b.y - a.y) || a.id.localeCompare(b.id)),
    field.width,
  )) {
    const height = Math.max(...row.map((wish) => wish.height));
    const top = side < 0 ? step : field.height - height - step;
    const lefts = spreadAcross(row, field);
    const boxes = row.map((wish, k) => within({ left: lefts[k]!, top, width: wish.width, height: wish.height }, field));
    const blocking = field.taken.find((taken) => boxes.some((box) => overlaps(box, taken)));
    const push = blocking ? blocking.height + BETWEEN_px : 0;
    row.forEach((wish, k) =>
      placed.push({ wish, box: within({ ...boxes[k]!, top: boxes[k]!.top - side * push }, field) }),
    );
    step += height + BETWEEN_px + push;
  }
  return placed;
}

/** As many names to a row as fit, each row in the order of what it names. */
function fillRows(order: readonly LabelWish[], width: number): LabelWish[][] {
  const all: LabelWish[][] = [];
  let used = Infinity;
  for (const wish of order) {
    const row = all.at(-1);
    if (row && used + wish.width + BETWEEN_px <= width - 2 * BETWEEN_px) {
      row.push(wish);
      used += wish.width + BETWEEN_px;
    } else {
      all.push([wish]);
      used = wish.width;
    }
  }
  return all.map((row) => row.sort((a, b) => a.x - b.x || a.id.localeCompare(b.id)));
}

/** Left edges of a row's boxes: centred over what they name, moved apart, back from the right border. */
function spreadAcross(row: readonly LabelWish[], field: LabelField): number[] {
  const lefts: number[] = [];
  let wall = BETWEEN_px;
  for (const wish of row) {
    lefts.push(Math.max(wall, wish.x - wish.width / 2));
    wall = lefts.at(-1)! + wish.width + BETWEEN_px;
  }
  let limit = field.width;
  for (let k = row.length - 1; k >= 0; k -= 1) {
    lefts[k] = Math.min(lefts[k]!, limit - row[k]!.width - BETWEEN_px);
    limit = lefts[k]!;
  }
  return lefts;
}
