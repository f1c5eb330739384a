/**
 * The build order of a bike, ours or the maker's: from its analysis to tasks, edges, their order, and every step; and
 * what each variant of a model changes in it.
 *
 * Edges by `precedence.ts`, the rule beyond them by `possible.ts`, the order by `search.ts`, steps by `steps.ts`. Every
 * list of steps there is (a pivot's, taking apart, the torque list, the sheet) is a view of this one. Where no order is
 * possible the plan does as much as can be done and names what is stuck and why. A task has moved where it is none of the
 * longest run of tasks that stand in the same order in both (longest rising row, patience sorting): as few as can be have
 * to be named. Pure and deterministic.
 */
import { analyse } from '../analyse.ts';
import type { LinkageModel } from '../model/schema.ts';
import type { Analysis } from '../types.ts';
import {
  type OrderCount,
  countOrders,
  digraph,
  findCycle,
  pairsOf,
  topologicalOrder,
  transitiveReduction,
} from './graph.ts';
import { type Works, worksOf } from './possible.ts';
import { edgeReasons, faultsOf, isTelling, makersOrderOf, senseReasons, tellAt } from './reasons.ts';
import { costOf, recommend } from './search.ts';
import { drivesOf, handsOf } from './steps.ts';
import type { Because, Follow, Plan, PlanCount, PlanEdge, PlanTask, PlanStep, VariantOrder } from './types.ts';

/**
 * The plan of an analysis; `follow` says whose order, and the plan whose it could follow. About 1 s a bike, the count
 * of orders included. Never throws: where no order is possible the plan says so.
 */
export function planOf(analysis: Analysis, { follow = 'ours' }: { readonly follow?: Follow } = {}): Plan {
  const works = worksOf(analysis);
  const { tasks, graph } = works;
  const best = topologicalOrder(graph) && recommend(graph, works.costs, works.mayGo);
  const computed = best?.order ?? asFarAsItGoes(works);
  const makersOrder = makersOrderOf(works, computed);
  const follows: Follow = follow === 'makers' && makersOrder?.cost ? 'makers' : 'ours';
  const order = follows === 'ours' ? computed : makersOrder!.tasks.map((id) => works.at.get(id)!);
  // Where the cheapest next task led into an end, the plain order of the model may still go through.
  const stuck = best || follows === 'makers' ? [] : faultsOf(works, order);
  const isPossible = stuck.length === 0;
  const cycle = findCycle(graph)?.map((node) => tasks[node]!.id);
  const why = reasonsOf(works, order);
  const steps = withReasons(
    handsOf(
      works.sense,
      order.map((node) => tasks[node]!),
    ),
    works,
    why,
  );
  return {
    analysis,
    ...(analysis.variant === undefined ? {} : { variant: analysis.variant }),
    follows,
    tasks: order.map((node) => planTask(works, node, why.get(node)!, steps)),
    edges: edgesOf(works, cycle !== undefined),
    blocks: works.blocks,
    stuck,
    ...(cycle ? { cycle } : {}),
    cost: costOf(order, works.costs),
    isBest: (follows === 'ours' ? best?.isBest : makersOrder?.isBest) ?? false,
    orders: isPossible ? countAtBike(works) : inWords({ isExact: true, orders: 0n }),
    ...(makersOrder ? { makersOrder } : {}),
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
  return withReasons(
    handsOf(
      works.sense,
      order.map((node) => works.tasks[node]!),
    ),
    works,
    reasonsOf(works, order),
  );
}

function reasonsOf(works: Works, order: readonly number[]): Map<number, readonly Because[]> {
  return new Map(
    order.map(
      (node) => [node, [...edgeReasons(works, works.tasks[node]!.id), ...senseReasons(works, order, node)]] as const,
    ),
  );
}

/** Every task that can be done, in the tasks' own order, and then those that cannot. */
function asFarAsItGoes({ tasks, graph, mayGo }: Works): number[] {
  const open = new Int32Array(graph.count);
  for (const list of graph.next) for (const after of list) open[after]!++;
  const done = new Set<number>();
  for (let again = true; again; ) {
    again = false;
    for (let node = 0; node < tasks.length; node++) {
      if (done.has(node) || open[node]! > 0 || !mayGo(node, (other) => done.has(other))) continue;
      done.add(node);
      for (const after of graph.next[node]!) open[after]!--;
      again = true;
    }
  }
  return [...done, ...tasks.flatMap((_, node) => (done.has(node) ? [] : [node]))];
}

function withReasons(
  steps: readonly PlanStep[],
  works: Works,
  why: ReadonlyMap<number, readonly Because[]>,
): PlanStep[] {
  const byTask = new Map<string, PlanStep[]>();
  for (const step of steps) byTask.set(step.taskId, [...(byTask.get(step.taskId) ?? []), step]);
  return [...byTask].flatMap(([task, list]) => tellAt(list, why.get(works.at.get(task)!)!));
}

function planTask(works: Works, node: number, because: readonly Because[], steps: readonly PlanStep[]): PlanTask {
  const { bike, tasks } = works;
  const { id, kind, stackId, pivotId, begins, brings } = tasks[node]!;
  const own = steps.filter((step) => step.taskId === id);
  const comes = own
    .filter((step) => step.kind === 'offer-member' || step.kind === 'shock')
    .flatMap(({ units }) => units);
  const joined = kind === 'tighten' && stackId !== undefined ? bike.byStack.get(stackId) : undefined;
  return {
    id,
    kind,
    ...(stackId === undefined ? {} : { stackId }),
    ...(pivotId === undefined ? {} : { pivotId }),
    ...(begins === undefined ? {} : { side: begins }),
    tools: joined ? drivesOf(bike, joined, new Set(own[0]?.on ?? [])) : [],
    brings: [...comes, ...brings],
    because: because.filter(isTelling),
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

/** Orders of all tasks but those at the bench, which can be done in any order before the rest, and the first and last. */
function countAtBike({ tasks, graph, mayGo }: Works): PlanCount {
  const part = tasks.flatMap(({ kind }, node) =>
    kind === 'inspect' || kind === 'stand' || kind === 'hand-over' ? [] : [node],
  );
  const place = new Map(part.map((node, k) => [node, k]));
  const pairs = pairsOf(graph).flatMap(([before, after]) =>
    place.has(before) && place.has(after) ? [[place.get(before)!, place.get(after)!] as const] : [],
  );
  const count = countOrders(digraph(part.length, pairs), {
    mayGo: (k, isDone) => mayGo(part[k]!, (other) => place.has(other) && isDone(place.get(other)!)),
  });
  // One possible order is known, so that a lower bound of none is too modest.
  return inWords(count.isExact || count.atLeast > 0n ? count : { ...count, atLeast: 1n });
}

function inWords(count: OrderCount): PlanCount {
  if (count.isExact) return { isExact: true, orders: String(count.orders) };
  return { isExact: false, atLeast: String(count.atLeast), atMost: String(count.atMost) };
}

/**
 * The base build's order first, then each variant's beside it; one entry without variants. A plan each, about 1 s. The
 * model must have been read without problems.
 */
export function compareVariants(model: LinkageModel): VariantOrder[] {
  const base = planOf(analyse(model));
  const variants = (model.variants ?? []).map(({ id }) => beside(base, planOf(analyse(model, { variant: id }))));
  return [{ plan: base, moved: [], gained: [], lost: [], changed: [] }, ...variants];
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
      const what = differences(before.get(task.id)!.task, task);
      return what.length === 0 ? [] : [{ task: task.id, what }];
    }),
  };
}

function differences(one: PlanTask, other: PlanTask): ('side' | 'tools')[] {
  const tools = ({ tools: list }: PlanTask): string =>
    list.map(({ role, tool, side }) => `${role} ${tool.tool} ${tool.size_mm} ${side}`).join();
  return [
    ...(one.side === other.side ? [] : (['side'] as const)),
    ...(tools(one) === tools(other) ? [] : (['tools'] as const)),
  ];
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
