/** The command `felt`: text, the next check alone, JSON, refusals, exit codes. */
import { afterEach, describe, expect, test, vi } from 'vitest';
import { Refusal } from '../../src/commands/command.ts';
import { feltCommand } from '../../src/commands/felt.ts';
import { demoModels } from '../bench/models.ts';

const rig = demoModels().find(({ id }) => id === 'class-rig')!;
afterEach(() => vi.restoreAllMocks());

/** What the command prints and its exit code. */
function run(said: string, options: Readonly<Record<string, string | boolean>> = {}): { out: string; code: number } {
  let out = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    out += String(text);
    return true;
  });
  const code = feltCommand.run(rig, { pivot: 'rig-pivot', ...options }, [said]);
  vi.restoreAllMocks();
  return { out, code };
}

describe('text', () => {
  test('says what was told, what it may be, what to do and what to check next, and who has the last word', () => {
    const { out, code } = run('tight, no left-over');
    expect(code).toBe(1);
    expect(out).toMatch(/ {2}\+ Turns tight\n {2}− A part is left over\n/);
    expect(out).toMatch(/\n +\d+\.\d % {2}\S/);
    expect(out).toMatch(/\nCheck next \(\S+\): \S/);
    expect(out.trim().split('\n').at(-1)).toBe(
      'The frame maker’s instructions, local rules and a qualified mechanic have the last word.',
    );
    expect(out).not.toMatch(/undefined|NaN/);
  });

  test('--next says the next check alone, and where none is left that none is', () => {
    expect(run('tight', { next: true }).out).toMatch(/^Check next \(/);
    const { out } = run(
      'facing:taper-left, rubs:non-drive, no rubs:drive, no other-size:taper-left, no facing:taper-right',
      { next: true },
    );
    expect(out).toMatch(/^No further check\. /);
  });
});

test('JSON: the probabilities of all causes add up to one', () => {
  const data = JSON.parse(run('notchy, gap:drive', { json: true, often: 'grit:900' }).out) as {
    readonly often_per1000: Readonly<Record<string, number>>;
    readonly causes: readonly { readonly id: string; readonly probability: number }[];
    readonly next: { readonly ask: { readonly key: string } };
  };
  expect(data.causes.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 9);
  expect(new Set(data.causes.map(({ id }) => id)).size).toBe(data.causes.length);
  expect(data.next.ask.key).toBeTruthy();
  expect(data.causes[0]!.id).toMatch(/^grit:/);
  expect(data.often_per1000).toMatchObject({ grit: 900, turned: 30 });
});

test('what cannot be read is refused with what could', () => {
  expect(() => run('wobbly')).toThrow(Refusal);
  expect(() => run('wobbly')).toThrow(/felt: met “wobbly”, allowed: tight, notchy/);
  expect(() => run('tight', { often: 'rust:3' })).toThrow(/felt: --often: met “rust”, allowed: left-out, /);
  expect(() => run('tight', { often: 'grit:0' })).toThrow(/felt: --often: grit: met “0”/);
  expect(() => run('tight', { pivot: 'nowhere' })).toThrow(/allowed: rig-pivot/);
});
