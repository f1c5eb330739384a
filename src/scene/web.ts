/**
 * Webs of a member: the plate or tube that joins two bosses, as plain arrays.
 *
 * In the side plane a web is bounded by the two outer tangents of its boss circles (or, with a height of its own, by
 * two parallels) and ends on the circles themselves, so that no web ever closes a bore. Its cross-section is a
 * rectangle with rounded corners, swept from the one arc to the other; where the bosses stand at different z the web
 * bends over in an S. Lengths in mm, x forward, y up, z to the drive side.
 */
import { emptySurface, type Surface } from './surface.ts';
import { cross, minus, unit, type Point3 } from './vector.ts';

/** One end of a web: the circle of its boss in the side plane, and the middle of that boss along z; mm. */
export interface WebEnd {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly z_mm: number;
  readonly radius_mm: number;
}

/** Sizes of a web at one of its ends, mm; without a height it is as tall as the boss. */
export interface WebSize {
  readonly thickness_mm: number;
  readonly height_mm?: number;
}

/** How a web is made, tapering from one size to the other; mm. `rounding` 0 is a plate with a fine bevel, 1 a tube. */
export interface WebShape {
  readonly start: WebSize;
  readonly end: WebSize;
  /** Middle of the web along z, held over its whole length. */
  readonly z_mm?: number;
  readonly rounding: number;
  /** Depth of the forged recess in both faces. */
  readonly recess_mm: number;
  /** A cut-out through both faces. */
  readonly window?: Window;
}

/** How far a window reaches along the plate: 0 at the first boss circle, 1 at the second. */
export interface Window {
  readonly from: number;
  readonly to: number;
  /** Width as a share of the plate's, 0 to 1. */
  readonly width: number;
}

type Point2 = readonly [x: number, y: number];

/** How deep a web dips into its bosses, so that no gap shows between a facet and an arc; mm. */
const BURIED_mm = 0.5;
const STEPS_ALONG = 8;
const STEPS_ACROSS = 6;
const STEPS_CORNER = 3;
/** Rings of a face round a window. */
const WINDOW_RINGS = 4;
/** How square a window's ends are: 2 is an ellipse. */
const SQUARENESS = 2.7;

/**
 * The hull of two circles as a polygon, anticlockwise: both outer tangents and the two far arcs. Empty when one circle
 * holds the other.
 */
export function tangentHull(a: WebEnd, b: WebEnd, steps = 24): Point2[] {
  const { length, angle } = span(a, b);
  if (length <= Math.abs(a.radius_mm - b.radius_mm)) return [];
  const lean = Math.acos((a.radius_mm - b.radius_mm) / length);
  const arc = (end: WebEnd, from: number, to: number): Point2[] =>
    Array.from({ length: steps + 1 }, (_, k) => on(end, end.radius_mm, from + ((to - from) * k) / steps));
  return [...arc(b, angle - lean, angle + lean), ...arc(a, angle + lean, angle + 2 * Math.PI - lean)];
}

/** True when two ends stand over one another in the side plane: the web between them is a bridge along z. */
export function isBridge(a: WebEnd, b: WebEnd): boolean {
  return span(a, b).length < 0.5;
}

/** The point at an angle, rad, of a window's border: a closed curve about 0 that reaches from −1 to 1 both ways. */
export function onWindow(angle: number): Point2 {
  const round = (value: number): number => Math.sign(value) * Math.abs(value) ** (2 / SQUARENESS);
  return [round(Math.cos(angle)), round(Math.sin(angle))];
}

/** The surface of a web between two ends that do not stand over one another. Empty when the bosses swallow it. */
export function loftWeb(a: WebEnd, b: WebEnd, shape: WebShape): Surface {
  const surface = emptySurface();
  const rails = railsOf(a, b, shape);
  if (!rails) return surface;
  const { start, end } = shape;
  const thin = Math.min(start.thickness_mm, end.thickness_mm);
  const section = sectionOf(thin / 2, rails.halfWidth_mm, shape.rounding);
  const halfAt = (u: number): number => (start.thickness_mm + (end.thickness_mm - start.thickness_mm) * u) / 2;
  const at = (u: number, v: number, w: number): Point3 => {
    const [x0, y0] = rails.start(v);
    const [x1, y1] = rails.end(v);
    const dip = 1 - (shape.recess_mm / halfAt(u)) * plateau(u, 0.2) * plateau((v + 1) / 2, 0.2);
    return [x0 + (x1 - x0) * u, y0 + (y1 - y0) * u, middle(u, a, b, shape) + w * dip * halfAt(u)];
  };
  const columns = section.length;
  for (let i = 0; i <= STEPS_ALONG; i += 1) {
    const u = i / STEPS_ALONG;
    for (const point of section) {
      const place = at(u, point.v, point.w);
      surface.positions.push(...place);
      surface.normals.push(...normalAt(at, u, point, rails));
      surface.uvs.push(place[0], place[1]);
    }
  }
  const isOpen = (j: number): boolean =>
    shape.window !== undefined && (section[j]!.isFace || section[(j + 1) % columns]!.isFace);
  for (let i = 0; i < STEPS_ALONG; i += 1) {
    for (let j = 0; j < columns; j += 1) {
      if (isOpen(j)) continue;
      const here = i * columns + j;
      const beside = i * columns + ((j + 1) % columns);
      surface.index.push(here, beside, here + columns, beside, beside + columns, here + columns);
    }
  }
  if (shape.window) cutWindow(surface, shape.window, section, at, rails);
  closeEnd(surface, at(0, 0, 0), 0, columns, -1);
  closeEnd(surface, at(1, 0, 0), STEPS_ALONG * columns, columns, 1);
  return surface;
}

type At = (u: number, v: number, w: number) => Point3;

/** Both faces round a window, ring by ring from the face's border inward, and the wall between them. */
function cutWindow(surface: Surface, window: Window, section: readonly SectionPoint[], at: At, rails: Rails): void {
  const add = (place: Point3, normal: Point3): number => {
    surface.positions.push(...place);
    surface.normals.push(...normal);
    surface.uvs.push(place[0], place[1]);
    return surface.positions.length / 3 - 1;
  };
  const columns = section.length;
  const middle = (window.from + window.to) / 2;
  const half = (window.to - window.from) / 2;
  const edge = (u: number, v: number): readonly [number, number] => {
    const [x, y] = onWindow(Math.atan2(v / window.width, (u - middle) / half));
    return [middle + half * x, window.width * y];
  };
  for (const sign of [1, -1]) {
    const faces = section.map((point, j) => (point.isFace && point.w === sign ? j : -1)).filter((j) => j >= 0);
    const [first, last] = [faces[0]! - 1, faces.at(-1)! + 1];
    const loop: (readonly [i: number, j: number])[] = [];
    for (let j = first; j < last; j += 1) loop.push([0, j]);
    for (let i = 0; i < STEPS_ALONG; i += 1) loop.push([i, last]);
    for (let j = last; j > first; j -= 1) loop.push([STEPS_ALONG, j]);
    for (let i = STEPS_ALONG; i > 0; i -= 1) loop.push([i, first]);
    const border = loop.map(([i, j]) => ({ u: i / STEPS_ALONG, v: section[j]!.v }));
    const rims = border.map(({ u, v }) => edge(u, v));
    let outer = loop.map(([i, j]) => i * columns + j);
    for (let k = 1; k <= WINDOW_RINGS; k += 1) {
      const share = k / WINDOW_RINGS;
      const inner = border.map(({ u, v }, p): number => {
        const [ru, rv] = rims[p]!;
        const [pu, pv] = [u + (ru - u) * share, v + (rv - v) * share];
        return add(at(pu, pv, sign), normalAt(at, pu, { v: pv, w: sign, nv: 0, nw: sign, isFace: true }, rails));
      });
      outer.forEach((here, p) => {
        const next = (p + 1) % outer.length;
        surface.index.push(here, outer[next]!, inner[p]!, outer[next]!, inner[next]!, inner[p]!);
      });
      outer = inner;
    }
    if (sign < 0) continue;
    const hub = at(middle, 0, 0);
    const wall = rims.map(([u, v], p) => {
      const [before, after] = [rims.at(p - 1)!, rims[(p + 1) % rims.length]!].map(([a, b]) => at(a, b, 0)) as [
        Point3,
        Point3,
      ];
      const along = minus(after, before);
      const out = unit([along[1], -along[0], 0]);
      const own = at(u, v, 0);
      const isInward = out[0] * (hub[0] - own[0]) + out[1] * (hub[1] - own[1]) >= 0;
      const normal: Point3 = isInward ? out : [-out[0], -out[1], 0];
      return [add(at(u, v, 1), normal), add(at(u, v, -1), normal)] as const;
    });
    wall.forEach(([top, bottom], p) => {
      const [nextTop, nextBottom] = wall[(p + 1) % wall.length]!;
      surface.index.push(top, nextTop, bottom, nextTop, nextBottom, bottom);
    });
  }
}

interface Rails {
  readonly start: (v: number) => Point2;
  readonly end: (v: number) => Point2;
  /** Unit normal of the edge at v = ±1, in the side plane. */
  readonly side: (sign: number) => Point2;
  readonly halfWidth_mm: number;
}

interface SectionPoint {
  readonly v: number;
  readonly w: number;
  readonly nv: number;
  readonly nw: number;
  readonly isFace: boolean;
}

function span(a: WebEnd, b: WebEnd): { length: number; angle: number } {
  const dx = b.x_mm - a.x_mm;
  const dy = b.y_mm - a.y_mm;
  return { length: Math.hypot(dx, dy), angle: Math.atan2(dy, dx) };
}

function on(end: WebEnd, radius_mm: number, angle: number): Point2 {
  return [end.x_mm + radius_mm * Math.cos(angle), end.y_mm + radius_mm * Math.sin(angle)];
}

function railsOf(a: WebEnd, b: WebEnd, shape: WebShape): Rails | undefined {
  const { length, angle } = span(a, b);
  const ra = Math.max(a.radius_mm - BURIED_mm, a.radius_mm * 0.8);
  const rb = Math.max(b.radius_mm - BURIED_mm, b.radius_mm * 0.8);
  if (length <= Math.abs(ra - rb) + 0.1) return undefined;
  if (shape.start.height_mm === undefined || shape.end.height_mm === undefined) {
    const lean = Math.acos((ra - rb) / length);
    return {
      start: (v) => on(a, ra, angle + lean * v),
      end: (v) => on(b, rb, angle + Math.PI - (Math.PI - lean) * v),
      side: (sign) => [Math.cos(angle + lean * sign), Math.sin(angle + lean * sign)],
      halfWidth_mm: (ra + rb) / 2,
    };
  }
  const ha = Math.min(shape.start.height_mm / 2, ra);
  const hb = Math.min(shape.end.height_mm / 2, rb);
  const half = (h: number, r: number, v: number): number => Math.asin(Math.max(-1, Math.min(1, (h * v) / r)));
  return {
    start: (v) => on(a, ra, angle + half(ha, ra, v)),
    end: (v) => on(b, rb, angle + Math.PI - half(hb, rb, v)),
    side: (sign) => [-Math.sin(angle) * sign, Math.cos(angle) * sign],
    halfWidth_mm: (ha + hb) / 2,
  };
}

/** The cross-section, anticlockwise seen along the web: v across and w along z, both −1 to 1. */
function sectionOf(halfThick: number, halfWidth_mm: number, rounding: number): SectionPoint[] {
  const fine = Math.min(1.6, halfThick * 0.4, halfWidth_mm * 0.4);
  const full = Math.min(halfThick, halfWidth_mm) * 0.96;
  const corner = fine + (full - fine) * rounding;
  const cv = corner / halfWidth_mm;
  const cw = corner / halfThick;
  const points: SectionPoint[] = [];
  const addCorner = (sv: number, sw: number, from: number): void => {
    for (let k = 0; k <= STEPS_CORNER; k += 1) {
      const t = from + ((Math.PI / 2) * k) / STEPS_CORNER;
      points.push({
        v: sv * (1 - cv) + cv * Math.cos(t),
        w: sw * (1 - cw) + cw * Math.sin(t),
        nv: Math.cos(t),
        nw: Math.sin(t),
        isFace: false,
      });
    }
  };
  const addFace = (sign: number): void => {
    for (let k = 1; k < STEPS_ACROSS; k += 1) {
      const v = sign * (1 - cv) * (1 - (2 * k) / STEPS_ACROSS);
      points.push({ v, w: sign, nv: 0, nw: sign, isFace: true });
    }
  };
  addCorner(1, 1, 0);
  addFace(1);
  addCorner(-1, 1, Math.PI / 2);
  addCorner(-1, -1, Math.PI);
  addFace(-1);
  addCorner(1, -1, 1.5 * Math.PI);
  return points;
}

function middle(u: number, a: WebEnd, b: WebEnd, shape: WebShape): number {
  if (shape.z_mm !== undefined) return shape.z_mm;
  return a.z_mm + (b.z_mm - a.z_mm) * u * u * (3 - 2 * u);
}

/** 0 at both ends, 1 over the middle, smooth between. */
function plateau(t: number, edge: number): number {
  const ramp = (s: number): number => (s <= 0 ? 0 : s >= 1 ? 1 : s * s * (3 - 2 * s));
  return ramp((t - edge * 0.6) / edge) * ramp((1 - t - edge * 0.6) / edge);
}

function normalAt(
  at: (u: number, v: number, w: number) => Point3,
  u: number,
  point: SectionPoint,
  rails: Rails,
): Point3 {
  const e = 0.01;
  const along = minus(at(Math.min(1, u + e), point.v, point.w), at(Math.max(0, u - e), point.v, point.w));
  if (point.isFace) {
    const across = minus(at(u, point.v + e, point.w), at(u, point.v - e, point.w));
    const n = unit(cross(along, across));
    return n[2] * point.nw >= 0 ? n : [-n[0], -n[1], -n[2]];
  }
  const [sx, sy] = rails.side(point.v >= 0 ? 1 : -1);
  const raw: Point3 = [sx * Math.abs(point.nv), sy * Math.abs(point.nv), point.nw];
  const t = unit(along);
  const lean = raw[0] * t[0] + raw[1] * t[1] + raw[2] * t[2];
  return unit([raw[0] - lean * t[0], raw[1] - lean * t[1], raw[2] - lean * t[2]]);
}

function closeEnd(surface: Surface, centre: Point3, from: number, columns: number, sign: number): void {
  const hub = surface.positions.length / 3;
  const first = from * 3;
  const [x, y] = [surface.positions[first]!, surface.positions[first + 1]!];
  surface.positions.push(...centre);
  surface.normals.push(0, 0, 1);
  surface.uvs.push(x, y);
  for (let j = 0; j < columns; j += 1) {
    const here = from + j;
    const beside = from + ((j + 1) % columns);
    if (sign > 0) surface.index.push(hub, here, beside);
    else surface.index.push(hub, beside, here);
  }
}
