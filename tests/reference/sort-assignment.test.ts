/**
 * The assignment solver against published optima, another library and the slow obvious way; data files name their
 * sources.
 */
import munkres from 'munkres';
import { describe, expect, it, test } from 'vitest';
import { assign, type AssignProblem, type Assignment } from '../../shared/index.ts';
import { margins } from '../../shared/sort/margins.ts';
import { random, type Random } from '../setup/random.ts';
import ortools from './data/assignment-ortools.json';
import published from './data/assignment-published.json';
import scipy from './data/assignment-scipy.json';

type Matrix = readonly (readonly (number | null)[])[];
const asProblem = (cost: Matrix): AssignProblem => ({
  supply: cost.map(() => 1),
  capacity: cost[0]!.map(() => 1),
  cost: cost.map((row) => row.map((value) => value ?? Infinity)),
});

/**
 * Every assignment of a problem with its cost, by trying all; pieces of one row are alike, so are the places of a
 * column.
 */
function everyAssignment({ supply, capacity, cost, unmatched }: AssignProblem): { total: number; key: string }[] {
  const found: { total: number; key: string }[] = [];
  const room = [...capacity];
  const columns = capacity.length;
  const walk = (row: number, column: number, left: number, total: number, key: string): void => {
    if (row === supply.length) {
      found.push({ total, key });
      return;
    }
    if (column === columns) {
      if (left > 0 && !unmatched) return;
      walk(row + 1, 0, supply[row + 1] ?? 0, total + left * (left > 0 ? unmatched![row]! : 0), `${key}|`);
      return;
    }
    const price = cost[row]![column]!;
    for (let pieces = 0; pieces <= Math.min(left, room[column]!); pieces++) {
      if (pieces > 0 && price === Infinity) break;
      room[column]! -= pieces;
      walk(row, column + 1, left - pieces, total + (pieces > 0 ? pieces * price : 0), `${key}${pieces},`);
      room[column]! += pieces;
    }
  };
  walk(0, 0, supply[0] ?? 0, 0, '');
  return found.sort((a, b) => a.total - b.total);
}

function smallProblem(draw: Random): AssignProblem {
  const rows = draw.whole(1, 4);
  const columns = draw.whole(1, 4);
  return {
    supply: Array.from({ length: rows }, () => draw.whole(1, 2)),
    capacity: Array.from({ length: columns }, () => draw.whole(1, 3)),
    cost: Array.from({ length: rows }, () =>
      Array.from({ length: columns }, () => (draw.chance(0.2) ? Infinity : draw.between(-5, 20))),
    ),
    ...(draw.chance(0.7) ? { unmatched: Array.from({ length: rows }, () => draw.between(5, 15)) } : {}),
  };
}

/** The solver's own proof: reduced costs at or above 0 everywhere, 0 where pieces lie, and no price on free places. */
function expectOptimal(problem: AssignProblem, { chosen, unmatched, u, v }: Assignment): void {
  const price = (row: number, column: number): number =>
    column === problem.capacity.length ? problem.unmatched![row]! : problem.cost[row]![column]!;
  for (let row = 0; row < u.length; row++) {
    for (let column = 0; column < v.length; column++)
      if (price(row, column) < Infinity) expect(price(row, column) - u[row]! - v[column]!).toBeGreaterThan(-1e-9);
  }
  for (const { row, column } of chosen) expect(Math.abs(price(row, column) - u[row]! - v[column]!)).toBeLessThan(1e-9);
  problem.supply.forEach((supply, row) => {
    expect(
      chosen.filter((choice) => choice.row === row).reduce((sum, { pieces }) => sum + pieces, unmatched[row]!),
    ).toBe(supply);
  });
  problem.capacity.forEach((places, column) => {
    const taken = chosen.filter((choice) => choice.column === column).reduce((sum, { pieces }) => sum + pieces, 0);
    expect(taken).toBeLessThanOrEqual(places);
    if (taken < places) expect(Math.abs(v[column]!)).toBeLessThan(1e-9);
  });
}

describe.each([scipy, ortools, published])('$source', ({ rows }) => {
  test.each(rows as { name: string; cost: Matrix; optimum: number }[])('$name: $optimum', ({ cost, optimum }) => {
    const problem = asProblem(cost);
    const best = assign(problem)!;
    expect(best.total).toBeCloseTo(optimum, 9);
    expectOptimal(problem, best);
  });
});

test.each(scipy.infeasible)('infeasible: $name', ({ cost }) => {
  expect(assign(asProblem(cost as Matrix))).toBeUndefined();
});

describe('against munkres, seeds 1 to 40', () => {
  it.each([4, 12, 30, 60])('square, %i by %i', (size) => {
    for (let seed = 1; seed <= 40; seed++) {
      const draw = random(1000 * size + seed);
      // Whole numbers make ties, which is where a solver fails.
      const cost = Array.from({ length: size }, () =>
        Array.from({ length: size }, () => (seed % 2 === 0 ? draw.whole(0, 20) : draw.between(0, 100))),
      );
      const pairs = munkres(cost.map((row) => [...row])) as [number, number][];
      const theirs = pairs.reduce((sum, [row, column]) => sum + cost[row]![column]!, 0);
      expect(assign(asProblem(cost))!.total).toBeCloseTo(theirs, 6);
    }
  });
  /**
   * Theirs knows no counts: every piece is a row of its own, every place a column, and staying unmatched a place too.
   */
  function byMunkres({ supply, capacity, cost, unmatched }: Required<AssignProblem>): number {
    const owner = supply.flatMap((pieces, row) => Array<number>(pieces).fill(row));
    const place = [...capacity.flatMap((places, column) => Array<number>(places).fill(column)), ...owner.map(() => -1)];
    const flat = owner.map((row) => place.map((column) => (column < 0 ? unmatched[row]! : cost[row]![column]!)));
    return (munkres(flat) as [number, number][]).reduce((sum, [row, column]) => sum + flat[row]![column]!, 0);
  }
  it('with counts and a price of staying unmatched', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const draw = random(seed);
      const rows = draw.whole(3, 14);
      const columns = draw.whole(2, 8);
      const problem: Required<AssignProblem> = {
        supply: Array.from({ length: rows }, () => draw.whole(1, 4)),
        capacity: Array.from({ length: columns }, () => draw.whole(1, 6)),
        cost: Array.from({ length: rows }, () => Array.from({ length: columns }, () => draw.between(0, 30))),
        unmatched: Array.from({ length: rows }, () => draw.between(5, 25)),
      };
      const best = assign(problem)!;
      expect(best.total).toBeCloseTo(byMunkres(problem), 6);
      expectOptimal(problem, best);
    }
  });
  it('with paths that tie but for rounding: a row was reached again through itself and the way back never ended', () => {
    for (let seed = 1; seed <= 300; seed++) {
      const draw = random(seed);
      const rows = draw.whole(3, 8);
      const columns = draw.whole(2, 5);
      const problem: Required<AssignProblem> = {
        supply: Array.from({ length: rows }, () => draw.whole(1, 4)),
        capacity: Array.from({ length: columns }, () => draw.whole(1, 4)),
        cost: Array.from({ length: rows }, () => {
          const base = draw.whole(0, 30) / 10;
          return Array.from({ length: columns }, () => base + draw.whole(0, 3) / 10);
        }),
        unmatched: Array.from({ length: rows }, () => draw.whole(20, 60) / 10),
      };
      const best = assign(problem)!;
      expect(best.total).toBeCloseTo(byMunkres(problem), 6);
      expectOptimal(problem, best);
    }
  });
});

describe('against trying everything, seeds 1 to 300, up to 8 pieces', () => {
  it('finds the cheapest, or says there is none', () => {
    let infeasible = 0;
    for (let seed = 1; seed <= 300; seed++) {
      const problem = smallProblem(random(seed));
      const [first] = everyAssignment(problem);
      const best = assign(problem);
      if (!first) {
        infeasible++;
        expect(best).toBeUndefined();
        continue;
      }
      expect(best!.total).toBeCloseTo(first.total, 9);
      expectOptimal(problem, best!);
    }
    expect(infeasible).toBeGreaterThan(10);
  });
  it('prices every other placement as forcing it does', () => {
    let compared = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const problem = smallProblem(random(seed));
      const best = assign(problem);
      if (!best) continue;
      const bound = 12;
      const found = margins(problem, best, bound);
      const all = everyAssignment(problem);
      problem.supply.forEach((_, row) => {
        for (let column = 0; column < best.v.length; column++) {
          const sits =
            column === problem.capacity.length
              ? best.unmatched[row]! > 0
              : best.chosen.some((choice) => choice.row === row && choice.column === column);
          if (sits) continue;
          const forced = all.find(({ key }) => {
            const own = key.split('|')[row]!.split(',').slice(0, -1).map(Number);
            return column === problem.capacity.length
              ? own.reduce((sum, pieces) => sum + pieces, 0) < problem.supply[row]!
              : own[column]! > 0;
          });
          const extra = forced ? forced.total - best.total : Infinity;
          const margin = found.find((entry) => entry.row === row && entry.column === column)?.extra;
          if (extra < bound - 1e-6) expect(margin).toBeCloseTo(extra, 8);
          else if (extra > bound + 1e-6) expect(margin).toBeUndefined();
          compared++;
        }
      });
    }
    expect(compared).toBeGreaterThan(500);
  });
});

describe('symmetries, seeds 1 to 30', () => {
  it.each([
    [1, 'a row’s costs shifted'],
    [2, 'all costs scaled'],
    [3, 'rows and columns in another order'],
  ] as const)('%i: %s', (which, _name) => {
    for (let seed = 1; seed <= 30; seed++) {
      const draw = random(seed);
      const cost = Array.from({ length: 9 }, () => Array.from({ length: 11 }, () => draw.between(0, 50)));
      const { total } = assign(asProblem(cost))!;
      if (which === 1)
        expect(
          assign(asProblem(cost.map((row, k) => (k === 3 ? row.map((value) => value + 17) : row))))!.total,
        ).toBeCloseTo(total + 17, 8);
      if (which === 2)
        expect(assign(asProblem(cost.map((row) => row.map((value) => value * 7))))!.total).toBeCloseTo(total * 7, 8);
      if (which === 3) {
        const order = draw.shuffled(cost[0]!.map((_, column) => column));
        expect(
          assign(asProblem(draw.shuffled(cost).map((row) => order.map((column) => row[column]!))))!.total,
        ).toBeCloseTo(total, 8);
      }
    }
  });
});
