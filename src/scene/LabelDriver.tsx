/**
 * Projects the anchors of all labels before each frame and hands them to the board.
 */
import type { ReactNode } from 'react';
import { useFrame, type Size } from '@react-three/fiber';
import { Vector3, type Camera, type PerspectiveCamera } from 'three';
import type { Board, Clear, Projected } from './board.ts';
import { useScene } from './context.ts';
import type { LabelSpec } from './labels.ts';

interface Props {
  readonly board: Board;
  readonly specs: readonly LabelSpec[];
  readonly clear: Clear;
  /** No room for the pivots' names. */
  readonly isTight: boolean;
}

const point = new Vector3();
const along = new Vector3();

/** Runs after motion and camera, before the frame is drawn. */
export function LabelDriver({ board, specs, clear, isTight }: Props): ReactNode {
  const { motion } = useScene();
  useFrame(({ camera, size }) => {
    camera.updateMatrixWorld();
    const focal = size.height / (2 * Math.tan(((camera as PerspectiveCamera).fov * Math.PI) / 360));
    const projected = specs.map((spec): Projected => {
      const [x, y, z] = spec.at;
      point.set(x, y, z + (spec.item === undefined ? 0 : motion.at(spec.item)));
      const depth_mm = -along.copy(point).applyMatrix4(camera.matrixWorldInverse).z;
      point.project(camera);
      return {
        id: spec.id,
        kind: spec.kind,
        isFirst: spec.isFirst,
        x: ((point.x + 1) / 2) * size.width,
        y: ((1 - point.y) / 2) * size.height,
        r: spec.kind === 'pivot' ? 12 : (spec.radius_mm * focal) / Math.max(1, depth_mm),
        depth_mm,
        isSeen: depth_mm > 1,
      };
    });
    board.place(projected, size, clear, axisOnScreen(specs, camera, size), isTight);
  });
  return null;
}

/** Direction of the opened pivot's axis on the screen, px; across the picture where no pivot is open. */
function axisOnScreen(specs: readonly LabelSpec[], camera: Camera, size: Size): [number, number] {
  const part = specs.find((spec) => spec.kind === 'part');
  if (!part) return [1, 0];
  const [x, y, z] = part.at;
  const a = point.set(x, y, z - 20).project(camera);
  const start: [number, number] = [a.x * size.width, -a.y * size.height];
  const b = along.set(x, y, z + 20).project(camera);
  return [b.x * size.width - start[0], -b.y * size.height - start[1]];
}
