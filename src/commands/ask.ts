/**
 * `ask`: what to measure next on a draft, where the calliper goes, and why; and how each pivot stands.
 *
 * Exit code 0 when every pivot fits whatever is not known, 1 for any other.
 */
import {
  askOf,
  looksLikeEnvelope,
  questionsOf,
  sizesOf,
  wordBand,
  wordDraftVerdict,
  wordNextHow,
  wordNextMeasure,
  wordNextWhy,
  type Draft,
} from '../../shared/index.ts';
import { commandOf, JSON_OPTION, LAST_WORD, putJson, type Command, type Options } from './command.ts';
import { draftFrom, questionLines } from './draft.ts';

/** Readings that are shown after the first. */
const SHOWN = 3;

/** The command. */
export const askCommand: Command = commandOf({
  name: 'ask',
  summary: 'what to measure next on a draft, and how its pivots stand',
  subject: { name: '<draft.json>', says: 'a draft, as `new` writes it, or a model' },
  options: { json: JSON_OPTION },
  examples: ['ask tests/fixtures/draft-axle-and-nut.json'],
  takesText: (text, file, options) => (looksLikeEnvelope(text) ? run(draftFrom(text, file), options) : undefined),
  // A model is a draft in which every size is known.
  run: (model, options) => run({ model } as unknown as Draft, options),
});

function run(draft: Draft, options: Options): number {
  const { verdicts, next } = askOf(draft);
  if (options['json'] === true) {
    const round = (value: number): number => Math.round(value * 1e4) / 1e4;
    putJson({
      draft: draft.model.id,
      pivots: verdicts.map(({ pivot, verdict, depends_on, stops }) => ({
        id: pivot,
        verdict,
        depends_on: depends_on.map(({ path }) => path),
        stops,
      })),
      next: next.map(({ path, compare, pivot, accuracy, gain_bits, minutes }) => ({
        ...(path === undefined ? { compare } : { path }),
        pivot,
        accuracy,
        gain_bits: round(gain_bits),
        minutes,
      })),
      questions: questionsOf(draft),
    });
  } else process.stdout.write(textOf(draft, { verdicts, next }));
  return verdicts.every(({ verdict }) => verdict === 'sound') ? 0 : 1;
}

function textOf(draft: Draft, { verdicts, next }: ReturnType<typeof askOf>): string {
  const sizes = sizesOf(draft);
  const nameOf = (id: string): string => verdicts.find(({ pivot }) => pivot === id)!.name;
  const lines = [draft.model.name, ''];
  for (const verdict of verdicts) lines.push(`${verdict.name} (${verdict.pivot}): ${wordDraftVerdict(verdict)}`);
  lines.push('');
  const [first, ...others] = next;
  if (!first)
    lines.push(
      verdicts.some(({ verdict }) => verdict === 'unsure')
        ? 'No reading settles more. Look at the sizes in question with the part in your hand.'
        : 'Nothing is left to measure: every verdict is settled.',
    );
  else {
    lines.push(`Measure next: ${wordNextMeasure(first, sizes)}.`, `  ${wordNextHow(first, sizes)}.`);
    lines.push(`  ${wordNextWhy(first, sizes, nameOf(first.pivot))}`);
    for (const { size } of first.compare?.terms ?? []) {
      const own = sizes.find(({ path }) => path === size)!;
      lines.push(`    ${size}: ${wordBand(own.band, own.unit)}`);
    }
    if (first.path !== undefined) lines.push(`  In the file: ${first.path}`);
    if (others.length > 0) lines.push('', 'After that:');
    for (const own of others.slice(0, SHOWN)) lines.push(`  ${wordNextMeasure(own, sizes)}`);
  }
  const questions = questionLines(draft);
  if (questions.length > 0) lines.push('', ...questions);
  return [...lines, '', LAST_WORD, ''].join('\n');
}
