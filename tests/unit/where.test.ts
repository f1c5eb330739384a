// Where a problem of a file stands in its text: by line and column, and what is missing at the thing around it.
import { describe, expect, test } from 'vitest';
import { readModel, spotsOf, type Spot } from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';

const [model] = demoModels();

/** The spot of a path in a text. */
const spot = (text: string, path: string): Spot | undefined => spotsOf(text, [{ path }])[0];

describe('a place in the text', () => {
  const text = '{\n  "a": {\n    "b": [1, {"c": "x"}, "y"]\n  },\n  "d": "a, {b"\n}';

  test.each([
    ['a', 2, 3, '"a": {'],
    ['a.b', 3, 5, '"b": [1, {"c": "x"}, "y"]'],
    ['a.b[1].c', 3, 15, '"b": [1, {"c": "x"}, "y"]'],
    ['a.b[2]', 3, 26, '"b": [1, {"c": "x"}, "y"]'],
    ['d', 5, 3, '"d": "a, {b"'],
  ])('%s stands in line %d, column %d', (path, line, column, words) => {
    expect(spot(text, path)).toEqual({ line, column, text: words });
  });

  test('what is missing stands at the nearest thing around it', () => {
    expect(spot(text, 'a.b[1].missing')).toMatchObject({ line: 3, column: 14 });
    expect(spot(text, 'a.b[0]')).toMatchObject({ line: 3, column: 5 });
    expect(spot(text, '(the whole file)')).toBeUndefined();
  });

  test('a long line is cut round the place, and counted by characters as they are seen', () => {
    const found = spotsOf(`{"x": "${'ü😀'.repeat(40)}", "a": 1}`, [{ path: 'a' }])[0]!;
    expect(found.column).toBe(91);
    expect(found.text).toMatch(/^….*"a": 1\}$/u);
    expect([...found.text].length).toBeLessThanOrEqual(74);
  });
});

test('every problem of a model with many has its line, and the line holds what was met', () => {
  const broken = structuredClone(model) as unknown as { pivots: { stacks: Record<string, unknown>[] }[] };
  for (const pivot of broken.pivots) {
    pivot.stacks[0]!['torque_Nm'] = 'tight';
    pivot.stacks[0]!['frm'] = 1;
  }
  const text = JSON.stringify(broken, null, 2);
  const reading = readModel(text);
  if (reading.ok) throw new Error('where: met a sound model, allowed: a faulty one');
  const lines = text.split('\n');
  const spots = spotsOf(text, reading.problems);
  expect(spots.length).toBeGreaterThanOrEqual(2 * broken.pivots.length);
  for (const [k, { path }] of reading.problems.entries()) {
    const { line, column } = spots[k]!;
    const key = /[^.]*$/.exec(path)![0].replace(/\[\d+\]$/, '');
    expect(lines[line - 1]!.slice(column - 1), path).toMatch(new RegExp(`^("${key}"|[{["])`));
  }
});
