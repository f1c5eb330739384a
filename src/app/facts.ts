/**
 * The few facts of a step that a hand needs at a glance: side, tool, depth, grease, threadlocker, torque.
 *
 * Data only, taken from the step, its stack's analysis and the model; which of them a kind of step has. A torque stands
 * only where something is tightened, never where it is undone.
 */
import {
  wordTreatment,
  type Analysis,
  type DriveTool,
  type Side,
  type StackAnalysis,
  type Step,
  type Tightening,
} from '../../shared/index.ts';
import type { Direction } from '../page/route.ts';

export interface StepFacts {
  readonly side?: Side;
  readonly depth_mm?: number;
  readonly tool?: DriveTool;
  readonly holdTool?: DriveTool;
  readonly holdSide?: Side;
  readonly turn?: Tightening['turn'];
  readonly torque_Nm?: number;
  readonly isGreased: boolean;
  /** What goes on the thread in this step. */
  readonly treatment?: string;
  readonly heldBy?: NonNullable<Step['heldBy']>;
}

/** Steps in which a part goes on with its grease; the others only handle it again. */
const GREASED_KINDS: readonly Step['kind'][] = ['offer-member', 'set-ring', 'push-axle', 'axle-home'];

/** The facts of a step, gone through in a direction. */
export function factsOf(step: Step, analysis: Analysis, direction: Direction): StepFacts {
  const stack = stackById(analysis, step.stackId);
  const isSided = step.kind !== 'prepare' && step.kind !== 'free-check';
  const isBuilding = direction === 'build';
  const depth: Partial<StepFacts> = step.kind === 'push-axle' && isBuilding ? { depth_mm: step.depth_mm } : {};
  return {
    ...(isSided ? { side: step.side } : {}),
    ...depth,
    ...(stack && step.kind === 'torque' ? tightening(stack.tightening, isBuilding) : {}),
    isGreased: step.greased && isBuilding && GREASED_KINDS.includes(step.kind),
    ...(step.kind === 'threadlock' && isBuilding ? { treatment: wordTreatment(step.stackId, analysis) } : {}),
    ...(step.heldBy === undefined || !isBuilding ? {} : { heldBy: step.heldBy }),
  };
}

function stackById(analysis: Analysis, id: string): StackAnalysis | undefined {
  return analysis.pivots.flatMap((pivot) => pivot.stacks).find((stack) => stack.id === id);
}

function tightening(tight: Tightening, isBuilding: boolean): Partial<StepFacts> {
  return {
    side: tight.stand,
    ...(tight.tool ? { tool: tight.tool } : {}),
    ...(tight.held ? { holdSide: tight.held.side, ...(tight.held.tool ? { holdTool: tight.held.tool } : {}) } : {}),
    turn: isBuilding ? tight.turn : tight.turn === 'clockwise' ? 'anticlockwise' : 'clockwise',
    ...(isBuilding ? { torque_Nm: tight.torque_Nm } : {}),
  };
}
