/** The command `travel` and the strip of poses: text, JSON, CSV, SVG, refusals, exit codes. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { travel, type Travel } from '../../shared/index.ts';
import { Refusal } from '../../src/commands/command.ts';
import { travelCommand } from '../../src/commands/travel.ts';
import { drawPoses } from '../../src/drawings/poses.ts';
import { svg as svgOf } from '../../src/drawings/svg.ts';
import { demoModels } from '../bench/models.ts';
import { layModel, sketchModel } from '../setup/linkages.ts';

const models = demoModels();
const holt = models.find(({ id }) => id === 'holt-120')!;
const rig = models.find(({ id }) => id === 'class-rig')!;
const folder = mkdtempSync(join(tmpdir(), 'travel-'));
afterEach(() => vi.restoreAllMocks());

/** What the command prints and its exit code. */
function run(model = holt, options: Readonly<Record<string, string | boolean>> = {}): { out: string; code: number } {
  let out = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    out += String(text);
    return true;
  });
  const code = travelCommand.run(model, options, []);
  vi.restoreAllMocks();
  return { out, code };
}

describe('text', () => {
  test('says what turns, carries and clears, and who has the last word', () => {
    const { out, code } = run();
    expect(code).toBe(0);
    expect(out).toMatch(/rear axle rises 119\.\d mm \(stated 120 mm\)/);
    expect(out).toMatch(/Pivots, the hardest worked first\n {2}1\. /);
    expect(out).toMatch(
      /Static safety of the hardest pressed bearing, C0\/P0 after ISO 76, at 1 kN\n {2}\S.*: \d\.\d\d \(/,
    );
    expect(out).toMatch(/Smallest gaps in the side plane/);
    expect(out).toMatch(/agree with virtual work within/);
    expect(out.trim().split('\n').at(-1)).toBe(
      'The frame maker’s instructions, local rules and a qualified mechanic have the last word.',
    );
    expect(out).not.toMatch(/undefined|NaN/);
    expect(out).not.toMatch(/leverage|anti-squat/i);
  });

  test('a bike without a shock swings, and a member may be named to drive', () => {
    expect(run(rig).out).toMatch(/shock out: driven by the turn of Arm, one piece/);
    const { out } = run(holt, { free: 'rocker-left', from_deg: '-20', to_deg: '0' });
    expect(out).toMatch(/shock out: driven by the turn of Rocker half, non-drive side/);
    expect(out).toMatch(/\n {2,}−20°/);
  });

  test('a stop finding is exit code 1', () => {
    expect(run(holt, { stroke_mm: '140' }).code).toBe(1);
    expect(run(holt, { eye_to_eye_mm: '400' })).toMatchObject({ code: 1 });
  });
});

test('JSON is the plain result to a millionth, with nothing but numbers and words', () => {
  const { out } = run(holt, { json: true, poses: '5', load_N: '2500' });
  const report = JSON.parse(out) as Travel;
  expect(report).toMatchObject({
    model: 'holt-120',
    verdict: 'sound',
    mobility: 1,
    load_N: 2500,
    drive: { kind: 'shock' },
  });
  expect(report.poses).toHaveLength(5);
  expect(report.poses[4]!.drive).toBe(45);
  const direct = travel(holt, { poses: 5, load_N: 2500 }).travel;
  expect(report.pivots[0]!.pivot).toBe(direct.pivots[0]!.pivot);
  expect(report.poses[2]!.axle!.y_mm).toBeCloseTo(direct.poses[2]!.axle!.y_mm, 5);
  expect(run(holt, { json: true, poses: '5', load_N: '2500' }).out).toBe(out);
});

test('CSV has one row a pose and one column a pivot twice', () => {
  const { out } = run(holt, { csv: true, poses: '7' });
  const rows = out
    .trim()
    .split('\n')
    .map((line) => line.split(','));
  expect(rows).toHaveLength(8);
  const head = rows[0]!;
  expect(head.slice(0, 5)).toEqual(['stroke_mm', 'eye_to_eye_mm', 'axle_x_mm', 'axle_y_mm', 'rise_mm']);
  expect(head.filter((name) => name.endsWith('_turn_deg'))).toHaveLength(6);
  for (const row of rows.slice(1)) {
    expect(row).toHaveLength(head.length);
    for (const cell of row) expect(Number.isFinite(Number(cell))).toBe(true);
  }
  expect(rows.map((row) => row[0]).slice(1)).toEqual(['0', '7.5', '15', '22.5', '30', '37.5', '45']);
});

describe('sheet', () => {
  test('is written where asked, with a cell a pose, every pivot’s angle in all but the first', () => {
    const file = join(folder, 'strip.svg');
    expect(run(holt, { sheet: file }).code).toBe(0);
    const svg = readFileSync(file, 'utf8');
    rmSync(folder, { recursive: true, force: true });
    expect(svg.match(/data-pose=/g)).toHaveLength(5);
    expect(svg.match(/data-pivot=/g)).toHaveLength(4 * 6);
    for (const member of Object.keys(holt.members)) expect(svg).toContain(`data-member="${member}"`);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('is the same picture wherever the bike stands', () => {
    const here = svgOf(drawPoses(travel(holt, { poses: 5 }))!);
    const there = svgOf(drawPoses(travel(layModel(holt, { move_mm: [100, 50] }), { poses: 5 }))!);
    const numbers = (svg: string): number[] => [...svg.matchAll(/-?\d+(\.\d+)?/g)].map(([text]) => Number(text));
    const [one, other] = [numbers(here), numbers(there)];
    expect(other.length).toBe(one.length);
    expect(Math.max(...other.map((value, k) => Math.abs(value - one[k]!)))).toBeLessThan(0.011);
  });

  test('takes two to nine cells, and never more than there are poses', () => {
    const result = travel(holt, { poses: 4 });
    expect(svgOf(drawPoses(result, { cells: 9 })!).match(/data-pose=/g)).toHaveLength(4);
    expect(svgOf(drawPoses(result, { cells: 1 })!).match(/data-pose=/g)).toHaveLength(2);
    for (const theme of ['print', 'light', 'dark'] as const)
      expect(svgOf(drawPoses(result, { theme })!)).toMatch(/^<svg/);
  });

  test('of nothing that moves there is none', () => {
    const still = sketchModel({
      pivots: { a: [0, 0], b: [9, 0] },
      members: { frame: { kind: 'frame', at: ['a', 'b'] } },
    });
    expect(drawPoses(travel(still))).toBeUndefined();
    expect(drawPoses(travel(holt, { poses: 2, eyeToEye_mm: 400 }))).toBeUndefined();
  });
});

describe('refusals', () => {
  test.each([
    ['poses', { poses: '1' }, /--poses: met 1, allowed: a whole number from 2/],
    ['poses that are no number', { poses: 'many' }, /--poses: met many/],
    ['a load below nothing', { load_N: '-5' }, /--load_N/],
    ['an empty load', { load_N: '' }, /--load_N: met/],
    ['both formats', { json: true, csv: true }, /--json and --csv/],
    ['a swing without a member', { from_deg: '-5' }, /beside --free/],
    ['a member that stands still', { free: 'frame' }, /--free: met frame, allowed: swingarm, /],
    ['a member misspelt', { free: 'swingrm' }, /Did you mean “swingarm”\?/],
    ['a swing with another shock', { free: 'swingarm', stroke_mm: '50' }, /--free and --stroke_mm: met both/],
    ['a strip that cannot be written', { sheet: join(folder, 'no', 'such', 'folder.svg') }, /cannot be written/],
    ['an unknown variant', { variant: 'winter' }, /variant/],
  ] as const)('%s', (_, options, words) => {
    let met: unknown;
    try {
      run(holt, options);
    } catch (error) {
      met = error;
    }
    expect(met).toBeInstanceOf(Refusal);
    expect(String(met)).toMatch(words);
  });
});
