/** What the reading of a photo takes for granted, each with its source. */
import type { Limit } from '../limits.ts';

const HOUSE = 'our own rule, no source';

/** Limits of a photo. Held value by value in the tests. */
export const PHOTO_LIMITS = {
  /** Marks from which perspective and lens can be told from one another. */
  leastMarks: { value: 9, source: `${HOUSE}: eight unknowns, and one mark to tell by` },
  /** How far off a click is, px of the photo. */
  click_px: { value: 2, source: `${HOUSE}: a finger on a picture made large` },
  /** How far off a told distance of the camera is, as a share of it. */
  distance_share: { value: 0.03, source: `${HOUSE}: a tape from the lens to the middle of the bike` },
  /** Usual focal length over the longer side of the photo, and how far it may be off as a factor. */
  focal_share: { value: 0.75, source: 'common practice, no source: the main camera of a phone' },
  focal_factor: { value: 2, source: HOUSE },
  /** How far k1 of a camera for phones is from none. */
  lens_k1: { value: 0.1, source: HOUSE },
  /** Larger sides and more dots than these are not unpacked. */
  side_px: { value: 12_000, source: `${HOUSE}: more than any phone takes` },
  dots: { value: 60_000_000, source: `${HOUSE}: 240 MB unpacked` },
  file_bytes: { value: 40_000_000, source: HOUSE },
} as const satisfies Record<string, Limit>;
