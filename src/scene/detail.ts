/**
 * Profiles dressed for the picture: rounded edges, thread ridges, drive sockets, seal lips, nut chamfers, and what the
 * drawing asks of a profile (its radius at a place, its faces, the corners that carry a line).
 *
 * A dressed profile is again a closed polygon in (r, z), so lathe and section cap come from the same one. Contact is
 * computed elsewhere, from the plain profile. Lengths in mm.
 */
import type { Corner, DriveTool, Polygon } from '../../shared/index.ts';
import { CREASE_deg, emptySurface, signedArea2, type Flats, type Knurl, type Surface } from './surface.ts';

const NEAR_mm = 1e-4;
/** Depth of an ISO metric external thread over its pitch, 17/24 · H with H = 0.866 · pitch (ISO 68-1), rounded. */
const THREAD_DEPTH = 0.61;
const SOCKET_DEPTH = 0.62;

/** Cuts V grooves of one pitch into every cylinder of the profile that the thread runs over; `inner` cuts the bore. */
export function withThread(
  polygon: Polygon,
  thread: { readonly from_mm: number; readonly to_mm: number; readonly pitch_mm: number; readonly inner: boolean },
): Polygon {
  const low = Math.min(thread.from_mm, thread.to_mm);
  const high = Math.max(thread.from_mm, thread.to_mm);
  const upward = signedArea2(polygon) >= 0 ? 1 : -1;
  return polygon.flatMap((a, k): Corner[] => {
    const b = polygon[(k + 1) % polygon.length]!;
    const isCylinder = Math.abs(a[0] - b[0]) < NEAR_mm && a[0] > NEAR_mm;
    const facesOut = Math.sign(b[1] - a[1]) * upward > 0;
    const from = Math.max(low, Math.min(a[1], b[1]));
    const to = Math.min(high, Math.max(a[1], b[1]));
    const turns = Math.floor((to - from) / thread.pitch_mm);
    if (!isCylinder || facesOut === thread.inner || turns < 1) return [a];
    const root = a[0] + (thread.inner ? 1 : -1) * THREAD_DEPTH * thread.pitch_mm;
    const grooves: Corner[] = [[a[0], from]];
    for (let t = 0; t < turns; t += 1) {
      const z = from + t * thread.pitch_mm;
      grooves.push(
        [root, z + thread.pitch_mm * 0.44],
        [root, z + thread.pitch_mm * 0.56],
        [a[0], z + thread.pitch_mm * 0.94],
      );
      grooves.push([a[0], z + thread.pitch_mm]);
    }
    const inOrder = b[1] > a[1] ? grooves : grooves.reverse();
    return [a, ...inOrder.filter((corner) => !same(corner, a) && !same(corner, b))];
  });
}

/** Rounding of an edge that the file leaves sharp, mm: enough to catch a light. */
const ROUND_mm = 0.3;
/** Edges shorter than this are bevels already, mm. */
const SHORTEST_ROUNDED_mm = 0.9;
const SHARP_deg = 50;

/** Rounds every sharp outward corner between two edges long enough for it; takes material away and adds none. */
export function rounded(polygon: Polygon, radius_mm: number = ROUND_mm): Polygon {
  const turn = signedArea2(polygon) >= 0 ? 1 : -1;
  return polygon.flatMap((corner, k): Corner[] => {
    const before = polygon[(k + polygon.length - 1) % polygon.length]!;
    const after = polygon[(k + 1) % polygon.length]!;
    const u = [corner[0] - before[0], corner[1] - before[1]] as const;
    const v = [after[0] - corner[0], after[1] - corner[1]] as const;
    const [lu, lv] = [Math.hypot(...u), Math.hypot(...v)];
    const bend = Math.atan2(turn * (u[0] * v[1] - u[1] * v[0]), u[0] * v[0] + u[1] * v[1]);
    if (
      corner[0] < NEAR_mm ||
      lu < SHORTEST_ROUNDED_mm ||
      lv < SHORTEST_ROUNDED_mm ||
      bend < (SHARP_deg * Math.PI) / 180
    )
      return [corner];
    const [cut, cutAfter] = [Math.min(radius_mm, lu * 0.28) / lu, Math.min(radius_mm, lv * 0.28) / lv];
    const a = [corner[0] - u[0] * cut, corner[1] - u[1] * cut] as const;
    const b = [corner[0] + v[0] * cutAfter, corner[1] + v[1] * cutAfter] as const;
    // A curve with the corner as its control point stays within the corner.
    return [0, 1 / 3, 2 / 3, 1].map(
      (t) =>
        [0, 1].map((c) => (1 - t) ** 2 * a[c]! + 2 * t * (1 - t) * corner[c]! + t * t * b[c]!) as unknown as Corner,
    );
  });
}

/**
 * A seal's outer face as it is moulded: a flat where it is pressed into the outer ring, a groove, and a lip that runs
 * on the inner ring. `sign` tells which way it looks. Proportions from memory of common seals.
 */
export function withLip(seal: Polygon, sign: 1 | -1): Polygon {
  const { from_mm, to_mm } = extent(seal);
  const inner = Math.min(...seal.map(([r]) => r));
  const outer = Math.max(...seal.map(([r]) => r));
  const [wide, thick] = [outer - inner, to_mm - from_mm];
  if (wide < 0.8 || thick < 0.2) return seal;
  const face = (share: number, depth: number): Corner => [
    inner + wide * share,
    (sign > 0 ? to_mm : from_mm) - sign * thick * depth,
  ];
  const back = sign > 0 ? from_mm : to_mm;
  const front = [
    face(0, 0.1),
    face(0.07, 0),
    face(0.2, 0.05),
    face(0.28, 0.55),
    face(0.42, 0.55),
    face(0.52, 0.22),
    face(0.72, 0.16),
    face(0.76, 0),
    face(1, 0),
  ];
  // Anticlockwise in (r, z): a face toward the drive side is walked inward.
  return sign > 0 ? [[inner, back], [outer, back], ...front.reverse()] : [...front, [outer, back], [inner, back]];
}

/** Angle of the chamfer on a hexagon's end, degrees: ISO 4032 allows 15 to 30; from memory. */
const NUT_CHAMFER_deg = 27;

/** The corners of a hexagon turned off at its free end: the profile meets the end a little outside the flats. */
export function withNutChamfer(polygon: Polygon, end_mm: number, flats: Flats): Polygon {
  const corner = Math.min(flats.across_mm / Math.sqrt(3), extent(polygon).radius_mm);
  const start = (flats.across_mm / 2) * 0.985;
  const inward = end_mm > centre(polygon) ? -1 : 1;
  const deep = (corner - start) * Math.tan((NUT_CHAMFER_deg * Math.PI) / 180);
  if (deep < 0.1 || deep > (flats.to_mm - flats.from_mm) / 2) return polygon;
  const steps = 4;
  const slope = Array.from(
    { length: steps + 1 },
    (_, k): Corner => [start + ((corner - start) * k) / steps, end_mm + (inward * deep * k) / steps],
  );
  const isGone = ([r, z]: Corner): boolean => r > start && Math.abs(z - end_mm) < deep + NEAR_mm;
  const first = polygon.findIndex(
    (point, k) => isGone(point) && !isGone(polygon[(k + polygon.length - 1) % polygon.length]!),
  );
  if (first < 0) return polygon;
  const turned = [...polygon.slice(first), ...polygon.slice(0, first)];
  const kept = turned.filter((point) => !isGone(point));
  // Where the walk comes from tells which way the slope is climbed.
  const comesFromEnd = Math.abs(turned.at(-1)![1] - end_mm) < NEAR_mm;
  const lastCorner: Corner = [extent(polygon).radius_mm, end_mm + inward * deep];
  const climb = extent(polygon).radius_mm > corner + NEAR_mm ? [...slope, lastCorner] : slope;
  return [...(comesFromEnd ? climb : [...climb].reverse()), ...kept];
}

/** A head that fingers start: knurled, as socket screws are (ISO 4762 allows it plain or knurled; from memory). */
export function knurlOf(polygon: Polygon, end_mm: number): Knurl | undefined {
  const { from_mm, to_mm } = extent(polygon);
  const inward = end_mm > (from_mm + to_mm) / 2 ? -1 : 1;
  const head = outerRadius(polygon, end_mm + inward * 1.2);
  let deep = 1.2;
  while (deep < 8 && Math.abs(outerRadius(polygon, end_mm + inward * (deep + 0.1)) - head) < 0.02) deep += 0.1;
  if (deep < 2.2) return undefined;
  const [a, b] = [end_mm + inward * 0.8, end_mm + inward * (deep - 0.5)];
  return { depth_mm: 0.26, from_mm: Math.min(a, b), to_mm: Math.max(a, b) };
}

/** What a drive tool leaves in the end of a part: the outline of the hole, its radii and depth; mm. */
export interface Socket {
  readonly shape: 'hex' | 'star' | 'splined';
  /** Radius of the circle around the hole, and of the largest circle inside it. */
  readonly around_mm: number;
  readonly within_mm: number;
  readonly depth_mm: number;
}

/** The socket a tool needs; undefined for a tool that grips from outside. */
export function socketOf(drive: DriveTool): Socket | undefined {
  const across = drive.size_mm;
  if (drive.tool === 'hex-key') {
    return { shape: 'hex', around_mm: across / Math.sqrt(3), within_mm: across / 2, depth_mm: across * SOCKET_DEPTH };
  }
  if (drive.tool === 'star-key') {
    // Star keys go by a number; above 12 it cannot be a width across points on a linkage axle. From memory: T30 is 5.6
    // mm.
    const points = across > 12 ? across * 0.187 : across;
    return { shape: 'star', around_mm: points / 2, within_mm: points * 0.36, depth_mm: points * SOCKET_DEPTH };
  }
  if (drive.tool === 'cassette-socket') {
    return { shape: 'splined', around_mm: across / 2, within_mm: across / 2 - 1.1, depth_mm: 6 };
  }
  return undefined;
}

/**
 * Sinks a round pocket of `radius_mm` into the end face at `end_mm`. The profile comes back unchanged where the face is
 * not there, or is too narrow for the pocket.
 */
export function withPocket(polygon: Polygon, end_mm: number, radius_mm: number, depth_mm: number): Polygon {
  for (let k = 0; k < polygon.length; k += 1) {
    const a = polygon[k]!;
    const b = polygon[(k + 1) % polygon.length]!;
    const isFace = Math.abs(a[1] - end_mm) < NEAR_mm && Math.abs(b[1] - end_mm) < NEAR_mm;
    const [low, high] = a[0] < b[0] ? [a, b] : [b, a];
    if (!isFace || high[0] < radius_mm + 0.15 || low[0] > radius_mm - 0.15) continue;
    const inward = end_mm > centre(polygon) ? -1 : 1;
    const floor = end_mm + inward * depth_mm;
    const pocket: Corner[] = [
      [low[0], floor],
      [radius_mm, floor],
      [radius_mm, end_mm],
    ];
    const rest = [...polygon.slice(k + 1), ...polygon.slice(0, k + 1)];
    // `rest` starts at b and ends at a: the pocket replaces whichever of the two lies on the inside.
    return low === a ? [...rest.slice(0, -1), ...pocket] : [...pocket.reverse(), ...rest.slice(1)];
  }
  return polygon;
}

/** Radius of a hole that a profile leaves open at an end, mm; 0 where the end is closed. */
export function openingAt(polygon: Polygon, end_mm: number): number {
  const radii = polygon.filter(([, z]) => Math.abs(z - end_mm) < NEAR_mm).map(([r]) => r);
  return radii.length === 0 ? 0 : Math.min(...radii);
}

/** Outline of a socket's hole about the axis, anticlockwise, mm. */
export function socketOutline(socket: Socket): [x: number, y: number][] {
  const count = socket.shape === 'hex' ? 6 : socket.shape === 'star' ? 72 : 48;
  const middle = (socket.around_mm + socket.within_mm) / 2;
  const swing = (socket.around_mm - socket.within_mm) / 2;
  return Array.from({ length: count }, (_, k) => {
    const t = (2 * Math.PI * k) / count;
    if (socket.shape === 'hex') return [socket.around_mm * Math.cos(t), socket.around_mm * Math.sin(t)];
    const wave = socket.shape === 'star' ? Math.cos(6 * t) : Math.floor(k / 2) % 2 === 0 ? 1 : -1;
    const r = middle + swing * wave;
    return [r * Math.cos(t), r * Math.sin(t)];
  });
}

/**
 * The lining of a drive socket: a plug of a radius with the tool's hole in it, from z = 0 `depth_mm` toward −z; no
 * floor. With `sign` −1 it opens the other way, turned about the x axis, so that it stays wound outward.
 */
export function socketSurface(socket: Socket, plug_mm: number, sign: 1 | -1): Surface {
  const surface = emptySurface();
  const outline = socketOutline(socket);
  const count = socket.shape === 'hex' ? 72 : outline.length;
  const edge = (j: number): readonly [number, number] => {
    const at = (j * outline.length) / count;
    const [a, b] = [outline[Math.floor(at) % outline.length]!, outline[(Math.floor(at) + 1) % outline.length]!];
    const t = at - Math.floor(at);
    return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
  };
  const push = (
    points: readonly (readonly [number, number, number])[],
    normal: readonly [number, number, number],
  ): void => {
    const base = surface.positions.length / 3;
    for (const [x, y, z] of points) surface.positions.push(x, sign * y, sign * z);
    for (const _ of points) surface.normals.push(normal[0], sign * normal[1], sign * normal[2]);
    for (const [x, y] of points) surface.uvs.push(x, y);
    surface.index.push(base, base + 1, base + 2, base, base + 2, base + 3);
  };
  for (let j = 0; j < count; j += 1) {
    const [x0, y0] = edge(j);
    const [x1, y1] = edge(j + 1);
    const length = Math.hypot(x1 - x0, y1 - y0) || 1;
    const [inX, inY] = [-(y1 - y0) / length, (x1 - x0) / length];
    push(
      [
        [x0, y0, 0],
        [x1, y1, 0],
        [x1, y1, -socket.depth_mm],
        [x0, y0, -socket.depth_mm],
      ],
      [inX, inY, 0],
    );
    const rim = (x: number, y: number): readonly [number, number, number] => {
      const r = Math.hypot(x, y) || 1;
      return [(x / r) * (plug_mm + 0.02), (y / r) * (plug_mm + 0.02), 0];
    };
    push([[x0, y0, 0], rim(x0, y0), rim(x1, y1), [x1, y1, 0]], [0, 0, 1]);
  }
  return surface;
}

/** Spanner flats at one end of a part, reaching as far along it as it is thick enough. */
export function flatsOf(polygon: Polygon, end_mm: number, across_mm: number): Flats | undefined {
  const span = extent(polygon);
  const inward = end_mm > (span.from_mm + span.to_mm) / 2 ? -1 : 1;
  const atEnd = outerRadius(polygon, end_mm + inward * Math.min(2, (span.to_mm - span.from_mm) / 3));
  if (atEnd <= 0) return undefined;
  // A nut whose profile is no wider than its flats is drawn as the hexagon inside its circle.
  const apothem = Math.min(across_mm / 2, atEnd * 0.9);
  let depth_mm = 0;
  while (
    depth_mm < Math.min(14, span.to_mm - span.from_mm) &&
    outerRadius(polygon, end_mm + inward * (depth_mm + 0.25)) > apothem + 0.05
  ) {
    depth_mm += 0.25;
  }
  if (depth_mm < 1) return undefined;
  const reach = end_mm + inward * depth_mm;
  return { sides: 6, across_mm: 2 * apothem, from_mm: Math.min(end_mm, reach), to_mm: Math.max(end_mm, reach) };
}

/** Non-drive and drive end of a profile, mm. */
export function extent(polygon: Polygon): {
  readonly from_mm: number;
  readonly to_mm: number;
  readonly radius_mm: number;
} {
  const z = polygon.map((corner) => corner[1]);
  return { from_mm: Math.min(...z), to_mm: Math.max(...z), radius_mm: Math.max(...polygon.map((corner) => corner[0])) };
}

/** Largest radius of the material at a place along the axis, mm; 0 beyond the ends. */
export function outerRadius(polygon: Polygon, z_mm: number): number {
  let radius = 0;
  forEachEdge(polygon, (a, b) => {
    const [low, high] = a[1] <= b[1] ? [a, b] : [b, a];
    if (z_mm < low[1] - NEAR_mm || z_mm > high[1] + NEAR_mm) return;
    const run = high[1] - low[1];
    const t = run < NEAR_mm ? 1 : Math.min(1, Math.max(0, (z_mm - low[1]) / run));
    radius = Math.max(radius, run < NEAR_mm ? Math.max(a[0], b[0]) : low[0] + (high[0] - low[0]) * t);
  });
  return radius;
}

/**
 * Where the material at a radius ends toward one side, mm; undefined where there is none. `sign` +1 is the drive side.
 */
export function faceAt(polygon: Polygon, r_mm: number, sign: 1 | -1): number | undefined {
  let face: number | undefined;
  forEachEdge(polygon, (a, b) => {
    const [low, high] = a[0] <= b[0] ? [a, b] : [b, a];
    if (r_mm < low[0] - NEAR_mm || r_mm > high[0] + NEAR_mm) return;
    const run = high[0] - low[0];
    const t = run < NEAR_mm ? 0 : (r_mm - low[0]) / run;
    const places = run < NEAR_mm ? [a[1], b[1]] : [low[1] + (high[1] - low[1]) * t];
    for (const z of places) if (face === undefined || (z - face) * sign > 0) face = z;
  });
  return face;
}

/** Inner and outer radius of the flat end face toward one side, mm; undefined where the end is an edge. */
export function endFace(polygon: Polygon, sign: 1 | -1): { r0: number; r1: number; z_mm: number } | undefined {
  const { from_mm, to_mm } = extent(polygon);
  const end = sign > 0 ? to_mm : from_mm;
  let found: { r0: number; r1: number; z_mm: number } | undefined;
  forEachEdge(polygon, (a, b) => {
    if (Math.abs(a[1] - end) > NEAR_mm || Math.abs(b[1] - end) > NEAR_mm || Math.abs(a[0] - b[0]) < NEAR_mm) return;
    const r0 = Math.min(a[0], b[0], found?.r0 ?? Infinity);
    const r1 = Math.max(a[0], b[0], found?.r1 ?? 0);
    found = { r0, r1, z_mm: end };
  });
  return found;
}

/** Corners of a profile sharp enough to carry a drawn line. */
export function sharpCorners(polygon: Polygon): Corner[] {
  const sharp = Math.cos((CREASE_deg * Math.PI) / 180);
  return polygon.filter((corner, k) => {
    const before = polygon[(k + polygon.length - 1) % polygon.length]!;
    const after = polygon[(k + 1) % polygon.length]!;
    const u = [corner[0] - before[0], corner[1] - before[1]] as const;
    const v = [after[0] - corner[0], after[1] - corner[1]] as const;
    const cosine = (u[0] * v[0] + u[1] * v[1]) / (Math.hypot(...u) * Math.hypot(...v) || 1);
    return corner[0] > NEAR_mm && cosine < sharp;
  });
}

function forEachEdge(polygon: Polygon, visit: (a: Corner, b: Corner) => void): void {
  polygon.forEach((a, k) => visit(a, polygon[(k + 1) % polygon.length]!));
}

function centre(polygon: Polygon): number {
  const { from_mm, to_mm } = extent(polygon);
  return (from_mm + to_mm) / 2;
}

function same(a: Corner, b: Corner): boolean {
  return Math.abs(a[0] - b[0]) < NEAR_mm && Math.abs(a[1] - b[1]) < NEAR_mm;
}
