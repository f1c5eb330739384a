/**
 * The command `sort`: its fixed JSON form, its text, its exit codes and its refusals, run in this process on files.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, describe, expect, it, test, vi } from 'vitest';
import type { LinkageModel } from '../../shared/index.ts';
import { Refusal, type Options } from '../../src/commands/command.ts';
import { sortCommand, type SortReport } from '../../src/commands/sort.ts';
import { demoModels } from '../bench/models.ts';

const MODELS = demoModels();
const SKARN = MODELS.find(({ id }) => id === 'skarn-140')!;
const FJORD = MODELS.find(({ id }) => id === 'fjordside-150')!;
const RIG = MODELS.find(({ id }) => id === 'class-rig')!;
const TRAY = fileURLToPath(new URL('../fixtures/sort/skarn-tray.csv', import.meta.url));
const FOLDER = mkdtempSync(join(tmpdir(), 'axlewright-sort-'));

afterAll(() => rmSync(FOLDER, { recursive: true }));
afterEach(() => vi.restoreAllMocks());

function file(text: string, name = 'readings.csv'): string {
  const path = join(FOLDER, name);
  writeFileSync(path, text);
  return path;
}

function run(model: LinkageModel, path: string, options: Options = {}): { code: number; out: string } {
  const said: string[] = [];
  vi.spyOn(process.stdout, 'write').mockImplementation((chunk) => {
    said.push(String(chunk));
    return true;
  });
  try {
    return { code: sortCommand.run(model, options, [path]), out: said.join('') };
  } finally {
    vi.restoreAllMocks();
  }
}
const json = (model: LinkageModel, path: string, options: Options = {}): SortReport =>
  JSON.parse(run(model, path, { ...options, json: true }).out) as SortReport;

describe('sort --json', () => {
  const report = json(SKARN, TRAY);
  it('says what each reading is', () => {
    expect(report).toMatchObject({ model: 'skarn-140', accuracy_mm: 0.05, wear: true });
    expect(
      Object.fromEntries(report.readings.map(({ label, placements }) => [label, placements.map(({ part }) => part)])),
    ).toEqual({
      A: ['rocker-cone-short'],
      B: ['rocker-cone-long'],
      C: ['rear-washer'],
      D: ['shock-rear-spacer'],
      E: ['bearing-15-7'],
      F: ['bearing:61903'],
      G: ['rocker-axle'],
      H: ['main-nut'],
      I: [],
    });
  });
  it('says what is not sure, and keeps every alternative', () => {
    expect(report.readings.filter(({ sure }) => !sure).map(({ label }) => label)).toEqual(['C', 'I']);
    const c = report.readings[2]!;
    expect(c.alternatives.map(({ part, cannotBeTold }) => [part, cannotBeTold])).toEqual([
      ['seatstay-tube', true],
      ['seatstay-washer', true],
    ]);
    for (const { text } of c.alternatives) expect(text).toContain('cannot be told apart by what you measured');
  });
  it('says what is worn, where each part goes, and what to measure next', () => {
    expect(report.readings[3]!.placements[0]!.worn).toMatchObject([{ name: 'length_mm', isBeyond: true }]);
    expect(report.readings[0]!.placements[0]!.places).toMatchObject([
      { pivotId: 'rocker-frame', side: 'non-drive', smallFace: 'non-drive' },
    ]);
    expect(report.next).toMatchObject({ row: 2, name: 'length_mm', again: false });
    expect(report.next!.text).toContain('Measure next: the length of “C”');
  });
  it('counts what the tray lacks', () => {
    expect(report.missing).toContainEqual({ part: 'bearing-12-8', pieces: 4 });
    expect(report.missing.map(({ part }) => part)).not.toContain('bearing-15-7');
  });
});

describe('sort in words', () => {
  it('says it in sentences that end with who has the last word', () => {
    const { out, code } = run(SKARN, TRAY);
    expect(code).toBe(1);
    expect(out).toContain('9 readings, 6 settled');
    expect(out).toContain('By elimination');
    expect(out).toContain(
      'STOP Length 15.8 mm instead of 16 mm: worn by 0.2 mm, more than the 0.1 mm it may have lost.',
    );
    expect(out).toContain(
      'Rocker to frame: non-drive side, between rocker boss (non-drive) and frame boss, small face to the non-drive side',
    );
    expect(out).toContain('Not on the tray:');
    expect(out.trimEnd()).toMatch(/qualified mechanic have the last word\.$/);
    expect(out).not.toMatch(/undefined|NaN|Infinity/);
  });
  it('exits with 0 when every reading has its one place, though the tray is not whole', () => {
    expect(run(RIG, file('kind;length mm\ntapered spacer;5\n')).code).toBe(0);
    expect(run(RIG, file('kind;length mm\ntapered spacer;8\n')).code).toBe(1);
  });
  it('takes JSON with its own accuracy, and --accuracy before it', () => {
    const path = file(
      JSON.stringify({ accuracy_mm: 0.2, wear: false, readings: [{ kind: 'tapered-spacer', length_mm: 5.3 }] }),
      'readings.json',
    );
    expect(json(RIG, path)).toMatchObject({
      accuracy_mm: 0.2,
      wear: false,
      readings: [{ placements: [{ misfit_accuracies: expect.closeTo(1.5, 6) as number }] }],
    });
    expect(json(RIG, path, { accuracy: '0,1' }).readings[0]!.placements[0]?.misfit_accuracies).toBeUndefined();
  });
  it('sorts into the variant’s parts list', () => {
    const path = file('kind;outside mm;length mm\nnut;24;12\n');
    expect(json(FJORD, path, { variant: 'second-series' }).readings[0]!.placements[0]!.part).toBe('stay-nut-large');
    expect(json(FJORD, path).readings[0]!.placements).toEqual([]);
  });
});

describe('refused in words', () => {
  test.each([
    ['a file that is not there', join(FOLDER, 'none.csv'), {}, /none\.csv: cannot be read/],
    ['a folder', FOLDER, {}, /met a folder, allowed: a \.csv or \.json file/],
    [
      'an impossible reading',
      () => file('label;bore mm;outside mm\nA;20;15\n'),
      {},
      /row 1, “A”, bore_mm: the bore cannot be as wide as the outside: met 20 mm, allowed: below the outside, 15 mm/,
    ],
    ['a header without units', () => file('bore;outside mm\n15;28\n'), {}, /the unit is missing/],
    ['an accuracy that is none', TRAY, { accuracy: 'little' }, /--accuracy: met little/],
    ['an unknown variant', TRAY, { variant: 'next-year' }, /next-year/],
  ] as const)('%s', (_, path, options, words) => {
    const at = typeof path === 'function' ? path() : path;
    expect(() => run(SKARN, at, options)).toThrow(Refusal);
    expect(() => run(SKARN, at, options)).toThrow(words);
  });
  it('no file at all', () => {
    expect(() => sortCommand.run(SKARN, {}, [])).toThrow(Refusal);
  });
});
