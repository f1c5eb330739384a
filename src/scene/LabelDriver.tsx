/**
 * Projects the anchors of all labels before each frame and hands them to the board.
 */
import type { ReactNode } from 'react';
import { useFrame } from '@react-three/fiber';
import type { PerspectiveCamera } from 'three';
import type { Board, Clear } from './board.ts';
import { useScene } from './context.ts';
import type { LabelSpec } from './labels.ts';
import { axisOnScreen, projectLabel } from './project.ts';

interface Props {
  readonly board: Board;
  readonly specs: readonly LabelSpec[];
  readonly clear: Clear;
  /** No room for the pivots' names. */
  readonly isTight: boolean;
}

/** Runs after motion and camera, before the frame is drawn. */
export function LabelDriver({ board, specs, clear, isTight }: Props): ReactNode {
  const { motion } = useScene();
  useFrame(({ camera: any, size }) => {
    const camera = any as PerspectiveCamera;
    camera.updateMatrixWorld();
    const projected = specs.map((spec) =>
      projectLabel(spec, spec.item === undefined ? 0 : motion.at(spec.item), camera, size),
    );
    board.place(projected, size, clear, axisOnScreen(specs, camera, size), isTight);
  });
  return null;
}
