/**
 * The golden files: what each command of the command line says of each model, as JSON, kept under
 * `tests/fixtures/golden/`. `npm run golden` writes them anew; look at the difference before it is committed.
 *
 * The tray of `sort` has every part of the parts list once, read exactly: the middle of what each size may be.
 */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { listed, type LinkageModel } from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { said } from './said.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const FOLDER = join(ROOT, 'tests', 'fixtures', 'golden');

/** One line a command: the name of its files, and its words after `axlewright`. */
type Words = (model: string, tray: string, pivot: string) => readonly string[];
const COMMANDS: readonly (readonly [file: string, words: Words])[] = [
  ['check', (model) => ['check', model]],
  ['mistakes', (model) => ['mistakes', model]],
  ['felt', (model, _tray, pivot) => ['felt', model, '--pivot', pivot, 'tight, no left-over']],
  ['order', (model) => ['order', model]],
  ['sheet', (model) => ['sheet', model]],
  ['torque', (model) => ['torque', model]],
  ['travel', (model) => ['travel', model]],
  ['sort', (model, tray) => ['sort', model, tray]],
];

/** One golden file, by `model.command`, and what its command says now. */
export interface Golden {
  readonly name: string;
  readonly now: () => Promise<unknown>;
}

/** Every model with every command. */
export const GOLDEN: readonly Golden[] = demoModels().flatMap((model) =>
  COMMANDS.map(([command, words]) => ({
    name: `${model.id}.${command}`,
    now: () => resultOf(words(join(ROOT, 'models', `${model.id}.json`), 'tray', model.pivots[0]!.id), model),
  })),
);

const fileOf = (name: string): string => join(FOLDER, `${name}.json`);

/** What is stored under a name; undefined where nothing is. */
export function stored(name: string): unknown {
  return existsSync(fileOf(name)) ? (JSON.parse(readFileSync(fileOf(name), 'utf8')) as unknown) : undefined;
}

/** Stores what every command says now; how many files. */
export async function storeAll(): Promise<number> {
  rmSync(FOLDER, { recursive: true, force: true });
  mkdirSync(FOLDER, { recursive: true });
  for (const { name, now } of GOLDEN) writeFileSync(fileOf(name), `${written(await now())}\n`);
  return GOLDEN.length;
}

/** JSON whose short lists and objects stand on one line: a difference of one number is a difference of one line. */
function written(value: unknown, indent = ''): string {
  const short = JSON.stringify(value);
  if (short.length < 160 || typeof value !== 'object' || value === null) return short;
  const deeper = `${indent} `;
  const lines = Array.isArray(value)
    ? value.map((one) => `${deeper}${written(one, deeper)}`)
    : Object.entries(value).map(([key, one]) => `${deeper}${JSON.stringify(key)}: ${written(one, deeper)}`);
  const [open, close] = Array.isArray(value) ? '[]' : '{}';
  return `${open}\n${lines.join(',\n')}\n${indent}${close}`;
}

/** Where two results part, by path: numbers by more than 1e-9 of their size, all else at all. */
export function differences(one: unknown, other: unknown, path = ''): string[] {
  if (typeof one === 'number' && typeof other === 'number')
    return Math.abs(one - other) <= 1e-9 * Math.max(Math.abs(one), Math.abs(other), 1e-3)
      ? []
      : [`${path}: ${one} and ${other}`];
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return one === other ? [] : [`${path}: ${JSON.stringify(one)} and ${JSON.stringify(other)}`];
  const keys = [...new Set([...Object.keys(one), ...Object.keys(other)])];
  return keys.flatMap((key) =>
    differences((one as Record<string, unknown>)[key], (other as Record<string, unknown>)[key], `${path}.${key}`),
  );
}

async function resultOf(words: readonly string[], model: LinkageModel): Promise<unknown> {
  const folder = mkdtempSync(join(tmpdir(), 'axlewright-golden-'));
  try {
    const tray = join(folder, 'tray.json');
    writeFileSync(tray, JSON.stringify({ accuracy_mm: 0.05, readings: exactReadings(model) }));
    const line = words.map((word) => (word === 'tray' ? tray : word));
    const { code, out, err } = await said([...line, '--json'], ROOT);
    // 1 is a verdict, and has its result all the same.
    if (code > 1) throw new Error(`golden: ${words.join(' ')}: ${err}`);
    return JSON.parse(out) as unknown;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function exactReadings(model: LinkageModel): unknown[] {
  return listed(model).map(({ id, kind, count, sizes }) => ({
    label: id,
    kind,
    count,
    ...Object.fromEntries(
      Object.entries(sizes)
        .filter(([name]) => name.endsWith('_mm'))
        .map(([name, size]) => [name, (size.low + size.high) / 2]),
    ),
  }));
}
