/**
 * The page's side of the worker: start a job, hear how far it is, stop it.
 *
 * One worker serves the page and is started when the first job is asked for. A browser that gives none fails the job in
 * words; nothing else on the page depends on it.
 */
import type { Answer, Ask, JobKind, Jobs } from '../worker.ts';

/** Who is told of a job; after `stop` nobody is. */
export interface Listener<K extends JobKind> {
  readonly progress: (done: number, total: number) => void;
  readonly done: (given: Jobs[K]['given']) => void;
  readonly failed: (message: string) => void;
}

let worker: Worker | undefined;
let count = 0;
const listeners = new Map<number, Listener<JobKind>>();

/** Start a job; the function returned stops it. */
export function startWork<K extends JobKind>(kind: K, asked: Jobs[K]['asked'], listener: Listener<K>): () => void {
  const id = ++count;
  listeners.set(id, listener as Listener<JobKind>);
  try {
    worker ??= open();
    worker.postMessage({ id, kind, asked } as Ask);
  } catch (error) {
    fail(id, error instanceof Error ? error.message : String(error));
  }
  return () => {
    if (listeners.delete(id)) worker?.postMessage({ id, kind: 'stop' } satisfies Ask);
  };
}

function open(): Worker {
  const fresh = new Worker(new URL('../worker.ts', import.meta.url), { type: 'module' });
  fresh.onmessage = ({ data }: MessageEvent<Answer>) => hear(data);
  fresh.onerror = (event) => {
    worker = undefined;
    for (const id of [...listeners.keys()]) fail(id, event.message || 'the browser did not start the worker');
  };
  return fresh;
}

function hear(answer: Answer): void {
  const listener = listeners.get(answer.id);
  if (!listener) return;
  if (answer.what === 'progress') return listener.progress(answer.done, answer.total);
  listeners.delete(answer.id);
  if (answer.what === 'done') listener.done(answer.given);
  else listener.failed(answer.message);
}

function fail(id: number, message: string): void {
  const listener = listeners.get(id);
  listeners.delete(id);
  listener?.failed(message);
}
