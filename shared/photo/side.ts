/**
 * A bike's side plane from a photo: a board of marks gives the camera, the two wheels' axles say what is level, and each
 * pivot stands where its click meets the height that its row has. mm, x forward and y up from the first pivot.
 */
import { findCamera, placeAt, type Camera, type Found, type Mark } from './camera.ts';
import type { Place } from './plane.ts';

/** A board of marks, clicked row by row from its upper left corner, hung against the drive side. */
export interface Board {
  readonly columns: number;
  readonly rows: number;
  readonly across_mm: number;
  readonly down_mm: number;
  /** From the middle plane. */
  readonly z_mm: number;
}

/** Something clicked, with how far it stands from the middle plane. */
export interface Clicked {
  readonly at_px: Place;
  readonly z_mm: number;
}

/** What a photo shows. */
export interface SidePhoto {
  readonly width_px: number;
  readonly height_px: number;
  readonly board: Board;
  readonly marks: readonly Place[];
  readonly distance_mm: number;
  /** The ends of the rear and the front axle on the drive side, and how much higher the front one stands. */
  readonly axles?: { readonly rear: Clicked; readonly front: Clicked; readonly higher_mm: number };
  readonly pivots: readonly Clicked[];
}

/** Where everything stands. */
export interface Side {
  readonly camera: Camera;
  /** How far the board hung from level, degrees, > 0 with its forward end up; undefined before the axles are clicked. */
  readonly level_deg?: number;
  readonly wheelbase_mm?: number;
  /** Each pivot from the first, level; as the board hangs before the axles are clicked. */
  readonly pivots: readonly (Found | undefined)[];
}

/** The side plane; undefined before all marks are clicked, and where they give no camera. */
export function sideOf(photo: SidePhoto): Side | undefined {
  const { board, marks, axles, pivots } = photo;
  if (marks.length < board.columns * board.rows) return undefined;
  const camera = findCamera({ ...photo, marks: marks.map((at, k) => markOf(board, at, k)) });
  if (!camera) return undefined;
  const [rear, front] = [axles?.rear, axles?.front].map((end) => end && placeAt(camera, end.at_px, end.z_mm));
  const level = rear && front ? levelOf(rear, front, axles!.higher_mm) : undefined;
  const [cos, sin] = [Math.cos(-(level ?? 0)), Math.sin(-(level ?? 0))];
  const found = pivots.map(({ at_px, z_mm }) => placeAt(camera, at_px, z_mm));
  const first = found[0];
  return {
    camera,
    ...(level !== undefined && {
      level_deg: (level * 180) / Math.PI,
      wheelbase_mm: Math.hypot(front!.x_mm - rear!.x_mm, front!.y_mm - rear!.y_mm),
    }),
    pivots: found.map((place) => {
      if (!place || !first) return undefined;
      const [x, y] = [place.x_mm - first.x_mm, place.y_mm - first.y_mm];
      return { x_mm: x * cos - y * sin, y_mm: x * sin + y * cos, error_mm: place.error_mm };
    }),
  };
}

function markOf({ columns, across_mm, down_mm, z_mm }: Board, [u_px, v_px]: Place, k: number): Mark {
  return { x_mm: (k % columns) * across_mm, y_mm: -Math.floor(k / columns) * down_mm, z_mm, u_px, v_px };
}

/** By how much the line of the axles leans more than it should, rad. */
function levelOf(rear: Found, front: Found, higher_mm: number): number {
  const [x, y] = [front.x_mm - rear.x_mm, front.y_mm - rear.y_mm];
  const should = Math.asin(Math.max(-1, Math.min(1, higher_mm / Math.hypot(x, y))));
  return Math.atan2(y, x) - should;
}
