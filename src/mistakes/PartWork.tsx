/**
 * The quickest edits of a part on its own card: turn it round, leave it out, or go to the row for the rest.
 */
import type { ReactNode } from 'react';
import { act, useApp } from '../page/store.ts';
import { mayLeaveOut, mayTurn } from './rowParts.ts';

export function PartWork({ id }: { readonly id: string }): ReactNode {
  const state = useApp();
  const [turn, out] = [mayTurn(state, id), mayLeaveOut(state, id)];
  if (!turn && !out) return null;
  return (
    <div className="flow gap-2">
      {turn && (
        <button type="button" className="button medium no-wrap" onClick={() => act.editRow(turn)}>
          Turn round
        </button>
      )}
      {out && (
        <button type="button" className="button medium no-wrap" onClick={() => act.editRow(out)}>
          Leave out
        </button>
      )}
      <button type="button" className="button medium no-wrap" onClick={() => act.setTab('the-row')}>
        Work the row
      </button>
    </div>
  );
}
