/**
 * The worker: long computing away from the page, a stretch at a time, with progress and an end whenever it is asked for.
 *
 * One message in starts a job, one that says `stop` ends it; out come `progress` and, last, `done` or `failed`. A job is
 * a generator: each yield is a place where it may be left. Between stretches the worker looks whether it was told to
 * stop. A new job is one line in `JOBS` and one in `Jobs`.
 */
import {
  buildKey,
  checkTolerances,
  compareVariants,
  frameAt,
  motionsOf,
  placements,
  planOf,
  reachOf,
  stepsInOrder,
  stretchOf,
  stripOf,
  trySlips,
  type Analysis,
  type Follow,
  type Frame,
  type LinkageModel,
  type Placements,
  type Plan,
  type PlanStep,
  type Reach,
  type StepMotion,
  type Strip,
  type StripStep,
  type ToleranceQuestion,
  type ToleranceReport,
  type TriedSlip,
  type VariantOrder,
} from '../shared/index.ts';

/** What each job takes and gives. */
export interface Jobs {
  readonly slips: {
    readonly asked: { readonly model: LinkageModel; readonly pivot?: string; readonly two: boolean };
    readonly given: { readonly rows: readonly TriedSlip[]; readonly placements: readonly Placements[] };
  };
  readonly tolerance: {
    readonly asked: { readonly model: LinkageModel; readonly question: ToleranceQuestion };
    readonly given: ToleranceReport;
  };
  readonly 'order-plan': { readonly asked: OfBuild; readonly given: { readonly plan: Plan; readonly strip: Strip } };
  readonly 'order-own': {
    readonly asked: OfBuild & { readonly jobs: readonly string[] };
    readonly given: { readonly steps: readonly PlanStep[]; readonly strip: Strip };
  };
  readonly 'order-reach': { readonly asked: OfBuild & { readonly id: string }; readonly given: Reach };
  /** Moments of one step of a run, evenly from its begin to its end: the first and the last alone where nothing moves. */
  readonly 'order-frames': {
    readonly asked: OfBuild & { readonly source: RunSource; readonly on: readonly string[]; readonly index: number };
    readonly given: StepFrames;
  };
  readonly 'order-variants': {
    readonly asked: { readonly model: LinkageModel };
    readonly given: readonly VariantOrder[];
  };
}
/** A run of steps as the page goes through it: of the recommended order, an own one, or what it takes to reach a part. */
export interface RunSource {
  readonly of: 'plan' | 'own' | 'reach';
  /** Whose order, where it is the plan's. */
  readonly follow?: Follow;
  readonly way: 'build' | 'strip';
  /** Jobs of an own order. */
  readonly jobs?: readonly string[];
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
export type JobKind = keyof Jobs;

/** A message to the worker; `id` is the page's own count. */
export type Ask =
  | { readonly [K in JobKind]: { readonly id: number; readonly kind: K; readonly asked: Jobs[K]['asked'] } }[JobKind]
  | { readonly id: number; readonly kind: 'stop' };

/** A message from the worker. */
export type Answer =
  | { readonly id: number; readonly what: 'progress'; readonly done: number; readonly total: number }
  | { readonly id: number; readonly what: 'done'; readonly given: Jobs[JobKind]['given'] }
  | { readonly id: number; readonly what: 'failed'; readonly message: string };

interface Step {
  readonly done: number;
  readonly total: number;
}
type Job<K extends JobKind> = (asked: Jobs[K]['asked']) => Generator<Step, Jobs[K]['given']>;

const JOBS: { readonly [K in JobKind]: Job<K> } = {
  slips: tryAll,
  tolerance: ({ model, question }) => checkTolerances(model, question),
  'order-plan': atOnce((asked) => ({ plan: planned(asked), strip: stripOf(planned(asked)) })),
  'order-own': atOnce((asked) => ownOrder(planned(asked), asked.jobs)),
  'order-reach': atOnce((asked) => reachOf(planned(asked), asked.id)),
  'order-frames': atOnce(framesOf),
  'order-variants': atOnce(({ model }) => compareVariants(model)),
};

/** A job that has no place where it could be left. */
function atOnce<A, G>(work: (asked: A) => G): (asked: A) => Generator<Step, G> {
  return function* (asked) {
    yield { done: 0, total: 1 };
    return work(asked);
  };
}

/** Plans of the builds last asked for, by what they hold. */
const plans = new Map<string, Plan>();
const MOST_PLANS = 8;

function planned({ analysis, follow = 'ours' }: OfBuild): Plan {
  const key = `${follow} ${buildKey(analysis)}`;
  const known = plans.get(key);
  if (known) return known;
  const plan = planOf(analysis, { follow });
  plans.set(key, plan);
  const oldest = plans.keys().next();
  if (plans.size > MOST_PLANS && oldest.done !== true) plans.delete(oldest.value);
  return plan;
}

function ownOrder(plan: Plan, jobs: readonly string[]): Jobs['order-own']['given'] {
  const steps = stepsInOrder(plan, jobs);
  return { steps, strip: stripOf({ ...plan, steps }) };
}

function* tryAll({ model, pivot, two }: Jobs['slips']['asked']): Generator<Step, Jobs['slips']['given']> {
  const rows = yield* trySlips(model, { two, ...(pivot === undefined ? {} : { pivot }) });
  const found = model.pivots
    .filter(({ id }) => pivot === undefined || id === pivot)
    .map(({ id }) => placements(model, id));
  return { rows, placements: found };
}

/** Motions of the runs last asked for. */
const runs = new Map<string, (index: number) => StepMotion>();
const MOST_RUNS = 6;
/** Moments of a step: at its pace more than a screen draws of it on a slow machine, and few enough to be sent at once. */
const MOMENTS = 48;

function framesOf(asked: Jobs['order-frames']['asked']): StepFrames {
  const motion = motionsIn(asked)(asked.index);
  const stretch = stretchOf(motion);
  const count = stretch > 0 ? MOMENTS : 1;
  return { stretch, frames: Array.from({ length: count + 1 }, (_, k) => frameAt(motion, k / count)) };
}

function motionsIn(asked: Jobs['order-frames']['asked']): (index: number) => StepMotion {
  const { source, analysis, on } = asked;
  const key = `${buildKey(analysis)} ${source.follow ?? ''} ${source.of} ${source.way} ${source.jobs?.join(' ') ?? ''} ${source.id ?? ''}`;
  const known = runs.get(key);
  if (known) return known;
  const motions = motionsOf(
    analysis,
    runSteps(planned({ analysis, ...(source.follow ? { follow: source.follow } : {}) }), source),
    on,
  );
  runs.set(key, motions);
  const oldest = runs.keys().next();
  if (runs.size > MOST_RUNS && oldest.done !== true) runs.delete(oldest.value);
  return motions;
}

function runSteps(
  plan: Plan,
  { of, way, jobs, id }: RunSource,
): { readonly step: PlanStep; readonly strip?: StripStep }[] {
  if (of === 'reach' && id !== undefined) {
    const { strip, back } = reachOf(plan, id);
    return [...taken(strip), ...back.map((step) => ({ step }))];
  }
  const own = jobs ? ownOrder(plan, jobs) : { steps: plan.steps, strip: stripOf(plan) };
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

function begin<K extends JobKind>({
  kind,
  asked,
}: {
  readonly kind: K;
  readonly asked: Jobs[K]['asked'];
}): Generator<Step, Jobs[K]['given']> {
  return JOBS[kind](asked);
}

function run(id: number, job: Generator<Step, Jobs[JobKind]['given']>): void {
  if (stopped.delete(id)) return;
  const until = performance.now() + STRETCH_ms;
  try {
    for (let step = job.next(); ; step = job.next()) {
      if (step.done) return scope.postMessage({ id, what: 'done', given: step.value });
      if (performance.now() < until) continue;
      scope.postMessage({ id, what: 'progress', done: step.value.done, total: step.value.total });
      setTimeout(() => run(id, job), 0);
      return;
    }
  } catch (error) {
    scope.postMessage({ id, what: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
}
