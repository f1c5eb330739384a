/**
 * How far a hand moves an arm in a free check: between where it is drawn and where the whole travel takes it.
 *
 * Without its shock an arm has no stop, so that whoever lets it fall lets it hit what comes first. The ends are those
 * of the travel: each member's own turn against the drawn pose with the shock at full stroke (position solve of
 * `travel/`), told by how far the furthest place of its outline goes and where to. Where the model has no travel it is
 * a small turn each way about the axle. mm, deg anticlockwise seen from the drive side, rad of the side plane.
 */
import type { Disc } from '../travel/outline.ts';
import type { Motion, Place } from '../travel/planar.ts';
import { degrees, driveShock, memberMotions } from '../travel/poses.ts';
import type { Bike, Joined } from './bike.ts';
import { ORDER_LIMITS } from './limits.ts';
import type { HandSwing } from './tasks.ts';

/** Poses of the run: only its end is asked for, the others lead there. */
const POSES = 13;
/** A member that turns by less stands still in the travel, deg. */
const STILL_deg = 0.5;

/** Motion of every member from its drawn place to the end of the travel; empty where the model has none. */
function endOfTravel(bike: Bike): Readonly<Record<string, Motion>> {
  const run = driveShock(bike.linkage, POSES);
  const last = run?.poses.at(-1);
  return run && last ? memberMotions(run, last) : {};
}

/** The swing of each of some units that turn about an axle. */
export function handSwings(bike: Bike, own: Joined, units: readonly string[]): HandSwing[] {
  const end = endOfTravel(bike);
  return units.map((unit): HandSwing => {
    const places = (bike.pieces.get(unit) ?? []).flatMap(({ a, b }) => [a, b]);
    const motion = unit === bike.shock ? undefined : end[bike.units.get(unit)!.members[0]!];
    const turn_deg = motion ? degrees(motion.angle_rad) : 0;
    if (!motion || Math.abs(turn_deg) < STILL_deg) return eachWay(unit, places, own.place);
    let far: Pick<HandSwing, 'far_mm' | 'toward_rad'> = { far_mm: 0, toward_rad: 0 };
    for (const place of places) {
      const [x, y] = shiftOf(motion, place);
      const far_mm = Math.hypot(x, y);
      if (far_mm > far.far_mm) far = { far_mm, toward_rad: Math.atan2(y, x) };
    }
    return { unit, turn_deg, ...far };
  });
}

function eachWay(unit: string, places: readonly Disc[], about: Place): HandSwing {
  const turn_deg = ORDER_LIMITS.handSwing_deg.value;
  const arm_mm = Math.max(
    0,
    ...places.map(({ x_mm, y_mm, radius_mm }) => Math.hypot(x_mm - about.x_mm, y_mm - about.y_mm) + radius_mm),
  );
  return { unit, turn_deg, far_mm: 2 * arm_mm * Math.sin((turn_deg * Math.PI) / 360) };
}

function shiftOf({ x_mm, y_mm, angle_rad }: Motion, place: Place): readonly [number, number] {
  const [cos, sin] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  return [
    cos * place.x_mm - sin * place.y_mm + x_mm - place.x_mm,
    sin * place.x_mm + cos * place.y_mm + y_mm - place.y_mm,
  ];
}
