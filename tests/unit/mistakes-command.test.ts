/**
 * The command `mistakes`: its fixed JSON form, its text, and its refusals, run in this process.
 */
import { afterEach, describe, expect, test, vi } from 'vitest';
import { MISTAKE_KINDS, type LinkageModel } from '../../shared/index.ts';
import { Refusal, type Options } from '../../src/commands/command.ts';
import { mistakesCommand, type MistakeReport } from '../../src/commands/mistakes.ts';
import { someOf } from '../setup/series.ts';
import { demoModels, withRow } from '../bench/models.ts';

const MODELS = demoModels();
const rig = MODELS.find(({ id }) => id === 'class-rig')!;
const holt = MODELS.find(({ id }) => id === 'holt-120')!;
const fjordside = MODELS.find(({ id }) => id === 'fjordside-150')!;

function run(model: LinkageModel, options: Options): { code: number; out: string } {
  const said: string[] = [];
  vi.spyOn(process.stdout, 'write').mockImplementation((chunk) => {
    said.push(String(chunk));
    return true;
  });
  const code = mistakesCommand.run(model, options, []);
  vi.restoreAllMocks();
  return { code, out: said.join('') };
}
const json = (model: LinkageModel, options: Options = {}): readonly MistakeReport[] =>
  JSON.parse(run(model, { ...options, json: true }).out) as readonly MistakeReport[];

afterEach(() => vi.restoreAllMocks());

describe('mistakes --json', () => {
  test.each(someOf(MODELS, 3))('is an array of mistakes with what the design asks for: $id', (model) => {
    const rows = json(model);
    expect(rows.length).toBeGreaterThan(9);
    for (const row of rows) {
      expect(model.pivots.map(({ id }) => id)).toContain(row.pivot);
      expect(MISTAKE_KINDS).toContain(row.kind);
      expect(row.parts.length).toBeGreaterThan(0);
      for (const part of row.parts) expect(part).toMatch(/^[a-z0-9-]+\/[a-z0-9-]+$/);
      expect(['sound', 'unsure', 'faulty']).toContain(row.verdict);
      expect(row.clamp_N).toBeGreaterThanOrEqual(0);
      for (const finding of row.findings) expect(finding.text.length).toBeGreaterThan(10);
      expect(row.felt.bench.length).toBeGreaterThan(0);
      expect(row.felt.text.length).toBeGreaterThan(10);
      expect(row.check.text.length).toBeGreaterThan(10);
    }
  });

  test('--pivot keeps to one pivot, --two adds the pairs', () => {
    const singles = json(holt, { pivot: 'shock-rocker' });
    expect(new Set(singles.map(({ pivot }) => pivot))).toEqual(new Set(['shock-rocker']));
    const both = json(holt, { pivot: 'shock-rocker', two: true });
    expect(
      both
        .filter(({ kind }) => kind !== 'two')
        .map(({ id }) => id)
        .sort(),
    ).toEqual(singles.map(({ id }) => id).sort());
    expect(both.some(({ kind }) => kind === 'two')).toBe(true);
  });

  test('--variant is the variant’s build', () => {
    const base = json(fjordside, { pivot: 'seatstay-rocker' }).find(({ kind }) => kind === 'under-tightened')!;
    const second = json(fjordside, { pivot: 'seatstay-rocker', variant: 'second-series' }).find(
      ({ kind }) => kind === 'under-tightened',
    )!;
    const stack = fjordside.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === 'seatstay-rocker')!;
    const changed = fjordside.variants![0]!.stacks['seatstay-rocker']!.torque_Nm!;
    expect(changed).not.toBe(stack.torque_Nm);
    expect(base.title).toContain(`${stack.torque_Nm / 2} N·m instead of ${stack.torque_Nm} N·m`);
    expect(second.title).toContain(`${changed / 2} N·m instead of ${changed} N·m`);
  });
});

describe('mistakes as text', () => {
  test('names the silent ones first, and whether it is the only way', () => {
    const { code, out } = run(rig, {});
    expect(code).toBe(0);
    expect(out).toContain('It is the only way.');
    expect(out.indexOf('Silent: ')).toBeGreaterThan(0);
    expect(out.indexOf('Silent: ')).toBeLessThan(out.indexOf('The others, worst first'));
    expect(out).toMatch(/Count the tray: tapered spacer, 5 mm is left over/);
    expect(out).toContain('qualified mechanic');
  });

  test('a build that is wrong as written gives exit code 1', () => {
    const wrong = withRow(rig, 'rig-axle', (row) =>
      row.map((entry) => (entry.id === 'taper-left' ? { ...entry, turned: false } : entry)),
    );
    expect(run(wrong, {}).code).toBe(1);
  });
});

describe('refusals', () => {
  test('of an unknown pivot and of an unknown variant', () => {
    expect(() => run(rig, { pivot: 'nowhere' })).toThrow(Refusal);
    expect(() => run(rig, { pivot: 'nowhere' })).toThrow(/rig-pivot/);
    expect(() => run(rig, { variant: 'nowhere' })).toThrow(Refusal);
  });
});
