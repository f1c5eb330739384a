/**
 * What a frame costs, written on the picture's root after it was drawn: draw calls and triangles with the shadow's
 * pass, and how many frames there have been. Bench and specs read them; nothing on the page depends on them.
 */
import { useEffect, useRef, type ReactNode } from 'react';
import { addAfterEffect, useFrame, useThree } from '@react-three/fiber';

/** Put inside the canvas once. */
export function Counter({ root }: { readonly root: { readonly current: HTMLElement | null } }): ReactNode {
  const gl = useThree((state) => state.gl);
  const frames = useRef(0);
  useFrame(() => {
    // Counted over the whole frame: of itself three forgets the shadow's pass.
    gl.info.autoReset = false;
    gl.info.reset();
    frames.current += 1;
  }, -4);
  useEffect(() => {
    let written = 0;
    return addAfterEffect(() => {
      const element = root.current;
      if (!element || frames.current === written || gl.info.render.calls === 0) return;
      written = frames.current;
      element.dataset.calls = String(gl.info.render.calls);
      element.dataset.triangles = String(gl.info.render.triangles);
      element.dataset.frames = String(written);
      element.dataset.geometries = String(gl.info.memory.geometries);
      element.dataset.textures = String(gl.info.memory.textures);
    });
  }, [gl, root]);
  return null;
}
