/**
 * How far a receiver can run up an axle's thread, and how much thread the two share.
 *
 * Lengths are measured from the axle's bearing face toward its tip; `distance` is from there to the receiver's bearing
 * face (its entry face, where the receiver is a member). An external thread that ends in a thicker shank stops an
 * internal thread at its start. A screw that goes into a sleeve stops at the end of the sleeve's thread. What bottoms
 * by plain contact (a tip in a blind hole, a sleeve under the screw's head) is left to the profiles. All mm.
 */
import type { ResolvedStack } from '../model/resolve.ts';
import type { MemberBore, PartOf, Side, Thread } from '../model/schema.ts';
import { shankLength_mm, threadEnd_mm, type Shanked } from '../parts/shanked.ts';
import { metricThread } from '../standards/threads.ts';

/** Thread zone of an external thread and where its shank would stop a nut. */
interface External {
  readonly from: number;
  readonly to: number;
  readonly stopsAt?: number;
  readonly stop: ThreadStop;
}

/** What is met at the end of an outer thread. */
type ThreadStop = 'thread' | 'shank' | 'head';

/** The two threads of a stack as functions of the distance between their faces. */
export interface ThreadPair {
  readonly axle: Thread;
  readonly receiver: Thread;
  readonly matches: boolean;
  /** The receiver's face cannot come nearer to the axle's than this, mm; undefined where only profiles limit it. */
  readonly leastDistance_mm?: number;
  /** What stops it there: the end of a thread, or where a thicker shank or the head begins right behind it. */
  readonly stop: ThreadStop;
  /** Shared thread length at a distance, mm; ≤ 0 when the threads do not meet. */
  engagement(distance_mm: number): number;
  readonly receiverMaterial: PartOf<'nut'>['material'];
}

/** The sleeve in a member's bore that takes the axle's thread, where it has one. */
export function receiverSleeve({ receiver }: Pick<ResolvedStack, 'receiver'>) {
  return receiver.bore?.thread?.sleeve;
}

/** The threads of a stack. */
export function threadPair(stack: ResolvedStack): ThreadPair {
  const axle = stack.axle.part;
  const { bore, part } = stack.receiver;
  const receiver: Thread = part?.thread ?? bore!.thread!;
  const matches =
    axle.thread.size_mm === receiver.size_mm &&
    axle.thread.pitch_mm === receiver.pitch_mm &&
    axle.thread.hand === receiver.hand;
  const receiverMaterial = (part ?? receiverSleeve(stack) ?? bore!.member).material;
  const length = shankLength_mm(axle);
  if (axle.kind === 'sleeve') {
    const screw = external(part as Shanked);
    const inner = { from: length - axle.thread.length_mm, to: length };
    const onThread = inner.from + screw.to;
    const onShank = screw.stopsAt === undefined ? -Infinity : length + screw.stopsAt;
    return {
      axle: axle.thread,
      receiver,
      matches,
      receiverMaterial,
      leastDistance_mm: Math.max(onThread, onShank),
      stop: onShank > onThread ? screw.stop : 'thread',
      engagement: (distance) => shared(inner, { from: distance - screw.to, to: distance - screw.from }),
    };
  }
  const outer = external(axle);
  const lead = bore ? threadLead_mm(bore, stack.from) : 0;
  return {
    axle: axle.thread,
    receiver,
    matches,
    receiverMaterial,
    ...(outer.stopsAt === undefined ? {} : { leastDistance_mm: outer.stopsAt - lead }),
    stop: outer.stop,
    engagement: (distance) => shared(outer, { from: distance + lead, to: distance + lead + receiver.length_mm }),
  };
}

/**
 * Distance from a member's entry face to where its thread starts, mm: 0 when the thread opens toward the axle's head.
 */
export function threadLead_mm(bore: MemberBore, from: Side): number {
  return bore.thread!.opens === from ? 0 : bore.z_to_mm - bore.z_from_mm - bore.thread!.length_mm;
}

function external(part: Shanked): External {
  const to = threadEnd_mm(part);
  const from = to - part.thread.length_mm;
  const minor = metricThread({ size_mm: part.thread.size_mm, pitch_mm: part.thread.pitch_mm }).minorDiameter_mm;
  let end = 0;
  let before = part.head.diameter_mm;
  for (const cylinder of part.shank) {
    if (end >= from - 1e-9) break;
    before = cylinder.diameter_mm;
    end += cylinder.length_mm;
  }
  // A waist thinner than the nut's own bore lets the nut run on.
  const stop = from <= SAME_mm ? 'head' : before > part.thread.size_mm + SAME_mm ? 'shank' : 'thread';
  return from > 1e-9 && before <= minor ? { from, to, stop } : { from, to, stopsAt: from, stop };
}

function shared(a: { from: number; to: number }, b: { from: number; to: number }): number {
  return Math.min(a.to, b.to) - Math.max(a.from, b.from);
}

/** Places nearer than this are one place, mm: less than any calliper, more than rounding. */
const SAME_mm = 1e-6;

/** Thickest of a shank between two distances from its bearing face, mm; 0 where it does not reach. */
export function thickest_mm(axle: Shanked, near_mm: number, far_mm: number): number {
  return cylinderAt(axle, near_mm, far_mm)?.diameter_mm ?? 0;
}

/** Thickest cylinder of a shank between two distances from its bearing face. */
export function cylinderAt({ shank }: Shanked, near_mm: number, far_mm: number): Shanked['shank'][number] | undefined {
  let start = 0;
  let thickest: Shanked['shank'][number] | undefined;
  for (const cylinder of shank) {
    const end = start + cylinder.length_mm;
    const isThere = end > near_mm + SAME_mm && start < far_mm - SAME_mm;
    if (isThere && cylinder.diameter_mm > (thickest?.diameter_mm ?? 0)) thickest = cylinder;
    start = end;
  }
  return thickest;
}
