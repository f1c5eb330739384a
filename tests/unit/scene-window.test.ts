import { describe, expect, it } from 'vitest';
import { loftWeb, type WebEnd, type Window } from '../../src/scene/web.ts';
import { windowOf, type Keep } from '../../src/scene/window.ts';

const end = (x_mm: number, y_mm: number, radius_mm: number): WebEnd => ({ x_mm, y_mm, z_mm: 0, radius_mm });
const PLATE = { a: end(0, 0, 18), b: end(80, 0, 16), thickness_mm: 9 };

function plate(window: Window | undefined) {
  const size = { thickness_mm: PLATE.thickness_mm };
  return loftWeb(PLATE.a, PLATE.b, {
    start: size,
    end: size,
    rounding: 0.14,
    recess_mm: 1.5,
    ...(window ? { window } : {}),
  });
}

const cut = (others: readonly Keep[] = [], height?: number): Window | undefined =>
  windowOf(PLATE.a, PLATE.b, height, PLATE.thickness_mm, others);

type Corner = readonly [number, number, number];

/** By the divergence theorem, mm³; right for a closed surface turned outward only. */
function volume(surface: ReturnType<typeof loftWeb>): number {
  const at = (k: number): Corner => [
    surface.positions[3 * k]!,
    surface.positions[3 * k + 1]!,
    surface.positions[3 * k + 2]!,
  ];
  let sum = 0;
  for (let k = 0; k < surface.index.length; k += 3) {
    const [ax, ay, az] = at(surface.index[k]!);
    const [bx, by, bz] = at(surface.index[k + 1]!);
    const [cx, cy, cz] = at(surface.index[k + 2]!);
    sum += (ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)) / 6;
  }
  return sum;
}

/** Edges that do not have exactly one neighbour running the other way. */
function openEdges(surface: ReturnType<typeof loftWeb>): number {
  const name = (k: number): string =>
    surface.positions
      .slice(3 * k, 3 * k + 3)
      .map((value) => (Math.round(value * 1e4) / 1e4 + 0).toFixed(4))
      .join();
  const seen = new Map<string, number>();
  for (let k = 0; k < surface.index.length; k += 3) {
    const corners = [0, 1, 2].map((n) => name(surface.index[k + n]!));
    corners.forEach((corner, n) => {
      const next = corners[(n + 1) % 3]!;
      if (corner === next) return;
      seen.set(`${corner} ${next}`, (seen.get(`${corner} ${next}`) ?? 0) + 1);
    });
  }
  return [...seen].filter(([edge, times]) => seen.get(edge.split(' ').reverse().join(' ')) !== times).length;
}

describe('the cut-out of a plate', () => {
  it('leaves the plate closed, its wall turned inward, and takes material away', () => {
    const [whole, open] = [plate(undefined), plate(cut())];
    expect(openEdges(whole)).toBe(0);
    expect(openEdges(open)).toBe(0);
    // A squared ellipse fills more than an ellipse (π/4) and less than its box.
    const { from, to, width } = cut()!;
    const box = (to - from) * 46 * width * 34 * PLATE.thickness_mm;
    const gone = volume(whole) - volume(open);
    expect(gone).toBeGreaterThan(0.55 * box);
    expect(gone).toBeLessThan(1.3 * box);
  });

  it('has a hole where the middle of the plate was', () => {
    const inHole = (window: Window | undefined): number => {
      const { positions, index } = plate(window);
      return index.filter((k) => Math.hypot(positions[3 * k]! - 41, positions[3 * k + 1]!) < 6).length;
    };
    expect(inHole(undefined)).toBeGreaterThan(0);
    expect(inHole(cut())).toBe(0);
  });

  it('keeps a rim to both bosses', () => {
    const { from, to } = cut()!;
    expect(from * 46).toBeGreaterThanOrEqual(5.5 - 1e-9);
    expect((1 - to) * 46).toBeGreaterThanOrEqual(5.5 - 1e-9);
  });

  it('stays clear of a bridge that stands in the plate, and is not cut into a small or a slender plate', () => {
    const bridge = { a: end(30, 0, 8), b: end(30, 0, 8), thickness_mm: 60 };
    const { from } = cut([bridge])!;
    expect(18 + from * 46).toBeGreaterThanOrEqual(30 + 8 + 4 - 0.5);
    expect(cut([{ ...bridge, a: end(41, 0, 12), b: end(41, 0, 12) }])).toBeUndefined();
    expect(cut([], 18)).toBeUndefined();
    expect(windowOf(PLATE.a, end(50, 0, 16), undefined, 9, [])).toBeUndefined();
  });

  it('looks past what stands on the other side of the bike', () => {
    const far = { a: { ...end(41, 0, 12), z_mm: 60 }, b: { ...end(41, 0, 12), z_mm: 60 }, thickness_mm: 9 };
    expect(cut([far])).toEqual(cut());
  });
});
