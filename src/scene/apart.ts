/**
 * The row of an opened pivot laid apart for the place it is looked at from.
 *
 * Gaps depend on where the eye is, and where the eye must be on how long the row is: a few rounds settle both. Lengths
 * in mm; a pure function of pivot, view and picture.
 */
import { layApart, type ApartOf, type PivotAnalysis } from '../../shared/index.ts';
import { directionIn, pivotStand, type Frame, type View } from './fit.ts';
import { cornersOf, placeItems, type Layout } from './placement.ts';

const ROUNDS = 8;
const FIRST_DISTANCE_mm = 900;

/** Offsets of all items of a pivot at full apart-ness in this view and picture. */
export function layoutFor(pivot: PivotAnalysis, view: View, frame: Frame, of: ApartOf): Layout {
  const direction = directionIn(frame, view);
  let layout = layApart(
    pivot,
    { away_mm: FIRST_DISTANCE_mm * Math.hypot(direction[0], direction[1]), along_mm: FIRST_DISTANCE_mm * direction[2] },
    of,
  );
  for (let round = 0; round < ROUNDS; round += 1) {
    const { target, distance_mm } = pivotStand(cornersOf(pivot, placeItems(pivot, layout, 1)), view, frame);
    const [x, y, z] = [0, 1, 2].map((k) => target[k]! + direction[k]! * distance_mm) as [number, number, number];
    layout = layApart(pivot, { away_mm: Math.hypot(x - pivot.x_mm, y - pivot.y_mm), along_mm: z }, of);
  }
  return layout;
}
