// Surfaces of the picture against closed forms: the revolved polygon (Pappus, exact), the facet factor of a regular
// n-gon, and the outer tangents of two circles. All of it is plane geometry worked here by hand; no source needed.
import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readModel, revolvedVolume_mm3, type Analysis, type PlacedItem, type Polygon } from '../../shared/index.ts';
import {
  extent,
  faceAt,
  flatsOf,
  outerRadius,
  sharpCorners,
  socketOf,
  socketOutline,
  withPocket,
  withThread,
} from '../../src/scene/detail.ts';
import { dressItem } from '../../src/scene/dress.ts';
import { memberSurface } from '../../src/scene/members.ts';
import { anchorsOf } from '../../src/scene/placement.ts';
import { revolve, type Surface } from '../../src/scene/surface.ts';
import { analysed } from '../setup/worked.ts';
import { isBridge, loftWeb, tangentHull, type WebEnd } from '../../src/scene/web.ts';

const models = readdirSync('models').filter((name) => name.endsWith('.json'));
const analyses = models.map((name): Analysis => {
  const read = readModel(readFileSync(`models/${name}`, 'utf8'));
  if (!read.ok) throw new Error(`${name}: ${JSON.stringify(read.problems)}`);
  return analysed(read.model);
});
/** Of a model's items that are one part in one role, the last. */
const items: PlacedItem[] = [
  ...new Map(
    analyses.flatMap(({ model, pivots }) =>
      pivots.flatMap(({ stacks }) =>
        stacks.flatMap((stack) =>
          stack.items.map((item) => [`${model.id} ${item.part ?? item.id} ${item.role}`, item] as const),
        ),
      ),
    ),
  ).values(),
];

/** Edges that do not lie between exactly two triangles of opposite direction, once corners are merged by place. */
function openEdges({ positions, index }: Surface): number {
  const names = new Map<string, number>();
  const merged = Array.from({ length: positions.length / 3 }, (_, k) => {
    const place = positions.slice(3 * k, 3 * k + 3).map((value) => Math.round(value * 1e7) + 0);
    const key = place.join(' ');
    if (!names.has(key)) names.set(key, names.size);
    return names.get(key)!;
  });
  const edges = new Map<string, number>();
  for (let k = 0; k < index.length; k += 3) {
    const corners = [0, 1, 2].map((j) => merged[index[k + j]!]!);
    corners.forEach((a, j) => {
      const b = corners[(j + 1) % 3]!;
      if (a === b) return;
      const [low, high, sign] = a < b ? [a, b, 1] : [b, a, -1];
      edges.set(`${low} ${high}`, (edges.get(`${low} ${high}`) ?? 0) + sign);
    });
  }
  return [...edges.values()].filter((balance) => balance !== 0).length;
}

function volume_mm3({ positions: p, index }: Surface): number {
  let six = 0;
  for (let k = 0; k < index.length; k += 3) {
    const [a, b, c] = [3 * index[k]!, 3 * index[k + 1]!, 3 * index[k + 2]!];
    const cross = [
      p[b + 1]! * p[c + 2]! - p[b + 2]! * p[c + 1]!,
      p[b + 2]! * p[c]! - p[b]! * p[c + 2]!,
      p[b]! * p[c + 1]! - p[b + 1]! * p[c]!,
    ];
    six += p[a]! * cross[0]! + p[a + 1]! * cross[1]! + p[a + 2]! * cross[2]!;
  }
  return six / 6;
}

/** Smallest cosine between a triangle's own normal and the normals at its corners. */
function worstNormal({ positions: p, normals: n, index }: Surface): number {
  let worst = 1;
  for (let k = 0; k < index.length; k += 3) {
    const at = (j: number): number[] => p.slice(3 * index[k + j]!, 3 * index[k + j]! + 3);
    const [a, b, c] = [at(0), at(1), at(2)];
    const u = a.map((value, j) => b[j]! - value);
    const v = a.map((value, j) => c[j]! - value);
    const face = [u[1]! * v[2]! - u[2]! * v[1]!, u[2]! * v[0]! - u[0]! * v[2]!, u[0]! * v[1]! - u[1]! * v[0]!];
    const area = Math.hypot(...face);
    if (area < 1e-6) continue;
    for (let j = 0; j < 3; j += 1) {
      const i = 3 * index[k + j]!;
      worst = Math.min(worst, (face[0]! * n[i]! + face[1]! * n[i + 1]! + face[2]! * n[i + 2]!) / area);
    }
  }
  return worst;
}

/** A prism over a regular n-gon holds this share of the cylinder over its circumscribed circle. */
const facetShare = (facets: number): number => Math.sin((2 * Math.PI) / facets) / ((2 * Math.PI) / facets);

const cone: Polygon = [
  [7.6, 0],
  [8.9, 0],
  [8.9, 1],
  [13, 4],
  [13, 5],
  [7.6, 5],
];
const rod: Polygon = [
  [0, -3],
  [10, -3],
  [10, 0],
  [6, 0],
  [6, 40],
  [0, 40],
];

describe('lathe', () => {
  test('the shipped models give items to turn', () => {
    expect(items.length).toBeGreaterThan(40);
  });

  test.each([6, 30, 72])('every solid of every shipped model is closed and right in volume at %d facets', (facets) => {
    for (const item of items) {
      for (const { polygon } of item.solids) {
        const surface = revolve(polygon, facets);
        expect(openEdges(surface), item.id).toBe(0);
        expect(volume_mm3(surface) / (revolvedVolume_mm3(polygon) * facetShare(facets)), item.id).toBeCloseTo(1, 9);
      }
    }
  });

  test('a polygon the other way round gives the same solid', () => {
    expect(volume_mm3(revolve([...cone].reverse(), 48))).toBeCloseTo(volume_mm3(revolve(cone, 48)), 6);
  });

  test('normals look outward and keep chamfers apart', () => {
    expect(worstNormal(revolve(cone, 72))).toBeGreaterThan(Math.cos((3 * Math.PI) / 180));
  });

  test('shifting along the axis shifts every corner and nothing else', () => {
    const shifted = revolve(
      cone.map(([r, z]) => [r, z + 11] as const),
      24,
    );
    const plain = revolve(cone, 24);
    expect(shifted.positions.map((value, k) => (k % 3 === 2 ? value - 11 : value))).toEqual(
      plain.positions.map((value) => expect.closeTo(value, 9)),
    );
  });

  test('flats: closed, the inscribed circle between flats is left, the volume is that of the hexagonal prism', () => {
    const disc: Polygon = [
      [0, 0],
      [13, 0],
      [13, 8],
      [0, 8],
    ];
    const flats = { sides: 6, across_mm: 22, from_mm: 0, to_mm: 8 };
    const surface = revolve(disc, 72, flats);
    expect(openEdges(surface)).toBe(0);
    // 13 > 22 / √3 = 12.70: the corners of the hexagon lie inside the disc.
    expect(volume_mm3(surface)).toBeCloseTo((Math.sqrt(3) / 2) * 22 * 22 * 8, 4);
    const radii = surface.positions.flatMap((x, k) => (k % 3 === 0 ? [Math.hypot(x, surface.positions[k + 1]!)] : []));
    expect(Math.max(...radii)).toBeCloseTo(22 / Math.sqrt(3), 9);
    expect(worstNormal(surface)).toBeGreaterThan(0.99);
  });
});

describe('dressing', () => {
  test('every dressed solid of every shipped model is closed', () => {
    for (const item of items) {
      for (const { turned, plain, cut, flats } of dressItem(item)) {
        for (const polygon of [turned, plain, cut]) expect(openEdges(revolve(polygon, 30, flats)), item.id).toBe(0);
      }
    }
  });

  test('dressing takes material away and never adds any', () => {
    for (const item of items) {
      for (const { solid, turned } of dressItem(item)) {
        expect(revolvedVolume_mm3(turned), item.id).toBeLessThanOrEqual(revolvedVolume_mm3(solid.polygon) * (1 + 1e-9));
        expect(extent(turned), item.id).toEqual(extent(solid.polygon));
      }
    }
  });

  test('a thread has one groove a pitch, of the depth 0.61 pitch, and leaves the rest alone', () => {
    const threaded = withThread(rod, { from_mm: 28, to_mm: 40, pitch_mm: 1, inner: false });
    const roots = threaded.filter(([r]) => Math.abs(r - (6 - 0.61)) < 1e-9);
    expect(roots).toHaveLength(2 * 12);
    expect(Math.min(...roots.map(([, z]) => z))).toBeGreaterThan(28);
    expect(outerRadius(threaded, 20)).toBe(6);
    expect(withThread(rod, { from_mm: 28, to_mm: 40, pitch_mm: 1, inner: true })).toEqual(rod);
  });

  test('an inner thread cuts the bore and not the outside', () => {
    const nut: Polygon = [
      [5, 0],
      [11, 0],
      [11, 10],
      [5, 10],
    ];
    const threaded = withThread(nut, { from_mm: 0, to_mm: 10, pitch_mm: 1, inner: true });
    expect(Math.max(...threaded.map(([r]) => r))).toBe(11);
    expect(threaded.filter(([r]) => Math.abs(r - 5.61) < 1e-9)).toHaveLength(2 * 10);
  });

  test('a pocket takes its own cylinder out of either end', () => {
    for (const end of [-3, 40]) {
      const sunk = withPocket(rod, end, 3, 2.5);
      expect(revolvedVolume_mm3(rod) - revolvedVolume_mm3(sunk)).toBeCloseTo(Math.PI * 9 * 2.5, 6);
      expect(openEdges(revolve(sunk, 24))).toBe(0);
    }
    expect(withPocket(rod, 40, 9, 2)).toBe(rod);
  });

  test('a hex hole is as wide across its flats as its key', () => {
    const socket = socketOf({ tool: 'hex-key', size_mm: 6 })!;
    const corners = socketOutline(socket);
    const mid = [(corners[0]![0] + corners[1]![0]) / 2, (corners[0]![1] + corners[1]![1]) / 2] as const;
    expect(2 * Math.hypot(...mid)).toBeCloseTo(6, 9);
    expect(socketOf({ tool: 'spanner', size_mm: 22 })).toBeUndefined();
  });

  test('flats reach along the thick end only', () => {
    expect(flatsOf(rod, -3, 18)).toMatchObject({ sides: 6, across_mm: 18, from_mm: -3 });
    expect(flatsOf(rod, -3, 18)!.to_mm).toBeLessThanOrEqual(0);
  });

  test('faces and radii of a profile', () => {
    expect(faceAt(cone, 8, 1)).toBe(5);
    expect(faceAt(cone, 11, -1)).toBeCloseTo(1 + (3 * (11 - 8.9)) / 4.1, 9);
    expect(faceAt(cone, 20, 1)).toBeUndefined();
    expect(outerRadius(cone, 2.5)).toBeCloseTo(8.9 + 4.1 / 2, 9);
    expect(outerRadius(cone, 7)).toBe(0);
    expect(sharpCorners(cone)).toHaveLength(6);
  });
});

describe('webs', () => {
  const end = (x_mm: number, y_mm: number, radius_mm: number, z_mm = 0): WebEnd => ({ x_mm, y_mm, radius_mm, z_mm });
  const plate = { start: { thickness_mm: 8 }, end: { thickness_mm: 8 }, rounding: 0, recess_mm: 0 };

  test('the hull of two circles: closed-form area, tangent length, convex, both circles inside', () => {
    const [a, b] = [end(3, -2, 18), end(63, 43, 11)];
    const steps = 400;
    const hull = tangentHull(a, b, steps);
    const distance = 75;
    const lean = Math.acos((18 - 11) / distance);
    const tangent = Math.sqrt(distance ** 2 - 7 ** 2);
    const area = tangent * (18 + 11) + lean * 11 ** 2 + (Math.PI - lean) * 18 ** 2;
    let twice = 0;
    hull.forEach(([x, y], k) => {
      const [x1, y1] = hull[(k + 1) % hull.length]!;
      twice += x * y1 - y * x1;
      const [x2, y2] = hull[(k + 2) % hull.length]!;
      expect((x1 - x) * (y2 - y1) - (y1 - y) * (x2 - x1)).toBeGreaterThan(-1e-9);
    });
    expect(twice / 2 / area).toBeCloseTo(1, 4);
    const longest = hull
      .map(([x, y], k) => Math.hypot(hull[(k + 1) % hull.length]![0] - x, hull[(k + 1) % hull.length]![1] - y))
      .sort((p, q) => q - p);
    expect(longest[0]).toBeCloseTo(tangent, 6);
    expect(longest[1]).toBeCloseTo(tangent, 6);
    expect(tangentHull(end(0, 0, 20), end(5, 0, 8))).toEqual([]);
  });

  test.each([
    ['plate', plate],
    [
      'tube',
      { ...plate, rounding: 0.8, start: { thickness_mm: 12, height_mm: 20 }, end: { thickness_mm: 9, height_mm: 16 } },
    ],
    ['forged', { ...plate, rounding: 0.14, recess_mm: 1.4 }],
  ] as const)('a %s is closed, wound outward and leaves both bores open', (_, shape) => {
    const [a, b] = [end(-34, 34, 18, -31), end(16, 71, 16, 20)];
    const surface = loftWeb(a, b, shape);
    expect(openEdges(surface)).toBe(0);
    expect(volume_mm3(surface)).toBeGreaterThan(0);
    for (let k = 0; k < surface.positions.length; k += 3) {
      const [x, y] = [surface.positions[k]!, surface.positions[k + 1]!];
      expect(Math.hypot(x - a.x_mm, y - a.y_mm)).toBeGreaterThan(14);
      expect(Math.hypot(x - b.x_mm, y - b.y_mm)).toBeGreaterThan(12.5);
    }
  });

  test('a plate with parallel edges holds its area times its thickness, less its bevels', () => {
    const [a, b] = [end(0, 0, 12), end(60, 0, 12)];
    const shape = { ...plate, start: { thickness_mm: 8, height_mm: 14 }, end: { thickness_mm: 8, height_mm: 14 } };
    const r = 11.5;
    const half = 7;
    // Part of the strip that each boss takes: the integral of its half circle over the height of the web.
    const bulge = r * r * Math.asin(half / r) + half * Math.sqrt(r * r - half * half);
    const area = 60 * 14 - 2 * bulge;
    const ratio = volume_mm3(loftWeb(a, b, shape)) / (area * 8);
    expect(ratio).toBeLessThan(1);
    expect(ratio).toBeGreaterThan(0.97);
  });

  test('swallowed by a boss there is no web; over one another there is a bridge', () => {
    expect(loftWeb(end(0, 0, 20), end(5, 0, 8), plate).index).toHaveLength(0);
    expect(isBridge(end(4, 4, 8, -30), end(4, 4, 8, 30))).toBe(true);
    expect(isBridge(end(4, 4, 8), end(8, 4, 8))).toBe(false);
  });

  test('every member of every shipped model has a closed body', () => {
    for (const { model } of analyses) {
      const anchors = anchorsOf(model);
      for (const [id, member] of Object.entries(model.members)) {
        const surface = memberSurface(member, anchors[id]!);
        expect(openEdges(surface), `${model.id} ${id}`).toBe(0);
        if (surface.index.length > 0) expect(volume_mm3(surface), `${model.id} ${id}`).toBeGreaterThan(0);
        expect(surface.positions.every(Number.isFinite)).toBe(true);
      }
    }
  });
});
