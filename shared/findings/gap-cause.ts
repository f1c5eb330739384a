/**
 * What a row lacks: seats that no bearing was pressed into, and what a gap in a run of loose spacers comes from, the
 * likeliest cause first: two spacers of the pivot laid in each other's place, a spacer that is too short where the
 * parts list has one that is not, or a spacer of the parts list that is in no row. Only lengths and counts are looked
 * at; mm.
 */
import type { Joint, JointItem, JointStack } from '../joint/joint.ts';
import { LIMITS } from '../limits.ts';
import type { Side } from '../model/schema.ts';
import { kindOf, type Part } from '../parts/kinds.ts';
import { partSizes } from '../parts/measuring.ts';
import { differOnlyInLength } from '../parts/look-alike.ts';

/** A run of spacers and the gap it leaves, or two neighbours without one. */
interface Run {
  readonly items: readonly JointItem[];
  readonly before?: JointItem | undefined;
  readonly after?: JointItem | undefined;
  readonly free_mm: number;
}

/** A cause as a finding's `about` holds it: ids of items under `one` and `other`, a part under `part` and `name`. */
type GapCause = Readonly<Record<string, string>>;

/**
 * The cause of a run's gap, which is wider than the limit from which a spacer is missed. Undefined where none shows.
 */
export function gapCause(joint: Joint, own: JointStack, run: Run): GapCause | undefined {
  return swapped(joint, run) ?? tooShort(joint, run) ?? leftOver(joint, own, run);
}

/** A seat of a boss of the row that holds no bearing. */
export interface EmptySeat {
  readonly boss: JointItem;
  readonly side: Side;
  readonly diameter_mm: number;
}

/** The seats of a row without a bearing, from the non-drive to the drive side. */
export function emptySeats({ items }: JointStack): EmptySeat[] {
  return items.flatMap((boss) =>
    (boss.role === 'boss' ? (boss.boss?.seats ?? []) : [])
      .filter(({ side }) => !items.some(({ seat }) => seat?.bore === boss.boss && seat?.side === side))
      .map(({ side, diameter_mm }) => ({ boss, side, diameter_mm })),
  );
}

/** True where a gap is that of a bearing: an empty seat lies between its two ends. */
export function isOverEmptySeat(own: JointStack, { before, after }: Run): boolean {
  const first = before ? own.items.indexOf(before) : -1;
  const last = after ? own.items.indexOf(after) : own.items.length;
  return emptySeats(own).some(({ boss, side }) => {
    const at = own.items.indexOf(boss);
    return side === 'drive' ? at >= first && at < last : at > first && at <= last;
  });
}

const isSmall = (free_mm: number): boolean => Math.abs(free_mm) <= LIMITS.missingSpacer_mm.value;

/** Another run of the pivot that is too long, and two spacers that put both right when they change places. */
function swapped({ stacks }: Joint, run: Run): GapCause | undefined {
  const pairs = stacks
    .flatMap(({ slack }) => slack)
    .filter(({ free_mm }) => free_mm < -LIMITS.missingSpacer_mm.value)
    .flatMap((long) =>
      run.items.flatMap((one) =>
        long.items.map((other) => ({ one, other, by_mm: lengthOf(other.made) - lengthOf(one.made), long })),
      ),
    )
    .filter(({ by_mm, long }) => isSmall(run.free_mm - by_mm) && isSmall(long.free_mm + by_mm))
    .sort((a, b) => Math.abs(run.free_mm - a.by_mm) - Math.abs(run.free_mm - b.by_mm));
  const [best] = pairs;
  return best && { cause: 'swapped', one: best.one.id, other: best.other.id };
}

/** A spacer of the run beside one of the parts list that is the same but for the length that is called for. */
function tooShort(joint: Joint, { items, free_mm }: Run): GapCause | undefined {
  const found = items
    .flatMap((item) =>
      Object.entries(joint.model.parts).flatMap(([id, part]) =>
        item.made && isLeftOver(joint, id, part) && differOnlyInLength(item.made, part)
          ? [{ item, id, part, miss_mm: Math.abs(lengthOf(part) - lengthOf(item.made) - free_mm) }]
          : [],
      ),
    )
    .filter(({ miss_mm }) => isSmall(miss_mm))
    .sort((a, b) => a.miss_mm - b.miss_mm);
  const [best] = found;
  return best && { cause: 'short', one: best.item.id, part: best.id, name: best.part.name };
}

/** The spacer of the parts list that would fill the gap on this axle: nearest in length, then narrowest. */
function leftOver(joint: Joint, own: JointStack, { free_mm }: Run): GapCause | undefined {
  const shaft = Math.max(...own.stack.axle.part.shank.map((cylinder) => cylinder.diameter_mm));
  const [best] = Object.entries(joint.model.parts)
    .flatMap(([id, part]) => {
      const { length_mm, bore_mm, outside_mm } = partSizes(part);
      return kindOf(part).fillsGap && length_mm && bore_mm && outside_mm && isLeftOver(joint, id, part)
        ? [{ id, part, miss: Math.abs(length_mm.nominal - free_mm), bore: bore_mm.nominal, wide: outside_mm.nominal }]
        : [];
    })
    .filter(({ miss, bore }) => miss < 0.15 && bore - shaft > -0.02 && bore - shaft < LIMITS.spacerFit_mm.value)
    // File order and names are nothing.
    .sort((a, b) => a.miss - b.miss || a.bore - b.bore || a.wide - b.wide || (a.id < b.id ? -1 : 1));
  return best && { cause: 'missing', part: best.id, name: best.part.name };
}

const USED = new WeakMap<Joint['model'], ReadonlyMap<string, number>>();

/** How many of each part the rows of a bike use. */
function usedOf(model: Joint['model']): ReadonlyMap<string, number> {
  const known = USED.get(model);
  if (known) return known;
  const used = new Map<string, number>();
  for (const { part } of model.written.pivots.flatMap(({ stacks }) => stacks.flatMap(({ row }) => row)))
    if (part !== undefined) used.set(part, (used.get(part) ?? 0) + 1);
  USED.set(model, used);
  return used;
}

/** True while the rows of the bike use fewer of a part than its list has, or the list gives no number. */
function isLeftOver({ model }: Joint, id: string, { count }: Part): boolean {
  return count === undefined || (usedOf(model).get(id) ?? 0) < count;
}

function lengthOf(part: Part | undefined): number {
  return (part && partSizes(part).length_mm?.nominal) ?? Number.NaN;
}
