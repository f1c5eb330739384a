/**
 * Directions in the side plane as arcs: which are shut by what stands there, which stay open.
 *
 * An arc runs anticlockwise, seen from the drive side, from one angle to another at most a full turn further on. A body
 * brought in from a direction meets another where the ray that way meets the difference of the two outlines: of two
 * hulls of two discs each that is the hull of four discs, whose shut arc has a closed form (the blocking directions of
 * assembly planning). rad, mm.
 */
import { hullGap } from '../travel/clearance.ts';
import type { Outline } from '../travel/outline.ts';

/** Angles from `from` anticlockwise to `to`, `from` in [0, 2π), `to` − `from` in [0, 2π]; rad. */
export interface Arc {
  readonly from: number;
  readonly to: number;
}

const FULL = 2 * Math.PI;

/** The arc as a sound one: its start in [0, 2π). */
export function arc(from: number, to: number): Arc {
  const start = ((from % FULL) + FULL) % FULL;
  return { from: start, to: start + Math.min(FULL, Math.max(0, to - from)) };
}

/** What the given arcs leave open, in rising order; one full arc where nothing is shut. */
export function openArcs(shut: readonly Arc[]): Arc[] {
  if (shut.length === 0) return [{ from: 0, to: FULL }];
  const sorted = [...shut].sort((one, other) => one.from - other.from || one.to - other.to);
  // What runs on past the full turn shuts the beginning as well.
  const wrapped = Math.max(...sorted.map(({ to }) => to)) - FULL;
  const first = sorted[0]!;
  const open: Arc[] = [];
  let reach = wrapped > 0 ? wrapped : first.to;
  for (const { from, to } of wrapped > 0 ? sorted : sorted.slice(1)) {
    if (from > reach) open.push({ from: reach, to: from });
    reach = Math.max(reach, to);
  }
  if (wrapped <= 0 && reach < first.from + FULL) open.push(arc(reach, first.from + FULL));
  return open.sort((one, other) => one.from - other.from);
}

/** The widest of some arcs, the first of equals; undefined of none. */
export function widest(arcs: readonly Arc[]): Arc | undefined {
  return arcs.reduce<Arc | undefined>(
    (best, next) => (best && best.to - best.from >= next.to - next.from - 1e-9 ? best : next),
    undefined,
  );
}

/** The middle of an arc, rad. */
export function middleOf({ from, to }: Arc): number {
  return (from + to) / 2;
}

type Hull = Pick<Outline, 'a' | 'b'>;

/**
 * Directions from which `moving`, where it stands, cannot have come past `standing`, kept `margin_mm` apart where they
 * are that far apart at home. Undefined where the two overlap at home: then no direction says anything.
 */
export function shutArc(moving: Hull, standing: Hull, margin_mm: number): Arc | undefined {
  const { gap_mm } = hullGap(moving, standing);
  if (gap_mm <= 0) return undefined;
  const margin = Math.min(margin_mm, gap_mm * 0.999);
  let base: number | undefined;
  let [low, high] = [Infinity, -Infinity];
  for (const other of [standing.a, standing.b]) {
    for (const own of [moving.a, moving.b]) {
      const [x, y] = [other.x_mm - own.x_mm, other.y_mm - own.y_mm];
      const half = Math.asin(Math.min(1, (own.radius_mm + other.radius_mm + margin) / Math.hypot(x, y)));
      const angle = Math.atan2(y, x);
      base ??= angle;
      // A convex body that does not hold the eye fills less than half a turn.
      const off = ((angle - base + 3 * Math.PI) % FULL) - Math.PI;
      low = Math.min(low, off - half);
      high = Math.max(high, off + half);
    }
  }
  return arc(base! + low, base! + high);
}
