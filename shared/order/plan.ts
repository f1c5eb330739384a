/**
 * The build order of a bike, ours or the maker's: from its analysis to tasks, edges, their order, and every step; and
 * what each variant of a model changes in it.
 *
 * Edges by `tasks.ts`, the rule beyond them by `possible.ts`, the order by `graph.ts`, steps by `steps.ts`. Every list
 * of steps there is (a pivot's, taking apart, the torque list, the sheet) is a view of this one. Where no order is
 * possible the plan does as much as can be done and names what is stuck and why. A task has moved where it is none of
 * the longest run of tasks that stand in the same order in both (longest rising row, patience sorting): as few as can
 * be have to be named. Pure and deterministic.
 *
 * Why a task stands where it does, what is wrong with any other order, and whether the maker's order can be kept.
 *
 * An edge speaks for both of its ends. What no edge can say (is there anything to hang it on, is there a way in) is
 * found by trying: the first place of the order at which the task can be done names the task that made it so. In an
 * order of the user's a task is at fault where something it needs has not been done, or where what is on the bike by
 * then leaves it no way in or nothing to hang on; its nearest possible place is looked for in the order without it,
 * with all that needs it behind it where that can be had. The maker says which axle is fitted after which: where that
 * can be kept, the cheapest order that keeps it is found; where edges and maker's order chase one another, the shortest
 * such cycle is named link by link; where an axle cannot be fitted when it is its turn, what stands against it is
 * named.
 *
 * The whole bike's torque list, in build order, for the wall.
 *
 * One row a stack, in the order in which a plan pulls them tight. Rows are data; words in `words/torque.ts`.
 */
import { analyse } from '../analyse.ts';
import type { LinkageModel, Side } from '../model/schema.ts';
import type { ThreadTreatment } from '../standards/index.ts';
import { type TorqueInUnits, inAllUnits } from '../torque/units.ts';
import type { Analysis, StackAnalysis } from '../types.ts';
import { type Cost, type Recommendation, costOf, partOf, recommend, recommending } from './best.ts';
import { grouped } from './bike.ts';
import {
  countOrders,
  digraph,
  findCycle,
  type OrderCount,
  pairsOf,
  sweep,
  topologicalOrder,
  transitiveReduction,
} from './graph.ts';
import { type Works, worksOf } from './possible.ts';
import { drivesOf, handsOf } from './steps.ts';
import type { Because, Block, DriveInHand, Edge, PlanStep, PlanStepKind, Reason, ReasonCode, Task } from './tasks.ts';

/** A task of a plan. */
export interface PlanTask extends Pick<Task, 'id' | 'kind' | 'stackId' | 'pivotId'> {
  /** Side one stands on as it begins; none where it does not matter. */
  readonly side?: Side | 'bench';
  readonly tools: readonly DriveInHand[];
  /** Units it brings onto the bike in this order, and obstacles. */
  readonly brings: readonly string[];
  readonly because: readonly Because[];
  /** Ids of its steps. */
  readonly steps: readonly string[];
}

/** An edge of the plan. `isDirect`: not implied by others. */
export interface PlanEdge extends Edge {
  readonly isDirect: boolean;
}

/** How many possible orders there are, exactly or between two bounds; whole numbers in decimal. */
export type PlanCount = OrderCount<string>;

/** One task that stands too early in an order. */
export interface OrderFault {
  readonly task: string;
  /** Tasks that stand after it and must come before. */
  readonly blockedBy: readonly string[];
  readonly reasons: readonly Because[];
  /**
   * Index at which it would be possible, nearest to where it stands, counted in the order without it; undefined where
   * none is.
   */
  readonly nearestPossibleIndex?: number;
}

/** An order checked task by task. */
export interface OrderCheck {
  readonly faults: readonly OrderFault[];
  /** Tasks of the plan that the order leaves out, and those it names that the plan does not know or names twice. */
  readonly missing: readonly string[];
  readonly unknown: readonly string[];
  readonly cost: Cost;
}

/** Whose order a plan follows: the one computed here, or the one its maker gives. */
export type Follow = 'ours' | 'makers';

/** Axles in the order the model's author pins, against the computed one. */
export interface MakersOrder {
  /** Stack ids as the model writes them. */
  readonly stacks: readonly string[];
  /** Stack ids as computed, and what that order costs. */
  readonly computed: readonly string[];
  readonly computedCost: Cost;
  /** The maker’s order is the recommended one. */
  readonly isSame: boolean;
  /** Tasks in the cheapest possible order that keeps the maker’s sequence of axles; empty where none does. */
  readonly tasks: readonly string[];
  readonly cost?: Cost;
  /** No order that keeps it costs less. */
  readonly isBest: boolean;
  /** What stands against it: axles of the maker’s order that cannot be fitted when it is their turn. */
  readonly conflicts: readonly OrderFault[];
  /** Tasks round which pin and geometry chase one another, each before the next and the last before the first. */
  readonly cycle?: readonly { readonly task: string; readonly isPin: boolean; readonly because: readonly Because[] }[];
}

/** The build order of a bike. */
export interface Plan {
  readonly analysis: Analysis;
  readonly variant?: string;
  /** Whose order it follows: ours where the maker gives none, or none that is possible. */
  readonly follows: Follow;
  /** In that order. */
  readonly tasks: readonly PlanTask[];
  readonly edges: readonly PlanEdge[];
  /** Trouble that no order mends. */
  readonly blocks: readonly Block[];
  /** Tasks that cannot be done at all: then `tasks` ends with them, in the model's order. */
  readonly stuck: readonly OrderFault[];
  /** Edges that chase one another: then no order is possible. */
  readonly cycle?: readonly string[];
  readonly cost: Cost;
  /** No possible order costs less; of the maker's, none that keeps it. */
  readonly isBest: boolean;
  /** Where that is not known: no possible order takes fewer changes of side and tool together. */
  readonly leastChanges?: number;
  /** Possible orders of the work at the bike; what is done at the bench can be done in any order before. */
  readonly orders: PlanCount;
  readonly makersOrder?: MakersOrder;
  readonly steps: readonly PlanStep[];
}

/** One variant's order beside the base build's. */
export interface VariantOrder {
  /** Undefined for the base build. */
  readonly variant?: string;
  readonly plan: Plan;
  /** Tasks whose place among the others differs from the base build's: they have to be moved, as few as can be. */
  readonly moved: readonly string[];
  /** Edges that only the one of the two has. */
  readonly gained: readonly PlanEdge[];
  readonly lost: readonly PlanEdge[];
  /** Tasks whose side or tools differ. */
  readonly changed: readonly { readonly task: string; readonly what: readonly ('side' | 'tools')[] }[];
}

/** How far a plan is, 0 to 1, and the plan of a better order than any before, our own. */
export interface Planning {
  readonly share: number;
  readonly better?: () => Plan;
}

/**
 * The plan of an analysis; `follow` says whose order, and the plan whose it could follow. About 0.2 s a bike, the count
 * of orders included, 3 s for two hundred pivots, and nothing when asked again. Never throws: where no order is possible
 * the plan says so.
 */
export function planOf(analysis: Analysis, asked: { readonly follow?: Follow } = {}): Plan {
  const known = plans.get(worksOf(analysis))?.get(asked.follow ?? 'ours');
  if (known) return { ...known, analysis };
  const work = planning(analysis, asked);
  for (let step = work.next(); ; step = work.next()) if (step.done) return step.value;
}

/** Plans that are worked out, as long as their works are kept. */
const plans = new WeakMap<Works, Map<Follow, Plan>>();

/** The same work with places where it may be left, and what it has so far. */
export function* planning(
  analysis: Analysis,
  { follow = 'ours' }: { readonly follow?: Follow } = {},
): Generator<Planning, Plan> {
  const works = worksOf(analysis);
  const search = topologicalOrder(works.graph) ? recommending(works.graph, works.costs, works.mayGo) : undefined;
  let found = search?.next();
  for (; found && !found.done; found = search!.next()) {
    const { share, better } = found.value;
    yield { share, ...(better && { better: () => planWith(analysis, works, better, undefined, 'ours') }) };
  }
  const best = found?.value;
  const makersOrder = makersOrderOf(works, best?.order ?? asFarAsItGoes(works));
  const follows = follow === 'makers' && makersOrder?.cost ? 'makers' : 'ours';
  const plan = planWith(analysis, works, best, makersOrder, follows);
  plans.set(works, new Map([...(plans.get(works) ?? []), [follow, plan]]));
  return plan;
}

function planWith(
  analysis: Analysis,
  works: Works,
  best: Recommendation | undefined,
  makersOrder: MakersOrder | undefined,
  follows: Follow,
): Plan {
  const { tasks, graph, costs } = works;
  const order =
    follows === 'ours' ? (best?.order ?? asFarAsItGoes(works)) : makersOrder!.tasks.map((id) => works.at.get(id)!);
  // Where no search came to an end, the plain order of the model may still go through.
  const stuck = best || follows === 'makers' ? [] : faultsOf(works, order);
  const cycle = findCycle(graph)?.map((node) => tasks[node]!.id);
  const why = reasonsOf(works, order);
  const steps = stepsOf(works, order, why);
  return {
    analysis,
    ...(analysis.variant === undefined ? {} : { variant: analysis.variant }),
    follows,
    tasks: order.map((node) => planTask(works, node, why, steps)),
    edges: edgesOf(works, cycle !== undefined),
    blocks: works.blocks,
    stuck,
    ...(cycle && { cycle }),
    cost: costOf(order, costs),
    isBest: (follows === 'ours' ? best : makersOrder)?.isBest ?? false,
    ...(follows === 'ours' && best && !best.isBest && { leastChanges: best.leastChanges }),
    orders: stuck.length === 0 ? countAtBike(works, order) : { isExact: true, orders: '0' },
    ...(makersOrder && { makersOrder }),
    steps,
  };
}

/**
 * The steps of a plan's tasks in another order, which must be possible (`checkOrder`); ids the plan does not know are
 * left out. O(tasks). Nothing is checked again.
 */
export function stepsInOrder(plan: Plan, taskIds: readonly string[]): PlanStep[] {
  const works = worksOf(plan.analysis);
  const order = taskIds.flatMap((id) => works.at.get(id) ?? []);
  return stepsOf(works, order, reasonsOf(works, order));
}

type Reasons = ReadonlyMap<string, readonly Because[]>;

/** Why each task stands where it does in an order, by its id. */
function reasonsOf(works: Works, order: readonly number[]): Reasons {
  return new Map(
    order.map((node) => [works.tasks[node]!.id, [...edgeReasons(works, node), ...senseReasons(works, order, node)]]),
  );
}

function stepsOf({ sense, tasks }: Works, order: readonly number[], why: Reasons): PlanStep[] {
  const list = order.map((node) => tasks[node]!);
  return withReasons(handsOf(sense, list), (task) => why.get(task)!);
}

/** Every task that can be done, in the tasks' own order, and then those that cannot. */
function asFarAsItGoes({ needs, mayGo }: Works): number[] {
  const isReady = (node: number, done: ReadonlySet<number>): boolean =>
    needs[node]!.every((need) => done.has(need)) && mayGo(node, (other) => done.has(other));
  return [...new Set([...sweep(needs.length, isReady), ...needs.keys()])];
}

function planTask(works: Works, node: number, why: Reasons, steps: readonly PlanStep[]): PlanTask {
  const { id, kind, stackId, pivotId, begins, brings } = works.tasks[node]!;
  const own = steps.filter(({ taskId }) => taskId === id);
  const comes = own.filter((step) => step.kind === 'offer-member' || step.kind === 'shock');
  return {
    id,
    kind,
    ...(stackId && { stackId }),
    ...(pivotId && { pivotId }),
    ...(begins && { side: begins }),
    tools: kind === 'tighten' ? drivesOf(works.bike, works.joined(node)!, new Set(own[0]?.on)) : [],
    brings: [...comes.flatMap(({ units }) => units), ...brings],
    because: why.get(id)!.filter(isTelling),
    steps: own.map((step) => step.id),
  };
}

function edgesOf({ edges, graph, at }: Works, isCyclic: boolean): PlanEdge[] {
  const direct = isCyclic ? undefined : new Set(pairsOf(transitiveReduction(graph)).map((pair) => pair.join(' ')));
  return edges.map((edge) => ({
    ...edge,
    isDirect: direct === undefined || direct.has(`${at.get(edge.before)!} ${at.get(edge.after)!}`),
  }));
}

/**
 * Orders of all tasks but those at the bench, which can be done in any order before the rest, and the first and last;
 * one is known.
 */
function countAtBike({ tasks, graph, costs, mayGo }: Works, order: readonly number[]): PlanCount {
  const isApart = ({ kind }: Task): boolean => kind === 'inspect' || kind === 'stand' || kind === 'hand-over';
  const nodes = [...tasks.keys()].filter((node) => !isApart(tasks[node]!));
  const part = partOf(graph, costs, mayGo, nodes, false);
  const known = order.flatMap((node) => (isApart(tasks[node]!) ? [] : [nodes.indexOf(node)]));
  const count = countOrders(part.graph, { rule: { mayGo: part.mayGo, asks: (k) => part.works[k]!.asks!, known } });
  if (count.isExact) return { isExact: true, orders: String(count.orders) };
  return { isExact: false, atLeast: String(count.atLeast), atMost: String(count.atMost) };
}

/**
 * The base build's order first, then each variant's beside it; one entry without variants. A plan each. The model must
 * have been read without problems.
 */
export function compareVariants(model: LinkageModel): VariantOrder[] {
  const work = comparing(model);
  for (let step = work.next(); ; step = work.next()) if (step.done) return step.value;
}

/** The same work with places where it may be left, and how far it is, 0 to 1. */
export function* comparing(model: LinkageModel): Generator<number, VariantOrder[]> {
  const builds = [{}, ...(model.variants ?? []).map(({ id }) => ({ variant: id }))];
  const plans: Plan[] = [];
  for (const build of builds) {
    const work = planning(analyse(model, build));
    let step = work.next();
    for (; !step.done; step = work.next()) yield (plans.length + step.value.share) / builds.length;
    plans.push(step.value);
  }
  const [base, ...others] = plans;
  return [{ plan: base!, moved: [], gained: [], lost: [], changed: [] }, ...others.map((plan) => beside(base!, plan))];
}

/** One plan beside another of the same bike. */
function beside(base: Plan, plan: Plan): VariantOrder {
  const before = new Map(base.tasks.map((task, k) => [task.id, { task, k }]));
  const shared = plan.tasks.filter(({ id }) => before.has(id));
  const stay = longestRise(shared.map(({ id }) => before.get(id)!.k));
  const key = ({ before: one, after, reasons }: PlanEdge): string =>
    `${one} ${after} ${[...new Set(reasons.filter(({ isSolid }) => isSolid).map(({ code }) => code))].join()}`;
  const keys = [base, plan].map(({ edges }) => new Set(edges.map(key)));
  return {
    ...(plan.variant === undefined ? {} : { variant: plan.variant }),
    plan,
    moved: shared.flatMap(({ id }, k) => (stay.has(k) ? [] : [id])),
    gained: plan.edges.filter((edge) => !keys[0]!.has(key(edge))),
    lost: base.edges.filter((edge) => !keys[1]!.has(key(edge))),
    changed: shared.flatMap((task) => {
      const one = before.get(task.id)!.task;
      const isOther = { side: one.side !== task.side, tools: toolsIn(one) !== toolsIn(task) };
      const what = (['side', 'tools'] as const).filter((kind) => isOther[kind]);
      return what.length === 0 ? [] : [{ task: task.id, what }];
    }),
  };
}

/** A task's tools, to tell whether they differ. */
function toolsIn({ tools }: PlanTask): string {
  return tools.map(({ role, tool, side }) => `${role} ${tool.tool} ${tool.size_mm} ${side}`).join();
}

/** Places of a longest strictly rising row of numbers. */
export function longestRise(row: readonly number[]): Set<number> {
  const ends: number[] = [];
  const before = row.map((): number | undefined => undefined);
  row.forEach((value, k) => {
    let [low, high] = [0, ends.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (row[ends[middle]!]! < value) low = middle + 1;
      else high = middle;
    }
    before[k] = ends[low - 1];
    ends[low] = k;
  });
  const rise = new Set<number>();
  for (let at = ends.at(-1); at !== undefined; at = before[at]) rise.add(at);
  return rise;
}

/** Reasons of the edges into a task (`before` the task it waits for) and out of it (`after` what waits for it). */
function edgeReasons(works: Works, node: number): Because[] {
  const { id } = works.tasks[node]!;
  return works.edgesAt
    .get(id)!
    .flatMap(({ before, after, reasons }) =>
      reasons.map((reason) => (after === id ? { before, reason } : { after, reason })),
    );
}

/** Why a task could not be done earlier in an order for want of what no edge says. */
function senseReasons(works: Works, order: readonly number[], task: number): Because[] {
  if (works.tasks[task]!.kind !== 'fit') return [];
  const done = new Set<number>();
  const why = (): readonly Reason[] => works.whyNot(task, (other) => done.has(other));
  let last = why();
  const found: Because[] = [];
  const relevant = new Set(works.relevantTo(works.joined(task)!));
  for (const next of order) {
    if (next === task || last.length === 0) break;
    done.add(next);
    if (!relevant.has(next)) continue;
    const now = why();
    for (const reason of last.filter(({ code }) => now.every((other) => other.code !== code)))
      found.push({ before: works.tasks[next]!.id, reason });
    last = now;
  }
  return found;
}

/**
 * Which of the two tasks a reason is told at, and at which kinds of its steps, the likeliest first; the first step of
 * the task has what is left. What every later task waits for and what waits for hand-over is true and says nothing.
 */
const TOLD: Readonly<
  Record<ReasonCode, readonly ['at neither' | 'at the later' | 'at the earlier' | 'at both', ...PlanStepKind[]]>
> = {
  'stand-first': ['at neither'],
  'clean-first': ['at the later', 'prepare'],
  'bearing-first': ['at the earlier', 'press-bearing'],
  'started-first': ['at the later', 'hold-turn'],
  'axle-path': ['at both', 'axle-home', 'start-receiver', 'chainset', 'wheel', 'offer-member', 'shock'],
  'nut-path': ['at both', 'start-receiver', 'chainset', 'wheel', 'offer-member', 'shock'],
  'tool-room': ['at both', 'hold-turn', 'chainset', 'wheel', 'offer-member', 'shock'],
  'handle-room': ['at both', 'hold-turn', 'chainset', 'wheel', 'offer-member', 'shock'],
  'sibling-started': ['at the later', 'hold-turn'],
  'bores-line-up': ['at the later', 'hold-turn'],
  'carries-wheel': ['at the later', 'wheel'],
  'free-check-bare': ['at both', 'free-check', 'offer-member', 'shock', 'wheel', 'prepare'],
  'travel-bare': ['at the later', 'shock', 'prepare'],
  'all-on-first': ['at the later', 'cables'],
  'air-last': ['at the later', 'air'],
  'check-last': ['at neither', 'hand-over'],
  'nothing-to-hang-on': ['at both', 'offer-member', 'shock', 'prepare'],
  'no-way-in': ['at both', 'offer-member', 'shock', 'prepare'],
  'spacer-shut-out': ['at both', 'set-spacer', 'prepare'],
  'holds-it': ['at both'],
  'seat-covered': ['at both', 'press-bearing'],
};

/** Whether a reason is worth telling at its task. */
function isTelling({ reason, before, after }: Because): boolean {
  const [where] = TOLD[reason.code];
  if (where === 'at both') return true;
  return (where === 'at the later' && before !== undefined) || (where === 'at the earlier' && after !== undefined);
}

/** Steps, each with the reasons of its task that are told at it. */
export function withReasons(steps: readonly PlanStep[], whyOf: (task: string) => readonly Because[]): PlanStep[] {
  return [...grouped(steps, ({ taskId }) => [taskId])].flatMap(([task, own]) => {
    const told = own.map((): Because[] => []);
    for (const one of whyOf(task).filter(isTelling)) {
      const [, ...kinds] = TOLD[one.reason.code];
      const kind = kinds.find((candidate) => own.some((step) => step.kind === candidate));
      const unit = one.reason.about['unit'] ?? '';
      const fits = own.flatMap((step, k) => (step.kind === kind ? [k] : []));
      told[fits.find((k) => own[k]!.units.includes(unit)) ?? fits[0] ?? 0]!.push(one);
    }
    return own.map((step, k) => ({ ...step, because: told[k]! }));
  });
}

/**
 * Check an order of task ids against its plan; the ids may be any. Told as faults, never thrown. O(tasks + edges),
 * under 1 ms.
 */
export function checkOrder(plan: Plan, taskIds: readonly string[]): OrderCheck {
  const works = worksOf(plan.analysis);
  const known = new Set(taskIds.filter((id) => works.at.has(id)));
  const order = [...known].map((id) => works.at.get(id)!);
  return {
    faults: faultsOf(works, order),
    missing: works.tasks.flatMap(({ id }) => (known.has(id) ? [] : [id])),
    unknown: taskIds.filter((id, k) => !known.has(id) || taskIds.indexOf(id) !== k),
    cost: costOf(order, works.costs),
  };
}

/** Faults of an order of tasks, by their numbers. */
function faultsOf(works: Works, order: readonly number[]): OrderFault[] {
  return order.flatMap((task, k): OrderFault[] => {
    const reasons = [...missingEdges(works, order, task), ...outOfSense(works, order, k)];
    if (reasons.length === 0) return [];
    const blockedBy = [...new Set(reasons.flatMap(({ before, after }) => [before ?? [], after ?? []].flat()))];
    const nearest = nearestPlace(works, order, k);
    return [
      {
        task: works.tasks[task]!.id,
        blockedBy,
        reasons,
        ...(nearest === undefined ? {} : { nearestPossibleIndex: nearest }),
      },
    ];
  });
}

/** Edges into a task from what an order does not have before it. */
function missingEdges({ tasks, edgesAt, at }: Works, order: readonly number[], task: number): Because[] {
  const { id } = tasks[task]!;
  const done = new Set(order.slice(0, order.indexOf(task)));
  return edgesAt
    .get(id)!
    .flatMap(({ before, after, reasons }) =>
      after === id && !done.has(at.get(before)!) ? reasons.map((reason) => ({ before, reason })) : [],
    );
}

/** What is on the bike too much or too little: named by the tasks that brought it, or that will make it possible. */
function outOfSense(works: Works, order: readonly number[], k: number): Because[] {
  const task = order[k]!;
  const [earlier, later] = [order.slice(0, k), order.slice(k + 1)];
  const done = new Set(earlier);
  const why = (): readonly Reason[] => works.whyNot(task, (other) => done.has(other));
  return why().flatMap((reason): Because[] => {
    const owners = reason.about['owners']?.split(' ') ?? [reason.about['owner'] ?? ''];
    const early = earlier.filter((other) => owners.some((owner) => works.brings(other).includes(owner)));
    if (early.length > 0) return early.map((other) => ({ after: works.tasks[other]!.id, reason }));
    const mends = later.find((other) => done.add(other) && why().every(({ code }) => code !== reason.code));
    for (const other of later) done.delete(other);
    return mends === undefined ? [{ reason }] : [{ before: works.tasks[mends]!.id, reason }];
  });
}

/** The place nearest to the `k`th at which its task is possible in the order without it. */
function nearestPlace(works: Works, order: readonly number[], k: number): number | undefined {
  const task = order[k]!;
  const rest = order.filter((other) => other !== task);
  const place = new Map(rest.map((other, n) => [other, n]));
  const low = Math.max(0, ...works.needs[task]!.map((need) => (place.get(need) ?? -1) + 1));
  const high = Math.min(rest.length, ...works.graph.next[task]!.map((after) => place.get(after) ?? Infinity));
  const nearest = (to: number): number | undefined =>
    Array.from({ length: Math.max(0, to - low + 1) }, (_, n) => low + n)
      .sort((one, other) => Math.abs(one - k) - Math.abs(other - k) || other - one)
      .find((index) => works.mayGo(task, (other) => (place.get(other) ?? Infinity) < index));
  return nearest(high) ?? nearest(rest.length);
}

/** The maker’s order of a model, or undefined where it pins none. `order` is the recommended one. */
function makersOrderOf(works: Works, order: readonly number[]): MakersOrder | undefined {
  const stacks = works.bike.model.order;
  if (!stacks) return undefined;
  const { tasks, at } = works;
  const fits = stacks.flatMap((id) => at.get(`fit:${id}`) ?? []);
  const pins = fits.slice(1).map((fit, k) => [fits[k]!, fit] as const);
  const graph = digraph(works.graph.count, [...pairsOf(works.graph), ...pins]);
  const own = order.filter((node) => tasks[node]!.kind === 'fit');
  const told = {
    stacks,
    isSame: own.join() === fits.join(),
    computed: own.map((node) => tasks[node]!.stackId!),
    computedCost: costOf(order, works.costs),
  };
  const none = { ...told, tasks: [], isBest: false, conflicts: [] };
  const cycle = findCycle(graph);
  if (cycle)
    return {
      ...none,
      cycle: cycle.map((node, k) => {
        const [task, after] = [node, cycle[(k + 1) % cycle.length]!].map((one) => tasks[one]!.id);
        const edge = works.edges.find((candidate) => candidate.before === task && candidate.after === after);
        // Every link of the cycle is an edge or a pin.
        return { task: task!, isPin: !edge, because: edge?.reasons.map((reason) => ({ after: after!, reason })) ?? [] };
      }),
    };
  const kept = recommend(graph, works.costs, works.mayGo);
  if (kept)
    return {
      ...told,
      tasks: kept.order.map((node) => tasks[node]!.id),
      cost: kept.cost,
      isBest: kept.isBest,
      conflicts: [],
    };
  // The work at the bench is done before; what is left is the axles alone.
  const first = tasks.flatMap(({ kind }, node) => (kind === 'inspect' || kind === 'stand' ? [node] : []));
  return { ...none, conflicts: faultsOf(works, [...first, ...fits]).filter(({ task }) => task.startsWith('fit:')) };
}

/** One row of the list. */
export interface TorqueRow {
  /** Place in the build order, from 1. */
  readonly place: number;
  readonly pivotId: string;
  readonly pivotName: string;
  readonly stackId: string;
  readonly stackName: string;
  readonly torque: TorqueInUnits;
  readonly tightening: StackAnalysis['tightening'];
  readonly treatment: ThreadTreatment;
  readonly isAgainstHabit: boolean;
  /** Why this pivot will be opened again. */
  readonly fitted_for_now?: string;
}

/** Rows of every stack of the bike in a plan's order, N·m. O(steps). */
export function torqueList({ analysis, steps }: Plan): TorqueRow[] {
  const { byStack } = worksOf(analysis).bike;
  const pulls = steps.filter(({ kind }) => kind === 'torque');
  return pulls.map(({ pivotId = '', stackId = '' }, k) => {
    const { stack, written } = byStack.get(stackId)!;
    const { thread_treatment: treatment, fitted_for_now } = written;
    return {
      place: k + 1,
      pivotId,
      pivotName: analysis.pivots.find(({ id }) => id === pivotId)!.name,
      stackId,
      stackName: stack.name,
      torque: inAllUnits(stack.tightening.torque_Nm),
      tightening: stack.tightening,
      treatment,
      isAgainstHabit: stack.tightening.turn === 'anticlockwise',
      ...(fitted_for_now === undefined ? {} : { fitted_for_now }),
    };
  });
}
