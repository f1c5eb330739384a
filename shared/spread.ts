/**
 * Apart along the axis: how far each part of a stack moves when the pivot is taken apart on the screen.
 *
 * Parts keep their axle order. At apart-ness 1 the same free gap stands between every two neighbours, the axle drawn
 * out beyond its end of the row; at 0 all stand where the tight joint holds them. The spread is centred on the row, so
 * that the picture does not wander. Offsets in mm, + to the drive side; a pure function of the analysis.
 */
import type { PivotAnalysis, PlacedItem, StackAnalysis } from './types.ts';

/** Free gap between neighbours at apart-ness 1 unless told otherwise, mm. */
export const SPREAD_GAP_mm = 12;

/** Offset of every item of `stack` from its tight place at `apart` (0 to 1), mm, keyed by scene id. */
export function spread(stack: StackAnalysis, apart: number, gap_mm: number = SPREAD_GAP_mm): Record<string, number> {
  const line = inAxleOrder(stack);
  const ends: number[] = [];
  let reach = 0;
  line.forEach((item, k) => {
    ends.push(k === 0 ? 0 : reach + gap_mm);
    reach = ends[k]! + (item.to_mm - item.from_mm);
  });
  const row = line.map((item, k) => ({ item, k })).filter(({ item }) => item.role !== 'axle');
  const first = row[0];
  const last = row[row.length - 1];
  if (!first || !last) return {};
  const apartMiddle = (ends[first.k]! + ends[last.k]! + (last.item.to_mm - last.item.from_mm)) / 2;
  const homeMiddle = (first.item.from_mm + last.item.to_mm) / 2;
  const offsets: Record<string, number> = {};
  line.forEach((item, k) => {
    offsets[item.id] = apart * (ends[k]! - apartMiddle + homeMiddle - item.from_mm);
  });
  return offsets;
}

/** The items from the non-drive to the drive end, the axle outside the row on the side it goes in from. */
export function inAxleOrder(stack: StackAnalysis): readonly PlacedItem[] {
  const axle = stack.items.filter((item) => item.role === 'axle');
  const rest = stack.items.filter((item) => item.role !== 'axle');
  return stack.from === 'non-drive' ? [...axle, ...rest] : [...rest, ...axle];
}

/** Offsets of all items of a pivot, mm: one stack spreads about its middle, several spread outward from the inner ends. */
export function spreadPivot(pivot: PivotAnalysis, apart: number): Record<string, number> {
  const offsets: Record<string, number> = {};
  const single = pivot.stacks.length < 2;
  const byPlace = [...pivot.stacks].sort((a, b) => middleOf(a) - middleOf(b));
  byPlace.forEach((stack, rank) => {
    const own = spread(stack, apart);
    const outward = rank < byPlace.length / 2 ? -1 : 1;
    const shift = single ? 0 : -innermost(stack, own, outward);
    for (const item of stack.items) offsets[item.id] = (own[item.id] ?? 0) + shift;
  });
  return offsets;
}

function middleOf(stack: StackAnalysis): number {
  const items = stack.items.filter((item) => item.role !== 'axle');
  const ends = (items.length > 0 ? items : stack.items).flatMap((item) => [item.from_mm, item.to_mm]);
  return ends.length === 0 ? 0 : (Math.min(...ends) + Math.max(...ends)) / 2;
}

/** How far the end of a stack that looks to the bike's middle has been moved by its own spread, mm. */
function innermost(stack: StackAnalysis, offsets: Readonly<Record<string, number>>, outward: number): number {
  let home = Infinity;
  let moved = Infinity;
  for (const item of stack.items) {
    const offset = offsets[item.id] ?? 0;
    const inner = outward > 0 ? item.from_mm : -item.to_mm;
    home = Math.min(home, inner);
    moved = Math.min(moved, inner + outward * offset);
  }
  return Number.isFinite(home) ? outward * (moved - home) : 0;
}
