/**
 * The cut-out of a forged plate: where between its two bosses material may be left out.
 *
 * A window keeps a rim to both bosses and to the plate's edges, and stays clear of every other boss, bridge and plate
 * of its member. It is a matter of looks: the check for clearance takes the whole hull, which is the stricter of the
 * two. mm in the side plane; along the plate measured from the first boss circle to the second.
 */
import { isBridge, onWindow, tangentHull, type WebEnd, type Window } from './web.ts';

/** Something of the same member that a window must not open into: a plate or a bridge between two ends, a lone boss. */
export interface Keep {
  readonly a: WebEnd;
  readonly b: WebEnd;
  readonly thickness_mm: number;
}

/** Rim left to a boss, to an edge, and to what else stands in the plate, mm: a look, no strength is claimed. */
const RIM_mm = { boss: 5.5, edge: 4.2, other: 4 } as const;
/** A smaller window is left out, mm. */
const LEAST_mm = { length: 13, width: 10 } as const;
const TRIES = 40;
/** Points of a window's border that are looked at. */
const BORDER = Array.from({ length: 32 }, (_, k) => onWindow((2 * Math.PI * k) / 32));

/** The largest window of a plate; undefined where none is worth cutting. */
export function windowOf(
  a: WebEnd,
  b: WebEnd,
  height_mm: number | undefined,
  thickness_mm: number,
  others: readonly Keep[],
): Window | undefined {
  const [dx, dy] = [b.x_mm - a.x_mm, b.y_mm - a.y_mm];
  const length = Math.hypot(dx, dy);
  const gap = length - a.radius_mm - b.radius_mm;
  const half = height_mm === undefined ? Math.min(a.radius_mm, b.radius_mm) : height_mm / 2;
  const width = 1 - RIM_mm.edge / half;
  if (gap < 2 * RIM_mm.boss + LEAST_mm.length || 2 * half * width < LEAST_mm.width) return undefined;
  const place = (along: number, across: number): readonly [number, number] => [
    a.x_mm + (dx * along - dy * across) / length,
    a.y_mm + (dy * along + dx * across) / length,
  ];
  const near = others.filter(
    (other) =>
      Math.abs((a.z_mm + b.z_mm) / 2 - (other.a.z_mm + other.b.z_mm) / 2) < (thickness_mm + other.thickness_mm) / 2,
  );
  const isFree = (low: number, high: number): boolean => {
    if (high - low < LEAST_mm.length) return false;
    const middle = a.radius_mm + (low + high) / 2;
    return BORDER.every(([u, v]) =>
      [1, 0.5].every((share) =>
        near.every((other) => !holds(other, place(middle + ((high - low) / 2) * u * share, half * width * v * share))),
      ),
    );
  };
  const full = [RIM_mm.boss, gap - RIM_mm.boss] as const;
  const step = (full[1] - full[0]) / TRIES;
  for (let lost = 0; lost <= TRIES; lost += 1) {
    // Of windows as long as one another the one nearer the first boss.
    for (let cut = 0; cut <= lost; cut += 1) {
      const [low, high] = [full[0] + cut * step, full[1] - (lost - cut) * step];
      if (isFree(low, high)) return { from: low / gap, to: high / gap, width };
    }
  }
  return undefined;
}

function holds({ a, b }: Keep, [x, y]: readonly [number, number]): boolean {
  const rim = RIM_mm.other;
  const [wideA, wideB] = [a, b].map((end) => ({ ...end, radius_mm: end.radius_mm + rim })) as [WebEnd, WebEnd];
  if ([wideA, wideB].some((end) => Math.hypot(x - end.x_mm, y - end.y_mm) < end.radius_mm)) return true;
  if (isBridge(a, b)) return false;
  const hull = tangentHull(wideA, wideB);
  return (
    hull.length > 0 &&
    hull.every(([px, py], k) => {
      const [qx, qy] = hull[(k + 1) % hull.length]!;
      return (qx - px) * (y - py) - (qy - py) * (x - px) >= -1e-9;
    })
  );
}
