/**
 * A boss that a pinch bolt closes on the axle, worked by hand: the reference joint with a plain shell of 44 mm in place
 * of its bearings, bored 15.1 for an axle of 14.98. It has 0.12 mm to close. A bolt closes half of a slot, and with it
 * 1/π of that of the bore: 0.159 mm of a slot of 1 mm, 0.095 mm of one of 0.6 mm.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  mistakes,
  planOf,
  readData,
  stripOf,
  wordFacing,
  wordFinding,
  wordPlanStep,
  wordSecuring,
  wordStripStep,
  wordTried,
  type LinkageModel,
} from '../../shared/index.ts';
import { flippedModel } from '../bench/models.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

const BOLT = { torque_Nm: 6, drive: { tool: 'hex-key', size_mm: 4 } };

function data(slot_mm: number | undefined, entry: object) {
  const all = referenceData();
  const { row } = all.pivots[0]!.stacks[0]!;
  const shell = { z_from_mm: -22, z_to_mm: 22, bore_mm: 15.1, boss_mm: 38 };
  Object.assign(all.members['frame']!, {
    material: 'steel',
    bores: { shell: { ...shell, ...(slot_mm === undefined ? {} : { slot_mm }) } },
  });
  all.pivots[0]!.stacks[0]!.row = row
    .filter(({ id }) => !['frame-bearing-nd', 'frame-bearing-d', 'sleeve'].includes(id as string))
    .map((one) => (one.id === 'shell' ? { ...one, ...entry } : one));
  return all;
}

function pinched(slot_mm: number | undefined, entry: object = BOLT): LinkageModel {
  const read = readData(data(slot_mm, entry));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.model;
}

const tipFindings = (model: LinkageModel) =>
  analyse(model).pivots[0]!.findings.filter(({ code }) => code === 'tip-misfitted' || code.startsWith('fit-too'));

describe('a pinched boss', () => {
  const model = pinched(1);
  const analysis = analyse(model);

  test('closes on the axle, clamps as it did, and its room is no loose fit', () => {
    expect(tipFindings(model)).toEqual([]);
    const plain = analyse(pinched(undefined, {}));
    expect(analysis.pivots[0]!.stacks[0]!.clamp_N).toBe(plain.pivots[0]!.stacks[0]!.clamp_N);
    const shell = analysis.pivots[0]!.stacks[0]!.items.find(({ rowId }) => rowId === 'shell')!;
    expect(wordFacing(shell, analysis)).toContain('pinch bolt');
    expect(tipFindings(flippedModel(model))).toEqual([]);
  });

  test('takes its own torque and tool after the axle, and is opened before it', () => {
    const plan = planOf(analysis);
    const at = plan.steps.findIndex(({ kind }) => kind === 'secure');
    expect(plan.steps.slice(0, at).map(({ kind }) => kind)).toContain('torque');
    const step = plan.steps[at]!;
    expect([step.torque_Nm, step.items]).toEqual([6, ['main/shell']]);
    expect(step.tools).toEqual([expect.objectContaining({ kind: 'drive', tool: BOLT.drive, isTorque: true })]);
    expect(wordPlanStep(step, analysis).title).toBe('Pinch frame boss, 6 N·m');
    expect(wordSecuring('main', analysis)).toBe('After the axle: the pinch bolt of frame boss 6 N·m, 4 mm hex key.');
    const undone = stripOf(plan).steps.filter(({ kind }) => kind === 'undo');
    const kinds = undone.map(({ step: { kind } }) => kind);
    expect(kinds.indexOf('secure')).toBeLessThan(kinds.indexOf('torque'));
    expect(wordStripStep(undone[kinds.indexOf('secure')]!, analysis).title).toMatch(/^Open the pinch bolt of/);
  });

  test('whose bolt is forgotten is a row to look at, which the wrench finds', () => {
    const row = mistakes(model).find(({ mistake }) => mistake.id === 'under-tightened:main/shell')!;
    expect([row.verdict, row.isSilent, row.trail]).toEqual(['unsure', true, ['works-loose']]);
    const words = wordTried(row, analysis);
    expect(words.title).toMatch(/^Pinch bolt of .* left loose$/);
    expect(words.check).toContain('set to 6 N·m');
    expect(words.does.join(' ')).toContain('Tighten the pinch bolt of');
  });

  test('with a slot of 0.6 mm does not close, and says by how much', () => {
    const found = tipFindings(pinched(0.6));
    expect(found.map(({ about, severity, parts }) => [about!['how'], severity, parts])).toEqual([
      ['will-not-close', 'warn', ['main/shell', 'main/axle']],
    ]);
    expect(found[0]!.numbers['room_mm']!.value).toBeCloseTo(0.12, 9);
    expect(found[0]!.limit!.value).toBeCloseTo(0.3 / Math.PI, 9);
    expect(wordFinding(found[0]!, analyse(pinched(0.6))).title).toBe('Boss too wide for its bolt');
  });

  test.each([
    ['a slot without a torque and a tool', 1, {}, ['missing', 'drive-missing']],
    ['a torque without a slot', undefined, BOLT, ['unknown-key', 'unknown-key']],
    ['a slot wider than half the bore', 8, BOLT, ['impossible-size']],
  ] as const)('%s is no file', (_, slot_mm, entry, codes) => {
    const read = readData(data(slot_mm, entry));
    expect(read.ok ? [] : read.problems.map(({ code }) => code)).toEqual(codes);
  });
});
