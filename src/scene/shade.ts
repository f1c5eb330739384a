/**
 * How much light reaches the corners of a profile: less in an inner corner, and less the deeper in a bore.
 *
 * Worked out once per profile from the profile alone, as a workshop drawing shades a part: no pass over the picture, so
 * that it costs a slow renderer nothing. Edges are broken where the shade must fade within them; the profile stays the
 * same polygon. Lengths in mm.
 */
import type { Corner, Polygon } from '../../shared/index.ts';

/** A profile, anticlockwise, with the share of the light that each of its corners gets. */
export interface ShadedRing {
  readonly ring: Polygon;
  readonly shades: readonly number[];
}

const REACH_mm = 2.4;
/** Light lost right in a square inner corner. */
const CORNER_LOSS = 0.5;
/** Least light in a bore, and the depth, in radii, at which half of what can be lost is. */
const DARKEST = 0.3;
const HALF_DEPTH = 1.1;
/** A shorter wall is no bore, and a shorter edge is not broken. */
const LEAST_mm = 0.5;
const BROKEN_mm = 2.4;

/** The profile with its shades; unbroken, only its own corners are shaded. */
export function shaded(ring: Polygon, isBroken: boolean): ShadedRing {
  const count = ring.length;
  const ends = ring.map(([, z]) => z);
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const losses = ring.map((corner, k) => lossAt(ring[(k + count - 1) % count]!, corner, ring[(k + 1) % count]!));
  const inBore = (corner: Corner, isBore: boolean): number => {
    if (!isBore || corner[0] < 1e-6) return 1;
    const depth = Math.min(corner[1] - low, high - corner[1]) / corner[0];
    return DARKEST + (1 - DARKEST) / (1 + depth / HALF_DEPTH);
  };
  const all: Corner[] = [];
  const shades: number[] = [];
  ring.forEach((a, k) => {
    const next = (k + 1) % count;
    const b = ring[next]!;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    // Anticlockwise in (r, z), a wall that looks at the axis is walked toward the non-drive side.
    const isBore = (c: Corner, d: Corner): boolean => d[1] - c[1] < -LEAST_mm && Math.abs(d[0] - c[0]) < c[1] - d[1];
    const before = ring[(k + count - 1) % count]!;
    all.push(a);
    shades.push((isBroken ? 1 - losses[k]! : 1) * inBore(a, isBore(a, b) || isBore(before, a)));
    const places = new Set<number>();
    const reach = Math.min(REACH_mm, 0.4 * length);
    if (isBroken && length > BROKEN_mm) {
      if (losses[k]! > 0) places.add(reach / length);
      if (losses[next]! > 0) places.add(1 - reach / length);
    }
    if (isBroken && isBore(a, b) && length > BROKEN_mm) for (const share of [0.14, 0.5, 0.86]) places.add(share);
    for (const share of [...places].sort((p, q) => p - q)) {
      const corner: Corner = [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
      all.push(corner);
      shades.push(inBore(corner, isBore(a, b)));
    }
  });
  return { ring: all, shades };
}

/** Light lost at a corner between its neighbours; none where it stands out. */
function lossAt(before: Corner, at: Corner, after: Corner): number {
  const u = [at[0] - before[0], at[1] - before[1]] as const;
  const v = [after[0] - at[0], after[1] - at[1]] as const;
  const bend = Math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1]);
  return bend >= -0.05 ? 0 : CORNER_LOSS * Math.min(1, -bend / (Math.PI / 2));
}
