/**
 * What ships is declared: its licences in the notices, a sentence why for each package, a hash for each in the lock file.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { noticesOf } from '../setup/notices.ts';

const top = fileURLToPath(new URL('../..', import.meta.url));
const textOf = (path: string): string => readFileSync(join(top, path), 'utf8');
const named = JSON.parse(textOf('package.json')) as {
  readonly dependencies: Readonly<Record<string, string>>;
  readonly devDependencies: Readonly<Record<string, string>>;
  readonly allowScripts: Readonly<Record<string, boolean>>;
};
const packages = { ...named.dependencies, ...named.devDependencies };
const moduleOf = (name: string): string => join(top, 'node_modules', name, 'index.js');

describe('the notices of a build', () => {
  test('hold our own licence and those of the packages it takes something from, each with its version', () => {
    const text = noticesOf(Object.keys(named.dependencies).map(moduleOf));
    expect(text.startsWith(`Axlewright\n\n${textOf('LICENSE').trim()}`)).toBe(true);
    for (const [name, version] of Object.entries(named.dependencies))
      expect(text).toContain(`\n${name} ${version}\nLicence: `);
    expect(text).toContain('SIL OPEN FONT LICENSE');
    expect(text.match(/Permission is hereby granted, free of charge/g)!.length).toBeGreaterThan(5);
  });

  test('name a package once, whatever modules of it are there, and none that is not', () => {
    const text = noticesOf([moduleOf('zod'), join(top, 'node_modules/zod/v4/core.js'), join(top, 'shared/index.ts')]);
    expect(text.match(/^zod /gm)).toHaveLength(1);
    expect(text).not.toContain('three ');
    expect(text).not.toContain('SIL OPEN FONT LICENSE');
  });

  test('hold the licence of the letters in sheets where those ship', () => {
    expect(noticesOf([join(top, 'src/drawings/fonts/inter.json')])).toContain(
      textOf('src/drawings/fonts/LICENSE.txt').trim(),
    );
  });

  test('are refused for a package without any licence', () => {
    const folder = mkdtempSync(join(tmpdir(), 'axlewright-'));
    try {
      const own = join(folder, 'node_modules/bare');
      mkdirSync(own, { recursive: true });
      writeFileSync(join(own, 'package.json'), '{"name":"bare","version":"1.0.0"}');
      expect(() => noticesOf([join(own, 'index.js')])).toThrow('bare has no licence');
      writeFileSync(join(own, 'LICENSE'), 'Do as you like.');
      expect(noticesOf([join(own, 'index.js')])).toContain('bare 1.0.0\nLicence: as its text says\n\nDo as you like.');
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

test('every package has a sentence why in DEVELOPERS.md, and none is told of that is not there', () => {
  const [, list = ''] = /\n## Packages\n([\s\S]*?)\n## /.exec(textOf('DEVELOPERS.md')) ?? [];
  const lines = list.split('\n').filter((line) => line.startsWith('- '));
  const told = lines.flatMap((line) => [...line.split(': ')[0]!.matchAll(/`([^`]+)`/g)].map(([, name]) => name!));
  expect([...told].sort()).toEqual(Object.keys(packages).sort());
  for (const line of lines) expect(line).toMatch(/: \S.{15,}\.$/);
});

test('the lock file has what is declared, each with its hash, from no place of its own, and runs no script', () => {
  const lock = JSON.parse(textOf('package-lock.json')) as {
    readonly packages: Readonly<
      Record<
        string,
        {
          readonly version?: string;
          readonly integrity?: string;
          readonly resolved?: string;
          readonly link?: boolean;
          readonly hasInstallScript?: boolean;
        }
      >
    >;
  };
  const { '': own, ...locked } = lock.packages;
  expect(own).toMatchObject({ dependencies: named.dependencies, devDependencies: named.devDependencies });
  for (const [name, version] of Object.entries(packages))
    expect(locked[`node_modules/${name}`]?.version, name).toBe(version);
  for (const [path, { integrity, resolved, link, hasInstallScript }] of Object.entries(locked)) {
    expect(integrity, path).toMatch(/^sha512-/);
    expect(resolved ?? 'https://registry.npmjs.org/', path).toMatch(/^https:\/\/registry\.npmjs\.org\//);
    expect(link, path).toBeUndefined();
    const name = path.split('node_modules/').at(-1)!;
    if (hasInstallScript) expect(named.allowScripts[name] === false || /^fsevents$/.test(name), path).toBe(true);
  }
});
