/**
 * The resolved model: every reference of a model that has passed its checks is the thing itself.
 *
 * A stack holds its axle, what takes its thread, and a row of parts, bearings and bosses; a bearing has its sizes from
 * the file, the standard's table or a stated estimate (`estimated` names what no source gives) and the seat it is
 * pressed into; a boss knows its member, its place in the side plane and the webs that carry it. Made once, in
 * `analyse` and wherever a changed model is asked about; nothing after it looks anything up in a file. Plain data
 * without cycles. mm, N.
 */
import { bearingWidth_mm, resolveBearing, type ResolvedBearing } from '../parts/bearing.ts';
import { stands, type Part, type PartOf } from '../parts/kinds.ts';
import type { Shanked } from '../parts/shanked.ts';
import type { Bounded } from '../standards/fits.ts';
import { refuse } from '../standards/guard.ts';
import type { LinkageModel, Member, MemberBore, Pivot, RowEntry, Side, Stack, Web } from './schema.ts';

/** A part under its id in the parts list. */
export interface NamedPart<P extends Part = Part> {
  readonly bore?: undefined;
  readonly partId: string;
  readonly part: P;
}

/** An end of a web; a bore's has its boss, a point's may have one. */
export interface WebEnd {
  readonly x_mm: number;
  readonly y_mm: number;
  readonly z_mm: number;
  readonly boss_mm?: number | undefined;
  readonly isBore: boolean;
}

/** A web with its two ends, `from` and `to`. */
export interface ResolvedWeb extends Web {
  readonly ends: readonly [WebEnd, WebEnd];
}

/** A bore with its member. */
export interface ResolvedBore extends MemberBore {
  readonly memberId: string;
  readonly boreId: string;
  readonly member: Member;
  /** In the side plane: where the pivot stands that holds it, else where it says itself. */
  readonly place: { readonly x_mm: number; readonly y_mm: number };
  /** The webs that start or end here. */
  readonly webs: readonly ResolvedWeb[];
}

/** A member with its bores and webs resolved. */
export interface ResolvedMember extends Omit<Member, 'bores' | 'webs'> {
  readonly bores: Readonly<Record<string, ResolvedBore>>;
  readonly webs: readonly ResolvedWeb[];
}

/** The groove of a seat, and where a ring in it stands. */
export type Groove = NonNullable<NonNullable<MemberBore['seats']>[number]['groove']>;

/** Where a bearing's outer ring is pressed in. */
export interface ResolvedSeat {
  readonly bore: ResolvedBore;
  readonly side: Side;
  readonly diameter_mm: number;
  /** How the drawing bounds the diameter. */
  readonly bounds: Bounded;
  readonly depth_mm: number;
  /** From the face of the boss down to what the bearing rests on: the shoulder, or the bearing that went in before it. */
  readonly rest_mm: number;
  /** Id in the row of the bearing it rests on; none where it stands on the shoulder. */
  readonly on?: string;
  /** The groove of a circlip before it. */
  readonly groove?: Groove;
  /** Another bearing stands before it in this seat. */
  readonly isCovered: boolean;
}

/** One thing of a row: a boss, a bearing in its seat, or a loose part. */
export type ResolvedEntry = Omit<RowEntry, 'part' | 'member' | 'bore'> &
  (
    | { readonly role: 'boss'; readonly bore: ResolvedBore }
    | ({ readonly role: 'bearing'; readonly bearing: ResolvedBearing; readonly seat: ResolvedSeat } & NamedPart<
        PartOf<'bearing'>
      >)
    | ({
        readonly role: 'spacer';
        /** For a circlip, the seat in whose groove it stands. */
        readonly clips?: Pick<ResolvedSeat, 'bore' | 'side'> & { readonly groove: Groove };
      } & NamedPart)
    /** Pressed into a bore, as its lining. */
    | ({ readonly role: 'lining'; readonly lines: ResolvedBore } & NamedPart)
    /** On the axle's tip, beyond what receives it. */
    | ({ readonly role: 'tip' } & NamedPart)
  );

/** What takes the axle's thread: a part, or a bore of a member. */
export type ResolvedReceiver =
  | NamedPart<PartOf<'nut'> | Shanked>
  | { readonly bore: ResolvedBore; readonly part?: undefined };

/** A stack whose axle, receiver and row are the things themselves. */
export interface ResolvedStack extends Omit<Stack, 'axle' | 'receiver' | 'row'> {
  readonly axle: NamedPart<Shanked>;
  readonly receiver: ResolvedReceiver;
  readonly row: readonly ResolvedEntry[];
}

/** A pivot with its stacks resolved. */
export interface ResolvedPivot extends Omit<Pivot, 'stacks'> {
  readonly stacks: readonly ResolvedStack[];
  /** Ids of the members that its rows and receivers name, each once. */
  readonly members: readonly string[];
}

/** A model whose references are the things themselves; `written` is the model as its file says it. */
export interface ResolvedModel extends Omit<LinkageModel, 'members' | 'pivots'> {
  readonly written: LinkageModel;
  readonly members: Readonly<Record<string, ResolvedMember>>;
  readonly pivots: readonly ResolvedPivot[];
}

/**
 * Resolve a model that has passed its checks: references become the things themselves. The model is not changed. About
 * 3 ms a bike. On a model that was not checked it may throw anything.
 */
export function resolveModel(written: LinkageModel): ResolvedModel {
  const places = placesOf(written);
  const members = Object.fromEntries(
    Object.entries(written.members).map(([id, member]) => [id, resolveMember(id, member, places)] as const),
  );
  return { ...written, written, members, pivots: written.pivots.map((pivot) => resolvePivot(written, pivot, members)) };
}

/** A model with other parts in some of its rows: the members and every pivot that is the very same are taken over. */
export function resolveChange(base: ResolvedModel, written: LinkageModel): ResolvedModel {
  const { members } = base;
  const pivots = written.pivots.map((pivot, k) =>
    pivot === base.written.pivots[k] ? base.pivots[k]! : resolvePivot(written, pivot, members),
  );
  return { ...written, written, members, pivots };
}

function resolvePivot(written: LinkageModel, pivot: Pivot, members: ResolvedModel['members']): ResolvedPivot {
  const stacks = pivot.stacks.map((stack) => resolveStack(written, stack, members));
  const bores = stacks.flatMap(({ row, receiver }) => [
    ...row.flatMap((entry) => (entry.role === 'boss' ? [entry.bore] : [])),
    ...(receiver.bore ? [receiver.bore] : []),
  ]);
  return { ...pivot, stacks, members: [...new Set(bores.map(({ memberId }) => memberId))] };
}

/** The pivot of that id; `asker` names the module in the refusal of an id that the model lacks. */
export function pivotOf(model: ResolvedModel, id: string, asker: string): ResolvedPivot {
  return (
    model.pivots.find((pivot) => pivot.id === id) ??
    refuse(asker, 'pivot', id, model.pivots.map((pivot) => pivot.id).join(', '))
  );
}

type Places = ReadonlyMap<string, { readonly x_mm: number; readonly y_mm: number }>;

/** The first pivot whose rows or receivers name a bore, by `member/bore`. */
function placesOf(model: LinkageModel): Places {
  const places = new Map<string, { x_mm: number; y_mm: number }>();
  for (const { x_mm, y_mm, stacks } of model.pivots) {
    for (const name of stacks.flatMap(({ receiver, row }) => [
      receiver,
      ...row.map(({ member, bore }) => `${member}/${bore}`),
    ]))
      if (!places.has(name)) places.set(name, { x_mm, y_mm });
  }
  return places;
}

function resolveMember(memberId: string, member: Member, places: Places): ResolvedMember {
  const placeOf = (boreId: string, { x_mm, y_mm }: MemberBore) =>
    places.get(`${memberId}/${boreId}`) ?? { x_mm: x_mm!, y_mm: y_mm! };
  const endOf = (name: string): WebEnd => {
    const bore = entryOf(member.bores, name);
    if (!bore) return { ...member.points![name]!, isBore: false };
    const z_mm = (bore.z_from_mm + bore.z_to_mm) / 2;
    return { ...placeOf(name, bore), z_mm, boss_mm: bore.boss_mm, isBore: true };
  };
  const webs = (member.webs ?? []).map((web): ResolvedWeb => ({ ...web, ends: [endOf(web.from), endOf(web.to)] }));
  const bores = Object.fromEntries(
    Object.entries(member.bores).map(([boreId, bore]): [string, ResolvedBore] => {
      const own = webs.filter((web) => web.from === boreId || web.to === boreId);
      return [boreId, { ...bore, memberId, boreId, member, place: placeOf(boreId, bore), webs: own }];
    }),
  );
  return { ...member, bores, webs };
}

function resolveStack(model: LinkageModel, stack: Stack, members: ResolvedModel['members']): ResolvedStack {
  const seats = seatsOf(model, stack);
  const boreOf = (member: string, bore: string): ResolvedBore => members[member]!.bores[bore]!;
  const row = stack.row.map(({ part: partId, member, bore, ...entry }, k): ResolvedEntry => {
    if (partId === undefined) return { ...entry, role: 'boss', bore: boreOf(member!, bore!) };
    const part = model.parts[partId]!;
    if (isAtTip(model, stack, k)) return { ...entry, role: 'tip', partId, part };
    if (stands(part, 'bore')) {
      const { member, bore } = stack.row[linedAt(stack, k)!]!;
      return { ...entry, role: 'lining', partId, part, lines: boreOf(member!, bore!) };
    }
    if (part.kind !== 'bearing') {
      const clipped = stands(part, 'groove') ? seats.get(clippedAt(seats, k) ?? Number.NaN) : undefined;
      const bore = clipped && boreOf(clipped.member, clipped.bore);
      const groove = bore?.seats?.find(({ side }) => side === clipped!.side)?.groove;
      return {
        ...entry,
        role: 'spacer',
        partId,
        part,
        ...(groove ? { clips: { bore: bore!, side: clipped!.side, groove } } : {}),
      };
    }
    const seat = seats.get(k)!;
    const own = boreOf(seat.member, seat.bore);
    const under = seat.on === undefined ? undefined : stack.row[seat.on]!.id;
    const {
      side: _side,
      depth_mm,
      depth_tol_mm: _tol,
      groove,
      diameter_mm,
      ...bounds
    } = own.seats!.find(({ side }) => side === seat.side)!;
    return {
      ...entry,
      role: 'bearing',
      partId,
      part,
      bearing: resolveBearing(part),
      seat: {
        bore: own,
        side: seat.side,
        diameter_mm,
        bounds,
        depth_mm,
        rest_mm: depth_mm - seat.taken_mm,
        ...(groove ? { groove } : {}),
        ...(under === undefined ? {} : { on: under }),
        isCovered: [...seats.values()].some(({ on }) => on === k),
      },
    };
  });
  const [member, bore] = stack.receiver.split('/');
  const receiver: ResolvedReceiver =
    bore === undefined
      ? { partId: stack.receiver, part: model.parts[stack.receiver] as PartOf<'nut'> | Shanked }
      : { bore: boreOf(member!, bore) };
  return { ...stack, axle: { partId: stack.axle, part: model.parts[stack.axle] as Shanked }, receiver, row };
}

/** The entry a file defines under `key`: never what every object inherits, such as `constructor`. */
export function entryOf<T>(record: Readonly<Record<string, T>> | undefined, key: string | undefined): T | undefined {
  return record !== undefined && key !== undefined && Object.hasOwn(record, key) ? record[key] : undefined;
}

interface SeatPlace {
  readonly member: string;
  readonly bore: string;
  readonly side: Side;
  /** What of the seat's depth the bearings under it take up, and the row index of the one it rests on. */
  readonly taken_mm: number;
  readonly on?: number;
}

/** Share of its width by which a second bearing must stand in the seat: our own rule, no source. */
const LEAST_SEATED = 0.5;

/**
 * The seat of every bearing of a row, keyed by row index. A bearing listed after a bore sits in its drive seat, one
 * listed before it in its non-drive seat; the nearest free seat wins, spacers in between (a sleeve inside a shell)
 * being passed over. One that finds none shares the seat of the bearing next to it where that is deep enough, and rests
 * on it. A bearing without an entry has no seat.
 */
export function seatsOf(model: LinkageModel, stack: Stack): ReadonlyMap<number, SeatPlace> {
  const seats = new Map<number, SeatPlace>();
  const taken = new Set<string>();
  const bearings = stack.row.flatMap((entry, k) => (entryOf(model.parts, entry.part)?.kind === 'bearing' ? [k] : []));
  for (let reach = 1; reach < stack.row.length; reach++) {
    for (const k of bearings) {
      if (seats.has(k)) continue;
      for (const [at, side] of [
        [k - reach, 'drive'],
        [k + reach, 'non-drive'],
      ] as const) {
        const entry = stack.row[at];
        if (!entry?.member || !entry.bore || !isClear(stack, k, at)) continue;
        const key = `${at} ${side}`;
        const bore = entryOf(entryOf(model.members, entry.member)?.bores, entry.bore);
        if (taken.has(key) || !bore?.seats?.some((seat) => seat.side === side)) continue;
        taken.add(key);
        seats.set(k, { member: entry.member, bore: entry.bore, side, taken_mm: 0 });
        break;
      }
    }
  }
  // From the shoulder outward: toward the drive side in drive seats, the other way in the others.
  for (const k of bearings) share(model, stack, seats, k, 'drive');
  for (const k of [...bearings].reverse()) share(model, stack, seats, k, 'non-drive');
  return seats;
}

/**
 * True for an entry that stands on the axle's tip: of a kind that may, and with nothing but such between it and the end
 * of the row where the axle is received.
 */
export function isAtTip(
  { parts }: Pick<LinkageModel, 'parts'>,
  { from, row }: Pick<Stack, 'from' | 'row'>,
  k: number,
): boolean {
  const beyond = from === 'non-drive' ? row.slice(k) : row.slice(0, k + 1);
  return beyond.every((entry) => {
    const part = entryOf(parts, entry.part);
    return part !== undefined && stands(part, 'tip');
  });
}

/** The bore that a bush of a row lines: next to it, of two the one toward the non-drive side. */
export function linedAt({ row }: Pick<Stack, 'row'>, k: number): number | undefined {
  return [k - 1, k + 1].find((at) => row[at]?.member !== undefined && row[at].bore !== undefined);
}

/** The bearing that a circlip in a row keeps in: its neighbour toward the shoulder. */
export function clippedAt(seats: ReadonlyMap<number, { readonly side: Side }>, k: number): number | undefined {
  return (
    [
      [k - 1, 'drive'],
      [k + 1, 'non-drive'],
    ] as const
  ).find(([at, side]) => seats.get(at)?.side === side)?.[0];
}

/** Puts a bearing without a seat into that of its neighbour toward the shoulder, where it finds enough of it. */
function share(model: LinkageModel, stack: Stack, seats: Map<number, SeatPlace>, k: number, side: Side): void {
  const on = side === 'drive' ? k - 1 : k + 1;
  const under = seats.get(on);
  if (seats.has(k) || under?.side !== side) return;
  const [below_mm, width_mm] = [on, k].map((at) => bearingWidth_mm(entryOf(model.parts, stack.row[at]?.part)));
  if (below_mm === undefined || width_mm === undefined) return;
  const bore = entryOf(entryOf(model.members, under.member)?.bores, under.bore);
  const depth_mm = bore?.seats?.find((seat) => seat.side === side)?.depth_mm ?? 0;
  const taken_mm = under.taken_mm + below_mm + (stack.row[on]?.proud_mm ?? 0);
  if (depth_mm - taken_mm >= LEAST_SEATED * width_mm - 1e-9) seats.set(k, { ...under, taken_mm, on });
}

/** No other bore stands between two row indices. */
function isClear(stack: Stack, a: number, b: number): boolean {
  return stack.row.slice(Math.min(a, b) + 1, Math.max(a, b)).every((entry) => entry.member === undefined);
}
