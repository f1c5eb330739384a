/**
 * What is wrong with what is tightened beside the axle: a lock nut of another thread or with too little of it, a clamp
 * whose slot cannot close on the tip or that stands off it, a cone that does not spread the tip, a boss that its pinch
 * bolt cannot close, and whatever was left loose. The axle is held by what receives it, so none of this stops a pivot.
 * Lengths mm.
 */
import type { JointItem, JointStack } from '../joint/joint.ts';
import { shankAt } from '../joint/mounting.ts';
import { LIMITS } from '../limits.ts';
import { kindOf } from '../parts/kinds.ts';
import { shankLength_mm, threadEnd_mm } from '../parts/shanked.ts';
import { zRange } from '../profile/polygon.ts';
import { HAIR_mm, misfits, mm, type Misfit } from './misfit.ts';

type How =
  | 'left-loose'
  | 'other-thread'
  | 'little-thread'
  | 'on-shoulder'
  | 'will-not-close'
  | 'too-narrow'
  | 'off-the-tip'
  | 'will-not-spread';
type TipFault = Misfit<'tip-misfitted', How>;
const fault = misfits<'tip-misfitted', How>('tip-misfitted');

/** Faults of what is tightened beside a stack's axle. O(items). */
export function tipFaults(own: JointStack): TipFault[] {
  return own.items.flatMap((item): TipFault[] => {
    const slot_mm = item.role === 'boss' && item !== own.receiver ? item.boss!.slot_mm : undefined;
    if (item.role !== 'tip' && slot_mm === undefined) return [];
    const made = item.made;
    const isTightened = slot_mm !== undefined || kindOf(made!).secures !== undefined;
    const loose = isTightened && own.stack.row.find(({ id }) => id === item.rowId)?.torque_Nm === undefined;
    return [...(loose ? [fault('left-loose', [item, own.axle])] : []), ...fitsOn(own, item, slot_mm)];
  });
}

function fitsOn(own: JointStack, item: JointItem, slot_mm: number | undefined): TipFault[] {
  if (slot_mm !== undefined) return pinchFaults(own, item, slot_mm);
  const made = item.made!;
  if (made.kind === 'nut') return nutFaults(own, item, made.thread);
  if (made.kind === 'split-clamp') return clampFaults(own, item, made);
  return made.kind === 'expander' ? coneFaults(own, item, made) : [];
}

/** How much of an item's length the axle's tip reaches through, from its inner end. */
function reach_mm({ axle, stack }: JointStack, { z0, local }: JointItem): number {
  const [low, high] = zRange(local.map(({ solid }) => solid.polygon)).map((z) => z + z0) as [number, number];
  const long_mm = shankLength_mm(stack.axle.part);
  const tip = stack.from === 'non-drive' ? axle.z0 + long_mm : axle.z0 - long_mm;
  return Math.max(0, Math.min(high - low, stack.from === 'non-drive' ? tip - low : high - tip));
}

/** From the axle's bearing face to the inner end of what stands on its tip. */
function innerEnd_mm({ axle, stack }: JointStack, { z0, local }: JointItem): number {
  const [low, high] = zRange(local.map(({ solid }) => solid.polygon)).map((z) => z + z0) as [number, number];
  return stack.from === 'non-drive' ? low - axle.z0 : axle.z0 - high;
}

type Threaded = { readonly size_mm: number; readonly pitch_mm: number; readonly hand: string };

function nutFaults(own: JointStack, item: JointItem, { size_mm, pitch_mm, hand }: Threaded): TipFault[] {
  const { thread, tip_thread: second } = own.stack.axle.part;
  const axle = second ?? thread;
  if (axle.size_mm !== size_mm || axle.pitch_mm !== pitch_mm || axle.hand !== hand)
    return [fault('other-thread', [item, own.axle], { thread_mm: mm(size_mm), axle_mm: mm(axle.size_mm) })];
  const room_mm = innerEnd_mm(own, item) - threadEnd_mm(own.stack.axle.part);
  if (second && room_mm < second.pitch_mm - HAIR_mm) {
    const limit = { value: second.pitch_mm, source: 'common practice, no source: a thread runs out over a turn' };
    return [fault('on-shoulder', [item, own.axle], { room_mm: mm(Math.max(0, room_mm)) }, limit)];
  }
  const has_mm = Math.min(reach_mm(own, item), axle.length_mm);
  const needs_mm = LIMITS.lockThread.value * size_mm;
  return has_mm < needs_mm - HAIR_mm
    ? [fault('little-thread', [item, own.axle], { has_mm: mm(has_mm) }, { ...LIMITS.lockThread, value: needs_mm })]
    : [];
}

function clampFaults(
  own: JointStack,
  item: JointItem,
  { bore_mm, slot_mm, length_mm }: { readonly bore_mm: number; readonly slot_mm: number; readonly length_mm: number },
): TipFault[] {
  const tip_mm = own.stack.axle.part.shank.at(-1)!.diameter_mm;
  const room_mm = bore_mm - tip_mm;
  const sizes = { bore_mm: mm(bore_mm), axle_mm: mm(tip_mm) };
  if (room_mm < -HAIR_mm) return [fault('too-narrow', [item, own.axle], sizes)];
  const closes_mm = slotCloses_mm(slot_mm);
  if (room_mm > closes_mm + HAIR_mm) {
    const limit = { ...LIMITS.slotShare, value: closes_mm };
    return [fault('will-not-close', [item, own.axle], { room_mm: mm(room_mm), ...sizes }, limit)];
  }
  const on_mm = reach_mm(own, item);
  return on_mm < length_mm / 2 - HAIR_mm
    ? [fault('off-the-tip', [item, own.axle], { on_mm: mm(on_mm), length_mm: mm(length_mm) })]
    : [];
}

/** By how much a slot lets its bore close: what its width gives up is taken from the bore's girth. */
function slotCloses_mm(slot_mm: number): number {
  return (LIMITS.slotShare.value * slot_mm) / Math.PI;
}

/** A slotted boss has to reach the shank with what its slot closes by; one too narrow does not let the axle in. */
function pinchFaults(own: JointStack, item: JointItem, slot_mm: number): TipFault[] {
  const axle_mm = shankAt(own, item)?.diameter_mm ?? 0;
  const bore_mm = item.boss!.bore_mm;
  const closes_mm = slotCloses_mm(slot_mm);
  if (bore_mm - axle_mm <= closes_mm + HAIR_mm) return [];
  const numbers = { room_mm: mm(bore_mm - axle_mm), bore_mm: mm(bore_mm), axle_mm: mm(axle_mm) };
  return [fault('will-not-close', [item, own.axle], numbers, { ...LIMITS.slotShare, value: closes_mm })];
}

/** A cone spreads a tip by what it is thicker than its hole; the tip has to fill the bore it stands in. */
function coneFaults(
  own: JointStack,
  item: JointItem,
  { large_mm, small_mm }: { readonly large_mm: number; readonly small_mm: number },
): TipFault[] {
  const { bore_mm: hole_mm = 0, shank } = own.stack.axle.part;
  const bore_mm = own.receiver.boss?.bore_mm ?? shank.at(-1)!.diameter_mm;
  const room_mm = Math.max(0, bore_mm - shank.at(-1)!.diameter_mm);
  const spreads_mm = Math.max(0, large_mm - Math.max(hole_mm, small_mm));
  const isIn = hole_mm > small_mm && hole_mm < large_mm;
  return isIn && spreads_mm > room_mm + HAIR_mm
    ? []
    : [
        fault('will-not-spread', [item, own.axle], {
          hole_mm: mm(hole_mm),
          large_mm: mm(large_mm),
          small_mm: mm(small_mm),
          room_mm: mm(room_mm),
        }),
      ];
}
