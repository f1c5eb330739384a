/**
 * The way in of a unit: from where it can be brought to its place past what stands there already.
 *
 * In the side plane a unit is moved straight; each piece that passes it at the same z shuts an arc of directions
 * (`arcs.ts`). Along the axle it is shut where a piece lies over another in the side plane on that side. What stands
 * further off than an arm's swing is left aside, and so are pieces drawn into one another. Two units shut the same
 * directions wherever else they stand, so that every pair is looked at once. mm, rad.
 */
import type { Side } from '../model/schema.ts';
import { hullGap } from '../travel/clearance.ts';
import { openArcs, shutArc, widest, type Arc } from './arcs.ts';
import { boxGap_mm, isBeside, type Bike, type Piece } from './bike.ts';
import { ORDER_LIMITS } from './limits.ts';

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
