/**
 * The turn of the cut about the axis: how far a hand has rolled it from facing the viewer, and where its handle stands.
 *
 * The handle is the upper end of the cut's trace on the screen; dragged down it comes toward the viewer, as a rod is
 * rolled between fingers. Every plane through the axis lies within a quarter turn either way. Angles rad, lengths mm.
 */
import { frameAxes } from './fit.ts';
import type { Place } from './placement.ts';

/** Farthest turn either way: edge-on. */
export const FARTHEST_turn = Math.PI / 2;
/** Turn for one press of an arrow key. */
export const KEY_turn = Math.PI / 36;

/** A turn within its limits. */
export function clampTurn(turn_rad: number): number {
  return Math.max(-FARTHEST_turn, Math.min(FARTHEST_turn, turn_rad));
}

/**
 * The cut as it stands: the direction its face looks, and the end of its trace where the handle is; angles about the
 * axis.
 */
export interface CutTurn {
  readonly facing_rad: number;
  readonly handle_rad: number;
}

/** The cut for a viewer in this direction who has rolled it by `turn_rad`, from `facing_rad` at rest. */
export function rollCut(facing_rad: number, direction: Place, turn_rad: number): CutTurn {
  const up = frameAxes(direction)[1];
  const upper = up[0] * -Math.sin(facing_rad) + up[1] * Math.cos(facing_rad) >= 0 ? 1 : -1;
  const rolled = facing_rad - upper * turn_rad;
  return { facing_rad: rolled, handle_rad: rolled + (upper * Math.PI) / 2 };
}
