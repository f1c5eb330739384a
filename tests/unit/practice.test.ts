/**
 * The drills: each of each demo model can be solved, takes exactly what the solve takes, and says nothing of its answer
 * in what the apprentice is given.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  GRADES,
  gradeOf,
  judgeLaid,
  layDrill,
  layStacks,
  placements,
  planOf,
  rightOf,
  SIGHT_KINDS,
  sightQuestion,
  WORKS,
  wordLayFault,
  wordQuestion,
  wordSightChoice,
  wordSightWhy,
  wordTold,
  type Analysis,
  type LayAnswer,
  type LayDrill,
  type LinkageModel,
  type Plan,
  type Work,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { random } from '../setup/random.ts';
import { LONG, seeds } from '../setup/series.ts';

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

/** The row as the maker writes it, laid with the parts that the drill gives. */
function asWritten(model: LinkageModel, drill: LayDrill): LayAnswer {
  const stack = stackOf(model, drill.stackId);
  const sizes = ({ name: _name, notes: _notes, count: _count, ...part }: LinkageModel['parts'][string]): string =>
    JSON.stringify(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)));
  const left = drill.start.out.map(({ entry }) => entry);
  const givenFor = (id: string): string | undefined =>
    Object.entries(drill.model.parts).find(
      ([key, part]) => key.startsWith('practice-') && sizes(part) === sizes(model.parts[id]!),
    )?.[0];
  const row = stack.row.map((entry) => {
    if (drill.start.row.some(({ id }) => id === entry.id)) return entry;
    const at = left.findIndex(({ part }) => part === givenFor(entry.part!));
    expect(at, `${drill.stackId}: a part for ${entry.id}`).toBeGreaterThanOrEqual(0);
    const [{ id, part }] = left.splice(at, 1) as [(typeof left)[number]];
    return { id, part: part!, ...(entry.turned === true ? { turned: true } : {}) };
  });
  return {
    row,
    axle: givenFor(stack.axle)!,
    ...(stack.receiver.includes('/') ? {} : { nut: givenFor(stack.receiver)! }),
    from: stack.from,
    turned: stack.turned,
    treatment: stack.thread_treatment,
    greased: [
      ...(stack.greased?.includes('axle') ? (['axle'] as const) : []),
      ...(stack.row.some(({ id, greased }) => greased === true && !drill.start.row.some((one) => one.id === id))
        ? (['spacers'] as const)
        : []),
      ...(stack.greased?.includes('receiver') ? (['receiver'] as const) : []),
    ],
    order: WORKS,
  };
}

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
