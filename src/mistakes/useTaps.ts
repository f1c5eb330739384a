/**
 * Taps on the parts of a picture or a section: one picks a part, a second one soon after turns it round.
 */
import { useCallback, useRef } from 'react';
import { mayTurn } from './rowParts.ts';
import { act, useApp } from '../page/store.ts';

/** Two taps nearer together than this are one double tap, ms. */
const DOUBLE_ms = 400;

/**
 * What to do with a tap on a part. The time is that of the pointer's own event, told by `window.event`: a page that
 * draws slowly must not make two quick taps out of a double one.
 */
export function useTaps(): (id?: string) => void {
  const last = useRef<{ readonly id: string | undefined; readonly at_ms: number }>(undefined);
  return useCallback((id) => {
    const { event } = window;
    const at_ms = event?.timeStamp ?? performance.now();
    // The system's own count goes first: it knows how fast this person taps twice.
    const isCounted = event instanceof UIEvent && event.detail === 2;
    const isSecond =
      id !== undefined && last.current?.id === id && (isCounted || at_ms - last.current.at_ms < DOUBLE_ms);
    last.current = isSecond ? undefined : { id, at_ms };
    const edit = isSecond ? mayTurn(useApp.getState(), id) : undefined;
    if (edit) act.editRow(edit);
    else act.select(id);
  }, []);
}
