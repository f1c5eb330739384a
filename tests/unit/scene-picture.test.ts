// What stands where on the picture: offsets, frames, labels, marks, section and picking, all without a GPU.
import { readFileSync, readdirSync } from 'node:fs';
import fc from 'fast-check';
import {
  BufferGeometry,
  Mesh,
  MeshBasicMaterial,
  PerspectiveCamera,
  Plane,
  Raycaster,
  Vector3,
  type Intersection,
} from 'three';
import { describe, expect, test } from 'vitest';
import {
  analyse,
  inAxleOrder,
  readModel,
  type Analysis,
  type FaceReading,
  type PivotAnalysis,
  type PlacedItem,
  type Polygon,
} from '../../shared/index.ts';
import { layoutFor } from '../../src/scene/apart.ts';
import { placeCallouts } from '../../src/scene/callouts.ts';
import { placeOnDots } from '../../src/scene/dots.ts';
import {
  fieldOfView_deg,
  fitStand,
  frameAxes,
  overviewDirection,
  pivotDirection,
  pivotStand,
  type Frame,
  type View,
} from '../../src/scene/fit.ts';
import { toGeometry } from '../../src/scene/geometry.ts';
import { circleLines } from '../../src/scene/item.ts';
import { partLabels, pivotLabels, shortName } from '../../src/scene/labels.ts';
import {
  crosses,
  overlaps,
  placeLabels,
  type Box,
  type LabelField,
  type LabelPlace,
  type LabelWish,
} from '../../src/scene/layout.ts';
import { annulus, arrowMarks, doubleLine, faceBands, PROUD_mm } from '../../src/scene/marks.ts';
import { ease, Motion } from '../../src/scene/motion.ts';
import { ALWAYS, FACING, LABELS, MARK, METALS, PICTURE, TROUBLE } from '../../src/look.ts';
import { facingColour } from '../../src/scene/palette.ts';
import { placeNames } from '../../src/scene/rail.ts';
import { raycastBehind, raycastNothing } from '../../src/scene/picking.ts';
import {
  anchorsOf,
  cornersOf,
  itemsOf,
  placeItems,
  accessOf,
  troubledItems,
  type Layout,
  type Place,
} from '../../src/scene/placement.ts';
import { axisOnScreen, projectLabel } from '../../src/scene/project.ts';
import { ballPlaces, capSurface } from '../../src/scene/section.ts';
import { shockShape } from '../../src/scene/shock.ts';
import { revolve } from '../../src/scene/surface.ts';
import { property, someOf } from '../setup/series.ts';

const analyses = readdirSync('models')
  .filter((name) => name.endsWith('.json'))
  .map((name): Analysis => {
    const read = readModel(readFileSync(`models/${name}`, 'utf8'));
    if (!read.ok) throw new Error(`${name}: ${JSON.stringify(read.problems)}`);
    return analyse(read.model);
  });
const pivots = analyses.flatMap((analysis) => analysis.pivots);
const twoStacks = pivots.filter((pivot) => pivot.stacks.length === 2);

/** The widths a picture has on a phone, a tablet and a desk, with the height it has there; px. */
const PICTURES = [
  [390, 480],
  [1024, 600],
  [1920, 760],
] as const;
const VIEWS: View[] = ['drive', 'non-drive', 'above', 'three-quarter'];
const frameOf = (width: number, height: number): Frame => ({
  width,
  height,
  clear: { top: 52, bottom: width < 640 ? 62 : 56 },
});
const layoutOf = (pivot: PivotAnalysis): Layout => layoutFor(pivot, 'three-quarter', frameOf(1024, 600), 'both');

describe('apart', () => {
  test('closed, everything is home', () => {
    for (const pivot of pivots)
      for (const { offset_mm } of Object.values(placeItems(pivot, layoutOf(pivot), 0)))
        expect(Math.abs(offset_mm)).toBe(0);
  });

  test.each([0.25, 1])(
    'apart by %f, parts of a row keep their order and never overlap more than when tight',
    (apart) => {
      for (const pivot of pivots) {
        const layout = layoutOf(pivot);
        for (const stack of pivot.stacks) {
          const row = inAxleOrder(stack).filter((item) => item.role !== 'axle');
          row.slice(1).forEach((item, k) => {
            const before = row[k]!;
            const homeGap = item.from_mm - before.to_mm;
            const gap = homeGap + apart * (layout[item.id]! - layout[before.id]!);
            expect(gap, `${before.id} ${item.id}`).toBeGreaterThan(homeGap - 1e-9);
            if (apart === 1) expect(gap, `${before.id} ${item.id}`).toBeGreaterThan(0);
          });
        }
      }
    },
  );

  test('two stacks of one pivot go outward from their inner ends and stay clear of one another', () => {
    expect(twoStacks.length).toBeGreaterThan(0);
    for (const pivot of twoStacks) {
      const layout = layoutOf(pivot);
      const ends = pivot.stacks.map((stack) => {
        const low = Math.min(...stack.items.map((item) => item.from_mm + layout[item.id]!));
        const high = Math.max(...stack.items.map((item) => item.to_mm + layout[item.id]!));
        return {
          low,
          high,
          homeLow: Math.min(...stack.items.map((item) => item.from_mm)),
          homeHigh: Math.max(...stack.items.map((item) => item.to_mm)),
        };
      });
      const [left, right] = ends.sort((a, b) => a.low - b.low);
      expect(left!.high).toBeLessThanOrEqual(right!.low);
      expect(left!.high).toBeLessThanOrEqual(left!.homeHigh + 1e-9);
      expect(right!.low).toBeGreaterThanOrEqual(right!.homeLow - 1e-9);
    }
  });

  /** The outline of an item on the screen as a convex polygon, px. */
  function silhouette(
    pivot: PivotAnalysis,
    item: PlacedItem,
    offset_mm: number,
    camera: PerspectiveCamera,
    width: number,
    height: number,
  ): [number, number][] {
    const points = item.solids.flatMap(({ polygon }) =>
      polygon.flatMap(([r, z]) =>
        Array.from({ length: 48 }, (_, k): [number, number] => {
          const t = (Math.PI * k) / 24;
          const p = new Vector3(pivot.x_mm + r * Math.cos(t), pivot.y_mm + r * Math.sin(t), z + offset_mm).project(
            camera,
          );
          return [(p.x * width) / 2, (p.y * height) / 2];
        }),
      ),
    );
    return convexHull(points);
  }

  test.each(PICTURES)('on %i × %i no part of a pulled row lies before another, from any view', (width, height) => {
    const faults: string[] = [];
    for (const pivot of someOf(pivots, 3)) {
      for (const view of VIEWS) {
        const layout = layoutFor(pivot, view, frameOf(width, height), 'both');
        const camera = cameraAt(cornersOf(pivot, placeItems(pivot, layout, 1)), view, width, height);
        const outlines = itemsOf(pivot).map((item) => ({
          id: item.id,
          hull: silhouette(pivot, item, layout[item.id]!, camera, width, height),
        }));
        outlines.forEach((one, k) => {
          for (const other of outlines.slice(k + 1))
            if (!(gapBetween(one.hull, other.hull) > 0)) faults.push(`${view} ${one.id} ${other.id}`);
          // The camera holds the whole row: no wider than the picture.
          if (!one.hull.every(([x, y]) => Math.max(Math.abs(x) / width, Math.abs(y) / height) <= 0.5))
            faults.push(`${view} ${one.id} beyond the picture`);
        });
      }
    }
    expect(faults).toEqual([]);
  });

  test('on the way apart nothing is hidden more than it was: a gap on the screen only grows', () => {
    for (const pivot of pivots) {
      const layout = layoutOf(pivot);
      for (const stack of pivot.stacks) {
        const row = inAxleOrder(stack).filter((item) => item.role !== 'axle');
        row.slice(1).forEach((item, k) => expect(layout[item.id]! - layout[row[k]!.id]!, item.id).toBeGreaterThan(0));
      }
    }
  });

  test.each(['drive', 'non-drive'] as const)(
    'pulled on the %s side alone, the other side stays home and this side comes out',
    (side) => {
      const sign = side === 'drive' ? 1 : -1;
      for (const pivot of pivots.filter(({ stacks }) => stacks.length === 1)) {
        const stack = pivot.stacks[0]!;
        const layout = layoutFor(pivot, 'three-quarter', frameOf(1024, 600), side);
        const row = stack.items.filter(({ role }) => role !== 'axle');
        const middle =
          (Math.min(...row.map(({ from_mm }) => from_mm)) + Math.max(...row.map(({ to_mm }) => to_mm))) / 2;
        const moved = row.filter((item) => Math.abs(layout[item.id]!) > 1e-9);
        expect(moved.length, pivot.id).toBeGreaterThan(0);
        for (const item of row) {
          const place = (item.from_mm + item.to_mm) / 2;
          if (sign * (place - middle) < 0) expect(Math.abs(layout[item.id]!), item.id).toBe(0);
          else expect(sign * layout[item.id]!, item.id).toBeGreaterThanOrEqual(0);
        }
        const axle = stack.items.find(({ role }) => role === 'axle')!;
        if (stack.from === side) expect(sign * layout[axle.id]!).toBeGreaterThan(0);
        else expect(layout[axle.id]).toBe(0);
      }
      for (const pivot of twoStacks) {
        const layout = layoutFor(pivot, 'three-quarter', frameOf(1024, 600), side);
        expect(Object.values(layout).some((offset) => sign * offset > 0)).toBe(true);
        expect(Object.values(layout).every((offset) => sign * offset >= 0)).toBe(true);
      }
    },
  );

  test('a step puts fitted items where it says and the rest fully apart', () => {
    const pivot = pivots.find((candidate) => candidate.stacks.length === 1)!;
    const layout = layoutOf(pivot);
    const [first, second] = itemsOf(pivot);
    const places = placeItems(pivot, layout, 0.2, {
      [first!.id]: { offset_mm: -7, on: true },
      [second!.id]: { offset_mm: 99, on: false },
    });
    expect(places[first!.id]).toEqual({ offset_mm: -7, isAway: false });
    expect(places[second!.id]).toEqual({ offset_mm: layout[second!.id], isAway: true });
    const third = itemsOf(pivot)[2]!;
    expect(places[third.id]!.offset_mm).toBeCloseTo(0.2 * layout[third.id]!, 12);
  });
});

describe('places of members', () => {
  test('a bore stands at the pivot that names it, in rows or as receiver', () => {
    for (const { model } of analyses) {
      const anchors = anchorsOf(model);
      for (const pivot of model.pivots) {
        for (const stack of pivot.stacks) {
          const named = stack.row.flatMap((entry) =>
            entry.member !== undefined && entry.bore !== undefined ? [`${entry.member}/${entry.bore}`] : [],
          );
          if (stack.receiver.includes('/')) named.push(stack.receiver);
          for (const name of named) {
            const [member, bore] = name.split('/') as [string, string];
            expect(anchors[member]![bore], name).toMatchObject({ x_mm: pivot.x_mm, y_mm: pivot.y_mm, isItem: true });
          }
        }
      }
    }
  });

  test('a shock lies between its eyes and shows at least its stroke of shaft', () => {
    const withShock = analyses.filter(({ model }) => model.shock);
    expect(withShock.length).toBeGreaterThan(0);
    for (const { model } of withShock) {
      const shape = shockShape(model, anchorsOf(model))!;
      const length = Math.hypot(...shape.to.map((value, k) => value - shape.from[k]!));
      expect(length).toBeCloseTo(model.shock!.eye_to_eye_mm, 0);
      const canEnd = Math.max(...shape.can.map(([, z]) => z));
      const lug = shape.shaft
        .filter(([r, z]) => r > 0 && z > canEnd)
        .reduce((least, [, z]) => Math.min(least, z), Infinity);
      expect(lug - canEnd).toBeGreaterThan(model.shock!.stroke_mm);
    }
  });
});

describe('camera', () => {
  const views = VIEWS;
  const fov = 26;

  /** The farthest that any point lies from the middle of the picture, across and upward; 1 is the border. */
  function reach(points: readonly Place[], stand: ReturnType<typeof fitStand>, aspect: number): [number, number] {
    const [right, up] = frameAxes(stand.direction);
    const dot = (a: Place, b: Place): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    const tan = Math.tan((fov * Math.PI) / 360);
    let across = 0;
    let upward = 0;
    for (const point of points) {
      const off: Place = [point[0] - stand.target[0], point[1] - stand.target[1], point[2] - stand.target[2]];
      const depth = stand.distance_mm - dot(off, stand.direction);
      expect(depth).toBeGreaterThan(0);
      across = Math.max(across, Math.abs(dot(off, right)) / (depth * tan * aspect));
      upward = Math.max(upward, Math.abs(dot(off, up)) / (depth * tan));
    }
    return [across, upward];
  }

  test.each([16 / 9, 1, 390 / 600, 0.4])(
    'at aspect %f every view keeps every pivot inside its margin, and fills it',
    (aspect) => {
      for (const pivot of pivots) {
        const corners = cornersOf(pivot, placeItems(pivot, layoutOf(pivot), 1));
        for (const view of views) {
          const margin = { across: 0.12, upward: 0.3 };
          const stand = fitStand(corners, pivotDirection(view, aspect), fov, aspect, margin);
          const [across, upward] = reach(corners, stand, aspect);
          expect(across).toBeLessThan(1 - margin.across + 1e-6);
          expect(upward).toBeLessThan(1 - margin.upward + 1e-6);
          expect(Math.max(across / (1 - margin.across), upward / (1 - margin.upward))).toBeCloseTo(1, 4);
        }
      }
    },
  );

  test('the side one stands on is the side of the view', () => {
    for (const aspect of [2.4, 1.5, 0.6]) {
      expect(pivotDirection('drive', aspect)[2]).toBeGreaterThan(0.4);
      expect(pivotDirection('non-drive', aspect)[2]).toBeLessThan(-0.4);
    }
    expect(overviewDirection('drive')[2]).toBeGreaterThan(0.9);
    expect(overviewDirection('non-drive')[2]).toBeLessThan(-0.9);
  });

  test('on a wide picture the drive side lies on the right in every view of a pivot, as on the row', () => {
    for (const view of views)
      for (const aspect of [1.2, 2.4]) expect(frameAxes(pivotDirection(view, aspect))[0][2]).toBeGreaterThan(0.5);
  });

  test('seen from the drive side the bike points right', () => {
    expect(frameAxes(overviewDirection('drive'))[0][0]).toBeGreaterThan(0.99);
  });
});

describe('labels', () => {
  const wish = fc.record({
    x: fc.integer({ min: 0, max: 960 }),
    y: fc.integer({ min: 0, max: 440 }),
    r: fc.integer({ min: 0, max: 70 }),
    width: fc.integer({ min: 30, max: 170 }),
    isFirst: fc.boolean(),
  });
  const wishes = fc
    .array(wish, { minLength: 1, maxLength: 18 })
    .map((all) => all.map((one, k): LabelWish => ({ ...one, id: `p${k}`, height: 26 })));
  const axis = fc.tuple(fc.integer({ min: -10, max: 10 }), fc.integer({ min: -10, max: 10 }));
  const taken: Box[] = [{ left: 20, top: 380, width: 150, height: 22 }];
  const settings = property(20240611, 40);
  const rocker = analyses
    .find(({ model }) => model.id === 'skarn-140')!
    .pivots.find(({ id }) => id === 'rocker-frame')!;
  const QUIET = {
    litId: undefined,
    selectedId: undefined,
    active: new Set<string>(),
    troubled: new Set<string>(),
    rubs: new Set<string>(),
  };

  /** The straight runs of a leader. */
  function runsOf({ from, via = [], to }: LabelPlace): [readonly [number, number], readonly [number, number]][] {
    const points = [from, ...via, to];
    return points.slice(1).map((point, k) => [points[k]!, point]);
  }

  function expectClear(boxes: readonly Box[], field: LabelField): void {
    const faults = boxes.filter(
      (box, k) =>
        !(box.left >= 0 && box.top >= 0) ||
        !(box.left + box.width <= field.width && box.top + box.height <= field.height) ||
        [...boxes.slice(k + 1), ...field.taken].some((other) => overlaps(box, other, 0)),
    );
    expect(faults).toEqual([]);
  }

  test('no label of a row lies over another, over what is taken, or outside the picture (seed 20240611)', () => {
    fc.assert(
      fc.property(wishes, axis, (all, direction) => {
        const field: LabelField = { width: 960, height: 440, axis: direction, taken };
        expectClear(placeLabels(all, field), field);
      }),
      settings,
    );
  });

  test('no name in a rail lies over another, over what is taken, or outside the picture (seed 20261130)', () => {
    fc.assert(
      fc.property(wishes, axis, (all, direction) => {
        const field: LabelField = { width: 960, height: 440, axis: direction, taken };
        const placed = placeNames(all, field, 960 / 540);
        expectClear(placed, field);
        if (all.length > 8) return;
        for (const one of all) expect(placed.some(({ id }) => id === one.id)).toBe(true);
      }),
      property(20261130, 40),
    );
  });

  test('names in rails keep their line and move without a leap as the eye goes round', () => {
    const pivot = rocker;
    const [width, height] = [1024, 600];
    const frame = frameOf(width, height);
    const places = placeItems(pivot, layoutOf(pivot), 1);
    const specs = partLabels(pivot, places, QUIET);
    const { target, distance_mm } = pivotStand(cornersOf(pivot, places), 'three-quarter', frame);
    let before: ReturnType<typeof placeNames> | undefined;
    let farthest = 0;
    // From well toward the non-drive side to well toward the drive side, half a degree a frame.
    for (let turn_deg = -50; turn_deg <= 50; turn_deg += 0.5) {
      const turn = (turn_deg * Math.PI) / 180;
      const camera = new PerspectiveCamera(fieldOfView_deg(width / height), width / height, 40, 12_000);
      const away = [-Math.cos(turn) * 0.93, 0.37, Math.sin(turn) * 0.93] as const;
      camera.position.set(...([0, 1, 2].map((k) => target[k]! + away[k]! * distance_mm) as [number, number, number]));
      camera.lookAt(...target);
      camera.updateMatrixWorld();
      const wishes = specs.map(
        (spec): LabelWish => ({
          ...projectLabel(spec, places[spec.id]!.offset_mm, camera, { width, height }),
          ...sizeOf(spec.text, width),
        }),
      );
      const placed = placeNames(
        wishes,
        { width, height: 490, axis: axisOnScreen(specs, camera, { width, height }), taken: [] },
        width / height,
      );
      expect(placed).toHaveLength(specs.length);
      for (const one of placed) {
        const was = before?.find(({ id }) => id === one.id);
        if (!was) continue;
        expect(one.top, one.id).toBe(was.top);
        farthest = Math.max(farthest, Math.abs(one.left - was.left));
      }
      before = placed;
    }
    expect(farthest).toBeGreaterThan(0);
    expect(farthest).toBeLessThan(12);
  });

  test('on a tablet the names of a rail stand in the order of their parts, each leader straight to its own', () => {
    const [width, height] = [760, 370];
    const frame = frameOf(width, height);
    const layout = layoutFor(rocker, 'three-quarter', frame, 'both');
    const places = placeItems(rocker, layout, 1);
    const camera = cameraAt(cornersOf(rocker, places), 'three-quarter', width, height);
    camera.setViewOffset(width, height, 0, (frame.clear.bottom - frame.clear.top) / 2, width, height);
    const specs = partLabels(rocker, places, QUIET);
    const wishes = specs.map((spec): LabelWish => {
      const seen = projectLabel(spec, layout[spec.id]!, camera, { width, height });
      const size = sizeOf(spec.text, width);
      return { ...seen, y: seen.y - frame.clear.top, ...size, width: size.width + (spec.letter ? 20 : 0) };
    });
    const inner = height - frame.clear.top - frame.clear.bottom;
    const marker = { left: width - 112, top: 6, width: 106, height: 22 };
    const other = { left: 6, top: inner - 28, width: 145, height: 22 };
    const field = {
      width,
      height: inner,
      axis: axisOnScreen(specs, camera, { width, height }),
      taken: [marker, other],
    };
    const placed = placeNames(wishes, field, width / height);
    expect(placed).toHaveLength(specs.length);
    expectClear(placed, field);
    for (const isOver of [true, false]) {
      const rail = placed.filter(({ top }) => top < inner / 2 === isOver);
      const names = specs.map(({ id }) => id).filter((id) => rail.some((one) => one.id === id));
      expect([...rail].sort((a, b) => a.from[0] - b.from[0]).map(({ id }) => id)).toEqual(names);
      for (const { id, from, via = [], to } of rail) {
        const run = Math.hypot(to[0] - from[0], to[1] - from[1]);
        for (const [x, y] of via) {
          const off = ((to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0])) / run;
          expect(Math.abs(off), `bend of ${id}`).toBeLessThan(4);
        }
      }
    }
  });

  test('a name has the letter of the side its part lies on; what runs through the middle has none', () => {
    const pivot = rocker;
    const specs = partLabels(pivot, placeItems(pivot, layoutOf(pivot), 1), QUIET);
    expect(specs.map(({ letter }) => letter ?? '-').join('')).toBe('NNNN-DDD-');
  });

  test('call-outs stay clear of the side markers as well (seed 20240611)', () => {
    const dots = fc.array(fc.record({ x: fc.integer({ min: 250, max: 700 }), y: fc.integer({ min: 10, max: 330 }) }), {
      minLength: 1,
      maxLength: 6,
    });
    fc.assert(
      fc.property(dots, fc.integer({ min: 20, max: 640 }), (all, left) => {
        const field: LabelField = {
          width: 960,
          height: 340,
          axis: [1, 0],
          taken: [{ left, top: 312, width: 130, height: 22 }],
        };
        const placed = placeCallouts(
          all.map((dot, k): LabelWish => ({ ...dot, id: `p${k}`, r: 12, width: 150, height: 44, isFirst: true })),
          field,
        );
        expect(placed).toHaveLength(all.length);
        expectClear(placed, field);
      }),
      settings,
    );
  });

  test('dots that are pressed each have a thumb of their own, clear of words, as near as may be (seed 20261201)', () => {
    const dots = fc.array(fc.record({ x: fc.integer({ min: 30, max: 360 }), y: fc.integer({ min: 10, max: 190 }) }), {
      minLength: 1,
      maxLength: 7,
    });
    const field: LabelField = {
      width: 390,
      height: 200,
      axis: [1, 0],
      taken: [
        { left: 6, top: 172, width: 140, height: 22 },
        { left: 270, top: 6, width: 114, height: 22 },
      ],
    };
    fc.assert(
      fc.property(dots, (all) => {
        const wishes = all.map(
          (dot, k): LabelWish => ({ ...dot, id: `p${k}`, r: 12, width: 44, height: 44, isFirst: true }),
        );
        const placed = placeOnDots(wishes, field);
        expect(placed).toHaveLength(all.length);
        expectClear(placed, field);
        for (const wish of wishes) {
          const own = placed.find(({ id }) => id === wish.id)!;
          expect(own.to).toEqual([wish.x, wish.y]);
          const isAlone =
            wish.x > 90 &&
            wish.x < 200 &&
            wish.y > 60 &&
            wish.y < 120 &&
            wishes.every((other) => other === wish || Math.hypot(other.x - wish.x, other.y - wish.y) > 250);
          if (isAlone) expect(own.from).toEqual(own.to);
        }
      }),
      property(20261201, 60),
    );
  });

  test('beside the border a call-out moves off what it names', () => {
    const dots = [
      [380, 220],
      [540, 200],
      [545, 340],
      [500, 380],
    ].map(
      ([x, y], k): LabelWish => ({
        id: `p${k}`,
        x: x!,
        y: y!,
        r: 12,
        width: 210,
        height: 44,
        isFirst: true,
        hardware: { left: x! - 25, top: y! - 20, width: 50, height: 40 },
      }),
    );
    const field: LabelField = { width: 760, height: 560, axis: [1, 0], taken: [] };
    const placed = placeCallouts(dots, field);
    expectClear(placed, { ...field, taken: dots.map(({ hardware }) => hardware!) });
    // Here a name beside its dot would lie on it.
    expect(540 + 25 + 210).toBeGreaterThan(field.width);
  });

  test('the dot of a pivot with a stack on each side stands on the one nearer the eye', () => {
    const size = { width: 1024, height: 600 };
    let count = 0;
    for (const analysis of analyses) {
      for (const spec of pivotLabels(analysis)) {
        const [low, high] = [spec.stacks_mm![0], spec.stacks_mm!.at(-1)];
        if (!low || low === high) continue;
        count += 1;
        for (const [side, stack] of [
          [1, high],
          [-1, low],
        ] as const) {
          const camera = new PerspectiveCamera(26, size.width / size.height, 1, 20_000);
          camera.position.set(spec.at[0] - 300, spec.at[1] + 200, side * 900);
          camera.lookAt(new Vector3(...spec.at));
          camera.updateMatrixWorld();
          const middle = new Vector3(spec.at[0], spec.at[1], (stack![0] + stack![1]) / 2).project(camera);
          const seen = projectLabel(spec, 0, camera, size);
          expect(seen.x).toBeCloseTo(((middle.x + 1) / 2) * size.width, 6);
          expect(seen.y).toBeCloseTo(((1 - middle.y) / 2) * size.height, 6);
          expect(seen.hardware!.width).toBeGreaterThan(20);
        }
      }
    }
    expect(count).toBeGreaterThan(0);
  });

  test('a label that must be seen is there', () => {
    fc.assert(
      fc.property(wishes, axis, (all, direction) => {
        const placed = placeLabels(all, { width: 960, height: 440, axis: direction, taken });
        for (const one of all.filter(({ isFirst }) => isFirst))
          expect(placed.some(({ id }) => id === one.id)).toBe(true);
      }),
      settings,
    );
  });

  test('the picture decides, not the order in which parts come', () => {
    const field: LabelField = { width: 960, height: 440, axis: [1, 0.2], taken };
    const all: LabelWish[] = Array.from({ length: 9 }, (_, k) => ({
      id: `p${k}`,
      x: 80 + 90 * k,
      y: 200 + 12 * k,
      r: 30,
      width: 110,
      height: 26,
      isFirst: false,
    }));
    const byId = (a: { id: string }, b: { id: string }): number => a.id.localeCompare(b.id);
    expect(placeLabels([...all].reverse(), field).sort(byId)).toEqual(placeLabels(all, field).sort(byId));
  });

  test.each([
    [960, 430],
    [390, 480],
  ])('call-outs of six pivots on %i × %i: all there, none over another', (width, height) => {
    const dots = [
      [400, 190],
      [483, 186],
      [527, 122],
      [580, 307],
      [524, 348],
      [474, 400],
    ].map(
      ([x, y], k): LabelWish => ({
        id: `p${k}`,
        x: (x! * width) / 960,
        y: (y! * height) / 540,
        r: 12,
        width: width > 500 ? 180 : 140,
        height: 44,
        isFirst: true,
      }),
    );
    const field: LabelField = { width, height, axis: [1, 0], taken: [] };
    const placed = placeCallouts(dots, field);
    expect(placed).toHaveLength(6);
    expectClear(placed, field);
  });

  /** The room a name takes: the picture's own type sizes, 0.6 of them a letter (the widest mean of any demo name). */
  function sizeOf(text: string, width: number): { width: number; height: number } {
    const type = Math.min(20, Math.max(13, 8 + 0.0052 * width));
    return { width: 18 + 0.6 * type * text.length, height: 1.25 * type + 8.4 };
  }

  test.each(PICTURES)(
    'on %i × %i no name, line or part of a pulled row lies over another, from any view',
    (width, height) => {
      const frame = frameOf(width, height);
      const inner = { width, height: height - frame.clear.top - frame.clear.bottom };
      const faults: string[] = [];
      let named = 0;
      let wanted = 0;
      for (const pivot of someOf(pivots, 3)) {
        for (const view of VIEWS) {
          const layout = layoutFor(pivot, view, frame, 'both');
          const places = placeItems(pivot, layout, 1);
          const camera = cameraAt(cornersOf(pivot, places), view, width, height);
          camera.setViewOffset(width, height, 0, (frame.clear.bottom - frame.clear.top) / 2, width, height);
          const specs = partLabels(pivot, places, QUIET);
          const wishes = specs.map((spec): LabelWish => {
            const seen = projectLabel(spec, layout[spec.id]!, camera, { width, height });
            return { ...seen, y: seen.y - frame.clear.top, ...sizeOf(spec.text, width) };
          });
          const field: LabelField = { ...inner, axis: axisOnScreen(specs, camera, { width, height }), taken: [] };
          const placed = placeNames(wishes, field, width / height);
          expectClear(placed, field);
          const length = Math.hypot(...field.axis);
          const [u, n] = [
            [field.axis[0] / length, field.axis[1] / length],
            [-field.axis[1] / length, field.axis[0] / length],
          ] as const;
          for (const one of placed) {
            for (const other of placed)
              if (other !== one && runsOf(one).some(([a, b]) => crosses(a, b, other, 0)))
                faults.push(`${view} ${one.id} ${other.id}`);
            for (const wish of wishes) {
              // The part's own frame: its outline lies within a rectangle along the axis.
              const local = ([x, y]: readonly [number, number]): [number, number] => [
                (x - wish.x) * u[0] + (y - wish.y) * u[1],
                (x - wish.x) * n[0] + (y - wish.y) * n[1],
              ];
              const part: Box = { left: -wish.half!, top: -wish.r, width: 2 * wish.half!, height: 2 * wish.r };
              if (wish.id !== one.id && runsOf(one).some(([a, b]) => crosses(local(a), local(b), part, 0)))
                faults.push(`${view} line of ${one.id}, ${wish.id}`);
              const corners = [
                [one.left, one.top],
                [one.left + one.width, one.top],
                [one.left + one.width, one.top + one.height],
                [one.left, one.top + one.height],
              ] as const;
              if (corners.some((a, k) => crosses(local(a), local(corners[(k + 1) % 4]!), part, 0)))
                faults.push(`${view} ${one.id} on ${wish.id}`);
            }
          }
          named += placed.length;
          wanted += wishes.length;
        }
      }
      expect(faults).toEqual([]);
      // A phone has no room for all names at once; there the one that is touched is named.
      expect(named / wanted).toBeGreaterThan(width < 640 ? 0.5 : 0.97);
    },
  );

  test('every part is named; trouble, a pick and the active part come first where room is short', () => {
    const pivot = pivots[0]!;
    const [a, b, c] = itemsOf(pivot).map((item) => item.id) as [string, string, string];
    const emphasis = {
      litId: undefined,
      selectedId: a,
      active: new Set([b]),
      troubled: new Set([c]),
      rubs: new Set<string>(),
    };
    const places = placeItems(pivot, layoutOf(pivot), 0);
    const labels = partLabels(pivot, places, emphasis);
    expect(labels).toHaveLength(itemsOf(pivot).length);
    expect(labels.find(({ id }) => id === c)).toMatchObject({ isTroubled: true, isFirst: true });
    const first = labels.filter(({ isFirst }) => isFirst === true).map(({ id }) => id);
    expect(first.sort()).toEqual([a, b, c].sort());
  });

  test('pivot names carry the verdict; long names are cut at a word', () => {
    const labels = pivotLabels(analyses[0]!);
    expect(labels.map(({ text }) => text)).toEqual(analyses[0]!.pivots.map(({ name }) => shortName(name)));
    expect(shortName('Tapered spacer with a very long description')).toBe('Tapered spacer with a very…');
    expect(shortName('Frame tube, 30 mm')).toBe('Frame tube, 30 mm');
  });
});

describe('marks', () => {
  const cone: Polygon = [
    [7.6, 0],
    [8.9, 0],
    [13, 4],
    [13, 5],
    [7.6, 5],
  ];
  const places = (positions: readonly number[]): { r: number; angle: number; z: number }[] =>
    positions.flatMap((x, k) =>
      k % 3 === 0
        ? [{ r: Math.hypot(x, positions[k + 1]!), angle: Math.atan2(positions[k + 1]!, x), z: positions[k + 2]! }]
        : [],
    );

  test.each(['drive', 'non-drive'] as const)(
    'arrows toward the %s side have their tip there and their wings behind',
    (side) => {
      const sign = side === 'drive' ? 1 : -1;
      const points = places(arrowMarks(cone, side).positions);
      const forward = Math.max(...points.map(({ z }) => sign * z));
      const tips = points.filter(({ z }) => sign * z > forward - 1e-9);
      const wings = points.filter(({ z }) => sign * z < Math.min(...points.map((p) => sign * p.z)) + 1e-9);
      // One tip an arrow, at its middle angle: the first arrow is centred on angle 0.
      expect(tips.some(({ angle }) => Math.abs(angle) < 1e-9)).toBe(true);
      expect(wings.every(({ angle }) => Math.abs(angle) > 0.02)).toBe(true);
    },
  );

  test('a mark follows the surface, a hair proud of it', () => {
    for (const { r, z } of places(arrowMarks(cone, 'drive').positions)) {
      const surface = z <= 4 ? 8.9 + (4.1 * z) / 4 : 13;
      expect(r - surface).toBeCloseTo(PROUD_mm, 6);
    }
  });

  test.each(['drive', 'non-drive'] as const)('every piece of an arrow toward the %s side looks outward', (side) => {
    const { positions, index } = arrowMarks(cone, side);
    const at = (k: number): Vector3 => new Vector3(...positions.slice(3 * index[k]!, 3 * index[k]! + 3));
    for (let k = 0; k < index.length; k += 3) {
      const normal = at(k + 1)
        .sub(at(k))
        .cross(at(k + 2).sub(at(k)));
      // The tip of an arrow is a slice without width.
      if (normal.length() > 1e-9) expect(normal.dot(at(k).setZ(0))).toBeGreaterThan(0);
    }
  });

  test('a plain ring reads the same both ways', () => {
    const ring: Polygon = [
      [7.6, 0],
      [9, 0],
      [9, 6],
      [7.6, 6],
    ];
    const z = places(doubleLine(ring).positions).map((point) => point.z - 3);
    expect(Math.max(...z)).toBeCloseTo(-Math.min(...z), 9);
  });

  test('a band lies where the faces touch and says on what; an open face is outlined whole; an edge can still be seen', () => {
    const reading = (touches: FaceReading['touches']): FaceReading => ({
      bears: touches[0]?.bears ?? 'nothing',
      force_N: 0,
      touches,
    });
    const touch = { with: 's/b', own: 'body', bears: 'outer-ring', force_N: 900, gap_mm: 0, pressure_MPa: 1 } as const;
    expect(faceBands(cone, reading([{ ...touch, bands_mm: [[11.5, 12.8]] }]), 1)).toEqual([
      { pattern: 'hatched', r0_mm: 11.5, r1_mm: 12.8, z_mm: 5, sign: 1, with: 's/b' },
    ]);
    expect(faceBands(cone, reading([]), -1)).toEqual([{ pattern: 'open', r0_mm: 7.6, r1_mm: 8.9, z_mm: 0, sign: -1 }]);
    const [edge] = faceBands(cone, reading([{ ...touch, bands_mm: [[12, 12]] }]), 1);
    expect(edge!.r1_mm - edge!.r0_mm).toBeCloseTo(0.5, 9);
  });

  test('every ring of every shipped model carries a band or an outline on each flat face', () => {
    for (const pivot of pivots) {
      for (const item of itemsOf(pivot).filter(({ role }) => role === 'spacer')) {
        expect(faceBands(item.solids[0]!.polygon, item.drive, 1).length, item.id).toBeGreaterThan(0);
        expect(faceBands(item.solids[0]!.polygon, item.nonDrive, -1).length, item.id).toBeGreaterThan(0);
      }
    }
  });

  test('an annulus looks the way it is told', () => {
    for (const sign of [1, -1] as const) {
      const { positions, index } = annulus(5, 8, 3, sign, 12);
      const at = (k: number): Vector3 => new Vector3(...positions.slice(3 * index[k]!, 3 * index[k]! + 3));
      expect(
        Math.sign(
          at(1)
            .sub(at(0))
            .cross(at(2).sub(at(0))).z,
        ),
      ).toBe(sign);
    }
  });
});

describe('section and picking', () => {
  const ring: Polygon = [
    [6, 0],
    [12, 0],
    [12, 9],
    [6, 9],
  ];

  test('a cap is the profile and its mirror image: twice its area, facing the viewer', () => {
    const geometry = toGeometry(capSurface(ring));
    expect(area(geometry)).toBeCloseTo(2 * 6 * 9, 9);
    const position = geometry.getAttribute('position');
    for (let k = 0; k < position.count; k += 1) expect(position.getY(k)).toBe(0);
    for (const triangle of triangles(geometry)) expect(normalOf(triangle).y).toBeGreaterThan(0);
  });

  test('every cap of every shipped model has the area of its polygon', () => {
    for (const item of pivots.flatMap(itemsOf)) {
      for (const { polygon } of item.solids) {
        let twice = 0;
        polygon.forEach(([r, z], k) => {
          const [r1, z1] = polygon[(k + 1) % polygon.length]!;
          twice += r * z1 - r1 * z;
        });
        // The buffer holds single precision.
        expect(area(toGeometry(capSurface(polygon))) / Math.abs(twice), item.id).toBeCloseTo(1, 4);
      }
    }
  });

  test('balls lie in the plane or behind it, two of them in it', () => {
    for (const count of [9, 10]) {
      const places = ballPlaces({ count, diameter_mm: 4, circle_mm: 21.5, z_mm: 3 });
      expect(places.every(([, y]) => y < 1e-6)).toBe(true);
      expect(
        places
          .filter(([, y]) => Math.abs(y) < 1e-6)
          .map(([x]) => Math.round(x * 100) / 100)
          .sort((a, b) => a - b),
      ).toEqual([-10.75, 10.75]);
    }
  });

  const mesh = new Mesh(toGeometry(revolve(ring, 64)), new MeshBasicMaterial());
  const cap = new Mesh(toGeometry(capSurface(ring)), new MeshBasicMaterial());
  mesh.updateMatrixWorld();
  cap.updateMatrixWorld();
  // The viewer looks along −y; what lies at y > 0 is cut away.
  const behind = raycastBehind(new Plane(new Vector3(0, -1, 0), 0));
  const shoot = (from: Vector3, direction: Vector3): Intersection[] => {
    const caster = new Raycaster(from, direction.normalize());
    const hits: Intersection[] = [];
    behind.call(mesh, caster, hits);
    cap.raycast(caster, hits);
    return hits.sort((a, b) => a.distance - b.distance);
  };

  test('a ray through the half that is gone meets the cut face', () => {
    const [hit] = shoot(new Vector3(9, 50, 4), new Vector3(0, -1, 0));
    expect(hit!.object).toBe(cap);
    expect(hit!.point.y).toBeCloseTo(0, 9);
  });

  test('between the two halves of the section it meets the far wall of the bore', () => {
    const [hit] = shoot(new Vector3(0, 50, 4), new Vector3(0, -1, 0));
    expect(hit!.object).toBe(mesh);
    expect(hit!.point.y).toBeCloseTo(-6, 1);
  });

  test('along the bore it meets nothing, and beside the part neither', () => {
    expect(shoot(new Vector3(0, 0, -50), new Vector3(0, 0, 1))).toEqual([]);
    expect(shoot(new Vector3(20, 50, 4), new Vector3(0, -1, 0))).toEqual([]);
  });

  test('from behind, the uncut half is met as ever', () => {
    const [hit] = shoot(new Vector3(9, -50, 4), new Vector3(0, 1, 0));
    expect(hit!.object).toBe(mesh);
    expect(hit!.point.y).toBeLessThan(-7);
  });

  test('what no hand can touch reports no hit', () => {
    const ghost = new Mesh(mesh.geometry, mesh.material);
    ghost.raycast = raycastNothing;
    expect(new Raycaster(new Vector3(9, 50, 4), new Vector3(0, -1, 0)).intersectObject(ghost)).toEqual([]);
  });

  test('drawn lines are circles at sharp corners', () => {
    expect(circleLines(ring, 12)).toHaveLength(4 * 12 * 2 * 3);
  });
});

describe('motion', () => {
  test('a value runs to its goal, lands exactly and stands still', () => {
    const motion = new Motion();
    motion.aim('a', 0, false);
    motion.aim('a', 10, false);
    let steps = 0;
    while (motion.step(0.016, 0.05)) steps += 1;
    expect(steps).toBeGreaterThan(5);
    expect(motion.at('a')).toBe(10);
    expect(motion.isStill()).toBe(true);
    expect(motion.step(0.016, 0.05)).toBe(false);
  });

  test('two half steps are one whole step; a new goal needs no restart; instant is instant', () => {
    const [one, two] = [new Motion(), new Motion()];
    for (const motion of [one, two]) {
      motion.aim('a', 0, false);
      motion.aim('a', 10, false);
    }
    one.step(0.04, 0.1);
    two.step(0.02, 0.1);
    two.step(0.02, 0.1);
    expect(one.at('a')).toBeCloseTo(two.at('a'), 12);
    one.aim('a', -3, false);
    one.step(0.01, 0.1);
    expect(one.at('a')).toBeLessThan(two.at('a'));
    one.aim('a', 4, true);
    expect(one.at('a')).toBe(4);
  });

  test('a glide starts and ends at rest', () => {
    expect([ease(0), ease(0.5), ease(1), ease(2)]).toEqual([0, 0.5, 1, 1]);
    expect(ease(0.01)).toBeLessThan(1e-4);
  });
});

describe('colours', () => {
  // Relative luminance and contrast ratio as WCAG 2.2 defines them; 3:1 is its limit for marks, 4.5:1 for words.
  const luminance = (hex: string): number => {
    const [r, g, b] = [1, 3, 5].map((k) => {
      const value = Number.parseInt(hex.slice(k, k + 2), 16) / 255;
      return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
    }) as [number, number, number];
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (a: string, b: string): number => {
    const [high, low] = [luminance(a), luminance(b)].sort((p, q) => q - p) as [number, number];
    return (high + 0.05) / (low + 0.05);
  };

  test('marks stand out from the ring they are on, bands from their plate', () => {
    for (const body of [FACING['non-drive'], FACING.drive, FACING.equal])
      expect(contrast(body, MARK.ink)).toBeGreaterThan(3);
    expect(contrast(MARK.plate, MARK.ink)).toBeGreaterThan(4.5);
    expect(contrast(MARK.plate, TROUBLE)).toBeGreaterThan(3);
  });

  test('the colour of a pick stands out from the ground of its picture', () => {
    for (const picture of Object.values(PICTURE)) expect(contrast(picture.pick, picture.outer)).toBeGreaterThan(3);
  });

  test('what is black stands out from the ground by its outline, in either theme', () => {
    expect(METALS['steel-quenched']!.isBlack).toBe(true);
    for (const { edgeOfBlack, inner, outer } of Object.values(PICTURE))
      for (const ground of [inner, outer]) expect(contrast(edgeOfBlack, ground)).toBeGreaterThan(3);
  });

  test('words on labels keep 4.5:1 in both themes', () => {
    const opaque = (colour: string): string => {
      const rgb = /rgb\((\d+) (\d+) (\d+)/.exec(colour);
      return rgb
        ? `#${rgb
            .slice(1, 4)
            .map((part) => Number(part).toString(16).padStart(2, '0'))
            .join('')}`
        : colour;
    };
    for (const theme of ['dark', 'light'] as const) {
      const [labels, picture] = [LABELS[theme], PICTURE[theme]];
      expect(contrast(opaque(labels.label), labels['label-words'])).toBeGreaterThan(4.5);
      expect(contrast(labels.pick, labels['on-pick'])).toBeGreaterThan(4.5);
      expect(contrast(labels.side, picture.inner)).toBeGreaterThan(4.5);
      expect(contrast(labels.side, picture.outer)).toBeGreaterThan(4.5);
    }
    expect(contrast(ALWAYS['trouble-deep'], ALWAYS.white)).toBeGreaterThan(4.5);
  });

  test('facing is told by where the small face looks, and nothing else', () => {
    const rings = pivots.flatMap(itemsOf).filter(({ role }) => role === 'spacer');
    for (const ring of rings) {
      const wanted =
        ring.smallFace === undefined ? FACING.equal : ring.smallFace === 'drive' ? FACING.drive : FACING['non-drive'];
      expect(facingColour(ring)).toBe(wanted);
    }
  });
});

describe('trouble', () => {
  test('only findings that stop the task mark a part', () => {
    const stopped = (pivot: PivotAnalysis): string[] =>
      pivot.findings.filter(({ severity }) => severity === 'stop').flatMap(({ parts }) => parts);
    const base = analyses.find(({ model }) => model.id === 'class-rig')!;
    expect([...troubledItems(base)].sort()).toEqual([...new Set(base.pivots.flatMap(stopped))].sort());
    const worse: Analysis = {
      ...base,
      pivots: base.pivots.map((pivot) => ({
        ...pivot,
        findings: [
          { code: 'outer-ring-touched', severity: 'stop', pivot: pivot.id, parts: ['s/a'], numbers: {} },
          { code: 'edge-contact', severity: 'warn', pivot: pivot.id, parts: ['s/b'], numbers: {} },
        ],
      })),
    };
    expect([...troubledItems(worse)]).toEqual(['s/a']);
  });

  test('the ends of a row move apart with it', () => {
    const pivot = pivots[0]!;
    const [low, high] = accessOf(pivot, placeItems(pivot, layoutOf(pivot), 0));
    const [lowApart, highApart] = accessOf(pivot, placeItems(pivot, layoutOf(pivot), 1));
    expect(highApart - lowApart).toBeGreaterThan(high - low + 40);
  });
});

function triangles(geometry: BufferGeometry): Vector3[][] {
  const position = geometry.getAttribute('position');
  const index = geometry.getIndex()!;
  return Array.from({ length: index.count / 3 }, (_, k) =>
    [0, 1, 2].map((j) => new Vector3().fromBufferAttribute(position, index.getX(3 * k + j))),
  );
}

function normalOf([a, b, c]: Vector3[]): Vector3 {
  return b!.clone().sub(a!).cross(c!.clone().sub(a!));
}

function area(geometry: BufferGeometry): number {
  return triangles(geometry).reduce((sum, triangle) => sum + normalOf(triangle).length() / 2, 0);
}

/** The camera as the picture sets it up for an opened pivot. */
function cameraAt(points: readonly Place[], view: View, width: number, height: number): PerspectiveCamera {
  const aspect = width / height;
  const stand = pivotStand(points, view, frameOf(width, height));
  const camera = new PerspectiveCamera(fieldOfView_deg(aspect), aspect, 1, 20_000);
  camera.position.set(...stand.target).addScaledVector(new Vector3(...stand.direction), stand.distance_mm);
  camera.lookAt(new Vector3(...stand.target));
  camera.updateMatrixWorld();
  return camera;
}

/** Convex hull by Andrew's monotone chain. */
function convexHull(points: readonly [number, number][]): [number, number][] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (all: readonly [number, number][]): [number, number][] => {
    const chain: [number, number][] = [];
    for (const point of all) {
      while (chain.length >= 2) {
        const [a, b] = [chain.at(-2)!, chain.at(-1)!];
        if ((b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0]) > 0) break;
        chain.pop();
      }
      chain.push(point);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half([...sorted].reverse())];
}

/** Widest free strip between two convex polygons along a normal of one of their edges; < 0 where they overlap. */
function gapBetween(a: readonly [number, number][], b: readonly [number, number][]): number {
  // Most parts of a row are apart by their boxes already.
  for (const k of [0, 1] as const) {
    const [from, to] = [a, b].map((hull) => hull.map((point) => point[k])) as [number[], number[]];
    const gap = Math.max(Math.min(...to) - Math.max(...from), Math.min(...from) - Math.max(...to));
    if (gap > 0) return gap;
  }
  let widest = -Infinity;
  for (const hull of [a, b]) {
    hull.forEach((p, k) => {
      const q = hull[(k + 1) % hull.length]!;
      const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
      if (length < 1e-9) return;
      const normal = [(q[1] - p[1]) / length, (p[0] - q[0]) / length] as const;
      const reach = (all: readonly [number, number][]): [number, number] => {
        const along = all.map(([x, y]) => x * normal[0] + y * normal[1]);
        return [Math.min(...along), Math.max(...along)];
      };
      const [[a0, a1], [b0, b1]] = [reach(a), reach(b)];
      widest = Math.max(widest, b0 - a1, a0 - b1);
    });
  }
  return widest;
}
