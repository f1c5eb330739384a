/**
 * The end cap: a flange with a land, which closes the end of a column. Unturned, its land looks to the non-drive side.
 */
import * as z from 'zod';
import { within } from './contradictions.ts';
import { ASSUMED, type PartEntry } from './entry.ts';
import { common, lengthTol, material, size_mm } from './fields.ts';
import { across, along, keyed, repeated, size, WEAR } from './sizes.ts';
import type { Polygon } from '../profile/solid.ts';

/** An end cap in the model file. */
export const endCapForm = z.strictObject({
  kind: z.literal('end-cap'),
  ...common,
  outside_mm: size_mm.describe('outside diameter of the flange'),
  bore_mm: size_mm,
  length_mm: size_mm.describe('whole length, land included'),
  ...lengthTol,
  land_mm: size_mm.describe('outside diameter of the land; unturned it looks to the non-drive side'),
  land_height_mm: z.number().positive().max(50),
  material,
});

type EndCap = z.output<typeof endCapForm>;

const flange = size<EndCap>('large_mm', {
  short: 'Flange',
  compared: ['narrower across the flange', 'wider across the flange'],
  code: 'outside',
  get: (part) => part.outside_mm,
  set: (part, to_mm) => ({ ...part, outside_mm: to_mm }),
  place: (part) => across('outside-jaws', part.outside_mm, part.length_mm),
});

/** The end cap. */
export const endCap: PartEntry<EndCap> = {
  noun: { one: 'end cap', many: 'end caps' },
  hint: 'flange with a land',
  sample: {
    kind: 'end-cap',
    name: 'End cap',
    outside_mm: 26,
    bore_mm: 13,
    length_mm: 9,
    land_mm: 18,
    land_height_mm: 4,
    material: 'steel',
  },
  family: 'ring',
  stands: ['loose'],
  sizes: {
    large_mm: flange,
    small_mm: size('small_mm', {
      short: 'Land',
      compared: ['narrower across the land', 'wider across the land'],
      code: 'land',
      get: (part) => part.land_mm,
      set: (part, to_mm) => ({ ...part, land_mm: to_mm }),
      place: (part) => across('outside-jaws', part.land_mm, 0),
    }),
    bore_mm: keyed('bore_mm', { wears: WEAR.wider, place: (part) => across('inside-jaws', part.bore_mm, 0) }),
    length_mm: keyed('length_mm', {
      wears: WEAR.shorter,
      place: (part) => along('outside-jaws', (part.land_mm + part.bore_mm) / 4, 0, part.length_mm),
    }),
    outside_mm: repeated('outside_mm', flange, {
      set: (part, to_mm) => ({ ...part, outside_mm: to_mm }),
      place: (part) => across('outside-jaws', part.outside_mm, (part.land_height_mm + part.length_mm) / 2),
    }),
    land_height_mm: keyed('land_height_mm'),
  },
  told: ['length_mm', 'small_mm', 'outside_mm'],
  fitting_mm: (part) => part.bore_mm,
  smallFace: () => 'first',
  profile: (part, { edge_mm } = ASSUMED) => {
    const [bore, land, outside] = [part.bore_mm / 2, part.land_mm / 2, part.outside_mm / 2];
    const edge = Math.min(edge_mm, (land - bore) / 6, part.land_height_mm / 3);
    const polygon: Polygon = [
      [bore, edge],
      [bore + edge, 0],
      [land - edge, 0],
      [land, edge],
      [land, part.land_height_mm],
      [outside, part.land_height_mm],
      [outside, part.length_mm],
      [bore, part.length_mm],
    ];
    return {
      solids: [{ role: 'land', material: part.material, polygon }],
      from_mm: 0,
      to_mm: part.length_mm,
      hasTwoWays: true,
    };
  },
  check: (part) => [
    ...within(['bore_mm', part.bore_mm], ['land_mm', part.land_mm]),
    ...within(['land_mm', part.land_mm], ['outside_mm', part.outside_mm]),
    ...within(['land_height_mm', part.land_height_mm], ['length_mm', part.length_mm]),
  ],
  planes: (part) => [
    { id: 'land-height', kind: 'land-height', z_mm: part.land_height_mm },
    { id: 'length', kind: 'length', z_mm: part.length_mm, tol_mm: part.length_tol_mm },
  ],
};
