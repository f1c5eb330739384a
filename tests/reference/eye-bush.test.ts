/**
 * A shock eye with its bush and two reducer halves, worked by hand: the lower eye of the short-travel bike, 25 mm wide,
 * between lugs 41 mm apart.
 *
 * Each half is 20.5 mm long, 7.7 of it shoulder: 2 × 20.5 = 41 fills the lugs, and 41 − 2 × 7.7 − 25 = 0.6 mm are left
 * beside the eye, 0.3 a side. The bush is 23.06 mm in an eye of 23.02: pressed by 0.04, its bore of 20.08 closes to
 * 20.04, and 20.04 − 19.97 = 0.07 mm is the running clearance. The eye turns with its bush; the halves stand still.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  isLookAlike,
  listMistakes,
  mistakes,
  planOf,
  readData,
  sortTray,
  travel,
  wordFacing,
  wordFinding,
  wordPlanStep,
  type Analysis,
  type Finding,
  type LinkageModel,
  type PlacedItem,
} from '../../shared/index.ts';
import { bushPressure_MPa, fittedBore_mm, LINING_PRESSURE } from '../../shared/standards/index.ts';
import { demoModels, flippedModel, pivotAlone } from '../bench/models.ts';
import data from './data/plain-bushes.json';

const off = (ours: number, theirs: number): number => Math.abs(ours - theirs);

describe(data.source, () => {
  test.each(data.rows)('a bush with an outside of $outside: fitted bore and clearance from wall and housing', (row) => {
    const bore = (wall_mm: number, housing_mm: number): number =>
      // A wall that is w thick: as free as its housing, whatever it was outside.
      fittedBore_mm({ outside_mm: housing_mm + 0.05, bore_mm: housing_mm + 0.05 - 2 * wall_mm }, housing_mm);
    const widest = bore(row.wall[1]!, row.housing[0]!);
    const narrowest = bore(row.wall[0]!, row.housing[1]!);
    expect(off(widest, row.fitted[0]!)).toBeLessThan(5e-4);
    expect(off(narrowest, row.fitted[1]!)).toBeLessThan(5e-4);
    expect(off(1000 * (narrowest - row.shaft[0]!), row.clearance_um[0]!)).toBeLessThan(0.6);
    expect(off(1000 * (widest - row.shaft[1]!), row.clearance_um[1]!)).toBeLessThan(0.6);
  });

  test('2 kN on a bore of 12 and a length of 10 mm are 16.7 MPa', () => {
    expect(bushPressure_MPa(2000, 12, 10)).toBeCloseTo(16.667, 3);
    expect(LINING_PRESSURE['dry-composite'].value).toBe(data.pressure_MPa.dry);
    expect(LINING_PRESSURE['graphite-bronze'].value).toBe(data.pressure_MPa.graphite);
  });
});

const holt = demoModels().find(({ id }) => id === 'holt-120')!;
const eye = pivotAlone(holt, 'shock-frame');

function changed(parts: Readonly<Record<string, object>>): LinkageModel {
  const own = Object.entries(parts).map(([id, change]) => [id, { ...eye.parts[id]!, ...change }]);
  const read = readData(JSON.parse(JSON.stringify({ ...eye, parts: { ...eye.parts, ...Object.fromEntries(own) } })));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.model;
}

const itemOf = ({ pivots }: Analysis, id: string): PlacedItem =>
  pivots[0]!.stacks[0]!.items.find(({ rowId }) => rowId === id)!;
const fitsOf = ({ pivots }: Analysis): Finding[] =>
  pivots[0]!.findings.filter(({ code }) => code.startsWith('fit-too'));

describe('a shock eye on a bush', () => {
  const analysis = analyse(eye);
  const [left, right, bush, boss] = ['reducer-left', 'reducer-right', 'bush', 'eye'].map((id) => itemOf(analysis, id));

  test('the halves carry the clamp from lug to lug, and meet in the middle of the eye', () => {
    const { column, clamp_N, tightening } = analysis.pivots[0]!.stacks[0]!;
    const names = column.map(({ from, to }) => [from, to].map((id) => id.split('/')[1]!));
    expect(names).toContainEqual(['reducer-left', 'reducer-right']);
    expect(names.flat()).not.toContain('eye');
    for (const { force_N } of column) expect(force_N / tightening.preload_N.spec).toBeGreaterThan(0.95);
    expect(clamp_N).toBeGreaterThan(0);
    expect(left!.to_mm).toBeCloseTo(0, 1);
    expect([left!.smallFace, right!.smallFace]).toEqual(['drive', 'non-drive']);
    expect(analysis.verdict).toBe('sound');
  });

  test('the eye turns with its bush, which stands in its middle and touches nothing, 0.3 mm from each shoulder', () => {
    expect([bush!.role, bush!.inColumn, boss!.inColumn, left!.inColumn]).toEqual(['lining', false, false, true]);
    expect(bush!.seat).toEqual({ member: 'shock-shaft', bore: 'eye', side: 'drive' });
    expect([bush!.from_mm, bush!.to_mm]).toEqual([expect.closeTo(-10, 3), expect.closeTo(10, 3)]);
    expect([boss!.nonDrive.bears, boss!.drive.bears]).toEqual(['nothing', 'nothing']);
    expect(boss!.nonDrive.nearest).toEqual({ with: left!.id, gap_mm: expect.closeTo(0.3, 1) });
    expect(boss!.drive.nearest).toEqual({ with: right!.id, gap_mm: expect.closeTo(0.3, 1) });
    expect(wordFacing(bush!, analysis)).toContain('turns with it');
    expect(wordFacing(left!, analysis)).toBe(
      'Tube to the drive side, into the eye; the shoulder stays outside and holds it in the middle.',
    );
  });

  test.each<[string, object, object, string, string, number | undefined]>([
    ['runs with 0.07 mm', {}, {}, '', '', undefined],
    ['a tube of 20.06 in a bore of 20.04 does not go in', {}, { outside_mm: 20.06 }, 'fit-too-tight', 'stop', -0.02],
    ['a tube of 20.04 has no room', {}, { outside_mm: 20.04 }, 'fit-too-tight', 'warn', 0],
    ['a tube worn to 19.87 has 0.17', {}, { outside_mm: 19.87 }, 'fit-too-loose', 'warn', 0.17],
    ['a bush worn to 20.25 has 0.24', { bore_mm: 20.25 }, {}, 'fit-too-loose', 'stop', 0.24],
    ['a bush of 23.0 lies loose in 23.02', { outside_mm: 23, bore_mm: 20.02 }, {}, 'fit-too-loose', 'warn', 0.02],
    ['a bush of 23.22 is crushed', { outside_mm: 23.22, bore_mm: 20.24 }, {}, 'fit-too-tight', 'warn', undefined],
  ])('%s', (_, onBush, onHalves, code, severity, play_mm) => {
    const one = analyse(changed({ 'eye-bush': onBush, 'eye-reducer': onHalves }));
    const found = fitsOf(one);
    expect(found.map((finding) => [finding.code, finding.severity])).toEqual(code === '' ? [] : [[code, severity]]);
    if (play_mm !== undefined) expect(found[0]!.numbers['play_mm']!.value).toBeCloseTo(play_mm, 6);
    for (const finding of found) expect(wordFinding(finding, one).text).not.toMatch(/undefined|NaN|bearing/);
    const there = fitsOf(analyse(flippedModel(changed({ 'eye-bush': onBush, 'eye-reducer': onHalves }))));
    expect(there.map((finding) => [finding.code, finding.severity])).toEqual(
      found.map((finding) => [finding.code, finding.severity]),
    );
  });

  test('halves too short by 0.5 mm let the shoulders run onto the eye', () => {
    const one = analyse(changed({ 'eye-reducer': { length_mm: 20, flange_length_mm: 7.7 } }));
    expect(one.pivots[0]!.verdict).not.toBe('sound');
    expect(one.pivots[0]!.findings.map(({ code }) => code)).toContain('arm-rubbed');
  });

  test('one piece and two spacers in place of two halves do as well', () => {
    const whole: LinkageModel = changed({
      'eye-reducer': { length_mm: 25.6, flange_mm: undefined, flange_length_mm: undefined, count: 1 },
    });
    const parts = {
      ...whole.parts,
      side: {
        kind: 'spacer',
        name: 'Side',
        bore_mm: 15.2,
        outside_mm: 24.5,
        length_mm: 7.7,
        material: 'aluminium-7075',
      },
    };
    const [pivot] = whole.pivots;
    const row = pivot!.stacks[0]!.row.flatMap((entry) =>
      entry.id === 'reducer-left'
        ? [
            { id: 'side-left', part: 'side' },
            { id: 'reducer', part: 'eye-reducer' },
          ]
        : entry.id === 'reducer-right'
          ? [{ id: 'side-right', part: 'side' }]
          : [entry],
    );
    const stacks = [{ ...pivot!.stacks[0]!, row }];
    const one = analyse({ ...whole, parts, pivots: [{ ...pivot!, stacks }] } as LinkageModel);
    expect(one.pivots[0]!.findings.filter(({ severity }) => severity !== 'note')).toEqual([]);
    expect(itemOf(one, 'reducer').smallFace).toBeUndefined();
  });

  test('is pressed in at the bench, and the halves go into it', () => {
    const { steps } = planOf(analysis);
    const step = steps.find(({ kind }) => kind === 'press-bush')!;
    expect(step.items).toEqual([bush!.id]);
    expect(wordPlanStep(step, analysis).text).toMatch(/^Into the eye of/);
    expect(steps.indexOf(step)).toBeLessThan(steps.findIndex(({ kind }) => kind === 'set-spacer'));
  });

  test('a half turned or left out, or the bush left out, is found', () => {
    const wanted = [
      'turned:shock-frame/reducer-left',
      'left-out:shock-frame/reducer-right',
      'left-out:shock-frame/bush',
    ];
    const listed = listMistakes(eye, 'shock-frame').filter(({ id }) => wanted.includes(id));
    expect(listed.map(({ id }) => id).sort()).toEqual([...wanted].sort());
    for (const { mistake, verdict } of mistakes(eye))
      if (wanted.includes(mistake.id)) expect(verdict, mistake.id).not.toBe('sound');
  });

  test('the tray tells a half by its shoulder and the bush by its wall; a bush is taken for no spacer', () => {
    const lining = eye.parts['eye-bush']!;
    expect(isLookAlike(lining, { ...lining, length_mm: 18 } as typeof lining)).toBe(true);
    expect(isLookAlike(lining, eye.parts['eye-reducer']!)).toBe(false);
    const tray = sortTray(holt, {
      readings: [
        { kind: 'eye-bush', bore_mm: 20.08, outside_mm: 23.06, length_mm: 20, count: 1 },
        { kind: 'reducer', length_mm: 20.5, large_mm: 24.5, outside_mm: 19.97, count: 2 },
      ],
      setting: { accuracy_mm: 0.02, wear: true },
    });
    expect(tray.rows.map(({ placements }) => placements[0]!.candidate)).toEqual(['eye-bush', 'eye-reducer']);
  });

  test('carries what the shock pushes on 20 × 20 mm, and says so where its lining takes less', () => {
    const { travel: ran } = travel(holt, { poses: 5 });
    const [load] = ran.bushes!;
    expect(load!.pressure_MPa).toBeCloseTo(load!.load_N / (20.08 * 20), 6);
    expect(load!.load_N).toBeGreaterThan(1000);
    expect(ran.findings.map(({ code }) => code)).not.toContain('bush-overloaded');
  });
});
