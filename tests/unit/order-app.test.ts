// The build order's place below its components: its part of the address, moving a task, the picture of a run, the
// clock.
import { describe, expect, test } from 'vitest';
import { accessOf, stripOf } from '../../shared/index.ts';
import {
  dropPlace,
  FIRST_VIEW,
  isOrderOf,
  lettered,
  moved,
  readOrder,
  readOwn,
  towards,
  writeOrder,
  writeOwn,
  type OrderView,
} from '../../src/build/order.ts';
import {
  buildRun,
  emptyRun,
  taskStarts,
  pictureOf,
  placesAt,
  standOf,
  stripRun,
  turnedAt,
} from '../../src/build/orderRun.ts';
import { readRoute, writeRoute } from '../../src/page/route.ts';
import { demoModels } from '../bench/models.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

const model = demoModels().find(({ id }) => id === 'skarn-140')!;
const analysis = analysed(model);
const plan = plannedOnce(analysis);
const strip = stripOf(plan);
const build = buildRun(analysis, plan.steps, { of: 'plan', way: 'build' });
const apart = stripRun(analysis, strip.steps, { of: 'plan', way: 'strip' });

describe('the address', () => {
  test.each<OrderView>([
    FIRST_VIEW,
    {
      tab: 'own',
      of: 'own',
      way: 'strip',
      at: 12,
      own: [0, 2, 1, 35, ...Array.from({ length: 31 }, (_, k) => k + 3).filter((task) => task !== 35), 34],
    },
    { tab: 'step', of: 'access', way: 'build', at: 3, access: 'rocker-frame/axle' },
    { tab: 'variants', of: 'plan', way: 'build', at: 0, against: 'first-year' },
  ])('%o is written and read again', (view) => {
    const words = new URLSearchParams();
    writeOrder(words, view);
    expect(readOrder(new URLSearchParams(words.toString()))).toEqual(view);
    const route = readRoute(writeRoute({ ...readRoute('#model=skarn-140&place=order'), order: view }));
    expect(route.order).toEqual(view);
  });

  test('the usual view leaves nothing in it, and another place has none', () => {
    const words = new URLSearchParams();
    writeOrder(words, FIRST_VIEW);
    expect(words.toString()).toBe('');
    expect(readRoute('#model=skarn-140&at=4').order).toBeUndefined();
  });

  test('rubbish is left aside', () => {
    for (const at of ['-1', '1.5', 'x', '', 'Infinity', '99999999'])
      expect(readOrder(new URLSearchParams({ at })).at).toBe(0);
    expect(readOrder(new URLSearchParams({ tab: 'elsewhere', way: 'up', access: '<b>', against: 'A B' }))).toEqual(
      FIRST_VIEW,
    );
    for (const own of ['', '0.0', '1.2', '0.1.x.', '0..1', 'A', '0,1']) expect(readOwn(own), own).toBeUndefined();
    expect(readOwn(null)).toBeUndefined();
    expect(readOwn(writeOwn([2, 0, 1]))).toEqual([2, 0, 1]);
  });
});

describe('an own order', () => {
  test('moving puts one task elsewhere and keeps all', () => {
    expect(moved(['a', 'b', 'c', 'd'], 0, 2)).toEqual(['b', 'c', 'a', 'd']);
    expect(moved(['a', 'b', 'c', 'd'], 3, 0)).toEqual(['d', 'a', 'b', 'c']);
    expect(moved(['a', 'b'], 5, 0)).toEqual(['a', 'b']);
    expect(isOrderOf(moved([0, 1, 2, 3], 2, 0), 4)).toBe(true);
    expect(isOrderOf([0, 1, 1], 3)).toBe(false);
    expect(isOrderOf([0, 1, 3], 3)).toBe(false);
  });

  test('is written by the letters of its ids, whatever order is recommended', () => {
    expect(lettered(['c', 'a', 'b'])).toEqual({ toLetter: [2, 0, 1], toPlace: [1, 2, 0] });
    const { toLetter, toPlace } = lettered(plan.tasks.map(({ id }) => id));
    expect(toPlace.map((place) => toLetter[place])).toEqual(plan.tasks.map((_, k) => k));
  });

  test('a row dropped on the middle of another takes its place', () => {
    const middles = [10, 30, 50, 70];
    expect(dropPlace(middles, 1, 31)).toBe(1);
    expect(dropPlace(middles, 1, 51)).toBe(2);
    expect(dropPlace(middles, 1, 9)).toBe(0);
    expect(dropPlace(middles, 3, 200)).toBe(3);
  });
});

test('the picture goes to a neighbouring step, and jumps to the last step of a longer way', () => {
  expect(towards(3, 4, 0.25)).toBe(3.25);
  expect(towards(3.9, 4, 0.25)).toBe(4);
  expect(towards(4, 3, 0.25)).toBe(3.75);
  expect(towards(0, 40, 0.25)).toBe(39.25);
  expect(towards(40, 2, 0.25)).toBe(2);
});

describe('the picture of a run', () => {
  test('begins with the bare frame and ends with the bike', () => {
    const first = pictureOf(analysis, build, 0, true);
    expect(first.pivotId).toBeUndefined();
    expect([...first.hidden].sort()).toEqual(
      [
        ...Object.keys(model.members).filter((id) => model.members[id]!.kind !== 'frame'),
        ...model.obstacles!.map(({ id }) => id),
        ...model.pivots.map(({ id }) => id),
      ].sort(),
    );
    expect([...pictureOf(analysis, build, plan.steps.length, true).hidden]).toEqual([]);
    expect([...pictureOf(analysis, apart, 0, false).hidden]).toEqual([]);
    expect(emptyRun(analysis, true).on).toEqual(apart.on);
    expect(emptyRun(analysis, false).on).toEqual(build.on);
  });

  test('nothing that is on the bike goes missing as it is built, and nothing comes while it is taken apart', () => {
    const hiddenAt = (run: typeof build, at: number): string[] =>
      [...pictureOf(analysis, run, at, false).hidden].filter((id) => id in model.members);
    for (let at = 1; at <= build.steps.length; at++) {
      const before = hiddenAt(build, at - 1);
      if (build.steps[at - 1]!.step.kind !== 'swing-away')
        expect(before).toEqual(expect.arrayContaining(hiddenAt(build, at)));
    }
    for (let at = 1; at <= apart.steps.length; at++)
      expect(hiddenAt(apart, at)).toEqual(expect.arrayContaining(hiddenAt(apart, at - 1)));
  });

  test('an axle under way is between where it was and where the step puts it', () => {
    const k = plan.steps.findIndex(({ kind }) => kind === 'axle-home');
    const { pivotId, items } = plan.steps[k]!;
    const pivot = analysis.pivots.find(({ id }) => id === pivotId)!;
    const axle = items.find((id) => id.endsWith('/axle'))!;
    const [from, to] = [placesAt(build, pivot, k)[axle]!.offset_mm, placesAt(build, pivot, k + 1)[axle]!.offset_mm];
    expect(to).toBe(0);
    expect(from).not.toBe(0);
    const half = pictureOf(analysis, build, k + 0.5, true);
    expect(half.pivotId).toBe(pivotId);
    expect(half.places![axle]!.offset_mm).toBeCloseTo(from / 2, 6);
    expect(half.activeIds).toContain(axle);
  });

  test('tasks begin where their first step is, and work at the bench is told from work at the bike', () => {
    expect(taskStarts(build)).toHaveLength(plan.tasks.length);
    expect(taskStarts(build).map((step) => build.steps[step - 1]!.taskId)).toEqual(plan.tasks.map(({ id }) => id));
    expect(new Set(build.steps.map(standOf))).toEqual(new Set(['drive', 'non-drive', 'bench']));
  });

  test('to reach a part takes apart and puts back', () => {
    const access = accessOf(plan, model.shock!.body);
    const run = stripRun(analysis, access.strip, { of: 'access', way: 'strip', id: access.target.id }, access.back);
    expect(run.steps).toHaveLength(access.strip.length + access.back.length);
    expect(new Set(run.steps.map(({ id }) => id)).size).toBe(run.steps.length);
    expect([...pictureOf(analysis, run, access.strip.length, false).hidden]).toContain(model.shock!.body);
    expect([...pictureOf(analysis, run, run.steps.length, false).hidden].filter((id) => id in model.members)).toEqual(
      [],
    );
  });
});

test('turned round, build and strip-down show the same units on the bike', () => {
  const undone = new Set(strip.steps.map(({ undoes }) => undoes));
  for (let at = 0; at <= plan.steps.length; at++) {
    const there = turnedAt(plan.steps, strip.steps, at, 'strip');
    const back = turnedAt(plan.steps, strip.steps, there, 'build');
    // Only what is not undone, as greasing is not, may lie between.
    const between = plan.steps.slice(Math.min(at, back), Math.max(at, back));
    expect(between.filter(({ id }) => undone.has(id))).toEqual([]);
    const on = there === 0 ? apart.on : strip.steps[there - 1]!.on;
    const own = back === 0 ? build.on : plan.steps[back - 1]!.on;
    expect([...own].sort()).toEqual([...on].sort());
  }
  expect(turnedAt(plan.steps, strip.steps, 0, 'strip')).toBe(strip.steps.length);
  expect(turnedAt(plan.steps, strip.steps, 0, 'build')).toBe(plan.steps.length);
});
