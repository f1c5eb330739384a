/**
 * What a job takes for granted: when a seat is oval, how old a calibration may be, when one looks again, how much of a
 * consumable a step takes and how long a step takes. Estimates and habits of a workshop, none from a standard unless
 * its source says so.
 */
import type { Limit } from '../limits.ts';
import type { PlanStepKind } from '../order/tasks.ts';
import type { StripOnlyKind } from '../order/strip.ts';

const PRACTICE = 'common practice, no source';
const HOUSE = 'our own rule, no source';

/** Limits of a job, each with its source. Held value by value in the tests. */
export const JOB_LIMITS = {
  /** Difference of a seat across one way and the other from which it is oval, mm. */
  oval_mm: { value: 0.03, source: `${HOUSE}: twice what a bore gauge in a warm hand is off` },
  /** Age of a torque wrench's calibration from which its clicks are not relied on, days. */
  calibration_d: { value: 365, source: 'ISO 6789 asks for a check every 12 months or 5000 clicks, from memory' },
  /** Days until one asks after the first ride. */
  firstRide_d: { value: 7, source: HOUSE },
  /** Days until every torque is checked once more, the bearings are felt, and all is stripped again. */
  checkAgain_d: { value: 30, source: PRACTICE },
  feelAgain_d: { value: 180, source: PRACTICE },
  stripAgain_d: { value: 365, source: `${PRACTICE}: once a season, twice in wet riding` },
  /** Days until one asks after a part that was ordered. */
  awaited_d: { value: 7, source: HOUSE },
  /** Jobs from which on counts say something. */
  leastJobs: { value: 10, source: HOUSE },
} as const satisfies Record<string, Limit>;

/** Amounts a job takes, estimates of ours, no source: ml, g, pieces, each by what it is for. */
export const SUPPLY_SIZES = {
  threadlocker_ml_per_mm: 0.01,
  antiSeize_g: 0.2,
  oil_ml: 0.2,
  grease_g: 0.5,
  alcohol_ml: 5,
  cleaned_per_cloth: 6,
} as const;

/** Minutes of each step, estimates of ours, no source: a practised hand, parts and tools laid out. */
export const STEP_MINUTES: Readonly<Record<PlanStepKind | StripOnlyKind, number>> = {
  'note-settings': 5,
  'release-air': 3,
  support: 2,
  feel: 2,
  'mark-facing': 1,
  'warm-threadlocker': 4,
  'keep-together': 2,
  stand: 5,
  'clean-seat': 4,
  'clean-axle': 2,
  'clean-thread': 2,
  'press-bearing': 4,
  'press-bush': 4,
  'set-circlip': 1,
  prepare: 2,
  grease: 1,
  'offer-member': 2,
  shock: 3,
  'swing-away': 1,
  'swing-back': 1,
  'set-spacer': 1,
  'push-axle': 1,
  'axle-home': 1,
  'wipe-thread': 1,
  threadlock: 1,
  'start-receiver': 1,
  'hold-turn': 2,
  'half-torque': 1,
  torque: 2,
  secure: 1,
  'free-check': 2,
  brake: 5,
  derailleur: 5,
  cables: 10,
  chainset: 8,
  wheel: 2,
  chain: 3,
  air: 4,
  'travel-o-ring': 1,
  'dropper-post': 5,
  settings: 3,
  'hand-over': 5,
  // Nobody stands beside it.
  cure: 0,
};
