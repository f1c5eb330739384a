/**
 * Numbers as they are written, and the small words of a sentence.
 *
 * Cause of the first fixture: a formatter cut the zeros of whole tens as if they stood behind a point, so that the tray
 * said a part was the likeliest with '5 %' where it meant 50 %, and an alternative less likely 'by 5 to 1' for 50.
 */
import { describe, expect, test } from 'vitest';
import { wordNext, wordOdds, type NextReading, type Tray, type TrayRow } from '../../shared/index.ts';
import { contentKey, figure, otherSide } from '../../shared/numbers/figures.ts';
import { capital, list, lower, percent } from '../../shared/words/figures.ts';

describe('a number', () => {
  test.each([
    [50, 0, '50'],
    [100, 0, '100'],
    [50, 2, '50'],
    [1200, 1, '1200'],
    [0.5, 2, '0.5'],
    [1.005, 1, '1'],
    [10.1, 2, '10.1'],
    [-0.001, 2, '0'],
    [-10, 0, '-10'],
    [0, 2, '0'],
  ])('%s with %s digits at the most is %s', (value, digits, text) => expect(figure(value, digits)).toBe(text));

  test('keeps what stands before the point, whatever it is', () => {
    for (let whole = -300; whole <= 300; whole++)
      for (const digits of [0, 1, 2, 3]) expect(Number(figure(whole, digits))).toBe(whole);
  });
});

test('a share in per cent', () => {
  expect([0.5, 0.1, 1, 0].map((share) => percent(share))).toEqual(['50 %', '10 %', '100 %', '0 %']);
  expect(percent(0.995, 1)).toBe('99.5 %');
});

test('the tray says 50 % and 50 to 1 where it means them', () => {
  const row = { reading: {}, placements: [] } as unknown as TrayRow;
  const tray = { rows: [row], candidates: new Map() } as unknown as Tray;
  const next: NextReading = {
    name: 'length_mm',
    row: 0,
    between: ['a', 'b'],
    sureNow: 0.5,
    sureAfter: 0.9,
    again: false,
    gain_bits: 1,
  };
  expect(wordNext(next, tray).text).toContain('the likeliest is 50 % now, and should be 90 % then');
  expect(wordOdds(50)).toBe('less likely by 50 to 1');
});

describe('small words', () => {
  test('a list ends in and, and is parted by semicolons where a name has a comma', () => {
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map(list)).toEqual(['', 'a', 'a and b', 'a, b and c']);
    expect(list(['nut, 13 mm', 'axle', 'cap'])).toBe('nut, 13 mm; axle; and cap');
    expect(list(['nut, 13 mm', 'axle'])).toBe('nut, 13 mm and axle');
  });

  test('first letters', () => {
    expect(['Tapered spacer', 'M12 nut', undefined].map((name) => lower(name))).toEqual([
      'tapered spacer',
      'M12 nut',
      '',
    ]);
    expect(['rocker', '“rocker” stays'].map(capital)).toEqual(['Rocker', '“Rocker” stays']);
  });

  test('the side across', () => {
    expect([otherSide('drive'), otherSide('non-drive')]).toEqual(['non-drive', 'drive']);
  });
});

test('a content key tells every one of many like contents from the others', () => {
  const keys = new Set<string>();
  for (let k = 0; k < 20_000; k++) keys.add(contentKey({ torque_Nm: k, side: 'drive' }));
  for (let k = 0; k < 200; k++) keys.add(contentKey('a'.repeat(k)));
  expect(keys.size).toBe(20_200);
  expect(contentKey({ a: [1, 2] })).toBe(contentKey(structuredClone({ a: [1, 2] })));
  expect(contentKey({ a: 1, b: undefined })).toBe(contentKey({ a: 1 }));
});
