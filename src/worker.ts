/**
 * The worker: long computing away from the page, a stretch at a time, with progress and an end whenever it is asked
 * for.
 *
 * One message in starts a piece of work, one that says `stop` ends it; out come `progress` and, last, `done` or
 * `failed`. Work is a generator: each yield is a place where it may be left. Between stretches the worker looks whether
 * it was told to stop. New work is one line in `WORKS` and one in `Works`.
 */
import {
  asker,
  comparisonsOf,
  proofOf,
  checkTolerances,
  comparing,
  frameAt,
  motionsOf,
  pivotDrags,
  settingUpFelt,
  placements,
  planning,
  planOf,
  accessOf,
  stepsInOrder,
  stretchOf,
  stripOf,
  torqueCards,
  travelling,
  tryMistakes,
  watching,
  type Analysis,
  type Follow,
  type Diagnosing,
  type Frame,
  type LinkageModel,
  type PivotDrag,
  type Placements,
  type Proof,
  type Plan,
  type PlanStep,
  type Access,
  type Asked,
  type Draft,
  type Silent,
  type StepMotion,
  type Strip,
  type StripStep,
  type ToleranceQuestion,
  type ToleranceReport,
  type TorqueCard,
  type TravelResult,
  type TriedMistake,
  type VariantOrder,
} from '../shared/index.ts';
import { Kept } from './content.ts';

/** What each kind of work takes and gives. */
export interface Works {
  readonly mistakes: {
    readonly asked: { readonly model: LinkageModel; readonly pivot?: string; readonly two: boolean };
    readonly given: { readonly rows: readonly TriedMistake[]; readonly placements: readonly Placements[] };
  };
  /** What every cause at a pivot would give to feel. */
  readonly felt: { readonly asked: OfBuild & { readonly pivotId: string }; readonly given: Diagnosing };
  readonly tolerance: {
    readonly asked: { readonly model: LinkageModel; readonly question: ToleranceQuestion };
    readonly given: ToleranceReport;
  };
  /** Of every stack of a pivot. */
  readonly 'torque-cards': {
    readonly asked: OfBuild & { readonly pivotId: string };
    readonly given: readonly TorqueCard[];
  };
  /** With what tightening leaves in each pivot, for the free check. */
  readonly travel: { readonly asked: OfBuild; readonly given: TravelResult & { readonly drags: readonly PivotDrag[] } };
  /** A good order at once, and each better one on the way. */
  readonly 'order-plan': { readonly asked: OfBuild; readonly given: { readonly plan: Plan; readonly strip: Strip } };
  readonly 'order-own': {
    readonly asked: OfBuild & { readonly tasks: readonly string[] };
    readonly given: { readonly steps: readonly PlanStep[]; readonly strip: Strip };
  };
  readonly 'order-access': { readonly asked: OfBuild & { readonly id: string }; readonly given: Access };
  /**
   * Moments of one step of a run, evenly from its begin to its end: the first and the last alone where nothing moves.
   */
  readonly 'order-frames': {
    readonly asked: OfBuild & { readonly source: RunSource; readonly on: readonly string[]; readonly index: number };
    readonly given: StepFrames;
  };
  /** What at a bike goes wrong without a sign, and so is countersigned. */
  readonly 'job-silent': { readonly asked: { readonly model: LinkageModel }; readonly given: Silent };
  /** What settles most of a draft. */
  readonly 'measure-next': { readonly asked: { readonly draft: Draft }; readonly given: Asked };
  /** What of a draft can be compared, by pivot. */
  readonly 'measure-compare': {
    readonly asked: { readonly draft: Draft };
    readonly given: ReturnType<typeof comparisonsOf>;
  };
  /** What is left until a draft can be trusted. */
  readonly 'measure-proof': { readonly asked: { readonly draft: Draft }; readonly given: Proof };
  readonly 'order-variants': {
    readonly asked: { readonly model: LinkageModel };
    readonly given: readonly VariantOrder[];
  };
}
/**
 * A run of steps as the page goes through it: of the recommended order, an own one, or what it takes to reach a part.
 */
export interface RunSource {
  readonly of: 'plan' | 'own' | 'access';
  /** Whose order, where it is the plan's. */
  readonly follow?: Follow;
  readonly way: 'build' | 'strip';
  /** Works of an own order. */
  readonly tasks?: readonly string[];
  /** What is to be reached. */
  readonly id?: string;
}
/** How a step goes: its moments, and how long a way it is, 0 (nothing moves) to 1. */
export interface StepFrames {
  readonly frames: readonly Frame[];
  readonly stretch: number;
}
/** A build, and whose order it is about. */
interface OfBuild {
  readonly analysis: Analysis;
  readonly follow?: Follow;
}
export type WorkKind = keyof Works;

/** A message to the worker; `id` is the page's own count. */
export type Ask =
  | { readonly [K in WorkKind]: { readonly id: number; readonly kind: K; readonly asked: Works[K]['asked'] } }[WorkKind]
  | { readonly id: number; readonly kind: 'stop' };

/** A message from the worker. */
export type Answer =
  | {
      readonly id: number;
      readonly what: 'progress';
      readonly done: number;
      readonly total: number;
      /** What there is so far, where something better may come. */
      readonly given?: Works[WorkKind]['given'];
    }
  | { readonly id: number; readonly what: 'done'; readonly given: Works[WorkKind]['given'] }
  | { readonly id: number; readonly what: 'failed'; readonly message: string };

interface Step<G = never> {
  readonly done: number;
  readonly total: number;
  readonly given?: G;
}
type Work<K extends WorkKind> = (asked: Works[K]['asked']) => Generator<Step<Works[K]['given']>, Works[K]['given']>;

const WORKS: { readonly [K in WorkKind]: Work<K> } = {
  mistakes: tryAll,
  felt: (asked) => settingUpFelt(planned(asked), asked.pivotId),
  tolerance: ({ model, question }) => checkTolerances(model, question),
  'torque-cards': atOnce(({ analysis, pivotId }) => torqueCards(analysis, pivotId)),
  travel: swing,
  'order-plan': plan,
  'order-own': atOnce((asked) => ownOrder(planned(asked), asked.tasks)),
  'order-access': atOnce((asked) => accessOf(planned(asked), asked.id)),
  'order-frames': atOnce(framesOf),
  'measure-next': atOnce(({ draft }) => askNext(draft)),
  'measure-compare': atOnce(({ draft }) => comparisonsOf(draft)),
  'measure-proof': atOnce(({ draft }) => proofOf(draft)),
  'job-silent': ({ model }) => watching(model),
  'order-variants': ({ model }) => inSteps(comparing(model)),
};

/** Remembers the pivots that the last reading left as they were. */
const askNext = asker();

/** Work that has no place where it could be left. */
function atOnce<A, G>(work: (asked: A) => G): (asked: A) => Generator<Step, G> {
  return function* (asked) {
    yield { done: 0, total: 1 };
    return work(asked);
  };
}

/** Plans of the sets last asked for, and of the one that is being bettered what there is so far. */
const plans = new Kept<Plan>(8);
const soFar = new Kept<Plan>(1);
/** A plan that is there sooner than this is not shown before it is the best, ms. */
const SOON_ms = 400;

const planKey = ({ analysis, follow = 'ours' }: OfBuild): string => `${follow} ${analysis.key}`;

function planned(asked: OfBuild): Plan {
  const key = planKey(asked);
  return plans.get(key) ?? soFar.get(key) ?? plans.of(key, () => planOf(asked.analysis, asked));
}

function* plan(asked: OfBuild): ReturnType<Work<'order-plan'>> {
  const key = planKey(asked);
  const given = (plan: Plan) => ({ plan, strip: stripOf(plan) });
  const known = plans.get(key);
  if (known) return given(known);
  const work = planning(asked.analysis, asked);
  const begun = performance.now();
  let better: (() => Plan) | undefined;
  let step = work.next();
  for (; !step.done; step = work.next()) {
    better = step.value.better ?? better;
    const at = { done: Math.round(100 * step.value.share), total: 100 };
    if (!better || asked.follow === 'makers' || performance.now() - begun < SOON_ms) yield at;
    else {
      soFar.set(key, better());
      better = undefined;
      yield { ...at, given: given(soFar.get(key)!) };
    }
  }
  plans.set(key, step.value);
  return given(step.value);
}

function* swing({ analysis }: OfBuild): ReturnType<Work<'travel'>> {
  const result = yield* inSteps(travelling(analysis.model, { analysis }));
  return { ...result, drags: pivotDrags(analysis) };
}

/** Work that says how far it is, 0 to 1. */
function* inSteps<G>(work: Generator<number, G>): Generator<Step, G> {
  let step = work.next();
  for (; !step.done; step = work.next()) yield { done: Math.round(100 * step.value), total: 100 };
  return step.value;
}

function ownOrder(plan: Plan, tasks: readonly string[]): Works['order-own']['given'] {
  const steps = stepsInOrder(plan, tasks);
  return { steps, strip: stripOf({ ...plan, steps }) };
}

function* tryAll({ model, pivot, two }: Works['mistakes']['asked']): Generator<Step, Works['mistakes']['given']> {
  const rows = yield* tryMistakes(model, { two, ...(pivot === undefined ? {} : { pivot }) });
  const found = model.pivots
    .filter(({ id }) => pivot === undefined || id === pivot)
    .map(({ id }) => placements(model, id));
  return { rows, placements: found };
}

/** Motions of the runs last asked for. */
const runs = new Kept<(index: number) => StepMotion>(6);
/**
 * Moments of a step: at its pace more than a screen draws of it on a slow machine, and few enough to be sent at once.
 */
const MOMENTS = 48;

function framesOf(asked: Works['order-frames']['asked']): StepFrames {
  const motion = motionsIn(asked)(asked.index);
  const stretch = stretchOf(motion);
  const count = stretch > 0 ? MOMENTS : 1;
  return { stretch, frames: Array.from({ length: count + 1 }, (_, k) => frameAt(motion, k / count)) };
}

function motionsIn(asked: Works['order-frames']['asked']): (index: number) => StepMotion {
  const { source, analysis, on } = asked;
  const { follow = 'ours' } = source;
  const key = `${JSON.stringify(source)} ${analysis.key}`;
  return runs.of(key, () => motionsOf(analysis, runSteps(planned({ analysis, follow }), source), on));
}

function runSteps(
  plan: Plan,
  { of, way, tasks, id }: RunSource,
): { readonly step: PlanStep; readonly strip?: StripStep }[] {
  if (of === 'access' && id !== undefined) {
    const { strip, back } = accessOf(plan, id);
    return [...taken(strip), ...back.map((step) => ({ step }))];
  }
  const own = tasks ? ownOrder(plan, tasks) : { steps: plan.steps, strip: stripOf(plan) };
  return way === 'strip' ? taken(own.strip.steps) : own.steps.map((step) => ({ step }));
}

function taken(strip: readonly StripStep[]): { readonly step: PlanStep; readonly strip: StripStep }[] {
  return strip.map((one) => ({ step: one.step, strip: one }));
}

/** Computing without a look at the messages, ms: short enough for a stop to be felt at once. */
const STRETCH_ms = 40;
const stopped = new Set<number>();

/** The part of a worker's own scope that is used here; the page's types know only its window. */
interface Scope {
  onmessage: ((event: { readonly data: Ask }) => void) | null;
  postMessage: (answer: Answer) => void;
}
const scope = self as unknown as Scope;

scope.onmessage = ({ data }) => {
  if (data.kind === 'stop') stopped.add(data.id);
  else run(data.id, begin(data));
};

function begin<K extends WorkKind>({
  kind,
  asked,
}: {
  readonly kind: K;
  readonly asked: Works[K]['asked'];
}): Generator<Step<Works[K]['given']>, Works[K]['given']> {
  return WORKS[kind](asked);
}

function run(id: number, work: Generator<Step<Works[WorkKind]['given']>, Works[WorkKind]['given']>): void {
  if (stopped.delete(id)) return;
  const until = performance.now() + STRETCH_ms;
  try {
    for (let step = work.next(); ; step = work.next()) {
      if (step.done) return scope.postMessage({ id, what: 'done', given: step.value });
      if (step.value.given === undefined && performance.now() < until) continue;
      scope.postMessage({ id, what: 'progress', ...step.value });
      setTimeout(() => run(id, work), 0);
      return;
    }
  } catch (error) {
    scope.postMessage({ id, what: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
}
