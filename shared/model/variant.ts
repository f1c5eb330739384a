/**
 * Variants: the same frame with another axle, nut or insertion side.
 *
 * A variant names only what differs; the rest is the base model's. The result is a whole model of its own.
 */
import type { LinkageModel, Stack, Variant } from './schema.ts';

/** The model that a variant makes of `model`; unknown stack ids are left aside (`checkModel` reports them). */
export function applyVariant(model: LinkageModel, variant: Variant): LinkageModel {
  return {
    ...model,
    parts: { ...model.parts, ...variant.parts },
    pivots: model.pivots.map((pivot) => ({
      ...pivot,
      stacks: pivot.stacks.map((stack) => changeStack(stack, variant)),
    })),
  };
}

function changeStack(stack: Stack, variant: Variant): Stack {
  const change = Object.hasOwn(variant.stacks, stack.id) ? variant.stacks[stack.id] : undefined;
  if (!change) return stack;
  const given = Object.fromEntries(Object.entries(change).filter(([, value]) => value !== undefined));
  return { ...stack, ...given };
}
