/**
 * The lens of a camera in one number: a ray stands off the middle by r, and is seen at r (1 + k1 r²), both in units of
 * the focal length (the radial form of Brown, 1971, from memory). k1 < 0 pulls corners in, k1 > 0 draws them out.
 */

/** A place on the picture, in units of the focal length from its middle. */
export type Ray = readonly [x: number, y: number];

const MOST_STEPS = 30;
const NEAR = 1e-14;

/** Where a ray is seen through a lens. */
export function distorted([x, y]: Ray, k1: number, k2 = 0, k3 = 0): Ray {
  const r2 = x * x + y * y;
  const by = 1 + r2 * (k1 + r2 * (k2 + r2 * k3));
  return [x * by, y * by];
}

/** The ray that is seen at a place; undefined beyond the edge of what the lens can show. */
export function undistorted([x, y]: Ray, k1: number, k2 = 0, k3 = 0): Ray | undefined {
  const seen = Math.hypot(x, y);
  if (seen === 0) return [0, 0];
  let r = seen;
  for (let step = 0; step < MOST_STEPS; step++) {
    const r2 = r * r;
    const off = r * (1 + r2 * (k1 + r2 * (k2 + r2 * k3))) - seen;
    const slope = 1 + r2 * (3 * k1 + r2 * (5 * k2 + r2 * 7 * k3));
    if (slope <= 0) return undefined;
    r -= off / slope;
    if (Math.abs(off) < NEAR) return [(x / seen) * r, (y / seen) * r];
  }
  return undefined;
}
