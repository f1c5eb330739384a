/**
 * Where the camera stands so that a set of points fills the picture.
 *
 * Exact for a perspective camera: each point gives one linear bound per edge of the frame, and the widest pair of
 * bounds sets the distance, across and upward by themselves, so that a narrow portrait screen is fitted as well as a
 * wide one. Directions point from the target to the camera; up is +y. mm.
 */
import { add, cross, dot, scale, unit, type Point3 as Place } from './vector.ts';

/** Where one looks, and from where; mm. */
export interface Stand {
  readonly target: Place;
  readonly direction: Place;
  readonly distance_mm: number;
}

/** Part of the frame left free round the points: 0 none, 0.2 a fifth of the half frame. */
interface Margin {
  readonly across: number;
  readonly upward: number;
}

/** The named views. */
export type View = 'drive' | 'non-drive' | 'above' | 'three-quarter';

/**
 * Half the angle across the longer side of the picture, degrees: a long lens draws nearly parallel, as a manual does.
 */
const LENS_deg = 12;

/** Field of view upward of a picture of this aspect (width over height), degrees. */
export function fieldOfView_deg(aspect: number): number {
  const across = Math.tan((LENS_deg * Math.PI) / 180);
  return (2 * Math.atan(aspect > 1 ? across / aspect : across) * 180) / Math.PI;
}

/** Nearest the camera comes, mm. */
const NEAREST_mm = 180;

/** The stand from which all `points` are seen in a frame of this field of view and aspect (width over height). */
export function fitStand(
  points: readonly Place[],
  direction: Place,
  up_deg: number,
  aspect: number,
  margin: Margin,
): Stand {
  const toCamera = unit(direction);
  const [right, up] = frameAxes(toCamera);
  const tanUp = Math.tan((up_deg * Math.PI) / 360);
  const slopeUp = tanUp * (1 - margin.upward);
  const slopeAcross = tanUp * aspect * (1 - margin.across);
  const across = bounds(points, right, toCamera, slopeAcross);
  const upward = bounds(points, up, toCamera, slopeUp);
  const distance = Math.max(across.distance, upward.distance);
  const target = add(scale(right, across.centre), scale(up, upward.centre));
  // The distance was measured from the plane through the origin; put the target amid the points instead.
  const depths = points.map((point) => dot(point, toCamera));
  const depth = points.length === 0 ? 0 : (Math.min(...depths) + Math.max(...depths)) / 2;
  return {
    target: add(target, scale(toCamera, depth)),
    direction: toCamera,
    distance_mm: Math.max(NEAREST_mm, distance - depth),
  };
}

/** Direction of a view of the whole bike. The bike points right seen from the drive side. */
export function overviewDirection(view: View): Place {
  if (view === 'drive') return unit([-0.02, 0.06, 1]);
  if (view === 'non-drive') return unit([-0.02, 0.06, -1]);
  if (view === 'above') return unit([0, 1, 0.012]);
  return unit([-0.52, 0.4, 0.86]);
}

/** Aspect (width over height) from which a picture counts as wide. */
const WIDE = 1.05;
/** Aspects of the room that is free for the parts: over the first the row lies flat, under the other it is steepest. */
const ROOM = { low: 4.2, high: 1.9 } as const;

/** Directions to the eye on the lowest wide picture, and on the highest, where the row is steep enough to fill it. */
const FLAT: Readonly<Record<View, Place>> = {
  drive: [-0.78, 0.28, 0.56],
  'non-drive': [-0.78, 0.28, -0.56],
  above: [-0.02, 1, 0],
  'three-quarter': [-0.9, 0.31, 0.31],
};
const STEEP: Readonly<Record<View, Place>> = {
  drive: [-0.69, 0.35, 0.62],
  'non-drive': [-0.69, 0.35, -0.62],
  above: [-0.02, 1, 0],
  'three-quarter': [-0.8, 0.4, 0.42],
};

/**
 * Direction of a view of one pivot. On a wide picture one looks across the axis from behind the bike, so that the drive
 * side lies on the right as on the row, steeper the higher the room that is free for the parts; on a narrow one the axis
 * runs down it.
 */
export function pivotDirection(view: View, aspect: number, room: number = aspect): Place {
  if (isWide(aspect)) {
    const steep = Math.min(1, Math.max(0, (ROOM.low - room) / (ROOM.low - ROOM.high)));
    return unit(add(scale(FLAT[view], 1 - steep), scale(STEEP[view], steep)));
  }
  if (view === 'drive') return unit([-0.2, 0.5, 0.84]);
  if (view === 'non-drive') return unit([-0.2, 0.5, -0.84]);
  if (view === 'above') return unit([-0.002, 1, 0.012]);
  return unit([-0.2, 0.74, 0.64]);
}

/** The picture a pivot is fitted into, px; `clear` is what the app's controls cover. */
export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly clear: { readonly top: number; readonly bottom: number };
  /** Only the part in the hand is named: names take less of the height. */
  readonly hasFewNames?: true;
  /** Width that something beside the parts covers, px. */
  readonly aside_px?: number;
}

/** Height kept free over and under an opened pivot for its labels, px. */
const LABEL_ROOM_px = 58;

/** The stand from which an opened pivot whose parts have these corners fills the picture. */
export function pivotStand(points: readonly Place[], view: View, frame: Frame): Stand {
  const aspect = frame.width / Math.max(1, frame.height);
  return fitStand(points, directionIn(frame, view), fieldOfView_deg(aspect), aspect, marginOf(frame));
}

/** Direction of a view of one pivot in a picture. */
export function directionIn(frame: Frame, view: View): Place {
  const aspect = frame.width / Math.max(1, frame.height);
  const { across, upward } = marginOf(frame);
  return pivotDirection(view, aspect, (aspect * (1 - across)) / (1 - upward));
}

function marginOf({ width, height, clear, hasFewNames, aside_px = 0 }: Frame): Margin {
  const room = Math.min(hasFewNames ? LABEL_ROOM_px / 4 : LABEL_ROOM_px, height * 0.16 + 10);
  return {
    across: (isWide(width / Math.max(1, height)) ? 0.1 : 0.16) + aside_px / Math.max(1, width),
    upward: Math.min(0.75, (clear.top + clear.bottom + 2 * room) / Math.max(1, height)),
  };
}

/** Whether the rows of a pivot run across a picture of this aspect rather than down it. */
export function isWide(aspect: number): boolean {
  return aspect > WIDE;
}

/** Right and up of the picture for a camera in this direction. */
export function frameAxes(toCamera: Place): readonly [right: Place, up: Place] {
  // right = forward × up with forward = −toCamera and up = +y.
  const right = unit([toCamera[2], 0, -toCamera[0]]);
  return [right, cross(toCamera, right)];
}

function bounds(
  points: readonly Place[],
  axis: Place,
  toCamera: Place,
  slope: number,
): { distance: number; centre: number } {
  let high = -Infinity;
  let low = Infinity;
  for (const point of points) {
    const side = dot(point, axis);
    const reach = dot(point, toCamera) * slope;
    high = Math.max(high, side + reach);
    low = Math.min(low, side - reach);
  }
  if (high === -Infinity) return { distance: NEAREST_mm, centre: 0 };
  return { distance: (high - low) / (2 * slope), centre: (high + low) / 2 };
}
