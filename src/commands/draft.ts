/** What the commands that take a draft share: reading one, and what a hand should look at again. */
import {
  completed,
  looksLikeEnvelope,
  questionsOf,
  readDraft,
  sizesOf,
  verdictsOf,
  wordDraftQuestion,
  wordDraftSizeOf,
  wordDraftVerdict,
  wordOrigin,
  wordProblem,
  wordRange,
  type Draft,
} from '../../shared/index.ts';
import { LAST_WORD, problemsOf, putJson } from './command.ts';

/** The draft of a file; what is wrong with it is refused in words. */
export function draftFrom(text: string, file: string): Draft {
  const reading = readDraft(text);
  if (!reading.ok) throw problemsOf(file, reading.problems.map(wordProblem), reading.more);
  return reading.draft;
}

/** What a hand should look at again, a line each. */
export function questionLines(draft: Draft): string[] {
  const sizes = sizesOf(draft);
  return questionsOf(draft).map((question) => {
    const size = sizes.find(({ path }) => path === question.path);
    return `LOOK ${wordDraftQuestion(question, size ? wordDraftSizeOf(size) : question.path)}`;
  });
}

/** `check` of a draft: its verdicts and what they depend on; undefined where the text is no draft's. */
export function checkDraft(text: string, file: string, isJson: boolean): number | undefined {
  if (!looksLikeEnvelope(text)) return undefined;
  const draft = draftFrom(text, file);
  const verdicts = verdictsOf(draft);
  const sizes = sizesOf(draft);
  const { assumed } = completed(draft);
  const overall = verdicts.some(({ verdict }) => verdict === 'faulty')
    ? 'faulty'
    : verdicts.some(({ verdict }) => verdict === 'unsure')
      ? 'unsure'
      : 'sound';
  if (isJson)
    putJson({
      draft: draft.model.id,
      verdict: overall,
      pivots: verdicts.map(({ pivot, verdict, depends_on, stops, lacks }) => ({
        id: pivot,
        verdict,
        depends_on: depends_on.map(({ path }) => path),
        stops,
        lacks: lacks.map(wordProblem),
      })),
      assumed: assumed.map(({ path, value, from }) => ({ path, value, from })),
      questions: questionsOf(draft),
    });
  else {
    const lines = [`${draft.model.name}: ${wordDraftVerdict({ verdict: overall })}`];
    for (const verdict of verdicts) {
      lines.push('', `${verdict.name} (${verdict.pivot}): ${wordDraftVerdict(verdict)}`);
      for (const problem of verdict.lacks) lines.push(`  It cannot be judged: ${wordProblem(problem)}`);
      if (verdict.depends_on.length > 0) lines.push('  It depends on');
      for (const { path } of verdict.depends_on) {
        const size = sizes.find((own) => own.path === path)!;
        lines.push(`    ${wordDraftSizeOf(size)}: ${wordRange(size)}, ${wordOrigin(size.band.from)}`);
      }
    }
    const questions = questionLines(draft);
    if (questions.length > 0) lines.push('', ...questions);
    if (assumed.length > 0) lines.push('', `${assumed.length} sizes are guessed or unknown.`);
    process.stdout.write([...lines, '', LAST_WORD, ''].join('\n'));
  }
  return overall === 'sound' ? 0 : 1;
}
