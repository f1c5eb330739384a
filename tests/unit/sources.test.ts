/**
 * Sources in reach: every short code that a table or a comment of the core names has its line in `SOURCES`, no line is
 * there for nothing, and no text sends a reader to a file that the repository does not hold.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { SOURCES } from '../../shared/standards/sources.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const LIST = 'shared/standards/sources.ts';

const FILES = readdirSync(join(ROOT, 'shared'), { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
  .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)))
  .filter((file) => file !== LIST);

/** Comments and string literals of a file, where a source can be named. */
function wordsOf(file: string): string {
  const text = readFileSync(join(ROOT, file), 'utf8');
  return (text.match(/\/\*\*[\s\S]*?\*\/|\/\/[^\n]*|'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`/g) ?? []).join('\n');
}

/** Words in capitals that are no code of a source: standards bodies, materials, kinds of fit, names of constants. */
const NO_CODES = new Set([
  ...['ISO', 'DIN', 'VDI', 'ASME', 'JCGM', 'GUM', 'NASA', 'STD', 'NSTS'],
  ...['POM', 'PTFE', 'JSON', 'BEARINGS'],
  ...['CAUSES', 'CLASSES', 'GROUND', 'HOUSE', 'LIMITS', 'MUCH', 'NOMINAL', 'PRACTICE', 'PROOF', 'TOOLS'],
]);

test('every code in use is in the list, and every code of the list is in use', () => {
  const used = new Set<string>();
  for (const file of FILES) {
    const isTable = file.startsWith('shared/standards/');
    for (const statement of wordsOf(file).split(/\n\s*\n/)) {
      if (!isTable && !/source/i.test(statement)) continue;
      for (const [code] of statement.matchAll(/\b(?:[A-Z]{3,}|P\d{3}|TM\d{4}|btimetals)\b/g))
        if (!NO_CODES.has(code)) used.add(code);
    }
  }
  expect([...used].sort()).toEqual(Object.keys(SOURCES).sort());
});

test('every line says what the source is', () => {
  for (const [code, line] of Object.entries(SOURCES)) {
    expect(line.length, code).toBeGreaterThan(25);
    expect(line, code).not.toMatch(/\bTODO\b|\?/);
  }
});

test('no text names a file that is not here', () => {
  const missing = FILES.flatMap((file) =>
    [...wordsOf(file).matchAll(/`([\w./-]+\.(?:ts|tsx|md|json))`/g)]
      .map(([, name]) => name!)
      .filter(
        (name) =>
          !['', 'shared/', `${file.slice(0, file.lastIndexOf('/'))}/`, 'shared/order/'].some((folder) =>
            existsSync(join(ROOT, folder, name)),
          ),
      )
      .map((name) => `${file}: ${name}`),
  );
  expect(missing).toEqual([]);
});
