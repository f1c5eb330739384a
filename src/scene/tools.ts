/**
 * Hand tools and the arrows beside them as painted surfaces: a torque wrench with its bit or socket, a bent key, a flat
 * spanner; a bow that says which way to turn, two heads that say hold.
 *
 * Everything is made in the tool's own space: z runs outward from the face it is put on, x along the handle, mm. Sizes
 * are those the build order keeps room for, so that what is drawn is what was found to have room. For the picture only.
 */
import type { Polygon, ToolPose } from '../../shared/index.ts';
import { rounded, socketOf, socketOutline } from './detail.ts';
import { triangulate } from './geometry.ts';
import { Painted, type Coat } from './painted.ts';
import { SURFACE, type Look } from '../look.ts';
import { addFace, emptySurface, insideOut, joinSurfaces, revolve, type Knurl, type Surface } from './surface.ts';
import type { Point3 } from './vector.ts';

const FACETS = 48;
/** How far a bit or key reaches into its socket, as a share of its size, and how much thinner it is than the hole. */
const INTO_SHARE = 0.45;
const FREE_SHARE = 0.96;

/** A tool's own measures, outward from the face it works on. */
interface Measures {
  readonly shankFrom_mm: number;
  readonly shankTo_mm: number;
  readonly shankRadius_mm: number;
  readonly handleFrom_mm: number;
  readonly handleTo_mm: number;
  readonly length_mm: number;
  readonly width_mm: number;
}

/** Measures of the room that was kept for a tool. */
export function measuresOf({ room, side }: Pick<ToolPose, 'room' | 'side'>): Measures {
  const outward = (z: number): number => (side === 'drive' ? z - room.end_mm : room.end_mm - z);
  const [s0, s1, h0, h1] = [room.shank.zFrom_mm, room.shank.zTo_mm, room.handle.zFrom_mm, room.handle.zTo_mm].map(
    outward,
  );
  return {
    shankFrom_mm: Math.min(s0!, s1!),
    shankTo_mm: Math.max(s0!, s1!),
    shankRadius_mm: room.shank.radius_mm,
    handleFrom_mm: Math.min(h0!, h1!),
    handleTo_mm: Math.max(h0!, h1!),
    length_mm: room.handle.length_mm,
    width_mm: room.handle.width_mm,
  };
}

/** What the picture of a tool depends on, as text. */
export function toolKey({ tool, role, room, side }: ToolPose): string {
  return `tool ${tool.tool} ${tool.size_mm} ${role} ${JSON.stringify(measuresOf({ room, side }))}`;
}

/** A tool, painted. `over_mm` is the radius of what a socket goes over. */
export function paintTool(pose: ToolPose, over_mm: number): Painted {
  const sizes = measuresOf(pose);
  const hole = socketOf(pose.tool);
  const parts: [Surface, Look][] =
    pose.role === 'turns'
      ? [...(hole ? bit(sizes, hole) : socket(sizes, over_mm)), ...wrench(sizes)]
      : hole
        ? [[bentKey(sizes, hole.around_mm, hole.depth_mm * INTO_SHARE), SURFACE.darkSteel]]
        : [[spanner(sizes, pose.tool.size_mm), SURFACE.chrome]];
  return painted(parts.map(([surface, look]) => [surface, { kind: 'lit', look }]));
}

function painted(parts: readonly (readonly [Surface, Coat])[]): Painted {
  const into = new Painted();
  for (const [surface, coat] of parts) into.add(surface, coat);
  into.mark('touched').mark('marked');
  for (const [surface] of parts) into.add(insideOut(surface), { kind: 'shell' });
  return into;
}

type Hole = NonNullable<ReturnType<typeof socketOf>>;

/** Of a bit: how far it stands out bare, as the build order has it. */
const BARE_mm = 24;

function bit({ shankTo_mm: to, shankRadius_mm: radius }: Measures, hole: Hole): [Surface, Look][] {
  const outline = socketOutline(hole).map(([x, y]) => [x * FREE_SHARE, y * FREE_SHARE] as const);
  const body: Polygon = rounded([
    [0, BARE_mm],
    [radius * 0.72, BARE_mm],
    [radius, BARE_mm + 3],
    [radius, to - 6],
    [radius * 0.86, to],
    [0, to],
  ]);
  return [
    [prism(outline, -hole.depth_mm * INTO_SHARE, BARE_mm + 1), SURFACE.darkSteel],
    [revolve(body, FACETS), SURFACE.chrome],
  ];
}

function socket(
  { shankFrom_mm: from, shankTo_mm: to, shankRadius_mm: radius }: Measures,
  over_mm: number,
): [Surface, Look][] {
  const hole = Math.min(over_mm + 0.1, radius - 0.8);
  const waist = Math.min(radius, 11);
  const shoulder = from + (to - from) * 0.62;
  const body: Polygon = rounded([
    [hole, from],
    [radius, from],
    [radius, shoulder - 4],
    [waist, shoulder],
    [waist, to],
    [0, to],
    [0, 3],
    [hole, 3],
  ]);
  return [[revolve(body, FACETS), SURFACE.chrome]];
}

/** Head with its cap, neck, scale sleeve and grip. */
function wrench({
  handleFrom_mm: from,
  handleTo_mm: to,
  length_mm: length,
  width_mm: width,
}: Measures): [Surface, Look][] {
  const middle = (from + to) / 2;
  const half = (to - from) / 2;
  const grip = width / 2;
  const head = Math.min(17, half * 1.3);
  const cap: Polygon = rounded([
    [0, from],
    [head - 4, from],
    [head, from + 3],
    [head, to - 5],
    [head - 3, to - 2],
    [head * 0.55, to - 2],
    [head * 0.5, to],
    [0, to],
  ]);
  const neck: Polygon = rounded([
    [0, head * 0.7],
    [8, head * 0.7],
    [8, head + 2],
    [6.2, head + 9],
    [6.2, length * 0.46],
    [8.4, length * 0.48],
    [8.4, length * 0.56],
    [0, length * 0.56],
  ]);
  const sleeve: Polygon = rounded([
    [0, length * 0.55],
    [9.4, length * 0.55],
    [9.4, length * 0.61],
    [0, length * 0.61],
  ]);
  const hand: Polygon = rounded([
    [0, length * 0.6],
    [grip - 2.5, length * 0.6],
    [grip, length * 0.63],
    [grip - 1.2, length * 0.78],
    [grip, length * 0.94],
    [grip - 2, length - 1.5],
    [grip - 5, length],
    [0, length],
  ]);
  const knurl: Knurl = { depth_mm: 0.5, from_mm: length * 0.555, to_mm: length * 0.605 };
  return [
    [revolve(cap, FACETS), SURFACE.chrome],
    [laid(revolve(neck, FACETS), middle), SURFACE.chrome],
    [laid(revolve(sleeve, FACETS, undefined, knurl), middle), SURFACE.darkSteel],
    [laid(revolve(hand, FACETS), middle), SURFACE.grip],
  ];
}

/** What was turned about z, laid along x at a height. */
function laid(surface: Surface, z_mm: number): Surface {
  const along = (values: readonly number[], lift: number): number[] =>
    values.map((_, k) => values[k - (k % 3) + (((k % 3) + 2) % 3)]! + (k % 3 === 2 ? lift : 0));
  return { ...surface, positions: along(surface.positions, z_mm), normals: along(surface.normals, 0) };
}

/** A hexagonal bar bent over a round corner: the short arm into the socket, the long one the handle. */
function bentKey(
  { handleFrom_mm: from, handleTo_mm: to, length_mm: length }: Measures,
  around_mm: number,
  into_mm: number,
): Surface {
  const middle = (from + to) / 2;
  const bend = Math.max(around_mm * 1.6, 4);
  const path: [x: number, z: number][] = [[0, -into_mm]];
  for (let k = 0; k <= BEND_STEPS; k += 1) {
    const t = (Math.PI / 2) * (k / BEND_STEPS);
    path.push([bend * (1 - Math.cos(t)), middle - bend + bend * Math.sin(t)]);
  }
  path.push([length, middle]);
  return bar(path, around_mm * FREE_SHARE);
}

const BEND_STEPS = 8;

/** A hexagonal bar along a path in the plane of x and z. */
function bar(path: readonly (readonly [x: number, z: number])[], around_mm: number): Surface {
  const surface = emptySurface();
  const rings = path.map(([x, z], k) => {
    const [a, b] = [path[Math.max(0, k - 1)]!, path[Math.min(path.length - 1, k + 1)]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [tx, tz] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    // Across the bar: y, and what completes it with the direction of the path.
    const at = (angle: number, r: number): Point3 => [
      x + tz * Math.cos(angle) * r,
      Math.sin(angle) * r,
      z - tx * Math.cos(angle) * r,
    ];
    return { at, along: [tx, 0, tz] as const };
  });
  for (let side = 0; side < 6; side += 1) {
    const [t0, t1] = [side, side + 1].map((k) => (Math.PI / 3) * k + Math.PI / 6) as [number, number];
    for (let k = 0; k + 1 < rings.length; k += 1) {
      const [one, two] = [rings[k]!, rings[k + 1]!];
      addFace(surface, one.at(t0, around_mm), one.at(t1, around_mm), two.at(t1, around_mm), two.at(t0, around_mm));
    }
  }
  const ends = [rings[0]!, rings.at(-1)!];
  ends.forEach(({ at }, end) => {
    const ring = Array.from({ length: 6 }, (_, k) => at((Math.PI / 3) * k + Math.PI / 6, around_mm));
    for (let k = 1; k < 5; k += 1)
      addFace(surface, ring[0]!, ring[end === 0 ? k + 1 : k]!, ring[end === 0 ? k : k + 1]!);
  });
  return surface;
}

/** A flat open-ended spanner: jaws round the nut, a waisted handle, a rounded end with an eye. */
function spanner(
  { handleFrom_mm: from, handleTo_mm: to, shankRadius_mm: head, length_mm: length, width_mm: width }: Measures,
  across_mm: number,
): Surface {
  const jaw = across_mm / 2;
  const half = Math.min(width / 2, head * 0.8);
  const end = half * 1.15;
  const joint = Math.acos(Math.min(0.95, half / head));
  const gape = Math.asin(Math.min(0.95, jaw / head));
  const outline: [number, number][] = [];
  const arc = (cx: number, r: number, t0: number, t1: number, count: number): void => {
    for (let k = 0; k <= count; k += 1)
      outline.push([cx + r * Math.cos(t0 + ((t1 - t0) * k) / count), r * Math.sin(t0 + ((t1 - t0) * k) / count)]);
  };
  // Anticlockwise from the handle's upper root: head, jaws, head, handle, end.
  arc(0, head, Math.PI / 2 - joint, Math.PI - gape, 16);
  outline.push([-jaw * 0.2, jaw], [jaw * 0.75, jaw], [jaw * 1.12, 0], [jaw * 0.75, -jaw], [-jaw * 0.2, -jaw]);
  arc(0, head, Math.PI + gape, 1.5 * Math.PI + joint, 16);
  outline.push([length * 0.5, -half * 0.72]);
  arc(length - end, end, -Math.PI / 2, Math.PI / 2, 18);
  outline.push([length * 0.5, half * 0.72]);
  return prism(outline, from, to);
}

/** An outline in the plane of x and y, anticlockwise, from one height to another. */
function prism(outline: readonly (readonly [number, number])[], from_mm: number, to_mm: number): Surface {
  const surface = emptySurface();
  outline.forEach(([x0, y0], k) => {
    const [x1, y1] = outline[(k + 1) % outline.length]!;
    addFace(surface, [x0, y0, from_mm], [x1, y1, from_mm], [x1, y1, to_mm], [x0, y0, to_mm]);
  });
  for (const [a, b, c] of triangulate(outline)) {
    const at = (k: number, z: number): Point3 => [outline[k]![0], outline[k]![1], z];
    addFace(surface, at(a, to_mm), at(b, to_mm), at(c, to_mm));
    addFace(surface, at(a, from_mm), at(c, from_mm), at(b, from_mm));
  }
  return surface;
}

/** Of the arrows: thickness, width of a shaft, and length and width of a head, mm. */
const ARROW = { thick_mm: 1.6, wide_mm: 6, head_mm: 19, headWide_mm: 17 } as const;
const ARC_STEPS = 28;

/**
 * A bow about the axle from one angle to another with its head beyond, in the tool's own space: anticlockwise where
 * `by_rad` is above 0.
 */
export function paintTurn(radius_mm: number, by_rad: number, z_mm: number, colour: string): Painted {
  const sign = by_rad < 0 ? -1 : 1;
  const sweep = Math.max(Math.abs(by_rad), 0.5);
  const at = (t: number, r: number): [number, number] => [r * Math.cos(sign * t), r * Math.sin(sign * t)];
  const head = ARROW.head_mm / radius_mm;
  const band: [number, number][] = [];
  for (let k = 0; k <= ARC_STEPS; k += 1) band.push(at((sweep * k) / ARC_STEPS, radius_mm + ARROW.wide_mm / 2));
  const tip = [
    at(sweep, radius_mm + ARROW.headWide_mm / 2),
    at(sweep + head, radius_mm),
    at(sweep, radius_mm - ARROW.headWide_mm / 2),
  ];
  band.push(...tip);
  for (let k = ARC_STEPS; k >= 0; k -= 1) band.push(at((sweep * k) / ARC_STEPS, radius_mm - ARROW.wide_mm / 2));
  return flatPlate(band, z_mm, colour);
}

/** Two heads that face one another across the handle: hold it there. */
export function paintHold(radius_mm: number, width_mm: number, z_mm: number, colour: string): Painted {
  const near = width_mm / 2 + 4;
  const heads = [1, -1].map((sign): [number, number][] => [
    [radius_mm, sign * near],
    [radius_mm + ARROW.headWide_mm / 2, sign * (near + ARROW.head_mm * 0.75)],
    [radius_mm + ARROW.wide_mm / 2, sign * (near + ARROW.head_mm * 0.75)],
    [radius_mm + ARROW.wide_mm / 2, sign * (near + ARROW.head_mm * 1.5)],
    [radius_mm - ARROW.wide_mm / 2, sign * (near + ARROW.head_mm * 1.5)],
    [radius_mm - ARROW.wide_mm / 2, sign * (near + ARROW.head_mm * 0.75)],
    [radius_mm - ARROW.headWide_mm / 2, sign * (near + ARROW.head_mm * 0.75)],
  ]);
  return painted([[joinSurfaces(heads.map((outline) => plate(outline, z_mm))), { kind: 'flat', colour }]]);
}

function flatPlate(outline: readonly [number, number][], z_mm: number, colour: string): Painted {
  return painted([[plate(outline, z_mm), { kind: 'flat', colour }]]);
}

function plate(outline: readonly [number, number][], z_mm: number): Surface {
  const area = outline.reduce(
    (sum, [x, y], k) => sum + x * outline[(k + 1) % outline.length]![1] - outline[(k + 1) % outline.length]![0] * y,
    0,
  );
  return prism(area > 0 ? outline : [...outline].reverse(), z_mm, z_mm + ARROW.thick_mm);
}
