/**
 * O-ring and dust seal: rubber that keeps dirt out and carries no force. Each lies on the bearing or boss next to it in
 * the row and is squeezed by what stands on its other side.
 *
 * An O-ring is drawn with 16 flats, its thickness true across them. Unturned, the lip of a dust seal looks to the drive
 * side; drawn free, so that what squeezes it overlaps it.
 */
import * as z from 'zod';
import { LIMITS } from '../limits.ts';
import type { Corner } from '../profile/solid.ts';
import { within } from './contradictions.ts';
import type { PartEntry } from './entry.ts';
import { common, lengthTol, material, size_mm } from './fields.ts';
import { across, along, exact, keyed, repeated, size } from './sizes.ts';

/** An O-ring in the model file. */
export const oRingForm = z.strictObject({
  kind: z.literal('o-ring'),
  ...common,
  bore_mm: size_mm.describe('inside diameter, not stretched'),
  length_mm: size_mm.describe('thickness of the cord while free'),
  ...lengthTol,
  material,
});

/** A dust seal in the model file. */
export const dustSealForm = z.strictObject({
  kind: z.literal('dust-seal'),
  ...common,
  outside_mm: size_mm,
  bore_mm: size_mm,
  length_mm: size_mm.describe('whole length while free, lip included'),
  ...lengthTol,
  lip_mm: size_mm.describe('how far the free lip stands off the body; unturned it looks to the drive side'),
  material,
});

type ORing = z.output<typeof oRingForm>;
type DustSeal = z.output<typeof dustSealForm>;

const FLATS = 16;

/** The O-ring. */
export const oRing: PartEntry<ORing> = {
  noun: { one: 'O-ring', many: 'O-rings' },
  hint: 'round rubber cord',
  sample: { kind: 'o-ring', name: 'O-ring', bore_mm: 18, length_mm: 2, material: 'nitrile-rubber' },
  family: 'seal',
  stands: ['loose'],
  seals: ({ length_mm }) => ({
    gives_mm: length_mm,
    least: LIMITS.cordSqueezeLeast,
    most: LIMITS.cordSqueezeMost,
  }),
  sizes: {
    length_mm: keyed('length_mm', {
      word: 'thickness of the cord',
      short: 'Cord',
      how: 'Close the outside jaws on the cord until they just touch it',
      compared: ['thinner in the cord', 'thicker in the cord'],
      place: (part) => along('outside-jaws', (part.bore_mm + part.length_mm) / 2, 0, part.length_mm),
    }),
    bore_mm: keyed('bore_mm', { place: (part) => across('inside-jaws', part.bore_mm, part.length_mm / 2) }),
    outside_mm: size('outside_mm', {
      get: () => undefined,
      reads: (part) => exact(part.bore_mm + 2 * part.length_mm),
      isAsked: false,
      place: (part) => across('outside-jaws', part.bore_mm + 2 * part.length_mm, part.length_mm / 2),
    }),
  },
  told: ['length_mm', 'bore_mm'],
  fitting_mm: (part) => part.bore_mm,
  profile: ({ bore_mm, length_mm, material: made }) => {
    const half = length_mm / 2;
    const polygon = Array.from({ length: FLATS }, (_, k): Corner => {
      const angle = (2 * Math.PI * (k + 0.5)) / FLATS;
      const corner = half / Math.cos(Math.PI / FLATS);
      return [bore_mm / 2 + half + corner * Math.cos(angle), half + corner * Math.sin(angle)];
    });
    return {
      solids: [{ role: 'seal', material: made, polygon }],
      from_mm: 0,
      to_mm: length_mm,
      hasTwoWays: false,
    };
  },
  check: (part) => within(['length_mm', part.length_mm], ['bore_mm', part.bore_mm]),
  planes: (part) => [{ id: 'length', kind: 'length', z_mm: part.length_mm, tol_mm: part.length_tol_mm }],
};

const outside = keyed<DustSeal, 'outside_mm'>('outside_mm', {
  place: (part) => across('outside-jaws', part.outside_mm, (part.length_mm - part.lip_mm) / 2),
});

/** The dust seal. */
export const dustSeal: PartEntry<DustSeal> = {
  noun: { one: 'dust seal', many: 'dust seals' },
  hint: 'rubber ring with a lip',
  sample: {
    kind: 'dust-seal',
    name: 'Dust seal',
    outside_mm: 28,
    bore_mm: 20,
    length_mm: 4,
    lip_mm: 1.5,
    material: 'nitrile-rubber',
  },
  family: 'seal',
  stands: ['loose'],
  seals: ({ lip_mm }) => ({ gives_mm: lip_mm, least: LIMITS.lipSqueezeLeast, most: LIMITS.lipSqueezeMost }),
  sizes: {
    outside_mm: outside,
    bore_mm: keyed('bore_mm', { place: (part) => across('inside-jaws', part.bore_mm, 0) }),
    length_mm: keyed('length_mm', {
      how: 'Close the outside jaws until the lip just touches, and press no further',
      place: (part) => along('outside-jaws', part.outside_mm / 2 - lipEdge_mm(part) / 2, 0, part.length_mm),
    }),
    large_mm: repeated('large_mm', outside, { place: (part) => across('outside-jaws', part.outside_mm, 0) }),
  },
  told: ['length_mm', 'outside_mm', 'bore_mm'],
  fitting_mm: (part) => part.bore_mm,
  smallFace: () => 'second',
  faceName: 'lip',
  profile: (part) => {
    const [bore, wide, length] = [part.bore_mm / 2, part.outside_mm / 2, part.length_mm];
    const body = length - part.lip_mm;
    return {
      solids: [
        {
          role: 'seal',
          material: part.material,
          polygon: [
            [bore, 0],
            [wide, 0],
            [wide, body],
            [(bore + wide) / 2, body],
            [wide, length],
            [wide - lipEdge_mm(part), length],
            [bore, body],
          ],
        },
      ],
      from_mm: 0,
      to_mm: length,
      hasTwoWays: true,
    };
  },
  check: (part) => [
    ...within(['bore_mm', part.bore_mm], ['outside_mm', part.outside_mm]),
    ...within(['lip_mm', part.lip_mm], ['length_mm', part.length_mm]),
  ],
  planes: (part) => [
    { id: 'body', kind: 'step', z_mm: part.length_mm - part.lip_mm },
    { id: 'length', kind: 'length', z_mm: part.length_mm, tol_mm: part.length_tol_mm },
  ],
};

/** Width of the lip's edge, mm: a quarter of the wall, an estimate of ours. */
function lipEdge_mm(part: DustSeal): number {
  return (part.outside_mm - part.bore_mm) / 8;
}
