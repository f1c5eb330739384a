/**
 * What moves in one step and along which path: units, obstacles, items and tools, past everything that stands there.
 *
 * A unit comes in along the approach the plan gives it, an axle from its side, a spacer from where nothing stands, a
 * nut over the tip, a bearing straight into its seat, a tool onto the end where it works. Paths come from `bodies.ts`;
 * threads turn as their pitch says: a right-hand thread that advances to the drive side turns anticlockwise seen from
 * there. Long run-ups are shortened: a wrench is drawn with few strokes. mm, rad anticlockwise from x (forward) seen
 * from the drive side, shares of the step's time 0 to 1.
 * Each step's motion is kept, run backward for what is taken apart, and laid out over time. Pure functions of the plan;
 * `frameAt(motion, 1)` is where the step ends.
 */
import type { Side } from '../model/schema.ts';
import type { Place } from '../travel/planar.ts';
import type { Analysis } from '../types.ts';
import { type Joined, remembered } from './bike.ts';
import {
  after,
  along,
  alongAxle,
  alongPath,
  type Body,
  Course,
  type Direction,
  FROM_mm,
  HOME,
  inPlane,
  moveOn,
  type Path,
  pathIn,
  pathLength_mm,
  type Shift,
  shiftedPlace,
  spacerPath,
  type Stander,
  toolBody,
  turnAbout,
} from './bodies.ts';
import { ORDER_LIMITS } from './limits.ts';
import { awayAt, type StepRow, swingAxle, swingPath, type World, type Worlds, worldsOf } from './places.ts';
import { depthOf, firstFace, outward, radiusOf, type ToolRoom, toolsOf } from './room.ts';
import type { StripStep } from './strip.ts';
import type { DriveInHand, PlanStep } from './tasks.ts';

/** A piece of a step's time in which something moves. */
export interface Phase {
  readonly from: number;
  readonly to: number;
  readonly path: Path;
  /** Turn about its own axle by its end, rad. */
  readonly turn_rad: number;
  /** Of the whole of its time, how much passes in equal strokes with a pause between; 1: one even pull. */
  readonly strokes: number;
}

/** Things that move together. */
export interface Mover {
  readonly units: readonly string[];
  readonly obstacles: readonly string[];
  readonly items: readonly string[];
  readonly phases: readonly Phase[];
  /** What turns about its own axle is turned as a whole about this place. */
  readonly middle: Place;
  readonly reach_mm: number;
}

/** What a tool does in a step. */
export interface ToolMove {
  readonly drive: DriveInHand;
  readonly room: ToolRoom;
  /** How far out it is put on from, mm. */
  readonly standoff_mm: number;
  /** It is put on in the share of time before this; 0 where it is on already. */
  readonly onAt: number;
  /**
   * The handle where it begins, and how far it is pulled in one stroke; rad, anticlockwise seen from the drive side.
   */
  readonly handle_rad: number;
  readonly pull_rad: number;
  /** The handle ends where its only stroke ends, and is not brought back; else it is pulled `STROKES` times. */
  readonly isPulled: boolean;
}

/** One step as a movement. */
export interface StepMotion {
  readonly worlds: Worlds;
  readonly index: number;
  /** Units, obstacles and items that stand still, items with their offset along z, mm. */
  readonly units: ReadonlyMap<string, Shift>;
  readonly items: ReadonlyMap<string, number>;
  readonly movers: readonly Mover[];
  readonly tools: readonly ToolMove[];
  /** Played backward, as a step that is taken back. */
  readonly isUndo: boolean;
}

/** A pull of the wrench, rad, and the least that is worth drawing. */
const PULL_rad = { most: (55 * Math.PI) / 180, least: (10 * Math.PI) / 180 } as const;
/** Strokes that a run-up is drawn with. */
const STROKES = 4;
/** Gap kept to what a spacer is pushed past on its way onto an axle, mm. */
const GAP_mm = 2;
/** Turns of a free check, from what a hand does to what little room may leave, rad. */
const ROCK_rad = [12, 8, 5, 3, 1.5].map((angle_deg) => (angle_deg * Math.PI) / 180);
const ROCK_STEPS = 4;

/** The moves of a step of a row. */
function movesOf(worlds: Worlds, index: number, step: PlanStep): StepMotion {
  const moves = new Moves(worlds, index, step);
  if (step.atBench) moves.atBench();
  else moves.onBike();
  const { units, items, movers, tools } = moves;
  return { worlds, index, units, items, movers, tools, isUndo: false };
}

/** A moment in which nothing moves: what is there before a step of a row. */
function still(worlds: Worlds, index: number): StepMotion {
  const { on, items } = worlds.before[index]!;
  const units = new Map([...on].map((id) => [id, HOME]));
  return { worlds, index, units, items, movers: [], tools: [], isUndo: false };
}

/** One step while its motion is worked out. */
class Moves {
  readonly units = new Map<string, Shift>();
  readonly items = new Map<string, number>();
  readonly movers: Mover[] = [];
  readonly tools: ToolMove[] = [];
  private readonly index: number;
  private readonly step: PlanStep;
  private readonly worlds: Worlds;
  private readonly before: World;
  private readonly own: Joined | undefined;
  private readonly isToolStep: boolean;

  constructor(worlds: Worlds, index: number, step: PlanStep) {
    this.index = index;
    this.step = step;
    this.worlds = worlds;
    this.before = worlds.before[index]!;
    this.own = worlds.bike.byStack.get(step.stackId ?? '');
    this.isToolStep = step.kind === 'hold-turn' || step.kind === 'half-torque' || step.kind === 'torque';
  }

  /** The unit alone, with what is in it already; what is pressed or laid goes in. */
  atBench(): void {
    const { step, worlds } = this;
    for (const unit of step.units) this.units.set(unit, HOME);
    for (const [id, { on }] of Object.entries(step.places))
      if (on && this.isPart(id) && (step.items.includes(id) || step.units.includes(worlds.hostOf.get(id) ?? '')))
        this.items.set(id, 0);
    if (
      step.kind === 'press-bearing' ||
      step.kind === 'press-bush' ||
      step.kind === 'set-circlip' ||
      step.kind === 'set-spacer'
    )
      for (const id of step.items) {
        this.items.delete(id);
        this.bringItem(id, 0);
      }
  }

  onBike(): void {
    const { step, worlds, index, before } = this;
    const then = worlds.before[index + 1]!;
    const away = awayAt(worlds, index);
    const newUnits = step.units.filter((unit) => then.on.has(unit) && !before.on.has(unit));
    const newObstacles = step.obstacles.filter((id) => !before.on.has(id));
    for (const id of before.on) this.units.set(id, away.get(id) ?? HOME);
    for (const [id, offset] of before.items) this.items.set(id, offset);
    const comesAlong = (id: string): boolean => newUnits.includes(worlds.hostOf.get(id) ?? '');
    const changed = [...then.items].filter(
      ([id, offset]) => this.isPart(id) && !comesAlong(id) && before.items.get(id) !== offset,
    );
    if (newUnits.length > 0) this.bringUnits(newUnits, [...then.items.keys()].filter(comesAlong));
    if (newObstacles.length > 0) this.bringObstacles(newObstacles);
    if (step.kind === 'swing-away' || step.kind === 'swing-back') this.swing(away, awayAt(worlds, index + 1));
    if (this.own) this.moveItems(this.own, changed);
    if (step.kind === 'free-check') this.rock();
    if (this.isToolStep && this.own) {
      const isPull = step.kind !== 'hold-turn' && changed.length === 0;
      this.takeTools(this.own, isPull, isPull && worlds.row.steps[index - 1]?.stackId === step.stackId);
    }
  }

  private isPart(id: string): boolean {
    return this.worlds.bodies.get(id)?.kind === 'item';
  }

  /** All that stands still now, items where they are said to be, but for what is named. */
  private standing(without: readonly string[], items: ReadonlyMap<string, number> = this.items): Stander[] {
    return [
      ...this.units,
      ...[...items].map(([id, offset]) => [id, hostedAt(this.worlds, this.units, id, offset)] as const),
    ].flatMap(([id, at]) => (without.includes(id) ? [] : [{ body: this.worlds.bodies.get(id)!, at }]));
  }

  /** Items that go with some units. */
  private hosted(units: readonly string[]): string[] {
    return [...this.items.keys()].filter((id) => units.includes(this.worlds.hostOf.get(id) ?? ''));
  }

  private course(ids: readonly string[], more: readonly Stander[] = []): Course {
    const moving = ids.map((id): Stander => ({ body: this.worlds.bodies.get(id)!, at: HOME }));
    return new Course(this.worlds.space, moving, [...this.standing(ids), ...more]);
  }

  /** From now on these move. */
  private add(
    { middle, reach_mm }: Course,
    { units = [], obstacles = [], items = [] }: Partial<Pick<Mover, 'units' | 'obstacles' | 'items'>>,
    ...phases: readonly Phase[]
  ): void {
    for (const unit of units) this.units.delete(unit);
    for (const id of items) this.items.delete(id);
    this.movers.push({ units, obstacles, items, phases, middle, reach_mm });
  }

  private bringUnits(units: readonly string[], items: readonly string[]): void {
    const { approach } = this.step;
    const wanted: Direction[] =
      approach === undefined
        ? []
        : [approach.how === 'axle' ? alongAxle(outward(approach.side)) : inPlane(approach.angle_rad)];
    const course = this.course([...units, ...items]);
    this.add(course, { units, items }, phase(pathIn(course, HOME, wanted, { length_mm: FROM_mm.unit })));
  }

  private bringObstacles(obstacles: readonly string[]): void {
    const isWheel = this.step.kind === 'wheel';
    const course = this.course(obstacles);
    // A wheel drops out of its ends downward; a chainset goes in from the drive side.
    const wanted = isWheel ? inPlane(-Math.PI / 2) : alongAxle(1);
    const length_mm = isWheel ? FROM_mm.wheel : FROM_mm.chainset;
    this.add(course, { obstacles }, phase(pathIn(course, HOME, [wanted], { length_mm })));
  }

  /** One body after another: what is held aside first, the unit itself last; back the other way round. */
  private swing(from: ReadonlyMap<string, Shift>, to: ReadonlyMap<string, Shift>): void {
    const isAway = to.size > 0;
    const units = [...(isAway ? to : from).keys()];
    const bodyOf = (unit: string): number => this.worlds.bike.units.get(unit)!.body;
    const bodies = [...new Set(units.map(bodyOf))];
    if (!isAway) bodies.reverse();
    const swung = units.map((unit) => {
      const items = this.hosted([unit]);
      return { unit, items, course: this.course([unit, ...items]) };
    });
    for (const { unit, items, course } of swung) {
      const turn = bodies.indexOf(bodyOf(unit));
      const one = units.filter((id) => bodyOf(id) === bodyOf(unit));
      const path = swingPath(this.worlds, this.before, one, from.get(unit) ?? HOME, to.get(unit) ?? HOME);
      this.add(course, { units: [unit], items }, phase(path, turn / bodies.length, (turn + 1) / bodies.length));
    }
  }

  /**
   * What hangs on one axle is turned to and fro, one body after another, as far as it goes and no further than a hand
   * does it.
   */
  private rock(): void {
    const { bike } = this.worlds;
    const bodies = [...new Set(this.step.units.map((unit) => bike.units.get(unit)!.body))];
    const rocked = bodies.flatMap((body) => {
      const units = [...this.units.keys()].filter((unit) => bike.units.get(unit)?.body === body);
      const places = units.map((unit) => swingAxle(this.worlds, this.before, [unit]));
      const about = places[0];
      if (units.some((unit) => bike.units.get(unit)!.isFrame)) return [];
      if (!about || places.some((place) => place?.x_mm !== about.x_mm || place.y_mm !== about.y_mm)) return [];
      const items = this.hosted(units);
      const course = this.course([...units, ...items]);
      const wide = ROCK_rad.find((angle) =>
        [1, -1].every((sign) => course.isLegFree(HOME, turnAbout(about, sign * angle))),
      );
      if (wide === undefined) return [];
      const path = Array.from({ length: 4 * ROCK_STEPS - 1 }, (_, k) =>
        turnAbout(about, wide * Math.sin(((k + 1) / (4 * ROCK_STEPS)) * 2 * Math.PI)),
      );
      return [{ course, units, items, path: [HOME, ...path, HOME] }];
    });
    rocked.forEach(({ course, units, items, path }, k) =>
      this.add(course, { units, items }, phase(path, k / rocked.length, (k + 1) / rocked.length)),
    );
  }

  private moveItems(own: Joined, changed: readonly (readonly [string, number])[]): void {
    const before = this.before.items;
    const fresh = changed.filter(([id]) => !before.has(id));
    const spacer = fresh.find(([id, offset]) => offset !== 0 && id !== own.axle.id && id !== own.receiver.id);
    for (const [id] of changed) this.items.delete(id);
    if (spacer) {
      this.pushOn(own, ...spacer);
      return;
    }
    for (const [id, offset] of changed) if (before.has(id)) this.slide(own, id, before.get(id)!, offset);
    for (const [id, offset] of fresh) this.bringItem(id, offset);
  }

  /** Along its axle from one offset to another, turning where its thread is engaged. */
  private slide(own: Joined, id: string, from_mm: number, to_mm: number): void {
    const course = this.course([id]);
    const path = [along(from_mm), along(to_mm)];
    const items = [id];
    if (this.step.kind === 'start-receiver') this.add(course, { items }, ...started(own, [path[0]!], to_mm));
    else if (!this.isToolStep) this.add(course, { items }, phase(path));
    else {
      const turn_rad = pitchTurn(own, to_mm - from_mm);
      const turned = own.stack.tightening.turned === 'receiver' ? own.receiver.id : own.axle.id;
      this.add(course, { items }, phase(path, ON_SHARE, 1, id === turned ? turn_rad : 0, STROKES));
      // Where the axle is turned and a nut runs up it, the nut keeps its hold and the axle turns where it stands.
      if (id === turned || !this.items.has(turned)) return;
      const still = [along(this.items.get(turned)!)];
      this.add(this.course([turned]), { items: [turned] }, phase(still, ON_SHARE, 1, -turn_rad, STROKES));
    }
  }

  /** An item that was not there: from its side, over the tip, or from where nothing stands. */
  private bringItem(id: string, offset_mm: number): void {
    const { step, worlds } = this;
    const { item, own } = worlds.items.get(id)!;
    const goal = hostedAt(worlds, this.units, id, offset_mm);
    const course = this.course([id]);
    const from = (side: Side, most_mm: number): Shift => {
      const out = alongAxle(outward(side));
      return moveOn(goal, out, course.freeLength_mm(goal, out, most_mm));
    };
    const come = (...phases: readonly Phase[]): void => this.add(course, { items: [id] }, ...phases);
    if (item.role === 'axle') {
      // Its tip begins outside, however deep it goes in this step.
      const outside = depthOf(own) - Math.abs(offset_mm) + FROM_mm.axle;
      const start = from(own.from, Math.max(FROM_mm.axle, outside));
      if (step.kind === 'start-receiver') come(...started(own, [start], offset_mm));
      else come(phase([start, goal]));
    } else if (item.role === 'receiver') come(...started(own, [from(own.tipSide, FROM_mm.receiver)], offset_mm));
    else if (item.role === 'tip') come(phase([from(own.tipSide, FROM_mm.receiver), goal]));
    else if (item.role === 'bearing' || item.seat)
      come(phase([from(item.seat?.side ?? step.side, FROM_mm.bearing), goal]));
    else come(phase(spacerPath(course, goal, own, id, step.side)));
  }

  /**
   * A spacer that travels in under the head: the axle is drawn back, the spacer brought before its tip and pushed along
   * the shank up to the head, and both go forward again.
   */
  private pushOn(own: Joined, id: string, offset_mm: number): void {
    const { worlds } = this;
    const { item } = worlds.items.get(id)!;
    const sign = outward(own.tipSide);
    const behind = along(offset_mm - sign * (item.to_mm - item.from_mm + 2 * GAP_mm));
    const items = [...worlds.before[this.index + 1]!.items].flatMap(([other, at]) =>
      other !== id && at === offset_mm && worlds.items.get(other)!.own === own ? [other] : [],
    );
    const drawn = items.map((other): Stander => ({ body: worlds.bodies.get(other)!, at: behind }));
    for (const other of items) this.items.delete(other);
    const withAxle = this.course(items);
    const out = alongAxle(outward(own.from));
    const start = this.before.items.has(own.axle.id)
      ? along(offset_mm)
      : moveOn(behind, out, withAxle.freeLength_mm(behind, out, FROM_mm.axle));
    const ahead = along(firstFace(own) - sign * GAP_mm - (sign > 0 ? item.to_mm : item.from_mm));
    const course = this.course([id], drawn);
    const up = pathIn(course, ahead, [inPlane(Math.PI / 2)], { length_mm: FROM_mm.spacer });
    const forward = phase([behind, along(offset_mm)], 0.75, 1);
    this.add(withAxle, { items }, phase([start, behind], 0, 0.3), forward);
    this.add(course, { items: [id] }, phase(up, 0.3, 0.55), phase([ahead, behind], 0.55, 0.75), forward);
  }

  /** Tools onto the ends where they work; for a pull right after work at the same axle they are there already. */
  private takeTools(own: Joined, isPull: boolean, isThere: boolean): void {
    const taken: Stander[] = [];
    for (const drive of this.step.tools) {
      const room = drive.kind === 'drive' && toolsOf(own).find(({ role }) => role === drive.role);
      if (!room) continue;
      const move = this.takeTool(own, drive, room, taken, isPull, isThere);
      if (!move) continue;
      this.tools.push(move);
      taken.push({ body: bodyAt(this.worlds, room, move.handle_rad), at: this.startOf(room.item) });
    }
  }

  /** Where an item is as the step begins. */
  private startOf(id: string): Shift {
    return along(this.before.items.get(id) ?? 0);
  }

  private takeTool(
    own: Joined,
    drive: DriveInHand,
    room: ToolRoom,
    taken: readonly Stander[],
    isPull: boolean,
    isThere: boolean,
  ): ToolMove | undefined {
    const { turn, stand } = own.stack.tightening;
    const turns = room.role === 'turns';
    // +1 anticlockwise seen from the drive side.
    const sense = !turns ? 0 : (turn === 'anticlockwise') === (stand === 'drive') ? 1 : -1;
    // What moves along with the tool, and the item it sits on, is judged as it stands when the step begins.
    const standing = [...this.standing([room.item], this.before.items), ...taken];
    const start = this.startOf(room.item);
    const courseAt = (handle_rad: number): Course =>
      new Course(this.worlds.space, [{ body: bodyAt(this.worlds, room, handle_rad), at: HOME }], standing);
    const isFree = (handle_rad: number): boolean => {
      const course = courseAt(handle_rad);
      return course.isFree(start) && course.isFree(HOME);
    };
    let best: { readonly handle_rad: number; readonly pull_rad: number } | undefined;
    for (const middle of anglesBy(drive)) {
      const pull = turns ? freePull(middle, isFree) : isFree(middle) ? 0 : -1;
      if (pull < (turns ? PULL_rad.least : 0)) continue;
      if (!best || pull > best.pull_rad + 1e-9) best = { handle_rad: middle - (sense * pull) / 2, pull_rad: pull };
      if (!turns || pull >= PULL_rad.most - 1e-9) break;
    }
    if (!best) return undefined;
    const { handle_rad, pull_rad } = best;
    const out = alongAxle(outward(room.side));
    return {
      drive,
      room,
      standoff_mm: isThere ? 0 : courseAt(handle_rad).freeLength_mm(start, out, FROM_mm.tool),
      onAt: isThere ? 0 : ON_SHARE,
      handle_rad,
      pull_rad: sense * pull_rad,
      isPulled: isPull,
    };
  }
}

/** Where an item stands on the bike: with its unit where that is swung away. */
function hostedAt({ hostOf }: Worlds, units: ReadonlyMap<string, Shift>, id: string, offset_mm: number): Shift {
  const at = units.get(hostOf.get(id) ?? '');
  return at && at !== HOME ? after(along(offset_mm), at) : along(offset_mm);
}

/** Turn of an outer or inner thread that advances by a length, rad. */
function pitchTurn({ axle: { thread } }: Joined, by_mm: number): number {
  return thread ? ((thread.hand === 'left' ? -1 : 1) * 2 * Math.PI * by_mm) / thread.pitch_mm : 0;
}

/** Brought up to the thread, then started by hand. */
function started(own: Joined, way: Path, to_mm: number): Phase[] {
  const last = way.at(-1)!;
  const towards = Math.sign(to_mm - last.z_mm) || 1;
  const begun_mm = ORDER_LIMITS.startedTurns.value * (own.axle.thread?.pitch_mm ?? 1);
  const meets = Math.abs(to_mm - last.z_mm) > begun_mm ? along(to_mm - towards * begun_mm) : last;
  return [
    phase(meets === last ? way : [...way, meets], 0, 0.6),
    phase([meets, along(to_mm)], 0.6, 1, pitchTurn(own, to_mm - meets.z_mm)),
  ];
}

/** Share of a tool step in which the tools are put on. */
const ON_SHARE = 0.22;

function phase(path: Path, from = 0, to = 1, turn_rad = 0, strokes = 1): Phase {
  return { from, to, path, turn_rad, strokes };
}

/** A tool's body, open as wide as what it goes over. */
function bodyAt(worlds: Worlds, room: ToolRoom, handle_rad: number): Body {
  const { item } = worlds.items.get(room.item)!;
  return toolBody(room, handle_rad, radiusOf(item) + 0.1);
}

const TRIED_ANGLES = 72;

/** Angles of a handle to try: from the middle of where the plan says there is room, outward. */
function anglesBy(drive: DriveInHand): number[] {
  const middle = drive.open ? ((drive.open.from_deg + drive.open.wide_deg / 2) * Math.PI) / 180 : 0;
  // A handle with all the room there is points down and back, out of the picture's middle.
  const start = drive.open && drive.open.wide_deg < 360 ? middle : (drive.role === 'turns' ? -0.25 : -0.75) * Math.PI;
  return Array.from(
    { length: TRIED_ANGLES },
    (_, k) => start + ((k % 2 === 0 ? 1 : -1) * Math.ceil(k / 2) * 2 * Math.PI) / TRIED_ANGLES,
  );
}

/** How far a handle can be pulled about a middle, rad; −1 where it has no room at all. */
function freePull(middle_rad: number, isFree: (handle_rad: number) => boolean): number {
  if (!isFree(middle_rad)) return -1;
  const step = Math.PI / 72;
  let pull = 0;
  while (pull + 2 * step <= PULL_rad.most + 1e-9) {
    const half = pull / 2 + step;
    if (!isFree(middle_rad + half) || !isFree(middle_rad - half)) break;
    pull += 2 * step;
  }
  return pull;
}

/** Where an item is drawn, from its tight place; mm, rad. */
export interface ItemPose extends Place {
  readonly z_mm: number;
  readonly turn_rad: number;
}

/** A tool where it is drawn. */
export interface ToolPose extends Place, Pick<DriveInHand, 'tool' | 'role' | 'isTorque' | 'side' | 'item'> {
  /** z of the face it works on. */
  readonly face_mm: number;
  /** How far it stands off outward, 0 on it. */
  readonly off_mm: number;
  /** Where the handle points. */
  readonly handle_rad: number;
  readonly room: ToolRoom;
  /** The way the pull goes as seen from its side, and the handle where it begins and ends; none of what holds. */
  readonly turn?: 'clockwise' | 'anticlockwise';
  readonly pull_rad?: readonly [from: number, to: number];
}

/** A moment of a step: everything that is there, by id. What is not named is not there. */
export interface Frame {
  readonly members: Readonly<Record<string, Shift>>;
  readonly obstacles: Readonly<Record<string, Shift>>;
  /** Items of all stacks, bosses with their members. */
  readonly items: Readonly<Record<string, ItemPose>>;
  readonly tools: readonly ToolPose[];
  /** Ids of members and items that move in this step. */
  readonly moving: readonly string[];
}

/**
 * The motions of a plan, or of any row of steps, each worked out once, when it is asked for: some ms to some 100 ms a
 * step, the first one seconds. Throws a RangeError of a step it has not.
 */
export function motionsIn(row: StepRow): (index: number) => StepMotion {
  const known = new Map<number, StepMotion>();
  let worlds: Worlds | undefined;
  return (index) => {
    const step = row.steps[index];
    if (!step) throw new RangeError(`motion: step: met ${index}, allowed: 0 to ${row.steps.length - 1}`);
    return remembered(known, index, () => movesOf((worlds ??= worldsOf(row)), index, step));
  };
}

/**
 * The same motion as it is taken back: time runs backward, and tools pull the other way. Undone twice it is itself.
 * O(ways).
 */
export function undone(motion: StepMotion): StepMotion {
  return { ...motion, isUndo: !motion.isUndo };
}

/** A step of a run: built, or taken apart where `strip` says so. */
export interface RunStep {
  readonly step: PlanStep;
  readonly strip?: StripStep;
}

/**
 * The motions of a run that builds, takes apart, or takes apart and builds again, each worked out when it is asked for.
 * `on` are the units and obstacles that are there before its first step. What is taken apart is the build of the same
 * steps run backward, in the world in which it is taken apart.
 */
export function motionsOf(
  analysis: Analysis,
  run: readonly RunStep[],
  on: readonly string[],
): (index: number) => StepMotion {
  const strips = run.flatMap(({ strip }) => strip ?? []);
  const off = strips.length;
  const left = strips.at(-1)?.on ?? on;
  const rest = run.slice(off).map(({ step }) => step);
  // Backward: the last strip step is built first, and ends with what was there before it.
  const undo: StepRow = {
    analysis,
    on: left,
    steps: strips
      .map((strip, k): PlanStep => ({ ...strip.step, places: strip.before, on: strips[k - 1]?.on ?? on }))
      .reverse(),
  };
  const forth = motionsIn({ analysis, steps: rest, ...(off > 0 && { on: left }) });
  const back = motionsIn(undo);
  let worlds: Worlds | undefined;
  return (index) => {
    if (index >= off) return forth(index - off);
    const strip = strips[index];
    if (!strip) throw new RangeError(`motion: step: met ${index}, allowed: 0 to ${run.length - 1}`);
    const at = off - 1 - index;
    return strip.kind === 'undo' ? undone(back(at)) : still((worlds ??= worldsOf(undo)), at + 1);
  };
}

/** Share of a stroke in which the wrench goes back. */
const BACK_SHARE = 0.3;

/** Slow start and slow end. */
function eased(share: number): number {
  return share * share * (3 - 2 * share);
}

/** Share of a way that passes in strokes: forward in each, still while the wrench goes back. */
function stroked(share: number, strokes: number): number {
  if (strokes <= 1) return eased(share);
  const at = Math.min(share * strokes, strokes - 1e-9);
  const stroke = Math.floor(at);
  return share >= 1 ? 1 : (stroke + eased(Math.min(1, (at - stroke) / (1 - BACK_SHARE)))) / strokes;
}

/** Where a handle is within its pull, 0 to 1, at a share of the time. */
function handleShare(share: number, isPulled: boolean): number {
  if (isPulled) return eased(share);
  const at = Math.min(share * STROKES, STROKES - 1e-9);
  const within = at - Math.floor(at);
  return within < 1 - BACK_SHARE
    ? eased(within / (1 - BACK_SHARE))
    : 1 - eased((within - (1 - BACK_SHARE)) / BACK_SHARE);
}

function phaseAt(phases: readonly Phase[], t: number): { readonly phase: Phase; readonly share: number } {
  let found = phases[0]!;
  for (const phase of phases) if (t >= phase.from) found = phase;
  return { phase: found, share: Math.min(1, Math.max(0, (t - found.from) / (found.to - found.from))) };
}

/**
 * The moment of a motion at `t`, 0 (as the step begins) to 1 (done); beyond either end it is that end. Shifts mm,
 * angles rad, as the side plane turns. About 0.1 ms.
 */
export function frameAt(motion: StepMotion, t: number): Frame {
  const { worlds, isUndo } = motion;
  const { bike } = worlds;
  const time = Math.min(1, Math.max(0, isUndo ? 1 - t : t));
  const members: Record<string, Shift> = {};
  const obstacles: Record<string, Shift> = {};
  const items: Record<string, ItemPose> = {};
  const units = new Map(motion.units);
  const loose = new Map<string, { readonly at: Shift; readonly turn_rad: number }>();
  const moving: string[] = [];
  for (const [id, offset] of motion.items)
    loose.set(id, { at: hostedAt(worlds, motion.units, id, offset), turn_rad: 0 });
  for (const mover of motion.movers) {
    const { phase, share } = phaseAt(mover.phases, time);
    const done = stroked(share, phase.strokes);
    const at = alongPath(phase.path, done, mover.middle, mover.reach_mm);
    for (const id of [...mover.units, ...mover.obstacles]) units.set(id, at);
    for (const id of mover.items) loose.set(id, { at, turn_rad: phase.turn_rad * done });
    moving.push(...mover.units.flatMap((unit) => bike.units.get(unit)!.members), ...mover.obstacles, ...mover.items);
  }
  for (const [id, at] of units) {
    const unit = bike.units.get(id);
    if (unit) for (const member of unit.members) members[member] = at;
    else obstacles[id] = at;
  }
  for (const { item, own } of worlds.items.values()) {
    const unit = units.get(bike.unitOf.get(item.member ?? '') ?? '');
    const here = item.member === undefined ? loose.get(item.id) : unit && { at: unit, turn_rad: 0 };
    if (!here) continue;
    const { x_mm, y_mm } = shiftedPlace(here.at, own.place);
    const { at, turn_rad } = here;
    items[item.id] = { x_mm: x_mm - own.place.x_mm, y_mm: y_mm - own.place.y_mm, z_mm: at.z_mm, turn_rad };
  }
  const tools = motion.tools.map((move) => toolAt(move, time, items[move.room.item]?.z_mm ?? 0, worlds, isUndo));
  return { members, obstacles, items, tools, moving };
}

function toolAt(move: ToolMove, t: number, z_mm: number, worlds: Worlds, isUndo: boolean): ToolPose {
  const { drive, room } = move;
  const on = move.onAt === 0 ? 1 : eased(Math.min(1, t / move.onAt));
  const share = Math.min(1, Math.max(0, (t - move.onAt) / (1 - move.onAt)));
  const { place, stack } = worlds.items.get(room.item)!.own;
  const { turn } = stack.tightening;
  const pull_rad = [move.handle_rad, move.handle_rad + move.pull_rad] as const;
  const undone = turn === 'clockwise' ? 'anticlockwise' : 'clockwise';
  const { tool, role, side, item } = room;
  return {
    tool,
    role,
    isTorque: drive.isTorque,
    side,
    item,
    x_mm: place.x_mm,
    y_mm: place.y_mm,
    face_mm: room.end_mm + z_mm,
    off_mm: move.standoff_mm * (1 - on),
    handle_rad: move.handle_rad + move.pull_rad * handleShare(share, move.isPulled),
    room,
    ...(role === 'holds' ? {} : isUndo ? { turn: undone, pull_rad: [pull_rad[1], pull_rad[0]] } : { turn, pull_rad }),
  };
}

/**
 * How long a motion is worth, as a share (0 to 1) of the longest: the length of its longest way, 0 where nothing moves.
 * O(ways).
 */
export function stretchOf(motion: StepMotion): number {
  const lengths = motion.movers.map(({ phases, middle, reach_mm }) =>
    phases.reduce((sum, { path }) => sum + pathLength_mm(path, middle, reach_mm), 0),
  );
  return Math.min(1, Math.max(0, ...lengths) / FROM_mm.unit);
}
