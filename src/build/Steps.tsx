/**
 * The steps and the words of the step: build or strip-down, this pivot or all of them.
 *
 * Back and Next stand at the two ends, under two thumbs, with the track between them. A sideways swipe over the words
 * steps.
 */
import { useMemo, useRef, type ReactNode } from 'react';
import type { Follow } from '../../shared/index.ts';
import type { RunStep } from './orderRun.ts';
import type { Direction, Scope } from '../page/route.ts';
import { pivotOf, runOf, scopeOf, shownOf, stepOf } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { AwakeLine } from '../widgets/AwakeLine.tsx';
import { Segments } from '../widgets/Segments.tsx';
import { useSwipe } from '../widgets/useSwipe.ts';
import { BuildOrder } from './BuildOrder.tsx';
import { GoRound } from './GoRound.tsx';
import { NoPlan } from './NoPlan.tsx';
import { Cautions, StepFacts, stepWords } from './StepFacts.tsx';
import { Track } from './Track.tsx';

export function StepTrack(): ReactNode {
  const run = useApp(runOf);
  const isRunning = useApp((state) => state.planned.is === 'running');
  const at = useApp((state) => state.step);
  const act = useApp((state) => state.act);
  const analysis = useApp(shownOf);
  const total = run.steps.length;
  const step = at === undefined ? undefined : run.steps[at];
  const title = step && analysis ? stepWords(step, analysis).title : 'no step chosen';
  return (
    <Track
      run={run}
      at={at === undefined || !step ? 0 : at + 1}
      said={
        isRunning
          ? 'The order is being worked out'
          : at === undefined
            ? `Before the first of ${total}`
            : `Step ${at + 1} of ${total}: ${title}`
      }
      onTo={(to) => act.stepTo(to === 0 ? undefined : to - 1)}
    />
  );
}

export function BackButton(): ReactNode {
  const canGo = useApp((state) => state.step !== undefined);
  const act = useApp((state) => state.act);
  return (
    <button
      type="button"
      className="button step-button usual medium no-wrap"
      aria-disabled={!canGo}
      onClick={() => act.stepBy(-1)}
    >
      <Arrow isBack /> <span className="away-short">Back</span>
    </button>
  );
}

export function NextButton(): ReactNode {
  const canGo = useApp((state) => (state.step ?? -1) < runOf(state).steps.length - 1);
  const act = useApp((state) => state.act);
  return (
    <button
      type="button"
      className="button button-main step-button usual medium no-wrap"
      aria-disabled={!canGo}
      onClick={() => act.stepBy(1)}
    >
      Next <Arrow />
    </button>
  );
}

function Arrow({ isBack = false }: { readonly isBack?: boolean }): ReactNode {
  return (
    <svg className="arrow icon" viewBox="0 0 20 20" aria-hidden="true">
      <path d={isBack ? 'M12.5 4 6.5 10l6 6' : 'm7.5 4 6 6-6 6'} />
    </svg>
  );
}

/** Where in the run the step shown is, in words. */
function StepCount(): ReactNode {
  const total = useApp((state) => runOf(state).steps.length);
  const at = useApp((state) => state.step);
  const isRunning = useApp((state) => state.planned.is === 'running');
  if (isRunning) return <span className="step-count numbers no-wrap">Working out the order…</span>;
  if (total === 0) return <span className="step-count numbers no-wrap">No steps</span>;
  return (
    <span className="step-count numbers no-wrap">
      {at === undefined ? `${total} steps` : `Step ${at + 1} of ${total}`}
    </span>
  );
}

const DIRECTIONS: readonly (readonly [Direction, string])[] = [
  ['build', 'Build'],
  ['strip', 'Strip down'],
];
const SCOPES: readonly (readonly [Scope, string])[] = [
  ['pivot', 'This pivot'],
  ['bike', 'All pivots'],
];
const FOLLOWS: readonly (readonly [Follow, string])[] = [
  ['ours', 'Our order'],
  ['makers', 'The maker’s'],
];

export function StepChoices(): ReactNode {
  const direction = useApp((state) => state.direction);
  const scope = useApp(scopeOf);
  const hasPivot = useApp((state) => state.pivotId !== undefined);
  const act = useApp((state) => state.act);
  return (
    <div className="step-choices flow gap-3">
      <Segments label="Direction" choices={DIRECTIONS} value={direction} pick={act.setDirection} />
      <Segments
        label="Steps of"
        choices={SCOPES}
        value={scope}
        pick={act.setScope}
        off={hasPivot ? undefined : 'pivot'}
      />
      <FollowChoice />
    </div>
  );
}

/** Whose order is followed everywhere; only where the maker gives one that is possible and not the same. */
export function FollowChoice(): ReactNode {
  const follow = useApp((state) => state.follow);
  const planned = useApp((state) => state.planned);
  const act = useApp((state) => state.act);
  // While the other plan is on its way the choice stays, and with it the focus.
  const hasChoice = useRef(false);
  if (planned.is === 'done') {
    const { makersOrder } = planned.given.plan;
    hasChoice.current = makersOrder?.cost !== undefined && !makersOrder.isSame;
  }
  if (!hasChoice.current) return null;
  return <Segments label="Whose order" choices={FOLLOWS} value={follow} pick={act.setFollow} />;
}

/** Says each step to a screen reader, wherever on the page its words are, or are not. */
export function StepAnnouncer(): ReactNode {
  const analysis = useApp(shownOf);
  const step = useApp(stepOf);
  const words = step && analysis ? stepWords(step, analysis) : undefined;
  return (
    <p className="away clip no-wrap" aria-live="polite" aria-atomic="true">
      {words && (
        <>
          <StepCount />: {words.title}. {words.text} {words.cautions.join(' ')}
        </>
      )}
    </p>
  );
}

/** The words of the step shown. */
export function StepWords(): ReactNode {
  const step = useApp(stepOf);
  const act = useApp((state) => state.act);
  const swipe = useSwipe(act.stepBy);

  return (
    <section className="step-words fit on-sheet scroll" aria-label="Step" tabIndex={0} {...swipe}>
      {step ? <StepText step={step} /> : <NoStep />}
    </section>
  );
}

function StepText({ step }: { readonly step: RunStep }): ReactNode {
  const analysis = useApp(shownOf);
  const pivotName = useApp((state) => pivotOf(state)?.name);
  const isFirst = useApp((state) => state.step === 0);
  const act = useApp((state) => state.act);
  const words = useMemo(() => analysis && stepWords(step, analysis), [step, analysis]);
  if (!analysis || !words) return null;
  return (
    <>
      <p className="soft small medium">
        <StepCount />
        {pivotName !== undefined ? `, ${pivotName}` : ''}
      </p>
      <h2 className="step-title">{words.title}</h2>
      <StepFacts shown={step} analysis={analysis} />
      {!step.step.atBench && <GoRound side={step.step.side} />}
      <p className="step-text usual">{words.text}</p>
      <Cautions cautions={words.cautions} />
      {isFirst && (
        <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('safety')}>
          Before you start
        </button>
      )}
      <AwakeLine />
    </>
  );
}

function NoStep(): ReactNode {
  const direction = useApp((state) => state.direction);
  const total = useApp((state) => runOf(state).steps.length);
  const isThere = useApp((state) => state.planned.is === 'done');
  const pivotName = useApp((state) => pivotOf(state)?.name);
  // Without a picture the order stands in its place.
  const hasPicture = useApp((state) => state.webgl === 'ok');
  if (!isThere) return <NoPlan />;
  if (total === 0) return <p className="step-text usual">This pivot has no steps.</p>;
  return (
    <>
      <p className="soft small medium">
        <StepCount />
        {pivotName === undefined ? ', all pivots' : ''}
      </p>
      <h2 className="step-title">{pivotName ?? 'The whole bike'}, as it is when tight</h2>
      <p className="step-text usual">
        {direction === 'build' ? 'Next lays the parts out and begins to build.' : 'Next begins to take it apart.'} Page
        Down, arrow keys and a sideways swipe here step too.
      </p>
      {pivotName === undefined && hasPicture && <BuildOrder />}
    </>
  );
}
