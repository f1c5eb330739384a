/**
 * How long the build order takes, and how that grows: orders of seeded graphs against `toposort` on the same edges, and
 * whole plans from an analysis to every step, for 10, 100, 1,000 and 10,000 steps.
 *
 * Medians of turns taken in one run; compare the ratios. Nothing here passes or fails. A large bike is a row of one
 * demo bike over and over, each copy 4 m from the next, shock, wheel and chainset left away. Growth is said as the
 * power of the size that the last two sizes show.
 */
import toposort from 'toposort';
import { analyse, planOf, accessOf, type LinkageModel } from '../../shared/index.ts';
import { closureOf, countOrders, type Digraph, digraph, pairsOf, topologicalOrder } from '../../shared/order/graph.ts';
import { layModel } from '../setup/linkages.ts';
import { random } from '../setup/random.ts';
import { demoModels, renamedModel } from './models.ts';
import type { TheRow } from './row.ts';

const SEED = 20_266;
const APART_mm = 4000;

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

/** Medians of works that take turns; the first turn warms up and is not counted. */
function inTurn(works: readonly (() => unknown)[], turns: number): number[] {
  const times = works.map((): number[] => []);
  for (let turn = -1; turn < turns; turn++) {
    works.forEach((work, k) => {
      const from = performance.now();
      work();
      if (turn >= 0) times[k]!.push(performance.now() - from);
    });
  }
  return times.map(median);
}

/** A graph such as a build has: each node waits for up to three of the forty before it in some order. */
function buildGraph(count: number): Digraph {
  const draw = random(SEED + count);
  const order = draw.shuffled(Array.from({ length: count }, (_, node) => node));
  return digraph(
    count,
    order.flatMap((after, k) =>
      Array.from(
        { length: k === 0 ? 0 : draw.whole(1, 3) },
        () => [order[Math.max(0, k - draw.whole(1, 40))]!, after] as const,
      ),
    ),
  );
}

/** One demo bike over and over in a row, with ids of its own each. */
export function rowOfBikes(base: LinkageModel, copies: number): LinkageModel {
  const { order: _order, variants: _variants, shock: _shock, wheel: _wheel, obstacles: _obstacles, ...first } = base;
  const all = Array.from({ length: copies }, (_, copy) =>
    layModel(
      renamedModel(first, (id) => `${id}-${copy}`),
      { move_mm: [copy * APART_mm, 0] },
    ),
  );
  return {
    ...first,
    id: 'row',
    parts: Object.assign(
      {},
      ...all.map(({ parts }) =>
        Object.fromEntries(Object.entries(parts).map(([id, { count: _count, ...part }]) => [id, part])),
      ),
    ) as LinkageModel['parts'],
    members: Object.assign({}, ...all.map(({ members }) => members)) as LinkageModel['members'],
    pivots: all.flatMap(({ pivots }) => pivots),
  };
}

/** `grows as n^1.1` from two sizes and their times. */
function growth(small: readonly [size: number, ms: number], large: readonly [size: number, ms: number]): string {
  return `grows as n^${(Math.log(large[1] / small[1]) / Math.log(large[0] / small[0])).toFixed(1)}`;
}

/** The rows of the bench. */
export function benchOrder(): TheRow[] {
  const rows: TheRow[] = [];
  let last: readonly [number, number] | undefined;
  for (const count of [10, 100, 1000, 10_000]) {
    const graph = buildGraph(count);
    const pairs = pairsOf(graph);
    const nodes = Array.from({ length: count }, (_, node) => node);
    const turns = count >= 10_000 ? 3 : 15;
    const [ours_ms, theirs_ms] = inTurn([() => topologicalOrder(graph), () => toposort.array(nodes, pairs)], turns);
    const now = [count, ours_ms!] as const;
    rows.push({
      what: `one order of ${count} tasks, ${pairs.length} edges${last ? ` (${growth(last, now)})` : ''}; against toposort`,
      ours_ms: ours_ms!,
      theirs_ms: theirs_ms!,
      ratio: theirs_ms! / ours_ms!,
    });
    last = now;
    const [closed_ms] = inTurn([() => closureOf(graph)], turns);
    rows.push({ what: `what must follow what, all of ${count} tasks`, ours_ms: closed_ms! });
  }
  for (const count of [10, 20, 40]) {
    const graph = buildGraph(count);
    const counted = countOrders(graph);
    const [ours_ms] = inTurn([() => countOrders(graph)], 5);
    rows.push({
      what: `possible orders of ${count} tasks counted: ${counted.isExact ? `exactly ${counted.orders}` : `between ${counted.atLeast} and ${counted.atMost}`}`,
      ours_ms: ours_ms!,
    });
  }
  const models = demoModels();
  const rig = models.find(({ id }) => id === 'class-rig')!;
  const bike = models.find(({ id }) => id === 'holt-120')!;
  let before: readonly [number, number] | undefined;
  for (const [model, turns] of [
    [rig, 9],
    [bike, 9],
    [rowOfBikes(bike, 8), 3],
    [rowOfBikes(bike, 80), 1],
  ] as const) {
    const analysis = analyse(model);
    // What is worked out for a plan is kept by its content: each turn has one of its own.
    let [steps, turn] = [0, 0];
    const fresh = () => ({ ...analysis, model: { ...model, id: `turn-${turn++}` } });
    const [ours_ms] = inTurn([() => (steps = planOf(fresh()).steps.length)], turns);
    const now = [steps, ours_ms!] as const;
    rows.push({
      what: `whole plan: ${analysis.pivots.flatMap(({ stacks }) => stacks).length} axles, ${steps} steps${before ? ` (${growth(before, now)})` : ''}`,
      ours_ms: ours_ms!,
      ...(steps < 200 ? { goal: 'under 300 ms: as a model is opened' } : {}),
    });
    before = now;
  }
  const plan = planOf(analyse(bike));
  const [ours_ms] = inTurn([() => accessOf(plan, 'rocker-left')], 9);
  rows.push({
    what: 'access: what must come off to get at a rocker plate',
    ours_ms: ours_ms!,
    goal: 'under 100 ms: at a tap',
  });
  return rows;
}
