/**
 * Dimension chains of a joint, from the model: what each one-piece span leaves between its ends, and what room each
 * clamp column leaves on its thread.
 *
 * Span: two neighbours of a clamp column that belong to one member (its clamped bosses, or bearings pressed into it)
 * and the column between them. Its gap is the member's distance less what stands between: above 0 the column is too
 * short and tightening draws the member's ends together, below 0 it is too long and pushes them apart. Room: how far
 * the receiver could still run up its thread once the column is closed; below 0 it bottoms before it clamps. Worst case
 * and root-sum-square by `stack-up.ts`. Lengths mm.
 */
import type { Joint, JointItem, JointStack } from '../joint/joint.ts';
import { ends } from '../joint/joint.ts';
import type { Dimension, Dimensions } from './dimensions.ts';
import { combine, NO_EFFECT, type Effect } from './effect.ts';
import { columnFaces, levelOf, type ColumnFace } from './faces.ts';
import { stackUp, type ChainTerm, type StackUp } from './stack-up.ts';

/** A dimension in a chain. */
export interface LinkTerm extends ChainTerm {
  readonly dimension: Dimension;
}

/** One chain of a joint. */
export interface Chain {
  readonly id: string;
  readonly kind: 'span' | 'room';
  readonly stackId: string;
  /** The member whose two ends close the span. */
  readonly member?: string;
  /** Both ends sit in one boss: there is no arm to bend, only bearings to load. */
  readonly isOneBoss: boolean;
  /** Scene ids from one end to the other, both ends included. */
  readonly parts: readonly string[];
  /** What the chain leaves with every dimension at its nominal, mm. */
  readonly gap_mm: number;
  readonly terms: readonly LinkTerm[];
  readonly sum: StackUp;
  /** Travel of the gap by dimension number. */
  readonly effect: Effect;
}

/** Every chain of a joint. */
export function chainsOf(joint: Joint, dimensions: Dimensions): Chain[] {
  return joint.stacks.flatMap((own) => {
    const faces = columnFaces(joint, own);
    return faces ? [...spansOf(own, faces, dimensions), ...roomOf(own, faces, dimensions)] : [];
  });
}

/** Where a face stands, and what moves it. */
interface Place {
  readonly z_mm: number;
  readonly effect: Effect;
}

function faceOf(dimensions: Dimensions, item: JointItem, z_mm: number): Place {
  return { z_mm: item.z0 + z_mm, effect: levelOf(dimensions, item, z_mm) };
}

/** Thickness of what stands between two faces of the column: one item, or several that are one body. */
function thickness(dimensions: Dimensions, before: ColumnFace, after: ColumnFace): Place {
  const [low, high] = [faceOf(dimensions, before.to, before.toZ_mm), faceOf(dimensions, after.from, after.fromZ_mm)];
  return { z_mm: high.z_mm - low.z_mm, effect: combine([high.effect, 1], [low.effect, -1]) };
}

/** The lengths of the column's items strictly between face `first` and face `last`. */
function between(dimensions: Dimensions, faces: readonly ColumnFace[], first: number, last: number): Place {
  let z_mm = 0;
  let effect = NO_EFFECT;
  for (let k = first; k < last; k++) {
    const one = thickness(dimensions, faces[k]!, faces[k + 1]!);
    z_mm += one.z_mm;
    effect = combine([effect, 1], [one.effect, 1]);
  }
  return { z_mm, effect };
}

function spansOf(own: JointStack, faces: readonly ColumnFace[], dimensions: Dimensions): Chain[] {
  const found: Chain[] = [];
  for (let i = 0; i < faces.length; i++) {
    const start = faces[i]!.from;
    const member = start.boss?.memberId;
    if (member === undefined) continue;
    const j = faces.findIndex((face, k) => k >= i && face.to.boss?.memberId === member);
    if (j < 0) continue;
    const end = faces[j]!.to;
    const [low, high] = [faceOf(dimensions, start, faces[i]!.fromZ_mm), faceOf(dimensions, end, faces[j]!.toZ_mm)];
    const inside = between(dimensions, faces, i, j);
    const gap_mm = high.z_mm - low.z_mm - inside.z_mm;
    const effect = combine([high.effect, 1], [low.effect, -1], [inside.effect, -1]);
    const parts = [...faces.slice(i, j + 1).map((face) => face.from.id), end.id];
    found.push(
      chainOf(
        {
          id: `${own.stack.id}:${start.rowId}~${end.rowId}`,
          kind: 'span',
          stackId: own.stack.id,
          member,
          isOneBoss: start.boss?.boreId === end.boss?.boreId,
          parts,
          gap_mm,
          effect,
        },
        dimensions,
      ),
    );
  }
  return found;
}

function roomOf(own: JointStack, faces: readonly ColumnFace[], dimensions: Dimensions): Chain[] {
  const least = dimensions.leastDistance.get(own.stack.id);
  const least_mm = own.thread.leastDistance_mm;
  if (!least || least_mm === undefined) return [];
  const [first, last] = ends(own);
  const inside = between(dimensions, faces, 0, faces.length - 1);
  // Axle and receiver bear with the face their place is measured from: whatever else they bear with is added.
  const lead = placeOf(first) - (first.z0 + faces[0]!.fromZ_mm);
  const tail = last.z0 + faces.at(-1)!.toZ_mm - placeOf(last);
  const distance_mm = inside.z_mm - lead - tail;
  const parts = [...faces.map((face) => face.from.id), last.id];
  return [
    chainOf(
      {
        id: `${own.stack.id}:room`,
        kind: 'room',
        stackId: own.stack.id,
        isOneBoss: false,
        parts,
        gap_mm: distance_mm - least_mm,
        effect: combine([inside.effect, 1], [least, -1]),
      },
      dimensions,
    ),
  ];
}

/** Where an end of the column is measured from: its bearing face, or the face a member's thread is entered from. */
function placeOf(item: JointItem): number {
  return item.entry_mm ?? item.z0;
}

function chainOf(chain: Omit<Chain, 'terms' | 'sum'>, { list }: Dimensions): Chain {
  const terms = [...chain.effect].map(([k, coefficient]): LinkTerm => {
    const dimension = list[k]!;
    return {
      dimension,
      coefficient,
      nominal_mm: dimension.nominal_mm,
      lower_mm: dimension.lower_mm,
      upper_mm: dimension.upper_mm,
    };
  });
  // What no dimension stands for (a bearing that is not home) shifts the whole chain.
  const offset = chain.gap_mm - stackUp(terms).nominal_mm;
  const sum = stackUp(terms);
  return {
    ...chain,
    terms,
    sum: {
      ...sum,
      nominal_mm: sum.nominal_mm + offset,
      mean_mm: sum.mean_mm + offset,
      worstLow_mm: sum.worstLow_mm + offset,
      worstHigh_mm: sum.worstHigh_mm + offset,
    },
  };
}
