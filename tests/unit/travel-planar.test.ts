/**
 * The position solver over random linkages whose closed form is known (fast-check, fixed seeds), and its own promises:
 * branch kept, redundant pins tolerated, mobility told, dead centres met and not jumped.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  GROUND,
  loopsOf,
  Planar,
  worldOf,
  type Pin,
  type Place,
  type PlanarSystem,
} from '../../shared/travel/planar.ts';
import { jointForces } from '../../shared/travel/statics.ts';
import { apart, fourBarAngles, fourBarPlaces, fourBarSystem, pinAt, RAD, type Branch } from '../setup/four-bar.ts';
import { cases, property } from '../setup/series.ts';

const length = fc.double({ min: 15, max: 200, noNaN: true });
const bars = fc.record({ crank_mm: length, coupler_mm: length, rocker_mm: length, ground_mm: length });
const angle = fc.double({ min: -Math.PI, max: Math.PI, noNaN: true });
const branch = fc.constantFrom<Branch>('open', 'crossed');
const at = (x_mm: number, y_mm: number): Place => ({ x_mm, y_mm });
const off = (planar: Planar, q: Float64Array): number =>
  Math.max(0, ...loopsOf(planar.system, q).map((loop) => loop.error_mm));

describe('random four-bars', () => {
  test('carried on a way without dead centres they are where Freudenstein says, on their branch (seed 4)', () => {
    let tried = 0;
    fc.assert(
      fc.property(bars, angle, fc.double({ min: -1.2, max: 1.2, noNaN: true }), branch, (bar, from, by, side) => {
        // All the way between must be reachable, and clear of the place where both branches meet.
        for (let k = 0; k <= 24; k++) {
          const here = fourBarAngles(bar, from + (by * k) / 24, side);
          fc.pre(here !== undefined && Math.abs(Math.sin(here.coupler_rad - here.rocker_rad)) > 0.02);
        }
        tried++;
        const start = fourBarAngles(bar, from, side)!;
        const planar = new Planar(fourBarSystem(fourBarPlaces(bar, from, side)!));
        const q = planar.drawn();
        expect(planar.carry(q, by).isThere).toBe(true);
        const wanted = fourBarAngles(bar, from + by, side)!;
        expect(apart(start.coupler_rad + q[5]!, wanted.coupler_rad)).toBeLessThan(1e-7);
        expect(apart(start.rocker_rad + q[8]!, wanted.rocker_rad)).toBeLessThan(1e-7);
        expect(off(planar, q)).toBeLessThan(1e-8);
      }),
      property(4, 200),
    );
    expect(tried).toBeGreaterThan(cases(200) / 2);
  });

  test('where the bars do not reach, it stops at the dead centre the lengths give (seed 5)', () => {
    let met = 0;
    fc.assert(
      fc.property(bars, angle, branch, (bar, from, side) => {
        const drawn = fourBarPlaces(bar, from, side);
        fc.pre(
          drawn !== undefined &&
            Math.abs(
              Math.sin(fourBarAngles(bar, from, side)!.coupler_rad - fourBarAngles(bar, from, side)!.rocker_rad),
            ) > 0.05,
        );
        const { crank_mm, coupler_mm, rocker_mm, ground_mm } = bar;
        // The distance from the crank's end to the rocker's ground pivot must stay between |b − c| and b + c.
        const reach = (turn: number): number =>
          Math.hypot(ground_mm - crank_mm * Math.cos(turn), crank_mm * Math.sin(turn));
        const isOut = (turn: number): boolean =>
          reach(turn) > coupler_mm + rocker_mm || reach(turn) < Math.abs(coupler_mm - rocker_mm);
        let dead: number | undefined;
        for (let k = 1; k <= 3600 && dead === undefined; k++) if (isOut(from + (k * Math.PI) / 3600)) dead = k;
        fc.pre(dead !== undefined);
        let [low, high] = [(dead - 1) * (Math.PI / 3600), dead * (Math.PI / 3600)];
        for (let k = 0; k < 60; k++) {
          const half = (low + high) / 2;
          if (isOut(from + half)) high = half;
          else low = half;
        }
        met++;
        const planar = new Planar(fourBarSystem(drawn!));
        const q = planar.drawn();
        const { isThere, value } = planar.carry(q, Math.PI);
        expect(isThere).toBe(false);
        expect(Math.abs(value - low)).toBeLessThan(1e-6);
        expect(off(planar, q)).toBeLessThan(1e-6);
      }),
      property(5, 60),
    );
    expect(met).toBeGreaterThan(cases(60) / 2);
  });

  test('forces and virtual work agree under any push (seed 6)', () => {
    fc.assert(
      fc.property(bars, angle, branch, angle, (bar, turn, side, way) => {
        const places = fourBarPlaces(bar, turn, side);
        fc.pre(places !== undefined);
        const angles = fourBarAngles(bar, turn, side)!;
        fc.pre(Math.abs(Math.sin(angles.coupler_rad - angles.rocker_rad)) > 0.05);
        const planar = new Planar(fourBarSystem(places!));
        const load = { body: 1, place: places![2], x_N: 500 * Math.cos(way), y_N: 500 * Math.sin(way) };
        const { check, pins } = jointForces(planar, planar.drawn(), [load])!;
        expect(check.residual_N).toBeLessThan(1e-6);
        expect(check.driverWork_N).toBeLessThan(1e-6);
        expect(check.pinWork_N).toBeLessThan(1e-6);
        // The ground carries the push: no force is made on the way.
        expect(pins[0]!.x_N + pins[3]!.x_N + load.x_N).toBeCloseTo(0, 6);
        expect(pins[0]!.y_N + pins[3]!.y_N + load.y_N).toBeCloseTo(0, 6);
      }),
      property(6, 150),
    );
  });
});

test('a chain of two four-bars is solved as one after the other (seed 7)', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -0.5, max: 0.5, noNaN: true }),
      fc.double({ min: 60, max: 90, noNaN: true }),
      (by, rocker_mm) => {
        const first = { crank_mm: 40, coupler_mm: 120, rocker_mm, ground_mm: 100 };
        const second = { crank_mm: rocker_mm, coupler_mm: 110, rocker_mm: 95, ground_mm: 105 };
        const one = fourBarPlaces(first, 1, 'open')!;
        const lever = fourBarAngles(first, 1, 'open')!.rocker_rad;
        const two = fourBarPlaces(second, lever, 'open')!;
        // The second stands on the first one's rocker pivot.
        const moved = two.map(({ x_mm, y_mm }) => at(x_mm + 100, y_mm)) as [Place, Place, Place, Place];
        const base = fourBarSystem(one);
        const system: PlanarSystem = {
          ...base,
          bodies: [...base.bodies, moved[1], moved[2]],
          pins: [...base.pins, pinAt(2, 3, moved[1]), pinAt(3, 4, moved[2]), pinAt(GROUND, 4, moved[3])],
        };
        const planar = new Planar(system);
        expect(planar.mobility(planar.drawn())).toBe(1);
        const q = planar.drawn();
        expect(planar.carry(q, by).isThere).toBe(true);
        const turned = fourBarAngles(first, 1 + by, 'open')!.rocker_rad;
        expect(apart(lever + q[8]!, turned)).toBeLessThan(1e-8);
        expect(
          apart(
            fourBarAngles(second, lever, 'open')!.rocker_rad + q[14]!,
            fourBarAngles(second, turned, 'open')!.rocker_rad,
          ),
        ).toBeLessThan(1e-8);
      },
    ),
    property(7, 60),
  );
});

describe('redundant pins', () => {
  /** A parallelogram with three equal links: two would do. */
  const drawn = (third: number): PlanarSystem => {
    const [r, turn] = [50, 70 * RAD];
    const up = (x: number): Place => at(x + r * Math.cos(turn), r * Math.sin(turn));
    const feet = [0, 80, third];
    const pins = feet.flatMap((x, k) => [pinAt(GROUND, k, at(x, 0)), pinAt(k, 3, up(x))]);
    return { bodies: [...feet.map((x) => at(x, 20)), up(40)], pins, sliders: [], driver: { kind: 'turn', body: 0 } };
  };

  test('count as one motion, and the pose closes in all of them', () => {
    const planar = new Planar(drawn(140));
    const q = planar.drawn();
    expect(planar.mobility(q)).toBe(1);
    expect(planar.equations).toBe(planar.unknowns);
    expect(planar.carry(q, 0.6).isThere).toBe(true);
    expect([q[2], q[5], q[8]].every((turn) => Math.abs(turn! - 0.6) < 1e-9)).toBe(true);
    expect(Math.abs(q[11]!)).toBeLessThan(1e-9);
    expect(off(planar, q)).toBeLessThan(1e-9);
  });

  test('share the load by least squares and say so', () => {
    const planar = new Planar(drawn(140));
    const { check, pins } = jointForces(planar, planar.drawn(), [{ body: 3, place: at(70, 47), x_N: 30, y_N: -100 }])!;
    expect(check.isShared).toBe(true);
    expect(check.residual_N).toBeLessThan(1e-9);
    expect(check.driverWork_N).toBeLessThan(1e-9);
    const up = pins[0]!.y_N + pins[2]!.y_N + pins[4]!.y_N;
    expect(up).toBeCloseTo(100, 9);
  });

  test('that contradict one another lock the linkage', () => {
    const system = drawn(140);
    // The third link's head stands off its place: not a parallelogram any more.
    const pins = system.pins.map((pin, k) => (k === 5 ? pinAt(pin.a, pin.b, at(140 + 30, 40)) : pin));
    const planar = new Planar({ ...system, pins });
    expect(planar.mobility(planar.drawn())).toBe(0);
    const q = planar.drawn();
    expect(planar.carry(q, 0.3).isThere).toBe(false);
  });
});

describe('mobility', () => {
  const pin = (a: number, b: number, x: number, y: number): Pin => pinAt(a, b, at(x, y));
  test('counts what hangs loose, and tells its motion', () => {
    const planar = new Planar({
      bodies: [at(50, 0), at(100, 50)],
      pins: [pin(GROUND, 0, 0, 0), pin(0, 1, 100, 0)],
      sliders: [],
      driver: { kind: 'turn', body: 0 },
    });
    expect(planar.mobility(planar.drawn())).toBe(2);
    const held = planar.freedom(planar.drawn(), true);
    expect(held).toHaveLength(1);
    expect(Math.abs(held[0]![2]!)).toBeLessThan(1e-12);
    expect(Math.abs(held[0]![5]!)).toBeGreaterThan(1e-4);
    // The driver still drives; what hangs loose does not turn more than it must.
    const q = planar.drawn();
    expect(planar.carry(q, 0.4).isThere).toBe(true);
    expect(q[2]).toBeCloseTo(0.4, 12);
    expect(off(planar, q)).toBe(0);
    const tip = worldOf(planar.system, q, 0, at(100, 0));
    const tail = worldOf(planar.system, q, 1, at(100, 0));
    expect(Math.hypot(tip.x_mm - tail.x_mm, tip.y_mm - tail.y_mm)).toBeLessThan(1e-9);
  });

  test('a triangle of bars is a structure', () => {
    const planar = new Planar({
      bodies: [at(50, 0), at(20, 40)],
      pins: [pin(GROUND, 0, 0, 0), pin(0, 1, 60, 60), pin(GROUND, 1, 120, 0)],
      sliders: [],
      driver: { kind: 'turn', body: 0 },
    });
    expect(planar.mobility(planar.drawn())).toBe(0);
    expect(planar.carry(planar.drawn(), 0.1).isThere).toBe(false);
  });

  test('nothing at all has no way to move', () => {
    const planar = new Planar({
      bodies: [],
      pins: [],
      sliders: [{ a: GROUND, b: GROUND, from: at(0, 0), to: at(10, 0) }],
      driver: { kind: 'slider', slider: 0 },
    });
    expect(planar.mobility(planar.drawn())).toBe(0);
  });
});

test('put together from a rough start, it finds the closed pose', () => {
  const places = fourBarPlaces({ crank_mm: 40, coupler_mm: 120, rocker_mm: 80, ground_mm: 100 }, 40 * RAD, 'open')!;
  const planar = new Planar(fourBarSystem(places));
  const q = Float64Array.from([4, -6, 0.1, -3, 5, -0.15, 6, 2, 0.2]);
  const settled = planar.settle(q, 0);
  expect(settled.isSolved).toBe(true);
  expect(settled.error_mm).toBeLessThan(1e-9);
  expect([...q].every((value) => Math.abs(value) < 1e-8)).toBe(true);
});
