/**
 * The model with the dimensions of one pivot set to what was measured (or to any deviation): every part used there gets
 * lengths of its own.
 *
 * The slow, obvious way beside the quick one of `build.ts`: what comes out is a whole model that can be analysed and
 * shown, and that the tests hold the quick way against. Parts are copied per place, since a parts list may use one part
 * twice. A bearing keeps its designation beside its own width: no file may say that of itself. Lengths mm.
 */
import type { Joint, JointItem } from '../../shared/joint/joint.ts';
import type { LinkageModel, MemberBore, Part, Side } from '../../shared/model/schema.ts';
import { levelAt, type Dimensions } from '../../shared/tolerance/dimensions.ts';
import { travel_mm } from '../../shared/tolerance/effect.ts';

/** The model of a joint with deviations from nominal, mm by dimension number, built in. */
export function rebuildModel(joint: Joint, dimensions: Dimensions, deviation_mm: ArrayLike<number>): LinkageModel {
  const model = joint.model.written;
  const parts: Record<string, Part> = { ...model.parts };
  const members: Record<string, LinkageModel['members'][string]> = { ...model.members };
  const moves = (item: JointItem, z_mm: number): number =>
    travel_mm(levelAt(dimensions.levels.get(item)!, z_mm).effect, deviation_mm);
  const ownPart = new Map<JointItem, string>();
  for (const item of joint.stacks.flatMap((own) => own.items)) {
    if (item.role === 'boss') {
      const member = members[item.member!]!;
      members[item.member!] = {
        ...member,
        bores: { ...member.bores, [item.bore!]: movedBore(member.bores[item.bore!]!, (z) => moves(item, z)) },
      };
    } else {
      const id = `${item.part!}-${item.stack.id}-${item.rowId}`;
      parts[id] = movedPart(item.made!, item, (z) => moves(item, z));
      ownPart.set(item, id);
    }
  }
  const pivot = model.pivots.find(({ id }) => id === joint.pivot.id)!;
  const stacks = pivot.stacks.map((stack, k) => {
    const { items } = joint.stacks[k]!;
    const partOf = (rowId: string): string | undefined => ownPart.get(items.find((item) => item.rowId === rowId)!);
    return {
      ...stack,
      axle: partOf('axle')!,
      receiver: partOf('receiver') ?? stack.receiver,
      row: stack.row.map((entry) => (entry.part === undefined ? entry : { ...entry, part: partOf(entry.id)! })),
    };
  });
  return {
    ...model,
    parts,
    members,
    pivots: model.pivots.map((other) => (other === pivot ? { ...other, stacks } : other)),
  };
}

type Moves = (z_mm: number) => number;

function movedBore(bore: MemberBore, moves: Moves): MemberBore {
  const [low, high] = [bore.z_from_mm + moves(bore.z_from_mm), bore.z_to_mm + moves(bore.z_to_mm)];
  const shoulder = (side: Side, depth: number): number =>
    side === 'drive' ? bore.z_to_mm - depth : bore.z_from_mm + depth;
  return {
    ...bore,
    z_from_mm: low,
    z_to_mm: high,
    ...(bore.seats
      ? {
          seats: bore.seats.map((seat) => {
            const at = shoulder(seat.side, seat.depth_mm);
            const moved = at + moves(at);
            return { ...seat, depth_mm: seat.side === 'drive' ? high - moved : moved - low };
          }),
        }
      : {}),
    ...(bore.thread ? { thread: movedThread(bore, bore.thread, low, high, moves) } : {}),
  };
}

function movedThread(
  bore: MemberBore,
  thread: NonNullable<MemberBore['thread']>,
  low: number,
  high: number,
  moves: Moves,
): typeof thread {
  if (thread.length_mm >= bore.z_to_mm - bore.z_from_mm - 1e-9) return { ...thread, length_mm: high - low };
  const end = thread.opens === 'non-drive' ? bore.z_from_mm + thread.length_mm : bore.z_to_mm - thread.length_mm;
  const moved = end + moves(end);
  return { ...thread, length_mm: thread.opens === 'non-drive' ? moved - low : high - moved };
}

/** Turned, a loose part is measured back from its drive end, an axle or a nut from its bearing face. */
function movedPart(part: Part, item: JointItem, moves: Moves): Part {
  const end = item.turned && !('thread' in part) ? item.profile!.to_mm : 0;
  const to = (z_mm: number): number => z_mm + (item.turned ? moves(end) - moves(end - z_mm) : moves(z_mm) - moves(0));
  if (part.kind === 'bearing') return { ...part, width_mm: to(item.bearing!.width_mm) };
  if ('shank' in part) {
    let end_mm = 0;
    const ends = part.shank.map((cylinder) => to((end_mm += cylinder.length_mm)));
    const start = end_mm - part.thread.length_mm;
    const land = part.head.land_height_mm;
    return {
      ...part,
      shank: part.shank.map((cylinder, k) => ({ ...cylinder, length_mm: ends[k]! - (ends[k - 1] ?? 0) })),
      thread: { ...part.thread, length_mm: start > 1e-9 ? ends.at(-1)! - to(start) : ends.at(-1)! },
      head: { ...part.head, ...(land === undefined ? {} : { land_height_mm: -to(-land) }) },
    };
  }
  const length_mm = to(part.length_mm);
  if ('thread' in part) {
    const threaded =
      'closed' in part && part.closed === true ? to(part.thread.length_mm) : Math.min(part.thread.length_mm, length_mm);
    const land = 'land_height_mm' in part ? part.land_height_mm : undefined;
    return {
      ...part,
      length_mm,
      ...(land === undefined ? {} : { land_height_mm: to(land) }),
      thread: { ...part.thread, length_mm: threaded },
    };
  }
  if ('land_height_mm' in part) return { ...part, length_mm, land_height_mm: to(part.land_height_mm) };
  return 'flange_length_mm' in part && part.flange_length_mm !== undefined
    ? { ...part, length_mm, flange_length_mm: to(part.flange_length_mm) }
    : { ...part, length_mm };
}
