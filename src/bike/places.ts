/**
 * Where a part goes, in words: between which neighbours of the row.
 */
import { inAxleOrder, otherSide, sideWord, type PlacedItem, type StackAnalysis } from '../../shared/index.ts';

/** `Between the rocker and the frame`, or how it runs through or closes the row. */
export function placeWords(item: PlacedItem, stack: StackAnalysis): string {
  if (item.role === 'axle') return `Goes in from the ${sideWord(stack.from)}, through everything in this row.`;
  if (item.role === 'receiver' || item.rowId === 'receiver') {
    return `Takes the axle’s thread on the ${sideWord(otherSide(stack.from))}.`;
  }
  const row = inAxleOrder(stack).filter((other) => other.role !== 'axle');
  const at = row.findIndex((other) => other.id === item.id);
  const before = row[at - 1];
  const after = row[at + 1];
  if (before && after)
    return `Between ${before.name} (toward the non-drive side) and ${after.name} (toward the drive side).`;
  const only = before ?? after;
  const end = before ? 'drive' : 'non-drive';
  const isHead = stack.from === end;
  return only
    ? `At the ${end}-side end, between ${only.name} and the axle’s ${isHead ? 'head' : 'tip'}.`
    : 'Alone on the axle.';
}

/** Middle of a part along the axle, mm: parts are told from the non-drive to the drive side. */
export function middle_mm({ from_mm, to_mm }: PlacedItem): number {
  return (from_mm + to_mm) / 2;
}
