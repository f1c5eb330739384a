/**
 * Tells the page how the axle of the opened pivot is seen while one looks square to it from behind the bike, drive side
 * to the right: what is drawn under the picture can then stand in line with it.
 */
import { useEffect, useRef, type ReactNode } from 'react';
import { useFrame } from '@react-three/fiber';
import { Vector3, type PerspectiveCamera } from 'three';
import type { PivotAnalysis } from '../../shared/index.ts';
import { useScene } from './context.ts';
import type { Motion } from './motion.ts';
import { itemsOf } from './placement.ts';
import type { SeenLine } from './props.ts';
import { useLatest } from './useLatest.ts';

interface Props {
  readonly pivot: PivotAnalysis | undefined;
  readonly onLine: ((line: SeenLine | undefined) => void) | undefined;
}

/** Put inside the canvas once; runs after motion and camera. */
export function LineDriver({ pivot, onLine }: Props): ReactNode {
  const { motion } = useScene();
  const last = useRef<SeenLine | undefined>(undefined);
  const told = useLatest(onLine);
  useFrame(({ camera, size, gl }) => {
    const seen = pivot && lineOf(pivot, camera as PerspectiveCamera, size.width);
    const line = seen && pivot && { ...seen, ...placed(pivot, motion), zero_px: seen.zero_px + leftOf(gl.domElement) };
    if (isSame(last.current, line)) return;
    last.current = line;
    told.current?.(line);
  });
  useEffect(() => () => told.current?.(undefined), [told]);
  return null;
}

const leftOf = (element: Element): number => element.getBoundingClientRect().left;

const SPAN_mm = 50;
/** How far from level the axle may run, and how unlike its two halves may be, before it no longer counts as square. */
const SQUARE = 0.004;
const point = new Vector3();

/** Where z = 0 of a pivot's axle stands across a picture of this width, and the size of a millimetre of it, px. */
function lineOf(
  { x_mm, y_mm }: Pick<PivotAnalysis, 'x_mm' | 'y_mm'>,
  camera: PerspectiveCamera,
  width_px: number,
): Pick<SeenLine, 'zero_px' | 'px_per_mm'> | undefined {
  camera.updateMatrixWorld();
  const at = (z: number) => {
    const seen = point.set(x_mm, y_mm, z).project(camera);
    return { x: ((seen.x + 1) / 2) * width_px, y: (((1 - seen.y) / 2) * width_px) / camera.aspect };
  };
  const [before, zero, after] = [at(-SPAN_mm), at(0), at(SPAN_mm)];
  const span_px = after.x - before.x;
  const off_px = Math.max(Math.abs(after.y - before.y), Math.abs(after.x + before.x - 2 * zero.x));
  return off_px < SQUARE * span_px ? { zero_px: zero.x, px_per_mm: span_px / (2 * SPAN_mm) } : undefined;
}

function placed(pivot: PivotAnalysis, motion: Motion): Pick<SeenLine, 'pivotId' | 'offsets_mm'> {
  return {
    pivotId: pivot.id,
    offsets_mm: Object.fromEntries(itemsOf(pivot).map(({ id }) => [id, Math.round(100 * motion.at(id)) / 100])),
  };
}

/** Nearer than this two lines are drawn alike, px over the width of a screen. */
const ALIKE = { zero_px: 0.2, px_per_mm: 1e-3 } as const;

function isSame(a: SeenLine | undefined, b: SeenLine | undefined): boolean {
  if (!a || !b) return a === b;
  return (
    a.pivotId === b.pivotId &&
    Math.abs(a.zero_px - b.zero_px) < ALIKE.zero_px &&
    Math.abs(a.px_per_mm - b.px_per_mm) < ALIKE.px_per_mm &&
    Object.entries(b.offsets_mm).every(([id, offset]) => Math.abs((a.offsets_mm[id] ?? Infinity) - offset) < 0.02)
  );
}
