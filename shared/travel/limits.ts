/**
 * Where the travel check draws its lines, each with the words that say where it comes from.
 *
 * Limits from a standard stand in `standards/`; these are the workshop's own. mm, N·m; shares are dimensionless.
 */
import type { Limit } from '../limits.ts';

const HOUSE = 'our own rule, no source';

/** The lines of the travel check. */
export const TRAVEL_LIMITS = {
  /** The drawn shock may differ this much from the stated eye-to-eye length. */
  eyeToEye_mm: { value: 0.5, source: `${HOUSE}: a mistake in a pivot's place shows here` },
  /** Computed rear travel may differ this much from what the maker states. */
  travelShare: { value: 0.02, source: `${HOUSE}: makers round to 5 mm` },
  /** Less than this between two members deserves a look. */
  memberGap_mm: { value: 2, source: `${HOUSE}: paint, a stone, a bent arm` },
  /** A shock that moves the axle by this much makes another bike of it. */
  axleShift_mm: {
    value: 10,
    source: `${HOUSE}: over a wheelbase of about 1200 mm it leans the whole bike by half a degree`,
  },
  /** Least room round the tyre. */
  tyreGap_mm: { value: 6, source: 'ISO 4210-2, least clearance of the tyre, from memory' },
} as const satisfies Record<string, Limit>;
