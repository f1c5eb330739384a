/**
 * Bayes' rule and the worth of a question against worked examples, and against the laws they obey; the data file names
 * their sources.
 */
import { describe, expect, test } from 'vitest';
import { afterAnswer, chances, nextQuestion, openness_bits, worthOf, type Question } from '../../shared/next/next.ts';
import { random } from '../setup/random.ts';
import data from './data/next-question.json';

const yesNo = (positive: readonly number[], minutes = 1): Question => ({
  minutes,
  answers: positive.map((yes) => [yes, 1 - yes]),
});
const closeTo = (found: readonly number[] | undefined, wanted: readonly number[], digits = 4): void => {
  expect(found).toHaveLength(wanted.length);
  for (const [i, value] of wanted.entries()) expect(found![i]).toBeCloseTo(value, digits);
};

describe('the well', () => {
  const { prior, joint, after, chanceOfAnswer, before_bits, left_bits, gain_bits } = data.well;
  const answers = joint.map((row, state) => row.map((value) => value / prior[state]!));

  test.each([0, 1, 2])('after test result %i', (answer) => {
    closeTo(
      afterAnswer(
        prior,
        answers.map((row) => row[answer]!),
      ),
      after[answer]!,
    );
  });

  test('what is open before and after, and the difference', () => {
    expect(openness_bits(prior)).toBeCloseTo(before_bits, 5);
    const left = after.reduce((sum, chancesThen, i) => sum + chanceOfAnswer[i]! * openness_bits(chancesThen), 0);
    expect(left).toBeCloseTo(left_bits, 3);
    expect(worthOf(prior, { minutes: 1, answers }).gain_bits).toBeCloseTo(gain_bits, 4);
  });
});

describe('the days', () => {
  const { yes, no } = data.days.play;
  const prior = [yes / (yes + no), no / (yes + no)];

  test('what is open', () => expect(openness_bits(prior)).toBeCloseTo(data.days.before_bits, 4));

  test.each(data.days.questions)('$name', (question) => {
    const answers = [question.yes.map((days) => days / yes), question.no.map((days) => days / no)];
    expect(worthOf(prior, { minutes: 1, answers }).gain_bits).toBeCloseTo(question.gain_bits, 4);
  });
});

test('screening for what is rare', () => {
  const { prior, positive, after } = data.screening;
  expect(afterAnswer(prior, positive)![0]).toBeCloseTo(after, 4);
});

describe('four causes', () => {
  const { prior, before_bits, tests, afterFirst, chain } = data.causes;
  const likelihood = (positive: readonly number[], isSo: boolean) => positive.map((yes) => (isSo ? yes : 1 - yes));

  test('what is open', () => expect(openness_bits(prior)).toBeCloseTo(before_bits, 5));

  test.each(tests)('a test of $minutes min', ({ positive, minutes, gain_bits, perMinute_bits }) => {
    const question = yesNo(positive, minutes);
    expect(worthOf(prior, question).gain_bits).toBeCloseTo(gain_bits, 5);
    expect(nextQuestion(prior, [question])!.gainPerMinute_bits).toBeCloseTo(perMinute_bits, 4);
  });

  test('after the first, either way', () => {
    closeTo(afterAnswer(prior, likelihood(tests[0]!.positive, true)), afterFirst.positive);
    closeTo(afterAnswer(prior, likelihood(tests[0]!.positive, false)), afterFirst.negative);
  });

  test.each(chain)('first $first, second $second, in either order', ({ first, second, after }) => {
    const one = likelihood(tests[0]!.positive, first);
    const other = likelihood(tests[1]!.positive, second);
    closeTo(afterAnswer(afterAnswer(prior, one)!, other), after);
    closeTo(afterAnswer(afterAnswer(prior, other)!, one), after);
  });

  test('is asked by bits a minute, not by bits', () => {
    const slow = yesNo([0.95, 0.05, 0.05, 0.05], 10);
    const quick = yesNo(tests[1]!.positive, 1);
    expect(worthOf(prior, slow).gain_bits).toBeGreaterThan(worthOf(prior, quick).gain_bits);
    expect(nextQuestion(prior, [slow, quick])!.question).toBe(quick);
  });
});

describe('a reading', () => {
  const { middles, deviation, gain_bits } = data.reading;
  const read = (values: readonly number[], spread: number): Question => ({
    minutes: 1,
    answers: { reading: values.map((middle) => ({ middle, deviation: spread })) },
  });

  test('tells two values two deviations apart as well as published', () =>
    expect(worthOf([0.5, 0.5], read(middles, deviation)).gain_bits).toBeCloseTo(gain_bits, 4));

  test('tells all where the values are far apart, nothing where they are one', () => {
    const open = [0.5, 0.3, 0.2];
    const all = worthOf(open, read([0, 40, 80], 1));
    expect(all.gain_bits).toBeCloseTo(openness_bits(open), 5);
    expect(all.sureAfter).toBeCloseTo(1, 5);
    const nothing = worthOf(open, read([7, 7, 7], 1));
    expect(nothing.gain_bits).toBeCloseTo(0, 9);
    expect(nothing.sureAfter).toBeCloseTo(0.5, 5);
  });

  test('agrees with the sum over a fine scale of its answers', () => {
    const open = [0.6, 0.25, 0.15];
    const shapes = [
      { middle: 0, deviation: 1 },
      { middle: 1.5, deviation: 0.4 },
      { middle: 3, deviation: 2 },
    ];
    const marks = Array.from({ length: 4001 }, (_, i) => -15 + 0.01 * i);
    const answers = shapes.map(({ middle, deviation: spread }) => {
      const raw = marks.map((mark) => Math.exp(-(((mark - middle) / spread) ** 2) / 2));
      return chances(raw)!;
    });
    const scale = worthOf(open, { minutes: 1, answers });
    const rule = worthOf(open, { minutes: 1, answers: { reading: shapes } });
    expect(rule.gain_bits).toBeCloseTo(scale.gain_bits, 4);
    expect(rule.sureAfter).toBeCloseTo(scale.sureAfter, 3);
  });
});

describe('the laws, seeds 1 to 200', () => {
  const cases = Array.from({ length: 200 }, (_, i) => {
    const rng = random(i + 1);
    const causes = 2 + Math.floor(rng() * 6);
    const kinds = 2 + Math.floor(rng() * 3);
    const prior = chances(Array.from({ length: causes }, () => rng()))!;
    const table = () => prior.map(() => chances(Array.from({ length: kinds }, () => rng() ** 3))!);
    return { prior, one: table(), other: table(), kinds };
  });

  test('what is gained is neither below nothing nor more than is open, and is the openness that goes', () => {
    for (const { prior, one, kinds } of cases) {
      const { gain_bits } = worthOf(prior, { minutes: 1, answers: one });
      expect(gain_bits).toBeGreaterThanOrEqual(0);
      expect(gain_bits).toBeLessThanOrEqual(openness_bits(prior) + 1e-12);
      let left = 0;
      for (let answer = 0; answer < kinds; answer++) {
        const likely = one.map((row) => row[answer]!);
        const chance = prior.reduce((sum, weight, i) => sum + weight * likely[i]!, 0);
        left += chance * openness_bits(afterAnswer(prior, likely)!);
      }
      expect(gain_bits).toBeCloseTo(openness_bits(prior) - left, 9);
    }
  });

  test('chances add up to one, and the order of answers does not matter', () => {
    for (const { prior, one, other } of cases) {
      const a = one.map((row) => row[0]!);
      const b = other.map((row) => row[1]!);
      const there = afterAnswer(afterAnswer(prior, a)!, b)!;
      closeTo(afterAnswer(afterAnswer(prior, b)!, a), there, 12);
      expect(there.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 12);
    }
  });
});

describe('nothing would settle it', () => {
  test('where one cause is left, or every answer is as likely under each', () => {
    expect(nextQuestion([1, 0], [yesNo([0.9, 0.1])])).toBeUndefined();
    expect(nextQuestion([0.5, 0.5], [yesNo([0.4, 0.4])])).toBeUndefined();
    expect(nextQuestion([0.5, 0.5], [])).toBeUndefined();
  });

  test('and where no cause allows the answer, nothing explains it', () =>
    expect(afterAnswer([0.5, 0.5, 0], [0, 0, 1])).toBeUndefined());

  test('of questions worth alike the quicker goes first, and of those the first named', () => {
    const long = yesNo([1, 0], 2);
    const half = yesNo([0.89, 0.11]);
    expect(worthOf([0.5, 0.5], half).gain_bits / worthOf([0.5, 0.5], long).gain_bits).toBeCloseTo(0.5, 3);
    for (const list of [
      [long, half, { ...half }],
      [half, { ...half }, long],
    ])
      expect(nextQuestion([0.5, 0.5], list)!.question).toBe(half);
    const poor = yesNo([0.8, 0.2]);
    expect(nextQuestion([0.5, 0.5], [poor, long])!.question).toBe(long);
  });

  test('a question that takes no time is a fault of the program', () =>
    expect(() => nextQuestion([0.5, 0.5], [yesNo([1, 0], 0)])).toThrow('next: a question takes 0 minutes'));
});
