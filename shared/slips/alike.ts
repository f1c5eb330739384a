/**
 * Which parts a hand takes for one another, and which size tells them apart.
 *
 * Two rings look alike when they have the same bore within a calliper's doubt, or the same outside and length with
 * another bore: the second kind gives itself away only where the axle does not fill it. Bearings go by their bore. An
 * axle or a nut is taken for another one that starts on the same thread. Sizes in mm, as a calliper takes them.
 */
import { resolveBearing } from '../parts/bearing.ts';
import type { LinkageModel, Part, PartKind } from '../model/schema.ts';
import { shankLength_mm } from '../parts/shanked.ts';
import { SLIP_LIMITS } from './limits.ts';

/** A size of a part that a calliper takes. */
export type SizeName =
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
  | 'thread-length';
export type Sizes = Readonly<Partial<Record<SizeName, number>>>;

/** One size in which two parts differ. */
export interface SizeDifference {
  readonly size: SizeName;
  readonly mine_mm: number;
  readonly other_mm: number;
}

const RINGS: readonly PartKind[] = ['spacer', 'washer', 'tapered-spacer', 'end-cap'];
const SHANKED: readonly PartKind[] = ['axle', 'bolt', 'screw'];

/** True for what lies loose in the tray: rings, whatever their kind. */
export function isRing(part: Part | undefined): boolean {
  return part !== undefined && RINGS.includes(part.kind);
}

/** Sizes of a part, mm. */
export function sizesOf(part: Part): Sizes {
  switch (part.kind) {
    case 'spacer':
    case 'washer':
      return { bore: part.bore_mm, outside: part.outside_mm, length: part.length_mm };
    case 'tapered-spacer':
      return { bore: part.bore_mm, length: part.length_mm, 'small-face': part.small_mm, 'large-face': part.large_mm };
    case 'end-cap':
      return {
        bore: part.bore_mm,
        outside: part.outside_mm,
        length: part.length_mm,
        land: part.land_mm,
        'land-height': part.land_height_mm,
      };
    case 'bearing': {
      const { bore_mm, outside_mm, width_mm } = resolveBearing(part);
      return { bore: bore_mm, outside: outside_mm, width: width_mm };
    }
    case 'nut':
      return {
        outside: part.outside_mm,
        length: part.length_mm,
        ...(part.land_mm === undefined ? {} : { land: part.land_mm, 'land-height': part.land_height_mm ?? 0 }),
      };
    case 'axle':
    case 'bolt':
    case 'screw':
    case 'sleeve': {
      const { head, thread } = part;
      return {
        'under-head': shankLength_mm(part),
        shank: Math.max(...part.shank.map((cylinder) => cylinder.diameter_mm)),
        'thread-length': thread.length_mm,
        head: head.diameter_mm,
        'head-height': head.height_mm,
        ...(head.land_mm === undefined ? {} : { land: head.land_mm, 'land-height': head.land_height_mm ?? 0 }),
      };
    }
  }
}

/** Sizes in which two parts differ, the one that is easiest to see first. */
export function sizeDifferences(mine: Part, other: Part): readonly SizeDifference[] {
  const theirs = sizesOf(other);
  return (Object.entries(sizesOf(mine)) as [SizeName, number][])
    .flatMap(([size, mine_mm]): SizeDifference[] => {
      const other_mm = theirs[size];
      return other_mm === undefined || Math.abs(other_mm - mine_mm) <= SLIP_LIMITS.sameSize_mm.value
        ? []
        : [{ size, mine_mm, other_mm }];
    })
    .sort((a, b) => Math.abs(b.other_mm - b.mine_mm) - Math.abs(a.other_mm - a.mine_mm));
}

/** True when two parts are one to the solve: every size, angle and material the same, whatever they are called. */
export function isSamePart(a: Part, b: Part): boolean {
  return signature(a) === signature(b);
}

/** What the solve sees of a part, as text: equal texts are equal parts. */
export function signature(part: Part): string {
  const { name: _name, count: _count, notes: _notes, ...seen } = part;
  return JSON.stringify(Object.entries(seen).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** True when a hand may take one ring, or one bearing, for the other although they are not the same. */
export function isLookAlike(a: Part, b: Part): boolean {
  if (isSamePart(a, b)) return false;
  const [mine, theirs] = [sizesOf(a), sizesOf(b)];
  if (a.kind === 'bearing' && b.kind === 'bearing') return isNear(mine.bore, theirs.bore);
  if (!isRing(a) || !isRing(b)) return false;
  return isNear(mine.bore, theirs.bore) || (isNear(widest(mine), widest(theirs)) && isNear(mine.length, theirs.length));
}

function widest(sizes: Sizes): number | undefined {
  return sizes.outside ?? sizes['large-face'];
}

function isNear(a: number | undefined, b: number | undefined): boolean {
  return a !== undefined && b !== undefined && Math.abs(a - b) <= SLIP_LIMITS.calliper_mm.value;
}

/** Parts of the model and of its variants: an odd nut in the tray may be from another year's frame. */
export function everyPart(model: LinkageModel): readonly (readonly [string, Part])[] {
  const known = new Map<string, Part>(Object.entries(model.parts));
  for (const variant of model.variants ?? []) {
    for (const [id, part] of Object.entries(variant.parts ?? {})) if (!known.has(id)) known.set(id, part);
  }
  return [...known];
}

/** True when `other` goes where `mine` went and starts on the same thread. */
export function startsInstead(mine: Part, other: Part): boolean {
  const isSleeve = mine.kind === 'sleeve' || other.kind === 'sleeve';
  const isSameRole = SHANKED.includes(mine.kind) ? SHANKED.includes(other.kind) : mine.kind === other.kind;
  if (!isSameRole || (isSleeve && mine.kind !== other.kind) || !('thread' in mine) || !('thread' in other))
    return false;
  const [a, b] = [mine.thread, other.thread];
  return a.size_mm === b.size_mm && a.pitch_mm === b.pitch_mm && a.hand === b.hand && !isSamePart(mine, other);
}
