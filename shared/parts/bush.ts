/**
 * Plain bearings. The bush, flanged or not, and the reducer of a shock eye, which is its like: both stand in the row like
 * spacers, and something turns on them. Unturned, the flange looks to the non-drive side. The bore wears on what goes
 * through it, the outside on what turns on it. The eye bush lines a bore, turns with it, and wears on what runs in it.
 */
import * as z from 'zod';
import { LIMITS } from '../limits.ts';
import { tubePolygon, withoutRepeats } from '../profile/polygon.ts';
import { noMore, within, type Contradiction } from './contradictions.ts';
import { ASSUMED, type PartEntry } from './entry.ts';
import { chamfer_mm, common, lengthTol, material, size_mm } from './fields.ts';
import { LINING_PRESSURE, LINING_KEYS } from '../standards/index.ts';
import { across, along, exact, keyed, repeated, size, WEAR } from './sizes.ts';
import { tube } from './tube.ts';

/** A plain bush in the model file. */
export const bushForm = z.strictObject({
  kind: z.literal('bush'),
  ...common,
  outside_mm: size_mm.describe('outside diameter of the tube'),
  bore_mm: size_mm,
  length_mm: size_mm.describe('whole length, flange included'),
  ...lengthTol,
  flange_mm: size_mm.optional().describe('outside diameter of the flange; unturned it looks to the non-drive side'),
  flange_length_mm: size_mm.optional(),
  chamfer_mm: chamfer_mm.describe('broken edges of its two end faces'),
  material,
});

/** A reducer of a shock eye in the model file: one of two halves, or one piece without a flange. */
export const reducerForm = z.strictObject({ ...bushForm.shape, kind: z.literal('reducer') });

/** A bush that lines a bore in the model file. */
export const eyeBushForm = z.strictObject({
  kind: z.literal('eye-bush'),
  ...common,
  outside_mm: size_mm.describe('outside diameter while free: more than the bore it is pressed into'),
  bore_mm: size_mm.describe('inside diameter while free: pressed in it is narrower'),
  length_mm: size_mm,
  ...lengthTol,
  chamfer_mm,
  lining: z.enum(LINING_KEYS).describe('what it runs on, which decides the pressure it carries'),
  material,
});

type Bush = z.output<typeof bushForm> | z.output<typeof reducerForm>;
type EyeBush = z.output<typeof eyeBushForm>;

/** Length of the flange along the axis; 0 without one. */
function flangeLength_mm(part: Bush): number {
  return part.flange_mm === undefined ? 0 : (part.flange_length_mm ?? 0);
}

/** Half of the thinnest wall that an edge is broken from. */
function mostEdge_mm(part: Bush): number {
  const step = flangeLength_mm(part);
  return Math.min((part.outside_mm - part.bore_mm) / 2, step > 0 ? step : part.length_mm, part.length_mm - step) / 2;
}

const outside = keyed<Bush, 'outside_mm'>('outside_mm', {
  wears: {
    toward: -1,
    limit: {
      value: LIMITS.bearingFit_mm.value,
      source: `${LIMITS.bearingFit_mm.source}: beyond it what turns on the bush is loose`,
    },
  },
  place: (part) => across('outside-jaws', part.outside_mm, (flangeLength_mm(part) + part.length_mm) / 2),
});

const flanged: Omit<PartEntry<Bush>, 'noun' | 'hint' | 'sample'> = {
  family: 'ring',
  stands: ['loose'],
  fillsGap: true,
  sizes: {
    outside_mm: outside,
    large_mm: size('large_mm', {
      word: 'flange',
      short: 'Flange',
      how: 'Close the outside jaws across the edge of the flange',
      compared: ['narrower across the flange', 'wider across the flange'],
      get: (part) => part.flange_mm,
      reads: (part) => exact(part.flange_mm ?? part.outside_mm),
      set: (part, to_mm) => (part.flange_mm === undefined ? undefined : { ...part, flange_mm: to_mm }),
      place: (part) => across('outside-jaws', part.flange_mm ?? part.outside_mm, 0),
    }),
    bore_mm: keyed('bore_mm', { wears: WEAR.wider, place: (part) => across('inside-jaws', part.bore_mm, 0) }),
    length_mm: keyed('length_mm', {
      wears: WEAR.shorter,
      place: (part) => along('outside-jaws', (part.outside_mm + part.bore_mm) / 4, 0, part.length_mm),
    }),
    small_mm: repeated('small_mm', outside, {
      place: (part) => across('outside-jaws', part.outside_mm, part.length_mm),
    }),
  },
  told: ['length_mm', 'outside_mm', 'bore_mm'],
  fitting_mm: (part) => part.bore_mm,
  smallFace: (part) => (part.flange_mm === undefined ? undefined : 'second'),
  profile: (part, { edge_mm } = ASSUMED) => {
    const [bore, tube, flange] = [part.bore_mm / 2, part.outside_mm / 2, (part.flange_mm ?? part.outside_mm) / 2];
    const [length, step] = [part.length_mm, flangeLength_mm(part)];
    const edge = part.chamfer_mm ?? Math.min(edge_mm, (2 * mostEdge_mm(part)) / 3);
    const polygon =
      step === 0
        ? tubePolygon(bore, tube, 0, length, { inner: edge, outer: edge })
        : withoutRepeats([
            [bore, edge],
            [bore + edge, 0],
            [flange - edge, 0],
            [flange, edge],
            [flange, step],
            [tube, step],
            [tube, length - edge],
            [tube - edge, length],
            [bore + edge, length],
            [bore, length - edge],
          ]);
    return {
      solids: [{ role: 'body', material: part.material, polygon }],
      from_mm: 0,
      to_mm: length,
      hasTwoWays: step > 0,
    };
  },
  check: (part) => [
    ...within(['bore_mm', part.bore_mm], ['outside_mm', part.outside_mm]),
    ...noMore(['chamfer_mm', part.chamfer_mm ?? 0], Math.max(0, mostEdge_mm(part)), 'half the wall'),
    ...checkFlange(part),
  ],
  planes: (part) => [
    ...(flangeLength_mm(part) > 0 ? [{ id: 'flange', kind: 'step', z_mm: flangeLength_mm(part) } as const] : []),
    { id: 'length', kind: 'length', z_mm: part.length_mm, tol_mm: part.length_tol_mm },
  ],
};

/** The plain bush. */
export const bush: PartEntry<Bush> = {
  ...flanged,
  noun: { one: 'plain bush', many: 'plain bushes' },
  hint: 'plain bearing, with a flange or without',
  sample: {
    kind: 'bush',
    name: 'Plain bush',
    outside_mm: 16,
    bore_mm: 12,
    length_mm: 12,
    flange_mm: 22,
    flange_length_mm: 2,
    material: 'acetal',
  },
};

/** The reducer of a shock eye. */
export const reducer: PartEntry<Bush> = {
  ...flanged,
  noun: { one: 'reducer', many: 'reducers' },
  hint: 'tube for a shock eye, a shoulder outside',
  faceName: 'tube',
  sample: {
    kind: 'reducer',
    name: 'Reducer half',
    outside_mm: 12.68,
    bore_mm: 8.1,
    length_mm: 20,
    flange_mm: 20,
    flange_length_mm: 9,
    material: 'aluminium-7075',
  },
};

/** The bush of an eye. */
export const eyeBush: PartEntry<EyeBush> = {
  noun: { one: 'eye bush', many: 'eye bushes' },
  hint: 'thin bush pressed into an eye',
  sample: {
    kind: 'eye-bush',
    name: 'Eye bush',
    outside_mm: 15.05,
    bore_mm: 12.78,
    length_mm: 12,
    lining: 'dry-composite',
    material: 'steel',
  },
  family: 'lining',
  stands: ['bore'],
  lines: ({ outside_mm, bore_mm, length_mm, lining }) => ({
    outside_mm,
    bore_mm,
    length_mm,
    pressure: LINING_PRESSURE[lining],
  }),
  ...tube<EyeBush>({ toward: 1, limit: LIMITS.bushFit_mm }),
};

function checkFlange({ flange_mm: wide, flange_length_mm: step, outside_mm, length_mm }: Bush): Contradiction[] {
  if (wide === undefined && step === undefined) return [];
  if (wide === undefined || step === undefined) {
    const key = wide === undefined ? 'flange_mm' : 'flange_length_mm';
    return [{ code: 'missing', key, met: undefined, allowed: 'flange_mm and flange_length_mm together, or neither' }];
  }
  return [
    ...within(['outside_mm', outside_mm], ['flange_mm', wide]),
    ...within(['flange_length_mm', step], ['length_mm', length_mm]),
  ];
}
