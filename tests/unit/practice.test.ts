/**
 * The drills: each of each demo model can be solved, takes exactly what the solve takes, and says nothing of its answer
 * in what the apprentice is given.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import {
  analyse,
  applyMistake,
  beginMistakes,
  benchAnswer,
  cardShown,
  FIND_LEVELS,
  findDrill,
  GRADES,
  gradeOf,
  isFound,
  judgeLaid,
  layDrill,
  layStacks,
  lessonTroubles,
  lessonView,
  minutesOf,
  placements,
  planOf,
  PRACTICE_LIMITS,
  readEnvelope,
  rightOf,
  SIGHT_KINDS,
  sightQuestion,
  tryMistake,
  wordBenchAnswer,
  wordBenchCheck,
  wordLayFault,
  wordMistake,
  wordQuestion,
  wordSightChoice,
  wordSightWhy,
  wordTold,
  type Analysis,
  type LayAnswer,
  type Lesson,
  type LinkageModel,
  type Mistake,
  type Plan,
  type Work,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { asWritten } from '../setup/drills.ts';
import { random } from '../setup/random.ts';
import { wordsOf } from '../setup/sentences.ts';
import { LONG, seeds } from '../setup/series.ts';

const LESSON_FOLDER = fileURLToPath(new URL('../../models/lessons', import.meta.url));
const { words: BANNED } = JSON.parse(
  readFileSync(new URL('../fixtures/banned-words.json', import.meta.url), 'utf8'),
) as { readonly words: Readonly<Record<string, string>> };

const MODELS = demoModels();
const ANALYSES = new Map(MODELS.map((model) => [model.id, analyse(model)] as const));
const analysed = ({ id }: LinkageModel): Analysis => ANALYSES.get(id)!;
const LAYS = MODELS.flatMap((model) => layStacks(model).map((at) => ({ model, ...at })));
const plans = new Map<string, Plan>();
const planned = (model: LinkageModel): Plan => {
  const plan = plans.get(model.id) ?? planOf(analysed(model));
  plans.set(model.id, plan);
  return plan;
};
const stackOf = (model: LinkageModel, id: string) =>
  model.pivots.flatMap(({ stacks }) => stacks).find((stack) => stack.id === id)!;

describe('lay the row', () => {
  test('there is something to lay on every demo model', () => {
    expect(new Set(LAYS.map(({ model }) => model.id)).size).toBe(MODELS.length);
    expect(LAYS.length).toBeGreaterThan(8);
  });

  test.each(LAYS)('$model.id $stackId: the row as written is right, under its other names', ({ model, stackId }) => {
    const drill = layDrill(model, stackId, 1);
    expect(drill).toEqual(layDrill(model, stackId, 1));
    const laid = judgeLaid(analysed(model), drill, asWritten(model, drill));
    expect(laid.faults).toEqual([]);
    expect(laid.findings.filter(({ severity }) => severity === 'stop')).toEqual([]);
    expect(laid.isRight).toBe(true);
  });

  const pivots = LAYS.filter(
    ({ model, pivotId }) => model.pivots.find(({ id }) => id === pivotId)!.stacks.length === 1,
  );
  test.each(LONG ? pivots : pivots.slice(0, 4))(
    '$model.id $stackId: every placement that passes is taken, and no other that was tried',
    ({ model, pivotId, stackId }) => {
      const drill = layDrill(model, stackId, 1);
      const written = asWritten(model, drill);
      const stack = stackOf(model, stackId);
      const found = placements(model, pivotId);
      const slots = stack.row.flatMap(({ id }, at) =>
        drill.start.row.some((one) => one.id === id) ? [] : [{ id, at }],
      );
      for (const { filled } of found.passing) {
        const row = [...written.row];
        for (const { row: slot, part, turned } of filled) {
          const at = slots.find(({ id }) => id === slot)!.at;
          const from = stack.row.findIndex((entry) => entry.part === part);
          const { turned: _turned, ...entry } = written.row[from]!;
          row[at] = { ...entry, id: `loose-at-${at}`, ...(turned ? { turned: true } : {}) };
        }
        expect(judgeLaid(analysed(model), drill, { ...written, row }).isRight).toBe(true);
      }
    },
  );

  test('whatever is laid, it is right exactly where the solve passes it and all the rest is as it must be', () => {
    let right = 0;
    let wrong = 0;
    for (const seed of seeds(30)) {
      const draw = random(seed);
      const { model, stackId } = draw.pick(LAYS);
      const drill = layDrill(model, stackId, seed);
      const written = asWritten(model, drill);
      const loose = drill.start.out.map(({ entry }) => entry).filter(() => draw.chance(0.7));
      const row = [...drill.start.row];
      for (const entry of loose) row.splice(draw.whole(0, row.length), 0, entry);
      const answer: LayAnswer = draw.chance(0.3)
        ? written
        : { ...written, row, axle: draw.pick(drill.axles), from: draw.pick(['drive', 'non-drive']) };
      const laid = judgeLaid(analysed(model), drill, answer);
      const passes = laid.verdict !== 'faulty';
      expect(laid.isRight, `seed ${seed}`).toBe(passes && laid.faults.length === 0);
      expect(laid.verdict === 'faulty', `seed ${seed}`).toBe(
        laid.findings.some(({ severity }) => severity === 'stop') || laid.analysis === undefined,
      );
      if (laid.isRight) right += 1;
      else wrong += 1;
      // Nothing that an apprentice is given calls a part by the name that tells where it goes.
      const given = Object.entries(drill.model.parts).filter(([id]) => id.startsWith('practice-'));
      for (const [, part] of given) {
        expect(part.name).toMatch(/^[A-Z][a-z -]+ [A-Z]$/);
        expect(wordTold(part)).toMatch(/\d/);
      }
      expect(drill.start.out.every(({ entry }) => given.some(([id]) => id === entry.part))).toBe(true);
      for (const { id } of drill.start.out.map(({ entry }) => entry)) expect(id).toMatch(/^loose-\d+$/);
    }
    expect(Math.min(right, wrong)).toBeGreaterThan(2);
  });

  test('each thing beside the row is held against what it must be', () => {
    const model = MODELS.find(({ id }) => id === 'class-rig')!;
    const { stackId } = layStacks(model)[0]!;
    const drill = layDrill(model, stackId, 7);
    const written = asWritten(model, drill);
    const faultsOf = (change: Partial<LayAnswer>): string[] => {
      const { faults, isRight } = judgeLaid(analysed(model), drill, { ...written, ...change });
      expect(isRight).toBe(false);
      for (const fault of faults) expect(wordLayFault(fault)).toMatch(/^[A-Z].*\.$/);
      return faults.map(({ what }) => what);
    };
    expect(faultsOf({ treatment: 'threadlocked' })).toEqual(['treatment']);
    expect(faultsOf({ greased: ['axle'] })).toEqual(['grease']);
    expect(faultsOf({ turned: 'tip' })).toEqual(['no-tool']);
    const late: Work[] = ['clean', 'grease', 'push', 'start', 'treat', 'torque', 'check'];
    expect(faultsOf({ order: late })).toEqual(['order']);
    // The nut can be turned as well, and the work done in another order that serves.
    const other = judgeLaid(analysed(model), drill, {
      ...written,
      turned: 'receiver',
      order: ['grease', 'clean', 'treat', 'push', 'start', 'torque', 'check'],
    });
    expect(other.isRight).toBe(true);
  });

  test('the work in the order of our own plan is taken', () => {
    const WORK_OF: Readonly<Record<string, Work>> = {
      'clean-thread': 'clean',
      grease: 'grease',
      'axle-home': 'push',
      threadlock: 'treat',
      'start-receiver': 'start',
      torque: 'torque',
      'free-check': 'check',
    };
    const model = MODELS.find(({ id }) => id === 'class-rig')!;
    const { stackId } = layStacks(model)[0]!;
    const steps = planned(model).steps.flatMap(({ kind, stackId: at }) =>
      at === stackId && WORK_OF[kind] ? [WORK_OF[kind]] : [],
    );
    const order = [...new Set([...steps.filter((work) => work === 'clean'), 'treat' as const, ...steps])].sort(
      (a, b) =>
        (steps.lastIndexOf(a) < 0 ? 0 : steps.lastIndexOf(a)) - (steps.lastIndexOf(b) < 0 ? 0 : steps.lastIndexOf(b)),
    );
    expect(order.length).toBeGreaterThan(4);
    const drill = layDrill(model, stackId, 3);
    const laid = judgeLaid(analysed(model), drill, { ...asWritten(model, drill), order });
    expect(laid.faults).toEqual([]);
  });
});

describe('know it at sight', () => {
  test.each(MODELS)(
    '$id: every question has choices that differ, at least one of them right, and one wrong',
    (model) => {
      const analysis = analysed(model);
      const kinds = new Set<string>();
      const plan = model.id === 'class-rig' || LONG ? planned(model) : undefined;
      for (const seed of seeds(8)) {
        for (const kind of SIGHT_KINDS) {
          const question = sightQuestion(analysis, kind, seed, plan);
          if (!question) continue;
          kinds.add(kind);
          expect(question).toEqual(sightQuestion(analysis, kind, seed, plan));
          const right = rightOf(analysis, question, plan);
          const label = `${kind}, seed ${seed}`;
          expect(right.length, label).toBeGreaterThan(0);
          expect(right.length, label).toBeLessThan(question.choices.length);
          const words = question.choices.map((choice) => wordSightChoice(choice, analysis));
          expect(new Set(words).size, label).toBe(words.length);
          const asked = wordQuestion(question, analysis);
          expect(asked, label).toMatch(/\?$/);
          if (kind === 'spacer' || kind === 'turn')
            for (const word of words) expect(asked.toLowerCase(), label).not.toContain(word.toLowerCase());
          expect(wordSightWhy(question, analysis)).toMatch(/\.$/);
          // What is given to be asked says nothing more than what is asked.
          const GIVEN = ['kind', 'pivotId', 'stackId', 'row', 'torque_Nm', 'adapter', 'target', 'choices'];
          expect(Object.keys(question).filter((key) => !GIVEN.includes(key))).toEqual([]);
          const own = new Set(question.choices.map((choice) => Object.keys(choice).join(' ')));
          expect(own.size, label).toBe(1);
        }
      }
      expect(kinds.size).toBeGreaterThan(2);
    },
  );
});

describe('find the mistake', () => {
  const PIVOTS = MODELS.flatMap((model) => model.pivots.map(({ id }) => ({ model, pivotId: id })));

  test('each pivot has one at every level, quieter or two at a time; it is found by what it leaves, and by nothing else', () => {
    const counts = new Set<number>();
    const silent = { 1: 0, 2: 0 };
    for (const seed of seeds(6)) {
      const draw = random(seed);
      const { model, pivotId } = draw.pick(PIVOTS);
      const level = 1 + (seed % FIND_LEVELS);
      const label = `seed ${seed}: ${model.id} ${pivotId}, level ${level}`;
      const drill = findDrill(model, pivotId, seed, level)!;
      expect(drill, label).toEqual(findDrill(model, pivotId, seed, level));
      counts.add(drill.count);
      const { mistake, verdict, assembly, isSilent } = drill.hidden;
      if (level < FIND_LEVELS && isSilent) silent[level as 1 | 2] += 1;
      expect([verdict, assembly.goes !== 'no'], label).toEqual(['faulty', true]);
      const hidden = mistake.of ?? [mistake];
      expect(
        hidden.every((one) => drill.causes.some(({ id }) => id === one.id)),
        label,
      ).toBe(true);
      expect(isFound(model, drill, hidden), label).toBe(true);
      expect(isFound(model, drill, []), label).toBe(false);
      // Whatever else is named is right only where it leaves the very same build.
      const build = (named: readonly Mistake[]): string =>
        JSON.stringify(
          named
            .reduce(applyMistake, model)
            .pivots.find(({ id }) => id === pivotId)!
            .stacks.map(({ axle, receiver, from, torque_Nm, row }) => [axle, receiver, from, torque_Nm, row]),
        );
      for (const cause of drill.causes)
        if (isFound(model, drill, [cause])) expect(build([cause]), label).toBe(build(hidden));
      expect(drill.par_min, label).toBeGreaterThan(0);
      expect(drill.par_min, label).toBeLessThan(60);
      // No check names the cause, and every one says something.
      for (const check of drill.checks) {
        const told = wordBenchAnswer(benchAnswer(model, drill.hidden, check), analysed(model));
        expect(told).toMatch(/^[A-Z].*\.$/);
        expect(wordBenchCheck(check, analysed(model))).toMatch(/^[A-Z]/);
        for (const one of hidden) expect(told).not.toContain(wordMistake(one, analysed(model)));
        expect(minutesOf(check, new Set())).toBeGreaterThan(0);
      }
    }
    expect(silent[1]).toBeLessThanOrEqual(silent[2]);
    expect([...counts].sort()).toEqual([1, 2]);
  });

  test('every single mistake of the class rig can be told from every other by some check, or leaves the same build', () => {
    const model = MODELS.find(({ id }) => id === 'class-rig')!;
    const drill = findDrill(model, 'rig-pivot', 1, 1)!;
    const work = beginMistakes(model);
    const rows = drill.causes
      .map((mistake) => tryMistake(work, mistake))
      .filter(({ verdict, assembly }) => verdict === 'faulty' && assembly.goes !== 'no');
    const told = rows.map((row) => JSON.stringify(drill.checks.map((check) => benchAnswer(model, row, check))));
    expect(rows.length).toBeGreaterThan(5);
    expect(new Set(told).size).toBe(rows.length);
  });

  test('a stack is opened once', () => {
    const check = { do: 'measure', stack: 'a', row: 'b' } as const;
    expect(minutesOf(check, new Set()) - minutesOf(check, new Set(['a']))).toBe(PRACTICE_LIMITS.open_min.value);
    expect(minutesOf({ do: 'turn' }, new Set())).toBe(PRACTICE_LIMITS.turn_min.value);
  });
});

describe('lessons', () => {
  const LESSONS = readdirSync(LESSON_FOLDER).map((file) => {
    const reading = readEnvelope(readFileSync(join(LESSON_FOLDER, file), 'utf8'), 'lesson');
    if (!reading.ok) throw new Error(`${file}: ${JSON.stringify(reading.trouble)}`);
    expect(file).toBe(`${reading.body.id}.json`);
    return reading.body;
  });

  test('three ship, each about a model that is there', () => {
    expect(LESSONS.map(({ id }) => id).sort()).toEqual(['bearing-fitted', 'turned-at-its-tip', 'why-a-spacer']);
    for (const lesson of LESSONS) {
      const model = MODELS.find(({ id }) => id === lesson.model)!;
      expect(lessonTroubles(lesson, model), lesson.id).toEqual([]);
      expect(lesson.cards.some(({ show }) => show === 'question')).toBe(true);
    }
  });

  test('say it in short sentences and in words of the workshop', () => {
    for (const { id, cards } of LESSONS)
      for (const card of cards) {
        const texts = [card.text, card.notes ?? '', card.show === 'question' ? card.why : ''];
        for (const sentence of texts.flatMap((text) => text.split(/(?<=[.?!]) /)).filter((text) => text !== '')) {
          expect(wordsOf(sentence), `${id}: ${sentence}`).toBeLessThanOrEqual(30);
          for (const pattern of Object.keys(BANNED)) expect(sentence).not.toMatch(new RegExp(pattern, 'i'));
        }
      }
  });

  test('what the tip lesson says of the axle is what the model says', () => {
    const fjordside = analysed(MODELS.find(({ id }) => id === 'fjordside-150')!);
    const { tightening, from } = fjordside.pivots.find(({ id }) => id === 'rocker-frame')!.stacks[0]!;
    expect([tightening.turned, tightening.turn, tightening.stand, from]).toEqual([
      'tip',
      'anticlockwise',
      'drive',
      'non-drive',
    ]);
    expect(tightening.held?.what).toBe('receiver');
  });

  test('what a card shows stays until another card shows otherwise; the class gets no notes, and no answer too early', () => {
    const lesson: Lesson = {
      id: 'one',
      title: 'One',
      model: 'class-rig',
      cards: [
        { show: 'words', text: 'Begin.', notes: 'not for the class' },
        { show: 'pivot', pivot: 'rig-pivot', text: 'Here.' },
        { show: 'step', step: 3, text: 'Step.' },
        { show: 'cut', cut: true, text: 'Cut.' },
        { show: 'question', text: 'Which?', choices: ['this', 'that'], right: 2, why: 'because', notes: 'hush' },
        { show: 'apart', apart: 0, text: 'Together.' },
      ],
    };
    const view = (at: number) => Object.values(lessonView(lesson, at));
    expect(view(0)).toEqual([undefined, undefined, 0, undefined, false]);
    expect(view(1)).toEqual(['rig-pivot', undefined, 1, undefined, false]);
    expect(view(4)).toEqual(['rig-pivot', undefined, 1, 2, true]);
    expect(view(5)).toEqual(['rig-pivot', undefined, 0, undefined, true]);
    const all = lesson.cards.map((_, at) => JSON.stringify(cardShown(lesson, at, false))).join('\n');
    expect(all).not.toMatch(/not for the class|hush|because|right/);
    expect(cardShown(lesson, 4, true).answer).toEqual({ right: 1, why: 'because' });
    const rig = MODELS.find(({ id }) => id === 'class-rig')!;
    expect(lessonTroubles(lesson, rig)).toEqual([]);
    const broken: Lesson = {
      ...lesson,
      cards: [
        { show: 'step', step: 1, text: 'Too soon.' },
        { show: 'pivot', pivot: 'nowhere', text: 'Where?' },
        { show: 'pivot', pivot: 'rig-pivot', stack: 'other', text: 'Which?' },
      ],
    };
    expect(lessonTroubles(broken, rig).map(({ card, what }) => `${card} ${what}`)).toEqual([
      '0 no-pivot',
      '1 pivot',
      '2 stack',
    ]);
  });
});

test('the grade follows from tries and minutes alone', () => {
  const at = (tries: number, minutes: number, isRight = true) => gradeOf({ tries, isRight, minutes, par_min: 4 });
  expect([at(1, 1), at(1, 4), at(1, 7), at(2, 1), at(3, 1), at(1, 1, false)]).toEqual([
    'easy',
    'good',
    'hard',
    'hard',
    'again',
    'again',
  ]);
  const order = [0.5, 2, 3, 6, 8].map((minutes) => GRADES.indexOf(at(1, minutes)));
  expect(order).toEqual([...order].sort((a, b) => b - a));
});
