/**
 * Headed parts with a shank and a thread: the axle, the bolt, the screw, and the sleeve, whose thread is inside its
 * tip.
 */
import * as z from 'zod';
import { withoutRepeats } from '../profile/polygon.ts';
import { impossible, landFits, noMore, within, type Contradiction } from './contradictions.ts';
import type { PartEntry } from './entry.ts';
import { common, groove, material, size_mm, thread, tol_mm, type Thread } from './fields.ts';
import { across, along, crestBand, exact, size, threadSizes, WEAR, type CalliperPlace } from './sizes.ts';
import { SHAFT_SYMBOLS } from '../standards/fits.ts';
import type { Corner } from '../profile/solid.ts';

const head = z
  .strictObject({
    diameter_mm: size_mm,
    height_mm: size_mm,
    land_mm: size_mm.optional().describe('outside diameter of the raised annulus under the head'),
    land_height_mm: z.number().positive().max(20).optional(),
  })
  .describe('the flange of an axle, bolt, screw or sleeve; a land under it bears on the inner ring only');

const shank = z
  .array(
    z.strictObject({
      diameter_mm: size_mm,
      fit: z
        .enum(SHAFT_SYMBOLS)
        .optional()
        .describe('tolerance class of the diameter by ISO 286; without it the diameter is taken as measured'),
      diameter_tol_mm: tol_mm.describe('± tolerance of the diameter, where the drawing gives no class'),
      length_mm: size_mm,
    }),
  )
  .min(1)
  .max(12)
  .describe('cylinders from under the head to the tip; a waist or a step is one cylinder of another diameter');

const form = {
  ...common,
  head,
  shank,
  thread,
  tip_thread: thread
    .optional()
    .describe('a second, thinner thread on the last cylinder of the shank, for a lock nut; the first ends before it'),
  bore_mm: size_mm.optional().describe('bore of a hollow axle'),
  groove: groove.optional().describe('the groove of a circlip at its tip'),
  material,
};
/** A kind with this form. */
const formOf = <Kind extends string>(kind: Kind) => z.strictObject({ kind: z.literal(kind), ...form });

/** An axle in the model file. */
export const axleForm = formOf('axle');
/** A bolt in the model file. */
export const boltForm = formOf('bolt');
/** A screw in the model file. */
export const screwForm = formOf('screw');
/** A sleeve in the model file. */
export const sleeveForm = formOf('sleeve').describe(
  'headed tube with an inner thread at its tip: the first half of a two-piece axle',
);

/** A part with a head, a shank and a thread. */
export type Shanked =
  | z.output<typeof axleForm>
  | z.output<typeof boltForm>
  | z.output<typeof screwForm>
  | z.output<typeof sleeveForm>;

/** Length of a shank from under the head to the tip, mm. */
export function shankLength_mm(part: Shanked): number {
  return part.shank.reduce((sum, cylinder) => sum + cylinder.length_mm, 0);
}

/** Where the thread ends that holds the axle, mm from under the head: at the tip, or before a second thread. */
export function threadEnd_mm(part: Shanked): number {
  return shankLength_mm(part) - (part.tip_thread ? part.shank.at(-1)!.length_mm : 0);
}

function thickest_mm(part: Shanked): number {
  return Math.max(...part.shank.map(({ diameter_mm }) => diameter_mm));
}

/** Middle of the first of the thickest cylinders, mm from under the head. */
function thickestAt_mm(part: Shanked): number {
  const at = part.shank.findIndex(({ diameter_mm }) => diameter_mm === thickest_mm(part));
  const before = part.shank.slice(0, at).reduce((sum, { length_mm }) => sum + length_mm, 0);
  return before + part.shank[at]!.length_mm / 2;
}

function overThread(part: Shanked, jaws: CalliperPlace['jaws']): CalliperPlace {
  const length = threadEnd_mm(part);
  return along(jaws, part.thread.size_mm / 2, length - part.thread.length_mm, length);
}

const isTube = (part: Shanked): boolean => part.kind === 'sleeve';

const threads = threadSizes<Shanked>(
  {
    reads: (part) => crestBand(part.thread),
    place: (part) => across('outside-jaws', part.thread.size_mm, threadEnd_mm(part) - part.thread.length_mm / 2),
  },
  overThread,
);

const sizes: PartEntry<Shanked>['sizes'] = {
  length_mm: size('length_mm', {
    word: 'length under the head',
    code: 'under-head',
    how: 'Stand the end of the scale on the face under the head and run the depth rod to the tip',
    get: shankLength_mm,
    place: (part) => along('depth-rod', thickest_mm(part) / 2, 0, shankLength_mm(part)),
  }),
  outside_mm: size('outside_mm', {
    word: 'shank diameter',
    short: 'Shank',
    code: 'shank',
    how: 'Close the outside jaws on the thickest part of the shank, clear of the thread',
    compared: ['thinner in the shank', 'thicker in the shank'],
    wears: WEAR.thinner,
    get: thickest_mm,
    set: (part, to_mm) => {
      const before = thickest_mm(part);
      const resized = part.shank.map((own) => (own.diameter_mm === before ? { ...own, diameter_mm: to_mm } : own));
      return { ...part, shank: resized };
    },
    place: (part) => across('outside-jaws', thickest_mm(part), thickestAt_mm(part)),
  }),
  thread_length_mm: size('thread_length_mm', { get: (part) => part.thread.length_mm }),
  head_mm: size('head_mm', {
    get: (part) => part.head.diameter_mm,
    set: (part, to_mm) => ({ ...part, head: { ...part.head, diameter_mm: to_mm } }),
    place: (part, { from_mm }) => across('outside-jaws', part.head.diameter_mm, from_mm + part.head.height_mm / 2),
  }),
  head_height_mm: size('head_height_mm', { get: (part) => part.head.height_mm }),
  small_mm: size('small_mm', {
    word: 'face under the head',
    short: 'Land',
    code: 'land',
    how: 'Close the outside jaws across the face under the head that bears on the ring',
    compared: ['narrower across the face under the head', 'wider across the face under the head'],
    get: (part) => part.head.land_mm,
    reads: ({ head: own }) => exact(own.land_mm ?? own.diameter_mm),
    set: (part, to_mm) =>
      part.head.land_mm === undefined ? undefined : { ...part, head: { ...part.head, land_mm: to_mm } },
    place: ({ head: own }) =>
      own.land_mm === undefined
        ? across('outside-jaws', own.diameter_mm, -own.height_mm / 2)
        : across('outside-jaws', own.land_mm, -(own.land_height_mm ?? 0) / 2),
  }),
  land_height_mm: size('land_height_mm', {
    get: ({ head: own }) => (own.land_mm === undefined ? undefined : (own.land_height_mm ?? 0)),
  }),
  ...threads,
  bore_mm: size('bore_mm', {
    get: () => undefined,
    reads: (part) => (part.bore_mm === undefined ? undefined : exact(part.bore_mm)),
    place: (part, { from_mm }) =>
      part.bore_mm === undefined ? undefined : across('inside-jaws', part.bore_mm, from_mm),
  }),
};

/** What differs between the kinds with a head, a shank and a thread. */
type Own = Pick<PartEntry<Shanked>, 'hint' | 'stands'> &
  Partial<Pick<PartEntry<Shanked>, 'family' | 'thread' | 'isUncut' | 'isKnurled' | 'sizes'>>;

/**
 * An entry from what differs; the sample is told by its head, its cylinders (diameter by length) and its thread, mm.
 */
function entryOf(
  kind: Shanked['kind'],
  [diameter_mm, height_mm]: readonly [number, number],
  shankOf: readonly (readonly [number, number])[],
  [size_mm, threaded_mm]: readonly [number, number],
  { bore_mm, ...own }: Own & { readonly bore_mm?: number },
): PartEntry<Shanked> {
  return {
    ...shanked,
    noun: { one: kind, many: `${kind}s` },
    sample: {
      kind,
      name: kind[0]!.toUpperCase() + kind.slice(1),
      head: { diameter_mm, height_mm },
      shank: shankOf.map(([diameter, length_mm]) => ({ diameter_mm: diameter, length_mm })),
      thread: { size_mm, pitch_mm: 1, hand: 'right', length_mm: threaded_mm },
      ...(bore_mm === undefined ? {} : { bore_mm }),
      material: 'steel',
    },
    ...own,
  };
}

const shanked: Omit<PartEntry<Shanked>, 'noun' | 'hint' | 'sample' | 'stands'> = {
  family: 'shank',
  thread: 'outer',
  isUncut: true,
  sizes,
  told: ['length_mm', 'outside_mm', 'thread_mm'],
  fitting_mm: (part) => part.thread.size_mm,
  profile: (part) => {
    const wide = part.head.diameter_mm / 2;
    const landHeight = part.head.land_height_mm ?? 0;
    const back = -(part.head.height_mm + landHeight);
    const length = shankLength_mm(part);
    const bevel = Math.min(0.4, part.head.height_mm / 4);
    const outline: Corner[] = [
      [wide - bevel, back],
      [wide, back + bevel],
      [wide, -landHeight],
    ];
    if (part.head.land_mm !== undefined) outline.push([part.head.land_mm / 2, -landHeight], [part.head.land_mm / 2, 0]);
    let z_mm = 0;
    for (const cylinder of part.shank) {
      outline.push([cylinder.diameter_mm / 2, z_mm], [cylinder.diameter_mm / 2, z_mm + cylinder.length_mm]);
      z_mm += cylinder.length_mm;
    }
    const last = part.shank.at(-1)!;
    const tip = last.diameter_mm / 2;
    const bore = (part.bore_mm ?? 0) / 2;
    const wall = tip - (isTube(part) ? part.thread.size_mm / 2 : bore);
    const nose = Math.min(isTube(part) ? 0.2 : part.thread.pitch_mm / 2, 1, tip / 4, wall / 2, last.length_mm / 2);
    outline.pop();
    if (part.groove) {
      const { margin_mm, width_mm, diameter_mm } = part.groove;
      const [near, far] = [length - margin_mm - width_mm, length - margin_mm];
      outline.push([tip, near], [diameter_mm / 2, near], [diameter_mm / 2, far], [tip, far]);
    }
    outline.push([tip, length - nose], [tip - nose, length]);
    if (isTube(part)) {
      // The thread opens at the tip; behind it the hole goes on at its own bore, or ends.
      const threadStart = length - part.thread.length_mm;
      outline.push([part.thread.size_mm / 2, length], [part.thread.size_mm / 2, threadStart], [bore, threadStart]);
      outline.push([bore, back]);
    } else {
      outline.push([bore, length], [bore, back]);
    }
    return {
      solids: [{ role: 'land', material: part.material, polygon: withoutRepeats(outline) }],
      from_mm: back,
      to_mm: length,
      hasTwoWays: true,
    };
  },
  check,
  planes: (part) => {
    let end = 0;
    const steps = part.shank.map(({ length_mm }, k) => {
      end += length_mm;
      return { id: `step-${k + 1}`, kind: 'step', z_mm: end } as const;
    });
    const start = threadEnd_mm(part) - part.thread.length_mm;
    const land = part.head.land_height_mm;
    return [
      ...(land === undefined ? [] : [{ id: 'land-height', kind: 'land-height', z_mm: -land } as const]),
      ...steps,
      ...(start > 1e-9 && !steps.some(({ z_mm }) => Math.abs(z_mm - start) < 1e-9)
        ? [{ id: 'thread-start', kind: 'thread-start', z_mm: start } as const]
        : []),
    ];
  },
};

/** What an outer thread takes off its diameter, as a share of its pitch: the rounded root d3. */
const ROOT_per_pitch = 1.227;
/** A tip may be thicker than its thread by this much, mm: a shank is rolled or cut a little under its thread. */
const TIP_OFF_mm = 0.35;

function check(part: Shanked): Contradiction[] {
  const length = shankLength_mm(part);
  const thinnest = Math.min(...part.shank.map((cylinder) => cylinder.diameter_mm));
  const first = part.shank[0]!.diameter_mm;
  const { size_mm: name, pitch_mm: pitch } = part.thread;
  const found = [
    ...within(['shank[0].diameter_mm', first], ['head.diameter_mm', part.head.diameter_mm]),
    ...landFits(part.head, { inside: first, outside: part.head.diameter_mm }, 'head.'),
    ...noMore(['thread.length_mm', part.thread.length_mm], threadEnd_mm(part), 'the shank'),
    ...within(['thread.pitch_mm × 2', 2 * pitch], ['thread.size_mm', name]),
  ];
  if (part.bore_mm !== undefined) {
    const bore = ['bore_mm', part.bore_mm] as const;
    const limit = isTube(part) ? thinnest : Math.min(thinnest, name - ROOT_per_pitch * pitch);
    const where = isTube(part) ? 'the thinnest of the shank' : 'the thinnest of the shank and of the thread’s root';
    if (part.bore_mm >= limit) found.push(impossible(bore, `less than ${Math.round(limit * 1000) / 1000} (${where})`));
    if (isTube(part)) found.push(...noMore(bore, name, 'the thread it ends in'));
  }
  found.push(...checkGroove(part));
  if (isTube(part)) return [...found, ...checkTube(part, length)];
  const last = part.shank.length - 1;
  if (!part.tip_thread) return [...found, ...suits(part, last, part.thread)];
  const { size_mm, length_mm } = part.tip_thread;
  const before = part.shank[last - 1];
  return [
    ...found,
    ...(before
      ? suits(part, last - 1, part.thread)
      : [impossible(['shank', part.shank.length], 'two cylinders, one a thread')]),
    ...suits(part, last, part.tip_thread),
    ...within(['tip_thread.size_mm', size_mm], ['thread.size_mm', name]),
    ...noMore(['tip_thread.length_mm', length_mm], part.shank[last]!.length_mm, 'the last cylinder'),
  ];
}

/** A worn or reduced shank is thinner than its thread, but no thinner than what the thread leaves standing. */
function suits(part: Shanked, k: number, { size_mm, pitch_mm }: Thread): Contradiction[] {
  const { diameter_mm } = part.shank[k]!;
  const root = size_mm - ROOT_per_pitch * pitch_mm;
  if (diameter_mm <= size_mm + TIP_OFF_mm && diameter_mm >= root) return [];
  const least = Math.round(root * 1000) / 1000;
  const allowed = `from ${least} (the thread's root) to ${TIP_OFF_mm} more than the thread's size_mm (${size_mm})`;
  return [impossible([`shank[${k}].diameter_mm`, diameter_mm], allowed)];
}

function checkGroove({ groove: own, shank: cylinders, bore_mm = 0, thread: { pitch_mm } }: Shanked): Contradiction[] {
  if (!own) return [];
  const { diameter_mm, margin_mm, width_mm } = own;
  const last = cylinders.at(-1)!;
  return [
    ...within(['bore_mm', bore_mm], ['groove.diameter_mm', diameter_mm]),
    ...(diameter_mm < last.diameter_mm
      ? []
      : [impossible(['groove.diameter_mm', diameter_mm], `less than ${last.diameter_mm} (the tip)`)]),
    ...within(['half the pitch', pitch_mm / 2], ['groove.margin_mm', margin_mm]),
    ...noMore(['groove.width_mm', width_mm], last.length_mm - margin_mm, 'what the last cylinder leaves'),
  ];
}

/** Thickness of an outer thread's crests, mm: the tip as drawn, or the thread where the tip is drawn well under it. */
export function crest_mm(part: Shanked): number {
  const tip = part.shank.at(part.tip_thread ? -2 : -1)!.diameter_mm;
  return tip < part.thread.size_mm - TIP_OFF_mm && !isTube(part) ? part.thread.size_mm : tip;
}

/** Every cylinder that an inner thread runs under must be thicker than the thread. */
function checkTube(part: Shanked, length: number): Contradiction[] {
  let end = 0;
  return part.shank.flatMap((cylinder, k) => {
    end += cylinder.length_mm;
    const isOverThread = end > length - part.thread.length_mm - 1e-9;
    return isOverThread
      ? within(['thread.size_mm', part.thread.size_mm], [`shank[${k}].diameter_mm`, cylinder.diameter_mm])
      : [];
  });
}

/** The axle. */
export const axle = entryOf(
  'axle',
  [16, 3],
  [
    [10, 26],
    [8, 9],
  ],
  [8, 9],
  { hint: 'long, thread at the tip', stands: ['axle'] },
);

const INTO_A_THREAD = { stands: ['axle', 'receiver'], isKnurled: true } as const;

/** The bolt. */
export const bolt = entryOf(
  'bolt',
  [18, 5],
  [
    [11, 8],
    [9, 10],
  ],
  [9, 10],
  { hint: 'short, into a thread', ...INTO_A_THREAD },
);

/** The screw. */
export const screw = entryOf('screw', [20, 4], [[10, 14]], [10, 14], {
  hint: 'thread up to the head',
  ...INTO_A_THREAD,
});

/** The sleeve: what matters of a two-piece axle, its screw and how deep it sits, is inside, so it is cut. */
export const sleeve = entryOf('sleeve', [18, 3], [[13, 30]], [8, 12], {
  hint: 'thread inside the tip',
  stands: ['axle'],
  bore_mm: 6,
  family: 'sleeve',
  thread: 'inner',
  isUncut: false,
  sizes: {
    ...sizes,
    thread_mm: {
      ...threads.thread_mm,
      how: 'Open the inside jaws in the thread, or try a screw of known thread',
      reads: (part) => exact(part.thread.size_mm),
      place: (part) => across('inside-jaws', part.thread.size_mm, shankLength_mm(part)),
    },
  },
});
