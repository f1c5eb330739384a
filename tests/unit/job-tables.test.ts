/**
 * What a job gives away: its calendar file, what the shop learns, and the sentences a voice says.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  calendar,
  dayOf,
  emptyJob,
  isEnough,
  learned,
  learnedCsv,
  spoken,
  wordLearned,
  wordMinutes,
  type Job,
} from '../../shared/index.ts';
import { property } from '../setup/series.ts';

const octets = (text: string): number => new TextEncoder().encode(text).length;

/** A calendar read back: folds undone, escapes undone, values by name. */
function readBack(file: string): readonly (readonly [string, string])[] {
  return file
    .replaceAll('\r\n ', '')
    .split('\r\n')
    .filter((line) => line !== '')
    .map((line) => {
      const at = line.indexOf(':');
      const value = line
        .slice(at + 1)
        .replace(/\\([\\;,nN])/g, (_, mark: string) => (mark.toLowerCase() === 'n' ? '\n' : mark));
      return [line.slice(0, at), value] as const;
    });
}

describe('a calendar file', () => {
  const entry = {
    uid: 'job-1-cures',
    at_ms: Date.UTC(2026, 11, 1, 22, 15),
    title: 'Ø 12 × 1; look, wait',
    text: 'a\nb\\c',
  };

  test('tells the moment by universal time, and what to do then', () => {
    const lines = readBack(calendar([entry], Date.UTC(2026, 10, 30, 23, 59, 58)));
    expect(lines).toContainEqual(['DTSTAMP', '20261130T235958Z']);
    expect(lines).toContainEqual(['DTSTART', '20261201T221500Z']);
    expect(lines).toContainEqual(['DTEND', '20261201T223000Z']);
    expect(lines).toContainEqual(['SUMMARY', entry.title]);
    expect(lines).toContainEqual(['DESCRIPTION', entry.text]);
    expect(lines.filter(([name]) => name === 'BEGIN').map(([, of]) => of)).toEqual(['VCALENDAR', 'VEVENT', 'VALARM']);
    expect(lines.filter(([name]) => name === 'END').map(([, of]) => of)).toEqual(['VALARM', 'VEVENT', 'VCALENDAR']);
  });

  test('is folded by octets and never inside a character, whatever is written', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), (text) => {
        const clean = text.replace(/[\r\n]/g, ' ');
        const file = calendar([{ ...entry, title: clean }], 0);
        for (const line of file.split('\r\n')) expect(octets(line)).toBeLessThanOrEqual(75);
        expect(readBack(file)).toContainEqual(['SUMMARY', clean]);
      }),
      property(20, 200),
    );
  });

  test('knows the day of any moment', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4_102_444_800_000 }), (at_ms) => {
        expect(dayOf(at_ms)).toBe(new Date(at_ms).toISOString().slice(0, 10));
      }),
      property(20, 200),
    );
  });
});

describe('what the shop learns', () => {
  const job = (k: number, more: Partial<Job>): Job => ({
    ...emptyJob({ model: 'skarn-140', key: 'k' }),
    reference: `W-${k}`,
    date: '2026-11-30',
    ...more,
  });
  const jobs = [
    job(1, {
      parts: {
        'main/bearing-left': { condition: ['rust', 'notchy'], renewed: '6902' },
        'rear-left/axle': { condition: ['good'] },
      },
      axles: { main: { reached_Nm: 13, set_Nm: 14 } },
    }),
    job(2, {
      parts: { 'main/bearing-left': { condition: ['good'] } },
      seats: { 'main/bearing-left': { condition: ['loose'] } },
      axles: { main: { reached_Nm: 14, set_Nm: 14 } },
    }),
    job(3, { parts: { 'main/bearing-left': { condition: ['good'] } } }),
  ];

  test('counts by axle how often it was bad, with what, and how torques stood against what was set', () => {
    expect(learned(jobs)).toEqual([
      {
        model: 'skarn-140',
        stackId: 'main',
        looked: 3,
        bad: 2,
        renewed: 1,
        found: expect.arrayContaining([
          { condition: 'rust', count: 1 },
          { condition: 'notchy', count: 1 },
          { condition: 'loose', count: 1 },
        ]),
        torques: 2,
        off_Nm: { mean: -0.5, least: -1, most: 0 },
      },
      { model: 'skarn-140', stackId: 'rear-left', looked: 1, bad: 0, renewed: 0, found: [], torques: 0 },
    ]);
    expect(wordLearned(learned(jobs)[0]!)).toMatch(
      /^bad in 2 of 3 jobs \(.*loose 1.*\); renewed in 1; torque −0\.5 N·m from set on average over 2$/,
    );
    expect([9, 10].map(isEnough)).toEqual([false, true]);
  });

  test('is a table of one line a finding, in which no text breaks a cell or becomes a formula', () => {
    const odd = job(4, { reference: '=1+1', frame: 'a "b", c', axles: { main: { reached_Nm: 13.5, set_Nm: 14 } } });
    const lines = learnedCsv([...jobs, odd]).split('\r\n');
    expect(lines[0]).toBe(
      'job,date,model,frame,axle,part,found,renewed,set_Nm,reached_Nm,wrench,length_mm,across_mm,other_way_mm',
    );
    expect(lines).toHaveLength(1 + 4 + 1 + 2 + 1 + 1);
    expect(lines).toContain('W-1,2026-11-30,skarn-140,,main,main/bearing-left,rust notchy,6902,,,,,,');
    expect(lines).toContain(`'=1+1,2026-11-30,skarn-140,"a ""b"", c",main,,,,14,13.5,,,,`);
    const sized = job(5, { seats: { 'main/bearing-left': { measured: { across_mm: 28.02, other_way_mm: 27.98 } } } });
    expect(learnedCsv([sized]).split('\r\n')[1]).toBe(
      'W-5,2026-11-30,skarn-140,,main,main/bearing-left seat,,,,,,,28.02,27.98',
    );
  });

  test('counts what was renewed, or brought to a decision, by its size alone', () => {
    const renewed = job(6, { parts: { 'main/spacer-left': { measured: { length_mm: 9.8 }, renewed: 'new' } } });
    const decided = job(7, {
      seats: { 'main/bearing-left': { measured: { across_mm: 28, other_way_mm: 27.9 } } },
      decisions: { 'main/bearing-left/seat/oval-seat': { tried: 1 } },
    });
    const seen = job(8, { parts: { 'main/spacer-left': { condition: ['good'] } } });
    expect(learned([renewed, decided, seen])).toEqual([
      expect.objectContaining({ stackId: 'main', looked: 3, bad: 2, renewed: 1 }),
    ]);
  });
});

describe('a sentence for the ear', () => {
  test.each([
    ['Tighten to 14 N·m', 'Tighten to 14 newton metres'],
    ['Half first: 1 N·m.', 'Half first: 1 newton metre.'],
    ['A bearing of 15 × 28 × 7 mm', 'A bearing of 15 by 28 by 7 millimetres'],
    [
      'Thread M12 × 1, Ø 15.2 mm ± 0.01 mm',
      'Thread M 12 by 1, diameter 15.2 millimetres plus or minus 0.01 millimetres',
    ],
    ['Turn through 22°, 4–6 mm', 'Turn through 22 degrees, 4 to 6 millimetres'],
    ['At least 3.2 kN clamps “main pivot”', 'At least 3.2 kilonewtons clamps main pivot'],
    ['It carries 900 N, 50 % of it', 'It carries 900 newtons, 50 per cent of it'],
    ['M6 bolts, 6 mm hex key', 'M 6 bolts, 6 millimetres hex key'],
    ['Let it set for 24 h', 'Let it set for 24 hours'],
  ])('%s', (written, said) => {
    expect(spoken(written)).toBe(said);
  });

  test('says minutes as an estimate', () => {
    expect([0, 3, 62, 120].map(wordMinutes)).toEqual(['nothing left', 'about 5 min', 'about 1 h', 'about 2 h']);
  });
});
