/**
 * What every command says of every model is what is stored: numbers to 1e-9 of their size, all else exactly.
 *
 * A difference is either a fault or meant; what is meant is stored by `npm run golden`, and the commit says why.
 */
import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { differences, GOLDEN, stored } from '../setup/golden.ts';

describe('what a command says', () => {
  test.each(GOLDEN)('$name', async ({ name, now }) => {
    const before = stored(name);
    expect(before, 'nothing is stored: npm run golden').toBeDefined();
    expect(differences(before, await now()).slice(0, 12)).toEqual([]);
  });

  test('no file is stored that nothing compares with', () => {
    const files = readdirSync(new URL('../fixtures/golden/', import.meta.url));
    expect(files.sort()).toEqual(GOLDEN.map(({ name }) => `${name}.json`).sort());
  });
});

test('a difference is found: a number, a word, a key more or less', () => {
  expect(differences({ a: 1, b: [2, 'x'] }, { a: 1 + 1e-12, b: [2, 'x'] })).toEqual([]);
  expect(differences({ a: 1 }, { a: 1 + 1e-8 })).toHaveLength(1);
  expect(differences({ a: 'one' }, { a: 'two' })).toEqual(['.a: "one" and "two"']);
  expect(differences({ a: [1] }, { a: [1, 2] })).toHaveLength(1);
  expect(differences({ a: 1, b: undefined }, { a: 1 })).toEqual([]);
  expect(differences({ a: null }, {})).toHaveLength(1);
});
