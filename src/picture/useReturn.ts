/**
 * How a picture whose graphics context was lost comes back.
 */
import { useCallback, useEffect, useState } from 'react';
import { forgetFailures } from '../later.ts';
import { act, useApp } from '../page/store.ts';

/** How long the browser is given to bring a context back by itself once the page is seen again. */
const PATIENCE_ms = 1500;

/**
 * The ways back of a lost picture: the browser returns the context, and the same picture is shown again in the same
 * place; or a hand, or the page being seen again, asks for a new one, which starts from the same state.
 */
export function useReturn(): {
  readonly tries: number;
  readonly again: () => void;
  readonly picture: (element: HTMLElement | null) => (() => void) | undefined;
} {
  const isLost = useApp((state) => state.webgl === 'lost');
  const [tries, setTries] = useState(0);
  const again = useCallback(() => {
    forgetFailures();
    act.pictureAgain();
    if (useApp.getState().webgl === 'ok') setTries((count) => count + 1);
  }, []);
  // The event does not bubble, but it can be caught on its way down to the canvas.
  const picture = useCallback((element: HTMLElement | null) => {
    element?.addEventListener('webglcontextrestored', act.pictureBack, true);
    return () => element?.removeEventListener('webglcontextrestored', act.pictureBack, true);
  }, []);
  useEffect(() => {
    if (!isLost) return undefined;
    let later: number | undefined;
    const onSeen = (): void => {
      window.clearTimeout(later);
      if (document.visibilityState === 'visible') later = window.setTimeout(again, PATIENCE_ms);
    };
    document.addEventListener('visibilitychange', onSeen);
    return () => {
      document.removeEventListener('visibilitychange', onSeen);
      window.clearTimeout(later);
    };
  }, [isLost, again]);
  return { tries, again, picture };
}
