/**
 * What to measure next: of all readings that could settle a verdict, the one that tells most a minute.
 *
 * For a size that decides, the two hypotheses are that its pivot comes to the verdict it has at the middle, or to
 * another; a reading tells them apart but for the stretch within its accuracy of where the verdict turns. Where a
 * reading of the size is no better than what is known already, a comparison is asked for instead: the two sizes of a
 * fit tried on one another, or a whole chain of lengths by a straight edge or a feeler. Bits, minutes.
 */
import type { Compared, CompareTool, Draft } from '../envelope/draft.ts';
import { worthOf } from '../next/next.ts';
import { benchesOf, type Bench } from './bench.ts';
import { slopesOf, verdictAt, type Deciding, type DraftVerdict } from './judge.ts';
import { MEASURE_LIMITS } from './limits.ts';

/** One reading and what it is worth. */
export interface NextMeasure {
  readonly pivot: string;
  /** The size to read; undefined for a comparison. */
  readonly path?: string;
  /** The sizes to compare, and with what. */
  readonly compare?: { readonly with: CompareTool; readonly terms: Compared['terms'] };
  /** The deciding sizes that it tells of. */
  readonly settles: readonly string[];
  /** ± what the reading is good for. */
  readonly accuracy: number;
  readonly gain_bits: number;
  readonly minutes: number;
  readonly gainPerMinute_bits: number;
  /** A comparison that was made before: asked for once nothing else is left. */
  readonly isAgain: boolean;
}

/** Where a draft stands and how to go on. */
export interface Asked {
  readonly verdicts: readonly DraftVerdict[];
  /** The best reading first; empty where all is settled, or no reading would settle more. */
  readonly next: readonly NextMeasure[];
}

/** Verdicts of a draft and the readings that would settle more of them, the best a minute first. */
export function askOf(draft: Draft): Asked {
  const benches = benchesOf(draft);
  const verdicts = benches.map(verdictAt);
  const found = benches.flatMap((bench, k) => questionsAbout(draft, bench, verdicts[k]!));
  const best = new Map<string, NextMeasure>();
  for (const own of found) {
    const key = own.path ?? JSON.stringify(own.compare);
    const before = best.get(key);
    if (!before || own.gainPerMinute_bits > before.gainPerMinute_bits) best.set(key, own);
  }
  const next = [...best.values()].sort(
    (a, b) => Number(a.isAgain) - Number(b.isAgain) || b.gainPerMinute_bits - a.gainPerMinute_bits,
  );
  return { verdicts, next };
}

/** A reading that leaves more than this share of what is known already is not worth its walk. */
const WORTHWHILE = 0.7;
/** A band this many accuracies wide on either side is as well settled by a comparison. */
const NARROW = 2;
/** Where nothing tells how much of a band changes a verdict. */
const UNTOLD_SHARE = 0.25;

function questionsAbout(draft: Draft, bench: Bench, { verdict, depends_on }: DraftVerdict): NextMeasure[] {
  if (verdict !== 'unsure') return [];
  let made: Compared['terms'][] | undefined;
  const chains = (): Compared['terms'][] => (made ??= chainTerms(bench));
  return depends_on.flatMap((deciding): NextMeasure[] => {
    const { least, most, isOpen } = bench.bands.get(deciding.path)!;
    const half = (most - least) / 2;
    const { accuracy, minutes } = readingOf(deciding.path);
    const isRead = isOpen || accuracy < WORTHWHILE * half;
    // A comparison is worth its trouble once the calliper's own reading is not much better than what is known.
    const isNarrow = half < NARROW * accuracy;
    const comparisons = isRead && !isNarrow ? [] : comparisonsFor(draft, bench, deciding.path, chains);
    return [
      ...(isRead ? [measured(bench, deciding, half, { path: deciding.path, accuracy, minutes, isAgain: false })] : []),
      ...comparisons
        .filter((own) => own.accuracy < WORTHWHILE * half)
        .map((own) => measured(bench, deciding, half, own)),
    ];
  });
}

type Reading = Pick<NextMeasure, 'path' | 'compare' | 'accuracy' | 'minutes' | 'isAgain'>;

function measured(bench: Bench, { path, share }: Deciding, half: number, reading: Reading): NextMeasure {
  const flips = Math.min(0.99, Math.max(0.01, share === 0 ? UNTOLD_SHARE : share));
  const blurred = (own: number): number => Math.min(1, reading.accuracy / (2 * half * own));
  const [same, other] = [blurred(1 - flips), blurred(flips)];
  const answers = [
    [1 - same, same, 0],
    [0, other, 1 - other],
  ];
  const { gain_bits } = worthOf([1 - flips, flips], { minutes: reading.minutes, answers });
  return {
    ...reading,
    pivot: bench.pivot,
    settles: [path],
    gain_bits,
    gainPerMinute_bits: gain_bits / reading.minutes,
  };
}

/** How well a size is read, and how long that takes. */
function readingOf(path: string): { readonly accuracy: number; readonly minutes: number } {
  const { calliper_mm, outsideMinutes, insideMinutes, depthMinutes, gaugeMinutes, lookMinutes } = MEASURE_LIMITS;
  const accuracy = calliper_mm.value;
  if (/drives|torque/.test(path)) return { accuracy: 0, minutes: lookMinutes.value };
  if (/pitch_mm$/.test(path)) return { accuracy, minutes: gaugeMinutes.value };
  if (/bore_mm$|gap_mm$|seats\[\d+\]\.diameter_mm$/.test(path)) return { accuracy, minutes: insideMinutes.value };
  if (/depth_mm$|shank\[\d+\]\.length_mm$|land_height_mm$|thread\.length_mm$/.test(path))
    return { accuracy, minutes: depthMinutes.value };
  return { accuracy, minutes: outsideMinutes.value };
}

/** Fits nearer than this are tried on one another, mm. */
const ALIKE_mm = 0.6;

function comparisonsFor(draft: Draft, bench: Bench, path: string, chainsOf: () => Compared['terms'][]): Reading[] {
  const { tried_mm, compared_mm, compareMinutes, insideMinutes } = MEASURE_LIMITS;
  const middle = (name: string): number => bench.bands.get(name)!.middle;
  const fits = bench.pairs.flatMap(({ size, of }): Omit<Reading, 'isAgain'>[] => {
    const isPair = (size === path || of === path) && Math.abs(middle(size) - middle(of)) < ALIKE_mm;
    if (!isPair || [size, of].some((own) => /thread|length|width|depth/.test(own))) return [];
    const terms = [
      { size, times: 1 },
      { size: of, times: -1 },
    ];
    return [
      {
        compare: { with: 'gauge', terms },
        accuracy: tried_mm.value,
        minutes: insideMinutes.value + compareMinutes.value,
      },
    ];
  });
  const chains = chainsOf()
    .filter((terms) => terms.some(({ size }) => size === path))
    .map(
      (terms): Omit<Reading, 'isAgain'> => ({
        compare: { with: terms.length <= 4 ? 'straight-edge' : 'feeler', terms },
        accuracy: compared_mm.value,
        minutes: compareMinutes.value,
      }),
    );
  return [...fits, ...chains].flatMap((own) => {
    const times = timesCompared(draft, own.compare!.terms, own.accuracy);
    return times < MOST_COMPARED ? [{ ...own, isAgain: times > 0 }] : [];
  });
}

/** A difference at the edge of a limit is read again, and where the readings meet it is narrower. */
const MOST_COMPARED = 4;

function timesCompared(draft: Draft, terms: Compared['terms'], accuracy: number): number {
  const key = (own: Compared['terms']): string =>
    own
      .map(({ size, times }) => `${size} ${times}`)
      .sort()
      .join();
  const alike = (draft.compared ?? []).filter(
    (own) => key(own.terms) === key(terms) && own.accuracy_mm <= accuracy + 1e-9,
  );
  return alike.length;
}

/** The spans of a pivot as sums of its sizes: what is left, or missing, between two faces of one member. */
export function chainTerms(bench: Bench): Compared['terms'][] {
  const lengths = [...bench.bands.keys()].filter((path) => /_mm$/.test(path) && !/thread|pivots/.test(path));
  const at = bench.gaps(new Map());
  if (!at) return [];
  return [...slopesOf(bench, lengths)].flatMap(([id, slopes]) => {
    if (id.endsWith(':room')) return [];
    const terms = [...slopes].flatMap(([size, slope]) =>
      Math.abs(slope) > 1e-6 ? [{ size, times: Math.round(slope * 1e3) / 1e3 }] : [],
    );
    const sum = terms.reduce((total, { size, times }) => total + times * bench.bands.get(size)!.middle, 0);
    // What is fixed (a ring's width by its table) is no term of ours: a chain that has any cannot be told by sizes.
    const whole = withRings(bench, terms, at.get(id)! - sum);
    return whole ? [whole] : [];
  });
}

/** The chain with the widths of the rings in it, which a table fixes; undefined where these do not explain the rest. */
function withRings(bench: Bench, terms: Compared['terms'], rest: number): Compared['terms'] | undefined {
  if (Math.abs(rest) < 1e-6) return terms;
  for (const [path, { middle, least, most }] of bench.bands) {
    if (!/^parts\.[^.]+\.width_mm$/.test(path) || most > least) continue;
    const times = rest / middle;
    if (Math.abs(times - Math.round(times)) < 1e-6 && Math.abs(times) < 5)
      return [...terms, { size: path, times: Math.round(times) }];
  }
  return undefined;
}
