/**
 * Paths without a collision: how a part gets to its place past everything that stands there.
 *
 * A path is a row of way points that ends where the part belongs; between two of them it moves evenly. Looked for from
 * the place outward: first straight the way that was asked for, then straight any way, then round a corner, and last by
 * a search over a lattice of places and turns (shortest way out, in the order of the lattice). Every leg is tried at
 * steps finer than the thinnest part is thick. The first way found is taken, so that the same question always has the
 * same answer. mm, rad.
 */
import type { Side } from '../model/schema.ts';
import type { Place } from '../travel/planar.ts';
import { type Box, type Joined, boxGap_mm, remembered } from './bike.ts';
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
  const { x_mm, y_mm, z_mm, angle_rad } = at;
  return { x_mm: x_mm + x * length_mm, y_mm: y_mm + y * length_mm, z_mm: z_mm + z * length_mm, angle_rad };
}

/** Two shifts one after the other: `first` of the place as drawn, then `then`. */
export function after(first: Shift, then: Shift): Shift {
  const place = shiftedPlace(then, first);
  return { ...place, z_mm: then.z_mm + first.z_mm, angle_rad: then.angle_rad + first.angle_rad };
}

/** The turn by an angle about a place of the side plane. */
export function turnAbout({ x_mm, y_mm }: Place, angle_rad: number): Shift {
  const [cos, sin] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  return { x_mm: x_mm - cos * x_mm + sin * y_mm, y_mm: y_mm - sin * x_mm - cos * y_mm, z_mm: 0, angle_rad };
}

/** Where a place of the side plane goes. */
export function shiftedPlace(at: Shift, { x_mm, y_mm }: Place): Place {
  const [cos, sin] = [Math.cos(at.angle_rad), Math.sin(at.angle_rad)];
  return { x_mm: at.x_mm + cos * x_mm - sin * y_mm, y_mm: at.y_mm + sin * x_mm + cos * y_mm };
}

/** A share of the way between two shifts; turns about the middle that moves with the body. */
function between(one: Shift, other: Shift, share: number, middle: Place): Shift {
  if (share <= 0) return one;
  if (share >= 1) return other;
  const mix = (from: number, to: number): number => from + (to - from) * share;
  const mixed = (from: Place, to: Place): Place => ({ x_mm: mix(from.x_mm, to.x_mm), y_mm: mix(from.y_mm, to.y_mm) });
  const z_mm = mix(one.z_mm, other.z_mm);
  const angle_rad = mix(one.angle_rad, other.angle_rad);
  if (one.angle_rad === other.angle_rad) return { ...mixed(one, other), z_mm, angle_rad };
  const there = mixed(shiftedPlace(one, middle), shiftedPlace(other, middle));
  const here = shiftedPlace({ ...HOME, angle_rad }, middle);
  return { x_mm: there.x_mm - here.x_mm, y_mm: there.y_mm - here.y_mm, z_mm, angle_rad };
}

/** How far a leg takes the furthest point of a body of that reach, mm. */
function legLength_mm(one: Shift, other: Shift, middle: Place, reach_mm: number): number {
  const [from, to] = [shiftedPlace(one, middle), shiftedPlace(other, middle)];
  const moved_mm = Math.hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm, other.z_mm - one.z_mm);
  return moved_mm + Math.abs(other.angle_rad - one.angle_rad) * reach_mm;
}

/** How far a path takes the furthest point of a body of that reach, leg by leg, mm. */
function legLengths_mm(path: Path, middle: Place, reach_mm: number): number[] {
  return path.slice(1).map((to, k) => legLength_mm(path[k]!, to, middle, reach_mm));
}

/** The same of the whole path, mm. */
export function pathLength_mm(path: Path, middle: Place, reach_mm: number): number {
  return legLengths_mm(path, middle, reach_mm).reduce((sum, length) => sum + length, 0);
}

/** What moves as one, and what stands in its way. */
export class Course {
  /** The middle of what moves, as drawn; turns are about it. */
  readonly middle: Place;
  readonly reach_mm: number;
  private readonly space: Space;
  private readonly moving: readonly Stander[];
  private readonly standing: Posed[];

  constructor(space: Space, moving: readonly Stander[], standing: readonly Stander[]) {
    this.space = space;
    this.moving = moving;
    this.standing = standing.map(({ body, at }) => pose(body, at));
    const [first, ...rest] = moving;
    const radius = ({ body }: Stander): number => body.around.radius_mm;
    const largest = first && rest.reduce((most, next) => (radius(most) >= radius(next) ? most : next), first);
    this.middle = largest ? shiftedPlace(largest.at, largest.body.around) : HOME;
    this.reach_mm = largest ? radius(largest) : 0;
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

  /**
   * Whether one can go all of a length in a direction; tried from coarse to fine, so that a blocked way is told soon.
   */
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
/**
 * Directions tried for the legs round a corner: those asked for, the two along the axle, and some round the side plane.
 */
const CORNER_DIRECTIONS = 24;
/** A way in shorter than this is none, mm. */
const LEAST_mm = 6;

/** How long a way must be, and how hard it is looked for. */
export interface Asked {
  readonly length_mm: number;
  /**
   * Along the axle; as long as any other when absent. Between two arms a way along the axle leads out only when it is
   * long.
   */
  readonly axial_mm?: number;
  /** Points of the lattice that are looked at before it is given up; 0 for a corner at most. */
  readonly looks?: number;
}

function lengthOf({ z }: Direction, { length_mm, axial_mm = length_mm }: Asked): number {
  return z === 0 ? length_mm : axial_mm;
}

/**
 * The path by which a part is brought in to `goal`, as long as was asked where there is room; the way that was asked
 * for comes first. A path of one way point: there is no way in, the part is simply there.
 */
export function pathIn(course: Course, goal: Shift, wanted: readonly Direction[], asked: Asked): Path {
  if (!course.isFree(goal)) return [goal];
  let best: Path = [goal];
  let longest = LEAST_mm - STRIDE_mm;
  for (const direction of directions(wanted)) {
    const needed = lengthOf(direction, asked);
    const length = course.freeLength_mm(goal, direction, needed);
    const path = [moveOn(goal, direction, length), goal];
    if (length + STRIDE_mm > needed) return path;
    if (length > longest) [best, longest] = [path, length];
  }
  return (
    cornered(course, goal, wanted, asked) ??
    searched(course, goal, asked.length_mm, asked.looks ?? LATTICE.most) ??
    best
  );
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
  readonly cell: readonly number[];
  readonly out_mm: number;
  readonly legs: number;
  readonly before?: Node;
}

/** Over places and turns, those furthest out first, until the part is far enough out. */
function searched(course: Course, goal: Shift, length_mm: number, most: number): Path | undefined {
  const seen = new Set(['0 0 0 0']);
  const open: Node[] = [{ at: goal, cell: [0, 0, 0, 0], out_mm: 0, legs: 0 }];
  for (let looked = 0; looked < most && open.length > 0; looked++) {
    const before = open.splice(bestOf(open), 1)[0]!;
    if (before.out_mm >= length_mm) return shortened(course, trailOf(before));
    for (const step of LATTICE_STEPS) {
      const cell = before.cell.map((value, k) => value + step[k]!);
      const key = cell.join(' ');
      if (seen.has(key)) continue;
      seen.add(key);
      const [x = 0, y = 0, z = 0, turn = 0] = cell;
      const place = moveOn(goal, { x, y, z }, LATTICE.place_mm);
      const at = after(turnAbout(course.middle, turn * LATTICE.turn_rad), place);
      const out_mm = Math.hypot(x, y, z) * LATTICE.place_mm;
      if (course.isLegFree(before.at, at)) open.push({ at, cell, out_mm, legs: before.legs + 1, before });
    }
  }
  return undefined;
}

/** One step along each of the lattice's four axes, both ways. */
const LATTICE_STEPS = [0, 1, 2, 3].flatMap((axis) =>
  [1, -1].map((sign) => [0, 1, 2, 3].map((k) => (k === axis ? sign : 0))),
);

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
export function alongPath(path: Path, share: number, middle: Place, reach_mm: number): Shift {
  const last = path.at(-1) ?? HOME;
  if (path.length < 2 || share >= 1) return last;
  let left = Math.max(0, share) * pathLength_mm(path, middle, reach_mm);
  for (const [k, length] of legLengths_mm(path, middle, reach_mm).entries()) {
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
  spacer: 45,
  throughArms: 110,
  axle: 40,
  receiver: 32,
  bearing: 34,
  tool: 45,
} as const;

/** How long a spacer's way is looked for: what goes round no corner is shut in. */
const SPACER_LOOKS = 200;

/** A shift that only slides along z. */
export function along(z_mm: number): Shift {
  return z_mm === 0 ? HOME : { ...HOME, z_mm };
}

/**
 * From outside along the axle, or aside from where nothing stands; between two arms only a long way along the axle
 * leads out.
 */
export function spacerPath(
  course: Course,
  goal: Shift,
  own: Joined,
  id: string,
  side: Side,
  looks: number = SPACER_LOOKS,
): Path {
  const { low, high, shutBy } = own.spacers.find((spacer) => spacer.item.id === id) ?? {};
  const isBetween = !shutBy && low !== undefined && high !== undefined;
  const wanted = isBetween ? inPlane(Math.PI / 2) : alongAxle(shutBy ? outward(side) : low ? 1 : -1);
  const axial_mm = isBetween ? FROM_mm.throughArms : FROM_mm.spacer;
  return pathIn(course, goal, [wanted], { length_mm: FROM_mm.spacer, axial_mm, looks });
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
  about: Place,
  on: ReadonlySet<string>,
): number {
  const swept = sweptBox(bike.boxes.get(unit)!, about);
  const near = [...on].filter((id) => id !== unit && bike.pieces.has(id) && boxGap_mm(swept, bike.boxes.get(id)!) <= 0);
  return remembered(rooms, `${unit} ${about.x_mm} ${about.y_mm} ${near.sort().join(' ')}`, () => {
    const [own, ...others] = [unit, ...near].map((id) => ({ body: bodies.get(id)!, at: HOME }));
    const course = new Course(space, [own!], others);
    const free = (sign: number): number => {
      let angle = 0;
      while (angle < SWING.most_rad && course.isFree(turnAbout(about, sign * (angle + SWING.step_rad))))
        angle += SWING.step_rad;
      return angle;
    };
    return Math.max(free(1), free(-1));
  });
}

/** Everywhere a unit can get to by turning about a place. */
function sweptBox({ xFrom_mm, xTo_mm, yFrom_mm, yTo_mm }: Box, { x_mm, y_mm }: Place): Box {
  const x = Math.max(Math.abs(xFrom_mm - x_mm), Math.abs(xTo_mm - x_mm));
  const y = Math.max(Math.abs(yFrom_mm - y_mm), Math.abs(yTo_mm - y_mm));
  const reach = Math.hypot(x, y);
  return { xFrom_mm: x_mm - reach, xTo_mm: x_mm + reach, yFrom_mm: y_mm - reach, yTo_mm: y_mm + reach };
}
