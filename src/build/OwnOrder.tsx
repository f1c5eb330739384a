/**
 * The user's own order: tasks dragged, or moved by buttons and keys; what a place rules out, and the nearest that
 * works.
 *
 * Nothing is refused and nothing is lost: a task may lie where it cannot be done, then it says what it waits for. The
 * order before the last change can be brought back.
 */
import { memo, useCallback, useEffect, useMemo, useRef, useState, type KeyboardEvent, type ReactNode } from 'react';
import {
  checkOrder,
  wordFault,
  wordTask,
  wordMoved,
  wordOwn,
  type Analysis,
  type OrderFault,
  type Plan,
  type PlanTask,
} from '../../shared/index.ts';
import { moved } from './order.ts';
import { SeverityMark, VerdictMark } from '../widgets/marks.tsx';
import { laneOf, StandMark, standWord } from './marks.tsx';
import { useReorder } from './useReorder.ts';

interface Props {
  readonly plan: Plan;
  readonly analysis: Analysis;
  /** The own order, or the recommended one where there is none yet. */
  readonly own: readonly number[];
  /** The order before the last change. */
  readonly before: readonly number[] | undefined;
  /** Over when it is on the disk. */
  readonly change: (own: readonly number[]) => Promise<void>;
  readonly putBack: () => void;
  /** False when the browser would not keep it. */
  readonly isKept: boolean;
}

export function OwnOrder({ plan, analysis, own, before, change, putBack, isKept }: Props): ReactNode {
  const tasks = useMemo(() => own.map((k) => plan.tasks[k]!), [plan, own]);
  const check = useMemo(
    () =>
      checkOrder(
        plan,
        tasks.map(({ id }) => id),
      ),
    [plan, tasks],
  );
  const faults = useMemo(() => new Map(check.faults.map((fault) => [fault.task, fault])), [check]);
  const [said, setSaid] = useState('');
  const hand = useRef<string | undefined>(undefined);
  const isOwn = own.some((task, k) => task !== k);

  const move = useCallback(
    (from: number, to: number) => {
      const next = moved(own, from, to);
      const task = plan.tasks[own[from]!]!;
      const fault = checkOrder(
        plan,
        next.map((k) => plan.tasks[k]!.id),
      ).faults.find((one) => one.task === task.id);
      hand.current = task.id;
      const words = wordMoved(wordTask(task.id, analysis), to + 1, next.length, fault && wordFault(fault, analysis));
      void change(next).then(() => setSaid(words));
    },
    [own, plan, analysis, change],
  );
  const { dragged, list, grip } = useReorder(move);

  // A row that has been moved in the page loses the focus: the hand is still on it.
  useEffect(() => {
    const id = hand.current;
    hand.current = undefined;
    const row =
      id === undefined
        ? undefined
        : [...(list.current?.children ?? [])].find(
            (candidate) => candidate instanceof HTMLElement && candidate.dataset.task === id,
          );
    row?.querySelector<HTMLElement>('.own-grip')?.focus({ preventScroll: true });
    row?.scrollIntoView({ block: 'nearest' });
  }, [own, list]);

  const first = check.faults[0];
  const standing = wordOwn(check, plan, isOwn);
  return (
    <>
      <p className="flex gap-3" data-sound={check.faults.length === 0}>
        <VerdictMark verdict={check.faults.length === 0 ? 'sound' : 'faulty'} />
        <span>
          <strong>{standing.title}</strong> {standing.text}
        </span>
      </p>
      <p className="soft small">
        Drag a task by its grip, or use its arrows; with the grip in focus the arrow keys move it, Home and End to the
        ends.
      </p>
      {!isKept && (
        <p className="soft small">
          This browser keeps nothing: your order is gone when the page is closed, unless you keep its address.
        </p>
      )}
      <div className="own-tools flow gap-3">
        {first && (
          <button
            type="button"
            className="button medium no-wrap"
            onClick={() =>
              list.current
                ?.querySelector<HTMLElement>(
                  `[data-task="${first.task}"] .own-fault button, [data-task="${first.task}"] .own-grip`,
                )
                ?.focus()
            }
          >
            Go to the first that does not work
          </button>
        )}
        {before && (
          <button type="button" className="button medium no-wrap" onClick={putBack}>
            Undo the last change
          </button>
        )}
        {isOwn && (
          <button type="button" className="button medium no-wrap" onClick={() => void change(own.map((_, k) => k))}>
            Back to the recommended order
          </button>
        )}
      </div>
      <ol className="own-list stack hair anchor" ref={list} data-dragging={dragged !== undefined}>
        {tasks.map((task, k) => (
          <Row
            key={task.id}
            task={task}
            place={k}
            count={tasks.length}
            fault={faults.get(task.id)}
            analysis={analysis}
            move={move}
            grip={grip}
            dy={dragged?.from === k ? dragged.dy : undefined}
            line={
              dragged && dragged.to !== dragged.from && k === dragged.to
                ? dragged.to < dragged.from
                  ? 'above'
                  : 'below'
                : undefined
            }
          />
        ))}
      </ol>
      <p className="away clip no-wrap" role="status" aria-live="assertive">
        {said}
      </p>
    </>
  );
}

interface RowProps {
  readonly task: PlanTask;
  readonly place: number;
  readonly count: number;
  readonly fault: OrderFault | undefined;
  readonly analysis: Analysis;
  readonly move: (from: number, to: number) => void;
  readonly grip: ReturnType<typeof useReorder>['grip'];
  /** How far the hand has moved it, px; undefined for a row at rest. */
  readonly dy: number | undefined;
  /** Where the row in hand would come to lie. */
  readonly line: 'above' | 'below' | undefined;
}

const Row = memo(function Row({ task, place, count, fault, analysis, move, grip, dy, line }: RowProps): ReactNode {
  const name = wordTask(task.id, analysis);
  const keys = (event: KeyboardEvent): void => {
    const to = { ArrowUp: place - 1, ArrowDown: place + 1, Home: 0, End: count - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    if (to >= 0 && to < count && to !== place) move(place, to);
  };
  const words = fault && wordFault(fault, analysis);
  return (
    <li
      className="own-row edged tinted anchor"
      data-task={task.id}
      data-held={dy !== undefined}
      data-line={line}
      data-faulty={fault !== undefined}
      style={dy === undefined ? undefined : { translate: `0 ${dy}px` }}
    >
      <div className="own-line line gap-1">
        <button
          type="button"
          className="own-grip edged warms stack rigid"
          data-arrows
          aria-label={`Move ${name}, place ${place + 1} of ${count}`}
          onKeyDown={keys}
          {...grip(place)}
        >
          <svg viewBox="0 0 20 20" aria-hidden="true">
            <path d="M7 4v.01M13 4v.01M7 10v.01M13 10v.01M7 16v.01M13 16v.01" />
          </svg>
        </button>
        <span className="plan-lane flex anchor" data-lane={laneOf(task.side)}>
          <StandMark stand={task.side} />
          <span className="away clip no-wrap">{standWord(task.side)}</span>
        </span>
        <span className="own-name medium snug slim">
          <span className="soft numbers">{place + 1}</span> {name}
        </span>
        <button
          type="button"
          className="own-arrow edged warms stack rigid"
          aria-label={`Move up: ${name}`}
          aria-disabled={place === 0}
          onClick={() => place > 0 && move(place, place - 1)}
        >
          <Arrow isUp />
        </button>
        <button
          type="button"
          className="own-arrow edged warms stack rigid"
          aria-label={`Move down: ${name}`}
          aria-disabled={place === count - 1}
          onClick={() => place < count - 1 && move(place, place + 1)}
        >
          <Arrow />
        </button>
      </div>
      {fault && words && (
        <div className="own-fault stack gap-3 from-start">
          <p>
            <SeverityMark severity="stop" />
            <span>
              <strong>{words.title}</strong> {words.text}
            </span>
          </p>
          {fault.nearestPossibleIndex !== undefined && (
            <button
              type="button"
              className="button medium no-wrap"
              onClick={() => move(place, fault.nearestPossibleIndex!)}
            >
              Put it at the nearest place that works: {fault.nearestPossibleIndex + 1}
            </button>
          )}
        </div>
      )}
    </li>
  );
});

function Arrow({ isUp = false }: { readonly isUp?: boolean }): ReactNode {
  return (
    <svg className="arrow icon" viewBox="0 0 20 20" aria-hidden="true">
      <path d={isUp ? 'm4 12.5 6-6 6 6' : 'm4 7.5 6 6 6-6'} />
    </svg>
  );
}
