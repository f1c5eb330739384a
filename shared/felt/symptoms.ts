/**
 * What can be asked of a pivot: what a hand feels and an eye sees while it is tight, what the wrench did, and what shows
 * once it is open. Each has its minutes, and what is open is counted with the axles that must come out for it.
 */
import type { Judged } from '../findings/judge.ts';
import { partProfile } from '../parts/kinds.ts';
import { FELT_LIMITS } from './limits.ts';

/** Felt at a pivot, whether it comes from there or from the next one. */
export const CARRIED = ['tight', 'notchy', 'rough', 'side-play', 'up-down-play', 'falls-not', 'clicks'] as const;
/** Said without taking anything apart, in the order a list shows them. */
export const FELT_CODES = [
  ...CARRIED,
  'stops-short',
  'rubs',
  'will-not-go',
  'thread-proud',
  'thread-short',
  'gap',
  'left-over',
  'missing',
  'early',
  'late',
  'never',
] as const;
/** What a closer look at one part, axle or neighbour tells. */
export const LOOK_CODES = [
  'head-side',
  'turns-on',
  'slackens-hard',
  'elsewhere',
  'facing',
  'other-size',
  'proud',
  'rough-alone',
  'seat',
  'bent',
  'thread',
  'dirt',
] as const;
/** Something that can be asked with yes, no or cannot say. */
export type SymptomCode = (typeof FELT_CODES)[number] | (typeof LOOK_CODES)[number];

/** Those that are felt at one side; without a side, on either. */
export const SIDED: readonly SymptomCode[] = ['rubs', 'gap'];

/** Minutes of each by itself; common practice, no source. */
const MINUTES: Readonly<Record<SymptomCode, number>> = {
  tight: 0.3,
  notchy: 0.3,
  rough: 0.3,
  'side-play': 0.3,
  'up-down-play': 0.5,
  'falls-not': 1,
  'stops-short': 0.5,
  rubs: 0.5,
  clicks: 1,
  'will-not-go': 0.2,
  'thread-proud': 0.3,
  'thread-short': 0.3,
  gap: 0.3,
  'left-over': 0.5,
  missing: 0.5,
  early: 0.2,
  late: 0.2,
  never: 0.2,
  'head-side': 0.2,
  'turns-on': 1,
  'slackens-hard': 2,
  elsewhere: 2,
  facing: 0.5,
  'other-size': 1,
  proud: 1,
  'rough-alone': 0.5,
  seat: 0.5,
  bent: 1,
  thread: 0.5,
  dirt: 0.5,
};

/** Those that need the pivot open. */
const OPEN: readonly SymptomCode[] = ['facing', 'other-size', 'proud', 'rough-alone', 'seat', 'bent', 'thread', 'dirt'];

/** One thing to ask: a symptom, and at which side, item (`stack/row`), stack or neighbouring pivot. */
export interface Ask {
  /** `code` or `code:at`. */
  readonly key: string;
  readonly code: SymptomCode;
  readonly at?: string;
  readonly minutes: number;
  /** The stack that has to be open for it. */
  readonly opens?: string;
  /** Axles that come out for that, this one's included. */
  readonly axles?: number;
  /** Key of the ask that this one asks once more: a second look that knows nothing of the first. */
  readonly again?: string;
}

/** Key of asking once more. */
const againOf = (key: string): string => `again ${key}`;

/** Key of a symptom at a place. */
export function askKey(code: SymptomCode, at?: string): string {
  return at === undefined ? code : `${code}:${at}`;
}

/**
 * Everything that can be asked of a pivot as written; `axlesFor` says how many axles come out before that of a stack is
 * free, itself included.
 */
export function asksOf(
  { joint }: Pick<Judged, 'joint'>,
  neighbours: readonly string[],
  axlesFor: (stackId: string) => number,
): readonly Ask[] {
  const asks: Ask[] = [];
  const add = (code: SymptomCode, at?: string, stack?: string): void => {
    const isOpened = stack !== undefined && OPEN.includes(code);
    const key = askKey(code, at);
    const ask = {
      code,
      ...(at === undefined ? {} : { at }),
      minutes: MINUTES[code],
      ...(isOpened ? { opens: stack, axles: axlesFor(stack) } : {}),
    };
    asks.push({ key, ...ask });
    // What one look at an open pivot has settled is looked at twice before parts are bought for it.
    if (isOpened) asks.push({ key: againOf(key), ...ask, again: key });
  };
  for (const code of FELT_CODES)
    if (SIDED.includes(code)) for (const side of ['non-drive', 'drive']) add(code, side);
    else add(code);
  for (const { stack, items, receiver } of joint.stacks) {
    for (const code of ['head-side', 'turns-on', 'slackens-hard'] as const) add(code, stack.id);
    for (const item of items) {
      const { made } = item;
      if (!made) continue;
      if (item.role === 'spacer' ? partProfile(made).hasTwoWays : item === receiver && 'land_mm' in made)
        add('facing', item.id, stack.id);
      add('other-size', item.id, stack.id);
      if (item.role === 'bearing')
        for (const code of ['proud', 'rough-alone', 'seat'] as const) add(code, item.id, stack.id);
    }
    add('bent', stack.id, stack.id);
    add('thread', stack.id, stack.id);
    add('dirt', stack.id, stack.id);
  }
  for (const pivot of neighbours) add('elsewhere', pivot);
  return asks;
}

/**
 * Minutes a check takes now: a pivot that is open for another check already costs its axles no second time. `anyway` is
 * the chance that the axle has to come out all the same, to put right what is wrong: that much is no cost of the check.
 */
export function minutesOf(ask: Ask, open: ReadonlySet<string>, anyway = 0): number {
  const axles = ask.opens === undefined || open.has(ask.opens) ? 0 : ask.axles!;
  return ask.minutes + FELT_LIMITS.answer_min.value + axles * FELT_LIMITS.axle_min.value * (1 - anyway);
}
