/**
 * Solid bodies of the bike for motion: units, obstacles, everything on the axles, tools, and how deep two of them run
 * into one another.
 *
 * A body is a set of shapes, each the hull of two discs with a reach along z. What is turned about an axle is cut into
 * slices, each a ring between two radii; a web is open where the bosses at its ends stand, whose own rings count there.
 * Two shapes run into one another by the lesser of what they share along z and in the side plane. Parts that are drawn
 * into one another at their places (a thread in its nut, a web in its boss) may be so elsewhere, as deep and no deeper:
 * `excess_mm` is what lies beyond that. mm, rad, places as drawn; slices of a cone are off by a quarter of a mm at
 * most.
 *
 * Paths without a collision: how a part gets to its place past everything that stands there.
 *
 * A path is a row of way points that ends where the part belongs; between two of them it moves evenly. Looked for from
 * the place outward: first straight the way that was asked for, then straight any way, then round a corner, and last by
 * a search over a lattice of places and turns (shortest way out, in the order of the lattice). Every leg is tried at
 * steps finer than the thinnest part is thick. The first way found is taken, so that the same question always has the
 * same answer. mm, rad.
 */
import type { Side } from '../model/schema.ts';
import { hullGap } from '../travel/clearance.ts';
import type { Disc } from '../travel/outline.ts';
import type { Place } from '../travel/planar.ts';
import type { PlacedItem, Polygon } from '../types.ts';
import { type Bike, type Box, boxGap_mm, boxOf, type Joined, type Piece, type Reach, remembered } from './bike.ts';
import { across_mm, handleAt, isKey, isNumbered, outward, type ToolRoom } from './room.ts';

/** From the place as drawn: a turn about the bike's origin, anticlockwise seen from the drive side, then a shift. */
export interface Shift extends Place {
  readonly z_mm: number;
  readonly angle_rad: number;
}

/** At the place as drawn. */
export const HOME: Shift = { x_mm: 0, y_mm: 0, z_mm: 0, angle_rad: 0 };

/** The hull of two discs over a reach along z. */
export interface Shape extends Reach {
  readonly a: Disc;
  readonly b: Disc;
  /** A spacer's inner radius, mm; 0 of what is full. */
  readonly hole_mm: number;
  /** Where a web is open because a boss of its own stands there. */
  readonly openings: readonly Disc[];
  /** Straight edges at which a web ends: what of its round ends lies behind them is open. */
  readonly ends?: readonly End[];
}

/** A straight edge through a place; material lies only on the side that the direction looks to. */
interface End extends Place {
  readonly angle_rad: number;
}

/** Where something stands: a circle and a reach that hold it all. */
interface Extent extends Reach {
  readonly around: Disc;
}

/** What moves or stands as one piece. */
export interface Body extends Extent {
  /** Of a unit, an obstacle, an item, or a tool. */
  readonly id: string;
  readonly kind: 'unit' | 'obstacle' | 'item' | 'tool';
  readonly shapes: readonly Shape[];
}

/** Slices of a round bar. */
const BAR_SLICES = 10;
const ON_AXIS_mm = 0.01;
/** A slanted edge is cut so that its slices differ by no more than this, mm. */
const SLICE_mm = 0.5;

/** A body of shapes. */
export function bodyOf(id: string, kind: Body['kind'], shapes: readonly Shape[]): Body {
  const { xFrom_mm, xTo_mm, yFrom_mm, yTo_mm } = boxOf(shapes);
  const around = {
    x_mm: (xFrom_mm + xTo_mm) / 2,
    y_mm: (yFrom_mm + yTo_mm) / 2,
    radius_mm: Math.hypot(xTo_mm - xFrom_mm, yTo_mm - yFrom_mm) / 2,
  };
  return {
    id,
    kind,
    shapes,
    around: shapes.length === 0 ? { x_mm: 0, y_mm: 0, radius_mm: 0 } : around,
    zFrom_mm: Math.min(...shapes.map(({ zFrom_mm }) => zFrom_mm)),
    zTo_mm: Math.max(...shapes.map(({ zTo_mm }) => zTo_mm)),
  };
}

/** Rings of a profile: at every slice along z each stretch of material between two radii, mm. */
export function slices(
  polygon: Polygon,
): { readonly inner_mm: number; readonly outer_mm: number; readonly from_mm: number; readonly to_mm: number }[] {
  const edges = polygon.map((corner, k) => [corner, polygon[(k + 1) % polygon.length]!] as const);
  const cuts = new Set(polygon.map(([, z]) => z));
  for (const [[r0, z0], [r1, z1]] of edges) {
    const count = Math.abs(z1 - z0) < 1e-9 ? 1 : Math.ceil(Math.abs(r1 - r0) / SLICE_mm);
    for (let k = 1; k < count; k++) cuts.add(z0 + ((z1 - z0) * k) / count);
  }
  const heights = [...cuts].sort((one, other) => one - other);
  return heights.slice(1).flatMap((to_mm, k) => {
    const from_mm = heights[k]!;
    if (to_mm - from_mm < 1e-9) return [];
    const z = (from_mm + to_mm) / 2;
    const radii = edges
      .flatMap(([[r0, z0], [r1, z1]]) => (z0 < z !== z1 < z ? [r0 + ((r1 - r0) * (z - z0)) / (z1 - z0)] : []))
      .sort((one, other) => one - other);
    return radii.flatMap((inner_mm, at) =>
      at % 2 === 0 && radii[at + 1] !== undefined ? [{ inner_mm, outer_mm: radii[at + 1]!, from_mm, to_mm }] : [],
    );
  });
}

/** A ring about an axis between two heights, whichever is the lower. */
function ringShape({ x_mm, y_mm }: Place, radius_mm: number, hole_mm: number, from: number, to: number): Shape {
  const disc = { x_mm, y_mm, radius_mm };
  return { a: disc, b: disc, hole_mm, openings: [], zFrom_mm: Math.min(from, to), zTo_mm: Math.max(from, to) };
}

/** What an item is made of, as rings about its axle. */
function itemShapes({ item, own }: Boss): Shape[] {
  return item.solids.flatMap(({ polygon }) =>
    slices(polygon).map(({ inner_mm, outer_mm, from_mm, to_mm }) =>
      ringShape(own.place, outer_mm, inner_mm, from_mm, to_mm),
    ),
  );
}

/** An item and the axle it is on. */
interface Boss {
  readonly item: PlacedItem;
  readonly own: Joined;
}

/** All bodies of a bike: its units with their bosses, its obstacles, and every item that is no boss. */
function bodiesOf(bike: Bike): ReadonlyMap<string, Body> {
  const bodies = new Map<string, Body>();
  const bosses = new Map<string, Boss>();
  for (const own of bike.stacks) {
    for (const item of own.items) {
      if (item.member === undefined) bodies.set(item.id, bodyOf(item.id, 'item', itemShapes({ item, own })));
      else if (item.role === 'boss' || item.role === 'receiver')
        bosses.set(`${item.member}/${item.bore ?? ''}`, { item, own });
    }
  }
  const make = (owner: string, share: number): Body => {
    const pieces = bike.pieces.get(owner)!;
    const shapes = pieces.flatMap((piece) => pieceShapes(thinned(piece, share), pieces, bosses));
    return bodyOf(owner, bike.units.has(owner) ? 'unit' : 'obstacle', shapes);
  };
  for (const owner of bike.pieces.keys()) bodies.set(owner, make(owner, 1));
  const units = [...bike.units.keys()];
  for (const [owner, pieces] of bike.pieces) {
    if (!pieces.some(({ isEstimate }) => isEstimate)) continue;
    const others = units.filter((id) => id !== owner).map((id) => bodies.get(id)!);
    const isDrawnIn = (): boolean => others.some((other) => drawnDepths(bodies.get(owner)!, other).most_mm > 0);
    for (let share = 1; share > LEAST_SHARE && isDrawnIn(); share -= 0.04) bodies.set(owner, make(owner, share));
  }
  return bodies;
}

/** How much thinner than estimated a part may be, so that it is not drawn into its neighbours. */
const LEAST_SHARE = 0.4;

/** A disc a share as large. */
function thin(disc: Disc, share: number): Disc {
  return { ...disc, radius_mm: disc.radius_mm * share };
}

/** A part whose thickness is estimated, as thin as a share of it. */
function thinned(piece: Piece, share: number): Piece {
  if (!piece.isEstimate || share === 1) return piece;
  const [middle, half] = [(piece.zFrom_mm + piece.zTo_mm) / 2, ((piece.zTo_mm - piece.zFrom_mm) / 2) * share];
  const [a, b] = [thin(piece.a, share), thin(piece.b, share)];
  return { ...piece, a, b, zFrom_mm: middle - half, zTo_mm: middle + half };
}

function pieceShapes(piece: Piece, all: readonly Piece[], bosses: ReadonlyMap<string, Boss>): Shape[] {
  const bossOf = ({ member, what }: Piece): Boss | undefined => bosses.get(`${member}/${what}`);
  const boss = bossOf(piece);
  if (boss) return itemShapes(boss);
  const openings = all.flatMap((other) => (bossOf(other) && isAtEnd(piece, other.a) ? [other.a] : []));
  // A shock's can and shaft are round bars: thinner the further from their middle.
  const bars = piece.isEstimate ? barSlices(piece) : [piece];
  return bars.map(({ a, b, zFrom_mm, zTo_mm }): Shape => {
    const from = drawnBack(a, b, openings);
    const to = a === b ? from : drawnBack(b, a, openings);
    return { a: from, b: to, hole_mm: 0, openings, ends: endsOf([a, from], [b, to]), zFrom_mm, zTo_mm };
  });
}

/** The end of a web drawn back to where its edges come out of the boss it ends in. */
function drawnBack(end: Disc, other: Disc, openings: readonly Disc[]): Disc {
  const length = Math.hypot(other.x_mm - end.x_mm, other.y_mm - end.y_mm);
  const boss = openings.find(
    ({ x_mm, y_mm, radius_mm }) =>
      Math.hypot(x_mm - end.x_mm, y_mm - end.y_mm) < ON_AXIS_mm && radius_mm > end.radius_mm,
  );
  if (!boss || length === 0) return end;
  const share = Math.min(0.5, Math.sqrt(boss.radius_mm ** 2 - end.radius_mm ** 2) / length);
  const mix = (size: keyof Disc): number => end[size] + (other[size] - end[size]) * share;
  return { x_mm: mix('x_mm'), y_mm: mix('y_mm'), radius_mm: mix('radius_mm') };
}

/**
 * The edges of a web of even height at the ends that were drawn back. Where its sides come out of the boss, all that
 * lies nearer to the boss's middle is in the boss.
 */
function endsOf(one: readonly [Disc, Disc], other: readonly [Disc, Disc]): End[] {
  if (one[0].radius_mm !== other[0].radius_mm) return [];
  return [one, other].flatMap(([end, { x_mm, y_mm }]): End[] => {
    const [x, y] = [x_mm - end.x_mm, y_mm - end.y_mm];
    return x === 0 && y === 0 ? [] : [{ x_mm, y_mm, angle_rad: Math.atan2(y, x) }];
  });
}

/** A round bar along its line, cut across z. */
function barSlices({ a, b, zFrom_mm, zTo_mm }: Piece): Pick<Shape, 'a' | 'b' | 'zFrom_mm' | 'zTo_mm'>[] {
  const [middle, half] = [(zFrom_mm + zTo_mm) / 2, (zTo_mm - zFrom_mm) / 2];
  return Array.from({ length: BAR_SLICES }, (_, k) => {
    const [low, high] = [k, k + 1].map((at) => -half * Math.cos((Math.PI * at) / BAR_SLICES));
    const share = Math.sin((Math.PI * (k + 0.5)) / BAR_SLICES);
    return { a: thin(a, share), b: thin(b, share), zFrom_mm: middle + low!, zTo_mm: middle + high! };
  });
}

/** Whether a boss stands within a web: one at its end, or the eye that a shock's can or shaft ends in. */
function isAtEnd(piece: Piece, boss: Disc): boolean {
  const eye = piece.isEstimate ? boss : { ...boss, radius_mm: 0 };
  return hullGap(piece, { a: eye, b: eye }).gap_mm <= 0;
}

/** Of a bit in its socket: how far the bare bit stands out, mm, and its radius for its size across flats. */
const BIT = { bare_mm: 24, radius_per_size: 0.58 } as const;

/** A tool with its handle at an angle: shank about the axle, open where it goes over what it works on. */
export function toolBody(room: ToolRoom, handle_rad: number, over_mm: number): Body {
  const { shank, handle, tool, role } = room;
  const { x_mm, y_mm } = shank;
  const isBit = role === 'turns' && isKey(tool);
  const hole = !isBit && over_mm < shank.radius_mm ? over_mm : 0;
  const [near, far] = outward(room.side) > 0 ? [shank.zFrom_mm, shank.zTo_mm] : [shank.zTo_mm, shank.zFrom_mm];
  const bare = near + outward(room.side) * BIT.bare_mm;
  const bit_mm = isNumbered(tool) ? across_mm(tool) / 2 : tool.size_mm * BIT.radius_per_size;
  return bodyOf(`${room.item} ${role}`, 'tool', [
    ...(isBit
      ? [ringShape(shank, bit_mm, 0, near, bare), ringShape(shank, shank.radius_mm, 0, bare, far)]
      : [ringShape(shank, shank.radius_mm, hole, near, far)]),
    {
      ...handleAt(room, handle_rad),
      hole_mm: 0,
      openings: hole > 0 ? [{ x_mm, y_mm, radius_mm: hole }] : [],
      zFrom_mm: handle.zFrom_mm,
      zTo_mm: handle.zTo_mm,
    },
  ]);
}

/** A shape where it stands. */
interface Placed extends Extent {
  readonly shape: Shape;
  readonly a: Disc;
  readonly b: Disc;
}

/** A body where it stands. */
export interface Posed extends Extent {
  readonly body: Body;
  readonly at: Shift;
  readonly shapes: readonly Placed[];
}

function moved(disc: Disc, at: Shift, cos: number, sin: number): Disc {
  const { x_mm, y_mm, radius_mm } = disc;
  if (at === HOME) return disc;
  return { x_mm: at.x_mm + cos * x_mm - sin * y_mm, y_mm: at.y_mm + sin * x_mm + cos * y_mm, radius_mm };
}

/** A body placed. */
export function pose(body: Body, at: Shift): Posed {
  const [cos, sin] = [Math.cos(at.angle_rad), Math.sin(at.angle_rad)];
  const shapes = body.shapes.map((shape): Placed => {
    const a = moved(shape.a, at, cos, sin);
    const b = shape.b === shape.a ? a : moved(shape.b, at, cos, sin);
    return {
      shape,
      a,
      b,
      around: a === b ? a : circleOf(a, b),
      zFrom_mm: shape.zFrom_mm + at.z_mm,
      zTo_mm: shape.zTo_mm + at.z_mm,
    };
  });
  return {
    body,
    at,
    around: moved(body.around, at, cos, sin),
    zFrom_mm: body.zFrom_mm + at.z_mm,
    zTo_mm: body.zTo_mm + at.z_mm,
    shapes,
  };
}

function circleOf(a: Disc, b: Disc): Disc {
  return {
    x_mm: (a.x_mm + b.x_mm) / 2,
    y_mm: (a.y_mm + b.y_mm) / 2,
    radius_mm: Math.hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm) / 2 + Math.max(a.radius_mm, b.radius_mm),
  };
}

function areNear(one: Extent, other: Extent): boolean {
  if (one.zTo_mm <= other.zFrom_mm || other.zTo_mm <= one.zFrom_mm) return false;
  const [x, y] = [one.around.x_mm - other.around.x_mm, one.around.y_mm - other.around.y_mm];
  const reach = one.around.radius_mm + other.around.radius_mm;
  return x * x + y * y < reach * reach;
}

/** How deep two shapes that are near run into one another, mm; 0 where they do not. */
function depth(one: Placed, oneAt: Shift, other: Placed, otherAt: Shift): number {
  const shared = Math.min(one.zTo_mm, other.zTo_mm) - Math.max(one.zFrom_mm, other.zFrom_mm);
  const isRound = one.a === one.b && other.a === other.b;
  const apart = isRound
    ? Math.hypot(one.a.x_mm - other.a.x_mm, one.a.y_mm - other.a.y_mm) - one.a.radius_mm - other.a.radius_mm
    : hullGap(one, other).gap_mm;
  const gap = apart >= 0 ? 0 : Math.max(apart, besides(one, other, otherAt), besides(other, one, oneAt));
  return gap >= 0 ? 0 : Math.min(-gap, shared);
}

/** Room of `one` within the holes of a shape or behind its ends, mm; far below 0 where there are none. */
function besides(one: Placed, shape: Placed, shapeAt: Shift): number {
  return Math.max(within(one, shape, shapeAt), behind(one, shape, shapeAt));
}

/** Room left behind the edges at which a web ends, mm. */
function behind({ a, b }: Placed, { shape }: Placed, at: Shift): number {
  let most = -Infinity;
  for (const end of shape.ends ?? []) {
    const { x_mm, y_mm } = shiftedPlace(at, end);
    const [cos, sin] = [Math.cos(end.angle_rad + at.angle_rad), Math.sin(end.angle_rad + at.angle_rad)];
    const reach = (disc: Disc): number => (disc.x_mm - x_mm) * cos + (disc.y_mm - y_mm) * sin + disc.radius_mm;
    most = Math.max(most, -Math.max(reach(a), reach(b)));
  }
  return most;
}

/** Room left where `inner` lies within a hole of `outer`, mm; far below 0 where there is no hole. */
function within(inner: Placed, outer: Placed, outerAt: Shift): number {
  const { hole_mm, openings } = outer.shape;
  if (hole_mm === 0 && openings.length === 0) return -Infinity;
  const room = (x_mm: number, y_mm: number, radius_mm: number): number =>
    radius_mm -
    Math.max(
      Math.hypot(inner.a.x_mm - x_mm, inner.a.y_mm - y_mm) + inner.a.radius_mm,
      inner.a === inner.b ? 0 : Math.hypot(inner.b.x_mm - x_mm, inner.b.y_mm - y_mm) + inner.b.radius_mm,
    );
  let most = hole_mm > 0 ? room(outer.a.x_mm, outer.a.y_mm, hole_mm) : -Infinity;
  if (openings.length === 0) return most;
  const [cos, sin] = [Math.cos(outerAt.angle_rad), Math.sin(outerAt.angle_rad)];
  for (const opening of openings) {
    const { x_mm, y_mm, radius_mm } = moved(opening, outerAt, cos, sin);
    most = Math.max(most, room(x_mm, y_mm, radius_mm));
  }
  return most;
}

/** Bodies in space; remembers how deep which of them are drawn into one another. */
export class Space {
  private readonly home = new Map<string, Drawn>();

  /** How much deeper two bodies run into one another than they are drawn at their places, mm; 0 where they do not. */
  excess_mm(one: Posed, other: Posed): number {
    if (!areNear(one, other)) return 0;
    let most = 0;
    one.shapes.forEach((own, k) => {
      if (!areNear(own, other)) return;
      other.shapes.forEach((their, at) => {
        if (!areNear(own, their)) return;
        const deep = depth(own, one.at, their, other.at);
        if (deep > most) most = Math.max(most, deep - this.drawn_mm(one.body, k, other.body, at));
      });
    });
    return most;
  }

  /** Depth as drawn: of two units shape by shape, of what is turned about an axle as a whole. */
  private drawn_mm(one: Body, k: number, other: Body, at: number): number {
    if (one.kind === 'tool' || other.kind === 'tool') return 0;
    const known = remembered(this.home, `${one.id} ${other.id}`, () => drawnDepths(one, other));
    const isWhole = one.kind === 'item' || other.kind === 'item';
    return isWhole ? known.most_mm : (known.each.get(k * other.shapes.length + at) ?? 0);
  }
}

interface Drawn {
  readonly most_mm: number;
  readonly each: ReadonlyMap<number, number>;
}

function drawnDepths(one: Body, other: Body): Drawn {
  const each = new Map<number, number>();
  const [here, there] = [pose(one, HOME), pose(other, HOME)];
  here.shapes.forEach((own, k) => {
    there.shapes.forEach((their, at) => {
      const deep = areNear(own, their) ? depth(own, HOME, their, HOME) : 0;
      if (deep > 0) each.set(k * other.shapes.length + at, deep);
    });
  });
  return { most_mm: Math.max(0, ...each.values()), each };
}

/** The bodies of one bike, what is known of their places, and how far which of them can be swung. */
export class Solids {
  readonly bike: Bike;
  readonly space = new Space();
  /** Widest free swings, rad, by unit, place and what stands near. */
  readonly rooms = new Map<string, number>();
  private made: ReadonlyMap<string, Body> | undefined;

  constructor(bike: Bike) {
    this.bike = bike;
  }

  /** By id, made when they are first asked for. */
  get bodies(): ReadonlyMap<string, Body> {
    return (this.made ??= bodiesOf(this.bike));
  }
}

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
