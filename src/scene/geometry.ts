/**
 * The one adapter from the core's profiles and this folder's plain arrays to three's geometries.
 *
 * Geometries are shared by content: two bearings of one kind draw from one buffer. `useGeometry` counts the users and
 * frees the buffer when the last one goes. A cap is the profile polygon itself and its mirror image, filled in the plane
 * that holds the axis (local x is the radius, local z the axis), so a section needs no stencil.
 */
import { useEffect, useMemo } from 'react';
import {
  BufferGeometry,
  ExtrudeGeometry,
  Float32BufferAttribute,
  Path,
  Shape,
  ShapeUtils,
  Vector2,
} from 'three';
import type { Corner, Polygon } from '../../shared/index.ts';
import { sharpCorners, socketOutline, type Socket } from './detail.ts';
import type { Surface } from './surface.ts';

/** A surface as a geometry. */
export function toGeometry(surface: Surface): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new Float32BufferAttribute(surface.positions, 3));
  geometry.setAttribute('normal', new Float32BufferAttribute(surface.normals, 3));
  geometry.setAttribute('uv', new Float32BufferAttribute(surface.uvs, 2));
  geometry.setIndex(surface.index);
  return geometry;
}

/** The section of a solid of revolution: its profile and the mirror image of it, in the plane y = 0, facing +y. */
export function capGeometry(polygon: Polygon): BufferGeometry {
  const flat = polygon.map(([r, z]) => new Vector2(r, z));
  const triangles = ShapeUtils.triangulateShape(flat, []);
  const positions: number[] = [];
  const uvs: number[] = [];
  const normals: number[] = [];
  for (const side of [1, -1]) {
    for (const [r, z] of polygon) {
      positions.push(side * r, 0, z);
      normals.push(0, 1, 0);
      uvs.push(side * r, z);
    }
  }
  const index = triangles.flatMap((triangle) => {
    const [a, b, c] = [triangle[0]!, triangle[1]!, triangle[2]!];
    const n = polygon.length;
    const isUp = turnOf(polygon[a]!, polygon[b]!, polygon[c]!) < 0;
    return isUp ? [a, b, c, n + a, n + c, n + b] : [a, c, b, n + a, n + b, n + c];
  });
  return toGeometry({ positions, normals, uvs, index });
}

/** The rim of a section: the profile and its mirror image as lines in the plane y = 0. */
export function capLines(polygon: Polygon): BufferGeometry {
  const points: number[] = [];
  for (const side of [1, -1]) {
    polygon.forEach((a, k) => {
      const b = polygon[(k + 1) % polygon.length]!;
      points.push(side * a[0], 0, a[1], side * b[0], 0, b[1]);
    });
  }
  return lineGeometry(points);
}

/** The drawn lines of a lathe: a circle at each sharp corner of its profile. */
export function edgeCircles(polygon: Polygon, segments: number): BufferGeometry {
  const points: number[] = [];
  for (const [r, z] of sharpCorners(polygon)) {
    for (let j = 0; j < segments; j += 1) {
      const t0 = (2 * Math.PI * j) / segments;
      const t1 = (2 * Math.PI * ((j + 1) % segments)) / segments;
      points.push(r * Math.cos(t0), r * Math.sin(t0), z, r * Math.cos(t1), r * Math.sin(t1), z);
    }
  }
  return lineGeometry(points);
}

/** Pairs of points, x y z each, as line segments. */
export function lineGeometry(points: readonly number[]): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new Float32BufferAttribute(points, 3));
  return geometry;
}

/** The lining of a drive socket: a plug of a radius with the tool's hole in it, `depth_mm` long from z = 0 toward −z. */
export function socketGeometry(socket: Socket, plug_mm: number): BufferGeometry {
  const shape = new Shape();
  shape.absarc(0, 0, plug_mm + 0.02, 0, 2 * Math.PI, false);
  shape.holes.push(new Path(socketOutline(socket).map(([x, y]) => new Vector2(x, y))));
  const geometry = new ExtrudeGeometry(shape, { depth: socket.depth_mm, bevelEnabled: false, curveSegments: 48 });
  geometry.translate(0, 0, -socket.depth_mm);
  return geometry;
}

interface Shared {
  readonly geometry: BufferGeometry;
  users: number;
}

const pool = new Map<string, Shared>();

/** A geometry shared by all that name the same key; freed when the last of them is gone. */
export function useGeometry(key: string, build: () => BufferGeometry): BufferGeometry {
  // Only the key tells one content from another: `build` is a new function each time.
  const shared = useMemo(() => take(key, build), [key]);
  useEffect(() => {
    // A strict double mount frees and asks again: the entry is put back under its key.
    const entry = pool.get(key) ?? shared;
    pool.set(key, entry);
    entry.users += 1;
    return () => {
      entry.users -= 1;
      if (entry.users > 0) return;
      entry.geometry.dispose();
      pool.delete(key);
    };
  }, [key, shared]);
  return shared.geometry;
}

/** A key for a profile: its corners to a tenth of a micrometre. */
export function profileKey(polygon: Polygon): string {
  return polygon.map(([r, z]) => `${r.toFixed(4)},${z.toFixed(4)}`).join(' ');
}

function take(key: string, build: () => BufferGeometry): Shared {
  const known = pool.get(key);
  if (known) return known;
  const fresh: Shared = { geometry: build(), users: 0 };
  pool.set(key, fresh);
  return fresh;
}

function turnOf(a: Corner, b: Corner, c: Corner): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}
