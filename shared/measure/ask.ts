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
import { chainsOf, fitsOf, type Comparison } from './compare.ts';
import { verdictAt, type Deciding, type DraftVerdict } from './judge.ts';
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

/** A pivot as it was weighed. */
interface Weighed {
  readonly verdict: DraftVerdict;
  readonly questions: readonly NextMeasure[];
}

/** Pivots that are remembered: those of a few drafts, each as it was before the last readings. */
const MOST_REMEMBERED = 64;

/** Asks of a draft again and again: a pivot on which no reading bears is not weighed anew. */
export function asker(): (draft: Draft) => Asked {
  const known = new Map<string, Weighed>();
  return (draft) =>
    asked(
      benchesOf(draft).map((bench) => {
        const before = known.get(bench.key);
        const own = before ?? weighed(bench);
        known.delete(bench.key);
        known.set(bench.key, own);
        for (const oldest of known.keys()) {
          if (known.size <= MOST_REMEMBERED) break;
          known.delete(oldest);
        }
        return own;
      }),
    );
}

function weighed(bench: Bench): Weighed {
  const verdict = verdictAt(bench);
  return { verdict, questions: questionsAbout(bench, verdict) };
}

/** Verdicts of a draft and the readings that would settle more of them, the best a minute first. */
export function askOf(draft: Draft): Asked {
  return asker()(draft);
}

function asked(all: readonly Weighed[]): Asked {
  const verdicts = all.map(({ verdict }) => verdict);
  const found = all.flatMap(({ questions }) => questions);
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
const NARROW = 6;
/** Where nothing tells how much of a band changes a verdict. */
const UNTOLD_SHARE = 0.25;

function questionsAbout(bench: Bench, { verdict, depends_on }: DraftVerdict): NextMeasure[] {
  if (verdict !== 'unsure') return [];
  let made: readonly Comparison[] | undefined;
  const chains = (): readonly Comparison[] => (made ??= chainsOf(bench));
  const about = (deciding: Deciding): NextMeasure[] => {
    const { least, most, isOpen } = bench.bands.get(deciding.path)!;
    const half = (most - least) / 2;
    const { accuracy, minutes } = readingOf(deciding.path);
    // A comparison is worth its trouble once the calliper's own reading is not much better than what is known.
    const isNarrow = half < NARROW * accuracy;
    const isCoarse = !isOpen && accuracy >= WORTHWHILE * half;
    const comparisons = isNarrow || isCoarse ? comparisonsFor(bench, deciding.path, chains) : [];
    // What goes into something that was read is tried on it at once: the calliper could not settle that fit.
    const isRead = !isCoarse && !(isNarrow && comparisons.some((own) => isTrial(bench, deciding.path, own)));
    return [
      ...(isRead ? [measured(bench, deciding, half, { path: deciding.path, accuracy, minutes, isAgain: false })] : []),
      ...comparisons
        .filter((own) => own.accuracy < WORTHWHILE * half)
        .map((own) => measured(bench, deciding, half, own)),
    ];
  };
  const found = depends_on.flatMap((deciding) => {
    const own = about(deciding);
    if (own.some(({ isAgain }) => !isAgain)) return own;
    // Known well against another one, it moves with that: the other one is asked about.
    const open = (path: string): boolean => bench.bands.get(path)!.most > bench.bands.get(path)!.least;
    return [
      ...own,
      ...tiedTo(bench, deciding.path)
        .filter(open)
        .flatMap((path) => about({ path, share: deciding.share })),
    ];
  });
  if (found.some(({ isAgain }) => !isAgain)) return found;
  // What decides cannot be read better: what nobody has read yet moves it.
  const unread = bench.open.filter((path) => bench.bands.get(path)!.isOpen);
  return [...found, ...unread.flatMap((path) => about({ path, share: LEAST_SHARE }))];
}

/** The share of its band in which a size that does not decide alone is thought to. */
const LEAST_SHARE = 0.05;

/** Sizes that were compared with one. */
function tiedTo({ compared }: Bench, path: string): string[] {
  const all = compared.filter(({ terms }) => terms.some(({ size }) => size === path));
  return [...new Set(all.flatMap(({ terms }) => terms.map(({ size }) => size)))].filter((own) => own !== path);
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

/** A size tried on another one that was read, or that is a standard’s. */
function isTrial({ bands }: Bench, path: string, { compare, isAgain }: Reading): boolean {
  return (
    compare!.with === 'gauge' &&
    !isAgain &&
    compare!.terms.every(({ size }) => size === path || !bands.get(size)!.isOpen)
  );
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

function comparisonsFor(bench: Bench, path: string, chains: () => readonly Comparison[]): Reading[] {
  return [...fitsOf(bench), ...chains()]
    .filter(({ terms }) => terms.some(({ size }) => size === path))
    .flatMap(({ accuracy, minutes, ...compare }) => {
      const times = timesCompared(bench, compare.terms, accuracy);
      return times < MOST_COMPARED ? [{ compare, accuracy, minutes, isAgain: times > 0 }] : [];
    });
}

/** A difference at the edge of a limit is read again, and where the readings meet it is narrower. */
const MOST_COMPARED = 4;

function timesCompared({ compared }: Bench, terms: Compared['terms'], accuracy: number): number {
  const key = (own: Compared['terms']): string =>
    own
      .map(({ size, times }) => `${size} ${times}`)
      .sort()
      .join();
  const alike = compared.filter((own) => key(own.terms) === key(terms) && own.accuracy_mm <= accuracy + 1e-9);
  return alike.length;
}
