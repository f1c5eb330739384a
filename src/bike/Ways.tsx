/**
 * The ways on from a pivot or a part: its torque, what comes off to get at it, its mistakes, its place in the build.
 */
import type { ReactNode } from 'react';
import { wordAccess, type Analysis, type PivotAnalysis, type PlacedItem } from '../../shared/index.ts';
import { useAccess } from '../build/useOrder.ts';
import { runIn } from '../build/planned.ts';
import { goToAccess, goToMistakes, goToOrder, goToStep, goToTorque, stepWith } from '../page/go.ts';
import { act, useApp } from '../page/store.ts';
import { useRoving } from '../page/useRoving.ts';
import { FailedWork } from '../widgets/FailedWork.tsx';

function Way({ word, go }: { readonly word: string; readonly go: () => void }): ReactNode {
  return (
    <button type="button" className="button button-small medium no-wrap" onClick={go}>
      {word}
    </button>
  );
}

/** Each torque of a pivot, beside its verdict. */
export function TorqueWays({ pivot }: { readonly pivot: PivotAnalysis }): ReactNode {
  return (
    <span className="flow gap-2 end">
      {torquesOf(pivot).map(({ stackId, words }) => (
        <Way key={stackId} word={words} go={() => goToTorque(pivot.id, stackId)} />
      ))}
    </span>
  );
}

/** From a pivot: what comes off to get at its bearing, its mistakes, its place in the build. */
export function PivotWays({ pivot }: { readonly pivot: PivotAnalysis }): ReactNode {
  const steps = useApp((state) => runIn(state.planned, undefined, 'build').steps);
  const first = steps.findIndex(({ step }) => step.pivotId === pivot.id);
  const items = pivot.stacks.flatMap((stack) => stack.items);
  const wanted = items.find(({ role }) => role === 'bearing') ?? items.find(({ role }) => role === 'axle');
  const bar = useRoving<HTMLElement>('row');
  return (
    <nav className="ways-on flow gap-2" aria-label={`More of ${pivot.name}`} ref={bar}>
      <Way word="Work the row" go={() => act.setTab('the-row')} />
      {wanted && <Way word="What comes off" go={() => goToAccess(wanted.id)} />}
      <Way word="Mistakes" go={() => goToMistakes(pivot.id)} />
      {first >= 0 && <Way word={`Step ${first + 1} of ${steps.length}`} go={() => goToOrder(first + 1)} />}
    </nav>
  );
}

/** Each torque of a pivot once, with the axle that it is told at. */
function torquesOf({ stacks }: PivotAnalysis): readonly { readonly stackId: string; readonly words: string }[] {
  const seen = new Map<number, string>();
  for (const { id, tightening } of stacks) if (!seen.has(tightening.torque_Nm)) seen.set(tightening.torque_Nm, id);
  return [...seen].map(([torque_Nm, stackId]) => ({ stackId, words: `${torque_Nm} N·m` }));
}

/** From a part: what comes off to get at it, in words at once, then the other ways. */
export function PartWays({ item, pivot }: { readonly item: PlacedItem; readonly pivot: PivotAnalysis }): ReactNode {
  // A mistake that is looked at has no build order: the build as written is reached.
  const written = useApp((state) => state.opened?.analysis);
  const steps = useApp((state) => runIn(state.planned, pivot.id, 'build').steps);
  const at = stepWith(steps, item.id);
  const torque = pivot.stacks.find(({ id }) => id === item.stackId)?.tightening.torque_Nm;
  return (
    <>
      {written && item.part !== undefined && <ComesOff id={item.id} analysis={written} />}
      <nav className="ways-on flow gap-2" aria-label="More of this part">
        {torque !== undefined && <Way word={`${torque} N·m`} go={() => goToTorque(pivot.id, item.stackId)} />}
        <Way word="Mistakes" go={() => goToMistakes(pivot.id)} />
        {at !== undefined && <Way word={`Step ${at + 1} of ${steps.length}`} go={() => goToStep(pivot.id, item.id)} />}
      </nav>
    </>
  );
}

function ComesOff({ id, analysis }: { readonly id: string; readonly analysis: Analysis }): ReactNode {
  const work = useAccess(analysis, id);
  return (
    <section className="comes-off stack gap-1">
      <h3>To get at it</h3>
      {work.is === 'running' && <p role="status">Working out what has to come off…</p>}
      {work.is === 'failed' && <FailedWork what="This" message={work.message} />}
      {work.is === 'done' && <p>{wordAccess(work.given, analysis).text}</p>}
      <Way word="Show it step by step" go={() => goToAccess(id)} />
    </section>
  );
}
