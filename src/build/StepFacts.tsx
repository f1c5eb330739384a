/**
 * A step of a run in words, and its facts at a glance: side, tools, torque, depth, grease and what holds.
 */
import type { ReactNode } from 'react';
import {
  sideWord,
  wordTask,
  wordMeasure,
  wordPlanStep,
  wordPlanTool,
  wordStripStep,
  type Analysis,
  type PlanStep,
  type WordedStep,
} from '../../shared/index.ts';
import { standOf, type RunStep } from './orderRun.ts';
import { StandMark, standWord } from './marks.tsx';

const HELD_WORDS = { fingertip: 'a fingertip', grease: 'grease', axle: 'the axle' } as const;

/** Name of the task of a step of a run. */
export function taskWords({ taskId, strip }: RunStep, analysis: Analysis): string {
  return wordTask(taskId, analysis, strip ? 'strip' : 'build');
}

/** Words of a step of a run. */
export function stepWords(shown: RunStep, analysis: Analysis): WordedStep {
  return shown.strip ? wordStripStep(shown.strip, analysis) : wordPlanStep(shown.step, analysis);
}

/** Side, tools, torque, what still shows of the axle, grease and what holds, each where the step has it. */
export function StepFacts({ shown, analysis }: { readonly shown: RunStep; readonly analysis: Analysis }): ReactNode {
  const { step, strip } = shown;
  const stand = standOf(shown);
  // What a hand sees of the shank, not how deep its tip is.
  const axle = step.stackId === undefined ? undefined : step.places[`${step.stackId}/axle`];
  const shown_mm = step.depth_mm === undefined || strip || !axle ? undefined : Math.abs(axle.offset_mm);
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
            <strong className="fact-number fact-torque huge numbers">
              {wordMeasure({ value: step.torque_Nm, unit: 'N·m' })}
            </strong>,
          ] as const,
        ]),
    ...toolFacts(step, analysis),
    ...(shown_mm === undefined
      ? []
      : [
          [
            'Still shows',
            <strong className="fact-number numbers">{wordMeasure({ value: shown_mm, unit: 'mm' })}</strong>,
          ] as const,
        ]),
    ...(step.greased && !strip ? [['Grease', 'yes, a thin film'] as const] : []),
    ...(step.heldBy === undefined || strip ? [] : [['Held by', HELD_WORDS[step.heldBy]] as const]),
  ];
  return (
    <dl className="facts stack gap-1">
      {facts.map(([name, value], k) => (
        <div className="fact stack gap-3" key={`${name} ${k}`}>
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
        <StandMark stand={tool.side} /> <span className="away clip no-wrap">{sideWord(tool.side)}: </span>
        {wordPlanTool(tool, analysis)}
      </>,
    ]),
    ...(rest.length > 0 ? [['Take', rest.join(', ')] as const] : []),
  ];
}

/** What to heed in a step. */
export function Cautions({ cautions }: { readonly cautions: readonly string[] }): ReactNode {
  if (cautions.length === 0) return null;
  return (
    <ul className="step-cautions stack gap-2">
      {cautions.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  );
}
