/**
 * The README as a reader uses it: every command in it runs as written, what it shows as printed is what is printed, and
 * its figures are the program's. The examples in the help of each command run too.
 */
import { mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { COMMANDS } from '../../src/commands/all.ts';
import { demoModels } from '../bench/models.ts';
import { commandsIn, readmeNow, readmeText, shellWords } from '../setup/readme.ts';
import { said } from '../setup/said.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const README = readmeText();
const SHOWN = commandsIn(README);
const EXAMPLES = COMMANDS.flatMap(({ examples }) => examples);

// The models stand where they stand for a reader, and what an example writes stays out of the repository.
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'axlewright-readme-'));
  for (const name of ['models', 'tests']) symlinkSync(join(ROOT, name), join(folder, name));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/**
 * The tray of the example holds look-alikes, what its hand feels has two causes, and its draft is not measured out: none
 * is settled.
 */
const isUnsettled = (words: readonly string[]): boolean =>
  ['sort', 'felt'].includes(words[0]!) || words.some((word) => word.includes('/draft-'));

async function expectRuns(words: readonly string[]): Promise<void> {
  const { code, out, err } = await said(words, folder);
  expect({ code, err: err.replace(/^Drawn: .*\n$/, '') }).toEqual({
    code: isUnsettled(words) ? 1 : 0,
    err: '',
  });
  const at = words.indexOf('--out');
  expect(at < 0 ? out : readFileSync(join(folder, words[at + 1]!), 'utf8')).not.toBe('');
}

describe('a command of the README', () => {
  test.each(SHOWN.map(({ line, words }) => [line, words] as const))('%s', (_, words) => expectRuns(words));

  test('is there for every command of the program', () => {
    for (const { name } of COMMANDS) expect(SHOWN.map(({ words }) => words[0])).toContain(name);
  });
});

describe('an example of the help', () => {
  test.each(EXAMPLES.filter((example) => !SHOWN.some(({ words }) => words.join() === shellWords(example).join())))(
    '%s',
    (example) => expectRuns(shellWords(example)),
  );
});

describe('what the README shows', () => {
  test('as printed and in its table is what the program says now (else: npm run golden)', async () => {
    expect(README).toMatch(/^\$ npm run -s axlewright -- check .*\n.+: Fits\n/m);
    expect(await readmeNow(README)).toBe(README);
  });

  test('of the worked pivot is what its model says', () => {
    const model = demoModels().find(({ id }) => id === 'skarn-140')!;
    const stack = model.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === 'shock-frame')!;
    const part = (id: string): Record<string, unknown> =>
      model.parts[stack.row.find((entry) => entry.id === id)!.part!] as unknown as Record<string, unknown>;
    const [spacer, bearing] = [part('mount-right'), part('bearing-right')];
    expect(README).toContain(
      `${stack.torque_Nm} N·m, ${stack.thread_treatment === 'greased' ? 'grease on the thread' : '?'}`,
    );
    expect(README).toContain(`two ${String(bearing['name']).replace('Bearing ', '')} bearings`);
    expect(README).toContain(`a flanged spacer of ${spacer['length_mm']} mm a side`);
    expect(README).toContain(`The flange, ${spacer['outside_mm']} mm wide`);
  });
});

test('words of a line are parted as a shell does', () => {
  expect(shellWords('order m.json --own "a, b"   # my own')).toEqual(['order', 'm.json', '--own', 'a, b']);
  expect(shellWords('access m.json ""')).toEqual(['access', 'm.json', '']);
});
