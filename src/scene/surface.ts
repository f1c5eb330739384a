/**
 * Surfaces as plain arrays: what a profile in (r, z) becomes when it is turned about the axis.
 *
 * Every edge of the polygon sweeps one band of quads. Neighbouring bands share a normal only where the profile bends by
 * less than `CREASE_deg`, so that a chamfer stays a chamfer and a polished curve stays smooth; the longer band has the
 * greater say, so that a rounded edge does not dull the face beside it. The seam repeats its first column exactly:
 * merged by place, the surface is closed. Lengths in mm, the axis is z, triangles wound outward. No three here:
 * `geometry.ts` is the one adapter.
 */
import type { Corner, Polygon } from '../../shared/index.ts';
import { shaded } from './shade.ts';
import { cross, minus, unit, type Point3 } from './vector.ts';

/** One triangle mesh: positions in mm, unit normals, uv in mm along the surface, triangles counted from 0. */
export interface Surface {
  readonly positions: number[];
  readonly normals: number[];
  readonly uvs: number[];
  readonly index: number[];
  /** Share of the light that reaches each corner, where one is not open to all of it. */
  readonly shades?: number[];
}

/** Spanner flats between two places along the axis: corners beyond them are cut back to a regular prism. */
export interface Flats {
  readonly sides: number;
  readonly across_mm: number;
  readonly from_mm: number;
  readonly to_mm: number;
}

/** A straight knurl on a cylinder between two places along the axis: a groove of `depth_mm` to every second facet. */
export interface Knurl {
  readonly depth_mm: number;
  readonly from_mm: number;
  readonly to_mm: number;
}

/** Bend of a profile from which its shading breaks, degrees. */
export const CREASE_deg = 33;

/** Facets from which a surface is near enough for its shade to be seen fading. */
const BROKEN_FROM = 60;

const ON_AXIS_mm = 1e-7;

/** An empty surface to push into. */
export function emptySurface(): Surface {
  return { positions: [], normals: [], uvs: [], index: [] };
}

/**
 * A flat face into a surface: its corners, anticlockwise seen from outside, convex. One without an area is left out.
 */
export function addFace(surface: Surface, ...corners: readonly [Point3, Point3, Point3, ...Point3[]]): void {
  const [a, b] = corners;
  const across = cross(minus(b, a), minus(corners.at(-1)!, a));
  if (Math.hypot(...across) < 1e-9) return;
  const base = surface.positions.length / 3;
  const normal = unit(across);
  corners.forEach((corner, k) => {
    surface.positions.push(...corner);
    surface.normals.push(...normal);
    surface.uvs.push(corner[0], corner[1]);
    if (k >= 2) surface.index.push(base, base + k - 1, base + k);
  });
}

/** Several surfaces as one. */
export function joinSurfaces(surfaces: readonly Surface[]): Surface {
  const all: Surface = { ...emptySurface(), shades: [] };
  for (const surface of surfaces) {
    const base = all.positions.length / 3;
    for (const value of surface.positions) all.positions.push(value);
    for (const value of surface.normals) all.normals.push(value);
    for (const value of surface.uvs) all.uvs.push(value);
    for (const corner of surface.index) all.index.push(base + corner);
    for (let k = 0; k < surface.positions.length / 3; k += 1) all.shades!.push(surface.shades?.[k] ?? 1);
  }
  return all;
}

/** Twice the signed area of a polygon in (r, z); > 0 when it runs anticlockwise. */
export function signedArea2(polygon: Polygon): number {
  let sum = 0;
  polygon.forEach(([r, z], k) => {
    const [rNext, zNext] = polygon[(k + 1) % polygon.length]!;
    sum += r * zNext - rNext * z;
  });
  return sum;
}

/** Turns a closed profile about the axis into `segments` facets. */
export function revolve(polygon: Polygon, segments: number, flats?: Flats, knurl?: Knurl): Surface {
  const { ring, shades } = shaded(anticlockwise(polygon), segments >= BROKEN_FROM);
  const surface: Surface = { ...emptySurface(), shades: [] };
  const turn = circle(segments);
  const slopes = ring.map((corner, k) => edgeNormal(corner, ring[(k + 1) % ring.length]!));
  const lengths = ring.map(([r, z], k) =>
    Math.hypot(ring[(k + 1) % ring.length]![0] - r, ring[(k + 1) % ring.length]![1] - z),
  );
  let along_mm = 0;
  ring.forEach((a, k) => {
    const b = ring[(k + 1) % ring.length]!;
    const slope = slopes[k]!;
    const length_mm = lengths[k]!;
    if (length_mm > 0 && (a[0] > ON_AXIS_mm || b[0] > ON_AXIS_mm)) {
      const before = (k + ring.length - 1) % ring.length;
      const after = (k + 1) % ring.length;
      const na = blend(slope, slopes[before]!, length_mm, lengths[before]!);
      const nb = blend(slope, slopes[after]!, length_mm, lengths[after]!);
      const band: Band = { a, b, na, nb, along_mm, length_mm };
      if (flats && isCutBack(band, flats)) pushFlatBand(surface, band, turn, flats);
      else if (knurl && isKnurled(band, knurl)) pushKnurl(surface, band, turn, knurl);
      else pushBand(surface, band, turn);
      shadeBand(surface, band, shades[k]!, shades[after]!);
    }
    along_mm += length_mm;
  });
  return surface;
}

/** Radius at an angle once the flats have taken their share, mm. */
function flattenedRadius(corner: Corner, angle_rad: number, flats: Flats): number {
  const [r, z] = corner;
  if (z < flats.from_mm - 1e-6 || z > flats.to_mm + 1e-6) return r;
  const step = (2 * Math.PI) / flats.sides;
  const off = angle_rad - step * Math.round(angle_rad / step);
  return Math.min(r, flats.across_mm / 2 / Math.cos(off));
}

/** A corner of a band belongs to that end of it which it lies nearer to. */
function shadeBand({ positions, shades }: Surface, { a, b }: Band, atA: number, atB: number): void {
  const length2 = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
  for (let k = shades!.length; k < positions.length / 3; k += 1) {
    const [r, z] = [Math.hypot(positions[3 * k]!, positions[3 * k + 1]!), positions[3 * k + 2]!];
    const t = ((r - a[0]) * (b[0] - a[0]) + (z - a[1]) * (b[1] - a[1])) / length2;
    shades!.push(atA + (atB - atA) * Math.min(1, Math.max(0, t)));
  }
}

interface Band {
  readonly a: Corner;
  readonly b: Corner;
  readonly na: Normal;
  readonly nb: Normal;
  readonly along_mm: number;
  readonly length_mm: number;
}
type Normal = readonly [r: number, z: number];

function anticlockwise(polygon: Polygon): Polygon {
  return signedArea2(polygon) >= 0 ? polygon : [...polygon].reverse();
}

/** Cosines and sines of a full turn; the last column is the first one again, bit for bit. */
function circle(segments: number): readonly (readonly [cos: number, sin: number, angle_rad: number])[] {
  return Array.from({ length: segments + 1 }, (_, j) => {
    const angle = (2 * Math.PI * j) / segments;
    const closed = j === segments ? 0 : angle;
    return [Math.cos(closed), Math.sin(closed), angle] as const;
  });
}

function edgeNormal(a: Corner, b: Corner): Normal {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  return [(b[1] - a[1]) / length, -(b[0] - a[0]) / length];
}

function blend(own: Normal, other: Normal, ownLength: number, otherLength: number): Normal {
  const cosine = own[0] * other[0] + own[1] * other[1];
  if (otherLength === 0 || cosine < Math.cos((CREASE_deg * Math.PI) / 180)) return own;
  const r = own[0] * ownLength + other[0] * otherLength;
  const z = own[1] * ownLength + other[1] * otherLength;
  const length = Math.hypot(r, z) || 1;
  return [r / length, z / length];
}

function pushBand(surface: Surface, band: Band, turn: ReturnType<typeof circle>): void {
  const base = surface.positions.length / 3;
  const radius = Math.max(band.a[0], band.b[0]);
  for (const [cos, sin, angle] of turn) {
    surface.positions.push(band.a[0] * cos, band.a[0] * sin, band.a[1], band.b[0] * cos, band.b[0] * sin, band.b[1]);
    surface.normals.push(
      band.na[0] * cos,
      band.na[0] * sin,
      band.na[1],
      band.nb[0] * cos,
      band.nb[0] * sin,
      band.nb[1],
    );
    surface.uvs.push(angle * radius, band.along_mm, angle * radius, band.along_mm + band.length_mm);
  }
  for (let j = 0; j + 1 < turn.length; j += 1) {
    const a = base + 2 * j;
    if (band.a[0] > ON_AXIS_mm) surface.index.push(a, a + 2, a + 1);
    if (band.b[0] > ON_AXIS_mm) surface.index.push(a + 1, a + 2, a + 3);
  }
}

function isKnurled({ a, b }: Band, knurl: Knurl): boolean {
  const [low, high] = a[1] < b[1] ? [a[1], b[1]] : [b[1], a[1]];
  return Math.abs(a[0] - b[0]) < 1e-6 && b[1] > a[1] && low < knurl.to_mm && high > knurl.from_mm;
}

/**
 * The grooves of a knurl on one outer band: ridges at the band's own radius, roots below it, flat between. The two ends
 * of the band stay round, so that its neighbours meet it.
 */
function pushKnurl(
  surface: Surface,
  { a, b, na, along_mm }: Band,
  turn: ReturnType<typeof circle>,
  knurl: Knurl,
): void {
  const low = Math.max(a[1], knurl.from_mm);
  const high = Math.min(b[1], knurl.to_mm);
  const fade = Math.min(knurl.depth_mm, (high - low) / 4);
  const places = [a[1], low, low + fade, high - fade, high, b[1]].filter(
    (z, k, all) => k === 0 || z - all[k - 1]! > 1e-6,
  );
  const last = turn.length - 1;
  const radius = (z: number, j: number): number =>
    (j % last) % 2 === 0 || z <= low + 1e-9 || z >= high - 1e-9 ? a[0] : a[0] - knurl.depth_mm;
  for (let j = 0; j < last; j += 1) {
    const [c0, s0, t0] = turn[j]!;
    const [c1, s1, t1] = turn[j + 1]!;
    for (let k = 0; k + 1 < places.length; k += 1) {
      const [z0, z1] = [places[k]!, places[k + 1]!];
      const [ra0, rb0, ra1, rb1] = [radius(z0, j), radius(z1, j), radius(z0, j + 1), radius(z1, j + 1)];
      const corners = [
        [ra0 * c0, ra0 * s0, z0],
        [rb0 * c0, rb0 * s0, z1],
        [ra1 * c1, ra1 * s1, z0],
        [rb1 * c1, rb1 * s1, z1],
      ] as const;
      const isRound = [ra0, rb0, ra1, rb1].every((r) => r === a[0]);
      const flat = faceNormal(corners);
      const base = surface.positions.length / 3;
      corners.forEach((corner, c) => {
        const [cos, sin] = c < 2 ? [c0, s0] : [c1, s1];
        surface.positions.push(...corner);
        surface.normals.push(...(isRound ? [na[0] * cos, na[0] * sin, na[1]] : flat));
        surface.uvs.push((c < 2 ? t0 : t1) * a[0], along_mm + corner[2] - a[1]);
      });
      surface.index.push(base, base + 2, base + 1, base + 1, base + 2, base + 3);
    }
  }
}

/**
 * The profile turned inside out, each corner's normal leaning outward as far as a mitre does: moved along it and drawn
 * behind the solid, it leaves a rim of ink round the silhouette.
 */
export function shell(polygon: Polygon, segments: number, flats?: Flats): Surface {
  const ring = anticlockwise(polygon);
  const surface = emptySurface();
  const turn = circle(segments);
  ring.forEach(([r, z], k) => {
    const before = edgeNormal(ring[(k + ring.length - 1) % ring.length]!, [r, z]);
    const after = edgeNormal([r, z], ring[(k + 1) % ring.length]!);
    const sum = [before[0] + after[0], before[1] + after[1]] as const;
    const length = Math.hypot(...sum) || 1;
    // A mitre at a sharp corner is at most twice as long as the rim is wide.
    const lean = Math.min(2, 2 / length) / length;
    for (const [cos, sin, angle] of turn) {
      const own = flats ? flattenedRadius([r, z], angle, flats) : r;
      surface.positions.push(own * cos, own * sin, z);
      surface.normals.push(sum[0] * lean * cos, sum[0] * lean * sin, sum[1] * lean);
      surface.uvs.push(0, 0);
    }
  });
  const wide = turn.length;
  ring.forEach(([r], k) => {
    const next = (k + 1) % ring.length;
    if (r < ON_AXIS_mm && ring[next]![0] < ON_AXIS_mm) return;
    for (let j = 0; j + 1 < wide; j += 1) {
      const [a, b] = [k * wide + j, next * wide + j];
      surface.index.push(a, b, a + 1, a + 1, b, b + 1);
    }
  });
  return surface;
}

/** Any surface turned inside out, as `shell` does it to a profile. */
export function insideOut(surface: Surface): Surface {
  const index: number[] = [];
  for (let k = 0; k < surface.index.length; k += 3)
    index.push(surface.index[k]!, surface.index[k + 2]!, surface.index[k + 1]!);
  return { ...surface, index };
}

function isCutBack(band: Band, flats: Flats): boolean {
  return [band.a, band.b].some(
    (corner) => corner[0] > flats.across_mm / 2 && corner[1] >= flats.from_mm - 1e-6 && corner[1] <= flats.to_mm + 1e-6,
  );
}

/** A band that flats touch: each quad has corners of its own, flat where it is cut and round where it is not. */
function pushFlatBand(surface: Surface, band: Band, turn: ReturnType<typeof circle>, flats: Flats): void {
  for (let j = 0; j + 1 < turn.length; j += 1) {
    const [c0, s0, t0] = turn[j]!;
    const [c1, s1, t1] = turn[j + 1]!;
    // The last column must measure its radius at the first angle, or the seam opens by a rounding.
    const seam = j + 2 === turn.length ? 0 : t1;
    const ra0 = flattenedRadius(band.a, t0, flats);
    const rb0 = flattenedRadius(band.b, t0, flats);
    const ra1 = flattenedRadius(band.a, seam, flats);
    const rb1 = flattenedRadius(band.b, seam, flats);
    const isRound = ra0 === band.a[0] && rb0 === band.b[0] && ra1 === band.a[0] && rb1 === band.b[0];
    const corners = [
      [ra0 * c0, ra0 * s0, band.a[1]],
      [rb0 * c0, rb0 * s0, band.b[1]],
      [ra1 * c1, ra1 * s1, band.a[1]],
      [rb1 * c1, rb1 * s1, band.b[1]],
    ] as const;
    const flat = faceNormal(corners);
    const base = surface.positions.length / 3;
    corners.forEach((corner, k) => {
      const [cos, sin] = k < 2 ? [c0, s0] : [c1, s1];
      const n = k % 2 === 0 ? band.na : band.nb;
      surface.positions.push(...corner);
      surface.normals.push(...(isRound ? [n[0] * cos, n[0] * sin, n[1]] : flat));
      surface.uvs.push((k < 2 ? t0 : t1) * band.a[0], band.along_mm + (k % 2) * band.length_mm);
    });
    if (ra0 > ON_AXIS_mm) surface.index.push(base, base + 2, base + 1);
    if (rb0 > ON_AXIS_mm) surface.index.push(base + 1, base + 2, base + 3);
  }
}

type Point = readonly [number, number, number];

/**
 * Normal of a quad (a0, b0, a1, b1) wound as the index winds it; from its diagonals, so a collapsed side does no harm.
 */
function faceNormal([a0, b0, a1, b1]: readonly [Point, Point, Point, Point]): number[] {
  const u = [b1[0] - a0[0], b1[1] - a0[1], b1[2] - a0[2]] as const;
  const v = [b0[0] - a1[0], b0[1] - a1[1], b0[2] - a1[2]] as const;
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]] as const;
  const length = Math.hypot(...n) || 1;
  return n.map((part) => part / length);
}
