/**
 * Pulling a pivot apart by hand: a drag along its axis that began on one of its parts.
 *
 * The first few pixels decide: along the axis the parts follow the finger, across it the drag stays an orbit. A second
 * finger always means pinch or pan. The listeners sit on the window in the capture phase, ahead of the orbit controls.
 */
import { useEffect, useMemo, useRef } from 'react';
import { useThree, type ThreeEvent } from '@react-three/fiber';
import { Vector3 } from 'three';
import type { OrbitControls as Controls } from 'three-stdlib';
import type { PivotAnalysis } from '../../shared/index.ts';
import type { Layout } from './placement.ts';
import { useLatest } from './useLatest.ts';

interface Options {
  readonly pivot: PivotAnalysis | undefined;
  readonly layout: Layout;
  readonly apart: number;
  /** A step decides where the parts are: no pulling then. */
  readonly isStepping: boolean;
  readonly onApart: (apart: number) => void;
  readonly isHeld: { current: boolean };
}

const DECIDE_px = 7;
/** A part nearer to the middle than this moves too little to be pulled by; it borrows this reach, mm. */
const SHORTEST_REACH_mm = 25;

/** The function that starts a pull; it keeps its identity. */
export function useGrab(options: Options): (id: string, event: ThreeEvent<PointerEvent>) => void {
  const get = useThree((state) => state.get);
  const latest = useLatest(options);
  const ending = useRef<(() => void) | undefined>(undefined);
  useEffect(() => () => ending.current?.(), []);

  return useMemo(
    () => (id, event) => {
      const { pivot, layout, apart: apartAtStart, isStepping } = latest.current;
      if (!pivot || isStepping || ending.current) return;
      const { camera, size, controls, invalidate } = get();
      const orbit = controls as Controls | null;
      const project = (z: number): [number, number] => {
        const p = new Vector3(pivot.x_mm, pivot.y_mm, z).project(camera);
        return [(p.x * size.width) / 2, (-p.y * size.height) / 2];
      };
      const z = event.point.z;
      const [x0, y0] = project(z - 5);
      const [x1, y1] = project(z + 5);
      const px_per_mm = Math.hypot(x1 - x0, y1 - y0) / 10;
      const axis = [(x1 - x0) / (10 * px_per_mm || 1), (y1 - y0) / (10 * px_per_mm || 1)] as const;
      const own = layout[id] ?? 0;
      const reach = Math.abs(own) < SHORTEST_REACH_mm ? SHORTEST_REACH_mm * (own < 0 ? -1 : 1) : own;
      const { pointerId, clientX, clientY } = event.nativeEvent;
      let isPulling = false;

      const move = (moved: PointerEvent): void => {
        if (moved.pointerId !== pointerId) return;
        const dx = moved.clientX - clientX;
        const dy = moved.clientY - clientY;
        const along = dx * axis[0] + dy * axis[1];
        if (!isPulling) {
          if (orbit) orbit.enableRotate = false;
          if (Math.hypot(dx, dy) < DECIDE_px) return;
          const across = Math.abs(dx * axis[1] - dy * axis[0]);
          if (px_per_mm < 0.15 || across > Math.abs(along)) {
            end();
            return;
          }
          isPulling = true;
          latest.current.isHeld.current = true;
        }
        const apart = apartAtStart + along / px_per_mm / reach;
        latest.current.onApart(Math.min(1, Math.max(0, apart)));
        invalidate();
      };
      const second = (down: PointerEvent): void => {
        if (down.pointerId !== pointerId) end();
      };
      const end = (): void => {
        window.removeEventListener('pointermove', move, true);
        window.removeEventListener('pointerup', end, true);
        window.removeEventListener('pointercancel', end, true);
        window.removeEventListener('pointerdown', second, true);
        if (orbit) orbit.enableRotate = true;
        latest.current.isHeld.current = false;
        ending.current = undefined;
        invalidate();
      };
      window.addEventListener('pointermove', move, true);
      window.addEventListener('pointerup', end, true);
      window.addEventListener('pointercancel', end, true);
      // The press that started this is still on its way up: listen for the next one only.
      setTimeout(() => ending.current && window.addEventListener('pointerdown', second, true), 0);
      ending.current = end;
    },
    [get],
  );
}
