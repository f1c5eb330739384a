/**
 * What an eye tells apart before anything is measured: the parts of a build, those that a hand takes for one another
 * put together.
 *
 * Likeness is the one rule of `parts/look-alike.ts`, but for what is told by its rough shape: a cone from a plain ring,
 * a part half as long or as wide again. Whoever looks like one of a group belongs to it. What tells a group
 * apart without a calliper is the material, where each of them is of another family; else the one size in which every
 * two of them differ most, mm. Nothing is known of a part's colour but its material.
 */
import type { LinkageModel, Part } from '../model/schema.ts';
import { isLookAlike, LOOK_ALIKE_LIMITS } from '../parts/look-alike.ts';
import { partSizes } from '../parts/measuring.ts';
import { SIZE_NAMES, type SizeName } from '../parts/sizes.ts';
import { material } from '../standards/index.ts';
import { listed } from './candidates.ts';

/** Parts that look alike, or one that looks like no other. */
export interface EyeGroup {
  /** Ids of the parts list, sorted. */
  readonly parts: readonly string[];
  /** Each of them is of another material. */
  readonly byMaterial: boolean;
  /** The size that tells every two of them apart, where there is one. */
  readonly size?: SizeName;
}

/** The groups of the parts that the build uses, single ones first. O(parts²). */
export function groupsByEye(model: LinkageModel): readonly EyeGroup[] {
  const parts = listed(model).flatMap(({ id, used, part }) => (used > 0 && part ? [{ id, part }] : []));
  let groups: (typeof parts)[] = [];
  for (const own of parts) {
    const alike = groups.filter((group) => group.some(({ part }) => isAlikeToEye(part, own.part)));
    groups = [...groups.filter((group) => !alike.includes(group)), [...alike.flat(), own]];
  }
  return groups
    .map((group) => {
      const all = group.map(({ part }) => part);
      const size = tellingSize(all);
      return {
        parts: group.map(({ id }) => id).sort(),
        byMaterial: all.length > 1 && new Set(all.map(familyOf)).size === all.length,
        ...(size === undefined ? {} : { size }),
      };
    })
    .sort((a, b) => a.parts.length - b.parts.length || (a.parts[0]! < b.parts[0]! ? -1 : 1));
}

/** Taken for one another by a hand, and by the eye before it. */
function isAlikeToEye(a: Part, b: Part): boolean {
  if (!isLookAlike(a, b)) return false;
  const [mine, theirs] = [partSizes(a), partSizes(b)];
  if ((mine.small_mm === undefined) !== (theirs.small_mm === undefined)) return false;
  return (['length_mm', 'outside_mm', 'large_mm', 'head_mm'] as const).every((name) => {
    const [x, y] = [mine[name]?.nominal, theirs[name]?.nominal];
    return x === undefined || y === undefined || Math.max(x, y) < LOOK_ALIKE_LIMITS.seenRatio.value * Math.min(x, y);
  });
}

function familyOf(part: Part): string {
  return 'material' in part ? material(part.material).family : part.kind;
}

/** The size, of those that all have, whose smallest difference between any two is largest. */
function tellingSize(parts: readonly Part[]): SizeName | undefined {
  const all = parts.map(partSizes);
  const found = SIZE_NAMES.flatMap((name) => {
    const sizes_mm = all.map((sizes) => sizes[name]?.nominal);
    if (parts.length < 2 || name === 'turns_in_10mm' || !sizes_mm.every((size) => size !== undefined)) return [];
    const sorted = sizes_mm.toSorted((x, y) => x - y);
    return [{ name, least_mm: Math.min(...sorted.slice(1).map((size, k) => size - sorted[k]!)) }];
  });
  const best = found.sort((one, other) => other.least_mm - one.least_mm)[0];
  return best && best.least_mm > LOOK_ALIKE_LIMITS.sameSize_mm.value ? best.name : undefined;
}
