/**
 * What is to be said of a plan as a whole: how many orders there are, what this one costs, the author's own order
 * beside it, and what no order mends.
 */
import type { ReactNode } from 'react';
import {
  wordBlock,
  wordCount,
  wordFault,
  wordTask,
  wordMakersOrder,
  wordRecommended,
  type Analysis,
  type Plan,
} from '../../shared/index.ts';
import { useApp } from '../page/store.ts';
import { SeverityMark } from '../widgets/marks.tsx';
import { WorkProgress } from '../widgets/WorkProgress.tsx';
import { FollowChoice } from './Steps.tsx';
import { usePlanWork } from './useOrder.ts';

interface Props {
  readonly plan: Plan;
  readonly analysis: Analysis;
}

export function Summary({ plan, analysis }: Props): ReactNode {
  const follow = useApp((state) => state.follow);
  const isSoFar = useApp(({ planned }) => planned.is === 'done' && planned.given.isSoFar);
  const work = usePlanWork(analysis, follow);
  return (
    <div className="stack gap-3">
      <p className="plan-cost">{wordRecommended(plan)}</p>
      {isSoFar && <WorkProgress work={work} label="Looking for a better order" />}
      <p className="soft">{wordCount(plan.orders)}</p>
      {plan.blocks.map((block) => (
        <Trouble key={`${block.task} ${block.reason.code}`} text={wordBlock(block, analysis)} />
      ))}
      {plan.stuck.map((fault) => {
        const { title, text } = wordFault(fault, analysis);
        return <Trouble key={fault.task} title={`${wordTask(fault.task, analysis)}: ${title}`} text={text} />;
      })}
      <MakersPart plan={plan} analysis={analysis} />
    </div>
  );
}

function Trouble({ title, text }: { readonly title?: string; readonly text: string }): ReactNode {
  return (
    <div className="finding edged finding-stop flex gap-4 full">
      <SeverityMark severity="stop" />
      <span className="slim">
        {title !== undefined && <span className="finding-title snug as-block">{title}</span>}
        <span className="finding-text as-block">{text}</span>
      </span>
    </div>
  );
}

/** The order the model's author wrote, against the computed one; with a conflict, link by link. */
function MakersPart({ plan, analysis }: Props): ReactNode {
  const { makersOrder } = plan;
  if (!makersOrder) return null;
  const { title, text, lines } = wordMakersOrder(makersOrder, analysis);
  const names = new Map(
    analysis.pivots.flatMap(({ stacks }) => stacks.map((stack) => [stack.id, stack.name] as const)),
  );
  const { computed } = makersOrder;
  const isTrouble = makersOrder.cycle !== undefined || makersOrder.conflicts.length > 0;
  return (
    <details className="fold plan-fold plan-makers" open={isTrouble || undefined}>
      <summary>{title}</summary>
      <p>{text}</p>
      {!makersOrder.isSame && (
        <table className="order-table full">
          <thead>
            <tr>
              <th scope="col">No.</th>
              <th scope="col">As the model says</th>
              <th scope="col">As computed</th>
            </tr>
          </thead>
          <tbody>
            {makersOrder.stacks.map((id, k) => (
              <tr key={id} data-differs={id !== computed[k]}>
                <td>{k + 1}</td>
                <td>{names.get(id) ?? id}</td>
                <td>
                  {names.get(computed[k] ?? '') ?? computed[k]}
                  {id === computed[k] ? '' : ' ≠'}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <FollowChoice />
      {lines.length > 0 && (
        <ol className="plan-because stack gap-2">
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ol>
      )}
    </details>
  );
}
