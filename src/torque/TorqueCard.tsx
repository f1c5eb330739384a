/**
 * The torque card of a stack: how much, with what, from which side, which way round, and what it gives.
 */
import type { ReactNode } from 'react';
import {
  sideWord,
  wordForce,
  wordHabit,
  wordOtherUnits,
  wordTreatment,
  wordTurn,
  type Analysis,
  type StackAnalysis,
} from '../../shared/index.ts';
import { SidePlate, TurnMark } from '../widgets/marks.tsx';
import { GoRound } from '../build/GoRound.tsx';
import { TorqueWindow } from './TorqueWindow.tsx';
import { TurnDrawing } from './TurnDrawing.tsx';

interface Props {
  readonly stack: StackAnalysis;
  readonly analysis: Analysis;
  readonly isOnlyOne: boolean;
}

export function TorqueCard({ stack, analysis, isOnlyOne }: Props): ReactNode {
  const { tightening } = stack;
  const told = analysis.model.pivots.flatMap((pivot) => pivot.stacks).find((candidate) => candidate.id === stack.id);
  const { low, spec, high } = tightening.preload_N;
  return (
    <section className="torque">
      <h3>{isOnlyOne ? 'Torque' : `Torque: ${stack.name}`}</h3>
      <p className="torque-number">
        <span>
          {tightening.torque_Nm} <span className="torque-unit">N·m</span>
        </span>
        <span className="torque-mark" aria-hidden="true">
          <SidePlate side={tightening.stand} /> <TurnMark turn={tightening.turn} />
        </span>
      </p>
      <p className="torque-other">{wordOtherUnits(tightening.torque_Nm)}</p>
      {tightening.turn === 'anticlockwise' && <p className="habit">{wordHabit({ tightening })}</p>}
      <div className="torque-how">
        <div>
          <TurnDrawing tightening={tightening} />
          <p className="turn-seen">seen from the {sideWord(tightening.stand)}</p>
        </div>
        <p className="torque-turn">{wordTurn(tightening)}</p>
      </div>
      <GoRound side={tightening.stand} />
      <dl className="facts">
        <div className="fact">
          <dt>Thread</dt>
          <dd>{wordTreatment(stack.id, analysis)}</dd>
        </div>
        <div className="fact">
          <dt>Clamp</dt>
          <dd>
            <strong className="fact-number">{wordForce(spec)}</strong> ({wordForce(low)} to {wordForce(high)}, as
            friction goes)
          </dd>
        </div>
      </dl>
      <TorqueWindow stack={stack} analysis={analysis} />
      {told?.fitted_for_now !== undefined && (
        <p className="fitted-for-now">Will be opened again: {told.fitted_for_now}</p>
      )}
      {told?.notes?.map((note) => (
        <p key={note}>{note}</p>
      ))}
    </section>
  );
}
