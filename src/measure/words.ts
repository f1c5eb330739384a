/**
 * Words of measuring up that belong to its page alone.
 */
import type { CompareTool, Member, SizeOrigin, Stack } from '../../shared/index.ts';

/** Where a size is from: on the list of choices, and beside the number. */
export const FROM_WORDS: Readonly<Record<SizeOrigin, { readonly name: string; readonly brief: string }>> = {
  measured: { name: 'Measured', brief: 'measured' },
  manual: { name: 'Frame maker’s manual', brief: 'manual' },
  standard: { name: 'A standard', brief: 'standard' },
  guess: { name: 'A guess', brief: 'a guess' },
};

/** Least and most that a field takes; what is further off is a slip of the finger. */
export const SIZE_BOUNDS: Readonly<Record<'mm' | 'N·m', readonly [least: number, most: number]>> = {
  mm: [0.01, 400],
  N·m: [0.1, 200],
};

/** Kinds of member, for the list of choices. */
export const MEMBER_WORDS: Readonly<Record<Member['kind'], string>> = {
  frame: 'Frame',
  swingarm: 'Swing arm',
  chainstay: 'Chainstay',
  seatstay: 'Seatstay',
  rocker: 'Rocker',
  link: 'Link',
  'shock-body': 'Shock body',
  'shock-shaft': 'Shock shaft',
};

/** Treatments of a thread, for the list of choices. */
export const TREATMENT_WORDS: Readonly<Record<Stack['thread_treatment'], string>> = {
  dry: 'Dry',
  oiled: 'Oiled',
  greased: 'Greased',
  threadlocked: 'Threadlocker',
  'anti-seize': 'Anti-seize paste',
};

/** Tools, for the list of choices. */
export const TOOL_WORDS = {
  'hex-key': 'Hex key',
  'star-key': 'Star key',
  spanner: 'Spanner',
  'pin-spanner': 'Pin spanner',
  'cassette-socket': 'Cassette socket',
} as const;

/** What a comparison reads: where the sizes before “against” are more than those after it, and where they are less. */
export const SENSE_WORDS: Readonly<Record<CompareTool, readonly [more: string, less: string]>> = {
  gauge: ['Loose by', 'Tight by'],
  'straight-edge': ['A gap of', 'Too long by'],
  feeler: ['A gap of', 'Too long by'],
  'depth-rod': ['Deeper by', 'Proud by'],
  'outside-jaws': ['More by', 'Less by'],
  'inside-jaws': ['More by', 'Less by'],
};

/** What measuring up says of itself. */
export const MEASURE_WORDS = {
  begin: 'Pick how your pivot is held together. It comes with usual sizes, each a guess, and you measure from there.',
  pick: 'Tap a part in the section or in its row to see its sizes.',
  contradict: 'Look at the questions first: with these sizes the row cannot be drawn.',
  gone: 'This draft is not on this device. Begin another one, or open its file.',
  badFile: 'This file is no draft that can be opened',
  remove: 'Save it first if you may want it again: what is removed is gone, in every tab.',
  weighing: 'Weighing what every size would settle…',
  compare: 'A difference read at once tells more than two lengths: where a verdict hangs on it, enter it here.',
  nothingRead: 'Measure first: no size of this draft was read with a calliper yet.',
  second: 'Let somebody else take these sizes, without a look at the first reading.',
  nothingMore: 'No reading settles more. Look at the sizes in question with the part in your hand.',
  settled: 'Nothing is left to measure: every verdict is settled.',
} as const;
