/**
 * The clamp solve on problems small enough to solve by hand, on random ones by its own check, and that check itself.
 */
import { describe, expect, test } from 'vitest';
import { checkClamp, clamp, type ClampProblem, type ClampResult } from '../../shared/index.ts';
import { clampInstance, FAMILIES } from '../bench/instances.ts';
import { random } from '../setup/random.ts';
import { seeds } from '../setup/series.ts';

const none = { contacts: [], springs: [], pulls: [] };
const SEEDS = seeds(100);

/** Two bodies drawn together over a contact. */
const pair = (gap_mm: number, force_N = 1000): ClampProblem => ({
  ...none,
  bodies: 2,
  contacts: [{ a: 0, b: 1, gap_mm, stiffness_N_per_mm: 1e5 }],
  pulls: [{ a: 0, b: 1, force_N }],
});

describe('clamp, by hand', () => {
  test('two bodies close their gap and give way by force / stiffness', () => {
    const result = clamp(pair(3));
    expect(result.isSolved).toBe(true);
    expect(result.contact_N[0]).toBeCloseTo(1000, 6);
    expect(result.shift_mm[0]! - result.shift_mm[1]!).toBeCloseTo(3 + 1000 / 1e5, 9);
  });

  test('an overlap at hand-tight is pushed out, and then nothing presses', () => {
    const result = clamp({ ...pair(-0.4), pulls: [] });
    expect(result.contact_N[0]).toBeCloseTo(0, 6);
    expect(result.shift_mm[1]! - result.shift_mm[0]!).toBeCloseTo(0.4, 9);
  });

  test('two contacts side by side share the force by their stiffness', () => {
    const problem = pair(0);
    const result = clamp({
      ...problem,
      contacts: [...problem.contacts, { a: 0, b: 1, gap_mm: 0, stiffness_N_per_mm: 3e5 }],
    });
    expect(result.contact_N[0]).toBeCloseTo(250, 5);
    expect(result.contact_N[1]).toBeCloseTo(750, 5);
  });

  test('a stiffer contact with a gap takes over only what is left when the gap is closed', () => {
    // The soft one gives way by 0.01 mm = 200 N, then both by x: 200 + 2e4·x + 2e5·x = 1000.
    const result = clamp({
      ...none,
      bodies: 2,
      contacts: [
        { a: 0, b: 1, gap_mm: 0, stiffness_N_per_mm: 2e4 },
        { a: 0, b: 1, gap_mm: 0.01, stiffness_N_per_mm: 2e5 },
      ],
      pulls: [{ a: 0, b: 1, force_N: 1000 }],
    });
    expect(result.contact_N[1]).toBeCloseTo((800 * 2e5) / 2.2e5, 5);
  });

  test('a spring resists both ways, beyond its play alone, about its rest', () => {
    const law = { a: 0, b: 1, stiffness_N_per_mm: 500, play_mm: 0.2, rest_mm: 1 };
    const push = clamp({ ...none, bodies: 2, springs: [law], pulls: [{ a: 0, b: 1, force_N: 100 }] });
    expect(push.shift_mm[1]! - push.shift_mm[0]!).toBeCloseTo(1 - 0.1 - 0.2, 8);
    expect(push.spring_N[0]).toBeCloseTo(100, 6);
    const draw = clamp({ ...none, bodies: 2, springs: [law], pulls: [{ a: 0, b: 1, force_N: -100 }] });
    expect(draw.shift_mm[1]! - draw.shift_mm[0]!).toBeCloseTo(1 + 0.1 + 0.2, 8);
    expect(draw.spring_N[0]).toBeCloseTo(-100, 6);
    const free = clamp({ ...none, bodies: 2, springs: [law] }, Float64Array.from([0, 0.95]));
    expect([...free.shift_mm]).toEqual([0, 0.95]);
    expect(free.spring_N[0]).toBeCloseTo(0, 12);
  });

  test('a column of three takes the pull through each, and what hangs beside it bears nothing', () => {
    const result = clamp({
      bodies: 4,
      contacts: [
        { a: 0, b: 1, gap_mm: 1, stiffness_N_per_mm: 1e6 },
        { a: 1, b: 2, gap_mm: 2, stiffness_N_per_mm: 1e5 },
      ],
      springs: [{ a: 1, b: 3, stiffness_N_per_mm: 400, play_mm: 0, rest_mm: 0 }],
      pulls: [{ a: 0, b: 2, force_N: 8000 }],
    });
    expect(result.contact_N[0]).toBeCloseTo(8000, 5);
    expect(result.contact_N[1]).toBeCloseTo(8000, 5);
    expect(result.spring_N[0]).toBeCloseTo(0, 5);
  });

  test('a body nothing holds stays where it was', () => {
    const problem = { ...pair(2), bodies: 3 };
    const result = clamp(problem, Float64Array.from([0, 0, 7.5]));
    expect(result.shift_mm[2]).toBe(7.5);
  });

  test('a tether brings a loose body back to where it started, and takes no part in what presses', () => {
    // Closing the 2 mm takes each body 1 mm from its start: 0.01 N of the pull. Forces balance to 1e-6 N, places to
    // 1e-4 mm.
    const tethered: ClampProblem = { ...pair(2), bodies: 3, tether_N_per_mm: 0.01 };
    const result = clamp(tethered, Float64Array.from([0, 0, 7.5]));
    expect(result.shift_mm[2]).toBeCloseTo(0, 3);
    expect(result.contact_N[0]).toBeGreaterThan(1000 - 0.011);
    expect(result.contact_N[0]).toBeLessThan(1000);
    // Drawn together from where they started, each comes half of the way.
    expect(result.shift_mm[0]! + result.shift_mm[1]!).toBeCloseTo(0, 3);
    expect(checkClamp(tethered, result).residual_N).toBeLessThan(1e-4);
    expect(checkClamp({ ...tethered, tether_N_per_mm: 1 }, result).residual_N).toBeGreaterThan(0.9);
  });

  test('a pull with nothing to bear on is reported, not hidden', () => {
    const result = clamp({ ...none, bodies: 2, pulls: [{ a: 0, b: 1, force_N: 100 }] });
    expect(result.isSolved).toBe(false);
  });
});

describe('clamp, by its own check', () => {
  test.each(FAMILIES)('100 seeds of %s instances balance', (family) => {
    let closed = 0;
    for (const seed of SEEDS) {
      const problem = clampInstance(family, seed);
      const result = clamp(problem);
      const check = checkClamp(problem, result);
      const stiffest = Math.max(...problem.contacts.map((law) => law.stiffness_N_per_mm));
      const pull = Math.max(...problem.pulls.map((law) => law.force_N));
      const allowed = Math.max(1e-8 * pull, 1e-11 * stiffest);
      expect(result.isSolved, `seed ${seed}`).toBe(true);
      expect(check.residual_N, `residual, seed ${seed}`).toBeLessThanOrEqual(allowed);
      expect(check.balance_N, `balance, seed ${seed}`).toBeLessThanOrEqual(allowed * problem.bodies);
      expect(check.complementarity, `complementarity, seed ${seed}`).toBeLessThanOrEqual(1e-8);
      expect(result.steps, `steps, seed ${seed}`).toBeLessThanOrEqual(120);
      if (Math.max(...result.contact_N) > 0.9 * pull) closed++;
    }
    // The instances are worth solving: most of their columns close and carry the pull.
    expect(closed).toBeGreaterThan(0.6 * SEEDS.length);
  });

  test('the same problem gives the same bits', () => {
    for (const family of FAMILIES) {
      const [one, other] = [clamp(clampInstance(family, 7)), clamp(clampInstance(family, 7))];
      expect(one).toEqual(other);
    }
  });

  test.each(FAMILIES)(
    'forces of %s instances do not depend on the numbering of bodies nor on the order of laws',
    (family) => {
      for (const seed of [1, 2, 3, 4, 5, 6, 7, 8]) {
        const problem = clampInstance(family, seed);
        const draw = random(seed);
        const number = draw.shuffled(Array.from({ length: problem.bodies }, (_, k) => k));
        const order = draw.shuffled(problem.contacts.map((_, k) => k));
        const moved = <T extends { a: number; b: number }>(law: T): T => ({
          ...law,
          a: number[law.a]!,
          b: number[law.b]!,
        });
        const other: ClampProblem = {
          bodies: problem.bodies,
          contacts: order.map((k) => moved(problem.contacts[k]!)),
          springs: problem.springs.map(moved),
          pulls: problem.pulls.map(moved),
        };
        const [one, two] = [clamp(problem), clamp(other)];
        order.forEach((k, at) =>
          expect(Math.abs(two.contact_N[at]! - one.contact_N[k]!), `seed ${seed}`).toBeLessThan(0.01),
        );
      }
    },
  );

  test.each(FAMILIES)('forces of %s instances do not depend on where the solve starts', (family) => {
    for (const seed of [11, 12, 13, 14, 15, 16]) {
      const problem = clampInstance(family, seed);
      const draw = random(seed);
      const one = clamp(problem);
      const two = clamp(
        problem,
        Float64Array.from({ length: problem.bodies }, () => draw.between(-3, 3)),
      );
      expect(two.isSolved).toBe(true);
      one.contact_N.forEach((force, k) =>
        expect(Math.abs(two.contact_N[k]! - force), `seed ${seed}`).toBeLessThan(0.01),
      );
    }
  });

  test('seen from the other end, every force is the same and every shift the opposite', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const problem = clampInstance('sprung', seed);
      const swap = <T extends { a: number; b: number }>(law: T): T => ({
        ...law,
        a: problem.bodies - 1 - law.b,
        b: problem.bodies - 1 - law.a,
      });
      const other = clamp({
        bodies: problem.bodies,
        contacts: problem.contacts.map(swap),
        springs: problem.springs.map(swap),
        pulls: problem.pulls.map(swap),
      });
      const one = clamp(problem);
      one.contact_N.forEach((force, k) => expect(other.contact_N[k]).toBeCloseTo(force, 3));
      const spread = (result: ClampResult, i: number, j: number): number => result.shift_mm[i]! - result.shift_mm[j]!;
      for (let i = 1; i < problem.bodies; i++)
        expect(spread(other, problem.bodies - 1 - i, problem.bodies - 1)).toBeCloseTo(-spread(one, i, 0), 6);
    }
  });

  test('lengths and forces in other units give the same state', () => {
    // k in N/mm, lengths × s: shifts × s at forces × s; forces × f at stiffness × f: the same shifts.
    const problem = clampInstance('sprung', 3);
    const one = clamp(problem);
    const longer = clamp({
      bodies: problem.bodies,
      contacts: problem.contacts.map((law) => ({ ...law, gap_mm: 4 * law.gap_mm })),
      springs: problem.springs.map((law) => ({ ...law, play_mm: 4 * law.play_mm, rest_mm: 4 * law.rest_mm })),
      pulls: problem.pulls.map((law) => ({ ...law, force_N: 4 * law.force_N })),
    });
    const stiffer = clamp({
      bodies: problem.bodies,
      contacts: problem.contacts.map((law) => ({ ...law, stiffness_N_per_mm: 8 * law.stiffness_N_per_mm })),
      springs: problem.springs.map((law) => ({ ...law, stiffness_N_per_mm: 8 * law.stiffness_N_per_mm })),
      pulls: problem.pulls.map((law) => ({ ...law, force_N: 8 * law.force_N })),
    });
    one.contact_N.forEach((force, k) => {
      expect(longer.contact_N[k]! / 4).toBeCloseTo(force, 3);
      expect(stiffer.contact_N[k]! / 8).toBeCloseTo(force, 3);
    });
  });
});

describe('checkClamp', () => {
  const problem = clampInstance('stiff', 5);
  const good = clamp(problem);
  const spoil = (
    change: (copy: { shift_mm: Float64Array; contact_N: Float64Array; spring_N: Float64Array }) => void,
  ): ReturnType<typeof checkClamp> => {
    const copy = {
      ...good,
      shift_mm: good.shift_mm.slice(),
      contact_N: good.contact_N.slice(),
      spring_N: good.spring_N.slice(),
    };
    change(copy);
    return checkClamp(problem, copy);
  };
  const pressed = good.contact_N.findIndex((force) => force > 100);
  const open = problem.contacts.findIndex((law, k) => good.contact_N[k] === 0 && law.gap_mm > 0.01);

  test('passes what was solved', () => {
    const check = checkClamp(problem, good);
    expect(Math.max(check.residual_N, check.balance_N, check.complementarity)).toBeLessThan(1e-3);
    expect(check.steps).toBe(good.steps);
  });
  test('sees a force that is too large', () => {
    const check = spoil(({ contact_N }) => (contact_N[pressed]! += 50));
    expect(check.residual_N).toBeGreaterThan(49);
    expect(check.balance_N).toBeGreaterThan(49);
  });
  test('sees a force across an open gap', () => {
    expect(spoil(({ contact_N }) => (contact_N[open] = 25)).complementarity).toBeGreaterThan(0.1);
  });
  test('sees a contact that pulls', () => {
    expect(spoil(({ contact_N }) => (contact_N[open] = -25)).complementarity).toBeGreaterThanOrEqual(25);
  });
  test('sees parts that overlap', () => {
    const { a } = problem.contacts[open]!;
    expect(spoil(({ shift_mm }) => (shift_mm[a]! += 1000)).complementarity).toBeGreaterThan(100);
  });
  test('sees a spring that holds with the wrong force', () => {
    expect(spoil(({ spring_N }) => (spring_N[0]! += 30)).residual_N).toBeGreaterThan(29);
  });
  test('sees a pull that reaches nothing', () => {
    const check = checkClamp(
      { ...problem, pulls: [{ ...problem.pulls[0]!, force_N: problem.pulls[0]!.force_N + 100 }] },
      good,
    );
    expect(check.balance_N).toBeGreaterThan(99);
  });
});
