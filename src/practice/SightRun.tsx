/**
 * One look: a question, its choices as buttons, and after the answer which were right and why.
 */
import { useMemo, useRef, useState, type ReactNode } from 'react';
import {
  gradeOf,
  PRACTICE_LIMITS,
  rightOf,
  sightQuestion,
  wordQuestion,
  wordSightChoice,
  wordSightWhy,
  type Analysis,
  type Grade,
  type Plan,
  type SightKind,
} from '../../shared/index.ts';
import { useApp } from '../page/store.ts';
import { usePractice, type DrillAt } from './practiceStore.ts';
import { Result } from './Result.tsx';
import { useMinutes } from './useClock.ts';

interface Props {
  readonly analysis: Analysis;
  readonly drill: DrillAt;
  readonly onNext: () => void;
}

export function SightRun({ analysis, drill, onNext }: Props): ReactNode {
  const plan = useApp(({ planned }) => (planned.is === 'done' ? planned.given.plan : undefined));
  const question = useMemo(
    () => sightQuestion(analysis, drill.of as SightKind, drill.seed, plan),
    [analysis, drill, plan],
  );
  if (!question) return <p className="drill-none">This bike has nothing to ask about that.</p>;
  return <Asked key={drill.id + drill.seed} analysis={analysis} question={question} plan={plan} onNext={onNext} />;
}

function Asked({
  analysis,
  question,
  plan,
  onNext,
}: {
  readonly analysis: Analysis;
  readonly question: NonNullable<ReturnType<typeof sightQuestion>>;
  readonly plan: Plan | undefined;
  readonly onNext: () => void;
}): ReactNode {
  const minutes = useMinutes();
  const [picked, setPicked] = useState<number | undefined>(undefined);
  const [told, setTold] = useState<{ readonly right: readonly number[]; readonly grade: Grade } | undefined>(undefined);
  // One answer counts, also while it is on its way to the disk.
  const isAnswered = useRef(false);
  const isRight = picked !== undefined && told?.right.includes(picked) === true;
  const answer = (k: number): void => {
    if (isAnswered.current) return;
    const right = rightOf(analysis, question, plan);
    const run = {
      tries: 1,
      isRight: right.includes(k),
      minutes: minutes(),
      par_min: PRACTICE_LIMITS.sight_min.value,
    };
    const grade = gradeOf(run);
    isAnswered.current = true;
    void usePractice
      .getState()
      .keep({ grade, tries: run.tries, minutes: run.minutes })
      .then(() => {
        setPicked(k);
        setTold({ right, grade });
      });
  };
  return (
    <section className="drill stack gap-5" aria-label="Question">
      <h3 className="drill-question large">{wordQuestion(question, analysis)}</h3>
      <ul className="drill-choices stack gap-3">
        {question.choices.map((choice, k) => (
          <li key={wordSightChoice(choice, analysis)}>
            <button
              type="button"
              className="drill-choice press warms line gap-3 strong"
              aria-pressed={picked === k}
              aria-disabled={told !== undefined}
              data-right={told ? told.right.includes(k) : undefined}
              onClick={() => answer(k)}
            >
              <span>{wordSightChoice(choice, analysis)}</span>
              {told?.right.includes(k) && <span className="end medium">right</span>}
              {told && picked === k && !told.right.includes(k) && <span className="end medium">your answer</span>}
            </button>
          </li>
        ))}
      </ul>
      {told && (
        <>
          <Result isRight={isRight} grade={told.grade} />
          <p>{wordSightWhy(question, analysis)}</p>
          <p>
            <button type="button" className="button button-main medium no-wrap" onClick={onNext} autoFocus>
              Next
            </button>
          </p>
        </>
      )}
    </section>
  );
}
