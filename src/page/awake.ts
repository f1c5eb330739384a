/**
 * Keeping the screen awake, by the Screen Wake Lock API (W3C working draft), where the browser offers it.
 *
 * A lock is the system's to take back: it goes when the page is hidden, and is asked for again when the page is seen.
 * It may also be refused, on a low battery for one; then that is told, and tried again when the page is next seen. Pure
 * of the browser: navigator and document come in by argument.
 */

/** Whether the screen is kept awake: not asked for, held, refused for now, or not offered by this browser at all. */
export type Awake = 'off' | 'held' | 'refused' | 'not-offered';

/** The part of a wake lock that is used. */
export interface Lock {
  readonly released: boolean;
  release(): Promise<void>;
  addEventListener(type: 'release', listener: () => void): void;
}

/** The parts of a navigator and a document that are used. */
export interface Watch {
  readonly navigator: { readonly wakeLock?: { request(type: 'screen'): Promise<Lock> } };
  readonly document: {
    readonly visibilityState: string;
    addEventListener(type: 'visibilitychange', listener: () => void): void;
    removeEventListener(type: 'visibilitychange', listener: () => void): void;
  };
}

/** Keep the screen awake until the function returned is called; `tell` hears every change, `off` at the end. */
export function keepAwake({ navigator, document }: Watch, tell: (awake: Awake) => void): () => void {
  const offer = navigator.wakeLock;
  if (!offer) {
    tell('not-offered');
    return () => tell('off');
  }
  let isOver = false;
  let isAsking = false;
  let held: Lock | undefined;

  const ask = async (): Promise<void> => {
    if (isOver || isAsking || held || document.visibilityState !== 'visible') return;
    isAsking = true;
    try {
      const lock = await offer.request('screen');
      // Who has left meanwhile must not leave a lock behind.
      if (isOver) return void lock.release().catch(() => undefined);
      if (lock.released) return tell('refused');
      held = lock;
      lock.addEventListener('release', () => {
        if (held !== lock) return;
        held = undefined;
        // Not asked for again at once: a system that takes it back while the page is seen means it.
        if (!isOver) tell('refused');
      });
      tell('held');
    } catch {
      if (!isOver) tell('refused');
    } finally {
      isAsking = false;
    }
  };
  const onSeen = (): void => void ask();

  document.addEventListener('visibilitychange', onSeen);
  void ask();
  return () => {
    isOver = true;
    document.removeEventListener('visibilitychange', onSeen);
    void held?.release().catch(() => undefined);
    held = undefined;
    tell('off');
  };
}
