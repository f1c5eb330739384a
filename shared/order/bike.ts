/**
 * The bike as the build order sees it: what is handled as one piece, what each axle joins, what takes up room where.
 *
 * A unit is what a hand brings in at once: a member, or the shock with both its halves. Room is taken by members'
 * outlines, wheel, chainset and chainring, and by the shock's can and shaft, whose thickness no model states: it is
 * estimated as it is drawn. All as drawn, which is the pose in the stand with the shock at full length.
 *
 * A loose spacer that reaches into the bore of a boss beside it cannot be brought in from the side once the next boss
 * stands before it: it must lie there before the two meet, or one of them must be moved away again. One that reaches into
 * both lets them meet along the axle only. One between two bearings of one boss is shut in: its bearings cannot go in
 * without it. At an end of the row a spacer goes on from outside at any time. mm, at the tight place.
 */
import { otherSide } from '../numbers/figures.ts';
import type { LinkageModel, Side, Stack } from '../model/schema.ts';
import { type Linkage, linkageOf } from '../travel/linkage.ts';
import { type Outline, outlinesOf } from '../travel/outline.ts';
import { GROUND } from '../travel/planar.ts';
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
  readonly place: { readonly x_mm: number; readonly y_mm: number };
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
  readonly rings: readonly SpacerPlace[];
  /** It holds an end of the shock and joins no two bodies besides. */
  readonly isShockEnd: boolean;
  readonly isThreadlocked: boolean;
  readonly isFittedForNow: boolean;
}

/** The bike. */
export interface Bike {
  readonly analysis: Analysis;
  readonly model: LinkageModel;
  readonly linkage: Linkage;
  readonly units: ReadonlyMap<string, Unit>;
  readonly unitOf: ReadonlyMap<string, string>;
  /** The shock's unit, where the model has one. */
  readonly shock?: string;
  /** In the maker's order, where the model gives one: it settles what is otherwise the same. */
  readonly stacks: readonly Joined[];
  readonly byStack: ReadonlyMap<string, Joined>;
  /** Axles by the axis they lie on, and by the units they join. */
  readonly byAxis: ReadonlyMap<string, readonly Joined[]>;
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
  const all = new Map(analysis.pivots.flatMap((pivot) => pivot.stacks.map((stack) => [stack.id, stack] as const)));
  const written = new Map(
    model.pivots.flatMap((pivot) => pivot.stacks.map((stack) => [stack.id, { stack, pivot }] as const)),
  );
  const stated = model.order ?? [];
  const named = [...stated, ...[...all.keys()].filter((id) => !stated.includes(id))];
  const shock = model.shock && unitOf.get(model.shock.body);
  const stacks = named.flatMap((id): Joined[] => {
    const stack = all.get(id);
    const own = written.get(id);
    return stack && own
      ? [joinedOf(model, stack, own.stack, { x_mm: own.pivot.x_mm, y_mm: own.pivot.y_mm }, unitOf, units, shock)]
      : [];
  });
  const pieces = piecesOf(model, linkage, units);
  const obstacles = model.obstacles ?? [];
  const idsOf = (kinds: readonly string[]): string[] =>
    obstacles.filter(({ kind }) => kinds.includes(kind)).map(({ id }) => id);
  return {
    analysis,
    model,
    linkage,
    units,
    unitOf,
    ...(shock === undefined ? {} : { shock }),
    stacks,
    byStack: new Map(stacks.map((own) => [own.id, own])),
    byAxis: grouped(stacks, ({ axis }) => [axis]),
    byUnit: grouped(stacks, (own) => own.units),
    pieces,
    boxes: new Map([...pieces].map(([owner, list]) => [owner, boxOf(list)] as const)),
    wheel: idsOf(['wheel']),
    chainset: idsOf(['chainset', 'chainring']),
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

function grouped(stacks: readonly Joined[], keysOf: (own: Joined) => readonly string[]): Map<string, Joined[]> {
  const groups = new Map<string, Joined[]>();
  for (const own of stacks) {
    for (const key of keysOf(own)) {
      const group = groups.get(key);
      if (group) group.push(own);
      else groups.set(key, [own]);
    }
  }
  return groups;
}

function boxOf(pieces: readonly Piece[]): Box {
  const box = { xFrom_mm: Infinity, xTo_mm: -Infinity, yFrom_mm: Infinity, yTo_mm: -Infinity };
  for (const { a, b } of pieces) {
    for (const { x_mm, y_mm, radius_mm } of [a, b]) {
      box.xFrom_mm = Math.min(box.xFrom_mm, x_mm - radius_mm);
      box.xTo_mm = Math.max(box.xTo_mm, x_mm + radius_mm);
      box.yFrom_mm = Math.min(box.yFrom_mm, y_mm - radius_mm);
      box.yTo_mm = Math.max(box.yTo_mm, y_mm + radius_mm);
    }
  }
  return box;
}

/** How far two boxes are apart at least, mm; 0 where they meet. */
export function boxGap_mm(one: Box, other: Box): number {
  const x = Math.max(0, one.xFrom_mm - other.xTo_mm, other.xFrom_mm - one.xTo_mm);
  const y = Math.max(0, one.yFrom_mm - other.yTo_mm, other.yFrom_mm - one.yTo_mm);
  return Math.hypot(x, y);
}

/** The shock's halves carry one name, that of its body; every other member its own. */
function unitNames(model: LinkageModel): Map<string, string> {
  const { shock } = model;
  return new Map(
    Object.keys(model.members).map((id) => [
      id,
      shock && id === shock.shaft && model.members[shock.body] ? shock.body : id,
    ]),
  );
}

function unitsOf(model: LinkageModel, linkage: Linkage, unitOf: ReadonlyMap<string, string>): Map<string, Unit> {
  const held = new Set(linkage.model.pivots.flatMap(({ members }) => members));
  const units = new Map<string, Unit>();
  for (const [member, id] of unitOf) {
    const known = units.get(id);
    const isFrame = model.members[member]!.kind === 'frame' || !held.has(member);
    const body = linkage.bodyOf.get(member) ?? GROUND;
    units.set(
      id,
      known
        ? { ...known, members: [...known.members, member], isFrame: known.isFrame && isFrame }
        : { id, members: [member], isFrame, body },
    );
  }
  // A linkage without a frame is built on its first member.
  const first = [...units.values()].find(({ id }) => held.has(id));
  if (first && ![...units.values()].some(({ isFrame }) => isFrame)) units.set(first.id, { ...first, isFrame: true });
  return units;
}

function joinedOf(
  model: LinkageModel,
  stack: StackAnalysis,
  written: Stack,
  place: Joined['place'],
  unitOf: ReadonlyMap<string, string>,
  units: ReadonlyMap<string, Unit>,
  shock: string | undefined,
): Joined {
  const items = stack.items;
  const way = stack.from === 'non-drive' ? items : [...items].reverse();
  const axle = model.parts[written.axle]!;
  const bosses = way.filter((item) => item.role === 'boss' && item.member !== undefined);
  const named = bosses.map((item) => unitOf.get(item.member!)!);
  const own = [...new Set(named)];
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
    from: stack.from,
    tipSide: otherSide(stack.from),
    units: own,
    clamped: [...new Set(bosses.filter((item) => item.inColumn).map((item) => unitOf.get(item.member!)!))],
    rings: spacersOf(stack),
    isShockEnd: shock !== undefined && own.includes(shock) && bodies.size <= 1,
    isThreadlocked: written.thread_treatment === 'threadlocked',
    isFittedForNow: written.fitted_for_now !== undefined,
  };
}

function piecesOf(model: LinkageModel, linkage: Linkage, units: ReadonlyMap<string, Unit>): Map<string, Piece[]> {
  const pieces = new Map<string, Piece[]>();
  for (const { id, members } of units.values()) {
    pieces.set(
      id,
      members.flatMap((member) =>
        outlinesOf(linkage.model, member).map((outline): Piece => ({ ...outline, owner: id, isEstimate: false })),
      ),
    );
  }
  for (const { id, kind, x_mm, y_mm, radius_mm, z_from_mm, z_to_mm } of model.obstacles ?? []) {
    const disc = { x_mm, y_mm, radius_mm };
    pieces.set(id, [
      {
        owner: id,
        member: id,
        what: kind,
        a: disc,
        b: disc,
        zFrom_mm: z_from_mm,
        zTo_mm: z_to_mm,
        volume_mm3: 0,
        isEstimate: false,
      },
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
    return bores.length === 0
      ? 0
      : bores.reduce((sum, bore) => sum + (bore.z_from_mm + bore.z_to_mm) / 2, 0) / bores.length;
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

/** Length of z that two reaches share, mm; below 0 where they are apart. */
export function sharedZ_mm(
  one: Pick<Outline, 'zFrom_mm' | 'zTo_mm'>,
  other: Pick<Outline, 'zFrom_mm' | 'zTo_mm'>,
): number {
  return Math.min(one.zTo_mm, other.zTo_mm) - Math.max(one.zFrom_mm, other.zFrom_mm);
}

/** Whether two reaches pass one another at some z. */
export function isBeside(
  one: Pick<Outline, 'zFrom_mm' | 'zTo_mm'>,
  other: Pick<Outline, 'zFrom_mm' | 'zTo_mm'>,
): boolean {
  return sharedZ_mm(one, other) >= ORDER_LIMITS.shared_mm.value;
}

/** A ring and what it lies between. */
export interface SpacerPlace {
  readonly item: PlacedItem;
  /** The two bearings of one boss it is shut between. */
  readonly shutBy?: readonly [PlacedItem, PlacedItem];
  /** The boss toward the non-drive side, and how deep the ring reaches into it. */
  readonly low?: { readonly boss: PlacedItem; readonly into_mm: number };
  readonly high?: { readonly boss: PlacedItem; readonly into_mm: number };
}

/** The loose spacers of a stack, from the non-drive to the drive side. */
export function spacersOf(stack: StackAnalysis): SpacerPlace[] {
  return stack.items.flatMap((item, at): SpacerPlace[] => {
    if (item.role !== 'spacer') return [];
    const before = stack.items.slice(0, at).reverse();
    const after = stack.items.slice(at + 1);
    const [lowBearing, highBearing] = [before, after].map((side) => side.find((other) => other.role === 'bearing'));
    const isShut =
      lowBearing?.seat !== undefined &&
      lowBearing.seat.member === highBearing?.seat?.member &&
      lowBearing.seat.bore === highBearing.seat.bore;
    const [low, high] = [before, after].map((side) => side.find((other) => other.role === 'boss'));
    const into = (boss: PlacedItem | undefined) =>
      boss && { boss, into_mm: Math.max(0, Math.min(item.to_mm, boss.to_mm) - Math.max(item.from_mm, boss.from_mm)) };
    const [lowSide, highSide] = [into(low), into(high)];
    return [
      {
        item,
        ...(isShut && highBearing ? { shutBy: [lowBearing, highBearing] as const } : {}),
        ...(lowSide ? { low: lowSide } : {}),
        ...(highSide ? { high: highSide } : {}),
      },
    ];
  });
}

/** The side of a spacer that lies between two bosses on which it reaches deeper into a bore: there it lies by itself. */
export function deeperSide({ low, high }: SpacerPlace): 'low' | 'high' {
  return low!.into_mm >= high!.into_mm ? 'low' : 'high';
}

/** How a ring can be brought between its bosses: from the side, only while they are apart, or so that they meet along the axle. */
export type SpacerWay = 'shut-in' | 'from-outside' | 'from-the-side' | 'before-they-meet' | 'before-they-meet-along';

/** The way of a ring. */
export function wayOf({ shutBy, low, high }: SpacerPlace): SpacerWay {
  if (shutBy) return 'shut-in';
  if (!low || !high) return 'from-outside';
  const deep = [low, high].filter(({ into_mm }) => into_mm > ORDER_LIMITS.intoBore_mm.value).length;
  return deep === 0 ? 'from-the-side' : deep === 1 ? 'before-they-meet' : 'before-they-meet-along';
}
