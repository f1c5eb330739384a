/**
 * Picking: rays that know about the cut, and meshes that are not to be picked.
 *
 * Three's raycaster knows no clipping planes. Where the cut is on, what it hits on the cut-away side is dropped; the
 * caps are meshes of their own and stop the ray where the material was opened. Through a bore it goes on.
 */
import { Mesh, type Intersection, type Plane, type Raycaster } from 'three';

type Raycast = (this: Mesh, raycaster: Raycaster, hits: Intersection[]) => void;

const HAIR_mm = 1e-4;

/** A painted mesh's raycast: what a hand can touch of it, not the marks on it and not its shell. */
export function raycastTouched(this: Mesh, raycaster: Raycaster, hits: Intersection[]): void {
  const { geometry } = this;
  const { start, count } = geometry.drawRange;
  const touched: unknown = geometry.userData.touched;
  if (typeof touched === 'number') geometry.setDrawRange(0, touched);
  Mesh.prototype.raycast.call(this, raycaster, hits);
  geometry.setDrawRange(start, count);
}

/** The same, deaf on the negative side of `plane`. */
export function raycastBehind(plane: Plane): Raycast {
  return function raycast(this: Mesh, raycaster: Raycaster, hits: Intersection[]): void {
    const own: Intersection[] = [];
    raycastTouched.call(this, raycaster, own);
    for (const hit of own) if (plane.distanceToPoint(hit.point) >= -HAIR_mm) hits.push(hit);
  };
}

/** The raycast of what no hand can touch. */
export function raycastNothing(): void {
  // A mesh that reports no hit lets the ray through.
}
