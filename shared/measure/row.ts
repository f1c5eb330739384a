/**
 * Where the bosses of a draft stand along z: from their widths, the distances between them and the lengths of what
 * stands between, as the row puts them.
 *
 * The bosses of one member in one pivot are one body. Two neighbours of the clamp column that belong to different bodies
 * stand as far apart as the loose parts between them are long; where that cannot hold everywhere the bodies stand in
 * the middle of what is missing (least squares). A boss whose two ends are given stands where they say. mm.
 */
import type { DraftModel } from '../envelope/draft.ts';
import type { LinkageModel, MemberBore, Part, Stack } from '../model/schema.ts';
import { linedAt, seatsOf } from '../model/resolve.ts';
import { Lu } from '../numbers/dense.ts';
import { kindOf, stands } from '../parts/kinds.ts';

/** A boss as it stands in a row. */
export interface BossPlace {
  readonly member: string;
  readonly bore: string;
}

/** A model whose sizes are numbers but whose bosses may still be told by width and distance. */
export type Unplaced = LinkageModel;

type LooseBore = { -readonly [K in keyof MemberBore]: MemberBore[K] } & { width_mm?: number; gap_mm?: number };

interface RowLike {
  readonly receiver: string;
  readonly from: string;
  readonly row: readonly { readonly member?: string | undefined; readonly bore?: string | undefined }[];
}

/** The bosses that a stack names from the non-drive to the drive side, that of its receiver included. */
function bossesOf({ receiver, from, row }: RowLike): BossPlace[] {
  const own = row.flatMap(({ member, bore }) => (member !== undefined && bore !== undefined ? [{ member, bore }] : []));
  const [member, bore] = receiver.split('/');
  if (bore === undefined) return own;
  return from === 'drive' ? [{ member: member!, bore }, ...own] : [...own, { member: member!, bore }];
}

/** The bosses of each member of a pivot in the order of its rows, by member. */
export function bodiesOf(pivot: { readonly stacks: readonly RowLike[] }): ReadonlyMap<string, readonly string[]> {
  const bodies = new Map<string, string[]>();
  for (const stack of pivot.stacks)
    for (const { member, bore } of bossesOf(stack)) {
      const own = bodies.get(member) ?? [];
      if (!own.includes(bore)) own.push(bore);
      bodies.set(member, own);
    }
  return bodies;
}

/** The boss of the same member next to a boss on the non-drive side in its pivot; undefined for the first one. */
export function bossBefore(model: DraftModel, member: string, bore: string): string | undefined {
  for (const pivot of model.pivots) {
    const own = bodiesOf(pivot as { readonly stacks: readonly RowLike[] }).get(member);
    const at = own?.indexOf(bore) ?? -1;
    if (at >= 0) return at > 0 ? own![at - 1] : undefined;
  }
  return undefined;
}

interface Piece {
  /** Body by number; undefined for one that stands where it is told. */
  readonly body: number | undefined;
  /** Faces in the body's own frame. */
  readonly from: number;
  readonly to: number;
}

/** Gives every boss its two ends; the model, which must be of our own making, is changed. */
export function placeBosses(model: Unplaced): void {
  for (const pivot of model.pivots) {
    const boreOf = (member: string, bore: string): LooseBore => model.members[member]!.bores[bore] as LooseBore;
    const names: string[] = [];
    const bodies = [...bodiesOf(pivot)].filter(([member, bores]) =>
      bores.some((bore) => boreOf(member, bore).z_from_mm === undefined),
    );
    for (const [member, bores] of bodies) {
      let end = 0;
      bores.forEach((name, k) => {
        const bore = boreOf(member, name);
        bore.z_from_mm = k === 0 ? 0 : end + bore.gap_mm!;
        end = bore.z_to_mm = bore.z_from_mm + bore.width_mm!;
      });
      names.push(member);
    }
    if (bodies.length === 0) continue;
    const offsets = offsetsOf(model, pivot.stacks, names, (member) => {
      const bores = bodies.find(([name]) => name === member)![1];
      const [first, last] = [boreOf(member, bores[0]!), boreOf(member, bores.at(-1)!)];
      return (first.z_from_mm + last.z_to_mm) / 2;
    });
    for (const [member, bores] of bodies)
      for (const name of bores) {
        const bore = boreOf(member, name);
        const by = offsets[names.indexOf(member)]!;
        bore.z_from_mm = rounded(bore.z_from_mm + by);
        bore.z_to_mm = rounded(bore.z_to_mm + by);
      }
  }
  for (const { bores } of Object.values(model.members))
    for (const bore of Object.values(bores) as LooseBore[]) {
      delete bore.width_mm;
      delete bore.gap_mm;
    }
}

/** Far below what anybody measures, above the noise of the sums. */
function rounded(z_mm: number): number {
  return Math.round(z_mm * 1e9) / 1e9;
}

/** Pull of a body to the middle of the bike, against that of a neighbour it stands on. */
const WEAK = 1e-6;
/** The same for the frame, to which the rest goes. */
const FRAME = 1e-3;

function offsetsOf(
  model: Unplaced,
  stacks: readonly Stack[],
  names: readonly string[],
  middleOf: (member: string) => number,
): Float64Array {
  const n = names.length;
  const matrix = new Float64Array(n * n);
  const right = new Float64Array(n);
  const add = (terms: readonly (readonly [number | undefined, number])[], value: number, weight: number): void => {
    for (const [i, a] of terms) {
      if (i === undefined) continue;
      right[i]! += weight * a * value;
      for (const [j, b] of terms) if (j !== undefined) matrix[i * n + j]! += weight * a * b;
    }
  };
  names.forEach((name, k) => add([[k, 1]], -middleOf(name), model.members[name]!.kind === 'frame' ? FRAME : WEAK));
  for (const stack of stacks) {
    let before: Piece | undefined;
    let loose = 0;
    for (const piece of piecesOf(model, stack, names)) {
      if (typeof piece === 'number') loose += piece;
      else {
        if (before && before.body !== piece.body)
          add(
            [
              [piece.body, 1],
              [before.body, -1],
            ],
            loose + before.to - piece.from,
            1,
          );
        before = piece;
        loose = 0;
      }
    }
  }
  const lu = new Lu(n);
  lu.factorise(matrix);
  lu.solve(right);
  return right;
}

/** The clamp column of a row from the non-drive side: what stands in a body, and the lengths of what is loose. */
function* piecesOf(model: Unplaced, stack: Stack, names: readonly string[]): Generator<Piece | number> {
  const seats = seatsOf(model, stack);
  // What turns, on its bearings or on its bush, is no part of the column.
  const carried = new Set([
    ...[...seats.values()].map(({ member, bore }) => `${member}/${bore}`),
    ...linedOf(model, stack),
  ]);
  const bodyOf = (member: string): number | undefined => {
    const at = names.indexOf(member);
    return at < 0 ? undefined : at;
  };
  const boss = (member: string, bore: string): Piece => {
    const { z_from_mm, z_to_mm } = model.members[member]!.bores[bore]!;
    return { body: bodyOf(member), from: z_from_mm, to: z_to_mm };
  };
  const [member, bore] = stack.receiver.split('/');
  if (bore !== undefined && stack.from === 'drive') yield boss(member!, bore);
  for (const [k, entry] of stack.row.entries()) {
    if (entry.member !== undefined && entry.bore !== undefined) {
      if (!carried.has(`${entry.member}/${entry.bore}`)) yield boss(entry.member, entry.bore);
      continue;
    }
    const part = model.parts[entry.part!]!;
    const seat = seats.get(k);
    if (!seat) {
      yield looseLength(model, stack, k, part, carried);
      continue;
    }
    const { z_from_mm, z_to_mm, seats: own } = model.members[seat.member]!.bores[seat.bore]!;
    const depth = own!.find(({ side }) => side === seat.side)!.depth_mm - seat.taken_mm;
    const width = kindOf(part).sizes.length_mm!.get(part)!;
    const proud = entry.proud_mm ?? 0;
    yield seat.side === 'drive'
      ? { body: bodyOf(seat.member), from: z_to_mm - depth + proud, to: z_to_mm - depth + proud + width }
      : { body: bodyOf(seat.member), from: z_from_mm + depth - proud - width, to: z_from_mm + depth - proud };
  }
  if (bore !== undefined && stack.from === 'non-drive') yield boss(member!, bore);
}

/** A bush that goes into the boss beside it takes the length of its flange alone. */
const INTO_mm = 0.5;

/** The bores of a row that a bush lines, as `member/bore`. */
function linedOf(model: Unplaced, stack: Stack): string[] {
  return stack.row.flatMap(({ part }, k) => {
    const at = part !== undefined && stands(model.parts[part]!, 'bore') ? linedAt(stack, k) : undefined;
    return at === undefined ? [] : [`${stack.row[at]!.member}/${stack.row[at]!.bore}`];
  });
}

function looseLength(model: Unplaced, { row }: Stack, k: number, part: Part, carried: ReadonlySet<string>): number {
  // What lies in a groove, on the tip or only seals takes no length of the column.
  if (kindOf(part).seals || stands(part, 'groove', 'bore', 'tip')) return 0;
  const length = 'length_mm' in part ? part.length_mm : 0;
  if (part.kind !== 'bush' && part.kind !== 'reducer') return length;
  const isHeld = [row[k - 1], row[k + 1]].some((entry) => {
    const bore = entry?.member === undefined ? undefined : model.members[entry.member]?.bores[entry.bore!];
    if (carried.has(`${entry?.member}/${entry?.bore}`)) return false;
    return bore !== undefined && part.outside_mm <= bore.bore_mm + INTO_mm;
  });
  return isHeld ? (part.flange_mm === undefined ? 0 : (part.flange_length_mm ?? 0)) : length;
}
