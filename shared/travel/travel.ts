/**
 * The travel of a model in one call: poses, what turns, what clears, what carries, and what is wrong with it.
 *
 * Everything is plain data, ready to print as JSON, but for `run`, which the screen keeps to solve between poses. A
 * linkage without a shock is swung by its first moving member instead and carries no load. Findings are data; their
 * words are in `words/travel.ts`. It judges fit and load for the free check and for understanding; it is no
 * suspension-design tool. mm, N, deg.
 */
import { resolveModel, type ResolvedModel } from '../model/resolve.ts';
import type { LinkageModel } from '../model/schema.ts';
import { LEAST_STATIC_SAFETY, LEAST_STATIC_SAFETY_CERTAIN } from '../standards/static-load.ts';
import type { Analysis, Measure, Severity, Verdict } from '../types.ts';
import { clearances, type Passing } from './clearance.ts';
import { linkageOf, type Joint, type Linkage } from './linkage.ts';
import { TRAVEL_LIMITS } from './limits.ts';
import {
  bearingLoads,
  bushLoads,
  jointForce_N,
  pivotWork,
  type BearingLoad,
  type BushLoad,
  type PivotWork,
} from './loads.ts';
import { axleAt, axlePath, degrees, jointTurns, driveTurn, driveShock, turnsAt, type Run } from './poses.ts';
import { staticsAt, type Statics } from './statics.ts';

/** Every kind of thing the travel check finds. */
export const TRAVEL_FINDING_CODES = [
  'nothing-moves',
  'member-unattached',
  'linkage-locked',
  'member-loose',
  'shock-out-of-reach',
  'dead-centre',
  'eye-to-eye-differs',
  'other-shock',
  'travel-differs',
  'parts-rub',
  'parts-run-close',
  'tyre-runs-close',
  'bearing-overloaded',
  'bearing-side-limit',
  'bush-overloaded',
] as const;
/** One of `TRAVEL_FINDING_CODES`. */
export type TravelFindingCode = (typeof TRAVEL_FINDING_CODES)[number];

/** A finding of the travel check as data. */
export interface TravelFinding {
  readonly code: TravelFindingCode;
  readonly severity: Severity;
  /** Ids of the members, obstacles or pivots concerned. */
  readonly members: readonly string[];
  readonly pivots: readonly string[];
  readonly numbers: Readonly<Record<string, Measure>>;
  readonly limit?: Measure & { readonly source: string };
  /** Ids that belong to it but are neither: a bearing, a boss. */
  readonly about?: Readonly<Record<string, string>>;
}

/** What to run and how. */
export interface TravelOptions {
  /** Number of poses, at least 2; 61 when left out. */
  readonly poses?: number;
  /** Upright push at the rear axle, N; 1000 when left out, a round figure: forces grow in step with it. */
  readonly load_N?: number;
  /** Another shock than the model's, mm. */
  readonly eyeToEye_mm?: number;
  readonly stroke_mm?: number;
  /** Swing this member with the shock out instead, from and to, deg. */
  readonly free?: { readonly member: string; readonly from_deg: number; readonly to_deg: number };
  /** The analysed build, for what tightening leaves in the bearings. */
  readonly analysis?: Analysis;
}

/** Round figure of the push at the rear axle, N. */
export const DEFAULT_LOAD_N = 1000;
const DEFAULT_POSES = 61;
const DEFAULT_SWING_deg = 30;

/** One pose of the report. */
export interface TravelPose {
  /** Stroke used, mm; with the shock out the turn of the driving member, deg. */
  readonly drive: number;
  readonly eyeToEye_mm?: number;
  readonly axle?: { readonly x_mm: number; readonly y_mm: number };
  /** Of the axle above the first pose, mm. */
  readonly rise_mm?: number;
  /** Turn of every joint since the first pose, deg, anticlockwise seen from the drive side; by the ids of `pivots`. */
  readonly turns_deg: Readonly<Record<string, number>>;
  readonly shock_N?: number;
  /** Force of every joint, N. */
  readonly forces_N?: Readonly<Record<string, number>>;
}

/** The shock against what the model states. */
export interface ShockReport {
  readonly stated_mm: number;
  /** Between the eyes as drawn. */
  readonly drawn_mm: number;
  readonly used_mm: number;
  readonly statedStroke_mm: number;
  readonly stroke_mm: number;
  /** How much of the stroke the linkage lets through, and what ends it. */
  readonly reached_mm: number;
  readonly endedBy?: 'dead-centre' | 'contact' | 'out-of-reach';
  /** How far the shock used shifts the axle at full length against the model's own, mm. */
  readonly axleShift_mm?: { readonly x_mm: number; readonly y_mm: number };
}

/** Everything there is to say of a model's travel. */
export interface Travel {
  readonly model: string;
  readonly variant?: string;
  readonly verdict: Verdict;
  readonly drive:
    | { readonly kind: 'shock' }
    | { readonly kind: 'turn'; readonly member: string }
    | { readonly kind: 'none' };
  readonly shock?: ShockReport;
  readonly rear?: { readonly stated_mm?: number; readonly rise_mm: number; readonly path_mm: number };
  readonly mobility: number;
  /** Largest closure error of any loop in any pose, mm. */
  readonly closure_mm: number;
  readonly load_N: number;
  readonly poses: readonly TravelPose[];
  /** Angles, loads and work, hardest first: one entry for each two that turn against one another. */
  readonly pivots: readonly PivotWork[];
  readonly bearings: readonly BearingLoad[];
  /** Bushes that line a bore; left out where there is none. */
  readonly bushes?: readonly BushLoad[];
  /** Largest disagreement of the forces with virtual work, N. */
  readonly forceCheck_N?: number;
  readonly gaps: readonly Passing[];
  readonly findings: readonly TravelFinding[];
}

/** A travel with the run behind it; without one where nothing moves. */
export interface TravelResult {
  readonly travel: Travel;
  readonly run?: Run;
  readonly statics: readonly Statics[];
}

const mm = (value: number): Measure => ({ value, unit: 'mm' });
const N = (value: number): Measure => ({ value, unit: 'N' });
const plain = (value: number): Measure => ({ value, unit: '1' });

/**
 * Run a model, read without problems, through its travel. Lengths mm, angles deg, forces N. About 1 s a bike. Throws a
 * RangeError for options that mean nothing; a linkage that cannot move is told as findings.
 */
export function travel(written: LinkageModel, options: TravelOptions = {}): TravelResult {
  const work = travelling(written, options);
  for (let step = work.next(); ; step = work.next()) if (step.done) return step.value;
}

/** The same work with places where it may be left, and how far it is, 0 to 1. */
export function* travelling(written: LinkageModel, options: TravelOptions = {}): Generator<number, TravelResult> {
  const model = resolveModel(written);
  const { poses: count = DEFAULT_POSES, load_N = DEFAULT_LOAD_N } = options;
  if (!Number.isInteger(count) || count < 2)
    throw new RangeError(`travel: poses: met ${count}, allowed: a whole number of at least 2`);
  yield 0;
  const run = startRun(model, count, options);
  if (!run) return { travel: nothing(model, load_N, options), statics: [] };
  yield 0.5;
  const turns = jointTurns(run);
  const statics: Statics[] = [];
  for (const [k, pose] of run.poses.entries()) {
    const forces = staticsAt(run, pose, { x_N: 0, y_N: load_N });
    if (forces) statics.push(forces);
    yield 0.5 + (0.2 * k) / run.poses.length;
  }
  // At a pose without statics (a dead centre) the rows would no longer match.
  const loaded = statics.length === run.poses.length ? statics : [];
  const isTurn = run.drive.kind === 'turn';
  const gaps = clearances(run).map((gap) => (isTurn ? inDegrees(gap) : gap));
  yield 0.9;
  const path = axlePath(run);
  const shock = shockReport(run, gaps);
  const bearings = bearingLoads(run.linkage, loaded, options.analysis);
  const bushes = bushLoads(run.linkage, loaded);
  const rear =
    path && run.drive.kind === 'shock'
      ? {
          ...(model.shock?.travel_mm === undefined ? {} : { stated_mm: model.shock.travel_mm }),
          rise_mm: path.rise_mm,
          path_mm: path.length_mm,
        }
      : undefined;
  const findings = [
    ...linkageFindings(run),
    ...shockFindings(run, shock, rear),
    ...gapFindings(run.linkage, gaps, isTurn),
    ...bearingFindings(
      bearings,
      run.linkage.pivots.flatMap(({ joints }) => joints),
    ),
    ...bushFindings(bushes),
  ].sort(bySeverity);
  return {
    run,
    statics: loaded,
    travel: {
      model: model.id,
      ...(options.analysis?.variant === undefined ? {} : { variant: options.analysis.variant }),
      verdict: findings.some((finding) => finding.severity === 'stop') ? 'faulty' : 'sound',
      drive: run.drive.kind === 'shock' ? { kind: 'shock' } : { kind: 'turn', member: run.drive.member },
      ...(shock ? { shock } : {}),
      ...(rear ? { rear } : {}),
      mobility: run.mobility.count,
      closure_mm: run.closure_mm,
      load_N,
      poses: poseRows(run, loaded),
      pivots: pivotWork(run, turns, loaded),
      bearings,
      ...(bushes.length > 0 ? { bushes } : {}),
      ...(loaded.length > 0
        ? {
            forceCheck_N: Math.max(
              ...loaded.map(({ check }) => Math.max(check.residual_N, check.driverWork_N, check.pinWork_N)),
            ),
          }
        : {}),
      gaps,
      findings,
    },
  };
}

const SEVERITIES: readonly Severity[] = ['stop', 'warn', 'note'];
const bySeverity = (one: TravelFinding, other: TravelFinding): number =>
  SEVERITIES.indexOf(one.severity) - SEVERITIES.indexOf(other.severity);

function startRun(model: ResolvedModel, count: number, options: TravelOptions): Run | undefined {
  if (options.free) {
    const { member, from_deg, to_deg } = options.free;
    if (!(from_deg <= 0 && to_deg >= 0 && from_deg < to_deg))
      throw new RangeError(
        `travel: swing: met ${from_deg}° to ${to_deg}°, allowed: from at most 0° to at least 0°, the drawn pose between them`,
      );
    return driveTurn(linkageOf(model, true), member, (from_deg * Math.PI) / 180, (to_deg * Math.PI) / 180, count);
  }
  const shocked = driveShock(linkageOf(model), count, {
    ...(options.eyeToEye_mm === undefined ? {} : { eyeToEye_mm: options.eyeToEye_mm }),
    ...(options.stroke_mm === undefined ? {} : { stroke_mm: options.stroke_mm }),
  });
  if (shocked) return shocked;
  const loose = linkageOf(model, true);
  const first = loose.bodies[0]?.members[0];
  const swing = (DEFAULT_SWING_deg * Math.PI) / 180;
  return first === undefined ? undefined : driveTurn(loose, first, -swing, swing, count);
}

function nothing(model: ResolvedModel, load_N: number, { analysis }: TravelOptions): Travel {
  const findings = [finding('nothing-moves', 'note', {}), ...unattached(linkageOf(model))];
  return {
    model: model.id,
    ...(analysis?.variant === undefined ? {} : { variant: analysis.variant }),
    verdict: 'sound',
    drive: { kind: 'none' },
    mobility: 0,
    closure_mm: 0,
    load_N,
    poses: [],
    pivots: [],
    bearings: [],
    gaps: [],
    findings,
  };
}

function poseRows(run: Run, statics: readonly Statics[]): TravelPose[] {
  const start = run.poses[0] && axleAt(run, run.poses[0]);
  const joints = run.linkage.pivots.flatMap((pivot) => pivot.joints);
  return run.poses.map((pose, k): TravelPose => {
    const axle = axleAt(run, pose);
    const forces = statics[k];
    return {
      drive: run.drive.kind === 'shock' ? pose.drive : degrees(pose.drive),
      ...(run.drive.kind === 'shock' ? { eyeToEye_mm: run.drive.eyeToEye_mm - pose.drive } : {}),
      ...(axle && start ? { axle, rise_mm: axle.y_mm - start.y_mm } : {}),
      turns_deg: turnsAt(run, pose),
      ...(forces
        ? {
            shock_N: forces.shock_N,
            forces_N: Object.fromEntries(joints.map((joint) => [joint.id, jointForce_N(forces, joint)])),
          }
        : {}),
    };
  });
}

function shockReport(run: Run, gaps: readonly Passing[]): ShockReport | undefined {
  const { linkage, drive } = run;
  const stated = linkage.model.shock;
  if (!linkage.shock || !stated || drive.kind !== 'shock') return undefined;
  const { from, to } = linkage.shock;
  const reached = run.poses.at(-1)?.drive ?? 0;
  const contact = firstContact(gaps);
  const endedBy =
    run.stop?.kind === 'out-of-reach'
      ? 'out-of-reach'
      : contact !== undefined && contact < reached
        ? 'contact'
        : run.stop
          ? 'dead-centre'
          : undefined;
  const isOther = drive.eyeToEye_mm !== stated.eye_to_eye_mm;
  const own = isOther ? driveShock(linkage, 2) : undefined;
  const [here, there] = [run.poses[0] && axleAt(run, run.poses[0]), own?.poses[0] && axleAt(own, own.poses[0])];
  return {
    stated_mm: stated.eye_to_eye_mm,
    drawn_mm: Math.hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm),
    used_mm: drive.eyeToEye_mm,
    statedStroke_mm: stated.stroke_mm,
    stroke_mm: drive.stroke_mm,
    reached_mm: Math.min(reached, contact ?? Infinity, run.stop?.kind === 'dead-centre' ? run.stop.at : Infinity),
    ...(endedBy ? { endedBy } : {}),
    ...(here && there ? { axleShift_mm: { x_mm: here.x_mm - there.x_mm, y_mm: here.y_mm - there.y_mm } } : {}),
  };
}

/** Stroke at which the first two members touch, of those that do not touch from the start; mm. */
function firstContact(gaps: readonly Passing[]): number | undefined {
  const strokes = gaps.flatMap(({ touchesFrom, isFixed }) =>
    touchesFrom !== undefined && !isFixed ? [touchesFrom] : [],
  );
  return strokes.length === 0 ? undefined : Math.min(...strokes);
}

function finding(
  code: TravelFindingCode,
  severity: Severity,
  rest: Partial<Omit<TravelFinding, 'code' | 'severity'>>,
): TravelFinding {
  return { code, severity, members: [], pivots: [], numbers: {}, ...rest };
}

function unattached(linkage: Linkage): TravelFinding[] {
  return linkage.unattached.length === 0 ? [] : [finding('member-unattached', 'warn', { members: linkage.unattached })];
}

function linkageFindings({ linkage, mobility }: Run): TravelFinding[] {
  const found = unattached(linkage);
  const numbers = { ways: plain(mobility.count) };
  if (mobility.count === 0) found.push(finding('linkage-locked', 'stop', { members: mobility.members, numbers }));
  if (mobility.count > 1) found.push(finding('member-loose', 'stop', { members: mobility.members, numbers }));
  return found;
}

function shockFindings(run: Run, shock: ShockReport | undefined, rear: Travel['rear']): TravelFinding[] {
  const found: TravelFinding[] = [];
  const { stop } = run;
  const isTurn = run.drive.kind === 'turn';
  if (stop?.kind === 'out-of-reach') {
    found.push(
      finding('shock-out-of-reach', 'stop', {
        members: stop.members,
        numbers: { length_mm: mm(shock?.used_mm ?? 0), nearest_mm: mm(stop.at) },
      }),
    );
  } else if (stop) {
    // A swing that ends is what a linkage does; a stroke that cannot be used up is not.
    const numbers: Record<string, Measure> = isTurn
      ? { at_deg: plain(degrees(stop.at)) }
      : { at_mm: mm(stop.at), stroke_mm: mm(shock?.stroke_mm ?? 0) };
    found.push(finding('dead-centre', isTurn ? 'note' : 'stop', { members: stop.members, numbers }));
  }
  if (!shock) return found;
  const isOwn = shock.used_mm === shock.stated_mm && shock.stroke_mm === shock.statedStroke_mm;
  const off = Math.abs(shock.drawn_mm - shock.stated_mm);
  if (off > TRAVEL_LIMITS.eyeToEye_mm.value) {
    found.push(
      finding('eye-to-eye-differs', 'warn', {
        members: shockMembers(run),
        numbers: { drawn_mm: mm(shock.drawn_mm), stated_mm: mm(shock.stated_mm) },
        limit: { value: TRAVEL_LIMITS.eyeToEye_mm.value, unit: 'mm', source: TRAVEL_LIMITS.eyeToEye_mm.source },
      }),
    );
  }
  if (!isOwn) {
    const shift = shock.axleShift_mm;
    const { axleShift_mm } = TRAVEL_LIMITS;
    const isFar = shift !== undefined && Math.abs(shift.y_mm) >= axleShift_mm.value;
    found.push(
      finding('other-shock', isFar ? 'warn' : 'note', {
        members: shockMembers(run),
        numbers: {
          used_mm: mm(shock.used_mm),
          stroke_mm: mm(shock.stroke_mm),
          stated_mm: mm(shock.stated_mm),
          statedStroke_mm: mm(shock.statedStroke_mm),
          reached_mm: mm(shock.reached_mm),
          ...(shift ? { shift_mm: mm(shift.y_mm) } : {}),
        },
        ...(isFar ? { limit: { value: axleShift_mm.value, unit: 'mm', source: axleShift_mm.source } } : {}),
        ...(shock.endedBy ? { about: { endedBy: shock.endedBy } } : {}),
      }),
    );
  }
  if (isOwn && rear?.stated_mm !== undefined && !stop) {
    const limit = TRAVEL_LIMITS.travelShare.value * rear.stated_mm;
    if (Math.abs(rear.rise_mm - rear.stated_mm) > limit) {
      found.push(
        finding('travel-differs', 'warn', {
          numbers: { rise_mm: mm(rear.rise_mm), stated_mm: mm(rear.stated_mm) },
          limit: { value: limit, unit: 'mm', source: TRAVEL_LIMITS.travelShare.source },
        }),
      );
    }
  }
  return found;
}

function shockMembers({ linkage }: Run): string[] {
  const { shock } = linkage.model;
  return shock ? [shock.body, shock.shaft] : [];
}

function inDegrees(gap: Passing): Passing {
  return {
    ...gap,
    at: degrees(gap.at),
    ...(gap.touchesFrom === undefined ? {} : { touchesFrom: degrees(gap.touchesFrom) }),
  };
}

function gapFindings(linkage: Linkage, gaps: readonly Passing[], isTurn: boolean): TravelFinding[] {
  const where = (value: number): Measure => (isTurn ? plain(value) : mm(value));
  const wheels = new Set(
    (linkage.model.obstacles ?? []).filter((obstacle) => obstacle.kind === 'wheel').map((obstacle) => obstacle.id),
  );
  return gaps.flatMap(({ one, other, gap_mm, at, touchesFrom }): TravelFinding[] => {
    const isTyre = other.isObstacle && wheels.has(other.id);
    const limit = isTyre ? TRAVEL_LIMITS.tyreGap_mm : TRAVEL_LIMITS.memberGap_mm;
    if (gap_mm >= limit.value) return [];
    const code = gap_mm <= 0 ? 'parts-rub' : isTyre ? 'tyre-runs-close' : 'parts-run-close';
    return [
      finding(code, gap_mm <= 0 ? 'stop' : 'warn', {
        members: [one.id, other.id],
        numbers: {
          gap_mm: mm(gap_mm),
          [isTurn ? 'at_deg' : 'at_mm']: where(at),
          ...(touchesFrom === undefined ? {} : { [isTurn ? 'from_deg' : 'from_mm']: where(touchesFrom) }),
        },
        limit: { value: limit.value, unit: 'mm', source: limit.source },
        about: { one: one.what, other: other.what },
      }),
    ];
  });
}

/** Every bush that is pressed harder than its lining takes while it turns. */
function bushFindings(bushes: readonly BushLoad[]): TravelFinding[] {
  return bushes.flatMap(({ id, pivot, load_N, pressure_MPa, limit }): TravelFinding[] => {
    if (pressure_MPa <= limit.value) return [];
    const numbers = { pressure_MPa: { value: pressure_MPa, unit: 'MPa' } as const, load_N: N(load_N) };
    return [
      finding('bush-overloaded', 'warn', {
        pivots: [pivot],
        numbers,
        limit: { value: limit.value, unit: 'MPa', source: limit.source },
        about: { bush: id },
      }),
    ];
  });
}

/** One finding a joint and kind: its worst bearing. */
function bearingFindings(bearings: readonly BearingLoad[], joints: readonly Joint[]): TravelFinding[] {
  return [...new Set(bearings.map(({ joint }) => joint))].flatMap((joint): TravelFinding[] => {
    const own = bearings.filter((bearing) => bearing.joint === joint);
    const { pivot } = own[0]!;
    const members = joint === pivot ? [] : (joints.find(({ id }) => id === joint)?.members ?? []);
    const loaded = own.flatMap((bearing) =>
      bearing.safety === undefined ? [] : [{ ...bearing, safety: bearing.safety }],
    );
    const weakest = loaded.reduce<(typeof loaded)[number] | undefined>(
      (worst, next) => (worst === undefined || next.safety < worst.safety ? next : worst),
      undefined,
    );
    const pushed = own.reduce((worst, next) =>
      next.axial_N / next.axialLimit_N > worst.axial_N / worst.axialLimit_N ? next : worst,
    );
    const about = ({ id, isRatingEstimated }: BearingLoad): Record<string, string> => ({
      bearing: id,
      rating: isRatingEstimated ? 'estimated' : 'table',
    });
    const found: TravelFinding[] = [];
    if (weakest && weakest.safety < LEAST_STATIC_SAFETY) {
      found.push(
        finding('bearing-overloaded', weakest.safety < LEAST_STATIC_SAFETY_CERTAIN ? 'warn' : 'note', {
          members,
          pivots: [pivot],
          numbers: {
            safety: plain(weakest.safety),
            equivalent_N: N(weakest.equivalent_N),
            rating_N: N(weakest.staticRating_N),
          },
          limit: {
            value: LEAST_STATIC_SAFETY,
            unit: '1',
            source: 'ISO 76; bearing catalogue, 2018, table 7 p. 106: load of low certainty, infrequent motion',
          },
          about: about(weakest),
        }),
      );
    }
    if (pushed.axial_N > pushed.axialLimit_N) {
      found.push(
        finding('bearing-side-limit', 'warn', {
          members,
          pivots: [pivot],
          numbers: {
            axial_N: N(pushed.axial_N),
            ...(pushed.safety === undefined ? {} : { safety: plain(pushed.safety) }),
          },
          limit: {
            value: pushed.axialLimit_N,
            unit: 'N',
            source: 'bearing catalogue, 2018, p. 254: axial load at most 0.25 C0 for small and thin bearings',
          },
          about: about(pushed),
        }),
      );
    }
    return found;
  });
}
