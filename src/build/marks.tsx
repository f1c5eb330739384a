/**
 * Where one stands, as a mark: the plates of the two sides, and a vice for work at the bench.
 */
import type { ReactNode } from 'react';
import { sideWord, type Side } from '../../shared/index.ts';
import { SidePlate } from '../widgets/marks.tsx';

/** Where one stands; none where it does not matter. */
export type Stand = Side | 'bench' | undefined;

/** Word for where one stands. */
export function standWord(stand: Stand): string {
  return stand === undefined ? 'either side' : stand === 'bench' ? 'at the bench' : sideWord(stand);
}

/** Which of the three lanes of the list a task lies in: N, bench, D from left to right. */
export function laneOf(stand: Stand): 'left' | 'middle' | 'right' {
  return stand === 'non-drive' ? 'left' : stand === 'drive' ? 'right' : 'middle';
}

/** N on an open plate, D on a filled one, B on a round one; a dot where it does not matter. */
export function StandMark({ stand }: { readonly stand: Stand }): ReactNode {
  if (stand === 'drive' || stand === 'non-drive') return <SidePlate side={stand} />;
  return (
    <span
      className={stand === 'bench' ? 'plate plate-bench rigid' : 'plate plate-any on-sheet rigid'}
      aria-hidden="true"
    >
      {stand === 'bench' ? 'B' : ''}
    </span>
  );
}
