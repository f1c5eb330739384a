/**
 * What the practice page keeps of a person, and the summary it gives the trainer.
 */
import { describe, expect, test } from 'vitest';
import { logOf, settingOver, sumOf, type KeptEvent } from '../../shared/index.ts';
import {
  isDue,
  keptDone,
  levelOf,
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
  const events = all.map(
    (fields, k): KeptEvent => ({
      id: `device-${k + 1}`,
      device: 'device',
      counter: k + 1,
      at_ms: AT + k,
      what: settingOver(new Map(), fields),
    }),
  );
  return progressOf(sumOf(logOf(events)));
}

describe('progress', () => {
  test('is what was done, with a card for each drill', () => {
    const once = kept(keptDone(NONE, run, 'a'));
    expect(once.done).toEqual([run]);
    expect(isDue(once, run.drill, AT)).toBe(false);
    expect(isDue(once, 'sight/skarn-140/turn', AT)).toBe(true);
    expect(seedOf(once, run.drill)).toBe(2);
    expect([levelOf(NONE, run.drill), levelOf(once, run.drill)]).toEqual([1, 2]);
    const card = once.cards.get(run.drill)!;
    expect(card.due_ms).toBeGreaterThan(AT);
    expect(isDue(once, run.drill, card.due_ms)).toBe(true);
  });

  test('passes over what no drill wrote', () => {
    const odd = kept({ 'run/1': 'x', 'run/2': { drill: 1 }, 'card/x': { due_ms: 'soon' }, other: 1 });
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
