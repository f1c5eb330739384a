/**
 * Springs of the column: the disc spring and the wave washer, each as high as it stands free.
 *
 * A disc spring is a cone of even thickness along the axle; unturned, its inner edge stands to the drive side. A wave
 * washer is drawn as the tube its waves fill.
 */
import * as z from 'zod';
import { tubePolygon } from '../profile/polygon.ts';
import { discSpring as discLaw, STEEPEST_CONE, waveWasher as waveLaw } from '../standards/index.ts';
import { impossible, within, type Contradiction } from './contradictions.ts';
import type { PartEntry } from './entry.ts';
import { common, lengthTol, material, size_mm } from './fields.ts';
import { across, along, keyed, WEAR } from './sizes.ts';

const form = {
  ...common,
  outside_mm: size_mm,
  bore_mm: size_mm,
  thickness_mm: size_mm.describe('thickness of the sheet along the axle'),
  length_mm: size_mm.describe('height while free'),
  ...lengthTol,
  material,
};

/** A disc spring in the model file. */
export const discSpringForm = z.strictObject({ kind: z.literal('disc-spring'), ...form });
/** A wave washer in the model file. */
export const waveWasherForm = z.strictObject({
  kind: z.literal('wave-washer'),
  ...form,
  waves: z.number().int().min(2).max(12).describe('crests that touch one side, once round'),
});

type Disc = z.output<typeof discSpringForm>;
type Wave = z.output<typeof waveWasherForm>;

/** What a spring can be pressed by before it is flat, mm. */
function travel_mm({ length_mm, thickness_mm }: Pick<Disc, 'length_mm' | 'thickness_mm'>): number {
  return length_mm - thickness_mm;
}

function checkSpring(part: Disc | Wave): Contradiction[] {
  return [
    ...within(['bore_mm', part.bore_mm], ['outside_mm', part.outside_mm]),
    ...within(['thickness_mm', part.thickness_mm], ['length_mm', part.length_mm]),
  ];
}

function base<P extends Disc | Wave>(): Pick<
  PartEntry<P>,
  'family' | 'stands' | 'sizes' | 'told' | 'fitting_mm' | 'planes'
> {
  return {
    family: 'ring',
    stands: ['loose'],
    sizes: {
      outside_mm: keyed<P, 'outside_mm'>('outside_mm', {
        place: (part) => across('outside-jaws', part.outside_mm, part.thickness_mm / 2),
      }),
      bore_mm: keyed<P, 'bore_mm'>('bore_mm', {
        place: (part) => across('inside-jaws', part.bore_mm, part.length_mm - part.thickness_mm / 2),
      }),
      length_mm: keyed<P, 'length_mm'>('length_mm', {
        how: 'Close the outside jaws until they just touch it, and press no further',
        wears: WEAR.shorter,
        place: (part) => along('outside-jaws', (part.outside_mm + part.bore_mm) / 4, 0, part.length_mm),
      }),
    },
    told: ['length_mm', 'outside_mm', 'bore_mm'],
    fitting_mm: (part) => part.bore_mm,
    planes: (part) => [{ id: 'length', kind: 'length', z_mm: part.length_mm, tol_mm: part.length_tol_mm }],
  };
}

/** The disc spring. */
export const discSpring: PartEntry<Disc> = {
  ...base<Disc>(),
  noun: { one: 'disc spring', many: 'disc springs' },
  hint: 'thin and dished',
  sample: {
    kind: 'disc-spring',
    name: 'Disc spring',
    outside_mm: 28,
    bore_mm: 14.2,
    thickness_mm: 1.5,
    length_mm: 2.15,
    material: 'steel',
  },
  smallFace: () => 'second',
  faceName: 'inner edge',
  spring: (part) => ({ curve: discLaw({ ...part, cone_mm: travel_mm(part) }), travel_mm: travel_mm(part) }),
  profile: (part) => {
    const [bore, wide, t, rise] = [part.bore_mm / 2, part.outside_mm / 2, part.thickness_mm, travel_mm(part)];
    return {
      solids: [
        {
          role: 'body',
          material: part.material,
          polygon: [
            [bore, rise],
            [wide, 0],
            [wide, t],
            [bore, part.length_mm],
          ],
        },
      ],
      from_mm: 0,
      to_mm: part.length_mm,
      hasTwoWays: true,
    };
  },
  check: (part) => {
    const most = part.thickness_mm * (1 + STEEPEST_CONE);
    return [
      ...checkSpring(part),
      ...(part.length_mm <= most
        ? []
        : [impossible(['length_mm', part.length_mm], `at most ${most.toFixed(2)}: a steeper disc snaps through`)]),
    ];
  },
};

/** The wave washer. */
export const waveWasher: PartEntry<Wave> = {
  ...base<Wave>(),
  noun: { one: 'wave washer', many: 'wave washers' },
  hint: 'thin and wavy',
  sample: {
    kind: 'wave-washer',
    name: 'Wave washer',
    outside_mm: 24,
    bore_mm: 18,
    thickness_mm: 0.3,
    length_mm: 1.5,
    waves: 3,
    material: 'steel',
  },
  spring: (part) => ({ curve: waveLaw({ ...part, rise_mm: travel_mm(part) }), travel_mm: travel_mm(part) }),
  profile: (part) => ({
    solids: [
      {
        role: 'body',
        material: part.material,
        polygon: tubePolygon(part.bore_mm / 2, part.outside_mm / 2, 0, part.length_mm),
      },
    ],
    from_mm: 0,
    to_mm: part.length_mm,
    hasTwoWays: false,
  }),
  check: checkSpring,
};
