/**
 * A precedence graph: nodes 0 to count − 1, and which must come before which.
 *
 * Orders by Kahn's method, smallest node first; a cycle as its shortest path (breadth first); the transitive reduction
 * from the closure held in bits. Legal orders are counted exactly where that is feasible: parts that no edge joins are
 * counted apart and shuffled (multinomial), parts that follow one another whole are multiplied, and what is left is
 * summed over its down-sets, each told by how far it has come along the chains of a chain cover (Dilworth; Kuhn's
 * matching). Where there are too many down-sets the count lies between two bounds: n! over the product of all down-set
 * or up-set sizes (Björner and Wachs; exact for a forest) below, the multinomial of the chain cover above. Textbook
 * methods; counts are whole numbers of any size.
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

/** The graph with every pair turned round. */
export function reversed(graph: Digraph): Digraph {
  return digraph(
    graph.count,
    pairsOf(graph).map(([before, after]) => [after, before] as const),
  );
}

/** The order that takes the smallest node whenever it has the choice; undefined where there is a cycle. */
export function topologicalOrder(graph: Digraph): number[] | undefined {
  const open = new Int32Array(graph.count);
  for (const list of graph.next) for (const after of list) open[after]!++;
  const ready = new SmallestFirst();
  for (let node = 0; node < graph.count; node++) if (open[node] === 0) ready.push(node);
  const order: number[] = [];
  for (let node = ready.pop(); node !== undefined; node = ready.pop()) {
    order.push(node);
    for (const after of graph.next[node]!) if (--open[after]! === 0) ready.push(after);
  }
  return order.length === graph.count ? order : undefined;
}

/** A binary heap of whole numbers. */
class SmallestFirst {
  private readonly heap: number[] = [];

  push(value: number): void {
    const { heap } = this;
    let at = heap.push(value) - 1;
    while (at > 0) {
      const up = (at - 1) >> 1;
      if (heap[up]! <= heap[at]!) break;
      [heap[up], heap[at]] = [heap[at]!, heap[up]!];
      at = up;
    }
  }

  pop(): number | undefined {
    const { heap } = this;
    const first = heap[0];
    const last = heap.pop();
    if (heap.length === 0 || last === undefined) return first;
    heap[0] = last;
    for (let at = 0; ; ) {
      const left = 2 * at + 1;
      let least = at;
      if (left < heap.length && heap[left]! < heap[least]!) least = left;
      if (left + 1 < heap.length && heap[left + 1]! < heap[least]!) least = left + 1;
      if (least === at) return first;
      [heap[least], heap[at]] = [heap[at]!, heap[least]!];
      at = least;
    }
  }
}

/** A shortest cycle, each node once, the smallest first; undefined where there is none. */
export function findCycle(graph: Digraph): number[] | undefined {
  const inside = cyclic(graph);
  let best: number[] | undefined;
  for (const start of inside) {
    const path = shortestPath(graph, start, start, inside);
    if (path && (!best || path.length - 1 < best.length)) best = path.slice(0, -1);
  }
  if (!best) return undefined;
  const at = best.indexOf(Math.min(...best));
  return [...best.slice(at), ...best.slice(0, at)];
}

/** Nodes that are left when all that lie on no cycle's way are taken away from both ends. */
function cyclic(graph: Digraph): Set<number> {
  const left = new Set(Array.from({ length: graph.count }, (_, node) => node));
  for (const side of [graph, reversed(graph)]) {
    const open = new Int32Array(graph.count);
    for (const node of left) for (const after of side.next[node]!) if (left.has(after)) open[after]!++;
    const ready = [...left].filter((node) => open[node] === 0);
    for (let node = ready.pop(); node !== undefined; node = ready.pop()) {
      left.delete(node);
      for (const after of side.next[node]!) if (left.has(after) && --open[after]! === 0) ready.push(after);
    }
  }
  return left;
}

/** A shortest way from one node to another along the edges, both named; from a node to itself round a cycle. */
export function shortestPath(
  graph: Digraph,
  from: number,
  to: number,
  within?: ReadonlySet<number>,
): number[] | undefined {
  const before = new Map<number, number>();
  let front = [from];
  while (front.length > 0) {
    const ahead: number[] = [];
    for (const node of front) {
      for (const after of graph.next[node]!) {
        if (within && !within.has(after)) continue;
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

  /** How many nodes must come after a node. */
  size(node: number): number {
    let sum = 0;
    for (let word = node * this.width; word < (node + 1) * this.width; word++) sum += ones(this.bits[word]!);
    return sum;
  }
}

function ones(word: number): number {
  let left = word - ((word >>> 1) & 0x55555555);
  left = (left & 0x33333333) + ((left >>> 2) & 0x33333333);
  return Math.imul((left + (left >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
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

/** How many legal orders a graph has. */
export type OrderCount =
  | { readonly isExact: true; readonly orders: bigint }
  | { readonly isExact: false; readonly atLeast: bigint; readonly atMost: bigint };

/** More down-sets than this are not summed over: the count would take longer than a person waits. */
export const MOST_DOWN_SETS = 60_000;
/** Above this size chains are taken as they come instead of matched. */
const MOST_NODES = 400;

/** A rule beyond the edges: whether a node may go when a set of others has gone. It must not depend on their order. */
export type MayGo = (node: number, isDone: (other: number) => boolean) => boolean;

/**
 * How many orders put every node after all it needs; 0 with a cycle. A rule beyond the edges is counted in, but leaves
 * only the sum over down-sets: where there are too many of them the bounds are those of the edges alone, and 0 below.
 */
export function countOrders(
  graph: Digraph,
  { most = MOST_DOWN_SETS, mayGo }: { readonly most?: number; readonly mayGo?: MayGo } = {},
): OrderCount {
  const order = topologicalOrder(graph);
  if (!order) return { isExact: true, orders: 0n };
  const closure = new Closure(graph, order);
  if (!mayGo) return countPart(closure, order, { left: most });
  if (order.length === 0) return { isExact: true, orders: 1n };
  const chains = chainCover(closure, order);
  const exact = countDownSets(closure, chains, { left: most }, mayGo);
  if (exact) return exact;
  const edges = bounds(closure, order, chains);
  return { isExact: false, atLeast: 0n, atMost: edges.isExact ? edges.orders : edges.atMost };
}

function countPart(closure: Closure, order: readonly number[], budget: { left: number }): OrderCount {
  if (order.length < 2) return { isExact: true, orders: 1n };
  const apart = components(closure, order);
  if (apart.length > 1) {
    const shuffles = multinomial(apart.map((part) => part.length));
    return times(
      shuffles,
      apart.map((part) => countPart(closure, part, budget)),
    );
  }
  const inRow = levels(closure, order);
  if (inRow.length > 1)
    return times(
      1n,
      inRow.map((part) => countPart(closure, part, budget)),
    );
  const chains = chainCover(closure, order);
  return countDownSets(closure, chains, budget) ?? bounds(closure, order, chains);
}

function times(factor: bigint, counts: readonly OrderCount[]): OrderCount {
  const product = (of: (count: OrderCount) => bigint): bigint => counts.reduce((so, count) => so * of(count), factor);
  if (counts.every((count) => count.isExact))
    return { isExact: true, orders: product((count) => (count.isExact ? count.orders : 0n)) };
  return {
    isExact: false,
    atLeast: product((count) => (count.isExact ? count.orders : count.atLeast)),
    atMost: product((count) => (count.isExact ? count.orders : count.atMost)),
  };
}

/** Parts that no edge joins, each in order. */
function components(closure: Closure, order: readonly number[]): number[][] {
  const parts: number[][] = [];
  const left = new Set(order);
  for (const start of order) {
    if (!left.delete(start)) continue;
    const part = new Set([start]);
    // A set grows while it is walked.
    for (const node of part) {
      for (const other of left) {
        if (!closure.has(node, other) && !closure.has(other, node)) continue;
        left.delete(other);
        part.add(other);
      }
    }
    parts.push(order.filter((node) => part.has(node)));
  }
  return parts;
}

/** Parts of which each comes whole before the next. */
function levels(closure: Closure, order: readonly number[]): number[][] {
  const parts: number[][] = [];
  let part: number[] = [];
  order.forEach((node, k) => {
    part.push(node);
    const later = order.slice(k + 1);
    if (later.every((other) => part.every((own) => closure.has(own, other)))) {
      parts.push(part);
      part = [];
    }
  });
  return parts;
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
  if (order.length > MOST_NODES) return greedyChains(closure, order);
  for (const node of order) match(node, new Set());
  return order
    .filter((node) => !leads.has(node))
    .map((first) => {
      const chain = [first];
      for (let at = follows.get(first); at !== undefined; at = follows.get(at)) chain.push(at);
      return chain;
    });
}

function greedyChains(closure: Closure, order: readonly number[]): number[][] {
  const chains: number[][] = [];
  for (const node of order) {
    const chain = chains.find((candidate) => closure.has(candidate.at(-1)!, node));
    if (chain) chain.push(node);
    else chains.push([node]);
  }
  return chains;
}

/** Sum over all down-sets, level by level; undefined where there are more than the budget allows. */
function countDownSets(
  closure: Closure,
  chains: readonly (readonly number[])[],
  budget: { left: number },
  mayGo?: MayGo,
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
      if (next.size > budget.left) return undefined;
    }
    budget.left -= next.size;
    level = next;
  }
  return { isExact: true, orders: [...level.values()][0] ?? 0n };
}

function bounds(closure: Closure, order: readonly number[], chains: readonly (readonly number[])[]): OrderCount {
  const all = factorial(order.length);
  const up = order.reduce(
    (product, node) => product * BigInt(order.filter((other) => closure.has(node, other)).length + 1),
    1n,
  );
  const down = order.reduce(
    (product, node) => product * BigInt(order.filter((other) => closure.has(other, node)).length + 1),
    1n,
  );
  const ceiling = (a: bigint, b: bigint): bigint => (a + b - 1n) / b;
  const atLeast = ceiling(all, up < down ? up : down);
  return {
    isExact: false,
    atLeast: atLeast > 1n ? atLeast : 1n,
    atMost: multinomial(chains.map((chain) => chain.length)),
  };
}

/** Ways to shuffle rows of these lengths into one, each keeping its own order. */
export function multinomial(sizes: readonly number[]): bigint {
  const whole = sizes.reduce((sum, size) => sum + size, 0);
  return sizes.reduce((left, size) => left / factorial(size), factorial(whole));
}

function factorial(n: number): bigint {
  let product = 1n;
  for (let k = 2n; k <= BigInt(n); k++) product *= k;
  return product;
}
