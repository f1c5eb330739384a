/**
 * The search: every pivot, part and word of every demo is found by its own name, by a beginning of it and with a letter
 * wrong; sizes however they are typed; and every entry leads somewhere that is there.
 */
import { describe, expect, test } from 'vitest';
import { nameOf, stripOf, TRADE_WORDS } from '../../shared/index.ts';
import { PLANNING, planCame } from '../../src/build/planned.ts';
import { entriesFor, find, wordsIn, type Entry } from '../../src/menu/find.ts';
import { demoModels } from '../bench/models.ts';
import { wordsOf } from '../setup/sentences.ts';
import { analysed, plannedOnce } from '../setup/worked.ts';

const analyses = demoModels().map((model) => analysed(model));
const skarn = analyses.find(({ model }) => model.id === 'skarn-140')!;
const plan = plannedOnce(skarn);
const entries = entriesFor(skarn, planCame({ plan, strip: stripOf(plan) }));
const best = (text: string): Entry | undefined => find(entries, text)[0]?.list[0];
const names = (text: string): string[] => find(entries, text).flatMap(({ list }) => list.map(({ name }) => name));

describe.each(analyses.map((analysis) => [analysis.model.id, analysis] as const))('of %s', (_, analysis) => {
  const own = entriesFor(analysis, PLANNING);

  test('every pivot and every part is found by its own name, first of all', () => {
    for (const pivot of analysis.pivots) {
      expect(find(own, pivot.name)[0]!.list.map(({ going }) => going)).toContainEqual({ to: 'pivot', pivot: pivot.id });
      for (const { id } of pivot.stacks.flatMap(({ items }) => items)) {
        const asked = nameOf(id, analysis);
        const parts = find(own, `${asked} ${pivot.name}`).find(({ group }) => group === 'part')!;
        expect(
          parts.list.slice(0, 2).map(({ name }) => name.toLowerCase()),
          asked,
        ).toContain(asked.toLowerCase());
      }
    }
  });

  test('no two entries share an id, and each name has words to be found by', () => {
    expect(new Set(own.map(({ id }) => id)).size).toBe(own.length);
    for (const { name, words } of own) expect(words.length, name).toBeGreaterThan(0);
  });
});

describe('what is typed', () => {
  test.each([
    ['rocker to frame', 'Rocker to frame'],
    ['rokcer to frame', 'Rocker to frame'],
    ['ROCK fram', 'Rocker to frame'],
    ['6,5 taper', 'Tapered spacer, 6.5 mm'],
    ['15x32x9 non', 'Bearing 15 × 32 × 9 (non-drive)'],
    ['bearing 15 × 32 × 9 drive', 'Bearing 15 × 32 × 9 (drive)'],
    ['6 mm hex', '6 mm hex key'],
    ['6mm hex', '6 mm hex key'],
    ['bearng pres', 'Bearing press with a driver for the outer ring'],
    ['threadloker', 'Threadlocker'],
    ['before you start', 'Before you start'],
    ['swingarm boss non', 'Swingarm boss (non-drive)'],
  ])('%s means %s', (text, name) => {
    expect(best(text)?.name).toBe(name);
  });

  test('a number is never a letter wrong', () => {
    expect(names('6.5 taper')).not.toContain('Tapered spacer, 9 mm');
    expect(names('16x32')).toEqual([]);
  });

  test('nothing but signs asks for nothing: the pivots and the places stand there', () => {
    for (const text of ['', '  ', '—', '"'])
      expect(find(entries, text).map(({ group }) => group)).toEqual(['pivot', 'place']);
    expect(find(entries, '')[0]!.list).toHaveLength(skarn.pivots.length);
  });

  test('what is nowhere finds nothing', () => {
    expect(find(entries, 'qqqqqq')).toEqual([]);
    expect(find(entries, 'rocker qqqqqq')).toEqual([]);
  });

  test('a long list is cut and counted', () => {
    const parts = find(entries, 'bearing').find(({ group }) => group === 'part')!;
    const all = skarn.pivots.flatMap(({ stacks }) => stacks.flatMap(({ items }) => items)).length;
    expect(parts.more).toBeGreaterThan(0);
    expect(parts.list.length + parts.more).toBeLessThanOrEqual(all);
  });
});

test('words are compared without accents, case and signs', () => {
  expect(wordsIn('Bearing 15×32×9, (Ärm)')).toEqual(['bearing', '15', '32', '9', 'arm']);
  expect(wordsIn('6,5mm')).toEqual(['6.5', 'mm']);
  expect(wordsIn('M10 × 1')).toEqual(['m10', '1']);
});

test('words of the trade are a sentence or two, each said once', () => {
  expect(TRADE_WORDS.length).toBeGreaterThan(30);
  expect(new Set(TRADE_WORDS.map(({ word }) => word)).size).toBe(TRADE_WORDS.length);
  for (const { word, text } of TRADE_WORDS) {
    expect(text, word).toMatch(/^\p{Lu}[^…]*\.$/u);
    for (const sentence of text.split(/(?<=\.) /)) expect(wordsOf(sentence), sentence).toBeLessThanOrEqual(30);
    expect(
      find(entries, word)[0]!.list.map(({ name }) => name.toLowerCase()),
      word,
    ).toContain(word);
  }
});
