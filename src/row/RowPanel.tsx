/**
 * The tab of the row: the row to work, and its section where none lies under the picture; without a pivot, the bike's
 * own order.
 */
import type { ReactNode } from 'react';
import { useApp } from '../page/store.ts';
import { BuildOrder } from '../build/BuildOrder.tsx';
import { TheRow } from './TheRow.tsx';
import { WorkRow } from './WorkRow.tsx';

export function RowPanel({
  hasSection,
  children,
}: {
  /** The section is on the page already. */
  readonly hasSection: boolean;
  readonly children?: ReactNode;
}): ReactNode {
  const hasPivot = useApp((state) => state.pivotId !== undefined);
  return (
    <div className="row-panel scroll" tabIndex={0} role="group" aria-label="The row to work">
      {hasPivot ? <WorkRow>{!hasSection && <TheRow />}</WorkRow> : <BuildOrder />}
      {children}
    </div>
  );
}
