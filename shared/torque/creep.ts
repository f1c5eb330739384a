/**
 * Whether the inner rings of a clamped column can creep round on their axle, and what holds them.
 *
 * A turning arm drags at its inner rings; only the friction of the column's faces holds them. Method: limit analysis.
 * Axle and receiver are one body, closed to a ring with the column; bosses that are clamped stand still. Any run of
 * neighbours without such a boss slides as one as soon as the drag of its bearings passes what the faces at its ends
 * can hold, so the weakest run decides. Drag is the worst a seized bearing can pass on (an upper estimate), friction
 * the low end of the band (greased faces: class B, dry ones: class C of VDI 2230): the answer is on the careful side.
 * N, mm, N·m.
 */
import { isColumnPiece, type JointItem, type JointStack } from '../joint/joint.ts';
import { type Met } from '../joint/reading.ts';
import { frictionTorque_Nm, isGreased } from '../joint/rubbing.ts';
import { FRICTION } from '../standards/friction.ts';
import { worstDrag_Nm } from '../standards/ring-drag.ts';

/** The run of the column that slides first. */
export interface Creep {
  /** Holding friction over drag; 1 or more holds. Infinite where no bearing drags. */
  readonly margin: number;
  readonly held_Nm: number;
  readonly drag_Nm: number;
  /** Items of the run, in column order. */
  readonly items: readonly JointItem[];
}

interface Node {
  readonly items: readonly JointItem[];
  readonly isStill: boolean;
  readonly drag_Nm: number;
}

/** Worst run of a column whose faces carry the forces of `met`. */
export function creep(own: JointStack, met: readonly Met[]): Creep {
  const nodes = nodesOf(own);
  const place = new Map(nodes.flatMap((node, k) => node.items.map((item) => [item, k] as const)));
  const faces = met.flatMap((meeting) => {
    const [a, b] = [place.get(meeting.a.item), place.get(meeting.b.item)];
    const counts =
      a !== undefined && b !== undefined && a !== b && isColumnPiece(meeting.a) && isColumnPiece(meeting.b);
    return counts && meeting.force_N > 0 ? [{ a, b, holds_Nm: holding_Nm(own, meeting) }] : [];
  });
  let worst: Creep = { margin: Infinity, held_Nm: 0, drag_Nm: 0, items: [] };
  for (let start = 0; start < nodes.length; start++) {
    const run = new Set<number>();
    let drag_Nm = 0;
    for (let k = start; run.size < nodes.length; k = (k + 1) % nodes.length) {
      if (nodes[k]!.isStill) break;
      run.add(k);
      drag_Nm += nodes[k]!.drag_Nm;
      if (drag_Nm === 0) continue;
      const held_Nm = faces.reduce((sum, face) => (run.has(face.a) === run.has(face.b) ? sum : sum + face.holds_Nm), 0);
      const margin = held_Nm / drag_Nm;
      if (margin < worst.margin - 1e-12)
        worst = { margin, held_Nm, drag_Nm, items: [...run].flatMap((at) => nodes[at]!.items) };
    }
  }
  return worst;
}

/** The column as a closed ring: axle and receiver first, as one; then its items in order. */
function nodesOf(own: JointStack): Node[] {
  const between = own.items.filter((item) => item.inColumn && item !== own.axle && item !== own.receiver);
  const isAnyStill = own.receiver.role === 'boss' || between.some((item) => item.role === 'boss');
  return [
    // With no clamped boss the axle is the best there is to hold on to.
    { items: [own.axle, own.receiver], isStill: own.receiver.role === 'boss' || !isAnyStill, drag_Nm: 0 },
    ...between.map((item) => ({ items: [item], isStill: item.role === 'boss', drag_Nm: dragOf(item) })),
  ];
}

function dragOf({ bearing }: JointItem): number {
  return bearing ? worstDrag_Nm(bearing) : 0;
}

function holding_Nm(own: JointStack, { a, b, gap, force_N }: Met): number {
  const hasGrease = [a, b].some(({ item }) => isGreased(own.stack, item.rowId));
  const friction = (hasGrease ? FRICTION.greased : FRICTION.dry).face.low;
  return frictionTorque_Nm({ force_N, bands_mm: gap.bands_mm, friction });
}
