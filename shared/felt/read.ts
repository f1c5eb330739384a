/**
 * What a hand types: "notchy, gap:drive, no left-over", read against what can be asked of the pivot.
 *
 * Symptoms stand between commas; `no` before one denies it, `unsure` says that nobody can tell, `again` that it was looked
 * at once more. A place may be a side, a row id, a stack or a neighbour.
 */
import { askKey, SIDED, type Ask } from './symptoms.ts';
import type { FeltAnswer } from './diagnose.ts';

/** What could not be read, with what would have been. */
export interface FeltTrouble {
  readonly met: string;
  readonly allowed: readonly string[];
}

const WAYS = [
  [/^(no|not)\s+/, 'no'],
  [/^unsure\s+/, 'unsure'],
] as const;

const AGAIN = /^again\s+/;

/** The answers in a text, or the first piece of it that means nothing; of two that go ill together the later counts. */
export function readFelt(text: string, asks: readonly Ask[]): readonly FeltAnswer[] | FeltTrouble {
  let answers: readonly FeltAnswer[] = [];
  const pieces = text
    .split(',')
    .map((piece) => piece.trim())
    .filter((piece) => piece !== '');
  for (const piece of pieces) {
    const [pattern, is] = WAYS.find(([way]) => way.test(piece)) ?? [undefined, 'yes' as const];
    const whole = pattern ? piece.replace(pattern, '') : piece;
    const isAgain = AGAIN.test(whole);
    const said = whole.replace(AGAIN, '');
    const [name = '', ...rest] = said.split(':');
    const at = rest.join(':');
    const once = asks.filter(({ again }) => (again !== undefined) === isAgain);
    const ofName = once.filter(({ code }) => code === name);
    if (ofName.length === 0) return { met: said, allowed: [...new Set(once.map(({ code }) => code))] };
    const meant = ofName.filter((ask) => at !== '' && (ask.at === at || ask.at?.endsWith(`/${at}`)));
    const one = meant.length === 1 ? meant[0] : at === '' && ofName.length === 1 ? ofName[0] : undefined;
    const isEither = !isAgain && at === '' && SIDED.some((code) => code === name);
    if (!one && !isEither) return { met: said, allowed: ofName.map(({ key }) => key) };
    const key = one?.key ?? name;
    answers = withAnswers(answers, [{ key, is }]);
  }
  return answers;
}

/** Answers with these in place of what was said before of the same things, and of what they gainsay. */
export function withAnswers(said: readonly FeltAnswer[], added: readonly FeltAnswer[]): readonly FeltAnswer[] {
  return [...said.filter((one) => !added.some((later) => one.key === later.key || gainsays(later, one))), ...added];
}

/** A symptom that is found at one side is somewhere; one that is nowhere, or not to be told, is found at neither. */
function gainsays(later: FeltAnswer, one: FeltAnswer): boolean {
  const [atSide, whole] = later.is === 'yes' ? [later, one] : [one, later];
  const isOfOne = SIDED.some(
    (code) => whole.key === code && ['non-drive', 'drive'].some((side) => atSide.key === askKey(code, side)),
  );
  return isOfOne && atSide.is === 'yes' && whole.is !== 'yes';
}
