/**
 * Paths without a collision: how a part gets to its place past everything that stands there.
 *
 * A path is a row of way points that ends where the part belongs; between two of them it moves evenly. Looked for from the
 * place outward: first straight the way that was asked for, then straight any way, then round a corner, and last by a
 * search over a lattice of places and turns (shortest way out, in the order of the lattice). Every leg is tried at steps
 * finer than the thinnest part is thick. The first way found is taken, so that the same question always has the same
 * answer. mm, rad.
 */
import type { Side } from '../model/schema.ts';
import { type Box, type Joined, boxGap_mm } from './bike.ts';
import { type Body, HOME, type Posed, type Shift, type Solids, type Space, pose } from './bodies.ts';
import { outward } from './room.ts';

/** Way points from where a part is brought in to where it stands. */
export type Path = readonly Shift[];

/** A body that stands somewhere. */
export interface Stander {
  readonly body: Body;
  readonly at: Shift;
}

/** Two bodies may touch and share this much beyond what is drawn: roundings of the model's figures, mm. */
export const TOUCH_mm = 0.05;
/** A leg is tried every so many mm. */
const STRIDE_mm = 1;
/** Strides between the first tries of a long way. */
const COARSE = 16;

/** A direction in space, of length 1. */
export interface Direction {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** The direction of an angle in the side plane. */
export function inPlane(angle_rad: number): Direction {
  return { x: Math.cos(angle_rad), y: Math.sin(angle_rad), z: 0 };
}

/** Along the axle, +1 to the drive side. */
export function alongAxle(sign: 1 | -1): Direction {
  return { x: 0, y: 0, z: sign };
}

/** A shift moved on by `length_mm`. */
export function moveOn(at: Shift, { x, y, z }: Direction, length_mm: number): Shift {
  return {
    x_mm: at.x_mm + x * length_mm,
    y_mm: at.y_mm + y * length_mm,
    z_mm: at.z_mm + z * length_mm,
    angle_rad: at.angle_rad,
  };
}

/** Two shifts one after the other: `first` of the place as drawn, then `then`. */
export function after(first: Shift, then: Shift): Shift {
  const [cos, sin] = [Math.cos(then.angle_rad), Math.sin(then.angle_rad)];
  return {
    x_mm: then.x_mm + cos * first.x_mm - sin * first.y_mm,
    y_mm: then.y_mm + sin * first.x_mm + cos * first.y_mm,
    z_mm: then.z_mm + first.z_mm,
    angle_rad: then.angle_rad + first.angle_rad,
  };
}

/** The turn by an angle about a place of the side plane. */
export function turnAbout({ x_mm, y_mm }: { readonly x_mm: number; readonly y_mm: number }, angle_rad: number): Shift {
  const [cos, sin] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  return { x_mm: x_mm - cos * x_mm + sin * y_mm, y_mm: y_mm - sin * x_mm - cos * y_mm, z_mm: 0, angle_rad };
}

/** Where a place of the side plane goes. */
export function shiftedPlace(
  at: Shift,
  { x_mm, y_mm }: { readonly x_mm: number; readonly y_mm: number },
): { readonly x_mm: number; readonly y_mm: number } {
  const [cos, sin] = [Math.cos(at.angle_rad), Math.sin(at.angle_rad)];
  return { x_mm: at.x_mm + cos * x_mm - sin * y_mm, y_mm: at.y_mm + sin * x_mm + cos * y_mm };
}

/** A share of the way between two shifts; turns about the middle that moves with the body. */
export function between(
  one: Shift,
  other: Shift,
  share: number,
  middle: { readonly x_mm: number; readonly y_mm: number },
): Shift {
  if (share <= 0) return one;
  if (share >= 1) return other;
  const mix = (from: number, to: number): number => from + (to - from) * share;
  const z_mm = mix(one.z_mm, other.z_mm);
  if (one.angle_rad === other.angle_rad)
    return { x_mm: mix(one.x_mm, other.x_mm), y_mm: mix(one.y_mm, other.y_mm), z_mm, angle_rad: one.angle_rad };
  const [from, to] = [shiftedPlace(one, middle), shiftedPlace(other, middle)];
  const turned = turnAbout({ x_mm: 0, y_mm: 0 }, mix(one.angle_rad, other.angle_rad));
  const here = shiftedPlace(turned, middle);
  return {
    x_mm: mix(from.x_mm, to.x_mm) - here.x_mm,
    y_mm: mix(from.y_mm, to.y_mm) - here.y_mm,
    z_mm,
    angle_rad: turned.angle_rad,
  };
}

/** How far a leg takes the furthest point of a body of that reach, mm. */
export function legLength_mm(
  one: Shift,
  other: Shift,
  middle: { readonly x_mm: number; readonly y_mm: number },
  reach_mm: number,
): number {
  const [from, to] = [shiftedPlace(one, middle), shiftedPlace(other, middle)];
  return (
    Math.hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm, other.z_mm - one.z_mm) +
    Math.abs(other.angle_rad - one.angle_rad) * reach_mm
  );
}

/** What moves as one, and what stands in its way. */
export class Course {
  /** The middle of what moves, as drawn; turns are about it. */
  readonly middle: { readonly x_mm: number; readonly y_mm: number };
  readonly reach_mm: number;
  private readonly space: Space;
  private readonly moving: readonly Stander[];
  private readonly standing: Posed[];

  constructor(space: Space, moving: readonly Stander[], standing: readonly Stander[]) {
    this.space = space;
    this.moving = moving;
    this.standing = standing.map(({ body, at }) => pose(body, at));
    const largest = moving.reduce<Stander | undefined>(
      (most, next) => (most && most.body.around.radius_mm >= next.body.around.radius_mm ? most : next),
      undefined,
    );
    this.middle = largest ? shiftedPlace(largest.at, largest.body.around) : { x_mm: 0, y_mm: 0 };
    this.reach_mm = largest?.body.around.radius_mm ?? 0;
  }

  /** Whether nothing is met with what moves shifted by `at`. */
  isFree(at: Shift): boolean {
    return this.moving.every(({ body, at: own }) => {
      const here = pose(body, own === HOME ? at : after(own, at));
      const met = this.standing.findIndex((other) => this.space.excess_mm(here, other) > TOUCH_mm);
      // What was met last is most likely met next.
      if (met > 0) this.standing.unshift(...this.standing.splice(met, 1));
      return met < 0;
    });
  }

  /** Whether the whole leg is free. */
  isLegFree(one: Shift, other: Shift): boolean {
    const count = Math.max(1, Math.ceil(legLength_mm(one, other, this.middle, this.reach_mm) / STRIDE_mm));
    for (let k = 0; k <= count; k++) if (!this.isFree(between(one, other, k / count, this.middle))) return false;
    return true;
  }

  /** Whether one can go all of a length in a direction; tried from coarse to fine, so that a blocked way is told soon. */
  isClear(at: Shift, direction: Direction, length_mm: number): boolean {
    const count = Math.floor(length_mm / STRIDE_mm);
    const tried = new Set<number>();
    for (let stride = COARSE; stride >= 1; stride = Math.floor(stride / 4)) {
      for (let k = count; k > 0; k -= stride) {
        if (tried.has(k)) continue;
        tried.add(k);
        if (!this.isFree(moveOn(at, direction, k * STRIDE_mm))) return false;
      }
    }
    return true;
  }

  /** How far one can go from `at` in a direction, mm, in whole strides and at most `most_mm`. */
  freeLength_mm(at: Shift, direction: Direction, most_mm: number): number {
    for (let k = 1; k * STRIDE_mm <= most_mm; k++)
      if (!this.isFree(moveOn(at, direction, k * STRIDE_mm))) return (k - 1) * STRIDE_mm;
    return Math.floor(most_mm / STRIDE_mm) * STRIDE_mm;
  }
}

/** Directions of the side plane that are tried, and the two along the axle. */
const ROUND = 72;

/** The directions to try: those asked for first, then along the axle, then round the side plane from the first on. */
function directions(wanted: readonly Direction[]): Direction[] {
  const first = wanted.find(({ z }) => z === 0);
  const start = first ? Math.atan2(first.y, first.x) : Math.PI / 2;
  const round = Array.from({ length: ROUND - 1 }, (_, k) =>
    inPlane(start + (k % 2 === 0 ? 1 : -1) * Math.ceil((k + 1) / 2) * ((2 * Math.PI) / ROUND)),
  );
  return [...wanted, alongAxle(1), alongAxle(-1), inPlane(start), ...round];
}

/** Lengths of a first leg after which the second is tried, mm. */
const FIRST_LEGS_mm = [2, 4, 8, 12, 16, 24, 32, 48, 64] as const;
/** Directions tried for the legs round a corner: those asked for, the two along the axle, and some round the side plane. */
const CORNER_DIRECTIONS = 24;
/** A way in shorter than this is none, mm. */
const LEAST_mm = 6;

/** How long a way must be, and how hard it is looked for. */
export interface Asked {
  readonly length_mm: number;
  /** Along the axle; as long as any other when absent. Between two arms a way along the axle leads out only when it is long. */
  readonly axial_mm?: number;
  /** Points of the lattice that are looked at before it is given up; 0 for a corner at most. */
  readonly looks?: number;
}

function lengthOf({ z }: Direction, { length_mm, axial_mm = length_mm }: Asked): number {
  return z === 0 ? length_mm : axial_mm;
}

/**
 * The path by which a part is brought in to `goal`, as long as was asked where there is room; the way that was asked for
 * comes first. A path of one way point: there is no way in, the part is simply there.
 */
export function pathIn(course: Course, goal: Shift, wanted: readonly Direction[], asked: Asked): Path {
  if (!course.isFree(goal)) return [goal];
  let best: { readonly direction: Direction; readonly length: number } | undefined;
  for (const direction of directions(wanted)) {
    const needed = lengthOf(direction, asked);
    const length = course.freeLength_mm(goal, direction, needed);
    if (length + STRIDE_mm > needed) return [moveOn(goal, direction, length), goal];
    if (!best || length > best.length) best = { direction, length };
  }
  const round =
    cornered(course, goal, wanted, asked) ?? searched(course, goal, asked.length_mm, asked.looks ?? LATTICE.most);
  return round ?? (best && best.length >= LEAST_mm ? [moveOn(goal, best.direction, best.length), goal] : [goal]);
}

/** Two legs, the first as short as it can be. */
function cornered(course: Course, goal: Shift, wanted: readonly Direction[], asked: Asked): Path | undefined {
  const few = [
    ...wanted,
    alongAxle(1),
    alongAxle(-1),
    ...Array.from({ length: CORNER_DIRECTIONS }, (_, k) => inPlane((2 * Math.PI * k) / CORNER_DIRECTIONS)),
  ];
  const free = few.map((direction) => course.freeLength_mm(goal, direction, FIRST_LEGS_mm.at(-1)!));
  for (const first of FIRST_LEGS_mm) {
    for (const [k, direction] of few.entries()) {
      if (free[k]! < first) continue;
      const corner = moveOn(goal, direction, first);
      for (const second of few) {
        const length = lengthOf(second, asked);
        if (course.isClear(corner, second, length)) return [moveOn(corner, second, length), corner, goal];
      }
    }
  }
  return undefined;
}

/** Of the lattice: places this far apart, mm, turns, rad, and how many of its points are looked at. */
const LATTICE = { place_mm: 8, turn_rad: Math.PI / 30, most: 1500 } as const;

interface Node {
  readonly at: Shift;
  readonly cell: readonly [number, number, number, number];
  readonly out_mm: number;
  readonly legs: number;
  readonly before?: Node;
}

/** Over places and turns, those furthest out first, until the part is far enough out. */
function searched(course: Course, goal: Shift, length_mm: number, most: number): Path | undefined {
  const seen = new Set(['0 0 0 0']);
  const open: Node[] = [{ at: goal, cell: [0, 0, 0, 0], out_mm: 0, legs: 0 }];
  for (let looked = 0; looked < most && open.length > 0; looked++) {
    const here = open.splice(bestOf(open), 1)[0]!;
    if (here.out_mm >= length_mm) return shortened(course, trailOf(here));
    for (const axis of [0, 1, 2, 3]) {
      for (const sign of [1, -1]) {
        const cell = here.cell.map((value, k) => (k === axis ? value + sign : value)) as [
          number,
          number,
          number,
          number,
        ];
        const key = cell.join(' ');
        if (seen.has(key)) continue;
        seen.add(key);
        const place = moveOn(goal, { x: cell[0], y: cell[1], z: cell[2] }, LATTICE.place_mm);
        const at = after(turnAbout(course.middle, cell[3] * LATTICE.turn_rad), place);
        if (course.isLegFree(here.at, at))
          open.push({
            at,
            cell,
            out_mm: Math.hypot(cell[0], cell[1], cell[2]) * LATTICE.place_mm,
            legs: here.legs + 1,
            before: here,
          });
      }
    }
  }
  return undefined;
}

/** The node that has come furthest for its legs; the first of equals. */
function bestOf(open: readonly Node[]): number {
  let best = 0;
  const worth = ({ out_mm, legs }: Node): number => 2 * out_mm - legs * LATTICE.place_mm;
  open.forEach((node, k) => {
    if (worth(node) > worth(open[best]!) + 1e-9) best = k;
  });
  return best;
}

function trailOf(node: Node): Shift[] {
  const trail: Shift[] = [];
  for (let at: Node | undefined = node; at; at = at.before) trail.push(at.at);
  return trail;
}

/** The same way with every way point left out that a straight leg can do without. */
function shortened(course: Course, path: readonly Shift[]): Path {
  const kept: Shift[] = [path[0]!];
  for (let at = 0; at < path.length - 1; ) {
    let to = path.length - 1;
    while (to > at + 1 && !course.isLegFree(path[at]!, path[to]!)) to--;
    kept.push(path[to]!);
    at = to;
  }
  return kept;
}

/** Where a path is at a share of its length. */
export function alongPath(
  path: Path,
  share: number,
  middle: { readonly x_mm: number; readonly y_mm: number },
  reach_mm: number,
): Shift {
  const last = path.at(-1) ?? HOME;
  if (path.length < 2 || share >= 1) return last;
  const lengths = path.slice(1).map((to, k) => legLength_mm(path[k]!, to, middle, reach_mm));
  let left = Math.max(0, share) * lengths.reduce((sum, length) => sum + length, 0);
  for (const [k, length] of lengths.entries()) {
    if (left <= length && length > 0) return between(path[k]!, path[k + 1]!, left / length, middle);
    left -= length;
  }
  return last;
}

/** How far out things are brought in from, mm; nearer where there is less room. */
export const FROM_mm = {
  unit: 130,
  wheel: 220,
  chainset: 150,
  ring: 45,
  throughArms: 110,
  axle: 40,
  receiver: 32,
  bearing: 34,
  tool: 45,
} as const;

/** How long a spacer's way is looked for: what goes round no corner is shut in. */
const RING_LOOKS = 200;

/** A shift that only slides along z. */
export function along(z_mm: number): Shift {
  return z_mm === 0 ? HOME : { ...HOME, z_mm };
}

/** From outside along the axle, or aside from where nothing stands; between two arms only a long way along the axle leads out. */
export function spacerPath(
  course: Course,
  goal: Shift,
  own: Joined,
  id: string,
  side: Side,
  looks: number = RING_LOOKS,
): Path {
  const place = own.rings.find((ring) => ring.item.id === id);
  const isOutside = place === undefined || (!place.shutBy && (!place.low || !place.high));
  if (isOutside) return pathIn(course, goal, [alongAxle(place?.low ? 1 : -1)], { length_mm: FROM_mm.ring, looks });
  if (place.shutBy) return pathIn(course, goal, [alongAxle(outward(side))], { length_mm: FROM_mm.ring, looks });
  return pathIn(course, goal, [inPlane(Math.PI / 2)], {
    length_mm: FROM_mm.ring,
    axial_mm: FROM_mm.throughArms,
    looks,
  });
}

/** A unit is swung in steps of this, and no further than that, rad. */
export const SWING = { step_rad: Math.PI / 120, most_rad: (75 * Math.PI) / 180 } as const;

/**
 * The widest free swing of a unit that hangs on one axle, about it, with these owners on the bike, rad: by which a plan
 * knows whom to swing at all. By bodies, the other units at their places; looked at every degree and a half both ways.
 */
export function swingRoom_rad(
  { bike, bodies, space, rooms }: Solids,
  unit: string,
  about: { readonly x_mm: number; readonly y_mm: number },
  on: ReadonlySet<string>,
): number {
  const swept = sweptBox(bike.boxes.get(unit)!, about);
  const near = [...on].filter((id) => id !== unit && bike.pieces.has(id) && boxGap_mm(swept, bike.boxes.get(id)!) <= 0);
  const key = `${unit} ${about.x_mm} ${about.y_mm} ${near.sort().join(' ')}`;
  const before = rooms.get(key);
  if (before !== undefined) return before;
  const others = near.map((id) => ({ body: bodies.get(id)!, at: HOME }));
  const course = new Course(space, [{ body: bodies.get(unit)!, at: HOME }], others);
  const free = (sign: number): number => {
    let angle = 0;
    while (angle < SWING.most_rad && course.isFree(turnAbout(about, sign * (angle + SWING.step_rad))))
      angle += SWING.step_rad;
    return angle;
  };
  const room = Math.max(free(1), free(-1));
  rooms.set(key, room);
  return room;
}

/** Everywhere a unit can get to by turning about a place. */
function sweptBox(
  { xFrom_mm, xTo_mm, yFrom_mm, yTo_mm }: Box,
  { x_mm, y_mm }: { readonly x_mm: number; readonly y_mm: number },
): Box {
  const reach = Math.max(
    ...[xFrom_mm, xTo_mm].flatMap((x) => [yFrom_mm, yTo_mm].map((y) => Math.hypot(x - x_mm, y - y_mm))),
  );
  return { xFrom_mm: x_mm - reach, xTo_mm: x_mm + reach, yFrom_mm: y_mm - reach, yTo_mm: y_mm + reach };
}
