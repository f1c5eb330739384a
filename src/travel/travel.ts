/**
 * The travel of what is on the screen: the run of the open build, and the picture of one moment of it.
 *
 * The run (61 poses, their gaps and forces) is worked out in the worker; a moment in between costs one solve. Where
 * nothing of the bike moves there is none. Shares run from 0, the first pose (shock at full length), to 1, the last.
 */
import {
  axleAt,
  fall,
  linkageOf,
  memberMotions,
  outlinesOf,
  pivotPlaces,
  poseAt,
  turnsAt,
  wordAngle,
  wordMeasure,
  wordTurns,
  type Fall,
  type Analysis,
  type Motion,
  type PivotDrag,
  type Place,
  type Run,
  type TravelResult,
} from '../../shared/index.ts';

/** What of the travel the screen shows. */
export interface TravelView {
  readonly share: number;
  /** The shock is taken out: the linkage is lifted and let go by hand. */
  readonly isOut: boolean;
}

/** A build's travel with what is needed for the free check. */
export interface Travelled extends TravelResult {
  readonly run: Run;
  /** What the picture must hold beside the pivots: of one or two pivots alone nothing would be seen moving. */
  readonly sweep: readonly (readonly [x: number, y: number, z: number])[];
  readonly drags: readonly PivotDrag[];
}

/** Whether anything of a model moves at all. */
export function canMove(analysis: Analysis | undefined): boolean {
  return analysis !== undefined && linkageOf(analysis.resolved, true).bodies.length > 0;
}

/** A build's travel for the screen; undefined where nothing moves, or the first pose cannot be reached. */
export function travelledOf(result: TravelResult & { readonly drags: readonly PivotDrag[] }): Travelled | undefined {
  const { run } = result;
  return run && run.poses.length > 1 ? { ...result, run, sweep: sweepOf(run) } : undefined;
}

/** From so many pivots on they show by themselves where everything goes. */
const TELLING_PIVOTS = 3;

/** Where the moving members reach in the first, middle and last pose; nothing where the pivots tell enough. */
function sweepOf(run: Run): (readonly [number, number, number])[] {
  const { model, bodies, pivots } = run.linkage;
  if (pivots.length >= TELLING_PIVOTS) return [];
  const poses = [run.poses[0]!, run.poses[Math.floor(run.poses.length / 2)]!, run.poses.at(-1)!];
  return poses.flatMap((pose) => {
    const motions = memberMotions(run, pose);
    return bodies.flatMap(({ members }) =>
      members.flatMap((member) => {
        const { x_mm, y_mm, angle_rad } = motions[member]!;
        const [cos, sin] = [Math.cos(angle_rad), Math.sin(angle_rad)];
        return outlinesOf(model, member).flatMap(({ a, b, zFrom_mm, zTo_mm }) =>
          [a, b].map(
            (disc) =>
              [
                x_mm + cos * disc.x_mm - sin * disc.y_mm,
                y_mm + sin * disc.x_mm + cos * disc.y_mm,
                (zFrom_mm + zTo_mm) / 2,
              ] as const,
          ),
        );
      }),
    );
  });
}

/** The bike at one moment of its travel: what the picture is told. */
interface TravelPicture {
  /** From its drawn place to where it stands, every member. */
  readonly pose: Readonly<Record<string, Motion>>;
  readonly pivotPlaces: Readonly<Record<string, Place>>;
  /** What each pivot has turned, in words. */
  readonly pivotWords: Readonly<Record<string, string>>;
  /** Members and pivots that are not there: the shock, where it is out, and what only it joins. */
  readonly hidden: ReadonlySet<string>;
  readonly sweep: Travelled['sweep'];
}

/** A moment of the travel, as the picture draws it and the bar tells it. */
export interface Moment {
  readonly picture: TravelPicture;
  /** `27.5 mm of 55 mm stroke`, or the angle of a swing. */
  readonly drive: string;
  /** How far the axle has risen, in words; empty without a wheel. */
  readonly rise: string;
}

/** The driver's value at a share of the run: stroke, mm, or turn, rad. */
export function driveAt({ run }: Pick<Travelled, 'run'>, share: number): number {
  const [first, last] = [run.poses[0]!.drive, run.poses.at(-1)!.drive];
  return share >= 1 ? last : first + (last - first) * Math.max(0, share);
}

/** The share of the run at a driver's value. */
export function shareAt({ run }: Pick<Travelled, 'run'>, drive: number): number {
  const [first, last] = [run.poses[0]!.drive, run.poses.at(-1)!.drive];
  return Math.min(1, Math.max(0, (drive - first) / (last - first)));
}

/** One moment of a travel. */
export function momentOf(travelled: Travelled, { share, isOut }: TravelView): Moment {
  const { run } = travelled;
  const pose = poseAt(run, driveAt(travelled, share)) ?? run.poses[0]!;
  const { pivots, model } = run.linkage;
  const angles = turnsAt(run, pose);
  const axle = axleAt(run, pose);
  const start = axleAt(run, run.poses[0]!);
  return {
    picture: {
      pose: memberMotions(run, pose),
      pivotPlaces: pivotPlaces(run, pose),
      pivotWords: Object.fromEntries(
        pivots.flatMap((pivot) =>
          pivot.joints.length === 0 ? [] : [[pivot.id, wordTurns(model.written, pivot, angles).join(', ')] as const],
        ),
      ),
      hidden: isOut ? shockOnly(run) : NOTHING,
      sweep: travelled.sweep,
    },
    drive:
      run.drive.kind === 'shock'
        ? `${pose.drive.toFixed(1)} mm of ${wordMeasure({ value: run.drive.stroke_mm, unit: 'mm' })} stroke`
        : `${pose.drive < 0 ? '−' : ''}${wordAngle((pose.drive * 180) / Math.PI)} from as drawn`,
    rise:
      axle && start
        ? `axle ${Math.abs(axle.y_mm - start.y_mm).toFixed(1)} mm ${axle.y_mm < start.y_mm - 0.05 ? 'down' : 'up'}`
        : '',
  };
}

const NOTHING: ReadonlySet<string> = new Set();

/** The shock's two halves, and the pivots where without them fewer than two bodies meet. */
function shockOnly({ linkage }: Run): ReadonlySet<string> {
  const { shock } = linkage.model;
  if (!shock || !linkage.shock) return NOTHING;
  const away = [linkage.shock.a, linkage.shock.b];
  const pivots = linkage.pivots
    .filter(({ bodies }) => bodies.filter((body) => !away.includes(body)).length < 2)
    .map(({ id }) => id);
  return new Set([shock.body, shock.shaft, ...pivots]);
}

/** The fall of a build let go at a share of its travel. */
export function fallFrom(travelled: Travelled, share: number): Fall {
  return fall(travelled.run, travelled.drags, driveAt(travelled, share) + 1e-9);
}

/** How much slower than real a fall is shown, so that an eye can follow it. */
export const SLOW = 4;

/** The share of the run a fall has come down to after a time on the clock, s; its last step when that is over. */
export function shareInFall(travelled: Travelled, { steps }: Fall, time_s: number): number {
  const time = time_s / SLOW;
  const at = steps.findIndex((step) => step.time_s > time);
  if (at < 0) return shareAt(travelled, steps.at(-1)?.stroke_mm ?? 0);
  const [before, after] = [steps[at - 1] ?? steps[at]!, steps[at]!];
  const span = after.time_s - before.time_s;
  const part = span > 0 ? (time - before.time_s) / span : 1;
  return shareAt(travelled, before.stroke_mm + (after.stroke_mm - before.stroke_mm) * part);
}

/** Seconds from the first pose to the last when it plays by itself. */
const PLAY_s = 2.4;

/** The share of the run after playing to and fro for a time, s, from the first pose on: slow at both ends. */
export function shareInPlay(time_s: number): number {
  return (1 - Math.cos((Math.PI * time_s) / PLAY_s)) / 2;
}

/** The time at which playing passes a share on its way out, s. */
export function timeInPlay(share: number): number {
  return (PLAY_s * Math.acos(1 - 2 * Math.min(1, Math.max(0, share)))) / Math.PI;
}
