/**
 * The page's long work: asked of one worker, heard while it goes on, stopped when nobody waits for it any more, and
 * kept by content once it is done.
 *
 * The worker is started at the first ask. Where one dies, or is silent for longer than any work takes, another is
 * started with what was asked of it; where that dies too, the work has failed and says so in words. Nothing else on the
 * page depends on it.
 */
import type { Answer, Ask, WorkKind, Works } from '../worker.ts';
import { Kept } from '../content.ts';
import { openWorker } from './openWorker.ts';

/** How far a piece of work is. */
export type WorkState<T> =
  | { readonly is: 'idle' }
  | {
      readonly is: 'running';
      readonly done: number;
      readonly total: number;
      /** What there is so far, where something better may come. */
      readonly given?: T;
    }
  | { readonly is: 'stopped' }
  | { readonly is: 'failed'; readonly message: string }
  | { readonly is: 'done'; readonly given: T };

/** What is asked of the worker. */
export interface Order<K extends WorkKind> {
  readonly kind: K;
  readonly asked: Works[K]['asked'];
}

type AnyState = WorkState<Works[WorkKind]['given']>;

interface UnderWay {
  readonly order: Order<WorkKind>;
  state: AnyState;
  /** Of the message the worker has; what it answers to an older one is not heard. */
  id: number;
  waiting: number;
  /** A worker has died over it once already. */
  isOrphan: boolean;
}

export const IDLE = { is: 'idle' } as const;
const BEGUN = { is: 'running', done: 0, total: 0 } as const;
const MOST_KEPT = 120;
/** Longer than the longest work goes without a word on a slow machine, ms. */
const SILENCE_ms = 90_000;

const done = new Kept<AnyState>(MOST_KEPT);
const underWay = new Map<string, UnderWay>();
const watchers = new Set<() => void>();
let worker: Worker | undefined;
let count = 0;
let silence: ReturnType<typeof setTimeout> | undefined;

/** Be told of every change; the function returned ends it. */
export function watchWork(onChange: () => void): () => void {
  watchers.add(onChange);
  return () => watchers.delete(onChange);
}

/** How far the work of a key is; one not yet asked for counts as begun, since it is about to be. */
export function workState(key: string): AnyState {
  return underWay.get(key)?.state ?? done.get(key) ?? BEGUN;
}

/**
 * Wait for the work of a key, which is begun unless somebody waits already; who calls what is returned waits no more.
 */
export function waitForWork<K extends WorkKind>(key: string, order: Order<K>): () => void {
  if (done.get(key)) return () => undefined;
  const work = underWay.get(key) ?? { order, state: BEGUN, id: 0, waiting: 0, isOrphan: false };
  work.waiting++;
  if (!underWay.has(key)) {
    underWay.set(key, work);
    begin(work);
  }
  return () => {
    if (--work.waiting > 0 || underWay.get(key) !== work) return;
    halt(work);
    underWay.delete(key);
  };
}

/** Stop the work of a key; who waits for it is told so. */
export function stopWork(key: string): void {
  const work = underWay.get(key);
  if (work?.state.is !== 'running') return;
  halt(work);
  tell(work, { is: 'stopped' });
}

/** Begin again what was stopped or has failed. */
export function restartWork(key: string): void {
  const work = underWay.get(key);
  if (work && work.state.is !== 'running') begin(work);
}

/** Begin again all that has failed. */
export function restartFailed(): void {
  for (const work of [...underWay.values()]) {
    if (work.state.is !== 'failed') continue;
    work.isOrphan = false;
    begin(work);
  }
}

function begin(work: UnderWay): void {
  work.id = ++count;
  tell(work, BEGUN);
  try {
    worker ??= open();
    worker.postMessage({ id: work.id, ...work.order } as Ask);
    listen();
  } catch (error) {
    tell(work, { is: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
}

function halt(work: UnderWay): void {
  if (work.state.is === 'running') worker?.postMessage({ id: work.id, kind: 'stop' } satisfies Ask);
  work.id = 0;
}

function tell(work: UnderWay, state: AnyState): void {
  work.state = state;
  for (const watcher of watchers) watcher();
}

function open(): Worker {
  const fresh = openWorker();
  fresh.onmessage = ({ data }: MessageEvent<Answer>) => hear(data);
  fresh.onerror = ({ message }) =>
    bury(message || `the server at ${globalThis.location.host} did not send the worker, or it has died`);
  fresh.onmessageerror = () => bury('what the worker said cannot be read');
  return fresh;
}

function hear(answer: Answer): void {
  for (const [key, work] of underWay) {
    if (work.id !== answer.id) continue;
    if (answer.what === 'progress') {
      const before = work.state.is === 'running' ? work.state.given : undefined;
      const given = answer.given ?? before;
      tell(work, { is: 'running', done: answer.done, total: answer.total, ...(given && { given }) });
    } else if (answer.what === 'failed') {
      console.error(`${work.order.kind}: ${answer.message}`);
      tell(work, { is: 'failed', message: answer.message });
    } else {
      const state = { is: 'done', given: answer.given } as const;
      done.set(key, state);
      underWay.delete(key);
      tell(work, state);
    }
  }
  listen();
}

const running = (): UnderWay[] => [...underWay.values()].filter(({ state }) => state.is === 'running');

/** Count the silence from now on, as long as anything is to come. */
function listen(): void {
  clearTimeout(silence);
  if (running().length > 0)
    silence = setTimeout(() => bury('the worker has not said a word for a long time'), SILENCE_ms);
}

function bury(message: string): void {
  worker?.terminate();
  worker = undefined;
  clearTimeout(silence);
  for (const work of running()) {
    // What was only waiting its turn is not to blame: all is begun once more, by another worker.
    if (work.isOrphan) tell(work, { is: 'failed', message });
    else {
      work.isOrphan = true;
      begin(work);
    }
  }
}
