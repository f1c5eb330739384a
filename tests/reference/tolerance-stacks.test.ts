/**
 * Tolerance stacks of a handbook and of tutorials: nominal, mean, worst case, root-sum-square; and the class table they
 * are fed from.
 */
import { describe, expect, it, test } from 'vitest';
import { generalTolerance_mm, type GeneralClass } from '../../shared/standards/general-tolerances.ts';
import { randomStream } from '../../shared/numbers/random.ts';
import { SIGMAS, stackUp, type ChainTerm } from '../../shared/tolerance/stack-up.ts';
import handbook from './data/tolerance-dim.json';
import classes from './data/tolerance-iso2768.json';
import tutorials from './data/tolerance-tutorials.json';

interface Stack {
  readonly name: string;
  readonly terms: readonly {
    readonly sign: number;
    readonly nominal: number;
    readonly plus: number;
    readonly minus: number;
  }[];
  readonly nominal?: number;
  readonly mean?: number;
  readonly worst?: number;
  readonly low?: number;
  readonly high?: number;
  readonly rss?: number;
  readonly allowed: number;
}

const termsOf = ({ terms }: Stack): ChainTerm[] =>
  terms.map(({ sign, nominal, plus, minus }) => ({
    coefficient: sign,
    nominal_mm: nominal,
    lower_mm: -minus,
    upper_mm: plus,
  }));

describe.each([handbook, tutorials])('$source', ({ stacks }) => {
  test.each(stacks as readonly Stack[])('$name', (stack) => {
    const sum = stackUp(termsOf(stack));
    const near = (value: number, wanted: number | undefined): void => {
      if (wanted !== undefined) expect(Math.abs(value - wanted)).toBeLessThanOrEqual(stack.allowed);
    };
    near(sum.nominal_mm, stack.nominal);
    near(sum.mean_mm, stack.mean);
    near((sum.worstHigh_mm - sum.worstLow_mm) / 2, stack.worst);
    near(sum.worstLow_mm, stack.low);
    near(sum.worstHigh_mm, stack.high);
    near(sum.rss_mm, stack.rss);
    expect(sum.shares.reduce((total, share) => total + share, 0)).toBeCloseTo(1, 12);
  });
});

it('T1 holds only because a tolerance belongs to the magnitude: signs taken too early give the wrong mean', () => {
  const motor = handbook.stacks[0]! as Stack;
  const tooEarly = motor.terms.map(({ sign, nominal, plus, minus }) => ({
    coefficient: 1,
    nominal_mm: sign * nominal,
    lower_mm: -minus,
    upper_mm: plus,
  }));
  expect(stackUp(tooEarly).mean_mm).toBeCloseTo(0.0425, 6);
  expect(stackUp(termsOf(motor)).mean_mm).toBeCloseTo(0.0615, 6);
});

describe('sampling a linear stack, T2, against its root-sum-square (first principles: a sum of normals)', () => {
  const N = 40_000;
  test.each([11, 12, 13])('seed %i', (seed) => {
    const terms = termsOf(handbook.stacks[1]! as Stack);
    const sum = stackUp(terms);
    const stream = randomStream(seed);
    let [total, squares, beyond] = [0, 0, 0];
    for (let k = 0; k < N; k++) {
      const gap = terms.reduce((value, term) => {
        const [middle, half] = [(term.lower_mm + term.upper_mm) / 2, (term.upper_mm - term.lower_mm) / 2];
        return value + term.coefficient * (term.nominal_mm + middle + (half * stream.bell()) / SIGMAS);
      }, 0);
      total += gap;
      squares += (gap - sum.mean_mm) ** 2;
      if (Math.abs(gap - sum.mean_mm) > 2 * sum.sigma_mm) beyond++;
    }
    // Four standard errors of a mean and of a standard deviation.
    expect(Math.abs(total / N - sum.mean_mm)).toBeLessThan((4 * sum.sigma_mm) / Math.sqrt(N));
    expect(Math.abs(Math.sqrt(squares / N) / sum.sigma_mm - 1)).toBeLessThan(4 / Math.sqrt(2 * N));
    expect(sum.sigma_mm).toBeCloseTo(0.05942, 4);
    // 4.55 % of a normal curve lies beyond two standard deviations.
    expect(Math.abs(beyond / N - 0.0455)).toBeLessThan(4 * Math.sqrt((0.0455 * 0.9545) / N));
  });
});

describe(classes.source, () => {
  test.each(classes.rows)('over $over up to $upTo mm', (row) => {
    for (const name of ['f', 'm', 'c'] as const satisfies readonly GeneralClass[]) {
      expect(generalTolerance_mm(row.upTo, name)).toBe(row[name]);
      expect(generalTolerance_mm(row.over + 0.001, name)).toBe(row[name]);
    }
  });
  it('refuses what it does not hold, in words', () => {
    expect(() => generalTolerance_mm(401, 'f')).toThrow(/length_mm is 401, allowed: up to 400/);
    expect(() => generalTolerance_mm(-1, 'f')).toThrow(/at least 0/);
    expect(() => generalTolerance_mm(10, 'x' as GeneralClass)).toThrow(/class is x, allowed: f, m, c/);
  });
});
