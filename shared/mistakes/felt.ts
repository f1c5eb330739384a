/**
 * What a hand would feel at the bench; first, when it turns an arm, the friction torque of the faces that press on one
 * another and should be free.
 *
 * Each such face rubs as an annulus under the solved force (`joint/rubbing.ts`), at the face friction of the VDI 2230
 * class of a greased or a dry face, a band. Seals carry no force in the solve and add nothing. The sum over one
 * member's faces is held against the estimated moment of the arm's own weight (`weight.ts`). N, mm, N·m.
 */
import type { Judged } from '../findings/judge.ts';
import { isColumnPiece, ownerOf, type JointStack } from '../joint/joint.ts';
import type { ResolvedModel } from '../model/resolve.ts';
import { breaksOf, looseRings, sideLoadsOf, type Met } from '../joint/reading.ts';
import { frictionTorque_Nm, isGreased } from '../joint/rubbing.ts';
import { friction } from '../standards/friction.ts';
import type { FrictionBand } from '../standards/friction.ts';
import { rollingDrag_Nm } from '../standards/ring-drag.ts';
import { LEAST_STATIC_SAFETY } from '../standards/static-load.ts';
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

/** What a hand notices at the bench once the wrench has clicked; the first is the strongest. */
export type BenchFeel = 'will-not-go' | 'tight' | 'notchy' | 'play' | 'off-line' | 'drags' | 'grazes' | 'free';

/** What no hand is sure to notice. */
export const MISSED: readonly BenchFeel[] = ['free', 'grazes'];

/** What is known of a built mistake when it comes to the hand. */
export interface Felt {
  readonly judged: Pick<Judged, 'solved' | 'joint' | 'evidence'>;
  readonly assembly: { readonly goes: 'yes' | 'by-force' | 'no' };
  readonly drags: readonly Drag[];
  readonly open_mm: number;
  readonly touched: readonly unknown[];
}

/**
 * Tight: the drag holds the arm up, or is more than a hand takes for nothing. Notchy: a bearing is pushed sideways
 * until its balls dent their tracks (static safety below 1, ISO 76). Play: the column stays open, and neither it nor
 * the balls hold some ring. Off line: an arm or a member stands so far off that an eye sees it. Where nothing of this
 * is felt, side load that turns as hard as the seals drags, and a free face that is touched without force may graze.
 */
export function feel({ judged, assembly, drags, open_mm, touched }: Felt, off_mm: number): readonly BenchFeel[] {
  const felt: BenchFeel[] = [];
  if (assembly.goes === 'by-force') felt.push('will-not-go');
  if (drags.some(({ letGo, torque_Nm }) => letGo === 'sticks' || torque_Nm.nominal >= MISTAKE_LIMITS.felt_Nm.value))
    felt.push('tight');
  const loads = sideLoadsOf(judged.solved);
  if (loads.some(({ safety }) => safety < LEAST_STATIC_SAFETY)) felt.push('notchy');
  if (open_mm > 0 && isLoose(judged)) felt.push('play');
  if (off_mm > MISTAKE_LIMITS.seen_mm.value) felt.push('off-line');
  if (felt.length > 0) return felt;
  const added_Nm = loads.reduce((sum, { item, load_N }) => sum + rollingDrag_Nm(item.bearing!.bore_mm, load_N), 0);
  if (added_Nm >= MISTAKE_LIMITS.sealDrag_Nm.value) felt.push('drags');
  if (touched.length > 0) felt.push('grazes');
  return felt.length > 0 ? felt : ['free'];
}

/** A ring that nothing holds, or a stack without bearings: an open column lets it move. */
function isLoose({ solved, joint, evidence }: Felt['judged']): boolean {
  const isOpen = (own: JointStack): boolean => breaksOf(own, evidence.columns.get(own.stack.id)!).length > 0;
  const isPlain = joint.stacks.some((own) => !own.items.some(({ bearing }) => bearing) && isOpen(own));
  return isPlain || looseRings(solved, evidence.met).length > 0;
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
