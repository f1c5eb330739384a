/**
 * The sorting mat: every part of the build in outline at 1:1, by pivot and stack, from the non-drive to the drive side,
 * to print, check with its scale bar, and lay the parts on.
 *
 * Rings, nuts and bearings lie on the mat on their faces, so they are drawn as circles, each with its side view beside it
 * to compare the length; axles, bolts, screws and sleeves lie along their axis. Everything is in mm of the paper.
 */
import {
  inAxleOrder,
  nameOf,
  partSizes,
  sideWord,
  wordSize,
  wordSizeValue,
  type Analysis,
  type CaliperSize,
  type Part,
  type PlacedItem,
  type StackAnalysis,
} from '../../shared/index.ts';
import { drawPart, partExtent, silhouette } from './part.ts';
import { px, tag } from './svg.ts';

/** One part's place on the mat. */
export interface MatCell {
  readonly id: string;
  readonly name: string;
  /** The sizes that tell it, and its facing, in words. */
  readonly words: string;
  /** Outline at 1:1, mm of the paper. */
  readonly svg: string;
  readonly width_mm: number;
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

const TOLD: Readonly<Record<string, readonly CaliperSize[]>> = {
  spacer: ['length_mm', 'outside_mm', 'bore_mm'],
  washer: ['length_mm', 'outside_mm', 'bore_mm'],
  'tapered-spacer': ['length_mm', 'small_mm', 'large_mm'],
  'end-cap': ['length_mm', 'small_mm', 'outside_mm'],
  bearing: ['bore_mm', 'outside_mm', 'length_mm'],
  nut: ['length_mm', 'outside_mm', 'thread_mm'],
};
const TOLD_SHANK: readonly CaliperSize[] = ['length_mm', 'outside_mm', 'thread_mm'];

function cellOf(item: PlacedItem, stack: StackAnalysis, analysis: Analysis): MatCell[] {
  const part = item.part === undefined ? undefined : analysis.model.parts[item.part];
  if (!part) return [];
  const sizes = partSizes(part);
  const told = (TOLD[part.kind] ?? TOLD_SHANK).flatMap((name) => {
    const size = sizes[name];
    return size ? [`${wordSize(name, part.kind)} ${wordSizeValue(name, size.nominal)}`] : [];
  });
  const facing =
    item.smallFace !== undefined && item.role === 'ring' ? [`small face to the ${sideWord(item.smallFace)}`] : [];
  const from = item.role === 'axle' ? [`goes in from the ${sideWord(stack.from)}`] : [];
  const { svg, width_mm } = lying(part);
  return [
    { id: item.id, name: nameOf(item.id, analysis), words: [...told, ...facing, ...from].join(', '), svg, width_mm },
  ];
}

/** Gap between the circle and the side view, mm. */
const GAP_mm = 3;

/** A part as it lies on the mat, 1:1. */
function lying(part: Part): { svg: string; width_mm: number } {
  const { from_mm, to_mm, radius_mm } = partExtent(part);
  const length = to_mm - from_mm;
  if ('shank' in part) return { svg: drawPart({ part, scale: 1, unit: 'mm' }), width_mm: length + 2 };
  const edge = 0.5;
  const [width, height] = [2 * radius_mm + GAP_mm + length + 2 * edge, 2 * radius_mm + 2 * edge];
  const bore = partSizes(part).bore_mm?.nominal;
  const small = partSizes(part).small_mm?.nominal;
  const centre = edge + radius_mm;
  const start = edge + 2 * radius_mm + GAP_mm - from_mm;
  const upper = silhouette(part);
  const side = [...upper, ...upper.map(([r, z]) => [-r, z] as const).reverse()]
    .map(([r, z], k) => `${k === 0 ? 'M' : 'L'}${px(start + z)} ${px(centre - r)}`)
    .join('');
  const circles = [
    tag('circle', { class: 'mat-line', cx: centre, cy: centre, r: radius_mm }),
    ...(small !== undefined && small < 2 * radius_mm - 0.05
      ? [tag('circle', { class: 'mat-thin', cx: centre, cy: centre, r: small / 2 })]
      : []),
    ...(bore === undefined ? [] : [tag('circle', { class: 'mat-line', cx: centre, cy: centre, r: bore / 2 })]),
    tag('path', { class: 'mat-line', d: `${side}Z` }),
  ];
  return {
    svg: tag(
      'svg',
      {
        xmlns: 'http://www.w3.org/2000/svg',
        class: 'mat-drawing',
        viewBox: `0 0 ${px(width)} ${px(height)}`,
        width: `${px(width)}mm`,
        height: `${px(height)}mm`,
        'aria-hidden': 'true',
      },
      ...circles,
    ),
    width_mm: width,
  };
}

/** The bar that must measure 100 mm on the paper. */
export function scaleBar(): string {
  const marks = Array.from({ length: SCALE_BAR_mm / 10 + 1 }, (_, k) => `M${k * 10 + 1} ${k % 5 === 0 ? 1 : 3}V7`).join(
    '',
  );
  return tag(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: 'mat-drawing',
      viewBox: `0 0 ${SCALE_BAR_mm + 2} 8`,
      width: `${SCALE_BAR_mm + 2}mm`,
      height: '8mm',
      role: 'img',
      'aria-label': `Scale bar, ${SCALE_BAR_mm} mm`,
    },
    tag('path', { class: 'mat-line', d: `M1 7H${SCALE_BAR_mm + 1}${marks}` }),
  );
}
