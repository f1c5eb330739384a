/**
 * Keeps pace: coarser pictures while something moves on a slow machine, one fine picture once all is still.
 *
 * Frames that follow one another closely are timed. Where they come too slowly the picture is drawn with one pixel a
 * CSS pixel and shadows follow every few frames only; a software renderer, which multisampling would cost three
 * quarters of its speed, always moves that way. The still picture is the same on any machine: as fine as it can draw in
 * a blink, with its shadows. It waits until no hand is on the picture, nothing glides, and a while has passed that is
 * long against a frame: a drag must not leap between coarse and fine. After it no frame is drawn.
 */
import { useEffect, useRef, type ReactNode } from 'react';
import { useFrame, useThree } from '@react-three/fiber';
import { keepShadow } from './shadow.ts';

const STILL_ms = 260;
/** Frames that the still picture waits for at least, on a machine that takes long over one. */
const STILL_FRAMES = 3;
/** Longest that counts as one frame of a movement, s: a slower one cannot be told from a pause. */
const LONGEST_FRAME_s = 1.5;
const MOST_PIXELS = 2_400_000;
const MOST_RATIO = 2;
/** Under this a finer frame is not worth the time of a software renderer. */
const LEAST_RATIO = 1.3;
/** Frames farther apart than this do not belong to one movement, s. */
const PAUSE_s = 0.3;
/** Mean time of a frame from which a machine counts as slow, and under which it no longer does, s. */
const SLOW_s = 1 / 26;
const QUICK_s = 1 / 50;
/** Weight of the newest frame in the mean, and frames of one movement before it counts. */
const WEIGHT = 0.15;
const FIRST_FRAMES = 5;
/** On a slow machine shadows are drawn anew in every frame of this many. */
const SHADOW_EVERY = 3;

/** Put inside the canvas once. `data-still` of the root says whether the picture that stands is the fine one. */
export function Pace({
  isSoftware,
  root,
}: {
  readonly isSoftware: boolean;
  readonly root: { readonly current: HTMLElement | null };
}): ReactNode {
  const gl = useThree((state) => state.gl);
  const invalidate = useThree((state) => state.invalidate);
  const isFine = useRef(false);
  const pace = useRef({ mean_s: 0, frames: 0, isSlow: false });
  const hands = useHandsOn(root);
  const movement_s = useRef(0);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  useEffect(() => () => clearTimeout(timer.current), []);
  useFrame(({ size }, delta_s) => {
    clearTimeout(timer.current);
    const now = pace.current;
    if (!isFine.current) time(now, delta_s);
    const isBusy = (): boolean => hands.current > 0 || root.current?.dataset.moving === 'true';
    if (isBusy() && delta_s < LONGEST_FRAME_s) movement_s.current += 0.3 * (delta_s - movement_s.current);
    const most = isSoftware ? MOST_RATIO : Math.min(MOST_RATIO, window.devicePixelRatio);
    const finest = isSoftware ? Math.min(most, Math.sqrt(MOST_PIXELS / Math.max(1, size.width * size.height))) : most;
    const isWorthIt = isSoftware ? finest >= LEAST_RATIO : finest > 1;
    const ratio = isWorthIt && (isFine.current || (!isSoftware && !now.isSlow)) ? finest : 1;
    // Within the frame, so that the emptied buffer is filled again before anybody sees it.
    if (gl.getPixelRatio() !== ratio) gl.setPixelRatio(ratio);
    const isHurried = now.isSlow && !isFine.current;
    keepShadow(gl);
    gl.shadowMap.autoUpdate = !isHurried;
    if (isHurried && now.frames % SHADOW_EVERY === 0) gl.shadowMap.needsUpdate = true;
    const isLast = isFine.current || !(isHurried || (isWorthIt && ratio < finest));
    isFine.current = false;
    if (root.current) root.current.dataset.still = String(isLast);
    if (!isLast) {
      const wait_ms = Math.max(STILL_ms, STILL_FRAMES * movement_s.current * 1000);
      const refine = (): void => {
        if (isBusy()) {
          timer.current = setTimeout(refine, wait_ms);
          return;
        }
        isFine.current = true;
        invalidate();
      };
      timer.current = setTimeout(refine, wait_ms);
    }
  }, -1);
  return null;
}

/** How many fingers or buttons are down on the picture; one that is let go of elsewhere is let go of. */
function useHandsOn(root: { readonly current: HTMLElement | null }): { readonly current: number } {
  const count = useRef(0);
  useEffect(() => {
    const down = new Set<number>();
    const press = (event: PointerEvent): void => {
      if (!root.current?.contains(event.target as Node)) return;
      down.add(event.pointerId);
      count.current = down.size;
    };
    const release = (event: PointerEvent): void => {
      down.delete(event.pointerId);
      count.current = down.size;
    };
    window.addEventListener('pointerdown', press, true);
    window.addEventListener('pointerup', release, true);
    window.addEventListener('pointercancel', release, true);
    return () => {
      window.removeEventListener('pointerdown', press, true);
      window.removeEventListener('pointerup', release, true);
      window.removeEventListener('pointercancel', release, true);
    };
  }, [root]);
  return count;
}

function time(pace: { mean_s: number; frames: number; isSlow: boolean }, delta_s: number): void {
  if (delta_s > PAUSE_s) {
    pace.frames = 0;
    return;
  }
  pace.frames += 1;
  pace.mean_s = pace.frames === 1 ? delta_s : pace.mean_s + WEIGHT * (delta_s - pace.mean_s);
  if (pace.frames < FIRST_FRAMES) return;
  if (pace.mean_s > SLOW_s) pace.isSlow = true;
  else if (pace.mean_s < QUICK_s) pace.isSlow = false;
}
