/**
 * The one adapter from the core's profiles and this folder's plain arrays to three's geometries.
 *
 * A painted surface becomes one buffer; ranges of it are further geometries on the same buffers. Geometries are shared
 * by content: two parts of one kind draw from one buffer. `useGeometry` counts the users; a buffer whose last user has
 * gone rests for a while, since whoever leaves a pivot or the bike comes back, and the longest resting ones are freed.
 */
import { useEffect, useMemo } from 'react';
import { BufferGeometry, Float32BufferAttribute, ShapeUtils, Vector2 } from 'three';
import type { Corner, Polygon } from '../../shared/index.ts';
import type { Painted } from './painted.ts';
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

/** A painted surface as a geometry; `userData` holds the end of each named range of its index. */
export function toPaintedGeometry(painted: Painted): BufferGeometry {
  const geometry = toGeometry(painted);
  geometry.setAttribute('color', new Float32BufferAttribute(painted.colours, 3));
  geometry.setAttribute('coat', new Float32BufferAttribute(painted.coats, 4));
  geometry.userData = { touched: painted.endOf('touched'), marked: painted.endOf('marked') } satisfies Ranges;
  return geometry;
}

/** Ends of the ranges of a painted geometry's index. */
export interface Ranges {
  readonly touched: number;
  readonly marked: number;
}

/** Pairs of points, x y z each, as line segments. */
export function lineGeometry(points: readonly number[]): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new Float32BufferAttribute(points, 3));
  return geometry;
}

/** Triangles that fill a polygon without holes, as corners of it, anticlockwise. */
export function triangulate(polygon: Polygon): [a: number, b: number, c: number][] {
  const flat = polygon.map(([r, z]) => new Vector2(r, z));
  return ShapeUtils.triangulateShape(flat, []).map((triangle) => {
    const [a, b, c] = [triangle[0]!, triangle[1]!, triangle[2]!];
    return turnOf(polygon[a]!, polygon[b]!, polygon[c]!) >= 0 ? [a, b, c] : [a, c, b];
  });
}

interface Shared {
  readonly geometry: BufferGeometry;
  users: number;
}

const pool = new Map<string, Shared>();

/** Buffers without users that are kept: those of a bike and of two opened pivots. */
const MOST_RESTING = 160;
/** Keys of the buffers that rest, the longest first. */
const resting = new Set<string>();

function rest(key: string): void {
  resting.add(key);
  const [oldest] = resting;
  if (resting.size <= MOST_RESTING || oldest === undefined) return;
  resting.delete(oldest);
  pool.get(oldest)?.geometry.dispose();
  pool.delete(oldest);
}

/** A geometry shared by all that name the same key. */
export function useGeometry(key: string, build: () => BufferGeometry): BufferGeometry {
  // biome-ignore lint/correctness/useExhaustiveDependencies: only the key tells one content from another, `build` is new each time.
  const shared = useMemo(() => take(key, build), [key]);
  useEffect(() => {
    // A strict double mount frees and asks again: the entry is put back under its key.
    const entry = pool.get(key) ?? shared;
    pool.set(key, entry);
    resting.delete(key);
    entry.users += 1;
    return () => {
      entry.users -= 1;
      if (entry.users === 0) rest(key);
    };
  }, [key, shared]);
  return shared.geometry;
}

function take(key: string, build: () => BufferGeometry): Shared {
  const known = pool.get(key);
  if (known) {
    // It is wanted again, and must not be freed before its new user has come.
    if (resting.delete(key)) resting.add(key);
    return known;
  }
  const fresh: Shared = { geometry: build(), users: 0 };
  pool.set(key, fresh);
  return fresh;
}

function turnOf(a: Corner, b: Corner, c: Corner): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}
