/**
 * What can be read on a loose part: the sizes by name, how each is taken, what a part of each kind should show, and how
 * it wears.
 *
 * A size of a part is a band from `low` to `high`: nothing wide where the parts list gives a nominal size, the tolerance
 * of the standard where there is one (bearings, threads). Lengths of shanked parts run from the face under the head to
 * the tip; `outside` of a shanked part is the thickest of its shank; the bore of a nut is the hole of its thread.
 * `small` and `large` are the outside diameters of a part's two faces; under a head the small face is the land. mm;
 * `turns` is a bare number.
 */
import { resolveBearing } from '../parts/bearing.ts';
import type { DriveTool, Part, PartKind, PartOf } from '../model/schema.ts';
import { shankLength_mm } from '../parts/shanked.ts';
import { boreTolerance, outsideTolerance, ringWidthTolerance } from '../standards/bearings.ts';
import { crestLimits, hasThreadLimits, holeLimits } from '../standards/thread-limits.ts';

/** Every size a caliper, a gauge or a count can give, the quickest to take first. */
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

/** How a size is taken. */
export type Jaws = 'outside-jaws' | 'inside-jaws' | 'depth-rod' | 'pitch-gauge' | 'count';

/** Where wear takes a size: −1 it gets smaller, +1 larger, 0 it stays. */
export type WearDirection = -1 | 0 | 1;

/** One size of a part as it should be read; mm, or turns. `low` and `high` are equal where no tolerance is known. */
export interface Size {
  readonly nominal: number;
  readonly low: number;
  readonly high: number;
  readonly wears: WearDirection;
}

/** Sizes of a part by name. */
export type Sizes = Readonly<Partial<Record<SizeName, Size>>>;

/**
 * Which way each size wears, by kind: rings are polished shorter and fretted wider, shanks thinner; faces, heads,
 * threads and bearings keep their sizes until they are scrap. Common practice, no source.
 */
const WEAR: Readonly<Record<PartKind, Partial<Record<SizeName, WearDirection>>>> = {
  spacer: { length_mm: -1, bore_mm: 1 },
  washer: { length_mm: -1, bore_mm: 1 },
  'tapered-spacer': { length_mm: -1, bore_mm: 1 },
  'end-cap': { length_mm: -1, bore_mm: 1 },
  bearing: {},
  axle: { outside_mm: -1 },
  bolt: { outside_mm: -1 },
  screw: { outside_mm: -1 },
  sleeve: { outside_mm: -1 },
  nut: { length_mm: -1 },
};

/** Kinds that a hand could take for one another; a kind of another family is never meant. */
const FAMILIES: readonly (readonly PartKind[])[] = [
  ['spacer', 'washer'],
  ['tapered-spacer', 'end-cap'],
  ['bearing'],
  ['axle', 'bolt', 'screw'],
  ['sleeve'],
  ['nut'],
];

/** True when a hand could take one kind for the other. */
export function isSameFamily(one: PartKind, other: PartKind): boolean {
  return one === other || FAMILIES.some((family) => family.includes(one) && family.includes(other));
}

/** Which way a size of a kind wears. */
export function wearOf(kind: PartKind, name: SizeName): WearDirection {
  return WEAR[kind][name] ?? 0;
}

/** Number of thread turns over 10 mm. */
export function turnsIn10mm(pitch_mm: number): number {
  return 10 / pitch_mm;
}

type Band = readonly [nominal: number, low: number, high: number];
const exact = (size: number): Band => [size, size, size];

function ofBearing(part: PartOf<'bearing'>): Partial<Record<SizeName, Band>> {
  const { bore_mm, outside_mm, width_mm } = resolveBearing(part);
  return bearingBands(bore_mm, outside_mm, width_mm);
}

/** Boundary dimensions with the tolerances of ISO 492 Normal where they reach, mm. */
function bearingBands(bore_mm: number, outside_mm: number, width_mm: number): Partial<Record<SizeName, Band>> {
  const inTable = bore_mm > 2.5 && bore_mm <= 50 && outside_mm <= 80;
  if (!inTable) return { bore_mm: exact(bore_mm), outside_mm: exact(outside_mm), length_mm: exact(width_mm) };
  const from = (size: number, { lower_mm, upper_mm }: { lower_mm: number; upper_mm: number }): Band => [
    size,
    size + lower_mm,
    size + upper_mm,
  ];
  return {
    bore_mm: from(bore_mm, boreTolerance(bore_mm)),
    outside_mm: from(outside_mm, outsideTolerance(outside_mm)),
    length_mm: from(width_mm, ringWidthTolerance(bore_mm)),
  };
}

function threadBands(
  { size_mm, pitch_mm }: { size_mm: number; pitch_mm: number },
  isOuter: boolean,
): Partial<Record<SizeName, Band>> {
  // A named thread is as good as a measured crest, so the band reaches from the smallest crest up to the name.
  const crest: Band =
    isOuter && hasThreadLimits(pitch_mm)
      ? [size_mm, crestLimits({ size_mm, pitch_mm }).low_mm, size_mm]
      : exact(size_mm);
  return { thread_mm: crest, pitch_mm: exact(pitch_mm), turns_in_10mm: exact(turnsIn10mm(pitch_mm)) };
}

function bandsOf(part: Part): Partial<Record<SizeName, Band>> {
  switch (part.kind) {
    case 'spacer':
    case 'washer':
      return {
        length_mm: exact(part.length_mm),
        outside_mm: exact(part.outside_mm),
        bore_mm: exact(part.bore_mm),
        small_mm: exact(part.outside_mm),
        large_mm: exact(part.outside_mm),
      };
    case 'tapered-spacer':
      return {
        length_mm: exact(part.length_mm),
        outside_mm: exact(part.large_mm),
        bore_mm: exact(part.bore_mm),
        small_mm: exact(part.small_mm),
        large_mm: exact(part.large_mm),
      };
    case 'end-cap':
      return {
        length_mm: exact(part.length_mm),
        outside_mm: exact(part.outside_mm),
        bore_mm: exact(part.bore_mm),
        small_mm: exact(part.land_mm),
        large_mm: exact(part.outside_mm),
      };
    case 'bearing':
      return ofBearing(part);
    case 'nut': {
      const { size_mm, pitch_mm } = part.thread;
      const hole = hasThreadLimits(pitch_mm) ? holeLimits(part.thread) : undefined;
      return {
        length_mm: exact(part.length_mm),
        outside_mm: exact(part.outside_mm),
        small_mm: exact(part.land_mm ?? part.outside_mm),
        large_mm: exact(part.outside_mm),
        ...(hole ? { bore_mm: [hole.low_mm, hole.low_mm, hole.high_mm] as const } : {}),
        ...threadBands({ size_mm, pitch_mm }, false),
      };
    }
    case 'axle':
    case 'bolt':
    case 'screw':
    case 'sleeve':
      return {
        length_mm: exact(shankLength_mm(part)),
        outside_mm: exact(Math.max(...part.shank.map((cylinder) => cylinder.diameter_mm))),
        head_mm: exact(part.head.diameter_mm),
        small_mm: exact(part.head.land_mm ?? part.head.diameter_mm),
        ...(part.bore_mm === undefined ? {} : { bore_mm: exact(part.bore_mm) }),
        ...threadBands(part.thread, part.kind !== 'sleeve'),
      };
  }
}

/** The sizes a part of the parts list should show, mm. A bearing must have been checked. */
export function partSizes(part: Part): Sizes {
  return withWear(bandsOf(part), part.kind);
}

/** The sizes of a bearing known by its boundary dimensions, mm. Tolerances: ISO 492 Normal. */
export function bearingSizes({
  bore_mm,
  outside_mm,
  width_mm,
}: {
  bore_mm: number;
  outside_mm: number;
  width_mm: number;
}): Sizes {
  return withWear(bearingBands(bore_mm, outside_mm, width_mm), 'bearing');
}

/** The sizes of a bare thread, mm; outer threads with the crest limits of class 6g. */
export function threadSizes(thread: { size_mm: number; pitch_mm: number }): Sizes {
  return withWear(threadBands(thread, true), undefined);
}

function withWear(bands: Partial<Record<SizeName, Band>>, kind: PartKind | undefined): Sizes {
  const sizes: Partial<Record<SizeName, Size>> = {};
  for (const name of SIZE_NAMES) {
    const band = bands[name];
    if (band)
      sizes[name] = {
        nominal: band[0],
        low: band[1],
        high: band[2],
        wears: kind === undefined ? 0 : wearOf(kind, name),
      };
  }
  return sizes;
}

/** Sizes that a part of a kind can show at all. */
export const SIZES_OF_KIND: Readonly<Record<PartKind, readonly SizeName[]>> = {
  spacer: ['length_mm', 'outside_mm', 'bore_mm', 'large_mm', 'small_mm'],
  washer: ['length_mm', 'outside_mm', 'bore_mm', 'large_mm', 'small_mm'],
  'tapered-spacer': ['length_mm', 'outside_mm', 'bore_mm', 'large_mm', 'small_mm'],
  'end-cap': ['length_mm', 'outside_mm', 'bore_mm', 'large_mm', 'small_mm'],
  bearing: ['length_mm', 'outside_mm', 'bore_mm'],
  axle: ['length_mm', 'outside_mm', 'bore_mm', 'head_mm', 'small_mm', 'thread_mm', 'pitch_mm', 'turns_in_10mm'],
  bolt: ['length_mm', 'outside_mm', 'bore_mm', 'head_mm', 'small_mm', 'thread_mm', 'pitch_mm', 'turns_in_10mm'],
  screw: ['length_mm', 'outside_mm', 'bore_mm', 'head_mm', 'small_mm', 'thread_mm', 'pitch_mm', 'turns_in_10mm'],
  sleeve: ['length_mm', 'outside_mm', 'bore_mm', 'head_mm', 'small_mm', 'thread_mm', 'pitch_mm', 'turns_in_10mm'],
  nut: ['length_mm', 'outside_mm', 'bore_mm', 'large_mm', 'small_mm', 'thread_mm', 'pitch_mm', 'turns_in_10mm'],
};

/** Kinds that carry a drive: a socket, or flats. */
export function hasDrive(kind: PartKind): boolean {
  return SIZES_OF_KIND[kind].includes('thread_mm');
}

/** True when a tool found to fit is the tool the part is made for. */
export function isSameDrive(one: DriveTool, other: DriveTool): boolean {
  return one.tool === other.tool && Math.abs(one.size_mm - other.size_mm) < 0.3;
}
