/**
 * A pivot with seals, worked by hand on the reference joint. Tight, the rocker's outer faces stand at ∓38 and the flanges
 * of head and nut at ∓40 (bearing face at 34, land of 6): 2 mm of room on each side, less what the column gives.
 *
 * A dust seal 2.8 mm long with a lip of 1.6 is squeezed by 0.8: half its lip. An O-ring of 2.4 mm by 0.4: a sixth.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  listMistakes,
  mistakes,
  partSizes,
  readData,
  sortTray,
  wordFacing,
  wordTried,
  type Analysis,
  type LinkageModel,
} from '../../shared/index.ts';
import { referenceData, referenceModel } from '../fixtures/reference-joint.ts';

const RUBBER = 'nitrile-rubber';
const DUST = {
  kind: 'dust-seal',
  name: 'Dust seal',
  outside_mm: 29,
  bore_mm: 24.4,
  length_mm: 2.8,
  lip_mm: 1.6,
  material: RUBBER,
};
const CORD = { kind: 'o-ring', name: 'O-ring', bore_mm: 25, length_mm: 2.4, material: RUBBER };

/** The reference joint with the same seal under the flange of the head and of the nut, lips outward. */
function withSeals(
  seal: Readonly<Record<string, unknown>>,
  more: Readonly<Record<string, unknown>> = {},
): LinkageModel {
  const data = referenceData();
  data.parts['seal'] = { ...seal, count: 2 };
  Object.assign(data.parts, more);
  const { row } = data.pivots[0]!.stacks[0]!;
  row.push({ id: 'seal-d', part: 'seal', greased: true });
  row.unshift({
    id: 'seal-nd',
    part: 'seal',
    greased: true,
    ...(seal['kind'] === 'dust-seal' ? { turned: true } : {}),
  });
  const read = readData(data);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.model;
}

const stackOf = (analysis: Analysis) => analysis.pivots[0]!.stacks[0]!;
const itemOf = (analysis: Analysis, rowId: string) => stackOf(analysis).items.find((item) => item.rowId === rowId)!;
/** Places to a hundredth: the column gives by some hundredths where its length stands for a rigid one's. */
const GIVE_mm = 0.1;

describe.each([
  ['dust seals', DUST, 2.8, 0.8],
  ['O-rings', CORD, 2.4, 0.4],
] as const)('a pivot with %s', (_, seal, length_mm, squeeze_mm) => {
  const analysis = analyse(withSeals(seal));

  test('fits, and carries what it carried without them: a seal takes no force', () => {
    const before = analyse(referenceModel());
    expect(analysis.pivots[0]!.verdict).toBe(before.pivots[0]!.verdict);
    expect(analysis.pivots[0]!.findings).toEqual(before.pivots[0]!.findings);
    expect(stackOf(analysis).clamp_N).toBeCloseTo(stackOf(before).clamp_N, 6);
    expect(stackOf(analysis).column).toEqual(stackOf(before).column);
    for (const item of stackOf(before).items) {
      const now = itemOf(analysis, item.rowId);
      expect([now.nonDrive, now.drive]).toEqual([item.nonDrive, item.drive]);
      expect(now.from_mm).toBeCloseTo(item.from_mm, 9);
    }
  });

  test('lays each on the rocker, free length as drawn, so that it reaches into the flange by its squeeze', () => {
    const [left, right] = [itemOf(analysis, 'seal-nd'), itemOf(analysis, 'seal-d')];
    expect(left.to_mm).toBeCloseTo(itemOf(analysis, 'rocker-nd').from_mm, 9);
    expect(right.from_mm).toBeCloseTo(itemOf(analysis, 'rocker-d').to_mm, 9);
    for (const { from_mm, to_mm, inColumn, nonDrive, drive } of [left, right]) {
      expect(to_mm - from_mm).toBeCloseTo(length_mm, 9);
      expect(inColumn).toBe(false);
      expect([nonDrive.force_N, drive.force_N]).toEqual([0, 0]);
    }
    expect(left.nonDrive.touches.map(({ with: other }) => other)).toEqual(['main/axle']);
    expect(right.drive.touches.map(({ with: other }) => other)).toEqual(['main/receiver']);
    for (const { gap_mm } of [left.nonDrive.touches[0]!, right.drive.touches[0]!]) {
      expect(-gap_mm).toBeGreaterThan(squeeze_mm);
      expect(-gap_mm).toBeLessThan(squeeze_mm + GIVE_mm);
    }
  });
});

describe('a dust seal', () => {
  test('can be left out and turned, and the turned one is found by its lip', () => {
    const model = withSeals(DUST);
    const ids = listMistakes(model, 'main').map(({ id }) => id);
    expect(ids).toEqual(expect.arrayContaining(['left-out:main/seal-nd', 'turned:main/seal-d']));
    const turned = mistakes(model).find(({ mistake }) => mistake.id === 'turned:main/seal-d')!;
    expect(turned.findings.map(({ code, about }) => [code, about?.['how']])).toContainEqual([
      'seal-misfitted',
      'turned',
    ]);
    expect(wordFacing(itemOf(analyse(model), 'seal-nd'), analyse(model))).toMatch(
      /^Lip to the non-drive side\. Grease/,
    );
  });

  test('that is left out leaves a row to look at, which says so', () => {
    const model = withSeals(DUST);
    const row = mistakes(model).find(({ mistake }) => mistake.id === 'left-out:main/seal-nd')!;
    expect([row.verdict, row.isSilent, row.trail]).toEqual(['unsure', true, ['lets-water-in']]);
    expect(row.findings.filter(({ code }) => code === 'seal-misfitted')).toMatchObject([
      { severity: 'warn', parts: ['main/seal-nd'], about: { how: 'left-out' } },
    ]);
    const words = wordTried(row, analyse(model));
    expect(words.verdict).toBe('Look again');
    expect(words.does.join(' ')).toContain('Fit dust seal (non-drive): without it dirt and water get in.');
  });

  test.each([
    ['the flange of 30 mm, whose lip ends at 31', { outside_mm: 31, bore_mm: 26 }, 'main/receiver'],
    ['the bearing side, whose bore is 22 mm wide', { outside_mm: 25, bore_mm: 20.4 }, 'main/rocker-d'],
  ] as const)('of another size hangs over the edge of %s', (_face, other, by) => {
    const found = analyse(withSeals({ ...DUST, ...other })).pivots[0]!.findings;
    const about = found.filter(({ code, parts }) => code === 'seal-misfitted' && parts[0] === 'main/seal-d');
    expect(about.map(({ about: told, parts }) => [told!['how'], parts[1]])).toEqual([['off-face', by]]);
  });

  test('that is too long is crushed', () => {
    const long = { ...DUST, name: 'Dust seal, long', length_mm: 3.5 };
    const model = withSeals(DUST, { long });
    const tall = { ...model, parts: { ...model.parts, seal: model.parts['long']! } };
    const crushed = analyse(tall).pivots[0]!.findings.filter(({ code }) => code === 'seal-misfitted');
    expect(crushed.map(({ about, severity }) => [about!['how'], severity])).toEqual([
      ['crushed', 'warn'],
      ['crushed', 'warn'],
    ]);
    for (const { numbers } of crushed) expect(Math.abs(numbers['squeeze_mm']!.value - 1.5)).toBeLessThan(GIVE_mm);
  });

  test('is told in the tray from a longer one by its length', () => {
    const model = withSeals(DUST, { long: { ...DUST, name: 'Dust seal, long', length_mm: 3.5 } });
    const read = { kind: 'dust-seal', outside_mm: 29, bore_mm: 24.4, length_mm: 2.78, count: 2 } as const;
    const tray = sortTray(model, { readings: [read], setting: { accuracy_mm: 0.05, wear: false } });
    expect(tray.rows[0]!.placements.map(({ candidate }) => candidate)).toEqual(['seal']);
    expect(partSizes(model.parts['seal']!).large_mm!.nominal).toBe(29);
  });

  test('contradicts itself with a lip as long as the seal, or a bore as wide', () => {
    for (const [seal, path] of [
      [{ ...DUST, lip_mm: 2.8 }, 'parts.seal.length_mm'],
      [{ ...DUST, bore_mm: 29 }, 'parts.seal.outside_mm'],
      [{ ...CORD, bore_mm: 2.4 }, 'parts.seal.bore_mm'],
    ] as const) {
      const data = referenceData();
      data.parts['seal'] = seal;
      const read = readData(data);
      expect(read.ok ? [] : read.problems.map((problem) => problem.path)).toContain(path);
    }
  });
});
