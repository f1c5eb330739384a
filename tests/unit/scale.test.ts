/**
 * Many pivots: what is proven of their order at fourteen, and that order, count and travel still come to their end at
 * fifty (at two hundred in the long run). How long each takes and how that grows is a row of the bench.
 */
import { describe, expect, test } from 'vitest';
import { analyse, checkOrder, planning, planOf, travel } from '../../shared/index.ts';
import { chainOf, rockersOf } from '../setup/rows.ts';
import { LONG } from '../setup/series.ts';

const KINDS = [
  { kind: 'rockers, all alike', of: (count: number) => rockersOf(count) },
  { kind: 'rockers of many kinds', of: (count: number) => rockersOf(count, true) },
  { kind: 'a chain, all alike', of: (count: number) => chainOf(count) },
  { kind: 'a chain of many kinds', of: (count: number) => chainOf(count, true) },
];
const LARGE = LONG ? 200 : 50;
/** Rockers of many kinds and a chain, all alike; each of the four in the long run. */
const WHOLE = LONG ? KINDS : KINDS.slice(1, 3);

/** Orders in which each of some axles is fitted before it is tightened, and each of a chain after the one before it. */
function countOf(count: number, isChain: boolean): bigint {
  // Both by hand: (2n)! over 2 for each pair; in a chain the fits are a row, and a hook of 2k stands over the kth last.
  let orders = 1n;
  for (let k = 1; k <= count; k++) orders *= isChain ? BigInt(2 * k - 1) : BigInt(k * (2 * k - 1));
  return orders;
}

describe.each(KINDS)('$kind', ({ kind, of }) => {
  test('the order of fourteen pivots is the best, and proven to be', () => {
    const plan = planOf(analyse(of(14)));
    expect(plan.isBest).toBe(true);
    expect(plan.orders).toEqual({ isExact: true, orders: String(countOf(14, kind.includes('chain'))) });
  });
});

describe.each(WHOLE)('$kind', ({ kind, of }) => {
  test(`${LARGE} pivots get a possible order, a count, and a bound where no proof is had`, { timeout: 120_000 }, () => {
    const analysis = analyse(of(LARGE));
    const plan = planOf(analysis);
    const order = plan.tasks.map(({ id }) => id);
    expect(plan.stuck).toEqual([]);
    expect(checkOrder(plan, order).missing).toEqual([]);
    expect(checkOrder(plan, order).faults).toEqual([]);
    expect(plan.orders).toEqual({ isExact: true, orders: String(countOf(LARGE, kind.includes('chain'))) });
    const changes = plan.cost.sideChanges + plan.cost.toolChanges;
    if (kind.includes('alike')) expect(plan.isBest).toBe(true);
    else expect(plan.leastChanges).toBeGreaterThan(0.75 * changes);
    expect(plan.leastChanges ?? changes).toBeLessThanOrEqual(changes);
  });

  test(`${LARGE} pivots swing, every loop closed`, { timeout: 120_000 }, () => {
    const model = of(LARGE);
    const { travel: found, run } = travel(model, { analysis: analyse(model) });
    expect(run!.poses).toHaveLength(61);
    expect(run!.mobility.count).toBe(LARGE);
    expect(found.closure_mm).toBeLessThan(1e-6);
  });
});

test('a good order is there at once, and each one told after it is cheaper', () => {
  const analysis = analyse(rockersOf(14, true));
  const told: number[] = [];
  let [before, isPossible] = [0, true];
  const work = planning(analysis);
  let step = work.next();
  for (; !step.done; step = work.next()) {
    expect(step.value.share).toBeGreaterThanOrEqual(before);
    before = step.value.share;
    const plan = step.value.better?.();
    if (!plan) continue;
    told.push(plan.cost.total);
    const order = plan.tasks.map(({ id }) => id);
    isPossible &&= checkOrder(plan, order).faults.length === 0 && checkOrder(plan, order).missing.length === 0;
  }
  expect(isPossible).toBe(true);
  expect(told.length).toBeGreaterThan(1);
  expect(told).toEqual([...new Set(told)].sort((one, other) => other - one));
  expect(step.value.cost.total).toBe(told.at(-1));
});
