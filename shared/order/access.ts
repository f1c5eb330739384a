/**
 * Access: the smallest set of tasks that must be taken back to free one part, and how it all goes together again.
 *
 * Which axles stay in is searched from the fewest opened upward (cheapest first over sets of axles and obstacles). A set
 * serves where the part is free with it, everything that stays still hangs on the frame, and some possible order puts the
 * rest back; turned round that order takes it off. An axle comes out only after what covers it, so that every set holds
 * what its edges of bodies demand. Air is let out before any pivot is opened, cables are freed where what carries the
 * wheel comes off. Above a stated number of tries the smallest set found so far is extended by what stands in the way.
 */
import type { DriveTool } from '../model/schema.ts';
import type { PlacedItem } from '../types.ts';
import { type Joined, wayOf } from './bike.ts';
import { digraph, pairsOf } from './graph.ts';
import { type Between, type Works, clear_mm, movables, worksOf } from './possible.ts';
import { tellAt } from './reasons.ts';
import { radiusOf } from './room.ts';
import { recommend } from './search.ts';
import { type Begun, handsOf } from './steps.ts';
import { turnRound } from './strip.ts';
import type { Because, Plan, Access, AccessTarget, Reason } from './types.ts';

/** Sets looked at before the search gives up being exact. */
const MOST_SETS = 4000;

/** Everything that can be asked for on a plan's bike: parts, units that come off, obstacles. O(parts). */
export function accessTargets(plan: Plan): AccessTarget[] {
  const { bike } = worksOf(plan.analysis);
  const items = bike.stacks.flatMap((own) =>
    own.items.filter(({ role }) => role !== 'boss' && !(own.receiver.role === 'boss' && role === 'receiver')),
  );
  return [
    ...[...bike.units.values()].filter(({ isFrame }) => !isFrame).map(({ id }): AccessTarget => ({ kind: 'unit', id })),
    ...[...bike.wheel, ...bike.chainset].map((id): AccessTarget => ({ kind: 'obstacle', id })),
    ...items.map(({ id }): AccessTarget => ({ kind: 'item', id })),
  ];
}

/** What an id names: an item, a unit (a member of it will do) or an obstacle; undefined for none of them. O(parts). */
export function targetOf(plan: Plan, id: string): AccessTarget | undefined {
  const { bike } = worksOf(plan.analysis);
  const item = bike.stacks.flatMap(({ items }) => items).find((candidate) => candidate.id === id);
  if (item?.member !== undefined) return { kind: 'unit', id: bike.unitOf.get(item.member)! };
  if (item) return { kind: 'item', id };
  const unit = bike.unitOf.get(id);
  if (unit !== undefined) return { kind: 'unit', id: unit };
  return bike.pieces.has(id) ? { kind: 'obstacle', id } : undefined;
}

/**
 * What must come off to get at an item, a unit or an obstacle. About 40 ms. Throws a RangeError where the id names
 * none, or the frame.
 */
export function accessOf(plan: Plan, id: string): Access {
  const works = worksOf(plan.analysis);
  const target = targetOf(plan, id);
  if (!target)
    throw new RangeError(
      `access: met "${id}", allowed: ${accessTargets(plan)
        .map((known) => known.id)
        .join(', ')}`,
    );
  if (target.kind === 'unit' && works.bike.units.get(target.id)!.isFrame)
    throw new RangeError(
      `access: met "${id}", which never comes off, allowed: ${accessTargets(plan)
        .map((known) => known.id)
        .join(', ')}`,
    );
  const wanted = new Wanted(works, target);
  const { taken, isLeast } = new Search(works, wanted).find();
  return report(works, wanted, taken, isLeast);
}

/** What is wanted, and when it is free. */
class Wanted {
  readonly target: AccessTarget;
  /** Tasks that have to be taken back whatever else is. */
  readonly base: readonly number[];
  /** Bearings that are pressed out, and rings between them that come with it. */
  readonly pressedOut: readonly string[];
  /** Its stack, where it is an item. */
  readonly own?: Joined;
  private readonly works: Works;
  private readonly item?: PlacedItem;

  constructor(works: Works, target: AccessTarget) {
    this.works = works;
    this.target = target;
    const { bike } = works;
    const own = bike.stacks.find(({ items }) => items.some((item) => item.id === target.id));
    const item = own?.items.find((candidate) => candidate.id === target.id);
    if (own && item) {
      this.own = own;
      this.item = item;
    }
    const fitsOf = (unit: string): number[] =>
      (bike.byUnit.get(unit) ?? []).map((joined) => works.at.get(`fit:${joined.id}`)!);
    this.base =
      target.kind === 'unit'
        ? fitsOf(target.id)
        : target.kind === 'obstacle'
          ? works.tasks.flatMap(({ brings }, node) => (brings.includes(target.id) ? [node] : []))
          : [works.at.get(`fit:${own!.id}`)!];
    this.pressedOut = own && item ? pressedWith(own, item) : [];
  }

  /** Why the part is still shut in with these axles in; empty where it is free. */
  shutBy(fitted: ReadonlySet<string>, units: ReadonlySet<string>): Reason[] {
    const { own, item, works } = this;
    if (!own || !item) return [];
    const isStuck = (between: Between): boolean =>
      units.has(between.low) &&
      units.has(between.high) &&
      movables(works.sense.solids, between, fitted, clear_mm(between), units).length === 0;
    if (item.role === 'spacer') {
      const ring = own.rings.find((candidate) => candidate.item.id === item.id)!;
      const way = wayOf(ring);
      const between = works.sense.between
        .get(works.bike.unitOf.get(ring.low?.boss.member ?? '') ?? '')
        ?.find((candidate) => candidate.ring.item.id === item.id);
      if ((way === 'before-they-meet' || way === 'before-they-meet-along') && between && isStuck(between)) {
        const into_mm = Math.max(ring.low!.into_mm, ring.high!.into_mm);
        return [
          {
            code: 'spacer-shut-out',
            isSolid: true,
            numbers: { into_mm: { value: into_mm, unit: 'mm' } },
            about: { stack: own.id, item: item.id, unit: between.low, owner: between.high },
          },
        ];
      }
      if (way !== 'shut-in') return [];
      const shut = ring.shutBy!.map((bearing) => this.seatShut(bearing, fitted, units));
      return shut.some((reasons) => reasons.length === 0) ? [] : shut[0]!;
    }
    return item.role === 'bearing' ? this.seatShut(item, fitted, units) : [];
  }

  /** Whether another member's boss stands before a bearing's seat, nearer than the bearing is wide. */
  private seatShut(bearing: PlacedItem, fitted: ReadonlySet<string>, units: ReadonlySet<string>): Reason[] {
    const own = this.own!;
    const { bike } = this.works;
    if (!bearing.seat) return [];
    const unit = bike.unitOf.get(bearing.seat.member)!;
    const isDrive = bearing.seat.side === 'drive';
    const at = own.items.indexOf(bearing);
    const beyond = isDrive ? own.items.slice(at + 1) : own.items.slice(0, at).reverse();
    const boss = beyond.find(
      (item) =>
        (item.role === 'boss' || (item.role === 'receiver' && item.member !== undefined)) &&
        bike.unitOf.get(item.member!) !== unit,
    );
    const other = boss && bike.unitOf.get(boss.member!)!;
    if (!boss || other === undefined || !units.has(unit) || !units.has(other)) return [];
    const width_mm = bearing.to_mm - bearing.from_mm;
    const room_mm = Math.max(0, isDrive ? boss.from_mm - bearing.to_mm : bearing.from_mm - boss.to_mm);
    if (room_mm >= width_mm) return [];
    if (
      movables(
        this.works.sense.solids,
        { own, low: unit, high: other },
        fitted,
        radiusOf(bearing) + radiusOf(boss),
        units,
      ).length > 0
    )
      return [];
    return [
      {
        code: 'seat-covered',
        isSolid: true,
        numbers: { room_mm: { value: room_mm, unit: 'mm' }, width_mm: { value: width_mm, unit: 'mm' } },
        about: { stack: own.id, item: bearing.id, unit, owner: other },
      },
    ];
  }
}

/** A bearing, or a ring shut in, with what comes out of the seat with it. */
function pressedWith(own: Joined, item: PlacedItem): string[] {
  if (item.role === 'bearing') return [item.id];
  const ring = own.rings.find((candidate) => candidate.item.id === item.id);
  return ring?.shutBy ? [ring.shutBy[1].id, item.id] : [];
}

/** A set of tasks taken back: axles (fit and tighten) and obstacles. */
interface Taken {
  readonly tasks: ReadonlySet<number>;
  /** The tasks that put it back, in a possible order; undefined where there is none. */
  readonly back?: readonly number[];
}

class Search {
  private readonly works: Works;
  private readonly wanted: Wanted;
  private readonly after: readonly (readonly number[])[];

  constructor(works: Works, wanted: Wanted) {
    this.works = works;
    this.wanted = wanted;
    const solid = works.edges.filter(({ reasons }) => reasons.some(({ isSolid }) => isSolid));
    this.after = digraph(
      works.tasks.length,
      solid.map(({ before, after }) => [works.at.get(before)!, works.at.get(after)!] as const),
    ).next;
  }

  find(): { taken: Taken; isLeast: boolean } {
    const first = this.closed(this.wanted.base);
    const seen = new Set([keyOf(first)]);
    const queue: ReadonlySet<number>[] = [first];
    let looked = 0;
    const { tasks } = this.works;
    const extra = tasks.flatMap(({ kind, brings }, node) => (kind === 'fit' || brings.length > 0 ? [node] : []));
    while (queue.length > 0 && looked < MOST_SETS) {
      // The smallest first; of equals the one found first.
      const at = queue.reduce((best, set, k) => (set.size < queue[best]!.size ? k : best), 0);
      const set = queue.splice(at, 1)[0]!;
      looked++;
      const back = this.serves(set);
      if (back) return { taken: { tasks: set, back }, isLeast: true };
      for (const node of extra) {
        if (set.has(node)) continue;
        const next = this.closed([...set, node]);
        const key = keyOf(next);
        if (seen.has(key)) continue;
        seen.add(key);
        queue.push(next);
      }
    }
    // Everything off always serves, if anything does.
    const all = this.closed([...this.wanted.base, ...extra]);
    const back = this.serves(all);
    return { taken: { tasks: all, ...(back ? { back } : {}) }, isLeast: false };
  }

  /** The set with all that bodies keep from staying: what must come off before one of it can. */
  private closed(nodes: readonly number[]): ReadonlySet<number> {
    const { tasks } = this.works;
    const set = new Set<number>();
    const open = [...nodes];
    for (let node = open.pop(); node !== undefined; node = open.pop()) {
      const kind = tasks[node]!.kind;
      if (set.has(node) || (kind !== 'fit' && kind !== 'tighten' && tasks[node]!.brings.length === 0)) continue;
      set.add(node);
      open.push(...this.after[node]!);
    }
    return set;
  }

  /** The order that puts a set back, where the part is free with it, what stays hangs on the frame, and there is one. */
  private serves(set: ReadonlySet<number>): readonly number[] | undefined {
    const { works, wanted } = this;
    const fitted = stays(works, set);
    const units = works.sense.standing(fitted).units;
    if (wanted.shutBy(new Set(fitted), units).length > 0 || !hangs(works, fitted, units)) return undefined;
    const redone = [...redoneWith(works, set)].sort((one, other) => one - other);
    const place = new Map(redone.map((node, k) => [node, k]));
    const pairs = pairsOf(works.graph).flatMap(([before, after]) =>
      place.has(before) && place.has(after) ? [[place.get(before)!, place.get(after)!] as const] : [],
    );
    const costs = redone.map((node) => works.costs[node]!);
    const best = recommend(digraph(redone.length, pairs), costs, (k, isDone) =>
      works.mayGo(redone[k]!, (node) => (place.has(node) ? isDone(place.get(node)!) : true)),
    );
    return best?.order.map((k) => redone[k]!);
  }
}

function keyOf(set: ReadonlySet<number>): string {
  return [...set].sort((one, other) => one - other).join();
}

/** Axles that stay in. */
function stays({ tasks }: Works, set: ReadonlySet<number>): string[] {
  return tasks.flatMap(({ kind, stackId }, node) => (kind === 'fit' && !set.has(node) ? [stackId!] : []));
}

/** Whether every unit that stays is held, axle by axle, to the frame. */
function hangs({ bike }: Works, fitted: readonly string[], units: ReadonlySet<string>): boolean {
  const held = new Set([...bike.units.values()].filter(({ isFrame }) => isFrame).map(({ id }) => id));
  for (let again = true; again; ) {
    again = false;
    for (const id of fitted) {
      const own = bike.byStack.get(id)!;
      if (!own.units.some((unit) => held.has(unit))) continue;
      for (const unit of own.units) {
        if (held.has(unit)) continue;
        held.add(unit);
        again = true;
      }
    }
  }
  return [...units].every((unit) => held.has(unit));
}

/** With what is taken back: its cleaning, air and hand-over where an axle is opened, cables where what carries the wheel comes off. */
function redoneWith(works: Works, set: ReadonlySet<number>): Set<number> {
  const { tasks, bike, at } = works;
  const redone = new Set(set);
  const add = (id: string): void => {
    const node = at.get(id);
    if (node !== undefined) redone.add(node);
  };
  const opened = [...set].flatMap((node) => (tasks[node]!.kind === 'fit' ? [tasks[node]!.stackId!] : []));
  for (const id of opened) add(`inspect:${id}`);
  if (opened.length > 0) add('air');
  add('hand-over');
  const carrier = bike.model.wheel && bike.unitOf.get(bike.model.wheel.member);
  if (carrier !== undefined && !works.sense.standing(stays(works, set)).units.has(carrier)) add('cables');
  return redone;
}

function report(works: Works, wanted: Wanted, { tasks: set, back }: Taken, isLeast: boolean): Access {
  const { tasks, bike, sense } = works;
  const fitted = stays(works, set);
  const standing = sense.standing(
    fitted,
    tasks.flatMap(({ brings }, node) => (set.has(node) ? [] : brings)),
  );
  const off = [...bike.units.keys(), ...bike.wheel, ...bike.chainset].filter(
    (id) => !standing.units.has(id) && !standing.obstacles.has(id),
  );
  const order = back ?? [];
  const begun: Begun = { fitted, obstacles: [...standing.obstacles], pressedOut: wanted.pressedOut };
  const because = whyOpened(works, wanted, set);
  const steps = handsOf(
    sense,
    order.map((node) => tasks[node]!),
    begun,
  );
  const told = order.flatMap((node) =>
    tellAt(
      steps.filter(({ taskId }) => taskId === tasks[node]!.id),
      because.filter(({ before }) => before === tasks[node]!.id),
    ),
  );
  const opened = order
    .filter((node) => tasks[node]!.kind === 'fit')
    .reverse()
    .map((node) => bike.byStack.get(tasks[node]!.stackId!)!);
  return {
    target: wanted.target,
    stacks: opened.map(({ id }) => id),
    tasks: [...order].reverse().map((node) => tasks[node]!.id),
    off,
    isLeast,
    strip: turnRound(works, steps, begun, wanted.pressedOut.length > 0),
    back: told,
    tools: toolList(works, order),
    threadlocker: opened
      .filter(({ isThreadlocked }) => isThreadlocked)
      .map(({ id, written }) => ({
        stackId: id,
        ...(written.threadlocker === undefined ? {} : { strength: written.threadlocker }),
      })),
    fitted_for_now: opened.flatMap(({ id, written }) =>
      written.fitted_for_now === undefined ? [] : [{ stackId: id, why: written.fitted_for_now }],
    ),
    because: plainly(because),
    blocked: back
      ? []
      : [
          ...wanted.shutBy(new Set(fitted), standing.units).map((reason): Because => ({ reason })),
          ...works.blocks.map(({ reason }): Because => ({ reason })),
        ],
  };
}

/** The reasons alone, each once: taken apart there is no task they come before or after. */
function plainly(because: readonly Because[]): Because[] {
  return [...new Map(because.map(({ reason }) => [JSON.stringify(reason), { reason }])).values()];
}

function toolList({ tasks }: Works, order: readonly number[]): DriveTool[] {
  const rooms = order.flatMap((node) => tasks[node]!.tools);
  const seen = new Map<string, DriveTool>();
  for (const role of ['turns', 'holds'])
    for (const { tool } of rooms.filter((room) => room.role === role)) seen.set(`${tool.tool} ${tool.size_mm}`, tool);
  return [...seen.values()];
}

/** For every task beyond what is wanted itself: the body in its way, or what would not go with it left in. */
function whyOpened(works: Works, wanted: Wanted, set: ReadonlySet<number>): Because[] {
  const { tasks, sense } = works;
  const found: Because[] = [];
  const holding = new Set(wanted.base);
  if (wanted.target.kind === 'unit') {
    for (const node of wanted.base)
      found.push({
        before: tasks[node]!.id,
        reason: {
          code: 'holds-it',
          isSolid: true,
          numbers: {},
          about: { stack: tasks[node]!.stackId!, unit: wanted.target.id },
        },
      });
  }
  for (const node of set) {
    const { id, kind, stackId } = tasks[node]!;
    if (holding.has(node) || kind === 'tighten') continue;
    const edges = works.edges.filter(
      ({ before, after, reasons }) =>
        after === id && set.has(works.at.get(before)!) && reasons.some(({ isSolid }) => isSolid),
    );
    const bodies = edges.flatMap(({ reasons }) => reasons.filter(({ isSolid }) => isSolid));
    if (bodies.length > 0) {
      found.push(...bodies.map((reason) => ({ before: id, reason })));
      continue;
    }
    // Left in, it would keep the part, or another of the set, where it is.
    const kept = stackId === undefined ? stays(works, set) : [...stays(works, set), stackId];
    const shut = wanted.shutBy(new Set(kept), sense.standing(kept).units);
    const others = [...set].filter((other) => other !== node && tasks[other]!.kind === 'fit');
    const isDone = (other: number): boolean => !set.has(other) || other === node;
    const ways = others
      .flatMap((other) => works.whyNot(other, isDone))
      .filter(({ code }) => code !== 'nothing-to-hang-on');
    found.push(...[...shut, ...ways].slice(0, 1).map((reason) => ({ before: id, reason })));
  }
  return found;
}
