/**
 * The linkage run through its travel: a row of poses, what turns in them, and where the wheel goes.
 *
 * With the shock in, the poses run from the shock at full length (stroke 0) to full stroke, evenly; the drawn pose is
 * brought to the stated eye-to-eye length first. With the shock out any member's turn may drive. Turns are counted
 * against the first pose, anticlockwise seen from the drive side. Rear travel is how far the wheel's axle rises; the
 * path is its length. mm, rad; degrees where the name says so.
 */
import { linkageOf, systemOf, type Joint, type Linkage } from './linkage.ts';
import {
  GROUND,
  loopsOf,
  motionOf,
  Planar,
  rateOfPoint,
  worldOf,
  type Coordinates,
  type Motion,
  type Place,
  type PlanarSystem,
} from './planar.ts';
import { resolveModel } from '../model/resolve.ts';
import type { LinkageModel } from '../model/schema.ts';

/** One pose of the run. */
export interface Pose {
  /** Stroke used, mm; with the shock out the turn of the driving member against the drawn pose, rad. */
  readonly drive: number;
  readonly q: Coordinates;
  /** How the coordinates change per mm of stroke, or per rad. */
  readonly rate: Float64Array;
}

/** How far a run was asked to go and how it is driven. */
export type RunDrive =
  | { readonly kind: 'shock'; readonly eyeToEye_mm: number; readonly stroke_mm: number }
  | { readonly kind: 'turn'; readonly member: string; readonly from_rad: number; readonly to_rad: number };

/** Why a run ended before its end. */
export interface Stop {
  /** The driver cannot push further: a dead centre; or the first pose cannot be reached at all. */
  readonly kind: 'dead-centre' | 'out-of-reach';
  /** Where it ends: stroke, mm, or turn, rad; for a first pose out of reach the driver's own value (length, mm). */
  readonly at: number;
  /** Members that can still move there although the driver stands still. */
  readonly members: readonly string[];
}

/** What a linkage may do at all. */
export interface Mobility {
  /** Independent motions its joints leave; 1 is a linkage. */
  readonly count: number;
  /** Members that are loose (more than 1) or that lock one another (0). */
  readonly members: readonly string[];
}

/** A run of poses with what is needed to solve between them; plain data, since a worker hands it over. */
export interface Run {
  readonly linkage: Linkage;
  readonly system: PlanarSystem;
  readonly drive: RunDrive;
  readonly mobility: Mobility;
  /** In rising order of `drive`; empty where not even the first could be reached. */
  readonly poses: readonly Pose[];
  readonly stop?: Stop;
  /** Largest closure error of any loop in any pose, mm. */
  readonly closure_mm: number;
}

/**
 * Drive a model's linkage by its shock, or `undefined` where it has none that moves. `count` poses, at least 2, evenly
 * over the stroke in mm; about 0.5 ms a pose. A stroke that cannot be ended is told in the run.
 */
export function runShock(model: LinkageModel, count: number, given: GivenShock = {}): Run | undefined {
  return driveShock(linkageOf(resolveModel(model)), count, given);
}

/** Another shock than the model's, mm. */
interface GivenShock {
  readonly eyeToEye_mm?: number;
  readonly stroke_mm?: number;
}

/** Drive a linkage by its shock, as `runShock` does. */
export function driveShock(linkage: Linkage, count: number, given: GivenShock = {}): Run | undefined {
  const { model } = linkage;
  if (!linkage.shock || !model.shock) return undefined;
  const drive = {
    kind: 'shock',
    eyeToEye_mm: given.eyeToEye_mm ?? model.shock.eye_to_eye_mm,
    stroke_mm: given.stroke_mm ?? model.shock.stroke_mm,
  } as const;
  const planar = new Planar(systemOf(linkage, { kind: 'slider', slider: 0 }));
  const q = planar.drawn();
  const first = planar.carry(q, drive.eyeToEye_mm);
  if (!first.isThere)
    return finish(linkage, planar, drive, [], {
      kind: 'out-of-reach',
      at: first.value,
      members: movingAt(linkage, planar, q),
    });
  const values = evenly(count, 0, drive.stroke_mm);
  const poses: Pose[] = [];
  const { isThere, value } = planar.sweep(
    q,
    values.map((stroke) => drive.eyeToEye_mm - stroke),
    (at, tangent) =>
      poses.push({ drive: values[poses.length]!, q: Float64Array.from(at), rate: tangent.map((rate) => -rate) }),
  );
  const stop: Stop | undefined = isThere
    ? undefined
    : { kind: 'dead-centre', at: drive.eyeToEye_mm - value, members: movingAt(linkage, planar, q) };
  return finish(linkage, planar, drive, poses, stop);
}

/** Drive a linkage whose shock is out by the turn of one member; throws a RangeError where that member cannot turn. */
export function driveTurn(linkage: Linkage, member: string, from_rad: number, to_rad: number, count: number): Run {
  const body = linkage.bodyOf.get(member);
  if (body === undefined || body === GROUND) {
    throw new RangeError(
      `poses: member: met "${member}", allowed: ${linkage.bodies.flatMap(({ members }) => members).join(', ') || 'none, nothing moves'}`,
    );
  }
  const drive = { kind: 'turn', member, from_rad, to_rad } as const;
  const planar = new Planar(systemOf(linkage, { kind: 'turn', body }));
  const values = evenly(count, from_rad, to_rad);
  const poses: Pose[] = [];
  let stop: Stop | undefined;
  // Outward from the drawn pose both ways, so that each pose is carried from one that is known to be right.
  for (const isUp of [false, true]) {
    const way = isUp ? values.filter((value) => value >= 0) : values.filter((value) => value < 0).reverse();
    const q = planar.drawn();
    const { isThere, value } = planar.sweep(q, way, (at, tangent, drive) =>
      poses.push({ drive, q: Float64Array.from(at), rate: Float64Array.from(tangent) }),
    );
    if (!isThere && (!stop || Math.abs(value) < Math.abs(stop.at)))
      stop = { kind: 'dead-centre', at: value, members: movingAt(linkage, planar, q) };
  }
  poses.sort((one, other) => one.drive - other.drive);
  return finish(linkage, planar, drive, poses, stop);
}

function finish(
  linkage: Linkage,
  planar: Planar,
  drive: RunDrive,
  poses: readonly Pose[],
  stop: Stop | undefined,
): Run {
  const closure_mm = poses.reduce(
    (most, { q }) => Math.max(most, ...loopsOf(planar.system, q).map((loop) => loop.error_mm)),
    0,
  );
  return {
    linkage,
    system: planar.system,
    drive,
    mobility: mobilityOf(linkage, planar, poses),
    poses,
    ...(stop ? { stop } : {}),
    closure_mm,
  };
}

/** `count` values from one end to the other, both included, exactly at the ends. */
function evenly(count: number, from: number, to: number): number[] {
  return Array.from({ length: count }, (_, k) => (k === count - 1 ? to : from + ((to - from) * k) / (count - 1)));
}

/**
 * The pose at any stroke (mm, + as the shock shortens) or turn (rad) of a run: one solve from the nearest known pose,
 * about 0.1 ms. Undefined beyond the poses reached.
 */
export function poseAt(run: Run, drive: number): Pose | undefined {
  const near = nearest(run.poses, drive);
  const [first, last] = [run.poses[0], run.poses.at(-1)];
  if (!near || !first || !last || drive < first.drive || drive > last.drive) return undefined;
  if (near.drive === drive) return near;
  const q = Float64Array.from(near.q);
  const isShock = run.drive.kind === 'shock';
  let rate: Float64Array | undefined;
  const { isThere } = new Planar(run.system).sweep(
    q,
    [isShock ? run.drive.eyeToEye_mm - drive : drive],
    (_, tangent) => {
      rate = isShock ? tangent.map((value) => -value) : Float64Array.from(tangent);
    },
  );
  return isThere && rate ? { drive, q, rate } : undefined;
}

function nearest(poses: readonly Pose[], drive: number): Pose | undefined {
  let best = poses[0];
  for (const pose of poses) if (Math.abs(pose.drive - drive) < Math.abs(best!.drive - drive)) best = pose;
  return best;
}

/**
 * The motion that takes every member from its drawn place to its place in a pose, mm and rad; what stands still
 * included. O(members).
 */
export function memberMotions(run: Run, pose: Pose): Record<string, Motion> {
  const motions = run.linkage.bodies.map((_, body) => motionOf(run.system, pose.q, body));
  const still = motionOf(run.system, pose.q, GROUND);
  return Object.fromEntries([...run.linkage.bodyOf].map(([member, body]) => [member, motions[body] ?? still]));
}

/** Where every pivot stands in a pose, mm in the side plane. O(pivots). */
export function pivotPlaces(run: Run, pose: Pose): Record<string, Place> {
  return Object.fromEntries(
    run.linkage.pivots.map((pivot) => [
      pivot.id,
      pivot.bodies[0] === undefined ? pivot.place : worldOf(run.system, pose.q, pivot.bodies[0], pivot.place),
    ]),
  );
}

/**
 * Where the wheel's axle stands in a pose of this run, mm in the side plane; undefined where the model has no wheel.
 */
export function axleAt(run: Run, pose: Pose): Place | undefined {
  const { wheel } = run.linkage;
  return wheel && worldOf(run.system, pose.q, wheel.body, wheel.place);
}

/** How a point of a body, given as drawn, moves per mm of stroke (or rad). */
export function rateOf(run: Run, pose: Pose, body: number, place: Place): Place {
  const { system } = run;
  return rateOfPoint(system, pose.q, pose.rate, body, worldOf(system, pose.q, body, place));
}

/** How the two bodies of a joint turn against one another. */
export interface JointTurn {
  readonly joint: Joint;
  /** Turn of the second against the first in every pose, counted from the first pose, deg. */
  readonly turn_deg: readonly number[];
  /** Between the two extremes met on the way, deg. */
  readonly range_deg: number;
}

/** The angle every joint turns through in a run. */
export function jointTurns({ linkage, poses }: Run): JointTurn[] {
  const first = poses[0]?.q;
  return linkage.pivots.flatMap(({ joints }) =>
    joints.map((joint): JointTurn => {
      const turn_deg = poses.map(({ q }) => turnSince(joint, first!, q));
      return {
        joint,
        turn_deg,
        range_deg: turn_deg.length === 0 ? 0 : Math.max(...turn_deg) - Math.min(...turn_deg),
      };
    }),
  );
}

/** What every joint has turned since the first pose at any pose of a run, deg, by its id. */
export function turnsAt({ linkage, poses }: Run, pose: Pose): Record<string, number> {
  const first = poses[0];
  return Object.fromEntries(
    linkage.pivots.flatMap(({ joints }) =>
      joints.map((joint) => [joint.id, first ? turnSince(joint, first.q, pose.q) : 0] as const),
    ),
  );
}

function turnSince({ bodies }: Joint, first: Coordinates, q: Coordinates): number {
  return degrees(turnBetween(q, ...bodies) - turnBetween(first, ...bodies));
}

function turnBetween(q: Coordinates, one: number, other: number): number {
  return (other === GROUND ? 0 : q[3 * other + 2]!) - (one === GROUND ? 0 : q[3 * one + 2]!);
}

/** Degrees of an angle in rad. */
export function degrees(angle_rad: number): number {
  return (angle_rad * 180) / Math.PI;
}

/** Where the axle goes in a run. */
export interface AxlePath {
  readonly places: readonly Place[];
  /** Rise from the first pose to the last, mm, + up: the rear travel. */
  readonly rise_mm: number;
  /** Length of the way, mm. */
  readonly length_mm: number;
}

/** The path of the wheel's axle; undefined where no wheel hangs on the linkage. */
export function axlePath(run: Run): AxlePath | undefined {
  const places = run.poses.flatMap((pose) => axleAt(run, pose) ?? []);
  const [first, last] = [places[0], places.at(-1)];
  if (!first || !last) return undefined;
  const length_mm = places
    .slice(1)
    .reduce((sum, place, k) => sum + Math.hypot(place.x_mm - places[k]!.x_mm, place.y_mm - places[k]!.y_mm), 0);
  return { places, rise_mm: last.y_mm - first.y_mm, length_mm };
}

/** A body moves in a free motion when its share of it is above this: the rest is rounding. */
const MOVES = 1e-6;
/**
 * At a dead centre the pose reached is a little short of it; members with less of the motion than this follow others.
 */
const FOLLOWS = 0.02;

function mobilityOf(linkage: Linkage, planar: Planar, poses: readonly Pose[]): Mobility {
  // A pose may be special (all in one line); what the joints leave in the others counts.
  const tried = [
    planar.drawn(),
    ...[poses[Math.floor(poses.length / 2)], poses.at(-1)].flatMap((pose) => (pose ? [pose.q] : [])),
  ];
  let count = planar.mobility(tried[0]!);
  let q = tried[0]!;
  for (const other of count === 1 ? [] : tried.slice(1)) {
    const here = planar.mobility(other);
    if (here < count) {
      count = here;
      q = other;
    }
  }
  if (count === 1) return { count, members: [] };
  if (count > 1) return { count, members: movers(linkage, planar, planar.freedom(q, true), MOVES) };
  return { count, members: lockedMembers(linkage, planar) };
}

/** Members of every pin whose removal lets the linkage move again; all members where no single one does. */
function lockedMembers(linkage: Linkage, planar: Planar): string[] {
  const { system } = planar;
  const bodies = system.pins.flatMap((pin, k) => {
    const without = new Planar({ ...system, pins: system.pins.filter((_, other) => other !== k) });
    return without.mobility(without.drawn()) > 0 ? [pin.a, pin.b] : [];
  });
  const concerned = bodies.length > 0 ? new Set(bodies) : new Set(linkage.bodies.keys());
  return linkage.bodies.flatMap(({ members }, body) => (concerned.has(body) ? members : []));
}

function movers(linkage: Linkage, planar: Planar, freedom: readonly Float64Array[], share: number): string[] {
  const reach = (x: Float64Array, body: number): number =>
    Math.hypot(x[3 * body]!, x[3 * body + 1]!, x[3 * body + 2]! * planar.length_mm);
  const least = freedom.map((x) => share * Math.max(...linkage.bodies.map((_, body) => reach(x, body))));
  return linkage.bodies.flatMap(({ members }, body) =>
    freedom.some((x, k) => reach(x, body) > least[k]!) ? members : [],
  );
}

/** Members that move although the driver hardly does, at the last pose before a dead centre. */
function movingAt(linkage: Linkage, planar: Planar, q: Coordinates): string[] {
  const tangent = planar.tangent(q);
  return movers(linkage, planar, tangent ? [tangent] : planar.freedom(q, true), FOLLOWS);
}
