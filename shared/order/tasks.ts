/**
 * The tasks and steps a build is made of, which task must come before which, and why, each reason with its numbers.
 *
 * A task is begun and finished in one go. A spacer held by a fingertip cannot wait, and a pivot is checked the moment
 * it is tight: so an axle is one task up to its thread started by hand, and another for its torque and free check. What
 * a task does step by step is in `steps.ts`.
 *
 * Order from geometry: an axle, a nut or a tool whose room something takes that comes later; from mechanics: a thread
 * is started before it is tightened, no pivot is tightened while what it clamps must still be shifted for another axle,
 * the free check wants the linkage without shock and wheel; from the trade: clean and inspect first, bearings home
 * before their member is offered up, air last. A reason that is `solid` is a matter of bodies and holds the other way
 * round when the bike is taken apart; the others hold for building alone. What depends on everything that is on the
 * bike at a time (is there a way in, is there anything to hang it on) is no edge: see `possible.ts`.
 */
import type { Side } from '../model/schema.ts';
import type { Measure, StepPlace } from '../types.ts';
import { type Bike, type Joined, remembered, sharedUnits } from './bike.ts';
import { ORDER_LIMITS } from './limits.ts';
import {
  type Approach,
  type Cylinder,
  type ToolRoom,
  aroundOf,
  axlePath,
  covers,
  hasSweep,
  receiverPath,
  shutAngles,
  toolsOf,
  widestSweep,
} from './room.ts';

/** Kinds of task, in the order in which what is otherwise the same is done. */
export const TASK_KINDS = [
  'stand',
  'inspect',
  'fit',
  'tighten',
  'cables',
  'chainset',
  'wheel',
  'air',
  'hand-over',
] as const;
/** What a task is about. */
export type TaskKind = (typeof TASK_KINDS)[number];

/** One task. */
export interface Task {
  /** Its kind, with the stack's id where it is about one: `fit:main`. */
  readonly id: string;
  readonly kind: TaskKind;
  readonly stackId?: string;
  readonly pivotId?: string;
  /** Obstacles that are on the bike once it is done. */
  readonly brings: readonly string[];
  /** Where one stands as it begins and as it ends; a task that can be done from anywhere has neither. */
  readonly begins?: Side | 'bench';
  readonly ends?: Side | 'bench';
  readonly tools: readonly ToolRoom[];
}

/** All tasks of a bike, in the order that settles what is otherwise the same. */
export function tasksOf(bike: Bike): Task[] {
  const { stacks } = bike;
  const whole = (kind: TaskKind, brings: readonly string[] = []): Task => ({ id: kind, kind, brings, tools: [] });
  const about = (kind: TaskKind, own: Joined, begins: Side | 'bench', ends: Side | 'bench'): Task => ({
    id: `${kind}:${own.id}`,
    kind,
    stackId: own.id,
    pivotId: own.stack.pivotId,
    brings: [],
    begins,
    ends,
    tools: kind === 'tighten' ? toolsOf(own) : [],
  });
  const isBike = bike.wheel.length > 0 || bike.model.wheel !== undefined;
  return [
    whole('stand'),
    ...stacks.map((own) => about('inspect', own, 'bench', 'bench')),
    ...stacks.flatMap((own) => {
      const { stand } = own.stack.tightening;
      // The hand ends where it started the thread.
      const started = own.receiver.role === 'boss' ? own.from : own.tipSide;
      return [about('fit', own, own.from, started), about('tighten', own, stand, stand)];
    }),
    ...(isBike ? [whole('cables')] : []),
    ...(bike.chainset.length > 0 ? [whole('chainset', bike.chainset)] : []),
    ...(isBike ? [whole('wheel', bike.wheel)] : []),
    ...(bike.shock === undefined ? [] : [whole('air')]),
    whole('hand-over'),
  ];
}

export const REASON_CODES = [
  'stand-first',
  'clean-first',
  'bearing-first',
  'started-first',
  'axle-path',
  'nut-path',
  'tool-room',
  'handle-room',
  'sibling-started',
  'bores-line-up',
  'carries-wheel',
  'free-check-bare',
  'travel-bare',
  'all-on-first',
  'air-last',
  'check-last',
  'nothing-to-hang-on',
  'no-way-in',
  'spacer-shut-out',
  'holds-it',
  'seat-covered',
] as const;
/** Why one task comes before another. */
export type ReasonCode = (typeof REASON_CODES)[number];

/** One reason, as data. */
export interface Reason {
  readonly code: ReasonCode;
  /** A matter of bodies: holds when taking apart, too. */
  readonly isSolid: boolean;
  readonly numbers: Readonly<Record<string, Measure>>;
  /** Ids of what it is about: stack, item, unit, obstacle. */
  readonly about: Readonly<Record<string, string>>;
  /** Rests on a size that is estimated. */
  readonly isEstimate?: boolean;
}

/** One task before another, by id. */
export interface Edge {
  readonly before: string;
  readonly after: string;
  readonly reasons: readonly Reason[];
}

/** Trouble that no order mends: something that is always there takes the room. */
export interface Block {
  readonly task: string;
  readonly reason: Reason;
}

/** All edges of a bike, and what no order mends. */
export function precedence(
  bike: Bike,
  tasks: readonly Task[],
): { readonly edges: readonly Edge[]; readonly blocks: readonly Block[] } {
  const book = new EdgeBook(tasks);
  const { stacks } = bike;
  for (const { id } of tasks) if (id !== 'stand') book.add('stand', id, plain('stand-first'));
  for (const own of stacks) {
    book.add(`inspect:${own.id}`, `fit:${own.id}`, plain('clean-first', { stack: own.id }));
    book.add(
      `fit:${own.id}`,
      `tighten:${own.id}`,
      solid('started-first', { stack: own.id }, { engagement_mm: mm(own.stack.tightening.engagement_mm) }),
    );
    bearings(bike, own, book);
    rooms(bike, own, book);
    settled(bike, own, book);
  }
  checks(bike, book);
  return { edges: [...book.found.values()], blocks: book.blocks };
}

/** A length as a reason's number. */
export function mm(value: number): Measure {
  return { value, unit: 'mm' };
}

function plain(code: ReasonCode, about: Reason['about'] = {}, numbers: Reason['numbers'] = {}): Reason {
  return { code, isSolid: false, numbers, about };
}

/** A reason that is a matter of bodies. */
export function solid(
  code: ReasonCode,
  about: Reason['about'],
  numbers: Reason['numbers'],
  isEstimate = false,
): Reason {
  return { code, isSolid: true, numbers, about, ...(isEstimate ? { isEstimate } : {}) };
}

/** Edges by their two ends, reasons gathered. */
class EdgeBook {
  readonly blocks: Block[] = [];
  readonly found = new Map<string, Edge & { readonly reasons: Reason[] }>();
  private readonly known: ReadonlySet<string>;

  constructor(tasks: readonly Task[]) {
    this.known = new Set(tasks.map(({ id }) => id));
  }

  add(before: string, after: string, reason: Reason): void {
    if (!this.known.has(before) || !this.known.has(after)) return;
    remembered(this.found, `${before} ${after}`, () => ({ before, after, reasons: [] })).reasons.push(reason);
  }
}

/** A unit's bearings at one pivot are pressed home before it is offered up at another. */
function bearings(bike: Bike, own: Joined, book: EdgeBook): void {
  for (const unit of own.units) {
    if (bike.units.get(unit)!.isFrame) continue;
    const seated = own.items.filter(
      (item) => item.role === 'bearing' && item.seat && bike.unitOf.get(item.seat.member) === unit,
    );
    const seat = seated[0]?.seat;
    if (!seat) continue;
    const sizes = bike.model.members[seat.member]?.bores[seat.bore]?.seats?.find(({ side }) => side === seat.side);
    const numbers = { count: { value: seated.length, unit: '1' } as const, depth_mm: mm(sizes?.depth_mm ?? 0) };
    for (const other of bike.byUnit.get(unit)!)
      if (other !== own)
        book.add(`inspect:${own.id}`, `fit:${other.id}`, plain('bearing-first', { stack: own.id, unit }, numbers));
  }
}

/** Tasks that bring something onto the bike: an obstacle's own, or every axle that may bring a unit. */
function bringers(bike: Bike, owner: string): string[] {
  if (bike.wheel.includes(owner)) return ['wheel'];
  if (bike.chainset.includes(owner)) return ['chainset'];
  return (bike.byUnit.get(owner) ?? []).map(({ id }) => `fit:${id}`);
}

/** Room for axle, nut and tools: whatever takes it and is not there from the start comes later. */
function rooms(bike: Bike, own: Joined, book: EdgeBook): void {
  const around = aroundOf(bike, own);
  const all = [...around.values()].flat();
  const isThere = (owner: string): boolean => own.units.includes(owner) || bike.frame.includes(owner);
  const settle = (task: string, owner: string, reason: Reason): void => {
    if (isThere(owner)) book.blocks.push({ task, reason });
    else for (const later of bringers(bike, owner)) book.add(task, later, reason);
  };
  const cover = (task: string, code: ReasonCode, room: Cylinder, about: (owner: string) => Reason['about']): void => {
    const length_mm = mm(room.zTo_mm - room.zFrom_mm);
    for (const { owner, cover_mm, isEstimate } of covers(room, all))
      settle(task, owner, solid(code, about(owner), { cover_mm: mm(cover_mm), length_mm }, isEstimate));
  };
  const stack = own.id;
  const [fit, tighten] = [`fit:${stack}`, `tighten:${stack}`];
  cover(fit, 'axle-path', axlePath(own), (owner) => ({ stack, owner, item: own.axle.id }));
  const nut = receiverPath(own);
  if (nut) cover(fit, 'nut-path', nut, (owner) => ({ stack, owner, item: own.receiver.id }));
  for (const tool of toolsOf(own)) {
    const about = { stack, role: tool.role };
    cover(tighten, 'tool-room', tool.shank, (owner) => ({ ...about, owner }));
    const numbers = (shut: readonly boolean[]): Reason['numbers'] => ({
      open_deg: { value: widestSweep(shut)?.wide_deg ?? 0, unit: '1' },
      needed_deg: { value: tool.sweep_deg, unit: '1' },
    });
    const there = [...around].flatMap(([owner, pieces]) => (isThere(owner) ? pieces : []));
    const always = shutAngles(tool, there);
    if (!hasSweep(tool, always)) {
      book.blocks.push({ task: tighten, reason: solid('handle-room', about, numbers(always)) });
      continue;
    }
    for (const [owner, pieces] of around) {
      if (isThere(owner)) continue;
      const theirs = shutAngles(tool, pieces);
      const both = always.map((isShut, k) => isShut || theirs[k]!);
      const isEstimate = pieces.some((piece) => piece.isEstimate);
      if (!hasSweep(tool, both))
        settle(tighten, owner, solid('handle-room', { ...about, owner }, numbers(both), isEstimate));
    }
  }
}

/**
 * No torque while what it clamps must still be shifted: bolts of one pivot side by side, and units clamped to one
 * another.
 */
function settled(bike: Bike, own: Joined, book: EdgeBook): void {
  const isLoose = (unit: string): boolean => !bike.frame.includes(unit);
  const bodyOf = (unit: string): number => bike.units.get(unit)!.body;
  const clamped = own.clamped.filter(isLoose);
  const isTurned = (unit: string): boolean =>
    clamped.includes(unit) && clamped.some((other) => other !== unit && bodyOf(other) === bodyOf(unit));
  const { id: stack, place } = own;
  for (const other of new Set(own.units.filter(isLoose).flatMap((unit) => bike.byUnit.get(unit)!))) {
    if (other === own) continue;
    const shared = sharedUnits(bike, own, other);
    const add = (code: ReasonCode, unit: string | undefined, numbers: Reason['numbers']): void => {
      if (unit !== undefined)
        book.add(`fit:${other.id}`, `tighten:${stack}`, plain(code, { stack, other: other.id, unit }, numbers));
    };
    if (own.axis === other.axis) {
      add('sibling-started', shared[0], { play_mm: mm(Math.min(boltPlay_mm(own), boltPlay_mm(other))) });
      continue;
    }
    const apart_mm = Math.hypot(place.x_mm - other.place.x_mm, place.y_mm - other.place.y_mm);
    const off_mm = apart_mm * Math.tan((ORDER_LIMITS.unseenTurn_deg.value * Math.PI) / 180);
    add('bores-line-up', shared.find(isTurned), { apart_mm: mm(apart_mm), off_mm: mm(off_mm) });
  }
}

/** Play of an axle in the tightest of its loose spacers, mm. */
function boltPlay_mm(own: Joined): number {
  const bores = own.spacers.map(
    ({ item }) => 2 * Math.min(...item.solids.flatMap(({ polygon }) => polygon.map(([r]) => r))),
  );
  return bores.length === 0 ? 0 : Math.max(0, Math.min(...bores) - own.shank_mm);
}

/** Free check, travel, air, hand-over. */
function checks(bike: Bike, book: EdgeBook): void {
  const ends = bike.stacks.filter((own) => own.isShockEnd);
  const wheel = bike.wheel[0] ?? 'wheel';
  for (const { id: stack } of bike.stacks.filter((own) => !own.isShockEnd)) {
    for (const end of ends)
      book.add(`tighten:${stack}`, `fit:${end.id}`, plain('free-check-bare', { stack, owner: bike.shock! }));
    book.add(`tighten:${stack}`, 'wheel', plain('free-check-bare', { stack, owner: wheel }));
    book.add(`fit:${stack}`, 'cables', plain('all-on-first', { stack }));
  }
  const carrier = bike.unitOf.get(bike.model.wheel?.member ?? '');
  for (const { id: stack } of bike.byUnit.get(carrier ?? '') ?? [])
    book.add(`fit:${stack}`, 'wheel', solid('carries-wheel', { stack, unit: carrier! }, {}));
  for (const { id: stack } of ends)
    book.add('cables', `fit:${stack}`, plain('travel-bare', { stack, owner: bike.shock! }));
  for (const { id: stack } of bike.stacks) {
    book.add(`tighten:${stack}`, 'air', plain('air-last', { stack }));
    book.add(`tighten:${stack}`, 'hand-over', plain('check-last'));
  }
  for (const last of ['cables', 'chainset', 'wheel', 'air']) book.add(last, 'hand-over', plain('check-last'));
}

/** What a step of a plan is. */
export type PlanStepKind =
  | 'stand'
  | 'clean-seat'
  | 'clean-axle'
  | 'clean-thread'
  | 'press-bearing'
  | 'press-bush'
  | 'set-circlip'
  | 'prepare'
  | 'grease'
  | 'offer-member'
  | 'shock'
  | 'swing-away'
  | 'swing-back'
  | 'set-spacer'
  | 'push-axle'
  | 'axle-home'
  | 'wipe-thread'
  | 'threadlock'
  | 'start-receiver'
  | 'hold-turn'
  | 'half-torque'
  | 'torque'
  | 'secure'
  | 'free-check'
  | 'brake'
  | 'derailleur'
  | 'cables'
  | 'chainset'
  | 'wheel'
  | 'chain'
  | 'air'
  | 'travel-o-ring'
  | 'dropper-post'
  | 'settings'
  | 'hand-over'
  | 'cure';

/** Steps that put a part where it belongs. */
export const FITS: ReadonlySet<PlanStepKind> = new Set<PlanStepKind>([
  'press-bearing',
  'press-bush',
  'set-circlip',
  'secure',
  'set-spacer',
  'push-axle',
  'axle-home',
  'start-receiver',
]);

/** A tool with a size, at the end of an axle where it works. */
export interface DriveInHand extends Pick<ToolRoom, 'role' | 'tool' | 'side' | 'item' | 'end_mm'> {
  readonly kind: 'drive';
  /** Where its handle has room: from an angle anticlockwise seen from the drive side; nothing where it has none. */
  readonly open?: { readonly from_deg: number; readonly wide_deg: number };
  /** Pulled tight with the torque wrench. */
  readonly isTorque: boolean;
}

/** Anything else a hand takes up. */
export interface BenchTool {
  readonly kind: 'bench';
  readonly what:
    | 'stand'
    | 'cloth'
    | 'brush'
    | 'bearing-press'
    | 'bush-press'
    | 'circlip-pliers'
    | 'shaft-pliers'
    | 'grease'
    | 'threadlocker'
    | 'anti-seize'
    | 'oil'
    | 'shock-pump'
    | 'heat'
    | 'marker'
    | 'tray';
}

/** What a step takes in hand. */
export type PlanTool = DriveInHand | BenchTool;

/** Why a step or a task stands where it does. Without `before` it waits for nothing that one task alone could give. */
export interface Because {
  readonly before?: string;
  readonly after?: string;
  readonly reason: Reason;
}

/** How far a hand moves a unit in a free check: from where it is drawn to one end and the other, and no further. */
export interface HandSwing {
  readonly unit: string;
  /**
   * Turn to the end of the travel, or each way where the model has none; deg, anticlockwise seen from the drive side.
   */
  readonly turn_deg: number;
  /** How far its furthest boss goes, mm, and where to, rad; without a place where it goes as far both ways. */
  readonly far_mm: number;
  readonly toward_rad?: number;
}

/** One thing a hand does, of the whole bike. */
export interface PlanStep {
  /** `taskId:number`. */
  readonly id: string;
  readonly taskId: string;
  readonly kind: PlanStepKind;
  readonly pivotId?: string;
  readonly stackId?: string;
  /** Scene ids of what is moved or worked on, of its own stack. */
  readonly items: readonly string[];
  /** Scene ids at other stacks that come in with it: bosses and what is pressed into them. */
  readonly carried: readonly string[];
  /** Units that come onto the bike (or are moved away and back), their members, and obstacles that come. */
  readonly units: readonly string[];
  readonly members: readonly string[];
  readonly obstacles: readonly string[];
  /** Side the hand works from. */
  readonly side: Side;
  /** Done at the bench: what is worked on is not on the bike, although `places` shows it. */
  readonly atBench: boolean;
  /** How far the axle has gone in, its tip from the first face it meets, mm; only where there is one. */
  readonly depth_mm?: number;
  readonly greased: boolean;
  readonly heldBy?: 'fingertip' | 'grease' | 'axle';
  /** How units are brought in: from an angle of the side plane, or along the axle from a side. */
  readonly approach?: Approach;
  readonly tools: readonly PlanTool[];
  readonly torque_Nm?: number;
  /** All that is laid out before an axle goes in: what the steps of its task set, of other stacks too. */
  readonly laidOut?: readonly string[];
  /** Between what places a free check moves each unit by hand; none where no unit is moved. */
  readonly swings?: readonly HandSwing[];
  /** Stacks that this step is about together: bolts of one axis that are felt at once, threads that set. */
  readonly together?: readonly string[];
  /** Where every item of its stack is once it is done; empty for a step about none. */
  readonly places: Readonly<Record<string, StepPlace>>;
  /** Units and obstacles on the bike once it is done, the frame among them. */
  readonly on: readonly string[];
  readonly because: readonly Because[];
}
