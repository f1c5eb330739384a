/**
 * What the build order takes for granted: room a hand and a tool need, how big tools are, what each change costs.
 *
 * Sizes of hand tools are a workshop's own, roughly those of ordinary keys, sockets and wrenches; none is from a
 * standard. mm, deg; costs are bare numbers, compared only with one another.
 */
import type { Limit } from '../limits.ts';

const PRACTICE = 'common practice, no source';
const HOUSE = 'our own rule, no source';

/** Limits of the build order, each with its source: lengths mm, angles deg. Held value by value in the tests. */
export const ORDER_LIMITS = {
  /** Reaches along z that share less than this pass one another, mm. */
  shared_mm: { value: 0.05, source: HOUSE },
  /**
   * A spacer that reaches less than this into a bore still goes in from the side: members give that much by hand, mm.
   */
  intoBore_mm: { value: 0.5, source: HOUSE },
  /** Overlap of two outlines as drawn that is taken for the drawing's own, mm. */
  drawnOverlap_mm: { value: 0.05, source: HOUSE },
  /**
   * Straight way that frees a member's bosses; beyond it a hand turns the member out. What stands further off is not in
   * the way, mm.
   */
  wayIn_mm: { value: 70, source: HOUSE },
  /** Room kept to the side of a member on its way in, mm. */
  wayMargin_mm: { value: 0.5, source: HOUSE },
  /** Turns a thread is started by hand before a tool touches it. */
  startedTurns: { value: 2, source: PRACTICE },
  /** Clearance the axle's tip keeps to what it is about to enter, mm: a hand's feel. */
  tipClearance_mm: { value: 1, source: HOUSE },
  /** Least open angle through which a member can be brought in, deg. */
  leastWay_deg: { value: 8, source: HOUSE },
  /** Sweep of the torque wrench that makes a pull possible, deg. */
  leastSweep_deg: { value: 45, source: `${PRACTICE}: one pull of a ratcheting wrench` },
  /** Share of its torque to which each bolt of a pair is pulled before either goes to the whole of it. */
  firstPull: { value: 0.5, source: PRACTICE },
  /** Turn each way of an arm whose travel the model does not know, deg: what a hand does without looking. */
  handSwing_deg: { value: 10, source: HOUSE },
  /** A part nearer than this to an axle gets warm with it, mm: no carbon and no shock may stand there. */
  heatReach_mm: { value: 100, source: HOUSE },
  /** Threadlocker set right through, h at 20 to 25 °C. */
  cure_h: { value: 24, source: `${PRACTICE}; a test-method page for threadlocker and two others say the same` },
  /** Least that a punch must bear on of a ring, mm of its radius, or it slips off. */
  catch_mm: { value: 0.5, source: HOUSE },
  /** A thinner punch bends, mm. */
  leastPunch_mm: { value: 5, source: PRACTICE },
  /** A turn between two members that nobody sees, deg: with it the next bore stands off. */
  unseenTurn_deg: { value: 1, source: HOUSE },
} as const satisfies Record<string, Limit>;

/** Sizes of the tools in a hand, mm: ours, no source. */
export const TOOL_SIZES = {
  /** Torque wrench: its head, and its handle from the axis to the end of the grip. */
  wrenchHead_radius_mm: 17,
  wrenchHead_height_mm: 28,
  wrenchHandle_length_mm: 230,
  wrenchHandle_width_mm: 24,
  /** A socket on the wrench, or a bit in one. */
  socket_length_mm: 45,
  bit_radius_mm: 9,
  socketWall_mm: 3.5,
  /** A bent key that holds: its short arm in the socket, its long arm the handle. */
  keyArm_mm: 14,
  keyLong_mm: 34,
  keyLong_per_size: 9,
  /** A flat spanner that holds. */
  spannerThickness_per_size: 0.35,
  spannerHead_per_size: 1.05,
  spannerLength_mm: 60,
  spannerLength_per_size: 6,
} as const;

/** What a change costs when orders are compared, in points without a unit: ours. */
export const ORDER_COSTS = {
  /** Going round to the other side, or from bench to bike. */
  side: 40,
  /** Taking another tool in hand. */
  tool: 12,
  /** A task done while threadlocker on a started thread waits. */
  wait: 30,
  /** A task done before a pivot that is hard to reach, for each thing that would cover it. */
  late: 6,
  /** A task done after a pivot that will be opened again. */
  reopen: 3,
  /** Moving members that met already apart again. */
  swing: 45,
} as const;
