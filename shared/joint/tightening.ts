/**
 * What a stack's torque does: preload with its band, the stress it leaves in the axle, which end turns and which way.
 *
 * Preload by the long form of VDI 2230 with the friction band of the thread treatment and the wrench's permitted error
 * (ISO 6789); the rubbing face is the metal that touches under what turns, as the solved contact has it. Stress at the
 * smallest section, bore and waist included. Which way it turns follows from the screw's geometry
 * (`standards/tightening.ts`). N, N·m, MPa, mm.
 */
import type { JointItem, JointStack } from './joint.ts';
import type { ResolvedStack } from '../model/resolve.ts';
import type { Side } from '../model/schema.ts';
import { otherSide } from '../numbers/figures.ts';
import type { Shanked } from '../parts/shanked.ts';
import {
  friction,
  leastEngagement_mm,
  material,
  preloadBand,
  tighteningStress,
  tighteningTurn,
} from '../standards/index.ts';
import type { FrictionBand } from '../standards/index.ts';
import type { Tightening } from '../types.ts';

/** What of a stack's torque only the solved joint knows: shared thread length when tight, and what rubs. */
export interface TightFaces {
  readonly engagement_mm: number;
  /** Mean diameter of what touches under the thing that turns, mm; undefined where it touches nothing. */
  readonly rubbing_mm: number | undefined;
}

/** Torque card of a stack. */
export function tighten(own: JointStack, { engagement_mm, rubbing_mm }: TightFaces): Tightening {
  const { stack } = own;
  const { size_mm, pitch_mm, hand } = own.thread.axle;
  const bands = frictionOf(stack);
  const face_mm = rubbing_mm ?? ownFace_mm(turningItem(own));
  const band = preloadBand({
    torque_Nm: stack.torque_Nm,
    size_mm,
    pitch_mm,
    threadFriction: bands.thread,
    faceFriction: bands.face,
    faceMeanDiameter_mm: face_mm,
  });
  const head: Side = stack.from;
  const tip = otherSide(head);
  const stand = stack.turned === 'head' ? head : tip;
  const turn = tighteningTurn({
    threadHand: hand,
    turned: stack.turned === 'receiver' ? 'receiver' : 'axle',
    axleFrom: stack.from,
    standing: stand,
  });
  const tool = stack.drives[stack.turned];
  const held = heldEnd(stack, head, tip);
  return {
    torque_Nm: stack.torque_Nm,
    preload_N: { low: band.low_N, spec: band.nominal_N, high: band.high_N },
    threadFriction: bands.thread,
    rubbing_mm: face_mm,
    turned: stack.turned,
    stand,
    turn,
    ...(tool ? { tool } : {}),
    axle: stack.axle.part.kind,
    receiver: own.receiver.role === 'boss' ? 'member' : own.receiver.kind === 'nut' ? 'nut' : 'screw',
    ...(held ? { held } : {}),
    engagement_mm,
    engagementNeeded_mm: engagementNeeded(own),
    axleStress_MPa: worstStress(own, band.high_N, bands.thread.low),
    axleYield_MPa: material(stack.axle.part.material).yield_MPa,
  };
}

/** Friction on thread and turning face: a threadlocked thread has a dry face unless the turning part was greased. */
function frictionOf(stack: ResolvedStack): { thread: FrictionBand; face: FrictionBand } {
  const treatment = friction(stack.thread_treatment);
  const isGreased = (stack.greased ?? []).includes(stack.turned === 'receiver' ? 'receiver' : 'axle');
  const face = isGreased
    ? friction('greased').face
    : stack.thread_treatment === 'threadlocked'
      ? friction('dry').face
      : treatment.face;
  return { thread: treatment.thread, face };
}

/** What the wrench turns: the receiver where it is loose and turned, else the axle. */
export function turningItem(own: JointStack): JointItem {
  return own.stack.turned === 'receiver' && own.receiver.role !== 'boss' ? own.receiver : own.axle;
}

/** Mean diameter of a head's or nut's own face, mm: what is left to take where it touches nothing. */
function ownFace_mm({ made: part }: JointItem): number {
  if (part?.kind === 'nut') return ((part.land_mm ?? part.outside_mm) + part.thread.size_mm) / 2;
  if (part && 'head' in part) return ((part.head.land_mm ?? part.head.diameter_mm) + part.shank[0]!.diameter_mm) / 2;
  throw new Error(`tightening: ${part?.name}: a ${part?.kind} has no face that turns`);
}

function heldEnd(stack: ResolvedStack, head: Side, tip: Side): Tightening['held'] {
  if (stack.turned === 'receiver') {
    const tool = stack.drives.head ?? stack.drives.tip;
    const side = stack.drives.head ? head : stack.drives.tip ? tip : head;
    return { what: 'axle', side, ...(tool ? { tool } : {}) };
  }
  if (stack.receiver.bore) return undefined;
  return { what: 'receiver', side: tip, ...(stack.drives.receiver ? { tool: stack.drives.receiver } : {}) };
}

function engagementNeeded(own: JointStack): number {
  const size = own.thread.axle.size_mm;
  const families = [material(own.stack.axle.part.material).family, material(own.thread.receiverMaterial).family];
  return Math.max(...families.map((family) => leastEngagement_mm(size, family) ?? 2 * size));
}

/** Largest stress while tightening over the sections that carry the preload, MPa. */
function worstStress(own: JointStack, preload_N: number, threadFriction: number): number {
  const axle = own.stack.axle.part;
  const { size_mm, pitch_mm } = own.thread.axle;
  const stressAt = (outside_mm: number | undefined, bore_mm: number): number =>
    tighteningStress({
      preload_N,
      size_mm,
      pitch_mm,
      threadFriction,
      bore_mm,
      ...(outside_mm === undefined ? {} : { outside_mm }),
    }).vonMises_MPa;
  if (axle.kind === 'sleeve') {
    const screw = own.stack.receiver.part as Shanked;
    const tube = axle.shank.map((cylinder, k) =>
      stressAt(cylinder.diameter_mm, k === axle.shank.length - 1 ? size_mm : (axle.bore_mm ?? 0)),
    );
    return Math.max(
      ...tube,
      stressAt(undefined, screw.bore_mm ?? 0),
      ...screw.shank.map((cylinder) => stressAt(cylinder.diameter_mm, screw.bore_mm ?? 0)),
    );
  }
  const bore = axle.bore_mm ?? 0;
  return Math.max(stressAt(undefined, bore), ...axle.shank.map((cylinder) => stressAt(cylinder.diameter_mm, bore)));
}
