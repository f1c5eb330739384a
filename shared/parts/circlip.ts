/**
 * Circlips: open rings that snap into a groove. That of a bore keeps a bearing in its seat, that of a shaft keeps what is
 * on an axle from coming off its tip. Each is drawn as it sits in its groove; a calliper finds it wider, or narrower, as
 * it is free.
 *
 * Stamped from sheet, it has one sharp and one rounded edge. Unturned, the sharp one looks to the drive side.
 */
import * as z from 'zod';
import { within, type Contradiction } from './contradictions.ts';
import { ASSUMED, type PartEntry } from './entry.ts';
import { common, lengthTol, material, size_mm } from './fields.ts';
import { across, along, exact, keyed, size, type PartSize } from './sizes.ts';

/** A circlip in the model file. */
export const circlipForm = z.strictObject({
  kind: z.literal('circlip'),
  ...common,
  outside_mm: size_mm.describe('outside diameter in its groove: that of the groove'),
  bore_mm: size_mm.describe('inside diameter in its groove, without the eyes'),
  length_mm: size_mm.describe('thickness of the sheet'),
  ...lengthTol,
  free_mm: size_mm.describe('outside diameter while free: the wider, the firmer it sits'),
  material,
});

/** A circlip of a shaft in the model file. */
export const shaftCirclipForm = z.strictObject({
  kind: z.literal('shaft-circlip'),
  ...common,
  bore_mm: size_mm.describe('inside diameter in its groove: that of the groove'),
  outside_mm: size_mm.describe('outside diameter in its groove, without the eyes'),
  length_mm: size_mm.describe('thickness of the sheet'),
  ...lengthTol,
  free_mm: size_mm.describe('inside diameter while free: the narrower, the firmer it sits'),
  material,
});

type Circlip = z.output<typeof circlipForm>;
type ShaftCirclip = z.output<typeof shaftCirclipForm>;

function thickness<P extends Circlip | ShaftCirclip>(): PartSize<P> {
  return keyed<P, 'length_mm'>('length_mm', {
    word: 'thickness',
    short: 'Thickness',
    how: 'Close the outside jaws on the two flat sides, away from the eyes',
    compared: ['thinner', 'thicker'],
    place: (part) => along('outside-jaws', (part.outside_mm + part.bore_mm) / 4, 0, part.length_mm),
  });
}

/** What both kinds have in common: a flat ring, rounded at the edges of its first face. */
const ring: Pick<PartEntry<Circlip | ShaftCirclip>, 'family' | 'faceName' | 'smallFace' | 'profile' | 'planes'> = {
  family: 'clip',
  faceName: 'sharp edge',
  smallFace: () => 'second',
  profile: (part, { edge_mm } = ASSUMED) => {
    const [bore, wide, thick] = [part.bore_mm / 2, part.outside_mm / 2, part.length_mm];
    const round = Math.min(edge_mm, thick / 4, (wide - bore) / 4);
    return {
      solids: [
        {
          role: 'body',
          material: part.material,
          polygon: [
            [bore, round],
            [bore + round, 0],
            [wide - round, 0],
            [wide, round],
            [wide, thick],
            [bore, thick],
          ],
        },
      ],
      from_mm: 0,
      to_mm: thick,
      hasTwoWays: true,
    };
  },
  planes: (part) => [{ id: 'length', kind: 'length', z_mm: part.length_mm, tol_mm: part.length_tol_mm }],
};

/** The circlip of a bore. */
export const circlip: PartEntry<Circlip> = {
  ...ring,
  noun: { one: 'circlip', many: 'circlips' },
  hint: 'open ring with two eyes',
  sample: {
    kind: 'circlip',
    name: 'Circlip',
    outside_mm: 29.4,
    bore_mm: 24,
    length_mm: 1.2,
    free_mm: 30.1,
    material: 'steel-quenched',
  },
  stands: ['groove'],
  snapsIn: ({ outside_mm, length_mm, free_mm }) => ({ groove_mm: outside_mm, thickness_mm: length_mm, free_mm }),
  sizes: {
    outside_mm: size('outside_mm', {
      how: 'Close the outside jaws across the free ring, square to its gap',
      get: (part) => part.free_mm,
      reads: (part) => exact(part.free_mm),
      set: (part, to_mm) => ({ ...part, free_mm: to_mm }),
      place: (part) => across('outside-jaws', part.outside_mm, part.length_mm / 2),
    }),
    length_mm: thickness(),
  },
  told: ['outside_mm', 'length_mm'],
  fitting_mm: (part) => part.free_mm,
  check: (part): Contradiction[] => [
    ...within(['bore_mm', part.bore_mm], ['outside_mm', part.outside_mm]),
    ...within(['outside_mm', part.outside_mm], ['free_mm', part.free_mm]),
  ],
};

/** The circlip of a shaft. */
export const shaftCirclip: PartEntry<ShaftCirclip> = {
  ...ring,
  noun: { one: 'shaft circlip', many: 'shaft circlips' },
  hint: 'open ring, eyes outside',
  sample: {
    kind: 'shaft-circlip',
    name: 'Shaft circlip',
    outside_mm: 19.2,
    bore_mm: 14.3,
    length_mm: 1,
    free_mm: 13.8,
    material: 'steel-quenched',
  },
  stands: ['tip'],
  snapsIn: ({ bore_mm, length_mm, free_mm }) => ({ groove_mm: bore_mm, thickness_mm: length_mm, free_mm }),
  sizes: {
    bore_mm: size('bore_mm', {
      how: 'Open the inside jaws in the free ring, square to its gap',
      get: (part) => part.free_mm,
      reads: (part) => exact(part.free_mm),
      set: (part, to_mm) => ({ ...part, free_mm: to_mm }),
      place: (part) => across('inside-jaws', part.bore_mm, part.length_mm / 2),
    }),
    length_mm: thickness(),
  },
  told: ['bore_mm', 'length_mm'],
  fitting_mm: (part) => part.free_mm,
  check: (part): Contradiction[] => [
    ...within(['bore_mm', part.bore_mm], ['outside_mm', part.outside_mm]),
    ...within(['free_mm', part.free_mm], ['bore_mm', part.bore_mm]),
  ],
};
