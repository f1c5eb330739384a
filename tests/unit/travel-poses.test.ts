/**
 * Runs of whole models: the demo bikes, the symmetries that hold for any of them (mirror, scale, turn, move, seen from
 * the other side, renamed), and what is said where a linkage cannot do what is asked.
 */
import { describe, expect, test } from 'vitest';
import type { LinkageModel } from '../../shared/index.ts';
import { clearances } from '../../shared/travel/clearance.ts';
import { linkageOf } from '../../shared/travel/linkage.ts';
import {
  axlePath,
  memberMotions,
  pivotPlaces,
  jointTurns,
  poseAt,
  driveTurn,
  runShock,
  type Run,
} from '../../shared/travel/poses.ts';
import { staticsAt } from '../../shared/travel/statics.ts';
import { demoModels, flippedModel, renamedModel } from '../bench/models.ts';
import { laidOut, layModel, oneArm, sketchModel, type Layout } from '../setup/linkages.ts';
import { resolveModel } from '../../shared/model/resolve.ts';

/** A run by the turn of one member, the shock out. */
const freeRun = (model: LinkageModel, member: string, from_rad: number, to_rad: number, count: number) =>
  driveTurn(linkageOf(resolveModel(model), true), member, from_rad, to_rad, count);

const models = demoModels();
const shocked = models.filter((model) => model.shock).map((model) => [model.id, model] as const);
const POSES = 13;
const LAYOUTS: readonly (readonly [string, Layout])[] = [
  ['mirrored', { isMirrored: true }],
  ['scaled', { scale: 1.7 }],
  ['turned', { turn_deg: 63 }],
  ['moved', { move_mm: [-250, 90] }],
  ['all of it at once', { isMirrored: true, scale: 0.6, turn_deg: -140, move_mm: [33, 71] }],
];

describe.each(shocked)('%s', (_, model) => {
  const run = runShock(model, POSES)!;
  const turns = jointTurns(run);

  test('moves one way, closes in every pose, and uses its whole stroke', () => {
    expect(run.mobility).toEqual({ count: 1, members: [] });
    expect(run.stop).toBeUndefined();
    expect(run.closure_mm).toBeLessThan(1e-9);
    expect(run.poses.map(({ drive }) => drive)).toHaveLength(POSES);
    expect(run.poses[0]!.drive).toBe(0);
    expect(run.poses.at(-1)!.drive).toBe(model.shock!.stroke_mm);
  });

  test('every pivot stands where each of its bodies puts it', () => {
    for (const pose of run.poses) {
      const motions = memberMotions(run, pose);
      for (const [id, place] of Object.entries(pivotPlaces(run, pose))) {
        const pivot = run.linkage.pivots.find((candidate) => candidate.id === id)!;
        for (const body of pivot.bodies) {
          const member = [...run.linkage.bodyOf].find(([, own]) => own === body)![0];
          const { x_mm, y_mm, angle_rad } = motions[member]!;
          const [cos, sin] = [Math.cos(angle_rad), Math.sin(angle_rad)];
          expect(x_mm + cos * pivot.place.x_mm - sin * pivot.place.y_mm).toBeCloseTo(place.x_mm, 8);
          expect(y_mm + sin * pivot.place.x_mm + cos * pivot.place.y_mm).toBeCloseTo(place.y_mm, 8);
        }
      }
    }
  });

  test('rates are what neighbouring poses show', () => {
    const step = 1e-4;
    for (const pose of [run.poses[3]!, run.poses[9]!]) {
      const [before, after] = [poseAt(run, pose.drive - step)!, poseAt(run, pose.drive + step)!];
      pose.rate.forEach((rate, k) =>
        expect(Math.abs((after.q[k]! - before.q[k]!) / (2 * step) - rate)).toBeLessThan(1e-6),
      );
    }
  });

  test('the same poses however finely it is run', () => {
    const fine = runShock(model, 4 * (POSES - 1) + 1)!;
    run.poses.forEach((pose, k) =>
      pose.q.forEach((value, at) => expect(Math.abs(fine.poses[4 * k]!.q[at]! - value)).toBeLessThan(1e-8)),
    );
  });

  test.each(LAYOUTS)('%s: the same turns, path, gaps and forces', (_, layout) => {
    const laid = layModel(model, layout);
    const other = runShock(laid, POSES)!;
    const scale = layout.scale ?? 1;
    const sense = layout.isMirrored === true ? -1 : 1;
    jointTurns(other).forEach((turn, k) =>
      turn.turn_deg.forEach((value, at) =>
        expect(Math.abs(value - sense * turns[k]!.turn_deg[at]!)).toBeLessThan(1e-7),
      ),
    );
    expect(axlePath(other)!.length_mm).toBeCloseTo(scale * axlePath(run)!.length_mm, 6);
    axlePath(other)!.places.forEach((place, k) => {
      const [x, y] = laidOut(layout, axlePath(run)!.places[k]!.x_mm, axlePath(run)!.places[k]!.y_mm);
      expect(Math.hypot(place.x_mm - x, place.y_mm - y)).toBeLessThan(1e-6);
    });
    const [x_N, y_N] = laidOut({ ...layout, scale: 1, move_mm: [0, 0] }, 0, 1000);
    other.poses.forEach((pose, k) => {
      const [here, there] = [
        staticsAt(run, run.poses[k]!, { x_N: 0, y_N: 1000 })!,
        staticsAt(other, pose, { x_N, y_N })!,
      ];
      expect(there.shock_N).toBeCloseTo(here.shock_N, 5);
      there.pivots.forEach(({ most_N }, p) => expect(most_N).toBeCloseTo(here.pivots[p]!.most_N, 5));
    });
    const gaps = clearances(run);
    const laidGaps = clearances(other);
    expect(laidGaps.length).toBe(gaps.length);
    gaps.forEach(({ gap_mm }, k) => expect(Math.abs(laidGaps[k]!.gap_mm - scale * gap_mm)).toBeLessThan(1e-6));
  });

  test('seen from the other side, and with every id another, nothing changes', () => {
    for (const other of [flippedModel(model), renamedModel(model, (id) => `${id}-x`)]) {
      const again = runShock(other, POSES)!;
      expect(axlePath(again)!.rise_mm).toBeCloseTo(axlePath(run)!.rise_mm, 9);
      expect(jointTurns(again).map(({ range_deg }) => range_deg.toFixed(6))).toEqual(
        turns.map(({ range_deg }) => range_deg.toFixed(6)),
      );
      expect(clearances(again).map(({ gap_mm }) => gap_mm.toFixed(6))).toEqual(
        clearances(run).map(({ gap_mm }) => gap_mm.toFixed(6)),
      );
    }
  });

  test('with the shock out and a member turned as far, it stands the same', () => {
    const last = run.poses.at(-1)!;
    const [member, motion] = Object.entries(memberMotions(run, last)).find(
      ([id, { angle_rad }]) => model.members[id]!.kind === 'rocker' && angle_rad !== 0,
    )!;
    const drawn = memberMotions(run, poseAt(run, 0)!)[member]!.angle_rad;
    const free = freeRun(model, member, Math.min(motion.angle_rad, 0), Math.max(motion.angle_rad, 0), 9);
    expect(free.mobility.count).toBe(1);
    const end = free.poses.find(({ drive }) => Math.abs(drive - motion.angle_rad) < 1e-9)!;
    expect(drawn).not.toBe(motion.angle_rad);
    for (const [id, place] of Object.entries(memberMotions(free, end))) {
      const same = memberMotions(run, last)[id]!;
      expect(Math.abs(place.x_mm - same.x_mm) + Math.abs(place.y_mm - same.y_mm)).toBeLessThan(1e-7);
    }
  });
});

test('plates of one axle move as one body', () => {
  const holt = models.find(({ id }) => id === 'holt-120')!;
  const linkage = linkageOf(resolveModel(holt));
  expect(linkage.bodies.map(({ members }) => members)).toContainEqual(['rocker-left', 'rocker-right']);
  // Left as two bodies each, the pins are redundant: the solver bears that as well.
  const split = sketchModel({
    pivots: { a: [0, 0], b: [0, 60], c: [100, 60], d: [100, 0] },
    members: {
      frame: { kind: 'frame', at: ['a', 'd'] },
      left: { at: ['a', 'b'] },
      top: { at: ['b', 'c'] },
      right: { at: ['d', 'c'] },
    },
  });
  const twin = {
    ...split,
    members: { ...split.members, twin: split.members['left']! },
    pivots: split.pivots.map((pivot) => ({
      ...pivot,
      stacks: pivot.stacks.map((stack) => ({
        ...stack,
        row: stack.row.flatMap((entry) =>
          entry.member === 'left' ? [entry, { ...entry, id: 'twin', member: 'twin' }] : [entry],
        ),
      })),
    })),
  };
  expect(
    linkageOf(resolveModel(twin)).bodies.some(({ members }) => members.includes('left') && members.includes('twin')),
  ).toBe(true);
  expect(freeRun(twin, 'right', -0.3, 0.3, 5).mobility.count).toBe(1);
});

describe('what cannot run', () => {
  const long = oneArm([0, 0], [120, 40], [-40, 90], [-400, 0], 60);

  test('a shock that is too long is out of reach, with where the linkage ends', () => {
    const base = Math.hypot(120, 40);
    const reach = Math.hypot(40, 90);
    const run = runShock(long, 5, { eyeToEye_mm: base + reach + 5 })!;
    expect(run.poses).toEqual([]);
    expect(run.stop).toMatchObject({ kind: 'out-of-reach' });
    expect(run.stop!.at).toBeCloseTo(base + reach, 4);
    expect(run.stop!.members).toContain('arm');
    expect(jointTurns(run).every(({ range_deg }) => range_deg === 0)).toBe(true);
    expect(clearances(run)).toEqual([]);
    expect(axlePath(run)).toBeUndefined();
    expect(poseAt(run, 0)).toBeUndefined();
  });

  test('a member held by two pivots stands still with the frame', () => {
    const model = sketchModel({
      pivots: { a: [0, 0], b: [50, 0], c: [80, 40] },
      members: {
        frame: { kind: 'frame', at: ['a', 'b'] },
        bracket: { at: ['a', 'b', 'c'] },
        arm: { kind: 'swingarm', at: ['c'] },
      },
    });
    const linkage = linkageOf(resolveModel(model));
    expect(linkage.ground).toEqual(['frame', 'bracket']);
    expect(linkage.bodies.map(({ members }) => members)).toEqual([['arm']]);
  });

  test('a structure is locked, and the members of it are told', () => {
    const model = sketchModel({
      pivots: { a: [0, 0], b: [60, 50], c: [120, 0] },
      members: { frame: { kind: 'frame', at: ['a', 'c'] }, one: { at: ['a', 'b'] }, other: { at: ['b', 'c'] } },
    });
    const run = freeRun(model, 'one', -0.2, 0.2, 5);
    expect(run.mobility.count).toBe(0);
    expect([...run.mobility.members].sort()).toEqual(['one', 'other']);
  });

  test('a member that hangs on one pivot is loose', () => {
    const model = sketchModel({
      pivots: { a: [0, 0], b: [80, 0], c: [160, 10] },
      members: { frame: { kind: 'frame', at: ['a'] }, arm: { at: ['a', 'b'] }, tail: { at: ['b', 'c'] } },
    });
    const run = freeRun(model, 'arm', -0.2, 0.2, 5);
    expect(run.mobility).toEqual({ count: 2, members: ['tail'] });
  });

  test('only a member that moves can drive', () => {
    expect(() => freeRun(long, 'frame', 0, 1, 3)).toThrow(/frame.*arm/);
    expect(() => freeRun(long, 'nothing', 0, 1, 3)).toThrow(RangeError);
    expect(() => freeRun(long, 'shaft', 0, 1, 3)).toThrow(RangeError);
  });

  test('a bike without a shock is not driven by one', () => {
    expect(runShock(models.find(({ id }) => id === 'class-rig')!, 5)).toBeUndefined();
    const { shock: _shock, ...without } = long;
    expect(runShock(without, 5)).toBeUndefined();
    // A shock with one eye on nothing is none.
    const loose: typeof long = { ...long, pivots: long.pivots.filter(({ id }) => id !== 'eye-frame') };
    expect(runShock(loose, 5)).toBeUndefined();
  });
});

test('poses are drawn from the run, never from an earlier question', () => {
  const model = shocked[0]![1];
  const run: Run = runShock(model, 9)!;
  const before = run.poses.map(({ q }) => [...q]);
  for (const drive of [3.3, 31.7, 12.1]) poseAt(run, drive);
  expect(run.poses.map(({ q }) => [...q])).toEqual(before);
});

test.each(shocked)('%s: a run that a worker has handed over is solved between its poses as before', (_, model) => {
  const run = runShock(model, 9)!;
  const stroke = run.poses.at(-1)!.drive;
  for (const share of [0.03, 0.41, 0.97]) {
    const [here, there] = [run, structuredClone(run)].map((one) => poseAt(one, share * stroke)!);
    expect(there!.drive).toBe(here!.drive);
    expect([...there!.q]).toEqual([...here!.q]);
    expect([...there!.rate]).toEqual([...here!.rate]);
  }
});
