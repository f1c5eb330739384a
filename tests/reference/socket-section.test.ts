/**
 * The metal round a drive socket, worked by hand: a screw threaded to its head carries on the stress diameter of its
 * thread, not on its nominal size, and a wall thinner than a set screw's is trusted with half its yield.
 */
import { describe, expect, it, test } from 'vitest';
import type { LinkageModel } from '../../shared/index.ts';
import { resolveModel } from '../../shared/model/resolve.ts';
import { metricThread, preloadAtYield } from '../../shared/standards/index.ts';
import { TORQUE_LIMITS } from '../../shared/torque/limits.ts';
import { sectionsOf, type Section } from '../../shared/torque/sections.ts';
import { setUpTorque, torqueStack } from '../../shared/torque/setup.ts';
import { demoModels, withStacks } from '../bench/models.ts';
import setScrews from './data/set-screw-sockets.json';

const base = demoModels().find(({ id }) => id === 'fjordside-150')!;
const stackId = 'rear-left';
const written = base.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stackId)!;
type Bolt = Extract<LinkageModel['parts'][string], { kind: 'bolt' }>;
const bolt = base.parts[written.axle] as Bolt;

/**
 * The head socket of the demo's short bolt with a flat head, a thread from `plain_mm` under it on, and a hex of
 * `key_mm`.
 */
function socketOf(key_mm: number, plain_mm: number, plain_diameter_mm = bolt.thread.size_mm): Section {
  const length = bolt.shank.reduce((sum, { length_mm }) => sum + length_mm, 0);
  const { size_mm } = bolt.thread;
  const part: Bolt = {
    ...bolt,
    head: { diameter_mm: bolt.head.diameter_mm, height_mm: 2 },
    shank: [
      ...(plain_mm > 0 ? [{ diameter_mm: plain_diameter_mm, length_mm: plain_mm }] : []),
      { diameter_mm: size_mm, length_mm: length - plain_mm },
    ],
    thread: { ...bolt.thread, length_mm: length - plain_mm },
  };
  const one = withStacks({ ...base, parts: { ...base.parts, [written.axle]: part } }, (stack) =>
    stack.axle === written.axle ? { ...stack, drives: { head: { tool: 'hex-key', size_mm: key_mm } } } : stack,
  );
  const pivot = one.pivots.find(({ stacks }) => stacks.some(({ id }) => id === stackId))!;
  const found = sectionsOf(torqueStack(setUpTorque(resolveModel(one), pivot.id), stackId));
  return found.find(({ kind }) => kind === 'head-socket')!;
}

describe('a hex socket in a screw threaded to its head', () => {
  const key_mm = 5;
  const corner_mm = 10 / Math.sqrt(3);
  const { size_mm, pitch_mm } = bolt.thread;
  // d2 = d − 0.649519 P, d3 = d − 1.226869 P.
  const stress_mm = size_mm - ((0.649519 + 1.226869) / 2) * pitch_mm;

  it('carries on the stress diameter', () => {
    const section = socketOf(key_mm, 0);
    expect(section.outside_mm).toBeCloseTo(stress_mm, 4);
    expect(section.bore_mm).toBeCloseTo(corner_mm, 9);
    expect(1 / section.tension_MPa_per_N).toBeCloseTo((Math.PI / 4) * (stress_mm ** 2 - corner_mm ** 2), 2);
  });

  it('so that its preload at yield is well below that of the nominal size', () => {
    const friction = { size_mm, pitch_mm, threadFriction: 0.08, bore_mm: corner_mm, yield_MPa: 1000 };
    const ratio = socketOf(key_mm, 0).vonMises_MPa_per_N / socketOf(key_mm, 12).vonMises_MPa_per_N;
    expect(ratio).toBeGreaterThan(1.1);
    expect(preloadAtYield({ ...friction, outside_mm: size_mm }) / preloadAtYield(friction)).toBeCloseTo(ratio, 1);
  });

  it('a plain shank as deep as the socket carries itself, its thinnest part first', () => {
    // A hex of 5 is taken as 5 deep and the head is 2: the socket reaches 3 mm below it.
    expect(socketOf(key_mm, 3.01).outside_mm).toBe(size_mm);
    expect(socketOf(key_mm, 2.99).outside_mm).toBeCloseTo(stress_mm, 4);
    expect(socketOf(key_mm, 2.99, size_mm + 2).outside_mm).toBeCloseTo(stress_mm, 4);
    expect(socketOf(key_mm, 3.01, size_mm + 2).outside_mm).toBe(size_mm + 2);
  });

  it('weaker with every wider key, and all but nothing where the corners reach the root', () => {
    const keys = [4, 5, 6, 7, 8, 9, 10, 12];
    const yields = keys.map((key) => {
      const { yield_MPa, vonMises_MPa_per_N } = socketOf(key, 0);
      return yield_MPa / vonMises_MPa_per_N;
    });
    expect([...yields].sort((a, b) => b - a)).toEqual(yields);
    expect(yields.at(-1)!).toBeLessThan(1000);
  });
});

describe(setScrews.source, () => {
  test.each(setScrews.rows)('M$size_mm with a key of $key_mm keeps the wall', ({ size_mm, pitch_mm, key_mm }) => {
    const { rootDiameter_mm } = metricThread({ size_mm, pitch_mm });
    const share = (rootDiameter_mm - (2 * key_mm) / Math.sqrt(3)) / 2 / rootDiameter_mm;
    expect(share).toBeGreaterThan(TORQUE_LIMITS.socketWall.value);
    expect(share).toBeLessThan(1.65 * TORQUE_LIMITS.socketWall.value);
  });
});

it('a wall below the limit is trusted with half the yield', () => {
  const { rootDiameter_mm } = metricThread(bolt.thread);
  const keyAt = (share: number): number => ((1 - 2 * share) * rootDiameter_mm * Math.sqrt(3)) / 2;
  const [thick, thin] = [1.01, 0.99].map((times) => socketOf(keyAt(times * TORQUE_LIMITS.socketWall.value), 0));
  expect(thin!.yield_MPa / thick!.yield_MPa).toBe(0.5);
});
