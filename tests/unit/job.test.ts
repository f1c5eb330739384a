/**
 * The job: its fields and back, and what a foreign or broken field does to it (nothing).
 */
import { describe, expect, test } from 'vitest';
import {
  emptyJob,
  fieldsOfJob,
  jobField,
  jobFrom,
  keptEvent,
  keptJob,
  logOf,
  nextJob,
  readEnvelope,
  sumOf,
  thingName,
  writeEnvelope,
  type FieldValue,
  type Job,
} from '../../shared/index.ts';

const fieldMap = (fields: Readonly<Record<string, FieldValue>>): { fields: ReadonlyMap<string, FieldValue> } => ({
  fields: new Map(Object.entries(fields)),
});

const FULL: Job = {
  ...emptyJob({ model: 'skarn-140', key: 'k1' }),
  variant: 'second-series',
  is_draft: true,
  is_archived: true,
  follow: 'makers',
  reference: 'W-0412',
  frame: 'SK 00417',
  date: '2026-11-30',
  initials: 'ab',
  remarks: 'Paint chipped on the rocker before the job.',
  as_it_came: { air: '165 psi', clicks: '7 from closed', spacers: '2', sag: '28 %', runs: 'hose outside the stay' },
  photos: { p1: { jpeg: 'data:image/jpeg;base64,/9j/4AAQ', at_ms: 5 } },
  air_put_back: '165 psi',
  steps: {
    'fit:main:3': { is: 'done', at_ms: 10 },
    'strip:fit:main:feel': { is: 'not-yet', at_ms: 11, why: 'waits for the driver' },
    hours: { is: 'not-here', at_ms: 12, why: 'no dropper post' },
  },
  parts: { 'main/axle': { condition: ['groove'], measured: { length_mm: 90.2 }, renewed: 'axle', for_now: 'old one' } },
  seats: { 'main/bearing-nd': { condition: ['oval'], measured: { across_mm: 28.01, other_way_mm: 28.06 } } },
  axles: { main: { reached_Nm: 14, set_Nm: 14, wrench: 'w1' } },
  wrenches: { w1: { name: '5 to 25', least_Nm: 5, most_Nm: 25, calibrated: '2026-05-31' } },
  felt: { main: { before: { is: ['play'], words: 'a click' }, after: { is: ['good'] } } },
  signs: { 'tighten:main:2': { by: 'cd', at_ms: 20 } },
  decisions: { 'main/axle/seized-axle': { tried: 2, came: 'mended' } },
};

describe('a job', () => {
  test('comes back whole from its fields, each named as a store names one', () => {
    const fields = fieldsOfJob(FULL);
    expect(jobFrom(fieldMap(fields))).toEqual(FULL);
    for (const name of Object.keys(fields)) expect(name).toMatch(/^[a-z0-9][A-Za-z0-9/._-]{0,159}$/);
    expect(fields[jobField('step', 'fit:main:3')]).toEqual({ is: 'done', at_ms: 10 });
  });

  test('needs its model, and leaves aside what its form does not allow', () => {
    expect(jobFrom(fieldMap({ reference: 'W-1' }))).toBeUndefined();
    const bare = { model: 'class-rig', key: 'k' };
    const odd = fieldMap({
      ...bare,
      'step/fit.rig.1': { is: 'finished', at_ms: 1 },
      'axle/rig': { reached_Nm: -3 },
      'part/rig/axle/condition': ['lovely'],
      'part/rig/axle/colour': 'red',
      'part/constructor/condition': ['good'],
      'sign/fit.rig.1': null,
      shelf: 'B',
    });
    expect(jobFrom(odd)).toEqual({ ...emptyJob(bare), parts: { constructor: { condition: ['good'] } } });
  });

  test('hands on to the next one what stays the same, and nothing that was true of that bike', () => {
    const { model, variant, wrenches, initials, follow } = FULL;
    expect(nextJob(FULL, 'k2')).toEqual({
      ...emptyJob({ model, key: 'k2', is_draft: true }),
      variant,
      wrenches,
      initials,
      follow,
    });
  });

  test('is a file of its own kind', () => {
    const reading = readEnvelope(writeEnvelope('job', 'Axlewright 0', FULL), 'job');
    expect(reading).toEqual({ ok: true, app: 'Axlewright 0', body: FULL });
    const old = JSON.parse(writeEnvelope('job', 'Axlewright 0', FULL)) as { body: Record<string, unknown> };
    delete old.body['photos'];
    expect(readEnvelope(JSON.stringify(old), 'job')).toMatchObject({ ok: true, body: { ...FULL, photos: {} } });
    const broken = writeEnvelope('job', 'Axlewright 0', { ...FULL, axles: { main: { reached_Nm: 4000, set_Nm: 14 } } });
    expect(readEnvelope(broken, 'job')).toMatchObject({
      ok: false,
      trouble: { code: 'bad-body', path: 'body.axles.main.reached_Nm' },
    });
  });

  test('of a file is taken in as one thing, twice as once, and goes on from there', () => {
    const { things } = keptJob(FULL);
    expect(keptJob(FULL)).toEqual({ things });
    const [{ name, events }] = things as [(typeof things)[number]];
    expect(thingName.safeParse(name).success).toBe(true);
    expect(events.every((event) => keptEvent.safeParse(event).success)).toBe(true);
    expect(jobFrom(sumOf(logOf(events)))).toEqual(FULL);
    expect(keptJob({ ...FULL, reference: 'W-0413' }).things[0]!.name).not.toBe(name);
  });
});
