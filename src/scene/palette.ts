/**
 * Which look of `look.ts` a part of the picture takes. Facing colours are kept for spacers alone; frames and arms take
 * greys and muted tints that no facing colour can be mistaken for.
 */
import type { PlacedItem, Solid } from '../../shared/index.ts';
import { FACING, MEMBERS, METALS, mix, PLAIN, WEAVE, type Look } from '../look.ts';

/** The look of a member's webs and bosses. */
export function memberLook(kind: string, material: string): Look {
  const own: Look = MEMBERS[kind] ?? PLAIN;
  if (material === 'carbon-laminate') return { ...METALS['carbon-laminate']!, colour: mix(own.colour, WEAVE, 0.7) };
  if (material === 'titanium-6al4v') return { ...METALS[material]!, rough: 0.46 };
  return own;
}

/** The look of one solid of an item. */
export function solidLook(item: PlacedItem, solid: Solid, memberMaterial?: string): Look {
  if (item.role === 'boss') return memberLook(item.kind, memberMaterial ?? solid.material);
  if (solid.role === 'seal') return METALS['nitrile-rubber']!;
  if (item.role === 'bearing') return METALS['bearing-steel']!;
  if (item.role === 'spacer') return { colour: facingColour(item), metal: 0.55, rough: 0.3, finish: 'turned' };
  return METALS[solid.material] ?? PLAIN;
}

/** The colour that tells which way a spacer's small face looks. */
export const facingColour = (item: PlacedItem): string => FACING[item.smallFace ?? 'equal'];
