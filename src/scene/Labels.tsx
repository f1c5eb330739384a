/**
 * The labels themselves: HTML over the canvas, so that type is crisp, can be read by a screen reader and pressed.
 *
 * Pivots are real buttons, at least 44 px high. Part names are a second way to what the row already offers to
 * keyboard and screen reader, and are therefore left out for those.
 */
import { useEffect, useLayoutEffect, type ReactNode } from 'react';
import { invalidate, useFrame } from '@react-three/fiber';
import type { PerspectiveCamera } from 'three';
import type { Board, Clear } from './board.ts';
import { useScene } from './context.ts';
import type { LabelSpec } from './labels.ts';
import { axisOnScreen, projectLabel } from './project.ts';

interface Props {
  readonly board: Board;
  readonly specs: readonly LabelSpec[];
  readonly onPivot: (pivotId: string) => void;
  readonly onSelect: (id?: string) => void;
  readonly onLight: (id?: string) => void;
}

/** All labels, leader lines and pivot dots. */
export function Labels({ board, specs, onPivot, onSelect, onLight }: Props): ReactNode {
  // A frame may have been drawn before these elements were there to be measured and placed.
  useLayoutEffect(() => invalidate(), [specs]);
  // Names that were measured in another type are placed anew when their own has come.
  useEffect(() => {
    const place = (): void => invalidate();
    document.fonts.addEventListener('loadingdone', place);
    return () => document.fonts.removeEventListener('loadingdone', place);
  }, []);
  return (
    <div className="scene-labels over full">
      <svg className="scene-leaders over full" aria-hidden="true">
        {specs.map((spec) => (
          <g key={spec.id} className={classOf('scene-leader', spec)}>
            {(spec.kind === 'part' || spec.kind === 'pivot') && <polyline ref={board.line(spec.id)} />}
            {spec.kind === 'pivot' && (
              <g ref={board.dot(spec.id)}>
                <circle className="scene-dot-halo" r="9" />
                <circle className="scene-dot" r="5" />
              </g>
            )}
          </g>
        ))}
      </svg>
      {specs.map((spec) =>
        spec.kind === 'pivot' ? (
          <button
            key={spec.id}
            ref={board.box(spec.id)}
            type="button"
            className={classOf('scene-pivot no-wrap', spec)}
            aria-label={spec.spoken}
            onClick={() => onPivot(spec.id.slice('pivot '.length))}
          >
            {spec.isTroubled && <TroubleMark />}
            {spec.text}
          </button>
        ) : (
          <div
            key={spec.id}
            ref={board.box(spec.id)}
            className={classOf(
              spec.kind === 'part' ? 'scene-part medium snug no-wrap' : `scene-side no-wrap scene-side-${spec.kind}`,
              spec,
            )}
            aria-hidden="true"
            {...(spec.kind === 'part'
              ? {
                  onClick: () => onSelect(spec.id),
                  onPointerEnter: () => onLight(spec.id),
                  onPointerLeave: () => onLight(undefined),
                }
              : {})}
          >
            {spec.isTroubled && <TroubleMark />}
            {spec.letter !== undefined && <span className="scene-letter bold">{spec.letter}</span>}
            {spec.text}
          </div>
        ),
      )}
    </div>
  );
}

function TroubleMark(): ReactNode {
  return <span className="scene-trouble-mark">!</span>;
}

function classOf(base: string, spec: LabelSpec): string {
  return [base, spec.isTroubled && 'is-troubled', spec.isPicked && 'is-picked', spec.isLit && 'is-lit']
    .filter(Boolean)
    .join(' ');
}

interface DriverProps {
  readonly board: Board;
  readonly specs: readonly LabelSpec[];
  readonly clear: Clear;
  /** No room for the pivots' names. */
  readonly isTight: boolean;
}

/**
 * Projects the anchors of all labels before each frame and hands them to the board. Runs after motion and camera,
 * before the frame is drawn.
 */
export function LabelDriver({ board, specs, clear, isTight }: DriverProps): ReactNode {
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
