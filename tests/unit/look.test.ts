/**
 * One look: colours stand in `look.ts` alone, what a style sheet names is set somewhere, no class is styled in two
 * files, and what means something stands out from what it lies on.
 */
import { describe, expect, test } from 'vitest';
import { ALWAYS, FACING, lookSheet, PAGE } from '../../src/look.ts';
import { filesOf, SRC, textOf } from '../setup/sources.ts';

const LOOK = 'src/look.ts';
const sheets = filesOf('src').filter((file) => file.endsWith('.css'));
const bare = (file: string): string => textOf(file).replace(/\/\*[\s\S]*?\*\//g, '');
const COLOUR = /#(?:[0-9a-f]{3}){1,2}\b|\b(?:rgb|hsl|okl(?:ab|ch))a?\(/gi;

/** Selectors of a sheet, each as it is written; those within a rule belong to it. */
function selectorsOf(css: string): string[] {
  const found: string[] = [];
  const within: string[] = [];
  for (const [, head, brace] of css.matchAll(/([^{};]*)([{};])/g)) {
    if (brace === '}') within.pop();
    if (brace !== '{') continue;
    const rule = head!.trim();
    if (!rule.startsWith('@') && within.every((outer) => outer.startsWith('@'))) found.push(rule);
    within.push(rule);
  }
  // Commas within brackets part nothing.
  return found.flatMap((rule) => rule.split(/,(?![^()]*\))/));
}

describe('a colour', () => {
  test('stands in the look alone', () => {
    expect(sheets.length).toBeGreaterThan(10);
    const foreign = [
      ...sheets.map((file) => [file, bare(file)] as const),
      ...SRC.map((file) => [file, textOf(file)] as const),
    ]
      .filter(([file]) => file !== LOOK)
      .flatMap(([file, text]) =>
        (text.match(file.endsWith('.css') ? COLOUR : /['"`]#(?:[0-9a-f]{3}){1,2}['"`]/gi) ?? []).map(
          (hit) => `${file}: ${hit}`,
        ),
      );
    expect(foreign).toEqual([]);
    expect(textOf(LOOK).match(COLOUR)!.length).toBeGreaterThan(100);
  });

  test('that a sheet names is set, and what is set is named', () => {
    const css = sheets.map(bare).join('\n');
    const set = new Set(`${css}\n${lookSheet()}`.match(/--[\w-]+(?=:)/g));
    const code = SRC.filter((file) => file !== LOOK)
      .map(textOf)
      .join('\n');
    const named = new Set(css.match(/(?<=var\()--[\w-]+(?=\))/g));
    expect([...named].filter((name) => !set.has(name) && !code.includes(name))).toEqual([]);
    const used = (name: string): boolean => css.includes(`var(${name})`) || code.includes(name);
    expect([...lookSheet().matchAll(/--[\w-]+(?=:)/g)].map(([name]) => name).filter((name) => !used(name))).toEqual([]);
  });

  test('is the same set on either ground of the page', () => {
    expect(Object.keys(PAGE.dark)).toEqual(Object.keys(PAGE.light));
  });
});

test('no class is styled in two files: every rule begins with a piece of its own file', () => {
  const places = new Map<string, Set<string>>();
  for (const file of sheets) {
    for (const selector of selectorsOf(bare(file))) {
      const piece = /\.([a-z][\w-]*)/.exec(selector)?.[1];
      if (piece !== undefined) places.set(piece, (places.get(piece) ?? new Set()).add(file));
    }
  }
  expect(places.size).toBeGreaterThan(200);
  expect([...places].filter(([, files]) => files.size > 1).map(([piece, files]) => [piece, ...files])).toEqual([]);
});

test('every class that is styled is one that something wears', () => {
  const worn = SRC.filter((file) => file !== LOOK)
    .map(textOf)
    .join('\n');
  // The last part of a name may be put on in code.
  const isWorn = (name: string): boolean =>
    new RegExp(`(?<![\\w-])${name}(?![\\w-])`).test(worn) ||
    new RegExp(
      `(?<![\\w-])${name.replace(/(?:-(?:non-drive|too-\w+|perhaps-\w+|outer-ring|inner-ring)|-\w+)$/, '')}-\\$\\{`,
    ).test(worn);
  const classes = new Set(
    sheets.flatMap((file) =>
      selectorsOf(bare(file)).flatMap((rule) => [...rule.matchAll(/\.([a-z][\w-]*)/g)].map(([, name]) => name!)),
    ),
  );
  expect([...classes].filter((name) => !isWorn(name))).toEqual([]);
});

describe('contrast', () => {
  const channel = (value: number): number => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4);
  const luminance = (hex: string): number => {
    const [r, g, b] = [1, 3, 5].map((k) => channel(Number.parseInt(hex.slice(k, k + 2), 16) / 255)) as [
      number,
      number,
      number,
    ];
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (a: string, b: string): number => {
    const [high, low] = [luminance(a), luminance(b)].sort((p, q) => q - p) as [number, number];
    return (high + 0.05) / (low + 0.05);
  };

  test.each(['light', 'dark'] as const)('of words is 4.5:1 and of marks 3:1 on the %s ground', (theme) => {
    const page = PAGE[theme];
    const words: [string, string][] = [
      [page.ink, page.paper],
      [page.ink, page.fill],
      [page.soft, page.paper],
      [page.soft, page.ground],
      [page['on-main'], page.main],
      [page['trouble-words'], page.paper],
      [page['trouble-words'], page['trouble-fill']],
      [page.ink, page['trouble-fill']],
      [page.ink, page['warn-fill']],
    ];
    const marks: [string, string][] = [
      [ALWAYS.trouble, page.paper],
      [ALWAYS.trouble, page['trouble-fill']],
      [page['on-mark'], ALWAYS.trouble],
      [page.sound, page.paper],
      [page.warn, page.paper],
      [page.pick, page.paper],
      [page.edge, page.paper],
    ];
    for (const pair of words) expect(contrast(...pair), pair.join(' on ')).toBeGreaterThanOrEqual(4.5);
    for (const pair of marks) expect(contrast(...pair), pair.join(' on ')).toBeGreaterThanOrEqual(3);
    for (const hue of Object.values(FACING))
      expect(contrast(ALWAYS['on-facing'], hue), hue).toBeGreaterThanOrEqual(4.5);
  });
});
