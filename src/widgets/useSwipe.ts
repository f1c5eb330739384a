/**
 * A sideways swipe of a finger or pen over an element; a mouse drags nothing.
 */
import { useRef, type PointerEvent } from 'react';
import { swipeOf } from '../page/keys.ts';

/** What the element listens to. */
interface Swipe {
  readonly onPointerDown: (event: PointerEvent) => void;
  readonly onPointerUp: (event: PointerEvent) => void;
  readonly onPointerCancel: () => void;
}

/** Tells each swipe: 1 forward, −1 back. */
export function useSwipe(onSwipe: (by: 1 | -1) => void): Swipe {
  const from = useRef<{ readonly x: number; readonly y: number } | undefined>(undefined);
  return {
    onPointerDown: (event) => {
      from.current = event.pointerType === 'mouse' ? undefined : { x: event.clientX, y: event.clientY };
    },
    onPointerUp: (event) => {
      const start = from.current;
      from.current = undefined;
      const by = start && swipeOf(event.clientX - start.x, event.clientY - start.y);
      if (by) onSwipe(by);
    },
    onPointerCancel: () => {
      from.current = undefined;
    },
  };
}
