/**
 * Which parts a hand takes for one another, and which sizes tell them apart: the one rule, for the table of mistakes,
 * the part card, the marks at strip-down and the tray alike.
 *
 * Two parts of one family look alike when they go onto, or into, the same thing: rings and bearings of the same bore,
 * shanks, sleeves and nuts of the same thread, within what inside jaws tell. So do two that have the same outside and
 * length and another bore: such a part gives itself away only where the axle does not fill it. Sizes in mm, as a
 * calliper takes them.
 */
import type { Limit } from '../limits.ts';
import { kindOf, type Part } from './kinds.ts';
import type { PartSize, PartSizeName, SizeCode } from './sizes.ts';

const HOUSE = 'our own rule, no source';

/** What a hand and a calliper can tell apart, mm, each with its source. */
export const LOOK_ALIKE_LIMITS = {
  /**
   * Two sizes closer than this are the same to a hand, and to the inside jaws of a calliper, which read small holes
   * low.
   */
  sameToHand_mm: { value: 0.25, source: HOUSE },
  /** Sizes closer than this are no difference. */
  sameSize_mm: { value: 0.01, source: HOUSE },
  /** A length or a width this many times the other's is told without measuring. */
  seenRatio: { value: 1.5, source: HOUSE },
} as const satisfies Record<string, Limit>;

/** One size in which two parts differ. */
export interface SizeDifference {
  readonly name: PartSizeName;
  /** What it is called of the first of the two. */
  readonly size: SizeCode;
  readonly mine_mm: number;
  readonly other_mm: number;
}

/** A part that could be taken for the one asked about, with what tells the two apart, the widest difference first. */
export interface LookAlike {
  readonly id: string;
  readonly part: Part;
  readonly differences: readonly SizeDifference[];
}

/**
 * True when a hand may take one part for the other although they are not the same; which comes first does not matter.
 */
export function isLookAlike(a: Part, b: Part): boolean {
  const [mine, theirs] = [kindOf(a), kindOf(b)];
  if (mine.family !== theirs.family) return false;
  const isAlike =
    isNear(mine.fitting_mm(a), theirs.fitting_mm(b)) ||
    (isNear(outside_mm(a), outside_mm(b)) && isNear(mine.sizes.length_mm?.get(a), theirs.sizes.length_mm?.get(b)));
  return isAlike && !isSamePart(a, b);
}

/**
 * The look-alikes of a part in a list of parts, the nearest first; none where the list has no such part. O(n log n) in
 * the list.
 */
export function lookAlikes(parts: Readonly<Record<string, Part>>, id: string): readonly LookAlike[] {
  const mine = Object.hasOwn(parts, id) ? parts[id] : undefined;
  if (!mine) return [];
  return Object.entries(parts)
    .filter(([, other]) => isLookAlike(mine, other))
    .map(([other, part]) => ({ id: other, part, differences: sizeDifferences(mine, part) }))
    .sort((a, b) => whole_mm(a.differences) - whole_mm(b.differences));
}

/**
 * Sizes in which two parts differ, mm, the one that is easiest to see first; empty for equal ones and for kinds that
 * share no size.
 */
export function sizeDifferences(mine: Part, other: Part): readonly SizeDifference[] {
  const theirs = new Map(
    // A size that repeats another has its code, and no value of its own.
    sizesOf(other).flatMap(([, { code, get }]) => (get(other) === undefined ? [] : [[code, get(other)] as const])),
  );
  return sizesOf(mine)
    .flatMap(([name, { code, get }]): SizeDifference[] => {
      const [mine_mm, other_mm] = [get(mine), theirs.get(code)];
      if (mine_mm === undefined || other_mm === undefined) return [];
      return Math.abs(other_mm - mine_mm) <= LOOK_ALIKE_LIMITS.sameSize_mm.value
        ? []
        : [{ name, size: code, mine_mm, other_mm }];
    })
    .sort((a, b) => apart_mm(b) - apart_mm(a));
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

/** True when `other`, a look-alike, goes where `mine` went and starts on the same thread. */
export function startsInstead(mine: Part, other: Part): boolean {
  if (!isLookAlike(mine, other) || !('thread' in mine) || !('thread' in other)) return false;
  const [a, b] = [mine.thread, other.thread];
  return a.size_mm === b.size_mm && a.pitch_mm === b.pitch_mm && a.hand === b.hand;
}

/** True when one of two parts could stand in for the other but for its length. */
export function differOnlyInLength(a: Part, b: Part): boolean {
  return a.kind === b.kind && sizeDifferences(a, b).every(({ name }) => name === 'length_mm');
}

function sizesOf(part: Part): readonly (readonly [PartSizeName, PartSize<Part>])[] {
  return Object.entries(kindOf(part).sizes) as [PartSizeName, PartSize<Part>][];
}

/** What is widest about a part for a hand: its outside, its flange, its large face or its head. */
function outside_mm(part: Part): number | undefined {
  const { outside_mm: outside, large_mm: large } = kindOf(part).sizes;
  return outside?.get(part) ?? large?.get(part);
}

function isNear(a: number | undefined, b: number | undefined): boolean {
  return a !== undefined && b !== undefined && Math.abs(a - b) <= LOOK_ALIKE_LIMITS.sameToHand_mm.value;
}

function apart_mm({ mine_mm, other_mm }: SizeDifference): number {
  return Math.abs(other_mm - mine_mm);
}

function whole_mm(differences: readonly SizeDifference[]): number {
  return differences.reduce((sum, difference) => sum + apart_mm(difference), 0);
}
