/**
 * The whole bike's torque list, in build order, for the wall.
 *
 * One row a stack, in the order in which a plan pulls them tight. Rows are data; words in `words/torque.ts`.
 */
import type { ThreadTreatment } from '../standards/index.ts';
import type { Plan } from './types.ts';
import type { StackAnalysis } from '../types.ts';
import { inAllUnits, type TorqueInUnits } from '../torque/units.ts';

/** One row of the list. */
export interface TorqueRow {
  /** Place in the build order, from 1. */
  readonly place: number;
  readonly pivotId: string;
  readonly pivotName: string;
  readonly stackId: string;
  readonly stackName: string;
  readonly torque: TorqueInUnits;
  readonly tightening: StackAnalysis['tightening'];
  readonly treatment: ThreadTreatment;
  readonly isAgainstHabit: boolean;
  /** Why this pivot will be opened again. */
  readonly fitted_for_now?: string;
}

/** Rows of every stack of the bike in a plan's order, N·m. O(steps). */
export function torqueList({ analysis, steps }: Plan): TorqueRow[] {
  const stacks = new Map(
    analysis.pivots.flatMap((pivot) => pivot.stacks.map((stack) => [stack.id, { pivot, stack }] as const)),
  );
  const told = new Map(
    analysis.model.pivots.flatMap((pivot) => pivot.stacks.map((stack) => [stack.id, stack] as const)),
  );
  const order = steps.flatMap(({ kind, stackId }) => (kind === 'torque' && stackId !== undefined ? [stackId] : []));
  return order.map((id, k) => {
    const { pivot, stack } = stacks.get(id)!;
    const { thread_treatment, fitted_for_now } = told.get(id)!;
    return {
      place: k + 1,
      pivotId: pivot.id,
      pivotName: pivot.name,
      stackId: id,
      stackName: stack.name,
      torque: inAllUnits(stack.tightening.torque_Nm),
      tightening: stack.tightening,
      treatment: thread_treatment,
      isAgainstHabit: stack.tightening.turn === 'anticlockwise',
      ...(fitted_for_now === undefined ? {} : { fitted_for_now }),
    };
  });
}
