/**
 * The section of one row at its own size, for a drawing program or to lay parts on: one mm is one mm, nothing is moved
 * apart or drawn larger, and each part is on a layer of its kind. The axis lies level, the non-drive side at the left.
 */
import { nameOf, type Analysis, type StackAnalysis } from '../../shared/index.ts';
import { BLACK, WHITE } from '../look.ts';
import { hatchStyles, isUncut } from './hatch.ts';
import {
  areas,
  corners,
  group,
  lines,
  PX_PER_MM,
  rect,
  words,
  type Drawing,
  type Point,
  type Shape,
} from './shapes.ts';

const MARGIN_mm = 10;
const PEN_mm = { line: 0.35, thin: 0.18 } as const;
/** Under the row: its name, how it was drawn, and a bar to measure the print by. */
const FOOT_mm = 16;
const BAR_mm = 50;
const TYPE_mm = 3.2;
const SCALE_WORDS = '1:1, in mm. Measure the bar before you trust a print:';

/** The section of a row as it is tight. */
export function trueSection(stack: StackAnalysis, analysis: Analysis): Drawing {
  const polygons = stack.items.flatMap(({ solids }) => solids.map(({ polygon }) => polygon)).flat();
  const [left, right] = [Math.min(...polygons.map(([, z]) => z)), Math.max(...polygons.map(([, z]) => z))];
  const half = Math.max(...polygons.map(([r]) => r));
  const axis = MARGIN_mm + half;
  const styles = hatchStyles(stack.items);
  const at = (z: number, r: number): Point => [z - left + MARGIN_mm, axis - r];
  const parts = stack.items.map((item): Shape => {
    const isAxle = isUncut(item);
    const { rise, spacing_px } = styles.get(item.id)!;
    const shapes = item.solids.flatMap(({ polygon, role }): Shape[] => {
      const halves = [1, -1].map((sign) => polygon.map(([r, z]) => at(z, sign * r)));
      return [
        ...(isAxle || role === 'seal'
          ? []
          : [
              group(
                [
                  {
                    kind: 'hatch' as const,
                    polygons: halves,
                    rise,
                    spacing: spacing_px / PX_PER_MM,
                    origin: at(left, 0),
                    pen: PEN_mm.thin,
                    stroke: BLACK,
                  },
                ],
                { class: 'hatch' },
              ),
            ]),
        areas(halves, { stroke: BLACK, pen: PEN_mm.line, join: 'round' }),
      ];
    });
    return group(shapes, { class: item.role, title: nameOf(item.id, analysis) });
  });
  const foot = axis + half + MARGIN_mm;
  const width_mm = Math.max(right - left + 2 * MARGIN_mm, 110);
  return {
    label: `${stack.name}, 1:1`,
    title: `${analysis.model.name}: ${stack.name}, 1:1`,
    from: [0, 0],
    width_mm,
    height_mm: foot + FOOT_mm,
    unit: 'mm',
    shown: { scale: 1, unit: 'mm' },
    shapes: [
      group([rect(0, 0, width_mm, foot + FOOT_mm, { fill: WHITE })], { class: 'paper' }),
      ...parts,
      group(
        [
          lines([[at(left - 5, 0), at(right + 5, 0)]], {
            stroke: BLACK,
            pen: PEN_mm.thin,
            dash: [6, 1, 1, 1],
          }),
        ],
        { class: 'axis' },
      ),
      group(
        [
          words(`${analysis.model.name}: ${stack.name}`, MARGIN_mm, foot + 4, TYPE_mm, { weight: 700, fill: BLACK }),
          words(SCALE_WORDS, MARGIN_mm, foot + 8.5, TYPE_mm, { fill: BLACK }),
          lines(
            [
              corners(MARGIN_mm, foot + 12.5, MARGIN_mm + BAR_mm, foot + 12.5),
              corners(MARGIN_mm, foot + 11.5, MARGIN_mm, foot + 13.5),
              corners(MARGIN_mm + BAR_mm, foot + 11.5, MARGIN_mm + BAR_mm, foot + 13.5),
            ],
            { stroke: BLACK, pen: PEN_mm.line },
          ),
          words(`${BAR_mm} mm`, MARGIN_mm + BAR_mm + 2, foot + 13.6, TYPE_mm, { fill: BLACK }),
        ],
        { class: 'words' },
      ),
    ],
  };
}
