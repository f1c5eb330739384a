/**
 * The arrows between the layers, read off the imports themselves: every file of the core and of the page stands in a
 * layer and uses only what lies before it, nothing runs in a circle, three lives in the scene only, React where there
 * is a page, and everything outside the core comes in by its one door.
 *
 * Also held here: no promise that a bike may be ridden, no `any` in the core, a doc comment beside every exported name.
 */
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { CORE, cyclesOf, filesOf, importsOf, nodesOf, sourceOf, SRC, TESTS, textOf } from '../setup/sources.ts';

/**
 * The layers, lowest first: a file uses its own place and what stands on the lines before. Places on one line know
 * nothing of one another. The longest name that a file begins with is its place.
 */
const LAYERS: readonly (readonly string[])[] = [
  ['shared/numbers/', 'shared/standards/', 'shared/limits.ts'],
  ['shared/next/', 'shared/photo/', 'shared/profile/'],
  ['shared/parts/'],
  ['shared/model/'],
  ['shared/envelope/'],
  ['shared/types.ts'],
  ['shared/joint/', 'shared/apart.ts'],
  ['shared/torque/'],
  ['shared/findings/'],
  ['shared/analyse.ts'],
  ['shared/mistakes/', 'shared/sort/', 'shared/tolerance/'],
  ['shared/measure/'],
  ['shared/travel/'],
  ['shared/order/'],
  ['shared/felt/'],
  ['shared/job/'],
  ['shared/practice/'],
  ['shared/words/'],
  ['shared/index.ts'],
  ['src/look.ts'],
  ['src/content.ts', 'src/later.ts', 'src/words.ts', 'src/drawings/', 'src/offline.ts'],
  ['src/sheet/'],
  ['src/worker.ts', 'src/scene/'],
  ['src/exports/'],
  ['src/commands/'],
  ['src/picture/tween.ts'],
  // What the state of the page holds of each place, without the place itself.
  [
    'src/build/order.ts',
    'src/build/orderRun.ts',
    'src/bike/places.ts',
    'src/editor/edits.ts',
    'src/travel/travel.ts',
    'src/cli.ts',
  ],
  ['src/page/route.ts'],
  ['src/build/planned.ts', 'src/mistakes/mistakes.ts'],
  ['src/page/'],
  ['src/picture/', 'src/widgets/', 'src/class/classStore.ts'],
  ['src/editor/'],
  ['src/build/', 'src/tolerance/', 'src/travel/', 'src/tray/'],
  ['src/photo/'],
  ['src/felt/', 'src/job/', 'src/mistakes/', 'src/practice/', 'src/torque/'],
  ['src/kept/', 'src/measure/'],
  ['src/bike/', 'src/menu/'],
  ['src/row/'],
  ['src/class/'],
  ['src/shell/'],
];
/** Places that have a page, and of them the one where three lives. */
const PAGE = [
  'src/bike/',
  'src/build/',
  'src/class/',
  'src/editor/',
  'src/felt/',
  'src/job/',
  'src/kept/',
  'src/later.ts',
  'src/measure/',
  'src/menu/',
  'src/mistakes/',
  'src/page/',
  'src/photo/',
  'src/picture/',
  'src/practice/',
  'src/row/',
  'src/scene/',
  'src/shell/',
  'src/tolerance/',
  'src/torque/',
  'src/travel/',
  'src/tray/',
  'src/widgets/',
];
const SCENE = 'src/scene/';
/** What works without a page, and of it what may ask node. */
const PAGELESS = [
  'src/look.ts',
  'src/drawings/',
  'src/exports/',
  'src/sheet/',
  'src/commands/',
  'src/cli.ts',
  'src/content.ts',
  'src/words.ts',
  'src/worker.ts',
  'src/offline.ts',
];
const NODE = ['src/commands/', 'src/cli.ts'];
/** What computes knows nothing of files: zod stays with what reads them and with the forms of parts. */
const ZOD = [
  'shared/parts/',
  'shared/model/read.ts',
  'shared/model/schema.ts',
  'shared/sort/reading.ts',
  'shared/envelope/',
];

const isIn = (file: string, places: readonly string[]): boolean =>
  places.some((place) => file === place || (place.endsWith('/') && file.startsWith(place)));
const placeOf = (file: string): string =>
  LAYERS.flat()
    .filter((place) => isIn(file, [place]))
    .sort((a, b) => b.length - a.length)[0] ?? '';
const layerOf = (place: string): number => LAYERS.findIndex((places) => places.includes(place));

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

const IMPORTS = new Map([...CORE, ...SRC].map((file) => [file, importsOf(file)] as const));
const imports = (file: string): readonly string[] => IMPORTS.get(file) ?? [];

test('there is something to look at', () => {
  expect(CORE.length).toBeGreaterThan(30);
  expect(SRC.length).toBeGreaterThan(50);
  expect([...CORE, ...SRC].filter((file) => imports(file).length > 0).length).toBeGreaterThan(80);
  expect(SRC.some((file) => imports(file).includes('three'))).toBe(true);
});

describe('the layers', () => {
  test('hold every file, and every place has one', () => {
    expect([...CORE, ...SRC].filter((file) => placeOf(file) === '')).toEqual([]);
    expect(LAYERS.flat().filter((place) => ![...CORE, ...SRC].some((file) => placeOf(file) === place))).toEqual([]);
  });

  test('run one way', () => {
    const wrong = [...CORE, ...SRC].flatMap((file) =>
      imports(file)
        .filter((name) => IMPORTS.has(name) && placeOf(name) !== placeOf(file))
        .filter((name) => layerOf(placeOf(name)) >= layerOf(placeOf(file)))
        .map((name) => `${file} → ${name}`),
    );
    expect(wrong).toEqual([]);
  });

  test('have no cycle, nor has any file of theirs', () => {
    expect(cyclesOf([...CORE, ...SRC])).toEqual([]);
  });
});

describe('the core', () => {
  test('imports nothing but itself and zod', () => {
    const strangers = CORE.flatMap((file) =>
      imports(file)
        .filter((name) => name !== 'zod' && !CORE.includes(name))
        .map((name) => `${file} → ${name}`),
    );
    expect(strangers).toEqual([]);
    const readers = CORE.filter((file) => imports(file).includes('zod'));
    expect(readers.filter((file) => !isIn(file, ZOD))).toEqual([]);
    expect(ZOD.filter((place) => !readers.some((file) => isIn(file, [place])))).toEqual([]);
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
      const source = sourceOf(file);
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
    const elsewhere = [...CORE, ...SRC].filter((file) => !isIn(file, [SCENE]) && imports(file).some(isThree));
    expect(elsewhere).toEqual([]);
  });

  test('React lives where there is a page', () => {
    const elsewhere = SRC.filter((file) => !isIn(file, PAGE) && (imports(file).some(isReact) || file.endsWith('.tsx')));
    expect(elsewhere).toEqual([]);
  });

  test('what has no page uses nothing that needs one', () => {
    const reach = (file: string, seen = new Set<string>()): Set<string> => {
      if (seen.has(file)) return seen;
      seen.add(file);
      for (const name of imports(file)) reach(name, seen);
      return seen;
    };
    for (const file of SRC.filter((name) => isIn(name, PAGELESS))) {
      // What shapes the picture is plain arrays: it counts by what it reaches itself.
      const isShape = (name: string): boolean => isIn(name, [SCENE]) && name.endsWith('.ts');
      const used = [...reach(file)].filter(
        (name) => isThree(name) || isReact(name) || (isIn(name, PAGE) && !isShape(name)),
      );
      expect(used, file).toEqual([]);
    }
  });

  test('node is used by the command line only', () => {
    const elsewhere = SRC.filter((file) => imports(file).some((name) => name.startsWith('node:')) && !isIn(file, NODE));
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

  test('waits for signals alone, and tries nothing twice', () => {
    const wait = new RegExp(
      ['waitFor' + 'Timeout', 'retry' + ':', 'retries' + ':', 'skip' + 'If', 'test\\.(only|skip|todo|fails)'].join('|'),
    );
    const specs = TESTS.filter((file) => !file.startsWith('tests/bench/'));
    expect(specs.filter((file) => wait.test(textOf(file)))).toEqual([]);
  });

  test('lets nothing pass a check without a reason', () => {
    const pass = new RegExp(
      ['biome-ignore', 'eslint-disable', 'oxlint-disable', '@ts-(ignore|expect-error|nocheck)'].join('|'),
    );
    const bare = [...CORE, ...SRC, ...TESTS].flatMap((file) =>
      textOf(file)
        .split('\n')
        .filter((line) => /^\s*(\/\/|\/\*|\{\/\*)/.test(line) && pass.test(line))
        .filter((line) => !/(: |-- )\w+ \w+ \w+/.test(line.replace(/^.*?(ignore|disable|error|nocheck)/, '')))
        .map((line) => `${file}: ${line.trim()}`),
    );
    expect(bare).toEqual([]);
  });

  test('fetches nothing from elsewhere at run time', () => {
    const CDN = /https?:\/\/(?!www\.w3\.org\/|json-schema\.org\/|127\.0\.0\.1|localhost)[\w.-]+/;
    expect([...CORE, ...SRC, 'src/index.html'].filter((file) => CDN.test(textOf(file)))).toEqual([]);
  });
});
