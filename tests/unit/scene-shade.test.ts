// The light that reaches a profile's corners, against what a workshop drawing shows: inner corners and bores are
// darker, open walls are not. Plane geometry worked by hand; no source needed.
import { describe, expect, test } from 'vitest';
import type { Polygon } from '../../shared/index.ts';
import { shaded } from '../../src/scene/shade.ts';
import { revolve, signedArea2 } from '../../src/scene/surface.ts';

/** A stepped rod with a bore, anticlockwise in (r, z). */
const sleeve: Polygon = [
  [6, 0],
  [12, 0],
  [12, 5],
  [9, 5],
  [9, 40],
  [6, 40],
];

describe('shade', () => {
  const { ring, shades } = shaded(sleeve, true);
  const at = (r: number, z: number): number =>
    shades[ring.findIndex((corner) => Math.abs(corner[0] - r) < 1e-9 && Math.abs(corner[1] - z) < 1e-9)]!;

  test('breaks edges and leaves the polygon as it is', () => {
    expect(ring.length).toBeGreaterThan(sleeve.length);
    expect(signedArea2(ring)).toBeCloseTo(signedArea2(sleeve), 9);
    for (const corner of sleeve) expect(ring).toContainEqual(corner);
    expect(shades).toHaveLength(ring.length);
  });

  test('the inner corner of a step is dark, the outer ones are not', () => {
    expect(at(9, 5)).toBeLessThan(0.6);
    expect(at(12, 0)).toBe(1);
    expect(at(12, 5)).toBe(1);
    expect(at(9, 40)).toBe(1);
  });

  test('it fades within a few millimetres of the corner', () => {
    const near = ring.findIndex(([r, z]) => r === 9 && z > 5 && z < 10);
    expect(near).toBeGreaterThan(0);
    expect(shades[near]).toBe(1);
  });

  test('a bore is darkest in its middle and alike from both ends', () => {
    const bore = ring.map(([r, z], k) => ({ r, z, shade: shades[k]! })).filter(({ r }) => r === 6);
    const middle = bore.find(({ z }) => Math.abs(z - 20) < 1e-9)!;
    for (const { z, shade } of bore) {
      if (z !== middle.z) expect(shade).toBeGreaterThan(middle.shade);
      expect(bore.find((other) => Math.abs(other.z - (40 - z)) < 1e-9)!.shade).toBeCloseTo(shade, 9);
    }
    expect(middle.shade).toBeGreaterThan(0.25);
  });

  test('every corner of a turned surface has a shade, and only those near the bore or the step are darkened', () => {
    const { positions, shades: all = [] } = revolve(sleeve, 72);
    expect(all).toHaveLength(positions.length / 3);
    expect(Math.max(...all)).toBe(1);
    all.forEach((shade, k) => {
      const [r, z] = [Math.hypot(positions[3 * k]!, positions[3 * k + 1]!), positions[3 * k + 2]!];
      if (r > 9.1 && (z < 5 - 2.5 || Math.abs(r - 12) < 1e-6) && r > 6.1) expect(shade).toBeCloseTo(1, 6);
    });
  });
});
