/**
 * The next measurement: the one reading that is expected to settle most of what is still undecided.
 *
 * For a reading with alternatives every size not yet taken, or taken once and worth repeating, is a question
 * (`next/next.ts`): what would be read is normal about each possible part's size. Gains that are alike are decided by
 * what is quicker to take. Sizes that no possible part tells are not tried.
 */
import type { DriveTool } from '../model/schema.ts';
import { SIZE_NAMES, type SizeName } from '../parts/sizes.ts';
import type { Candidate } from './candidates.ts';
import { DEVIATIONS_PER_ACCURACY, accuracyOf } from './misfit.ts';
import { nextQuestion, type Question } from '../next/next.ts';
import { readingKey, type Tray, type TrayRow } from './tray.ts';

/** What can be looked at or measured next. */
export type NextName = SizeName | 'kind' | 'drive';

/** One further reading and what it is worth. */
export interface NextReading {
  /** Index of the reading, in the order of entry. */
  readonly row: number;
  readonly name: NextName;
  /** True when the size was read already and a second reading is what helps most. */
  readonly again: boolean;
  /** Expected gain, bits. */
  readonly gain_bits: number;
  /** Chance of the likeliest part now, and expected afterwards, 0 to 1. */
  readonly sureNow: number;
  readonly sureAfter: number;
  /** The parts it tells apart, the likeliest first. */
  readonly between: readonly string[];
}

/** A size within the accuracy says nothing, whatever the one reading taken: such a rival keeps at least this weight. */
const UNTOLD_WEIGHT = Math.exp(-1);

interface Rival {
  readonly candidate: Candidate;
  readonly weight: number;
}

/**
 * The one reading of the whole tray that settles most; undefined when nothing is undecided, or nothing would settle it.
 */
export function nextReading(tray: Tray): NextReading | undefined {
  const all = tray.rows.flatMap((_, row) => nextForRow(tray, row) ?? []);
  // Equal gains go to the reading that would be worked first whatever the order of entry.
  return all.sort(
    (a, b) =>
      b.gain_bits - a.gain_bits ||
      SIZE_ORDER.indexOf(a.name) - SIZE_ORDER.indexOf(b.name) ||
      compare(keyOf(a), keyOf(b)),
  )[0];

  function keyOf({ row }: NextReading): string {
    return readingKey(tray.rows[row]!.reading);
  }
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}

/** A reading with the calliper at hand takes as long as any other, minutes: which is quicker is told by the order below. */
const READING_min = 1;
/** What is tried, the quickest first. */
const SIZE_ORDER: readonly NextName[] = ['kind', ...SIZE_NAMES.filter((name) => name !== 'turns_in_10mm'), 'drive'];

/**
 * The reading that settles most about one row of the tray (counted from 0); undefined where nothing is open or nothing
 * would settle it. Bits, > 0.
 */
export function nextForRow(tray: Tray, row: number): NextReading | undefined {
  const rivals = rivalsOf(tray, tray.rows[row]!);
  if (rivals.length < 2) return undefined;
  const { reading } = tray.rows[row]!;
  const open = rivals.map(({ weight }) => weight);
  const wasRead = (name: NextName) =>
    name === 'kind' || name === 'drive'
      ? false
      : reading[name] !== undefined || (name === 'pitch_mm' && reading.turns_in_10mm !== undefined);
  const questions = SIZE_ORDER.flatMap((name) => {
    if ((name === 'kind' && reading.kind !== undefined) || (name === 'drive' && reading.drive !== undefined)) return [];
    const answers =
      name === 'kind'
        ? seen(rivals, ({ kind }) => kind)
        : name === 'drive'
          ? seen(rivals, ({ drives }) => toolsOf(drives))
          : read(rivals, name, tray.setting.accuracy_mm);
    return answers ? [{ minutes: READING_min, answers, name, again: wasRead(name) }] : [];
  });
  // Of readings that are worth alike, one that was not taken yet goes before one that is taken once more.
  const next = nextQuestion(open, [
    ...questions.filter(({ again }) => !again),
    ...questions.filter(({ again }) => again),
  ]);
  if (!next) return undefined;
  const { name, again } = next.question;
  return {
    row,
    name,
    again,
    gain_bits: next.gain_bits,
    sureNow: Math.max(...open),
    sureAfter: next.sureAfter,
    between: rivals.map(({ candidate }) => candidate.id),
  };
}

/** The parts a row can be, their weights adding up to 1, the likeliest first. */
function rivalsOf(tray: Tray, row: TrayRow): Rival[] {
  const main = row.placements.reduce<(typeof row.placements)[number] | undefined>(
    (most, own) => (most === undefined || own.pieces > most.pieces ? own : most),
    undefined,
  );
  if (!main) return [];
  const raw = [
    { id: main.candidate, weight: 1 },
    ...row.alternatives.flatMap(({ candidate, odds, cannotBeTold }) =>
      candidate === undefined ? [] : [{ id: candidate, weight: Math.max(1 / odds, cannotBeTold ? UNTOLD_WEIGHT : 0) }],
    ),
  ];
  const sum = raw.reduce((total, { weight }) => total + weight, 0);
  return raw
    .map(({ id, weight }) => ({ candidate: tray.candidates.get(id)!, weight: weight / sum }))
    .sort((a, b) => b.weight - a.weight);
}

type Answers = Question['answers'];

/** Something that is seen without error: the parts fall into groups, and the answer is one of them. */
function seen(rivals: readonly Rival[], groupOf: (candidate: Candidate) => string | undefined): Answers | undefined {
  const groups = rivals.map(({ candidate }) => groupOf(candidate));
  if (groups.includes(undefined)) return undefined;
  const names = [...new Set(groups)];
  return groups.map((own) => names.map((name) => (name === own ? 1 : 0)));
}

function toolsOf(drives: readonly DriveTool[]): string | undefined {
  return drives.length === 0
    ? undefined
    : drives
        .map(({ tool, size_mm }) => `${tool} ${size_mm}`)
        .sort()
        .join();
}

/** A size that is read with the calliper's error. */
function read(rivals: readonly Rival[], name: SizeName, accuracy_mm: number): Answers | undefined {
  const error = accuracyOf(name, accuracy_mm) / DEVIATIONS_PER_ACCURACY;
  const sizes = rivals.map(({ candidate }) => candidate.sizes[name]);
  if (sizes.includes(undefined)) return undefined;
  // A size spread evenly over a tolerance has the deviation width/√12.
  const reading = sizes.map((size) => ({
    middle: (size!.low + size!.high) / 2,
    deviation: Math.hypot(error, (size!.high - size!.low) / Math.sqrt(12)),
  }));
  return { reading };
}
