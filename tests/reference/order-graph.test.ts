/**
 * Orders of a precedence graph: published and derived counts, each with its source in its data file; `toposort` and
 * brute force as oracles on small seeded graphs; reversal; cycles; the transitive reduction; bounds that hold.
 */
import toposort from 'toposort';
import { describe, expect, test } from 'vitest';
import {
  closureOf,
  countOrders,
  type Digraph,
  digraph,
  findCycle,
  pairsOf,
  shortestPath,
  topologicalOrder,
  transitiveReduction,
} from '../../shared/order/graph.ts';
import { random, type Random } from '../setup/random.ts';
import { seeds } from '../setup/series.ts';
import chains from './data/order-chains-derived.json';
import pen from './data/order-pen-ull.json';
import tree from './data/order-tree-csse.json';

type Pair = readonly [number, number];

/** The graph with every pair turned round. */
function reversed(graph: Digraph): Digraph {
  return digraph(
    graph.count,
    pairsOf(graph).map(([before, after]) => [after, before] as const),
  );
}

/** Every order that puts each node after all that come before it, by trying all. */
function everyOrder(
  { count, next }: Digraph,
  mayGo: (node: number, isDone: (other: number) => boolean) => boolean = () => true,
): number[][] {
  const found: number[][] = [];
  const order: number[] = [];
  const isDone = (node: number): boolean => order.includes(node);
  const walk = (): void => {
    if (order.length === count) found.push([...order]);
    for (let node = 0; node < count; node++) {
      if (isDone(node) || next.some((list, before) => list.includes(node) && !isDone(before)) || !mayGo(node, isDone))
        continue;
      order.push(node);
      walk();
      order.pop();
    }
  };
  walk();
  return found;
}

const named = (nodes: readonly string[], pairs: readonly (readonly string[])[]): Digraph =>
  digraph(
    nodes.length,
    pairs.map(([before, after]) => [nodes.indexOf(before!), nodes.indexOf(after!)] as const),
  );

function exact(graph: Digraph): bigint {
  const count = countOrders(graph);
  if (!count.isExact) throw new Error('test: the count is not exact');
  return count.orders;
}

/** Each pair of a shuffled order is an edge with the given chance: a graph without a cycle, its nodes in no order. */
function acyclic(draw: Random, count: number, share: number): Digraph {
  const order = draw.shuffled(Array.from({ length: count }, (_, node) => node));
  const pairs = order.flatMap((before, k) =>
    order.slice(k + 1).flatMap((after): Pair[] => (draw.chance(share) ? [[before, after]] : [])),
  );
  return digraph(count, pairs);
}

/** Every ordered pair of nodes is an edge with the given chance, a node with itself among them now and then. */
function anyGraph(draw: Random, count: number, share: number): Digraph {
  const pairs = Array.from({ length: count * count }, (_, k): Pair => [Math.floor(k / count), k % count]).filter(
    ([a, b]) => draw.chance(a === b ? share / 4 : share),
  );
  return digraph(count, pairs);
}

const keeps = (graph: Digraph, order: readonly number[]): boolean =>
  pairsOf(graph).every(([before, after]) => order.indexOf(before) < order.indexOf(after));

describe('published counts', () => {
  test(`${pen.source.slice(0, 60)}: ${pen.orders}`, () => {
    const graph = named(pen.nodes, pen.pairs);
    expect(exact(graph)).toBe(BigInt(pen.orders));
    expect(everyOrder(graph)).toHaveLength(pen.orders);
    expect(everyOrder(graph).map((order) => order.map((node) => pen.nodes[node]).join())).toContain(pen.given.join());
  });

  test(`${tree.source.slice(0, 60)}: all ${tree.orders} listed`, () => {
    const graph = named(tree.nodes, tree.pairs);
    expect(exact(graph)).toBe(BigInt(tree.orders));
    expect(
      everyOrder(graph)
        .map((order) => order.map((node) => tree.nodes[node]).join(''))
        .sort(),
    ).toEqual(tree.all);
  });

  test.each(chains.chains)('one-way chains of $lengths parts: $orders', ({ lengths, orders }) => {
    const starts = lengths.map((_, k) => lengths.slice(0, k).reduce((sum, length) => sum + length, 0));
    const whole = lengths.reduce((sum, length) => sum + length, 0);
    const graph = digraph(
      whole,
      lengths.flatMap((length, k) =>
        Array.from({ length: length - 1 }, (_, n): Pair => [starts[k]! + n, starts[k]! + n + 1]),
      ),
    );
    expect(exact(graph)).toBe(BigInt(orders));
    expect(exact(reversed(graph))).toBe(BigInt(orders));
    if (lengths.length === 1) {
      const order = topologicalOrder(graph)!;
      expect(topologicalOrder(reversed(graph))).toEqual([...order].reverse());
    }
  });
});

describe('against brute force, seeded', () => {
  const SEEDS = Array.from({ length: 60 }, (_, k) => k + 1);

  test.each(SEEDS)('seed %i: the count, its reverse, and the reduction’s', (seed) => {
    const draw = random(seed);
    const graph = acyclic(draw, draw.whole(1, seed % 12 === 0 ? 9 : 7), draw.between(0.05, 0.6));
    const all = everyOrder(graph);
    expect(exact(graph)).toBe(BigInt(all.length));
    expect(exact(reversed(graph))).toBe(BigInt(all.length));
    const reduced = transitiveReduction(graph);
    expect(everyOrder(reduced)).toEqual(all);
    // Nothing is left that the rest implies: without any one of its edges there are more orders.
    const edges = pairsOf(reduced);
    for (const edge of edges)
      expect(
        exact(
          digraph(
            graph.count,
            edges.filter((other) => other !== edge),
          ),
        ),
      ).toBeGreaterThan(BigInt(all.length));
  });

  test.each(seeds(60))('seed %i: a rule beyond the edges is counted in', (seed) => {
    const draw = random(1000 + seed);
    const graph = acyclic(draw, draw.whole(2, 7), 0.25);
    // A node wants one of two others, or must come before a third: what is done alone decides.
    const wants = Array.from(
      { length: graph.count },
      () => [draw.whole(0, graph.count - 1), draw.whole(0, graph.count - 1), draw.whole(0, 3)] as const,
    );
    const mayGo = (node: number, isDone: (other: number) => boolean): boolean => {
      const [a, b, kind] = wants[node]!;
      return kind === 0 ? a === node || b === node || isDone(a) || isDone(b) : kind === 1 ? !isDone(a) : true;
    };
    const all = everyOrder(graph, mayGo);
    const [known] = all;
    const rule = { mayGo, asks: (node: number) => wants[node]!.slice(0, 2), ...(known && { known }) };
    expect(countOrders(graph, { rule })).toEqual({ isExact: true, orders: BigInt(all.length) });
    // Where nothing may be summed the bounds hold it, and say more than that there is one.
    const bounded = countOrders(graph, { rule, most: 0 });
    const [least, most] = bounded.isExact ? [bounded.orders, bounded.orders] : [bounded.atLeast, bounded.atMost];
    expect(least).toBeLessThanOrEqual(BigInt(all.length));
    expect(most).toBeGreaterThanOrEqual(BigInt(all.length));
    expect(least > 0n).toBe(all.length > 0);
  });

  test.each(SEEDS.slice(0, 30))('seed %i: bounds hold the true count, and are said to be bounds', (seed) => {
    const draw = random(2000 + seed);
    const graph = acyclic(draw, 7, draw.between(0.1, 0.4));
    const bounded = countOrders(graph, { most: 0 });
    const truth = BigInt(everyOrder(graph).length);
    if (bounded.isExact) expect(bounded.orders).toBe(truth);
    else {
      expect(bounded.atLeast).toBeLessThanOrEqual(truth);
      expect(bounded.atMost).toBeGreaterThanOrEqual(truth);
    }
  });
});

describe('against toposort 2.0.2 (MIT), as a package', () => {
  test('the published example and its cycle', () => {
    expect(
      toposort([
        ['a', 'b'],
        ['b', 'c'],
      ]),
    ).toEqual(['a', 'b', 'c']);
    expect(
      topologicalOrder(
        digraph(3, [
          [0, 1],
          [1, 2],
        ]),
      ),
    ).toEqual([0, 1, 2]);
    expect(() =>
      toposort([
        ['a', 'b'],
        ['b', 'a'],
      ]),
    ).toThrow(/Cyclic dependency/);
    expect(
      topologicalOrder(
        digraph(2, [
          [0, 1],
          [1, 0],
        ]),
      ),
    ).toBeUndefined();
  });

  test.each(Array.from({ length: 120 }, (_, k) => k + 1))(
    'seed %i: an order where it finds one, a cycle where it throws',
    (seed) => {
      const draw = random(3000 + seed);
      const graph = draw.chance(0.5)
        ? acyclic(draw, draw.whole(1, 9), draw.between(0.1, 0.7))
        : anyGraph(draw, draw.whole(1, 9), draw.between(0.02, 0.25));
      const theirs = ((): number[] | undefined => {
        try {
          return toposort.array(
            Array.from({ length: graph.count }, (_, node) => node),
            pairsOf(graph),
          );
        } catch {
          return undefined;
        }
      })();
      const ours = topologicalOrder(graph);
      const cycle = findCycle(graph);
      expect(ours === undefined).toBe(theirs === undefined);
      expect(cycle === undefined).toBe(ours !== undefined);
      if (theirs && ours) {
        expect(keeps(graph, theirs)).toBe(true);
        expect(keeps(graph, ours)).toBe(true);
        expect([...ours].sort((a, b) => a - b)).toEqual(Array.from({ length: graph.count }, (_, node) => node));
        const closure = closureOf(graph)!;
        for (const a of ours)
          for (const b of ours) expect(closure.has(a, b)).toBe(shortestPath(graph, a, b) !== undefined);
      }
      if (cycle) {
        cycle.forEach((node, k) => expect(graph.next[node]).toContain(cycle[(k + 1) % cycle.length]));
        expect(new Set(cycle).size).toBe(cycle.length);
        // None is shorter: from no node is the way back to itself.
        const least = Math.min(
          ...Array.from(
            { length: graph.count },
            (_, node) => (shortestPath(graph, node, node)?.length ?? Infinity) - 1,
          ),
        );
        expect(cycle).toHaveLength(least);
      }
    },
  );
});
