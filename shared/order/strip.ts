/**
 * Taking apart: build steps turned round where they can be, and what only taking apart needs.
 *
 * What is cleaned, greased or checked when building is not taken back; bearings come out last, at the bench, as far as
 * they are to be renewed. Added are: what to write down before anything is opened, air out on the ground, support; a
 * feel before each axle is opened; heat on old threadlocker, but none where the shock or carbon is near; a mark on the
 * rim of every spacer that has two ways and shows its rim; and each pivot's parts kept together.
 *
 * Access: the smallest set of tasks that must be taken back to free one part, and how it all goes together again.
 *
 * Which axles stay in is searched from the fewest opened upward (cheapest first over sets of axles and obstacles). A
 * set serves where the part is free with it, everything that stays still hangs on the frame, and some possible order
 * puts the rest back; turned round that order takes it off. An axle comes out only after what covers it, so that every
 * set holds what its edges of bodies demand. Air is let out before any pivot is opened, cables are freed where what
 * carries the wheel comes off. Above a stated number of tries the smallest set found so far is extended by what stands
 * in the way.
 */
import type { DriveTool } from '../model/schema.ts';
import { hullGap } from '../travel/clearance.ts';
import type { PlacedItem, StepPlace } from '../types.ts';
import { type Bike, type Joined, spacersOf } from './bike.ts';
import { ORDER_LIMITS } from './limits.ts';
import { partOf, recommend } from './best.ts';
import { digraph } from './graph.ts';
import { type Plan, withReasons } from './plan.ts';
import {
  type Between,
  type Standing,
  type Works,
  betweenOf,
  clear_mm,
  movables,
  shutOut,
  worksOf,
} from './possible.ts';
import { radiusOf } from './room.ts';
import { type Begun, handsOf, placesBefore } from './steps.ts';
import { type Because, type PlanStep, type PlanStepKind, type Reason, mm, solid } from './tasks.ts';

/** Steps that only taking apart knows. */
export type StripOnlyKind =
  | 'note-settings'
  | 'release-air'
  | 'support'
  | 'feel'
  | 'mark-facing'
  | 'warm-threadlocker'
  | 'keep-together';

/** One thing a hand does when taking apart. */
export interface StripStep {
  readonly id: string;
  readonly kind: StripOnlyKind | 'undo';
  /** The build step it takes back; none for what only taking apart needs. */
  readonly undoes?: string;
  /** The build step, or for one of its own a step of the same form. */
  readonly step: PlanStep;
  /** Where every item of its stack is before it, and after. */
  readonly before: Readonly<Record<string, StepPlace>>;
  readonly after: Readonly<Record<string, StepPlace>>;
  /** Units and obstacles on the bike once it is done. */
  readonly on: readonly string[];
}

/** Taking a whole bike apart. */
export interface Strip {
  readonly tasks: readonly string[];
  readonly steps: readonly StripStep[];
}

/** What can be asked for. */
export interface AccessTarget {
  readonly kind: 'item' | 'unit' | 'obstacle';
  readonly id: string;
}

/** What must come off to get at one part, and how it goes back. */
export interface Access {
  readonly target: AccessTarget;
  /** Stacks that are opened, in the order they are. */
  readonly stacks: readonly string[];
  /** Tasks taken back, in the order they are. */
  readonly tasks: readonly string[];
  /** Units and obstacles that come off. */
  readonly off: readonly string[];
  /** Nothing smaller frees it. */
  readonly isLeast: boolean;
  readonly strip: readonly StripStep[];
  readonly back: readonly PlanStep[];
  /** Tools with a size, each once, those that turn before those that hold. */
  readonly tools: readonly DriveTool[];
  /** Stacks whose thread wants new threadlocker. */
  readonly threadlocker: readonly { readonly stackId: string; readonly strength?: string }[];
  /** Stacks opened whose axle the model calls fitted for now. */
  readonly fitted_for_now: readonly { readonly stackId: string; readonly why: string }[];
  /** Why each stack beyond the target's own is opened. */
  readonly because: readonly Because[];
  /** Nothing frees it: what stands against it. */
  readonly blocked: readonly Because[];
}

/** Build steps that taking apart turns round. */
const REVERSED: ReadonlySet<PlanStepKind> = new Set<PlanStepKind>([
  'offer-member',
  'shock',
  'set-spacer',
  'push-axle',
  'axle-home',
  'start-receiver',
  'torque',
  'secure',
  'swing-away',
  'swing-back',
  'brake',
  'derailleur',
  'cables',
  'chainset',
  'wheel',
  'chain',
  'dropper-post',
]);

/** Steps that are taken back, or come to nothing, while the bike still stands on its wheels. */
const ON_THE_GROUND: ReadonlySet<PlanStepKind> = new Set<PlanStepKind>([
  'cure',
  'hand-over',
  'settings',
  'dropper-post',
]);

/** Take a whole plan back, its steps from the last to the first. About 15 ms. Never throws. */
export function stripOf(plan: Plan): Strip {
  const works = worksOf(plan.analysis);
  return {
    tasks: plan.tasks.map(({ id }) => id).reverse(),
    steps: turnRound(works, plan.steps, { fitted: [], obstacles: [] }, true),
  };
}

/** What a step changes, carried into a bike's places; a step at the bench changes none. */
export function move(places: Map<string, StepPlace>, step: PlanStep): void {
  if (step.atBench) return;
  for (const [id, place] of Object.entries(step.places)) places.set(id, place);
  for (const id of step.carried) places.set(id, { offset_mm: 0, on: true });
}

/**
 * Steps of a build turned round, from its end back to where it was begun; `isBearingOut` presses bearings out as well.
 */
function turnRound(works: Works, steps: readonly PlanStep[], begun: Begun, isBearingOut = false): StripStep[] {
  const places = placesBefore(works.sense, begun);
  const before = steps.map((step): Record<string, StepPlace> => {
    const was = Object.fromEntries(Object.keys(step.places).map((id) => [id, places.get(id)!]));
    move(places, step);
    return was;
  });
  const start = [...works.sense.standing(begun.fitted).units, ...begun.obstacles];
  const { bike } = works;
  const hasAir = steps.some(({ kind }) => kind === 'air');
  const isBike = bike.wheel.length > 0 || bike.model.wheel !== undefined || bike.shock !== undefined;
  const reversed = [...steps.entries()].reverse();
  // What was there is written down and the air let out on the ground, before the bike is held.
  const heldAt = reversed.findIndex(([, { kind }]) => !ON_THE_GROUND.has(kind));
  return reversed.flatMap(([k, step], n) => {
    const { kind, taskId } = step;
    const [last, own] = [steps[k - 1], bike.byStack.get(step.stackId ?? '')];
    const added = (added: StripOnlyKind, isWanted: boolean | undefined, at = step): StripStep[] =>
      isWanted
        ? [{ id: `strip:${at.id}:${added}`, kind: added, step: at, before: at.places, after: at.places, on: at.on }]
        : [];
    const isSet = kind === 'set-spacer' && !taskId.startsWith('inspect:');
    // A shut-in spacer and a bearing come out of their seat only where that is what is wanted.
    const isSeat =
      kind === 'press-bearing' || kind === 'press-bush' || kind === 'set-circlip' || (kind === 'set-spacer' && !isSet);
    // Loosened means down to where the thread was started.
    const was = before[kind === 'torque' ? seatedAt(steps, k) : k]!;
    // At the bench the part lies beside what it came out of.
    const beside = Object.fromEntries(step.items.map((id) => [id, { offset_mm: 0, on: false }]));
    const undo: StripStep = {
      id: `strip:${step.id}`,
      kind: 'undo',
      undoes: step.id,
      step,
      before: step.places,
      after: step.atBench ? { ...step.places, ...beside } : was,
      on: last?.on ?? start,
    };
    return [
      ...added('note-settings', n === 0 && isBike),
      ...added('release-air', n === 0 && hasAir),
      ...added('support', n === heldAt, reversed[0]![1]),
      ...added('feel', kind === 'free-check'),
      ...added('warm-threadlocker', kind === 'torque' && own?.isThreadlocked && mayWarm(bike, own, step.on)),
      ...added('mark-facing', isSet && own && isMarked(own, step)),
      ...((isSeat ? isBearingOut : REVERSED.has(kind)) ? [undo] : []),
      ...added('keep-together', kind === 'prepare'),
    ];
  });
}

/** The step at which an axle was first turned with a tool, before it was pulled tight. */
function seatedAt(steps: readonly PlanStep[], torque: number): number {
  const { stackId } = steps[torque]!;
  const at = steps.findLastIndex((step, k) => k < torque && step.kind === 'hold-turn' && step.stackId === stackId);
  return at < 0 ? torque : at;
}

/** Whether an axle may be warmed: neither the shock nor anything of carbon is held by it or stands near it. */
function mayWarm(bike: Bike, own: Joined, on: readonly string[]): boolean {
  const isDelicate = (unit: string): boolean =>
    unit === bike.shock ||
    (bike.units.get(unit)?.members ?? []).some((id) => bike.model.members[id]?.material === 'carbon-laminate');
  const here = { ...own.place, radius_mm: 0 };
  const isNear = (unit: string): boolean =>
    (bike.pieces.get(unit) ?? []).some(
      (piece) => hullGap({ a: here, b: here }, piece).gap_mm < ORDER_LIMITS.heatReach_mm.value,
    );
  return ![...new Set([...own.units, ...on.filter(isNear)])].some(isDelicate);
}

/**
 * A spacer that has two ways gets a mark, on its rim: one that lies in a bore shows none and goes on the wire at once.
 */
function isMarked(own: Joined, step: PlanStep): boolean {
  const place = spacersOf(own.stack).find(({ item }) => item.id === step.items[0]);
  if (place?.item.smallFace === undefined) return false;
  const into_mm = Math.max(place.low?.into_mm ?? 0, place.high?.into_mm ?? 0);
  return into_mm <= ORDER_LIMITS.intoBore_mm.value;
}

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
  const isFrame = target?.kind === 'unit' && works.bike.frame.includes(target.id);
  if (!target || isFrame) {
    const allowed = accessTargets(plan).map((known) => known.id);
    const why = isFrame ? ', which never comes off' : '';
    throw new RangeError(`access: met "${id}"${why}, allowed: ${allowed.join(', ')}`);
  }
  return report(works, new Wanted(works, target));
}

function isSameSeat({ seat: one }: PlacedItem, { seat: other }: PlacedItem): boolean {
  return one !== undefined && one.member === other?.member && one.bore === other.bore && one.side === other.side;
}

/** What is wanted, and when it is free. */
class Wanted {
  readonly target: AccessTarget;
  /** Tasks that have to be taken back whatever else is. */
  readonly base: readonly number[];
  /** Bearings that are pressed out, and spacers between them that come with it. */
  readonly pressedOut: readonly string[];
  private readonly works: Works;
  private readonly own: Joined | undefined;
  private readonly item: PlacedItem | undefined;

  constructor(works: Works, target: AccessTarget) {
    const { bike, tasks, at } = works;
    const { kind, id } = target;
    this.works = works;
    this.target = target;
    this.own = bike.stacks.find(({ items }) => items.some((item) => item.id === id));
    this.item = this.own?.items.find((item) => item.id === id);
    const axles = kind === 'unit' ? (bike.byUnit.get(id) ?? []) : [this.own ?? []].flat();
    // What stands on the tip comes off without its axle.
    const task = this.item?.role === 'tip' ? 'tighten' : 'fit';
    this.base = [
      ...axles.map((joined) => at.get(`${task}:${joined.id}`)!),
      ...tasks.flatMap(({ brings }, node) => (kind === 'obstacle' && brings.includes(id) ? [node] : [])),
    ];
    const shutBy = this.own?.spacers.find(({ item }) => item.id === id)?.shutBy;
    const { item, own } = this;
    // Before a bearing come out what stands on it and the circlip of its seat.
    const before = (bearing: PlacedItem): string[] =>
      (own?.items ?? []).flatMap((other) => {
        const isOn = other.seat?.on === bearing.id;
        const isClip = other.role === 'spacer' && isSameSeat(other, bearing);
        return isOn ? [other.id, ...before(other)] : isClip ? [other.id] : [];
      });
    const out = item?.role === 'bearing' ? item : shutBy?.[1];
    this.pressedOut = out ? [...new Set([...before(out), out.id, id])] : item?.seat ? [id] : [];
  }

  /** Why the part is still shut in; empty where it is free. */
  shutBy(standing: Standing): Reason[] {
    const { own, item, works } = this;
    if (!own || !item) return [];
    if (item.seat) return this.seatShut(item, standing);
    const spacer = own.spacers.find((candidate) => candidate.item.id === item.id);
    if (!spacer) return [];
    if (spacer.shutBy) {
      const [one, other] = spacer.shutBy.map((bearing) => this.seatShut(bearing, standing));
      return other!.length === 0 ? [] : one!;
    }
    const between = betweenOf(works.bike, own).find((candidate) => candidate.ring === spacer);
    return between && this.isStuck(between, standing, clear_mm(between)) ? [shutOut(between)] : [];
  }

  /** Whether two units stand together and neither can be moved away. */
  private isStuck(pair: Pick<Between, 'own' | 'low' | 'high'>, { fitted, units }: Standing, clear_mm: number): boolean {
    const isThere = units.has(pair.low) && units.has(pair.high);
    return isThere && movables(this.works.sense.solids, pair, fitted, clear_mm, units).length === 0;
  }

  /** Whether another member's boss stands before a bearing's seat, nearer than the bearing is wide. */
  private seatShut(bearing: PlacedItem, standing: Standing): Reason[] {
    const own = this.own!;
    const { unitOf } = this.works.bike;
    if (!bearing.seat) return [];
    const unit = unitOf.get(bearing.seat.member)!;
    const isDrive = bearing.seat.side === 'drive';
    const at = own.items.indexOf(bearing);
    const beyond = isDrive ? own.items.slice(at + 1) : own.items.slice(0, at).reverse();
    const boss = beyond.find(
      ({ role, member = '' }) => (role === 'boss' || role === 'receiver') && (unitOf.get(member) ?? unit) !== unit,
    );
    if (!boss) return [];
    const owner = unitOf.get(boss.member!)!;
    const width_mm = bearing.to_mm - bearing.from_mm;
    const room_mm = Math.max(0, isDrive ? boss.from_mm - bearing.to_mm : bearing.from_mm - boss.to_mm);
    if (room_mm >= width_mm) return [];
    const clear = radiusOf(bearing) + radiusOf(boss);
    if (!this.isStuck({ own, low: unit, high: owner }, standing, clear)) return [];
    const about = { stack: own.id, item: bearing.id, unit, owner };
    return [solid('seat-covered', about, { room_mm: mm(room_mm), width_mm: mm(width_mm) })];
  }
}

/**
 * A set of tasks taken back: axles (fit and tighten) and obstacles; with the tasks that put it back in a possible
 * order, where there is one.
 */
interface Taken {
  readonly set: ReadonlySet<number>;
  readonly back: readonly number[] | undefined;
  readonly isLeast: boolean;
}

/** The smallest set that serves. */
function leastSet(works: Works, wanted: Wanted): Taken {
  const { tasks, edges, at } = works;
  const firm = edges.filter(({ reasons }) => reasons.some(({ isSolid }) => isSolid));
  const { next: after } = digraph(
    tasks.length,
    firm.map((edge) => [at.get(edge.before)!, at.get(edge.after)!]),
  );
  /** A set with all that bodies keep from staying: what must come off before one of it can. */
  const closed = (nodes: readonly number[]): ReadonlySet<number> => {
    const set = new Set<number>();
    const open = [...nodes];
    for (let node = open.pop(); node !== undefined; node = open.pop()) {
      const { kind, brings } = tasks[node]!;
      if (set.has(node) || (kind !== 'fit' && kind !== 'tighten' && brings.length === 0)) continue;
      set.add(node);
      open.push(...after[node]!);
    }
    return set;
  };
  const keyOf = (set: ReadonlySet<number>): string => [...set].sort((one, other) => one - other).join();
  const extra = tasks.flatMap(({ kind, brings }, node) => (kind === 'fit' || brings.length > 0 ? [node] : []));
  const queue = [closed(wanted.base)];
  const seen = new Set(queue.map(keyOf));
  for (let looked = 0; queue.length > 0 && looked < MOST_SETS; looked++) {
    // The smallest first; of equals the one found first.
    const least = queue.reduce((best, set, k) => (set.size < queue[best]!.size ? k : best), 0);
    const set = queue.splice(least, 1)[0]!;
    const back = wayBack(works, wanted, set);
    if (back) return { set, back, isLeast: true };
    for (const node of extra) {
      if (set.has(node)) continue;
      const more = closed([...set, node]);
      const key = keyOf(more);
      if (!seen.has(key)) queue.push(more);
      seen.add(key);
    }
  }
  // Everything off always serves, if anything does.
  const set = closed([...wanted.base, ...extra]);
  return { set, back: wayBack(works, wanted, set), isLeast: false };
}

/** What is on the bike with a set taken back. */
function left(works: Works, set: ReadonlySet<number>): Standing {
  return works.standing([...works.tasks.keys()].filter((node) => !set.has(node)));
}

/** The order that puts a set back, where the part is free with it, what stays hangs on the frame, and there is one. */
function wayBack(works: Works, wanted: Wanted, set: ReadonlySet<number>): readonly number[] | undefined {
  const standing = left(works, set);
  if (wanted.shutBy(standing).length > 0 || !hangs(works, standing)) return undefined;
  const redone = redoneWith(works, set, standing);
  const part = partOf(works.graph, works.costs, works.mayGo, redone, true);
  return recommend(part.graph, part.works, part.mayGo)?.order.map((k) => redone[k]!);
}

/** Whether every unit that stays is held, axle by axle, to the frame. */
function hangs({ bike }: Works, { fitted, units }: Standing): boolean {
  const held = new Set(bike.frame);
  for (let size = 0; size < held.size; ) {
    size = held.size;
    for (const id of fitted) {
      const joined = bike.byStack.get(id)!.units;
      if (joined.some((unit) => held.has(unit))) for (const unit of joined) held.add(unit);
    }
  }
  return [...units].every((unit) => held.has(unit));
}

/**
 * With what is taken back: its cleaning, air and hand-over where an axle is opened, cables where what carries the wheel
 * comes off.
 */
function redoneWith({ tasks, bike, at }: Works, set: ReadonlySet<number>, { units }: Standing): number[] {
  const opened = [...set].flatMap((node) => (tasks[node]!.kind === 'fit' ? [tasks[node]!.stackId!] : []));
  const carrier = bike.unitOf.get(bike.model.wheel?.member ?? '');
  const more = [
    ...opened.map((id) => `inspect:${id}`),
    ...(opened.length > 0 ? ['air'] : []),
    'hand-over',
    ...(carrier !== undefined && !units.has(carrier) ? ['cables'] : []),
  ];
  return [...new Set([...set, ...more.flatMap((id) => at.get(id) ?? [])])].sort((one, other) => one - other);
}

function report(works: Works, wanted: Wanted): Access {
  const { tasks, bike, sense } = works;
  const { set, back, isLeast } = leastSet(works, wanted);
  const standing = left(works, set);
  const order = back ?? [];
  const { pressedOut } = wanted;
  const begun: Begun = { fitted: [...standing.fitted], obstacles: [...standing.obstacles], pressedOut };
  const because = whyOpened(works, wanted, set);
  const list = order.map((node) => tasks[node]!);
  const steps = handsOf(sense, list, begun);
  const opened = order.flatMap((node) => (tasks[node]!.kind === 'fit' ? [works.joined(node)!] : [])).reverse();
  const against = back ? [] : [...wanted.shutBy(standing), ...works.blocks.map(({ reason }) => reason)];
  return {
    target: wanted.target,
    stacks: opened.map(({ id }) => id),
    tasks: [...order].reverse().map((node) => tasks[node]!.id),
    off: [...bike.units.keys(), ...bike.wheel, ...bike.chainset].filter(
      (id) => !standing.units.has(id) && !standing.obstacles.has(id),
    ),
    isLeast,
    strip: turnRound(works, steps, begun, pressedOut.length > 0),
    back: withReasons(steps, (id) => because.filter(({ before }) => before === id)),
    tools: toolList(works, order),
    threadlocker: opened
      .filter(({ isThreadlocked }) => isThreadlocked)
      .map(({ id: stackId, written: { threadlocker: strength } }) => ({ stackId, ...(strength && { strength }) })),
    fitted_for_now: opened.flatMap(({ id: stackId, written: { fitted_for_now: why } }) =>
      why === undefined ? [] : [{ stackId, why }],
    ),
    // The reasons alone, each once: taken apart there is no task they come before or after.
    because: [...new Map(because.map(({ reason }) => [JSON.stringify(reason), { reason }])).values()],
    blocked: against.map((reason) => ({ reason })),
  };
}

function toolList({ tasks }: Works, order: readonly number[]): DriveTool[] {
  const rooms = order.flatMap((node) => tasks[node]!.tools);
  const sorted = [...rooms.filter(({ role }) => role === 'turns'), ...rooms.filter(({ role }) => role === 'holds')];
  return [...new Map(sorted.map(({ tool }) => [`${tool.tool} ${tool.size_mm}`, tool])).values()];
}

/** For every task beyond what is wanted itself: the body in its way, or what would not go with it left in. */
function whyOpened(works: Works, wanted: Wanted, set: ReadonlySet<number>): Because[] {
  const { tasks } = works;
  const { base, target } = wanted;
  const holding = target.kind === 'unit' ? base : [];
  const held = holding.map((node): Because => {
    const { id, stackId } = tasks[node]!;
    return { before: id, reason: solid('holds-it', { stack: stackId!, unit: target.id }, {}) };
  });
  const others = [...set].filter((node) => !base.includes(node) && tasks[node]!.kind !== 'tighten');
  const more = others.flatMap((node): Because[] => {
    const { id } = tasks[node]!;
    const edges = works.edgesAt.get(id)!.filter(({ before, after }) => after === id && set.has(works.at.get(before)!));
    const bodies = edges.flatMap(({ reasons }) => reasons.filter(({ isSolid }) => isSolid));
    if (bodies.length > 0) return bodies.map((reason) => ({ before: id, reason }));
    // Left in, it would keep the part, or another of the set, where it is.
    const rest = new Set([...set].filter((other) => other !== node));
    const ways = [...rest].flatMap((other) => works.whyNot(other, (done) => !rest.has(done)));
    const found = [...wanted.shutBy(left(works, rest)), ...ways.filter(({ code }) => code !== 'nothing-to-hang-on')];
    return found.slice(0, 1).map((reason) => ({ before: id, reason }));
  });
  return [...held, ...more];
}
