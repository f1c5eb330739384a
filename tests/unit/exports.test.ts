/**
 * What nobody uses: exported values that no other file asks for, packages that nothing imports, imports that no package
 * stands for. What only tests reach is dead, unless `unused-exports.json` says why it is there; what its own file uses
 * may be exported for a test.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { CORE, exportsOf, filesOf, importsOf, SRC, TESTS, textOf, usesItself, usesOf } from '../setup/sources.ts';

interface Allowed {
  /** By the end of a name, or the folder of its file: a reason for all of them. */
  readonly groups: readonly { readonly pattern: string; readonly why: string }[];
  /** `file#name` to its reason. */
  readonly names: Readonly<Record<string, string>>;
}
const allowed = JSON.parse(
  readFileSync(new URL('../fixtures/unused-exports.json', import.meta.url), 'utf8'),
) as Allowed;

const DOOR = 'shared/index.ts';

describe('an exported value', () => {
  const uses = usesOf([...CORE, ...SRC, ...TESTS]);
  const isLive = (file: string, name: string): boolean => {
    const by = [...uses(file, name)];
    return by.some((user) => !TESTS.includes(user)) || (by.length > 0 && usesItself(file, name));
  };
  const found = [...CORE, ...SRC]
    .filter((file) => file !== DOOR)
    .flatMap((file) => exportsOf(file).flatMap((name) => (isLive(file, name) ? [] : [`${file}#${name}`])));
  const isGrouped = (name: string): boolean => allowed.groups.some(({ pattern }) => new RegExp(pattern).test(name));

  test('is used, or says why not', () => {
    expect(exportsOf(DOOR).length).toBeGreaterThan(100);
    expect(found.filter((name) => !isGrouped(name) && !(name in allowed.names))).toEqual([]);
  });

  test('every reason is still needed', () => {
    expect(Object.keys(allowed.names).filter((name) => !found.includes(name))).toEqual([]);
    expect(allowed.groups.filter(({ pattern }) => !found.some((name) => new RegExp(pattern).test(name)))).toEqual([]);
  });
});

describe('a package', () => {
  const { dependencies, devDependencies } = JSON.parse(textOf('package.json')) as Record<
    string,
    Record<string, string>
  >;
  const packageOf = (name: string): string => /^(@[^/]+\/)?[^/]+/.exec(name)![0];
  const outside = (files: readonly string[]): Set<string> =>
    new Set(
      files
        .flatMap(importsOf)
        .filter(
          (name) => !/^(node:|shared\/|src\/|tests\/|models\/|assets\/)/.test(name) && !name.endsWith('package.json'),
        )
        .map(packageOf),
    );
  const page = outside([...CORE, ...SRC]);
  const all = new Set([
    ...page,
    ...outside([...TESTS, 'vite.config.ts', ...filesOf('tests').filter((file) => file.endsWith('.mjs'))]),
  ]);
  /** Asked for by name and not by import. */
  const TOOLS = ['@biomejs/biome', 'tsx', 'typescript', 'vite', 'vitest'];

  test('that is imported is declared', () => {
    const declared = { ...dependencies, ...devDependencies };
    expect([...all].filter((name) => !(name in declared) && !(`@types/${name}` in declared))).toEqual([]);
  });

  test('that is declared is imported', () => {
    const isUsed = (name: string): boolean =>
      all.has(name) ||
      TOOLS.includes(name) ||
      (name.startsWith('@types/') && (name === '@types/node' || all.has(name.slice(7))));
    expect(Object.keys({ ...dependencies, ...devDependencies }).filter((name) => !isUsed(name))).toEqual([]);
    expect(page.size).toBeGreaterThan(4);
  });

  test('has one exact version', () => {
    expect(
      Object.entries({ ...dependencies, ...devDependencies }).filter(([, version]) => !/^\d+\.\d+\.\d+/.test(version)),
    ).toEqual([]);
  });
});
