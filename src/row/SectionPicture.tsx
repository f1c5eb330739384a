/**
 * What stands in the picture's room where there is no WebGL: the section of the picked stack, moved by apart and by the
 * steps as the picture would be, in the build order as well; of the whole bike, its build order.
 */
import type { ReactNode } from 'react';
import { pivotOf, seenIn, stackOf } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { useLent } from '../picture/lent.ts';
import { BuildOrder } from '../build/BuildOrder.tsx';
import { Drawing } from './TheRow.tsx';

export function SectionPicture(): ReactNode {
  const ownPivot = useApp((state) => pivotOf(seenIn(state)));
  const ownStack = useApp((state) => stackOf(seenIn(state)));
  const lent = useLent((state) => state.picture);
  const pivot = lent ? lent.analysis.pivots.find(({ id }) => id === lent.pivotId) : ownPivot;
  const isActive = (id: string): boolean => lent?.activeIds?.includes(id) === true;
  const stack = lent
    ? (pivot?.stacks.find(({ items }) => items.some(({ id }) => isActive(id))) ?? pivot?.stacks[0])
    : ownStack;
  return (
    <div className="picture-drawing flex fit">{pivot && stack ? <Drawing stack={stack} moves /> : <BuildOrder />}</div>
  );
}
