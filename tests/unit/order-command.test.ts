/** The commands `order` and `access`: text, JSON, own orders, parts by their words, refusals, exit codes. */
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { wordMeasure, type LinkageModel } from '../../shared/index.ts';
import { Refusal, type Command, type Options } from '../../src/commands/command.ts';
import { orderCommand } from '../../src/commands/order.ts';
import { accessCommand } from '../../src/commands/access.ts';
import { demoModels } from '../bench/models.ts';
import { COMMAND_LINE } from '../setup/command-line.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

const models = demoModels();
const model = (id: string): LinkageModel => models.find((candidate) => candidate.id === id)!;
const LAST_WORD = 'The frame maker’s instructions, local rules and a qualified mechanic have the last word.';
afterEach(() => vi.restoreAllMocks());

/** What a command prints and its exit code. */
function run(
  command: Command,
  base: LinkageModel,
  options: Options = {},
  words: readonly string[] = [],
): { out: string; code: number } {
  let out = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    out += String(text);
    return true;
  });
  const code = command.run(base, options, words);
  vi.restoreAllMocks();
  return { out, code };
}

function refusal(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error.message;
  }
  throw new Error('test: nothing was refused');
}

describe('order', () => {
  test.each(models)('$id in words: every task and step, the maker’s order, who has the last word', (base) => {
    const { out, code } = run(orderCommand, base);
    const plan = plannedOnce(analysed(base));
    expect(code).toBe(0);
    plan.tasks.forEach((task, k) => expect(out).toMatch(new RegExp(`\n${k + 1}\\. .* {2}\\[${task.id}\\]\n`)));
    expect(out).toMatch(/The maker’s order is/);
    expect(out.trim().split('\n').at(-1)).toBe(LAST_WORD);
    expect(out).not.toMatch(/undefined|NaN|\[object/);
  });

  test('numbers stand in the reasons, and a variant says what it changes', () => {
    const { edges } = plannedOnce(analysed(model('fjordside-150')));
    const cover = edges.flatMap(({ reasons }) => reasons).find(({ code }) => code === 'nut-path')!.numbers['cover_mm']!;
    expect(cover.value).toBeGreaterThan(1);
    const { out } = run(orderCommand, model('fjordside-150'));
    expect(out).toContain(
      `Before the chainset: the chainring covers the place of the nut of “main pivot” by ${wordMeasure(cover)}`,
    );
    expect(out).toMatch(/Variant Second series \(second-series\)/);
    expect(out).toMatch(/Seatstay to rocker: tighten and check: with other tools/);
    const variant = run(orderCommand, model('fjordside-150'), { variant: 'second-series' });
    expect(variant.out).toMatch(/Fjordside 150, Second series: build order/);
    expect(variant.code).toBe(0);
  });

  test('taken apart: air first, wheel before any pivot, threadlocker warmed, facings marked, sets kept together', () => {
    const { out, code } = run(orderCommand, model('skarn-140'), { strip: true });
    expect(code).toBe(0);
    const at = (text: string | RegExp): number => out.search(text);
    expect(at(/Let the air out/)).toBeLessThan(at(/Rear wheel out\n/));
    expect(at(/Rear wheel out\n {6}/)).toBeLessThan(at(/Undo “/));
    for (const words of [/Warm the threadlocker/, /Mark .*spacer/, /Keep the set together/, /Feel before you open/])
      expect(at(words)).toBeGreaterThan(0);
    expect(out.trim().split('\n').at(-1)).toBe(LAST_WORD);
  });

  test('as data: plain, with words, counts as text', () => {
    const plan = JSON.parse(run(orderCommand, model('holt-120'), { json: true }).out) as Record<string, unknown> & {
      steps: { title: string; because: unknown[] }[];
      tasks: { id: string }[];
      orders: { orders: string };
    };
    expect(plan['model']).toBe('holt-120');
    expect(plan['analysis']).toBeUndefined();
    expect(plan.orders.orders).toMatch(/^\d+$/);
    expect(plan.steps.every(({ title }) => title.length > 0)).toBe(true);
    const strip = JSON.parse(run(orderCommand, model('holt-120'), { json: true, strip: true }).out) as {
      tasks: string[];
      steps: { kind: string }[];
    };
    expect(strip.tasks).toEqual(plan.tasks.map(({ id }) => id).reverse());
    expect(strip.steps[0]!.kind).toBe('note-settings');
  });

  test('an own order: sound, faulty with the nearest place, unknown tasks refused', () => {
    const ids = plannedOnce(analysed(model('class-rig'))).tasks.map(({ id }) => id);
    expect(run(orderCommand, model('class-rig'), { own: ids.join(', ') })).toMatchObject({
      code: 0,
      out: expect.stringMatching(/Every task of it can be done when it is its turn/) as string,
    });
    const [stand, inspect, fit, tighten, over] = ids;
    const faulty = run(orderCommand, model('class-rig'), { own: [stand, inspect, tighten, fit, over].join(' ') });
    expect(faulty.code).toBe(1);
    expect(faulty.out).toMatch(
      /STOP 3\. .*tighten and check: Too early here\. Waits for .*Nearest place that works: 4\./,
    );
    expect(JSON.parse(run(orderCommand, model('class-rig'), { own: `${fit} ${stand}`, json: true }).out)).toMatchObject(
      { faults: [{ task: fit, blockedBy: [stand, inspect] }], missing: [inspect, tighten, over] },
    );
    expect(refusal(() => run(orderCommand, model('class-rig'), { own: 'stand, nonsense' }))).toMatch(
      /--own: met nonsense, allowed: stand, inspect:rig-axle/,
    );
    expect(refusal(() => run(orderCommand, model('class-rig'), { own: 'stand, stand' }))).toMatch(
      /named twice: stand,/,
    );
    expect(refusal(() => run(orderCommand, model('class-rig'), { own: ' , ' }))).toMatch(/met nothing/);
    expect(refusal(() => run(orderCommand, model('class-rig'), { own: 'stand', makers: true }))).toMatch(/met both/);
  });
});

describe('access', () => {
  test('the shock by its name: both ends, tools, threadlocker, off and back', () => {
    const { out, code } = run(accessCommand, model('skarn-140'), {}, ['the shock']);
    expect(code).toBe(0);
    expect(out).toMatch(/The shock: 2 pivot axles to open\..*Nothing less frees it\./);
    expect(out).toMatch(/A stand-in shock is fitted\? To swap it later you reopen/);
    expect(out).toMatch(/Tools: 18 mm spanner, 17 mm spanner, 6 mm hex key, 5 mm hex key\n/);
    expect(out).toMatch(/New threadlocker\n {2}“Upper shock eye to rocker”: medium strength/);
    expect(out).toMatch(/OFF: \d+ steps[\s\S]*BACK: \d+ steps/);
    expect(out.trim().split('\n').at(-1)).toBe(LAST_WORD);
  });

  test('a bearing by words, told from its twin by its side; ids do as well', () => {
    const words = run(accessCommand, model('holt-120'), { json: true }, ['main bearing, drive side']).out;
    expect(JSON.parse(words)).toMatchObject({
      model: 'holt-120',
      target: { kind: 'item', id: 'main/bearing-right' },
      off: ['rear-wheel'],
    });
    expect(run(accessCommand, model('holt-120'), { json: true }, ['main/bearing-right']).out).toBe(words);
  });

  test('words for several parts, for none, and the frame are refused with what they could mean', () => {
    expect(refusal(() => run(accessCommand, model('holt-120'), {}, ['main bearing']))).toMatch(
      /which means 2 parts, allowed: main\/bearing-left \(Bearing .*, main\/bearing-right \(Bearing/,
    );
    expect(refusal(() => run(accessCommand, model('holt-120'), {}, ['headset']))).toMatch(
      /met “headset”, which means no part, allowed: .*main\/axle/,
    );
    expect(refusal(() => run(accessCommand, model('holt-120'), {}, ['chainsat']))).toMatch(
      /Did you mean “chainset”\?$/,
    );
    expect(refusal(() => run(accessCommand, model('holt-120'), {}, ['frame']))).toMatch(/part/);
    expect(refusal(() => run(accessCommand, model('holt-120'), {}, ['']))).toMatch(/met nothing/);
  });
});

test('the command line knows both; `--strip` is a switch here and a file for `travel`', async () => {
  const cli = (...args: string[]): Promise<{ code: number; out: string; err: string }> =>
    new Promise((resolve) => {
      execFile(
        process.execPath,
        [COMMAND_LINE, ...args],
        { cwd: fileURLToPath(new URL('../..', import.meta.url)), timeout: 60_000 },
        (error, out, err) => resolve({ code: error ? Number(error.code) : 0, out, err }),
      );
    });
  const [strip, access, file, help] = await Promise.all([
    cli('order', 'models/class-rig.json', '--strip'),
    cli('access', 'models/class-rig.json'),
    cli('travel', 'models/class-rig.json', '--strip'),
    cli('help', 'order'),
  ]);
  expect(strip).toMatchObject({ code: 0, err: '' });
  expect(strip.out).toMatch(/taking apart/);
  expect(access.code).toBe(2);
  expect(access.err).toMatch(/met nothing after the model file, allowed: <part>/);
  expect(file.code).toBe(2);
  expect(help.out).toMatch(/axlewright -- order <model\.json> \[options\]\n[\s\S]*\n {2}--strip/);
});
