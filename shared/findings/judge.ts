/**
 * One pivot solved and checked: what it does under one set of assumptions, and the verdict that stands whatever is
 * estimated.
 *
 * Where a figure was estimated the pivot is solved again with the estimate at the ends of its spread: shoulders by
 * their stated spread, stiffness, play and rating by a factor of two, broken edges and the recess of seals by half of
 * themselves. A verdict that flips there is `unsure`.
 */
import { LIMITS } from '../limits.ts';
import { ASSUMED } from '../parts/entry.ts';
import { makeJoint, respring, type Assumptions, type Joint, type JointStack } from '../joint/joint.ts';
import { passage, squeezeOf } from '../joint/passage.ts';
import { clampForce_N, meetAll, readColumn } from '../joint/reading.ts';
import { solveJoint, type SolvedJoint } from '../joint/solve.ts';
import type { ResolvedModel } from '../model/resolve.ts';
import type { Finding, Verdict } from '../types.ts';
import { torqueFindings, torqueStops, type TorqueSaid } from '../torque/findings.ts';
import { anyStop, findAll, worstFirst, type Evidence } from './findings.ts';
import { sizeFindings } from './sizes.ts';

/** What a solve is to take for granted, for reference cases, and what was said about the torque. */
export interface Judging extends TorqueSaid {
  /** Preload of every stack, N, instead of the one its torque gives. */
  readonly preload_N?: number;
  readonly assumptions?: Assumptions;
}

/** One pivot solved and checked. */
export interface Judged {
  readonly judging: Judging;
  readonly joint: Joint;
  readonly solved: SolvedJoint;
  readonly evidence: Evidence;
  readonly findings: readonly Finding[];
}

/** Solve one pivot and check its fit, without the corners of the estimates. */
export function judge(model: ResolvedModel, pivotId: string, judging: Judging = {}): Judged {
  const joint = makeJoint(model, pivotId, judging.assumptions);
  const solved = solveJoint(joint, judging.preload_N);
  const evidence = evidenceOf(solved);
  return { judging, joint, solved, evidence, findings: findingsOf(evidence, judging) };
}

/** What the rules look at; each reading is made when the first of them asks for it. */
function evidenceOf(solved: SolvedJoint, sameParts?: Evidence): Evidence {
  const { stacks } = solved.joint;
  const met = meetAll(solved);
  const perStack = <T>(read: (own: JointStack) => T): Map<string, T> =>
    new Map(stacks.map((own) => [own.stack.id, read(own)] as const));
  const columns = once(() => perStack((own) => readColumn(own, met)));
  const clamp_N = once(() => perStack((own) => clampForce_N(own, met, columns().get(own.stack.id)!)));
  const passages = once(() => sameParts?.passages ?? perStack((own) => passage(solved.joint, own, own.stack.from)));
  const squeeze = once(() => squeezeOf(solved));
  return {
    solved,
    met,
    get columns() {
      return columns();
    },
    get clamp_N() {
      return clamp_N();
    },
    get passages() {
      return passages();
    },
    get squeeze() {
      return squeeze();
    },
  };
}

function once<T>(make: () => T): () => T {
  let made: { readonly it: T } | undefined;
  return () => (made ??= { it: make() }).it;
}

/** The whole fit check: parts, sizes and torque; a preload that was set by hand says nothing about torque. */
function findingsOf(evidence: Evidence, judging: Judging): Finding[] {
  const { solved, met } = evidence;
  const found = findAll(evidence);
  const isStopped = (stackId: string): boolean =>
    found.some(({ severity, stack }) => severity === 'stop' && (stack === undefined || stack === stackId));
  const torque = judging.preload_N === undefined ? torqueFindings(solved, met, isStopped, judging) : [];
  return worstFirst([...found, ...sizeFindings(solved.joint), ...torque]);
}

/** Whether anything stops a pivot: as `judge` and `hasStop` have it, and no more than that. */
export function isStopped(model: ResolvedModel, pivotId: string, likely: readonly Finding['code'][] = []): boolean {
  const solved = solveJoint(makeJoint(model, pivotId));
  const evidence = evidenceOf(solved);
  return anyStop(evidence, likely) || torqueStops(solved, evidence.met);
}

/** True when a finding forbids riding. */
export function hasStop(findings: readonly Finding[]): boolean {
  return findings.some(({ severity }) => severity === 'stop');
}

/** What a pivot may rest on that was estimated. */
export type Estimate =
  | 'shoulders'
  | 'arm-stiffness'
  | 'axial-play'
  | 'axial-stiffness'
  | 'static-rating'
  | 'edges'
  | 'seal-recess';

/** The ends of each estimate's spread. */
const SPREADS: Readonly<Record<Estimate, readonly Assumptions[]>> = {
  shoulders: [{ shoulderShift: 1 }, { shoulderShift: -1 }],
  'arm-stiffness': [{ armFactor: 2 }, { armFactor: 0.5 }],
  'axial-play': [{ playFactor: 0.5 }, { playFactor: 2 }],
  'axial-stiffness': [{ stiffnessFactor: 2 }, { stiffnessFactor: 0.5 }],
  'static-rating': [{ ratingFactor: 2 }, { ratingFactor: 0.5 }],
  edges: [{ edgeFactor: 0.5 }, { edgeFactor: 1.5 }],
  'seal-recess': [{ recessFactor: 0.5 }, { recessFactor: 1.5 }],
};

/** A try at an end of what is estimated, and what would decide if the verdict flipped there. */
interface Corner {
  readonly names: readonly Estimate[];
  readonly assumptions: Assumptions;
}

/**
 * Play and stiffness give way along one path, through the balls: together they are tried at its stiffest and its
 * softest.
 */
const AXIAL: readonly Estimate[] = ['axial-play', 'axial-stiffness'];
const AXIAL_ENDS: readonly Assumptions[] = [
  { playFactor: 0.5, stiffnessFactor: 2 },
  { playFactor: 2, stiffnessFactor: 0.5 },
];

function cornersOf(names: readonly Estimate[]): Corner[] {
  const isJoined = AXIAL.every((name) => names.includes(name));
  const single = isJoined ? names.filter((name) => !AXIAL.includes(name)) : names;
  return [
    ...(isJoined ? AXIAL_ENDS.map((assumptions) => ({ names: AXIAL, assumptions })) : []),
    ...single.flatMap((name) => SPREADS[name].map((assumptions) => ({ names: [name], assumptions }))),
  ];
}

/** Assumptions that move no part. */
const SPRINGS: readonly string[] = ['armFactor', 'playFactor', 'stiffnessFactor'] satisfies (keyof Assumptions)[];

/** What a joint estimates. */
export function estimatesOf({ stacks, arms }: Joint): Estimate[] {
  const bearings = stacks.flatMap(({ items }) => items.flatMap(({ bearing }) => bearing?.estimated ?? []));
  const found: Estimate[] = [];
  if (bearings.includes('shoulders')) found.push('shoulders');
  if (bearings.includes('axial-play')) found.push('axial-play');
  if (bearings.includes('axial-stiffness')) found.push('axial-stiffness');
  if (arms.some(({ arm }) => arm.isEstimated)) found.push('arm-stiffness');
  return found;
}

/** What every joint with such parts estimates: told only where it decides, and tried only where it might. */
function quietOf({ joint, evidence }: Pick<Judged, 'joint' | 'evidence'>): Estimate[] {
  const bearings = joint.stacks.flatMap(({ items }) => items.flatMap(({ bearing }) => bearing ?? []));
  const found: Estimate[] = ['edges'];
  // A seal carries nothing, so that its recess moves a gap to it and nothing else.
  const near = evidence.met.some(
    ({ law, free_mm }) =>
      law === undefined && Math.abs(free_mm - LIMITS.sealClearance_mm.value) <= ASSUMED.sealRecess_mm / 2 + 1e-9,
  );
  if (near) found.push('seal-recess');
  if (bearings.some(({ estimated }) => estimated.includes('static-rating'))) found.push('static-rating');
  return found;
}

/** Stops that no estimate can take away: the corners need no solve. */
const CERTAIN: readonly Finding['code'][] = ['bearing-not-home', 'thread-mismatch'];

/**
 * The estimates that decide, one by one: at an end of whose spread the verdict flips. Ask for the first to know whether
 * any does.
 */
export function* flipsOf(judged: Judged): Generator<Estimate> {
  const { findings } = judged;
  const stops = findings.flatMap(({ code, severity }) => (severity === 'stop' ? [code] : []));
  if (stops.some((code) => CERTAIN.includes(code))) return;
  for (const corner of cornersAt(judged))
    if (isStoppedAt(judged, corner.assumptions, stops) !== stops.length > 0) yield* corner.names;
}

/** The corners at which a judged pivot is tried. */
export function cornersAt(judged: Judged): Corner[] {
  return cornersOf([...estimatesOf(judged.joint), ...quietOf(judged)]);
}

/** Whether a pivot is stopped at a corner of its estimates: as `judge` has it, and no more than that. */
export function isStoppedAt(
  { joint, judging, evidence: written }: Judged,
  corner: Assumptions,
  likely: readonly Finding['code'][],
): boolean {
  const assumptions = { ...judging.assumptions, ...corner };
  const movesNothing = Object.keys(corner).every((name) => SPRINGS.includes(name));
  const other = movesNothing ? respring(joint, assumptions) : makeJoint(joint.model, joint.pivot.id, assumptions);
  const solved = solveJoint(other, judging.preload_N);
  // An axle passes as the parts stand before tightening: what only gives differently does not bar its way.
  const evidence = evidenceOf(solved, movesNothing ? written : undefined);
  return anyStop(evidence, likely) || (judging.preload_N === undefined && torqueStops(solved, evidence.met, judging));
}

/** The verdict of a judged pivot: faulty with a stop finding, sound without one, unsure where an estimate decides. */
export function verdictOf(judged: Judged): Verdict {
  if (!flipsOf(judged).next().done) return 'unsure';
  return hasStop(judged.findings) ? 'faulty' : 'sound';
}
