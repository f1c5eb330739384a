/**
 * What is put on an axle's tip and tightened there, beyond what receives the axle: the split clamp, a collar with a slot
 * and a bolt of its own, and the expander, a cone that is drawn into a hollow tip and spreads it in its bore. Unturned,
 * the cone's thick end looks to the drive side.
 */
import * as z from 'zod';
import { withoutRepeats } from '../profile/polygon.ts';
import { noMore, within } from './contradictions.ts';
import type { PartEntry } from './entry.ts';
import { chamfer_mm, common, lengthTol, material, size_mm, thread } from './fields.ts';
import { across, along, keyed, size, threadSizes } from './sizes.ts';
import { tube } from './tube.ts';

/** A split clamp in the model file. */
export const splitClampForm = z.strictObject({
  kind: z.literal('split-clamp'),
  ...common,
  outside_mm: size_mm.describe('outside diameter of the collar, without the lugs of its bolt'),
  bore_mm: size_mm.describe('bore while its bolt is loose'),
  length_mm: size_mm,
  ...lengthTol,
  slot_mm: size_mm.describe('width of the slot, which its bolt closes'),
  chamfer_mm,
  material,
});

/** An expander in the model file. */
export const expanderForm = z.strictObject({
  kind: z.literal('expander'),
  ...common,
  small_mm: size_mm.describe('thin end of the cone'),
  large_mm: size_mm.describe('thick end of the cone'),
  length_mm: size_mm,
  ...lengthTol,
  thread: thread.describe('thread of the screw that draws it in'),
  material,
});

type SplitClamp = z.output<typeof splitClampForm>;
type Expander = z.output<typeof expanderForm>;

const CLAMP = tube<SplitClamp>();

/** The split clamp. */
export const splitClamp: PartEntry<SplitClamp> = {
  noun: { one: 'split clamp', many: 'split clamps' },
  hint: 'slotted collar with its own bolt',
  sample: {
    kind: 'split-clamp',
    name: 'Split clamp',
    outside_mm: 26,
    bore_mm: 15.05,
    length_mm: 8,
    slot_mm: 1.5,
    material: 'aluminium-7075',
  },
  family: 'collar',
  stands: ['tip'],
  secures: 'clamp',
  ...CLAMP,
  check: (part) => [...CLAMP.check(part), ...noMore(['slot_mm', part.slot_mm], part.bore_mm / 2, 'half the bore')],
};

/** The expander. */
export const expander: PartEntry<Expander> = {
  noun: { one: 'expander', many: 'expanders' },
  hint: 'cone that spreads a hollow tip',
  sample: {
    kind: 'expander',
    name: 'Expander',
    small_mm: 8,
    large_mm: 12,
    length_mm: 12,
    thread: { size_mm: 6, pitch_mm: 1, hand: 'right', length_mm: 10 },
    material: 'steel',
  },
  family: 'cone',
  stands: ['tip'],
  secures: 'cone',
  sizes: {
    large_mm: keyed('large_mm', { place: (part) => across('outside-jaws', part.large_mm, part.length_mm) }),
    small_mm: keyed('small_mm', { place: (part) => across('outside-jaws', part.small_mm, 0) }),
    length_mm: keyed('length_mm', { place: (part) => along('outside-jaws', part.small_mm / 4, 0, part.length_mm) }),
    ...threadSizes<Expander>({ place: (part) => across('inside-jaws', part.thread.size_mm, 0) }, (part, jaws) =>
      along(jaws, part.thread.size_mm / 2, 0, Math.min(part.thread.length_mm, part.length_mm)),
    ),
    outside_mm: size('outside_mm', {
      get: () => undefined,
      reads: (part) => [part.large_mm, part.large_mm, part.large_mm],
      isAsked: false,
      place: (part) => across('outside-jaws', part.large_mm, part.length_mm),
    }),
  },
  told: ['large_mm', 'small_mm', 'thread_mm'],
  fitting_mm: (part) => part.large_mm,
  smallFace: () => 'first',
  profile: (part) => ({
    solids: [
      {
        role: 'body',
        material: part.material,
        polygon: withoutRepeats([
          [0, 0],
          [part.small_mm / 2, 0],
          [part.large_mm / 2, part.length_mm],
          [0, part.length_mm],
        ]),
      },
    ],
    from_mm: 0,
    to_mm: part.length_mm,
    hasTwoWays: true,
  }),
  check: (part) => [
    ...within(['small_mm', part.small_mm], ['large_mm', part.large_mm]),
    ...within(['thread.size_mm', part.thread.size_mm], ['small_mm', part.small_mm]),
  ],
  planes: (part) => [{ id: 'length', kind: 'length', z_mm: part.length_mm, tol_mm: part.length_tol_mm }],
};
