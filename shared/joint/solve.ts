/**
 * One pivot solved at hand-tight, at the spec torque, and at both ends of its preload band.
 *
 * A stack whose threads do not match or never meet pulls nothing. Each level starts from the one before, so that the
 * result does not depend on the order in which levels are asked for. N, mm.
 */
import { checkClamp, clamp, type ClampProblem, type ClampResult } from './clamp.ts';
import { clampProblem, receiverDistance_mm, type Joint, type JointStack } from './joint.ts';
import { tighten } from './tightening.ts';
import type { ClampCheck, Tightening } from '../types.ts';

export interface SolvedJoint {
  readonly joint: Joint;
  readonly hand: ClampResult;
  readonly low: ClampResult;
  readonly spec: ClampResult;
  readonly high: ClampResult;
  readonly check: ClampCheck;
  readonly tightening: ReadonlyMap<string, Tightening>;
  /** Preload that reaches the column at the spec torque: 0 where the thread does not take hold. */
  readonly pull_N: ReadonlyMap<string, number>;
}

/** Solve a joint; `preload_N` replaces the preload of the torque (for reference cases). */
export function solveJoint(joint: Joint, preload_N?: number): SolvedJoint {
  const tightening = new Map(joint.stacks.map((own) => [own.stack.id, tighten(own, 0)] as const));
  const hand = settle(clampProblem(joint, () => 0));
  const holds = new Map(joint.stacks.map((own) => [own.stack.id, own.thread.matches]));
  const pullAt = (level: 'low' | 'spec' | 'high') => (own: JointStack) =>
    holds.get(own.stack.id) === true ? (preload_N ?? tightening.get(own.stack.id)!.preload_N[level]) : 0;
  let spec = settle(clampProblem(joint, pullAt('spec')), hand.shift_mm);
  // A thread that is still short of its partner when everything is drawn home cannot have drawn it there.
  for (const own of joint.stacks) {
    const engagement = engagementAt(own, spec);
    if (engagement <= own.thread.axle.pitch_mm && holds.get(own.stack.id) === true) holds.set(own.stack.id, false);
  }
  if ([...holds.values()].includes(false)) spec = settle(clampProblem(joint, pullAt('spec')), hand.shift_mm);
  const low = settle(clampProblem(joint, pullAt('low')), spec.shift_mm);
  const high = settle(clampProblem(joint, pullAt('high')), spec.shift_mm);
  for (const own of joint.stacks)
    tightening.set(own.stack.id, { ...tightening.get(own.stack.id)!, engagement_mm: engagementAt(own, spec) });
  return {
    joint,
    hand: anchored(joint, hand),
    low: anchored(joint, low),
    spec: anchored(joint, spec),
    high: anchored(joint, high),
    check: checkClamp(clampProblem(joint, pullAt('spec')), spec),
    tightening,
    pull_N: new Map(joint.stacks.map((own) => [own.stack.id, pullAt('spec')(own)])),
  };
}

/**
 * The same state seen from the bike: nothing holds a joint as a whole, so its common drift is taken out: the frame stays
 * where the model puts it, or without one the middle of its members.
 */
function anchored(joint: Joint, result: ClampResult): ClampResult {
  const frame = frameOf(joint);
  const bases = frame === undefined ? [...joint.bases.values()] : [joint.bases.get(frame)!];
  const drift = bases.reduce((sum, base) => sum + result.shift_mm[base]! / bases.length, 0);
  return { ...result, shift_mm: result.shift_mm.map((shift) => shift - drift) };
}

/** The frame where it takes part in the joint: what the other members are measured against. */
export function frameOf(joint: Joint): string | undefined {
  return [...joint.bases.keys()].find((id) => joint.model.members[id]!.kind === 'frame');
}

function settle(problem: ClampProblem, start?: Float64Array): ClampResult {
  const result = clamp(problem, start);
  if (!result.isSolved)
    throw new Error(
      `clamp: no balance after ${result.steps} steps (${problem.bodies} bodies, ${problem.contacts.length} contacts)`,
    );
  return result;
}

/** Shared thread length in a solved state, mm. */
function engagementAt(own: JointStack, result: ClampResult): number {
  const sign = own.stack.from === 'non-drive' ? 1 : -1;
  const moved = sign * (result.shift_mm[own.receiver.body]! - result.shift_mm[own.axle.body]!);
  return own.thread.engagement(receiverDistance_mm(own) + moved);
}
