/**
 * The tapered spacer: a spacer with a small face and a large one. Unturned, its small face looks to the non-drive side.
 */
import * as z from 'zod';
import { withoutRepeats } from '../profile/polygon.ts';
import { noMore, within } from './contradictions.ts';
import { ASSUMED, type PartEntry } from './entry.ts';
import { chamfer_mm, common, lengthTol, material, size_mm } from './fields.ts';
import { across, along, keyed, repeated, WEAR } from './sizes.ts';
import type { Corner } from '../profile/solid.ts';

/** A tapered spacer in the model file. */
export const taperedSpacerForm = z.strictObject({
  kind: z.literal('tapered-spacer'),
  ...common,
  small_mm: size_mm.describe('outside diameter of the small face; unturned it looks to the non-drive side'),
  large_mm: size_mm.describe('outside diameter of the large face'),
  bore_mm: size_mm,
  length_mm: size_mm,
  small_land_mm: z.number().min(0).max(50).optional().describe('length of the cylinder behind the small face'),
  large_land_mm: z.number().min(0).max(50).optional().describe('length of the cylinder behind the large face'),
  ...lengthTol,
  chamfer_mm,
  material,
});

type TaperedSpacer = z.output<typeof taperedSpacerForm>;

const large = keyed<TaperedSpacer, 'large_mm'>('large_mm', {
  place: (part) => across('outside-jaws', part.large_mm, part.length_mm),
});

/** The tapered spacer. */
export const taperedSpacer: PartEntry<TaperedSpacer> = {
  noun: { one: 'tapered spacer', many: 'tapered spacers' },
  hint: 'small and large face',
  sample: {
    kind: 'tapered-spacer',
    name: 'Tapered spacer',
    small_mm: 17,
    large_mm: 26,
    bore_mm: 13,
    length_mm: 12,
    small_land_mm: 2,
    large_land_mm: 2,
    material: 'steel',
  },
  family: 'ring',
  stands: ['loose'],
  fillsGap: true,
  sizes: {
    large_mm: large,
    small_mm: keyed('small_mm', { place: (part) => across('outside-jaws', part.small_mm, 0) }),
    bore_mm: keyed('bore_mm', { wears: WEAR.wider, place: (part) => across('inside-jaws', part.bore_mm, 0) }),
    length_mm: keyed('length_mm', {
      wears: WEAR.shorter,
      place: (part) => along('outside-jaws', (part.small_mm + part.bore_mm) / 4, 0, part.length_mm),
    }),
    outside_mm: repeated('outside_mm', large, { set: large.set!, place: large.place! }),
  },
  told: ['length_mm', 'small_mm', 'large_mm'],
  fitting_mm: (part) => part.bore_mm,
  smallFace: () => 'first',
  profile: (part, { edge_mm } = ASSUMED) => {
    const edge = Math.min(part.chamfer_mm ?? edge_mm, (part.small_mm - part.bore_mm) / 6, part.length_mm / 6);
    const [bore, small, wide] = [part.bore_mm / 2, part.small_mm / 2, part.large_mm / 2];
    const length = part.length_mm;
    // A land may take the whole length: the other end keeps its broken edge all the same.
    const largeStart = Math.max(edge, length - Math.max(part.large_land_mm ?? 0, edge));
    const smallEnd = Math.min(Math.max(part.small_land_mm ?? 0, edge), largeStart);
    const polygon: Corner[] = [
      [bore, edge],
      [bore + edge, 0],
      [small - edge, 0],
      [small, edge],
    ];
    if (smallEnd > edge) polygon.push([small, smallEnd]);
    polygon.push([wide, largeStart]);
    if (largeStart < length - edge) polygon.push([wide, length - edge]);
    polygon.push([wide - edge, length], [bore + edge, length], [bore, length - edge]);
    return {
      solids: [{ role: 'body', material: part.material, polygon: withoutRepeats(polygon) }],
      from_mm: 0,
      to_mm: length,
      hasTwoWays: true,
    };
  },
  check: (part) => [
    ...within(['bore_mm', part.bore_mm], ['small_mm', part.small_mm]),
    ...within(['small_mm', part.small_mm], ['large_mm', part.large_mm]),
    ...noMore(
      ['small_land_mm', (part.small_land_mm ?? 0) + (part.large_land_mm ?? 0)],
      part.length_mm,
      'both lands within length_mm',
    ),
  ],
  planes: (part) => [{ id: 'length', kind: 'length', z_mm: part.length_mm, tol_mm: part.length_tol_mm }],
};
