/**
 * The tasks of a run in their order, in three lanes: one stands on the non-drive side, at the bench, or on the drive
 * side.
 *
 * A line across says each change of side. A task unfolds into its steps; the step shown is marked and kept in sight.
 */
import { memo, useEffect, useRef, type ReactNode } from 'react';
import { wordChange, wordTool, type Analysis } from '../../shared/index.ts';
import type { Run, TaskRow } from './orderRun.ts';
import { BecauseFold } from './Because.tsx';
import { laneOf, StandMark, standWord, type Stand } from './marks.tsx';
import { taskWords } from './StepFacts.tsx';
import { StepButtons } from './StepButtons.tsx';

interface Props {
  readonly rows: readonly TaskRow[];
  readonly run: Run;
  readonly at: number;
  readonly analysis: Analysis;
}

export const TaskList = memo(function TaskList({ rows, run, at, analysis }: Props): ReactNode {
  const list = useRef<HTMLOListElement>(null);
  const shown = rows.findIndex(({ from, to }) => at >= from && at <= to);
  useEffect(() => {
    list.current?.querySelector('[aria-current="step"]')?.scrollIntoView({ block: 'nearest' });
  }, [at]);
  let stand: Stand;
  return (
    <ol className="stack" ref={list}>
      {rows.map((row, k) => {
        const before = stand;
        stand = row.stand ?? stand;
        const isChange = before !== undefined && row.stand !== undefined && row.stand !== before;
        return (
          <Row
            key={`${row.id} ${row.from}`}
            row={row}
            place={k + 1}
            lane={stand}
            change={isChange ? row.stand : undefined}
            isShown={k === shown}
            run={run}
            at={k === shown ? at : 0}
            analysis={analysis}
          />
        );
      })}
    </ol>
  );
});

interface RowProps {
  readonly row: TaskRow;
  readonly place: number;
  /** Where one stands, or last stood. */
  readonly lane: Stand;
  /** Where one goes for it. */
  readonly change: Stand;
  readonly isShown: boolean;
  readonly run: Run;
  readonly at: number;
  readonly analysis: Analysis;
}

const Row = memo(function Row({ row, place, lane, change, isShown, run, at, analysis }: RowProps): ReactNode {
  const tools = row.tools
    .map(({ role, tool }) => `${role === 'turns' ? 'turn' : 'hold'} with ${wordTool(tool)}`)
    .join(', ');
  return (
    <li className="plan-task" data-lane={laneOf(lane)} data-task={row.id}>
      {change !== undefined && (
        <p className="plan-change stack gap-3">
          <span className="plan-lane flex anchor" aria-hidden="true" />
          <StandMark stand={change} /> {wordChange(change)}
        </p>
      )}
      <div className="plan-task-line stack">
        <span className="plan-lane flex anchor">
          <StandMark stand={row.stand} />
          <span className="away clip no-wrap">{standWord(row.stand)}</span>
        </span>
        <details className="plan-task-fold turns" open={isShown || undefined}>
          <summary className="plan-task-head edged tints line gap-4" data-shown={isShown}>
            <span className="plan-task-place soft numbers">{place}</span>
            <span className="stack snug slim">
              <span className="plan-task-name">{taskWords(run.steps[row.from - 1]!, analysis)}</span>
              <span className="soft small">{[standWord(row.stand), ...(tools === '' ? [] : [tools])].join(' · ')}</span>
            </span>
          </summary>
          <StepButtons run={run} from={row.from} to={row.to} at={at} analysis={analysis} />
          <BecauseFold because={row.because} analysis={analysis} />
        </details>
      </div>
    </li>
  );
});
