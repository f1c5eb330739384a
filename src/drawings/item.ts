/**
 * A small section of one thing of a row as the joint holds it, boss or part: for a button that stands for it.
 *
 * The axis lies flat, z to the right, as in the row. mm; its classes are those of the drawings of single parts.
 */
import type { Corner, PlacedItem } from '../../shared/index.ts';
import { radiusOf } from './outline.ts';
import { areas, type Drawing, type Point } from './shapes.ts';

/** Draws an item, a millimetre `scale` px large. */
export function drawItem(item: PlacedItem, scale: number): Drawing {
  const { solids, from_mm, to_mm } = item;
  const radius = radiusOf(item);
  const halves = solids.flatMap(({ role, polygon }) =>
    [1, -1].map((side) =>
      areas([polygon.map(([r, z]: Corner): Point => [z - from_mm, side * r])], {
        class: role === 'seal' ? 'part-seal' : 'part-cut',
      }),
    ),
  );
  return {
    class: 'part-drawing',
    from: [-1, -radius - 1],
    width_mm: to_mm - from_mm + 2,
    height_mm: 2 * radius + 2,
    unit: 'mm',
    shown: { scale, unit: 'px' },
    shapes: halves,
  };
}
