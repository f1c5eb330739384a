/**
 * What moves in one step and along which path: units, obstacles, items and tools, past everything that stands there.
 *
 * A unit comes in along the approach the plan gives it, an axle from its side, a ring from where nothing stands, a nut
 * over the tip, a bearing straight into its seat, a tool onto the end where it works. Paths come from `paths.ts`; threads
 * turn as their pitch says: a right-hand thread that advances to the drive side turns anticlockwise seen from there.
 * Long run-ups are shortened: a wrench is drawn with few strokes. mm, rad anticlockwise from x (forward) seen from the
 * drive side, shares of the step's time 0 to 1.
 */
import type { Joined } from './bike.ts';
import { ORDER_LIMITS } from './limits.ts';
import { type Body, HOME, type Shift, toolBody } from './bodies.ts';
import { type Worlds, awayAt, swingAxle, swingPath } from './on-bike.ts';
import {
  Course,
  type Direction,
  FROM_mm,
  type Path,
  type Stander,
  after,
  along,
  alongAxle,
  inPlane,
  moveOn,
  pathIn,
  spacerPath,
  turnAbout,
} from './paths.ts';
import { type ToolRoom, depthOf, firstFace, outward, radiusOf, toolsOf } from './room.ts';
import type { DriveInHand, PlanStep } from './types.ts';

/** A piece of a step's time in which something moves. */
export interface Phase {
  readonly from: number;
  readonly to: number;
  readonly path: Path;
  /** Turn about its own axle at the beginning and at the end, rad. */
  readonly spin_rad: readonly [number, number];
  /** Of the whole of its time, how much passes in equal strokes with a pause between; 1: one even pull. */
  readonly strokes: number;
}

/** Things that move together. */
export interface Mover {
  readonly units: readonly string[];
  readonly obstacles: readonly string[];
  readonly items: readonly string[];
  /** Where each of its items stands against the mover's own way, mm along z. */
  readonly offsets_mm: Readonly<Record<string, number>>;
  readonly phases: readonly Phase[];
  /** What turns about its own axle is turned as a whole about this place. */
  readonly middle: { readonly x_mm: number; readonly y_mm: number };
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
  /** The handle where it begins, and how far it is pulled in one stroke; rad, anticlockwise seen from the drive side. */
  readonly handle_rad: number;
  readonly pull_rad: number;
  readonly strokes: number;
  /** The handle ends where its last stroke ends, and is not brought back. */
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
/** Gap kept to what a ring is pushed past on its way onto an axle, mm. */
const MISTAKE_mm = 2;
/** Turns of a free check, from what a hand does to what little room may leave, rad. */
const ROCK_rad = [12, 8, 5, 3, 1.5].map((angle_deg) => (angle_deg * Math.PI) / 180);
const ROCK_STEPS = 4;

/** The moves of a step of a row. */
export function movesOf(worlds: Worlds, index: number, step: PlanStep): StepMotion {
  return new Moves(worlds, index, step).motion();
}

/** One step while its motion is worked out. */
class Moves {
  private readonly index: number;
  private readonly step: PlanStep;
  private readonly worlds: Worlds;
  private readonly own: Joined | undefined;
  private readonly units = new Map<string, Shift>();
  private readonly items = new Map<string, number>();
  private readonly movers: Mover[] = [];
  private readonly tools: ToolMove[] = [];

  constructor(worlds: Worlds, index: number, step: PlanStep) {
    this.index = index;
    this.step = step;
    this.worlds = worlds;
    this.own = step.stackId === undefined ? undefined : this.worlds.bike.byStack.get(step.stackId);
  }

  motion(): StepMotion {
    if (this.step.atBench) this.atBench();
    else this.onBike();
    return {
      worlds: this.worlds,
      index: this.index,
      units: this.units,
      items: this.items,
      movers: this.movers,
      tools: this.tools,
      isUndo: false,
    };
  }

  /** The unit alone, with what is in it already; what is pressed or laid goes in. */
  private atBench(): void {
    const { step, worlds } = this;
    for (const unit of step.units) this.units.set(unit, HOME);
    const moving = step.kind === 'press-bearing' || step.kind === 'set-spacer' ? step.items : [];
    for (const [id, { on }] of Object.entries(step.places)) {
      const host = worlds.hostOf.get(id);
      if (on && this.isPart(id) && (step.items.includes(id) || (host !== undefined && step.units.includes(host))))
        this.items.set(id, 0);
    }
    for (const id of moving) {
      this.items.delete(id);
      this.bringItem(id, 0);
    }
  }

  private onBike(): void {
    const { step, worlds, index } = this;
    const [before, then] = [worlds.before[index]!, worlds.before[index + 1]!];
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
    this.moveItems(changed, before.items);
    if (step.kind === 'free-check') this.rock();
    if (this.isToolStep()) {
      const isPull = step.kind !== 'hold-turn' && changed.length === 0;
      const last = worlds.row.steps[index - 1];
      this.takeTools(isPull, isPull && last?.stackId === step.stackId);
    }
  }

  private isToolStep(): boolean {
    return this.step.kind === 'hold-turn' || this.step.kind === 'half-torque' || this.step.kind === 'torque';
  }

  private isPart(id: string): boolean {
    return this.worlds.bodies.get(id)?.kind === 'item';
  }

  /** All that stands still now, but for what is named. */
  private standing(without: readonly string[] = []): Stander[] {
    return [...this.standingUnits(without), ...this.standingItems(without)];
  }

  private standingUnits(without: readonly string[] = []): Stander[] {
    return [...this.units].flatMap(([id, at]) =>
      without.includes(id) ? [] : [{ body: this.worlds.bodies.get(id)!, at }],
    );
  }

  private standingItems(without: readonly string[]): Stander[] {
    return [...this.items].flatMap(([id, offset]) =>
      without.includes(id) ? [] : [{ body: this.worlds.bodies.get(id)!, at: this.itemAt(id, offset) }],
    );
  }

  /** Where an item stands: with its unit where that is swung away. */
  private itemAt(id: string, offset_mm: number): Shift {
    const host = this.worlds.hostOf.get(id);
    const at = host === undefined ? undefined : this.units.get(host);
    return at && at !== HOME ? after(along(offset_mm), at) : along(offset_mm);
  }

  private course(ids: readonly string[], without: readonly string[] = [], more: readonly Stander[] = []): Course {
    const moving = ids.map((id): Stander => ({ body: this.worlds.bodies.get(id)!, at: HOME }));
    return new Course(this.worlds.space, moving, [...this.standing(without), ...more]);
  }

  private add(
    course: Course,
    phases: readonly Phase[],
    what: Partial<Pick<Mover, 'units' | 'obstacles' | 'items' | 'offsets_mm'>>,
  ): void {
    this.movers.push({
      units: [],
      obstacles: [],
      items: [],
      offsets_mm: {},
      ...what,
      phases,
      middle: course.middle,
      reach_mm: course.reach_mm,
    });
  }

  private bringUnits(units: readonly string[], items: readonly string[]): void {
    const { approach } = this.step;
    const wanted: Direction[] =
      approach === undefined
        ? []
        : [approach.how === 'axle' ? alongAxle(outward(approach.side)) : inPlane(approach.angle_rad)];
    const course = this.course([...units, ...items], items);
    for (const id of [...units, ...items]) {
      this.units.delete(id);
      this.items.delete(id);
    }
    this.add(course, [whole(pathIn(course, HOME, wanted, { length_mm: FROM_mm.unit }))], { units, items });
  }

  private bringObstacles(ids: readonly string[]): void {
    const isWheel = this.step.kind === 'wheel';
    const course = this.course(ids);
    // A wheel drops out of its ends downward; a chainset goes in from the drive side.
    const path = pathIn(course, HOME, [isWheel ? inPlane(-Math.PI / 2) : alongAxle(1)], {
      length_mm: isWheel ? FROM_mm.wheel : FROM_mm.chainset,
    });
    this.add(course, [whole(path)], { obstacles: ids });
  }

  /** One body after another: what is held aside first, the unit itself last; back the other way round. */
  private swing(from: ReadonlyMap<string, Shift>, to: ReadonlyMap<string, Shift>): void {
    const { worlds, index } = this;
    const isAway = to.size > 0;
    const units = [...(isAway ? to : from).keys()];
    const bodies = [...new Set(units.map((unit) => worlds.bike.units.get(unit)!.body))];
    if (!isAway) bodies.reverse();
    const swung = units.map((unit) => ({
      unit,
      items: [...this.items.keys()].filter((id) => worlds.hostOf.get(id) === unit),
    }));
    const courses = swung.map(({ unit, items }) => this.course([unit, ...items], [...items, unit]));
    swung.forEach(({ unit, items }, k) => {
      this.units.delete(unit);
      for (const id of items) this.items.delete(id);
      const { body } = worlds.bike.units.get(unit)!;
      const turn = bodies.indexOf(body);
      const path = swingPath(
        worlds,
        index,
        units.filter((id) => worlds.bike.units.get(id)!.body === body),
        from.get(unit) ?? HOME,
        to.get(unit) ?? HOME,
      );
      this.add(courses[k]!, [{ ...whole(path), from: turn / bodies.length, to: (turn + 1) / bodies.length }], {
        units: [unit],
        items,
      });
    });
  }

  /** What hangs on one axle is turned to and fro, one body after another, as far as it goes and no further than a hand does it. */
  private rock(): void {
    const { step, worlds } = this;
    const bodies = new Set(step.units.map((unit) => worlds.bike.units.get(unit)!.body));
    const rocked = [...bodies].flatMap((body) => {
      const units = [...this.units.keys()].filter((unit) => worlds.bike.units.get(unit)?.body === body);
      const found = this.rockOf(units);
      return found ? [found] : [];
    });
    rocked.forEach(({ course, units, items, path }, k) => {
      for (const unit of units) this.units.delete(unit);
      for (const id of items) this.items.delete(id);
      this.add(course, [{ from: k / rocked.length, to: (k + 1) / rocked.length, path, spin_rad: [0, 0], strokes: 1 }], {
        units,
        items,
      });
    });
  }

  private rockOf(units: readonly string[]):
    | {
        readonly course: Course;
        readonly units: readonly string[];
        readonly items: readonly string[];
        readonly path: Path;
      }
    | undefined {
    const { index, worlds } = this;
    if (units.some((unit) => worlds.bike.units.get(unit)!.isFrame)) return undefined;
    const places = units.map((unit) => swingAxle(worlds, index, [unit]));
    const about = places[0];
    if (!about || places.some((place) => place?.x_mm !== about.x_mm || place.y_mm !== about.y_mm)) return undefined;
    const items = [...this.items.keys()].filter((id) => units.includes(worlds.hostOf.get(id) ?? ''));
    const course = this.course([...units, ...items], [...units, ...items]);
    const wide = ROCK_rad.find((angle) =>
      [1, -1].every((sign) => course.isLegFree(HOME, turnAbout(about, sign * angle))),
    );
    if (wide === undefined) return undefined;
    const path = Array.from({ length: 4 * ROCK_STEPS - 1 }, (_, k) =>
      turnAbout(about, wide * Math.sin(((k + 1) / (4 * ROCK_STEPS)) * 2 * Math.PI)),
    );
    return { course, units, items, path: [HOME, ...path, HOME] };
  }

  private moveItems(changed: readonly (readonly [string, number])[], before: ReadonlyMap<string, number>): void {
    const { own } = this;
    if (!own) return;
    const fresh = changed.filter(([id]) => !before.has(id));
    const slid = changed.filter(([id]) => before.has(id));
    const ring = fresh.find(([id, offset]) => offset !== 0 && id !== own.axle.id && id !== own.receiver.id);
    for (const [id] of changed) this.items.delete(id);
    if (ring) {
      this.pushOn(own, ring[0], ring[1], before);
      return;
    }
    for (const [id, offset] of slid) this.slide(own, id, before.get(id)!, offset);
    for (const [id, offset] of fresh) this.bringItem(id, offset);
  }

  /** Along its axle from one offset to another, turning where its thread is engaged. */
  private slide(own: Joined, id: string, from_mm: number, to_mm: number): void {
    const course = this.course([id], [id]);
    if (this.isToolStep()) {
      this.add(
        course,
        [
          {
            from: ON_SHARE,
            to: 1,
            path: [along(from_mm), along(to_mm)],
            spin_rad: [0, this.spinOf(own, id, to_mm - from_mm)],
            strokes: STROKES,
          },
        ],
        { items: [id] },
      );
      this.turnStill(own, id, to_mm - from_mm);
      return;
    }
    if (this.step.kind !== 'start-receiver') {
      this.add(course, [whole([along(from_mm), along(to_mm)])], { items: [id] });
      return;
    }
    this.add(course, this.started(own, id, [along(from_mm)], to_mm), { items: [id] });
  }

  /** Where the axle is turned and a nut runs up it, the nut keeps its hold and the axle turns where it stands. */
  private turnStill(own: Joined, moved: string, by_mm: number): void {
    const turned = own.stack.tightening.turned === 'receiver' ? own.receiver.id : own.axle.id;
    if (moved === turned || !this.items.has(turned)) return;
    const at = along(this.items.get(turned)!);
    const course = this.course([turned], [turned]);
    this.items.delete(turned);
    this.add(
      course,
      [{ from: ON_SHARE, to: 1, path: [at], spin_rad: [0, -this.pitchTurn(own, by_mm)], strokes: STROKES }],
      { items: [turned] },
    );
  }

  /** What an item turns while it runs along the thread, rad; 0 of what is held. */
  private spinOf(own: Joined, id: string, by_mm: number): number {
    const turned = own.stack.tightening.turned === 'receiver' ? own.receiver.id : own.axle.id;
    return id === turned ? this.pitchTurn(own, by_mm) : 0;
  }

  /** Turn of an outer or inner thread that advances by a length, rad. */
  private pitchTurn(own: Joined, by_mm: number): number {
    const { thread } = own.axle;
    return thread ? ((thread.hand === 'left' ? -1 : 1) * 2 * Math.PI * by_mm) / thread.pitch_mm : 0;
  }

  /** Brought up to the thread, then started by hand. */
  private started(own: Joined, id: string, way: Path, to_mm: number): Phase[] {
    const last = way.at(-1)!;
    const towards = Math.sign(to_mm - last.z_mm) || 1;
    const begun_mm = ORDER_LIMITS.startedTurns.value * (own.axle.thread?.pitch_mm ?? 1);
    const meets = Math.abs(to_mm - last.z_mm) > begun_mm ? along(to_mm - towards * begun_mm) : last;
    const turn = this.pitchTurn(own, to_mm - meets.z_mm);
    return [
      { from: 0, to: 0.6, path: meets === last ? way : [...way, meets], spin_rad: [0, 0], strokes: 1 },
      { from: 0.6, to: 1, path: [meets, along(to_mm)], spin_rad: [0, turn], strokes: 1 },
    ];
  }

  /** An item that was not there: from its side, over the tip, or from where nothing stands. */
  private bringItem(id: string, offset_mm: number): void {
    const { step, worlds } = this;
    const { item, own } = worlds.items.get(id)!;
    const goal = this.itemAt(id, offset_mm);
    const course = this.course([id], [id]);
    if (item.role === 'axle') {
      const out = alongAxle(outward(own.from));
      // Its tip begins outside, however deep it goes in this step.
      const outside = depthOf(own) - Math.abs(offset_mm) + FROM_mm.axle;
      const path: Path = [moveOn(goal, out, course.freeLength_mm(goal, out, Math.max(FROM_mm.axle, outside))), goal];
      this.add(course, step.kind === 'start-receiver' ? this.started(own, id, [path[0]!], offset_mm) : [whole(path)], {
        items: [id],
      });
    } else if (item.role === 'receiver') {
      const out = alongAxle(outward(own.tipSide));
      const far = moveOn(goal, out, course.freeLength_mm(goal, out, FROM_mm.receiver));
      this.add(course, this.started(own, id, [far], offset_mm), { items: [id] });
    } else if (item.role === 'bearing') {
      const out = alongAxle(outward(item.seat?.side ?? step.side));
      this.add(course, [whole([moveOn(goal, out, course.freeLength_mm(goal, out, FROM_mm.bearing)), goal])], {
        items: [id],
      });
    } else {
      this.add(course, [whole(spacerPath(course, goal, own, id, step.side))], { items: [id] });
    }
  }

  /**
   * A ring that travels in under the head: the axle is drawn back, the ring brought before its tip and pushed along the
   * shank up to the head, and both go forward again.
   */
  private pushOn(own: Joined, id: string, offset_mm: number, before: ReadonlyMap<string, number>): void {
    const { item } = this.worlds.items.get(id)!;
    const sign = outward(own.tipSide);
    const length = item.to_mm - item.from_mm;
    const back = length + 2 * MISTAKE_mm;
    const others = [...this.worlds.before[this.index + 1]!.items]
      .filter(([other, at]) => other !== id && at === offset_mm && this.worlds.items.get(other)!.own === own)
      .map(([other]) => other);
    const drawn = others.map(
      (other): Stander => ({ body: this.worlds.bodies.get(other)!, at: along(offset_mm - sign * back) }),
    );
    for (const other of others) this.items.delete(other);
    const isFresh = !before.has(own.axle.id);
    const withAxle = this.course(others);
    const behind = along(offset_mm - sign * back);
    const out = alongAxle(outward(own.from));
    const start = isFresh ? moveOn(behind, out, withAxle.freeLength_mm(behind, out, FROM_mm.axle)) : along(offset_mm);
    const front = sign > 0 ? item.to_mm : item.from_mm;
    const ahead = along(firstFace(own) - sign * MISTAKE_mm - front);
    const course = this.course([id], [id], drawn);
    const up = pathIn(course, ahead, [inPlane(Math.PI / 2)], { length_mm: FROM_mm.ring });
    this.add(
      withAxle,
      [
        { from: 0, to: 0.3, path: [start, behind], spin_rad: [0, 0], strokes: 1 },
        { from: 0.75, to: 1, path: [behind, along(offset_mm)], spin_rad: [0, 0], strokes: 1 },
      ],
      { items: others },
    );
    this.add(
      course,
      [
        { from: 0.3, to: 0.55, path: up, spin_rad: [0, 0], strokes: 1 },
        { from: 0.55, to: 0.75, path: [ahead, behind], spin_rad: [0, 0], strokes: 1 },
        { from: 0.75, to: 1, path: [behind, along(offset_mm)], spin_rad: [0, 0], strokes: 1 },
      ],
      { items: [id] },
    );
  }

  /** Tools onto the ends where they work; for a pull right after work at the same axle they are there already. */
  private takeTools(isPull: boolean, isThere: boolean): void {
    const { own, step } = this;
    if (!own) return;
    const rooms = toolsOf(own);
    const taken: Stander[] = [];
    for (const drive of step.tools) {
      if (drive.kind !== 'drive') continue;
      const room = rooms.find((candidate) => candidate.role === drive.role);
      if (!room) continue;
      const move = this.takeTool(own, drive, room, taken, isPull, isThere);
      if (!move) continue;
      this.tools.push(move);
      taken.push({ body: bodyAt(this.worlds, room, move.handle_rad), at: along(this.offsetOf(room.item)) });
    }
  }

  /** Offset of an item as the step begins. */
  private offsetOf(id: string): number {
    return this.worlds.before[this.index]!.items.get(id) ?? 0;
  }

  private takeTool(
    own: Joined,
    drive: DriveInHand,
    room: ToolRoom,
    taken: readonly Stander[],
    isPull: boolean,
    isThere: boolean,
  ): ToolMove | undefined {
    const turns = room.role === 'turns';
    const sense = turns ? senseOf(own) : 0;
    // What moves along with the tool, and the item it sits on, is judged as it stands when the step begins.
    const still = this.standingAll(room.item);
    const z = along(this.offsetOf(room.item));
    const home = along(0);
    const isFree = (handle_rad: number, at: Shift): boolean =>
      new Course(
        this.worlds.space,
        [{ body: bodyAt(this.worlds, room, handle_rad), at: HOME }],
        [...still, ...taken],
      ).isFree(at);
    const angles = anglesBy(drive);
    let best: { readonly handle_rad: number; readonly pull_rad: number } | undefined;
    for (const middle of angles) {
      const pull = turns
        ? freePull(middle, (handle) => isFree(handle, z) && isFree(handle, home))
        : isFree(middle, z) && isFree(middle, home)
          ? 0
          : -1;
      if (pull < (turns ? PULL_rad.least : 0)) continue;
      if (!best || pull > best.pull_rad + 1e-9) best = { handle_rad: middle - (sense * pull) / 2, pull_rad: pull };
      if (!turns || pull >= PULL_rad.most - 1e-9) break;
    }
    if (!best) return undefined;
    const { handle_rad } = best;
    const course = new Course(
      this.worlds.space,
      [{ body: bodyAt(this.worlds, room, handle_rad), at: HOME }],
      [...still, ...taken],
    );
    const standoff_mm = isThere ? 0 : course.freeLength_mm(z, alongAxle(outward(room.side)), FROM_mm.tool);
    return {
      drive,
      room,
      standoff_mm,
      onAt: isThere ? 0 : ON_SHARE,
      handle_rad,
      pull_rad: sense * best.pull_rad,
      strokes: isPull ? 1 : STROKES,
      isPulled: isPull,
    };
  }

  /** Everything but one item, as it stands when the step begins. */
  private standingAll(without: string): Stander[] {
    const { worlds, index } = this;
    const before = worlds.before[index]!;
    return [
      ...this.standingUnits(),
      ...[...before.items].flatMap(([id, offset]) =>
        id === without ? [] : [{ body: worlds.bodies.get(id)!, at: this.itemAt(id, offset) }],
      ),
    ];
  }
}

/** Share of a tool step in which the tools are put on. */
const ON_SHARE = 0.22;

function whole(path: Path): Phase {
  return { from: 0, to: 1, path, spin_rad: [0, 0], strokes: 1 };
}

/** Sense of the pull about z: +1 anticlockwise seen from the drive side. */
function senseOf(own: Joined): 1 | -1 {
  const { turn, stand } = own.stack.tightening;
  return (turn === 'anticlockwise') === (stand === 'drive') ? 1 : -1;
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
