/**
 * Where a label's anchor is on the screen, and how far what it names reaches there.
 *
 * Pixels from the upper left corner of the picture, y down; a pure function of label, offset, camera and picture.
 */
import { Vector3, type PerspectiveCamera } from 'three';
import type { Projected } from './board.ts';
import type { LabelSpec } from './labels.ts';
import type { Box } from './layout.ts';

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
  const [x, y] = spec.at;
  const stack = nearestStack(spec, camera);
  const z = stack ? (stack[0] + stack[1]) / 2 : spec.at[2];
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
  const hardware = stack && hardwareBox(spec, stack, scale, camera, size);
  return {
    id: spec.id,
    kind: spec.kind,
    isFirst: spec.isFirst,
    ...(spec.rank === undefined ? {} : { rank: spec.rank }),
    ...(hardware ? { hardware } : {}),
    x: ((point.x + 1) / 2) * size.width,
    y: ((1 - point.y) / 2) * size.height,
    r,
    half,
    depth_mm,
    isSeen: depth_mm > 1,
  };
}

function nearestStack({ at: [x, y], stacks_mm = [] }: LabelSpec, camera: PerspectiveCamera) {
  const away = ([from, to]: readonly [number, number]): number =>
    camera.position.distanceTo(seen.set(x, y, (from + to) / 2));
  return [...stacks_mm].sort((a, b) => away(a) - away(b))[0];
}

/** What the parts of a stack cover on the screen. */
function hardwareBox(
  { at: [x, y], radius_mm }: LabelSpec,
  stack: readonly [number, number],
  scale: number,
  camera: PerspectiveCamera,
  size: { readonly width: number; readonly height: number },
): Box {
  const ends = stack.map((z): [number, number] => {
    const end = seen.set(x, y, z).project(camera);
    return [((end.x + 1) / 2) * size.width, ((1 - end.y) / 2) * size.height];
  });
  const reach = Math.max(DOT_px, radius_mm * scale);
  const span = (k: 0 | 1): [number, number] => [
    Math.min(...ends.map((end) => end[k])) - reach,
    Math.max(...ends.map((end) => end[k])) + reach,
  ];
  const [[left, right], [top, bottom]] = [span(0), span(1)];
  return { left, top, width: right - left, height: bottom - top };
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
