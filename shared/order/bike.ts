/**
 * The bike as the build order sees it: what is handled as one piece, what each axle joins, what takes up room where.
 *
 * A unit is what a hand brings in at once: a member, or the shock with both its halves. Room is taken by members'
 * outlines, wheel, chainset and chainring, and by the shock's can and shaft, whose thickness no model states: it is
 * estimated as it is drawn. All as drawn, which is the pose in the stand with the shock at full length.
 *
 * A loose spacer that reaches into the bore of a boss beside it cannot be brought in from the side once the next boss
 * stands before it: it must lie there before the two meet, or one of them must be moved away again. One that reaches
 * into both lets them meet along the axle only. One between two bearings of one boss is shut in: its bearings cannot go
 * in without it. At an end of the row a spacer goes on from outside at any time. mm, at the tight place.
 */
import type { LinkageModel, Side, Stack } from '../model/schema.ts';
import { otherSide } from '../numbers/figures.ts';
import { type Linkage, linkageOf } from '../travel/linkage.ts';
import { type Outline, outlinesOf } from '../travel/outline.ts';
import { GROUND, type Place } from '../travel/planar.ts';
import type { Analysis, PlacedItem, StackAnalysis } from '../types.ts';
import { ORDER_LIMITS } from './limits.ts';

/** Something that takes up room; `owner` is a unit or an obstacle. */
export interface Piece extends Outline {
  readonly owner: string;
  /** Its thickness is estimated, not given. */
  readonly isEstimate: boolean;
}

/** The corners of what lies in the side plane, mm. */
export interface Box {
  readonly xFrom_mm: number;
  readonly xTo_mm: number;
  readonly yFrom_mm: number;
  readonly yTo_mm: number;
}

/** What a hand brings in at once. */
export interface Unit {
  readonly id: string;
  readonly members: readonly string[];
  /** On from the start: the frame. */
  readonly isFrame: boolean;
  /** The body of the side plane it moves with; units of one body cannot move against one another. */
  readonly body: number;
}

/** One axle and what it joins. */
export interface Joined {
  readonly id: string;
  readonly stack: StackAnalysis;
  readonly written: Stack;
  readonly place: Place;
  /** Names the axis it lies on: the same for axles on one line. */
  readonly axis: string;
  /** Its shank at its thickest, mm across. */
  readonly shank_mm: number;
  readonly items: readonly PlacedItem[];
  readonly axle: PlacedItem;
  readonly receiver: PlacedItem;
  /** The side the axle goes in from, and the other. */
  readonly from: Side;
  readonly tipSide: Side;
  /** Units of its row and receiver, in the order the axle meets them, each once. */
  readonly units: readonly string[];
  /** Units clamped together when it is tight, each once. */
  readonly clamped: readonly string[];
  readonly spacers: readonly SpacerPlace[];
  /** It holds an end of the shock and joins no two bodies besides. */
  readonly isShockEnd: boolean;
  readonly isThreadlocked: boolean;
}

/** The bike. */
export interface Bike {
  readonly model: LinkageModel;
  readonly linkage: Linkage;
  readonly units: ReadonlyMap<string, Unit>;
  readonly unitOf: ReadonlyMap<string, string>;
  /** Units that are on from the start. */
  readonly frame: readonly string[];
  /** The shock's unit, where the model has one. */
  readonly shock?: string;
  /** In the maker's order, where the model gives one: it settles what is otherwise the same. */
  readonly stacks: readonly Joined[];
  readonly byStack: ReadonlyMap<string, Joined>;
  /** Axles by the units they join. */
  readonly byUnit: ReadonlyMap<string, readonly Joined[]>;
  /** Everything that takes up room, by owner. */
  readonly pieces: ReadonlyMap<string, readonly Piece[]>;
  readonly boxes: ReadonlyMap<string, Box>;
  /** Obstacles that come and go as one: wheel; chainset with its ring. */
  readonly wheel: readonly string[];
  readonly chainset: readonly string[];
}

/** Two axes nearer than about this are one, mm: figures of a file are rounded. */
const AXIS_mm = 1;

/** The bike of an analysis. */
export function bikeOf(analysis: Analysis): Bike {
  const { model } = analysis;
  const linkage = linkageOf(analysis.resolved);
  const unitOf = unitNames(model);
  const units = unitsOf(model, linkage, unitOf);
  const all = new Map(analysis.pivots.flatMap(({ stacks }) => stacks.map((stack) => [stack.id, stack])));
  const written = new Map(
    model.pivots.flatMap((pivot) => pivot.stacks.map((stack) => [stack.id, { stack, pivot }] as const)),
  );
  const shock = model.shock && unitOf.get(model.shock.body);
  const stacks = [...new Set([...(model.order ?? []), ...all.keys()])].flatMap((id): Joined[] => {
    const [stack, own] = [all.get(id), written.get(id)];
    return stack && own ? [joinedOf(model, stack, own, { unitOf, units, shock })] : [];
  });
  const pieces = piecesOf(model, linkage, units);
  const idsOf = (...kinds: readonly string[]): string[] =>
    (model.obstacles ?? []).filter(({ kind }) => kinds.includes(kind)).map(({ id }) => id);
  return {
    model,
    linkage,
    units,
    unitOf,
    frame: [...units.values()].filter(({ isFrame }) => isFrame).map(({ id }) => id),
    ...(shock === undefined ? {} : { shock }),
    stacks,
    byStack: new Map(stacks.map((own) => [own.id, own])),
    byUnit: grouped(stacks, (own) => own.units),
    pieces,
    boxes: new Map([...pieces].map(([owner, list]) => [owner, boxOf(list)])),
    wheel: idsOf('wheel'),
    chainset: idsOf('chainset', 'chainring'),
  };
}

/** Whether two axles stand on one axis and hold one member between them, the frame aside: two bolts of one pivot. */
export function isSibling(bike: Bike, own: Joined, other: Joined): boolean {
  return own !== other && own.axis === other.axis && sharedUnits(bike, own, other).length > 0;
}

/** Units that two axles join both, but for the frame. */
export function sharedUnits(bike: Bike, own: Joined, other: Joined): string[] {
  return other.units.filter((unit) => own.units.includes(unit) && !bike.units.get(unit)!.isFrame);
}

/** Things by each of their keys, in the order they come. */
export function grouped<Thing>(
  things: readonly Thing[],
  keysOf: (thing: Thing) => readonly string[],
): Map<string, Thing[]> {
  const groups = new Map<string, Thing[]>();
  for (const thing of things)
    for (const key of new Set(keysOf(thing))) remembered(groups, key, (): Thing[] => []).push(thing);
  return groups;
}

/** What a key stands for, worked out the first time it is asked for. */
export function remembered<Key, Value>(known: Map<Key, Value>, key: Key, find: () => Value): Value {
  const before = known.get(key);
  if (before !== undefined) return before;
  const found = find();
  known.set(key, found);
  return found;
}

/** The box round some hulls. */
export function boxOf(hulls: readonly Pick<Outline, 'a' | 'b'>[]): Box {
  const discs = hulls.flatMap(({ a, b }) => [a, b]);
  return {
    xFrom_mm: Math.min(...discs.map(({ x_mm, radius_mm }) => x_mm - radius_mm)),
    xTo_mm: Math.max(...discs.map(({ x_mm, radius_mm }) => x_mm + radius_mm)),
    yFrom_mm: Math.min(...discs.map(({ y_mm, radius_mm }) => y_mm - radius_mm)),
    yTo_mm: Math.max(...discs.map(({ y_mm, radius_mm }) => y_mm + radius_mm)),
  };
}

/** How far two boxes are apart at least, mm; 0 where they meet. */
export function boxGap_mm(one: Box, other: Box): number {
  const x = Math.max(0, one.xFrom_mm - other.xTo_mm, other.xFrom_mm - one.xTo_mm);
  const y = Math.max(0, one.yFrom_mm - other.yTo_mm, other.yFrom_mm - one.yTo_mm);
  return Math.hypot(x, y);
}

/** The shock's halves carry one name, that of its body; every other member its own. */
function unitNames({ shock, members }: LinkageModel): Map<string, string> {
  const isShaft = (id: string): boolean => shock !== undefined && id === shock.shaft && shock.body in members;
  return new Map(Object.keys(members).map((id) => [id, isShaft(id) ? shock!.body : id]));
}

function unitsOf(model: LinkageModel, linkage: Linkage, unitOf: ReadonlyMap<string, string>): Map<string, Unit> {
  const held = new Set(linkage.model.pivots.flatMap(({ members }) => members));
  const units = new Map<string, Unit>();
  for (const [member, id] of unitOf) {
    const known = units.get(id);
    units.set(id, {
      id,
      members: [...(known?.members ?? []), member],
      isFrame: (known?.isFrame ?? true) && (model.members[member]!.kind === 'frame' || !held.has(member)),
      body: known?.body ?? linkage.bodyOf.get(member) ?? GROUND,
    });
  }
  // A linkage without a frame is built on its first member.
  const first = [...units.values()].find(({ id }) => held.has(id));
  if (first && ![...units.values()].some(({ isFrame }) => isFrame)) units.set(first.id, { ...first, isFrame: true });
  return units;
}

function joinedOf(
  model: LinkageModel,
  stack: StackAnalysis,
  { stack: written, pivot }: { readonly stack: Stack; readonly pivot: Place },
  { unitOf, units, shock }: Pick<Bike, 'units' | 'unitOf'> & { readonly shock: string | undefined },
): Joined {
  const { items, from } = stack;
  const place = { x_mm: pivot.x_mm, y_mm: pivot.y_mm };
  const axle = model.parts[written.axle]!;
  const bosses = (from === 'non-drive' ? items : [...items].reverse()).flatMap(({ role, member, inColumn }) =>
    role === 'boss' && member !== undefined ? [{ unit: unitOf.get(member)!, inColumn }] : [],
  );
  const own = [...new Set(bosses.map(({ unit }) => unit))];
  const bodies = new Set(own.filter((id) => id !== shock).map((id) => units.get(id)!.body));
  return {
    id: stack.id,
    stack,
    written,
    place,
    axis: `${Math.round(place.x_mm / AXIS_mm)} ${Math.round(place.y_mm / AXIS_mm)}`,
    shank_mm: 'shank' in axle ? Math.max(...axle.shank.map((cylinder) => cylinder.diameter_mm)) : 0,
    items,
    axle: items.find((item) => item.rowId === 'axle')!,
    receiver: items.find((item) => item.rowId === 'receiver')!,
    from,
    tipSide: otherSide(from),
    units: own,
    clamped: [...new Set(bosses.filter(({ inColumn }) => inColumn).map(({ unit }) => unit))],
    spacers: spacersOf(stack),
    isShockEnd: shock !== undefined && own.includes(shock) && bodies.size <= 1,
    isThreadlocked: written.thread_treatment === 'threadlocked',
  };
}

function piecesOf(model: LinkageModel, linkage: Linkage, units: ReadonlyMap<string, Unit>): Map<string, Piece[]> {
  const pieces = new Map<string, Piece[]>();
  const rest = { volume_mm3: 0, isEstimate: false };
  for (const { id, members } of units.values()) {
    const own = members.flatMap((member) => outlinesOf(linkage.model, member));
    pieces.set(
      id,
      own.map((outline) => ({ ...outline, owner: id, isEstimate: false })),
    );
  }
  for (const { id, kind, x_mm, y_mm, radius_mm, z_from_mm, z_to_mm } of model.obstacles ?? []) {
    const disc = { x_mm, y_mm, radius_mm };
    pieces.set(id, [
      { owner: id, member: id, what: kind, a: disc, b: disc, zFrom_mm: z_from_mm, zTo_mm: z_to_mm, ...rest },
    ]);
  }
  const { shock } = model;
  const unit = shock && units.get(shock.body);
  if (shock && unit && linkage.shock) pieces.get(unit.id)!.push(...shockPieces(model, shock, linkage.shock, unit.id));
  return pieces;
}

/** Largest can, and how thick a can is against its length: as the picture draws it, an estimate. */
const CAN = { largest_mm: 25, least_mm: 14, share: 0.125, shaft_mm: 12, lug_mm: 17 } as const;

/** Can and shaft as two hulls along the line between the eyes. */
function shockPieces(
  model: LinkageModel,
  shock: NonNullable<LinkageModel['shock']>,
  { from, to }: NonNullable<Linkage['shock']>,
  owner: string,
): Piece[] {
  const [x, y] = [to.x_mm - from.x_mm, to.y_mm - from.y_mm];
  const length = Math.hypot(x, y);
  const z = (member: string): number => {
    const bores = Object.values(model.members[member]?.bores ?? {});
    const sum = bores.reduce((all, bore) => all + (bore.z_from_mm + bore.z_to_mm) / 2, 0);
    return bores.length === 0 ? 0 : sum / bores.length;
  };
  const radius_mm = Math.min(CAN.largest_mm, Math.max(CAN.least_mm, length * CAN.share));
  const canEnd = Math.max(length * 0.3, length - shock.stroke_mm - CAN.lug_mm - radius_mm);
  const at = (share_mm: number, radius: number) => ({
    x_mm: from.x_mm + (x * share_mm) / length,
    y_mm: from.y_mm + (y * share_mm) / length,
    radius_mm: radius,
  });
  const piece = (member: string, what: string, start: number, end: number, radius: number): Piece => ({
    owner,
    member,
    what,
    a: at(start, radius),
    b: at(end, radius),
    zFrom_mm: z(member) - radius,
    zTo_mm: z(member) + radius,
    volume_mm3: 0,
    isEstimate: true,
  });
  return [
    piece(shock.body, 'can', Math.min(radius_mm, canEnd / 2), canEnd - radius_mm / 2, radius_mm),
    piece(shock.shaft, 'shaft', canEnd, length, CAN.shaft_mm),
  ];
}

/** From where to where along z. */
export type Reach = Pick<Outline, 'zFrom_mm' | 'zTo_mm'>;

/** Whether two reaches pass one another at some z. */
export function isBeside(one: Reach, other: Reach): boolean {
  const shared_mm = Math.min(one.zTo_mm, other.zTo_mm) - Math.max(one.zFrom_mm, other.zFrom_mm);
  return shared_mm >= ORDER_LIMITS.shared_mm.value;
}

/** A spacer and what it lies between. */
export interface SpacerPlace {
  readonly item: PlacedItem;
  /** The two bearings of one boss it is shut between. */
  readonly shutBy?: readonly [PlacedItem, PlacedItem];
  /** The boss toward the non-drive side, and how deep the spacer reaches into it. */
  readonly low?: { readonly boss: PlacedItem; readonly into_mm: number };
  readonly high?: { readonly boss: PlacedItem; readonly into_mm: number };
  /** The ring it lies round: what it reaches into a bore is that ring's, its own face lies on the boss. */
  readonly round?: PlacedItem;
}

/**
 * The loose spacers of a stack, from the non-drive to the drive side. A ring that lies round another is shut in by it,
 * and counts as reaching as deep into the bores.
 */
export function spacersOf(stack: StackAnalysis): SpacerPlace[] {
  const places = placesOf(stack);
  const deepest = (at: 'low' | 'high', inside: readonly SpacerPlace[], place: SpacerPlace): SpacerPlace['low'] => {
    const own = place[at];
    return own && { ...own, into_mm: Math.max(own.into_mm, ...inside.map((other) => other[at]?.into_mm ?? 0)) };
  };
  return places.map((place) => {
    const inside = place.shutBy ? [] : places.filter((other) => !other.shutBy && isRound(place.item, other.item));
    if (inside.length === 0) return place;
    const [low, high] = [deepest('low', inside, place), deepest('high', inside, place)];
    return { ...place, ...(low && { low }), ...(high && { high }), round: inside[0]!.item };
  });
}

/** Whether a ring lies round another, at least in part. */
function isRound(ring: PlacedItem, other: PlacedItem): boolean {
  if (ring === other || ring.to_mm <= other.from_mm || other.to_mm <= ring.from_mm) return false;
  const radii = (item: PlacedItem): number[] => item.solids.flatMap(({ polygon }) => polygon.map(([radius]) => radius));
  return Math.min(...radii(ring)) > Math.min(...radii(other));
}

function placesOf(stack: StackAnalysis): SpacerPlace[] {
  return stack.items.flatMap((item, at): SpacerPlace[] => {
    if (item.role !== 'spacer' || item.seat) return [];
    const sides = [stack.items.slice(0, at).reverse(), stack.items.slice(at + 1)];
    const [one, other] = sides.map((side) => side.find(({ role }) => role === 'bearing'));
    const isShut =
      one?.seat !== undefined && one.seat.member === other?.seat?.member && one.seat.bore === other.seat.bore;
    const [low, high] = sides
      .map((side) => side.find(({ role }) => role === 'boss'))
      .map((boss) => {
        const into_mm = boss && Math.min(item.to_mm, boss.to_mm) - Math.max(item.from_mm, boss.from_mm);
        return boss && { boss, into_mm: Math.max(0, into_mm!) };
      });
    return [{ item, ...(isShut && { shutBy: [one, other!] }), ...(low && { low }), ...(high && { high }) }];
  });
}

/**
 * The side of a spacer that lies between two bosses on which it reaches deeper into a bore: there it lies by itself.
 */
export function deeperSide({ low, high }: SpacerPlace): 'low' | 'high' {
  return low!.into_mm >= high!.into_mm ? 'low' : 'high';
}

/**
 * How a spacer can be brought between its bosses: from the side, only while they are apart, or so that they meet along
 * the axle.
 */
export type SpacerWay = 'shut-in' | 'from-outside' | 'from-the-side' | 'before-they-meet' | 'before-they-meet-along';

/** The way of a spacer. */
export function wayOf({ shutBy, low, high }: SpacerPlace): SpacerWay {
  if (shutBy) return 'shut-in';
  if (!low || !high) return 'from-outside';
  const deep = [low, high].filter(({ into_mm }) => into_mm > ORDER_LIMITS.intoBore_mm.value).length;
  return deep === 0 ? 'from-the-side' : deep === 1 ? 'before-they-meet' : 'before-they-meet-along';
}
