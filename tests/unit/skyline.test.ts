/**
 * The skyline factorisation against a dense Cholesky of another hand (`ml-matrix`), over random profiles and seeds.
 */
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { Skyline } from '../../shared/numbers/skyline.ts';
import { random } from '../setup/random.ts';

/** A symmetric positive definite matrix whose row i starts at column first[i]. */
function randomCase(seed: number) {
  const draw = random(seed);
  const size = draw.whole(1, 30);
  const first = Int32Array.from({ length: size }, (_, i) => draw.whole(draw.chance(0.3) ? 0 : Math.max(0, i - 3), i));
  const dense = Matrix.zeros(size, size);
  for (let i = 0; i < size; i++) {
    for (let j = first[i]!; j < i; j++) {
      const k = draw.chance(0.8) ? draw.decades(1, 1e6) : 0;
      // A spring between i and j: the sum over springs is semi-definite, the weak ground makes it definite.
      for (const [a, b, value] of [
        [i, i, k],
        [j, j, k],
        [i, j, -k],
        [j, i, -k],
      ] as const)
        dense.set(a, b, dense.get(a, b) + value);
    }
    dense.set(i, i, dense.get(i, i) + draw.decades(1, 100));
  }
  return { size, first, dense, rhs: Float64Array.from({ length: size }, () => draw.between(-1e3, 1e3)) };
}

function fill(matrix: Skyline, dense: Matrix, first: Int32Array): void {
  for (let i = 0; i < first.length; i++) for (let j = first[i]!; j <= i; j++) matrix.add(i, j, dense.get(i, j));
}

describe('skyline', () => {
  test.each(Array.from({ length: 60 }, (_, k) => k + 1))('solves as a dense Cholesky does, seed %i', (seed) => {
    const { first, dense, rhs } = randomCase(seed);
    const matrix = new Skyline(first);
    fill(matrix, dense, first);
    expect(matrix.factorise()).toBe(true);
    const x = Float64Array.from(rhs);
    matrix.solve(x);
    const wanted = new CholeskyDecomposition(dense).solve(Matrix.columnVector([...rhs])).to1DArray();
    const largest = Math.max(...wanted.map(Math.abs));
    wanted.forEach((value, i) => expect(Math.abs(x[i]! - value)).toBeLessThan(1e-9 * largest));
  });

  test('entries written in parts add up, and clear empties the matrix', () => {
    const matrix = new Skyline(Int32Array.from([0, 0]));
    matrix.add(0, 0, 7);
    matrix.clear();
    for (const part of [1, 3]) matrix.add(0, 0, part);
    matrix.add(1, 0, 2);
    matrix.add(1, 1, 5);
    expect(matrix.factorise()).toBe(true);
    const x = Float64Array.from([8, 9]);
    matrix.solve(x);
    // 4x + 2y = 8, 2x + 5y = 9.
    expect(x[0]).toBeCloseTo(22 / 16, 12);
    expect(x[1]).toBeCloseTo(20 / 16, 12);
  });

  test.each([
    ['an indefinite one', [1, 2, 1]],
    ['a singular one', [1, 1, 1]],
    ['an empty one', [0, 0, 0]],
  ] as const)('refuses %s', (_, [a, b, c]) => {
    const matrix = new Skyline(Int32Array.from([0, 0]));
    matrix.add(0, 0, a);
    matrix.add(1, 0, b);
    matrix.add(1, 1, c);
    expect(matrix.factorise()).toBe(false);
  });

  test('reads nothing before a row’s first column', () => {
    const matrix = new Skyline(Int32Array.from([0, 1]));
    matrix.add(0, 0, 2);
    matrix.add(1, 1, 4);
    expect(matrix.factorise()).toBe(true);
    const x = Float64Array.from([2, 2]);
    matrix.solve(x);
    expect(x[0]).toBeCloseTo(1, 14);
    expect(x[1]).toBeCloseTo(0.5, 14);
  });
});
