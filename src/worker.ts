/**
 * The worker: long computing away from the page, a stretch at a time, with progress and an end whenever it is asked for.
 *
 * One message in starts a job, one that says `stop` ends it; out come `progress` and, last, `done` or `failed`. A job is
 * a generator: each yield is a place where it may be left. Between stretches the worker looks whether it was told to
 * stop. A new job is one line in `JOBS` and one in `Jobs`.
 */
import { checkTolerances, placements, trySlips, type LinkageModel, type Placements, type ToleranceQuestion, type ToleranceReport, type TriedSlip } from '../shared/index.ts';

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
}
export type JobKind = keyof Jobs;

/** A message to the worker; `id` is the page's own count. */
export type Ask = { readonly [K in JobKind]: { readonly id: number; readonly kind: K; readonly asked: Jobs[K]['asked'] } }[JobKind] | { readonly id: number; readonly kind: 'stop' };

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

const JOBS: { readonly [K in JobKind]: Job<K> } = { slips: tryAll, tolerance: ({ model, question }) => checkTolerances(model, question) };

function* tryAll({ model, pivot, two }: Jobs['slips']['asked']): Generator<Step, Jobs['slips']['given']> {
  const rows = yield* trySlips(model, { two, ...(pivot === undefined ? {} : { pivot }) });
  const found = model.pivots.filter(({ id }) => pivot === undefined || id === pivot).map(({ id }) => placements(model, id));
  return { rows, placements: found };
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

function begin<K extends JobKind>({ kind, asked }: { readonly kind: K; readonly asked: Jobs[K]['asked'] }): Generator<Step, Jobs[K]['given']> {
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
