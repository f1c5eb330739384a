/**
 * The step shown: what a hand does, from which side, with what, and why it comes now.
 */
import type { ReactNode } from 'react';
import {
  CAUTIONS,
  sideWord,
  wordJob,
  wordMeasure,
  wordPlanStep,
  wordPlanTool,
  wordStripStep,
  type Analysis,
  type PlanStep,
  type WordedStep,
} from '../../../shared/index.ts';
import { goTo, setPlaying } from '../../app/orderClock.ts';
import { standOf, type Run, type RunStep } from '../../app/orderRun.ts';
import { useSwipe } from '../../widgets/useSwipe.ts';
import { BecauseFold } from './Because.tsx';
import { StandMark, standWord } from './marks.tsx';

const HELD_WORDS = { fingertip: 'a fingertip', grease: 'grease', axle: 'the axle' } as const;

interface Props {
  readonly run: Run;
  readonly at: number;
  readonly analysis: Analysis;
}

/** Name of the job of a step of a run. */
export function jobWords({ jobId, strip }: RunStep, analysis: Analysis): string {
  return wordJob(jobId, analysis, strip ? 'strip' : 'build');
}

/** Words of a step of a run. */
export function stepWords(shown: RunStep, analysis: Analysis): WordedStep {
  return shown.strip ? wordStripStep(shown.strip, analysis) : wordPlanStep(shown.step, analysis);
}

export function StepNow({ run, at, analysis }: Props): ReactNode {
  const shown = run.steps[at - 1];
  const swipe = useSwipe((by) => {
    setPlaying(false);
    goTo(at + by, run.steps.length);
  });
  return (
    <section className="plan-now" aria-label="Step" tabIndex={0} {...swipe}>
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
      <p className="step-text">{isBuilt ? CAUTIONS.air : CAUTIONS.body}</p>
    </>
  );
}

function Shown({ shown, analysis }: { readonly shown: RunStep; readonly analysis: Analysis }): ReactNode {
  const { step } = shown;
  const words = stepWords(shown, analysis);
  return (
    <>
      <p className="step-place">{jobWords(shown, analysis)}</p>
      <h3 className="step-title">{words.title}</h3>
      <StepFacts shown={shown} analysis={analysis} />
      <p className="step-text">{words.text}</p>
      <Cautions cautions={words.cautions} />
      {!shown.strip && <BecauseFold key={shown.id} because={step.because} analysis={analysis} isOpen />}
    </>
  );
}

/** Side, tools, torque, depth, grease and what holds, each where the step has it. */
export function StepFacts({ shown, analysis }: { readonly shown: RunStep; readonly analysis: Analysis }): ReactNode {
  const { step, strip } = shown;
  const stand = standOf(shown);
  const facts: readonly (readonly [string, ReactNode])[] = [
    [
      'Stand',
      <>
        <StandMark stand={stand} /> {standWord(stand)}
      </>,
    ],
    ...(step.torque_Nm === undefined || strip
      ? []
      : [
          [
            'Torque',
            <strong className="fact-number fact-torque">{wordMeasure({ value: step.torque_Nm, unit: 'N·m' })}</strong>,
          ] as const,
        ]),
    ...toolFacts(step, analysis),
    ...(step.depth_mm === undefined || strip
      ? []
      : [
          [
            'Depth',
            <strong className="fact-number">{wordMeasure({ value: step.depth_mm, unit: 'mm' })}</strong>,
          ] as const,
        ]),
    ...(step.greased && !strip ? [['Grease', 'yes, a thin film'] as const] : []),
    ...(step.heldBy === undefined || strip ? [] : [['Held by', HELD_WORDS[step.heldBy]] as const]),
  ];
  return (
    <dl className="facts">
      {facts.map(([name, value], k) => (
        <div className="fact" key={`${name} ${k}`}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

function toolFacts({ tools }: PlanStep, analysis: Analysis): (readonly [string, ReactNode])[] {
  const drives = tools.filter((tool) => tool.kind === 'drive');
  const rest = tools.filter((tool) => tool.kind === 'bench').map((tool) => wordPlanTool(tool, analysis));
  return [
    ...drives.map((tool): readonly [string, ReactNode] => [
      tool.role === 'turns' ? 'Turn with' : 'Hold with',
      <>
        <StandMark stand={tool.side} /> <span className="away">{sideWord(tool.side)}: </span>
        {wordPlanTool(tool, analysis)}
      </>,
    ]),
    ...(rest.length > 0 ? [['Take', rest.join(', ')] as const] : []),
  ];
}

function Cautions({ cautions }: { readonly cautions: readonly string[] }): ReactNode {
  if (cautions.length === 0) return null;
  return (
    <ul className="step-cautions">
      {cautions.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  );
}
