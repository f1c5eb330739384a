/**
 * Sampled sets: of so many, how many clamp, pinch or play, and whose tolerance that is.
 *
 * Every dimension is drawn by itself from a seeded stream: `bell` is the normal curve whose three standard deviations
 * reach the limits (untruncated, so that a linear chain's spread is the root-sum-square), `even` is any value between
 * the limits alike, a careless shop. Each build goes through the clamp solve. A generator hands back after every chunk,
 * so that a worker can report and stop. Shares of variance are a chain's own, exact. Blame: how much further than usual
 * each dimension spread (its mean square, in terms of its variance, less one) in the sets that do not clamp; both
 * ends of a dimension count, which a correlation would miss. Lengths mm, forces N.
 */
import { refuse, requireAtLeast } from '../standards/guard.ts';
import { SET_CLASSES, type SetTrial, type SetClass, type SetReason } from './sets.ts';
import { travel_mm } from './effect.ts';
import { randomStream } from '../numbers/random.ts';
import { SIGMAS } from './stack-up.ts';

/** Ways a dimension may spread. */
const DRAWS = ['bell', 'even'] as const;
/** How a dimension spreads between its limits. */
export type Draw = (typeof DRAWS)[number];

/** What to sample. */
export interface SamplingOptions {
  readonly sets?: number;
  readonly seed?: number;
  readonly draw?: Draw;
  /** Builds between two reports. */
  readonly chunk?: number;
}

/** Builds of a run that names no number. */
export const DEFAULT_SETS = 10_000;
/** Seed of a run that names none. */
const DEFAULT_SEED = 1;
/** Most sets a run may ask for: an hour of a slow tablet. */
const MOST_SETS = 1_000_000;
const DEFAULT_CHUNK = 250;
const BINS = 36;

/** How far a run is. */
export interface SamplingProgress {
  readonly done: number;
  readonly total: number;
  readonly counts: Readonly<Record<SetClass, number>>;
}

/** Builds of one bin by what they do. */
export interface Bin {
  readonly from_mm: number;
  readonly to_mm: number;
  readonly counts: Readonly<Record<SetClass, number>>;
}

/** What came of a run. */
export interface Sampling {
  readonly sets: number;
  readonly seed: number;
  readonly draw: Draw;
  readonly counts: Readonly<Record<SetClass, number>>;
  /** 95 % interval of each count's share, by Wilson's formula: what so many sets can tell. */
  readonly shares: Readonly<Record<SetClass, { readonly share: number; readonly low: number; readonly high: number }>>;
  readonly reasons: Readonly<Partial<Record<SetReason, number>>>;
  readonly clamp_N: Spread;
  readonly sideLoad_N: Spread;
  /** One a chain, in the trial's order: its sampled gap and what the sets in each bin do. */
  readonly chains: readonly {
    readonly id: string;
    readonly gap_mm: Spread;
    readonly bins: readonly Bin[];
    readonly shares: readonly DimensionShare[];
  }[];
  /** Whose tolerance shows in the sets that do not clamp, greatest first; empty where too few of them were met. */
  readonly blame: readonly DimensionShare[];
}

/** Share of a variance, or of the blame, that goes with one dimension. */
export interface DimensionShare {
  readonly dimension: string;
  readonly share: number;
}

/** Mean, standard deviation, ends and the middle 95 % of a sampled number. */
export interface Spread {
  readonly mean: number;
  readonly sigma: number;
  readonly least: number;
  readonly most: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Sample a trial; hands back progress after each chunk, and the result at the end. The same seed gives the same bits,
 * whatever the chunk. About 0.5 ms a set. Throws a RangeError for numbers that mean nothing.
 */
export function* sampleSets(trial: SetTrial, options: SamplingOptions = {}): Generator<SamplingProgress, Sampling> {
  const { sets = DEFAULT_SETS, seed = DEFAULT_SEED, draw = 'bell', chunk = DEFAULT_CHUNK } = options;
  requireWhole('sets', sets, 1, MOST_SETS);
  requireWhole('chunk', chunk, 1, MOST_SETS);
  if (!Number.isSafeInteger(seed)) refuse('sampling', 'seed', seed, 'a whole number');
  if (!DRAWS.includes(draw)) refuse('sampling', 'draw', draw, DRAWS.join(', '));
  const { list } = trial.dimensions;
  const stream = randomStream(seed);
  const middle = Float64Array.from(list, ({ lower_mm, upper_mm }) => (lower_mm + upper_mm) / 2);
  const half = Float64Array.from(list, ({ lower_mm, upper_mm }) => (upper_mm - lower_mm) / 2);
  const deviation = new Float64Array(list.length);
  const clamp = new Float64Array(sets);
  const load = new Float64Array(sets);
  const classes: SetClass[] = [];
  const gaps = trial.chains.map(() => new Float64Array(sets));
  const deviations = list.map(() => new Float64Array(sets));
  const counts: Record<SetClass, number> = { clamps: 0, pinches: 0, plays: 0 };
  const reasons: Partial<Record<SetReason, number>> = {};
  for (let k = 0; k < sets; k++) {
    for (let i = 0; i < deviation.length; i++) {
      deviation[i] = middle[i]! + half[i]! * (draw === 'bell' ? stream.bell() / SIGMAS : 2 * stream.even() - 1);
      deviations[i]![k] = deviation[i]!;
    }
    const build = trial.build(deviation);
    clamp[k] = build.clamp_N;
    load[k] = build.sideLoad_N;
    classes.push(build.class);
    counts[build.class]++;
    for (const reason of build.reasons) reasons[reason] = (reasons[reason] ?? 0) + 1;
    trial.chains.forEach((chain, c) => {
      gaps[c]![k] = chain.gap_mm + travel_mm(chain.effect, deviation);
    });
    if ((k + 1) % chunk === 0 && k + 1 < sets) yield { done: k + 1, total: sets, counts: { ...counts } };
  }
  return {
    sets,
    seed,
    draw,
    counts,
    shares: Object.fromEntries(SET_CLASSES.map((name) => [name, wilson(counts[name], sets)])) as Sampling['shares'],
    reasons,
    clamp_N: spreadOf(clamp),
    sideLoad_N: spreadOf(load),
    chains: trial.chains.map((chain, c) => ({
      id: chain.id,
      gap_mm: spreadOf(gaps[c]!),
      bins: binsOf(gaps[c]!, classes),
      shares: chain.terms
        .map(({ dimension }, t) => ({ dimension: dimension.id, share: chain.sum.shares[t]! }))
        .sort((a, b) => b.share - a.share),
    })),
    blame: blameOf(
      list.map(({ id }) => id),
      deviations,
      middle,
      half,
      draw,
      classes,
    ),
  };
}

function requireWhole(quantity: string, value: number, least: number, most: number): void {
  requireAtLeast('sampling', quantity, value, least);
  if (!Number.isSafeInteger(value) || value > most)
    refuse('sampling', quantity, value, `a whole number from ${least} to ${most}`);
}

/** Spread of sampled values. */
function spreadOf(values: Float64Array): Spread {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const sorted = Float64Array.from(values).sort();
  const at = (share: number): number => sorted[Math.min(n - 1, Math.max(0, Math.round(share * (n - 1))))]!;
  return {
    mean,
    sigma: n > 1 ? Math.sqrt(squares / (n - 1)) : 0,
    least: sorted[0]!,
    most: sorted[n - 1]!,
    low: at(0.025),
    high: at(0.975),
  };
}

/** Standard deviations of a 95 % interval. */
const Z95 = 1.959964;

/** Wilson's 95 % interval of a share seen in n draws. */
export function wilson(
  count: number,
  n: number,
): { readonly share: number; readonly low: number; readonly high: number } {
  const share = count / n;
  const z2 = Z95 * Z95;
  const middle = (share + z2 / (2 * n)) / (1 + z2 / n);
  const half = (Z95 / (1 + z2 / n)) * Math.sqrt((share * (1 - share)) / n + z2 / (4 * n * n));
  return { share, low: count === 0 ? 0 : middle - half, high: count === n ? 1 : middle + half };
}

/** Even bins over what was met, a little beyond at both ends. */
function binsOf(values: Float64Array, classes: readonly SetClass[]): Bin[] {
  let least = Infinity;
  let most = -Infinity;
  for (const value of values) {
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  const width = (most - least) / BINS || 1e-6;
  const bins = Array.from({ length: BINS }, (_, k) => ({
    from_mm: least + k * width,
    to_mm: least + (k + 1) * width,
    counts: { clamps: 0, pinches: 0, plays: 0 } as Record<SetClass, number>,
  }));
  values.forEach((value, k) => {
    bins[Math.min(BINS - 1, Math.max(0, Math.floor((value - least) / width)))]!.counts[classes[k]!]++;
  });
  return bins;
}

/** Builds that do not clamp from which blame can be told. */
const LEAST_FAILED = 20;

function blameOf(
  ids: readonly string[],
  deviations: readonly Float64Array[],
  middle: Float64Array,
  half: Float64Array,
  draw: Draw,
  classes: readonly SetClass[],
): DimensionShare[] {
  const failed = classes.flatMap((name, k) => (name === 'clamps' ? [] : [k]));
  if (failed.length < LEAST_FAILED) return [];
  const variance = draw === 'bell' ? 1 / (SIGMAS * SIGMAS) : 1 / 3;
  const beyond = ids.map((_, i) => {
    if (half[i] === 0) return 0;
    const square =
      failed.reduce((sum, k) => sum + ((deviations[i]![k]! - middle[i]!) / half[i]!) ** 2, 0) / failed.length;
    // A dimension without a say spreads by chance alone: three standard errors of its mean square.
    const chance = 3 * Math.sqrt((draw === 'bell' ? 2 : 0.8) / failed.length);
    return Math.max(0, square / variance - 1 - chance);
  });
  const sum = beyond.reduce((total, value) => total + value, 0);
  return sum === 0
    ? []
    : ids
        .map((dimension, i) => ({ dimension, share: beyond[i]! / sum }))
        .filter(({ share }) => share > 0)
        .sort((a, b) => b.share - a.share);
}
