/**
 * The sorting mat: every part of the build in outline at 1:1, by pivot and stack, from the non-drive to the drive side,
 * to print, check with its scale bar, and lay the parts on.
 *
 * Rings, nuts and bearings lie on the mat on their faces, so they are drawn as circles, each with its side view beside
 * it to compare the length; axles, bolts, screws and sleeves lie along their axis. Everything is in mm of the paper.
 */
import {
  kindOf,
  inAxleOrder,
  nameOf,
  partSizes,
  sideWord,
  wordMarkedFace,
  wordSize,
  wordSizeValue,
  type Analysis,
  type Part,
  type PlacedItem,
  type StackAnalysis,
} from '../../shared/index.ts';
import { drawPart, partExtent, wholeOutline } from './part.ts';
import { areas, circle, corners, lines, type Drawing, type Point, type Shape } from './shapes.ts';

/** One part's place on the mat. */
export interface MatCell {
  readonly id: string;
  readonly name: string;
  /** The sizes that tell it, and its facing, in words. */
  readonly words: string;
  /** Its outline at 1:1. */
  readonly drawing: Drawing;
}

/** One stack's row of the mat. */
export interface MatRow {
  readonly id: string;
  readonly title: string;
  /** What stands at the left and right end. */
  readonly cells: readonly MatCell[];
}

/** Length of the bar that checks the printer, mm. */
export const SCALE_BAR_mm = 100;

/** The rows of the mat, pivot by pivot. */
export function matRows(analysis: Analysis): MatRow[] {
  return analysis.pivots.flatMap((pivot) =>
    pivot.stacks.map((stack) => ({
      id: stack.id,
      title: pivot.stacks.length > 1 && stack.name !== pivot.name ? `${pivot.name}: ${stack.name}` : pivot.name,
      cells: inAxleOrder(stack).flatMap((item) => cellOf(item, stack, analysis)),
    })),
  );
}

function cellOf(item: PlacedItem, stack: StackAnalysis, analysis: Analysis): MatCell[] {
  const part = item.part === undefined ? undefined : analysis.model.parts[item.part];
  if (!part) return [];
  const sizes = partSizes(part);
  const told = kindOf(part).told.flatMap((name) => {
    const size = sizes[name];
    return size ? [`${wordSize(name, part.kind)} ${wordSizeValue(name, size.nominal)}`] : [];
  });
  const facing =
    item.smallFace !== undefined && (item.role === 'spacer' || item.role === 'tip')
      ? [`${wordMarkedFace(item.kind)} to the ${sideWord(item.smallFace)}`]
      : [];
  const from = item.role === 'axle' ? [`goes in from the ${sideWord(stack.from)}`] : [];
  const words = [...told, ...facing, ...from].join(', ');
  return [{ id: item.id, name: nameOf(item.id, analysis), words, drawing: lying(part) }];
}

/** Gap between the circle and the side view, and the edge round the two, mm. */
const GAP_mm = 3;
const EDGE_mm = 0.5;

/** A part as it lies on the mat, 1:1. */
function lying(part: Part): Drawing {
  if ('shank' in part) return drawPart({ part, scale: 1, unit: 'mm' });
  const { from_mm, to_mm, radius_mm } = partExtent(part);
  const { bore_mm, small_mm } = partSizes(part);
  const centre = EDGE_mm + radius_mm;
  const middle: Point = [centre, centre];
  const start = centre + radius_mm + GAP_mm - from_mm;
  const drawn = (diameter_mm: number | undefined, name: string) =>
    diameter_mm === undefined ? [] : [circle(middle, diameter_mm / 2, { class: name })];
  const small = small_mm && small_mm.nominal < 2 * radius_mm - 0.05 ? small_mm.nominal : undefined;
  const side = wholeOutline(part).map(([x, y]): Point => [start + x, centre + y]);
  return sheet(2 * centre + GAP_mm + to_mm - from_mm, 2 * centre, [
    ...drawn(2 * radius_mm, 'mat-line'),
    ...drawn(small, 'mat-thin'),
    ...drawn(bore_mm?.nominal, 'mat-line'),
    areas([side], { class: 'mat-line' }),
  ]);
}

function sheet(width_mm: number, height_mm: number, shapes: readonly Shape[], label?: string): Drawing {
  const shown = { scale: 1, unit: 'mm' } as const;
  return { class: 'mat-drawing', label, from: [0, 0], width_mm, height_mm, unit: 'mm', shown, shapes };
}

/** The bar that must measure 100 mm on the paper. */
export function scaleBar(): Drawing {
  const marks = Array.from({ length: SCALE_BAR_mm / 10 + 1 }, (_, k) =>
    corners(k * 10 + 1, k % 5 === 0 ? 1 : 3, k * 10 + 1, 7),
  );
  const bar = lines([corners(1, 7, SCALE_BAR_mm + 1, 7), ...marks], { class: 'mat-line' });
  return sheet(SCALE_BAR_mm + 2, 8, [bar], `Scale bar, ${SCALE_BAR_mm} mm`);
}
