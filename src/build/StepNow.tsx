/**
 * The step shown: what a hand does, from which side, with what, and why it comes now.
 */
import type { ReactNode } from 'react';
import { CAUTIONS, type Analysis } from '../../shared/index.ts';
import { goTo, setPlaying } from './orderClock.ts';
import type { Run, RunStep } from './orderRun.ts';
import { useSwipe } from '../widgets/useSwipe.ts';
import { Cautions, taskWords, StepFacts, stepWords } from './StepFacts.tsx';
import { BecauseFold } from './Because.tsx';
import { GoRound } from './GoRound.tsx';

interface Props {
  readonly run: Run;
  readonly at: number;
  readonly analysis: Analysis;
}

export function StepNow({ run, at, analysis }: Props): ReactNode {
  const shown = run.steps[at - 1];
  const swipe = useSwipe((by) => {
    setPlaying(false);
    goTo(at + by, run.steps.length);
  });
  return (
    <section className="plan-now slim on-sheet scroll" aria-label="Step" tabIndex={0} {...swipe}>
      {shown ? <Shown shown={shown} analysis={analysis} /> : <Before total={run.steps.length} isBuilt={run.isBuilt} />}
    </section>
  );
}

function Before({ total, isBuilt }: { readonly total: number; readonly isBuilt: boolean }): ReactNode {
  return (
    <>
      <h3 className="step-title">
        {total === 0 ? 'No steps to show' : isBuilt ? 'Before anything is opened' : 'The bare frame in the stand'}
      </h3>
      <p className="step-text usual">{isBuilt ? CAUTIONS.air : CAUTIONS.body}</p>
    </>
  );
}

function Shown({ shown, analysis }: { readonly shown: RunStep; readonly analysis: Analysis }): ReactNode {
  const { step } = shown;
  const words = stepWords(shown, analysis);
  return (
    <>
      <p className="soft small medium">{taskWords(shown, analysis)}</p>
      <h3 className="step-title">{words.title}</h3>
      <StepFacts shown={shown} analysis={analysis} />
      {!step.atBench && <GoRound side={step.side} />}
      <p className="step-text usual">{words.text}</p>
      <Cautions cautions={words.cautions} />
      {!shown.strip && <BecauseFold key={shown.id} because={step.because} analysis={analysis} isOpen />}
    </>
  );
}
