/**
 * Variants: the same frame with another axle, nut or insertion side, or with bores bored for other parts.
 *
 * A variant names only what differs; the rest is the base model's. The result is a whole model of its own.
 */
import type { LinkageModel, Member, Part, Stack, Variant } from './schema.ts';

/**
 * The model that a variant makes of `model`, which is not changed; unknown stacks, members and bores are left aside
 * (`checkModel` reports them). O(stacks + members). Never throws.
 */
export function applyVariant(model: LinkageModel, variant: Variant): LinkageModel {
  return {
    ...model,
    parts: { ...model.parts, ...variant.parts },
    members: variant.bores
      ? Object.fromEntries(Object.entries(model.members).map(([id, member]) => [id, changeBores(id, member, variant)]))
      : model.members,
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

function changeBores(id: string, member: Member, { bores = {} }: Variant): Member {
  const change = Object.hasOwn(bores, id) ? bores[id]! : {};
  const known = Object.entries(change).filter(([bore]) => Object.hasOwn(member.bores, bore));
  return known.length === 0 ? member : { ...member, bores: { ...member.bores, ...Object.fromEntries(known) } };
}

/** Parts of the model and of its variants: an odd nut in the tray may be from another year's frame. */
export function everyPart(model: LinkageModel): readonly (readonly [string, Part])[] {
  const known = new Map<string, Part>(Object.entries(model.parts));
  for (const variant of model.variants ?? []) {
    for (const [id, part] of Object.entries(variant.parts ?? {})) if (!known.has(id)) known.set(id, part);
  }
  return [...known];
}
