/**
 * Robust least squares against published results: Huber’s weights on the stack-loss data and on six readings of one
 * length, as the notes of published values list them (RLM: a statistics library’s own page; (d): worked out there).
 */
import { describe, expect, test } from 'vitest';
import { adjust } from '../../shared/index.ts';

const STACK_LOSS = `80 27 89 42; 80 27 88 37; 75 25 90 37; 62 24 87 28; 62 22 87 18; 62 23 87 18; 62 24 93 19;
  62 24 93 20; 58 23 87 15; 58 18 80 14; 58 18 89 14; 58 17 88 13; 58 18 82 11; 58 19 93 12; 50 18 89 8; 50 18 86 7;
  50 19 72 8; 50 19 79 8; 50 20 80 9; 56 20 82 15; 70 20 91 15`
  .split(';')
  .map((row) => row.trim().split(/\s+/).map(Number));

const rows = STACK_LOSS.map(([air, water, acid, loss]) => ({
  terms: [
    [0, air!],
    [1, water!],
    [2, acid!],
    [3, 1],
  ] as const,
  value: loss!,
  deviation: 1,
}));

describe('the stack-loss data', () => {
  test('by plain least squares (R1o)', () => {
    // So wide a scale leaves every weight at one.
    const { sizes, weights } = adjust(rows, 4, 1e6);
    const published = [0.7156402, 1.2952861, -0.1521225, -39.9196744];
    published.forEach((value, k) => expect(sizes[k]).toBeCloseTo(value, 6));
    expect(new Set(weights)).toEqual(new Set([1]));
  });

  test('by Huber’s weights and the median’s scale (R1)', () => {
    const { sizes, scale, weights } = adjust(rows, 4);
    const published = [0.829384, 0.926066, -0.127847, -41.026498];
    published.forEach((value, k) => expect(Math.abs(sizes[k]! - value)).toBeLessThan(2e-4));
    expect(Math.abs(scale - 2.440536)).toBeLessThan(1e-3);
    for (const [row, weight] of [
      [3, 0.785887],
      [4, 0.504941],
      [21, 0.368141],
    ] as const)
      expect(weights[row - 1]).toBeCloseTo(weight, 3);
    expect(weights.filter((own) => own < 1)).toHaveLength(3);
  });
});

test('six readings of one length, one of them mistaken (R2)', () => {
  const readings = [10.02, 10.01, 9.99, 10.0, 10.03, 10.45];
  const { sizes, weights } = adjust(
    readings.map((value) => ({ terms: [[0, 1]] as const, value, deviation: 1 })),
    1,
    0.022239,
  );
  expect(sizes[0]).toBeCloseTo(10.015982, 5);
  expect(weights.at(-1)).toBeCloseTo(0.0689, 4);
});
