/**
 * What the program says of the demo models, sentence by sentence: short enough to be read with a tool in the hand, and
 * in words of the workshop.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { demoModels } from '../bench/models.ts';
import { LONG } from '../setup/series.ts';
import { distinct, sentencesOf, wordsOf } from '../setup/sentences.ts';

/** Words to a sentence at the most. */
const LONGEST = 30;

const { words: BANNED } = JSON.parse(
  readFileSync(new URL('../fixtures/banned-words.json', import.meta.url), 'utf8'),
) as { readonly words: Readonly<Record<string, string>> };

/** Sentences that may be longer or hold a banned word for now, by how they begin or what they hold, and why. */
const ALLOWED: readonly (readonly [RegExp, string])[] = [[/^The maker gives “/, 'the maker’s order names every axle']];

const MODELS = demoModels();
const said = MODELS.map((model) => ({
  name: model.id,
  sentences: [...sentencesOf(model, LONG ? 1 : 8)].map(({ text }) => text),
}));
const isAllowed = (text: string): boolean => ALLOWED.some(([pattern]) => pattern.test(text));

describe.each(said)('of $name', ({ sentences }) => {
  const judged = [...new Set(sentences)].filter((text) => !isAllowed(text));

  test('no sentence is longer than a breath', () => {
    expect(judged.length).toBeGreaterThan(100);
    expect(judged.filter((text) => wordsOf(text) > LONGEST)).toEqual([]);
  });

  test('no sentence holds a word that is not the workshop’s', () => {
    for (const [pattern, why] of Object.entries(BANNED))
      expect(
        judged.filter((text) => new RegExp(pattern, 'i').test(text)),
        why,
      ).toEqual([]);
  });
});

test('every exception is still needed', () => {
  const isBad = (text: string): boolean =>
    wordsOf(text) > LONGEST || Object.keys(BANNED).some((pattern) => new RegExp(pattern, 'i').test(text));
  const bad = said.flatMap(({ sentences }) => sentences).filter(isBad);
  expect(ALLOWED.filter(([pattern]) => !bad.some((text) => pattern.test(text)))).toEqual([]);
});

test('a banned word is found, and says why it is one', () => {
  const examples = [
    'It slipped.',
    'The legal orders.',
    'Within its doubt.',
    'The room of the key.',
    'The pinned order.',
    'Close the caliper on it.',
  ];
  for (const example of examples)
    expect(
      Object.keys(BANNED).some((pattern) => new RegExp(pattern, 'i').test(example)),
      example,
    ).toBe(true);
  expect(Object.keys(BANNED).some((pattern) => new RegExp(pattern, 'i').test('Unbolt the brake caliper.'))).toBe(false);
  for (const why of Object.values(BANNED)) expect(why).toMatch(/\w+ \w+/);
});

test('words are counted and sentences parted as a reader does', () => {
  expect(wordsOf('Bearing 15 × 28 × 7 (drive) carries 5.4 kN.')).toBe(8);
  const [first] = MODELS;
  const parted = [...sentencesOf({ ...first!, variants: [] })].map(({ text }) => text);
  expect(parted).toContain('Wear eye protection and gloves.');
  expect(parted.every((text) => text.trim() === text && text !== '')).toBe(true);
});

test('what differs only in numbers and names is listed once', () => {
  const listed = distinct(MODELS.slice(0, 1)).map(({ text }) => text);
  expect(listed.filter((text) => /^Tighten to /.test(text))).toHaveLength(1);
  expect(new Set(listed).size).toBe(listed.length);
});
