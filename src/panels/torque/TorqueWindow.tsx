/**
 * The part of a stack's torque card that is worked out after it has been drawn: its window, and what stands behind it.
 */
import type { ReactNode } from 'react';
import type { Analysis, StackAnalysis } from '../../../shared/index.ts';
import { useTorqueCard } from '../../app/useTorqueCards.ts';
import { TorqueMore } from './TorqueMore.tsx';
import { WindowStrip } from './WindowStrip.tsx';

interface Props {
  readonly stack: StackAnalysis;
  readonly analysis: Analysis;
}

export function TorqueWindow({ stack, analysis }: Props): ReactNode {
  const card = useTorqueCard(analysis, stack.pivotId, stack.id);
  if (!card) return <div className="window window-waiting" />;
  return (
    <>
      <WindowStrip window={card.window} />
      <TorqueMore key={stack.id} card={card} analysis={analysis} />
    </>
  );
}
