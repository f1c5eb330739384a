/**
 * A slice of `npm run fuzz`: inputs bent a little or a lot. Nothing throws, what is told is harmless, and what is taken
 * says the same when it is written out and read again.
 */
import { expect, test } from 'vitest';
import { draftOf, emptyJob, fieldsOfJob, harmless, jobFrom, readDraftData, readReadings } from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { fuzz, fuzzing } from '../setup/fuzz.ts';
import { seeds } from '../setup/series.ts';

test('models, drafts, jobs, photos, lessons, readings and links, 400 seeds', () => {
  const run = fuzzing();
  for (const seed of seeds(400)) fuzz(seed, run);
  expect(run.faults).toEqual([]);
  // Of every kind some are taken and some refused, or nothing was tried.
  for (const kind of Object.keys(run.made) as (keyof typeof run.made)[]) {
    expect(run.taken[kind], kind).toBeGreaterThan(0);
    expect(run.taken[kind], kind).toBeLessThan(run.made[kind]);
  }
});

/** A draft of the rig with its one stack changed. */
function drafted(change: object): ReturnType<typeof readDraftData> {
  const { model } = draftOf(demoModels().find(({ id }) => id === 'class-rig')!);
  const pivots = model.pivots.map((pivot) => ({
    ...pivot,
    stacks: pivot.stacks.map((stack) => ({ ...stack, ...change })),
  }));
  return readDraftData({ model: { ...model, pivots } });
}

test('a name of a draft that leads nowhere is told as one harmless line', () => {
  const reading = drafted({ receiver: '\u001b[2J\u202enut' });
  expect(reading).toMatchObject({ ok: false, problems: [{ code: 'no-such-part', met: '\\u001b[2J\\u202enut' }] });
});

test('a row of a draft that names neither a part nor a boss is told, and so is one that names both', () => {
  for (const entry of [
    { id: 'x' },
    { id: 'x', member: 'arm' },
    { id: 'x', part: 'rig-nut', member: 'arm', bore: 'left' },
  ])
    expect(drafted({ row: [entry] }), JSON.stringify(entry)).toMatchObject({
      ok: false,
      problems: [{ code: 'row-contradicts', path: 'model.pivots[0].stacks[0].row[0]' }],
    });
});

test('a bearing of a draft that no table knows is told', () => {
  const { model } = draftOf(demoModels().find(({ id }) => id === 'class-rig')!);
  const parts = { ...model.parts, 'rig-bearing': { ...model.parts['rig-bearing']!, designation: 'jaw-rear' } };
  expect(readDraftData({ model: { ...model, parts } })).toMatchObject({
    ok: false,
    problems: [{ code: 'bearing-unknown', path: 'model.parts.rig-bearing.designation', met: 'jaw-rear' }],
  });
});

test('a name is as long as it stands once it is harmless', () => {
  const named = (length: number): boolean =>
    readReadings(`label;length mm\n${'a'.repeat(length)}\u001b${'a'.repeat(2)};6`).ok;
  expect([named(32), named(33)]).toEqual([true, false]);
});

test('a long name is not cut through a sign of two halves', () => {
  for (const lead of ['', 'a']) {
    const reading = readReadings(`label;length mm\n1;${lead}${'𝔸'.repeat(60)}`);
    expect(reading.ok).toBe(false);
    for (const { met } of reading.ok ? [] : reading.problems) expect(harmless(met)).toBe(met);
  }
});

test('a job whose model had no key is kept field by field like any other', () => {
  const job = emptyJob({ model: 'class-rig', key: '' });
  expect(jobFrom({ fields: new Map(Object.entries(fieldsOfJob(job))) })).toEqual(job);
});
