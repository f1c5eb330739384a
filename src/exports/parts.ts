/**
 * The parts of a bike's pivots as a table, one line a part, in the order of the rows.
 */
import { csv, nameOf, type Analysis } from '../../shared/index.ts';

const HEAD = ['pivot', 'axle', 'place', 'part', 'kind', 'name', 'outside_mm', 'bore_mm', 'length_mm', 'small_face'];

/** A table of parts (RFC 4180); bosses belong to the frame and its arms, and are left out. */
export function partsCsv(analysis: Analysis): string {
  const rows = analysis.pivots.flatMap((pivot) =>
    pivot.stacks.flatMap((stack) =>
      stack.items
        .filter(({ role }) => role !== 'boss')
        .map((item, k) => {
          const radii = item.solids.flatMap(({ polygon }) => polygon.map(([r]) => r));
          // Of the longest of its solids: what tightening moves of one against another is no size of the part.
          const lengths = item.solids.map(({ polygon }) => {
            const places = polygon.map(([, z]) => z);
            return Math.max(...places) - Math.min(...places);
          });
          const size = (value: number): string => String(Number(value.toFixed(2)));
          return [
            pivot.name,
            stack.name,
            String(k + 1),
            item.id,
            item.kind,
            nameOf(item.id, analysis),
            size(2 * Math.max(...radii)),
            size(2 * Math.min(...radii)),
            size(Math.max(...lengths)),
            item.smallFace ?? '',
          ];
        }),
    ),
  );
  return csv([HEAD, ...rows]);
}
