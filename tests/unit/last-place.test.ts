/**
 * No verdict hangs on how a machine rounds: each result of a function that machines may round otherwise is moved by one
 * unit in the last place, up, down or not at all, by seed, and every verdict stays what it is.
 */
import { afterEach, describe, expect, test, vi } from 'vitest';
import { analyse, applyMistake, type LinkageModel } from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { random, type Random } from '../setup/random.ts';
import { seeds } from '../setup/series.ts';
import { triedOnce } from '../setup/worked.ts';

/** What IEEE 754 asks no exact rounding of, and the root, which a compiler may leave out. */
const INEXACT = [
  'acos',
  'asin',
  'atan',
  'atan2',
  'cbrt',
  'cos',
  'cosh',
  'exp',
  'expm1',
  'hypot',
  'log',
  'log10',
  'log1p',
  'log2',
  'pow',
  'sin',
  'sinh',
  'sqrt',
  'tan',
  'tanh',
] as const;

const double = new Float64Array(1);
const bits = new BigInt64Array(double.buffer);

/** The double next to a finite one, away from 0 or towards it; 0 and what is no number stay. */
function next(value: number, steps: -1 | 1): number {
  if (value === 0 || !Number.isFinite(value)) return value;
  double[0] = value;
  bits[0]! += BigInt(steps);
  return double[0];
}

/** Has every result of the functions moved by a draw, until the mocks are restored. How many were. */
function shake(draw: Random): { readonly moved: () => number } {
  let moved = 0;
  for (const name of INEXACT) {
    const exact = Math[name] as (...given: number[]) => number;
    vi.spyOn(Math, name).mockImplementation((...given: number[]) => {
      const value = exact(...given);
      const steps = draw.whole(-1, 1);
      if (steps === 0) return value;
      moved++;
      return next(value, steps < 0 ? -1 : 1);
    });
  }
  return { moved: () => moved };
}

/** Every verdict of a build. */
function verdicts(model: LinkageModel, variant?: string): unknown {
  const { verdict, pivots } = analyse(structuredClone(model), variant === undefined ? {} : { variant });
  return [verdict, ...pivots.map((pivot) => [pivot.id, pivot.verdict])];
}

const builds = demoModels().flatMap((model) => [
  { name: model.id, model, variant: undefined },
  ...(model.variants ?? []).map(({ id }) => ({ name: `${model.id}, ${id}`, model, variant: id })),
]);

afterEach(() => vi.restoreAllMocks());

test('the next double is the next', () => {
  expect(next(1, 1)).toBe(1 + Number.EPSILON);
  expect(next(1, -1)).toBe(1 - Number.EPSILON / 2);
  expect(next(-1, 1)).toBe(-1 - Number.EPSILON);
  expect([next(0, 1), next(Number.NaN, 1), next(Infinity, -1)]).toEqual([0, Number.NaN, Infinity]);
});

describe.each(builds)('$name', ({ model, variant }) => {
  const exact = verdicts(model, variant);

  test.each(seeds(1))('has the same verdicts with every last place moved, seed %i', (seed) => {
    const { moved } = shake(random(seed));
    expect(verdicts(model, variant)).toEqual(exact);
    expect(moved()).toBeGreaterThan(500);
  });
});

test.each(seeds(1))('a build with a mistake in it has the same verdict, seed %i', (seed) => {
  const draw = random(seed);
  for (const model of demoModels()) {
    for (const { mistake } of draw.shuffled(triedOnce(model)).slice(0, 3)) {
      const made = applyMistake(model, mistake);
      const exact = verdicts(made);
      shake(draw);
      expect(verdicts(made), `${model.id}: ${mistake.id}`).toEqual(exact);
      vi.restoreAllMocks();
    }
  }
});
