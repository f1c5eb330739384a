/**
 * How far a unit that hangs on one axle can be swung before it meets another: by which a plan knows whom to swing at all.
 *
 * By bodies, the other units at their places; looked at every degree and a half both ways. mm, rad.
 */
import { type Bike, type Box, boxGap_mm } from './bike.ts';
import { type Body, HOME, Space, bodiesOf } from './bodies.ts';
import { Course, turnAbout } from './paths.ts';

/** A unit is swung in steps of this, and no further than that, rad. */
export const SWING = { step_rad: Math.PI / 120, most_rad: (75 * Math.PI) / 180 } as const;

const known = new WeakMap<Bike, { readonly bodies: ReadonlyMap<string, Body>; readonly rooms: Map<string, number> }>();

/** The widest free swing of a unit about a place with these owners on the bike, rad. */
export function swingRoom_rad(
  bike: Bike,
  unit: string,
  about: { readonly x_mm: number; readonly y_mm: number },
  on: ReadonlySet<string>,
): number {
  const { bodies, rooms } = known.get(bike) ?? { bodies: bodiesOf(bike), rooms: new Map<string, number>() };
  known.set(bike, { bodies, rooms });
  const swept = sweptBox(bike.boxes.get(unit)!, about);
  const near = [...on].filter((id) => id !== unit && bike.pieces.has(id) && boxGap_mm(swept, bike.boxes.get(id)!) <= 0);
  const key = `${unit} ${about.x_mm} ${about.y_mm} ${near.sort().join(' ')}`;
  const before = rooms.get(key);
  if (before !== undefined) return before;
  const others = near.map((id) => ({ body: bodies.get(id)!, at: HOME }));
  const course = new Course(new Space(), [{ body: bodies.get(unit)!, at: HOME }], others);
  const free = (sign: number): number => {
    let angle = 0;
    while (angle < SWING.most_rad && course.isFree(turnAbout(about, sign * (angle + SWING.step_rad))))
      angle += SWING.step_rad;
    return angle;
  };
  const room = Math.max(free(1), free(-1));
  rooms.set(key, room);
  return room;
}

/** Everywhere a unit can get to by turning about a place. */
function sweptBox(
  { xFrom_mm, xTo_mm, yFrom_mm, yTo_mm }: Box,
  { x_mm, y_mm }: { readonly x_mm: number; readonly y_mm: number },
): Box {
  const reach = Math.max(
    ...[xFrom_mm, xTo_mm].flatMap((x) => [yFrom_mm, yTo_mm].map((y) => Math.hypot(x - x_mm, y - y_mm))),
  );
  return { xFrom_mm: x_mm - reach, xTo_mm: x_mm + reach, yFrom_mm: y_mm - reach, yTo_mm: y_mm + reach };
}
