/**
 * What is tightened on an axle's tip, worked by hand on the reference joint with an axle of 92 mm: from the face under the
 * head the column takes 68 mm, the nut to 83, and 92 − 83 = 9 mm of the axle's 15 × 1 tip stand out.
 *
 * A lock nut, a split clamp of 8 mm and the cone of an expander stand there, from 83 on. A bolt closes half of a slot of
 * 1.5 mm, and with it 0.75/π = 0.239 mm of the clamp's bore. A cone from 8 to 12 over 12 mm in a hole of 10 goes in by
 * half of its length, so that it begins at 92 − 6 = 86.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  isLookAlike,
  listMistakes,
  mistakes,
  planOf,
  readData,
  stripOf,
  wordFacing,
  wordFinding,
  wordPlanStep,
  wordStripStep,
  wordTried,
  type Analysis,
  type LinkageModel,
  type PlacedItem,
} from '../../shared/index.ts';
import { flippedModel } from '../bench/models.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

const THREAD = { size_mm: 15, pitch_mm: 1, length_mm: 8 };
const TIPS: Readonly<Record<string, Readonly<Record<string, unknown>>>> = {
  nut: { kind: 'nut', name: 'Lock nut, 8 mm', outside_mm: 24, length_mm: 8, thread: THREAD, material: 'steel' },
  clamp: {
    kind: 'split-clamp',
    name: 'Tip clamp',
    outside_mm: 26,
    bore_mm: 15.05,
    length_mm: 8,
    slot_mm: 1.5,
    material: 'aluminium-7075',
  },
  cone: {
    kind: 'expander',
    name: 'Tip expander',
    small_mm: 8,
    large_mm: 12,
    length_mm: 12,
    thread: { size_mm: 6, pitch_mm: 1, length_mm: 10 },
    material: 'steel',
  },
};
const TOOLS = {
  nut: { tool: 'spanner', size_mm: 22 },
  clamp: { tool: 'hex-key', size_mm: 4 },
  cone: { tool: 'hex-key', size_mm: 5 },
};

function withTip(
  which: 'nut' | 'clamp' | 'cone',
  change: Readonly<Record<string, unknown>> = {},
  nut_mm = 15,
  entry = {},
): LinkageModel {
  const data = referenceData();
  data.parts['tip'] = { ...TIPS[which]!, ...change };
  Object.assign(data.parts['axle']!, {
    shank: [{ diameter_mm: 14.98, length_mm: 92 }],
    thread: { ...THREAD, length_mm: 36 },
    ...(which === 'cone' ? { bore_mm: 10 } : {}),
  });
  Object.assign(data.parts['nut']!, { length_mm: nut_mm, thread: { ...THREAD, length_mm: nut_mm } });
  data.pivots[0]!.stacks[0]!.row.push({ id: 'tip', part: 'tip', torque_Nm: 9, drive: TOOLS[which], ...entry });
  const read = readData(data);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.model;
}

const itemOf = ({ pivots }: Analysis, id: string): PlacedItem =>
  pivots[0]!.stacks[0]!.items.find(({ rowId }) => rowId === id)!;
const stackClamp = ({ pivots }: Analysis): number => pivots[0]!.stacks[0]!.clamp_N;
const hows = ({ pivots }: Analysis): unknown[] =>
  pivots[0]!.findings.flatMap(({ code, about }) => (code === 'tip-misfitted' ? [about?.['how']] : []));

describe.each([
  ['nut', 83, 91, 'Lock with', /^Lock nut off/, 'receiver'],
  ['clamp', 83, 91, 'Close', /^Open/, 'axle'],
  ['cone', 86, 98, 'Draw in', /^Free/, 'axle'],
] as const)('%s on the tip', (which, from, to, told, off, moves) => {
  const model = withTip(which);
  const analysis = analyse(model);
  const [tip, axle] = [itemOf(analysis, 'tip'), itemOf(analysis, 'axle')];
  const before = (item: PlacedItem): readonly number[] => {
    const under = axle.to_mm - axle.shift_mm - 92;
    return [item.from_mm - item.shift_mm - under, item.to_mm - item.shift_mm - under];
  };

  test('stands where it was worked out, moves with what it is tightened on, and carries nothing of the clamp', () => {
    expect(before(tip)).toEqual([expect.closeTo(from, 6), expect.closeTo(to, 6)]);
    expect(tip.shift_mm).toBe(itemOf(analysis, moves).shift_mm);
    expect([tip.role, tip.inColumn, tip.nonDrive.force_N]).toEqual(['tip', false, 0]);
    expect(analysis.verdict).toBe('sound');
    expect(hows(analysis)).toEqual([]);
    expect(wordFacing(tip, analysis)).not.toMatch(/bearing/);
    const there = itemOf(analyse(flippedModel(model)), 'tip');
    expect([-there.to_mm, -there.from_mm]).toEqual([expect.closeTo(tip.from_mm, 6), expect.closeTo(tip.to_mm, 6)]);
  });

  test('is tightened by its own torque and tool once the axle has its own, and let go before it', () => {
    const plan = planOf(analysis);
    const at = plan.steps.findIndex(({ kind }) => kind === 'secure');
    expect(plan.steps.slice(0, at).map(({ kind }) => kind)).toContain('torque');
    const step = plan.steps[at]!;
    expect([step.torque_Nm, step.items]).toEqual([9, ['main/tip']]);
    expect(step.tools).toEqual([expect.objectContaining({ kind: 'drive', tool: TOOLS[which], isTorque: true })]);
    const { title, text } = wordPlanStep(step, analysis);
    expect(title.startsWith(told)).toBe(true);
    expect(`${title} ${text}`).toContain('9 N·m');
    const taken = stripOf(plan).steps.filter(({ kind }) => kind === 'undo');
    const kinds = taken.map(({ step: { kind } }) => kind);
    expect(kinds.indexOf('secure')).toBeLessThan(kinds.indexOf('torque'));
    expect(wordStripStep(taken[kinds.indexOf('secure')]!, analysis).title).toMatch(off);
  });

  test('can be left out, and is taken for its like alone', () => {
    expect(listMistakes(model, 'main').map(({ id }) => id)).toContain('left-out:main/tip');
    const rows = mistakes(model, { pivot: 'main' });
    for (const [id, how] of [
      ['left-out:main/tip', 'left-out'],
      ['under-tightened:main/tip', 'left-loose'],
    ] as const) {
      const row = rows.find(({ mistake }) => mistake.id === id)!;
      expect([row.verdict, row.isSilent, row.trail]).toEqual(['unsure', true, ['works-loose']]);
      expect(row.findings.find(({ code }) => code === 'tip-misfitted')!.about!['how']).toBe(how);
      expect(wordTried(row, analysis).does.join(' ')).toMatch(/^(?!.*(undefined|NaN)).*tighten/i);
    }
    const part = model.parts['tip']!;
    expect(isLookAlike(part, { ...part, length_mm: 6 } as typeof part)).toBe(true);
    expect(isLookAlike(part, model.parts['spacer']!)).toBe(false);
  });
});

describe('what is wrong on a tip', () => {
  test.each<[string, 'nut' | 'clamp' | 'cone', object, number, string[]]>([
    ['another pitch', 'nut', { thread: { ...THREAD, pitch_mm: 1.5 } }, 15, ['other-thread']],
    // 92 − 68 − 19 = 5 mm of tip are less than 0.4 × 15 = 6.
    ['5 mm of thread', 'nut', {}, 19, ['little-thread']],
    ['6 mm of thread', 'nut', {}, 18, []],
    ['a bore of 14.9 on a tip of 14.98', 'clamp', { bore_mm: 14.9 }, 15, ['too-narrow']],
    ['0.23 mm of room, 0.239 to close', 'clamp', { bore_mm: 15.21 }, 15, []],
    ['0.25 mm of room', 'clamp', { bore_mm: 15.23 }, 15, ['will-not-close']],
    ['3 mm of 8 on the tip', 'clamp', {}, 21, ['off-the-tip']],
    ['a cone that ends at 9.5 in a hole of 10', 'cone', { large_mm: 9.5 }, 15, ['will-not-spread']],
    ['a cone that begins at 10.5', 'cone', { small_mm: 10.5 }, 15, ['will-not-spread']],
  ])('%s', (_, which, change, nut_mm, found) => {
    const analysis = analyse(withTip(which, change as Record<string, unknown>, nut_mm));
    expect(hows(analysis)).toEqual(found);
    for (const finding of analysis.pivots[0]!.findings.filter(({ code }) => code === 'tip-misfitted'))
      expect(wordFinding(finding, analysis).text).not.toMatch(/undefined|NaN/);
  });

  test('a tip without torque or tool, or a torque beside a spacer, is no file', () => {
    const codes = (entry: object): string[] => {
      try {
        withTip('nut', {}, 15, entry);
        return [];
      } catch (error) {
        return (JSON.parse((error as Error).message) as { code: string }[]).map(({ code }) => code);
      }
    };
    expect(codes({ torque_Nm: undefined })).toEqual(['missing']);
    expect(codes({ drive: undefined })).toEqual(['drive-missing']);
    expect(codes({ part: 'spacer' })).toEqual(['unknown-key', 'unknown-key']);
  });
});

/**
 * A second thread: the axle of 92 mm ends in 11 mm of M10, its M15 before that, at 81. The nut of 15 mm reaches from 68
 * to 83 and holds on 13 of it; a lock nut of M10 stands from 83 on, 2 mm beyond the shoulder, all of its 8 mm on the tip.
 * With 10 mm of M10 the shoulder is at 82: 1 mm, a turn, is just enough; with 9.5 it is not.
 */
describe('a second thread on one axle', () => {
  const SECOND = { size_mm: 10, pitch_mm: 1, length_mm: 9.5 };
  const LOCK = { kind: 'nut', name: 'Lock nut M10', outside_mm: 18, length_mm: 8, material: 'steel' };
  function second(nut: object, shank: readonly object[] = SHANK): Parameters<typeof readData>[0] {
    const data = referenceData();
    data.parts['tip'] = { ...LOCK, thread: { ...SECOND, length_mm: 8 }, ...nut };
    Object.assign(data.parts['axle']!, { shank, thread: { ...THREAD, length_mm: 27 }, tip_thread: SECOND });
    Object.assign(data.parts['nut']!, { length_mm: 15, thread: { ...THREAD, length_mm: 15 } });
    const [stack] = data.pivots[0]!.stacks;
    stack!.row.push({ id: 'tip', part: 'tip', torque_Nm: 9, drive: { tool: 'spanner', size_mm: 16 } });
    return data;
  }
  const SHANK = [
    { diameter_mm: 14.98, length_mm: 81 },
    { diameter_mm: 10, length_mm: 11 },
  ];
  const built = (nut: object = {}, tip_mm = 11): LinkageModel => {
    const shank = [
      { diameter_mm: 14.98, length_mm: 92 - tip_mm },
      { diameter_mm: 10, length_mm: tip_mm },
    ];
    const read = readData(second(nut, shank));
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    return read.model;
  };

  test('holds by the first, and is locked on the second', () => {
    const analysis = analyse(built());
    const [{ tightening }] = [analysis.pivots[0]!.stacks[0]!];
    expect(tightening.engagement_mm).toBeGreaterThan(12.9);
    expect(tightening.engagement_mm).toBeLessThan(13.1);
    expect([analysis.verdict, hows(analysis)]).toEqual(['sound', []]);
    const [axle, tip] = [itemOf(analysis, 'axle'), itemOf(analysis, 'tip')];
    const under = axle.to_mm - 92;
    expect([axle.thread!.from_mm - under, axle.thread!.to_mm - under]).toEqual([
      expect.closeTo(54, 6),
      expect.closeTo(81, 6),
    ]);
    expect(axle.tip_thread!.to_mm - under).toBeCloseTo(92, 6);
    expect(Math.abs(tip.from_mm - under - 83)).toBeLessThan(0.1);
    const there = analyse(flippedModel(built()));
    expect([there.verdict, hows(there)]).toEqual(['sound', []]);
  });

  test.each([
    ['a lock nut of the first thread', { thread: { ...THREAD, length_mm: 8 }, outside_mm: 24 }, 'other-thread'],
    ['one of another pitch', { thread: { ...SECOND, pitch_mm: 1.5, length_mm: 8 } }, 'other-thread'],
  ])('%s is told', (_, nut, how) => {
    expect(hows(analyse(built(nut)))).toEqual([how]);
  });

  test('a shoulder too near the lock nut is told, and takes nothing of the clamp', () => {
    expect(hows(analyse(built({}, 10.01)))).toEqual([]);
    const near = analyse(built({}, 9.5));
    expect(hows(near)).toEqual(['on-shoulder']);
    expect(stackClamp(near)).toBeCloseTo(stackClamp(analyse(built())), 6);
  });

  test.each([
    ['on a shank of one cylinder', [{ diameter_mm: 14.98, length_mm: 92 }]],
    ['thicker than what it is cut on', [SHANK[0]!, { diameter_mm: 8, length_mm: 11 }]],
    [
      'longer than the last cylinder',
      [
        { diameter_mm: 14.98, length_mm: 84 },
        { diameter_mm: 10, length_mm: 8 },
      ],
    ],
  ])('%s is no file', (_, shank) => {
    const read = readData(second({}, shank));
    expect(read.ok ? [] : read.problems.map(({ code }) => code)).toContain('impossible-size');
  });
});
