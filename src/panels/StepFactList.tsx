/**
 * The facts of a step at a glance: side, tools, depth, grease, threadlocker, torque.
 */
import type { ReactNode } from 'react';
import { sideWord, wordMeasure, wordTool, type Analysis, type Side, type Step } from '../../shared/index.ts';
import { factsOf } from '../app/facts.ts';
import { focusRegion } from '../page/focus.ts';
import type { Direction } from '../page/route.ts';
import { useApp } from '../page/store.ts';
import { SidePlate } from '../widgets/marks.tsx';

const HELD_WORDS = { fingertip: 'a fingertip', grease: 'grease', axle: 'the axle' } as const;

interface Props {
  readonly step: Step;
  readonly analysis: Analysis;
  readonly direction: Direction;
}

export function StepFactList({ step, analysis, direction }: Props): ReactNode {
  const facts = factsOf(step, analysis, direction);
  return (
    <>
      <dl className="facts">
        {facts.side !== undefined && (
          <Fact name={facts.turn === undefined ? 'From' : 'Stand on'}>
            <SidePlate side={facts.side} /> {sideWord(facts.side)}
          </Fact>
        )}
        {facts.torque_Nm !== undefined && (
          <Fact name="Torque">
            <strong className="fact-number fact-torque">{facts.torque_Nm} N·m</strong>
          </Fact>
        )}
        {facts.turn !== undefined && <Fact name="Turn">{facts.turn}, as seen from there</Fact>}
        {facts.tool && <Fact name="Tool">{wordTool(facts.tool)}</Fact>}
        {facts.holdSide !== undefined && (
          <Fact name="Hold">
            {sideWord(facts.holdSide)}
            {facts.holdTool ? `, ${wordTool(facts.holdTool)}` : ''}
          </Fact>
        )}
        {facts.depth_mm !== undefined && (
          <Fact name="Depth">
            <strong className="fact-number">{wordMeasure({ value: facts.depth_mm, unit: 'mm' })}</strong>
          </Fact>
        )}
        {facts.treatment !== undefined && <Fact name="Thread">{facts.treatment}</Fact>}
        {facts.isGreased && <Fact name="Grease">yes, a thin film</Fact>}
        {facts.heldBy !== undefined && <Fact name="Held by">{HELD_WORDS[facts.heldBy]}</Fact>}
      </dl>
      {facts.side !== undefined && <GoRound side={facts.side} />}
    </>
  );
}

function Fact({ name, children }: { readonly name: string; readonly children: ReactNode }): ReactNode {
  return (
    <div className="fact">
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** One tap to the side a hand has to work from, when one stands on the other. */
export function GoRound({ side }: { readonly side: Side }): ReactNode {
  const stand = useApp((state) => state.stand);
  const act = useApp((state) => state.act);
  if (stand === side) return null;
  return (
    <button
      type="button"
      className="button button-small"
      onClick={(event) => {
        focusRegion(event.currentTarget);
        act.lookFrom(side);
      }}
    >
      Go round to the {sideWord(side)}
    </button>
  );
}
