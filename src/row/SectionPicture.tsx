/**
 * What stands in the picture's room where there is no WebGL: the section of the picked stack, moved by apart and by the
 * steps as the picture would be; of the whole bike, its build order.
 */
import type { ReactNode } from 'react';
import { pivotOf, seenIn, stackOf } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { BuildOrder } from '../build/BuildOrder.tsx';
import { Drawing } from './TheRow.tsx';

export function SectionPicture(): ReactNode {
  const pivot = useApp((state) => pivotOf(seenIn(state)));
  const stack = useApp((state) => stackOf(seenIn(state)));
  return (
    <div className="picture-drawing flex fit">{pivot && stack ? <Drawing stack={stack} moves /> : <BuildOrder />}</div>
  );
}
