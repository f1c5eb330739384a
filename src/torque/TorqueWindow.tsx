/**
 * The part of a stack's torque card that is worked out after it has been drawn: its window, and what stands behind it.
 */
import type { ReactNode } from 'react';
import type { Analysis, StackAnalysis } from '../../shared/index.ts';
import { useWork } from '../page/useWork.ts';
import { WorkProgress } from '../widgets/WorkProgress.tsx';
import { TorqueMore } from './TorqueMore.tsx';
import { WindowStrip } from './WindowStrip.tsx';

interface Props {
  readonly stack: StackAnalysis;
  readonly analysis: Analysis;
}

export function TorqueWindow({ stack, analysis }: Props): ReactNode {
  const { pivotId } = stack;
  const work = useWork(analysis, pivotId, { kind: 'torque-cards', asked: { analysis, pivotId } });
  const { state } = work;
  if (state.is === 'failed') return <WorkProgress work={work} label="Working out the torque window" />;
  const card = state.is === 'done' ? state.given.find(({ stackId }) => stackId === stack.id) : undefined;
  if (!card) return <div className="window window-waiting" />;
  return (
    <>
      <WindowStrip window={card.window} />
      <TorqueMore key={stack.id} card={card} analysis={analysis} />
    </>
  );
}
