/**
 * The recommended order against every possible order of small seeded task lists, and the fewest moves against every
 * subset.
 */
import { describe, expect, test } from 'vitest';
import { type Digraph, digraph, pairsOf } from '../../shared/order/graph.ts';
import { type Work, costOf, recommend } from '../../shared/order/best.ts';
import { longestRise } from '../../shared/order/plan.ts';
import { random, type Random } from '../setup/random.ts';
import { seeds } from '../setup/series.ts';

type MayGo = (node: number, isDone: (other: number) => boolean) => boolean;

/** The cheapest cost of all possible orders, by trying all; undefined where there is none. */
function cheapest(graph: Digraph, works: readonly Work[], mayGo: MayGo): number | undefined {
  let best: number | undefined;
  const order: number[] = [];
  const isDone = (node: number): boolean => order.includes(node);
  const walk = (): void => {
    if (order.length === graph.count) {
      const { total } = costOf(order, works);
      best = best === undefined ? total : Math.min(best, total);
    }
    for (let node = 0; node < graph.count; node++) {
      if (
        isDone(node) ||
        pairsOf(graph).some(([before, after]) => after === node && !isDone(before)) ||
        !mayGo(node, isDone)
      )
        continue;
      order.push(node);
      walk();
      order.pop();
    }
  };
  walk();
  return best;
}

/** Members have to be moved apart for it once another task is done. */
const swung = (when: number): Pick<Work, 'isSwung'> => ({ isSwung: (isDone) => isDone(when) });

/**
 * Tasks of up to four axles, each fitted and tightened, some threadlocked, some fitted for now, some covered, with
 * sides and tools.
 */
function tasks(draw: Random): { graph: Digraph; works: Work[]; mayGo: MayGo } {
  const axles = draw.whole(1, 4);
  const sides = ['drive', 'non-drive'] as const;
  const works = Array.from({ length: axles }, (): Work[] => {
    const shared = {
      isBench: false,
      isThreadlocked: draw.chance(0.6),
      isFittedForNow: draw.chance(0.2),
      covered: draw.whole(0, 2),
    };
    const begins = draw.pick(sides);
    return [
      {
        ...shared,
        part: 'fit',
        tools: [],
        begins,
        ends: draw.pick(sides),
        ...(draw.chance(0.3) ? swung(draw.whole(0, 2 * axles - 1)) : {}),
      },
      { ...shared, part: 'tighten', tools: [draw.pick(['6', '8']), draw.pick(['18', '22'])], begins: draw.pick(sides) },
    ];
  }).flat();
  const pairs = Array.from({ length: axles }, (_, axle) => [2 * axle, 2 * axle + 1] as const);
  const more = works.flatMap((_, after) =>
    works.flatMap((__, before) => (before < after && draw.chance(0.12) ? [[before, after] as const] : [])),
  );
  // An axle may want one of two others before it: something to hang on.
  const wants = works.map(() =>
    draw.chance(0.25) ? [draw.whole(0, works.length - 1), draw.whole(0, works.length - 1)] : undefined,
  );
  return {
    graph: digraph(works.length, [...pairs, ...more]),
    works,
    mayGo: (node, isDone) => wants[node]?.some((want) => want === node || isDone(want)) ?? true,
  };
}

describe('the recommended order', () => {
  test.each(Array.from({ length: 60 }, (_, k) => k + 1))(
    'seed %i: no possible order of up to eight tasks is cheaper',
    (seed) => {
      const { graph, works, mayGo } = tasks(random(4000 + seed));
      const least = cheapest(graph, works, mayGo);
      const found = recommend(graph, works, mayGo);
      expect(found?.cost.total).toBe(least);
      if (!found) return;
      expect(found.isBest).toBe(true);
      expect(found.cost).toEqual(costOf(found.order, works));
      for (const [before, after] of pairsOf(graph))
        expect(found.order.indexOf(before)).toBeLessThan(found.order.indexOf(after));
      found.order.forEach((node, k) => expect(mayGo(node, (other) => found.order.indexOf(other) < k)).toBe(true));
      // Equal costs are settled the same way every time.
      expect(recommend(graph, works, mayGo)).toEqual(found);
    },
  );

  test('some of those have no possible order at all', () => {
    const none = Array.from({ length: 60 }, (_, k) => tasks(random(4001 + k))).filter(
      ({ graph, works, mayGo }) => recommend(graph, works, mayGo) === undefined,
    );
    expect(none.length).toBeGreaterThan(0);
    expect(none.length).toBeLessThan(60);
  });

  test('by hand: two axles, from two sides, no edges between them: one side after the other', () => {
    const axle = (side: string): Work[] => [
      { isBench: false, part: 'fit', tools: [], begins: side, ends: side, covered: 0 },
      { isBench: false, part: 'tighten', tools: ['6'], begins: side, ends: side, covered: 0 },
    ];
    const works = [...axle('drive'), ...axle('non-drive')];
    const { order, cost } = recommend(
      digraph(4, [
        [0, 1],
        [2, 3],
      ]),
      works,
      () => true,
    )!;
    expect(order).toEqual([0, 1, 2, 3]);
    // One change of side (40), the key taken up once (12).
    expect(cost).toMatchObject({ sideChanges: 1, toolChanges: 1, total: 52 });
  });

  test('by hand: what would be covered goes first although it stands last', () => {
    const axle = (covered: number): Work[] => [
      { isBench: false, part: 'fit', tools: [], covered },
      { isBench: false, part: 'tighten', tools: [], covered },
    ];
    const { order, cost } = recommend(
      digraph(4, [
        [0, 1],
        [2, 3],
      ]),
      [...axle(0), ...axle(1)],
      () => true,
    )!;
    expect(order).toEqual([2, 3, 0, 1]);
    // Its second task comes after one other, times one thing that covers it.
    expect(cost.lateness).toBe(1);
  });
});

/** The cheapest cost of all possible orders, over all sets of tasks with where one stands and what is in the hand. */
function cheapestOverSets(graph: Digraph, works: readonly Work[], mayGo: MayGo): number | undefined {
  const needs = works.map((_, node) => pairsOf(graph).flatMap(([before, after]) => (after === node ? [before] : [])));
  let level = new Map<string, { order: number[]; total: number }>([['', { order: [], total: 0 }]]);
  for (let length = 0; length < graph.count; length++) {
    const next = new Map<string, { order: number[]; total: number }>();
    for (const { order } of level.values()) {
      const isDone = (node: number): boolean => order.includes(node);
      for (let node = 0; node < graph.count; node++) {
        if (isDone(node) || !needs[node]!.every(isDone) || !mayGo(node, isDone)) continue;
        const more = [...order, node];
        const { total } = costOf(more, works);
        const hand = more.map((one) => works[one]!.tools.join('+')).findLast((tools) => tools !== '') ?? '';
        const key = `${[...more].sort((a, b) => a - b).join()} ${works[node]!.ends} ${hand}`;
        if (total < (next.get(key)?.total ?? Infinity)) next.set(key, { order: more, total });
      }
    }
    level = next;
  }
  const totals = [...level.values()].map(({ total }) => total);
  return totals.length === 0 ? undefined : Math.min(...totals);
}

/** Up to five axles of a few kinds, most of them through from one side to the other, each told what it asks about. */
function likeAxles(draw: Random): { graph: Digraph; works: Work[]; mayGo: MayGo } {
  const sides = ['drive', 'non-drive'] as const;
  const kinds = Array.from({ length: draw.whole(1, 3) }, (): Work[] => {
    const begins = draw.pick(sides);
    const shared = {
      isBench: false,
      isThreadlocked: draw.chance(0.5),
      isFittedForNow: draw.chance(0.1),
      covered: draw.chance(0.15) ? 1 : 0,
    };
    const ends = draw.chance(0.7) ? sides.find((side) => side !== begins)! : begins;
    const stand = draw.pick(sides);
    return [
      { ...shared, part: 'fit', tools: [], begins, ends, asks: [] },
      { ...shared, part: 'tighten', tools: [draw.pick(['6', '8']), '24'], begins: stand, ends: stand, asks: [] },
    ];
  });
  const axles = draw.whole(2, 5);
  const works = Array.from({ length: axles }, () => draw.pick(kinds)).flat();
  const hangs = works.map((_, node) => (node % 2 === 0 && draw.chance(0.3) ? 2 * draw.whole(0, axles - 1) : undefined));
  const pairs = Array.from({ length: axles }, (_, axle) => [2 * axle, 2 * axle + 1] as const);
  const settled = works.flatMap((_, fit) =>
    works.flatMap((__, tight) => (fit % 2 === 0 && tight % 2 === 1 && draw.chance(0.1) ? [[fit, tight] as const] : [])),
  );
  return {
    graph: digraph(works.length, [...pairs, ...settled]),
    works: works.map((work, node) => (hangs[node] === undefined ? work : { ...work, asks: [hangs[node]] })),
    mayGo: (node, isDone) => hangs[node] === undefined || hangs[node] === node || isDone(hangs[node]),
  };
}

describe('axles that are alike, and what each asks about', () => {
  test.each(seeds(120))('seed %i: no possible order of up to ten tasks is cheaper', (seed) => {
    const { graph, works, mayGo } = likeAxles(random(9000 + seed));
    const found = recommend(graph, works, mayGo);
    expect(found?.cost.total).toBe(cheapestOverSets(graph, works, mayGo));
    if (!found) return;
    expect(found.isBest).toBe(true);
    expect(found.leastChanges).toBeLessThanOrEqual(found.cost.sideChanges + found.cost.toolChanges);
    expect(found.cost).toEqual(costOf(found.order, works));
  });
});

describe('the fewest tasks to name as moved', () => {
  test.each(Array.from({ length: 40 }, (_, k) => k + 1))(
    'seed %i: as many stay as in the longest rising row',
    (seed) => {
      const draw = random(5000 + seed);
      const row = draw.shuffled(Array.from({ length: draw.whole(0, 10) }, (_, k) => k));
      let most = 0;
      for (let mask = 0; mask < 2 ** row.length; mask++) {
        const picked = row.filter((_, k) => (mask >> k) & 1);
        if (picked.every((value, k) => k === 0 || value > picked[k - 1]!)) most = Math.max(most, picked.length);
      }
      const rise = [...longestRise(row)].sort((a, b) => a - b);
      expect(rise).toHaveLength(most);
      rise.forEach((at, k) => k > 0 && expect(row[at]!).toBeGreaterThan(row[rise[k - 1]!]!));
    },
  );
});
