/**
 * What turning an arm would feel: the friction torque of the faces that press on one another and should be free.
 *
 * Each such face rubs as an annulus under the solved force (`joint/rubbing.ts`), at the face friction of the VDI 2230
 * class of a greased or a dry face, a band. Seals carry no force in the solve and add nothing. The sum over one member's faces is held against
 * the estimated moment of the arm's own weight (`weight.ts`). N, mm, N·m.
 */
import type { Judged } from '../findings/judge.ts';
import type { ResolvedModel } from '../model/resolve.ts';
import { isColumnPiece, ownerOf, type Met } from '../joint/reading.ts';
import { frictionTorque_Nm, isGreased } from '../joint/rubbing.ts';
import { friction } from '../standards/friction.ts';
import type { FrictionBand } from '../standards/friction.ts';
import { MISTAKE_LIMITS } from './limits.ts';
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
    const band = friction([a, b].some(({ item }) => isGreased(item.stack, item.rowId)) ? 'greased' : 'dry').face;
    for (const end of ['low', 'nominal', 'high'] as const)
      sum[end] += frictionTorque_Nm({ force_N, bands_mm: gap.bands_mm, friction: band[end] });
  }
  return sum;
}

/** The seals drag beside the faces: an arm that weighs less than they do tells nothing by staying up. */
function letGo(torque_Nm: FrictionBand, weight: WeightMoment | undefined): LetGo {
  if (!weight) return 'no-weight';
  const seals = MISTAKE_LIMITS.sealDrag_Nm.value;
  if (torque_Nm.low > Math.max(weight.high_Nm, seals)) return 'sticks';
  if (weight.high_Nm < seals) return 'too-light';
  return torque_Nm.high + seals < weight.low_Nm ? 'falls' : 'either';
}
