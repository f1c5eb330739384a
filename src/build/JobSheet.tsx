/**
 * The order on paper: every step with a box to tick, its side, tools and torque. Seen in print alone.
 */
import type { ReactNode } from 'react';
import { CAUTIONS, sideWord, wordMeasure, wordPlanTool, type Analysis } from '../../shared/index.ts';
import { standOf, type Run, type RunStep, type TaskRow } from './orderRun.ts';
import { StandMark, standWord } from './marks.tsx';
import { taskWords, stepWords } from './StepFacts.tsx';

interface Props {
  readonly title: string;
  readonly rows: readonly TaskRow[];
  readonly run: Run;
  readonly analysis: Analysis;
}

export function JobSheet({ title, rows, run, analysis }: Props): ReactNode {
  const variant = analysis.model.variants?.find(({ id }) => id === analysis.variant);
  return (
    <div className="job-sheet prints on-paper" aria-hidden="true">
      <header className="job-sheet-head">
        <p className="job-sheet-name">{[analysis.model.name, ...(variant ? [variant.name] : []), title].join(': ')}</p>
        <p className="job-sheet-fields">
          <span>Bike</span>
          <span>Mechanic</span>
          <span>Date</span>
        </p>
        <ul>
          {[CAUTIONS.air, CAUTIONS.body, CAUTIONS.torque].map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </header>
      {rows.map((row, k) => (
        <section key={`${row.id} ${row.from}`} className="job-sheet-task">
          <h3>
            <StandMark stand={row.stand} /> {k + 1}. {taskWords(run.steps[row.from - 1]!, analysis)}
            <span className="job-sheet-side">{standWord(row.stand)}</span>
          </h3>
          <ol>
            {run.steps.slice(row.from - 1, row.to).map((step) => (
              <Line key={step.id} step={step} analysis={analysis} />
            ))}
          </ol>
        </section>
      ))}
      <footer>
        <p>{CAUTIONS.after}</p>
        <p>{CAUTIONS.defer}</p>
      </footer>
    </div>
  );
}

function Line({ step, analysis }: { readonly step: RunStep; readonly analysis: Analysis }): ReactNode {
  const words = stepWords(step, analysis);
  const stand = standOf(step);
  const facts = [
    ...step.step.tools.map(
      (tool) =>
        `${wordPlanTool(tool, analysis)}${tool.kind === 'drive' ? ` (${tool.role}, ${sideWord(tool.side)})` : ''}`,
    ),
    ...(step.step.torque_Nm === undefined || step.strip
      ? []
      : [wordMeasure({ value: step.step.torque_Nm, unit: 'N·m' })]),
  ];
  return (
    <li className="job-sheet-line">
      <span className="job-sheet-box" />
      <span>
        <strong>{words.title}</strong> {words.text} {words.cautions.join(' ')}
      </span>
      <span className="job-sheet-facts">
        {standWord(stand)}
        {facts.map((fact) => (
          <span key={fact}>{fact}</span>
        ))}
        {step.step.torque_Nm !== undefined && !step.strip && <span className="job-sheet-reached">reached: </span>}
      </span>
    </li>
  );
}
