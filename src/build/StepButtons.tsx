/**
 * Steps of a run as buttons that go to them.
 */
import type { ReactNode } from 'react';
import type { Analysis } from '../../shared/index.ts';
import { goTo, setPlaying } from './orderClock.ts';
import { standOf, type Run } from './orderRun.ts';
import { taskWords, stepWords } from './StepFacts.tsx';
import { StandMark, standWord } from './marks.tsx';

/**
 * The steps `from` to `to` of a run, counted from 1, as buttons that go to them; a line names a task where it begins.
 */
export function StepButtons({
  run,
  from,
  to,
  at,
  analysis,
  areTasksNamed = false,
}: {
  readonly run: Run;
  readonly from: number;
  readonly to: number;
  readonly at: number;
  readonly analysis: Analysis;
  readonly areTasksNamed?: boolean;
}): ReactNode {
  return (
    <ol className="plan-steps stack">
      {run.steps.slice(from - 1, to).map((step, k, steps) => (
        <li key={step.id}>
          {areTasksNamed && step.taskId !== steps[k - 1]?.taskId && (
            <p className="access-task soft small strong">{taskWords(step, analysis)}</p>
          )}
          <button
            type="button"
            className="plan-step edged tints press line gap-4 snug"
            aria-current={from + k === at ? 'step' : undefined}
            onClick={() => {
              setPlaying(false);
              goTo(from + k, run.steps.length);
            }}
          >
            <StandMark stand={standOf(step)} />
            <span className="away clip no-wrap">{standWord(standOf(step))}: </span>
            <span>{stepWords(step, analysis).title}</span>
          </button>
        </li>
      ))}
    </ol>
  );
}
