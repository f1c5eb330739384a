/**
 * Variants: what the order of another year or build of the frame does differently.
 */
import { useMemo, type ReactNode } from 'react';
import {
  sideWord,
  wordTask,
  wordVariantOrder,
  type Analysis,
  type LinkageModel,
  type Plan,
  type VariantOrder,
} from '../../shared/index.ts';
import { openVariant } from '../page/models.ts';
import { routeOf } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import type { WorkState } from '../page/work.ts';
import { Segments } from '../widgets/Segments.tsx';
import { StandMark, standWord } from './marks.tsx';

interface Props {
  /** The model as written, no variant applied. */
  readonly model: LinkageModel | undefined;
  readonly analysis: Analysis;
  readonly worked: WorkState<readonly VariantOrder[]>;
  /** Id of the variant compared; the first where it is none of them. */
  readonly against: string | undefined;
  readonly pick: (id: string) => void;
}

export function VariantPanel({ model, analysis, worked, against, pick }: Props): ReactNode {
  const variants = model?.variants ?? [];
  if (variants.length === 0) return <p>This model has one series only: its file names no variants.</p>;
  if (worked.is === 'failed') return <p role="alert">This could not be worked out: {worked.message}</p>;
  if (worked.is !== 'done') return <p role="status">Working out the order of each variant…</p>;
  const base = worked.given.find(({ variant }) => variant === undefined);
  const chosen =
    worked.given.find(({ variant }) => variant !== undefined && variant === against) ??
    worked.given.find(({ variant }) => variant !== undefined);
  const told = variants.find(({ id }) => id === chosen?.variant);
  if (!base || !chosen || !told) return null;
  return (
    <>
      <h3 className="plan-heading large">Compared with the frame as first built</h3>
      <Segments
        label="Variant"
        choices={variants.map(({ id, name }) => [id, name] as const)}
        value={told.id}
        pick={pick}
      />
      <p>{told.why}</p>
      <Difference base={base.plan} other={chosen} name={told.name} />
      {analysis.variant === told.id ? (
        <button type="button" className="button medium no-wrap" onClick={() => show(undefined)}>
          Show the order as first built
        </button>
      ) : (
        <button type="button" className="button button-main medium no-wrap" onClick={() => show(told.id)}>
          Show the order of {told.name}
        </button>
      )}
    </>
  );
}

/** Open the model as another variant; the place stays, the steps begin anew. */
function show(id: string | undefined): void {
  const route = routeOf(useApp.getState());
  const { own: _, ...order } = route.order ?? useApp.getState().order;
  void openVariant(id, { ...route, order: { ...order, tab: 'plan', at: 0 } });
}

function Difference({
  base,
  other,
  name,
}: {
  readonly base: Plan;
  readonly other: VariantOrder;
  readonly name: string;
}): ReactNode {
  const { lines } = useMemo(() => wordVariantOrder(other, base.analysis), [other, base]);
  const moved = new Set(other.moved);
  const changed = new Map(other.changed.map(({ task, what }) => [task, what]));
  const [before, after] = [base, other.plan].map((plan) => plan.tasks.filter(({ kind }) => kind !== 'inspect'));
  return (
    <>
      <ul className="plan-because variant-lines stack gap-2">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <table className="variant-table order-table full">
        <thead>
          <tr>
            <th scope="col">No.</th>
            <th scope="col">As first built</th>
            <th scope="col">{name}</th>
          </tr>
        </thead>
        <tbody>
          {Array.from({ length: Math.max(before!.length, after!.length) }, (_, k) => (
            <tr key={k}>
              <td>{k + 1}</td>
              <td>{before![k] && <Cell task={before![k]!} plan={base} />}</td>
              <td data-differs={after![k] !== undefined && (moved.has(after![k]!.id) || changed.has(after![k]!.id))}>
                {after![k] && (
                  <>
                    <Cell task={after![k]!} plan={other.plan} />
                    <span className="variant-marks flow small">
                      {moved.has(after![k]!.id) && <strong>moved</strong>}
                      {changed.get(after![k]!.id)?.map((what) => (
                        <strong key={what}>
                          {what === 'side'
                            ? `other side: ${after![k]!.side === 'bench' || after![k]!.side === undefined ? standWord(after![k]!.side) : sideWord(after![k]!.side)}`
                            : 'other tools'}
                        </strong>
                      ))}
                    </span>
                  </>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function Cell({ task, plan }: { readonly task: Plan['tasks'][number]; readonly plan: Plan }): ReactNode {
  return (
    <span className="variant-cell gap-3">
      <StandMark stand={task.side} />
      <span className="away clip no-wrap">{standWord(task.side)}: </span>
      <span>{wordTask(task.id, plan.analysis)}</span>
    </span>
  );
}
