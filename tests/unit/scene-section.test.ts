// The cut of an opened pivot: the clamp band against the solver's own links, the turn of the cutting plane, and the
// magnified inset. Plane geometry worked here by hand; no source needed.
import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { analyse, readModel, type Analysis, type StackAnalysis } from '../../shared/index.ts';
import { columnReference } from '../../src/drawings/column.ts';
import { bandOutline, bandSurface, clampBands } from '../../src/scene/band.ts';
import { frameAxes, pivotDirection, type View } from '../../src/scene/fit.ts';
import { hasInset, insetView } from '../../src/scene/inset.ts';
import { FACETS, paintItems } from '../../src/scene/item.ts';
import { faceBands } from '../../src/scene/marks.ts';
import { itemsOf } from '../../src/scene/placement.ts';
import { isUncut, paintSection, pivotHatches, solidHatch } from '../../src/scene/section.ts';
import { clampTurn, FARTHEST_turn, rollCut } from '../../src/scene/turn.ts';
import { demoModels, withRow } from '../bench/models.ts';

const analyses = readdirSync('models')
  .filter((name) => name.endsWith('.json'))
  .map((name): Analysis => {
    const read = readModel(readFileSync(`models/${name}`, 'utf8'));
    if (!read.ok) throw new Error(`${name}: ${JSON.stringify(read.problems)}`);
    return analyse(read.model);
  });
const pivots = analyses.flatMap((analysis) => analysis.pivots);
const stacks = pivots.flatMap((pivot) => pivot.stacks);

describe('clamp band', () => {
  test('every cut part of every column carries one, as wide as the force of its links and from link to link', () => {
    let widest = 0;
    for (const stack of stacks) {
      const bands = clampBands(stack);
      const reference_N = columnReference(stack);
      const cut = stack.items.filter(
        (item) =>
          item.inColumn && !isUncut(item) && stack.column.some(({ from, to }) => from === item.id || to === item.id),
      );
      expect([...bands.keys()].sort()).toEqual(cut.map(({ id }) => id).sort());
      const scale = [...bands].flatMap(([id, band]) =>
        stack.column.flatMap((link) =>
          link.from === id
            ? [band.to.width_mm / link.force_N]
            : link.to === id
              ? [band.from.width_mm / link.force_N]
              : [],
        ),
      );
      for (const one of scale) expect(one * reference_N).toBeCloseTo(scale[0]! * reference_N, 9);
      for (const [id, band] of bands) {
        for (const link of stack.column) {
          if (link.from === id) expect(band.to).toMatchObject({ z_mm: link.z_mm, isTorn: false });
          if (link.to === id) expect(band.from).toMatchObject({ z_mm: link.z_mm, isTorn: false });
        }
        widest = Math.max(widest, band.from.width_mm);
      }
    }
    expect(widest).toBeGreaterThan(1);
    expect(widest).toBeLessThan(3);
  });

  test('no band of a sound build is torn, though two bosses of one member press no face between them', () => {
    // The rig with one of its arm's bosses made in two.
    const rig = demoModels().find(({ id }) => id === 'class-rig')!;
    const arm = rig.members['arm']!;
    const { right } = arm.bores;
    const halves = {
      right: { ...right!, z_to_mm: right!.z_from_mm + 5 },
      outer: { ...right!, z_from_mm: right!.z_from_mm + 5 },
    };
    const halved = analyse({
      ...withRow(rig, 'rig-axle', (row) => [...row, { id: 'arm-outer', member: 'arm', bore: 'outer' }]),
      members: { ...rig.members, arm: { ...arm, bores: { ...arm.bores, ...halves } } },
    }).pivots;
    const alike = halved.flatMap((pivot) =>
      pivot.stacks.flatMap(({ items, column }) =>
        column.filter(({ from, to }) => {
          const [one, other] = [from, to].map((id) => items.find((item) => item.id === id)!);
          return one!.member !== undefined && one!.member === other!.member;
        }),
      ),
    );
    expect(alike.length).toBeGreaterThan(0);
    const sound = [...pivots, ...halved].filter(({ verdict }) => verdict === 'sound');
    expect(sound).toContain(halved[0]);
    for (const pivot of sound) {
      for (const stack of pivot.stacks) {
        const torn = [...clampBands(stack)].filter(([, { from, to }]) => from.isTorn || to.isTorn);
        expect(torn.map(([id]) => id)).toEqual([]);
      }
    }
  });

  test('where a link is broken both parts end torn, short of their faces', () => {
    const whole = stacks.find((stack) => clampBands(stack).size >= 3)!;
    const link = whole.column.find(({ from, to }) => clampBands(whole).has(from) && clampBands(whole).has(to))!;
    const broken: StackAnalysis = {
      ...whole,
      column: whole.column.map((one) => (one === link ? { ...one, force_N: 0, gap_mm: 0.3 } : one)),
    };
    const bands = clampBands(broken);
    expect(bands.get(link.from)!.to.isTorn).toBe(true);
    expect(bands.get(link.to)!.from.isTorn).toBe(true);
    const left = bandOutline(bands.get(link.from)!, 0);
    const right = bandOutline(bands.get(link.to)!, 0);
    expect(Math.max(...left.map(([, z]) => z))).toBeLessThan(
      broken.items.find(({ id }) => id === link.from)!.to_mm - 0.3,
    );
    expect(Math.min(...right.map(([, z]) => z))).toBeGreaterThan(
      broken.items.find(({ id }) => id === link.to)!.from_mm + 0.3,
    );
    expect([...bands].filter(([, band]) => band.from.isTorn || band.to.isTorn)).toHaveLength(2);
  });

  test('both strips face the viewer and hold the area of their outline', () => {
    for (const stack of stacks) {
      for (const band of clampBands(stack).values()) {
        const outline = bandOutline(band, 0);
        const twice = outline.reduce(
          (sum, [r, z], k) =>
            sum + r * outline[(k + 1) % outline.length]![1] - outline[(k + 1) % outline.length]![0] * z,
          0,
        );
        const { positions, index } = bandSurface(band, 0, 0.05);
        let area = 0;
        for (let k = 0; k < index.length; k += 3) {
          const [a, b, c] = [0, 1, 2].map(
            (j) => [positions[3 * index[k + j]!]!, positions[3 * index[k + j]! + 2]!] as const,
          ) as [readonly [number, number], readonly [number, number], readonly [number, number]];
          // The y part of (b − a) × (c − a) in (x, z): positive when it looks to +y.
          const y = (b[1] - a[1]) * (c[0] - a[0]) - (b[0] - a[0]) * (c[1] - a[1]);
          expect(y).toBeGreaterThanOrEqual(-1e-9);
          area += y / 2;
        }
        expect(area).toBeCloseTo(Math.abs(twice), 6);
      }
    }
  });
});

describe('hatching', () => {
  test('neighbours that are cut are hatched differently; axles, nuts and balls stay whole; seals are filled', () => {
    for (const pivot of pivots) {
      const hatches = pivotHatches(pivot.stacks);
      for (const stack of pivot.stacks) {
        const cut = stack.items.filter((item) => !isUncut(item));
        cut
          .slice(1)
          .forEach((item, k) =>
            expect(hatches.get(item.id), `${cut[k]!.id} ${item.id}`).not.toEqual(hatches.get(cut[k]!.id)),
          );
        for (const item of stack.items.filter(isUncut))
          expect(paintSection(item, { rise: 1, spacing_px: 4 }).index).toHaveLength(0);
        for (const item of cut.filter(({ role }) => role === 'bearing')) {
          const style = hatches.get(item.id)!;
          for (const solid of item.solids) expect(solidHatch(solid, style) === undefined).toBe(solid.role === 'seal');
          expect(solidHatch({ role: 'outer-ring' }, style)).not.toEqual(solidHatch({ role: 'inner-ring' }, style));
        }
      }
    }
  });
});

describe('turn of the cut', () => {
  const views: View[] = ['drive', 'non-drive', 'above', 'three-quarter'];
  const dot = (a: readonly number[], angle: number): number => a[0]! * Math.cos(angle) + a[1]! * Math.sin(angle);

  test.each(views)(
    'seen from %s: at rest it faces the viewer with the handle on top; dragged down, the handle comes nearer',
    (view) => {
      for (const aspect of [0.6, 1.5, 2.4]) {
        const direction = pivotDirection(view, aspect);
        const facing = Math.atan2(direction[1], direction[0]);
        const up = frameAxes(direction)[1];
        const rest = rollCut(facing, direction, 0);
        expect(rest.facing_rad).toBe(facing);
        expect(dot(up, rest.handle_rad)).toBeGreaterThanOrEqual(0);
        expect(Math.cos(rest.handle_rad - facing)).toBeCloseTo(0, 9);
        const down = rollCut(facing, direction, 0.3);
        expect(dot(direction, down.handle_rad)).toBeGreaterThan(dot(direction, rest.handle_rad));
        const edge = rollCut(facing, direction, FARTHEST_turn);
        expect(Math.cos(edge.facing_rad - facing)).toBeCloseTo(0, 9);
      }
    },
  );

  test('every plane through the axis is within reach, and no turn goes further', () => {
    expect(FARTHEST_turn).toBeCloseTo(Math.PI / 2, 12);
    expect([clampTurn(-9), clampTurn(0.2), clampTurn(9)]).toEqual([-FARTHEST_turn, 0.2, FARTHEST_turn]);
  });
});

describe('inset', () => {
  test('it holds the part whole, its neighbours, and the bands its faces carry', () => {
    let seen = 0;
    for (const pivot of pivots) {
      for (const item of itemsOf(pivot).filter(hasInset)) {
        const { window, solids, bands } = insetView(pivot, item);
        seen += 1;
        expect(
          solids.filter(({ isOwn }) => isOwn),
          item.id,
        ).toHaveLength(item.solids.length);
        for (const { polygon } of item.solids) {
          for (const [r, z] of polygon)
            expect(r > window.r0_mm && r < window.r1_mm && z > window.z0_mm && z < window.z1_mm).toBe(true);
        }
        expect(
          solids.some(({ isOwn }) => !isOwn),
          item.id,
        ).toBe(true);
        if (item.role === 'spacer') {
          const { polygon } = item.solids[0]!;
          expect(bands).toEqual([...faceBands(polygon, item.nonDrive, -1), ...faceBands(polygon, item.drive, 1)]);
        }
        for (const touch of [...item.nonDrive.touches, ...item.drive.touches].filter(
          ({ own }) => item.role === 'spacer' || own === 'inner-ring',
        )) {
          expect(
            bands.some((band) => band.with === touch.with),
            `${item.id} ${touch.with}`,
          ).toBe(true);
        }
      }
    }
    expect(seen).toBeGreaterThan(30);
  });
});

describe('what it costs', () => {
  test('an opened pivot and the rest of its bike stay within the budget of triangles', () => {
    for (const { pivots: own } of analyses) {
      const rest = own.map(
        (pivot) =>
          paintItems(itemsOf(pivot), { facets: FACETS.rest, rubs: new Set(), hasBands: false }, () => undefined).index
            .length / 3,
      );
      const open = own.map(
        (pivot) =>
          paintItems(itemsOf(pivot), { facets: FACETS.open, rubs: new Set(), hasBands: true }, () => undefined).index
            .length / 3,
      );
      // Twice the opened parts for their shadow; the browser's own count, members and all, is the bench's to hold to
      // 400,000. The largest pivot, with circlips and dust seals, comes to 346,000 here and to 333,000 there.
      expect(Math.max(...open) * 2 + rest.reduce((sum, count) => sum + count, 0)).toBeLessThan(350_000);
    }
  });
});
