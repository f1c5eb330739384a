/** Readings of loose parts: what is refused and in which words, tables with commas, points, mm and inches, JSON. */
import * as fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  checkReadings,
  DEFAULT_SETTING,
  readDrive,
  readLength,
  readNumber,
  readReading,
  readReadings,
  readThread,
  READING_PROBLEM_CODES,
  wordReadingProblem,
  type CalliperReading,
  type ReadingProblem,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import impossible from '../fixtures/sort/impossible.json';

const RIG = demoModels().find(({ id }) => id === 'class-rig')!;

/** All problems of one reading, of its form and of what it says. */
function problemsOf(data: unknown): readonly ReadingProblem[] {
  const { reading, problems } = readReading(data, 1);
  return reading ? checkReadings({ readings: [reading], setting: DEFAULT_SETTING }, RIG) : problems;
}

const good = (text: string): readonly CalliperReading[] => {
  const result = readReadings(text);
  if (!result.ok) throw new Error(result.problems.map(wordReadingProblem).join('\n'));
  return result.readings;
};
const bad = (text: string): readonly ReadingProblem[] => {
  const result = readReadings(text);
  return result.ok ? checkReadings(result, RIG) : result.problems;
};

describe('impossible readings', () => {
  test.each(impossible.map((row) => [row.code, JSON.stringify(row.reading), row] as const))(
    '%s: %s',
    (code, _text, row) => {
      const problems = problemsOf(row.reading);
      expect(problems.map((problem) => problem.code)).toContain(code);
      const problem = problems.find((candidate) => candidate.code === code)!;
      expect(problem.suggestion).toBe('suggestion' in row ? row.suggestion : undefined);
      const words = wordReadingProblem(problem);
      expect(words).toMatch(/^row 1.*: .+: met .+, allowed: .+\./);
    },
  );
  it('is none where the sizes differ by less than the readings can be off', () => {
    expect(problemsOf({ kind: 'spacer', outside_mm: 17.8, large_mm: 17.86, small_mm: 17.75, bore_mm: 15.2 })).toEqual(
      [],
    );
    expect(problemsOf({ kind: 'axle', outside_mm: 14.98, thread_mm: 15, pitch_mm: 1, turns_in_10mm: 10 })).toEqual([]);
  });
  it('tells every problem of every reading at once', () => {
    const problems = bad(
      JSON.stringify([
        { outside_mm: 10, bore_mm: 12, label: 'A' },
        { label: 'A', kind: 'spacer', head_mm: 3 },
        { slides_on: 'nobody' },
      ]),
    );
    expect(problems.map(({ code, row }) => [code, row])).toEqual([
      ['bore-over-outside', 1],
      ['kind-lacks-size', 2],
      ['label-twice', 2],
      ['no-such-axle', 3],
    ]);
  });
});

describe('a table', () => {
  const expected: Partial<CalliperReading>[] = [
    { label: 'A', kind: 'tapered-spacer', outside_mm: 27, bore_mm: 15.2, length_mm: 5.5, count: 2 },
    { label: 'B', kind: 'nut', thread_mm: 15, pitch_mm: 1, count: 1, drive: { tool: 'spanner', size_mm: 22 } },
    { label: 'C', slides_on: 'rig-axle', length_mm: 6, count: 1 },
  ];
  const POINTS = [
    'label,kind,outside mm,bore mm,length mm,thread,socket,alike',
    'A,tapered spacer,27,15.2,5.5,,,2',
    'B,nut,,,,M15x1,spanner 22,',
    'C,,,slides on rig-axle,6,,,',
  ];
  test.each([
    ['commas part cells, points the decimals', POINTS.join('\n')],
    [
      'semicolons part cells, commas the decimals',
      POINTS.map((line) => line.replaceAll(',', ';').replaceAll('.', ',')).join('\r\n'),
    ],
    [
      'tabs, as a spreadsheet copies them',
      POINTS.map((line) => line.replaceAll(',', '\t').replaceAll('.', ',')).join('\n'),
    ],
    [
      'quoted cells with commas inside',
      POINTS.map((line) => line.replace('15.2', '"15,2"').replace('5.5', '"5,5"')).join('\n'),
    ],
    ['a byte order mark, blank lines and a remark', `\uFEFF\n# tray of Tuesday\n${POINTS.join('\n\n')}\n\n`],
    [
      'other spellings of the header',
      ['Mark,Part,Outside (mm),bore_mm,Length [mm],Thread size,Drive,How many alike', ...POINTS.slice(1)].join('\n'),
    ],
  ])('%s', (_, text) => {
    expect(good(text)).toEqual(expected);
  });
  it('takes inches by the header and by the cell', () => {
    const [one, two] = good('kind;outside in;length mm\nspacer;0,7;0.25 in\nspacer;17.8 mm;6');
    expect(one!.outside_mm).toBeCloseTo(17.78, 9);
    expect(one!.length_mm).toBeCloseTo(6.35, 9);
    expect([two!.outside_mm, two!.length_mm]).toEqual([17.8, 6]);
  });
  it('counts turns over 10 mm, or over an inch', () => {
    expect(good('kind,turns in 10 mm\naxle,10')[0]!.turns_in_10mm).toBe(10);
    expect(good('kind,turns in an inch\naxle,25.4')[0]!.turns_in_10mm).toBeCloseTo(10, 9);
  });
  test.each([
    ['a length without its unit', 'kind,outside,length mm\nspacer,17.8,6', 'unit-missing'],
    ['a bare thread number without a unit', 'kind,thread\nnut,15', 'not-a-number'],
    ['a column it does not know', 'kind,weight g\nspacer,12', 'unknown-column'],
    ['a column twice', 'length mm,width mm\n6,6', 'column-twice'],
    ['a cell that is no number', 'length mm\nabout six', 'not-a-number'],
    ['thousands', 'length mm\n"1,234.5"', 'not-a-number'],
    ['a tool it does not know', 'kind,socket\naxle,biggest', 'unknown-drive'],
    ['a cell beyond the header', 'kind\nspacer,6', 'unknown-column'],
    ['a header alone', 'kind,length mm', 'not-readings'],
    ['nothing', '  \n', 'not-readings'],
    ['broken JSON', '[{', 'not-readings'],
    ['JSON that is no list', '{"reading": []}', 'unknown-key'],
    ['too long a text', ' '.repeat(500_000), 'not-readings'],
    ['too many rows', `kind\n${'spacer\n'.repeat(2001)}`, 'too-many'],
    ['an axle measured nowhere', 'label,kind,slides on\nB,axle,\nA,spacer,B', 'axle-not-measured'],
  ])('refuses %s', (_, text, code) => {
    const problems = bad(text);
    expect(problems.map((problem) => problem.code)).toContain(code);
    for (const problem of problems) expect(wordReadingProblem(problem).length).toBeGreaterThan(20);
  });
  it('has a case for every code', () => {
    const seen = new Set<string>(impossible.map(({ code }) => code));
    for (const code of [
      'unit-missing',
      'not-a-number',
      'unknown-column',
      'column-twice',
      'not-readings',
      'too-many',
      'axle-not-measured',
      'label-twice',
    ])
      seen.add(code);
    expect(READING_PROBLEM_CODES.filter((code) => !seen.has(code))).toEqual([]);
  });
  it('never throws, whatever is pasted (seed 20261)', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc
            .array(fc.array(fc.constantFrom('kind', 'outside mm', '17,8', '"', ';', 'spacer', '-', 'M12x1', '\u0000')))
            .map((rows) => rows.map((cells) => cells.join(',')).join('\n')),
        ),
        (text) => {
          const result = readReadings(text);
          expect(result.ok || result.problems.length > 0).toBe(true);
        },
      ),
      { seed: 20_261, numRuns: 400 },
    );
  });
});

describe('single cells', () => {
  test.each([
    ['5,5', 5.5],
    ['5.5', 5.5],
    [',5', 0.5],
    ['5.', 5],
    ['+3', 3],
    ['\u22123', -3],
    ['1.234,5', undefined],
    ['', undefined],
    ['5 mm', undefined],
    ['0x10', undefined],
    ['1e3', undefined],
  ])('number %s', (text, value) => {
    expect(readNumber(text)).toBe(value);
  });
  test.each([
    ['5.5', 'mm', 5.5],
    ['0.5', 'in', 12.7],
    ['0.5"', 'mm', 12.7],
    ['6 mm', 'in', 6],
    ['6', undefined, undefined],
    ['6 mm', undefined, 6],
  ] as const)('length %s in a column of %s', (text, unit, value) => {
    const length = readLength(text, unit);
    if (value === undefined) expect(length).toBeUndefined();
    else expect(length).toBeCloseTo(value, 12);
  });
  test.each([
    ['M12', { size_mm: 12 }],
    ['m10 × 1,25', { size_mm: 10, pitch_mm: 1.25 }],
    ['M15x1', { size_mm: 15, pitch_mm: 1 }],
    ['12', undefined],
    ['G1/4', undefined],
  ])('thread %s', (text, value) => {
    expect(readThread(text)).toEqual(value);
  });
  test.each([
    ['hex 6', { tool: 'hex-key', size_mm: 6 }],
    ['Hex-key 6 mm', { tool: 'hex-key', size_mm: 6 }],
    ['star 30', { tool: 'star-key', size_mm: 30 }],
    ['spanner 20', { tool: 'spanner', size_mm: 20 }],
    ['hammer 1', undefined],
    ['6', undefined],
  ])('drive %s', (text, value) => {
    expect(readDrive(text)).toEqual(value);
  });
});

describe('text from outside', () => {
  test('a label is shown harmless, in a table and as JSON', () => {
    const hostile = 'A\u001b[2J\u202eB';
    const shown = 'A\\u001b[2J\\u202eB';
    for (const text of [`label,outside mm\n${hostile},20\n`, JSON.stringify([{ label: hostile, outside_mm: 20 }])]) {
      const result = readReadings(text);
      expect(result.ok && result.readings[0]!.label).toBe(shown);
    }
    for (const text of [
      `label,outside mm\n${hostile},wide\n`,
      JSON.stringify([{ label: hostile, outside_mm: 'wide' }]),
      `label,outside mm,${hostile}\nA,20,1\n`,
      JSON.stringify([{ outside_mm: 20, [hostile]: 1 }]),
    ]) {
      const result = readReadings(text);
      if (result.ok) throw new Error('readings: nothing was refused');
      for (const problem of result.problems)
        expect(wordReadingProblem(problem)).not.toMatch(/[\p{Cc}\p{Bidi_Control}]/u);
    }
  });

  test.each([
    ['UTF-16', Buffer.from('label,outside mm\nA,20\n', 'utf16le').toString(), /a text saved as UTF-16/],
    ['a picture', '\u0089PNG\r\n\u001a\n\u0000\u0000', /bytes that are no text/],
    ['a comma too many', '[{"outside_mm": 20},\n]', /“\]” in the line “\]” at line 2, column 1/],
    ['a bomb of brackets', '['.repeat(100_000), /100000 levels of brackets/],
  ])('%s is named as what it is', (_, text, met) => {
    const result = readReadings(text);
    if (result.ok) throw new Error('readings: nothing was refused');
    expect(result.problems).toHaveLength(1);
    expect(result.problems[0]!.met).toMatch(met);
  });
});
