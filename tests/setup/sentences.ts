/**
 * Every sentence that the program says of the demo models, each once: findings, faces, turning, mistakes, torque,
 * tolerances, travel, the tray, and the build order with its strip-down and access.
 *
 * Two sentences that differ in numbers, or in names of parts, pivots and members alone, are one: the first stands for
 * both. What a mistake makes of a pivot is said too, since a demo as written has little to complain of.
 */
import {
  accessOf,
  accessTargets,
  benchAnswer,
  CAUTIONS,
  checkTolerances,
  compareVariants,
  DEFAULT_SETTING,
  fall,
  findDrill,
  GREASED,
  listed,
  nextReading,
  pivotDrags,
  placements,
  placesOf,
  runShock,
  SIGHT_KINDS,
  sightQuestion,
  sortTray,
  stripOf,
  torqueCards,
  torqueForClamp,
  torqueStack,
  setUpTorque,
  travel,
  asMistaken,
  wordBenchAnswer,
  wordBenchCheck,
  wordLayFault,
  wordQuestion,
  wordSightChoice,
  wordSightWhy,
  WORKS,
  wordAccess,
  wordAlternative,
  wordBecause,
  wordChain,
  wordCost,
  wordCount,
  wordFacing,
  wordFall,
  wordFinding,
  wordFriction,
  wordHabit,
  wordLimit,
  wordLowPivots,
  wordMakersOrder,
  wordMistakeFinding,
  wordNext,
  wordPartPlace,
  wordPlacements,
  wordPlanStep,
  wordRanking,
  wordRecommended,
  wordSampling,
  wordSetting,
  wordShims,
  wordShortForm,
  wordStripStep,
  wordTorqueForClamp,
  wordWeakest,
  wordTravelFeel,
  wordTravelFinding,
  wordTrayRow,
  wordTried,
  wordTurn,
  wordVariantOrder,
  wordWindow,
  wordWorn,
  wordWrench,
  type Analysis,
  type CalliperReading,
  type LayFault,
  type LinkageModel,
  type ToleranceQuestion,
  type Tray,
} from '../../shared/index.ts';
import { analysed, plannedOnce, triedOnce } from './worked.ts';

/** A sentence and the room of the program that says it. */
export interface Sentence {
  readonly where: string;
  readonly text: string;
}

/** Ends of sentences; a point behind a number or `no.` ends none. */
const END = /(?<=(?<!\bno)[.!?])\s+(?=["“]?[\p{Lu}\d])/u;

/** Words of a sentence, a number with its sign and a unit each as one. */
export function wordsOf(sentence: string): number {
  return sentence.split(/\s+/).filter((word) => /[\p{L}\p{N}]/u.test(word)).length;
}

/** All that is said of a model; with `every`, of its mistakes and of what is got at only every so-manieth. */
export function* sentencesOf(model: LinkageModel, every = 1): Generator<Sentence> {
  for (const { where, text } of saidOf(model, every))
    for (const sentence of text.replace(/^\d+\. /, '').split(END)) if (sentence !== '') yield { where, text: sentence };
}

/** Sentences of some models, each once. */
export function distinct(models: readonly LinkageModel[]): Sentence[] {
  const seen = new Map<string, Sentence>();
  for (const model of models) {
    const names = namesOf(model);
    for (const sentence of sentencesOf(model)) {
      const bare = names
        .reduce((text, name) => text.replaceAll(name, '·'), sentence.text.toLowerCase())
        .replace(/\((?:non-drive|drive|middle|[^()]*, (?:non-drive|drive))\)/g, '')
        .replace(/\bnon-drive\b/g, 'drive')
        .replace(/[−+±]?\d+(?:[.,]\d+)*/g, '#')
        .replace(/·(?:[\s,;/]*(?:and|boss|of|#|mm|·))*/g, '·');
      if (!seen.has(bare)) seen.set(bare, sentence);
    }
  }
  return [...seen.values()];
}

/** Names in a model, the longest first, so that none is cut by a shorter one. */
function namesOf({ parts, members, pivots, obstacles }: LinkageModel): string[] {
  const things = [...Object.values(parts), ...Object.values(members), ...pivots, ...(obstacles ?? [])];
  const stacks = pivots.flatMap(({ stacks: own }) => own.flatMap(({ name }) => name ?? []));
  const all = [...things.map(({ name }) => name), ...stacks];
  return [...new Set([...all, ...all.map((name) => name.split(',')[0]!)].map((name) => name.toLowerCase()))].sort(
    (a, b) => b.length - a.length,
  );
}

function* saidOf(model: LinkageModel, every: number): Generator<Sentence> {
  const some = <T>(list: readonly T[]): T[] => list.filter((_, k) => k % every === 0);
  const say = (
    where: string,
    ...texts: readonly (string | { title: string; text: string } | undefined)[]
  ): Sentence[] =>
    texts.flatMap((text) =>
      text === undefined
        ? []
        : typeof text === 'string'
          ? [{ where, text }]
          : [
              { where, text: text.title },
              { where, text: text.text },
            ],
    );
  yield* say('cautions', ...Object.values(CAUTIONS));
  const written = analysed(model);
  yield* practised(written, say);
  const all = [written, ...(model.variants ?? []).map(({ id }) => analysed(model, id))];
  for (const analysis of all) {
    for (const finding of [...analysis.findings, ...analysis.pivots.flatMap(({ findings }) => findings)])
      yield* say('check', wordFinding(finding, analysis));
    for (const stack of analysis.pivots.flatMap(({ stacks }) => stacks)) {
      yield* say('check', wordTurn(stack.tightening));
      yield* say('check', ...stack.items.map((item) => wordFacing(item, analysis)));
    }
    yield* ordered(analysis, some, say);
  }
  for (const order of compareVariants(model)) {
    const { title, text, lines } = wordVariantOrder(order, written);
    yield* say('order', title, text, ...lines);
  }
  yield* mistaken(model, written, some, say);
  yield* tightened(model, written, some, say);
  yield* travelled(model, written, say);
  yield* sorted(model, written, say);
}

type Some = <T>(list: readonly T[]) => T[];
type Say = (where: string, ...texts: readonly (string | { title: string; text: string } | undefined)[]) => Sentence[];

function* ordered(analysis: Analysis, some: Some, say: Say): Generator<Sentence> {
  const plan = plannedOnce(analysis);
  yield* say('order', wordRecommended(plan), wordCount(plan.orders), wordCost(plan.cost));
  for (const step of plan.steps) {
    const { title, text, cautions } = wordPlanStep(step, analysis);
    yield* say('build step', title, text);
    yield* say('caution', ...cautions);
    yield* say('reason', ...step.because.map((one) => wordBecause(one, analysis)));
  }
  for (const step of stripOf(plan).steps) {
    const { title, text, cautions } = wordStripStep(step, analysis);
    yield* say('strip step', title, text);
    yield* say('caution', ...cautions);
  }
  if (plan.makersOrder) {
    const { title, text, lines } = wordMakersOrder(plan.makersOrder, analysis);
    yield* say('order', title, text, ...lines);
  }
  for (const { id, kind } of some(accessTargets(plan))) {
    if (kind === 'unit' && analysis.model.members[id]?.kind === 'frame') continue;
    const { title, text, notes } = wordAccess(accessOf(plan, id), analysis);
    yield* say('access', title, text, ...notes);
  }
}

function* mistaken(model: LinkageModel, written: Analysis, some: Some, say: Say): Generator<Sentence> {
  for (const { id } of model.pivots) {
    const { title, text, others } = wordPlacements(placements(model, id), written);
    yield* say('mistakes', title, text, ...others);
  }
  for (const row of some(triedOnce(model))) {
    const { title, verdict, does, bench, trail, check, elsewhere } = wordTried(row, written);
    yield* say('mistakes', title, verdict, ...does, bench, trail, check, elsewhere);
    const told = asMistaken(written, row.mistake);
    yield* say('findings of mistakes', ...row.findings.map((finding) => wordMistakeFinding(finding, told)));
  }
}

function* tightened(model: LinkageModel, written: Analysis, some: Some, say: Say): Generator<Sentence> {
  for (const { id } of model.pivots) {
    const setUp = setUpTorque(written.resolved, id);
    for (const card of torqueCards(written, id)) {
      const limits = [...(card.window.least ? [card.window.least] : []), ...card.window.most];
      yield* say('torque', wordFriction(card), wordShortForm(card.shortForm, card.tightening), wordWindow(card.window));
      yield* say('torque', ...limits.map((limit) => wordLimit(limit, written)), wordWrench(card.wrench));
      if (card.isAgainstHabit) yield* say('torque', wordHabit(card));
      for (const clamp_N of [1000, 100_000])
        yield* say(
          'torque',
          wordTorqueForClamp(
            torqueForClamp(torqueStack(setUp, card.stackId), clamp_N),
            clamp_N,
            wordWeakest(card.stackId, written),
          ),
        );
    }
    for (const off_mm of some([-0.6, 0, 0.25, 0.6])) yield* toleranced(model, id, off_mm, written, say);
  }
}

/** Tolerances of a pivot whose first loose spacer was measured so much off its length. */
function* toleranced(model: LinkageModel, pivotId: string, off_mm: number, written: Analysis, say: Say) {
  const question: ToleranceQuestion = { pivotId, sets: 60 };
  const first = toEnd(checkTolerances(model, { ...question, sets: 1 })).dimensions.find(
    ({ kind }) => kind === 'length',
  );
  const measured_mm = first && off_mm !== 0 ? { [first.id]: first.nominal_mm + off_mm } : {};
  const { chains, sampling, dimensions, shims } = toEnd(checkTolerances(model, { ...question, measured_mm }));
  yield* say('tolerances', ...chains.map((chain) => wordChain(chain, written)));
  yield* say('tolerances', wordSampling(sampling, dimensions, written));
  yield* say('tolerances', ...shims.map((advice) => wordShims(advice, written)));
}

function toEnd<T>(run: Generator<unknown, T>): T {
  for (;;) {
    const step = run.next();
    if (step.done === true) return step.value;
  }
}

function* travelled(model: LinkageModel, written: Analysis, say: Say): Generator<Sentence> {
  const drags = pivotDrags(written);
  const heavy = drags.map((drag) => ({ ...drag, drag_Nm: 50 }));
  const shocks = model.shock ? [{}, { eyeToEye_mm: 230, stroke_mm: 60 }, { eyeToEye_mm: 120, stroke_mm: 30 }] : [{}];
  for (const options of shocks) {
    const { travel: result } = travel(model, options);
    yield* say('travel', ...result.findings.map((finding) => wordTravelFinding(finding, model)));
    yield* say('travel', wordTravelFeel(result, model), ...wordRanking(result, model), wordLowPivots(result, model));
  }
  const run = model.shock ? runShock(model, 21) : undefined;
  if (run) for (const held of [drags, heavy]) yield* say('travel', wordFall(fall(run, held), held, model));
}

/** A tray with every part as listed, worn by a little, by much, bare of most sizes, and one that belongs to no bike. */
function readingsOf(model: LinkageModel): CalliperReading[] {
  const off = (by_mm: number, only?: string): CalliperReading[] =>
    listed(model).map(({ kind, sizes }) => ({
      count: 1,
      ...(kind === undefined ? {} : { kind }),
      ...Object.fromEntries(
        Object.entries(sizes)
          .filter(([name]) => name.endsWith('_mm') && (only === undefined || name === only))
          .map(([name, size]) => [name, size.nominal + (name === 'length_mm' ? by_mm : 0)]),
      ),
    }));
  return [...off(0), ...off(-0.08), ...off(-0.3), ...off(0, 'length_mm'), { count: 1, outside_mm: 59, bore_mm: 41 }];
}

function* practised(written: Analysis, say: Say): Generator<Sentence> {
  const { model } = written;
  for (const kind of SIGHT_KINDS) {
    const question = sightQuestion(written, kind, 1);
    if (!question) continue;
    yield* say('practice', wordQuestion(question, written), wordSightWhy(question, written));
    yield* say('practice', ...question.choices.map((choice) => `${wordSightChoice(choice, written)}.`));
  }
  const drill = findDrill(model, model.pivots[0]!.id, 1, 1);
  if (drill)
    for (const check of drill.checks)
      yield* say(
        'practice',
        `${wordBenchCheck(check, written)}.`,
        wordBenchAnswer(benchAnswer(model, drill.hidden, check), written),
      );
  const faults: readonly LayFault[] = [
    { what: 'way-shut', side: 'drive', reason: 'receiver-is-here' },
    { what: 'way-shut', side: 'drive', reason: 'thread-opens-other-side' },
    { what: 'no-tool', end: 'tip' },
    { what: 'no-hold', end: 'receiver' },
    { what: 'treatment', asked: 'threadlocked', preload_N: 5000, asked_N: 6000 },
    { what: 'grease', lacks: GREASED, needless: [] },
    { what: 'grease', lacks: [], needless: GREASED },
    ...WORKS.slice(1).map((work, k): LayFault => ({ what: 'order', late: WORKS[k]!, early: work })),
  ];
  yield* say('practice', ...faults.map(wordLayFault));
}

function* sorted(model: LinkageModel, written: Analysis, say: Say): Generator<Sentence> {
  const readings = readingsOf(model);
  const half = Math.ceil(readings.length / 5);
  const trays: Tray[] = [readings.slice(0, half), readings.slice(half, 2 * half), readings.slice(2 * half, 3 * half)]
    .concat([readings.slice(3 * half - 2), readings])
    .filter((own) => own.length > 0)
    .map((own) => sortTray(model, { readings: own, setting: DEFAULT_SETTING }));
  for (const tray of trays) {
    yield* say('tray', wordSetting(tray.setting));
    for (const row of tray.rows) {
      yield* say('tray', wordTrayRow(row, tray), ...row.alternatives.map((one) => wordAlternative(one, row, tray)));
      for (const { candidate, worn } of row.placements) {
        const { kind } = tray.candidates.get(candidate)!;
        yield* say('tray', ...worn.map((size) => wordWorn(size, kind)));
        yield* say('tray', ...placesOf(written, candidate).map((place) => `${wordPartPlace(place, written)}.`));
      }
    }
    const next = nextReading(tray);
    if (next) yield* say('tray', wordNext(next, tray));
  }
}
