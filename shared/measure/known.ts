/**
 * What an entry of a draft says of its size: the band it leaves, its middle, and where that is from.
 *
 * Several readings of one size count by their accuracies; where they do not agree the band takes them all in, and the
 * disagreement is told.
 */
import type { SizeEntry, SizeOrigin, SizeReading } from '../envelope/draft.ts';
import { MEASURE_LIMITS } from './limits.ts';

/** Where a band is from: what a draft says, or what stands beside it, or what such parts come in. */
export type BandOrigin = SizeOrigin | 'written' | 'beside' | 'kind';

/** The band that a size lies in. */
export interface SizeBand {
  readonly least: number;
  readonly most: number;
  /** The likeliest, within the band. */
  readonly middle: number;
  readonly from: BandOrigin;
  /** True where a hand has said nothing that binds: a guess, or nothing at all. */
  readonly isOpen: boolean;
  /** Readings of this size that do not agree, mm apart beyond their accuracies. */
  readonly clash?: number;
}

/** The accuracy of a reading; a manual and a standard are taken at their word, and a bare guess binds nothing. */
export function accuracyOf({ accuracy, from }: SizeReading): number {
  if (accuracy !== undefined) return accuracy;
  if (from === 'guess') return Infinity;
  return from === 'measured' ? MEASURE_LIMITS.calliper_mm.value : 0;
}

/** The band of an entry; undefined where it says nothing. */
export function bandOf(entry: SizeEntry | undefined): SizeBand | undefined {
  if (entry === undefined || entry === null) return undefined;
  if (typeof entry === 'number') return { least: entry, most: entry, middle: entry, from: 'written', isOpen: false };
  if (isReadings(entry)) return bandOfReadings(entry);
  if ('value' in entry) return bandOfReadings([entry]);
  const { least, most, from } = entry;
  return { least, most, middle: (least + most) / 2, from, isOpen: from === 'guess' };
}

/** The readings of an entry, none where it is no reading. */
export function readingsOf(entry: SizeEntry | undefined): readonly SizeReading[] {
  if (entry === undefined || entry === null || typeof entry === 'number') return [];
  if (isReadings(entry)) return entry;
  return 'value' in entry ? [entry] : [];
}

function isReadings(entry: NonNullable<SizeEntry>): entry is readonly SizeReading[] {
  return Array.isArray(entry);
}

function bandOfReadings(all: readonly SizeReading[]): SizeBand {
  // What was read makes a guess worthless.
  const sure = all.filter(({ from }) => from !== 'guess');
  const readings = sure.length > 0 ? sure : all;
  const bands = readings.map((own) => ({ value: own.value, half: accuracyOf(own) }));
  const exact = bands.find(({ half }) => half === 0);
  const weight = (half: number): number => 1 / half ** 2;
  const isLoose = bands.some(({ half }) => half === Infinity);
  const middle =
    exact || isLoose
      ? (exact ?? bands[0]!).value
      : bands.reduce((sum, { value, half }) => sum + value * weight(half), 0) /
        bands.reduce((sum, { half }) => sum + weight(half), 0);
  const least = Math.max(...bands.map(({ value, half }) => value - half));
  const most = Math.min(...bands.map(({ value, half }) => value + half));
  const { from } = readings[0]!;
  const isOpen = sure.length === 0;
  if (least <= most + 1e-9) {
    const [low, high] = [Math.min(least, most), Math.max(least, most)];
    return { least: low, most: high, middle: Math.min(high, Math.max(low, middle)), from, isOpen };
  }
  return {
    least: Math.min(...bands.map(({ value, half }) => value - half)),
    most: Math.max(...bands.map(({ value, half }) => value + half)),
    middle,
    from,
    isOpen,
    clash: least - most,
  };
}
