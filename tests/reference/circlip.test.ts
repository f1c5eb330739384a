/**
 * Circlips: the series and the loads of rings and grooves against published cells, and a pivot worked by hand: the
 * reference joint with a shell 3.4 mm wider a side, whose seats of 10.4 mm hold a bearing of 7, a groove of 1.3 and
 * 2.1 mm of metal before it.
 *
 * On the drive side the shoulder is at 15 mm, the bearing from 15 to 22, the ring on the outer wall of its groove from
 * 22.1 to 23.3: 0.1 mm of room. It belongs to the shell, carries nothing of the clamp, and what runs through it is free.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  isLookAlike,
  kindOf,
  listMistakes,
  mistakes,
  partProfile,
  planOf,
  wordFinding,
  wordPlanStep,
  type Analysis,
  type LinkageModel,
  type PlacedItem,
} from '../../shared/index.ts';
import { circlipFor, grooveLoad_N } from '../../shared/standards/index.ts';
import { assembly, FINDING_ROWS } from '../fixtures/findings/rows.ts';
import data from './data/circlips.json';

const off = (ours: number, theirs: number): number => Math.abs(ours / theirs - 1);

describe(data.source, () => {
  test.each(data.rows)('the circlip for a bore of $bore_mm mm', (row) => {
    const ours = circlipFor(row.bore_mm, 'bore')!;
    expect([ours.thickness_mm, ours.free_mm, ours.groove_mm]).toEqual([row.thickness_mm, row.free_mm, row.groove_mm]);
    expect(ours.ring_N).toBeCloseTo(1000 * row.ring_kN, 9);
    expect(
      off(grooveLoad_N({ ...row, on_mm: row.bore_mm, yield_MPa: data.yield_MPa }), 1000 * row.groove_kN),
    ).toBeLessThan(0.017);
  });

  test.each(data.shafts)('the circlip for a shaft of $shaft_mm mm, its groove by the same formula', (row) => {
    const ours = circlipFor(row.shaft_mm, 'shaft')!;
    expect([ours.thickness_mm, ours.free_mm, ours.groove_mm]).toEqual([row.thickness_mm, row.free_mm, row.groove_mm]);
    expect(ours.ring_N).toBeCloseTo(1000 * row.ring_kN, 9);
    const ofGroove = grooveLoad_N({ ...row, on_mm: row.shaft_mm, yield_MPa: data.yield_MPa });
    expect(off(ofGroove, 1000 * row.groove_kN)).toBeLessThan(0.017);
  });

  test('half of the metal beside it carries half, more carries no more; another metal in proportion', () => {
    const whole = { on_mm: 28, groove_mm: 29.4, yield_MPa: 200, marginNeeded_mm: 2.1 };
    const most = grooveLoad_N({ ...whole, margin_mm: 2.1 });
    expect(grooveLoad_N({ ...whole, margin_mm: 1.05 })).toBeCloseTo(most / 2, 9);
    expect(grooveLoad_N({ ...whole, margin_mm: 5 })).toBeCloseTo(most, 9);
    expect(grooveLoad_N({ ...whole, margin_mm: 2.1, yield_MPa: 241 })).toBeCloseTo(1.205 * most, 6);
  });
});

/** The sound pivot, and one of the rows of the fit check's fixtures. */
const row = FINDING_ROWS.find(({ code }) => code === 'circlip-misfitted')!;
const model: LinkageModel = assembly(row, 'good');
const itemOf = ({ pivots }: Analysis, id: string): PlacedItem =>
  pivots[0]!.stacks[0]!.items.find(({ rowId }) => rowId === id)!;

describe('a pivot with a circlip before each bearing of the shell', () => {
  const analysis = analyse(model);

  test('each stands on the outer wall of its groove, 0.1 mm from its bearing, and carries nothing', () => {
    const [clip, bearing] = [itemOf(analysis, 'clip-d'), itemOf(analysis, 'frame-bearing-d')];
    expect([clip.from_mm, clip.to_mm].map((z) => Math.round(z * 1e6) / 1e6)).toEqual([22.1, 23.3]);
    const outer = bearing.solids.find(({ role }) => role === 'outer-ring')!.polygon.map(([, z]) => z);
    expect(clip.from_mm - Math.max(...outer)).toBeCloseTo(0.1, 9);
    const other = itemOf(analysis, 'clip-nd');
    expect([other.from_mm, other.to_mm].map((z) => Math.round(z * 1e6) / 1e6)).toEqual([-23.3, -22.1]);
    for (const ring of [clip, other])
      expect([ring.inColumn, ring.drive.force_N, ring.nonDrive.force_N]).toEqual([false, 0, 0]);
    expect(analysis.verdict).toBe('sound');
    expect(analysis.pivots[0]!.findings.map(({ code }) => code)).not.toContain('circlip-misfitted');
  });

  test('the shell is cut to its groove where the ring sits', () => {
    const shell = itemOf(analysis, 'shell').solids[0]!.polygon;
    const groove = shell.filter(([r]) => r === 14.7).map(([, z]) => Math.round(z * 1e6) / 1e6);
    expect(groove.sort((a, b) => a - b)).toEqual([-23.3, -22, 22, 23.3]);
  });

  test('it is snapped in after its bearing, with its sharp edge away from it', () => {
    const { steps } = planOf(analysis);
    const kinds = steps.filter(({ kind }) => kind === 'press-bearing' || kind === 'set-circlip');
    const at = (id: string): number => kinds.findIndex(({ items }) => items[0] === `main/${id}`);
    for (const side of ['nd', 'd']) expect(at(`clip-${side}`)).toBeGreaterThan(at(`frame-bearing-${side}`));
    const said = wordPlanStep(kinds[at('clip-d')]!, analysis);
    expect(said.text).toMatch(/^Sharp edge to the drive side, away from the bearing/);
    expect(steps.filter(({ kind, items }) => kind === 'set-spacer' && items.some((id) => id.includes('clip')))).toEqual(
      [],
    );
  });

  test('left out or turned round it is found', () => {
    const ids = listMistakes(model, 'main').map(({ id }) => id);
    expect(ids).toEqual(expect.arrayContaining(['left-out:main/clip-d', 'turned:main/clip-d', 'turned:main/clip-nd']));
    const tried = mistakes(model).filter(({ mistake }) => /^(left-out|turned):main\/clip-d$/.test(mistake.id));
    expect(tried.length).toBe(2);
    for (const { findings } of tried) expect(findings.map(({ code }) => code)).toContain('circlip-misfitted');
  });

  test('in the tray it is told from its look-alike by its thickness, and not from a spacer', () => {
    const clip = model.parts['clip']!;
    const thinner = { ...clip, length_mm: 1 } as typeof clip;
    expect(isLookAlike(clip, thinner)).toBe(true);
    expect(isLookAlike(clip, model.parts['spacer']!)).toBe(false);
    expect(kindOf(clip).sizes.outside_mm!.get(clip)).toBe(30.1);
    expect(partProfile(clip).hasTwoWays).toBe(true);
  });

  test('a push that the groove does not carry is told; toward the shoulder it is none', () => {
    // An aluminium groove of 28 and 29.4: (π/4)(29.4² − 28²)·R_p/1.2, some 12 kN at 240 MPa, 1.05/2.1 of it 6 kN.
    const weak = structuredClone(model);
    for (const seat of weak.members['frame']!.bores['shell']!.seats!) seat.groove!.diameter_mm = 28.01;
    const parts = weak.parts as Record<string, { outside_mm?: number; length_mm?: number }>;
    parts['clip']!.outside_mm = 28.01;
    const pushed = (length_mm: number): string[] => {
      const one = structuredClone(weak);
      (one.parts['sleeve'] as { length_mm: number }).length_mm = length_mm;
      return analyse(one)
        .pivots[0]!.findings.filter(({ about }) => about?.['how'] === 'overloaded')
        .flatMap(({ parts: on }) => on);
    };
    expect(pushed(30)).toEqual([]);
    // A sleeve too long pushes both inner rings, and with them the bearings, outward onto their circlips.
    expect(pushed(30.5)).toEqual(expect.arrayContaining(['main/clip-nd', 'main/clip-d']));
    expect(pushed(29.5)).toEqual([]);
  });

  test('its words name it and what to do', () => {
    for (const one of FINDING_ROWS.filter(({ code }) => code === 'circlip-misfitted')) {
      const bad = analyse(assembly(one, 'bad'));
      const finding = bad.pivots[0]!.findings.find(({ code }) => code === 'circlip-misfitted')!;
      expect(wordFinding(finding, bad).text).not.toMatch(/undefined|NaN/);
    }
  });
});
