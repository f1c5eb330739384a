/**
 * Points and directions in space as plain triples, mm: x forward, y up, z to the drive side.
 */
export type Point3 = readonly [x: number, y: number, z: number];

/** The sum of two. */
export function add(a: Point3, b: Point3): Point3 {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

/** From the second to the first. */
export function minus(a: Point3, b: Point3): Point3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

/** A triple `by` times as long. */
export function scale(a: Point3, by: number): Point3 {
  return [a[0] * by, a[1] * by, a[2] * by];
}

/** The inner product. */
export function dot(a: Point3, b: Point3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** The vector product, by the right hand. */
export function cross(a: Point3, b: Point3): Point3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

/** The direction of a triple, of length 1; nothing stays nothing. */
export function unit(a: Point3): Point3 {
  const length = Math.hypot(...a) || 1;
  return [a[0] / length, a[1] / length, a[2] / length];
}
