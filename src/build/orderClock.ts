/**
 * The clock of the build order: the picture on its way to the step that is asked for, and playing on by itself.
 *
 * The position is a number of steps done, with a fraction while a step is under way. The address holds whole steps
 * alone: a fraction lives as long as its movement. A step begins to move when its motion is there. Where the person's
 * system asks for less motion the picture is there at once, and playing shows one step after another.
 */
import { useEffect } from 'react';
import { create } from 'zustand';
import type { Analysis } from '../../shared/index.ts';
import { towards } from './order.ts';
import { askFrames, isAwaited, stretchAt } from './orderFrames.ts';
import type { Run } from './orderRun.ts';
import { useApp } from '../page/store.ts';
import { useStillness } from '../page/useMedia.ts';

/** How long the movement of a step takes, shortest and longest way, and of one in which nothing moves, s. */
const SHORT_s = 0.9;
const LONG_s = 2.6;
const NOTHING_s = 0.3;
/** How long a step is looked at before the next while playing, s; without movement as long as both together. */
const LOOK_s = 1.4;
const STILL_LOOK_s = 3;
/** Longest that a motion is waited for, s. */
const WAIT_s = 2.5;

/**
 * Longest time that one frame stands for, s: a slow machine keeps the pace, a page that was hidden goes on where it
 * was.
 */
const LONGEST_FRAME_s = 0.3;

interface Clock {
  readonly position: number;
  readonly isPlaying: boolean;
}

/** What the clock shows. */
export const useClock = create<Clock>(() => ({ position: 0, isPlaying: false }));

/** Play on, or stop. */
export function setPlaying(isPlaying: boolean): void {
  useClock.setState({ isPlaying });
}

/** Show a step; a number out of range is brought into it. */
export function goTo(at: number, total: number): void {
  const { act, order } = useApp.getState();
  const next = Math.min(total, Math.max(0, at));
  if (next !== order.at) act.setOrder({ ...order, at: next });
}

/** Runs the clock over a run; another run is another picture and is shown at once. */
export function useOrderClock(analysis: Analysis, run: Run): void {
  const total = run.steps.length;
  const isStill = useStillness();
  const at = useApp((state) => Math.min(state.order.at, total));
  const isPlaying = useClock((clock) => clock.isPlaying);
  const hasPicture = useApp((state) => state.webgl === 'ok');

  useEffect(() => {
    useClock.setState({ position: Math.min(useApp.getState().order.at, run.steps.length), isPlaying: false });
  }, [run]);

  useEffect(() => {
    // The next step first: it is what a hand asks for while this one is looked at.
    if (hasPicture) for (const index of [at - 1, at, at - 2]) askFrames(analysis, run, index);
  }, [analysis, run, at, hasPicture]);

  useEffect(() => {
    let frame = 0;
    let before: number | undefined;
    let [looked, waited] = [0, 0];
    const move = (now: number): void => {
      const time = before === undefined ? 0 : Math.min(LONGEST_FRAME_s, (now - before) / 1000);
      before = now;
      const { position } = useClock.getState();
      const index = at > position ? at - 1 : at;
      if (position === at) {
        if (!useClock.getState().isPlaying) return;
        if (at >= total) return setPlaying(false);
        looked += time;
        if (looked >= (isStill ? STILL_LOOK_s : LOOK_s) || at === 0) return goTo(at + 1, total);
      } else if (isStill || !hasPicture) useClock.setState({ position: at });
      else if (isAwaited(analysis, run, index) && waited < WAIT_s) waited += time;
      else useClock.setState({ position: towards(position, at, time / paceOf(analysis, run, index)) });
      frame = requestAnimationFrame(move);
    };
    frame = requestAnimationFrame(move);
    return () => cancelAnimationFrame(frame);
  }, [at, total, analysis, run, isStill, isPlaying, hasPicture]);

  useEffect(() => () => setPlaying(false), []);
}

/** Seconds that a step takes. */
function paceOf(analysis: Analysis, run: Run, index: number): number {
  const stretch = stretchAt(analysis, run, index);
  return stretch === undefined ? SHORT_s : stretch === 0 ? NOTHING_s : SHORT_s + (LONG_s - SHORT_s) * stretch;
}
