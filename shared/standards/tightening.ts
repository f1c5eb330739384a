/**
 * Which way a mechanic must turn an axle or its receiver to tighten, as seen from where the mechanic stands.
 *
 * Method: nothing is tabulated. The axes are the model's: z to the drive side. To tighten, the axle must move against
 * its receiver in the direction from its head to its tip (head and receiver come closer). A helix couples the two: a
 * body that turns in a right-hand thread by the rotation vector ω moves along +ω, in a left-hand thread along −ω. So
 * the axle's rotation relative to the receiver is hand · (head → tip), and the receiver's relative to the axle is the
 * opposite. A rotation vector that points away from the eye is seen clockwise (right-hand rule): the answer is the
 * sign of ω · line of sight. Source: first principles (d); the well-known case, a right-hand screw turned at its head,
 * comes out clockwise, and an axle turned at its threaded tip comes out anticlockwise.
 */

/** Side of the bike, the rider's right being the drive side. */
export type BikeSide = 'non-drive' | 'drive';
/** Sense of a turn as the mechanic sees it. */
export type Turn = 'clockwise' | 'anticlockwise';

/** What decides the sense of a turn. */
export interface TurnQuestion {
  readonly threadHand: 'right' | 'left';
  /** What the wrench turns; the other one is held. */
  readonly turned: 'axle' | 'receiver';
  /** Side the axle goes in from, where its head ends up. */
  readonly axleFrom: BikeSide;
  /** Side the mechanic stands on, looking across the bike. */
  readonly standing: BikeSide;
}

/** z component of a unit vector along the axle: +1 to the drive side, −1 to the non-drive side. */
type AlongAxle = 1 | -1;

/** The vector from a side across the bike: where an axle put in there points, and where an eye there looks. */
const across = (from: BikeSide): AlongAxle => (from === 'non-drive' ? 1 : -1);

/** The sense that tightens, seen from where the mechanic stands. Source: the geometry of the screw (d). */
export function tighteningTurn({ threadHand, turned, axleFrom, standing }: TurnQuestion): Turn {
  const headToTip = across(axleFrom);
  const mustMove = turned === 'axle' ? headToTip : -headToTip;
  const helixSign = threadHand === 'right' ? 1 : -1;
  const rotation = helixSign * mustMove;
  const lineOfSight = across(standing);
  return rotation * lineOfSight > 0 ? 'clockwise' : 'anticlockwise';
}
