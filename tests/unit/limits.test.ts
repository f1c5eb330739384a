/**
 * Every limit of ours is where it was decided to be: the value of each entry of each table of limits, beside what it
 * holds.
 *
 * A limit that moves changes verdicts without a word; whoever moves one changes `limits.json` with it and says why in
 * the commit. What a limit does is held where its behaviour is tested; here none is missed.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { CORE, exportsOf } from '../setup/sources.ts';

type Values = Readonly<Record<string, number>>;
const stored = JSON.parse(readFileSync(new URL('../fixtures/limits.json', import.meta.url), 'utf8')) as Record<
  string,
  Values
>;

/** Tables of limits, of wear, of sizes and of costs that we chose. */
const isTable = (name: string): boolean =>
  /(_|^)(LIMITS|SIZES|COSTS|WEAR)$/.test(name) && !['WINDOW_LIMITS', 'SHIM_SIZES'].includes(name);

const tables = await Promise.all(
  CORE.filter((file) => !file.endsWith('index.ts')).flatMap((file) =>
    exportsOf(file)
      .filter(isTable)
      .map(async (name) => {
        const module = (await import(/* @vite-ignore */ `../../${file}`)) as Record<string, Record<string, unknown>>;
        return { name, table: module[name]! };
      }),
  ),
);

/** The numbers of a table: each entry's own, or those of a group by `group.entry`. */
function numbersOf(table: Record<string, unknown>, before = ''): [string, number][] {
  return Object.entries(table).flatMap(([key, entry]): [string, number][] => {
    if (typeof entry === 'number') return [[before + key, entry]];
    if (typeof entry !== 'object' || entry === null) return [];
    if ('value' in entry && typeof entry.value === 'number') return [[before + key, entry.value]];
    return numbersOf(entry as Record<string, unknown>, `${before}${key}.`);
  });
}

test('every table is stored, and every stored one is there', () => {
  expect(tables.map(({ name }) => name).sort()).toEqual(Object.keys(stored).sort());
  expect(tables.length).toBeGreaterThan(4);
});

describe.each(tables)('$name', ({ name, table }) => {
  const values = Object.fromEntries(numbersOf(table));

  test('holds the values that were decided on', () => {
    expect(Object.keys(values).length).toBeGreaterThan(0);
    expect(values).toEqual(stored[name]);
  });

  test('says where each comes from', () => {
    const bare = Object.entries(table).filter(
      ([, entry]) =>
        typeof entry === 'object' &&
        entry !== null &&
        'value' in entry &&
        !('source' in entry && String(entry.source).length > 5),
    );
    expect(bare).toEqual([]);
  });
});
