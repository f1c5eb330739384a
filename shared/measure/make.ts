/**
 * What a hand does to the make of a draft while it measures a pivot up: parts, bearings, bosses and pivots put in, taken
 * out, doubled, mirrored to the other side, told apart.
 *
 * Whatever is new has usual sizes, each a guess, to be measured afterwards; guesses of what spans the place (the axle,
 * the distance between two bosses) follow the part that came or went, and what was measured stays. Pure: each takes the
 * model of a draft and gives the next one, or none where it cannot be done. mm, z to the drive side.
 */
import { isSizeKey, type DraftBore, type DraftModel, type SizeEntry } from '../envelope/draft.ts';
import { seatsOf } from '../model/resolve.ts';
import type { LinkageModel, Member, Part, PartKind, Side, Stack } from '../model/schema.ts';
import { otherSide } from '../numbers/figures.ts';
import { kindOf, partProfile, stands } from '../parts/kinds.ts';
import { BEARINGS, findBearing } from '../standards/bearings.ts';
import { bandOf } from './known.ts';
import { bodiesOf } from './row.ts';

type DraftPart = DraftModel['parts'][string];
type DraftStack = DraftModel['pivots'][number]['stacks'][number];
type DraftEntry = DraftStack['row'][number];
type Entries = readonly DraftEntry[];

/** A model, and the row id of what a hand has made last. */
export interface Made {
  readonly model: DraftModel;
  readonly item: string;
}

/** Play of a part on its axle at usual sizes, mm. Common practice, no source. */
const PLAY_mm = 0.2;
/** Wall of a shoulder under a bearing, and of metal round it twice, at usual sizes, mm. Common practice, no source. */
const SHOULDER_mm = 2;
/** Width of a boss at usual sizes, mm. Common practice, no source. */
const BOSS_mm = 8;

const DIAMETERS = ['outside_mm', 'small_mm', 'large_mm', 'land_mm', 'flange_mm'] as const;

/** A size that nobody has taken. */
function guess(value: number): SizeEntry {
  return { value: Math.round(value * 1000) / 1000, from: 'guess' };
}

/** Data of a model with each of its sizes a guess. */
function asGuess<T>(data: T): T {
  if (Array.isArray(data)) return data.map(asGuess) as T;
  if (typeof data !== 'object' || data === null) return data;
  const entries = Object.entries(data).map(([key, value]) => [
    key,
    isSizeKey(key) && typeof value === 'number' ? guess(value) : asGuess(value),
  ]);
  return Object.fromEntries(entries) as T;
}

/** The likeliest of what a draft says of a size; `otherwise` where it says nothing. */
function likely(entry: SizeEntry | undefined, otherwise: number): number {
  return bandOf(entry)?.middle ?? otherwise;
}

/** A guess that is larger by so much; anything else stays. */
function grown(entry: SizeEntry | undefined, by_mm: number): SizeEntry | undefined {
  const band = bandOf(entry);
  if (!band?.isOpen || band.middle + by_mm <= 0) return entry;
  return guess(band.middle + by_mm);
}

/** The stack of a draft, by its id. */
export function stackIn(model: DraftModel, id: string): DraftStack | undefined {
  return model.pivots.flatMap(({ stacks }) => stacks).find((stack) => stack.id === id);
}

/** A draft’s model with a stack of it changed. */
export function withStack(model: DraftModel, id: string, change: (stack: DraftStack) => DraftStack): DraftModel {
  return {
    ...model,
    pivots: model.pivots.map((pivot) => ({
      ...pivot,
      stacks: pivot.stacks.map((stack) => (stack.id === id ? change(stack) : stack)),
    })),
  };
}

function withRow(model: DraftModel, id: string, row: Entries): DraftModel {
  return counted(withStack(model, id, (stack) => ({ ...stack, row })));
}

/** A draft’s model with a bore of it changed, or without it. */
function withBore(model: DraftModel, memberId: string, boreId: string, bore: DraftBore | undefined): DraftModel {
  const member = model.members[memberId]!;
  const { [boreId]: _, ...others } = member.bores;
  const bores = bore ? { ...member.bores, [boreId]: bore } : others;
  return { ...model, members: { ...model.members, [memberId]: { ...member, bores } } };
}

/** A name that is not taken, like the one wanted. */
function freeName(wanted: string, taken: Iterable<string>): string {
  const names = new Set(taken);
  for (let k = 1; ; k++) {
    const name = k === 1 ? wanted : `${wanted}-${k}`;
    if (!names.has(name)) return name;
  }
}

/** The counts of the parts list as the rows have them, and no part that nothing uses. */
function counted(model: DraftModel): DraftModel {
  const parts = Object.fromEntries(
    Object.entries(model.parts).flatMap(([id, part]) => {
      const count = usesOf(model, id);
      return count === 0 ? [] : [[id, { ...part, count }] as const];
    }),
  );
  return { ...model, parts };
}

function entryAt(stack: DraftStack | undefined, item: string | undefined): number {
  return stack?.row.findIndex(({ id }) => id === item) ?? -1;
}

function partAt(model: DraftModel, entry: DraftEntry | undefined): DraftPart | undefined {
  return entry?.part === undefined ? undefined : model.parts[entry.part];
}

function boreOf(model: DraftModel, entry: DraftEntry | undefined): DraftBore | undefined {
  return entry?.member === undefined ? undefined : model.members[entry.member]?.bores[entry.bore ?? ''];
}

/** By row index, the seat of each bearing; it hangs on no size. */
function seatsIn(model: DraftModel, stack: DraftStack): ReturnType<typeof seatsOf> {
  return seatsOf(model as unknown as LinkageModel, stack as unknown as Stack);
}

/** Undefined where a bearing of the row has lost its seat. */
function whole(model: DraftModel, stackId: string): DraftModel | undefined {
  const stack = stackIn(model, stackId)!;
  const bearings = stack.row.filter((entry) => partAt(model, entry)?.kind === 'bearing').length;
  return stack.row.length > 0 && seatsIn(model, stack).size === bearings ? model : undefined;
}

/** Thickest place of the axle of a stack, mm. */
function axle_mm(model: DraftModel, stackId: string): number {
  const axle = model.parts[stackIn(model, stackId)!.axle];
  const shank = axle && 'shank' in axle ? axle.shank : [];
  return Math.ceil(Math.max(8, ...shank.map(({ diameter_mm }) => likely(diameter_mm, 0))));
}

/** A part of a kind as it usually is on the axle of a stack: its sample on that bore, with its walls. */
function usualPart(kind: PartKind, model: DraftModel, stackId: string): DraftPart {
  const { sample } = kindOf({ kind });
  const bore_mm = axle_mm(model, stackId);
  if (sample.kind === 'bearing') {
    const row = BEARINGS.find((own) => own.bore_mm >= bore_mm) ?? BEARINGS.at(-1)!;
    const { bore_mm: own_mm, outside_mm, width_mm } = row;
    return asGuess({ kind: 'bearing', name: sample.name, bore_mm: own_mm, outside_mm, width_mm });
  }
  if (!('bore_mm' in sample) || sample.bore_mm === undefined || 'head' in sample) return asGuess(sample);
  const by_mm = bore_mm + PLAY_mm - sample.bore_mm;
  const diameters = Object.entries(sample).filter(([key]) => DIAMETERS.some((known) => known === key));
  const widened = Object.fromEntries(diameters.map(([key, value]) => [key, Number(value) + by_mm] as const));
  return asGuess({ ...sample, ...widened, bore_mm: bore_mm + PLAY_mm });
}

/** A name for one more part of a kind, numbered where one has it. */
function freeWord(noun: string, names: readonly string[]): string {
  for (let k = 1; ; k++) {
    const name = k === 1 ? noun : `${noun} ${k}`;
    if (!names.includes(name)) return name;
  }
}

const namesOf = (things: Readonly<Record<string, { readonly name: string }>>): readonly string[] =>
  Object.values(things).map(({ name }) => name);

const idOf = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '') || 'one';

function named(model: DraftModel, part: DraftPart): { readonly id: string; readonly part: DraftPart } {
  const noun = kindOf(part).noun.one;
  const name = freeWord(noun[0]!.toUpperCase() + noun.slice(1), namesOf(model.parts));
  return { id: freeName(idOf(name), Object.keys(model.parts)), part: { ...part, name } };
}

/**
 * A new part in a row: loose on the drive side of the item, or at the non-drive end; a bearing in a seat of the boss
 * that the item is. None where a kind cannot stand there.
 */
export function addPart(model: DraftModel, stackId: string, kind: PartKind, after?: string): Made | undefined {
  const stack = stackIn(model, stackId);
  if (!stack) return undefined;
  const { id, part } = named(model, usualPart(kind, model, stackId));
  const next = { ...model, parts: { ...model.parts, [id]: part } };
  if (stands({ kind }, 'loose')) return putIn(next, stack, { id, part: id, greased: true }, entryAt(stack, after) + 1);
  return kind === 'bearing' ? pressIn(next, stack, id, after) : undefined;
}

function putIn(model: DraftModel, stack: DraftStack, entry: DraftEntry, at: number): Made | undefined {
  const item = freeName(
    entry.id,
    stack.row.map((own) => own.id),
  );
  const row = [...stack.row.slice(0, at), { ...entry, id: item }, ...stack.row.slice(at)];
  const next = whole(withRow(model, stack.id, row), stack.id);
  return next && { model: followed(next, stack.id, at, lengthOf(model, entry)), item };
}

/** What a thing of a row takes of the clamp column, mm. */
function lengthOf(model: DraftModel, entry: DraftEntry): number {
  const part = partAt(model, entry);
  if (!part) return likely(boreOf(model, entry)?.width_mm, 0);
  if (kindOf(part).seals || part.kind === 'bearing') return 0;
  return 'length_mm' in part ? likely(part.length_mm, 0) : 0;
}

/**
 * Guesses that span a place of a row, larger by what came there: the first cylinder of the axle, and the distance
 * between the two bosses of a member on either side. Between the two bearings of one shell nothing outside moves.
 */
function followed(model: DraftModel, stackId: string, at: number, by_mm: number): DraftModel {
  const stack = stackIn(model, stackId)!;
  const seats = seatsIn(model, stack);
  const isInShell = [...seats].some(([k, seat]) =>
    [...seats].some(([other, its]) => k < at && at < other && seat.member === its.member && seat.bore === its.bore),
  );
  if (isInShell || by_mm === 0) return model;
  const axle = model.parts[stack.axle];
  let next = model;
  if (axle && 'shank' in axle) {
    const [first, ...rest] = axle.shank;
    const shank = [{ ...first!, length_mm: grown(first!.length_mm, by_mm) }, ...rest];
    next = { ...next, parts: { ...next.parts, [stack.axle]: { ...axle, shank } } };
  }
  const placeOf = new Map<string, number>(
    stack.row.flatMap(({ member, bore }, k) => (member === undefined ? [] : [[`${member}/${bore}`, k] as const])),
  );
  if (stack.receiver.includes('/')) placeOf.set(stack.receiver, stack.from === 'drive' ? -1 : stack.row.length);
  for (const [member, bores] of bodiesOf({ stacks: [stack] }))
    bores.slice(1).forEach((name, k) => {
      const [before, after] = [placeOf.get(`${member}/${bores[k]}`)!, placeOf.get(`${member}/${name}`)!];
      if (!(before < at && at < after)) return;
      const bore = next.members[member]!.bores[name]!;
      next = withBore(next, member, name, { ...bore, gap_mm: grown(bore.gap_mm, by_mm) });
    });
  return next;
}

function pressIn(
  model: DraftModel,
  stack: DraftStack,
  partId: string,
  boss: string | undefined,
  side?: Side,
): Made | undefined {
  const at = entryAt(stack, boss);
  const entry = stack.row[at];
  const bore = boreOf(model, entry);
  if (!entry || !bore) return undefined;
  const taken = [...seatsIn(model, stack).values()].filter(
    (own) => own.member === entry.member && own.bore === entry.bore,
  );
  const free = (['drive', 'non-drive'] as const).find(
    (own) => !taken.some((seat) => seat.side === own) && (side === undefined || own === side),
  );
  if (free === undefined) return undefined;
  const next = withBore(model, entry.member!, entry.bore!, withSeat(bore, model.parts[partId]!, free));
  return putIn(next, stack, { id: partId, part: partId, greased: true }, free === 'drive' ? at + 1 : at);
}

/** A bore with a seat for a bearing on a side; guesses leave metal enough round and behind it. */
function withSeat(bore: DraftBore, bearing: DraftPart, side: Side): DraftBore {
  const own = bearing.kind === 'bearing' ? bearing : undefined;
  const row = own?.designation === undefined ? undefined : findBearing(own.designation);
  const outside_mm = likely(own?.outside_mm, row?.outside_mm ?? 26);
  const width_mm = likely(own?.width_mm, row?.width_mm ?? 8);
  const seats = bore.seats ?? [];
  const known = seats.find((seat) => seat.side === side);
  const depth = seats.reduce((sum, seat) => sum + likely(seat.depth_mm, 0), known ? 0 : width_mm);
  const atLeast = (entry: SizeEntry | undefined, least: number): SizeEntry | undefined =>
    likely(entry, 0) < least ? grown(entry, least - likely(entry, 0)) : entry;
  const through = bandOf(bore.bore_mm);
  return {
    ...bore,
    bore_mm: through?.isOpen === true ? guess(outside_mm - 2 * SHOULDER_mm) : bore.bore_mm,
    boss_mm: atLeast(bore.boss_mm, outside_mm + 4 * SHOULDER_mm),
    width_mm: atLeast(bore.width_mm, depth + SHOULDER_mm),
    seats: known ? seats : [...seats, { side, diameter_mm: guess(outside_mm), depth_mm: guess(width_mm) }],
  };
}

/** A new boss in a row, on the drive side of the item: another one of a member, or of a new one by a name. */
export function addBoss(
  model: DraftModel,
  stackId: string,
  of: string | { readonly kind: Member['kind']; readonly name: string },
  after?: string,
): Made | undefined {
  const stack = stackIn(model, stackId);
  if (!stack || (typeof of === 'string' && !model.members[of])) return undefined;
  const id = typeof of === 'string' ? of : freeName(idOf(of.name), Object.keys(model.members));
  const members =
    typeof of === 'string'
      ? model.members
      : { ...model.members, [id]: { ...of, material: 'aluminium-6061' as const, bores: {} } };
  const bore = freeName('boss', Object.keys(members[id]!.bores));
  const across_mm = axle_mm(model, stackId);
  const made: DraftBore = {
    width_mm: guess(BOSS_mm),
    gap_mm: guess(BOSS_mm),
    bore_mm: guess(across_mm + 0.05),
    boss_mm: guess(across_mm + 18),
  };
  const next = withBore({ ...model, members }, id, bore, made);
  return putIn(next, stack, { id: `${id}-${bore}`, member: id, bore }, entryAt(stack, after) + 1);
}

/** The row without one of its things; a boss goes with its bearings, a bearing with its seat. */
export function removeItem(model: DraftModel, stackId: string, item: string): DraftModel | undefined {
  const stack = stackIn(model, stackId);
  const at = entryAt(stack, item);
  const entry = stack?.row[at];
  if (!stack || !entry) return undefined;
  const seats = seatsIn(model, stack);
  const mine = seats.get(at);
  const gone = entry.member === undefined ? [at] : [at, ...held(seats, entry)];
  let next = model;
  if (mine) {
    const bore = next.members[mine.member]!.bores[mine.bore]!;
    next = withBore(next, mine.member, mine.bore, withoutSeat(bore, mine.side));
  }
  if (entry.member !== undefined) next = withoutBore(next, entry.member, entry.bore!);
  const row = stack.row.filter((_, k) => !gone.includes(k));
  if (row.length === 0) return undefined;
  const length_mm = lengthOf(model, entry);
  const without = whole(withRow(next, stackId, row), stackId);
  return without && followed(without, stackId, at - 0.5, -length_mm);
}

function held(seats: ReturnType<typeof seatsOf>, { member, bore }: DraftEntry): readonly number[] {
  return [...seats].flatMap(([k, seat]) => (seat.member === member && seat.bore === bore ? [k] : []));
}

function withoutSeat(bore: DraftBore, side: Side): DraftBore {
  const { seats = [], ...own } = bore;
  const left = seats.filter((seat) => seat.side !== side);
  return left.length > 0 ? { ...own, seats: left } : own;
}

function withoutBore(model: DraftModel, memberId: string, boreId: string): DraftModel {
  const next = withBore(model, memberId, boreId, undefined);
  const { [memberId]: member, ...members } = next.members;
  return member && Object.keys(member.bores).length === 0 ? { ...next, members } : next;
}

/** One more of a loose part, beside it. */
export function duplicateItem(model: DraftModel, stackId: string, item: string): Made | undefined {
  const stack = stackIn(model, stackId);
  const at = entryAt(stack, item);
  const part = partAt(model, stack?.row[at]);
  return stack && part && stands(part, 'loose') ? putIn(model, stack, stack.row[at]!, at + 1) : undefined;
}

/** One more of a part, or of a boss without its bearings, at the mirrored place of its row and the other way round. */
export function mirrorItem(model: DraftModel, stackId: string, item: string): Made | undefined {
  const stack = stackIn(model, stackId);
  const at = entryAt(stack, item);
  const entry = stack?.row[at];
  if (!stack || !entry) return undefined;
  const { row } = stack;
  const seats = seatsIn(model, stack);
  const bosses = row.flatMap((own, k) => (own.member === undefined ? [] : [k]));
  const mine = seats.get(at);
  if (mine) {
    const boss = bosses.findIndex((k) => row[k]!.member === mine.member && row[k]!.bore === mine.bore);
    return pressIn(model, stack, entry.part!, row[bosses[bosses.length - 1 - boss]!]!.id, otherSide(mine.side));
  }
  const bore = boreOf(model, entry);
  if (bore) {
    const id = freeName('boss', Object.keys(model.members[entry.member!]!.bores));
    const { thread, seats: _, ...own } = bore;
    const made = thread ? { ...own, thread: { ...thread, opens: otherSide(thread.opens) } } : own;
    const next = withBore(model, entry.member!, id, made);
    return putIn(next, stack, { id: `${entry.member}-${id}`, member: entry.member, bore: id }, row.length - at);
  }
  // Between the mirrored neighbours, as far from the one as it now is from the other.
  const fixed = row.flatMap((own, k) => (own.member === undefined && !seats.has(k) ? [] : [k]));
  const before = fixed.filter((k) => k < at).length;
  const loose = (fixed[before] ?? row.length) - at - 1;
  const [start, end] = [fixed[fixed.length - before - 1] ?? -1, fixed[fixed.length - before] ?? row.length];
  const to = Math.min(start + 1 + loose, end);
  const { turned, ...straight } = entry;
  const part = partAt(model, entry)!;
  const facing = partProfile(kindOf(part).sample as Part).hasTwoWays && turned !== true;
  return putIn(model, stack, facing ? { ...straight, turned: true } : straight, to);
}

/** The item as a part of its own where the rows have several of it, so that each is measured by itself. */
export function tellApart(model: DraftModel, stackId: string, item: string): DraftModel | undefined {
  const stack = stackIn(model, stackId);
  const at = entryAt(stack, item);
  const entry = stack?.row[at];
  const part = partAt(model, entry);
  if (!stack || !entry || !part || usesOf(model, entry.part!) < 2) return undefined;
  const own = named(model, part);
  const next = { ...model, parts: { ...model.parts, [own.id]: own.part } };
  return withRow(next, stackId, stack.row.with(at, { ...entry, part: own.id }));
}

/** How often the rows have a part. */
export function usesOf(model: DraftModel, partId: string): number {
  return model.pivots
    .flatMap(({ stacks }) =>
      stacks.flatMap(({ axle, receiver, row }) => [axle, receiver, ...row.map(({ part }) => part)]),
    )
    .filter((id) => id === partId).length;
}

/** One more pivot from the draft of a manner; members that both call by the same name are one member. */
export function addPivot(model: DraftModel, from: DraftModel): DraftModel {
  const stackIds = model.pivots.flatMap(({ stacks }) => stacks.map(({ id }) => id));
  const ids = new Map<string, string>();
  const parts: Record<string, DraftPart> = { ...model.parts };
  for (const [id, part] of Object.entries(from.parts)) {
    const own = freeName(id, Object.keys(parts));
    ids.set(id, own);
    parts[own] = { ...part, name: freeWord(part.name, namesOf(parts)) };
  }
  const members = { ...model.members };
  for (const [id, member] of Object.entries(from.members)) {
    const joins = Object.keys(members).find((known) => members[known]!.name === member.name);
    const own = joins ?? freeName(id, Object.keys(members));
    const bores = { ...members[own]?.bores };
    for (const [boreId, bore] of Object.entries(member.bores)) {
      const free = freeName(boreId, Object.keys(bores));
      ids.set(`${id}/${boreId}`, `${own}/${free}`);
      bores[free] = bore;
    }
    members[own] = { ...(members[own] ?? member), bores };
  }
  const pivots = from.pivots.map((pivot) => ({
    ...pivot,
    id: freeName(
      pivot.id,
      model.pivots.map(({ id }) => id),
    ),
    name: freeWord(
      pivot.name,
      model.pivots.map(({ name }) => name),
    ),
    x_mm: model.pivots.length * BESIDE_mm,
    stacks: pivot.stacks.map((stack) => ({
      ...stack,
      id: freeName(stack.id, stackIds),
      axle: ids.get(stack.axle)!,
      receiver: ids.get(stack.receiver)!,
      row: stack.row.map((entry): DraftEntry => {
        if (entry.part !== undefined) return { ...entry, part: ids.get(entry.part)! };
        const [member, bore] = ids.get(`${entry.member}/${entry.bore}`)!.split('/') as [string, string];
        return { ...entry, member, bore };
      }),
    })),
  }));
  return counted({ ...model, parts, members, pivots: [...model.pivots, ...pivots] });
}

/** How far pivots stand from one another in the side plane until somebody says where they are, mm. */
const BESIDE_mm = 100;
