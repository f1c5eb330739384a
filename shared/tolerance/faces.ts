/**
 * Which face of which item a contact law stands for, and how its gap moves with the dimensions.
 *
 * A law's gap is the lower face of the part on the drive side less the upper face of the other; its travel is the
 * difference of the two levels' travels. Exact as long as flat faces stay the ones that meet: what a dimension changes
 * on a flank or a broken edge is left aside. Lengths mm.
 */
import type { Span } from '../joint/contact.ts';
import { isColumnPiece, type Joint, type JointItem, type JointStack, type Meeting } from '../joint/joint.ts';

import { levelAt, type Dimensions } from './dimensions.ts';
import { combine, NO_EFFECT, type Effect } from './effect.ts';

/** Travel of every contact gap of a joint, by law. */
export function gapEffects(joint: Joint, dimensions: Dimensions): Effect[] {
  const effects: Effect[] = joint.contacts.map(() => NO_EFFECT);
  for (const meeting of joint.meetings) {
    if (meeting.law === undefined) continue;
    const { a, b } = facesOf(meeting);
    effects[meeting.law] = combine(
      [levelOf(dimensions, meeting.b.item, b), 1],
      [levelOf(dimensions, meeting.a.item, a), -1],
    );
  }
  for (const own of joint.stacks) {
    const gap = dimensions.threadGap.get(own.stack.id);
    if (own.threadLimit !== undefined && gap) effects[own.threadLimit] = gap;
  }
  return effects;
}

/** Travel of the face of an item at a place in its own frame. */
export function levelOf({ levels }: Dimensions, item: JointItem, z_mm: number): Effect {
  return levelAt(levels.get(item)!, z_mm).effect;
}

/** Places in their items' frames at which the two faces of a meeting would touch. */
function facesOf({ a, b, gap }: Meeting): { readonly a: number; readonly b: number } {
  const [r0, r1] = gap.bands_mm[0]!;
  const r = (r0 + r1) / 2;
  return { a: heightAt(a.local.upper, r, Math.max), b: heightAt(b.local.lower, r, Math.min) };
}

function heightAt(spans: readonly Span[], r: number, pick: (a: number, b: number) => number): number {
  let found: number | undefined;
  for (const { r0, r1, z0, z1 } of spans) {
    if (r < r0 - 1e-9 || r > r1 + 1e-9) continue;
    const z = r1 - r0 < 1e-9 ? z0 : z0 + ((z1 - z0) * (r - r0)) / (r1 - r0);
    found = found === undefined ? z : pick(found, z);
  }
  if (found === undefined) throw new Error(`faces: no face at radius ${r} mm`);
  return found;
}

/** Two neighbours of a column and the faces at which they meet, each in its item's frame. */
export interface ColumnFace {
  readonly from: JointItem;
  readonly to: JointItem;
  readonly fromZ_mm: number;
  readonly toZ_mm: number;
  readonly meeting: Meeting;
}

/**
 * The faces of a column from the non-drive to the drive side; undefined where two neighbours share no radius. Two
 * neighbours that are one body (bosses of one member that cannot move against it) have no face between them.
 */
export function columnFaces(joint: Joint, own: JointStack): ColumnFace[] | undefined {
  const column = own.items.filter((item) => item.inColumn);
  const found: ColumnFace[] = [];
  for (let k = 0; k + 1 < column.length; k++) {
    const [from, to] = [column[k]!, column[k + 1]!];
    if (from.body === to.body) continue;
    const meetings = joint.meetings.filter(
      ({ a, b, law }) => law !== undefined && a.item === from && b.item === to && isColumnPiece(a) && isColumnPiece(b),
    );
    if (meetings.length === 0) return undefined;
    const meeting = meetings.reduce((least, other) => (other.gap.gap_mm < least.gap.gap_mm ? other : least));
    const { a, b } = facesOf(meeting);
    found.push({ from, to, fromZ_mm: a, toZ_mm: b, meeting });
  }
  return found;
}
