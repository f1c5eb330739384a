/**
 * What is wrong with a loose seal where it lies: it is squeezed by nothing, too little or too much, it hangs over an
 * edge of what it lies on or of what squeezes it, its lip looks to the bearing, or it is dry. A seal carries no force,
 * so none of this stops a pivot. Limits of the squeeze are shares of what gives way; told in mm.
 */
import type { JointItem, JointStack } from '../joint/joint.ts';
import { envelope, type Gap } from '../joint/contact.ts';
import type { Met } from '../joint/reading.ts';
import { LIMITS, type Limit } from '../limits.ts';
import type { Side } from '../model/schema.ts';
import { otherSide } from '../numbers/figures.ts';
import { kindOf } from '../parts/kinds.ts';
import type { Polygon } from '../types.ts';
import { misfits, mm, type Misfit } from './misfit.ts';

type How = 'open' | 'slack' | 'crushed' | 'off-face' | 'turned' | 'dry';
type SealFault = Misfit<'seal-misfitted', How>;
const fault = misfits<'seal-misfitted', How>('seal-misfitted');

/** Faults of the loose seals of a stack; `met` are the meetings of its joint when tight. O(meetings) a seal. */
export function sealFaults(own: JointStack, met: readonly Met[]): SealFault[] {
  return own.items.flatMap((item): SealFault[] => {
    if (item.sealedToward === undefined) return [];
    const isTurned = isLipInward(item);
    const fit = fitOf(item, met) ?? (isTurned ? undefined : offFace(item, met));
    return [
      ...(fit ? [fit] : []),
      ...(isTurned ? [fault('turned', [item])] : []),
      ...(isDry(own, item) ? [fault('dry', [item], {}, undefined, { severity: 'note' })] : []),
    ];
  });
}

function fitOf(item: JointItem, met: readonly Met[]): SealFault | undefined {
  const { gives_mm, least, most } = kindOf(item.made!).seals!(item.made!);
  const nearest = pressing(item, met)[0];
  if (!nearest) return fault('open', [item]);
  const items = [item, nearest.by];
  if (nearest.free_mm >= 0) return fault('open', items, { gap_mm: mm(nearest.free_mm) });
  const squeeze_mm = -nearest.free_mm;
  const told = (how: 'slack' | 'crushed', { value, source }: Limit): SealFault =>
    fault(how, items, { squeeze_mm: mm(squeeze_mm) }, { value: value * gives_mm, source });
  if (squeeze_mm < least.value * gives_mm) return told('slack', least);
  return squeeze_mm > most.value * gives_mm ? told('crushed', most) : undefined;
}

/** A face of the seal that finds too little of another to lie on, the one that is squeezed first. */
function offFace(item: JointItem, met: readonly Met[]): SealFault | undefined {
  const beside = met.flatMap((meeting) => {
    const [own, other] = meeting.a.item === item ? [meeting.a, meeting.b] : [meeting.b, meeting.a];
    if (own.item !== item || other.solid.role === 'seal') return [];
    const side: Side = own === meeting.a ? 'drive' : 'non-drive';
    return [{ by: other.item, side, free_mm: meeting.free_mm, share: onFace(own.solid.polygon, side, meeting.gap) }];
  });
  for (const side of [otherSide(item.sealedToward!), item.sealedToward!]) {
    const [nearest] = beside.filter((one) => one.side === side).sort((p, q) => p.free_mm - q.free_mm);
    if (nearest && nearest.share < LIMITS.sealOnFace.value) return fault('off-face', [item, nearest.by]);
  }
  return undefined;
}

/** Which share of a seal's foremost face lies in the bands where it meets another. */
function onFace(polygon: Polygon, side: Side, { bands_mm }: Gap): number {
  const ends = envelope(polygon, side).flatMap(({ r0, r1, z0, z1 }) =>
    Math.abs(z0 - z1) < FLAT_mm ? [[r0, r1, z0] as const] : [],
  );
  const foremost = ends.map(([, , z]) => z).reduce((a, b) => (side === 'drive' ? Math.max(a, b) : Math.min(a, b)));
  const face = ends.filter(([, , z]) => Math.abs(z - foremost) < FLAT_mm);
  const [inner, outer] = [Math.min(...face.map(([r]) => r)), Math.max(...face.map(([, r]) => r))];
  const met_mm = bands_mm.reduce((sum, [r0, r1]) => sum + Math.max(0, Math.min(r1, outer) - Math.max(r0, inner)), 0);
  return met_mm / (outer - inner);
}

const FLAT_mm = 1e-6;

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
