/**
 * Where there is no room for names, the dots of the pivots are what is pressed: each under a thumb of its own.
 *
 * Pivots may lie closer on the screen than two thumbs. Their dots then stand beside them, as near as their neighbours
 * and the words on the picture allow, each with a line to its pivot. Pixels, y down; a pure function.
 */
import { within, type Box, type LabelField, type LabelPlace, type LabelWish } from './layout.ts';

/** Between two dots, and between a dot and words, px. */
const BETWEEN_px = 1;
/** So many rounds settle most bikes; each takes one look at every two pivots. */
const ROUNDS = 60;
/** Between two places that are tried for a dot that is hemmed in, px. */
const STEP_px = 6;

interface Dot {
  readonly wish: LabelWish;
  box: Box;
}

/** A place for every dot: on its pivot, or beside it. */
export function placeOnDots(wishes: readonly LabelWish[], field: LabelField): LabelPlace[] {
  const dots = wishes
    .map((wish): Dot => {
      const { x, y, width, height } = wish;
      return { wish, box: within({ left: x - width / 2, top: y - height / 2, width, height }, field) };
    })
    .sort((a, b) => a.wish.x - b.wish.x || a.wish.y - b.wish.y || a.wish.id.localeCompare(b.wish.id));
  let isSettled = false;
  for (let round = 0; round < ROUNDS && !isSettled; round += 1) isSettled = !pushOnce(dots, field);
  if (!isSettled) for (const dot of dots) dot.box = nearestFree(dot, dots, field) ?? dot.box;
  return dots.map(({ wish, box }) => ({
    id: wish.id,
    ...box,
    from: [box.left + box.width / 2, box.top + box.height / 2] as const,
    to: [wish.x, wish.y] as const,
  }));
}

/** Whether anything had to give way. */
function pushOnce(dots: readonly Dot[], field: LabelField): boolean {
  let isPushed = false;
  const push = (dot: Dot, [x, y]: readonly [number, number]): void => {
    isPushed = true;
    dot.box = within({ ...dot.box, left: dot.box.left + x, top: dot.box.top + y }, field);
  };
  dots.forEach((dot, k) => {
    for (const other of dots.slice(k + 1)) {
      const [x, y] = wayOut(dot.box, other.box) ?? [0, 0];
      if (x === 0 && y === 0) continue;
      push(dot, [x / 2, y / 2]);
      push(other, [-x / 2, -y / 2]);
    }
  });
  for (const dot of dots) {
    for (const words of field.taken) {
      const way = wayOut(dot.box, words);
      if (way) push(dot, way);
    }
  }
  return isPushed;
}

/** The shortest way for a box to get clear of another; none where it is clear. */
function wayOut(box: Box, other: Box): [x: number, y: number] | undefined {
  const [x, y] = [
    box.left + box.width / 2 - other.left - other.width / 2,
    box.top + box.height / 2 - other.top - other.height / 2,
  ];
  const [wide, tall] = [
    (box.width + other.width) / 2 + BETWEEN_px - Math.abs(x),
    (box.height + other.height) / 2 + BETWEEN_px - Math.abs(y),
  ];
  if (wide <= 0.01 || tall <= 0.01) return undefined;
  return wide < tall ? [x > 0 ? wide : -wide, 0] : [0, y > 0 ? tall : -tall];
}

/** The place nearest to its pivot where a dot is clear of the others; where it stands, if it is clear there. */
function nearestFree({ wish, box }: Dot, dots: readonly Dot[], field: LabelField): Box | undefined {
  const others = [...dots.filter((other) => other.wish !== wish).map((other) => other.box), ...field.taken];
  const isFree = (place: Box): boolean => others.every((other) => wayOut(place, other) === undefined);
  if (isFree(box)) return box;
  const first = within({ ...box, left: 0, top: 0 }, field);
  const last = within({ ...box, left: field.width, top: field.height }, field);
  let best: Box | undefined;
  let nearest_px = Infinity;
  for (let { top } = first; top <= last.top; top += STEP_px) {
    for (let { left } = first; left <= last.left; left += STEP_px) {
      const away_px = Math.hypot(left + box.width / 2 - wish.x, top + box.height / 2 - wish.y);
      if (away_px >= nearest_px || !isFree({ ...box, left, top })) continue;
      best = { ...box, left, top };
      nearest_px = away_px;
    }
  }
  return best;
}
