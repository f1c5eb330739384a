/**
 * Apart along the axis: how far each part of a stack moves when the pivot is taken apart on the screen.
 *
 * Parts keep their axle order. At apart-ness 1 the same free gap stands between every two neighbours, the axle drawn
 * out beyond its end of the row; at 0 all stand where the tight joint holds them. The spread is centred on the row, so
 * that the picture does not wander. Offsets in mm, + to the drive side; a pure function of the analysis.
 */
import type { PlacedItem, StackAnalysis } from './types.ts';

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
