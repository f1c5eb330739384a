/**
 * The command line, run as a person runs it: what goes to stdout and stderr, the fixed JSON shape of `check --json`,
 * and the exit codes: 0 sound, 1 faulty, 2 bad input or usage, with one line on stderr and where help is.
 */
import { execFile, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, openSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { analyse, FINDING_CODES, wordFinding } from '../../shared/index.ts';
import { referenceData, referenceModel } from '../fixtures/reference-joint.ts';
import { COMMANDS } from '../../src/commands/all.ts';
import { commandHelp, lineOf } from '../../src/commands/line.ts';
import { sectionCommand } from '../../src/commands/section.ts';
import { COMMAND_LINE } from '../setup/command-line.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

interface Run {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** As it is installed. */
const BIN = join(
  ROOT,
  (JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { bin: { axlewright: string } }).bin.axlewright,
);

function run(...args: string[]): Promise<Run> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      [BIN, ...args],
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
  hostile: ['check', '{}/hostile.json'],
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
  twoStacks: ['section', 'models/skarn-140.json', '--pivot', 'rear', '--stack', 'rear-right'],
  help: ['--help'],
  helpWord: ['help'],
  helpOfOne: ['help', 'section'],
  helpBehind: ['section', '--help'],
  helpUnknown: ['help', 'sektion'],
  version: ['--version'],
  equals: ['check', '{}/sound.json', '--variant=short-thread', '--json'],
  behindDashes: ['check', '--json', '--', '{}/sound.json'],
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
  noModel: ['check'],
  tooMuch: ['check', '{}/sound.json', '{}/faulty.json'],
  twice: ['check', '{}/sound.json', '--json', '--json'],
  noValue: ['section', '{}/sound.json', '--pivot'],
  optionForValue: ['section', '{}/sound.json', '--pivot', '--stack', 'main'],
  valueForSwitch: ['check', '{}/sound.json', '--json=yes'],
  shortOption: ['check', '{}/sound.json', '-x'],
  notTogether: ['travel', '{}/sound.json', '--json', '--csv'],
  ownAndStrip: ['order', '{}/sound.json', '--strip', '--own', 'stand'],
  namedTwice: ['order', '{}/sound.json', '--own', 'stand, stand'],
  unknownTask: ['order', '{}/sound.json', '--own', 'stnad'],
  brokenText: ['check', '{}/comma.json'],
  wide: ['check', '{}/utf16.json'],
  crowded: ['check', '{}/crowded.json'],
  hostileName: ['check', '{}/\u001b[2J\u202eevil.json'],
  hostileWord: ['\u001b]0;owned\u0007', '{}/sound.json'],
  cannotWrite: ['section', '{}/sound.json', '--pivot', 'main', '--out', '{}/no/such/folder.svg'],
} as const satisfies Record<string, readonly string[]>;
type Line = keyof typeof LINES;

/** Refusals of what a file says: all its problems, a line each. The others are one line and where help is. */
const LISTED: readonly Line[] = ['broken', 'binary', 'brokenText', 'wide', 'crowded'];

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
  ['binary', [/picture\.json: 1 problem\b/, /not a text: met bytes that are no text, allowed: a text saved as UTF-8/]],
  ['missing', [/not-there\.json: cannot be read: there is no such file or folder\n/]],
  ['folder', [/met a folder, allowed: a \.json file\n/]],
  ['noCommand', [/^command: met nothing, allowed: check, section/]],
  ['unknownCommand', [/^command: met chekc, allowed: check, .*\. Did you mean “check”\?\n/]],
  ['helpUnknown', [/^command: met sektion, .*Did you mean “section”\?\n/]],
  ['inherited', [/^command: met constructor, allowed: check, [^“]*\n/]],
  ['noModel', [/^check: model file: met nothing, allowed: the path of a \.json file\n/]],
  ['tooMuch', [/^check: met .*faulty\.json after the model file, allowed: nothing more\n/]],
  ['unknownOption', [/^check: met --jsn, allowed: --json, --variant, --reached\. Did you mean “--json”\?\n/]],
  ['othersOption', [/^check: met --pivot, which is an option of section, mistakes, felt, torque\n/]],
  ['shortOption', [/^check: met -x, allowed: --json, --variant, --reached\n/]],
  ['twice', [/^check: --json: met twice, allowed: once\n/]],
  ['noValue', [/^section: --pivot: met nothing, allowed: ID: the pivot\n/]],
  ['optionForValue', [/^section: --pivot: met nothing, allowed: ID: the pivot\n/]],
  ['valueForSwitch', [/^check: --json: met yes, allowed: no value\n/]],
  ['notTogether', [/^travel: --json and --csv: met both, allowed: one of them\n/]],
  ['ownAndStrip', [/^order: --own and --strip: met both, allowed: one of them\n/]],
  ['namedTwice', [/^order: --own: named twice: stand, allowed: each task once\n/]],
  ['unknownTask', [/^order: --own: met stnad, allowed: .*\. Did you mean “stand”\?\n/]],
  ['unknownVariant', [/--variant: met late, allowed: short-thread\n/]],
  ['unknownPivot', [/^section: --pivot: met mian, allowed: main\. Did you mean “main”\?\n/]],
  [
    'brokenText',
    [/comma\.json: 1 problem\n {2}line 4, column 1: this is not JSON: met “}” in the line “}”, allowed: no comma/],
  ],
  ['wide', [/utf16\.json: 1 problem\n.*met a text saved as UTF-16, allowed: a text saved as UTF-8/]],
  [
    'crowded',
    [/crowded\.json: 5\d\d problems\n/, /\n {2}and 4\d\d more: put these right, then read the file again\n$/],
  ],
  ['hostileName', [/\\u001b\[2J\\u202eevil\.json: cannot be read/]],
  ['hostileWord', [/^command: met \\u001b\]0;owned\\u0007, allowed/]],
  ['cannotWrite', [/^--out: .*folder\.svg: cannot be written: there is no such file or folder\n/]],
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
  put('comma.json', '{\n  "schema": 1,\n  "id": "x",\n}\n');
  put('utf16.json', Buffer.from(JSON.stringify(data), 'utf16le'));
  put('crowded.json', { ...data, ...Object.fromEntries(Array.from({ length: 500 }, (_, k) => [`k${k}`, 1])) });
  put('hostile.json', { ...data, name: 'Rig \u001b[31mred\u0007 \u202eknil' });
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
  /** Open tags closed in order, one root, no loose brackets or bare ampersands. */
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
    expect({ code, err }).toEqual({ code: 0, err: 'Drawn: stack main, Rocker pivot. Pivot main has no other.\n' });
    expect(out).toMatch(/<svg[^>]*xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    expectWellFormed(out);
    expect(out).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('says which stack it is and which others there are', () => {
    expect(ran('twoStacks').err).toMatch(
      /^Drawn: stack rear-right, .+\. Others of pivot rear, by --stack: rear-left\.\n$/,
    );
  });

  test('--out writes the file and leaves stdout alone', () => {
    expect(ran('sectionOut')).toEqual({ code: 0, out: '', err: ran('section').err });
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
    expect(err).not.toMatch(/\n\s+at |\bE[A-Z]{4,}\b|JSON at position|Unexpected/);
    expect(err.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\p{Bidi_Control}]/u);
    expect(err).toMatch(/\n$/);
    if (!LISTED.includes(line)) {
      expect(err.split('\n')).toHaveLength(3);
      expect(err).toMatch(/\nHelp: npm run -s axlewright -- help( [a-z]+)?\n$/);
    }
  });

  test('help goes to the command that was named', () => {
    expect(ran('unknownPivot').err).toMatch(/-- help section\n$/);
    expect(ran('unknownCommand').err).toMatch(/-- help\n$/);
  });

  test('every refusal of this file is among those held', () => {
    const refused = (Object.keys(LINES) as Line[]).filter((line) => ran(line).code === 2);
    expect(refused.sort()).toEqual(REFUSED.map(([line]) => line).sort());
  });
});

describe('help', () => {
  test('of all: every command, and where help of one is', () => {
    const { code, out, err } = ran('help');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    for (const { name, summary } of COMMANDS) expect(out).toMatch(new RegExp(`\n {2}${name} +${summary}\n`));
    expect(out).toContain('npm run -s axlewright -- help check');
    expect(ran('helpWord')).toEqual(ran('help'));
  });

  test('of one: its own options and no other’s, and an example', () => {
    const { code, out, err } = ran('helpOfOne');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect([...out.matchAll(/^ {2}--(\S+)/gm)].map(([, name]) => name)).toEqual(Object.keys(sectionCommand.options));
    expect(out).toMatch(/An example:\n {2}npm run -s axlewright -- section models\/\S+ --pivot/);
    expect(ran('helpBehind')).toEqual(ran('helpOfOne'));
  });

  test.each(COMMANDS.map((command) => [command.name, command] as const))(
    'of %s is short and says each option',
    (_, command) => {
      for (const { says, value, type } of Object.values(command.options)) {
        expect(says).toMatch(/^[^A-Z].*[^.]$/);
        expect(says.split(' ').length).toBeLessThan(15);
        expect(value === undefined).toBe(type === 'boolean');
      }
      for (const line of commandHelp(command).split('\n')) expect(line.length).toBeLessThanOrEqual(150);
      expect(command.examples.length).toBeGreaterThan(0);
      const first = command.subject || command.takesText ? '(models/|tests/fixtures/draft-|[a-z])' : 'models/';
      for (const example of command.examples) expect(example).toMatch(new RegExp(`^${command.name} ${first}`));
      for (const [one, others] of command.apart ?? [])
        for (const name of [one, ...others]) expect(command.options).toHaveProperty([name]);
    },
  );

  test('the version is that of the package', () => {
    const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string };
    expect(ran('version')).toEqual({ code: 0, out: `${version}\n`, err: '' });
  });
});

describe('the words of a line', () => {
  test('a value may stand behind “=”, and behind “--” nothing is an option', () => {
    expect(ran('equals')).toEqual(ran('variantJson'));
    expect(ran('behindDashes')).toEqual(ran('soundJson'));
  });

  test('a negative number is a value', () => {
    expect(lineOf(['travel', 'x.json', '--free', 'arm', '--from_deg', '-20'], COMMANDS)).toMatchObject({
      options: { free: 'arm', from_deg: '-20' },
    });
  });

  test('a name of a file that a terminal would act on is written out', () => {
    const { code, out } = ran('hostile');
    expect(code).toBe(0);
    expect(out).toMatch(/^Rig \\u001b\[31mred\\u0007 \\u202eknil: Fits/);
    expect(out.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\p{Bidi_Control}]/u);
  });
});

describe('a reader that goes away', () => {
  /** Runs a line with the pipe of its result closed before anything is in it. */
  function cutOff(words: readonly string[], which: 'stdout' | 'stderr'): Promise<{ code: number | null; err: string }> {
    return new Promise((resolve) => {
      const child = spawn(process.execPath, [COMMAND_LINE, ...words], { cwd: ROOT, stdio: ['ignore', 'pipe', 'pipe'] });
      child[which].destroy();
      let err = '';
      if (which !== 'stderr') child.stderr.on('data', (data) => (err += String(data)));
      child.on('close', (code) => resolve({ code, err }));
    });
  }

  test('is no trouble: nothing on stderr, and the exit code is the verdict’s', async () => {
    expect(await cutOff(['check', join(folder, 'sound.json')], 'stdout')).toEqual({ code: 0, err: '' });
    expect(await cutOff(['check', join(folder, 'faulty.json')], 'stdout')).toEqual({ code: 1, err: '' });
    expect(await cutOff(['mistakes', 'models/class-rig.json', '--json'], 'stdout')).toEqual({ code: 0, err: '' });
    expect(await cutOff(['check', join(folder, 'broken.json')], 'stderr')).toEqual({ code: 2, err: '' });
  });

  test.runIf(existsSync('/dev/full'))('a full disk is told, without the words of the system', async () => {
    const { code, err } = await new Promise<{ code: number | null; err: string }>((resolve) => {
      const full = openSync('/dev/full', 'w');
      const child = spawn(process.execPath, [COMMAND_LINE, 'check', join(folder, 'sound.json')], {
        cwd: ROOT,
        stdio: ['ignore', full, 'pipe'],
      });
      let text = '';
      child.stderr!.on('data', (data) => (text += String(data)));
      child.on('close', (done) => resolve({ code: done, err: text }));
    });
    expect({ code, err }).toEqual({ code: 2, err: 'The result cannot be written: the disk is full\n' });
  });
});
