/**
 * A threaded sleeve in a bore, worked by hand: the reference joint with a rocker boss of 10 mm at the far end that takes
 * the axle's M15 × 1 itself, or by a steel sleeve of M18 × 1.5. The boss is cut for the sleeve and no further: what the
 * two fill is what the plain boss fills. The axle then strips steel, not alloy; the sleeve is torn out of the alloy by its
 * outer thread.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  planOf,
  readData,
  stripOf,
  torqueCards,
  wordFacing,
  wordLimit,
  wordStripStep,
  type Analysis,
  type LinkageModel,
} from '../../shared/index.ts';
import { revolvedVolume_mm3 } from '../../shared/profile/polygon.ts';
import { TORQUE_LIMITS } from '../../shared/torque/limits.ts';
import { flippedModel } from '../bench/models.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

const SLEEVE = { outside_mm: 18, pitch_mm: 1.5, material: 'steel' };
const M15 = { size_mm: 15, pitch_mm: 1, length_mm: 10 };

function data(thread: object) {
  const all = referenceData();
  const [stack] = all.pivots[0]!.stacks;
  stack!.row = stack!.row.filter(({ id }) => !['rocker-bearing-d', 'rocker-d'].includes(id as string));
  Object.assign(stack!, { receiver: 'rocker/right', turned: 'head' });
  const rocker = all.members['rocker']! as { material?: string; bores?: object };
  rocker.material = 'aluminium-6061';
  Object.assign(rocker.bores!, {
    right: { z_from_mm: 27, z_to_mm: 37, bore_mm: 15, boss_mm: 38, arm_stiffness_N_per_mm: 400, thread },
  });
  const shank = [{ diameter_mm: 14.98, length_mm: 71 }];
  Object.assign(all.parts['axle']!, { shank, thread: { ...M15, length_mm: 12 }, material: 'steel' });
  return all;
}

function built(thread: object): LinkageModel {
  const read = readData(data(thread));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.model;
}

const opens = 'non-drive';
const sleeved = built({ ...M15, opens, sleeve: SLEEVE });
const plain = built({ ...M15, opens });
const receiverOf = ({ pivots }: Analysis) =>
  pivots[0]!.stacks[0]!.items.find(({ role, bore }) => role === 'boss' && bore === 'right')!;
const limitsOf = (model: LinkageModel) => torqueCards(analyse(model), 'main')[0]!.window.most;
const limitOf = (model: LinkageModel, kind: string) => limitsOf(model).find((limit) => limit.kind === kind)!;

describe('a threaded sleeve in a bore', () => {
  const analysis = analyse(sleeved);

  test('fills with its boss what the plain boss fills', () => {
    const volumes = (one: Analysis): number[] =>
      receiverOf(one).solids.map(({ polygon }) => revolvedVolume_mm3(polygon));
    const [boss, sleeve] = volumes(analysis);
    // (π/4) · (18² − 15²) · 10.
    expect(sleeve).toBeCloseTo((Math.PI / 4) * 99 * 10, 6);
    expect(boss! + sleeve!).toBeCloseTo(volumes(analyse(plain))[0]!, 6);
    expect(receiverOf(analysis).solids.map(({ material }) => material)).toEqual([expect.any(String), 'steel']);
  });

  test('takes the thread as steel, and is torn out of the boss by its own thread', () => {
    expect(limitOf(sleeved, 'thread-strips').preload_N).toBeGreaterThan(limitOf(plain, 'thread-strips').preload_N);
    expect(limitsOf(plain).map(({ kind }) => kind)).not.toContain('sleeve-strips');
    const torn = limitOf(sleeved, 'sleeve-strips');
    expect(torn.material).toBe(limitOf(plain, 'thread-strips').material);
    // Shear area of the boss's thread: π · 18 · L · (0.5 + 0.577 · (18 − 17.026) / 1.5) = 49.5 mm² for each of L mm, at
    // 310/√3 = 179 MPa for the alloy; a turn or two is not counted on, and a share kept back. Basic sizes: the
    // standard's limits of size leave a little less, never a tenth.
    const whole_N = Math.PI * 18 * 10 * (0.5 + (0.57735 * (18 - 17.0258)) / 1.5) * (310 / Math.sqrt(3));
    const counted = 1 - (TORQUE_LIMITS.lostPitches.value * 1.5) / 10;
    const share = torn.preload_N / (TORQUE_LIMITS.stripShare.value * counted * whole_N);
    expect(share).toBeGreaterThan(0.9);
    expect(share).toBeLessThan(1);
    expect(wordLimit(torn, analysis).text).toContain('10 mm of outer thread of its sleeve');
  });

  test('needs as much thread as steel does, 0.8 of 15 mm, and clamps as the plain boss', () => {
    const [one, other] = [analysis, analyse(plain)].map(({ pivots }) => pivots[0]!.stacks[0]!);
    expect(one!.tightening.engagementNeeded_mm).toBeCloseTo(12, 9);
    expect(other!.tightening.engagementNeeded_mm).toBeCloseTo(15, 9);
    expect(one!.clamp_N / other!.clamp_N).toBeGreaterThan(0.95);
    const there = analyse(flippedModel(sleeved)).pivots[0]!.stacks[0]!;
    expect(there.clamp_N).toBeCloseTo(one!.clamp_N, 6);
  });

  test('is told where it is, and must not come out with the axle', () => {
    expect(wordFacing(receiverOf(analysis), analysis)).toContain('sleeve that is screwed into this boss');
    const undone = stripOf(planOf(analysis)).steps.find(({ kind, step }) => kind === 'undo' && step.kind === 'torque')!;
    expect(wordStripStep(undone, analysis).text).toContain('The threaded sleeve stays in its boss');
  });

  test.each([
    ['as thin as its thread', { ...SLEEVE, outside_mm: 15 }],
    ['as wide as the boss', { ...SLEEVE, outside_mm: 38 }],
  ])('%s is no file', (_, sleeve) => {
    const read = readData(data({ ...M15, opens, sleeve }));
    expect(read.ok ? [] : read.problems.map(({ code }) => code)).toContain('impossible-size');
  });
});
