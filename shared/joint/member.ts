/**
 * The bored boss of a member as a solid of revolution, in the bike's own z.
 *
 * Outside radius: the boss; inside: the through bore, opened to each bearing seat for the seat's depth, or to the
 * nominal size of a thread for its length. A blind thread closes the rest of the boss. Sizes mm.
 */
import { tubePolygon } from '../profile/polygon.ts';
import { otherSide } from '../numbers/figures.ts';
import type { MemberBore, Side } from '../model/schema.ts';
import type { Corner, Polygon, Solid } from '../types.ts';
import type { MaterialKey } from '../standards/materials.ts';

/** Broken edge of a boss, mm: an estimate of ours, since no model gives it. */
const BOSS_EDGE_mm = 0.5;

/**
 * The boss of a bore, at its place along z, mm from the bike's middle, + to the drive side; `edgeFactor` on its assumed
 * edges. The bore must have been checked; O(seats).
 */
export function bossSolid(bore: MemberBore, material: MaterialKey, edgeFactor = 1): Solid {
  return { role: 'body', material, polygon: bossPolygon(bore, BOSS_EDGE_mm * edgeFactor) };
}

/** A boss with the threaded sleeve that is screwed into it, where it has one. */
export function bossSolids(bore: MemberBore, material: MaterialKey, edgeFactor = 1): Solid[] {
  const { thread, z_from_mm: low, z_to_mm: high } = bore;
  const boss = bossSolid(bore, material, edgeFactor);
  if (!thread?.sleeve) return [boss];
  const { outside_mm, material: made } = thread.sleeve;
  const [from, to] = thread.opens === 'drive' ? [high - thread.length_mm, high] : [low, low + thread.length_mm];
  return [boss, { role: 'body', material: made, polygon: tubePolygon(thread.size_mm / 2, outside_mm / 2, from, to) }];
}

/** How wide a boss is cut for its thread, or for the sleeve that has it. */
function threadHole_mm({ size_mm, sleeve }: NonNullable<MemberBore['thread']>): number {
  return sleeve?.outside_mm ?? size_mm;
}

function bossPolygon(bore: MemberBore, edge_mm: number): Polygon {
  const edge = Math.min(edge_mm, (bore.z_to_mm - bore.z_from_mm) / 8, (bore.boss_mm - widest(bore)) / 6);
  const outside = bore.boss_mm / 2;
  const corners: Corner[] = [
    [outside - edge, bore.z_from_mm],
    [outside, bore.z_from_mm + edge],
    [outside, bore.z_to_mm - edge],
    [outside - edge, bore.z_to_mm],
  ];
  for (const [r, z] of insideFromDriveSide(bore)) {
    const [lastR, lastZ] = corners.at(-1)!;
    if (Math.abs(lastR - r) > 1e-9 || Math.abs(lastZ - z) > 1e-9) corners.push([r, z]);
  }
  return corners;
}

function insideFromDriveSide(bore: MemberBore): Corner[] {
  const { seats = [], thread, z_from_mm: low, z_to_mm: high } = bore;
  const width = high - low;
  const middle = thread?.blind === true ? 0 : bore.bore_mm / 2;
  const seatOn = (side: Side) => seats.find((candidate) => candidate.side === side);
  const opening = (side: Side): { r: number; depth: number } => {
    const seat = seatOn(side);
    if (seat) return { r: seat.diameter_mm / 2, depth: seat.depth_mm };
    if (thread?.opens !== side) return { r: middle, depth: 0 };
    // A thread ends at the latest where a seat from the other side begins.
    const across = seatOn(otherSide(side))?.depth_mm ?? 0;
    return { r: threadHole_mm(thread) / 2, depth: Math.min(thread.length_mm, width - across) };
  };
  const [drive, nonDrive] = [opening('drive'), opening('non-drive')];
  const through = [drive, nonDrive].find(({ depth }) => depth > width - 1e-9);
  if (through)
    return [
      [through.r, high],
      [through.r, low],
    ];
  const [fromDrive, fromNonDrive] = [high - drive.depth, low + nonDrive.depth];
  const between: Corner[] =
    fromDrive - fromNonDrive > 1e-9
      ? [
          [middle, fromDrive],
          [middle, fromNonDrive],
        ]
      : [];
  /** Down the wall of a groove and back up, from the drive side on. */
  const grooved = (side: Side, { r }: { r: number }): Corner[] => {
    const groove = seatOn(side)?.groove;
    if (!groove) return [];
    const [near, far] = [groove.margin_mm, groove.margin_mm + groove.width_mm];
    const [first, last] = side === 'drive' ? [high - near, high - far] : [low + far, low + near];
    const wide = groove.diameter_mm / 2;
    return [
      [r, first],
      [wide, first],
      [wide, last],
      [r, last],
    ];
  };
  return [
    [drive.r, high],
    ...grooved('drive', drive),
    [drive.r, fromDrive],
    ...between,
    [nonDrive.r, fromNonDrive],
    ...grooved('non-drive', nonDrive),
    [nonDrive.r, low],
  ];
}

function widest(bore: MemberBore): number {
  return Math.max(
    bore.bore_mm,
    bore.thread ? threadHole_mm(bore.thread) : 0,
    ...(bore.seats ?? []).map((seat) => seat.groove?.diameter_mm ?? seat.diameter_mm),
  );
}
