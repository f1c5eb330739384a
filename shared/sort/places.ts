/**
 * Where a part of the parts list goes: every place of the build that names it, with its side and its facing.
 *
 * The side is the bike's: a part whose ends lie on both sides of the bike's middle plane (z = 0) stands in the middle.
 * Read from an analysis, so that the facing words of the rest of the app are about the same item.
 */
import type { Side } from '../model/schema.ts';
import type { Analysis, PlacedItem } from '../types.ts';

/** One place of the build. */
export interface PartPlace {
  readonly pivotId: string;
  readonly stackId: string;
  /** Scene id. */
  readonly itemId: string;
  readonly role: PlacedItem['role'];
  readonly side: Side | 'middle';
  /** The side its small face looks to, for a spacer that is not the same both ways. */
  readonly smallFace?: Side;
  /** For an axle, the side it goes in from. */
  readonly from?: Side;
  /** Scene ids of its neighbours in the row. */
  readonly between: readonly string[];
}

/**
 * Every place of a part in the build, in the order of the pivots, from the non-drive to the drive side; none for an id
 * that stands nowhere. O(items).
 */
export function placesOf(analysis: Analysis, partId: string): PartPlace[] {
  return analysis.pivots.flatMap((pivot) =>
    pivot.stacks.flatMap((stack) =>
      stack.items.flatMap((item, index): PartPlace[] => {
        if (item.part !== partId) return [];
        const between = [stack.items[index - 1], stack.items[index + 1]].flatMap((other) => (other ? [other.id] : []));
        return [
          {
            pivotId: pivot.id,
            stackId: stack.id,
            itemId: item.id,
            role: item.role,
            side: sideOf(item),
            ...(item.smallFace === undefined ? {} : { smallFace: item.smallFace }),
            ...(item.role === 'axle' ? { from: stack.from } : {}),
            between,
          },
        ];
      }),
    ),
  );
}

function sideOf({ from_mm, to_mm }: PlacedItem): Side | 'middle' {
  return from_mm >= 0 ? 'drive' : to_mm <= 0 ? 'non-drive' : 'middle';
}
