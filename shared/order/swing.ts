/**
 * Swinging a unit away about the axle it hangs on, so that a ring can be laid between it and another, and back.
 *
 * As far as the rings need to get in one after another, and no further. By bodies, looked at every degree and a half both
 * ways. mm, rad.
 */
import { HOME, type Shift } from './bodies.ts';
import { after, Course, turnAbout, type Path, type Stander } from './paths.ts';
import { along, FROM_mm, ringPath } from './ways.ts';
import { SWING } from './swing-room.ts';
import { worldsOf, type StepRow, type Worlds } from './world.ts';

const NOTHING_AWAY: ReadonlyMap<string, Shift> = new Map();

const swings = new WeakMap<StepRow, Map<number, ReadonlyMap<string, Shift>>>();

/** Units that are swung away before a step, and how far. */
export function awayAt(row: StepRow, index: number): ReadonlyMap<string, Shift> {
  let start = index - 1;
  while (start >= 0 && row.steps[start]!.kind !== 'swing-away') {
    if (row.steps[start]!.kind === 'swing-back') return NOTHING_AWAY;
    start--;
  }
  if (start < 0) return NOTHING_AWAY;
  const known = swings.get(row) ?? new Map<number, ReadonlyMap<string, Shift>>();
  swings.set(row, known);
  const found = known.get(start) ?? swungAway(row, start);
  known.set(start, found);
  return found;
}

/**
 * The least turn of the unit that lets in the rings that are set before it is swung back. Where something stops it before, the other member
 * that they lie between gives way instead.
 */
function swungAway(row: StepRow, index: number): ReadonlyMap<string, Shift> {
  const worlds = worldsOf(row);
  const later = row.steps.slice(index + 1);
  const back = later.findIndex(({ kind }) => kind === 'swing-back');
  const rings = later.slice(0, back < 0 ? later.length : back).flatMap(({ kind, items }) => (kind === 'set-ring' ? items : []));
  const named = row.steps[index]!.units[0];
  const beside = rings.flatMap((ring) => {
    const place = worlds.items.get(ring)?.own.rings.find(({ item }) => item.id === ring);
    return [place?.low, place?.high].flatMap((side) => (side?.boss.member === undefined ? [] : [worlds.bike.unitOf.get(side.boss.member)!]));
  });
  if (named === undefined || rings.length === 0) return NOTHING_AWAY;
  let furthest: ReadonlyMap<string, Shift> = NOTHING_AWAY;
  for (const unit of new Set([named, ...beside])) {
    const { at, isEnough } = leastSwing(worlds, row, index, unit, rings);
    if (isEnough) return new Map([[unit, at]]);
    if (unit === named) furthest = new Map([[unit, at]]);
  }
  return furthest;
}

function leastSwing(worlds: Worlds, row: StepRow, index: number, unit: string, rings: readonly string[]): { readonly at: Shift; readonly isEnough: boolean } {
  let furthest: Shift = HOME;
  const about = swingAxle(worlds, row, index, unit);
  if (!about || worlds.bike.units.get(unit)!.isFrame) return { at: furthest, isEnough: false };
  const rest = standersBut(worlds, row, index, unit);
  const own = hosted(worlds, row, index, unit);
  const course = new Course(worlds.space, own, rest);
  for (const sign of [1, -1]) {
    for (let angle = SWING.step_rad; angle <= SWING.most_rad; angle += SWING.step_rad) {
      const at = turnAbout(about, sign * angle);
      if (!course.isFree(at)) break;
      if (angle > Math.abs(furthest.angle_rad)) furthest = at;
      const standing = [...rest, ...own.map(({ body, at: home }) => ({ body, at: after(home, at) }))];
      if (canBeLaid(worlds, rings, unit, at, standing)) return { at, isEnough: true };
    }
  }
  return { at: furthest, isEnough: false };
}

/** Whether rings find their way in one after another with a unit swung away. */
function canBeLaid(worlds: Worlds, rings: readonly string[], unit: string, at: Shift, standing: readonly Stander[]): boolean {
  const there = [...standing];
  return rings.every((ring) => {
    const { own } = worlds.items.get(ring)!;
    const goal = worlds.hostOf.get(ring) === unit ? at : HOME;
    const body = worlds.bodies.get(ring)!;
    const path = ringPath(new Course(worlds.space, [{ body, at: HOME }], there), goal, own, ring, own.from, 0);
    there.push({ body, at: goal });
    const [first, last] = [path[0]!, path.at(-1)!];
    return Math.hypot(first.x_mm - last.x_mm, first.y_mm - last.y_mm, first.z_mm - last.z_mm) >= FROM_mm.ring - 2;
  });
}

/** The one axis a unit hangs on and can turn about; undefined where it hangs on none or on several. */
export function swingAxle(worlds: Worlds, row: StepRow, index: number, unit: string): { readonly x_mm: number; readonly y_mm: number } | undefined {
  const { fitted } = worlds.before[index]!;
  const held = (worlds.bike.byUnit.get(unit) ?? []).filter((own) => fitted.has(own.id));
  const own = held[0];
  return own && held.every((other) => other.axis === own.axis) ? own.place : undefined;
}

function hosted(worlds: Worlds, row: StepRow, index: number, unit: string): Stander[] {
  const items = [...worlds.before[index]!.items].filter(([id]) => worlds.hostOf.get(id) === unit);
  return [{ body: worlds.bodies.get(unit)!, at: HOME }, ...items.map(([id, offset]) => ({ body: worlds.bodies.get(id)!, at: along(offset) }))];
}

function standersBut(worlds: Worlds, row: StepRow, index: number, unit: string): Stander[] {
  const { on, items } = worlds.before[index]!;
  return [
    ...[...on].flatMap((id) => (id === unit ? [] : [{ body: worlds.bodies.get(id)!, at: HOME }])),
    ...[...items].flatMap(([id, offset]) => (worlds.hostOf.get(id) === unit ? [] : [{ body: worlds.bodies.get(id)!, at: along(offset) }])),
  ];
}

/** From one turn about its axle to another, in steps small enough to be straight. */
export function swingPath(worlds: Worlds, row: StepRow, index: number, unit: string, from: Shift, to: Shift): Path {
  const about = swingAxle(worlds, row, index, unit);
  if (!about) return [from, to];
  const by = to.angle_rad - from.angle_rad;
  const count = Math.max(1, Math.ceil(Math.abs(by) / (SWING.step_rad / 2)));
  return Array.from({ length: count + 1 }, (_, k) => turnAbout(about, from.angle_rad + (by * k) / count));
}
