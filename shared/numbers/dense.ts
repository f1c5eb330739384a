/**
 * Small dense linear algebra for the linkage: a factorisation for regular square systems and one that reveals rank.
 *
 * `Lu` is Gaussian elimination with partial pivoting, for the one or two dozen unknowns of a pose. `Qr` is
 * Householder's QR with column pivoting, followed by a second one of the leading rows (a complete orthogonal
 * decomposition): it tells the rank, gives the least-squares solution of least norm of any system, and a basis of what
 * the system leaves free. Plain textbook methods. Matrices are row-major; work space is kept, so that a step makes no
 * garbage.
 */

/** Pivots smaller than this share of the largest count as nothing: far above rounding, far below a real dead centre. */
const NOTHING = 1e-10;

/** LU factorisation of one square matrix after another of the same size. */
export class Lu {
  readonly size: number;
  /** Sign of the determinant of the last matrix; 0 when it was singular. */
  sign: -1 | 0 | 1 = 0;
  /** Smallest against largest pivot of the last matrix, 0 to 1: how near it was to singular. */
  pivotShare = 0;
  private readonly values: Float64Array;
  private readonly order: Int32Array;
  private readonly work: Float64Array;

  constructor(size: number) {
    this.size = size;
    this.values = new Float64Array(size * size);
    this.order = new Int32Array(size);
    this.work = new Float64Array(size);
  }

  /** Factorise a row-major matrix, which is left as it is; false when it is singular. */
  factorise(matrix: Float64Array): boolean {
    const { size: n, values: a, order } = this;
    a.set(n * n === matrix.length ? matrix : matrix.subarray(0, n * n));
    let sign: -1 | 1 = 1;
    let least = Infinity;
    let most = 0;
    for (let k = 0; k < n; k++) order[k] = k;
    for (let k = 0; k < n; k++) {
      let best = k;
      for (let i = k + 1; i < n; i++) if (Math.abs(a[i * n + k]!) > Math.abs(a[best * n + k]!)) best = i;
      if (best !== k) {
        for (let j = 0; j < n; j++) {
          const held = a[k * n + j]!;
          a[k * n + j] = a[best * n + j]!;
          a[best * n + j] = held;
        }
        const held = order[k]!;
        order[k] = order[best]!;
        order[best] = held;
        sign = sign === 1 ? -1 : 1;
      }
      const pivot = a[k * n + k]!;
      least = Math.min(least, Math.abs(pivot));
      most = Math.max(most, Math.abs(pivot));
      if (pivot === 0) break;
      if (pivot < 0) sign = sign === 1 ? -1 : 1;
      for (let i = k + 1; i < n; i++) {
        const factor = a[i * n + k]! / pivot;
        if (factor === 0) continue;
        a[i * n + k] = factor;
        for (let j = k + 1; j < n; j++) a[i * n + j]! -= factor * a[k * n + j]!;
      }
    }
    this.pivotShare = most > 0 ? least / most : n === 0 ? 1 : 0;
    const isRegular = this.pivotShare > NOTHING;
    this.sign = isRegular ? sign : 0;
    return isRegular;
  }

  /** Solve in place: `x` goes in as the right-hand side. */
  solve(x: Float64Array): void {
    const { size: n, values: a, order, work } = this;
    for (let i = 0; i < n; i++) {
      let sum = x[order[i]!]!;
      for (let j = 0; j < i; j++) sum -= a[i * n + j]! * work[j]!;
      work[i] = sum;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = work[i]!;
      for (let j = i + 1; j < n; j++) sum -= a[i * n + j]! * x[j]!;
      x[i] = sum / a[i * n + i]!;
    }
  }
}

/** Complete orthogonal decomposition of a matrix of any shape. */
export class Qr {
  readonly rows: number;
  readonly columns: number;
  /** How many columns are independent. */
  readonly rank: number;
  /** Columns in the order they were taken; the first `rank` of them are independent. */
  readonly order: Int32Array;
  /** Householder vectors of the first factorisation below its diagonal, R above. */
  private readonly values: Float64Array;
  private readonly scale: Float64Array;
  private readonly diagonal: Float64Array;
  /** The same for the transpose of R's leading rows: columns × rank. */
  private readonly second: {
    readonly values: Float64Array;
    readonly scale: Float64Array;
    readonly diagonal: Float64Array;
  };

  /** `relative`: pivots below this share of the largest count as nothing. */
  constructor(matrix: Float64Array, rows: number, columns: number, relative = NOTHING) {
    this.rows = rows;
    this.columns = columns;
    const a = Float64Array.from(matrix.subarray(0, rows * columns));
    const steps = Math.min(rows, columns);
    this.order = Int32Array.from({ length: columns }, (_, j) => j);
    this.scale = new Float64Array(steps);
    this.diagonal = new Float64Array(steps);
    let rank = 0;
    let largest = 0;
    for (let k = 0; k < steps; k++) {
      const best = this.largestColumn(a, k);
      if (best !== k) swapColumns(a, rows, columns, k, best, this.order);
      const length = reflect(a, rows, columns, k, this.scale, this.diagonal);
      largest = Math.max(largest, length);
      if (length <= relative * largest || length === 0) break;
      rank = k + 1;
    }
    this.rank = rank;
    this.values = a;
    const leading = new Float64Array(columns * rank);
    for (let i = 0; i < rank; i++) {
      leading[i * rank + i] = this.diagonal[i]!;
      for (let j = i + 1; j < columns; j++) leading[j * rank + i] = a[i * columns + j]!;
    }
    this.second = { values: leading, scale: new Float64Array(rank), diagonal: new Float64Array(rank) };
    for (let k = 0; k < rank; k++) reflect(leading, columns, rank, k, this.second.scale, this.second.diagonal);
  }

  private largestColumn(a: Float64Array, k: number): number {
    let best = k;
    let most = -1;
    for (let j = k; j < this.columns; j++) {
      let sum = 0;
      for (let i = k; i < this.rows; i++) sum += a[i * this.columns + j]! ** 2;
      // Equal columns keep their order, so that the choice does not hang on the last bit.
      if (sum > most * (1 + 1e-12)) {
        most = sum;
        best = j;
      }
    }
    return best;
  }

  /** The x of least norm among those that bring ‖A·x − b‖ to its least. */
  solve(b: Float64Array): Float64Array {
    const { rows, columns, rank, order, values, scale, second } = this;
    const y = Float64Array.from(b.subarray(0, rows));
    for (let k = 0; k < rank; k++) applyReflection(values, rows, columns, k, scale[k]!, y);
    // R's leading rows are T' of the second factorisation: T'·w = y.
    const w = new Float64Array(columns);
    for (let i = 0; i < rank; i++) {
      let sum = y[i]!;
      for (let j = 0; j < i; j++) sum -= second.values[j * rank + i]! * w[j]!;
      w[i] = sum / second.diagonal[i]!;
    }
    for (let k = rank - 1; k >= 0; k--) applyReflection(second.values, columns, rank, k, second.scale[k]!, w);
    const x = new Float64Array(columns);
    for (let j = 0; j < columns; j++) x[order[j]!] = w[j]!;
    return x;
  }

  /** An orthonormal basis of everything the matrix sends to nothing, one vector a row. */
  free(): Float64Array[] {
    const { columns, rank, order, second } = this;
    return Array.from({ length: columns - rank }, (_, at) => {
      const w = new Float64Array(columns);
      w[rank + at] = 1;
      for (let k = rank - 1; k >= 0; k--) applyReflection(second.values, columns, rank, k, second.scale[k]!, w);
      const x = new Float64Array(columns);
      for (let j = 0; j < columns; j++) x[order[j]!] = w[j]!;
      return x;
    });
  }
}

function swapColumns(
  a: Float64Array,
  rows: number,
  columns: number,
  one: number,
  other: number,
  order: Int32Array,
): void {
  for (let i = 0; i < rows; i++) {
    const held = a[i * columns + one]!;
    a[i * columns + one] = a[i * columns + other]!;
    a[i * columns + other] = held;
  }
  const held = order[one]!;
  order[one] = order[other]!;
  order[other] = held;
}

/**
 * Reflect column k of `a` onto its first entry and all later columns with it; gives the length of that column. The
 * vector stays in place below and on the diagonal, R's entry goes to `diagonal`.
 */
function reflect(
  a: Float64Array,
  rows: number,
  columns: number,
  k: number,
  scale: Float64Array,
  diagonal: Float64Array,
): number {
  let sum = 0;
  for (let i = k; i < rows; i++) sum += a[i * columns + k]! ** 2;
  const length = Math.sqrt(sum);
  if (length === 0) return 0;
  const head = a[k * columns + k]!;
  // Away from the entry's own sign, so that nothing cancels.
  const target = head > 0 ? -length : length;
  a[k * columns + k] = head - target;
  diagonal[k] = target;
  scale[k] = -1 / (target * (head - target));
  for (let j = k + 1; j < columns; j++) {
    let dot = 0;
    for (let i = k; i < rows; i++) dot += a[i * columns + k]! * a[i * columns + j]!;
    const factor = dot * scale[k]!;
    for (let i = k; i < rows; i++) a[i * columns + j]! -= factor * a[i * columns + k]!;
  }
  return length;
}

function applyReflection(
  a: Float64Array,
  rows: number,
  columns: number,
  k: number,
  scale: number,
  x: Float64Array,
): void {
  let dot = 0;
  for (let i = k; i < rows; i++) dot += a[i * columns + k]! * x[i]!;
  const factor = dot * scale;
  for (let i = k; i < rows; i++) x[i]! -= factor * a[i * columns + k]!;
}
