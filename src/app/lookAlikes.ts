/**
 * Parts of the parts list that a hand could take for one another, and the numbers that tell them apart.
 *
 * Two parts look alike when they pass over or screw onto the same thing: rings of the same bore; axles, bolts and
 * screws of the same thread; nuts of the same thread; bearings of the same bore. Differences are other minus mine, mm,
 * largest first; a pair without any differs in nothing that this file says.
 */
import type { LinkageModel, Part } from '../../shared/index.ts';

/** One size in which the other part differs; mm, + where the other is larger. */
export interface Difference {
  readonly size: SizeName;
  readonly mine_mm: number;
  readonly other_mm: number;
}

/** A part that could be taken for the one asked about. */
export interface LookAlike {
  readonly part: string;
  readonly name: string;
  readonly kind: Part['kind'];
  readonly differences: readonly Difference[];
}

type SizeName = 'length' | 'outside' | 'small face' | 'large face' | 'land' | 'head' | 'thread' | 'width' | 'shank';
type Sizes = Partial<Record<SizeName, number>>;
type Family = { readonly name: 'ring' | 'axle' | 'nut' | 'bearing'; readonly fits_mm: number };

/** Two bores closer than this are the same to a hand and to a cheap caliper, mm. */
const SAME_BORE_mm = 0.25;
/** Sizes closer than this are not worth telling, mm. */
const SAME_SIZE_mm = 0.05;

/** The look-alikes of a part, nearest first. */
export function lookAlikes(model: LinkageModel, partId: string): readonly LookAlike[] {
  const mine = model.parts[partId];
  if (!mine) return [];
  const family = familyOf(mine);
  if (!family) return [];
  return Object.entries(model.parts)
    .filter(([id, part]) => id !== partId && isFamily(family, familyOf(part)))
    .map(([id, part]) => ({
      part: id,
      name: part.name,
      kind: part.kind,
      differences: differences(sizesOf(mine), sizesOf(part)),
    }))
    .sort((a, b) => total(a.differences) - total(b.differences));
}

function isFamily(mine: Family, other: Family | undefined): boolean {
  return other !== undefined && other.name === mine.name && Math.abs(other.fits_mm - mine.fits_mm) <= SAME_BORE_mm;
}

function familyOf(part: Part): Family | undefined {
  switch (part.kind) {
    case 'spacer':
    case 'washer':
    case 'tapered-spacer':
    case 'end-cap':
      return { name: 'ring', fits_mm: part.bore_mm };
    case 'axle':
    case 'bolt':
    case 'screw':
    case 'sleeve':
      return { name: 'axle', fits_mm: part.thread.size_mm };
    case 'nut':
      return { name: 'nut', fits_mm: part.thread.size_mm };
    case 'bearing':
      return part.bore_mm === undefined ? undefined : { name: 'bearing', fits_mm: part.bore_mm };
  }
}

function sizesOf(part: Part): Sizes {
  switch (part.kind) {
    case 'spacer':
    case 'washer':
      return { length: part.length_mm, outside: part.outside_mm };
    case 'tapered-spacer':
      return { length: part.length_mm, 'small face': part.small_mm, 'large face': part.large_mm };
    case 'end-cap':
      return { length: part.length_mm, outside: part.outside_mm, land: part.land_mm };
    case 'nut':
      return {
        length: part.length_mm,
        outside: part.outside_mm,
        ...(part.land_mm === undefined ? {} : { land: part.land_mm }),
      };
    case 'bearing':
      return {
        ...(part.outside_mm === undefined ? {} : { outside: part.outside_mm }),
        ...(part.width_mm === undefined ? {} : { width: part.width_mm }),
      };
    case 'axle':
    case 'bolt':
    case 'screw':
    case 'sleeve':
      return {
        length: part.shank.reduce((sum, cylinder) => sum + cylinder.length_mm, 0),
        shank: Math.max(...part.shank.map((cylinder) => cylinder.diameter_mm)),
        head: part.head.diameter_mm,
        thread: part.thread.length_mm,
      };
  }
}

function differences(mine: Sizes, other: Sizes): Difference[] {
  const found: Difference[] = [];
  for (const [size, mine_mm] of Object.entries(mine) as [SizeName, number][]) {
    const other_mm = other[size];
    if (other_mm !== undefined && Math.abs(other_mm - mine_mm) > SAME_SIZE_mm) found.push({ size, mine_mm, other_mm });
  }
  return found.sort((a, b) => apart_mm(b) - apart_mm(a));
}

function apart_mm(difference: Difference): number {
  return Math.abs(difference.other_mm - difference.mine_mm);
}

function total(list: readonly Difference[]): number {
  return list.reduce((sum, difference) => sum + apart_mm(difference), 0);
}
