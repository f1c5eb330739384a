/** The one rule for look-alikes: its limits, what it takes for another, and that every view gives the same answer. */
import { describe, expect, test } from 'vitest';
import {
  isLookAlike,
  listed,
  listMistakes,
  LOOK_ALIKE_LIMITS,
  lookAlikes,
  nearestLookAlike,
  PART_KINDS,
  kindOf,
  sizeDifferences,
  mistakeItems,
  wordDifference,
  type Part,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';

const ring = (outside_mm: number, bore_mm: number, length_mm: number): Part => ({
  kind: 'spacer',
  name: 'Spacer',
  outside_mm,
  bore_mm,
  length_mm,
  material: 'steel',
});
const nut = (size_mm: number, outside_mm = 20, length_mm = 8, pitch_mm = 1): Part => ({
  kind: 'nut',
  name: 'Nut',
  outside_mm,
  length_mm,
  thread: { size_mm, pitch_mm, hand: 'right', length_mm: 5 },
  material: 'steel',
});
const bearing = (designation: string): Part => ({ kind: 'bearing', name: designation, designation });

describe('look-alikes', () => {
  test.each([
    ['the same bore, another outside and length', ring(20, 15, 4), ring(26, 15, 9), true],
    ['bores 0.21 mm apart', ring(20, 15, 4), ring(26, 15.21, 9), true],
    ['bores 0.29 mm apart', ring(20, 15, 4), ring(26, 15.29, 9), false],
    ['the same outside and length, another bore', ring(20, 12, 4), ring(20, 15, 4), true],
    ['outsides 0.21 mm apart, another bore', ring(20, 12, 4), ring(20.21, 15, 4), true],
    ['outsides 0.29 mm apart, another bore', ring(20, 12, 4), ring(20.29, 15, 4), false],
    ['lengths 0.21 mm apart, another bore', ring(20, 12, 4), ring(20, 15, 4.21), true],
    ['lengths 0.29 mm apart, another bore', ring(20, 12, 4), ring(20, 15, 4.29), false],
    ['itself under another name', ring(20, 15, 4), { ...ring(20, 15, 4), name: 'Ring', count: 3 }, false],
    ['another material alone', ring(20, 15, 4), { ...ring(20, 15, 4), material: 'titanium-6al4v' } as Part, true],
    ['nuts of one thread size, another pitch', nut(10), nut(10, 24, 9, 1.25), true],
    ['nuts of another thread, outside and length', nut(10), nut(12, 24, 9), false],
    ['bearings by designation, the same bore', bearing('61902-2RS'), bearing('6002-2RS'), true],
    ['bearings by designation, another bore', bearing('61902-2RS'), bearing('61903-2RS'), false],
    ['a ring and a nut of one size', ring(20, 10, 8), nut(10), false],
  ] as const)('%s', (_what, a, b, expected) => {
    expect(isLookAlike(a, b)).toBe(expected);
    expect(isLookAlike(b, a)).toBe(expected);
  });

  test('limits stand where they are: a fifth either way is told', () => {
    expect(LOOK_ALIKE_LIMITS.sameToHand_mm.value).toBe(0.25);
    const differs = (by_mm: number): boolean => sizeDifferences(ring(20, 15, 4), ring(20, 15, 4 + by_mm)).length > 0;
    expect([differs(0.009), differs(0.011)]).toEqual([false, true]);
  });

  test('differences are words by the kind, the widest first', () => {
    const found = sizeDifferences(ring(20, 15, 4), ring(23, 15, 6));
    expect(found.map(({ size }) => size)).toEqual(['outside', 'length']);
    expect(wordDifference({ name: 'length_mm', by: -2 })).toBe('2 mm longer');
    expect(wordDifference({ name: 'length_mm', by: -2 }, 'bearing')).toBe('2 mm wider');
  });

  test('no kind takes itself for a part of another family', () => {
    for (const one of PART_KINDS)
      for (const other of PART_KINDS) {
        const [a, b] = [kindOf({ kind: one }), kindOf({ kind: other })];
        if (a.family !== b.family) expect(isLookAlike(a.sample, b.sample), `${one} ${other}`).toBe(false);
      }
  });
});

describe.each(demoModels().map((model) => [model.id, model] as const))('%s', (_id, model) => {
  const ids = Object.keys(model.parts);
  const pairs = ids.flatMap((a) => lookAlikes(model.parts, a).map(({ id }) => `${a} ${id}`));

  test('the part card, the table of mistakes and the tray give one answer', () => {
    for (const pair of pairs) expect(pairs).toContain(pair.split(' ').reverse().join(' '));
    const swaps = model.pivots
      .flatMap(({ id }) => listMistakes(model, id))
      .filter(({ kind }) => kind === 'swapped' || kind === 'other-part');
    for (const mistake of swaps) {
      const { part, now } = mistake.slots[0]!;
      if (Object.hasOwn(model.parts, now!.part))
        expect(pairs, `${mistake.id} ${mistakeItems(mistake).join(' ')}`).toContain(`${part} ${now!.part}`);
    }
    const list = listed(model);
    for (const own of list) {
      const nearest = nearestLookAlike(own, list, 0.05);
      expect(nearest !== undefined).toBe(lookAlikes(model.parts, own.id).length > 0);
      if (nearest) expect(pairs).toContain(`${own.id} ${nearest.other.id}`);
    }
  });
});
