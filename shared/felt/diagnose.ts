/**
 * From what was felt to what is wrong: Bayes' rule over every cause, and the check that tells most a minute of work.
 *
 * What every cause would give at every question is worked out once a pivot (`settingUpFelt`); an answer then only weighs. A
 * symptom that was said without its side stands for either side. Causes whose every answer is as likely are not told
 * apart by anything at the bench: they are led as one. Where what no cause gives explains the answers better than any of
 * them, nothing here explains them.
 */
import { judge } from '../findings/judge.ts';
import { resolveModel } from '../model/resolve.ts';
import { afterAnswer, chances, nextQuestion, openness_bits, type Next, type Question } from '../next/next.ts';
import { accessOf, type Access } from '../order/strip.ts';
import type { Plan } from '../order/plan.ts';
import { causesAt, neighboursOf, openedBy, priorOf, type Cause, type Priors, type Signed } from './causes.ts';
import { groundsFor, slipped, yesOf } from './chance.ts';
import { FELT_LIMITS } from './limits.ts';
import { NO_SIGNS } from './signs.ts';
import { askKey, asksOf, CARRIED, minutesOf, SIDED, type Ask, type SymptomCode } from './symptoms.ts';

/** An answer to what was asked; who cannot say has been asked all the same. */
export interface FeltAnswer {
  /** Key of an ask, or a sided symptom without its side. */
  readonly key: string;
  readonly is: 'yes' | 'no' | 'unsure';
}

/** Everything that is needed to weigh answers at one pivot; plain data. */
export interface Diagnosing {
  readonly pivot: string;
  readonly causes: readonly Cause[];
  readonly asks: readonly Ask[];
  /** Chance of a yes, by cause and ask. */
  readonly yes: readonly (readonly number[])[];
}

/** A cause and how likely it is now. */
export interface RankedCause {
  readonly cause: Cause;
  readonly probability: number;
}

/** The check that tells most a minute now. */
export interface NextCheck {
  readonly ask: Ask;
  readonly minutes: number;
  readonly gain_bits: number;
  readonly sureNow: number;
  readonly sureAfter: number;
  /** The causes it tells apart most: the likeliest that would say yes, and the likeliest that would say no. */
  readonly yes?: Cause;
  readonly no?: Cause;
}

/** What the answers come to. */
export interface Diagnosis {
  /** Every cause, the likeliest first; their probabilities add up to one. */
  readonly causes: readonly RankedCause[];
  /** The first, and every other that nothing at the bench tells from it. */
  readonly first: readonly RankedCause[];
  /**
   * `open`: another check helps; `one`: one cause; `alike`: those that nothing at the bench tells apart; `unsure`: no
   * check is worth it any more; `unexplained`: nothing here explains the answers.
   */
  readonly ends: 'open' | 'one' | 'alike' | 'unsure' | 'unexplained';
  readonly open_bits: number;
  readonly next?: NextCheck;
}

/** Work out what every cause at a pivot would give, a solve at a time. Half a second. */
export function* settingUpFelt(
  plan: Plan,
  pivotId: string,
): Generator<{ readonly done: number; readonly total: number }, Diagnosing> {
  const { model } = plan.analysis;
  const neighbours = neighboursOf(model, pivotId);
  const written = judge(resolveModel(model), pivotId);
  const axlesFor = (stack: string): number => Math.max(1, accessed(plan, `${stack}/axle`)?.stacks.length ?? 1);
  const asks = asksOf(written, neighbours, axlesFor);
  const signed = yield* causesAt(model, pivotId);
  const told = signed.map((one) => ({ one, yes: asks.map((ask) => yesAt(pivotId, one, ask)) }));
  // A neighbour's mistake that would not be felt here is no cause of what was.
  const here = told.filter(
    ({ one, yes }) =>
      one.cause.pivot === pivotId ||
      asks.some(({ code }, k) => code !== 'elsewhere' && yes[k]! > 2 * FELT_LIMITS.slip.value + 0.1),
  );
  return {
    pivot: pivotId,
    asks,
    causes: here.map(({ one }) => one.cause),
    yes: here.map(({ yes }) => yes),
  };
}

function accessed(plan: Plan, id: string): Access | undefined {
  try {
    return accessOf(plan, id);
  } catch (trouble) {
    if (trouble instanceof RangeError) return undefined;
    throw trouble;
  }
}

/** The chance that a cause gives a yes at one ask. */
function yesAt(pivot: string, { cause, signs, wear }: Signed, ask: Ask): number {
  const { code, at } = ask;
  if (cause.kind === 'something-else') return FELT_LIMITS.else.value;
  if (cause.pivot === pivot) {
    const more = wear?.[code];
    const isThere = at === undefined || at === cause.item || at === cause.stack;
    return yesOf([...groundsFor(ask, signs), ...(more === undefined || !isThere ? [] : [{ chance: more }])]);
  }
  const felt = (one: SymptomCode): number => yesOf(groundsFor({ code: one }, signs));
  if (code === 'elsewhere') return at === cause.pivot ? slipped(Math.max(...CARRIED.map(felt))) : yesOf([]);
  return CARRIED.some((carried) => carried === code)
    ? yesOf([...groundsFor(ask, NO_SIGNS), { chance: felt(code) * FELT_LIMITS.carries.value }])
    : yesOf(groundsFor(ask, NO_SIGNS));
}

/** Weigh the answers, and say what to check next. About 5 ms. */
export function diagnose(set: Diagnosing, answers: readonly FeltAnswer[], priors: Priors = {}): Diagnosis {
  const before = chances(set.causes.map((cause) => priorOf(cause, set.pivot, priors)))!;
  const likely = set.causes.map((_, k) => likelihoodOf(set, k, answers));
  const now = afterAnswer(before, likely)!;
  const causes = now
    .map((probability, k) => ({ k, cause: set.causes[k]!, probability }))
    .sort((a, b) => b.probability - a.probability || (a.cause.id < b.cause.id ? -1 : 1));
  const top = causes[0]!;
  const first = causes.filter(({ k }) => isSame(set.yes[top.k]!, set.yes[k]!));
  const sureNow = first.reduce((sum, { probability }) => sum + probability, 0);
  const next = sureNow >= FELT_LIMITS.sure.value ? undefined : nextCheck(set, answers, now);
  const bare = ({ cause, probability }: RankedCause): RankedCause => ({ cause, probability });
  return {
    causes: causes.map(bare),
    first: first.map(bare),
    ends:
      top.cause.kind === 'something-else'
        ? 'unexplained'
        : next
          ? 'open'
          : sureNow < FELT_LIMITS.sure.value
            ? 'unsure'
            : first.length === 1
              ? 'one'
              : 'alike',
    open_bits: openness_bits(now),
    ...(next ? { next } : {}),
  };
}

/** Nothing that can be asked tells the two apart. */
function isSame(one: readonly number[], other: readonly number[]): boolean {
  return one.every((chance, k) => Math.abs(chance - other[k]!) <= FELT_LIMITS.same.value);
}

/** The chance that a cause gives these answers: the symptoms by themselves, a sided one with both its sides together. */
function likelihoodOf(set: Diagnosing, cause: number, answers: readonly FeltAnswer[]): number {
  const yes = set.yes[cause]!;
  const at = indexOf(set);
  const given = new Map(answers.filter(({ is }) => is !== 'unsure').map(({ key, is }) => [key, is === 'yes'] as const));
  let likely = 1;
  for (const [key, is] of given) {
    const k = at.get(key);
    const isTogether = SIDED.some((code) => key.startsWith(code) && given.has(code));
    if (k !== undefined && !isTogether) likely *= is ? yes[k]! : 1 - yes[k]!;
  }
  for (const code of SIDED) {
    const either = given.get(code);
    if (either === undefined) continue;
    const sides = ['non-drive', 'drive'].map((side) => ({
      chance: yes[at.get(askKey(code, side))!]!,
      said: given.get(askKey(code, side)),
    }));
    let sum = 0;
    for (const left of [true, false])
      for (const right of [true, false])
        if (
          (left || right) === either &&
          [left, right].every((is, k) => sides[k]!.said === undefined || sides[k]!.said === is)
        )
          sum += [left, right].reduce((chance, is, k) => chance * (is ? sides[k]!.chance : 1 - sides[k]!.chance), 1);
    // Both sides can be denied after one was found: one of the answers is wrong then.
    likely *= Math.max(sum, FELT_LIMITS.slip.value ** 2);
  }
  return likely;
}

const INDEX = new WeakMap<Diagnosing, ReadonlyMap<string, number>>();
function indexOf(set: Diagnosing): ReadonlyMap<string, number> {
  let known = INDEX.get(set);
  if (!known) INDEX.set(set, (known = new Map(set.asks.map(({ key }, k) => [key, k] as const))));
  return known;
}

interface Check extends Question {
  readonly ask: Ask;
  readonly k: number;
  /** With all that has to come off for it. */
  readonly whole_min: number;
}

/** What has not been asked yet, with its minutes now, and its chances given what was said. */
function checksOf(set: Diagnosing, answers: readonly FeltAnswer[], now: readonly number[]): Check[] {
  const asked = new Map(answers.map(({ key, is }) => [key, is] as const));
  const open = new Set(set.asks.flatMap(({ key, opens }) => (opens !== undefined && asked.has(key) ? [opens] : [])));
  // Most of what can be wrong is put right with the axle out: that is work to come, whether anything is looked at or not.
  const out = new Map<string, number>();
  for (const [k, cause] of set.causes.entries()) {
    const stack = openedBy(cause, set.pivot);
    if (stack !== undefined) out.set(stack, (out.get(stack) ?? 0) + now[k]!);
  }
  return set.asks.flatMap((ask, k): Check[] => {
    // A symptom that is nowhere is at neither side; who cannot say whether it is there cannot say where.
    const whole = asked.get(ask.code);
    const before = ask.again === undefined ? 'yes' : asked.get(ask.again);
    if (before === undefined || before === 'unsure') return [];
    if (asked.has(ask.key) || whole === 'no' || whole === 'unsure') return [];
    const isTogether = SIDED.includes(ask.code) && whole === 'yes';
    const chance = (cause: number): number => {
      if (!isTogether) return set.yes[cause]![k]!;
      const whole = likelihoodOf(set, cause, answers);
      const yes = likelihoodOf(set, cause, [...answers, { key: ask.key, is: 'yes' }]);
      const no = likelihoodOf(set, cause, [...answers, { key: ask.key, is: 'no' }]);
      return whole > 0 ? yes / (yes + no) : set.yes[cause]![k]!;
    };
    const rows = set.causes.map((_, cause) => {
      const yes = chance(cause);
      return [yes, 1 - yes];
    });
    return [
      {
        ask,
        k,
        minutes: minutesOf(ask, open, out.get(ask.opens ?? '')),
        whole_min: minutesOf(ask, open),
        answers: rows,
      },
    ];
  });
}

function nextCheck(set: Diagnosing, answers: readonly FeltAnswer[], now: readonly number[]): NextCheck | undefined {
  const next: Next<Check> | undefined = nextQuestion(now, checksOf(set, answers, now));
  if (!next) return undefined;
  const { question, gain_bits, sureAfter } = next;
  const likeliest = (isYes: boolean): Cause | undefined => {
    const weights = now.map((chance, k) => chance * (isYes ? set.yes[k]![question.k]! : 1 - set.yes[k]![question.k]!));
    return set.causes[weights.indexOf(Math.max(...weights))];
  };
  const [yes, no] = [likeliest(true), likeliest(false)];
  return {
    ask: question.ask,
    minutes: question.whole_min,
    gain_bits,
    sureNow: Math.max(...now),
    sureAfter,
    ...(yes ? { yes } : {}),
    ...(no ? { no } : {}),
  };
}
