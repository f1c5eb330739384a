/**
 * Room an axle, a nut and a tool need at a pivot, and what takes it.
 *
 * The axle comes in along its own line: from the row's face outward, as deep as it goes in, the head's circle must be
 * free of every outline, that is: no outline grown by the head's radius may hold the axis. The nut needs the same for
 * its own length beyond the tip. At the end where a tool works it needs a cylinder for socket or key, and beside it
 * room for the handle: the torque wrench a sweep, a holding tool any angle. Angles are tried a few degrees apart. All
 * as drawn; mm, deg, rad.
 *
 * The way in of a unit: from where it can be brought to its place past what stands there already.
 *
 * In the side plane a unit is moved straight; each piece that passes it at the same z shuts an arc of directions. An
 * arc runs anticlockwise, seen from the drive side, from one angle to another at most a full turn further on. A body
 * brought in from a direction meets another where the ray that way meets the difference of the two outlines: of two
 * hulls of two discs each that is the hull of four discs, whose shut arc has a closed form (the blocking directions of
 * assembly planning: Wilson, Latombe; published-values.md A1). Along the axle a unit is shut where a piece lies over
 * another in the side plane on that side. What stands further off than an arm's swing is left aside, and so are pieces
 * drawn into one another. Two units shut the same directions wherever else they stand, so that every pair is looked at
 * once. mm, rad.
 *
 * What presses a bearing in and out of its seat, from the profiles: the widths of driver, support and punch, and which
 * ring of the bearing each can bear on.
 *
 * In: a driver as wide as the outer ring's face at most, hollow at least as far as that ring's inner edge, so that it
 * touches neither seal nor inner ring. Out: the bearing leaves on the side its seat opens to, pushed from the other
 * side through the bore. What of its outer ring shows inside the bore is pushed on; where only the inner ring shows,
 * the balls take the force and the bearing is scrap. Past a second bearing a punch is as wide as that bearing's bore at
 * most and must catch the edge of the ring from beside it; a tube between the two is tilted aside first, as far as its
 * play in the bore lets it go, and what then shows of the inner ring's face is all there is to catch. Under the boss a
 * support leaves the bearing room to come through. Widths are rounded to the half millimetre, to the side that still
 * goes. mm.
 */
import type { DriveTool, Side } from '../model/schema.ts';
import { otherSide } from '../numbers/figures.ts';
import type { SolidRole } from '../profile/solid.ts';
import { hullGap } from '../travel/clearance.ts';
import type { Disc, Outline } from '../travel/outline.ts';
import type { PlacedItem } from '../types.ts';
import { type Bike, boxGap_mm, boxOf, isBeside, type Joined, type Piece, type Reach, remembered } from './bike.ts';
import { ORDER_LIMITS, TOOL_SIZES } from './limits.ts';

/** A cylinder along z that must be free. */
export interface Cylinder extends Disc, Reach {}

/** What reaches into a cylinder, and how far. */
export interface Cover {
  readonly owner: string;
  /** Overlap of the two in the side plane, mm, > 0. */
  readonly cover_mm: number;
  readonly isEstimate: boolean;
}

/** +1 to the drive side. */
export function outward(side: Side): 1 | -1 {
  return side === 'drive' ? 1 : -1;
}

function cylinder(own: Joined, radius_mm: number, from_mm: number, to_mm: number): Cylinder {
  return { ...own.place, radius_mm, zFrom_mm: Math.min(from_mm, to_mm), zTo_mm: Math.max(from_mm, to_mm) };
}

/** Largest radius of an item, mm. */
export function radiusOf(item: { readonly solids: Joined['axle']['solids'] }): number {
  return Math.max(0, ...item.solids.flatMap(({ polygon }) => polygon.map(([r]) => r)));
}

/** z of an item's face to a side. */
function faceOf(item: { readonly from_mm: number; readonly to_mm: number }, side: Side): number {
  return side === 'drive' ? item.to_mm : item.from_mm;
}

/** How deep an axle's tip goes beyond the first face it meets, mm. */
export function depthOf(own: Joined): number {
  return Math.max(0, outward(own.from) * (firstFace(own) - faceOf(own.axle, own.tipSide)));
}

/** z of the first face the tip meets: the outermost boss or bearing on the side it comes from. */
export function firstFace(own: Joined): number {
  const row = own.items.filter((item) => item.rowId !== 'axle' && item.rowId !== 'receiver');
  const hard = row.filter((item) => item.role === 'boss' || item.role === 'bearing');
  const faces = (hard.length > 0 ? hard : row).map((item) => faceOf(item, own.from));
  return own.from === 'drive' ? Math.max(...faces) : Math.min(...faces);
}

/** The axle's way in: its head's circle from where the head comes to rest to where the tip stands clear. */
export function axlePath(own: Joined): Cylinder {
  const head = faceOf(own.axle, own.from);
  return cylinder(own, radiusOf(own.axle), firstFace(own), head + outward(own.from) * depthOf(own));
}

/** Room to bring a loose nut or screw to the axle's tip; undefined where the axle screws into a member. */
export function receiverPath(own: Joined): Cylinder | undefined {
  const { receiver, tipSide } = own;
  if (receiver.role === 'boss') return undefined;
  const near = faceOf(receiver, own.from);
  const out_mm = 2 * (receiver.to_mm - receiver.from_mm) + own.stack.tightening.engagement_mm;
  return cylinder(own, radiusOf(receiver), near, near + outward(tipSide) * out_mm);
}

/** Nothing further from an axis than this is asked about, mm: a handle's length and more. */
const REACH_mm = 300;

/**
 * What could be in an axle's way, by owner: everything near it but the bosses it goes through and the roots of their
 * webs, which the fit check judges by their profiles.
 */
export function aroundOf(bike: Bike, own: Joined): ReadonlyMap<string, readonly Piece[]> {
  const disc = { ...own.place, radius_mm: 0 };
  const axis = { a: disc, b: disc };
  const here = boxOf([axis]);
  const around = new Map<string, readonly Piece[]>();
  for (const [owner, pieces] of bike.pieces) {
    if (boxGap_mm(here, bike.boxes.get(owner)!) > REACH_mm) continue;
    around.set(owner, own.units.includes(owner) ? pieces.filter((piece) => hullGap(axis, piece).gap_mm > 0) : pieces);
  }
  return around;
}

/** Everything that reaches into a cylinder: of each owner the piece that reaches in furthest. */
export function covers(room: Cylinder, pieces: Iterable<Piece>): Cover[] {
  const found = new Map<string, Cover>();
  for (const piece of pieces) {
    if (!isBeside(room, piece)) continue;
    const cover_mm = -hullGap({ a: room, b: room }, piece).gap_mm;
    if (cover_mm <= ORDER_LIMITS.drawnOverlap_mm.value || cover_mm <= (found.get(piece.owner)?.cover_mm ?? 0)) continue;
    found.set(piece.owner, { owner: piece.owner, cover_mm, isEstimate: piece.isEstimate });
  }
  return [...found.values()];
}

/** A tool at one end of an axle: what it is, where it works, and what room it needs. */
export interface ToolRoom {
  readonly tool: DriveTool;
  readonly role: 'turns' | 'holds';
  readonly side: Side;
  /** What it sits on. */
  readonly item: string;
  /** z of the face it is put on, and that of the handle's two sides. */
  readonly end_mm: number;
  readonly shank: Cylinder;
  readonly handle: Reach & { readonly length_mm: number; readonly width_mm: number };
  /** Free angle in one piece that the handle needs, deg. */
  readonly sweep_deg: number;
}

/** The tools of a stack: the one that turns first, then the one that holds. */
export function toolsOf(own: Joined): ToolRoom[] {
  const { tool, turned, held, stand } = own.stack.tightening;
  return [
    ...(tool ? [roomAt(own, tool, 'turns', stand, own[turned === 'receiver' ? 'receiver' : 'axle'])] : []),
    ...(held?.tool
      ? [roomAt(own, held.tool, 'holds', held.side, own[held.what === 'axle' ? 'axle' : 'receiver'])]
      : []),
  ];
}

/** Whether a tool goes into its drive. */
export function isKey({ tool }: DriveTool): boolean {
  return tool === 'hex-key' || tool === 'star-key';
}

/** A star key goes by a number; above 12 it is no width. From memory: number 30 is 5.6 mm across. */
export function isNumbered({ tool, size_mm }: DriveTool): boolean {
  return tool === 'star-key' && size_mm > 12;
}

/** Width of a tool over its flats or points, mm. */
export function across_mm(tool: DriveTool): number {
  return isNumbered(tool) ? tool.size_mm * 0.187 : tool.size_mm;
}

function roomAt(own: Joined, tool: DriveTool, role: ToolRoom['role'], side: Side, item: Joined['axle']): ToolRoom {
  const end_mm = faceOf(item, side);
  /** A shank from one distance outward of the face to another, and a handle likewise, mm. */
  const room = (
    [radius_mm, from, to]: readonly [number, number, number],
    [near, far, length_mm, width_mm]: readonly [number, number, number, number],
    sweep_deg: number,
  ): ToolRoom => {
    const at = (out_mm: number): number => end_mm + outward(side) * out_mm;
    const { zFrom_mm, zTo_mm } = cylinder(own, 0, at(near), at(far));
    const shank = cylinder(own, radius_mm, at(from), at(to));
    return {
      tool,
      role,
      side,
      item: item.id,
      end_mm,
      shank,
      handle: { zFrom_mm, zTo_mm, length_mm, width_mm },
      sweep_deg,
    };
  };
  const sizes = TOOL_SIZES;
  const size = across_mm(tool);
  if (role === 'turns') {
    const { socket_length_mm: socket, wrenchHead_height_mm: head } = sizes;
    const radius = isKey(tool) ? Math.max(sizes.bit_radius_mm, size / 2 + 2) : size / 2 + sizes.socketWall_mm;
    // A socket goes over the nut it turns; a bit stands before the face.
    const start = isKey(tool) ? 0 : -Math.min(item.to_mm - item.from_mm, 8);
    const handle = [socket, socket + head, sizes.wrenchHandle_length_mm, sizes.wrenchHandle_width_mm] as const;
    return room([radius, start, socket], handle, ORDER_LIMITS.leastSweep_deg.value);
  }
  if (isKey(tool)) {
    const { keyArm_mm: arm, keyLong_mm, keyLong_per_size } = sizes;
    return room([size / 2 + 1, 0, arm + size], [arm, arm + size, keyLong_mm + keyLong_per_size * size, size + 2], 0);
  }
  const thick = Math.max(4, sizes.spannerThickness_per_size * size);
  const inward = Math.min(item.to_mm - item.from_mm, thick);
  const length_mm = sizes.spannerLength_mm + sizes.spannerLength_per_size * size;
  const [from, to] = [-inward, thick - inward];
  return room([sizes.spannerHead_per_size * size, from, to], [from, to, length_mm, size * 0.55], 0);
}

/** A tool's handle at an angle, from the axis to its end, in the side plane. */
export function handleAt({ shank: { x_mm, y_mm }, handle }: ToolRoom, angle_rad: number): Pick<Outline, 'a' | 'b'> {
  const radius_mm = handle.width_mm / 2;
  const reach = handle.length_mm - radius_mm;
  const end = { x_mm: x_mm + reach * Math.cos(angle_rad), y_mm: y_mm + reach * Math.sin(angle_rad) };
  return { a: { x_mm, y_mm, radius_mm }, b: { ...end, radius_mm } };
}

/** Angles at which a handle is tried, deg apart. */
export const SWEEP_STEP_deg = 5;

/** For each tried angle, from 0 on: whether the handle meets any of the pieces there. */
export function shutAngles(room: ToolRoom, pieces: Iterable<Piece>): boolean[] {
  const near = [...pieces].filter((piece) => isBeside(room.handle, piece));
  return Array.from({ length: 360 / SWEEP_STEP_deg }, (_, k) => {
    const handle = handleAt(room, (k * SWEEP_STEP_deg * Math.PI) / 180);
    return near.some((piece) => hullGap(handle, piece).gap_mm < -ORDER_LIMITS.drawnOverlap_mm.value);
  });
}

/**
 * The widest run of open angles, deg: where it begins and how wide it is; 360 wide where none is shut, none at all
 * where all are.
 */
export function widestSweep(
  shut: readonly boolean[],
): { readonly from_deg: number; readonly wide_deg: number } | undefined {
  const count = shut.length;
  const first = shut.indexOf(true);
  if (first < 0) return { from_deg: 0, wide_deg: 360 };
  let best: { from: number; length: number } | undefined;
  let run = 0;
  for (let k = 1; k <= count; k++) {
    if (shut[(first + k) % count]) {
      run = 0;
      continue;
    }
    run++;
    if (!best || run > best.length) best = { from: first + k - run + 1, length: run };
  }
  return best && { from_deg: (best.from % count) * SWEEP_STEP_deg, wide_deg: (best.length - 1) * SWEEP_STEP_deg };
}

/** Whether a handle has the room it needs. */
export function hasSweep(room: ToolRoom, shut: readonly boolean[]): boolean {
  const open = widestSweep(shut);
  return open !== undefined && open.wide_deg >= room.sweep_deg;
}

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

/** What `standing` shuts for `moving`, both at their places. */
export function shutBy(moving: readonly Piece[], standing: readonly Piece[]): Shut {
  const arcs: Arc[] = [];
  let [drive, nonDrive] = [false, false];
  const isNear = (other: Piece): boolean =>
    moving.some((own) => hullGap(own, other).gap_mm <= ORDER_LIMITS.wayIn_mm.value);
  const near = standing.filter(isNear);
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
  return { arcs, drive, nonDrive };
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
    const { pieces } = this.bike;
    return remembered(this.known, `${unit} ${owner}`, () => shutBy(pieces.get(unit)!, pieces.get(owner)!));
  }

  /** Owners so near that they can shut something for a unit. */
  nearOf(unit: string): readonly string[] {
    const { boxes } = this.bike;
    const isNear = (owner: string): boolean =>
      owner !== unit && boxGap_mm(boxes.get(unit)!, boxes.get(owner)!) <= ORDER_LIMITS.wayIn_mm.value;
    return remembered(this.near, unit, () => [...boxes.keys()].filter(isNear));
  }

  /** The way in of a unit with these owners on the bike. */
  into(unit: string, on: ReadonlySet<string>): WayIn {
    const near = this.nearOf(unit).filter((owner) => on.has(owner));
    return openWay(near.map((owner) => this.shut(unit, owner)));
  }
}

/** How a unit is best brought in: from a direction of the side plane, or along the axle from a side. */
export type Approach =
  | { readonly how: 'plane'; readonly angle_rad: number }
  | { readonly how: 'axle'; readonly side: Side };

/**
 * The best approach of what is open: along the axle where it must be so, or where a plate lies wholly on one open side;
 * else by the widest arc.
 */
export function approachOf(way: WayIn, pieces: readonly Piece[], mustBeAlong: boolean): Approach | undefined {
  const own: Side | undefined = pieces.every(({ zFrom_mm }) => zFrom_mm >= 0)
    ? 'drive'
    : pieces.every(({ zTo_mm }) => zTo_mm <= 0)
      ? 'non-drive'
      : undefined;
  const side = way.sides.find((open) => open === own);
  if (side) return { how: 'axle', side };
  const best = widest(way.arcs);
  if (!mustBeAlong && best) return { how: 'plane', angle_rad: middleOf(best) };
  const any = way.sides[0];
  return any && { how: 'axle', side: any };
}

/** The widths of what a hand takes to press one bearing. */
export interface Pressing {
  /** The side it goes in from and comes out to. */
  readonly side: Side;
  readonly driver: { readonly most_mm: number; readonly hollow_mm: number };
  /** A ring under the boss as the bearing comes out: wide enough inside for it, no wider outside than the boss. */
  readonly support: { readonly inside_mm: number; readonly outside_mm: number };
  readonly out: PressOut;
}

/** How a bearing is pushed out, from the side that its seat does not open to. */
export interface PressOut {
  readonly from: Side;
  readonly bearsOn: 'outer-ring' | 'inner-ring' | 'nothing';
  /** A punch no wider and no thinner than this; none where it finds nothing to bear on. */
  readonly punch?: { readonly most_mm: number; readonly least_mm: number };
  /** Another bearing of the same boss that is still in: the punch goes through it and catches from beside. */
  readonly past?: string;
  /** The bearing it rests on in the same seat, which is pushed in its stead and comes out with it. */
  readonly with?: string;
  /** The tube between the two that is tilted aside, and what then shows of the ring, mm. */
  readonly tube?: { readonly item: string; readonly lip_mm: number };
  /** Width of the inner ring's bore: what a puller takes hold of where no punch can. */
  readonly bore_mm: number;
}

/**
 * Widths for one bearing of a stack: among these items its boss, the other bearing of it that is in, a tube between.
 */
export function pressingOf(bearing: PlacedItem, items: readonly PlacedItem[]): Pressing | undefined {
  const { seat } = bearing;
  const boss = items.find(
    ({ role, member, bore }) => role === 'boss' && seat !== undefined && member === seat.member && bore === seat.bore,
  );
  if (!seat || !boss) return undefined;
  const outer = flatOf(bearing, 'outer-ring', seat.side);
  return {
    side: seat.side,
    driver: { most_mm: down(2 * outer.to_mm), hollow_mm: up(2 * outer.from_mm) },
    support: { inside_mm: up(2 * widestOf(bearing) + GAP_mm), outside_mm: down(2 * widestOf(boss)) },
    out: outOfSeat(bearing, boss, items),
  };
}

/** Of bearings in one seat the innermost is pushed, and takes the others along. */
function outOfSeat(bearing: PlacedItem, boss: PlacedItem, items: readonly PlacedItem[]): PressOut {
  const under = items.find(({ id }) => id === bearing.seat?.on);
  return under
    ? { ...outOfSeat(under, boss, items), with: under.id, bore_mm: 2 * narrowest(bearing) }
    : pressOut(bearing, boss, items);
}

function pressOut(bearing: PlacedItem, boss: PlacedItem, items: readonly PlacedItem[]): PressOut {
  const { seat } = bearing;
  const from = otherSide(seat!.side);
  const [outer, inner] = [flatOf(bearing, 'outer-ring', from), flatOf(bearing, 'inner-ring', from)];
  const bore_mm = 2 * narrowest(bearing);
  const past = items.find(
    ({ role, seat: other }) =>
      role === 'bearing' && other?.member === seat!.member && other.bore === seat!.bore && other.side === from,
  );
  const least = ORDER_LIMITS.catch_mm.value;
  const opening = narrowest(boss);
  if (!past) {
    const most_mm = down(2 * opening - GAP_mm);
    if (opening - outer.from_mm >= least)
      return {
        from,
        bearsOn: 'outer-ring',
        punch: { most_mm: Math.min(most_mm, down(2 * outer.to_mm)), least_mm: up(2 * (outer.from_mm + least)) },
        bore_mm,
      };
    const widest_mm = Math.min(most_mm, down(2 * inner.to_mm));
    const thinnest_mm = up(2 * (inner.from_mm + least));
    return widest_mm < thinnest_mm
      ? { from, bearsOn: 'nothing', bore_mm }
      : { from, bearsOn: 'inner-ring', punch: { most_mm: widest_mm, least_mm: thinnest_mm }, bore_mm };
  }
  const through = narrowest(past);
  const between = items.find(
    ({ role, seat: clips, from_mm, to_mm }) =>
      role === 'spacer' &&
      !clips &&
      from_mm >= Math.min(past.from_mm, bearing.from_mm) &&
      to_mm <= Math.max(past.to_mm, bearing.to_mm),
  );
  const aside = Math.max(0, opening - (between ? widestOf(between) : 0));
  // A tube's edge stands off the ring's by how far it goes aside; without a tube all of the ring's face is bare.
  const lip_mm = between ? Math.max(0, narrowest(between) + aside - inner.from_mm) : inner.to_mm - inner.from_mm;
  const tube = between ? { tube: { item: between.id, lip_mm } } : {};
  if (lip_mm < least) return { from, bearsOn: 'nothing', past: past.id, ...tube, bore_mm };
  const clear = between ? Math.min(through, narrowest(between)) : through;
  return {
    from,
    bearsOn: 'inner-ring',
    punch: {
      // It leans to one side: so much thinner than the bore it goes through that its edge comes over the lip.
      most_mm: Math.max(ORDER_LIMITS.leastPunch_mm.value, down(2 * clear - GAP_mm - least)),
      least_mm: ORDER_LIMITS.leastPunch_mm.value,
    },
    past: past.id,
    ...tube,
    bore_mm,
  };
}

/** Play of a tool in what it goes through, mm across. */
const GAP_mm = 0.5;
/** A corner this near to an end belongs to its face, mm: broken edges stand back further. */
const FACE_mm = 0.02;

/** The flat of a ring's end face, from its inner to its outer edge. */
function flatOf(item: PlacedItem, role: SolidRole, side: Side): { readonly from_mm: number; readonly to_mm: number } {
  const corners = item.solids.filter((solid) => solid.role === role).flatMap(({ polygon }) => polygon);
  const sign = side === 'drive' ? 1 : -1;
  const end = Math.max(...corners.map(([, z]) => sign * z));
  const radii = corners.filter(([, z]) => end - sign * z <= FACE_mm).map(([r]) => r);
  return { from_mm: Math.min(...radii), to_mm: Math.max(...radii) };
}

const radiiOf = ({ solids }: PlacedItem): number[] => solids.flatMap(({ polygon }) => polygon.map(([r]) => r));
const widestOf = (item: PlacedItem): number => Math.max(...radiiOf(item));
const narrowest = (item: PlacedItem): number => Math.min(...radiiOf(item));
const down = (width_mm: number): number => Math.floor(2 * width_mm + 1e-9) / 2;
const up = (width_mm: number): number => Math.ceil(2 * width_mm - 1e-9) / 2;
