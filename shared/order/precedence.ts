/**
 * The tasks a build is made of, which must come before which, and why, each reason with its numbers.
 *
 * A task is begun and finished in one go. A spacer held by a fingertip cannot wait, and a pivot is checked the moment it
 * is tight: so an axle is one task up to its thread started by hand, and another for its torque and free check. What a
 * task does step by step is in `steps.ts`.
 *
 * Order from geometry: an axle, a nut or a tool whose room something takes that comes later; from mechanics: a thread is
 * started before it is tightened, no pivot is tightened while what it clamps must still be shifted for another axle, the
 * free check wants the linkage without shock and wheel; from the trade: clean and inspect first, bearings home before
 * their member is offered up, air last. A reason that is `solid` is a matter of bodies and holds the other way round
 * when the bike is taken apart; the others hold for building alone. What depends on everything that is on the bike at a
 * time (is there a way in, is there anything to hang it on) is no edge: see `possible.ts`.
 */
import type { Side } from '../model/schema.ts';
import type { Measure } from '../types.ts';
import { type Bike, type Joined, isSibling, sharedUnits } from './bike.ts';
import { ORDER_LIMITS } from './limits.ts';
import {
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
  const bare = { brings: [], tools: [] };
  const about = (kind: TaskKind, own: Joined): Pick<Task, 'id' | 'kind' | 'stackId' | 'pivotId'> => ({
    id: `${kind}:${own.id}`,
    kind,
    stackId: own.id,
    pivotId: own.stack.pivotId,
  });
  const tasks: Task[] = [{ id: 'stand', kind: 'stand', ...bare }];
  for (const own of stacks) tasks.push({ ...about('inspect', own), ...bare, begins: 'bench', ends: 'bench' });
  for (const own of stacks) {
    // The hand ends where it started the thread.
    const ends = own.receiver.role === 'boss' ? own.from : own.tipSide;
    tasks.push({ ...about('fit', own), ...bare, begins: own.from, ends });
    tasks.push({
      ...about('tighten', own),
      brings: [],
      tools: toolsOf(own),
      begins: own.stack.tightening.stand,
      ends: own.stack.tightening.stand,
    });
  }
  const isBike = bike.wheel.length > 0 || bike.model.wheel !== undefined;
  if (isBike) tasks.push({ id: 'cables', kind: 'cables', ...bare });
  if (bike.chainset.length > 0) tasks.push({ id: 'chainset', kind: 'chainset', tools: [], brings: bike.chainset });
  if (isBike) tasks.push({ id: 'wheel', kind: 'wheel', tools: [], brings: bike.wheel });
  if (bike.shock !== undefined) tasks.push({ id: 'air', kind: 'air', ...bare });
  tasks.push({ id: 'hand-over', kind: 'hand-over', ...bare });
  return tasks;
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
  const blocks: Block[] = [];
  for (const { id } of tasks) if (id !== 'stand') book.add('stand', id, plain('stand-first'));
  for (const own of stacks) {
    book.add(`inspect:${own.id}`, `fit:${own.id}`, plain('clean-first', { stack: own.id }));
    book.add(
      `fit:${own.id}`,
      `tighten:${own.id}`,
      solid('started-first', { stack: own.id }, { engagement_mm: mm(own.stack.tightening.engagement_mm) }),
    );
    bearings(bike, own, book);
    rooms(bike, own, book, blocks);
    settled(bike, own, book);
  }
  checks(bike, book);
  return { edges: book.edges(), blocks };
}

function mm(value: number): Measure {
  return { value, unit: 'mm' };
}

function plain(code: ReasonCode, about: Reason['about'] = {}, numbers: Reason['numbers'] = {}): Reason {
  return { code, isSolid: false, numbers, about };
}

function solid(code: ReasonCode, about: Reason['about'], numbers: Reason['numbers'], isEstimate = false): Reason {
  return { code, isSolid: true, numbers, about, ...(isEstimate ? { isEstimate } : {}) };
}

/** Edges by their two ends, reasons gathered. */
class EdgeBook {
  private readonly found = new Map<string, { before: string; after: string; reasons: Reason[] }>();
  private readonly known: ReadonlySet<string>;

  constructor(tasks: readonly Task[]) {
    this.known = new Set(tasks.map(({ id }) => id));
  }

  add(before: string, after: string, reason: Reason): void {
    if (!this.known.has(before) || !this.known.has(after)) return;
    const key = `${before} ${after}`;
    const edge = this.found.get(key);
    if (edge) edge.reasons.push(reason);
    else this.found.set(key, { before, after, reasons: [reason] });
  }

  edges(): Edge[] {
    return [...this.found.values()];
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
    for (const other of bike.byUnit.get(unit) ?? []) {
      if (other !== own)
        book.add(`inspect:${own.id}`, `fit:${other.id}`, plain('bearing-first', { stack: own.id, unit }, numbers));
    }
  }
}

/** Tasks that bring something onto the bike: an obstacle's own, or every axle that may bring a unit. */
function bringers(bike: Bike, owner: string): string[] {
  if (bike.wheel.includes(owner)) return ['wheel'];
  if (bike.chainset.includes(owner)) return ['chainset'];
  return (bike.byUnit.get(owner) ?? []).map(({ id }) => `fit:${id}`);
}

/** Room for axle, nut and tools: whatever takes it and is not there from the start comes later. */
function rooms(bike: Bike, own: Joined, book: EdgeBook, blocks: Block[]): void {
  const around = aroundOf(bike, own);
  const isThere = (owner: string): boolean => own.units.includes(owner) || bike.units.get(owner)?.isFrame === true;
  const settle = (task: string, owner: string, reason: Reason): void => {
    if (isThere(owner)) blocks.push({ task, reason });
    else for (const later of bringers(bike, owner)) book.add(task, later, reason);
  };
  const all = [...around.values()].flat();
  const paths = [
    ['axle-path', axlePath(own), own.axle],
    ['nut-path', receiverPath(own), own.receiver],
  ] as const;
  for (const [code, room, item] of paths) {
    if (!room) continue;
    for (const { owner, cover_mm, isEstimate } of covers(room, all)) {
      settle(
        `fit:${own.id}`,
        owner,
        solid(
          code,
          { stack: own.id, owner, item: item.id },
          { cover_mm: mm(cover_mm), length_mm: mm(room.zTo_mm - room.zFrom_mm) },
          isEstimate,
        ),
      );
    }
  }
  const tighten = `tighten:${own.id}`;
  for (const tool of toolsOf(own)) {
    const about = { stack: own.id, role: tool.role };
    for (const { owner, cover_mm, isEstimate } of covers(tool.shank, all)) {
      settle(
        tighten,
        owner,
        solid(
          'tool-room',
          { ...about, owner },
          { cover_mm: mm(cover_mm), length_mm: mm(tool.shank.zTo_mm - tool.shank.zFrom_mm) },
          isEstimate,
        ),
      );
    }
    const numbers = (shut: readonly boolean[]): Reason['numbers'] => ({
      open_deg: { value: widestSweep(shut)?.wide_deg ?? 0, unit: '1' },
      needed_deg: { value: tool.sweep_deg, unit: '1' },
    });
    const always = shutAngles(
      tool,
      [...around].flatMap(([owner, pieces]) => (isThere(owner) ? pieces : [])),
    );
    if (!hasSweep(tool, always)) blocks.push({ task: tighten, reason: solid('handle-room', about, numbers(always)) });
    else {
      for (const [owner, pieces] of around) {
        if (isThere(owner)) continue;
        const theirs = shutAngles(tool, pieces);
        const both = always.map((isShut, k) => isShut || theirs[k]!);
        if (!hasSweep(tool, both))
          settle(
            tighten,
            owner,
            solid(
              'handle-room',
              { ...about, owner },
              numbers(both),
              pieces.some((piece) => piece.isEstimate),
            ),
          );
      }
    }
  }
}

/** No torque while what it clamps must still be shifted: bolts of one pivot side by side, and units clamped to one another. */
function settled(bike: Bike, own: Joined, book: EdgeBook): void {
  const clamped = own.clamped.filter((unit) => !bike.units.get(unit)!.isFrame);
  const isOneBody = (unit: string): boolean =>
    clamped.some((other) => other !== unit && bike.units.get(other)!.body === bike.units.get(unit)!.body);
  for (const other of new Set(
    own.units.flatMap((unit) => (bike.units.get(unit)!.isFrame ? [] : (bike.byUnit.get(unit) ?? []))),
  )) {
    if (other === own) continue;
    const shared = sharedUnits(bike, own, other);
    if (own.axis === other.axis) {
      if (isSibling(bike, own, other)) {
        const play_mm = Math.min(...[own, other].map(boltPlay_mm));
        book.add(
          `fit:${other.id}`,
          `tighten:${own.id}`,
          plain('sibling-started', { stack: own.id, other: other.id, unit: shared[0]! }, { play_mm: mm(play_mm) }),
        );
      }
      continue;
    }
    const turned = shared.find((unit) => clamped.includes(unit) && isOneBody(unit));
    if (turned === undefined) continue;
    const apart_mm = Math.hypot(own.place.x_mm - other.place.x_mm, own.place.y_mm - other.place.y_mm);
    const off_mm = apart_mm * Math.tan((ORDER_LIMITS.unseenTurn_deg.value * Math.PI) / 180);
    book.add(
      `fit:${other.id}`,
      `tighten:${own.id}`,
      plain(
        'bores-line-up',
        { stack: own.id, other: other.id, unit: turned },
        { apart_mm: mm(apart_mm), off_mm: mm(off_mm) },
      ),
    );
  }
}

/** Play of an axle in the tightest of its loose spacers, mm. */
function boltPlay_mm(own: Joined): number {
  const bores = own.rings.map(
    ({ item }) => 2 * Math.min(...item.solids.flatMap(({ polygon }) => polygon.map(([r]) => r))),
  );
  return bores.length === 0 ? 0 : Math.max(0, Math.min(...bores) - own.shank_mm);
}

/** Free check, travel, air, hand-over. */
function checks(bike: Bike, book: EdgeBook): void {
  const ends = bike.stacks.filter((own) => own.isShockEnd);
  const others = bike.stacks.filter((own) => !own.isShockEnd);
  for (const own of others) {
    for (const end of ends)
      book.add(`tighten:${own.id}`, `fit:${end.id}`, plain('free-check-bare', { stack: own.id, owner: bike.shock! }));
    book.add(
      `tighten:${own.id}`,
      'wheel',
      plain('free-check-bare', { stack: own.id, owner: bike.wheel[0] ?? 'wheel' }),
    );
    book.add(`fit:${own.id}`, 'cables', plain('all-on-first', { stack: own.id }));
  }
  const carrier = bike.model.wheel && bike.unitOf.get(bike.model.wheel.member);
  for (const own of bike.byUnit.get(carrier ?? '') ?? [])
    book.add(`fit:${own.id}`, 'wheel', solid('carries-wheel', { stack: own.id, unit: carrier! }, {}));
  for (const end of ends)
    book.add('cables', `fit:${end.id}`, plain('travel-bare', { stack: end.id, owner: bike.shock! }));
  for (const own of bike.stacks) {
    book.add(`tighten:${own.id}`, 'air', plain('air-last', { stack: own.id }));
    book.add(`tighten:${own.id}`, 'hand-over', plain('check-last'));
  }
  for (const last of ['cables', 'chainset', 'wheel', 'air']) book.add(last, 'hand-over', plain('check-last'));
}
