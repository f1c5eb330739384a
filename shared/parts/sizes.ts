/**
 * The sizes of a part by name: what each is called, how it is taken, where the calliper goes, how it wears.
 *
 * What every kind has in common stands here; a part's entry says which sizes it has and what is its own about them.
 * Lengths of shanked parts run from the face under the head to the tip; `outside` of a shanked part is the thickest of
 * its shank; the bore of a nut is the hole of its thread. `small` and `large` are the outside diameters of a part's two
 * faces; under a head the small face is the land. mm; turns are a bare number.
 */
import { LIMITS, type Limit } from '../limits.ts';
import { crestLimits, hasThreadLimits } from '../standards/thread-limits.ts';
import type { Corner, PartProfile } from '../profile/solid.ts';

/** Every size a calliper, a gauge or a count can give, the quickest to take first. */
export const SIZE_NAMES = [
  'length_mm',
  'outside_mm',
  'bore_mm',
  'head_mm',
  'large_mm',
  'small_mm',
  'thread_mm',
  'pitch_mm',
  'turns_in_10mm',
] as const;
/** One of `SIZE_NAMES`. */
export type SizeName = (typeof SIZE_NAMES)[number];
/** A size of a part: one of the tray's, or one that only tells two parts apart. */
export type PartSizeName = SizeName | 'land_height_mm' | 'head_height_mm' | 'thread_length_mm';

/** What tells two parts apart, by one word each: sizes of unlike kinds compare where the word is the same. */
export type SizeCode =
  | 'bore'
  | 'outside'
  | 'length'
  | 'small-face'
  | 'large-face'
  | 'land'
  | 'land-height'
  | 'width'
  | 'head'
  | 'head-height'
  | 'under-head'
  | 'shank'
  | 'thread'
  | 'pitch'
  | 'turns'
  | 'thread-length';

/** How a size is taken. */
export type Jaws = 'outside-jaws' | 'inside-jaws' | 'depth-rod' | 'pitch-gauge' | 'count';

/** Where a tool touches a part: two points of its section, (r, z) in the part's own frame; r < 0 is across the axis. */
export interface CalliperPlace {
  readonly jaws: Jaws | 'eye' | 'key';
  readonly from: Corner;
  readonly to: Corner;
}

/** A size with the band its standard allows; the three are equal where no tolerance is known. */
export type Band = readonly [nominal: number, low: number, high: number];

/** A size without a tolerance. */
export function exact(size: number): Band {
  return [size, size, size];
}

/** How a size wears: −1 it gets smaller, +1 larger; gone further than the limit, the part is worn out. */
export interface Wear {
  readonly toward: -1 | 1;
  readonly limit: Limit;
}

/**
 * Rings are polished shorter and fretted wider, shanks thinner; faces, heads, threads and bearings keep their sizes
 * until they are scrap. Common practice, no source.
 */
export const WEAR = {
  shorter: {
    toward: -1,
    limit: {
      value: LIMITS.rubClearance_mm.value,
      source: 'our own rule: a column short by more than the play of a bearing lets free parts rub',
    },
  },
  wider: {
    toward: 1,
    limit: {
      value: LIMITS.bearingFit_mm.value,
      source: `${LIMITS.bearingFit_mm.source}: beyond it a ring no longer sits true`,
    },
  },
  thinner: {
    toward: -1,
    limit: {
      value: LIMITS.looseFit_mm.value,
      source: `${LIMITS.looseFit_mm.source}; beyond it a bearing is loose on the shank`,
    },
  },
} as const satisfies Record<string, Wear>;

/** One size of a part. */
export interface PartSize<P> {
  /** What it is called in a sentence. */
  readonly word: string;
  /** What it is called beside a field. */
  readonly short: string;
  readonly code: SizeCode;
  /** How it is taken, as an instruction. */
  readonly how: string;
  /** What a part is that has less of it, and one that has more, after the amount. */
  readonly compared: readonly [less: string, more: string];
  /** The size that the parts list gives; undefined where this part has none of its own to be told by. */
  readonly get: (part: P) => number | undefined;
  /** What should be read there; the size itself unless said. */
  readonly reads?: (part: P) => Band | undefined;
  /** The part with this size changed; left out where the size does not decide how the part fits. */
  readonly set?: (part: P, to_mm: number) => P | undefined;
  /** Where the calliper goes, in the frame of the profile. */
  readonly place?: (part: P, profile: PartProfile) => CalliperPlace | undefined;
  readonly wears?: Wear;
  /** False for a size that another one of the same part repeats: it may be read, but is not asked for. */
  readonly isAsked?: false;
}

const USUAL: Readonly<Record<PartSizeName, Pick<PartSize<never>, 'word' | 'short' | 'code' | 'how' | 'compared'>>> = {
  length_mm: {
    word: 'length',
    short: 'Length',
    code: 'length',
    how: 'Close the outside jaws on the two end faces, square to them',
    compared: ['shorter', 'longer'],
  },
  outside_mm: {
    word: 'outside diameter',
    short: 'Outside',
    code: 'outside',
    how: 'Close the outside jaws across the widest place',
    compared: ['narrower outside', 'wider outside'],
  },
  bore_mm: {
    word: 'bore',
    short: 'Bore',
    code: 'bore',
    how: 'Open the inside jaws in the bore and rock them to the widest reading',
    compared: ['narrower in the bore', 'wider in the bore'],
  },
  head_mm: {
    word: 'head diameter',
    short: 'Head',
    code: 'head',
    how: 'Close the outside jaws across the head, off any flats',
    compared: ['narrower in the head', 'wider in the head'],
  },
  large_mm: {
    word: 'large face',
    short: 'Large face',
    code: 'large-face',
    how: 'Close the outside jaws across the edge of the large face',
    compared: ['narrower across the large face', 'wider across the large face'],
  },
  small_mm: {
    word: 'small face',
    short: 'Small face',
    code: 'small-face',
    how: 'Close the outside jaws across the edge of the small face',
    compared: ['narrower across the small face', 'wider across the small face'],
  },
  thread_mm: {
    word: 'thread diameter',
    short: 'Thread',
    code: 'thread',
    how: 'Close the outside jaws across the crests of the thread',
    compared: ['thinner in the thread', 'thicker in the thread'],
  },
  pitch_mm: {
    word: 'thread pitch',
    short: 'Pitch',
    code: 'pitch',
    how: 'Try the leaves of a pitch gauge, or count the crests along 10 mm',
    compared: ['finer in the thread', 'coarser in the thread'],
  },
  turns_in_10mm: {
    word: 'turns in 10 mm',
    short: 'Turns in 10 mm',
    code: 'turns',
    how: 'Count the crests along 10 mm',
    compared: ['turns fewer in 10 mm', 'turns more in 10 mm'],
  },
  land_height_mm: {
    word: 'height of the land',
    short: 'Land height',
    code: 'land-height',
    how: 'Run the depth rod from the land’s face to the flange',
    compared: ['lower in the land', 'higher in the land'],
  },
  head_height_mm: {
    word: 'height of the head',
    short: 'Head height',
    code: 'head-height',
    how: 'Close the outside jaws on the two faces of the head',
    compared: ['thinner in the head', 'thicker in the head'],
  },
  thread_length_mm: {
    word: 'length of the thread',
    short: 'Thread length',
    code: 'thread-length',
    how: 'Lay the scale along the thread, from its first crest to its last',
    compared: ['less thread', 'more thread'],
  },
};

/** What a size is called and how it is taken where no kind is known. */
export function usualSize(name: PartSizeName): (typeof USUAL)[PartSizeName] {
  return USUAL[name];
}

/** A size of a kind: what is usual, and what is its own. */
export function size<P>(name: PartSizeName, own: Partial<PartSize<P>> & Pick<PartSize<P>, 'get'>): PartSize<P> {
  return { ...USUAL[name], ...own };
}

/** A size that stands in the part under a key of its own, and is changed there. */
export function keyed<P, K extends PartSizeName & keyof P>(name: K, own: Partial<PartSize<P>> = {}): PartSize<P> {
  return size<P>(name, {
    get: (part) => part[name] as number | undefined,
    set: (part, to_mm) => ({ ...part, [name]: to_mm }),
    ...own,
  });
}

/** A size that repeats another one: read there, changed there, not asked for. */
export function repeated<P>(name: PartSizeName, of: PartSize<P>, own: Partial<PartSize<P>> = {}): PartSize<P> {
  return size<P>(name, {
    get: () => undefined,
    reads: (part) => {
      const value = of.get(part);
      return value === undefined ? undefined : exact(value);
    },
    isAsked: false,
    ...own,
  });
}

/** Jaws across a diameter at a place along the axis. */
export function across(jaws: CalliperPlace['jaws'], diameter_mm: number, z_mm: number): CalliperPlace {
  return { jaws, from: [diameter_mm / 2, z_mm], to: [-diameter_mm / 2, z_mm] };
}

/** Jaws, rod or gauge along the axis at a radius. */
export function along(jaws: CalliperPlace['jaws'], r_mm: number, from_mm: number, to_mm: number): CalliperPlace {
  return { jaws, from: [r_mm, from_mm], to: [r_mm, to_mm] };
}

/** Number of thread turns over 10 mm. */
export function turnsIn10mm(pitch_mm: number): number {
  return 10 / pitch_mm;
}

/** The crest of a thread: a named thread is as good as a measured one, so the band reaches up to the name. */
export function crestBand({ size_mm, pitch_mm }: { size_mm: number; pitch_mm: number }): Band {
  return hasThreadLimits(pitch_mm) ? [size_mm, crestLimits({ size_mm, pitch_mm }).low_mm, size_mm] : exact(size_mm);
}

/** The three sizes of a thread. */
export function threadSizes<P extends { readonly thread: { readonly size_mm: number; readonly pitch_mm: number } }>(
  thread: Partial<PartSize<P>>,
  gauge: (part: P, jaws: 'pitch-gauge' | 'count') => CalliperPlace,
): Record<'thread_mm' | 'pitch_mm' | 'turns_in_10mm', PartSize<P>> {
  return {
    thread_mm: size<P>('thread_mm', { get: (part) => part.thread.size_mm, ...thread }),
    pitch_mm: size<P>('pitch_mm', {
      get: (part) => part.thread.pitch_mm,
      place: (part) => gauge(part, 'pitch-gauge'),
    }),
    turns_in_10mm: size<P>('turns_in_10mm', {
      get: () => undefined,
      reads: (part) => exact(turnsIn10mm(part.thread.pitch_mm)),
      place: (part) => gauge(part, 'count'),
    }),
  };
}
