/**
 * Away from a sound model the verdict leaves Fits once and never comes back: one size or the torque is walked from its
 * written value either way. And each strength finding alone only ever grows in the size that carries it.
 */
import { describe, expect, test } from 'vitest';
import type { FindingCode } from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { random } from '../setup/random.ts';
import { cases, seedOf } from '../setup/series.ts';
import { sizesOf, stepAt, walk, type Size, type Step } from '../setup/walks.ts';

const MODELS = demoModels();
const SIZES = MODELS.flatMap((model) => sizesOf(model).map((size) => ({ model, size })));
const SEED = seedOf(24);
const shorten = (steps: readonly Step[]): string =>
  steps
    .map(({ value, fits, isRefused }) => `${value.toFixed(3)} ${fits ? 'fits' : isRefused ? 'refused' : 'no'}`)
    .join(', ');

test('the series knows every part of every pivot', () => {
  expect(SIZES.length).toBeGreaterThan(300);
  expect(SIZES.filter(({ size }) => size.name.endsWith('torque')).length).toBe(
    MODELS.flatMap(({ pivots }) => pivots.flatMap(({ stacks }) => stacks)).length,
  );
});

describe(`once it has left Fits it never returns, seed ${SEED}`, () => {
  const rand = random(SEED);
  const drawn = Array.from({ length: cases(8) }, () => ({ ...rand.pick(SIZES), way: rand.pick([1, -1] as const) }));
  test.each(drawn.map((one, k) => ({ ...one, k, name: one.size.name })))(
    '$k: $name, way $way',
    ({ model, size, way }) => {
      const steps = walk(model, size, way, [0.01, 0.06, 0.16, 0.35, 0.7, 0.99]);
      const left = steps.findIndex(({ fits }) => !fits);
      if (left >= 0)
        expect(
          steps.slice(left).some(({ fits }) => fits),
          shorten(steps),
        ).toBe(false);
    },
  );
});

/** The worst of a finding over its limit, 0 where it is not raised. */
function worst({ findings }: Step, code: FindingCode): number {
  return Math.max(
    0,
    ...findings
      .filter((finding) => finding.code === code)
      .map(({ numbers, limit }) => Object.values(numbers)[0]!.value / limit!.value),
  );
}

const sizeAt = (name: string): { model: (typeof MODELS)[number]; size: Size } =>
  SIZES.find(({ size }) => size.name === name)!;

describe('a strength finding grows with what carries it less, and stays', () => {
  // Each with the share of the written value at each step, from sound to all but nothing.
  const NARROWER = [1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.3, 0.1, 0.02, 0.001] as const;

  test('face: the land of a mounting spacer from its own width to 2 µm', () => {
    const { model, size } = sizeAt('skarn-140 shock-frame shock-front-spacer.land_mm');
    const bore = 12.2;
    const steps = NARROWER.map((share) => stepAt(model, size, bore + (size.written - bore) * share));
    // A land as soft as an edge lets its neighbours take a little of the force: the limit is passed once and for all.
    const ranks = steps.map((step) => (worst(step, 'face-crushed') > 1 ? 2 : worst(step, 'face-crushed') > 0 ? 1 : 0));
    expect([...new Set(ranks)]).toEqual([0, 1, 2]);
    expect(ranks).toEqual([...ranks].sort((x, y) => x - y));
  });

  test('axle: its bore, up to where the file is refused', () => {
    const { model, size } = sizeAt('skarn-140 shock-frame shock-front-axle.bore_mm');
    const steps = [4, 5, 6, 7, 7.5, 8, 8.3, 8.6].map((bore) => stepAt(model, size, bore));
    const ratios = steps.filter(({ isRefused }) => !isRefused).map((step) => worst(step, 'axle-overstressed'));
    expect(ratios.at(-1)!).toBeGreaterThan(0);
    expect(ratios).toEqual([...ratios].sort((a, b) => a - b));
  });

  test('thread: what is engaged, shorter and shorter', () => {
    const { model, size } = sizeAt('skarn-140 shock-frame nut-m10.thread.length_mm');
    const steps = NARROWER.slice(0, 8).map((share) => stepAt(model, size, size.written * share));
    const isShort = steps.map(({ findings }) => {
      const found = findings.find(({ code }) => code === 'thread-too-short');
      return found ? 1 + (found.limit!.value - found.numbers['engagement_mm']!.value) : 0;
    });
    expect(isShort.at(-1)!).toBeGreaterThan(1);
    expect(isShort).toEqual([...isShort].sort((a, b) => a - b));
  });

  test('torque: every strength finding at once, from a tenth to four times the setting', () => {
    const { model, size } = sizeAt('skarn-140 shock-frame torque');
    const steps = [0.1, 0.5, 1, 1.5, 2, 3, 4].map((share) => stepAt(model, size, size.written * share));
    for (const code of ['face-crushed', 'axle-overstressed'] as const) {
      const ratios = steps.map((step) => worst(step, code));
      expect(ratios, code).toEqual([...ratios].sort((a, b) => a - b));
    }
    expect(worst(steps.at(-1)!, 'face-crushed')).toBeGreaterThan(1);
  });
});
