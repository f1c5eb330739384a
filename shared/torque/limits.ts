/**
 * Where the torque window draws its lines: the workshop's own limits, each with the words that say where it comes from.
 *
 * Limits of a standard stand in `standards/`; those of the fit check in `limits.ts`. Shares are dimensionless, lengths
 * mm, torque N·m.
 */
import type { Limit } from '../limits.ts';

const HOUSE = 'our own rule, no source';
const PRACTICE = 'common practice, no source';

/**
 * Limits of the torque window, each with its source; shares of 1 unless their name says a unit. Held value by value in
 * the tests.
 */
export const TORQUE_LIMITS = {
  /** Share of the yield at which the pull alone is called the proof load. */
  proofShare: { value: 0.88, source: 'EN ISO 898-1: proof stress is 0.88 to 0.91 of the yield in classes 8.8 to 12.9' },
  /**
   * Share of the geometric stripping load that is trusted: real threads are cut to their limits and open under load.
   */
  stripShare: { value: 0.7, source: `${HOUSE}: the geometric shear area of basic profiles is the most there can be` },
  /** Threads lost at the two ends of an engagement, in pitches. */
  lostPitches: { value: 0.8, source: 'VDI 2230 counts 0.8 pitches as not bearing, from memory' },
  /** A wall below this share of its outside diameter is called thin. */
  thinWallShare: { value: 0.1, source: `${HOUSE}: a tube as thin may fold at its end before it yields` },
  /** Share of the yield that a thin wall is trusted with along the axis. */
  thinYieldShare: { value: 0.5, source: `${HOUSE}, an estimate` },
  /** Depth of a drive socket as a multiple of its size across flats. */
  socketDepth: { value: 1, source: `${HOUSE}: the model says how wide a socket is, not how deep` },
  /**
   * Share of the thread's root (or of a plain shank) that must be left as wall between a socket's corners and the
   * surface.
   */
  socketWall: {
    value: 0.125,
    source: 'ISO 4026: socket set screws M5 to M16 keep 0.137 to 0.2 of their root; less is thin by our own rule',
  },
  /** Corner circle of a socket as a multiple of its size across flats. */
  hexCorner: { value: 2 / Math.sqrt(3), source: 'geometry of the hexagon' },
  /** Share of a wrench's full scale below which its reading is a poor one. */
  poorShare: { value: 0.2, source: `ISO 6789 tests a wrench from 20 % of its full scale up; below is ${PRACTICE}` },
  /** How deep in a hole a socket still reaches what it turns, mm. */
  toolReach_mm: { value: 250, source: `a long extension: ${PRACTICE}` },
} as const satisfies Record<string, Limit>;

/** The torque wrenches a small workshop has, N·m: common practice, no source. */
export const WORKSHOP_WRENCHES_Nm: readonly (readonly [number, number])[] = [
  [2, 10],
  [5, 25],
  [20, 100],
];
