/** How a problem names its place, the value met and the name that was meant, worked by hand. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { nearestName, showName, showValue, writePath } from '../../shared/model/problems.ts';
import { jsonFault } from '../../shared/model/json.ts';
import { harmless, harmlessLines, harmlessText } from '../../shared/numbers/harmless.ts';
import { deepestNesting, noText, repeatedNames } from '../../shared/model/text.ts';
import { property } from '../setup/series.ts';

describe('writePath', () => {
  test.each([
    [[], '(the whole file)'],
    [['parts'], 'parts'],
    [['pivots', 2, 'stacks', 0, 'torque_Nm'], 'pivots[2].stacks[0].torque_Nm'],
    [[0, 'a'], '[0].a'],
    [['parts', ''], 'parts.""'],
    [['parts', 'a\nb'], 'parts.a\\u000ab'],
  ] as const)('%j is %s', (path, words) => expect(writePath(path)).toBe(words));
});

describe('showValue', () => {
  test.each([
    [undefined, 'nothing'],
    [null, 'null'],
    ['20', '"20"'],
    [20, '20'],
    [-0, '0'],
    [NaN, 'NaN'],
    [Infinity, 'Infinity'],
    [true, 'true'],
    [[], '[]'],
    [{ a: [1] }, '{"a":[1]}'],
    ['\u009b31m\u2028', '"\\u009b31m\\u2028"'],
  ])('%j is %s', (value, words) => expect(showValue(value)).toBe(words));

  test('is short and on one line, whatever it is of', () => {
    for (const value of ['x'.repeat(1000), Array.from({ length: 500 }, (_, k) => k), { text: '\n'.repeat(300) }]) {
      expect(showValue(value).length).toBeLessThanOrEqual(60);
      expect(showValue(value)).not.toContain('\n');
    }
    expect(showName('a'.repeat(60))).toBe('a'.repeat(60));
    expect(showName('a'.repeat(61))).toBe(`${'a'.repeat(57)}…`);
  });
});

describe('nearestName', () => {
  const keys = ['outside_mm', 'bore_mm', 'length_mm', 'material', 'count'];
  test.each([
    ['lenght_mm', 'length_mm'], // two letters swapped
    ['boremm', 'bore_mm'], // one left out
    ['BORE_MM', 'bore_mm'], // case does not count
    ['materials', 'material'],
    ['zzzzzzzzzzzz', undefined], // nothing near
    ['', undefined], // seven letters and more to put in
    ['length_mm'.repeat(8), undefined], // too long to be a mistake
  ])('of %j it is %j', (met, name) => expect(nearestName(met, keys)).toBe(name));

  test('of nothing is nothing', () => expect(nearestName('bore_mm', [])).toBeUndefined());
});

describe('the gate for text from outside', () => {
  test.each([
    ['Hauptlager 15×28×7 – „links“, 軸受, محور, 🔧', 'Hauptlager 15×28×7 – „links“, 軸受, محور, 🔧'],
    ['\u001b[2Jgone', '\\u001b[2Jgone'],
    ['\u009b31mred', '\\u009b31mred'],
    ['a\u0000b\u0007\u007f', 'a\\u0000b\\u0007\\u007f'],
    ['axle\u202eelxa\u202c', 'axle\\u202eelxa\\u202c'],
    ['\u2066x\u2069\u200e\u200f\u061c', '\\u2066x\\u2069\\u200e\\u200f\\u061c'],
    ['a\u200bb\ufeff\u00ad', 'a\\u200bb\\ufeff\\u00ad'],
    ['tag\u{e0041}', 'tag\\u{e0041}'],
    ['half \ud83d of a pair', 'half \\ud83d of a pair'],
    ['two\nlines\r\t', 'two\\u000alines\\u000d\\u0009'],
    ['\u2028\u2029', '\\u2028\\u2029'],
  ])('%j is shown as %s', (text, shown) => expect(harmless(text)).toBe(shown));

  test('lines stay lines where several are told; a long text of a file becomes one', () => {
    expect(harmlessLines('one\ntwo\u001b[0m')).toBe('one\ntwo\\u001b[0m');
    expect(harmlessText('one \r\n\ttwo\u2028three\u001b')).toBe('one two three\\u001b');
  });

  test('what has passed once passes again unchanged', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(harmless(harmless(text))).toBe(harmless(text));
        expect(harmless(text)).not.toMatch(/[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}\p{Cs}]/u);
      }),
      property(7011, 400),
    );
  });
});

describe('why a text is not JSON', () => {
  const at = (text: string): readonly [number, number, string, string] | undefined => {
    const fault = jsonFault(text);
    return fault && [fault.line, fault.column, fault.met, fault.allowed];
  };
  const VALUE = 'a value: a number, a text in double quotes, true, false, null, { or [';
  test.each([
    ['{\n  "a": 1,\n}', 3, 1, '“}” in the line “}”', 'no comma before “}”'],
    ['{\n  "a": ,\n  "b": 2\n}', 2, 8, '“,” in the line “"a": ,”', VALUE],
    ['{"a" 1}', 1, 6, '“1” in the line “{"a" 1}”', '“:” after the name'],
    ['{"a": 1 "b": 2}', 1, 9, '“"” in the line “{"a": 1 "b": 2}”', '“,” or “}”'],
    ['{a: 1}', 1, 2, '“a” in the line “{a: 1}”', 'a name in double quotes'],
    ['[1, 2', 1, 6, 'the end of the file in the line “[1, 2”', '“,” or “]”'],
    ['[1,]', 1, 4, '“]” in the line “[1,]”', 'no comma before “]”'],
    ['{"a": }', 1, 7, '“}” in the line “{"a": }”', VALUE],
    ['{} x', 1, 4, '“x” in the line “{} x”', 'nothing more after the end'],
    ['[NaN]', 1, 2, '“NaN” in the line “[NaN]”', VALUE],
    ['[012]', 1, 3, '“12” in the line “[012]”', '“,” or “]”'],
    ['[1.]', 1, 3, '“.” in the line “[1.]”', '“,” or “]”'],
    ['"abc', 1, 1, 'a text that does not end in the line “"abc”', 'a double quote at its end'],
    [
      '["a\nb"]',
      1,
      4,
      'a line break or tab in the line “["a”',
      'a double quote at the end of the text, in the same line',
    ],
    [
      '["\\q"]',
      1,
      3,
      '“\\q” in the line “["\\q"]”',
      'one of \\" \\\\ \\/ \\b \\f \\n \\r \\t \\uXXXX after a backslash',
    ],
    ['\r\n[\r\n  🔧]', 3, 3, '“🔧” in the line “🔧]”', VALUE],
    ['', 1, 1, 'the end of the file', VALUE],
  ] as const)('%j', (text, line, column, met, allowed) => expect(at(text)).toEqual([line, column, met, allowed]));

  test('of a long line shows what stands near', () => {
    const fault = jsonFault(`{"a": [${'1, '.repeat(500)}?${', 1'.repeat(500)}]}`)!;
    expect(fault.column).toBe(1508);
    expect(fault.met.length).toBeLessThan(90);
    expect(fault.met).toMatch(/^“\?” in the line “….*\?.*…”$/);
  });

  test('finds one exactly where the parser of the machine refuses', () => {
    const isJson = (text: string): boolean => {
      try {
        JSON.parse(text);
        return true;
      } catch {
        return false;
      }
    };
    const cut = fc
      .tuple(
        fc.json({ maxDepth: 4 }),
        fc.nat(200),
        fc.nat(3),
        fc.constantFrom('', ',', '"', '}', ']', '0', '-', '\\', 'e1', ' '),
      )
      .map(([text, from, length, put]) => text.slice(0, from) + put + text.slice(from + length));
    fc.assert(
      fc.property(fc.oneof(cut, fc.string({ unit: fc.constantFrom(...'{}[]:,"\\ 012.eE+-truefalsn') })), (text) => {
        expect(jsonFault(text) === undefined).toBe(isJson(text));
      }),
      property(7012, 3000),
    );
  });
});

describe('what is no text', () => {
  const UTF16 = 'a text saved as UTF-16';
  const decoded = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
  const text = '{ "schema": 1, "name": "Skarn" }';
  const little = Buffer.from(text, 'utf16le');
  test.each([
    ['a text', decoded(Buffer.from(text)), undefined],
    ['letters of every script', 'Länge 軸受 🔧 \ufffd', undefined],
    ['UTF-16, little end first', decoded(little), UTF16],
    ['the same with its mark', decoded(Buffer.concat([Buffer.from([0xff, 0xfe]), little])), UTF16],
    ['UTF-16, big end first', decoded(Buffer.from(little).swap16()), UTF16],
    [
      'the same with its mark',
      decoded(Buffer.concat([Buffer.from([0xfe, 0xff]), Buffer.from(little).swap16()])),
      UTF16,
    ],
    ['a picture', '\u0089PNG\r\n\u001a\n\u0000\u0000', 'bytes that are no text'],
    ['a NUL far on', `${' '.repeat(5000)}\u0000`, 'bytes that are no text'],
    ['nothing', '', undefined],
  ])('%s', (_, met, said) => expect(noText(met)).toBe(said));
});

describe('the text of a file', () => {
  test.each([
    ['', 0],
    ['1', 0],
    ['[]', 1],
    ['{"a":[{"b":[]}]}', 4],
    ['"[[[["', 0],
    ['"\\"[["', 0],
    ['["\\\\",[]]', 2],
    [']]][', 0], // no JSON, and no deeper than nothing
    ['[[[', 3],
  ])('%j nests %i deep', (text, depth) => expect(deepestNesting(text)).toBe(depth));

  test.each([
    ['{"a":1,"b":2}', []],
    ['{"a":1,"a":2,"a":3}', ['a', 'a']],
    ['{"a":{"x":1},"b":{"x":1}}', []],
    ['{"a":"a","b":"a"}', []],
    ['[{"a":1},{"a":1,"a":1}]', ['[1].a']],
    ['{"list":[0,"x",{"k":[],"k":{}}]}', ['list[2].k']],
    ['{"a,\\"b":1,"a,\\"b":2}', ['a,"b']],
    ['{"\\u0061":1,"a":2}', ['a']],
    ['{"a":{"b":1},"c":{"b":1},"a":{"b":1}}', ['a']],
  ] as const)('%s gives twice %j', (text, paths) => expect(repeatedNames(text).map(({ path }) => path)).toEqual(paths));
});
