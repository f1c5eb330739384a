/**
 * Sharp stills from a software renderer: coarse and quick while something moves, one fine frame once all is still.
 *
 * Multisampling costs a software renderer three quarters of its speed, so the stage goes without it there. The fine frame
 * has up to two pixels a CSS pixel each way, as many as a slow machine can draw in a blink; after it no frame is drawn.
 */
import { useEffect, useRef, type ReactNode } from 'react';
import { useFrame, useThree } from '@react-three/fiber';

const STILL_ms = 260;
const MOST_PIXELS = 2_400_000;
const MOST_RATIO = 2;
/** Under this a finer frame is not worth the time. */
const LEAST_RATIO = 1.3;

/** Put inside the canvas of a software renderer only. */
export function Sharpener(): ReactNode {
  const gl = useThree((state) => state.gl);
  const invalidate = useThree((state) => state.invalidate);
  const isFine = useRef(false);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  useEffect(() => () => clearTimeout(timer.current), []);
  useFrame(({ size }) => {
    clearTimeout(timer.current);
    const finest = Math.min(MOST_RATIO, Math.sqrt(MOST_PIXELS / Math.max(1, size.width * size.height)));
    const ratio = isFine.current && finest >= LEAST_RATIO ? finest : 1;
    // Within the frame, so that the emptied buffer is filled again before anybody sees it.
    if (gl.getPixelRatio() !== ratio) gl.setPixelRatio(ratio);
    if (isFine.current) isFine.current = false;
    else if (finest >= LEAST_RATIO) {
      timer.current = setTimeout(() => {
        isFine.current = true;
        invalidate();
      }, STILL_ms);
    }
  }, -1);
  return null;
}
