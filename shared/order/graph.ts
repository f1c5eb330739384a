/**
 * A precedence graph: nodes 0 to count − 1, and which must come before which.
 *
 * Orders by Kahn's method, smallest node first; a cycle as its shortest path (breadth first); the transitive reduction
 * from the closure held in bits. Possible orders are counted exactly where that is feasible: summed over the down-sets,
 * each told by how far it has come along the chains of a chain cover (Dilworth; Kuhn's matching). Where there are too
 * many down-sets the count lies between two bounds: n! over the product of all down-set or up-set sizes (Björner and
 * Wachs; exact for a forest) below, the multinomial of the chain cover above. Textbook methods; counts are whole
 * numbers of any size.
 *
 * The best order of the tasks: few changes of side and tool, little waiting threadlocker, what is hard to reach early,
 * what will be opened again late.
 *
 * Work at the bench comes first: it needs nothing of the bike, and going back to it would be one more change of place.
 * The rest is a shortest path over the sets of tasks done, told apart by where one stands and what is in the hand;
 * costs add up task by task. Equal costs are settled by the tasks' own order. Where the sets grow too many, only the
 * cheapest are kept at each length (a beam, of one where there are more tasks than any bike has) and the result is no
 * longer known to be the best. Deterministic.
 */
import { ORDER_COSTS } from './limits.ts';

/** Nodes and, for each, those that must come after it, in rising order, each once. */
export interface Digraph {
  readonly count: number;
  readonly next: readonly (readonly number[])[];
}

/** The graph of some pairs `[before, after]`; a pair of a node with itself is a cycle and kept. */
export function digraph(count: number, pairs: Iterable<readonly [before: number, after: number]>): Digraph {
  const next = Array.from({ length: count }, () => new Set<number>());
  for (const [before, after] of pairs) next[before]!.add(after);
  return { count, next: next.map((set) => [...set].sort((a, b) => a - b)) };
}

/** All pairs of a graph, in order. */
export function pairsOf(graph: Digraph): (readonly [before: number, after: number])[] {
  return graph.next.flatMap((list, before) => list.map((after) => [before, after] as const));
}

/** The graph with every pair turned round: for each node those it needs. */
export function reversed(graph: Digraph): Digraph {
  const pairs = pairsOf(graph).map(([before, after]) => [after, before] as const);
  return digraph(graph.count, pairs);
}

/** Nodes taken pass by pass in their own order, until a pass finds none ready with those taken so far. */
export function sweep(count: number, isReady: (node: number, taken: ReadonlySet<number>) => boolean): Set<number> {
  const taken = new Set<number>();
  for (let size = -1; size < taken.size; ) {
    size = taken.size;
    for (let node = 0; node < count; node++) if (!taken.has(node) && isReady(node, taken)) taken.add(node);
  }
  return taken;
}

/** The graph and the rule of some nodes alone, numbered as they are listed; `isRestDone` says how the others stand. */
export function partOf(
  graph: Digraph,
  mayGo: MayGo,
  nodes: readonly number[],
  isRestDone: boolean,
): { readonly graph: Digraph; readonly mayGo: MayGo } {
  const place = new Map(nodes.map((node, k) => [node, k]));
  const pairs = pairsOf(graph).flatMap(([before, after]): [number, number][] =>
    place.has(before) && place.has(after) ? [[place.get(before)!, place.get(after)!]] : [],
  );
  return {
    graph: digraph(nodes.length, pairs),
    mayGo: (k, isDone) => mayGo(nodes[k]!, (node) => (place.has(node) ? isDone(place.get(node)!) : isRestDone)),
  };
}

/** The order that takes the smallest node whenever it has the choice; undefined where there is a cycle. */
export function topologicalOrder(graph: Digraph): number[] | undefined {
  const open = new Int32Array(graph.count);
  for (const list of graph.next) for (const after of list) open[after]!++;
  const order: number[] = [];
  const taken = new Uint8Array(graph.count);
  let from = 0;
  while (order.length < graph.count) {
    let node = from;
    while (node < graph.count && (taken[node] === 1 || open[node]! > 0)) node++;
    if (node === graph.count) return undefined;
    taken[node] = 1;
    order.push(node);
    from = node + 1;
    for (const after of graph.next[node]!) if (--open[after]! === 0) from = Math.min(from, after);
  }
  return order;
}

/** A shortest cycle, each node once, the smallest first; undefined where there is none. */
export function findCycle(graph: Digraph): number[] | undefined {
  if (topologicalOrder(graph)) return undefined;
  let best: number[] | undefined;
  for (let start = 0; start < graph.count; start++) {
    const path = shortestPath(graph, start, start);
    if (path && (!best || path.length - 1 < best.length)) best = path.slice(0, -1);
  }
  if (!best) return undefined;
  const at = best.indexOf(Math.min(...best));
  return [...best.slice(at), ...best.slice(0, at)];
}

/** A shortest way from one node to another along the edges, both named; from a node to itself round a cycle. */
export function shortestPath(graph: Digraph, from: number, to: number): number[] | undefined {
  const before = new Map<number, number>();
  let front = [from];
  while (front.length > 0) {
    const ahead: number[] = [];
    for (const node of front) {
      for (const after of graph.next[node]!) {
        if (after === to) {
          const path = [to, node];
          for (let at = node; at !== from; path.push(at)) at = before.get(at)!;
          return path.reverse();
        }
        if (after === from || before.has(after)) continue;
        before.set(after, node);
        ahead.push(after);
      }
    }
    front = ahead;
  }
  return undefined;
}

/** Rows of bits: which nodes come after each, however far. The graph must have no cycle. */
class Closure {
  readonly count: number;
  private readonly width: number;
  private readonly bits: Uint32Array;

  constructor(graph: Digraph, order: readonly number[]) {
    this.count = graph.count;
    this.width = Math.ceil(graph.count / 32);
    this.bits = new Uint32Array(this.width * graph.count);
    for (const node of [...order].reverse()) for (const after of graph.next[node]!) this.absorb(node, after);
  }

  private absorb(node: number, after: number): void {
    const [own, other] = [node * this.width, after * this.width];
    for (let word = 0; word < this.width; word++) this.bits[own + word]! |= this.bits[other + word]!;
    this.bits[own + (after >> 5)]! |= 1 << (after & 31);
  }

  /** Whether `after` must come after `before`. */
  has(before: number, after: number): boolean {
    return (this.bits[before * this.width + (after >> 5)]! & (1 << (after & 31))) !== 0;
  }
}

/** The closure of a graph; undefined where there is a cycle. */
export function closureOf(graph: Digraph): Closure | undefined {
  const order = topologicalOrder(graph);
  return order && new Closure(graph, order);
}

/** The fewest edges that ask for the same orders: no edge is left that others imply. The graph must have no cycle. */
export function transitiveReduction(graph: Digraph): Digraph {
  const closure = closureOf(graph);
  if (!closure) throw new Error('graph: transitiveReduction: met a graph with a cycle, allowed: one without');
  return {
    count: graph.count,
    next: graph.next.map((list) =>
      list.filter((after) => !list.some((other) => other !== after && closure.has(other, after))),
    ),
  };
}

/** How many possible orders a graph has, exactly or between two bounds. */
export type OrderCount<Count = bigint> =
  | { readonly isExact: true; readonly orders: Count }
  | { readonly isExact: false; readonly atLeast: Count; readonly atMost: Count };

/** More down-sets than this are not summed over: the count would take longer than a person waits. */
const MOST_DOWN_SETS = 60_000;

/** A rule beyond the edges: whether a node may go when a set of others has gone. It must not depend on their order. */
export type MayGo = (node: number, isDone: (other: number) => boolean) => boolean;

/**
 * How many orders put every node after all it needs and heed the rule beyond the edges; 0 with a cycle. Summed over all
 * down-sets; where there are too many of them the bounds are those of the edges alone, and 0 below with a rule.
 */
export function countOrders(
  graph: Digraph,
  { most = MOST_DOWN_SETS, mayGo }: { readonly most?: number; readonly mayGo?: MayGo } = {},
): OrderCount {
  const order = topologicalOrder(graph);
  if (!order) return { isExact: true, orders: 0n };
  if (order.length === 0) return { isExact: true, orders: 1n };
  const closure = new Closure(graph, order);
  const chains = chainCover(closure, order);
  return countDownSets(closure, chains, most, mayGo) ?? bounds(closure, order, chains, mayGo !== undefined);
}

/** As few chains as hold all nodes: a largest matching of nodes with a later one each. */
function chainCover(closure: Closure, order: readonly number[]): number[][] {
  const follows = new Map<number, number>();
  const leads = new Map<number, number>();
  const match = (node: number, seen: Set<number>): boolean => {
    for (const other of order) {
      if (!closure.has(node, other) || seen.has(other)) continue;
      seen.add(other);
      const rival = leads.get(other);
      if (rival === undefined || match(rival, seen)) {
        leads.set(other, node);
        follows.set(node, other);
        return true;
      }
    }
    return false;
  };
  for (const node of order) match(node, new Set());
  return order
    .filter((node) => !leads.has(node))
    .map((first) => {
      const chain = [first];
      for (let at = follows.get(first); at !== undefined; at = follows.get(at)) chain.push(at);
      return chain;
    });
}

/** Sum over all down-sets, level by level; undefined where there are more than the budget allows. */
function countDownSets(
  closure: Closure,
  chains: readonly (readonly number[])[],
  most: number,
  mayGo: MayGo | undefined,
): OrderCount | undefined {
  const radix = chains.map((_, k) => chains.slice(0, k).reduce((size, chain) => size * (chain.length + 1), 1));
  const whole = radix.at(-1)! * (chains.at(-1)!.length + 1);
  if (whole > Number.MAX_SAFE_INTEGER) return undefined;
  // How far every chain must have come before a node may go.
  const needs = new Map(
    chains
      .flat()
      .map((node) => [node, chains.map((chain) => chain.filter((other) => closure.has(other, node)).length)] as const),
  );
  const total = chains.reduce((sum, chain) => sum + chain.length, 0);
  const placeOf = new Map(chains.flatMap((chain, k) => chain.map((node, at) => [node, [k, at] as const] as const)));
  let left = most;
  let level = new Map<number, bigint>([[0, 1n]]);
  for (let done = 0; done < total; done++) {
    const next = new Map<number, bigint>();
    for (const [key, ways] of level) {
      const at = chains.map((chain, k) => Math.floor(key / radix[k]!) % (chain.length + 1));
      const isDone = (node: number): boolean => {
        const [chain, place] = placeOf.get(node)!;
        return at[chain]! > place;
      };
      chains.forEach((chain, k) => {
        const node = chain[at[k]!];
        if (node === undefined || needs.get(node)!.some((need, other) => at[other]! < need)) return;
        if (mayGo && !mayGo(node, isDone)) return;
        const there = key + radix[k]!;
        next.set(there, (next.get(there) ?? 0n) + ways);
      });
      if (next.size > left) return undefined;
    }
    left -= next.size;
    level = next;
  }
  return { isExact: true, orders: [...level.values()][0] ?? 0n };
}

function bounds(
  closure: Closure,
  order: readonly number[],
  chains: readonly (readonly number[])[],
  isRuled: boolean,
): OrderCount {
  const factorial = (n: number): bigint => (n < 2 ? 1n : BigInt(n) * factorial(n - 1));
  const product = (isOne: (node: number, other: number) => boolean): bigint =>
    order.reduce((so, node) => so * BigInt(order.filter((other) => isOne(node, other)).length + 1), 1n);
  const all = factorial(order.length);
  const [up, down] = [product((a, b) => closure.has(a, b)), product((a, b) => closure.has(b, a))];
  const least = up < down ? up : down;
  return {
    isExact: false,
    atLeast: isRuled ? 0n : (all + least - 1n) / least,
    atMost: chains.reduce((left, chain) => left / factorial(chain.length), all),
  };
}

/** What a task costs depends on. */
export interface Work {
  /** Where one stands as it begins and ends; none where it does not matter. */
  readonly begins?: string;
  readonly ends?: string;
  readonly isBench: boolean;
  /** Names of the tools it takes in hand. */
  readonly tools: readonly string[];
  /** Which of an axle's two tasks it is. */
  readonly part?: 'fit' | 'tighten';
  readonly isThreadlocked?: boolean;
  readonly isFittedForNow?: boolean;
  /** Things that would cover it later. */
  readonly covered: number;
  /**
   * Whether members that stand together have to be moved apart for it, when these tasks are done; never where left out.
   */
  readonly isSwung?: (isDone: (other: number) => boolean) => boolean;
}

/** An order and what it costs. */
export interface Recommendation {
  readonly order: readonly number[];
  readonly cost: Cost;
  /** No possible order costs less. */
  readonly isBest: boolean;
}

/** What an order costs, by kind, and all together. */
export interface Cost {
  readonly sideChanges: number;
  readonly toolChanges: number;
  /** Tasks done while threadlocker on a started thread waits, summed over the threads. */
  readonly waits: number;
  /** Tasks done on the bike before each axle, times what would cover it. */
  readonly lateness: number;
  /** Tasks at axles done after one that will be opened again. */
  readonly reopened: number;
  /** Tasks for which members that met already are moved apart again. */
  readonly swings: number;
  readonly total: number;
}

/** What one of each kind weighs. */
const WEIGHTS: Readonly<Record<Exclude<keyof Cost, 'total'>, number>> = {
  sideChanges: ORDER_COSTS.side,
  toolChanges: ORDER_COSTS.tool,
  waits: ORDER_COSTS.wait,
  lateness: ORDER_COSTS.late,
  reopened: ORDER_COSTS.reopen,
  swings: ORDER_COSTS.swing,
};
const COST_KINDS = Object.keys(WEIGHTS) as (keyof typeof WEIGHTS)[];

/** States kept at each length before the search becomes a beam. */
const WIDEST = 3000;
/** From so many tasks on only the cheapest is kept. */
const MANY = 160;

/** Where a partial order has brought one. */
interface At {
  readonly place: string | undefined;
  readonly tools: readonly string[];
  /** Tasks done on the bike. */
  readonly done: number;
  /** Axles that are in but not tight and whose threadlocker waits. */
  readonly wet: number;
  /** Temporary axles that are tight. */
  readonly fitted_for_now: number;
}

const START: At = { place: undefined, tools: [], done: 0, wet: 0, fitted_for_now: 0 };

function step(at: At, work: Work, isDone: (other: number) => boolean): { readonly at: At; readonly cost: Cost } {
  const { begins, ends, tools, part, isThreadlocked = false } = work;
  const closes = part === 'tighten' && isThreadlocked ? 1 : 0;
  const counts = {
    sideChanges:
      Number(begins !== undefined && at.place !== undefined && begins !== at.place) +
      Number(begins !== undefined && ends !== undefined && begins !== ends),
    toolChanges: tools.filter((tool) => !at.tools.includes(tool)).length,
    waits: work.isBench ? 0 : at.wet - closes,
    lateness: part ? work.covered * at.done : 0,
    reopened: part ? at.fitted_for_now : 0,
    swings: work.isSwung?.(isDone) === true ? 1 : 0,
  };
  return {
    at: {
      place: ends ?? begins ?? at.place,
      tools: tools.length > 0 ? tools : at.tools,
      done: at.done + (work.isBench ? 0 : 1),
      wet: at.wet + (part === 'fit' && isThreadlocked ? 1 : 0) - closes,
      fitted_for_now: at.fitted_for_now + (part === 'tighten' && work.isFittedForNow === true ? 1 : 0),
    },
    cost: { ...counts, total: COST_KINDS.reduce((sum, kind) => sum + WEIGHTS[kind] * counts[kind], 0) },
  };
}

/** What an order costs. */
export function costOf(order: readonly number[], works: readonly Work[]): Cost {
  let at = START;
  const sum = { sideChanges: 0, toolChanges: 0, waits: 0, lateness: 0, reopened: 0, swings: 0, total: 0 };
  const done = new Set<number>();
  for (const task of order) {
    const next = step(at, works[task]!, (other) => done.has(other));
    done.add(task);
    at = next.at;
    for (const kind of [...COST_KINDS, 'total'] as const) sum[kind] += next.cost[kind];
  }
  return sum;
}

interface State {
  readonly at: At;
  readonly total: number;
  readonly done: Uint8Array;
  /** How many of its needs each task still waits for. */
  readonly open: Int16Array;
  readonly before?: State;
  readonly task: number;
  /** Place among its peers by the tasks taken so far. */
  rank: number;
}

/**
 * The best order of all tasks of a graph without a cycle; undefined where the rule beyond the edges lets none come to
 * its end.
 */
export function recommend(graph: Digraph, works: readonly Work[], mayGo: MayGo): Recommendation | undefined {
  const needs = reversed(graph).next;
  // Work at the bench with all it needs, where all of that is free or at the bench.
  const bench = sweep(
    graph.count,
    (task, taken) =>
      needs[task]!.every((need) => taken.has(need)) &&
      (works[task]!.isBench ||
        (works[task]!.begins === undefined && graph.next[task]!.some((after) => works[after]!.isBench))),
  );
  const first: State = {
    at: START,
    total: 0,
    done: new Uint8Array(graph.count),
    open: Int16Array.from(needs, (list) => list.length),
    task: -1,
    rank: 0,
  };
  let level: State[] = [[...bench].reduce((state, task) => go(graph, works, state, task), first)];
  const widest = graph.count > MANY ? 1 : WIDEST;
  let isBest = true;
  for (let length = bench.size; length < graph.count; length++) {
    const next = new Map<string, State>();
    for (const state of level) {
      for (let task = 0; task < graph.count; task++) {
        if (state.done[task] || state.open[task] !== 0 || !mayGo(task, (other) => state.done[other] === 1)) continue;
        const reached = go(graph, works, state, task);
        const key = `${reached.done.join('')} ${reached.at.place ?? ''} ${reached.at.tools.join()}`;
        const rival = next.get(key);
        // States of a level come in rank order, so that an equal later one never goes before.
        if (!rival || reached.total < rival.total) next.set(key, reached);
      }
    }
    level = ranked([...next.values()]);
    if (level.length > widest) {
      isBest = false;
      level = ranked(level.sort((one, other) => one.total - other.total || one.rank - other.rank).slice(0, widest));
    }
  }
  if (level.length === 0) return undefined;
  const order: number[] = [];
  const best = level.reduce((least, state) => (least.total <= state.total ? least : state));
  for (let at: State | undefined = best; at && at.task >= 0; at = at.before) order.unshift(at.task);
  return { order, cost: costOf(order, works), isBest };
}

function go(graph: Digraph, works: readonly Work[], state: State, task: number): State {
  const { at, cost } = step(state.at, works[task]!, (other) => state.done[other] === 1);
  const done = Uint8Array.from(state.done);
  const open = Int16Array.from(state.open);
  done[task] = 1;
  for (const after of graph.next[task]!) open[after]!--;
  return { at, total: state.total + cost.total, done, open, before: state, task, rank: 0 };
}

/** In the order of their trails: by the rank of what they came from, then by the task taken last. */
function ranked(states: State[]): State[] {
  states.sort((one, other) => (one.before?.rank ?? 0) - (other.before?.rank ?? 0) || one.task - other.task);
  states.forEach((state, k) => (state.rank = k));
  return states;
}
