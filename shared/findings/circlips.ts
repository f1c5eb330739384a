/**
 * What is wrong with a circlip and its groove: a groove without one, a ring or a groove of another size, a bearing that
 * leaves it no room or too much, the sharp edge on the wrong side, a push that groove or ring does not carry. A bearing
 * is pressed into its seat as well, so none of this stops a pivot. Lengths mm, loads N.
 */
import type { Joint, JointItem } from '../joint/joint.ts';
import type { SolvedJoint } from '../joint/solve.ts';
import { LIMITS, type Limit } from '../limits.ts';
import type { ResolvedSeat } from '../model/resolve.ts';
import { kindOf } from '../parts/kinds.ts';
import { circlipFor, grooveLoad_N, material } from '../standards/index.ts';
import type { Measure } from '../types.ts';

interface CirclipFault {
  readonly code: 'circlip-misfitted';
  readonly severity: 'warn';
  readonly items: readonly JointItem[];
  readonly numbers: Record<string, Measure>;
  readonly limit?: Measure & { readonly source: string };
  readonly about: {
    readonly how: 'left-out' | 'other-size' | 'too-thick' | 'no-room' | 'play' | 'turned' | 'overloaded';
  };
}

const mm = (value: number): Measure => ({ value, unit: 'mm' });
const HAIR_mm = 1e-6;

/** Faults of the circlips of a pivot, and of its grooves without one. O(items). */
export function circlipFaults({ joint, spec }: Pick<SolvedJoint, 'joint' | 'spec'>): CirclipFault[] {
  return joint.stacks.flatMap(({ items }) =>
    items.flatMap((bearing): CirclipFault[] => {
      const { seat } = bearing;
      if (!seat?.groove || seat.isCovered) return [];
      const clip = items.find(({ clips }) => clips?.bore === seat.bore && clips.side === seat.side);
      if (!clip) return [fault('left-out', [bearing], { groove_mm: mm(seat.groove.diameter_mm) })];
      return [
        ...sizeFaults(clip, seat),
        ...playFaults(clip, bearing),
        ...wayFaults(clip, seat),
        ...loadFaults(joint, clip, bearing, spec.spring_N),
      ];
    }),
  );
}

function fault(
  how: CirclipFault['about']['how'],
  items: readonly JointItem[],
  numbers: Record<string, Measure>,
  limit?: Limit,
  unit: Measure['unit'] = 'mm',
): CirclipFault {
  const shown = limit ? { limit: { ...limit, unit } } : {};
  return { code: 'circlip-misfitted', severity: 'warn', items, numbers, ...shown, about: { how } };
}

const ringOf = ({ made }: JointItem) => kindOf(made!).snapsIn!(made!);

function sizeFaults(clip: JointItem, { groove }: ResolvedSeat): CirclipFault[] {
  const { groove_mm, thickness_mm } = ringOf(clip);
  const { diameter_mm, width_mm } = groove!;
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

/** The sharp edge bites on the wall that takes the load: away from the bearing, toward the opening of the seat. */
function wayFaults(clip: JointItem, { side }: ResolvedSeat): CirclipFault[] {
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
  const row = circlipFor(diameter_mm);
  const carried_N = grooveLoad_N({
    bore_mm: diameter_mm,
    groove_mm: groove!.diameter_mm,
    yield_MPa: material(bore.member.material).yield_MPa,
    margin_mm: groove!.margin_mm,
    ...(row ? { marginNeeded_mm: row.margin_mm } : {}),
  });
  const most_N = Math.min(carried_N, row?.ring_N ?? Infinity);
  return push_N <= most_N
    ? []
    : [
        fault(
          'overloaded',
          [clip, bearing],
          { push_N: { value: push_N, unit: 'N' } },
          { value: most_N, source: most_N === carried_N ? 'DIN 472: load of the groove' : 'DIN 472: load of the ring' },
          'N',
        ),
      ];
}
