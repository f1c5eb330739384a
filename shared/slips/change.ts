/**
 * A change to a model as data: what stood there before, what stands there after.
 *
 * A mistake is a list of changes. Changes that touch different slots commute. Pure: a model is never written to.
 */
import type { LinkageModel, Part, RowEntry, Side, Stack } from '../model/schema.ts';

/** What a stack's slot held, and holds. */
export type Change =
  | {
      readonly what: 'entry';
      readonly stack: string;
      readonly row: string;
      readonly before: RowEntry;
      readonly after?: RowEntry;
    }
  | { readonly what: 'axle' | 'receiver'; readonly stack: string; readonly before: string; readonly after: string }
  | { readonly what: 'from'; readonly stack: string; readonly before: Side; readonly after: Side }
  | { readonly what: 'torque'; readonly stack: string; readonly before: number; readonly after: number }
  | { readonly what: 'part'; readonly part: string; readonly after: Part };

/** The model with the changes made, first to last. */
export function applyChanges(model: LinkageModel, changes: readonly Change[]): LinkageModel {
  return changes.reduce((current, change) => make(current, change), model);
}

function make(model: LinkageModel, change: Change): LinkageModel {
  switch (change.what) {
    case 'part':
      return { ...model, parts: { ...model.parts, [change.part]: change.after } };
    case 'entry': {
      const { row, after } = change;
      return inStack(model, change.stack, (stack) => ({
        ...stack,
        row: after
          ? stack.row.map((entry) => (entry.id === row ? after : entry))
          : stack.row.filter((entry) => entry.id !== row),
      }));
    }
    default:
      return inStack(model, change.stack, (stack) => ({ ...stack, ...slotOf(change.what, change.after) }));
  }
}

function slotOf(what: 'axle' | 'receiver' | 'from' | 'torque', value: string | number): Partial<Stack> {
  return { [what === 'torque' ? 'torque_Nm' : what]: value };
}

function inStack(model: LinkageModel, stackId: string, change: (stack: Stack) => Stack): LinkageModel {
  return {
    ...model,
    pivots: model.pivots.map((pivot) =>
      pivot.stacks.some((stack) => stack.id === stackId)
        ? { ...pivot, stacks: pivot.stacks.map((stack) => (stack.id === stackId ? change(stack) : stack)) }
        : pivot,
    ),
  };
}
