/**
 * A part as STL, for a printer: its solids of revolution as closed meshes, at a scale, standing on its drive-side end.
 *
 * Every corner of the profile is a ring of corners that its two neighbours share, and one place where it lies on the
 * axis: each edge belongs to two triangles, so that a solid kernel finds it watertight. Sockets, threads and knurls are
 * left out: they are too fine to print and carry nothing a hand has to learn.
 */
import type { PlacedItem, Polygon } from '../../shared/index.ts';

/** Corners x y z in mm, and triangles wound outward. */
interface Mesh {
  readonly positions: readonly number[];
  readonly index: readonly number[];
}

const FACETS = 96;
const ON_AXIS_mm = 1e-6;

/** The closed meshes of a part, one a solid, at its own size. */
function meshesOf({ solids }: Pick<PlacedItem, 'solids'>): Mesh[] {
  return solids.map(({ polygon }) => turned(polygon));
}

function turned(polygon: Polygon): Mesh {
  const area = polygon.reduce((sum, [r, z], k) => {
    const [rNext, zNext] = polygon[(k + 1) % polygon.length]!;
    return sum + r * zNext - rNext * z;
  }, 0);
  const ring = area >= 0 ? polygon : [...polygon].reverse();
  const positions: number[] = [];
  const firsts = ring.map(([r, z]) => {
    const first = positions.length / 3;
    const isOnAxis = r < ON_AXIS_mm;
    for (let j = 0; j < (isOnAxis ? 1 : FACETS); j++) {
      const turn = (2 * Math.PI * j) / FACETS;
      positions.push(isOnAxis ? 0 : r * Math.cos(turn), isOnAxis ? 0 : r * Math.sin(turn), z);
    }
    return { first, isOnAxis };
  });
  const index: number[] = [];
  firsts.forEach((a, k) => {
    const b = firsts[(k + 1) % firsts.length]!;
    for (let j = 0; j < FACETS; j++) {
      const next = (j + 1) % FACETS;
      if (!a.isOnAxis) index.push(a.first + j, a.first + next, b.isOnAxis ? b.first : b.first + j);
      if (!b.isOnAxis) index.push(b.first + j, a.isOnAxis ? a.first : a.first + next, b.first + next);
    }
  });
  return { positions, index };
}

/** A part as a binary STL, its numbers in mm times `scale`. */
export function stl(item: Pick<PlacedItem, 'solids' | 'from_mm'>, scale: number): Uint8Array<ArrayBuffer> {
  const meshes = meshesOf(item);
  const count = meshes.reduce((sum, { index }) => sum + index.length / 3, 0);
  const out = new Uint8Array(84 + 50 * count);
  const view = new DataView(out.buffer);
  view.setUint32(80, count, true);
  let at = 84;
  for (const { positions, index } of meshes)
    for (let k = 0; k < index.length; k += 3) {
      const corners = [0, 1, 2].map((c) => {
        const from = 3 * index[k + c]!;
        // As it is written: what is worked out of it has to agree with what a reader finds.
        return [positions[from]!, positions[from + 1]!, positions[from + 2]! - item.from_mm].map((value) =>
          Math.fround(value * scale + 0),
        );
      });
      const normal = normalOf(corners);
      [normal, ...corners].flat().forEach((value, j) => view.setFloat32(at + 4 * j, value + 0, true));
      at += 50;
    }
  return out;
}

function normalOf([a, b, c]: readonly (readonly number[])[]): number[] {
  const [u, v] = [b!, c!].map((corner) => corner.map((value, k) => value - a![k]!));
  const across = [
    u![1]! * v![2]! - u![2]! * v![1]!,
    u![2]! * v![0]! - u![0]! * v![2]!,
    u![0]! * v![1]! - u![1]! * v![0]!,
  ];
  const length = Math.hypot(...across);
  return across.map((value) => (length > 0 ? value / length : 0));
}
