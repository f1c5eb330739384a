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
 */
import { hullGap } from '../travel/clearance.ts';
import type { Disc } from '../travel/outline.ts';
import type { PlacedItem, Polygon } from '../types.ts';
import type { Place } from '../travel/planar.ts';
import { type Bike, type Joined, type Piece, type Reach, boxOf, remembered } from './bike.ts';
import { type ToolRoom, across_mm, handleAt, isKey, isNumbered, outward } from './room.ts';

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
    return { a: from, b: a === b ? from : drawnBack(b, a, openings), hole_mm: 0, openings, zFrom_mm, zTo_mm };
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
  const gap = apart >= 0 ? 0 : Math.max(apart, within(one, other, otherAt), within(other, one, oneAt));
  return gap >= 0 ? 0 : Math.min(-gap, shared);
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
