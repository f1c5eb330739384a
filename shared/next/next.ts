/**
 * The next question: of all that can be asked, looked at or measured, the one that tells most a minute of work.
 *
 * What is open is a list of hypotheses with their chances. A question either has a list of answers, each with its
 * chance under each hypothesis, or is read off an instrument, normal about a value of each hypothesis' own. What an
 * answer leaves is Bayes' rule; what a question is worth is the mutual information of hypothesis and answer, bits, and
 * for a reading the trapezoid rule over the mixture. Questions that are worth alike a minute are decided by which is
 * quicker; where none is worth a walk to the bench, nothing would settle it, and that is the answer.
 */
import { logNormal } from '../numbers/normal.ts';

/** A reading's value and deviation under one hypothesis, in the reading's own unit. */
export interface ReadingShape {
  readonly middle: number;
  readonly deviation: number;
}

/** Something that can be asked. */
export interface Question {
  /** Minutes it takes, with all that has to come off for it and go back on; above zero. */
  readonly minutes: number;
  /** Chance of each answer, by hypothesis and answer, each row adding up to one; or what would be read, by hypothesis. */
  readonly answers: readonly (readonly number[])[] | { readonly reading: readonly ReadingShape[] };
}

/** What a question is worth before it is asked. */
export interface Worth {
  readonly gain_bits: number;
  /** Chance of the likeliest hypothesis once the answer is known, as it is expected now, 0 to 1. */
  readonly sureAfter: number;
}

/** The question to ask next. */
export interface Next<Q extends Question> extends Worth {
  readonly question: Q;
  readonly gainPerMinute_bits: number;
}

/** Gains below this are not worth a walk to the bench, bits: our own rule. */
const LEAST_GAIN_bits = 0.02;
/** Gains a minute this near to the best count as alike. */
const ALIKE = 0.98;

/** Chances that add up to one, of weights of at least zero; undefined where all are zero, so that nothing explains it. */
export function chances(weights: readonly number[]): number[] | undefined {
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return sum > 0 ? weights.map((weight) => weight / sum) : undefined;
}

/**
 * Bayes' rule: the hypotheses' chances after an answer that has these chances under them; undefined where no hypothesis
 * that is still open allows the answer.
 */
export function afterAnswer(before: readonly number[], likelihoods: readonly number[]): number[] | undefined {
  return chances(before.map((weight, i) => weight * likelihoods[i]!));
}

/** What is still open among hypotheses whose chances add up to one, bits. */
export function openness_bits(open: readonly number[]): number {
  return open.reduce((sum, chance) => sum - plogp(chance), 0);
}

function plogp(chance: number): number {
  return chance > 0 ? chance * Math.log2(chance) : 0;
}

/** What a question is worth while the hypotheses have these chances, which add up to one. */
export function worthOf(open: readonly number[], { answers }: Question): Worth {
  return 'reading' in answers ? worthOfReading(open, answers.reading) : worthOfAnswers(open, answers);
}

function worthOfAnswers(open: readonly number[], answers: readonly (readonly number[])[]): Worth {
  let gain = 0;
  let sureAfter = 0;
  for (const answer of answers[0]!.keys()) {
    const joint = open.map((chance, i) => chance * answers[i]![answer]!);
    const whole = joint.reduce((sum, value) => sum + value, 0);
    if (whole === 0) continue;
    gain += joint.reduce((sum, value, i) => sum + (value > 0 ? value * Math.log2(answers[i]![answer]! / whole) : 0), 0);
    sureAfter += Math.max(...joint);
  }
  return { gain_bits: Math.max(0, gain), sureAfter: Math.min(1, sureAfter) };
}

/** Steps of the trapezoid rule, in deviations: with a normal weight it is exact to many digits. */
const STEP = 0.25;
const REACH = 5;

function worthOfReading(open: readonly number[], shapes: readonly ReadingShape[]): Worth {
  let gain = 0;
  let sureAfter = 0;
  for (const [i, own] of shapes.entries()) {
    if (open[i] === 0) continue;
    for (let z = -REACH; z <= REACH; z += STEP) {
      const read = own.middle + z * own.deviation;
      const density = shapes.map(
        ({ middle, deviation }, k) => open[k]! * Math.exp(logNormal((read - middle) / deviation) - Math.log(deviation)),
      );
      const whole = density.reduce((sum, value) => sum + value, 0);
      const here = Math.exp(logNormal(z)) * STEP * open[i]!;
      gain += here * Math.log2(Math.exp(logNormal(z) - Math.log(own.deviation)) / whole);
      sureAfter += (here * Math.max(...density)) / whole;
    }
  }
  return { gain_bits: Math.max(0, gain), sureAfter: Math.min(1, sureAfter) };
}

/**
 * The question that tells most a minute, of those listed; undefined where nothing is open or nothing would settle it.
 * Of questions that are worth alike the quicker one, and of those the first in the list.
 */
export function nextQuestion<Q extends Question>(
  open: readonly number[],
  questions: readonly Q[],
): Next<Q> | undefined {
  const worthwhile = questions.flatMap((question) => {
    if (!(question.minutes > 0)) throw new Error(`next: a question takes ${question.minutes} minutes`);
    const worth = worthOf(open, question);
    return worth.gain_bits >= LEAST_GAIN_bits
      ? [{ question, ...worth, gainPerMinute_bits: worth.gain_bits / question.minutes }]
      : [];
  });
  const best = Math.max(...worthwhile.map(({ gainPerMinute_bits }) => gainPerMinute_bits));
  const alike = worthwhile.filter(({ gainPerMinute_bits }) => gainPerMinute_bits >= best * ALIKE);
  const quickest = Math.min(...alike.map(({ question }) => question.minutes));
  return alike.find(({ question }) => question.minutes === quickest);
}
