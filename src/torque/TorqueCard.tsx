/**
 * The torque card of a stack: how much, with what, from which side, which way round, and what it gives.
 */
import type { ReactNode } from 'react';
import {
  sideWord,
  wordForce,
  wordHabit,
  wordOtherUnits,
  wordPair,
  wordTorque,
  wordTreatment,
  wordTurn,
  type Analysis,
  type StackAnalysis,
} from '../../shared/index.ts';
import { SidePlate, TurnMark } from '../widgets/marks.tsx';
import { GoRound } from '../build/GoRound.tsx';
import { ReachedBox } from './ReachedBox.tsx';
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
  const pair = wordPair(stack.id, analysis);
  return (
    <section className="torque" data-section={`torque ${stack.id}`} tabIndex={-1}>
      <h3>{isOnlyOne ? 'Torque' : `Torque: ${stack.name}`}</h3>
      <p className="torque-number line numbers apart-ends">
        <span>
          {wordTorque(tightening.torque_Nm).replace(' N·m', '')} <span className="torque-unit large">N·m</span>
        </span>
        <span className="torque-mark line gap-1" aria-hidden="true">
          <SidePlate side={tightening.stand} /> <TurnMark turn={tightening.turn} />
        </span>
      </p>
      <p className="soft small numbers">{wordOtherUnits(tightening.torque_Nm)}</p>
      {tightening.turn === 'anticlockwise' && (
        <p className="habit callout callout-trouble">{wordHabit({ tightening })}</p>
      )}
      <div className="torque-how stack gap-5">
        <div>
          <TurnDrawing tightening={tightening} />
          <p className="turn-seen soft small">seen from the {sideWord(tightening.stand)}</p>
        </div>
        <p className="torque-turn medium">{wordTurn(tightening)}</p>
      </div>
      {pair !== undefined && <p>{pair}</p>}
      <GoRound side={tightening.stand} />
      <dl className="facts stack gap-1">
        <div className="fact stack gap-3">
          <dt>Thread</dt>
          <dd>{wordTreatment(stack.id, analysis)}</dd>
        </div>
        <div className="fact stack gap-3">
          <dt>Clamp</dt>
          <dd>
            <strong className="fact-number numbers">{wordForce(stack.clamp_N)}</strong> where it is least
          </dd>
        </div>
        <div className="fact stack gap-3">
          <dt>Pull</dt>
          <dd>
            {wordForce(spec)} ({wordForce(low)} to {wordForce(high)}, as friction goes)
          </dd>
        </div>
      </dl>
      <ReachedBox key={stack.id} stack={stack} analysis={analysis} />
      <TorqueWindow stack={stack} analysis={analysis} />
      {told?.fitted_for_now !== undefined && (
        <p className="callout callout-warn">Will be opened again: {told.fitted_for_now}</p>
      )}
      {told?.notes?.map((note) => (
        <p key={note}>{note}</p>
      ))}
    </section>
  );
}
