/**
 * The choices of a question and, once it is shown, which is right and why.
 */
import { useEffect, useState, type ReactNode } from 'react';
import type { CardShown } from '../../shared/index.ts';

interface Props {
  readonly card: CardShown;
  /** Shows the answer; without it the choices only stand there. */
  readonly onAnswer?: () => void;
}

export function QuestionChoices({ card: { choices = [], answer, at }, onAnswer }: Props): ReactNode {
  const [picked, setPicked] = useState<number | undefined>(undefined);
  useEffect(() => setPicked(undefined), [at]);
  return (
    <div className={answer ? 'stack gap-2' : 'flow gap-3'}>
      <ol className="lesson-choices flow gap-2">
        {choices.map((choice, k) => (
          // One that is being written may read like another.
          <li key={`${k} ${choice}`}>
            {onAnswer ? (
              <button
                type="button"
                className="drill-choice press line gap-3 strong"
                aria-pressed={picked === k}
                aria-disabled={answer !== undefined}
                data-right={answer ? answer.right === k : undefined}
                onClick={() => {
                  if (answer) return;
                  setPicked(k);
                  onAnswer();
                }}
              >
                {choice}
                {answer?.right === k && <span className="end medium">right</span>}
              </button>
            ) : (
              <p className="drill-choice line gap-3 strong" data-right={answer ? answer.right === k : undefined}>
                {choice}
                {answer?.right === k && <span className="end medium">right</span>}
              </p>
            )}
          </li>
        ))}
      </ol>
      {answer ? (
        <p className="callout medium" role="status">
          {answer.why}
        </p>
      ) : (
        onAnswer && (
          <button type="button" className="button medium no-wrap" onClick={onAnswer}>
            Show the answer
          </button>
        )
      )}
    </div>
  );
}
