/**
 * `new`, `ask` and `check` of a draft on the command line: a draft comes out, goes in, says what is next and what
 * decides; what is no draft is refused in words.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { MANNERS, readDraft } from '../../shared/index.ts';
import { said } from '../setup/said.ts';

const FIXTURE = join(import.meta.dirname, '..', 'fixtures', 'draft-axle-and-nut.json');
const folder = mkdtempSync(join(tmpdir(), 'axlewright-ask-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Said {
  readonly verdict?: string;
  readonly pivots: readonly { readonly verdict: string; readonly depends_on: readonly string[] }[];
  readonly next?: readonly { readonly path?: string; readonly gain_bits: number }[];
}

describe('axlewright new', () => {
  test('writes a draft that is read again, with its form linked', async () => {
    const file = join(folder, 'mine.json');
    expect((await said(['new', 'two-bolts', '--out', file], folder)).code).toBe(0);
    const text = readFileSync(file, 'utf8');
    expect((JSON.parse(text) as { $schema: string }).$schema).toMatch(/linkage-draft\.schema\.json$/);
    const reading = readDraft(text);
    expect(reading.ok && reading.draft.model.id).toBe('two-bolts');
  });

  test('knows its manners and says them', async () => {
    const { code, err } = await said(['new', 'two-bolt'], folder);
    expect(code).toBe(2);
    expect(err).toContain('Did you mean “two-bolts”?');
    for (const { key } of MANNERS) expect(err).toContain(key);
  });
});

describe('axlewright ask and check', () => {
  test('say of a draft what is next and what decides', async () => {
    const ask = await said(['ask', FIXTURE, '--json'], folder);
    const check = await said(['check', FIXTURE, '--json'], folder);
    expect([ask.code, check.code]).toEqual([1, 1]);
    const [asked, checked] = [JSON.parse(ask.out) as Said, JSON.parse(check.out) as Said];
    expect(checked.verdict).toBe('unsure');
    expect(checked.pivots[0]!.depends_on.length).toBeGreaterThan(3);
    expect(asked.pivots[0]!.depends_on).toEqual(checked.pivots[0]!.depends_on);
    expect(checked.pivots[0]!.depends_on).toContain(asked.next![0]!.path);
  });

  test('what is no draft is refused with its places', async () => {
    const file = join(folder, 'broken.json');
    writeFileSync(file, readFileSync(FIXTURE, 'utf8').replace('"spacer": {', '"spacer": { "lenth_mm": 3,'));
    const { code, err } = await said(['check', file], folder);
    expect(code).toBe(2);
    expect(err).toContain('body.model.parts.spacer.lenth_mm');
    expect(err).toContain('length_mm');
  });
});
