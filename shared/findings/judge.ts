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
import { makeJoint, type Assumptions, type Joint } from '../joint/joint.ts';
import { passage, squeezeOf } from '../joint/passage.ts';
import { clampForce_N, meetAll, readColumn } from '../joint/reading.ts';
import { solveJoint, type SolvedJoint } from '../joint/solve.ts';
import type { ResolvedModel } from '../model/resolve.ts';
import type { Finding, Verdict } from '../types.ts';
import { torqueFindings, type TorqueSaid } from '../torque/findings.ts';
import { findAll, worstFirst, type Evidence } from './findings.ts';
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
  const met = meetAll(solved);
  const squeeze = squeezeOf(solved);
  const columns = new Map(joint.stacks.map((own) => [own.stack.id, readColumn(own, met)] as const));
  const evidence: Evidence = {
    solved,
    met,
    columns,
    clamp_N: new Map(joint.stacks.map((own) => [own.stack.id, clampForce_N(own, met, columns.get(own.stack.id)!)])),
    passages: new Map(joint.stacks.map((own) => [own.stack.id, passage(joint, own, own.stack.from)])),
    squeeze,
  };
  return { judging, joint, solved, evidence, findings: findingsOf(evidence, judging) };
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
export function* flipsOf({ joint, judging, findings, evidence }: Judged): Generator<Estimate> {
  if (findings.some(({ code, severity }) => severity === 'stop' && CERTAIN.includes(code))) return;
  for (const corner of cornersOf([...estimatesOf(joint), ...quietOf({ joint, evidence })])) {
    const assumptions = { ...judging.assumptions, ...corner.assumptions };
    const other = judge(joint.model, joint.pivot.id, { ...judging, assumptions });
    if (hasStop(other.findings) !== hasStop(findings)) yield* corner.names;
  }
}

/** The verdict of a judged pivot: faulty with a stop finding, sound without one, unsure where an estimate decides. */
export function verdictOf(judged: Judged): Verdict {
  if (!flipsOf(judged).next().done) return 'unsure';
  return hasStop(judged.findings) ? 'faulty' : 'sound';
}
