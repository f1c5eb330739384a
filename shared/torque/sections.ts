/**
 * The sections of an axle that carry its preload: thread, shanks, waists, tubes, and those a drive socket weakens.
 *
 * Each is a round tube: outside, bore, its share of the preload and the twist it carries a newton of preload while it
 * is being tightened. A socket counts by its corner circle and reaches as deep as it is wide, since a model says no
 * more; a thin wall round its corners is trusted with half its yield. Behind the face of what receives it an axle's
 * pull falls off evenly along the engaged thread. Turned at the tip, an axle takes the whole wrench torque there, loses
 * what its thread takes along the engagement, and twists by what its head rubs beyond; turned at either other end, it
 * twists by its thread. Stress as in VDI 2230, from `standards/torque.ts`. N, mm, MPa.
 */
import { receiverDistance_mm, type JointItem } from '../joint/joint.ts';
import type { DriveTool } from '../model/schema.ts';
import { shankLength_mm, threadEnd_mm, type Shanked } from '../parts/shanked.ts';
import { material, metricThread, tighteningStress, torqueFromPreload, wrenchScatter } from '../standards/index.ts';
import { starKey } from '../standards/drive-tools.ts';
import { threadLead_mm } from '../joint/thread.ts';
import type { TorqueStack } from './setup.ts';
import { TORQUE_LIMITS } from './limits.ts';

/** What a section is. */
export type SectionKind = 'thread' | 'shank' | 'waist' | 'tube' | 'head-socket' | 'tip-socket';

/** One section; MPa at 1 N of preload, since stress goes with it in proportion. */
export interface Section {
  readonly kind: SectionKind;
  readonly item: JointItem;
  /** Outside diameter, the stress diameter for a thread. */
  readonly outside_mm: number;
  readonly bore_mm: number;
  /** Share of the preload this section carries. */
  readonly share: number;
  readonly yield_MPa: number;
  readonly tension_MPa_per_N: number;
  readonly vonMises_MPa_per_N: number;
  /** The socket's depth is an estimate. */
  readonly isEstimate: boolean;
}

/** Every section of the stack's axle, and of the screw where a sleeve takes one, that carries preload. */
export function sectionsOf(bench: TorqueStack): Section[] {
  const { own } = bench;
  const axle = own.stack.axle.part;
  const bore = axle.bore_mm ?? 0;
  if (axle.kind === 'sleeve') {
    const screw = own.stack.receiver.part as Shanked;
    const last = axle.shank.length - 1;
    return [
      ...axle.shank.map((cylinder, k) =>
        round(bench, own.axle, 'tube', cylinder.diameter_mm, k === last ? own.thread.axle.size_mm : bore),
      ),
      ...socketUnderHead(bench, own.axle, axle, own.stack.drives.head),
      ...shankedSections(bench, own.receiver, screw, own.stack.drives.receiver),
    ];
  }
  return [
    ...shankedSections(bench, own.axle, axle, own.stack.drives.head),
    ...socketInTip(bench, axle),
    ...twistedTip(bench, axle),
  ];
}

function shankedSections(bench: TorqueStack, item: JointItem, part: Shanked, drive: DriveTool | undefined): Section[] {
  const bore = part.bore_mm ?? 0;
  const { size_mm } = part.thread;
  return [
    round(bench, item, 'thread', undefined, bore),
    // The cylinder that carries the thread is the thread section already; what is beyond it carries nothing.
    ...part.shank
      .slice(0, part.tip_thread ? -1 : undefined)
      .flatMap((cylinder, k, held) =>
        k === held.length - 1 && cylinder.diameter_mm >= size_mm - 0.35 && part.shank.length > 1
          ? []
          : [round(bench, item, isWaist(part, k) ? 'waist' : 'shank', cylinder.diameter_mm, bore)],
      ),
    ...socketUnderHead(bench, item, part, drive),
  ];
}

function isWaist({ shank }: Shanked, k: number): boolean {
  const [before, here, after] = [shank[k - 1], shank[k]!, shank[k + 1]];
  return (
    before !== undefined &&
    after !== undefined &&
    here.diameter_mm < before.diameter_mm &&
    here.diameter_mm < after.diameter_mm
  );
}

/**
 * The part of a head's socket that reaches below the head: into the shank, or into a thread that begins as high, whose
 * stress diameter then carries.
 */
function socketUnderHead(bench: TorqueStack, item: JointItem, part: Shanked, drive: DriveTool | undefined): Section[] {
  const socket = socketOf(drive);
  const reach = socket ? socket.depth_mm - part.head.height_mm - (part.head.land_height_mm ?? 0) : 0;
  if (!socket || reach <= 0 || socket.corner_mm <= (part.bore_mm ?? 0)) return [];
  const starts = part.shank.map((_, k) => part.shank.slice(0, k).reduce((sum, { length_mm }) => sum + length_mm, 0));
  const thinnest = Math.min(...part.shank.flatMap(({ diameter_mm }, k) => (starts[k]! < reach ? [diameter_mm] : [])));
  const isThreaded = threadEnd_mm(part) - part.thread.length_mm < reach;
  if (part.kind === 'sleeve') {
    const hole = Math.max(socket.corner_mm, isThreaded ? part.thread.size_mm : 0);
    return [aroundSocket(bench, item, 'head-socket', { outside_mm: thinnest, root_mm: thinnest, corner_mm: hole })];
  }
  const { stressDiameter_mm, rootDiameter_mm } = metricThread(part.thread);
  const isThread = isThreaded && stressDiameter_mm < thinnest;
  return [
    aroundSocket(bench, item, 'head-socket', {
      ...(isThread ? {} : { outside_mm: thinnest }),
      root_mm: isThread ? rootDiameter_mm : thinnest,
      corner_mm: socket.corner_mm,
    }),
  ];
}

/** Metal left round a socket no narrower than what it stands in, mm: none, but a section needs some. */
const NO_WALL_mm = 0.02;

/**
 * A section round a socket; `root_mm` is where its metal ends, the root of a thread. A thin wall is trusted with half.
 */
function aroundSocket(
  bench: TorqueStack,
  item: JointItem,
  kind: SectionKind,
  {
    outside_mm,
    root_mm,
    corner_mm,
  }: { readonly outside_mm?: number; readonly root_mm: number; readonly corner_mm: number },
  share = 1,
): Section {
  const whole_mm = outside_mm ?? metricThread(bench.own.thread.axle).stressDiameter_mm;
  const bore = Math.min(corner_mm, whole_mm - 2 * NO_WALL_mm);
  const section = round(bench, item, kind, outside_mm, bore, share, true);
  const isThin = (root_mm - corner_mm) / 2 < TORQUE_LIMITS.socketWall.value * root_mm;
  return isThin ? { ...section, yield_MPa: section.yield_MPa * TORQUE_LIMITS.thinYieldShare.value } : section;
}

/** The floor of a tip's socket: what pull is left there once the engaged thread has taken its part. */
function socketInTip(bench: TorqueStack, axle: Shanked): Section[] {
  const { own, tightening, solved } = bench;
  const socket = socketOf(own.stack.drives.tip);
  if (!socket || socket.corner_mm <= (axle.bore_mm ?? 0)) return [];
  const { rootDiameter_mm } = metricThread(own.thread.axle);
  const sign = own.stack.from === 'non-drive' ? 1 : -1;
  const moved = sign * (solved.spec.shift_mm[own.receiver.body]! - solved.spec.shift_mm[own.axle.body]!);
  const { bore } = own.stack.receiver;
  const lead = bore ? threadLead_mm(bore, own.stack.from) : 0;
  const end = Math.min(shankLength_mm(axle), receiverDistance_mm(own) + moved + lead + own.thread.receiver.length_mm);
  const floor = shankLength_mm(axle) - socket.depth_mm;
  const share = tightening.engagement_mm <= 0 ? 0 : Math.min(1, Math.max(0, (end - floor) / tightening.engagement_mm));
  const around = { root_mm: rootDiameter_mm, corner_mm: socket.corner_mm };
  return share === 0 ? [] : [aroundSocket(bench, own.axle, 'tip-socket', around, share)];
}

/** An axle turned at its tip: the last engaged thread carries no pull and all the torque. */
function twistedTip(bench: TorqueStack, axle: Shanked): Section[] {
  if (bench.tightening.turned !== 'tip') return [];
  const corner = socketOf(bench.own.stack.drives.tip)?.corner_mm ?? 0;
  const bore = axle.bore_mm ?? 0;
  if (corner <= bore) return [round(bench, bench.own.axle, 'tip-socket', undefined, bore, 0)];
  const { rootDiameter_mm } = metricThread(bench.own.thread.axle);
  return [aroundSocket(bench, bench.own.axle, 'tip-socket', { root_mm: rootDiameter_mm, corner_mm: corner }, 0)];
}

/**
 * Circle round the corners of a tool's socket and how deep it is taken to be, mm; none for a tool that goes over the
 * outside.
 */
export function socketOf(
  drive: DriveTool | undefined,
): { readonly corner_mm: number; readonly depth_mm: number } | undefined {
  if (drive?.tool === 'hex-key')
    return {
      corner_mm: drive.size_mm * TORQUE_LIMITS.hexCorner.value,
      depth_mm: drive.size_mm * TORQUE_LIMITS.socketDepth.value,
    };
  const star = drive?.tool === 'star-key' ? starKey(drive.size_mm)?.points_mm : undefined;
  return star === undefined ? undefined : { corner_mm: star, depth_mm: star * TORQUE_LIMITS.socketDepth.value };
}

function round(
  bench: TorqueStack,
  item: JointItem,
  kind: SectionKind,
  outside_mm: number | undefined,
  bore_mm: number,
  share = 1,
  isEstimate = false,
): Section {
  const { own, tightening } = bench;
  const { size_mm, pitch_mm } = own.thread.axle;
  const screw = { size_mm, pitch_mm, threadFriction: tightening.threadFriction.low };
  const stress = tighteningStress({
    ...screw,
    preload_N: 1,
    bore_mm,
    ...(outside_mm === undefined ? {} : { outside_mm }),
  });
  const tension = share * stress.tension_MPa;
  const threadLever = threadLever_mm(screw);
  const twist =
    tightening.turned === 'tip' && item === own.axle ? wholeLever_mm(bench) - share * threadLever : threadLever;
  const torsion = stress.torsion_MPa * (twist / threadLever);
  return {
    kind,
    item,
    outside_mm: outside_mm ?? metricThread({ size_mm, pitch_mm }).stressDiameter_mm,
    bore_mm,
    share,
    yield_MPa: material((item.made as Shanked).material).yield_MPa,
    tension_MPa_per_N: tension,
    vonMises_MPa_per_N: Math.hypot(tension, Math.sqrt(3) * torsion),
    isEstimate,
  };
}

/** Twist of the thread a newton of preload, mm: the long form with a face of known lever taken off. */
function threadLever_mm(screw: {
  readonly size_mm: number;
  readonly pitch_mm: number;
  readonly threadFriction: number;
}): number {
  return 1000 * torqueFromPreload({ ...screw, preload_N: 1, faceFriction: 1, faceMeanDiameter_mm: 1 }) - 0.5;
}

/** Wrench torque a newton of preload at the low end of friction, mm. */
function wholeLever_mm({ tightening }: TorqueStack): number {
  return (1000 * tightening.torque_Nm * (1 + wrenchScatter(tightening.torque_Nm))) / tightening.preload_N.high;
}
