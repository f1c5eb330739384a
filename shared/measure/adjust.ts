/**
 * Readings that must add up: the sizes that agree best with all of them, and the readings that do not fit.
 *
 * Robust least squares: every reading is a sum of sizes, each with its factor, and counts by its accuracy. A reading
 * that is off by more than the rest explains counts for less the further it is off (Huber’s weights, the scale from the
 * median of what is left), and the sum is made again until nothing moves. Textbook method; lengths in any one unit.
 */
import type { Draft } from '../envelope/draft.ts';
import { Qr } from '../numbers/dense.ts';
import { bandsOf } from './bands.ts';
import { accuracyOf, readingsOf } from './known.ts';
import { valueAt } from './path.ts';

/** One reading: what it adds up, what was read, and how well. */
export interface Row {
  readonly terms: readonly (readonly [unknown: number, factor: number])[];
  readonly value: number;
  /** Standard deviation; 1 for all where only the values are known. */
  readonly deviation: number;
}

/** What the rows come to. */
export interface Adjusted {
  readonly sizes: readonly number[];
  /** What each row was read at, less what the sizes make of it. */
  readonly residuals: readonly number[];
  /** How much each row counted, 0 to 1. */
  readonly weights: readonly number[];
  /** The spread of what is left, in deviations. */
  readonly scale: number;
}

/** Huber’s bound, in deviations: 95 % as good as least squares where all readings are good. */
const HUBER = 1.345;
/** The median of what is left, as a share of its deviation where that is normal. */
const MEDIAN_SHARE = 0.6745;
const MOST_STEPS = 200;
const NOTHING = 1e-10;

/**
 * Sizes by robust least squares. `scale` fixes the spread that a deviation is counted in; without it, it is taken from
 * the median of what is left.
 */
export function adjust(rows: readonly Row[], unknowns: number, scale?: number): Adjusted {
  let weights = rows.map(() => 1);
  let sizes = solved(rows, weights, unknowns);
  let spread = scale ?? 0;
  for (let step = 0; step < MOST_STEPS; step++) {
    const scaled = residualsOf(rows, sizes).map((residual, k) => residual / rows[k]!.deviation);
    spread = scale ?? median(scaled.map(Math.abs)) / MEDIAN_SHARE;
    if (spread < NOTHING) break;
    weights = scaled.map((own) => Math.min(1, (HUBER * spread) / Math.max(NOTHING, Math.abs(own))));
    const next = solved(rows, weights, unknowns);
    const moved = Math.max(...next.map((own, k) => Math.abs(own - sizes[k]!)));
    sizes = next;
    if (moved < NOTHING) break;
  }
  return { sizes, residuals: residualsOf(rows, sizes), weights, scale: spread };
}

/** Plain weighted least squares. */
function solved(rows: readonly Row[], weights: readonly number[], unknowns: number): number[] {
  const matrix = new Float64Array(rows.length * unknowns);
  const right = new Float64Array(rows.length);
  rows.forEach(({ terms, value, deviation }, k) => {
    const root = Math.sqrt(weights[k]!) / deviation;
    for (const [unknown, factor] of terms) matrix[k * unknowns + unknown]! += root * factor;
    right[k] = root * value;
  });
  return [...new Qr(matrix, rows.length, unknowns).solve(right)];
}

function residualsOf(rows: readonly Row[], sizes: readonly number[]): number[] {
  return rows.map(({ terms, value }) => value - terms.reduce((sum, [k, factor]) => sum + factor * sizes[k]!, 0));
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

/** A reading of a draft that the others contradict. */
export interface Misfit {
  /** The size that was read, or the comparison by its id. */
  readonly path: string;
  readonly read: number;
  /** What the others make of it. */
  readonly expected: number;
}

/** Standard deviations that an accuracy stands for, as the tray has it. */
const DEVIATIONS = 2;
/** Off by more than this many accuracies a reading is asked for again. */
const OFF = 1.5;

/**
 * The readings of a draft that its sums and differences do not allow: of each sum that does not close the one reading
 * that is off by most for its accuracy. Sizes that no comparison names are left aside.
 */
export function misfitsOf(draft: Draft): Misfit[] {
  const compared = draft.compared ?? [];
  const { sizes: bands, paths } = bandsOf(draft);
  const names = [...new Set(compared.flatMap(({ terms }) => terms.map(({ size }) => size)))].filter((name) =>
    bands.has(name),
  );
  const rows: (Row & { readonly path: string; readonly accuracy: number })[] = [];
  const least = 1e-4;
  for (const [k, name] of names.entries()) {
    const band = bands.get(name)!;
    const readings = readingsOf(valueAt(draft.model, paths.get(name)!) as never).filter(({ from }) => from !== 'guess');
    const said = readings.map((own) => ({ value: own.value, accuracy: accuracyOf(own) }));
    // What nobody has read is bounded by its band alone.
    if (said.length === 0) said.push({ value: band.middle, accuracy: (band.most - band.least) / 2 });
    for (const { value, accuracy } of said) {
      const own = Math.max(least, accuracy);
      rows.push({ terms: [[k, 1]], value, deviation: own / DEVIATIONS, path: name, accuracy: own });
    }
  }
  for (const { id, terms, value_mm, accuracy_mm } of compared) {
    if (!terms.every(({ size }) => names.includes(size))) continue;
    rows.push({
      terms: terms.map(({ size, times }) => [names.indexOf(size), times] as const),
      value: value_mm,
      deviation: accuracy_mm / DEVIATIONS,
      path: id,
      accuracy: accuracy_mm,
    });
  }
  if (rows.length === names.length) return [];
  const { residuals } = adjust(rows, names.length, 1);
  return rows.flatMap(({ path, value, accuracy }, k) =>
    Math.abs(residuals[k]!) > OFF * accuracy ? [{ path, read: value, expected: value - residuals[k]! }] : [],
  );
}
