/**
 * Loose rings and the bosses they lie between: which can be set when their members stand together already.
 *
 * A ring that reaches into the bore of a boss beside it cannot be brought in from the side once the next boss stands
 * before it: it must lie there before the two meet, or one of them must be moved away again. One that reaches into both
 * lets them meet along the axle only. A ring between two bearings of one boss is shut in: its bearings cannot go in
 * without it. At an end of the row a ring goes on from outside at any time. mm, at the tight place.
 */
import type { Stack } from '../model/schema.ts';
import type { PlacedItem, StackAnalysis } from '../types.ts';
import { ORDER_LIMITS } from './limits.ts';

/** A ring and what it lies between. */
export interface RingPlace {
  readonly item: PlacedItem;
  readonly isGreased: boolean;
  /** The two bearings of one boss it is shut between. */
  readonly shutBy?: readonly [PlacedItem, PlacedItem];
  /** The boss toward the non-drive side, and how deep the ring reaches into it. */
  readonly low?: { readonly boss: PlacedItem; readonly into_mm: number };
  readonly high?: { readonly boss: PlacedItem; readonly into_mm: number };
}

/** The loose rings of a stack, from the non-drive to the drive side. */
export function ringsOf(stack: StackAnalysis, written: Stack): RingPlace[] {
  return stack.items.flatMap((item, at): RingPlace[] => {
    if (item.role !== 'ring') return [];
    const before = stack.items.slice(0, at).reverse();
    const after = stack.items.slice(at + 1);
    const [lowBearing, highBearing] = [before, after].map((side) => side.find((other) => other.role === 'bearing'));
    const isShut =
      lowBearing?.seat !== undefined &&
      lowBearing.seat.member === highBearing?.seat?.member &&
      lowBearing.seat.bore === highBearing.seat.bore;
    const [low, high] = [before, after].map((side) => side.find((other) => other.role === 'boss'));
    const into = (boss: PlacedItem | undefined) =>
      boss && { boss, into_mm: Math.max(0, Math.min(item.to_mm, boss.to_mm) - Math.max(item.from_mm, boss.from_mm)) };
    const [lowSide, highSide] = [into(low), into(high)];
    return [
      {
        item,
        isGreased: written.row.some((entry) => entry.id === item.rowId && entry.greased === true),
        ...(isShut && highBearing ? { shutBy: [lowBearing, highBearing] as const } : {}),
        ...(lowSide ? { low: lowSide } : {}),
        ...(highSide ? { high: highSide } : {}),
      },
    ];
  });
}

/** How a ring can be brought between its bosses: from the side, only while they are apart, or so that they meet along the axle. */
export type RingWay = 'shut-in' | 'from-outside' | 'from-the-side' | 'before-they-meet' | 'before-they-meet-along';

/** The way of a ring. */
export function wayOf({ shutBy, low, high }: RingPlace): RingWay {
  if (shutBy) return 'shut-in';
  if (!low || !high) return 'from-outside';
  const deep = [low, high].filter(({ into_mm }) => into_mm > ORDER_LIMITS.intoBore_mm.value).length;
  return deep === 0 ? 'from-the-side' : deep === 1 ? 'before-they-meet' : 'before-they-meet-along';
}
