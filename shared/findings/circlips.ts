/**
 * What is wrong with a circlip and its groove: a groove without one, a ring or a groove of another size, a bearing that
 * leaves it no room or too much, the sharp edge on the wrong side, a push that groove or ring does not carry. A bearing
 * is pressed into its seat as well, and what an axle's ring keeps is held by a thread, so none of this stops a pivot.
 * Lengths mm, loads N.
 */
import { receiverDistance_mm, type Joint, type JointItem, type JointStack } from '../joint/joint.ts';
import type { Met } from '../joint/reading.ts';
import type { SolvedJoint } from '../joint/solve.ts';
import { LIMITS } from '../limits.ts';
import type { Groove } from '../model/resolve.ts';
import type { Side } from '../model/schema.ts';
import { otherSide } from '../numbers/figures.ts';
import { kindOf } from '../parts/kinds.ts';
import { circlipFor, grooveLoad_N, material } from '../standards/index.ts';
import { HAIR_mm, misfits, mm, type Misfit } from './misfit.ts';

type How = 'left-out' | 'other-size' | 'too-thick' | 'no-room' | 'play' | 'turned' | 'overloaded';
/** One of an axle's circlip says so by `on`. */
type CirclipFault = Misfit<'circlip-misfitted', How>;
const fault = misfits<'circlip-misfitted', How>('circlip-misfitted');

/** Faults of the circlips of a pivot, and of its grooves without one. O(items × meetings). */
export function circlipFaults(
  { joint, spec }: Pick<SolvedJoint, 'joint' | 'spec'>,
  met: readonly Met[],
): CirclipFault[] {
  return joint.stacks.flatMap((own) => [
    ...own.items.flatMap((bearing): CirclipFault[] => {
      const { seat } = bearing;
      if (!seat?.groove || seat.isCovered) return [];
      const clip = own.items.find(({ clips }) => clips?.bore === seat.bore && clips.side === seat.side);
      if (!clip) return [fault('left-out', [bearing], { groove_mm: mm(seat.groove.diameter_mm) })];
      return [
        ...sizeFaults(clip, seat.groove),
        ...playFaults(clip, bearing),
        ...wayFaults(clip, seat.side),
        ...loadFaults(joint, clip, bearing, spec.spring_N),
      ];
    }),
    ...tipFaults(own, met),
  ]);
}

/** What is wrong at the groove of an axle, whose ring keeps on it what receives it: by what the tight joint leaves it. */
function tipFaults(own: JointStack, met: readonly Met[]): CirclipFault[] {
  const { axle, receiver, stack } = own;
  const { groove, shank, material: metal } = stack.axle.part;
  if (!groove) return [];
  const clip = own.items.find(({ role, made }) => role === 'tip' && kindOf(made!).snapsIn);
  const on = (found: CirclipFault[]): CirclipFault[] =>
    found.map((one) => ({ ...one, about: { ...one.about, on: 'shaft' } }));
  if (!clip) return on([fault('left-out', [axle], { groove_mm: mm(groove.diameter_mm) })]);
  const shaft_mm = shank.at(-1)!.diameter_mm;
  const beside = met.filter(({ a, b }) => [a.item, b.item].includes(clip) && ![a.item, b.item].includes(axle));
  const [nearest] = [...beside].sort((p, q) => openOf_mm(p) - openOf_mm(q));
  return on([
    ...sizeFaults(clip, groove),
    ...(nearest ? floatFaults(own, clip, nearest) : []),
    ...wayFaults(clip, otherSide(stack.from)),
    ...overFaults(
      [clip, receiver],
      beside.reduce((sum, { force_N }) => sum + force_N, 0),
      {
        on_mm: shaft_mm,
        groove,
        yield_MPa: material(metal).yield_MPa,
        row: circlipFor(shaft_mm, 'shaft'),
        code: 'DIN 471',
      },
    ),
  ]);
}

const openOf_mm = ({ gap, free_mm, force_N }: Met): number => (force_N > 0 ? Math.min(0, gap.gap_mm) : free_mm);

/** A ring that is further off than the thread is long lets go what it should keep. */
function floatFaults(own: JointStack, clip: JointItem, nearest: Met): CirclipFault[] {
  const other = nearest.a.item === clip ? nearest.b.item : nearest.a.item;
  const float_mm = openOf_mm(nearest);
  if (float_mm < -HAIR_mm) return [fault('no-room', [clip, other], { over_mm: mm(-float_mm) })];
  const thread_mm = own.thread.engagement(receiverDistance_mm(own));
  return float_mm > thread_mm + HAIR_mm
    ? [fault('play', [clip, other], { play_mm: mm(float_mm) }, { value: thread_mm, source: 'the thread that holds' })]
    : [];
}

const ringOf = ({ made }: JointItem) => kindOf(made!).snapsIn!(made!);

function sizeFaults(clip: JointItem, groove: Groove): CirclipFault[] {
  const { groove_mm, thickness_mm } = ringOf(clip);
  const { diameter_mm, width_mm } = groove;
  const numbers = {
    thickness_mm: mm(thickness_mm),
    width_mm: mm(width_mm),
    ring_mm: mm(groove_mm),
    groove_mm: mm(diameter_mm),
  };
  if (Math.abs(groove_mm - diameter_mm) > LIMITS.circlipSize_mm.value) return [fault('other-size', [clip], numbers)];
  return thickness_mm > width_mm + HAIR_mm
    ? [fault('too-thick', [clip], numbers, { value: width_mm, source: 'the width of its groove' })]
    : [];
}

/** Room between the bearing and a ring that lies on the outer wall of its groove; < 0 where there is none for it. */
function playOf(clip: JointItem, { seat, bearing, proud_mm }: JointItem): number {
  const { rest_mm, groove } = seat!;
  return rest_mm - bearing!.width_mm - proud_mm - groove!.margin_mm - ringOf(clip).thickness_mm;
}

function playFaults(clip: JointItem, bearing: JointItem): CirclipFault[] {
  const play_mm = playOf(clip, bearing);
  const items = [clip, bearing];
  if (play_mm < -HAIR_mm) return [fault('no-room', items, { over_mm: mm(-play_mm) })];
  const limit = LIMITS.circlipPlay_mm;
  return play_mm > limit.value + HAIR_mm ? [fault('play', items, { play_mm: mm(play_mm) }, limit)] : [];
}

/** The sharp edge bites on the wall that takes the load: toward the opening of the seat, or the axle's tip. */
function wayFaults(clip: JointItem, side: Side): CirclipFault[] {
  return (clip.turned ? 'non-drive' : 'drive') === side ? [] : [fault('turned', [clip], {})];
}

function loadFaults(
  { bearingSprings }: Joint,
  clip: JointItem,
  bearing: JointItem,
  spring_N: Float64Array,
): CirclipFault[] {
  const { side, groove, bore, diameter_mm } = bearing.seat!;
  const at = bearingSprings.find(({ item }) => item === bearing);
  // A seat that is pressed toward the drive side pushes its balls, and so its own ring, toward the other one.
  const push_N = at ? spring_N[at.spring]! * (side === 'non-drive' ? 1 : -1) : 0;
  return overFaults([clip, bearing], push_N, {
    on_mm: diameter_mm,
    groove: groove!,
    yield_MPa: material(bore.member.material).yield_MPa,
    row: circlipFor(diameter_mm, 'bore'),
    code: 'DIN 472',
  });
}

/** A ring in its groove: what it is cut into, and its row of the series, where it is of it. */
interface Grooved {
  readonly on_mm: number;
  readonly groove: Groove;
  readonly yield_MPa: number;
  readonly row: ReturnType<typeof circlipFor>;
  readonly code: string;
}

function overFaults(
  items: readonly JointItem[],
  push_N: number,
  { on_mm, groove, yield_MPa, row, code }: Grooved,
): CirclipFault[] {
  const carried_N = grooveLoad_N({
    on_mm,
    groove_mm: groove.diameter_mm,
    yield_MPa,
    margin_mm: groove.margin_mm,
    ...(row ? { marginNeeded_mm: row.margin_mm } : {}),
  });
  const most_N = Math.min(carried_N, row?.ring_N ?? Infinity);
  if (push_N <= most_N) return [];
  const source = `${code}: load of the ${most_N === carried_N ? 'groove' : 'ring'}`;
  return [
    fault('overloaded', items, { push_N: { value: push_N, unit: 'N' } }, { value: most_N, source }, { unit: 'N' }),
  ];
}
