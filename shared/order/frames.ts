/**
 * The true motion of every step of a plan, and where everything stands at any moment of it.
 *
 * What moves, and along which path, comes from `motion.ts`; here it is kept, run backward for what is taken apart, and
 * laid out over time. Pure functions of the plan; `frameAt(motion, 1)` is where the step ends. mm, rad anticlockwise
 * from x (forward) seen from the drive side, shares of the step's time 0 to 1.
 */
import type { Place } from '../travel/planar.ts';
import type { Analysis } from '../types.ts';
import { remembered } from './bike.ts';
import type { Shift } from './bodies.ts';
import { type Phase, STROKES, type StepMotion, type ToolMove, hostedAt, movesOf, still } from './motion.ts';
import { FROM_mm, alongPath, pathLength_mm, shiftedPlace } from './paths.ts';
import { type StepRow, type Worlds, worldsOf } from './places.ts';
import type { ToolRoom } from './room.ts';
import type { StripStep } from './strip.ts';
import type { DriveInHand, PlanStep } from './tasks.ts';

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
