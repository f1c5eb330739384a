/** Gaps of hulls against sampling of both hulls, and the gaps of whole linkages against hand-worked places. */
import { describe, expect, test } from 'vitest';
import type { LinkageModel } from '../../shared/index.ts';
import { clearances, hullGap } from '../../shared/travel/clearance.ts';
import { outlinesOf } from '../../shared/travel/outline.ts';
import { linkageOf } from '../../shared/travel/linkage.ts';
import { driveTurn, runShock } from '../../shared/travel/poses.ts';
import { demoModels } from '../bench/models.ts';
import { random } from '../setup/random.ts';
import { sketchModel } from '../setup/linkages.ts';
import { resolveModel } from '../../shared/model/resolve.ts';

/** A run by the turn of one member, the shock out. */
const freeRun = (model: LinkageModel, member: string, from_rad: number, to_rad: number, count: number) =>
  driveTurn(linkageOf(resolveModel(model), true), member, from_rad, to_rad, count);

interface Disc {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly radius_mm: number;
}
interface Hull {
  readonly a: Disc;
  readonly b: Disc;
}

/** The gap by trying discs all along both axes. */
function sampledGap(one: Hull, other: Hull, count = 400): number {
  let least = Infinity;
  const on = ({ a, b }: Hull, t: number): Disc => ({
    x_mm: a.x_mm + (b.x_mm - a.x_mm) * t,
    y_mm: a.y_mm + (b.y_mm - a.y_mm) * t,
    radius_mm: a.radius_mm + (b.radius_mm - a.radius_mm) * t,
  });
  for (let i = 0; i <= count; i++) {
    const p = on(one, i / count);
    for (let k = 0; k <= count; k++) {
      const q = on(other, k / count);
      least = Math.min(least, Math.hypot(p.x_mm - q.x_mm, p.y_mm - q.y_mm) - p.radius_mm - q.radius_mm);
    }
  }
  return least;
}

describe('gap of two hulls', () => {
  test.each(Array.from({ length: 60 }, (_, k) => k + 1))('is what trying every disc finds, seed %i', (seed) => {
    const draw = random(seed);
    const disc = (): Disc => ({
      x_mm: draw.between(-60, 60),
      y_mm: draw.between(-60, 60),
      radius_mm: draw.pick([0, draw.between(0, 25)]),
    });
    const hull = (): Hull => {
      const a = disc();
      return { a, b: draw.chance(0.2) ? a : disc() };
    };
    const [one, other] = [hull(), hull()];
    const { gap_mm, s, t } = hullGap(one, other);
    const sampled = sampledGap(one, other);
    // Sampling sees a little less overlap or a little more gap, by at most half its spacing along both axes.
    const spacing = (hullOf: Hull): number =>
      Math.hypot(hullOf.a.x_mm - hullOf.b.x_mm, hullOf.a.y_mm - hullOf.b.y_mm) / 400;
    if (sampled > 0.5) {
      expect(gap_mm).toBeLessThanOrEqual(sampled + 1e-9);
      expect(gap_mm).toBeGreaterThan(sampled - spacing(one) - spacing(other) - 1e-9);
    } else if (sampled < -0.5) expect(gap_mm).toBeLessThan(0);
    for (const share of [s, t]) expect(share >= 0 && share <= 1).toBe(true);
    // Either way round, and the same when both are moved.
    expect(hullGap(other, one).gap_mm).toBeCloseTo(gap_mm, 9);
    const shift = ({ a, b }: Hull): Hull => ({
      a: { ...a, x_mm: a.x_mm + 31, y_mm: a.y_mm - 17 },
      b: { ...b, x_mm: b.x_mm + 31, y_mm: b.y_mm - 17 },
    });
    expect(hullGap(shift(one), shift(other)).gap_mm).toBeCloseTo(gap_mm, 9);
  });

  test.each([
    ['two discs', { a: [0, 0, 5], b: [0, 0, 5] }, { a: [30, 40, 10], b: [30, 40, 10] }, 35],
    ['a disc beside a bar', { a: [0, 0, 3], b: [100, 0, 3] }, { a: [50, 20, 4], b: [50, 20, 4] }, 13],
    ['parallel bars', { a: [0, 0, 3], b: [100, 0, 3] }, { a: [20, 30, 5], b: [70, 30, 5] }, 22],
    [
      'a disc on the slope of a cone',
      { a: [0, 0, 10], b: [50, 0, 0] },
      { a: [20, 30, 0], b: [20, 30, 0] },
      30 * Math.sqrt(1 - 0.2 ** 2) - (10 - 0.2 * 20),
    ],
    ['one inside the other', { a: [0, 0, 40], b: [10, 0, 20] }, { a: [0, 50, 5], b: [0, 50, 5] }, 5],
  ] as const)('%s by hand', (_, one, other, wanted) => {
    const hull = ({ a, b }: { a: readonly [number, number, number]; b: readonly [number, number, number] }): Hull => ({
      a: { x_mm: a[0], y_mm: a[1], radius_mm: a[2] },
      b: { x_mm: b[0], y_mm: b[1], radius_mm: b[2] },
    });
    expect(hullGap(hull(one), hull(other)).gap_mm).toBeCloseTo(wanted, 9);
  });

  test('thin bars that cross overlap', () => {
    const bar = (x0: number, y0: number, x1: number, y1: number): Hull => ({
      a: { x_mm: x0, y_mm: y0, radius_mm: 0.1 },
      b: { x_mm: x1, y_mm: y1, radius_mm: 0.1 },
    });
    expect(hullGap(bar(-50, 0, 50, 0), bar(0, -50, 0, 50)).gap_mm).toBeCloseTo(-0.2, 12);
  });
});

/** An arm of 100 mm that swings past a post of the frame. */
const sketch = (postX: number, z_mm: readonly [number, number] = [-10, 10]) =>
  sketchModel({
    pivots: { main: [0, 0], end: [100, 0] },
    members: {
      frame: {
        kind: 'frame',
        at: ['main'],
        z_mm: [-30, -20],
        points: { post: { x_mm: postX, y_mm: 80, z_mm: 0 }, top: { x_mm: postX, y_mm: 120, z_mm: 0 } },
        webs: [{ from: 'post', to: 'top', thickness_mm: 10, height_mm: 12 }],
      },
      arm: {
        kind: 'swingarm',
        at: ['main', 'end'],
        z_mm,
        boss_mm: 20,
        webs: [{ from: 'main', to: 'end', thickness_mm: 8, height_mm: 16 }],
      },
    },
  });

describe('gaps of a linkage', () => {
  test('where an arm passes a post', () => {
    const [tight] = clearances(freeRun(sketch(110), 'arm', 0, Math.PI / 2, 181));
    // The post's foot stands 136.01 from the pivot, the arm's end reaches to 110; straight at it, 6 of the post's own
    // radius are left.
    expect(tight!.gap_mm).toBeCloseTo(Math.hypot(110, 80) - 110 - 6, 2);
    expect(tight!.at).toBeCloseTo(Math.atan2(80, 110), 2);
    expect([tight!.one.id, tight!.other.id].sort()).toEqual(['arm', 'frame']);
    expect(tight!.touchesFrom).toBeUndefined();
  });

  test('a rub tells from where on', () => {
    const [tight] = clearances(freeRun(sketch(70), 'arm', 0, Math.PI / 2, 361));
    expect(tight!.gap_mm).toBeLessThan(0);
    // The arm's end (radius 10, at 100) first meets the post's foot (radius 6, at (70, 80)) before the bar does.
    const foot = { a: { x_mm: 70, y_mm: 80, radius_mm: 6 }, b: { x_mm: 70, y_mm: 120, radius_mm: 6 } };
    let first = 0;
    for (; first < Math.PI / 2; first += 1e-4) {
      const end = { x_mm: 100 * Math.cos(first), y_mm: 100 * Math.sin(first), radius_mm: 10 };
      if (hullGap({ a: end, b: end }, foot).gap_mm <= 0) break;
    }
    expect(tight!.touchesFrom).toBeGreaterThanOrEqual(first - 1e-4);
    expect(tight!.touchesFrom).toBeLessThan(first + Math.PI / 2 / 360 + 1e-4);
  });

  test('what shares no z passes freely', () => {
    expect(
      clearances(freeRun(sketch(70, [20, 40]), 'arm', 0, 1, 21)).filter(({ one, other }) =>
        [one.what, other.what].includes('post top'),
      ),
    ).toEqual([]);
  });

  test('parts round the axle they share are the fit check’s business', () => {
    const model = sketch(300);
    const same = {
      ...model,
      members: {
        ...model.members,
        frame: {
          ...model.members['frame']!,
          bores: { main: { ...model.members['frame']!.bores['main']!, z_from_mm: -5, z_to_mm: 5 } },
        },
      },
    };
    const found = clearances(freeRun(same, 'arm', 0, 1, 5));
    expect(found.map(({ gap_mm }) => gap_mm > 0)).not.toContain(false);
  });

  test('a wheel moves with the member that carries it, and may rub on it', () => {
    const model = sketch(300);
    const wheel = {
      id: 'wheel',
      kind: 'wheel' as const,
      name: 'Wheel',
      x_mm: 100,
      y_mm: 0,
      radius_mm: 60,
      z_from_mm: -4,
      z_to_mm: 4,
    };
    const arm = { ...model.members['arm']!, points: { axle: { x_mm: 100, y_mm: 0, z_mm: 0 } } };
    const found = clearances(
      freeRun(
        { ...model, members: { ...model.members, arm }, wheel: { member: 'arm', point: 'axle' }, obstacles: [wheel] },
        'arm',
        0,
        1,
        9,
      ),
    );
    const own = found.find(({ one, other }) => one.id === 'arm' && other.isObstacle);
    expect(own).toMatchObject({ isFixed: true });
    expect(own!.gap_mm).toBeLessThan(0);
    // The post stands 200 mm from the axle's middle at first, and is met nearer as the wheel comes up.
    const post = found.find(({ one, other }) => one.id === 'frame' && other.isObstacle)!;
    expect(post.gap_mm).toBeLessThan(Math.hypot(200, 80) - 60 - 6);
  });
});

describe('outlines', () => {
  const models = demoModels();
  test.each(models.map((model) => [model.id, model] as const))(
    '%s: every web and boss has one, and none is inside out',
    (_, model) => {
      for (const [id, member] of Object.entries(model.members)) {
        const outlines = outlinesOf(resolveModel(model), id);
        expect(new Set(outlines.map(({ what }) => what)).size).toBe(
          Object.keys(member.bores).length + new Set((member.webs ?? []).map(({ from, to }) => `${from} ${to}`)).size,
        );
        for (const outline of outlines) {
          expect(outline.zTo_mm).toBeGreaterThan(outline.zFrom_mm);
          expect(outline.a.radius_mm).toBeGreaterThan(0);
          expect(outline.volume_mm3).toBeGreaterThan(0);
        }
      }
    },
  );

  test('a web that bends over is cut so that no piece reaches far along z', () => {
    const skarn = models.find(({ id }) => id === 'skarn-140')!;
    const pieces = outlinesOf(resolveModel(skarn), 'swingarm').filter(({ what }) => what === 'stay-left dropout-left');
    const { points, webs } = skarn.members['swingarm']!;
    const { thickness_mm } = webs!.find(({ from, to }) => from === 'stay-left' && to === 'dropout-left')!;
    expect(pieces.length).toBeGreaterThan(4);
    for (const { zFrom_mm, zTo_mm } of pieces) expect(zTo_mm - zFrom_mm).toBeLessThan(thickness_mm + 8);
    expect(pieces[0]!.zTo_mm).toBeCloseTo(points!['stay-left']!.z_mm + thickness_mm / 2, 1);
    expect(pieces.at(-1)!.zFrom_mm).toBeCloseTo(points!['dropout-left']!.z_mm - thickness_mm / 2, 1);
  });

  test('the smallest gap of a run is the smallest of its poses', () => {
    const skarn = models.find(({ id }) => id === 'skarn-140')!;
    const run = runShock(skarn, 11)!;
    const whole = clearances(run);
    const single = run.poses.map((pose) => clearances({ ...run, poses: [pose] }));
    for (const { one, other, gap_mm } of whole) {
      const gaps = single.map((gaps) => gaps.find((gap) => gap.one.id === one.id && gap.other.id === other.id)!.gap_mm);
      expect(Math.min(...gaps)).toBeCloseTo(gap_mm, 9);
    }
  });
});
