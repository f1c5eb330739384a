/**
 * Closed polygons in (r, z): the profile of a solid of revolution.
 *
 * Corners run so that the enclosed area is positive in the (r, z) plane; radii are ≥ 0. Volume and area by the
 * theorems of Pappus and Green, exact for a polygon. Lengths mm, volumes mm³.
 */
import type { Corner, Polygon, Solid } from './solid.ts';

/**
 * The rectangle from radius `r0` to `r1` and from `z0` to `z1`, its edges broken by `chamfer_mm` at the corners named.
 */
export function tubePolygon(
  r0: number,
  r1: number,
  z0: number,
  z1: number,
  chamfer: { readonly inner?: number; readonly outer?: number } = {},
): Polygon {
  const wall = r1 - r0;
  const inner = Math.min(chamfer.inner ?? 0, wall / 3, (z1 - z0) / 3);
  const outer = Math.min(chamfer.outer ?? 0, wall / 3, (z1 - z0) / 3);
  const corners: Corner[] = [];
  if (inner > 0) corners.push([r0, z0 + inner], [r0 + inner, z0]);
  else corners.push([r0, z0]);
  if (outer > 0) corners.push([r1 - outer, z0], [r1, z0 + outer], [r1, z1 - outer], [r1 - outer, z1]);
  else corners.push([r1, z0], [r1, z1]);
  if (inner > 0) corners.push([r0 + inner, z1], [r0, z1 - inner]);
  else corners.push([r0, z1]);
  return corners;
}

/**
 * The same polygon seen from the other side: z becomes −z, and the corners run the other way so that its volume stays
 * positive.
 */
export function mirrorPolygon(polygon: Polygon): Polygon {
  return polygon.map(([r, z]): Corner => [r, -z]).reverse();
}

/** The polygon moved along the axis, + to growing z, mm. O(corners). */
export function shiftPolygon(polygon: Polygon, by_mm: number): Polygon {
  return by_mm === 0 ? polygon : polygon.map(([r, z]): Corner => [r, z + by_mm]);
}

/** A solid mirrored (when `turned`) and moved; the order of the two is as written. */
export function placeSolid(solid: Solid, turned: boolean, by_mm: number): Solid {
  const facing = turned ? mirrorPolygon(solid.polygon) : solid.polygon;
  return { ...solid, polygon: shiftPolygon(facing, by_mm) };
}

/** Lowest and highest z of some polygons, mm. */
export function zRange(polygons: readonly Polygon[]): readonly [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const polygon of polygons) {
    for (const point of polygon) {
      const z = point[1];
      if (z < low) low = z;
      if (z > high) high = z;
    }
  }
  return [low, high];
}

/**
 * Volume swept by turning the polygon about the axis, mm³; positive for the corner order of this module, negative for
 * the other. Corners [r, z], r ≥ 0. O(corners).
 */
export function revolvedVolume_mm3(polygon: Polygon): number {
  let sum = 0;
  polygon.forEach(([r0, z0], k) => {
    const [r1, z1] = polygon[(k + 1) % polygon.length]!;
    sum += (z1 - z0) * (r0 * r0 + r0 * r1 + r1 * r1);
  });
  return (Math.PI / 3) * sum;
}

/** Smallest and largest radius of a polygon, mm. */
export function radiusRange(polygon: Polygon): readonly [number, number] {
  let low = Infinity;
  let high = 0;
  for (const [r] of polygon) {
    if (r < low) low = r;
    if (r > high) high = r;
  }
  return [low, high];
}

/** Corners without those that stand on the one before. */
export function withoutRepeats(corners: readonly Corner[]): Polygon {
  return corners.filter(([r, z], k) => {
    const [r0, z0] = corners[(k + corners.length - 1) % corners.length]!;
    return Math.abs(r - r0) > 1e-9 || Math.abs(z - z0) > 1e-9;
  });
}
