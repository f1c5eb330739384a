/**
 * What turning an arm would feel: the friction torque of the faces that press on one another and should be free.
 *
 * Each such face is an annulus under the solved force at even pressure, so that M = μ·F·(2/3)·(Ro³ − Ri³)/(Ro² − Ri²)
 * (the collar-bearing formula of statics textbooks); an edge rubs at its own radius. μ is the face friction of the VDI 2230 class of a greased or a
 * dry face, a band. Seals carry no force in the solve and add nothing. The sum over one member's faces is held against
 * the estimated moment of the arm's own weight (`weight.ts`). N, mm, N·m.
 */
import type { Judged } from '../findings/judge.ts';
import type { JointItem } from '../joint/joint.ts';
import type { ResolvedModel } from '../model/resolve.ts';
import { isColumnPiece, ownerOf, type Met } from '../joint/reading.ts';
import { friction } from '../standards/friction.ts';
import type { FrictionBand } from '../standards/friction.ts';
import { SLIP_LIMITS } from './limits.ts';
import { weightMoment, type WeightMoment } from './weight.ts';

/** What the arm does by itself when it is held level and let go. */
export type LetGo = 'falls' | 'either' | 'sticks' | 'too-light' | 'no-weight';

/** Friction torque between one turning member and the rest of its pivot. */
export interface Drag {
  /** The member that the bearings carry. */
  readonly member: string;
  /** Lowest, nominal and highest torque of the friction band, N·m. */
  readonly torque_Nm: FrictionBand;
  /** The member taken to hang free while the other side is held, and its estimated weight moment. */
  readonly hangs?: string;
  readonly weight?: WeightMoment;
  readonly letGo: LetGo;
}

const N_mm_PER_N_m = 1000;

/** Radius at which the friction of an annulus pressed evenly acts, mm; bands share the force by their area, edges evenly. */
export function frictionRadius_mm(bands_mm: readonly (readonly [number, number])[]): number {
  const squares = bands_mm.reduce((sum, [r0, r1]) => sum + (r1 * r1 - r0 * r0), 0);
  if (squares <= 0) return bands_mm.reduce((sum, [r0]) => sum + r0, 0) / Math.max(1, bands_mm.length);
  return ((2 / 3) * bands_mm.reduce((sum, [r0, r1]) => sum + (r1 ** 3 - r0 ** 3), 0)) / squares;
}

/** Friction torque of one pressed face at one coefficient, N·m. */
export function frictionTorque_Nm({
  force_N,
  bands_mm,
  friction: mu,
}: {
  readonly force_N: number;
  readonly bands_mm: readonly (readonly [number, number])[];
  readonly friction: number;
}): number {
  return (mu * force_N * frictionRadius_mm(bands_mm)) / N_mm_PER_N_m;
}

/** The drag of every member that the pivot's bearings carry. */
export function dragOf({ joint, evidence }: Pick<Judged, 'joint' | 'evidence'>): readonly Drag[] {
  const bosses = joint.stacks.flatMap(({ items }) => items.filter((item) => item.member !== undefined));
  const free = [...new Set(bosses.filter((item) => !item.inColumn).map((item) => item.member!))];
  const still = [...new Set(bosses.filter((item) => item.inColumn).map((item) => item.member!))];
  return free.map((member): Drag => {
    const torque_Nm = sumTorque(evidence.met.filter((meeting) => isRubbing(meeting, member)));
    const hung = hanging(joint.model, member, still).flatMap((id) => {
      const weight = weightMoment(joint.model.members[id]!, joint.pivot);
      return weight ? [{ id, weight }] : [];
    });
    const lightest = hung.sort((a, b) => a.weight.low_Nm - b.weight.low_Nm)[0];
    return {
      member,
      torque_Nm,
      ...(lightest ? { hangs: lightest.id, weight: lightest.weight } : {}),
      letGo: letGo(torque_Nm, lightest?.weight),
    };
  });
}

/** Who may hang: the frame is held in the stand, so that the other side does; where neither is the frame either may. */
function hanging(model: ResolvedModel, own: string, others: readonly string[]): readonly string[] {
  const isFrame = (id: string): boolean => model.members[id]!.kind === 'frame';
  return isFrame(own) ? others : others.some(isFrame) ? [own] : [own, ...others];
}

/** A face that presses and should turn, on `member`: against the column, or against another member. */
function isRubbing(meeting: Met, member: string): boolean {
  return (
    meeting.shouldBeFree &&
    meeting.force_N > 0 &&
    [meeting.a, meeting.b].some((piece) => !isColumnPiece(piece) && ownerOf(piece) === member)
  );
}

function sumTorque(rubbing: readonly Met[]): FrictionBand {
  const sum = { low: 0, nominal: 0, high: 0 };
  for (const { a, b, gap, force_N } of rubbing) {
    const band = friction(isGreased(a.item) || isGreased(b.item) ? 'greased' : 'dry').face;
    for (const end of ['low', 'nominal', 'high'] as const)
      sum[end] += frictionTorque_Nm({ force_N, bands_mm: gap.bands_mm, friction: band[end] });
  }
  return sum;
}

function isGreased({ stack, rowId }: JointItem): boolean {
  return (
    stack.row.some((entry) => entry.id === rowId && entry.greased === true) ||
    (stack.greased ?? []).some((id) => id === rowId)
  );
}

/** The seals drag beside the faces: an arm that weighs less than they do tells nothing by staying up. */
function letGo(torque_Nm: FrictionBand, weight: WeightMoment | undefined): LetGo {
  if (!weight) return 'no-weight';
  const seals = SLIP_LIMITS.sealDrag_Nm.value;
  if (torque_Nm.low > Math.max(weight.high_Nm, seals)) return 'sticks';
  if (weight.high_Nm < seals) return 'too-light';
  return torque_Nm.high + seals < weight.low_Nm ? 'falls' : 'either';
}
