/**
 * Section hatching: the parallel thin lines that mark cut material, clipped to a closed polygon.
 *
 * Practice of ISO 128-3 (general principles of cuts and sections): thin continuous lines at 45°, the same direction and
 * spacing over all cut surfaces of one part, another direction or spacing in the part beside it. Lines are computed and
 * clipped here (even-odd crossing of each line with the edges) rather than left to an SVG pattern, because converters
 * and printers treat patterns unevenly. px; `rise` +1 climbs to the right on the screen, −1 falls.
 */
import { px } from './svg.ts';

/** One part's hatching. */
export interface Hatch {
  readonly rise: 1 | -1;
  /** Distance between lines, square to them, px. */
  readonly spacing_px: number;
  /** Where the family of lines is anchored, so that it moves with the part. */
  readonly origin: readonly [x: number, y: number];
}

type Point = readonly [x: number, y: number];

/** Path data of the hatch lines inside `polygon`; empty when none falls inside. */
export function hatchPath(polygon: readonly Point[], hatch: Hatch): string {
  const { rise, origin } = hatch;
  // Along a line x + rise·y is constant (screen y grows downward), so this value names the line.
  const name = ([x, y]: Point) => x - origin[0] + rise * (y - origin[1]);
  const names = polygon.map(name);
  const step = hatch.spacing_px * Math.SQRT2;
  const first = Math.ceil(Math.min(...names) / step + 1e-6);
  const last = Math.floor(Math.max(...names) / step - 1e-6);
  let path = '';
  for (let k = first; k <= last; k += 1) {
    const cuts = cutsAt(polygon, names, k * step);
    for (let j = 0; j + 1 < cuts.length; j += 2) {
      const [x1, y1] = cuts[j]!;
      const [x2, y2] = cuts[j + 1]!;
      if (x2 - x1 < 0.35) continue;
      path += `M${px(x1)} ${px(y1)}L${px(x2)} ${px(y2)}`;
    }
  }
  return path;
}

function cutsAt(polygon: readonly Point[], names: readonly number[], level: number): Point[] {
  const cuts: Point[] = [];
  polygon.forEach((from, k) => {
    const next = (k + 1) % polygon.length;
    const to = polygon[next]!;
    const a = names[k]! - level;
    const b = names[next]! - level;
    // Half-open, so that a line through a corner counts once.
    if (a < 0 === b < 0) return;
    const t = a / (a - b);
    cuts.push([from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]);
  });
  return cuts.sort((p, q) => p[0] - q[0]);
}
