/**
 * What the practice page keeps of a person, and the summary it gives the trainer.
 */
import { describe, expect, test } from 'vitest';
import {
  keptEvent,
  keptProgress,
  logOf,
  readEnvelope,
  settingOver,
  sumOf,
  thingName,
  writeEnvelope,
  type KeptEvent,
  type Sum,
} from '../../shared/index.ts';
import {
  isDue,
  keptDone,
  levelOf,
  practised,
  progressOf,
  readInitials,
  seedOf,
  summaryOf,
  type Progress,
} from '../../src/practice/progress.ts';

const NONE: Progress = { cards: new Map(), done: [] };
const AT = Date.parse('2026-03-02T09:30:00Z');
const run = { drill: 'lay/skarn-140/main', at_ms: AT, grade: 'good', tries: 1, minutes: 2.25 } as const;

/** The fields as the store would give them back. */
function kept(...all: readonly Parameters<typeof settingOver>[1][]): Progress {
  return progressOf(summed(...all));
}

function summed(...all: readonly Parameters<typeof settingOver>[1][]): Sum {
  const events = all.map(
    (fields, k): KeptEvent => ({
      id: `device-${k + 1}`,
      device: 'device',
      counter: k + 1,
      at_ms: AT + k,
      what: settingOver(new Map(), fields),
    }),
  );
  return sumOf(logOf(events));
}

describe('progress', () => {
  test('is what was done, with a card for each drill', () => {
    const once = kept(keptDone(run, 'a'));
    expect(once.done).toEqual([run]);
    expect(isDue(once, run.drill, AT)).toBe(false);
    expect(isDue(once, 'sight/skarn-140/turn', AT)).toBe(true);
    expect(seedOf(once, run.drill)).toBe(2);
    expect([levelOf(NONE, run.drill), levelOf(once, run.drill)]).toEqual([1, 2]);
    const card = once.cards.get(run.drill)!;
    expect(card.due_ms).toBeGreaterThan(AT);
    expect(isDue(once, run.drill, card.due_ms)).toBe(true);
  });

  test('is a file of its own kind, taken in as what it was; from two tablets it comes together without a clash', () => {
    const later = { ...run, at_ms: AT + 1000, grade: 'hard' } as const;
    const people = practised([{ initials: 'ab', sum: summed(keptDone(run, 'a')) }]);
    const other = practised([{ initials: 'ab', sum: summed(keptDone(run, 'a'), keptDone(later, 'b')) }]);
    const reading = readEnvelope(writeEnvelope('progress', 'Axlewright 0', other), 'progress');
    expect(reading).toEqual({ ok: true, app: 'Axlewright 0', body: other });
    const [thing] = keptProgress(people).things;
    expect(keptProgress(people)).toEqual(keptProgress(people));
    expect(thingName.safeParse(thing!.name).success).toBe(true);
    const both = [...thing!.events, ...keptProgress(other).things[0]!.events];
    expect(both.every((event) => keptEvent.safeParse(event).success)).toBe(true);
    const sum = sumOf(logOf(both));
    expect(sum.clashes.size).toBe(0);
    expect(progressOf(sum)).toEqual(kept(keptDone(run, 'a'), keptDone(later, 'b')));
    const wrong = { people: { ab: { runs: { '1-a': { ...run, drill: '../../x' } } } } };
    expect(readEnvelope(writeEnvelope('progress', 'Axlewright 0', wrong), 'progress').ok).toBe(false);
  });

  test('passes over what no drill wrote', () => {
    const odd = kept({ 'run/1-a': 'x', 'run/2-b': { drill: 1 }, 'run/x': { ...run }, other: 1 });
    expect(odd).toEqual(NONE);
  });

  test('initials are one to four letters or digits', () => {
    expect([' AB ', 'q', 'x1y2', 'abcde', 'a b', '', '=1'].map(readInitials)).toEqual([
      'ab',
      'q',
      'x1y2',
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
  });

  test('the summary is a table, a line for each time, and no formula', () => {
    const odd = { ...run, drill: 'lay/=1+1/a,b' };
    expect(summaryOf([{ initials: 'ab', done: [run, odd] }]).split('\r\n')).toEqual([
      'initials,date,drill,model,of,grade,tries,minutes',
      'AB,2026-03-02 09:30,lay,skarn-140,main,good,1,2.3',
      "AB,2026-03-02 09:30,lay,'=1+1,a b,good,1,2.3",
      '',
    ]);
  });
});
