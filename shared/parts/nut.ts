/**
 * The nut: a body with a thread through it, or into it where it is closed, and perhaps a land on its bearing face.
 */
import * as z from 'zod';
import { withoutRepeats } from '../profile/polygon.ts';
import { holeLimits, hasThreadLimits } from '../standards/thread-limits.ts';
import { landFits, noMore, within } from './contradictions.ts';
import type { PartEntry } from './entry.ts';
import { common, material, size_mm, thread } from './fields.ts';
import { across, along, exact, keyed, repeated, size, threadSizes, WEAR } from './sizes.ts';
import type { Corner } from '../profile/solid.ts';

/** A nut in the model file. */
export const nutForm = z.strictObject({
  kind: z.literal('nut'),
  ...common,
  outside_mm: size_mm,
  length_mm: size_mm.describe('whole length, land included'),
  land_mm: size_mm.optional(),
  land_height_mm: z.number().positive().max(20).optional(),
  thread,
  closed: z.boolean().optional().describe('a closed end stops the axle’s tip'),
  material,
});

type Nut = z.output<typeof nutForm>;

const outside = keyed<Nut, 'outside_mm'>('outside_mm', {
  place: (part) => across('outside-jaws', part.outside_mm, part.length_mm),
});
const threads = threadSizes<Nut>({ how: 'Try a screw of known thread, or read the size off the part' }, (part) =>
  along('pitch-gauge', part.thread.size_mm / 2, 0, part.thread.length_mm),
);

/** The nut. */
export const nut: PartEntry<Nut> = {
  noun: { one: 'nut', many: 'nuts' },
  hint: 'thread inside',
  sample: {
    kind: 'nut',
    name: 'Nut',
    outside_mm: 22,
    length_mm: 11,
    land_mm: 16,
    land_height_mm: 2,
    thread: { size_mm: 12, pitch_mm: 1.25, hand: 'right', length_mm: 11 },
    material: 'steel',
  },
  family: 'nut',
  stands: ['receiver', 'tip'],
  secures: 'thread',
  thread: 'inner',
  isUncut: true,
  sizes: {
    outside_mm: outside,
    length_mm: keyed('length_mm', {
      wears: WEAR.shorter,
      place: (part) =>
        along('outside-jaws', ((part.land_mm ?? part.outside_mm) + part.thread.size_mm) / 4, 0, part.length_mm),
    }),
    ...threads,
    thread_mm: { ...threads.thread_mm, place: threads.pitch_mm.place! },
    small_mm: size('small_mm', {
      short: 'Land',
      compared: ['narrower across the land', 'wider across the land'],
      code: 'land',
      get: (part) => part.land_mm,
      reads: (part) => exact(part.land_mm ?? part.outside_mm),
      set: (part, to_mm) => (part.land_mm === undefined ? undefined : { ...part, land_mm: to_mm }),
      place: (part) => across('outside-jaws', part.land_mm ?? part.outside_mm, 0),
    }),
    bore_mm: size('bore_mm', {
      word: 'hole of the thread',
      get: () => undefined,
      reads: ({ thread: own }) => {
        if (!hasThreadLimits(own.pitch_mm)) return undefined;
        const { low_mm, high_mm } = holeLimits(own);
        return [low_mm, low_mm, high_mm];
      },
      place: (part) => across('inside-jaws', part.thread.size_mm, 0),
    }),
    large_mm: repeated('large_mm', outside, {
      place: (part) => across('outside-jaws', part.outside_mm, part.length_mm),
    }),
    land_height_mm: size('land_height_mm', {
      get: (part) => (part.land_mm === undefined ? undefined : (part.land_height_mm ?? 0)),
    }),
  },
  told: ['length_mm', 'outside_mm', 'thread_mm'],
  fitting_mm: (part) => part.thread.size_mm,
  profile: (part) => {
    const hole = part.thread.size_mm / 2;
    const land = (part.land_mm ?? part.outside_mm) / 2;
    // A land as long as the nut leaves no flange.
    const isAllLand = part.land_mm !== undefined && (part.land_height_mm ?? 0) > part.length_mm - 1e-9;
    const wide = isAllLand ? land : part.outside_mm / 2;
    const height = part.land_mm === undefined || isAllLand ? 0 : (part.land_height_mm ?? 0);
    const edge = Math.min(0.4, (wide - hole) / 4, (part.length_mm - height) / 4);
    const corners: Corner[] = [
      [hole, 0],
      [land, 0],
    ];
    if (height > 0) corners.push([land, height], [wide, height]);
    corners.push([wide, part.length_mm - edge], [wide - edge, part.length_mm]);
    if (part.closed === true)
      corners.push([0, part.length_mm], [0, part.thread.length_mm], [hole, part.thread.length_mm]);
    else corners.push([hole, part.length_mm]);
    return {
      solids: [{ role: 'land', material: part.material, polygon: withoutRepeats(corners) }],
      from_mm: 0,
      to_mm: part.length_mm,
      hasTwoWays: true,
    };
  },
  check: (part) => [
    ...within(['thread.size_mm', part.thread.size_mm], ['outside_mm', part.outside_mm]),
    ...noMore(['thread.length_mm', part.thread.length_mm], part.length_mm, 'length_mm'),
    ...landFits(part, { inside: part.thread.size_mm, outside: part.outside_mm, length: part.length_mm }),
  ],
  planes: (part) => [
    ...(part.land_height_mm === undefined
      ? []
      : [{ id: 'land-height', kind: 'land-height', z_mm: part.land_height_mm } as const]),
    ...(part.closed === true
      ? [{ id: 'thread-depth', kind: 'thread-depth', z_mm: part.thread.length_mm } as const]
      : []),
    { id: 'length', kind: 'length', z_mm: part.length_mm },
  ],
};
