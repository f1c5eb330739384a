/**
 * The sizes of a draft one by one: what each belongs to, how it is taken and where the calliper goes, what is said of it
 * and what it may be.
 *
 * Places are drawn on the completed model: of a part in the frame of its profile, of a boss in the frame of the model,
 * (r, z) in mm, r < 0 across the axis.
 */
import type { Draft, SizeEntry, SizePath } from '../envelope/draft.ts';
import type { LinkageModel, PartKind } from '../model/schema.ts';
import { kindOf } from '../parts/kinds.ts';
import { sizeOf } from '../parts/measuring.ts';
import { shankLength_mm, type Shanked } from '../parts/shanked.ts';
import { across, along, type CalliperPlace, type PartSizeName } from '../parts/sizes.ts';
import { bandsOf, type Bands } from './bands.ts';
import { keyOf } from './beside.ts';
import { completed } from './draft.ts';
import type { SizeBand } from './known.ts';
import { valueAt } from './path.ts';
import { bossBefore } from './row.ts';

/** What a size belongs to. */
export type SizeOwner =
  | { readonly what: 'part'; readonly part: string; readonly kind: PartKind; readonly name: string }
  | { readonly what: 'boss'; readonly member: string; readonly bore: string; readonly name: string }
  | { readonly what: 'stack'; readonly pivot: string; readonly stack: string; readonly name: string };

/** One size of a draft. */
export interface DraftSize {
  /** As `setSize` takes it. */
  readonly path: string;
  readonly owner: SizeOwner;
  /** Its keys without names and numbers: `shank.diameter_mm`. */
  readonly key: string;
  /** Which of several it is, counted from 1: cylinder of a shank, seat of a boss. */
  readonly at?: number;
  /** The same size where the parts list has a name for it. */
  readonly size?: PartSizeName;
  readonly unit: 'mm' | 'N·m';
  readonly entry: SizeEntry | undefined;
  readonly band: SizeBand;
  readonly place?: CalliperPlace;
  /** The boss next to it on the non-drive side, for the distance between two. */
  readonly beside?: string;
}

const PART_NAMES: Readonly<Record<string, PartSizeName>> = {
  length_mm: 'length_mm',
  width_mm: 'length_mm',
  outside_mm: 'outside_mm',
  bore_mm: 'bore_mm',
  'head.diameter_mm': 'head_mm',
  'head.height_mm': 'head_height_mm',
  'head.land_mm': 'small_mm',
  'head.land_height_mm': 'land_height_mm',
  land_mm: 'small_mm',
  land_height_mm: 'land_height_mm',
  small_mm: 'small_mm',
  large_mm: 'large_mm',
  flange_mm: 'large_mm',
  'thread.size_mm': 'thread_mm',
  'thread.pitch_mm': 'pitch_mm',
  'thread.length_mm': 'thread_length_mm',
};

/** Every size of a draft, in the order of its model: parts, bosses, stacks. About 10 ms a bike. */
export function sizesOf(draft: Draft): DraftSize[] {
  const bands = bandsOf(draft);
  const { model } = completed(draft);
  return [...bands.paths].map(([name, path]) => sizeAt(draft, bands, model, name, path));
}

function sizeAt(draft: Draft, bands: Bands, model: LinkageModel, name: string, path: SizePath): DraftSize {
  const key = keyOf(path);
  const at = path.slice(4).find((step): step is number => typeof step === 'number');
  const own = {
    path: name,
    key,
    ...(at === undefined || path[0] === 'pivots' ? {} : { at: at + 1 }),
    unit: key.endsWith('_Nm') ? ('N·m' as const) : ('mm' as const),
    entry: valueAt(draft.model, path) as SizeEntry | undefined,
    band: bands.sizes.get(name)!,
  };
  const [root, first, , third] = path as readonly [string, string, string, string];
  if (root === 'parts') {
    const part = model.parts[first]!;
    const size = PART_NAMES[key];
    const place = partPlace(part, key, at ?? 0, size);
    return {
      ...own,
      owner: { what: 'part', part: first, kind: part.kind, name: part.name },
      ...(size === undefined ? {} : { size }),
      ...(place === undefined ? {} : { place }),
    };
  }
  if (root === 'members') {
    const place = bossPlace(draft, model, first, third, key, at ?? 0);
    const beside = key === 'gap_mm' ? bossBefore(draft.model, first, third) : undefined;
    return {
      ...own,
      owner: { what: 'boss', member: first, bore: third, name: model.members[first]!.name },
      ...(place === undefined ? {} : { place }),
      ...(beside === undefined ? {} : { beside }),
    };
  }
  const pivot = model.pivots[path[1] as number]!;
  const stack = pivot.stacks[path[3] as number]!;
  return { ...own, owner: { what: 'stack', pivot: pivot.id, stack: stack.id, name: stack.name ?? pivot.name } };
}

function partPlace(
  part: LinkageModel['parts'][string],
  key: string,
  at: number,
  size: PartSizeName | undefined,
): CalliperPlace | undefined {
  if (key.startsWith('shank.')) {
    const { shank } = part as Shanked;
    const before = shank.slice(0, at).reduce((sum, own) => sum + own.length_mm, 0);
    const { diameter_mm, length_mm } = shank[at]!;
    return key.endsWith('diameter_mm')
      ? across('outside-jaws', diameter_mm, before + length_mm / 2)
      : along('depth-rod', diameter_mm / 2, before, before + length_mm);
  }
  const { profile } = kindOf(part);
  if (size === 'thread_length_mm' && 'thread' in part) {
    const { thread } = part;
    const end = 'shank' in part ? shankLength_mm(part) : thread.length_mm;
    return along('depth-rod', thread.size_mm / 2, end - thread.length_mm, end);
  }
  if (size === 'head_height_mm') {
    const { head } = part as Shanked;
    const under = -(head.land_height_mm ?? 0);
    return along('outside-jaws', head.diameter_mm / 2, under - head.height_mm, under);
  }
  if (size === 'land_height_mm') {
    const land = 'head' in part ? part.head.land_mm : 'land_mm' in part ? part.land_mm : undefined;
    const height =
      'head' in part ? part.head.land_height_mm : 'land_height_mm' in part ? part.land_height_mm : undefined;
    if (land === undefined || height === undefined) return undefined;
    return along('depth-rod', land / 2, 'head' in part ? -height : 0, 'head' in part ? 0 : height);
  }
  return size === undefined ? undefined : sizeOf(part.kind, size)?.place?.(part, profile(part));
}

function bossPlace(
  draft: Draft,
  model: LinkageModel,
  member: string,
  bore: string,
  key: string,
  at: number,
): CalliperPlace | undefined {
  const own = model.members[member]!.bores[bore]!;
  const { z_from_mm: from, z_to_mm: to, bore_mm, boss_mm } = own;
  const wall = (bore_mm + boss_mm) / 4;
  switch (key) {
    case 'width_mm':
      return along('outside-jaws', wall, from, to);
    case 'gap_mm': {
      const before = bossBefore(draft.model, member, bore);
      return before === undefined
        ? undefined
        : along('inside-jaws', wall, model.members[member]!.bores[before]!.z_to_mm, from);
    }
    case 'bore_mm':
      return across('inside-jaws', bore_mm, (from + to) / 2);
    case 'boss_mm':
      return across('outside-jaws', boss_mm, (from + to) / 2);
    case 'seats.diameter_mm': {
      const { side, diameter_mm, depth_mm } = own.seats![at]!;
      return across('inside-jaws', diameter_mm, side === 'drive' ? to - depth_mm / 2 : from + depth_mm / 2);
    }
    case 'seats.depth_mm': {
      const { side, depth_mm, diameter_mm } = own.seats![at]!;
      const rim = (diameter_mm + bore_mm) / 4;
      return side === 'drive'
        ? along('depth-rod', rim, to, to - depth_mm)
        : along('depth-rod', rim, from, from + depth_mm);
    }
    case 'thread.size_mm':
    case 'thread.pitch_mm':
      return across('inside-jaws', own.thread!.size_mm, own.thread!.opens === 'drive' ? to : from);
    case 'thread.sleeve.outside_mm':
    case 'thread.sleeve.pitch_mm':
      return across('outside-jaws', own.thread!.sleeve!.outside_mm, own.thread!.opens === 'drive' ? to : from);
    case 'thread.length_mm': {
      const { opens, length_mm, size_mm } = own.thread!;
      return opens === 'drive'
        ? along('depth-rod', size_mm / 2, to, to - length_mm)
        : along('depth-rod', size_mm / 2, from, from + length_mm);
    }
    default:
      return undefined;
  }
}
