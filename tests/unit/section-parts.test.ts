// The parts of the section drawing one by one, each against a slow or closed-form answer.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hatchLines } from '../../src/drawings/hatch.ts';
import { placeFlags, type Flag } from '../../src/drawings/labels.ts';
import { endFace, envelope, outerRadiusAt, outlineOf, surfaceAt } from '../../src/drawings/outline.ts';
import { drawSection } from '../../src/drawings/section.ts';
import { corners, fitText, group, lines, scaled, textWidth, words, type Shape } from '../../src/drawings/shapes.ts';
import { px, tag } from '../../src/drawings/svg.ts';
import { isBroken, markedBreaks, wordGap } from '../../src/drawings/column.ts';
import { mix } from '../../src/look.ts';
import { PALETTES } from '../../src/drawings/colours.ts';
import { fixtureAnalysis, fixtureStack } from './section-fixture.ts';

const SEED = 20261;

/** A polygon around the origin with a corner in each of `radii.length` directions. */
function star(radii: readonly number[]): [number, number][] {
  return radii.map((radius, k) => {
    const angle = (2 * Math.PI * k) / radii.length + 0.1;
    return [radius * Math.cos(angle), radius * Math.sin(angle)];
  });
}

function areaOf(polygon: readonly (readonly [number, number])[]): number {
  return (
    Math.abs(
      polygon.reduce((sum, [x0, y0], k) => {
        const [x1, y1] = polygon[(k + 1) % polygon.length]!;
        return sum + x0 * y1 - x1 * y0;
      }, 0),
    ) / 2
  );
}

function linesOf(found: ReturnType<typeof hatchLines>): { x1: number; y1: number; x2: number; y2: number }[] {
  return found.map(([[x1, y1], [x2, y2]]) => ({ x1, y1, x2, y2 }));
}

describe('section: hatching', () => {
  it(`covers the area of a polygon, seed ${SEED}`, () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 20, max: 60, noNaN: true }), { minLength: 3, maxLength: 14 }),
        fc.constantFrom(1 as const, -1 as const),
        (radii, rise) => {
          const polygon = star(radii);
          const spacing = 0.5;
          const lines = linesOf(hatchLines(polygon, { rise, spacing, origin: [0, 0], pen: 0.7 }));
          const length = lines.reduce((sum, line) => sum + Math.hypot(line.x2 - line.x1, line.y2 - line.y1), 0);
          // Lines of length l at spacing s cover l·s; what is lost are the shortest bits at corners.
          expect(length * spacing).toBeGreaterThan(areaOf(polygon) * 0.97);
          expect(length * spacing).toBeLessThan(areaOf(polygon) * 1.03);
          for (const { x1, y1, x2, y2 } of lines) expect(Math.abs(x2 - x1 + rise * (y2 - y1))).toBeLessThan(0.05);
        },
      ),
      { seed: SEED, numRuns: 60 },
    );
  });

  it('moves with its part', () => {
    const square = (x: number): [number, number][] => [
      [x, 0],
      [x + 20, 0],
      [x + 20, 10],
      [x, 10],
    ];
    const at = (x: number) =>
      linesOf(hatchLines(square(x), { rise: 1, spacing: 3, origin: [x, 0], pen: 0.7 })).map(({ x1, y1, x2, y2 }) =>
        [x1 - x, y1, x2 - x, y2].map((value) => Math.round(value * 10) / 10),
      );
    expect(at(137)).toEqual(at(0));
  });
});

describe('section: placing flags', () => {
  const flags = fc.array(
    fc.record({
      anchor_px: fc.double({ min: 0, max: 1000, noNaN: true }),
      left_px: fc.double({ min: 1, max: 12, noNaN: true }),
      right_px: fc.double({ min: 5, max: 160, noNaN: true }),
    }),
    { minLength: 1, maxLength: 14 },
  );
  const withIds = (list: readonly Omit<Flag, 'id'>[]): Flag[] =>
    list.map((flag, k) => ({ id: String.fromCharCode(97 + k), ...flag }));

  it(`never lets boxes or leaders meet, seed ${SEED}`, () => {
    let fitted = 0;
    fc.assert(
      fc.property(flags, fc.integer({ min: 1, max: 3 }), (list, rows) => {
        const placed = placeFlags(withIds(list), 0, 1000, rows, 40);
        if (!placed) return;
        fitted += 1;
        placed.forEach((flag, k) => {
          expect(flag.port_px - flag.left_px).toBeGreaterThanOrEqual(-1e-6);
          expect(flag.port_px + flag.right_px).toBeLessThanOrEqual(1000 + 1e-6);
          placed.slice(k + 1).forEach((next) => {
            expect(next.anchor_px).toBeGreaterThanOrEqual(flag.anchor_px);
            expect(next.port_px).toBeGreaterThan(flag.port_px);
            if (next.row === flag.row)
              expect(next.port_px - next.left_px).toBeGreaterThan(flag.port_px + flag.right_px);
            if (next.row > flag.row) expect(next.port_px).toBeGreaterThan(flag.port_px + flag.right_px);
            if (next.row < flag.row) expect(next.port_px - next.left_px).toBeGreaterThan(flag.port_px);
          });
        });
      }),
      { seed: SEED, numRuns: 300 },
    );
    expect(fitted).toBeGreaterThan(100);
  });

  it('fits one row exactly when the widths and the air between them fit', () => {
    const list = withIds([
      { anchor_px: 10, left_px: 10, right_px: 90 },
      { anchor_px: 20, left_px: 10, right_px: 90 },
    ]);
    expect(placeFlags(list, 0, 207, 1, Infinity)).toBeDefined();
    expect(placeFlags(list, 0, 206, 1, Infinity)).toBeUndefined();
    expect(placeFlags([], 0, 10, 1, 0)).toEqual([]);
  });

  it('leaves flags with room straight above their anchors', () => {
    const placed = placeFlags(
      withIds([
        { anchor_px: 100, left_px: 2, right_px: 50 },
        { anchor_px: 400, left_px: 2, right_px: 50 },
      ]),
      0,
      800,
      3,
      30,
    )!;
    expect(placed.map((flag) => [flag.port_px, flag.row])).toEqual([
      [100, 0],
      [400, 0],
    ]);
  });
});

describe('section: outlines', () => {
  const [axle, , , spacer] = fixtureStack().items;

  it('reads the outer envelope of a stepped axle', () => {
    expect(outerRadiusAt(outlineOf(axle!), -35)).toBe(12);
    expect(outerRadiusAt(outlineOf(axle!), -32.5)).toBeCloseTo(9.2, 9);
    expect(outerRadiusAt(outlineOf(axle!), 0)).toBe(7.5);
    expect(outerRadiusAt(outlineOf(axle!), 39.75)).toBeCloseTo(6.75, 6);
    expect(outerRadiusAt(outlineOf(axle!), 41)).toBe(0);
  });

  it('reads the bore of a ring, and its two faces', () => {
    const polygons = spacer!.solids.map((solid) => solid.polygon);
    expect(
      envelope(polygons, 'inner').every(({ r0, r1 }) => Math.abs(r0 - 7.6) < 1e-9 && Math.abs(r1 - 7.6) < 1e-9),
    ).toBe(true);
    expect(endFace(spacer!, 'non-drive')!.radii_mm).toEqual([7.6, 9]);
    expect(endFace(spacer!, 'drive')!.radii_mm).toEqual([7.6, 13]);
    expect(surfaceAt(polygons, 8, 'non-drive')).toBe(-25);
    // On the flank, half way between the radii of the two faces.
    expect(surfaceAt(polygons, 11, 'non-drive')).toBeCloseTo(-22.5, 9);
    expect(surfaceAt(polygons, 14, 'drive')).toBeUndefined();
  });
});

describe('section: shapes', () => {
  const { shapes, width_mm, unit } = drawSection(fixtureStack(), fixtureAnalysis(fixtureStack()), {
    theme: 'print',
    width_px: 960,
  });

  it('are in mm of the sheet, 96 px an inch', () => {
    expect(width_mm).toBeCloseTo(254, 9);
    expect(unit).toBe('px');
    expect(shapes[0]).toMatchObject({ kind: 'rect', class: 'aws-ground', x: 0, y: 0 });
    expect((shapes[0] as Extract<Shape, { kind: 'rect' }>).width).toBeCloseTo(254, 9);
  });

  it('say what they are: cut faces as hatches, names as words, parts as groups with a title', () => {
    const flat = (shape: Shape): Shape[] => [shape, ...(shape.kind === 'group' ? shape.shapes.flatMap(flat) : [])];
    const all = shapes.flatMap(flat);
    const titles = all.flatMap((shape) => (shape.kind === 'group' && shape.title !== undefined ? [shape.title] : []));
    expect(titles).toHaveLength(fixtureStack().items.length);
    expect(all.filter((shape) => shape.kind === 'hatch')).toHaveLength(9);
    expect(all.some((shape) => shape.kind === 'text' && shape.text === 'Pivot nut')).toBe(true);
  });

  it('grow in every length, and in nothing that is none', () => {
    const arc = { to: [4, 5], radius: 2, isLong: true, isClockwise: false } as const;
    const hatch: Shape = {
      kind: 'hatch',
      polygons: [corners(0, 0, 4, 0, 4, 4)],
      rise: -1,
      spacing: 1,
      origin: [2, 2],
      pen: 3,
    };
    const name = words('7 mm', 1, 2, 3, { weight: 700, spacing: 0.5, data: { item: '1' } });
    const whole = group([lines([[[0, 1], arc]], { pen: 2, dash: [1, 2] }), hatch, name], { at: [1, 1], box: [0, 1] });
    expect(scaled(whole, 2)).toEqual(
      group(
        [
          lines([[[0, 2], { ...arc, to: [8, 10], radius: 4 }]], { pen: 4, dash: [2, 4] }),
          { ...hatch, polygons: [corners(0, 0, 8, 0, 8, 8)], spacing: 2, origin: [4, 4], pen: 6 },
          words('7 mm', 2, 4, 6, { weight: 700, spacing: 1, data: { item: '1' } }),
        ],
        { at: [2, 2], box: [0, 2] },
      ),
    );
  });
});

describe('section: column', () => {
  const link = (force_N: number, gap_mm = 0) => ({ from: 'a', to: 'b', z_mm: 0, force_N, gap_mm });

  it('is broken by a gap, or by next to no force', () => {
    expect(isBroken(link(8000), 8000)).toBe(false);
    expect(isBroken(link(8000, 0.01), 8000)).toBe(true);
    expect(isBroken(link(100), 8000)).toBe(true);
  });

  it('marks every gap, and a dead stretch without one only once', () => {
    const gap = link(0, 0.3);
    const links = [link(0), gap, link(0), link(8000), link(0), link(0), link(0)];
    expect([...markedBreaks(links, 8000)]).toEqual([gap, links[5]]);
  });

  it('never calls an open gap zero', () => {
    expect(wordGap(0.003)).toBe('< 0.01 mm');
    expect(wordGap(0.35)).toBe('0.35 mm');
    expect(wordGap(5)).toBe('5.00 mm');
  });
});

describe('section: text and numbers', () => {
  it('rounds to a hundredth and knows no minus zero', () => {
    expect(px(1.23456)).toBe('1.23');
    expect(px(-0.001)).toBe('0');
    expect(() => px(Number.NaN)).toThrow('svg');
  });

  it('leaves undefined attributes out and escapes the rest', () => {
    expect(tag('a', { b: undefined, c: '<"&' })).toBe('<a c="&lt;&quot;&amp;"/>');
  });

  it('cuts a text to its room', () => {
    const text = 'Tapered spacer, long';
    const cut = fitText(text, 12, 70);
    expect(cut.endsWith('…')).toBe(true);
    expect(textWidth(cut, 12)).toBeLessThanOrEqual(70);
    expect(fitText(text, 12, 400)).toBe(text);
  });
});

describe('section: contrast', () => {
  // Relative luminance and contrast ratio of WCAG 2.2, 1.4.3 and 1.4.11 (https://www.w3.org/TR/WCAG22/).
  const luminance = (hex: string) => {
    const [r, g, b] = [1, 3, 5].map((k) => {
      const share = Number.parseInt(hex.slice(k, k + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
  };
  const contrast = (a: string, b: string) => {
    const [low, high] = [luminance(a), luminance(b)].sort((p, q) => p - q);
    return (high! + 0.05) / (low! + 0.05);
  };

  it.each(Object.entries(PALETTES))('text has 4.5:1 and marks 3:1 on the %s ground', (_, colours) => {
    for (const text of [colours.ink, colours.muted, colours.troubleText, colours.columnText])
      expect(contrast(text, colours.ground)).toBeGreaterThanOrEqual(4.5);
    for (const mark of [colours.line, colours.trouble, colours.select, colours.column])
      expect(contrast(mark, colours.ground)).toBeGreaterThanOrEqual(3);
    for (const { fill, line } of [colours.axle, colours.innerRing, colours.outerRing])
      expect(contrast(line, fill)).toBeGreaterThanOrEqual(3);
  });

  it('mixes in equal steps', () => {
    expect(mix('#000000', '#ffffff', 0.5)).toBe('#808080');
    expect(mix('#123456', '#ffffff', 0)).toBe('#123456');
  });
});
