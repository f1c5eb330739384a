/**
 * Random profiles in (r, z) for contact tests and the bench, and the slow obvious way to measure between two of them.
 */
import type { Corner, Polygon } from '../../shared/index.ts';
import type { Random } from '../setup/random.ts';

/** A lathe part: an upper and a lower outline over rising radii, steps and slopes mixed. */
function turnedPart(draw: Random): Polygon {
  const count = draw.whole(2, 6);
  const radii = [draw.between(3, 12)];
  for (let k = 1; k < count; k++) radii.push(radii[k - 1]! + draw.between(0.3, 4));
  const upper = radii.map((r): Corner => [r, draw.between(0.5, 6)]);
  const lower = radii.map((r): Corner => [r, draw.between(-6, -0.5)]);
  const outline = [...lower, ...[...upper].reverse()];
  if (draw.chance(0.5)) return outline;
  // A step: a radius used twice, as under a head.
  const at = draw.whole(0, count - 2);
  const [r, z] = upper[at + 1]!;
  const stepped = [...upper.slice(0, at + 1), [r, upper[at]![1]] as const, [r, z] as const, ...upper.slice(at + 2)];
  return [...lower, ...stepped.reverse()];
}

/** A star about its middle: with undercuts, so that material lies above material. */
function starredPart(draw: Random): Polygon {
  const count = draw.whole(5, 12);
  const [r0, z0] = [draw.between(10, 20), draw.between(-2, 2)];
  return Array.from({ length: count }, (_, k): Corner => {
    const angle = ((k + 0.6 * draw()) / count) * 2 * Math.PI;
    const reach = draw.between(1, 7);
    return [r0 + reach * Math.cos(angle), z0 + reach * Math.sin(angle)];
  });
}

/** A simple polygon with radii above 0, corners in the core's order. */
export function randomProfile(draw: Random): Polygon {
  return draw.chance(0.5) ? turnedPart(draw) : starredPart(draw);
}

/** z of every crossing of the outline with one radius, in rising order: in pairs, material between. */
function crossings(polygon: Polygon, r: number): number[] {
  const found: number[] = [];
  polygon.forEach(([r0, z0], k) => {
    const [r1, z1] = polygon[(k + 1) % polygon.length]!;
    if (r0 > r !== r1 > r) found.push(z0 + ((z1 - z0) * (r - r0)) / (r1 - r0));
  });
  return found.sort((a, b) => a - b);
}

/**
 * How far B can slide toward A, by looking at `samples` radii one after another; undefined where no radius has both.
 * Never less than the true travel, and more by at most slope × spacing.
 */
export function travelBySampling(a: Polygon, b: Polygon, samples: number): number | undefined {
  const radii = [...a, ...b].map(([r]) => r);
  const [low, high] = [Math.min(...radii), Math.max(...radii)];
  let least: number | undefined;
  for (let k = 0; k < samples; k++) {
    const r = low + ((high - low) * (k + 0.5)) / samples;
    const top = crossings(a, r).at(-1);
    const bottom = crossings(b, r)[0];
    if (top !== undefined && bottom !== undefined && (least === undefined || bottom - top < least))
      least = bottom - top;
  }
  return least;
}

/** Steepest edge of a profile, mm of z per mm of r, upright edges aside. */
export function steepest(polygon: Polygon): number {
  return Math.max(
    0,
    ...polygon.map(([r0, z0], k) => {
      const [r1, z1] = polygon[(k + 1) % polygon.length]!;
      return Math.abs(r1 - r0) < 1e-9 ? 0 : Math.abs((z1 - z0) / (r1 - r0));
    }),
  );
}
