/** What measuring a pivot takes for granted: accuracies and the sizes that parts of pivots come in. mm. */
import type { Limit } from '../limits.ts';

const HOUSE = 'our own rule, no source';
const PRACTICE = 'common practice, no source';

/** The rules of a draft, each with its source. */
export const MEASURE_LIMITS = {
  /** A workshop calliper in a hand reads a size this well. */
  calliper_mm: { value: 0.05, source: `${PRACTICE}: a calliper in a busy hand, inside jaws the worst` },
  /** What a straight edge and a feeler, a gauge or the light under an edge show of a difference. */
  compared_mm: { value: 0.02, source: `${PRACTICE}: light shows under an edge from some 0.01 mm on` },
  /** A bearing or a plug that is tried in a seat, a ring that is tried on a shank, tells a fit this well. */
  tried_mm: { value: 0.01, source: `${PRACTICE}: a hand tells a sliding fit from a light press` },
  /** Minutes that a reading takes, its part at hand, and what a comparison takes more. */
  outsideMinutes: { value: 0.3, source: HOUSE },
  insideMinutes: { value: 0.5, source: HOUSE },
  depthMinutes: { value: 0.6, source: HOUSE },
  gaugeMinutes: { value: 0.7, source: HOUSE },
  lookMinutes: { value: 0.2, source: HOUSE },
  compareMinutes: { value: 1.5, source: HOUSE },
} as const satisfies Record<string, Limit>;
