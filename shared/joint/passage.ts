/**
 * Whether a row goes together: whether the axle passes through it from one side, and how hard its parts must be pushed
 * into their place.
 *
 * Every item on the axle's way meets all of the axle that lies beyond it toward the tip once the head is home, and must
 * be wide enough for the thickest of that; an inner ring may be pressed on. The row is taken as it stands before
 * tightening, and the head where its own faces would seat on it, whatever the shank may meet on the way. A receiver
 * that is a member takes the axle from one side only: through its thread, or from the face its thread opens at. Lengths
 * mm.
 */
import { LIMITS } from '../limits.ts';
import type { ClampResult } from './clamp.ts';
import { gap } from './contact.ts';
import { boreRadius_mm, type Joint, type JointItem, type JointStack } from './joint.ts';
import { crest_mm, type Shanked } from '../parts/shanked.ts';
import type { Side } from '../model/schema.ts';
import { mirrorPolygon, shiftPolygon, zRange } from '../profile/polygon.ts';
import type { Passage, Polygon } from '../types.ts';
import { pressable_mm } from './press.ts';
import type { SolvedJoint } from './solve.ts';
import { thickest_mm } from './thread.ts';

/** Passage of the axle of `own` from `from`. */
export function passage(joint: Joint, own: JointStack, from: Side): Passage {
  const reason = blockedByReceiver(own, from);
  if (reason) return { from, passes: false, blocks: [], reason };
  const axle = own.stack.axle.part;
  const row = own.items.filter(
    ({ role, rowId }) => rowId !== 'axle' && rowId !== 'receiver' && role !== 'tip' && role !== 'lining',
  );
  const sign = from === 'non-drive' ? 1 : -1;
  const head = headHome(joint, axle, row, from);
  const blocks = row.flatMap((item) => {
    const [low, high] = zRange(joint.pieces.filter((piece) => piece.item === item).map((piece) => piece.solid.polygon));
    const near = sign > 0 ? low - head : head - high;
    const shank = thickest_mm(axle, near, Infinity);
    const thickest = shank > 0 ? Math.max(shank, crest_mm(axle)) : 0;
    const bore = 2 * boreRadius_mm(joint.pieces, item);
    // What a press does to the bearing is a fit's question, not the passage's.
    const gives = pressable_mm(bore, item.bearing !== undefined);
    return thickest > bore + gives ? [{ with: item.id, bore_mm: bore, axle_mm: thickest }] : [];
  });
  return { from, passes: blocks.length === 0, blocks };
}

function blockedByReceiver(own: JointStack, from: Side): Passage['reason'] {
  const { receiver, stack } = own;
  const { bore } = stack.receiver;
  if (!bore) return undefined;
  if (from !== stack.from) return 'receiver-is-here';
  const row = own.items.filter((item) => item !== receiver && (item.role === 'boss' || item.role === 'bearing'));
  const [low, high] = zRange(
    row.flatMap((item) => item.local.map(({ solid }) => shiftPolygon(solid.polygon, item.z0))),
  );
  const isBeyond =
    from === 'non-drive' ? bore.z_from_mm + bore.z_to_mm > low + high : bore.z_from_mm + bore.z_to_mm < low + high;
  if (row.length > 0 && !isBeyond) return 'receiver-is-here';
  const isThrough = bore.thread!.blind !== true && bore.bore_mm >= bore.thread!.size_mm;
  return bore.thread!.opens === from || isThrough || bore.thread!.length_mm >= bore.z_to_mm - bore.z_from_mm
    ? undefined
    : 'thread-opens-other-side';
}

/**
 * z of the axle's bearing face with the head seated on the row from one side: the head's own faces decide, not the
 * shank.
 */
function headHome(joint: Joint, axle: Shanked, row: readonly JointItem[], from: Side): number {
  const thin = Math.min(...axle.shank.map((cylinder) => cylinder.diameter_mm)) / 2;
  const polygon: Polygon = [
    [thin, -(axle.head.height_mm + (axle.head.land_height_mm ?? 0))],
    [axle.head.diameter_mm / 2, -(axle.head.height_mm + (axle.head.land_height_mm ?? 0))],
    [axle.head.diameter_mm / 2, -(axle.head.land_height_mm ?? 0)],
    [(axle.head.land_mm ?? axle.head.diameter_mm) / 2, -(axle.head.land_height_mm ?? 0)],
    [(axle.head.land_mm ?? axle.head.diameter_mm) / 2, 0],
    [thin, 0],
  ];
  const hard = joint.pieces
    .filter((piece) => row.includes(piece.item) && piece.solid.role !== 'seal')
    .map((piece) => piece.solid.polygon);
  const free = hard.flatMap((other) => {
    const met = from === 'non-drive' ? gap(polygon, other) : gap(other, mirrorPolygon(polygon));
    return met ? [met.gap_mm] : [];
  });
  if (free.length === 0) return from === 'non-drive' ? zRange(hard)[0] : zRange(hard)[1];
  return from === 'non-drive' ? Math.min(...free) : -Math.min(...free);
}

/** How a row that presses on itself before the axle is tight can be put together. */
export type By = 'hand' | 'lever' | 'nothing';

/** How hard a row presses on itself while the axle is only hand-tight, and the two parts between which it does. */
export interface Squeeze {
  readonly push_N: number;
  readonly between: readonly [JointItem, JointItem] | undefined;
  readonly by: By;
}

/** A push is passed on from part to part: what carries this share of the most is of one chain. */
const CHAIN_SHARE = 0.9;

/**
 * What an assembling hand works against, N: the largest force between two parts before anything is tightened. The
 * thread does not help it: it pulls a column together, and a row that is too long must be spread.
 */
export function squeezeOf({ joint, hand }: Pick<SolvedJoint, 'joint' | 'hand'>): Squeeze {
  const push_N = hand.contact_N.reduce((most, force) => Math.max(most, force), 0);
  return {
    push_N,
    between: push_N > 0 ? chainEnds(joint, hand, CHAIN_SHARE * push_N) : undefined,
    by: push_N <= LIMITS.handPush_N.value ? 'hand' : push_N <= LIMITS.leverPush_N.value ? 'lever' : 'nothing',
  };
}

/** First and last part, along the first stack that has any, of those that press on one another with `least_N`. */
function chainEnds({ stacks, meetings }: Joint, { contact_N }: ClampResult, least_N: number): Squeeze['between'] {
  const pressed = new Set(
    meetings.flatMap(({ a, b, law }) => (law !== undefined && contact_N[law]! >= least_N ? [a.item, b.item] : [])),
  );
  const chain = stacks.map(({ items }) => items.filter((item) => pressed.has(item))).find(({ length }) => length > 1);
  return chain && [chain[0]!, chain.at(-1)!];
}
