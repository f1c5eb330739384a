/**
 * The tray's fields in words, the sample parts behind the kind pictures, and small choices of its screens. Pure.
 */
import {
  PART_KINDS,
  wordHow,
  wordKind,
  type CaliperReading,
  type CaliperSize,
  type NextName,
  type Part,
  type Tray,
  type TrayRow,
} from '../../shared/index.ts';
import type { Field, PartKindName } from '../tray/tray.ts';

/** The size a field stands for, where it stands for one. */
export const SIZE_OF: Readonly<Partial<Record<Field, CaliperSize>>> = {
  length: 'length_mm',
  outside: 'outside_mm',
  bore: 'bore_mm',
  head: 'head_mm',
  large: 'large_mm',
  small: 'small_mm',
  thread: 'thread_mm',
  pitch: 'pitch_mm',
  turns: 'turns_in_10mm',
};

const FIELD_WORDS: Readonly<Record<Field, string>> = {
  length: 'Length',
  outside: 'Outside',
  bore: 'Bore',
  head: 'Head',
  large: 'Large face',
  small: 'Small face',
  thread: 'Thread',
  pitch: 'Pitch',
  turns: 'Turns in 10 mm',
  drive: 'Tool',
  slides: 'Slides on',
  count: 'Alike',
  label: 'Label',
};

/** What a field is called, in a word or two, for a part of a kind. */
export function fieldWord(field: Field, kind: PartKindName | undefined): string {
  const isShanked = kind !== undefined && SHANKED.includes(kind);
  if (field === 'outside' && isShanked) return 'Shank';
  if (field === 'small' && (isShanked || kind === 'nut' || kind === 'end-cap')) return 'Land';
  if (field === 'length' && kind === 'bearing') return 'Width';
  if (field === 'large' && kind === 'end-cap') return 'Flange';
  return FIELD_WORDS[field];
}

const SHANKED: readonly PartKindName[] = ['axle', 'bolt', 'screw', 'sleeve'];

/** How a field's size is taken, as an instruction. */
export function fieldHow(field: Field, kind: PartKindName | undefined): string {
  switch (field) {
    case 'count':
      return 'How many of these lie on the bench, all alike?';
    case 'label':
      return 'A name to write on the bag or the mat.';
    case 'slides':
      return 'Try the axles: which one does it slide on without hanging loose?';
    default:
      return `${wordHow(field === 'drive' ? 'drive' : SIZE_OF[field]!, kind)}.`;
  }
}

/** The field in which a next measurement is entered; the kind has none. */
export function fieldOfNext(name: NextName): Field | undefined {
  if (name === 'kind') return undefined;
  if (name === 'drive') return 'drive';
  return (Object.entries(SIZE_OF) as [Field, CaliperSize][]).find(([, size]) => size === name)?.[0];
}

/** A part of each kind, of no bike, to draw the kinds from; mm. */
export const KIND_SAMPLES: Readonly<Record<PartKindName, Part>> = {
  spacer: { kind: 'spacer', name: 'Spacer', outside_mm: 20, bore_mm: 14, length_mm: 12, material: 'steel' },
  'tapered-spacer': {
    kind: 'tapered-spacer',
    name: 'Tapered spacer',
    small_mm: 17,
    large_mm: 26,
    bore_mm: 13,
    length_mm: 12,
    small_land_mm: 2,
    large_land_mm: 2,
    material: 'steel',
  },
  washer: { kind: 'washer', name: 'Washer', outside_mm: 24, bore_mm: 13, length_mm: 2.5, material: 'steel' },
  'end-cap': {
    kind: 'end-cap',
    name: 'End cap',
    outside_mm: 26,
    bore_mm: 13,
    length_mm: 9,
    land_mm: 18,
    land_height_mm: 4,
    material: 'steel',
  },
  bearing: { kind: 'bearing', name: 'Bearing', bore_mm: 12, outside_mm: 26, width_mm: 9 },
  axle: {
    kind: 'axle',
    name: 'Axle',
    head: { diameter_mm: 16, height_mm: 3 },
    shank: [
      { diameter_mm: 10, length_mm: 26 },
      { diameter_mm: 8, length_mm: 9 },
    ],
    thread: { size_mm: 8, pitch_mm: 1, hand: 'right', length_mm: 9 },
    material: 'steel',
  },
  bolt: {
    kind: 'bolt',
    name: 'Bolt',
    head: { diameter_mm: 18, height_mm: 5 },
    shank: [
      { diameter_mm: 11, length_mm: 8 },
      { diameter_mm: 9, length_mm: 10 },
    ],
    thread: { size_mm: 9, pitch_mm: 1, hand: 'right', length_mm: 10 },
    material: 'steel',
  },
  screw: {
    kind: 'screw',
    name: 'Screw',
    head: { diameter_mm: 20, height_mm: 4 },
    shank: [{ diameter_mm: 10, length_mm: 14 }],
    thread: { size_mm: 10, pitch_mm: 1, hand: 'right', length_mm: 14 },
    material: 'steel',
  },
  sleeve: {
    kind: 'sleeve',
    name: 'Sleeve',
    head: { diameter_mm: 18, height_mm: 3 },
    shank: [{ diameter_mm: 13, length_mm: 30 }],
    thread: { size_mm: 8, pitch_mm: 1, hand: 'right', length_mm: 12 },
    bore_mm: 6,
    material: 'steel',
  },
  nut: {
    kind: 'nut',
    name: 'Nut',
    outside_mm: 22,
    length_mm: 11,
    land_mm: 16,
    land_height_mm: 2,
    thread: { size_mm: 12, pitch_mm: 1.25, hand: 'right', length_mm: 11 },
    material: 'steel',
  },
};

/** What each kind looks like, in few words. */
export const KIND_HINTS: Readonly<Record<PartKindName, string>> = {
  spacer: 'two equal faces',
  'tapered-spacer': 'small and large face',
  washer: 'thin and flat',
  'end-cap': 'flange with a land',
  bearing: 'inner and outer ring',
  axle: 'long, thread at the tip',
  bolt: 'short, into a thread',
  screw: 'thread up to the head',
  sleeve: 'thread inside the tip',
  nut: 'thread inside',
};

/** Every kind with its word, in the order of the pictures. */
export const KINDS: readonly { readonly kind: PartKindName; readonly word: string }[] = PART_KINDS.map((kind) => ({
  kind,
  word: wordKind(kind).replace(/^./, (letter) => letter.toUpperCase()),
}));

/** How a row stands, for its mark. */
export type Standing = 'sure' | 'open' | 'worn' | 'over' | 'nothing';

/** The standing of a sorted row: worn out goes before all, since it is what must not be missed. */
export function standingOf({ placements, isSure, leftOver, looksLike }: TrayRow): Standing {
  if (placements.some(({ worn }) => worn.some(({ isBeyond }) => isBeyond))) return 'worn';
  if (placements.length === 0) return looksLike === undefined ? 'nothing' : 'over';
  if (leftOver > 0) return 'over';
  return isSure ? 'sure' : 'open';
}

/** A standing in a word or two. */
export const STANDING_WORDS: Readonly<Record<Standing, string>> = {
  sure: 'Found',
  open: 'Not certain',
  worn: 'Worn out',
  over: 'One too many',
  nothing: 'Fits nothing',
};

/** The part to draw for a row: what it was matched with, what it looks like, or a plain ring of the sizes read. */
export function drawnPart(row: TrayRow, tray: Tray): Part | undefined {
  const id = row.placements[0]?.candidate ?? row.looksLike;
  const candidate = id === undefined ? undefined : tray.candidates.get(id);
  if (candidate?.part) return candidate.part;
  const { sizes } = candidate ?? {};
  const [bore_mm, outside_mm, width_mm] = [
    sizes?.bore_mm?.nominal,
    sizes?.outside_mm?.nominal,
    sizes?.length_mm?.nominal,
  ];
  if (candidate?.kind === 'bearing' && bore_mm !== undefined && outside_mm !== undefined && width_mm !== undefined) {
    return { kind: 'bearing', name: candidate.name, bore_mm, outside_mm, width_mm };
  }
  return ringOf(row.reading);
}

function ringOf({ length_mm, outside_mm, large_mm, bore_mm, small_mm }: CaliperReading): Part | undefined {
  const outside = outside_mm ?? large_mm;
  if (length_mm === undefined || outside === undefined) return undefined;
  const bore = bore_mm ?? outside * 0.6;
  if (bore >= outside) return undefined;
  if (small_mm !== undefined && small_mm < outside && small_mm > bore)
    return {
      kind: 'tapered-spacer',
      name: 'Unknown',
      small_mm,
      large_mm: outside,
      bore_mm: bore,
      length_mm,
      material: 'steel',
    };
  return { kind: 'spacer', name: 'Unknown', outside_mm: outside, bore_mm: bore, length_mm, material: 'steel' };
}
