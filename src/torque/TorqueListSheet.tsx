/**
 * The whole bike's torque list in build order, to print and hang on the wall: number, side, turn, tools, thread, and an
 * empty square to tick by hand.
 */
import { type ReactNode } from 'react';
import {
  capital,
  CAUTIONS,
  sideWord,
  torqueList,
  wordOtherUnits,
  wordPair,
  wordSecuring,
  wordTool,
  wordTorque,
  wordTreatment,
  type Analysis,
  type TorqueRow,
} from '../../shared/index.ts';
import { useApp } from '../page/store.ts';
import { NoPlan } from '../build/NoPlan.tsx';
import { Dialog } from '../widgets/Dialog.tsx';
import { SidePlate, TurnMark } from '../widgets/marks.tsx';

export function TorqueListSheet({
  analysis,
  onClose,
}: {
  readonly analysis: Analysis;
  readonly onClose: () => void;
}): ReactNode {
  const { model } = analysis;
  const planned = useApp((state) => state.planned);
  const variant = model.variants?.find((candidate) => candidate.id === analysis.variant);
  return (
    <Dialog title="Torque list" isWide onClose={onClose}>
      <div className="torque-list prints print-on-paper stack gap-4 usual">
        <p className="large">
          <strong>{model.name}</strong>
          {variant ? `, ${variant.name}` : ''}: in{' '}
          {planned.is === 'done' && planned.given.plan.follows === 'makers' ? 'the maker’s' : 'build'} order
        </p>
        <button type="button" className="button button-main no-print medium no-wrap" onClick={() => window.print()}>
          Print
        </button>
        {planned.is === 'done' ? (
          <ol className="torque-rows">
            {torqueList(planned.given.plan).map((row) => (
              <Row key={row.stackId} row={row} analysis={analysis} />
            ))}
          </ol>
        ) : (
          <NoPlan />
        )}
        <p>{CAUTIONS.torque}</p>
        <p>{CAUTIONS.after}</p>
        <p>{CAUTIONS.defer}</p>
      </div>
    </Dialog>
  );
}

function Row({ row, analysis }: { readonly row: TorqueRow; readonly analysis: Analysis }): ReactNode {
  const { tightening } = row;
  const { held } = tightening;
  const pair = wordPair(row.stackId, analysis);
  const securing = wordSecuring(row.stackId, analysis);
  return (
    <li className={row.isAgainstHabit ? 'torque-row torque-row-habit stack' : 'torque-row stack'}>
      <span className="torque-row-place soft numbers strong">{row.place}</span>
      <span className="torque-row-name">{row.stackName}</span>
      <span className="torque-row-number stack numbers">
        <strong>{wordTorque(row.torque['N·m'])}</strong>
        <span>{wordOtherUnits(row.torque['N·m'])}</span>
      </span>
      <span className="torque-row-how stack gap-1">
        <span className="torque-row-line flex gap-3">
          <SidePlate side={tightening.stand} /> <TurnMark turn={tightening.turn} />
          <span>
            From the {sideWord(tightening.stand)}, <strong>{tightening.turn}</strong>, {wordTool(tightening.tool)}
          </span>
        </span>
        {row.isAgainstHabit && <strong className="trouble-words">Against habit: it looks like undoing</strong>}
        {held && (
          <span className="torque-row-line flex gap-3">
            <SidePlate side={held.side} />
            <span>
              Hold the {held.what === 'axle' ? 'axle' : tightening.receiver}
              {held.tool ? `, ${wordTool(held.tool)}` : ''}
            </span>
          </span>
        )}
        <span>{capital(wordTreatment(row.stackId, analysis))}</span>
        {pair !== undefined && <span>{pair}</span>}
        {securing !== undefined && <span>{securing}</span>}
        {row.fitted_for_now !== undefined && <span>Will be opened again: {row.fitted_for_now}</span>}
      </span>
      <span className="torque-row-tick" aria-hidden="true" />
    </li>
  );
}
