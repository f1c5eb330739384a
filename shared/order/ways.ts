/**
 * From how far out things are brought in, and the way a ring takes: from outside along the axle, or aside from where
 * nothing stands. mm.
 */
import type { Side } from '../model/schema.ts';
import type { Joined } from './bike.ts';
import { HOME, type Shift } from './bodies.ts';
import { alongAxle, inPlane, pathIn, type Course, type Path } from './paths.ts';
import { outward } from './room.ts';

/** How far out things are brought in from, mm; nearer where there is less room. */
export const FROM_mm = {
  unit: 130,
  wheel: 220,
  chainset: 150,
  ring: 45,
  throughArms: 110,
  axle: 40,
  receiver: 32,
  bearing: 34,
  tool: 45,
} as const;

/** How long a ring's way is looked for: what goes round no corner is shut in. */
const RING_LOOKS = 200;

/** A shift that only slides along z. */
export function along(z_mm: number): Shift {
  return z_mm === 0 ? HOME : { ...HOME, z_mm };
}

/** From outside along the axle, or aside from where nothing stands; between two arms only a long way along the axle leads out. */
export function ringPath(
  course: Course,
  goal: Shift,
  own: Joined,
  id: string,
  side: Side,
  looks: number = RING_LOOKS,
): Path {
  const place = own.rings.find((ring) => ring.item.id === id);
  const isOutside = place === undefined || (!place.shutBy && (!place.low || !place.high));
  if (isOutside) return pathIn(course, goal, [alongAxle(place?.low ? 1 : -1)], { length_mm: FROM_mm.ring, looks });
  if (place.shutBy) return pathIn(course, goal, [alongAxle(outward(side))], { length_mm: FROM_mm.ring, looks });
  return pathIn(course, goal, [inPlane(Math.PI / 2)], {
    length_mm: FROM_mm.ring,
    axial_mm: FROM_mm.throughArms,
    looks,
  });
}
