/**
 * The bored boss of a member as a solid of revolution, in the bike's own z.
 *
 * Outside radius: the boss; inside: the through bore, opened to each bearing seat for the seat's depth, or to the
 * nominal size of a thread for its length. A blind thread closes the rest of the boss. Sizes mm.
 */
import type { MemberBore, Side } from '../model/schema.ts';
import type { Corner, Polygon, Solid } from '../types.ts';
import type { MaterialKey } from '../standards/materials.ts';

/** The boss of a bore, at its place along z. */
export function bossSolid(bore: MemberBore, material: MaterialKey): Solid {
  return { role: 'body', material, polygon: bossPolygon(bore) };
}

function bossPolygon(bore: MemberBore): Polygon {
  const edge = Math.min(0.5, (bore.z_to_mm - bore.z_from_mm) / 8, (bore.boss_mm - widest(bore)) / 6);
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
  const steps: Corner[] = [];
  const opening = (side: Side): { r: number; depth: number } => {
    const seat = bore.seats?.find((candidate) => candidate.side === side);
    if (seat) return { r: seat.diameter_mm / 2, depth: seat.depth_mm };
    if (bore.thread?.opens === side) return { r: bore.thread.size_mm / 2, depth: bore.thread.length_mm };
    return { r: bore.bore_mm / 2, depth: 0 };
  };
  const drive = opening('drive');
  const nonDrive = opening('non-drive');
  const width = bore.z_to_mm - bore.z_from_mm;
  const through = [drive, nonDrive].find(({ depth }) => depth > width - 1e-9);
  if (through && bore.thread?.blind !== true) return [[through.r, bore.z_to_mm], [through.r, bore.z_from_mm]];
  const isBlind = bore.thread?.blind === true;
  const middle = isBlind ? 0 : bore.bore_mm / 2;
  steps.push([isBlind && bore.thread?.opens !== 'drive' ? 0 : drive.r, bore.z_to_mm]);
  if (drive.depth > 0) steps.push([drive.r, bore.z_to_mm - drive.depth], [middle, bore.z_to_mm - drive.depth]);
  if (nonDrive.depth > 0) steps.push([middle, bore.z_from_mm + nonDrive.depth], [nonDrive.r, bore.z_from_mm + nonDrive.depth]);
  steps.push([isBlind && bore.thread?.opens !== 'non-drive' ? 0 : nonDrive.r, bore.z_from_mm]);
  return steps;
}

function widest(bore: MemberBore): number {
  return Math.max(bore.bore_mm, bore.thread?.size_mm ?? 0, ...(bore.seats ?? []).map((seat) => seat.diameter_mm));
}
