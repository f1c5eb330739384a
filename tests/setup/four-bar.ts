/**
 * The four-bar in closed form (Freudenstein's equation in Norton's constants)
 * and as bodies for the position solver: crank, coupler, rocker on a ground link along x. mm, rad.
 */
import { GROUND, type Driver, type Pin, type PlanarSystem, type Place } from '../../shared/travel/planar.ts';

export interface FourBar {
  readonly crank_mm: number;
  readonly coupler_mm: number;
  readonly rocker_mm: number;
  readonly ground_mm: number;
}

export type Branch = 'open' | 'crossed';

export const RAD = Math.PI / 180;

/** Angle of coupler and rocker at a crank angle; undefined where the bars do not reach. */
export function fourBarAngles(
  { crank_mm: a, coupler_mm: b, rocker_mm: c, ground_mm: d }: FourBar,
  crank_rad: number,
  branch: Branch,
): { coupler_rad: number; rocker_rad: number } | undefined {
  const K1 = d / a;
  const K2 = d / c;
  const K3 = (a * a - b * b + c * c + d * d) / (2 * a * c);
  const [cos, sin] = [Math.cos(crank_rad), Math.sin(crank_rad)];
  const [A, B, C] = [cos - K1 - K2 * cos + K3, -2 * sin, K1 - (K2 + 1) * cos + K3];
  const root = B * B - 4 * A * C;
  if (root < 0) return undefined;
  const rocker_rad = 2 * Math.atan2(-B + (branch === 'open' ? -1 : 1) * Math.sqrt(root), 2 * A);
  const x = d + c * Math.cos(rocker_rad) - a * cos;
  const y = c * Math.sin(rocker_rad) - a * sin;
  return { coupler_rad: Math.atan2(y, x), rocker_rad };
}

/** Joints of a four-bar at a crank angle: ground, crank end, coupler end, ground. */
export function fourBarPlaces(
  bar: FourBar,
  crank_rad: number,
  branch: Branch,
): [Place, Place, Place, Place] | undefined {
  const angles = fourBarAngles(bar, crank_rad, branch);
  if (!angles) return undefined;
  return [
    { x_mm: 0, y_mm: 0 },
    { x_mm: bar.crank_mm * Math.cos(crank_rad), y_mm: bar.crank_mm * Math.sin(crank_rad) },
    {
      x_mm: bar.ground_mm + bar.rocker_mm * Math.cos(angles.rocker_rad),
      y_mm: bar.rocker_mm * Math.sin(angles.rocker_rad),
    },
    { x_mm: bar.ground_mm, y_mm: 0 },
  ];
}

/** A pin that is drawn where its two bodies meet. */
export function pinAt(a: number, b: number, place: Place): Pin {
  return { a, b, onA: place, onB: place };
}

const middle = (one: Place, other: Place): Place => ({
  x_mm: (one.x_mm + other.x_mm) / 2,
  y_mm: (one.y_mm + other.y_mm) / 2,
});

/** The bodies of a four-bar drawn with the given joints, driven by one of them (0 crank, 1 coupler, 2 rocker). */
export function fourBarSystem([o, a, b, c]: readonly [Place, Place, Place, Place], body = 0): PlanarSystem {
  const driver: Driver = { kind: 'turn', body };
  return {
    bodies: [middle(o, a), middle(a, b), middle(b, c)],
    pins: [pinAt(GROUND, 0, o), pinAt(0, 1, a), pinAt(1, 2, b), pinAt(GROUND, 2, c)],
    sliders: [],
    driver,
  };
}

/** Smallest difference of two angles, rad. */
export function apart(one_rad: number, other_rad: number): number {
  return Math.abs(Math.atan2(Math.sin(one_rad - other_rad), Math.cos(one_rad - other_rad)));
}
