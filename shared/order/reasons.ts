/**
 * Why a task stands where it does, what is wrong with any other order, and whether the maker's order can be kept.
 *
 * An edge speaks for both of its ends. What no edge can say (is there anything to hang it on, is there a way in) is
 * found by trying: the first place of the order at which the task can be done names the task that made it so. In an order
 * of the user's a task is at fault where something it needs has not been done, or where what is on the bike by then leaves
 * it no way in or nothing to hang on; its nearest possible place is looked for in the order without it, with all that
 * needs it behind it where that can be had. The maker says which axle is fitted after which: where that can be kept, the
 * cheapest order that keeps it is found; where edges and maker's order chase one another, the shortest such cycle is named
 * link by link; where an axle cannot be fitted when it is its turn, what stands against it is named.
 */
import { digraph, findCycle, pairsOf } from './graph.ts';
import { type Works, worksOf } from './possible.ts';
import type { Reason, ReasonCode } from './precedence.ts';
import { costOf, recommend } from './search.ts';
import type { Because, OrderCheck, OrderFault, MakersOrder, Plan, PlanStep, PlanStepKind } from './types.ts';

/** Reasons of the edges into a task (`before` the task it waits for) and out of it (`after` what waits for it). */
export function edgeReasons(works: Works, task: string): Because[] {
  return works.edgesAt.get(task)!.flatMap(({ before, after, reasons }): Because[] => {
    if (after === task) return reasons.map((reason) => ({ before, reason }));
    return before === task ? reasons.map((reason) => ({ after, reason })) : [];
  });
}

/** Why a task could not be done earlier in an order for want of what no edge says. */
export function senseReasons(works: Works, order: readonly number[], task: number): Because[] {
  const { tasks } = works;
  if (tasks[task]!.kind !== 'fit') return [];
  const done = new Set<number>();
  const has = (other: number): boolean => done.has(other);
  let last: readonly Reason[] = works.whyNot(task, has);
  const found: Because[] = [];
  const relevant = new Set(works.relevantTo(works.bike.byStack.get(tasks[task]!.stackId!)!));
  for (const next of order) {
    if (next === task || last.length === 0) break;
    done.add(next);
    if (!relevant.has(next) && tasks[next]!.brings.length === 0) continue;
    const now = works.whyNot(task, has);
    const gone = last.filter(({ code }) => !now.some((reason) => reason.code === code));
    for (const reason of gone) found.push({ before: tasks[next]!.id, reason });
    last = now;
  }
  return found;
}

/** The kinds of step a reason is told at, the likeliest first; the first step of its task has what is left. */
const TOLD_AT: Readonly<Record<ReasonCode, readonly PlanStepKind[]>> = {
  'stand-first': [],
  'clean-first': ['prepare'],
  'bearing-first': ['press-bearing'],
  'started-first': ['hold-turn'],
  'axle-path': ['axle-home', 'start-receiver', 'chainset', 'wheel', 'offer-member', 'shock'],
  'nut-path': ['start-receiver', 'chainset', 'wheel', 'offer-member', 'shock'],
  'tool-room': ['hold-turn', 'chainset', 'wheel', 'offer-member', 'shock'],
  'handle-room': ['hold-turn', 'chainset', 'wheel', 'offer-member', 'shock'],
  'sibling-started': ['hold-turn'],
  'bores-line-up': ['hold-turn'],
  'carries-wheel': ['wheel'],
  'free-check-bare': ['free-check', 'offer-member', 'shock', 'wheel', 'prepare'],
  'travel-bare': ['shock', 'prepare'],
  'all-on-first': ['cables'],
  'air-last': ['air'],
  'check-last': ['hand-over'],
  'nothing-to-hang-on': ['offer-member', 'shock', 'prepare'],
  'no-way-in': ['offer-member', 'shock', 'prepare'],
  'spacer-shut-out': ['set-spacer', 'prepare'],
  'holds-it': [],
  'seat-covered': ['press-bearing'],
};

/** What every later task waits for and what waits for hand-over is true and says nothing. */
const IDLE: ReadonlySet<ReasonCode> = new Set(['stand-first', 'check-last']);
/** Told at the later of the two tasks alone, where it is what is waited for. */
const TOLD_LATER: ReadonlySet<ReasonCode> = new Set([
  'clean-first',
  'started-first',
  'sibling-started',
  'bores-line-up',
  'carries-wheel',
  'travel-bare',
  'all-on-first',
  'air-last',
]);
/** Told at the earlier alone, where the work is done. */
const TOLD_EARLIER: ReadonlySet<ReasonCode> = new Set(['bearing-first']);

/** Whether a reason is worth telling at its task. */
export function isTelling({ reason, before, after }: Because): boolean {
  if (IDLE.has(reason.code)) return false;
  if (TOLD_LATER.has(reason.code)) return before !== undefined;
  return TOLD_EARLIER.has(reason.code) ? after !== undefined : true;
}

/** The steps of one task, each with the reasons that are told at it. */
export function tellAt(steps: readonly PlanStep[], because: readonly Because[]): PlanStep[] {
  const told = steps.map((): Because[] => []);
  for (const one of because.filter(isTelling)) {
    const kind = TOLD_AT[one.reason.code].find((candidate) => steps.some((step) => step.kind === candidate));
    const unit = one.reason.about['unit'];
    const fits = steps.flatMap((step, k) => (step.kind === kind ? [k] : []));
    const at = fits.find((k) => unit !== undefined && steps[k]!.units.includes(unit)) ?? fits[0] ?? 0;
    told[at]?.push(one);
  }
  return steps.map((step, k) => ({ ...step, because: told[k]! }));
}

/**
 * Check an order of task ids against its plan; the ids may be any. Told as faults, never thrown. O(tasks + edges),
 * under 1 ms.
 */
export function checkOrder(plan: Plan, taskIds: readonly string[]): OrderCheck {
  const works = worksOf(plan.analysis);
  const known = taskIds.filter((id, k) => works.at.has(id) && taskIds.indexOf(id) === k);
  const order = known.map((id) => works.at.get(id)!);
  return {
    faults: faultsOf(works, order),
    missing: works.tasks.flatMap(({ id }) => (known.includes(id) ? [] : [id])),
    unknown: taskIds.filter((id, k) => !works.at.has(id) || taskIds.indexOf(id) !== k),
    cost: costOf(order, works.costs),
  };
}

/** Faults of an order of tasks, by their numbers. */
export function faultsOf(works: Works, order: readonly number[]): OrderFault[] {
  const place = new Map(order.map((task, k) => [task, k]));
  const needs = needsOf(works);
  return order.flatMap((task, k): OrderFault[] => {
    const isDone = (other: number): boolean => (place.get(other) ?? Infinity) < k;
    const reasons = [...missingEdges(works, task, needs, isDone), ...outOfSense(works, order, task, k, place)];
    if (reasons.length === 0) return [];
    const blockedBy = [
      ...new Set(reasons.flatMap(({ before, after }) => [before, after].filter((id) => id !== undefined))),
    ];
    const nearest = nearestPlace(works, order, task, k, needs);
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

/** For each task the edges into it. */
function needsOf(
  works: Works,
): readonly (readonly { readonly need: number; readonly edge: Works['edges'][number] }[])[] {
  const needs = works.tasks.map((): { need: number; edge: Works['edges'][number] }[] => []);
  for (const edge of works.edges) needs[works.at.get(edge.after)!]!.push({ need: works.at.get(edge.before)!, edge });
  return needs;
}

type Needs = ReturnType<typeof needsOf>;

function missingEdges(works: Works, task: number, needs: Needs, isDone: (other: number) => boolean): Because[] {
  return needs[task]!.flatMap(({ need, edge }) =>
    isDone(need) ? [] : edge.reasons.map((reason): Because => ({ before: works.tasks[need]!.id, reason })),
  );
}

/** What is on the bike too much or too little: named by the tasks that brought it, or that will make it possible. */
function outOfSense(
  works: Works,
  order: readonly number[],
  task: number,
  k: number,
  place: ReadonlyMap<number, number>,
): Because[] {
  const isDone = (other: number): boolean => (place.get(other) ?? Infinity) < k;
  const reasons = works.whyNot(task, isDone);
  return reasons.flatMap((reason): Because[] => {
    const owners =
      reason.about['owners']?.split(' ') ?? (reason.about['owner'] === undefined ? [] : [reason.about['owner']]);
    const early = order.slice(0, k).filter((other) => owners.some((owner) => works.brings(other).includes(owner)));
    if (early.length > 0) return early.map((other) => ({ after: works.tasks[other]!.id, reason }));
    const later = order.slice(k + 1).find((_, n) => {
      const until = k + 1 + n;
      return works
        .whyNot(task, (other) => other !== task && (place.get(other) ?? Infinity) <= until)
        .every(({ code }) => code !== reason.code);
    });
    return later === undefined ? [{ reason }] : [{ before: works.tasks[later]!.id, reason }];
  });
}

function nearestPlace(
  works: Works,
  order: readonly number[],
  task: number,
  k: number,
  needs: Needs,
): number | undefined {
  const rest = order.filter((other) => other !== task);
  const place = new Map(rest.map((other, n) => [other, n]));
  const low = Math.max(0, ...needs[task]!.map(({ need }) => (place.get(need) ?? -1) + 1));
  const high = Math.min(rest.length, ...works.graph.next[task]!.map((after) => place.get(after) ?? Infinity));
  const isPossible = (index: number): boolean =>
    works.whyNot(task, (other) => (place.get(other) ?? Infinity) < index).length === 0;
  const nearest = (from: number, to: number): number | undefined => {
    const all = Array.from({ length: Math.max(0, to - from + 1) }, (_, n) => from + n);
    return all.sort((one, other) => Math.abs(one - k) - Math.abs(other - k) || other - one).find(isPossible);
  };
  return nearest(low, high) ?? nearest(low, rest.length);
}

/** The maker’s order of a model, or undefined where it pins none. `order` is the recommended one. */
export function makersOrderOf(works: Works, order: readonly number[]): MakersOrder | undefined {
  const stacks = works.bike.model.order;
  if (!stacks) return undefined;
  const fits = stacks.flatMap((id) => works.at.get(`fit:${id}`) ?? []);
  const pins = fits.slice(1).map((fit, k) => [fits[k]!, fit] as const);
  const graph = digraph(works.graph.count, [...pairsOf(works.graph), ...pins]);
  const own = order.filter((node) => works.tasks[node]!.kind === 'fit');
  const told = {
    stacks,
    isSame: own.length === fits.length && own.every((node, k) => node === fits[k]),
    computed: own.map((node) => works.tasks[node]!.stackId!),
    computedCost: costOf(order, works.costs),
  };
  const cycle = findCycle(graph);
  const none = { ...told, tasks: [], isBest: false, conflicts: [] };
  if (cycle)
    return {
      ...none,
      cycle: cycle.map((node, k) => link(works, node, cycle[(k + 1) % cycle.length]!, pins)),
    };
  const kept = recommend(graph, works.costs, works.mayGo);
  if (kept)
    return {
      ...told,
      tasks: kept.order.map((node) => works.tasks[node]!.id),
      cost: kept.cost,
      isBest: kept.isBest,
      conflicts: [],
    };
  // The work at the bench is done before; what is left is the axles alone.
  const rest = works.tasks.flatMap((_, node) => (fits.includes(node) ? [] : [node]));
  const first = rest.filter((node) => works.tasks[node]!.kind === 'inspect' || works.tasks[node]!.kind === 'stand');
  const conflicts = faultsOf(works, [...first, ...fits]).filter(({ task }) => task.startsWith('fit:'));
  return { ...none, conflicts };
}

function link(
  works: Works,
  node: number,
  next: number,
  pins: readonly (readonly [number, number])[],
): NonNullable<MakersOrder['cycle']>[number] {
  const [task, after] = [works.tasks[node]!.id, works.tasks[next]!.id];
  const edge = works.edges.find((candidate) => candidate.before === task && candidate.after === after);
  const isPin = !edge && pins.some(([one, other]) => one === node && other === next);
  return { task, isPin, because: edge?.reasons.map((reason) => ({ after, reason })) ?? [] };
}
