/**
 * The command line, run as a person runs it: what goes to stdout and stderr, the fixed JSON shape of `check --json`, and
 * the exit codes: 0 sound, 1 faulty, 2 bad input or usage, with nothing on stdout.
 */
import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { analyse, FINDING_CODES, wordFinding } from '../../shared/index.ts';
import { referenceData, referenceModel } from '../fixtures/reference-joint.ts';
import { COMMAND_LINE } from '../setup/command-line.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

interface Run {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

function run(...args: string[]): Promise<Run> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      [COMMAND_LINE, ...args],
      { cwd: ROOT, timeout: 60_000, maxBuffer: 1 << 24 },
      (error, out, err) => {
        resolve({ code: error ? Number(error.code) : 0, out, err });
      },
    );
  });
}

/** Every command line of this file, by the name its test uses. `{}` stands for the folder of the input files. */
const LINES = {
  soundText: ['check', '{}/sound.json'],
  soundJson: ['check', '{}/sound.json', '--json'],
  faultyText: ['check', '{}/faulty.json'],
  faultyJson: ['check', '{}/faulty.json', '--json'],
  unsureJson: ['check', '{}/unsure.json', '--json'],
  variantJson: ['check', '{}/sound.json', '--json', '--variant', 'short-thread'],
  section: ['section', '{}/sound.json', '--pivot', 'main'],
  sectionOut: [
    'section',
    '{}/sound.json',
    '--pivot',
    'main',
    '--apart',
    '1',
    '--theme',
    'dark',
    '--out',
    '{}/section.svg',
  ],
  help: ['--help'],
  broken: ['check', '{}/broken.json', '--json'],
  binary: ['check', '{}/picture.json'],
  missing: ['check', '{}/not-there.json'],
  folder: ['check', '{}'],
  noCommand: [],
  unknownCommand: ['chekc', '{}/sound.json'],
  inherited: ['constructor', '{}/sound.json'],
  unknownOption: ['check', '{}/sound.json', '--jsn'],
  othersOption: ['check', '{}/sound.json', '--pivot', 'main'],
  unknownVariant: ['check', '{}/sound.json', '--variant', 'late'],
  unknownPivot: ['section', '{}/sound.json', '--pivot', 'mian'],
  cannotWrite: ['section', '{}/sound.json', '--pivot', 'main', '--out', '{}/no/such/folder.svg'],
} as const satisfies Record<string, readonly string[]>;
type Line = keyof typeof LINES;

/** Bad usage and unreadable input: what stderr must say in words. */
const REFUSED: readonly (readonly [Line, readonly RegExp[]])[] = [
  [
    'broken',
    [
      /broken\.json: 2 problems/,
      /parts\.sleeve\.lenght_mm: unknown key: met lenght_mm.*Did you mean “length_mm”/,
      /torque_Nm: wrong kind of value: met "20", allowed: a finite number/,
    ],
  ],
  ['binary', [/picture\.json: 1 problem\b/, /not JSON/]],
  ['missing', [/not-there\.json/, /cannot be read|no such file/]],
  ['folder', [/folder|directory/]],
  ['noCommand', [/check/, /section/]],
  ['unknownCommand', [/chekc/, /check/]],
  ['inherited', [/constructor/, /check/]],
  ['unknownOption', [/--jsn/]],
  ['othersOption', [/--pivot/]],
  ['unknownVariant', [/late/, /short-thread/]],
  ['unknownPivot', [/mian/, /main/]],
  ['cannotWrite', [/folder\.svg/]],
];

let folder = '';
const runs = new Map<Line, Run>();
const ran = (line: Line): Run => runs.get(line)!;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'axlewright-cli-'));
  const put = (name: string, data: unknown): void =>
    writeFileSync(join(folder, name), typeof data === 'string' || Buffer.isBuffer(data) ? data : JSON.stringify(data));
  const data = referenceData();
  const nut = { ...data.parts['nut'], thread: { size_mm: 15, pitch_mm: 1, length_mm: 10 } };
  put('sound.json', {
    ...data,
    variants: [
      { id: 'short-thread', name: 'Short thread', why: 'the first year had another nut', stacks: {}, parts: { nut } },
    ],
  });
  put('faulty.json', referenceModel(['spacer-nd']));
  const { designation: _, ...bearing } = data.parts['bearing']!;
  put('unsure.json', {
    ...data,
    parts: {
      ...data.parts,
      bearing: { ...bearing, bore_mm: 15, outside_mm: 28, width_mm: 7 },
      spacer: { ...data.parts['spacer'], outside_mm: 19.6 },
    },
  });
  put(
    'broken.json',
    JSON.stringify(data)
      .replace('"length_mm":30', '"length_mm":30,"lenght_mm":30')
      .replace('"torque_Nm":20', '"torque_Nm":"20"'),
  );
  put('picture.json', Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0xff, 0xfe]));
  const waiting = Object.keys(LINES) as Line[];
  const worker = async (): Promise<void> => {
    for (let line = waiting.shift(); line; line = waiting.shift())
      runs.set(line, await run(...LINES[line].map((word) => word.replace('{}', folder))));
  };
  await Promise.all([worker(), worker(), worker()]);
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const BEARS = ['inner-ring', 'outer-ring', 'seal', 'arm', 'land', 'ring', 'nothing'];

/** The shape the design fixes: later tools read these keys. */
function expectReport(report: Record<string, any>): void {
  expect(report).toMatchObject({
    model: expect.any(String),
    verdict: expect.stringMatching(/^(sound|faulty|unsure)$/),
    pivots: expect.any(Array),
  });
  for (const pivot of report['pivots']) {
    expect(pivot).toMatchObject({
      id: expect.any(String),
      verdict: expect.stringMatching(/^(sound|faulty|unsure)$/),
      stacks: expect.any(Array),
      findings: expect.any(Array),
    });
    for (const stack of pivot.stacks) {
      expect(stack).toMatchObject({ id: expect.any(String), clamp_N: expect.any(Number), parts: expect.any(Array) });
      expect(stack.parts.length).toBeGreaterThan(2);
      for (const part of stack.parts) {
        expect(part).toMatchObject({ id: expect.any(String), part: expect.any(String), z_mm: expect.any(Number) });
        for (const face of [part.faces.nonDrive, part.faces.drive]) {
          expect(BEARS).toContain(face.bears);
          expect(face.force_N).toBeGreaterThanOrEqual(0);
        }
      }
    }
    for (const finding of pivot.findings) {
      expect(FINDING_CODES).toContain(finding.code);
      expect(finding).toMatchObject({
        severity: expect.stringMatching(/^(stop|warn|note)$/),
        parts: expect.any(Array),
        text: expect.stringMatching(/\.$/),
      });
      for (const id of finding.parts) expect(id).not.toContain('/');
    }
  }
}

describe('check', () => {
  test('a sound build: 0, its verdict and where the last word lies', () => {
    const { code, out, err } = ran('soundText');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^Reference joint: Fits/);
    expect(out).toMatch(/Stand on the non-drive side, turn the axle’s head clockwise/);
    expect(out).toMatch(/frame maker.*local rules.*qualified mechanic/);
    expect(out).toMatch(/\n$/);
  });

  test('a faulty build: 1, with its findings in words, worst first', () => {
    const { code, out, err } = ran('faultyText');
    expect({ code, err }).toEqual({ code: 1, err: '' });
    const analysis = analyse(referenceModel(['spacer-nd']));
    const places = analysis.pivots[0]!.findings.map((finding) => out.indexOf(wordFinding(finding, analysis).text));
    expect(Math.min(...places)).toBeGreaterThan(0);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  test('--json has the fixed shape, and the numbers of the analysis', () => {
    for (const [line, code, verdict] of [
      ['soundJson', 0, 'sound'],
      ['faultyJson', 1, 'faulty'],
      ['unsureJson', 1, 'unsure'],
    ] as const) {
      expect({ code: ran(line).code, err: ran(line).err }, line).toEqual({ code, err: '' });
      const report = JSON.parse(ran(line).out) as Record<string, any>;
      expectReport(report);
      expect(report).toMatchObject({ model: 'reference-joint', verdict });
    }
    const stack = JSON.parse(ran('soundJson').out).pivots[0].stacks[0];
    expect(Math.abs(stack.clamp_N - 9318)).toBeLessThan(1);
    const rows = referenceData()
      .pivots[0]!.stacks[0]!.row.filter((entry) => entry['part'] !== undefined)
      .map((entry) => entry['id']);
    expect(stack.parts.map((part: { id: string }) => part.id)).toEqual(['axle', ...rows, 'receiver']);
    const spacer = stack.parts.find((part: { id: string }) => part.id === 'spacer-nd');
    expect(spacer).toMatchObject({
      part: 'spacer',
      faces: { nonDrive: { bears: 'inner-ring' }, drive: { bears: 'inner-ring' } },
    });
    expect(Math.abs(spacer.z_mm + 27)).toBeLessThan(0.1);
    const faulty = JSON.parse(ran('faultyJson').out).pivots[0].findings.map(
      (finding: { code: string }) => finding.code,
    );
    expect(faulty).toEqual(expect.arrayContaining(['arm-drawn', 'bearing-side-loaded', 'part-missing']));
  });

  test('--variant checks the variant', () => {
    const report = JSON.parse(ran('variantJson').out) as Record<string, any>;
    expectReport(report);
    expect(report).toMatchObject({ variant: 'short-thread', verdict: 'faulty' });
    expect(report['pivots'][0].findings.map((finding: { code: string }) => finding.code)).toContain('thread-too-short');
    expect(ran('variantJson').code).toBe(1);
  });
});

describe('section', () => {
  /** Open tags closed in order, one root, no stray brackets or bare ampersands. */
  function expectWellFormed(svg: string): void {
    const open: string[] = [];
    let roots = 0;
    const text = svg.replace(/<\?xml[^?]*\?>/, '').replace(/<!--[\s\S]*?-->/g, '');
    for (const [tag, slash, name, attributes, own] of text.matchAll(
      /<(\/?)([A-Za-z][\w:-]*)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>/g,
    )) {
      if (slash === '/') expect(open.pop(), tag).toBe(name);
      else {
        if (open.length === 0) roots++;
        expect(new Set([...attributes!.matchAll(/\s([\w:-]+)=/g)].map((match) => match[1])).size, tag).toBe(
          [...attributes!.matchAll(/\s[\w:-]+="/g)].length,
        );
        if (own === '') open.push(name!);
      }
    }
    expect({ open, roots }).toEqual({ open: [], roots: 1 });
    expect(text.replace(/<\/?[A-Za-z][^<>]*>/g, '')).not.toMatch(/[<>]|&(?!(?:amp|lt|gt|quot|apos|#\d+|#x[\da-f]+);)/i);
  }

  test('goes to stdout as SVG', () => {
    const { code, out, err } = ran('section');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/<svg[^>]*xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    expectWellFormed(out);
    expect(out).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('--out writes the file and leaves stdout alone', () => {
    expect(ran('sectionOut')).toEqual({ code: 0, out: '', err: '' });
    const svg = readFileSync(join(folder, 'section.svg'), 'utf8');
    expectWellFormed(svg);
    expect(svg).not.toBe(ran('section').out);
  });
});

describe('what cannot be done', () => {
  test.each(REFUSED)('%s is refused in words, with nothing on stdout', (line, words) => {
    const { code, out, err } = ran(line);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    for (const word of words) expect(err).toMatch(word);
    expect(err).not.toMatch(/\n\s+at /);
    expect(err).toMatch(/\n$/);
  });

  test('--help is no trouble', () => {
    const { code, out, err } = ran('help');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    for (const command of ['check', 'section']) expect(out).toContain(command);
  });
});
