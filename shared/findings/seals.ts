/**
 * What is wrong with a loose seal where it lies: it is squeezed by nothing, too little or too much, its lip looks to the
 * bearing, or it is dry. A seal carries no force, so none of this stops a pivot. Limits of the squeeze are shares of what gives way; told in mm.
 */
import type { JointItem, JointStack } from '../joint/joint.ts';
import type { Met } from '../joint/reading.ts';
import type { Limit } from '../limits.ts';
import { kindOf } from '../parts/kinds.ts';
import type { Measure, Severity } from '../types.ts';

interface SealFault {
  readonly code: 'seal-misfitted';
  readonly severity: Severity;
  readonly items: readonly JointItem[];
  readonly numbers: Record<string, Measure>;
  readonly limit?: Measure & { readonly source: string };
  readonly about: { readonly how: 'open' | 'slack' | 'crushed' | 'turned' | 'dry' };
}

/** Faults of the loose seals of a stack; `met` are the meetings of its joint when tight. O(meetings) a seal. */
export function sealFaults(own: JointStack, met: readonly Met[]): SealFault[] {
  return own.items.flatMap((item): SealFault[] => {
    if (item.sealedToward === undefined) return [];
    const fit = fitOf(item, met);
    return [
      ...(fit ? [fit] : []),
      ...(isLipInward(item) ? [fault(item, 'turned', 'warn')] : []),
      ...(isDry(own, item) ? [fault(item, 'dry', 'note')] : []),
    ];
  });
}

function fault(item: JointItem, how: SealFault['about']['how'], severity: Severity): SealFault {
  return { code: 'seal-misfitted', severity, items: [item], numbers: {}, about: { how } };
}

function fitOf(item: JointItem, met: readonly Met[]): SealFault | undefined {
  const { gives_mm, least, most } = kindOf(item.made!).seals!(item.made!);
  const nearest = pressing(item, met)[0];
  if (!nearest) return fault(item, 'open', 'warn');
  const items = [item, nearest.by];
  if (nearest.free_mm >= 0)
    return { ...fault(item, 'open', 'warn'), items, numbers: { gap_mm: { value: nearest.free_mm, unit: 'mm' } } };
  const squeeze_mm = -nearest.free_mm;
  const numbers = { squeeze_mm: { value: squeeze_mm, unit: 'mm' as const } };
  const told = (how: 'slack' | 'crushed', { value, source }: Limit): SealFault => ({
    ...fault(item, how, 'warn'),
    items,
    numbers,
    limit: { value: value * gives_mm, unit: 'mm', source },
  });
  if (squeeze_mm < least.value * gives_mm) return told('slack', least);
  return squeeze_mm > most.value * gives_mm ? told('crushed', most) : undefined;
}

/** What stands on the side of a seal that it does not lie on, the nearest first; the seals of bearings give way. */
function pressing(item: JointItem, met: readonly Met[]): { readonly by: JointItem; readonly free_mm: number }[] {
  return met
    .flatMap(({ a, b, free_mm }) => {
      const other = item.sealedToward === 'drive' ? b.item === item && a : a.item === item && b;
      return other && other.solid.role !== 'seal' ? [{ by: other.item, free_mm }] : [];
    })
    .sort((one, two) => one.free_mm - two.free_mm);
}

/** A lip keeps dirt from what the seal lies on, so it looks away from there. */
function isLipInward({ made, turned, sealedToward }: JointItem): boolean {
  const lip = kindOf(made!).smallFace?.(made!);
  return lip !== undefined && (turned === (lip === 'first') ? 'drive' : 'non-drive') === sealedToward;
}

function isDry({ stack }: JointStack, { rowId }: JointItem): boolean {
  const entry = stack.row.find(({ id }) => id === rowId);
  return entry?.greased !== true;
}
