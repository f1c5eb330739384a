/**
 * The shock as two turned bodies along the line between its eyes; for the picture only. mm.
 *
 * The air can starts at the body's eye and ends in a seal head that a wire ring holds; the shaft shows as much of
 * itself as the stroke needs, and an O-ring sits against the seal head, as it does before the first ride. A valve
 * stands off the can. Proportions are ours: nothing is checked against them.
 */
import type { LinkageModel, Polygon } from '../../shared/index.ts';
import { rounded } from './detail.ts';
import { Painted } from './painted.ts';
import { SURFACE } from '../look.ts';
import { memberLook } from './palette.ts';
import type { Anchor, Place } from './placement.ts';
import { insideOut, revolve, type Surface } from './surface.ts';

/** Where the shock lies and its profiles; z of a profile runs from the body's eye to the shaft's. */
interface ShockShape {
  readonly from: Place;
  readonly to: Place;
  readonly can: Polygon;
  readonly shaft: Polygon;
  readonly travelORing: Polygon;
  /** The wire ring that holds the seal head. */
  readonly wire: Polygon;
  /** Where the valve stands off the can: along it, its radius there. */
  readonly valve: { readonly z_mm: number; readonly r_mm: number };
}

const LARGEST_CAN_mm = 25;
/** The sliding tube of an air shock is wide: a can that slides over it. */
const WIDEST_SHAFT_mm = 16;

/** The shock of a model; undefined where it has none or its eyes have no place. */
export function shockShape(
  model: LinkageModel,
  anchors: Readonly<Record<string, Readonly<Record<string, Anchor>>>>,
): ShockShape | undefined {
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
  const slide = Math.min(WIDEST_SHAFT_mm, r - 7);
  const neck = body.isTrunnion ? r * 0.7 : Math.min(r * 0.6, body.radius_mm * 0.9);
  const shoulder = body.isTrunnion ? start + 2 : body.radius_mm + 7;
  const head = Math.max(shoulder + 2, start + (end - start) * 0.3);
  const lugRadius = Math.min(shaftEye * 0.8, 12);
  return {
    from: body.place,
    to: shaft.place,
    can: [
      [0, start],
      [neck, start],
      [neck, shoulder - 3],
      [r * 0.8, shoulder],
      [r * 0.8, head - 3],
      [r * 0.86, head - 3],
      [r * 0.86, head - 1],
      [r, head + 1],
      [r, end - 9],
      [r - 0.7, end - 9],
      [r - 0.7, end - 7.6],
      [r, end - 7.6],
      [r, end - 2],
      [r - 2, end],
      [slide + 4, end],
      [slide + 4, end - 1.2],
      [slide + 2, end - 1.2],
      [slide + 2, end + 1],
      [0, end + 1],
    ],
    shaft: [
      [0, end],
      [slide, end],
      [slide, lug - 1.5],
      [slide - 1.5, lug],
      [lugRadius, lug],
      [lugRadius, length - shaftEye * 0.7],
      [0, length - shaftEye * 0.7],
    ],
    travelORing: [
      [slide, end + 2],
      [slide + 1.8, end + 2.4],
      [slide + 1.8, end + 4],
      [slide, end + 4.4],
    ],
    wire: [
      [slide + 3.2, end - 1.1],
      [slide + 4, end - 1.1],
      [slide + 4, end - 0.3],
      [slide + 3.2, end - 0.3],
    ],
    valve: { z_mm: shoulder + (head - shoulder) * 0.35, r_mm: r * 0.8 },
  };
}

const STEEL = memberLook('shock-shaft', 'steel');
const FACETS = 60;

/** Can, wire ring, O-ring and valve; z runs from the body's eye. */
export function paintShockBody(shape: ShockShape, material: string): Painted {
  const can = revolve(rounded(shape.can, 0.8), FACETS);
  const valve = valveSurface(shape);
  const painted = new Painted();
  painted.add(can, { kind: 'lit', look: memberLook('shock-body', material) });
  painted.add(revolve(shape.wire, FACETS), { kind: 'lit', look: SURFACE.wire });
  painted.add(valve, { kind: 'lit', look: SURFACE.wiper });
  painted.add(revolve(shape.travelORing, FACETS), { kind: 'lit', look: SURFACE.wiper });
  painted.mark('touched').mark('marked');
  return painted.add(insideOut(can), { kind: 'shell' }).add(insideOut(valve), { kind: 'shell' });
}

/** The shaft with the lug that carries its eye. */
export function paintShockShaft(shape: ShockShape): Painted {
  const shaft = revolve(rounded(shape.shaft, 0.8), FACETS);
  return new Painted()
    .add(shaft, { kind: 'lit', look: STEEL })
    .mark('touched')
    .mark('marked')
    .add(insideOut(shaft), { kind: 'shell' });
}

/** A capped valve square to the can. */
function valveSurface({ valve }: ShockShape): Surface {
  const [foot, top] = [valve.r_mm - 2, valve.r_mm + 9];
  const stem = revolve(
    [
      [0, foot],
      [4.2, foot],
      [4.2, top - 7],
      [4.8, top - 6.5],
      [4.8, top - 0.8],
      [4, top],
      [0, top],
    ],
    24,
  );
  // The stem was turned about z: lay it along x.
  for (let k = 0; k < stem.positions.length; k += 3) {
    const [x, y, z] = [stem.positions[k]!, stem.positions[k + 1]!, stem.positions[k + 2]!];
    [stem.positions[k], stem.positions[k + 1], stem.positions[k + 2]] = [z, y, valve.z_mm - x];
    const [nx, ny, nz] = [stem.normals[k]!, stem.normals[k + 1]!, stem.normals[k + 2]!];
    [stem.normals[k], stem.normals[k + 1], stem.normals[k + 2]] = [nz, ny, -nx];
  }
  return stem;
}

/** The middle of a member's bored ends that share the first one's place in the side plane. */
function eye(
  anchors: Readonly<Record<string, Anchor>> | undefined,
): { place: Place; radius_mm: number; isTrunnion: boolean } | undefined {
  const all = Object.values(anchors ?? {}).filter((anchor) => anchor.bore_mm > 0);
  const first = all[0];
  if (!first) return undefined;
  const same = all.filter((anchor) => Math.hypot(anchor.x_mm - first.x_mm, anchor.y_mm - first.y_mm) < 0.5);
  const z = same.reduce((sum, anchor) => sum + anchor.z_mm, 0) / same.length;
  return { place: [first.x_mm, first.y_mm, z], radius_mm: first.radius_mm, isTrunnion: same.length > 1 };
}
