/**
 * Reading model files, good and bad: every code of a problem has its broken file beside the valid reference model, all
 * problems of a file come at once, and nothing a file says makes the reader throw.
 */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  DEEPEST,
  LARGEST_FILE,
  MOST_PROBLEMS,
  PROBLEM_CODES,
  readData,
  readModel,
  wordMoreProblems,
  wordProblem,
  wordProblemCode,
  type Problem,
  type Reading,
} from '../../shared/index.ts';
import { patched, type Patch } from '../fixtures/problems/patch.ts';
import { BROKEN_TEXTS } from '../fixtures/problems/texts.ts';
import { referenceData } from '../fixtures/reference-joint.ts';
import { changedModel } from '../fixtures/problems/mutations.ts';
import { cases, property } from '../setup/series.ts';

interface BrokenFile extends Patch {
  readonly name: string;
  readonly problems: readonly Problem[];
}

const BROKEN_FILES = JSON.parse(
  readFileSync(new URL('../fixtures/problems/problems.json', import.meta.url), 'utf8'),
) as readonly BrokenFile[];

function problemsOf(reading: Reading): readonly Problem[] {
  return reading.ok ? [] : reading.problems;
}

/** What a person needs to find and mend it, in one plain line: why the words of a problem are not that. */
function flawOf(problem: Problem): string | undefined {
  const words = wordProblem(problem);
  const { path, met, allowed, suggestion } = problem;
  if (path === '' || met === '' || allowed === '') return 'something is left empty';
  if (!words.startsWith(`${path}: `) || !words.includes(`met ${met}`) || !words.includes(`allowed: ${allowed}`))
    return 'place, value or what is allowed is not said';
  if (!words.endsWith(suggestion === undefined ? '.' : `Did you mean “${suggestion}”?`)) return 'no whole sentence';
  return /undefined|\[object|function|[\p{Cc}]/u.test(words) ? 'something that is no word' : undefined;
}

function expectPlain(problems: readonly Problem[]): void {
  expect(
    problems.flatMap((problem) =>
      flawOf(problem) === undefined ? [] : [`${flawOf(problem)}: ${wordProblem(problem)}`],
    ),
  ).toEqual([]);
}

describe('a broken file', () => {
  test.each(BROKEN_FILES.map((file) => [file.name, file] as const))('%s', (_, file) => {
    const met = problemsOf(readData(patched(referenceData(), file)));
    const asRow = ({ code, path, met: value, suggestion }: Problem) => ({ code, path, met: value, suggestion });
    const inOrder = (rows: readonly Problem[]) =>
      rows.map(asRow).sort((a, b) => `${a.path} ${a.code}`.localeCompare(`${b.path} ${b.code}`));
    expect(inOrder(met)).toEqual(inOrder(file.problems));
    for (const wanted of file.problems) {
      expect(
        met.some(
          (problem) =>
            problem.code === wanted.code && problem.path === wanted.path && problem.allowed.includes(wanted.allowed),
        ),
      ).toBe(true);
    }
    expectPlain(met);
    // The words of a file survive the way through text.
    expect(problemsOf(readModel(JSON.stringify(patched(referenceData(), file))))).toEqual(met);
  });

  test.each(BROKEN_TEXTS.map((file) => [file.name, file] as const))('%s', (_, file) => {
    const met = problemsOf(readModel(file.text()));
    const problem = met.find((candidate) => candidate.code === file.code && candidate.path === file.path);
    expect(problem, JSON.stringify(met.slice(0, 5))).toBeDefined();
    expect(problem!.met).toMatch(file.met);
    expect(problem!.met.length).toBeLessThan(200);
    expectPlain(met);
  });

  test('stands beside the good file for every code of a problem', () => {
    const shown = new Set([
      ...BROKEN_FILES.flatMap((file) => file.problems.map((problem) => problem.code)),
      ...BROKEN_TEXTS.map((file) => file.code),
    ]);
    expect([...shown].sort()).toEqual([...PROBLEM_CODES].sort());
    for (const code of PROBLEM_CODES) expect(wordProblemCode(code)).toMatch(/^[A-Z].*[a-z]$|JSON$/);
  });

  test('with a name given twice is told of its other faults as well', () => {
    const text = JSON.stringify(referenceData())
      .replace('"sleeve":{', '"spacer":{')
      .replace('"torque_Nm":20', '"torque_Nm":"20"');
    expect(problemsOf(readModel(text)).map(({ code, path }) => `${code} ${path}`)).toEqual([
      'duplicate-id parts.spacer',
      'wrong-type pivots[0].stacks[0].torque_Nm',
    ]);
  });
});

describe('a good file', () => {
  test('reads, with or without a byte order mark, and keeps what it says', () => {
    const data = referenceData();
    for (const text of [JSON.stringify(data), `\ufeff${JSON.stringify(data, undefined, 2)}\n`]) {
      const reading = readModel(text);
      if (!reading.ok) throw new Error(reading.problems.map(wordProblem).join('\n'));
      expect(reading.model).toMatchObject(data);
    }
  });

  test('has the default of a right-hand thread filled in', () => {
    const reading = readData(referenceData());
    expect(reading.ok && reading.model.parts['axle']).toMatchObject({ thread: { hand: 'right' } });
  });

  test('may hold brackets, quotes and strokes inside its texts', () => {
    const reading = readData({ ...referenceData(), name: '{[["\\"]]} \\' });
    expect(reading.ok).toBe(true);
    expect(readModel(JSON.stringify({ ...referenceData(), name: '{[["\\"]]} \\', about: '['.repeat(100) })).ok).toBe(
      true,
    );
  });

  test('has its texts made harmless, wherever they are shown', () => {
    const hostile = {
      ...referenceData(),
      name: 'Skarn\u001b]0;owned\u0007 \u202e041',
      about: 'two\nlines\u0000',
      parts: {
        ...referenceData().parts,
        nut: { ...referenceData().parts['nut'], name: 'nut\u009b2J', notes: ['\u2066x'] },
      },
    };
    const reading = readModel(JSON.stringify(hostile));
    if (!reading.ok) throw new Error(reading.problems.map(wordProblem).join('\n'));
    const { name, about, parts } = reading.model;
    expect([name, about, parts['nut']!.name, parts['nut']!.notes]).toEqual([
      'Skarn\\u001b]0;owned\\u0007 \\u202e041',
      'two lines\\u0000',
      'nut\\u009b2J',
      ['\\u2066x'],
    ]);
    expect(readData(JSON.parse(JSON.stringify(reading.model)))).toEqual(reading);
  });

  test('may use one name in two places', () => {
    expect(
      readData(
        patched(referenceData(), {
          set: { 'pivots[0].stacks[0].row[0].id': 'rocker', 'pivots[0].stacks[0].row[2].id': 'spacer' },
        }),
      ).ok,
    ).toBe(true);
  });

  test('is read up to its very size limit', () => {
    const text = JSON.stringify(referenceData());
    expect(readModel(text + ' '.repeat(LARGEST_FILE - text.length)).ok).toBe(true);
    expect(readModel(text + ' '.repeat(LARGEST_FILE - text.length + 1)).ok).toBe(false);
  });
});

describe('nesting', () => {
  const nested = (levels: number): string => `${'['.repeat(levels)}${']'.repeat(levels)}`;
  test('is read as deep as allowed and refused one deeper, as text and as data', () => {
    expect(problemsOf(readModel(nested(DEEPEST))).map(({ code }) => code)).toEqual(['wrong-type']);
    expect(problemsOf(readModel(nested(DEEPEST + 1))).map(({ code }) => code)).toEqual(['too-deep']);
    expect(problemsOf(readData(JSON.parse(nested(DEEPEST + 8)))).map(({ code }) => code)).toEqual(['too-deep']);
  });

  test('in a circle does not hang', () => {
    const circle: Record<string, unknown> = {};
    circle['self'] = circle;
    expect(problemsOf(readData(circle)).map(({ code }) => code)).toEqual(['too-deep']);
  });
});

describe('whatever a file says, the reader does not throw', () => {
  const SEED = 20_406;

  function expectAnswer(reading: Reading): void {
    if (reading.ok) return;
    expect(reading.problems.length).toBeGreaterThan(0);
    expectPlain(reading.problems);
  }

  test(`any JSON (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 6 }), (text) => expectAnswer(readModel(text))),
      property(SEED, 120),
    );
  });

  test(`any text (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 60 }), (text) => expectAnswer(readModel(text))),
      property(SEED, 120),
    );
  });

  test(`any data, NaN, sparse and odd values included (seed ${SEED})`, () => {
    const odd = fc.anything({
      maxDepth: 4,
      withBigInt: false,
      withDate: true,
      withMap: true,
      withNullPrototype: true,
      withSparseArray: true,
    });
    fc.assert(
      fc.property(odd, (data) => expectAnswer(readData(data))),
      property(SEED, 120),
    );
  });

  test(`the valid model with any part of its text cut out or doubled (seed ${SEED})`, () => {
    const text = JSON.stringify(referenceData());
    const cut = fc.tuple(fc.nat(text.length), fc.nat(40), fc.boolean());
    fc.assert(
      fc.property(cut, ([at, length, doubled]) =>
        expectAnswer(
          readModel(
            text.slice(0, at) +
              (doubled ? text.slice(Math.max(0, at - length), at) : '') +
              text.slice(doubled ? at : at + length),
          ),
        ),
      ),
      property(SEED, 120),
    );
  });

  test(`the valid model with one to three places changed (seed ${SEED})`, () => {
    let read = 0;
    fc.assert(
      fc.property(changedModel(), (data) => {
        const reading = readData(data);
        if (reading.ok) read++;
        expectAnswer(reading);
      }),
      property(SEED, 200),
    );
    // Both answers must come up, or the changes prove nothing.
    expect(read).toBeGreaterThan(cases(200) / 12);
    expect(read).toBeLessThan(1100);
  });

  test('a key of nine hundred thousand letters', () => {
    const long = problemsOf(readModel(`{"${'a'.repeat(900_000)}":1}`)).find(
      (problem) => problem.code === 'unknown-key',
    );
    expect(long?.path.length).toBeLessThan(100);
  });
});

describe('a file of forty thousand problems', () => {
  const COUNT = 40_000;
  const list = (of: (k: number) => string): string => Array.from({ length: COUNT }, (_, k) => of(k)).join(',');
  const row = '{"id":"a","part":"zz"}';
  const base = referenceData();
  const pivot = { ...base.pivots[0]!, stacks: [{ ...base.pivots[0]!.stacks[0]!, row: 'ROW' }] };
  const bareParts = JSON.stringify({
    ...base,
    parts: {
      ...base.parts,
      ...Object.fromEntries(Array.from({ length: 900 }, (_, k) => [`p${k}`, { kind: 'spacer' }])),
    },
  });
  const FILES: readonly (readonly [name: string, text: string, least: number])[] = [
    ['unknown keys', `{${list((k) => `"k${k}":1`)}}`, COUNT],
    ['names given twice', `{${list(() => '"a":1')}}`, COUNT - 1],
    ['keys that poison', `{"a":[${list(() => '{"__proto__":1}')}]}`, COUNT],
    ['values of the wrong kind', inFrame('points', (k) => `"p${k}":1`), COUNT],
    ['row entries of no part', rowsOf(row), 20_000],
    ['parts of nothing but a kind', bareParts, 900],
  ];
  /** The reference file with a table of forty thousand entries in its frame. */
  function inFrame(key: string, entry: (k: number) => string): string {
    const frame = { ...(base.members['frame'] as object), [key]: 'LIST' };
    return JSON.stringify({ ...base, members: { ...base.members, frame } }).replace('"LIST"', `{${list(entry)}}`);
  }
  /** The largest file of the reference pivot with so many stacks that each of their rows is wrong throughout. */
  function rowsOf(entry: string): string {
    const one = JSON.stringify(pivot).replace('"ROW"', `[${Array.from({ length: 40 }, () => entry).join(',')}]`);
    const many = Math.floor((LARGEST_FILE - JSON.stringify(base).length) / (one.length + 1));
    return JSON.stringify({ ...base, pivots: 'PIVOTS' }).replace(
      '"PIVOTS"',
      `[${Array.from({ length: many }, () => one).join(',')}]`,
    );
  }

  test.each(FILES)('%s: the first hundred, and how many more', (_, text, least) => {
    expect(text.length).toBeLessThan(LARGEST_FILE);
    const reading = readModel(text);
    if (reading.ok) throw new Error('read: nothing was refused');
    expect(reading.problems.length).toBe(Math.min(least, MOST_PROBLEMS));
    expect(reading.more + reading.problems.length).toBeGreaterThanOrEqual(least);
    expectPlain(reading.problems);
  });

  test('the words for those not told', () =>
    expect(wordMoreProblems(39_900)).toBe('and 39900 more: put these right, then read the file again'));
});
