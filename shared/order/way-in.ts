/**
 * The way in of a unit: from where it can be brought to its place past what stands there already.
 *
 * In the side plane a unit is moved straight; each piece that passes it at the same z shuts an arc of directions. An arc
 * runs anticlockwise, seen from the drive side, from one angle to another at most a full turn further on. A body brought
 * in from a direction meets another where the ray that way meets the difference of the two outlines: of two hulls of two
 * discs each that is the hull of four discs, whose shut arc has a closed form (the blocking directions of assembly
 * planning: Wilson, Latombe; published-values.md A1). Along the axle a unit is shut where a piece lies over another in
 * the side plane on that side. What stands further off than an arm's swing is left aside, and so are pieces drawn into
 * one another. Two units shut the same directions wherever else they stand, so that every pair is looked at once. mm, rad.
 */
import type { Side } from '../model/schema.ts';
import { hullGap } from '../travel/clearance.ts';
import type { Outline } from '../travel/outline.ts';
import { type Bike, type Piece, boxGap_mm, isBeside } from './bike.ts';
import { ORDER_LIMITS } from './limits.ts';

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

/** What one standing body shuts for a moving one. */
export interface Shut {
  readonly arcs: readonly Arc[];
  /** It cannot come from the drive side, or from the non-drive side, along the axle. */
  readonly drive: boolean;
  readonly nonDrive: boolean;
}

/** What is left open. */
export interface WayIn {
  /** Directions in the side plane to come from; only arcs wide enough to be found by hand. */
  readonly arcs: readonly Arc[];
  readonly sides: readonly Side[];
}

const NOTHING: Shut = { arcs: [], drive: false, nonDrive: false };

/** What `standing` shuts for `moving`, both at their places. */
export function shutBy(moving: readonly Piece[], standing: readonly Piece[]): Shut {
  const arcs: Arc[] = [];
  let [drive, nonDrive] = [false, false];
  const near = standing.filter((other) => isNear(moving, other));
  for (const own of moving) {
    for (const other of near) {
      if (isBeside(own, other)) {
        const shut = shutArc(own, other, ORDER_LIMITS.wayMargin_mm.value);
        if (shut) arcs.push(shut);
        continue;
      }
      if (hullGap(own, other).gap_mm > -ORDER_LIMITS.drawnOverlap_mm.value) continue;
      if (other.zFrom_mm + other.zTo_mm > own.zFrom_mm + own.zTo_mm) drive = true;
      else nonDrive = true;
    }
  }
  return arcs.length === 0 && !drive && !nonDrive ? NOTHING : { arcs, drive, nonDrive };
}

function isNear(moving: readonly Piece[], other: Piece): boolean {
  return moving.some((own) => hullGap(own, other).gap_mm <= ORDER_LIMITS.wayIn_mm.value);
}

/** What several standing bodies leave open together. */
export function openWay(shuts: readonly Shut[]): WayIn {
  const least = (ORDER_LIMITS.leastWay_deg.value * Math.PI) / 180;
  const arcs = openArcs(shuts.flatMap((shut) => shut.arcs)).filter(({ from, to }) => to - from >= least);
  const sides: Side[] = [];
  if (!shuts.some((shut) => shut.nonDrive)) sides.push('non-drive');
  if (!shuts.some((shut) => shut.drive)) sides.push('drive');
  return { arcs, sides };
}

/** Ways in on a bike, every pair of units worked out once. */
export class Ways {
  private readonly known = new Map<string, Shut>();
  private readonly near = new Map<string, readonly string[]>();
  private readonly bike: Bike;

  constructor(bike: Bike) {
    this.bike = bike;
  }

  /** What one owner shuts for a unit. */
  shut(unit: string, owner: string): Shut {
    const key = `${unit} ${owner}`;
    const known = this.known.get(key);
    if (known) return known;
    const found = shutBy(this.bike.pieces.get(unit)!, this.bike.pieces.get(owner)!);
    this.known.set(key, found);
    return found;
  }

  /** Owners so near that they can shut something for a unit. */
  nearOf(unit: string): readonly string[] {
    const known = this.near.get(unit);
    if (known) return known;
    const box = this.bike.boxes.get(unit)!;
    const found = [...this.bike.boxes].flatMap(([owner, other]) =>
      owner !== unit && boxGap_mm(box, other) <= ORDER_LIMITS.wayIn_mm.value ? [owner] : [],
    );
    this.near.set(unit, found);
    return found;
  }

  /** The way in of a unit with these owners on the bike. */
  into(unit: string, on: ReadonlySet<string>): WayIn {
    return openWay(
      this.nearOf(unit)
        .filter((owner) => on.has(owner))
        .map((owner) => this.shut(unit, owner)),
    );
  }
}

/** How a unit is best brought in: from a direction of the side plane, or along the axle from a side. */
export type Approach =
  | { readonly how: 'plane'; readonly angle_rad: number }
  | { readonly how: 'axle'; readonly side: Side };

/** The best approach of what is open: along the axle where it must be so, or where a plate lies wholly on one open side; else by the widest arc. */
export function approachOf(way: WayIn, pieces: readonly Piece[], mustBeAlong: boolean): Approach | undefined {
  const low = Math.min(...pieces.map((piece) => piece.zFrom_mm));
  const high = Math.max(...pieces.map((piece) => piece.zTo_mm));
  const own: Side | undefined = low >= 0 ? 'drive' : high <= 0 ? 'non-drive' : undefined;
  const side = own !== undefined && way.sides.includes(own) ? own : undefined;
  if (side) return { how: 'axle', side };
  const best = widest(way.arcs);
  if (!mustBeAlong && best) return { how: 'plane', angle_rad: (best.from + best.to) / 2 };
  const any = way.sides[0];
  return any === undefined ? undefined : { how: 'axle', side: any };
}
