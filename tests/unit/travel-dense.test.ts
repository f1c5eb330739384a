/** The two factorisations against another hand's (`ml-matrix`) and against their own definitions, over seeds. */
import { LuDecomposition, Matrix, SingularValueDecomposition } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { Lu, Qr } from '../../shared/numbers/dense.ts';
import { leastNormOf } from '../../shared/numbers/skyline.ts';
import { random } from '../setup/random.ts';

const SEEDS = Array.from({ length: 40 }, (_, k) => k + 1);

function matrixOf(rows: number, columns: number, values: Float64Array): Matrix {
  const matrix = Matrix.zeros(rows, columns);
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) matrix.set(i, j, values[i * columns + j]!);
  return matrix;
}

/** Rows × columns of a known rank: a product of two thin random matrices. */
function ofRank(seed: number) {
  const draw = random(seed);
  const [rows, columns] = [draw.whole(1, 12), draw.whole(1, 12)];
  const rank = draw.whole(0, Math.min(rows, columns));
  const left = Array.from({ length: rows * rank }, () => draw.between(-3, 3));
  const right = Array.from({ length: rank * columns }, () => draw.between(-3, 3));
  const values = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++)
    for (let j = 0; j < columns; j++)
      for (let k = 0; k < rank; k++) values[i * columns + j]! += left[i * rank + k]! * right[k * columns + j]!;
  return { rows, columns, rank, values, b: Float64Array.from({ length: rows }, () => draw.between(-5, 5)) };
}

describe('lu', () => {
  test.each(SEEDS)('solves and gives the determinant’s sign as ml-matrix does, seed %i', (seed) => {
    const draw = random(seed);
    const size = draw.whole(1, 16);
    const values = Float64Array.from({ length: size * size }, () => (draw.chance(0.3) ? 0 : draw.between(-4, 4)));
    for (let k = 0; k < size; k++) values[k * size + k]! += draw.pick([-2, 2]);
    const oracle = new LuDecomposition(matrixOf(size, size, values));
    const lu = new Lu(size);
    const b = Float64Array.from({ length: size }, () => draw.between(-9, 9));
    expect(lu.factorise(values)).toBe(true);
    expect(lu.sign).toBe(Math.sign(oracle.determinant));
    const x = Float64Array.from(b);
    lu.solve(x);
    const wanted = oracle.solve(Matrix.columnVector([...b])).to1DArray();
    const most = Math.max(1, ...wanted.map(Math.abs));
    wanted.forEach((value, k) => expect(Math.abs(x[k]! - value)).toBeLessThan(1e-8 * most));
  });

  test('refuses a singular matrix, and can be used again after it', () => {
    const lu = new Lu(3);
    expect(lu.factorise(Float64Array.from([1, 2, 3, 2, 4, 6, 1, 0, 1]))).toBe(false);
    expect(lu.sign).toBe(0);
    expect(lu.factorise(Float64Array.from([0, 0, 0, 0, 0, 0, 0, 0, 0]))).toBe(false);
    expect(lu.factorise(Float64Array.from([0, 1, 0, 1, 0, 0, 0, 0, 5]))).toBe(true);
    expect(lu.sign).toBe(-1);
    const x = Float64Array.from([7, 8, 10]);
    lu.solve(x);
    expect([...x]).toEqual([8, 7, 2]);
  });

  test('nothing to solve is regular', () => {
    expect(new Lu(0).factorise(new Float64Array(0))).toBe(true);
  });
});

describe('qr', () => {
  test.each(SEEDS)('tells the rank and what is left free, seed %i', (seed) => {
    const { rows, columns, rank, values } = ofRank(seed);
    const qr = new Qr(values, rows, columns);
    expect(qr.rank).toBe(rank);
    const free = qr.free();
    expect(free).toHaveLength(columns - rank);
    free.forEach((x, k) => {
      for (let i = 0; i < rows; i++)
        expect(
          Math.abs(values.subarray(i * columns, (i + 1) * columns).reduce((sum, value, j) => sum + value * x[j]!, 0)),
        ).toBeLessThan(1e-12 * 100);
      free.forEach((other, at) =>
        expect(x.reduce((sum, value, j) => sum + value * other[j]!, 0)).toBeCloseTo(at === k ? 1 : 0, 12),
      );
    });
    expect(new Set(qr.order).size).toBe(columns);
  });

  test.each(SEEDS)('gives the least-squares solution of least norm as the singular values do, seed %i', (seed) => {
    const { rows, columns, rank, values, b } = ofRank(seed);
    const x = new Qr(values, rows, columns).solve(b);
    if (rank === 0) {
      expect([...x].every((value) => value === 0)).toBe(true);
      return;
    }
    const svd = new SingularValueDecomposition(matrixOf(rows, columns, values), { autoTranspose: true });
    const wanted = svd.solve(Matrix.columnVector([...b])).to1DArray();
    const most = Math.max(1, ...wanted.map(Math.abs));
    wanted.forEach((value, k) => expect(Math.abs(x[k]! - value)).toBeLessThan(1e-8 * most));
  });

  test('a column that is a hair from dependent counts as dependent, one well clear of it does not', () => {
    const near = (off: number): number => new Qr(Float64Array.from([1, 1, 1, 1 + off]), 2, 2).rank;
    expect(near(1e-13)).toBe(1);
    expect(near(1e-6)).toBe(2);
  });
});

describe('the least norm by the normal equations', () => {
  test.each(SEEDS)('is that of the rank-revealing factorisation, seed %i', (seed) => {
    const draw = random(700 + seed);
    const rows = draw.whole(1, 30);
    const columns = rows + draw.whole(0, 20);
    const values = new Float64Array(rows * columns);
    for (let i = 0; i < rows; i++) {
      values[i * columns + i] = draw.pick([-3, 3]);
      for (let turn = 0; turn < 3; turn++) values[i * columns + draw.whole(0, columns - 1)]! += draw.between(-1, 1);
    }
    const b = Float64Array.from({ length: rows }, () => draw.between(-5, 5));
    const wanted = new Qr(values, rows, columns).solve(b);
    const found = leastNormOf(values, rows, columns, b)!;
    const most = Math.max(1, ...wanted.map(Math.abs));
    wanted.forEach((value, k) => expect(Math.abs(found[k]! - value)).toBeLessThan(1e-8 * most));
  });

  test('is none where a row says the same as others', () => {
    expect(leastNormOf(Float64Array.from([1, 0, 2, 0]), 2, 2, Float64Array.from([1, 1]))).toBeUndefined();
  });
});
