/**
 * The one check that gives a mistake away: a count, a calliper, a feeler gauge, a look, the wrench again.
 *
 * A left-out spacer lies in the tray; a swapped or foreign part differs in a size, and the one in which it differs most
 * is named; a turned spacer shuts a gap between its face and what must stay free, and where the build as written leaves
 * that gap open to a feeler gauge both gaps are given, as solved. Sizes are the model's, gaps the solve's; mm, N·m.
 */
import type { Judged } from '../findings/judge.ts';
import { LIMITS } from '../limits.ts';
import type { ResolvedStack } from '../model/resolve.ts';
import type { LinkageModel } from '../model/schema.ts';
import { meetAll, type Met } from '../joint/reading.ts';
import { sizeDifferences } from '../parts/look-alike.ts';
import type { SizeCode } from '../parts/sizes.ts';
import type { Mistake, Slot } from './list.ts';

/** What to do, where, and what it reads when right and when wrong. */
export type RevealingCheck =
  /** Count the tray: this part lies there. */
  | { readonly kind: 'count'; readonly part: string }
  /** Measure the part that sits at `item`. */
  | {
      readonly kind: 'calliper';
      readonly item: string;
      readonly size: SizeCode;
      readonly right_mm: number;
      readonly wrong_mm: number;
    }
  /** Feeler gauge between two items when the pivot is tight. */
  | {
      readonly kind: 'feeler';
      readonly between: readonly [string, string];
      readonly right_mm: number;
      readonly wrong_mm: number;
    }
  /** Depth from the bearing's face to its boss's face. */
  | { readonly kind: 'depth'; readonly item: string; readonly wrong_mm: number }
  /** Look which way round it lies, before the next part hides it. */
  | { readonly kind: 'look'; readonly item: string; readonly at: 'small-face' | 'land' | 'head' | 'part' | 'place' }
  | { readonly kind: 'wrench'; readonly stack: string; readonly torque_Nm: number }
  /** Nothing to look for: the parts do not go together. */
  | { readonly kind: 'hand'; readonly stack: string };

/** The check that reveals a mistake which could be built. */
export function checkFor(model: LinkageModel, written: Judged, mistake: Mistake, judged: Judged): RevealingCheck {
  if (mistake.of) {
    const checks = mistake.of.map((single) => checkFor(model, written, single, judged));
    return checks.sort((a, b) => EASIEST.indexOf(a.kind) - EASIEST.indexOf(b.kind))[0]!;
  }
  const slot = mistake.slots[0]!;
  const item = `${slot.stack}/${slot.row}`;
  switch (mistake.kind) {
    case 'left-out':
      return { kind: 'count', part: slot.part! };
    case 'swapped':
    case 'other-part':
      return measured(mistake.changes.reduce(withNewParts, model), slot) ?? { kind: 'look', item, at: 'part' };
    case 'not-home': {
      const now = proudOf(judged, item);
      return { kind: 'depth', item, wrong_mm: now - proudOf(written, item) };
    }
    case 'moved':
      return { kind: 'look', item, at: 'place' };
    case 'wrong-side':
      return { kind: 'look', item, at: 'head' };
    case 'under-tightened':
    case 'over-tightened':
      return { kind: 'wrench', stack: slot.stack, torque_Nm: torqueAt(stackOf(written, slot.stack), slot.row) };
    default:
      return (
        feelerGap(written, judged, item) ?? { kind: 'look', item, at: slot.row === 'receiver' ? 'land' : 'small-face' }
      );
  }
}

const EASIEST: readonly RevealingCheck['kind'][] = ['count', 'wrench', 'calliper', 'depth', 'look', 'feeler', 'hand'];

function withNewParts(model: LinkageModel, change: Mistake['changes'][number]): LinkageModel {
  return change.what === 'part' ? { ...model, parts: { ...model.parts, [change.part]: change.after } } : model;
}

function stackOf({ joint }: Judged, stackId: string): ResolvedStack {
  return joint.stacks.find(({ stack }) => stack.id === stackId)!.stack;
}

/** The torque of what stands in a row, or of its axle. */
function torqueAt({ row, torque_Nm }: ResolvedStack, rowId: string): number {
  return row.find(({ id }) => id === rowId)?.torque_Nm ?? torque_Nm;
}

function measured(model: LinkageModel, { stack, row, part, now }: Slot): RevealingCheck | undefined {
  const [mine, other] = [model.parts[part ?? ''], model.parts[now?.part ?? '']];
  const widest = mine && other && sizeDifferences(mine, other)[0];
  return (
    widest && {
      kind: 'calliper',
      item: `${stack}/${row}`,
      size: widest.size,
      right_mm: widest.mine_mm,
      wrong_mm: widest.other_mm,
    }
  );
}

function proudOf({ joint }: Judged, id: string): number {
  return joint.stacks.flatMap(({ items }) => items).find((item) => item.id === id)?.proud_mm ?? 0;
}

/**
 * The free face beside an item that the mistake all but shuts, where a feeler gauge finds it open in the build as
 * written.
 */
function feelerGap(written: Judged, mistaken: Judged, itemId: string): RevealingCheck | undefined {
  const right = gapsAt(written, itemId);
  const found = [...gapsAt(mistaken, itemId)].flatMap(([id, { between, free_mm }]) => {
    const before = right.get(id)?.free_mm ?? 0;
    return before > LIMITS.tightClearance_mm.value && free_mm <= LIMITS.tightClearance_mm.value
      ? [{ between, right_mm: before, wrong_mm: free_mm }]
      : [];
  });
  const nearest = found.sort((a, b) => a.wrong_mm - b.wrong_mm)[0];
  return nearest && { kind: 'feeler', ...nearest };
}

/** Least gap between an item and each free neighbour's ring or boss. */
function gapsAt(judged: Judged, itemId: string): Map<string, { between: readonly [string, string]; free_mm: number }> {
  const gaps = new Map<string, { between: readonly [string, string]; free_mm: number }>();
  for (const meeting of meetAll(judged.solved)) {
    if (!meeting.shouldBeFree || meeting.law === undefined) continue;
    const other = otherOf(meeting, itemId);
    if (!other) continue;
    const known = gaps.get(other);
    if (!known || meeting.free_mm < known.free_mm)
      gaps.set(other, { between: [itemId, other], free_mm: meeting.free_mm });
  }
  return gaps;
}

function otherOf({ a, b }: Met, itemId: string): string | undefined {
  return a.item.id === itemId ? b.item.id : b.item.id === itemId ? a.item.id : undefined;
}
