/**
 * The next measurement: the one reading that is expected to settle most of what is still undecided.
 *
 * For a reading with alternatives every size not yet taken, or taken once and worth repeating, is tried in thought:
 * what would be read is normal about each possible part's size, and the gain is the mutual information between the part
 * and the reading (bits), by the trapezoid rule over the mixture. Gains that are alike are decided by what is quicker
 * to take. Sizes that no possible part tells are not tried.
 */
import type { DriveTool } from '../model/schema.ts';
import { SIZE_NAMES, type SizeName } from '../parts/sizes.ts';
import type { Candidate } from './candidates.ts';
import { DEVIATIONS_PER_ACCURACY, accuracyOf } from './misfit.ts';
import { logNormal } from './normal.ts';
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

/** Gains below this are not worth a walk to the bench, bits: our own rule. */
const LEAST_GAIN_bits = 0.02;
/** Gains this near to the best count as alike. */
const ALIKE = 0.98;
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
  const sureNow = Math.max(...rivals.map(({ weight }) => weight));
  const options = SIZE_ORDER.flatMap((name) => {
    const again =
      name !== 'kind' &&
      name !== 'drive' &&
      (reading[name] !== undefined || (name === 'pitch_mm' && reading.turns_in_10mm !== undefined));
    if ((name === 'kind' && reading.kind !== undefined) || (name === 'drive' && reading.drive !== undefined)) return [];
    const worth =
      name === 'kind'
        ? worthOfGroups(rivals, ({ kind }) => kind)
        : name === 'drive'
          ? worthOfGroups(rivals, ({ drives }) => toolsOf(drives))
          : worthOfSize(rivals, name, tray.setting.accuracy_mm);
    return worth && worth.gain_bits >= LEAST_GAIN_bits
      ? [{ row, name, again, ...worth, sureNow, between: rivals.map(({ candidate }) => candidate.id) }]
      : [];
  });
  const best = Math.max(...options.map(({ gain_bits }) => gain_bits));
  const alike = options.filter(({ gain_bits }) => gain_bits >= best * ALIKE);
  return alike.find(({ again }) => !again) ?? alike[0];
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

interface Worth {
  readonly gain_bits: number;
  readonly sureAfter: number;
}

/** Worth of something that is seen without error: the parts fall into groups. */
function worthOfGroups(
  rivals: readonly Rival[],
  groupOf: (candidate: Candidate) => string | undefined,
): Worth | undefined {
  const groups = new Map<string, { weight: number; most: number }>();
  for (const { candidate, weight } of rivals) {
    const key = groupOf(candidate);
    if (key === undefined) return undefined;
    const group = groups.get(key) ?? { weight: 0, most: 0 };
    groups.set(key, { weight: group.weight + weight, most: Math.max(group.most, weight) });
  }
  const all = [...groups.values()];
  return {
    gain_bits: all.reduce((sum, { weight }) => sum - weight * Math.log2(weight), 0),
    sureAfter: all.reduce((sum, { most }) => sum + most, 0),
  };
}

function toolsOf(drives: readonly DriveTool[]): string | undefined {
  return drives.length === 0
    ? undefined
    : drives
        .map(({ tool, size_mm }) => `${tool} ${size_mm}`)
        .sort()
        .join();
}

/** Steps of the trapezoid rule, in deviations: with a normal weight it is exact to many digits. */
const STEP = 0.25;
const REACH = 5;

/** Worth of reading a size with the calliper's error. */
function worthOfSize(rivals: readonly Rival[], name: SizeName, accuracy_mm: number): Worth | undefined {
  const sd = accuracyOf(name, accuracy_mm) / DEVIATIONS_PER_ACCURACY;
  const shapes: { weight: number; middle: number; sd: number }[] = [];
  for (const { candidate, weight } of rivals) {
    const size = candidate.sizes[name];
    if (!size) return undefined;
    // A size spread evenly over a tolerance has the deviation width/√12.
    shapes.push({
      weight,
      middle: (size.low + size.high) / 2,
      sd: Math.hypot(sd, (size.high - size.low) / Math.sqrt(12)),
    });
  }
  let gain = 0;
  let sureAfter = 0;
  for (const own of shapes) {
    for (let z = -REACH; z <= REACH; z += STEP) {
      const read = own.middle + z * own.sd;
      const density = shapes.map(
        (shape) => shape.weight * Math.exp(logNormal((read - shape.middle) / shape.sd) - Math.log(shape.sd)),
      );
      const whole = density.reduce((sum, value) => sum + value, 0);
      const here = Math.exp(logNormal(z)) * STEP * own.weight;
      gain += here * Math.log2(Math.exp(logNormal(z) - Math.log(own.sd)) / whole);
      sureAfter += (here * Math.max(...density)) / whole;
    }
  }
  return { gain_bits: Math.max(0, gain), sureAfter: Math.min(1, sureAfter) };
}
