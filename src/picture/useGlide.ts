/**
 * The clock behind `tween.ts`: a value on its way from what is shown to what is wanted.
 *
 * A new target starts from wherever the movement is, so that a fast hand is never held up. Where the person's system
 * asks for less motion, and on the first showing, the value is there at once.
 */
import { useEffect, useRef, useState } from 'react';
import { GLIDE_ms, ease } from './tween.ts';

/** How to mix two values, and whether a way between them exists at all. */
export interface Way<T> {
  readonly mix: (from: T, to: T, share: number) => T;
  readonly hasWay: (from: T, to: T) => boolean;
}

/** `target`, reached by a glide; with `isStill` at once. `way` must keep its identity. */
export function useGlide<T>(target: T, way: Way<T>, isStill: boolean): T {
  const [moving, setMoving] = useState<{ target: T; value: T }>({ target, value: target });
  const shown = useRef(target);

  useEffect(() => {
    const from = shown.current;
    if (isStill || Object.is(from, target) || !way.hasWay(from, target)) {
      shown.current = target;
      setMoving({ target, value: target });
      return;
    }
    let frame = 0;
    let start: number | undefined;
    const move = (now: number): void => {
      start ??= now;
      const share = (now - start) / GLIDE_ms;
      shown.current = way.mix(from, target, ease(share));
      setMoving({ target, value: shown.current });
      if (share < 1) frame = requestAnimationFrame(move);
    };
    frame = requestAnimationFrame(move);
    return () => cancelAnimationFrame(frame);
  }, [target, way, isStill]);

  if (isStill || Object.is(moving.target, target)) return isStill ? target : moving.value;
  return way.hasWay(moving.value, target) ? moving.value : target;
}
