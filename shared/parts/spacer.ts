/**
 * The plain spacer and the washer: rings with two equal faces.
 */
import * as z from 'zod';
import { tubePolygon } from '../profile/polygon.ts';
import { noMore, within } from './contradictions.ts';
import { ASSUMED, type PartEntry } from './entry.ts';
import { chamfer_mm, common, lengthTol, material, size_mm } from './fields.ts';
import { across, along, keyed, repeated, WEAR } from './sizes.ts';

const form = {
  ...common,
  outside_mm: size_mm,
  bore_mm: size_mm,
  length_mm: size_mm,
  ...lengthTol,
  chamfer_mm,
  material,
};
/** A plain spacer in the model file. */
export const spacerForm = z.strictObject({ kind: z.literal('spacer'), ...form });
/** A washer in the model file. */
export const washerForm = z.strictObject({ kind: z.literal('washer'), ...form });

type Ring = z.output<typeof spacerForm> | z.output<typeof washerForm>;

const outside = keyed<Ring, 'outside_mm'>('outside_mm', {
  place: (part) => across('outside-jaws', part.outside_mm, part.length_mm / 2),
});
const ring: Omit<PartEntry<Ring>, 'noun' | 'hint' | 'sample'> = {
  family: 'ring',
  stands: ['loose'],
  fillsGap: true,
  sizes: {
    outside_mm: outside,
    bore_mm: keyed('bore_mm', { wears: WEAR.wider, place: (part) => across('inside-jaws', part.bore_mm, 0) }),
    length_mm: keyed('length_mm', {
      wears: WEAR.shorter,
      place: (part) => along('outside-jaws', (part.outside_mm + part.bore_mm) / 4, 0, part.length_mm),
    }),
    large_mm: repeated('large_mm', outside, {
      place: (part) => across('outside-jaws', part.outside_mm, part.length_mm),
    }),
    small_mm: repeated('small_mm', outside, { place: (part) => across('outside-jaws', part.outside_mm, 0) }),
  },
  told: ['length_mm', 'outside_mm', 'bore_mm'],
  fitting_mm: (part) => part.bore_mm,
  profile: (part, { edge_mm } = ASSUMED) => {
    const edge = part.chamfer_mm ?? Math.min(edge_mm, part.length_mm / 5);
    const polygon = tubePolygon(part.bore_mm / 2, part.outside_mm / 2, 0, part.length_mm, { inner: edge, outer: edge });
    return {
      solids: [{ role: 'body', material: part.material, polygon }],
      from_mm: 0,
      to_mm: part.length_mm,
      hasTwoWays: false,
    };
  },
  check: (part) => {
    const wall = Math.min((part.outside_mm - part.bore_mm) / 2, part.length_mm);
    return [
      ...within(['bore_mm', part.bore_mm], ['outside_mm', part.outside_mm]),
      ...noMore(['chamfer_mm', part.chamfer_mm ?? 0], Math.max(0, wall / 2), 'half the wall'),
    ];
  },
  planes: (part) => [{ id: 'length', kind: 'length', z_mm: part.length_mm, tol_mm: part.length_tol_mm }],
};

/** The plain spacer. */
export const spacer: PartEntry<Ring> = {
  ...ring,
  noun: { one: 'spacer', many: 'spacers' },
  hint: 'two equal faces',
  sample: { kind: 'spacer', name: 'Spacer', outside_mm: 20, bore_mm: 14, length_mm: 12, material: 'steel' },
};

/** The washer. */
export const washer: PartEntry<Ring> = {
  ...ring,
  noun: { one: 'washer', many: 'washers' },
  hint: 'thin and flat',
  sample: { kind: 'washer', name: 'Washer', outside_mm: 24, bore_mm: 13, length_mm: 2.5, material: 'steel' },
};
