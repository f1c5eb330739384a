/**
 * Wheel, chainring and chainset as they place the eye: drawn within the extents the file gives, checked by nobody here.
 *
 * The wheel is tyre, rim, hub and spokes; the chainring has teeth at the ½ in pitch of bicycle chain (ISO 9633; 12.7
 * mm) and a spider; the chainset is its spindle with a hub. Everything else about them is ours. Local frame: the axis
 * is z. mm.
 */
import type { Obstacle, Polygon } from '../../shared/index.ts';
import { rounded } from './detail.ts';
import { circleLines } from './item.ts';
import { Painted, type Coat } from './painted.ts';
import { SURFACE } from '../look.ts';
import { addFace, emptySurface, revolve, type Surface } from './surface.ts';

const RUBBER: Coat = { kind: 'lit', look: SURFACE.tyre };
const METAL: Coat = { kind: 'lit', look: SURFACE.alloy };

const FACETS = 72;
const SPOKES = 28;
/** ½ in chain. */
const PITCH_mm = 12.7;

/** What is drawn of an obstacle: its surface, and lines as pairs of points. */
interface ObstacleShape {
  readonly painted: Painted;
  readonly lines: readonly number[];
}

/** The shape of an obstacle about its own axis, z in bike mm. */
export function obstacleShape(obstacle: Obstacle): ObstacleShape {
  const painted = new Painted();
  const lines: number[] = [];
  if (obstacle.kind === 'wheel') wheel(obstacle, painted, lines);
  else if (obstacle.kind === 'chainring') chainring(obstacle, painted, lines);
  else chainset(obstacle, painted, lines);
  return { painted: painted.mark('touched').mark('marked'), lines };
}

function wheel({ radius_mm, z_from_mm, z_to_mm }: Obstacle, painted: Painted, lines: number[]): void {
  const middle = (z_from_mm + z_to_mm) / 2;
  const half = Math.abs(z_to_mm - z_from_mm) / 2;
  const section = Math.min(half, radius_mm * 0.2);
  const seat = radius_mm - 2 * section;
  const tyre = Array.from({ length: 24 }, (_, k): [number, number] => {
    const t = (2 * Math.PI * k) / 24;
    return [radius_mm - section + section * Math.cos(t), middle + section * Math.sin(t)];
  });
  const [wide, deep] = [section * 0.5, section * 0.7];
  const rim: Polygon = [
    [seat - deep, middle - wide * 0.5],
    [seat + section * 0.3, middle - wide],
    [seat + section * 0.3, middle + wide],
    [seat - deep, middle + wide * 0.5],
  ];
  const hub: Polygon = [
    [0, middle - half],
    [9, middle - half],
    [9, middle - half * 0.8],
    [24, middle - half * 0.75],
    [24, middle - half * 0.65],
    [13, middle - half * 0.4],
    [13, middle + half * 0.4],
    [24, middle + half * 0.65],
    [24, middle + half * 0.75],
    [9, middle + half * 0.8],
    [9, middle + half],
    [0, middle + half],
  ];
  painted
    .add(revolve(tyre, FACETS), RUBBER)
    .add(revolve(rounded(rim, 2), FACETS), METAL)
    .add(revolve(hub, 32), METAL);
  for (let k = 0; k < SPOKES; k += 1) {
    const t = (2 * Math.PI * k) / SPOKES;
    // Laced: each spoke leaves its flange along a tangent, every second one the other way and on the other side.
    const lean = t + (k % 4 < 2 ? 0.9 : -0.9);
    const z = middle + (k % 2 === 0 ? 1 : -1) * half * 0.7;
    const [flange, end] = [23, seat - deep];
    lines.push(flange * Math.cos(lean), flange * Math.sin(lean), z, end * Math.cos(t), end * Math.sin(t), middle);
  }
  lines.push(...circleLines(rim, FACETS));
}

function chainring({ radius_mm, z_from_mm, z_to_mm }: Obstacle, painted: Painted, lines: number[]): void {
  const middle = (z_from_mm + z_to_mm) / 2;
  const half = Math.min(2, Math.abs(z_to_mm - z_from_mm) / 2);
  const teeth = Math.max(8, Math.round((2 * Math.PI * (radius_mm - 4)) / PITCH_mm));
  const inner = radius_mm * 0.78;
  painted.add(toothedRing(inner, radius_mm, 5.5, teeth, middle - half, middle + half), METAL);
  for (let k = 0; k < 4; k += 1)
    painted.add(arm(14, inner + 1, 9, (2 * Math.PI * (k + 0.5)) / 4, middle - half, middle + half), METAL);
  painted.add(
    revolve(
      [
        [10, middle - half - 1],
        [20, middle - half - 1],
        [20, middle + half + 1],
        [10, middle + half + 1],
      ],
      48,
    ),
    METAL,
  );
  lines.push(
    ...circleLines(
      [
        [inner, middle - half],
        [radius_mm - 6, middle - half],
        [radius_mm - 6, middle + half],
        [inner, middle + half],
      ],
      FACETS,
    ),
  );
}

function chainset({ radius_mm, z_from_mm, z_to_mm }: Obstacle, painted: Painted, lines: number[]): void {
  const hub = Math.min(16, Math.abs(z_to_mm - z_from_mm) / 4);
  const profile: Polygon = [
    [0, z_from_mm],
    [radius_mm, z_from_mm],
    [radius_mm, z_from_mm + hub],
    [radius_mm * 0.75, z_from_mm + hub],
    [radius_mm * 0.75, z_to_mm - hub],
    [radius_mm, z_to_mm - hub],
    [radius_mm, z_to_mm],
    [0, z_to_mm],
  ];
  painted.add(revolve(rounded(profile, 1.5), 48), METAL);
  lines.push(...circleLines(profile, 48));
}

/** A flat ring whose rim carries teeth. */
function toothedRing(inner: number, outer: number, tall: number, teeth: number, z0: number, z1: number): Surface {
  const surface = emptySurface();
  const steps = teeth * 6;
  // A tooth rises, stands and falls over six steps; the gap between two is round.
  const profile = [0, 0.15, 0.85, 1, 0.85, 0.15] as const;
  const rim = (j: number): number => outer - tall + tall * profile[j % 6]!;
  const point = (r: number, j: number, z: number): [number, number, number] => {
    const t = (2 * Math.PI * (j % steps)) / steps;
    return [r * Math.cos(t), r * Math.sin(t), z];
  };
  for (let j = 0; j < steps; j += 1) {
    const [a, b] = [rim(j), rim(j + 1)];
    addFace(surface, point(inner, j, z1), point(a, j, z1), point(b, j + 1, z1), point(inner, j + 1, z1));
    addFace(surface, point(inner, j + 1, z0), point(b, j + 1, z0), point(a, j, z0), point(inner, j, z0));
    addFace(surface, point(a, j, z0), point(b, j + 1, z0), point(b, j + 1, z1), point(a, j, z1));
    addFace(surface, point(inner, j, z1), point(inner, j + 1, z1), point(inner, j + 1, z0), point(inner, j, z0));
  }
  return surface;
}

/** A straight flat arm outward along an angle. */
function arm(from: number, to: number, wide: number, angle: number, z0: number, z1: number): Surface {
  const surface = emptySurface();
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const point = (r: number, side: number, z: number): [number, number, number] => [
    r * cos - (side * wide * sin) / 2,
    r * sin + (side * wide * cos) / 2,
    z,
  ];
  addFace(surface, point(from, -1, z1), point(to, -1, z1), point(to, 1, z1), point(from, 1, z1));
  addFace(surface, point(from, 1, z0), point(to, 1, z0), point(to, -1, z0), point(from, -1, z0));
  addFace(surface, point(from, -1, z0), point(to, -1, z0), point(to, -1, z1), point(from, -1, z1));
  addFace(surface, point(to, 1, z0), point(from, 1, z0), point(from, 1, z1), point(to, 1, z1));
  return surface;
}
