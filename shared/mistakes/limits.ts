/**
 * What the mistakes take for granted: how large a mistake is, what a hand and an eye tell apart.
 *
 * Beside `shared/limits.ts`, which holds the lines of the fit check itself. Each with the words that say where it comes
 * from. mm, N, N·m; shares are dimensionless.
 */
import type { Limit } from '../limits.ts';

const HOUSE = 'our own rule, no source';
const MEMORY = 'from memory, no source';

/**
 * Limits of what a hand does and feels, each with its source; units in their names. Held value by value in the tests.
 */
export const MISTAKE_LIMITS = {
  /** How far a bearing that is not home stands off its shoulder. */
  proud_mm: { value: 0.5, source: `${HOUSE}: a chip or a tilted press` },
  /** Torque of the under-tightened build as a share of the written one. */
  halfTorque: { value: 0.5, source: HOUSE },
  /** Torque of the over-tightened build as a share of the written one. */
  doubleTorque: { value: 2, source: HOUSE },
  /**
   * How far an arm or a member must stand off its line before an eye is trusted to see it, or other pivots no longer
   * line up.
   */
  seen_mm: { value: 3, source: HOUSE },
  /** Friction torque from which a hand calls an arm tight, however heavy the arm is. */
  felt_Nm: { value: 0.1, source: `${HOUSE}: 5 N at the end of a 20 mm grip` },
  /** Drag of the seals of a pivot's bearings: an arm whose weight turns with less tells nothing by falling. */
  sealDrag_Nm: { value: 0.05, source: MEMORY },
  /** Share of a web's block that is material when it is a hollow or pocketed arm; a solid one has all of it. */
  hollowShare: { value: 0.3, source: HOUSE },
} as const satisfies Record<string, Limit>;

/** Standard gravity, m/s². Source: ISO 80000-3 (the conventional value of 1901). */
export const GRAVITY_m_s2 = 9.80665;

/** The thinnest and the thickest leaf of a common feeler gauge, mm. Common practice, no source. */
export const LEAF_mm = { least: 0.05, most: 1 } as const;
/** Hex keys of a workshop, across flats, mm. Common practice, no source. */
export const KEYS_mm = [1.5, 2, 2.5, 3, 4, 5, 6, 8, 10] as const;
