/**
 * The shock as two turned bodies along the line between its eyes; for the picture only. mm.
 *
 * The can starts at the body's eye, the shaft shows as much of itself as the stroke needs, and a travel ring sits against
 * the can, as it does before the first ride.
 */
import type { LinkageModel, Polygon } from '../../shared/index.ts';
import type { Anchor, Place } from './placement.ts';

/** Where the shock lies and its profiles; z of a profile runs from the body's eye to the shaft's. */
export interface ShockShape {
  readonly from: Place;
  readonly to: Place;
  readonly can: Polygon;
  readonly shaft: Polygon;
  readonly travelRing: Polygon;
}

const LARGEST_CAN_mm = 25;
const SHAFT_mm = 5;

/** The shock of a model; undefined where it has none or its eyes have no place. */
export function shockShape(model: LinkageModel, anchors: Readonly<Record<string, Readonly<Record<string, Anchor>>>>): ShockShape | undefined {
  const { shock } = model;
  if (!shock) return undefined;
  const body = eye(anchors[shock.body]);
  const shaft = eye(anchors[shock.shaft]);
  if (!body || !shaft) return undefined;
  const length = Math.hypot(...shaft.place.map((value, k) => value - body.place[k]!));
  const shaftEye = shaft.radius_mm;
  const start = body.isTrunnion ? -8 : body.radius_mm * 0.7;
  const lug = length - shaftEye - 12;
  const end = Math.max(start + 20, lug - shock.stroke_mm - 5);
  if (lug < start + 24) return undefined;
  const r = Math.min(LARGEST_CAN_mm, Math.max(14, length * 0.125));
  const neck = body.isTrunnion ? r * 0.7 : Math.min(r * 0.6, body.radius_mm * 0.9);
  const shoulder = body.isTrunnion ? start + 2 : body.radius_mm + 7;
  const head = Math.max(shoulder + 2, start + (end - start) * 0.3);
  const lugRadius = Math.min(shaftEye * 0.8, 12);
  return {
    from: body.place,
    to: shaft.place,
    can: [
      [0, start], [neck, start], [neck, shoulder - 3], [r * 0.8, shoulder], [r * 0.8, head - 3],
      [r * 0.86, head - 3], [r * 0.86, head - 1], [r, head + 1], [r, end - 9], [r - 0.7, end - 9], [r - 0.7, end - 7.6], [r, end - 7.6],
      [r, end - 2], [r - 2, end], [SHAFT_mm + 2, end], [SHAFT_mm + 2, end + 1], [0, end + 1],
    ],
    shaft: [
      [0, end], [SHAFT_mm, end], [SHAFT_mm, lug], [lugRadius - 1.5, lug], [lugRadius, lug + 1.5],
      [lugRadius, length - shaftEye * 0.7], [0, length - shaftEye * 0.7],
    ],
    travelRing: [
      [SHAFT_mm, end + 2], [SHAFT_mm + 1.8, end + 2.4], [SHAFT_mm + 1.8, end + 4], [SHAFT_mm, end + 4.4],
    ],
  };
}

/** The middle of a member's bored ends that share the first one's place in the side plane. */
function eye(anchors: Readonly<Record<string, Anchor>> | undefined): { place: Place; radius_mm: number; isTrunnion: boolean } | undefined {
  const all = Object.values(anchors ?? {}).filter((anchor) => anchor.bore_mm > 0);
  const first = all[0];
  if (!first) return undefined;
  const same = all.filter((anchor) => Math.hypot(anchor.x_mm - first.x_mm, anchor.y_mm - first.y_mm) < 0.5);
  const z = same.reduce((sum, anchor) => sum + anchor.z_mm, 0) / same.length;
  return { place: [first.x_mm, first.y_mm, z], radius_mm: first.radius_mm, isTrunnion: same.length > 1 };
}
