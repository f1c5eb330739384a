/**
 * Where a label's anchor is on the screen, and how far what it names reaches there.
 *
 * Pixels from the upper left corner of the picture, y down; a pure function of label, offset, camera and picture.
 */
import { Vector3, type PerspectiveCamera } from 'three';
import type { Projected } from './board.ts';
import type { LabelSpec } from './labels.ts';

const DOT_px = 12;
const point = new Vector3();
const seen = new Vector3();

/** Projects a label that has slid by `offset_mm` along the axis. */
export function projectLabel(
  spec: LabelSpec,
  offset_mm: number,
  camera: PerspectiveCamera,
  size: { readonly width: number; readonly height: number },
): Projected {
  const [x, y, z] = spec.at;
  point.set(x, y, z + offset_mm);
  const depth_mm = -seen.copy(point).applyMatrix4(camera.matrixWorldInverse).z;
  const focal_px = size.height / (2 * Math.tan((camera.fov * Math.PI) / 360));
  const scale = focal_px / Math.max(1, depth_mm);
  const r = spec.kind === 'pivot' ? DOT_px : spec.radius_mm * scale;
  // The share of a length along the axis that is seen from here; the rest of it shows the part's round face.
  const share =
    Math.hypot(camera.position.x - x, camera.position.y - y) / Math.max(1, camera.position.distanceTo(point));
  const half =
    spec.half_mm === undefined ? r : spec.half_mm * scale * share + r * Math.sqrt(Math.max(0, 1 - share * share));
  point.project(camera);
  return {
    id: spec.id,
    kind: spec.kind,
    isFirst: spec.isFirst,
    ...(spec.rank === undefined ? {} : { rank: spec.rank }),
    x: ((point.x + 1) / 2) * size.width,
    y: ((1 - point.y) / 2) * size.height,
    r,
    half,
    depth_mm,
    isSeen: depth_mm > 1,
  };
}

/** Direction of the opened pivot's axis on the screen, px; across the picture where no pivot is open. */
export function axisOnScreen(
  specs: readonly LabelSpec[],
  camera: PerspectiveCamera,
  size: { readonly width: number; readonly height: number },
): [number, number] {
  const part = specs.find((spec) => spec.kind === 'part');
  if (!part) return [1, 0];
  const [x, y, z] = part.at;
  const a = point.set(x, y, z - 20).project(camera);
  const start: [number, number] = [a.x * size.width, -a.y * size.height];
  const b = seen.set(x, y, z + 20).project(camera);
  return [b.x * size.width - start[0], -b.y * size.height - start[1]];
}
