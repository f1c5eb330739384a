/** How a problem names its place, the value met and the name that was meant, worked by hand. */
import { describe, expect, test } from 'vitest';
import { nearestName, oneLine, showName, showValue, writePath } from '../../shared/model/problems.ts';
import { deepestNesting, repeatedNames } from '../../shared/model/text.ts';

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
    expect(oneLine('\u001b[2Jgone')).toBe('\\u001b[2Jgone');
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
