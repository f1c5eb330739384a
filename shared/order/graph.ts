/**
 * A precedence graph: nodes 0 to count − 1, and which must come before which.
 *
 * Orders by Kahn's method, smallest node first; a cycle as its shortest path (breadth first); the transitive reduction
 * from the closure held in bits.
 */
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
export class Closure {
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

/** A rule beyond the edges: whether a node may go when a set of others has gone. It must not depend on their order. */
export type MayGo = (node: number, isDone: (other: number) => boolean) => boolean;
