/**
 * Positions and forces of published four-bars, both branches, by the solver of the linkage; each data file is one
 * source.
 */
import { describe, expect, test } from 'vitest';
import { loopsOf, Planar, worldOf } from '../../shared/travel/planar.ts';
import { jointForces } from '../../shared/travel/statics.ts';
import {
  apart,
  fourBarAngles,
  fourBarPlaces,
  fourBarSystem,
  RAD,
  type Branch,
  type FourBar,
} from '../setup/four-bar.ts';
import derived from './data/four-bar-forces-derived.json';
import hwl from './data/four-bar-forces-hwl.json';
import orx from './data/four-bar-orx.json';
import tt4b from './data/four-bar-tt4b.json';

/** A crank angle from which the published one is reached without passing a dead centre, on the same branch. */
function carried(
  bar: FourBar,
  crank_deg: number,
  branch: Branch,
  away_deg: number,
): { coupler_rad: number; rocker_rad: number; error_mm: number } {
  const from = (crank_deg + away_deg) * RAD;
  const drawn = fourBarPlaces(bar, from, branch);
  const start = fourBarAngles(bar, from, branch);
  if (!drawn || !start) throw new Error(`the bars do not reach at ${crank_deg + away_deg}°`);
  const planar = new Planar(fourBarSystem(drawn));
  const q = planar.drawn();
  const reached = planar.carry(q, -away_deg * RAD);
  expect(reached.isThere).toBe(true);
  return {
    coupler_rad: start.coupler_rad + q[5]!,
    rocker_rad: start.rocker_rad + q[8]!,
    error_mm: Math.max(...loopsOf(planar.system, q).map((loop) => loop.error_mm)),
  };
}

describe.each([tt4b, orx])('four-bar positions: $source', ({ cases, tolerance_deg }) => {
  test.each(cases)('crank $crank_mm at $crank_deg°, $branch', (wanted) => {
    for (const away_deg of [9, -14, 0]) {
      const { coupler_rad, rocker_rad, error_mm } = carried(
        wanted,
        wanted.crank_deg,
        wanted.branch as Branch,
        away_deg,
      );
      expect(apart(coupler_rad, wanted.coupler_deg * RAD)).toBeLessThan(tolerance_deg * RAD);
      expect(apart(rocker_rad, wanted.rocker_deg * RAD)).toBeLessThan(tolerance_deg * RAD);
      expect(error_mm).toBeLessThan(1e-9);
    }
  });
});

test('the closed form of the tests has the published constants of ORX', () => {
  const { crank_mm: a, coupler_mm: b, rocker_mm: c, ground_mm: d } = orx.cases[0]!;
  expect(d / a).toBeCloseTo(orx.constants.K1, 6);
  expect(d / c).toBeCloseTo(orx.constants.K2, 6);
  expect((a * a - b * b + c * c + d * d) / (2 * a * c)).toBeCloseTo(orx.constants.K3, 6);
  expect(d / b).toBeCloseTo(orx.constants.K4, 5);
  expect((c * c - d * d - a * a - b * b) / (2 * a * b)).toBeCloseTo(orx.constants.K5, 5);
});

/** Forces of the open four-bar with a push on the rocker, a way up from its ground pivot. */
function loaded({
  crank_deg,
  load_N,
  load_deg,
  alongRocker_mm,
  ...bar
}: FourBar & { crank_deg: number; load_N: number; load_deg: number; alongRocker_mm: number }) {
  const places = fourBarPlaces(bar, crank_deg * RAD, 'open')!;
  const planar = new Planar(fourBarSystem(places));
  const q = planar.drawn();
  const share = alongRocker_mm / bar.rocker_mm;
  const [, , b, c] = places;
  const place = worldOf(planar.system, q, 2, {
    x_mm: c.x_mm + (b.x_mm - c.x_mm) * share,
    y_mm: c.y_mm + (b.y_mm - c.y_mm) * share,
  });
  const forces = jointForces(planar, q, [
    { body: 2, place, x_N: load_N * Math.cos(load_deg * RAD), y_N: load_N * Math.sin(load_deg * RAD) },
  ])!;
  const angles = fourBarAngles(bar, crank_deg * RAD, 'open')!;
  const onCoupler = forces.pins[1]!;
  // Along the coupler, + when it is pulled: the crank's end pulls it back.
  const along = -(onCoupler.x_N * Math.cos(angles.coupler_rad) + onCoupler.y_N * Math.sin(angles.coupler_rad));
  const across = -onCoupler.x_N * Math.sin(angles.coupler_rad) + onCoupler.y_N * Math.cos(angles.coupler_rad);
  return { forces, angles, along, across };
}

describe(`four-bar forces: ${hwl.source}`, () => {
  const { case: wanted, tolerance } = hwl;
  const { forces, angles, along, across } = loaded(wanted);
  test('stands as stated', () => {
    expect(apart(angles.coupler_rad, wanted.coupler_deg * RAD)).toBeLessThan(1e-4 * RAD);
    expect(apart(angles.rocker_rad, wanted.rocker_deg * RAD)).toBeLessThan(1e-4 * RAD);
  });
  test('the coupler carries nothing but a push or pull along itself', () => {
    expect(Math.abs(Math.abs(along) - wanted.couplerForce_N)).toBeLessThan(tolerance);
    expect(Math.abs(across)).toBeLessThan(1e-10);
  });
  test('input torque and ground reactions', () => {
    expect(Math.abs(forces.driver / 1000 - wanted.torque_Nm)).toBeLessThan(tolerance);
    for (const [pin, [x, y]] of [
      [0, wanted.onCrank_N],
      [3, wanted.onRocker_N],
    ] as const) {
      expect(Math.abs(forces.pins[pin]!.x_N - x!)).toBeLessThan(tolerance);
      expect(Math.abs(forces.pins[pin]!.y_N - y!)).toBeLessThan(tolerance);
    }
  });
  test('virtual work agrees', () => {
    expect(forces.check.residual_N).toBeLessThan(1e-10);
    expect(forces.check.driverWork_N).toBeLessThan(1e-10);
    expect(forces.check.pinWork_N).toBeLessThan(1e-10);
  });
});

describe(`four-bar forces: ${derived.source}`, () => {
  const { case: wanted, tolerance } = derived;
  const { forces, along } = loaded(wanted);
  test('coupler force and input torque', () => {
    expect(Math.abs(Math.abs(along) - Math.abs(wanted.couplerForce_N))).toBeLessThan(tolerance);
    expect(Math.abs(forces.driver / 1000 - wanted.torque_Nm)).toBeLessThan(tolerance);
  });
  test('virtual work agrees', () => {
    expect(Math.max(forces.check.residual_N, forces.check.driverWork_N, forces.check.pinWork_N)).toBeLessThan(1e-10);
  });
});
