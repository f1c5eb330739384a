/**
 * The worker from a file of its own, as any server gives it.
 */
export function openWorker(): Worker {
  return new Worker(new URL('../worker.ts', import.meta.url), { type: 'module' });
}
