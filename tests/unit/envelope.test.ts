/**
 * What is kept, without a browser: logs join as sets whatever the order, a clash leaves both values standing, steps are
 * taken back and put back by the hundred, no clock is asked; and the envelope takes what it wrote, brings an older body
 * up to date, refuses a newer one and everything broken in words.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import {
  checkSum,
  ENVELOPE_TROUBLE_CODES,
  joined,
  keptEvent,
  logOf,
  looksLikeEnvelope,
  nextCounter,
  ordered,
  readAs,
  readEnvelope,
  redoing,
  settingOver,
  stepsLeft,
  sumOf,
  undoing,
  wordEnvelopeTrouble,
  writeEnvelope,
  type EnvelopeKind,
  type EnvelopeTrouble,
  type FieldValue,
  type KeptEvent,
  type Log,
  type Setting,
  type Turning,
} from '../../shared/index.ts';
import { property } from '../setup/series.ts';

const EMPTY = logOf([]);
const DEVICES = ['dev0', 'dev1', 'dev2'] as const;
const FIELDS = ['a', 'b', 'part/1/length'] as const;

/** A log with one more event on top of all it knows; the id is as unique as device and counter are. */
function grown(log: Log, device: string, what: Setting | Turning, at_ms = 0): Log {
  const counter = nextCounter(log);
  return joined(log, logOf([{ id: `${device}-${counter}`, device, counter, at_ms, what }]));
}
const set = (log: Log, device: string, fields: Record<string, FieldValue>, isTyped = false): Log =>
  grown(log, device, settingOver(log, fields, isTyped));
const undo = (log: Log, device: string): Log => {
  const what = undoing(log, device);
  return what ? grown(log, device, what) : log;
};
const redo = (log: Log, device: string): Log => {
  const what = redoing(log, device);
  return what ? grown(log, device, what) : log;
};
const fieldsOf = (log: Log): Record<string, FieldValue> =>
  Object.fromEntries([...sumOf(log).fields].filter(([, value]) => value !== null));

/** What hands do to one thing on three devices that meet now and then. */
type Deed =
  | {
      readonly do: 'set';
      readonly who: number;
      readonly field: number;
      readonly value: FieldValue;
      readonly typed: boolean;
    }
  | { readonly do: 'undo'; readonly who: number }
  | { readonly do: 'redo'; readonly who: number }
  | { readonly do: 'meet'; readonly who: number; readonly other: number };
const who = fc.nat(2);
const deed: fc.Arbitrary<Deed> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({
      do: fc.constant('set' as const),
      who,
      field: fc.nat(2),
      value: fc.oneof(fc.nat(3), fc.constant(null), fc.constantFrom('17,2', '17,8')),
      typed: fc.boolean(),
    }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('undo' as const), who }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('redo' as const), who }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('meet' as const), who, other: who }) },
);
const deeds = fc.array(deed, { maxLength: 40 });

function played(list: readonly Deed[]): readonly [Log, Log, Log] {
  const logs: [Log, Log, Log] = [EMPTY, EMPTY, EMPTY];
  for (const one of list) {
    const log = logs[one.who]!;
    const device = DEVICES[one.who]!;
    if (one.do === 'set') logs[one.who] = set(log, device, { [FIELDS[one.field]!]: one.value }, one.typed);
    else if (one.do === 'undo') logs[one.who] = undo(log, device);
    else if (one.do === 'redo') logs[one.who] = redo(log, device);
    else logs[one.who] = joined(log, logs[one.other]!);
  }
  return logs;
}

/** The obvious slow answer: a value stands if its event is in force and none in force leads to it over what it replaced. */
function standing(log: Log, field: string): readonly FieldValue[] {
  const events = ordered(log);
  const isIn = (id: string): boolean =>
    events.findLast(({ what }) => what.do !== 'set' && what.of.includes(id))?.what.do !== 'undo';
  const sets = events.flatMap((event) =>
    event.what.do === 'set' && Object.hasOwn(event.what.fields, field) ? [{ ...event, what: event.what }] : [],
  );
  const below = (id: string): readonly string[] =>
    (sets.find((event) => event.id === id)?.what.over[field] ?? []).flatMap((lower) => [lower, ...below(lower)]);
  const covered = new Set(sets.filter(({ id }) => isIn(id)).flatMap(({ id }) => below(id)));
  return [
    ...new Set(
      sets.filter(({ id }) => isIn(id) && !covered.has(id)).map(({ what }) => JSON.stringify(what.fields[field])),
    ),
  ].map((text) => JSON.parse(text) as FieldValue);
}

describe('logs', () => {
  test('join alike in any order, any grouping and any number of times', () => {
    fc.assert(
      fc.property(deeds, (list) => {
        const [a, b, c] = played(list);
        const texts = (log: Log): string => JSON.stringify(ordered(log));
        expect(texts(joined(a, b))).toBe(texts(joined(b, a)));
        expect(texts(joined(joined(a, b), c))).toBe(texts(joined(a, joined(b, c))));
        expect(texts(joined(a, a))).toBe(texts(a));
        expect(texts(joined(a, EMPTY))).toBe(texts(a));
        expect(sumOf(joined(joined(c, b), a))).toEqual(sumOf(joined(a, joined(b, c))));
      }),
      property(161, 150),
    );
  });

  test('join alike also where an id was given twice', () => {
    const event = (value: number): KeptEvent => ({
      id: 'same',
      device: 'dev0',
      counter: 1,
      at_ms: 0,
      what: { do: 'set', fields: { a: value }, over: {} },
    });
    const [one, two, three] = [1, 2, 3].map((value) => logOf([event(value)])) as [Log, Log, Log];
    expect(joined(one, two)).toEqual(joined(two, one));
    expect(joined(joined(three, one), two)).toEqual(joined(three, joined(one, two)));
  });

  test('show in each field what the slow answer lets stand, and a clash only of devices that had not met', () => {
    fc.assert(
      fc.property(deeds, (list) => {
        const [a, b, c] = played(list);
        for (const log of [a, joined(a, b), joined(joined(a, b), c)]) {
          const { fields, clashes } = sumOf(log);
          for (const field of FIELDS) {
            const stand = standing(log, field);
            const shown = clashes.get(field) ?? (fields.has(field) ? [fields.get(field)!] : []);
            expect([...shown].map((value) => JSON.stringify(value)).sort()).toEqual(
              stand.map((value) => JSON.stringify(value)).sort(),
            );
          }
        }
        const alone = played(list.filter((one) => one.do !== 'meet' && one.who === 0))[0];
        expect(sumOf(alone).clashes.size).toBe(0);
      }),
      property(162, 150),
    );
  });

  test('of two devices that had not met show both values, and setting it anew settles it', () => {
    const begun = set(EMPTY, 'dev0', { length: '5' });
    const both = joined(set(begun, 'dev0', { length: '17,2' }), set(begun, 'dev1', { length: '17,8' }));
    expect(sumOf(both).clashes.get('length')).toEqual(['17,2', '17,8']);
    expect(sumOf(set(both, 'dev1', { length: '17,2' })).clashes.size).toBe(0);
    const gone = joined(set(begun, 'dev0', { length: '17,2' }), set(begun, 'dev1', { length: null }));
    expect(sumOf(gone).fields.get('length')).toBe('17,2');
    expect(sumOf(gone).clashes.get('length')).toEqual([null, '17,2']);
    const same = joined(set(begun, 'dev0', { length: '6' }), set(begun, 'dev1', { length: '6' }));
    expect(sumOf(same).clashes.size).toBe(0);
  });

  test('take back 300 steps one by one and put all of them back', () => {
    const states: Record<string, FieldValue>[] = [{}];
    let log = EMPTY;
    for (let k = 1; k <= 300; k++) {
      log = set(log, 'dev0', { [`f${k % 7}`]: k });
      states.push(fieldsOf(log));
    }
    expect(stepsLeft(log, 'dev0')).toEqual({ undo: 300, redo: 0 });
    for (let k = 299; k >= 0; k--) {
      log = undo(log, 'dev0');
      expect(fieldsOf(log)).toEqual(states[k]);
    }
    expect(undoing(log, 'dev0')).toBeUndefined();
    for (let k = 1; k <= 300; k++) {
      log = redo(log, 'dev0');
      expect(fieldsOf(log)).toEqual(states[k]);
    }
    expect(redoing(log, 'dev0')).toBeUndefined();
    expect(stepsLeft(undo(log, 'dev0'), 'dev0')).toEqual({ undo: 299, redo: 1 });
    expect(stepsLeft(set(undo(log, 'dev0'), 'dev0', { f1: 0 }), 'dev0')).toEqual({ undo: 300, redo: 0 });
  });

  test('take back what one device did, and leave what another did', () => {
    let log = set(EMPTY, 'dev0', { a: 1 });
    log = set(log, 'dev1', { b: 2 });
    log = undo(log, 'dev0');
    expect(fieldsOf(log)).toEqual({ b: 2 });
    expect(fieldsOf(undo(log, 'dev0'))).toEqual({ b: 2 });
  });

  test('take a row of typed keys back at once, and not further than its field', () => {
    let log = set(EMPTY, 'dev0', { bore: '1' }, true);
    for (const text of ['15', '15,', '15,2']) log = set(log, 'dev0', { bore: text }, true);
    log = set(log, 'dev0', { length: '5' }, true);
    log = set(log, 'dev0', { length: '5,5' }, true);
    expect(stepsLeft(log, 'dev0').undo).toBe(2);
    log = undo(log, 'dev0');
    expect(fieldsOf(log)).toEqual({ bore: '15,2' });
    expect(fieldsOf(undo(log, 'dev0'))).toEqual({});
  });

  test('ask no clock: an hour put back changes nothing', () => {
    const first = set(EMPTY, 'dev0', { a: 'first' });
    const what = settingOver(first, { a: 'second' });
    expect(sumOf(grown(first, 'dev0', what, 5)).fields.get('a')).toBe('second');
    expect(sumOf(grown(first, 'dev0', what, 9e12)).fields.get('a')).toBe('second');
  });

  test('keep fields in the order they were first set in', () => {
    let log = set(EMPTY, 'dev0', { z: 1 });
    log = set(log, 'dev0', { a: 1 });
    log = set(log, 'dev0', { z: 2 });
    expect([...sumOf(log).fields.keys()]).toEqual(['z', 'a']);
  });
});

describe('a row of the store', () => {
  const event = ordered(set(EMPTY, 'dev0', { a: { x: 1, y: [true, null, 'ß'] } }))[0]!;

  test('is checked by a sum that does not mind the order of keys and minds every bit', () => {
    expect(checkSum({ a: 1, b: 2 })).toBe(checkSum({ b: 2, a: 1 }));
    const text = JSON.stringify(event);
    const sum = checkSum(event);
    for (let at = 0; at < text.length; at++)
      for (const bit of [1, 2, 4, 64]) {
        const turned = text.slice(0, at) + String.fromCharCode(text.charCodeAt(at) ^ bit) + text.slice(at + 1);
        let data: unknown;
        try {
          data = JSON.parse(turned);
        } catch {
          continue;
        }
        expect(checkSum(data), turned).not.toBe(sum);
      }
  });

  test.each([
    ['another id', { ...event, id: 'Not An Id' }],
    ['no counter', { ...event, counter: 0 }],
    ['a name that begins with a line', { ...event, what: { do: 'set', fields: { _a: 1 }, over: {} } }],
    ['a key nobody knows', { ...event, more: 1 }],
    ['another deed', { ...event, what: { do: 'burn', of: ['x'] } }],
  ])('with %s is none', (_what, data) => {
    expect(keptEvent.safeParse(data).success).toBe(false);
    expect(keptEvent.safeParse(event).success).toBe(true);
  });
});

describe('an envelope', () => {
  const body = { things: [{ name: 'tray/skarn-140', events: [...ordered(set(EMPTY, 'dev0', { a: 'x' }))] }] };
  const text = writeEnvelope('kept', '0.1.0', body);
  const troubleOf = (written: string): EnvelopeTrouble | undefined => {
    const reading = readEnvelope(written, 'kept');
    return reading.ok ? undefined : reading.trouble;
  };
  const withKey = (key: string, value: unknown): string => JSON.stringify({ ...JSON.parse(text), [key]: value });

  test('gives back what was put in', () => {
    expect(readEnvelope(text, 'kept')).toEqual({ ok: true, app: '0.1.0', body });
    expect(readEnvelope(`\ufeff${text}`, 'kept').ok).toBe(true);
    expect(looksLikeEnvelope(text)).toBe(true);
    expect(looksLikeEnvelope('{"format": 1, "kind": "x"}')).toBe(false);
  });

  const BROKEN: readonly (readonly [EnvelopeTrouble['code'], string])[] = [
    ['too-large', ' '.repeat(50_000_001)],
    ['not-json', text.slice(0, -20)],
    ['no-envelope', '[]'],
    ['no-envelope', withKey('more', 1)],
    ['unknown-kind', withKey('kind', 'shopping\u202e')],
    ['newer', withKey('schema', 2)],
    ['bad-body', withKey('body', { things: [{ name: '../x', events: [] }] })],
  ];
  test.each(BROKEN)('that is %s is refused in words', (code, written) => {
    const trouble = troubleOf(written)!;
    expect(trouble.code).toBe(code);
    const words = wordEnvelopeTrouble(trouble);
    expect(words).not.toMatch(/undefined|NaN|\u202e/);
    expect(words).toMatch(/^[A-Z].*\.$/s);
    for (const sentence of words.split(/(?<=\.) /)) expect(sentence.split(' ').length).toBeLessThanOrEqual(30);
  });

  const third: EnvelopeKind<{ length_mm: number }> = {
    schema: 3,
    form: z.strictObject({ length_mm: z.number() }),
    migrations: {
      2: (old) => ({ length_mm: (old as { length_in: number }).length_in * 25.4 }),
    },
  };
  const asOf = (schema: number, old: unknown): string =>
    JSON.stringify({ kind: 'pin', schema, app: '0.0.1', body: old });

  test('of an older version is brought up to date step by step, and checked then', () => {
    const first: typeof third = {
      ...third,
      migrations: { ...third.migrations, 1: (old) => ({ length_in: (old as { inches: number }).inches }) },
    };
    expect(readAs(asOf(1, { inches: 2 }), 'pin', first)).toMatchObject({ ok: true, body: { length_mm: 50.8 } });
    expect(readAs(asOf(2, { length_in: 1 }), 'pin', first)).toMatchObject({ ok: true, body: { length_mm: 25.4 } });
    expect(readAs(asOf(1, { inches: 'two' }), 'pin', first)).toMatchObject({
      ok: false,
      trouble: { code: 'bad-body' },
    });
    expect(readAs(asOf(1, null), 'pin', first)).toMatchObject({ ok: false, trouble: { code: 'bad-body' } });
  });

  test('that no step leads up from is refused', () => {
    const reading = readAs(asOf(1, { inches: 2 }), 'pin', third);
    expect(reading).toMatchObject({ ok: false, trouble: { code: 'too-old' } });
  });

  test('has a broken file here for every trouble', () => {
    const tried = new Set<string>([...BROKEN.map(([code]) => code), 'too-old']);
    expect(ENVELOPE_TROUBLE_CODES.filter((code) => !tried.has(code))).toEqual([]);
  });
});
