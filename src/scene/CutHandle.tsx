/**
 * The handle that turns the cut about the axis: dragged, or by the arrow keys once it has the focus.
 *
 * A button over the picture at the end of the cut's trace. `CutDriver` runs inside the canvas and puts it there before
 * each frame, with the line from the axis to it.
 */
import { useCallback, useRef, type KeyboardEvent, type PointerEvent, type ReactNode, type RefObject } from 'react';
import { useFrame } from '@react-three/fiber';
import { Vector3 } from 'three';
import type { Board } from './board.ts';
import { clampTurn, KEY_turn } from './turn.ts';

/** The elements that the driver moves. */
export interface HandleParts {
  readonly button: RefObject<HTMLDivElement | null>;
  readonly line: RefObject<SVGLineElement | null>;
}

interface Props {
  readonly parts: HandleParts;
  readonly board: Board;
  readonly turn_rad: number;
  readonly onTurn: (turn_rad: number) => void;
}

/** A drag of this many pixels rolls the cut by one radian. */
const DRAG_px = 90;
const STEPS: Readonly<Record<string, number>> = { ArrowUp: -1, ArrowLeft: -1, ArrowDown: 1, ArrowRight: 1 };

/** The handle and its line. */
export function CutHandle({ parts, board, turn_rad, onTurn }: Props): ReactNode {
  const grip = useRef<{ readonly id: number; readonly y: number; readonly turn_rad: number } | undefined>(undefined);
  // One element, two who want it: the driver moves it, the labels keep clear of it.
  const setButton = useCallback(
    (element: HTMLDivElement | null) => {
      parts.button.current = element;
      return board.keep('cut handle')(element);
    },
    [parts.button, board],
  );
  const press = (event: PointerEvent<HTMLDivElement>): void => {
    if (event.button !== 0) return;
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    grip.current = { id: event.pointerId, y: event.clientY, turn_rad };
  };
  const drag = (event: PointerEvent<HTMLDivElement>): void => {
    const held = grip.current;
    if (held?.id === event.pointerId) onTurn(clampTurn(held.turn_rad + (event.clientY - held.y) / DRAG_px));
  };
  const release = (): void => {
    grip.current = undefined;
  };
  const type = (event: KeyboardEvent<HTMLDivElement>): void => {
    const step = STEPS[event.key];
    const next = event.key === 'Home' ? 0 : step === undefined ? undefined : clampTurn(turn_rad + step * KEY_turn);
    if (next === undefined || event.ctrlKey || event.altKey || event.metaKey) return;
    // The same keys step through the build elsewhere.
    event.preventDefault();
    event.stopPropagation();
    onTurn(next);
  };
  const degrees = Math.round((turn_rad * 180) / Math.PI);
  return (
    <>
      <svg className="scene-cut-trace over full" aria-hidden="true">
        <line ref={parts.line} />
      </svg>
      <div
        ref={setButton}
        className="scene-cut-handle stack"
        role="slider"
        tabIndex={0}
        aria-label="Turn the cut about the axis"
        aria-orientation="vertical"
        aria-valuemin={-90}
        aria-valuemax={90}
        aria-valuenow={degrees}
        aria-valuetext={
          degrees === 0 ? 'facing you' : `${Math.abs(degrees)}° rolled ${degrees > 0 ? 'toward you' : 'away from you'}`
        }
        onPointerDown={press}
        onPointerMove={drag}
        onPointerUp={release}
        onPointerCancel={release}
        onDoubleClick={() => onTurn(0)}
        onKeyDown={type}
      >
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <path d="M5 9a7.5 7.5 0 0 1 14 0m0-5v5h-5M19 15a7.5 7.5 0 0 1-14 0m0 5v-5h5" />
        </svg>
      </div>
    </>
  );
}

interface DriverProps {
  readonly parts: HandleParts;
  /** The point of the axis that the handle belongs to, how far it stands off, and in which direction about the axis. */
  readonly at: readonly [x_mm: number, y_mm: number, z_mm: number];
  readonly away_mm: number;
  readonly handle_rad: number;
}

const HALF_px = 22;
const point = new Vector3();

/** Keeps the handle in its place. */
export function CutDriver({ parts, at, away_mm, handle_rad }: DriverProps): ReactNode {
  useFrame(({ camera, size }) => {
    const onScreen = (reach_mm: number): [number, number] => {
      point
        .set(at[0] + reach_mm * Math.cos(handle_rad), at[1] + reach_mm * Math.sin(handle_rad), at[2])
        .project(camera);
      return [((point.x + 1) / 2) * size.width, ((1 - point.y) / 2) * size.height];
    };
    const [x0, y0] = onScreen(0);
    const [x1, y1] = onScreen(away_mm);
    const x = Math.min(size.width - HALF_px, Math.max(HALF_px, x1));
    const y = Math.min(size.height - HALF_px, Math.max(HALF_px, y1));
    if (parts.button.current)
      parts.button.current.style.transform = `translate(${(x - HALF_px).toFixed(1)}px, ${(y - HALF_px).toFixed(1)}px)`;
    for (const [name, value] of Object.entries({ x1: x0, y1: y0, x2: x, y2: y }))
      parts.line.current?.setAttribute(name, value.toFixed(1));
  });
  return null;
}
