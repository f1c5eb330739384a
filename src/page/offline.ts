/**
 * Whether the app is kept on this device, and whether a newer one has come: it waits until a hand takes it.
 */
import { create } from 'zustand';

/**
 * `not-offered`: the browser keeps no app from here, as from a plain file or over plain http from another machine;
 * `update`: a newer one is here and waits.
 */
type Offline = 'not-offered' | 'coming' | 'kept' | 'failed' | 'update';

/** How the app is kept. */
export const useOffline = create<{ readonly is: Offline }>(() => ({ is: 'not-offered' }));

const ASK_AGAIN_AFTER_ms = 3_600_000;
let registration: ServiceWorkerRegistration | undefined;

let isAsked = false;

/** Have the app kept on this device, once, and hear of newer ones; the page goes on as it is meanwhile. */
export function keepApp(): void {
  if (isAsked) return;
  isAsked = true;
  const { protocol } = window.location;
  const isServed = protocol === 'https:' || protocol === 'http:';
  if (!import.meta.env.PROD || !isServed || !('serviceWorker' in navigator)) return;
  useOffline.setState({ is: 'coming' });
  navigator.serviceWorker.register(new URL('./offline.js', document.baseURI)).then(
    (found) => {
      registration = found;
      if (found.active) useOffline.setState({ is: 'kept' });
      follow(found.installing ?? found.waiting);
      found.addEventListener('updatefound', () => follow(found.installing));
      setInterval(() => void found.update().catch(() => undefined), ASK_AGAIN_AFTER_ms);
    },
    () => useOffline.setState({ is: 'failed' }),
  );
}

function follow(worker: ServiceWorker | null): void {
  if (!worker) return;
  const look = (): void => {
    // One that waits beside one in force is an update; alone it is on its way to be in force.
    if (worker.state === 'installed' && registration?.active) useOffline.setState({ is: 'update' });
    else if (worker.state === 'activated') useOffline.setState({ is: 'kept' });
    else if (worker.state === 'redundant' && useOffline.getState().is === 'coming')
      useOffline.setState({ is: 'failed' });
  };
  worker.addEventListener('statechange', look);
  look();
}

/** Take the newer app, and load the page in it; other tabs stay as they are. */
export function takeUpdate(): void {
  const waiting = registration?.waiting;
  if (!waiting) return window.location.reload();
  navigator.serviceWorker.addEventListener('controllerchange', () => window.location.reload(), { once: true });
  waiting.postMessage('take over');
}
