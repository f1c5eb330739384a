/**
 * What is on the bike before and after every step of a plan or a part of one, and where; what is swung away for a moment.
 *
 * Folded from the steps: places of the items of every stack touched so far, units and obstacles that are on, and axles
 * whose thread is started. What is done at the bench leaves no trace on the bike: what is pressed or laid into a unit
 * there comes with it when it is offered up. A unit is swung about the axle it hangs on, so that a spacer can be laid
 * between it and another: as far as the spacers need to get in one after another, and no further; what hangs on one axle
 * besides and is in the way is held aside first. By bodies, looked at every degree and a half both ways. mm, rad, offsets
 * from the tight place.
 */
import type { Analysis, PlacedItem } from '../types.ts';
import { deeperSide, type Bike, type Joined, type SpacerPlace, wayOf } from './bike.ts';
import { type Body, HOME, type Shift, Space } from './bodies.ts';
import { SWING, Course, FROM_mm, type Path, type Stander, after, along, spacerPath, turnAbout } from './paths.ts';
import { worksOf } from './possible.ts';
import type { PlanStep } from './types.ts';

/** What is on the bike at a time. */
export interface World {
  /** Units and obstacles. */
  readonly on: ReadonlySet<string>;
  /** Items that are no bosses, by their offset along z, mm. */
  readonly items: ReadonlyMap<string, number>;
  /** Axles whose thread is started. */
  readonly fitted: ReadonlySet<string>;
}

/**
 * Steps in a row: a plan, or any part of one. Without `on` they begin with the bare frame; with it, on a built bike of
 * which only these units and obstacles are left, and without the items the row itself puts on.
 */
export interface StepRow {
  readonly analysis: Analysis;
  readonly steps: readonly PlanStep[];
  readonly on?: readonly string[];
}

/** The worlds of a row: one more than it has steps. */
export interface Worlds {
  readonly bike: Bike;
  readonly bodies: ReadonlyMap<string, Body>;
  readonly space: Space;
  readonly items: ReadonlyMap<string, { readonly item: PlacedItem; readonly own: Joined }>;
  /** The unit an item is pressed or laid into, and goes with. */
  readonly hostOf: ReadonlyMap<string, string>;
  readonly before: readonly World[];
  readonly row: StepRow;
  /** Units swung away, by the step that swings them, as far as they have been asked for. */
  readonly swings: Map<number, ReadonlyMap<string, Shift>>;
}

/** Kinds of steps after which what they handle is on the bike. */
const PUTTING: ReadonlySet<PlanStep['kind']> = new Set([
  'press-bearing',
  'set-spacer',
  'offer-member',
  'shock',
  'push-axle',
  'axle-home',
  'start-receiver',
  'hold-turn',
  'half-torque',
  'torque',
]);

/** The worlds of a row. */
export function worldsOf(row: StepRow): Worlds {
  const { bike, bodies, space } = worksOf(row.analysis).sense.solids;
  const items = new Map(bike.stacks.flatMap((own) => own.items.map((item) => [item.id, { item, own }] as const)));
  const hostOf = hostsOf(bike);
  const before: World[] = [begun(bike, row, hostOf)];
  for (const step of row.steps) before.push(next(before.at(-1)!, step, items, bike));
  return { row, bike, bodies, space, items, hostOf, before, swings: new Map() };
}

/** Units and obstacles among some ids; the shock's shaft goes by the name of its body. */
function known(bike: Bike, ids: readonly string[]): Set<string> {
  return new Set(ids.filter((id) => bike.pieces.has(id)));
}

function begun(bike: Bike, { on, steps }: StepRow, hosts: Worlds['hostOf']): World {
  const frame = [...bike.units.values()].filter(({ isFrame }) => isFrame).map(({ id }) => id);
  if (!on) return { on: new Set(frame), items: new Map(), fitted: new Set() };
  const put = new Set(steps.flatMap((step) => (PUTTING.has(step.kind) ? [...step.items, ...step.carried] : [])));
  const fitted = steps.flatMap(({ kind, stackId }) =>
    kind === 'start-receiver' && stackId !== undefined ? [stackId] : [],
  );
  const isThere = (id: string): boolean =>
    !put.has(id) && (!hosts.has(id) || on.includes(hosts.get(id)!) || frame.includes(hosts.get(id)!));
  const items = bike.stacks.flatMap((own) =>
    own.items.filter(({ id, member }) => member === undefined && isThere(id)).map(({ id }) => [id, 0] as const),
  );
  return {
    on: known(bike, [...frame, ...on]),
    items: new Map(items),
    fitted: new Set(bike.stacks.map(({ id }) => id).filter((id) => !fitted.includes(id))),
  };
}

function next(world: World, step: PlanStep, all: Worlds['items'], bike: Bike): World {
  const on = known(bike, step.on);
  if (step.atBench) return { ...world, on };
  const items = new Map(world.items);
  // A step puts on what it handles and nothing else: an axle that is cleaned in the hand is not on the bike.
  const puts = new Set(PUTTING.has(step.kind) ? [...step.items, ...step.carried] : []);
  if (step.heldBy === 'axle')
    for (const id of Object.keys(step.places)) if (all.get(id)?.item.role === 'axle') puts.add(id);
  for (const [id, { on: isOn, offset_mm }] of Object.entries(step.places)) {
    if (!isOn) items.delete(id);
    else if (all.get(id)?.item.member === undefined && (items.has(id) || puts.has(id))) items.set(id, offset_mm);
  }
  for (const id of step.carried) if (all.get(id)?.item.member === undefined) items.set(id, 0);
  const fitted =
    step.kind === 'start-receiver' && step.stackId !== undefined
      ? new Set([...world.fitted, step.stackId])
      : world.fitted;
  return { on, items, fitted };
}

/** Bearings go with their seat; a ring with what shuts it in, or with the bore it reaches into deeper. */
function hostsOf(bike: Bike): Map<string, string> {
  const hosts = new Map<string, string>();
  const host = (id: string, member: string | undefined): void => {
    const unit = member === undefined ? undefined : bike.unitOf.get(member);
    if (unit !== undefined) hosts.set(id, unit);
  };
  for (const own of bike.stacks) {
    for (const item of own.items) if (item.seat) host(item.id, item.seat.member);
    for (const ring of own.rings) host(ring.item.id, hostOfSpacer(ring));
  }
  return hosts;
}

function hostOfSpacer(ring: SpacerPlace): string | undefined {
  if (ring.shutBy) return ring.shutBy[0].seat?.member;
  const way = wayOf(ring);
  if (way !== 'before-they-meet' && way !== 'before-they-meet-along') return undefined;
  return ring[deeperSide(ring)]!.boss.member;
}

const NOTHING_AWAY: ReadonlyMap<string, Shift> = new Map();

/** Units that are swung away before a step, and how far. */
export function awayAt(worlds: Worlds, index: number): ReadonlyMap<string, Shift> {
  const { swings, row } = worlds;
  let start = index - 1;
  while (start >= 0 && row.steps[start]!.kind !== 'swing-away') {
    if (row.steps[start]!.kind === 'swing-back') return NOTHING_AWAY;
    start--;
  }
  if (start < 0) return NOTHING_AWAY;
  const found = swings.get(start) ?? swungAway(worlds, start);
  swings.set(start, found);
  return found;
}

/**
 * The least turn of the unit that lets in the spacers that are set before it is swung back. Where something stops it before,
 * the other member that they lie between gives way instead.
 */
function swungAway(worlds: Worlds, index: number): ReadonlyMap<string, Shift> {
  const { row } = worlds;
  const later = row.steps.slice(index + 1);
  const back = later.findIndex(({ kind }) => kind === 'swing-back');
  const rings = later
    .slice(0, back < 0 ? later.length : back)
    .flatMap(({ kind, items }) => (kind === 'set-spacer' ? items : []));
  const named = row.steps[index]!.units[0];
  const beside = rings.flatMap((ring) => {
    const place = worlds.items.get(ring)?.own.rings.find(({ item }) => item.id === ring);
    return [place?.low, place?.high].flatMap((side) =>
      side?.boss.member === undefined ? [] : [worlds.bike.unitOf.get(side.boss.member)!],
    );
  });
  if (named === undefined || rings.length === 0) return NOTHING_AWAY;
  // A piece by itself, or with those that make one body with it.
  const candidates = [...new Set([named, ...beside])].flatMap((unit): Swinger[] => {
    const body = bodyOf(worlds, index, unit);
    return (body.length > 1 ? [[unit], body] : [body]).flatMap((units) => swingerOf(worlds, index, units) ?? []);
  });
  for (const swinger of candidates) {
    const enough = leastSwing(worlds, index, swinger, rings, []);
    if (enough) return enough;
  }
  for (const swinger of candidates) {
    const enough = leastSwing(worlds, index, swinger, rings, helpers(worlds, index, swinger));
    if (enough) return enough;
  }
  return candidates[0] ? furthest(worlds, index, candidates[0]) : NOTHING_AWAY;
}

/** Units of one body that hang on one axis, with what is pressed or laid into them. */
interface Swinger {
  readonly units: readonly string[];
  readonly about: { readonly x_mm: number; readonly y_mm: number };
  readonly bodies: readonly Stander[];
}

/** Units on the bike that make one body with a unit. */
function bodyOf({ bike, before }: Worlds, index: number, unit: string): string[] {
  const body = bike.units.get(unit)?.body;
  return [...before[index]!.on].filter((id) => bike.units.get(id)?.body === body);
}

function swingerOf(worlds: Worlds, index: number, units: readonly string[]): Swinger | undefined {
  const about = swingAxle(worlds, index, units);
  if (!about || units.some((id) => worlds.bike.units.get(id)!.isFrame)) return undefined;
  const hosted = [...worlds.before[index]!.items].filter(([id]) => units.includes(worlds.hostOf.get(id) ?? ''));
  return {
    units,
    about,
    bodies: [
      ...units.map((id) => ({ body: worlds.bodies.get(id)!, at: HOME })),
      ...hosted.map(([id, offset]) => ({ body: worlds.bodies.get(id)!, at: along(offset) })),
    ],
  };
}

/** Others that hang on one axis, too, and may be held aside by a hand. */
function helpers(worlds: Worlds, index: number, swinger: Swinger): Swinger[] {
  const found = new Map<string, Swinger>();
  for (const unit of worlds.before[index]!.on) {
    if (!worlds.bike.units.has(unit)) continue;
    const body = bodyOf(worlds, index, unit);
    const helper = body.some((id) => swinger.units.includes(id)) ? undefined : swingerOf(worlds, index, body);
    if (helper) found.set(helper.units.join(' '), helper);
  }
  return [...found.values()];
}

/** Signed turns to one side, as far as the course is free. */
function* turns(course: Course, about: Swinger['about']): Generator<number> {
  for (const sign of [1, -1]) {
    for (let angle = SWING.step_rad; angle <= SWING.most_rad; angle += SWING.step_rad) {
      if (!course.isFree(turnAbout(about, sign * angle))) break;
      yield sign * angle;
    }
  }
}

function moved(bodies: readonly Stander[], at: Shift): Stander[] {
  return bodies.map(({ body, at: home }) => ({ body, at: after(home, at) }));
}

/** The least turn that lets the rings in, with what has to be held aside for it; undefined where none does. */
function leastSwing(
  worlds: Worlds,
  index: number,
  swinger: Swinger,
  rings: readonly string[],
  others: readonly Swinger[],
): ReadonlyMap<string, Shift> | undefined {
  const firm = standersBut(worlds, index, [swinger, ...others]);
  const course = new Course(worlds.space, swinger.bodies, firm);
  for (const angle of turns(course, swinger.about)) {
    const at = turnAbout(swinger.about, angle);
    const there = [...firm, ...moved(swinger.bodies, at)];
    if (!canBeLaid(worlds, rings, swinger, at, there)) continue;
    const aside = heldAside(worlds, swinger, angle, others, firm);
    if (!aside || (others.length > 0 && !canBeLaid(worlds, rings, swinger, at, [...there, ...aside.bodies]))) continue;
    return new Map([...aside.at, ...swinger.units.map((unit) => [unit, at] as const)]);
  }
  return undefined;
}

/** Where the others have to be for a whole swing, one after another: at home where they are in nobody's way. */
function heldAside(
  worlds: Worlds,
  swinger: Swinger,
  angle: number,
  others: readonly Swinger[],
  firm: readonly Stander[],
): { readonly at: ReadonlyMap<string, Shift>; readonly bodies: readonly Stander[] } | undefined {
  const at = new Map<string, Shift>();
  const count = Math.ceil(Math.abs(angle) / SWING.step_rad);
  const way = Array.from({ length: count + 1 }, (_, k) => turnAbout(swinger.about, (angle * (count - k)) / count));
  const isPassed = (bodies: readonly Stander[]): boolean => {
    const course = new Course(worlds.space, swinger.bodies, bodies);
    return way.every((turn) => course.isFree(turn));
  };
  let bodies: readonly Stander[] = [];
  for (const [k, other] of others.entries()) {
    if (isPassed(other.bodies)) {
      bodies = [...bodies, ...other.bodies];
      continue;
    }
    const waiting = others.slice(k + 1).flatMap((later) => later.bodies);
    const course = new Course(worlds.space, other.bodies, [...firm, ...swinger.bodies, ...bodies, ...waiting]);
    let found: Shift | undefined;
    for (const turn of turns(course, other.about)) {
      if (!isPassed(moved(other.bodies, turnAbout(other.about, turn)))) continue;
      found = turnAbout(other.about, turn);
      break;
    }
    if (!found) return undefined;
    for (const unit of other.units) at.set(unit, found);
    bodies = [...bodies, ...moved(other.bodies, found)];
  }
  return { at, bodies };
}

/** As far as it goes by itself. */
function furthest(worlds: Worlds, index: number, swinger: Swinger): ReadonlyMap<string, Shift> {
  const course = new Course(worlds.space, swinger.bodies, standersBut(worlds, index, [swinger]));
  const angle = [...turns(course, swinger.about)].reduce(
    (most, turn) => (Math.abs(turn) > Math.abs(most) ? turn : most),
    0,
  );
  return new Map(swinger.units.map((unit) => [unit, turnAbout(swinger.about, angle)] as const));
}

/** Whether rings find their way in one after another with a unit swung away. */
function canBeLaid(
  worlds: Worlds,
  rings: readonly string[],
  swinger: Swinger,
  at: Shift,
  standing: readonly Stander[],
): boolean {
  const there = [...standing];
  return rings.every((ring) => {
    const { own } = worlds.items.get(ring)!;
    const goal = swinger.units.includes(worlds.hostOf.get(ring) ?? '') ? at : HOME;
    const body = worlds.bodies.get(ring)!;
    const path = spacerPath(new Course(worlds.space, [{ body, at: HOME }], there), goal, own, ring, own.from, 0);
    there.push({ body, at: goal });
    const [first, last] = [path[0]!, path.at(-1)!];
    return Math.hypot(first.x_mm - last.x_mm, first.y_mm - last.y_mm, first.z_mm - last.z_mm) >= FROM_mm.ring - 2;
  });
}

/** The one axis that units hang on together and can turn about; undefined where they hang on none or on several. */
export function swingAxle(
  { bike, before }: Worlds,
  index: number,
  units: readonly string[],
): { readonly x_mm: number; readonly y_mm: number } | undefined {
  const { fitted } = before[index]!;
  const isOwn = (id: string): boolean => units.includes(id);
  const held = bike.stacks.filter((own) => fitted.has(own.id) && own.units.some(isOwn) && !own.units.every(isOwn));
  const own = held[0];
  return own && held.every((other) => other.axis === own.axis) ? own.place : undefined;
}

function standersBut(worlds: Worlds, index: number, swingers: readonly Swinger[]): Stander[] {
  const { on, items } = worlds.before[index]!;
  const isFirm = (id: string): boolean => !swingers.some(({ units }) => units.includes(id));
  return [
    ...[...on].filter(isFirm).map((id) => ({ body: worlds.bodies.get(id)!, at: HOME })),
    ...[...items]
      .filter(([id]) => isFirm(worlds.hostOf.get(id) ?? ''))
      .map(([id, offset]) => ({ body: worlds.bodies.get(id)!, at: along(offset) })),
  ];
}

/** From one turn about its axle to another, in steps small enough to be straight. */
export function swingPath(worlds: Worlds, index: number, units: readonly string[], from: Shift, to: Shift): Path {
  const about = swingAxle(worlds, index, units);
  if (!about) return [from, to];
  const by = to.angle_rad - from.angle_rad;
  const count = Math.max(1, Math.ceil(Math.abs(by) / (SWING.step_rad / 2)));
  return Array.from({ length: count + 1 }, (_, k) => turnAbout(about, from.angle_rad + (by * k) / count));
}
