/**
 * One pivot solved once, to be asked what other preloads would do to it.
 *
 * The joint is built and solved at its spec; any other preload of one stack starts from there, the pivot's other stacks
 * keeping theirs. The column need not give in proportion (arms close up, gaps shut), so a preload that brings a reading
 * to a wanted value is searched for, never scaled. N, mm.
 */
import { clamp } from '../joint/clamp.ts';
import { clampProblem, makeJoint, receiverDistance_mm, type Joint, type JointStack } from '../joint/joint.ts';
import type { ResolvedModel } from '../model/resolve.ts';
import { clampForce_N, meetAll, readColumn, type Met } from '../joint/reading.ts';
import { solveJoint, type SolvedJoint } from '../joint/solve.ts';
import type { Tightening } from '../types.ts';

/** A pivot ready to be asked about torque. */
export interface TorqueSetup {
  readonly joint: Joint;
  readonly solved: SolvedJoint;
}

/** One stack of a bench with what its spec torque does. */
export interface TorqueStack extends TorqueSetup {
  readonly own: JointStack;
  readonly tightening: Tightening;
}

/**
 * Set up a pivot for questions of torque: its joint, solved once as written, about 1 ms. Throws a RangeError for one
 * the model lacks.
 */
export function setUpTorque(model: ResolvedModel, pivotId: string): TorqueSetup {
  const joint = makeJoint(model, pivotId);
  return { joint, solved: solveJoint(joint) };
}

/** The stack of a pivot's setup by its id; throws a RangeError for an id the pivot lacks. */
export function torqueStack(bench: TorqueSetup, stackId: string): TorqueStack {
  const own = bench.joint.stacks.find((candidate) => candidate.stack.id === stackId);
  if (!own)
    throw new RangeError(
      `torque: stack: met ${stackId}, allowed: ${bench.joint.stacks.map((candidate) => candidate.stack.id).join(', ')}`,
    );
  return { ...bench, own, tightening: bench.solved.tightening.get(stackId)! };
}

/** Every meeting of the pivot with `preload_N` on this stack; a thread that does not take hold pulls nothing. */
export function meetAt({ joint, solved, own }: TorqueStack, preload_N: number): Met[] {
  const pulls = solved.pull_N;
  const holds = pulls.get(own.stack.id)! > 0;
  const problem = clampProblem(joint, (other) =>
    other === own ? (holds ? preload_N : 0) : pulls.get(other.stack.id)!,
  );
  const spec = clamp(problem, solved.spec.shift_mm);
  if (!spec.isSolved) throw new Error(`torque: ${own.stack.id}: no balance at ${preload_N} N`);
  return meetAll({ joint, spec });
}

/** Every meeting at one of the levels that are solved already: the preload's low end, the spec, or the high end. */
export function metAtLevel({ solved }: TorqueSetup, level: 'low' | 'spec' | 'high'): Met[] {
  return meetAll({ joint: solved.joint, spec: solved[level] });
}

/** Force that clamps the weakest inner ring at a preload, N. */
export function clampAt(bench: TorqueStack, preload_N: number): number {
  const met = meetAt(bench, preload_N);
  return clampForce_N(bench.own, met, readColumn(bench.own, met));
}

/** Distance from the face under the head to the receiver's, mm. */
export function grip_mm({ own, solved }: TorqueStack, level: 'low' | 'spec' | 'high' = 'spec'): number {
  const sign = own.stack.from === 'non-drive' ? 1 : -1;
  const { shift_mm } = solved[level];
  return receiverDistance_mm(own) + sign * (shift_mm[own.receiver.body]! - shift_mm[own.axle.body]!);
}

const ROUNDS = 40;

/**
 * Least preload up to `most_N` at which a rising reading is at least 1, N, to a ten-thousandth; undefined where it
 * stays below.
 */
export function leastPreload_N(reading: (preload_N: number) => number, most_N: number): number | undefined {
  if (reading(most_N) < 1) return undefined;
  let low = 0;
  let high = most_N;
  for (let round = 0; round < ROUNDS && high - low > 1e-4 * high; round++) {
    const middle = (low + high) / 2;
    if (reading(middle) < 1) low = middle;
    else high = middle;
  }
  return high;
}

/** Torque at which a preload is reached at one end of the band, N·m: preload goes with torque in proportion. */
export function torqueAt({ tightening }: TorqueStack, preload_N: number, end: 'low' | 'spec' | 'high'): number {
  return (preload_N * tightening.torque_Nm) / tightening.preload_N[end];
}
