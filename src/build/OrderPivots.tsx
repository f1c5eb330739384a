/**
 * The pivots in the build order: the one the step works at, and the way to the steps of another.
 */
import type { ReactNode } from 'react';
import type { Analysis } from '../../shared/index.ts';
import { pickStepOf, useCloseUp } from './closeUp.ts';
import type { Run } from './orderRun.ts';
import { PivotStrip } from '../widgets/PivotStrip.tsx';

interface Props {
  readonly analysis: Analysis;
  readonly run: Run;
  /** Steps done. */
  readonly at: number;
}

export function OrderPivots({ analysis, run, at }: Props): ReactNode {
  const isClose = useCloseUp((state) => state.isClose);
  const pivotId = run.steps[at - 1]?.step.pivotId;
  const pick = (id: string | undefined): void => {
    useCloseUp.setState({ isClose: id !== undefined });
    if (id !== undefined && id !== pivotId) pickStepOf(run, id);
  };
  return <PivotStrip pivots={analysis.pivots} picked={isClose ? pivotId : undefined} onPick={pick} />;
}
