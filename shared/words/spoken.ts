/**
 * Words for the ear: a sentence as a voice should say it, units and marks in full.
 *
 * What the eye takes in at a glance a voice trips over: N·m, ×, Ø, ±, M10 and a range of figures. Nothing else of the
 * sentence changes.
 */

/** What a mark is called, and a unit after one and after any other number. */
const UNITS: readonly (readonly [pattern: string, one: string, many: string])[] = [
  ['N·m', 'newton metre', 'newton metres'],
  ['N/mm²', 'newton per square millimetre', 'newtons per square millimetre'],
  ['MPa', 'megapascal', 'megapascals'],
  ['kN', 'kilonewton', 'kilonewtons'],
  ['N', 'newton', 'newtons'],
  ['µm', 'micrometre', 'micrometres'],
  ['mm', 'millimetre', 'millimetres'],
  ['ml', 'millilitre', 'millilitres'],
  ['g', 'gram', 'grams'],
  ['h', 'hour', 'hours'],
  ['min', 'minute', 'minutes'],
  ['°', 'degree', 'degrees'],
  ['%', 'per cent', 'per cent'],
];

/** A sentence as a voice says it. */
export function spoken(sentence: string): string {
  let text = sentence
    // A range is said, not dashed; a minus is a word.
    .replace(/(\d)\s*–\s*(?=\d)/g, '$1 to ')
    .replace(/(^|[\s(])[−-](?=\d)/g, '$1minus ')
    .replace(/Ø\s*(?=\d)/g, 'diameter ')
    .replace(/\bM(\d+(?:\.\d+)?)\s*×\s*(\d+(?:\.\d+)?)/g, 'M $1 by $2')
    .replace(/\bM(?=\d)/g, 'M ')
    .replace(/(\d)\s*×\s*(?=\d)/g, '$1 by ')
    .replace(/\s*×\s*/g, ' times ')
    .replace(/±\s*/g, 'plus or minus ')
    .replace(/≤\s*/g, 'at most ')
    .replace(/≥\s*/g, 'at least ')
    .replace(/≈\s*/g, 'about ')
    .replace(/\s*→\s*/g, ' to ');
  for (const [unit, one, many] of UNITS)
    text = text.replace(
      new RegExp(`(\\d+(?:\\.\\d+)?)\\s*${unit}(?![A-Za-z/·²])`, 'g'),
      (_, number: string) => `${number} ${number === '1' ? one : many}`,
    );
  return text
    .replace(/\bN·m\b/g, 'newton metres')
    .replace(/[“”„]/g, '')
    .replace(/…/g, '.')
    .replace(/\s+/g, ' ')
    .trim();
}
