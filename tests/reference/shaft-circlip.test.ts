/**
 * A circlip on an axle's tip, worked by hand on the reference joint: its nut is 15 mm long, and a groove for 15 mm shafts
 * (14.3 mm, 1.1 wide) leaves 3.9 mm of metal to the tip of the axle, which is 88 mm long.
 *
 * From the face under the head the column takes 68 mm (shoulder to shoulder), the nut goes to 83. The ring lies on the
 * outer wall of its groove, at 88 − 3.9 = 84.1, and so from 83.1 on: 0.1 mm of float, and what tightening draws the nut
 * in by. It moves with the axle and carries nothing.
 */
import { describe, expect, test } from 'vitest';
import {
  accessOf,
  analyse,
  isLookAlike,
  listMistakes,
  mistakes,
  partProfile,
  planOf,
  readData,
  sortTray,
  stripOf,
  wordFacing,
  wordFinding,
  wordPlanStep,
  wordStripStep,
  type Analysis,
  type LinkageModel,
  type PlacedItem,
} from '../../shared/index.ts';
import { flippedModel } from '../bench/models.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

const CLIP = {
  kind: 'shaft-circlip',
  name: 'Axle circlip',
  bore_mm: 14.3,
  outside_mm: 19.2,
  length_mm: 1,
  free_mm: 13.8,
  material: 'steel-quenched',
};
const GROOVE = { margin_mm: 3.9, width_mm: 1.1, diameter_mm: 14.3 };

type Change = (data: ReturnType<typeof referenceData>) => void;

function withClip(change: Change = () => {}): LinkageModel {
  const data = referenceData();
  data.parts['clip'] = { ...CLIP };
  data.parts['axle']!['groove'] = { ...GROOVE };
  Object.assign(data.parts['nut']!, { length_mm: 15, thread: { size_mm: 15, pitch_mm: 1, length_mm: 15 } });
  data.pivots[0]!.stacks[0]!.row.push({ id: 'clip', part: 'clip' });
  change(data);
  const read = readData(data);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.model;
}

const itemOf = ({ pivots }: Analysis, id: string): PlacedItem =>
  pivots[0]!.stacks[0]!.items.find(({ rowId }) => rowId === id)!;
const hows = (analysis: Analysis): (string | undefined)[] =>
  analysis.pivots[0]!.findings.flatMap(({ code, about }) => (code === 'circlip-misfitted' ? [about?.['how']] : []));

describe('a circlip on the tip of an axle', () => {
  const model = withClip();
  const analysis = analyse(model);
  const [clip, nut, axle] = ['clip', 'receiver', 'axle'].map((id) => itemOf(analysis, id));

  test('stands in its groove beyond the nut, moves with the axle, and floats by 0.1 mm and what the nut is drawn in', () => {
    const items = analysis.pivots[0]!.stacks[0]!.items.map(({ rowId }) => rowId);
    expect(items.slice(-2)).toEqual(['receiver', 'clip']);
    expect([clip!.role, clip!.inColumn, clip!.smallFace]).toEqual(['tip', false, 'drive']);
    expect(clip!.shift_mm).toBe(axle!.shift_mm);
    const under = axle!.to_mm - 88;
    expect(clip!.from_mm - under).toBeCloseTo(83.1, 9);
    const float = 0.1 + axle!.shift_mm - nut!.shift_mm;
    expect(clip!.from_mm - nut!.to_mm).toBeCloseTo(float, 9);
    expect(clip!.nonDrive.nearest).toEqual({ with: 'main/receiver', gap_mm: expect.closeTo(float, 9) });
    expect(clip!.nonDrive.force_N).toBe(0);
    expect(analysis.verdict).toBe('sound');
    expect(hows(analysis)).toEqual([]);
  });

  test('the clamp is that of the joint without it', () => {
    const without = withClip(({ parts, pivots }) => {
      delete parts['clip'];
      delete parts['axle']!['groove'];
      pivots[0]!.stacks[0]!.row.pop();
    });
    const clamp = (one: LinkageModel): number => analyse(one).pivots[0]!.stacks[0]!.clamp_N;
    expect(clamp(model)).toBeCloseTo(clamp(without), 6);
  });

  test('the axle is cut to its groove', () => {
    const walls = axle!.solids[0]!.polygon.filter(([r]) => r === 7.15).map(([, z]) => z - (axle!.to_mm - 88));
    expect(walls.map((z) => Math.round(z * 1e6) / 1e6)).toEqual([83, 84.1]);
  });

  test('from the other side of the bike it is the same', () => {
    const flipped = analyse(flippedModel(model));
    const there = itemOf(flipped, 'clip');
    expect(flipped.pivots[0]!.stacks[0]!.items[0]!.rowId).toBe('clip');
    expect([-there.to_mm, -there.from_mm]).toEqual([expect.closeTo(clip!.from_mm, 6), expect.closeTo(clip!.to_mm, 6)]);
    expect(hows(flipped)).toEqual([]);
  });

  test('is snapped on when the axle is tight, with its sharp edge to the tip, and comes off first', () => {
    const plan = planOf(analysis);
    const kinds = plan.steps.map(({ kind }) => kind);
    expect(kinds.indexOf('secure')).toBeGreaterThan(kinds.indexOf('torque'));
    expect(kinds.indexOf('secure')).toBeLessThan(kinds.indexOf('free-check'));
    const step = plan.steps.find(({ kind }) => kind === 'secure')!;
    const said = wordPlanStep(step, analysis);
    expect(said.text).toMatch(/^Sharp edge to the drive side, toward the tip\..*Pliers for shafts/);
    expect(plan.steps.find(({ kind }) => kind === 'prepare')!.items).toContain('main/clip');
    const strip = stripOf(plan).steps.filter(({ kind }) => kind === 'undo');
    const taken = strip.map(({ step: { kind } }) => kind);
    expect(taken.indexOf('secure')).toBeLessThan(taken.indexOf('torque'));
    expect(wordStripStep(strip[taken.indexOf('secure')]!, analysis).title).toBe('Circlip off: axle circlip');
    expect(accessOf(plan, 'main/clip').tasks).not.toContain('fit:main');
  });

  test('left out, turned or in another groove it is found, and said', () => {
    const ids = listMistakes(model, 'main').map(({ id }) => id);
    expect(ids).toEqual(expect.arrayContaining(['left-out:main/clip', 'turned:main/clip']));
    const tried = mistakes(model).filter(({ mistake }) => /^(left-out|turned):main\/clip$/.test(mistake.id));
    expect(tried.map(({ findings }) => findings.map(({ code }) => code))).toEqual([
      expect.arrayContaining(['circlip-misfitted']),
      expect.arrayContaining(['circlip-misfitted']),
    ]);
    const cases: readonly [how: string, Change][] = [
      ['left-out', ({ pivots }) => pivots[0]!.stacks[0]!.row.pop()],
      ['turned', ({ pivots }) => (pivots[0]!.stacks[0]!.row.at(-1)!['turned'] = true)],
      ['other-size', ({ parts }) => Object.assign(parts['clip']!, { bore_mm: 13.4, free_mm: 12.9 })],
      ['too-thick', ({ parts }) => Object.assign(parts['clip']!, { length_mm: 1.2 })],
      // 1 mm more of nut: 0.9 mm over what is there.
      ['no-room', ({ parts }) => Object.assign(parts['nut']!, { length_mm: 16 })],
      // 5 mm of nut: 10.1 mm of room, and 5 of thread.
      [
        'play',
        ({ parts }) =>
          Object.assign(parts['nut']!, { length_mm: 7.5, thread: { size_mm: 15, pitch_mm: 1, length_mm: 7.5 } }),
      ],
    ];
    for (const [how, change] of cases) {
      const bad = analyse(withClip(change));
      expect(hows(bad), how).toContain(how);
      const finding = bad.pivots[0]!.findings.find(({ about }) => about?.['how'] === how)!;
      expect(wordFinding(finding, bad).text).not.toMatch(/undefined|NaN|bearing/);
    }
  });

  test('a groove of 14.3 in 14.98 of aluminium carries (π/4)(14.98² − 14.3²)·R_p/1.2 and no more', () => {
    // A nut 0.9 mm too long presses its ring harder than that.
    const bad = analyse(withClip(({ parts }) => Object.assign(parts['nut']!, { length_mm: 16 })));
    const over = bad.pivots[0]!.findings.find(({ about }) => about?.['how'] === 'overloaded')!;
    const area = (Math.PI / 4) * (14.98 ** 2 - 14.3 ** 2);
    expect(over.limit!.value / area).toBeCloseTo(462 / 1.2, 6);
    expect(over.limit!.source).toBe('DIN 471: load of the groove');
    expect(over.numbers['push_N']!.value).toBeGreaterThan(over.limit!.value);
  });

  test('the tray tells it by its free bore and its thickness, and takes it for no circlip of a bore', () => {
    const part = model.parts['clip']!;
    expect(isLookAlike(part, { ...part, length_mm: 1.2 } as typeof part)).toBe(true);
    expect(isLookAlike(part, model.parts['spacer']!)).toBe(false);
    expect(partProfile(part).hasTwoWays).toBe(true);
    const tray = sortTray(model, {
      readings: [{ kind: 'shaft-circlip', bore_mm: 13.8, length_mm: 1, count: 1 }],
      setting: { accuracy_mm: 0.02, wear: true },
    });
    expect(tray.rows[0]!.placements[0]!.candidate).toBe('clip');
    expect(wordFacing(clip!, analysis)).toContain('toward the tip');
  });

  test('needs a groove, and its place at the end where the axle is received', () => {
    const problems = (change: Change): string[] => {
      try {
        withClip(change);
        return [];
      } catch (error) {
        return (JSON.parse((error as Error).message) as { code: string }[]).map(({ code }) => code);
      }
    };
    expect(problems(({ parts }) => delete parts['axle']!['groove'])).toEqual(['groove-missing']);
    expect(problems(({ pivots }) => pivots[0]!.stacks[0]!.row.unshift(pivots[0]!.stacks[0]!.row.pop()!))).toEqual([
      'wrong-kind',
    ]);
    expect(problems(({ parts }) => (parts['axle']!['groove'] = { ...GROOVE, diameter_mm: 15 }))).toEqual([
      'impossible-size',
    ]);
  });
});
