/**
 * A precedence graph: nodes 0 to count − 1, and which must come before which.
 *
 * Orders by Kahn's method, smallest node first; a cycle as its shortest path (breadth first); the transitive reduction
 * from the closure held in bits.
 *
 * How many possible orders a precedence graph has, exactly where that is feasible, else between two bounds.
 *
 * Groups that have nothing to do with one another are counted apart and merged: as many ways as their places can be
 * shared out. Where all of one group comes before all of the rest the two counts multiply. So every forest is counted
 * exactly, and so is what is built of such groups. What is left is summed over its down-sets, each told by how far it
 * has come along the chains of a chain cover (Dilworth; Kuhn's matching). Where there are too many of them, the count
 * lies between two bounds: n! over the product of all down-set or up-set sizes (Björner and Wachs) below, the
 * multinomial of the chain cover above.
 *
 * A rule beyond the edges says for a node, by what of some few others is done, whether it may go. Where what it says
 * comes to the same as edges it is counted as edges. Where not, the orders that keep those few in the order of one known
 * to be possible are all possible: the bound below is theirs. Textbook methods; counts are whole numbers of any size.
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

/** A rule beyond the edges: whether a node may go when a set of others has gone. It must not depend on their order. */
export type MayGo = (node: number, isDone: (other: number) => boolean) => boolean;

/** How many possible orders a graph has, exactly or between two bounds. */
export type OrderCount<Count = bigint> =
  | { readonly isExact: true; readonly orders: Count }
  | { readonly isExact: false; readonly atLeast: Count; readonly atMost: Count };

/** More down-sets than this are not summed over: the count would take longer than a person waits. */
const MOST_DOWN_SETS = 60_000;
/** A rule that asks about more others than this is not turned into edges. */
const MOST_ASKED = 8;

/** A rule with the others that it asks about for each node, and an order that heeds it. */
export interface Rule {
  readonly mayGo: MayGo;
  readonly asks: (node: number) => readonly number[];
  readonly known?: readonly number[];
}

/** How many orders put every node after all it needs and heed the rule beyond the edges; 0 with a cycle. */
export function countOrders(
  graph: Digraph,
  { most = MOST_DOWN_SETS, rule }: { readonly most?: number; readonly rule?: Rule } = {},
): OrderCount {
  const plain = rule ? ruledOut(graph, rule) : { graph, ruled: new Set<number>() };
  const closure = closureOf(plain.graph);
  if (!closure) return { isExact: true, orders: 0n };
  const counter = new Counter(plain.graph, closure, most, plain.ruled, rule);
  const { least, greatest } = counter.count([...graph.next.keys()], new Set());
  return least === greatest ? { isExact: true, orders: least } : { isExact: false, atLeast: least, atMost: greatest };
}

/**
 * The graph with edges in place of the rule wherever they say the same, and the nodes for which none do. First what a
 * node can in no order go without: with it left out, nothing that may ever be done lets the node go.
 */
function ruledOut(
  graph: Digraph,
  { mayGo, asks }: Rule,
): { readonly graph: Digraph; readonly ruled: ReadonlySet<number> } {
  const nodes = [...graph.next.keys()];
  const asked = nodes.map((node) => asks(node).filter((other) => other !== node));
  const isShort = (node: number): boolean => asked[node]!.length <= MOST_ASKED;
  /** For each set of what a node asks about, a bit each, whether it may go. */
  const answers = nodes.map((node) => {
    const others = asked[node]!;
    if (!isShort(node)) return [];
    return Array.from({ length: 2 ** others.length }, (_, set) =>
      mayGo(node, (other) => (set & (1 << others.indexOf(other))) !== 0 && others.includes(other)),
    );
  });
  const mayEver = answers.map((list) => list.map((_, set) => list.some((goes, less) => goes && (less & set) === less)));
  const before = nodes.map((): number[] => []);
  for (const [one, other] of pairsOf(graph)) before[other]!.push(one);
  const pairs = [...pairsOf(graph)];
  for (const without of new Set(asked.flat())) {
    const reached = sweep(graph.count, (node, taken) => {
      if (node === without || !before[node]!.every((need) => taken.has(need))) return false;
      const set = asked[node]!.reduce((sum, other, k) => sum + (taken.has(other) ? 1 << k : 0), 0);
      return !isShort(node) || mayEver[node]![set]!;
    });
    for (const node of nodes) if (node !== without && !reached.has(node)) pairs.push([without, node]);
  }
  const ruled = new Set(nodes.filter((node) => !isShort(node)));
  const closure = closureOf(digraph(graph.count, pairs));
  if (!closure) return { graph: digraph(graph.count, pairs), ruled };
  for (const node of nodes.filter(isShort)) {
    const others = asked[node]!;
    // Sets that can be all that is done of them when the node's turn comes.
    const sets = answers[node]!.flatMap((goes, set) => {
      const isIn = (k: number): boolean => (set & (1 << k)) !== 0;
      const isClosed = others.every(
        (other, k) =>
          (isIn(k) ? !closure.has(node, other) : !closure.has(other, node)) &&
          others.every((earlier, at) => !isIn(k) || isIn(at) || !closure.has(earlier, other)),
      );
      return isClosed ? [{ goes, set }] : [];
    });
    const open = sets.filter(({ goes }) => goes);
    const always = open.reduce((all, { set }) => all & set, 2 ** others.length - 1);
    const ever = open.reduce((any, { set }) => any | set, 0);
    if (open.length === 0 || sets.some(({ goes, set }) => goes !== ((set & always) === always && (set & ever) === set)))
      ruled.add(node);
    else
      others.forEach((other, k) => {
        if (always & (1 << k)) pairs.push([other, node]);
        else if (!(ever & (1 << k))) pairs.push([node, other]);
      });
  }
  return { graph: digraph(graph.count, pairs), ruled };
}

/** A count, or what it lies between. */
interface Between {
  readonly least: bigint;
  readonly greatest: bigint;
}

const ONE: Between = { least: 1n, greatest: 1n };

class Counter {
  private readonly graph: Digraph;
  private readonly closure: Closure;
  private readonly most: number;
  private readonly ruled: ReadonlySet<number>;
  private readonly rule: Rule | undefined;

  constructor(graph: Digraph, closure: Closure, most: number, ruled: ReadonlySet<number>, rule: Rule | undefined) {
    [this.graph, this.closure, this.most, this.ruled, this.rule] = [graph, closure, most, ruled, rule];
  }

  /** Orders of some nodes, when these others are done and no more. */
  count(nodes: readonly number[], done: ReadonlySet<number>): Between {
    if (nodes.length < 2 && !nodes.some((node) => this.ruled.has(node))) return ONE;
    const apart = this.apart(nodes);
    if (apart.length > 1) {
      const parts = apart.map((part) => this.count(part, done));
      const shared = apart.reduce((ways, part) => ways / factorial(part.length), factorial(nodes.length));
      return product([...parts, { least: shared, greatest: shared }]);
    }
    const after = new Set(done);
    const row = this.inRow(nodes);
    if (row.length > 1)
      return product(
        row.map((part) => {
          const one = this.count(part, after);
          for (const node of part) after.add(node);
          return one;
        }),
      );
    return this.summed(nodes, done);
  }

  /** Groups that no edge and no rule ties to one another. */
  private apart(nodes: readonly number[]): number[][] {
    const group = new Map(nodes.map((node) => [node, node]));
    const of = (node: number): number => {
      let at = node;
      while (group.get(at) !== at) at = group.get(at)!;
      group.set(node, at);
      return at;
    };
    for (const node of nodes)
      for (const other of [...this.graph.next[node]!, ...this.askedBy(node)])
        if (group.has(other)) group.set(of(other), of(node));
    const groups = new Map<number, number[]>();
    for (const node of nodes) groups.set(of(node), [...(groups.get(of(node)) ?? []), node]);
    return [...groups.values()];
  }

  private askedBy(node: number): readonly number[] {
    return this.ruled.has(node) ? this.rule!.asks(node) : [];
  }

  /** Groups of which each comes as a whole before the next. */
  private inRow(nodes: readonly number[]): number[][] {
    const { closure } = this;
    const before = new Map(
      nodes.map((node) => [node, nodes.reduce((sum, other) => sum + (closure.has(other, node) ? 1 : 0), 0)]),
    );
    const sorted = [...nodes].sort((one, other) => before.get(one)! - before.get(other)! || one - other);
    const groups: number[][] = [];
    let begun = 0;
    // The least that all of the first so many come before.
    let common = new Set(sorted);
    for (const [k, node] of sorted.entries()) {
      common = new Set([...common].filter((other) => closure.has(node, other)));
      if (common.size < sorted.length - k - 1) continue;
      groups.push(sorted.slice(begun, k + 1));
      begun = k + 1;
      common = new Set(sorted.slice(begun));
    }
    return groups;
  }

  /** Summed over all down-sets, or two bounds where there are too many. */
  private summed(nodes: readonly number[], done: ReadonlySet<number>): Between {
    const { closure, ruled, rule } = this;
    const own = new Set(nodes);
    const chains = chainCover(closure, nodes);
    const orders = countDownSets(closure, chains, this.most, (node, isDone) => {
      const isGone = (other: number): boolean => (own.has(other) ? isDone(other) : done.has(other));
      return !ruled.has(node) || rule!.mayGo(node, isGone);
    });
    if (orders !== undefined) return { least: orders, greatest: orders };
    const all = factorial(nodes.length);
    const greatest = chains.reduce((left, chain) => left / factorial(chain.length), all);
    if (nodes.some((node) => ruled.has(node))) return { least: this.keptLeast(nodes, done), greatest };
    const sizes = (isOne: (node: number, other: number) => boolean): bigint =>
      nodes.reduce((so, node) => so * BigInt(nodes.filter((other) => isOne(node, other)).length + 1), 1n);
    const [up, down] = [sizes((one, other) => closure.has(one, other)), sizes((one, other) => closure.has(other, one))];
    const fewer = up < down ? up : down;
    return { least: (all + fewer - 1n) / fewer, greatest };
  }

  /** Orders that keep what a rule is about as it stands in the known order. */
  private keptLeast(nodes: readonly number[], done: ReadonlySet<number>): bigint {
    const { ruled, rule, graph, most } = this;
    if (!rule?.known) return 0n;
    const about = new Set(nodes.flatMap((node) => (ruled.has(node) ? [node, ...rule.asks(node)] : [])));
    const kept = rule.known.filter((node) => about.has(node));
    const pairs = kept.slice(1).map((node, k) => [kept[k]!, node] as const);
    const firm = digraph(graph.count, [...pairsOf(graph), ...pairs]);
    return new Counter(firm, closureOf(firm)!, most, new Set(), undefined).count(nodes, done).least;
  }
}

function product(parts: readonly Between[]): Between {
  return parts.reduce((all, { least, greatest }) => ({
    least: all.least * least,
    greatest: all.greatest * greatest,
  }));
}

const FACTORIALS = [1n];

function factorial(n: number): bigint {
  while (FACTORIALS.length <= n) FACTORIALS.push(FACTORIALS.at(-1)! * BigInt(FACTORIALS.length));
  return FACTORIALS[n]!;
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
  mayGo: MayGo,
): bigint | undefined {
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
        if (!mayGo(node, isDone)) return;
        const there = key + radix[k]!;
        next.set(there, (next.get(there) ?? 0n) + ways);
      });
      if (next.size > left) return undefined;
    }
    left -= next.size;
    level = next;
  }
  return [...level.values()][0] ?? 0n;
}
