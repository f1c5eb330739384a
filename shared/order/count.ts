/**
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
import { type Closure, type Digraph, type MayGo, closureOf, digraph, pairsOf, sweep } from './graph.ts';

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
