/**
 * The arrows between the layers, read off the imports themselves: the core stands alone and has no cycles, three lives
 * in the scene only, React in app, panels and scene, and everything outside the core comes in by its one door.
 *
 * Also held here: no promise that a bike may be ridden, no `any` in the core, a doc comment beside every exported name.
 */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** Every file of a folder, named from the top of the repository. */
function filesOf(folder: string): string[] {
  const whole = join(ROOT, folder);
  if (!existsSync(whole)) return [];
  if (!statSync(whole).isDirectory()) return [folder];
  return readdirSync(whole).flatMap((name) => filesOf(join(folder, name)));
}

const isCode = (file: string): boolean => /\.tsx?$/.test(file);
const textOf = (file: string): string => readFileSync(join(ROOT, file), 'utf8');

/** What a file imports or exports from elsewhere, types and late imports included: paths from the top, or package names. */
function importsOf(file: string): string[] {
  return ts
    .preProcessFile(textOf(file))
    .importedFiles.map(({ fileName }) =>
      fileName.startsWith('.') ? relative(ROOT, join(ROOT, dirname(file), fileName.replace(/\?.*$/, ''))) : fileName,
    );
}

/** Every node of a file's syntax tree. */
function nodesOf(file: string): ts.Node[] {
  const nodes: ts.Node[] = [];
  const visit = (node: ts.Node): void => {
    nodes.push(node);
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(file, textOf(file), ts.ScriptTarget.ES2022, true));
  return nodes;
}

/** Names a file uses that it gets from nowhere: neither a property, nor declared or imported in it. */
function globalsOf(file: string): Set<string> {
  const used = new Set<string>();
  const declared = new Set<string>();
  for (const node of nodesOf(file)) {
    if (!ts.isIdentifier(node)) continue;
    const { parent } = node;
    const isName = 'name' in parent && parent.name === node;
    if (isName && !ts.isPropertyAccessExpression(parent)) declared.add(node.text);
    else if (!isName && !ts.isQualifiedName(parent) && !ts.isPropertyAssignment(parent)) used.add(node.text);
    else if (ts.isPropertyAssignment(parent) && parent.initializer === node) used.add(node.text);
  }
  return new Set([...used].filter((name) => !declared.has(name)));
}

const CORE = filesOf('shared').filter(isCode);
const SRC = filesOf('src').filter(isCode);
const IMPORTS = new Map([...CORE, ...SRC].map((file) => [file, importsOf(file)] as const));
const imports = (file: string): readonly string[] => IMPORTS.get(file) ?? [];

test('there is something to look at', () => {
  expect(CORE.length).toBeGreaterThan(30);
  expect(SRC.length).toBeGreaterThan(50);
  expect(imports('shared/analyse.ts')).toContain('shared/findings.ts');
  expect(imports('src/scene/geometry.ts')).toContain('three');
});

describe('the core', () => {
  test('imports nothing but itself and zod', () => {
    const strangers = CORE.flatMap((file) =>
      imports(file)
        .filter((name) => name !== 'zod' && !CORE.includes(name))
        .map((name) => `${file} → ${name}`),
    );
    expect(strangers).toEqual([]);
    // What computes knows nothing of files: zod stays with what reads them.
    expect(CORE.filter((file) => layerOf(file) >= 0 && imports(file).includes('zod')).sort()).toEqual([
      'shared/model/read.ts',
      'shared/model/schema.ts',
    ]);
  });

  test('knows neither page nor node, draws nothing at random and asks no clock', () => {
    const PAGE_OR_NODE = [
      'window',
      'document',
      'navigator',
      'location',
      'localStorage',
      'sessionStorage',
      'indexedDB',
      'fetch',
      'XMLHttpRequest',
      'Worker',
      'self',
      'globalThis',
      'process',
      'Buffer',
      'require',
      'console',
      'performance',
      'setTimeout',
      'setInterval',
      'queueMicrotask',
      'requestAnimationFrame',
      'crypto',
      'Date',
    ];
    const found = CORE.flatMap((file) => {
      const names = globalsOf(file);
      return [
        ...PAGE_OR_NODE.filter((name) => names.has(name)),
        ...(/\bMath\.random\b/.test(textOf(file)) ? ['Math.random'] : []),
      ].map((name) => `${file}: ${name}`);
    });
    expect(found).toEqual([]);
    expect([...globalsOf('shared/model/read.ts')]).toEqual(expect.arrayContaining(['JSON', 'Object']));
    expect([...globalsOf('src/cli.ts')]).toContain('process');
  });

  test('has no cycle', () => {
    const state = new Map<string, 'open' | 'done'>();
    const cycles: string[] = [];
    const visit = (file: string, path: readonly string[]): void => {
      if (state.get(file) === 'done') return;
      if (state.get(file) === 'open') {
        cycles.push([...path.slice(path.indexOf(file)), file].join(' → '));
        return;
      }
      state.set(file, 'open');
      for (const next of imports(file).filter((name) => CORE.includes(name))) visit(next, [...path, file]);
      state.set(file, 'done');
    };
    for (const file of CORE) visit(file, []);
    expect(cycles).toEqual([]);
  });

  /** The arrows of the design: a layer may use those before it. Files of one layer may use one another. */
  const LAYERS: readonly (readonly string[])[] = [
    ['shared/standards/'],
    ['shared/model/'],
    ['shared/types.ts', 'shared/limits.ts'],
    ['shared/profile/'],
    ['shared/contact.ts', 'shared/clamp/'],
    ['shared/arm.ts', 'shared/thread.ts', 'shared/joint.ts'],
    ['shared/tightening.ts'],
    ['shared/solve.ts'],
    ['shared/reading.ts', 'shared/passage.ts', 'shared/spread.ts'],
    ['shared/findings.ts'],
    ['shared/wording.ts'],
    ['shared/analyse.ts'],
    ['shared/index.ts'],
  ];
  /** What is not in the list (a job of its own, such as slips or travel) stands beside it: only these may use it. */
  const MAY_USE_JOBS = ['shared/wording.ts', 'shared/analyse.ts', 'shared/index.ts'];

  const layerOf = (file: string): number =>
    LAYERS.findIndex((names) => names.some((name) => file === name || (name.endsWith('/') && file.startsWith(name))));

  test('runs one way', () => {
    for (const name of LAYERS.flat())
      expect(
        CORE.some((file) => file.startsWith(name)),
        `${name} is not there`,
      ).toBe(true);
    const wrong = CORE.flatMap((file) => {
      const own = layerOf(file);
      return imports(file)
        .filter((name) => CORE.includes(name))
        .filter((name) => {
          const other = layerOf(name);
          if (name === 'shared/index.ts') return true;
          if (own < 0) return false;
          return other < 0 ? !MAY_USE_JOBS.includes(file) : other > own;
        })
        .map((name) => `${file} → ${name}`);
    });
    expect(wrong).toEqual([]);
  });

  test('the standards import only themselves', () => {
    const strangers = CORE.filter((file) => file.startsWith('shared/standards/')).flatMap((file) =>
      imports(file).filter((name) => !name.startsWith('shared/standards/')),
    );
    expect(strangers).toEqual([]);
  });

  test('has no any', () => {
    expect(CORE.filter((file) => nodesOf(file).some((node) => node.kind === ts.SyntaxKind.AnyKeyword))).toEqual([]);
  });

  test('has a paragraph at the top of every module and a doc comment beside every exported function, class and value', () => {
    /** Whole tables, which the paragraph at the top of their module is about. */
    const isTable = /(LIMITS|_CODES)$/;
    const bare = CORE.flatMap((file) => {
      const source = nodesOf(file)[0] as ts.SourceFile;
      const missing = source.statements.flatMap((statement) => {
        const isExported =
          ts.canHaveModifiers(statement) &&
          ts.getModifiers(statement)?.some((modifier) => modifier.kind === ts.SyntaxKind.ExportKeyword);
        if (!isExported || ts.getJSDocCommentsAndTags(statement).length > 0) return [];
        if (ts.isVariableStatement(statement))
          return statement.declarationList.declarations.map((declaration) => declaration.name.getText());
        return ts.isFunctionDeclaration(statement) || ts.isClassDeclaration(statement)
          ? [statement.name?.text ?? 'default']
          : [];
      });
      return [
        ...(textOf(file).startsWith('/**') ? [] : [`${file}: the module itself`]),
        ...missing.filter((name) => !isTable.test(name)).map((name) => `${file}: ${name}`),
      ];
    });
    expect(bare).toEqual([]);
  });
});

describe('outside the core', () => {
  test('everything comes in by the one door', () => {
    const byTheWindow = SRC.flatMap((file) =>
      imports(file)
        .filter((name) => name.startsWith('shared/') && name !== 'shared/index.ts')
        .map((name) => `${file} → ${name}`),
    );
    expect(byTheWindow).toEqual([]);
  });

  const isThree = (name: string): boolean =>
    name === 'three' || name.startsWith('three/') || name.startsWith('@react-three/');
  const isReact = (name: string): boolean =>
    /^react(-dom)?($|\/)/.test(name) || name.startsWith('@react-three/') || name === 'zustand';

  test('three lives in the scene only', () => {
    const elsewhere = [...CORE, ...SRC].filter((file) => !file.startsWith('src/scene/') && imports(file).some(isThree));
    expect(elsewhere).toEqual([]);
  });

  test('React lives in app, panels and scene only', () => {
    const rooms = ['src/app/', 'src/panels/', 'src/scene/'];
    const elsewhere = SRC.filter(
      (file) => !rooms.some((room) => file.startsWith(room)) && (imports(file).some(isReact) || file.endsWith('.tsx')),
    );
    expect(elsewhere).toEqual([]);
  });

  test('what has no page uses nothing that needs one', () => {
    const pageless = ['src/output/', 'src/commands/', 'src/cli.ts', 'src/worker.ts'];
    const reach = (file: string, seen = new Set<string>()): Set<string> => {
      if (seen.has(file)) return seen;
      seen.add(file);
      for (const name of imports(file)) reach(name, seen);
      return seen;
    };
    for (const file of SRC.filter((name) => pageless.some((room) => name.startsWith(room)))) {
      const used = [...reach(file)].filter(
        (name) => isThree(name) || isReact(name) || /^src\/(app|panels|scene)\//.test(name),
      );
      expect(used, file).toEqual([]);
    }
  });

  test('node is used by the command line only', () => {
    const elsewhere = SRC.filter(
      (file) =>
        imports(file).some((name) => name.startsWith('node:')) &&
        file !== 'src/cli.ts' &&
        !file.startsWith('src/commands/'),
    );
    expect(elsewhere).toEqual([]);
  });
});

describe('what is written', () => {
  const WRITTEN = ['README.md', 'DEVELOPERS.md', 'package.json', 'shared', 'src', 'models', 'assets', 'tests']
    .flatMap(filesOf)
    .filter((file) => /\.(tsx?|mjs|json|md|css|html|svg)$/.test(file));

  test('never promises that a bike may be ridden', () => {
    const promise = new RegExp(['safe', 'to', 'ride'].join('\\s+'), 'i');
    expect(WRITTEN.length).toBeGreaterThan(100);
    expect(WRITTEN.filter((file) => promise.test(textOf(file)))).toEqual([]);
  });

  test('fetches nothing from elsewhere at run time', () => {
    const CDN = /https?:\/\/(?!www\.w3\.org\/|json-schema\.org\/|127\.0\.0\.1|localhost)[\w.-]+/;
    expect([...CORE, ...SRC, 'src/index.html'].filter((file) => CDN.test(textOf(file)))).toEqual([]);
  });
});
