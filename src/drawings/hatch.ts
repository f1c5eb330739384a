/**
 * Section hatching: which parts are cut, in which direction and how closely each is hatched, and the lines themselves.
 *
 * Practice of ISO 128-3 (general principles of cuts and sections): thin continuous lines at 45°, the same direction and
 * spacing over all cut surfaces of one part, another direction or spacing in the part beside it. Lines are computed and
 * clipped here (even-odd crossing of each line with the edges) rather than left to an SVG pattern, because converters
 * and printers treat patterns unevenly.
 */
import { kindNamed, type PlacedItem } from '../../shared/index.ts';
import type { Hatching, Point } from './shapes.ts';

/** Direction and spacing of a part's hatching, before scale. */
export interface HatchStyle {
  readonly rise: 1 | -1;
  readonly spacing_px: number;
}

/** True for parts that ISO 128-3 leaves uncut when the cut runs along them. */
export function isUncut(item: PlacedItem): boolean {
  return item.member === undefined && kindNamed(item.kind)?.isUncut === true;
}

/** Hatching for every item in row order, so that neighbours differ in direction or spacing. */
export function hatchStyles(items: readonly PlacedItem[]): ReadonlyMap<string, HatchStyle> {
  const styles = new Map<string, HatchStyle>();
  let bosses = 0;
  let afterSpacer = false;
  for (const item of items) {
    if (item.role === 'boss' || item.member !== undefined) {
      styles.set(item.id, { rise: 1, spacing_px: bosses % 2 === 0 ? 7.5 : 9.5 });
      bosses += 1;
      afterSpacer = false;
    } else if (item.role === 'bearing') {
      styles.set(item.id, { rise: 1, spacing_px: 3.6 });
      afterSpacer = false;
    } else if (item.role === 'tip' || item.role === 'lining' || (item.role === 'spacer' && item.seat !== undefined)) {
      // A circlip or a lining: small, and anything may stand beside it.
      styles.set(item.id, { rise: -1, spacing_px: 2.8 });
    } else {
      styles.set(item.id, afterSpacer ? { rise: 1, spacing_px: 5.4 } : { rise: -1, spacing_px: 4.6 });
      afterSpacer = !afterSpacer && item.role === 'spacer';
    }
  }
  return styles;
}

/** The hatch lines inside `polygon`. */
export function hatchLines(polygon: readonly Point[], hatch: Hatching): (readonly [Point, Point])[] {
  const { rise, origin, pen } = hatch;
  // Along a line x + rise·y is constant (y grows downward), so this value names the line.
  const levels = polygon.map(([x, y]) => x - origin[0] + rise * (y - origin[1]));
  const step = hatch.spacing * Math.SQRT2;
  const first = Math.ceil(Math.min(...levels) / step + 1e-6);
  const last = Math.floor(Math.max(...levels) / step - 1e-6);
  const found: (readonly [Point, Point])[] = [];
  for (let k = first; k <= last; k += 1) {
    const cuts = cutsAt(polygon, levels, k * step);
    for (let j = 0; j + 1 < cuts.length; j += 2) {
      const [from, to] = [cuts[j]!, cuts[j + 1]!];
      // Shorter than this it would be a dot.
      if (to[0] - from[0] >= pen / 2) found.push([from, to]);
    }
  }
  return found;
}

function cutsAt(polygon: readonly Point[], levels: readonly number[], level: number): Point[] {
  const cuts: Point[] = [];
  polygon.forEach((from, k) => {
    const next = (k + 1) % polygon.length;
    const to = polygon[next]!;
    const a = levels[k]! - level;
    const b = levels[next]! - level;
    // Half-open, so that a line through a corner counts once.
    if (a < 0 === b < 0) return;
    const t = a / (a - b);
    cuts.push([from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]);
  });
  return cuts.sort((p, q) => p[0] - q[0]);
}
