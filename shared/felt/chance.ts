/**
 * From what there is to notice to the chance that it is noticed: each amount against the threshold of a hand, an eye or
 * a calliper, which differ from one to the next by a factor (log-normal); what is no amount has a chance by itself.
 */
import { logShareBelow } from '../numbers/normal.ts';
import { MISTAKE_LIMITS } from '../mistakes/limits.ts';
import { LEAST_STATIC_SAFETY } from '../standards/static-load.ts';
import type { Side } from '../model/schema.ts';
import { FELT_LIMITS } from './limits.ts';
import type { Signs } from './signs.ts';
import type { Ask, SymptomCode } from './symptoms.ts';

/** Grounds for a yes: an amount over its threshold with the factor by which both differ, or a chance. */
export type Ground = { readonly times: number; readonly differ: number } | { readonly chance: number };

const L = FELT_LIMITS;
const amount = (value: number, threshold: number, differ: number = L.differ.value): Ground => ({
  times: value / threshold,
  differ,
});

/** Chance that one ground alone gives a yes. */
function chanceOf(ground: Ground): number {
  if ('chance' in ground) return ground.chance;
  const { times, differ } = ground;
  return times <= 0 ? 0 : times === Infinity ? 1 : Math.exp(logShareBelow(Math.log(times) / Math.log(differ)));
}

/** The chance of a yes by any of the grounds, with an answer's own slip. */
export function yesOf(grounds: readonly Ground[]): number {
  const none = grounds.reduce((share, ground) => share * (1 - chanceOf(ground)), 1);
  return slipped(1 - none);
}

/** A chance as the answers show it: now and then one says other than what is so. */
export function slipped(chance: number): number {
  const slip = L.slip.value;
  return slip + (1 - 2 * slip) * chance;
}

/** How sure a hand is of what shows at once when looked for. */
const SHOWS = 0.95;
const when = (is: boolean, chance: number = SHOWS): Ground[] => (is ? [{ chance }] : []);

/** Why a build with these signs would be answered with a yes; empty for no reason. */
export function groundsFor({ code, at }: Pick<Ask, 'code' | 'at'>, signs: Signs): readonly Ground[] {
  return GROUNDS[code](signs, at ?? '');
}

const FALLS: Readonly<Record<Signs['letGo'], number>> = {
  falls: 0,
  either: 0.3,
  sticks: SHOWS,
  'too-light': 0.5,
  'no-weight': 0.5,
};
const RUBS = { hard: 0.9, grazes: 0.3 } as const;

type Rule = (signs: Signs, at: string) => readonly Ground[];
const isTight = ({ drag_Nm, dragSpread }: Signs): Ground =>
  amount(drag_Nm, MISTAKE_LIMITS.felt_Nm.value, L.differ.value * Math.sqrt(dragSpread));

/** Each symptom by its grounds; chances without an amount are common practice, no source. */
const GROUNDS: Readonly<Record<SymptomCode, Rule>> = {
  tight: (signs) => [isTight(signs), ...when(signs.goes === 'by-force', 0.2)],
  notchy: ({ safety }) => [amount(LEAST_STATIC_SAFETY, safety)],
  rough: ({ safety }) => [{ chance: 0.3 * chanceOf(amount(LEAST_STATIC_SAFETY, safety)) }],
  'side-play': ({ play_mm }) => [amount(play_mm, L.play_mm.value)],
  'up-down-play': ({ play_mm, isRingLoose }) => when(isRingLoose && play_mm > 0, 0.3),
  'falls-not': ({ letGo }) => when(true, FALLS[letGo]),
  'stops-short': (signs) => [{ chance: 0.2 * chanceOf(isTight(signs)) }],
  rubs: ({ rubs }, side) =>
    rubs.flatMap((one) => (one.side === side ? [{ chance: one.force_N > 1 ? RUBS.hard : RUBS.grazes }] : [])),
  clicks: ({ isRingLoose, lost }) => [...when(isRingLoose, 0.5), { chance: 0.4 * lost }],
  'will-not-go': ({ goes }) => when(goes !== 'yes'),
  'thread-proud': ({ proud_mm }) => [amount(proud_mm, L.proud_mm.value)],
  'thread-short': ({ short_mm }) => [amount(short_mm, L.proud_mm.value)],
  gap: ({ slot_mm, standsOff_mm }, side) => [
    amount(slot_mm[side as Side], L.slot_mm.value),
    amount(standsOff_mm[side as Side], L.standsOff_mm.value),
  ],
  'left-over': ({ leftOver }) => when(leftOver > 0, Math.min(SHOWS, leftOver)),
  missing: ({ missing }) => when(missing > 0, Math.min(SHOWS, missing)),
  early: ({ isEarly }) => when(isEarly, 0.6),
  late: ({ lateTurns }) => [amount(lateTurns, L.turn.value)],
  never: ({ neverStarts }) => when(neverStarts, 0.6),
  'head-side': ({ otherSide }, stack) => when(otherSide.includes(stack)),
  'turns-on': ({ torqueShare }, stack) => when((torqueShare[stack] ?? 1) < 1),
  'slackens-hard': ({ torqueShare }, stack) => when((torqueShare[stack] ?? 1) > 1, 0.85),
  elsewhere: () => [],
  facing: ({ turned }, item) => when(turned.includes(item)),
  'other-size': ({ size_mm }, item) => {
    const by_mm = size_mm[item] ?? 0;
    return by_mm === Infinity ? when(true) : [amount(by_mm, L.calliper_mm.value)];
  },
  proud: ({ proud }, item) => when(proud.includes(item)),
  'rough-alone': () => [],
  seat: () => [],
  bent: () => [],
  thread: () => [],
  dirt: () => [],
};

/**
 * What wear and damage give to notice, by the kind and whether it is the same part that is looked at: chances, common
 * practice, no source.
 */
export const DAMAGE = {
  'bearing-worn': {
    tight: 0.2,
    notchy: 0.5,
    rough: 0.6,
    'side-play': 0.3,
    'up-down-play': 0.6,
    'falls-not': 0.15,
    clicks: 0.4,
    'rough-alone': 0.92,
  },
  'seat-loose': { clicks: 0.6, 'up-down-play': 0.6, 'side-play': 0.2, seat: 0.92 },
  'axle-bent': { tight: 0.3, rough: 0.4, 'falls-not': 0.3, 'will-not-go': 0.5, bent: 0.92 },
  'thread-stretched': { clicks: 0.2, 'thread-proud': 0.3, late: 0.4, never: 0.7, thread: 0.9 },
  grit: { tight: 0.3, rough: 0.5, 'falls-not': 0.2, clicks: 0.2, late: 0.2, dirt: 0.92 },
} as const satisfies Record<string, Partial<Record<SymptomCode, number>>>;
