/**
 * What a drill asks and how it is graded: our own rules for learning, not of the trade.
 */
import type { Limit } from '../limits.ts';

const HOUSE = 'our own rule, no source';

/** Numbers of the drills. */
export const PRACTICE_LIMITS = {
  /** Look-alikes that lie beside a pivot's own parts at the most. */
  mostDecoys: { value: 4, source: HOUSE },
  /** What laying one part may take, and what the rest of the row may, minutes. */
  layPart_min: { value: 0.5, source: HOUSE },
  layRest_min: { value: 2, source: HOUSE },
  /** What one look may take, minutes. */
  sight_min: { value: 0.5, source: HOUSE },
  /** What is felt, looked at and measured when a mistake is looked for, minutes: estimates of ours. */
  turn_min: { value: 0.5, source: HOUSE },
  rock_min: { value: 0.5, source: HOUSE },
  look_min: { value: 0.25, source: HOUSE },
  count_min: { value: 1, source: HOUSE },
  wrench_min: { value: 1, source: HOUSE },
  measure_min: { value: 1, source: HOUSE },
  /** Taking one axle out and what lies on it apart, and together again. */
  open_min: { value: 8, source: HOUSE },
  /** What looking for a mistake may take at least: where one check tells all, nobody begins with that one, minutes. */
  findLeast_min: { value: 2, source: HOUSE },
  /** Shares of that time up to which an answer counts as easy, and as good. */
  easyShare: { value: 0.5, source: HOUSE },
  goodShare: { value: 1.5, source: HOUSE },
} as const satisfies Record<string, Limit>;
