/**
 * Slider linkages whose closed form is known: the law of cosines for a shock on one arm, the slider-crank
 * x = r·cos θ + √(l² − r²·sin² θ), and the inverted slider. Source: plane trigonometry (d).
 */
import { describe, expect, test } from 'vitest';
import { GROUND, loopsOf, Planar, sliderLength, type PlanarSystem } from '../../shared/travel/planar.ts';
import { axleAt, axlePath, jointTurns, poseAt, runShock } from '../../shared/travel/poses.ts';
import { staticsAt } from '../../shared/travel/statics.ts';
import { apart, pinAt, RAD } from '../setup/four-bar.ts';
import { oneArm } from '../setup/linkages.ts';

describe('a shock on one arm', () => {
  const [pivot, frameEye, armEye, axle] = [
    [10, 20],
    [130, 60],
    [-40, 110],
    [-400, -5],
  ] as const;
  const model = oneArm(pivot, frameEye, armEye, axle, 50);
  const run = runShock(model, 21)!;
  const reach = Math.hypot(armEye[0] - pivot[0], armEye[1] - pivot[1]);
  const base = Math.hypot(frameEye[0] - pivot[0], frameEye[1] - pivot[1]);
  const length = Math.hypot(frameEye[0] - armEye[0], frameEye[1] - armEye[1]);
  const angleAt = (long: number): number => Math.acos((reach ** 2 + base ** 2 - long ** 2) / (2 * reach * base));

  test('turns as the law of cosines says, at every stroke', () => {
    const [turn] = jointTurns(run).filter(({ joint }) => joint.id === 'main');
    run.poses.forEach(({ drive }, k) => {
      // A shorter shock draws the arm's eye clockwise toward the frame's.
      const wanted = -(angleAt(length) - angleAt(length - drive));
      expect(apart(turn!.turn_deg[k]! * RAD, wanted)).toBeLessThan(1e-10);
    });
  });

  test('the axle stays on its circle, and its path is that arc', () => {
    const radius = Math.hypot(axle[0] - pivot[0], axle[1] - pivot[1]);
    for (const pose of run.poses) {
      const place = axleAt(run, pose)!;
      expect(Math.hypot(place.x_mm - pivot[0], place.y_mm - pivot[1])).toBeCloseTo(radius, 9);
    }
    const arc = radius * (angleAt(length) - angleAt(length - 50));
    expect(axlePath(run)!.length_mm).toBeLessThan(arc);
    expect(axlePath(run)!.length_mm).toBeGreaterThan(arc * (1 - 1e-4));
  });

  test('the shock holds the wheel by the lever rule, without side push or couple', () => {
    for (const pose of run.poses) {
      const statics = staticsAt(run, pose, { x_N: 0, y_N: 1000 })!;
      const place = axleAt(run, pose)!;
      const gamma = angleAt(length - pose.drive);
      // Distance of the pivot from the shock's line, from the triangle's area.
      const arm = (reach * base * Math.sin(gamma)) / (length - pose.drive);
      expect(Math.abs(statics.shock_N - (1000 * (pivot[0] - place.x_mm)) / arm)).toBeLessThan(1e-8);
      expect(Math.abs(statics.shockSide_N)).toBeLessThan(1e-8);
      expect(Math.abs(statics.shockCouple_Nmm)).toBeLessThan(1e-6);
    }
  });

  test('between two poses one solve finds the same pose as a run of its own', () => {
    const pose = poseAt(run, 17.3)!;
    expect(new Planar(run.system).valueAt(pose.q)).toBeCloseTo(length - 17.3, 9);
    expect(poseAt(run, 50.01)).toBeUndefined();
    expect(poseAt(run, -0.01)).toBeUndefined();
    expect(poseAt(run, 25)).toBe(run.poses[10]);
  });

  test('ends where the three joints come into line', () => {
    const far = runShock(oneArm(pivot, frameEye, armEye, axle, 160), 8)!;
    expect(far.stop!.kind).toBe('dead-centre');
    expect(length - far.stop!.at).toBeCloseTo(Math.abs(base - reach), 4);
    expect(far.stop!.members).toContain('arm');
    expect(far.poses.at(-1)!.drive).toBeLessThan(far.stop!.at);
  });
});

describe('slider-crank', () => {
  const [r, l] = [45, 130];
  const xAt = (turn: number): number => r * Math.cos(turn) + Math.sqrt(l * l - (r * Math.sin(turn)) ** 2);
  /** Crank about the origin, rod, block on a line of the ground along x. */
  const system = (turn: number, driver: PlanarSystem['driver']): PlanarSystem => {
    const pin = { x_mm: r * Math.cos(turn), y_mm: r * Math.sin(turn) };
    const block = { x_mm: xAt(turn), y_mm: 0 };
    return {
      bodies: [{ x_mm: 0, y_mm: 0 }, pin, block],
      pins: [pinAt(GROUND, 0, { x_mm: 0, y_mm: 0 }), pinAt(0, 1, pin), pinAt(1, 2, block)],
      sliders: [{ a: GROUND, b: 2, from: { x_mm: 0, y_mm: 0 }, to: block }],
      driver,
    };
  };

  test('the block goes where the closed form says, once round', () => {
    const planar = new Planar(system(0.4, { kind: 'turn', body: 0 }));
    const q = planar.drawn();
    for (let turn = 0; turn <= 360; turn += 15) {
      expect(planar.carry(q, turn * RAD).isThere).toBe(true);
      expect(sliderLength(planar.system, q, planar.system.sliders[0]!)).toBeCloseTo(xAt(0.4 + turn * RAD), 9);
      expect(Math.max(...loopsOf(planar.system, q).map((loop) => loop.error_mm))).toBeLessThan(1e-9);
    }
  });

  test('driven at the block it stops at both dead centres, each at its own length', () => {
    for (const [goal, dead] of [
      [r + l + 10, r + l],
      [l - r - 10, l - r],
    ] as const) {
      const planar = new Planar(system(0.4, { kind: 'slider', slider: 0 }));
      const q = planar.drawn();
      const { isThere, value } = planar.carry(q, goal);
      expect(isThere).toBe(false);
      expect(Math.abs(value - dead)).toBeLessThan(1e-6);
      expect(planar.clearOfDeadCentre(q)).toBeLessThan(1e-2);
    }
  });

  test('keeps its side of the crank', () => {
    for (const side of [1, -1]) {
      const planar = new Planar(system(side * 0.9, { kind: 'slider', slider: 0 }));
      const q = planar.drawn();
      expect(planar.carry(q, xAt(2)).isThere).toBe(true);
      expect(side * 0.9 + q[2]!).toBeCloseTo(side * 2, 8);
    }
  });
});
