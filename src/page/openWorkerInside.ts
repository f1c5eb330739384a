/**
 * The worker out of the page's own text: what `openWorker.ts` is in the build of one file, which has no other to open.
 */
import Inside from '../worker.ts?worker&inline';

export function openWorker(): Worker {
  return new Inside();
}
