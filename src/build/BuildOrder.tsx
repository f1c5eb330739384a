/**
 * The row of the whole bike: its axles in the order they are built up, with torque and the side each goes in from.
 */
import type { ReactNode } from 'react';
import { sideWord, wordTorque, type Plan, type StackAnalysis } from '../../shared/index.ts';
import { focusPicked } from '../page/focus.ts';
import { useApp } from '../page/store.ts';
import { SidePlate } from '../widgets/marks.tsx';
import { NoPlan } from './NoPlan.tsx';

export function BuildOrder(): ReactNode {
  const isOpen = useApp((state) => state.opened !== undefined);
  const planned = useApp((state) => state.planned);
  if (!isOpen) return <p className="row-empty soft balanced">Opening…</p>;
  return (
    <div className="order scroll" tabIndex={0} role="group" aria-labelledby="order-title">
      <h2 id="order-title">Build order</h2>
      {planned.is === 'done' ? (
        <ol>
          {stacksInOrder(planned.given.plan).map((stack, k) => (
            <OrderRow key={stack.id} stack={stack} place={k + 1} />
          ))}
        </ol>
      ) : (
        <NoPlan />
      )}
    </div>
  );
}

function OrderRow({ stack, place }: { readonly stack: StackAnalysis; readonly place: number }): ReactNode {
  const act = useApp((state) => state.act);
  const pick = (): void => {
    act.goToPlace(undefined);
    act.pickPivot(stack.pivotId);
    act.pickStack(stack.id);
    focusPicked();
  };
  return (
    <li>
      <button type="button" className="order-button warms press stack" onClick={pick}>
        <span className="order-place soft huge numbers">{place}</span>
        <span className="order-name">{stack.name}</span>
        <span className="soft small">
          <strong className="fact-number numbers">{wordTorque(stack.tightening.torque_Nm)}</strong>, in from{' '}
          <SidePlate side={stack.from} />
          <span className="away clip no-wrap">the {sideWord(stack.from)}</span>
        </span>
      </button>
    </li>
  );
}

function stacksInOrder({ analysis, tasks }: Plan): readonly StackAnalysis[] {
  const stacks = new Map(analysis.pivots.flatMap((pivot) => pivot.stacks.map((stack) => [stack.id, stack] as const)));
  return tasks.flatMap(({ kind, stackId }) =>
    kind === 'fit' && stackId !== undefined ? (stacks.get(stackId) ?? []) : [],
  );
}
