/**
 * Cholesky factorisation of a symmetric positive definite matrix within its skyline.
 *
 * Row i is stored from its first non-zero column to the diagonal; fill-in never leaves that skyline. In axle order a
 * stack's matrix is a narrow band, so that a factorisation is linear in the number of bodies. Plain textbook method.
 */
export class Skyline {
  /** First stored column of each row. */
  readonly first: Int32Array;
  private readonly start: Int32Array;
  private readonly values: Float64Array;

  /** `first[i]` ≤ i is the first column of row i that is ever written. */
  constructor(first: Int32Array) {
    this.first = first;
    this.start = new Int32Array(first.length + 1);
    for (let i = 0; i < first.length; i++) this.start[i + 1] = this.start[i]! + (i - first[i]! + 1);
    this.values = new Float64Array(this.start[first.length]!);
  }

  clear(): void {
    this.values.fill(0);
  }

  /** Add to entry (i, j) of the lower triangle; i ≥ j ≥ first[i]. */
  add(i: number, j: number, value: number): void {
    this.values[this.start[i]! + j - this.first[i]!]! += value;
  }

  /** Factorise in place; false when a pivot is not positive. */
  factorise(): boolean {
    const { first, start, values } = this;
    for (let i = 0; i < first.length; i++) {
      const rowI = start[i]! - first[i]!;
      for (let j = first[i]!; j <= i; j++) {
        const rowJ = start[j]! - first[j]!;
        let sum = values[rowI + j]!;
        for (let k = Math.max(first[i]!, first[j]!); k < j; k++) sum -= values[rowI + k]! * values[rowJ + k]!;
        if (j < i) values[rowI + j] = sum / values[rowJ + j]!;
        else if (sum > 0) values[rowI + i] = Math.sqrt(sum);
        else return false;
      }
    }
    return true;
  }

  /** Solve in place after `factorise`: `x` goes in as the right-hand side. */
  solve(x: Float64Array): void {
    const { first, start, values } = this;
    for (let i = 0; i < first.length; i++) {
      const row = start[i]! - first[i]!;
      let sum = x[i]!;
      for (let k = first[i]!; k < i; k++) sum -= values[row + k]! * x[k]!;
      x[i] = sum / values[row + i]!;
    }
    for (let i = first.length - 1; i >= 0; i--) {
      const row = start[i]! - first[i]!;
      const value = x[i]! / values[row + i]!;
      x[i] = value;
      for (let k = first[i]!; k < i; k++) x[k]! -= values[row + k]! * value;
    }
  }
}

/** A solution that misses by more than this share of the right-hand side is none. */
const MISSED = 1e-9;

/**
 * The solution of least norm of an under-determined system whose rows share few columns: by its normal equations, once
 * refined. Undefined where rows depend on one another. Row-major.
 */
export function leastNormOf(
  matrix: Float64Array,
  rows: number,
  columns: number,
  b: Float64Array,
): Float64Array | undefined {
  const entries = Array.from({ length: rows }, (_, i): [column: number, value: number][] => {
    const found: [number, number][] = [];
    for (let j = 0; j < columns; j++) if (matrix[i * columns + j] !== 0) found.push([j, matrix[i * columns + j]!]);
    return found;
  });
  const inColumn = Array.from({ length: columns }, (): [row: number, value: number][] => []);
  entries.forEach((list, i) => {
    for (const [j, value] of list) inColumn[j]!.push([i, value]);
  });
  const first = Int32Array.from(entries, (list, i) =>
    list.reduce((least, [j]) => Math.min(least, inColumn[j]![0]![0]), i),
  );
  const gram = new Skyline(first);
  entries.forEach((list, i) => {
    for (const [j, value] of list) for (const [k, other] of inColumn[j]!) if (k <= i) gram.add(i, k, value * other);
  });
  if (!gram.factorise()) return undefined;
  const x = new Float64Array(columns);
  const left = Float64Array.from(b);
  for (let turn = 0; turn < 2; turn++) {
    gram.solve(left);
    entries.forEach((list, i) => {
      for (const [j, value] of list) x[j]! += value * left[i]!;
    });
    entries.forEach((list, i) => {
      left[i] = list.reduce((rest, [j, value]) => rest - value * x[j]!, b[i]!);
    });
  }
  const size = Math.max(...b.map(Math.abs));
  return left.every((rest) => Math.abs(rest) <= MISSED * size) ? x : undefined;
}
