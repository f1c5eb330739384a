/**
 * Contact of two profiles: cases drawn by hand, and random ones against sliding the parts together radius by radius.
 */
import { describe, expect, test } from 'vitest';
import { EDGE_BAND_mm, envelope, gapBetween } from '../../shared/joint/contact.ts';
import { gap, mirrorPolygon, pressedArea_mm2, tubePolygon, shiftPolygon, type Polygon } from '../../shared/index.ts';
import { randomProfile, steepest, travelBySampling } from '../bench/profiles.ts';
import { random } from '../setup/random.ts';
import { seeds } from '../setup/series.ts';

const SEEDS = seeds(200);
const SAMPLES = 1500;

describe('gap, by hand', () => {
  const flat = tubePolygon(10, 15, 0, 5);

  test('two flat rings: the free distance, and the band both faces cover', () => {
    expect(gap(flat, tubePolygon(12, 20, 7, 9))).toEqual({ gap_mm: 2, bands_mm: [[12, 15]] });
  });
  test('an overlap is a negative gap', () => {
    expect(gap(flat, tubePolygon(12, 20, 4, 9))!.gap_mm).toBe(-1);
  });
  test('spacers that share no radius pass one another', () => {
    expect(gap(flat, tubePolygon(16, 20, 0, 5))).toBeUndefined();
  });
  test('spacers that share one cylinder only slide past one another', () => {
    expect(gap(flat, tubePolygon(15, 20, 0, 5))).toBeUndefined();
    expect(gap(tubePolygon(15, 20, 0, 5), flat)).toBeUndefined();
  });
  test('chamfers leave the flat between them', () => {
    const edges = { inner: 0.5, outer: 1 };
    expect(gap(tubePolygon(10, 15, 0, 5, edges), tubePolygon(10, 15, 5, 9, edges))).toEqual({
      gap_mm: 0,
      bands_mm: [[10.5, 14]],
    });
  });
  test('a cone meets a flat in an edge, at its highest corner', () => {
    const cone: Polygon = [
      [10, 0],
      [15, 0],
      [15, 3],
      [10, 6],
    ];
    const met = gap(cone, tubePolygon(9, 20, 8, 9))!;
    expect(met.gap_mm).toBe(2);
    expect(met.bands_mm).toEqual([[10, 10]]);
  });
  test('a cone meets a cone of the same slope all over, of another slope in an edge', () => {
    const cone: Polygon = [
      [10, 0],
      [15, 0],
      [15, 3],
      [10, 6],
    ];
    const alike: Polygon = [
      [10, 7],
      [15, 4],
      [15, 9],
      [10, 9],
    ];
    expect(gap(cone, alike)!.gap_mm).toBeCloseTo(1, 12);
    expect(gap(cone, alike)!.bands_mm[0]![0]).toBeCloseTo(10, 9);
    expect(gap(cone, alike)!.bands_mm.at(-1)![1]).toBeCloseTo(15, 9);
    const steeper: Polygon = [
      [10, 8],
      [15, 4],
      [15, 9],
      [10, 9],
    ];
    expect(gap(cone, steeper)!.bands_mm).toEqual([[15, 15]]);
  });
  test('a corner meets a slope between corners: the breakpoints of both parts count', () => {
    const peak: Polygon = [
      [11, 0],
      [13, 0],
      [12, 3],
    ];
    const roof: Polygon = [
      [10, 5],
      [15, 10],
      [15, 12],
      [10, 12],
    ];
    // At r = 12 the roof stands at 7; at r = 11 it stands at 6 over 0, at r = 13 at 8 over 0.
    expect(gap(peak, roof)).toEqual({ gap_mm: 4, bands_mm: [[12, 12]] });
  });
  test('the same height in two places gives two bands, an edge beside a flat is left out', () => {
    const fork: Polygon = [
      [10, 0],
      [20, 0],
      [20, 5],
      [18, 5],
      [18, 3],
      [12, 3],
      [12, 5],
      [10, 5],
    ];
    expect(gap(fork, tubePolygon(5, 30, 6, 8))).toEqual({
      gap_mm: 1,
      bands_mm: [
        [10, 12],
        [18, 20],
      ],
    });
    const thorn: Polygon = [
      [10, 0],
      [20, 0],
      [20, 5],
      [18, 5],
      [17, 3],
      [12, 3],
      [11, 5],
      [10, 3],
    ];
    expect(gap(thorn, tubePolygon(5, 30, 6, 8))!.bands_mm).toEqual([[18, 20]]);
  });
  test('material behind material does not count: the outermost face does', () => {
    // A channel open to the outside: at r 12 to 20 the upper lip is in front.
    const channel: Polygon = [
      [10, 0],
      [20, 0],
      [20, 2],
      [12, 2],
      [12, 6],
      [20, 6],
      [20, 8],
      [10, 8],
    ];
    expect(gap(channel, tubePolygon(15, 30, 10, 11))!.gap_mm).toBe(2);
    expect(gap(tubePolygon(15, 30, -5, -1), channel)!.gap_mm).toBe(1);
  });
  test('a ring inside a bore slides through, its flange does not', () => {
    const bushing: Polygon = [
      [5, 0],
      [8, 0],
      [8, 6],
      [12, 6],
      [12, 8],
      [5, 8],
    ];
    const bore = tubePolygon(9, 20, 0, 10);
    expect(gap(bore, bushing)!.gap_mm).toBe(-4);
    expect(gap(shiftPolygon(bore, -4), bushing)).toEqual({ gap_mm: 0, bands_mm: [[9, 12]] });
  });
  test('area of bands: rings of the plane', () => {
    expect(
      pressedArea_mm2([
        [3, 5],
        [6, 7],
      ]),
    ).toBeCloseTo(Math.PI * (25 - 9 + 49 - 36), 12);
    // An edge at radius 4 carries as a band of 0.05 mm: 2π·4·0.05; a band as narrow carries no more.
    expect(pressedArea_mm2([[4, 4]])).toBeCloseTo(0.4 * Math.PI, 12);
    expect(pressedArea_mm2([[3.99, 4.01]])).toBeCloseTo(0.4 * Math.PI, 12);
    expect(pressedArea_mm2([])).toBe(0);
  });
  test('a band narrower than an edge is named an edge only where nothing wider meets', () => {
    const needle: Polygon = [
      [10, 0],
      [10 + EDGE_BAND_mm / 2, 0],
      [10 + EDGE_BAND_mm / 2, 5],
      [10, 5],
    ];
    const [[from, to]] = gap(needle, tubePolygon(5, 30, 6, 8))!.bands_mm as [[number, number]];
    expect(to - from).toBeLessThan(EDGE_BAND_mm);
  });
});

describe('envelope', () => {
  test('covers every radius of the part once, in rising order', () => {
    for (const seed of SEEDS) {
      const polygon = randomProfile(random(seed));
      const radii = polygon.map(([r]) => r);
      for (const side of ['drive', 'non-drive'] as const) {
        const spans = envelope(polygon, side);
        expect(spans[0]!.r0).toBe(Math.min(...radii));
        expect(spans.at(-1)!.r1).toBe(Math.max(...radii));
        spans.slice(1).forEach((span, k) => expect(span.r0).toBe(spans[k]!.r1));
      }
    }
  });
  test('the non-drive side is the drive side of the mirrored part', () => {
    for (const seed of SEEDS) {
      const polygon = randomProfile(random(seed));
      const [one, other] = [envelope(polygon, 'non-drive'), envelope(mirrorPolygon(polygon), 'drive')];
      expect(other.length).toBe(one.length);
      one.forEach((span, k) => {
        expect(other[k]!.z0).toBeCloseTo(-span.z0, 9);
        expect(other[k]!.z1).toBeCloseTo(-span.z1, 9);
      });
    }
  });
});

describe('gap, against sliding until touch', () => {
  const pairOf = (seed: number): [Polygon, Polygon] => {
    const draw = random(seed);
    const a = randomProfile(draw);
    return [a, shiftPolygon(randomProfile(draw), draw.between(-5, 30))];
  };

  test('random pairs, 200 seeds', () => {
    let met = 0;
    for (const seed of SEEDS) {
      const [a, b] = pairOf(seed);
      const exact = gap(a, b);
      const sampled = travelBySampling(a, b, SAMPLES);
      const radii = [...a, ...b].map(([r]) => r);
      const spacing = (Math.max(...radii) - Math.min(...radii)) / SAMPLES;
      if (!exact || sampled === undefined) {
        // No shared radius, or a sliver thinner than the spacing.
        expect(exact === undefined || overlapWidth(a, b) < 2 * spacing, `seed ${seed}`).toBe(sampled === undefined);
        continue;
      }
      met++;
      expect(sampled - exact.gap_mm, `seed ${seed}`).toBeGreaterThan(-1e-9);
      expect(sampled - exact.gap_mm, `seed ${seed}`).toBeLessThan((steepest(a) + steepest(b)) * spacing + 1e-9);
      // The bands are where it is met: a hair into a band the parts stand that close, at its ends at least.
      for (const [r0, r1] of exact.bands_mm)
        expect(standAt(a, b, (r0 + r1) / 2) - exact.gap_mm, `band, seed ${seed}`).toBeLessThan(
          1e-6 * (1 + steepest(a) + steepest(b)),
        );
    }
    expect(met).toBeGreaterThan(0.7 * SEEDS.length);
  });

  test('moving B by u moves the gap by u, and the bands not at all', () => {
    for (const seed of SEEDS) {
      const [a, b] = pairOf(seed);
      const one = gap(a, b);
      const other = gap(a, shiftPolygon(b, 3.25));
      expect(other === undefined).toBe(one === undefined);
      if (!one || !other) continue;
      expect(other.gap_mm - one.gap_mm).toBeCloseTo(3.25, 9);
      expect(other.bands_mm.length).toBe(one.bands_mm.length);
    }
  });

  test('seen from the other side the two parts change places', () => {
    for (const seed of SEEDS) {
      const [a, b] = pairOf(seed);
      const one = gap(a, b);
      const other = gap(mirrorPolygon(b), mirrorPolygon(a));
      if (one) expect(other!.gap_mm).toBeCloseTo(one.gap_mm, 9);
      else expect(other).toBeUndefined();
    }
  });

  test('a part just touching its neighbour touches it, by the envelopes as by the polygons', () => {
    for (const seed of SEEDS.slice(0, 100)) {
      const [a, b] = pairOf(seed);
      const one = gap(a, b);
      if (!one) continue;
      const home = shiftPolygon(b, -one.gap_mm);
      expect(gapBetween(envelope(a, 'drive'), envelope(home, 'non-drive'))!.gap_mm).toBeCloseTo(0, 9);
    }
  });
});

/** Distance between the two faces at one radius, the radius nudged to where both have material. */
function standAt(a: Polygon, b: Polygon, r: number): number {
  const near = [0, 1e-8, -1e-8].flatMap((nudge) => travelBySampling(slice(a, r + nudge), slice(b, r + nudge), 1) ?? []);
  return Math.min(...near);
}

/** What one radius cuts out of a part, as a hair-thin ring. */
function slice(polygon: Polygon, r: number): Polygon {
  const hair = 1e-9;
  const zs = [...polygon.keys()].flatMap((k) => {
    const [r0, z0] = polygon[k]!;
    const [r1, z1] = polygon[(k + 1) % polygon.length]!;
    return r0 > r !== r1 > r ? [z0 + ((z1 - z0) * (r - r0)) / (r1 - r0)] : [];
  });
  return zs.length === 0 ? [] : tubePolygon(r - hair, r + hair, Math.min(...zs), Math.max(...zs));
}

function overlapWidth(a: Polygon, b: Polygon): number {
  const range = (polygon: Polygon): [number, number] => [
    Math.min(...polygon.map(([r]) => r)),
    Math.max(...polygon.map(([r]) => r)),
  ];
  const [[a0, a1], [b0, b1]] = [range(a), range(b)];
  return Math.min(a1, b1) - Math.max(a0, b0);
}
