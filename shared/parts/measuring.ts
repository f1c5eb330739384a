/**
 * What a loose part should measure, and where the calliper goes for it, whatever its kind.
 *
 * A size of a part is a band from `low` to `high`: nothing wide where the parts list gives a nominal size, the
 * tolerance of the standard where there is one (bearings, threads). mm; turns are a bare number.
 */
import { kindNamed, kindOf, partProfile, stands, type Part, type PartKind } from './kinds.ts';
import {
  across,
  crestBand,
  exact,
  SIZE_NAMES,
  turnsIn10mm,
  usualSize,
  type Band,
  type CalliperPlace,
  type PartSize,
  type PartSizeName,
  type SizeName,
} from './sizes.ts';

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

/** What a kind says of one of its sizes; undefined where it has none of that name. */
export function sizeOf(kind: PartKind, name: PartSizeName): PartSize<Part> | undefined {
  return kindOf({ kind }).sizes[name];
}

/** Sizes that a part of a kind can show at all, the quickest to take first. */
export function sizesOfKind(kind: PartKind): readonly SizeName[] {
  return SIZE_NAMES.filter((name) => sizeOf(kind, name) !== undefined);
}

/** Sizes that are asked for on a part of a kind, in the order in which a hand takes them. */
export function sizesAsked(kind: PartKind): readonly SizeName[] {
  const { sizes } = kindOf({ kind });
  return (Object.keys(sizes) as PartSizeName[]).filter(
    (name): name is SizeName => SIZE_NAMES.some((known) => known === name) && sizes[name]!.isAsked !== false,
  );
}

/**
 * What a size is called, how it is taken and compared; the usual words where no kind is known, or the kind has no such
 * size.
 */
export function wordsOfSize(
  name: PartSizeName,
  kind?: PartKind,
): Pick<PartSize<Part>, 'word' | 'short' | 'how' | 'compared'> {
  return (kind && sizeOf(kind, name)) ?? usualSize(name);
}

/** Kinds that carry a drive: a socket, or flats. */
export function hasDrive(kind: PartKind): boolean {
  return kindNamed(kind)?.thread !== undefined;
}

/**
 * The sizes a part of the parts list should show, mm, turns in number. A bearing must have been checked: one without
 * sizes throws an Error.
 */
export function partSizes(part: Part): Sizes {
  return Object.fromEntries(
    SIZE_NAMES.flatMap((name) => {
      const own = sizeOf(part.kind, name);
      const band = own && bandOf(own, part);
      return band ? [[name, sizeIn(band, own.wears?.toward)]] : [];
    }),
  );
}

/** The sizes of a bare outer thread, mm: the crest limits of class 6g. */
export function bareThread(thread: { readonly size_mm: number; readonly pitch_mm: number }): Sizes {
  return {
    thread_mm: sizeIn(crestBand(thread)),
    pitch_mm: sizeIn(exact(thread.pitch_mm)),
    turns_in_10mm: sizeIn(exact(turnsIn10mm(thread.pitch_mm))),
  };
}

function bandOf({ get, reads }: PartSize<Part>, part: Part): Band | undefined {
  if (reads) return reads(part);
  const own = get(part);
  return own === undefined ? undefined : exact(own);
}

function sizeIn([nominal, low, high]: Band, wears: WearDirection = 0): Size {
  return { nominal, low, high, wears };
}

/** Where to put the tool, in the frame of `partProfile`; undefined where a part of its kind has no such size. */
export function calliperPlace(part: Part, name: SizeName | 'kind' | 'drive'): CalliperPlace | undefined {
  const profile = partProfile(part);
  if (name !== 'kind' && name !== 'drive') return sizeOf(part.kind, name)?.place?.(part, profile);
  const { from_mm, to_mm, solids } = profile;
  const widest = Math.max(...solids.flatMap(({ polygon }) => polygon.map(([r]) => r)));
  if (name === 'kind') return { jaws: 'eye', from: [widest, from_mm], to: [-widest, to_mm] };
  return hasDrive(part.kind) ? across('key', 2 * widest, stands(part, 'axle') ? from_mm : to_mm) : undefined;
}
