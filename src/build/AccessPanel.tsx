/**
 * Access: pick any part, and see the least that has to come off to free it, how it goes back, and what is wanted for
 * it.
 */
import { useEffect, useMemo, useRef, useState, type ReactNode } from 'react';
import {
  wordAccess,
  wordAccessTarget,
  wordTool,
  type Analysis,
  type Access,
  type AccessTarget,
} from '../../shared/index.ts';
import type { Run } from './orderRun.ts';
import type { WorkState } from '../page/work.ts';
import { FailedWork } from '../widgets/FailedWork.tsx';
import { BecauseFold, BecauseList } from './Because.tsx';
import { StepButtons } from './StepButtons.tsx';

interface Group {
  readonly name: string;
  readonly list: readonly AccessTarget[];
}

/** Everything that can be asked for: whole pieces first, then the parts pivot by pivot. */
function groupsOf(analysis: Analysis, targets: readonly AccessTarget[]): readonly Group[] {
  const pivotOf = new Map(
    analysis.pivots.flatMap(({ id, stacks }) =>
      stacks.flatMap(({ items }) => items.map((item) => [item.id, id] as const)),
    ),
  );
  return [
    { name: 'Whole pieces', list: targets.filter(({ kind }) => kind !== 'item') },
    ...analysis.pivots.map((pivot) => ({
      name: pivot.name,
      list: targets.filter(({ kind, id }) => kind === 'item' && pivotOf.get(id) === pivot.id),
    })),
  ];
}

interface Props {
  readonly analysis: Analysis;
  readonly targets: readonly AccessTarget[];
  readonly target: AccessTarget | undefined;
  readonly worked: WorkState<Access>;
  readonly run: Run;
  readonly at: number;
  readonly pick: (id: string | undefined) => void;
}

export function AccessPanel({ analysis, targets, target, worked, run, at, pick }: Props): ReactNode {
  const head = useRef<HTMLHeadingElement>(null);
  const key = target?.id;
  const seen = useRef(key);
  useEffect(() => {
    if (seen.current !== key && key !== undefined) head.current?.focus();
    seen.current = key;
  }, [key]);
  if (!target) return <Finder analysis={analysis} targets={targets} pick={pick} />;
  return (
    <>
      <div className="line wrap gap-3 apart-ends">
        <h3 className="plan-heading large" ref={head} tabIndex={-1}>
          {wordAccessTarget(target, analysis)}
        </h3>
        <button type="button" className="button medium no-wrap" onClick={() => pick(undefined)}>
          Another part
        </button>
      </div>
      {worked.is === 'running' && <p role="status">Working out what has to come off…</p>}
      {worked.is === 'failed' && <FailedWork what="This" message={worked.message} />}
      {worked.is === 'done' && <Found access={worked.given} analysis={analysis} run={run} at={at} />}
    </>
  );
}

function Finder({ analysis, targets, pick }: Pick<Props, 'analysis' | 'targets' | 'pick'>): ReactNode {
  const [wanted, setWanted] = useState('');
  const groups = useMemo(() => {
    const words = wanted
      .toLowerCase()
      .split(/\s+/)
      .filter((word) => word !== '');
    return groupsOf(analysis, targets)
      .map(({ name, list }) => ({
        name,
        list: list
          .map((target) => ({ target, name: wordAccessTarget(target, analysis) }))
          .filter((entry) => words.every((word) => `${name} ${entry.name}`.toLowerCase().includes(word))),
      }))
      .filter(({ list }) => list.length > 0);
  }, [analysis, targets, wanted]);
  const count = groups.reduce((sum, { list }) => sum + list.length, 0);
  return (
    <>
      <h3 className="plan-heading large">What do you want to get at?</h3>
      <label className="access-search stack gap-1 strong">
        <span>Find a part</span>
        <input
          type="search"
          value={wanted}
          placeholder="bearing, spacer, shock…"
          onChange={(event) => setWanted(event.target.value)}
        />
      </label>
      <p className="soft small" role="status">
        {count === 0
          ? 'No part by that name.'
          : `${count} ${count === 1 ? 'part' : 'parts'}. You can press one on the picture, too.`}
      </p>
      {groups.map(({ name, list }) => (
        <section key={name} className="access-group">
          <h4>{name}</h4>
          <ul className="access-list stack hair">
            {list.map((entry) => (
              <li key={entry.target.id}>
                <button
                  type="button"
                  className="go-button warms press line gap-4 strong"
                  onClick={() => pick(entry.target.id)}
                >
                  {entry.name}
                </button>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

function Found({
  access,
  analysis,
  run,
  at,
}: {
  readonly access: Access;
  readonly analysis: Analysis;
  readonly run: Run;
  readonly at: number;
}): ReactNode {
  const words = wordAccess(access, analysis);
  const off = access.strip.length;
  return (
    <>
      <p className="access-answer large">
        <strong>{words.title}</strong> {words.text}
      </p>
      {access.blocked.length > 0 && <BecauseList because={access.blocked} analysis={analysis} />}
      {words.notes.length > 0 && (
        <ul className="step-cautions stack gap-2">
          {words.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
      {(access.tools.length > 0 || access.threadlocker.length > 0) && (
        <div className="access-wants stack">
          {access.tools.length > 0 && (
            <section>
              <h4>Tools</h4>
              <ul className="plan-because stack gap-2">
                {access.tools.map((tool) => (
                  <li key={`${tool.tool} ${tool.size_mm}`}>{wordTool(tool)}</li>
                ))}
              </ul>
            </section>
          )}
          {access.threadlocker.length > 0 && (
            <section>
              <h4>New threadlocker</h4>
              <ul className="plan-because stack gap-2">
                {words.threadlocker.map((line) => (
                  <li key={line}>{line}</li>
                ))}
              </ul>
            </section>
          )}
        </div>
      )}
      <BecauseFold because={access.because} analysis={analysis} title="Why all of this" />
      <Steps title="Off" run={run} from={1} to={off} at={at} analysis={analysis} />
      <Steps title="And back" run={run} from={off + 1} to={run.steps.length} at={at} analysis={analysis} />
    </>
  );
}

function Steps({
  title,
  run,
  from,
  to,
  at,
  analysis,
}: {
  readonly title: string;
  readonly run: Run;
  readonly from: number;
  readonly to: number;
  readonly at: number;
  readonly analysis: Analysis;
}): ReactNode {
  if (to < from) return null;
  const count = to - from + 1;
  return (
    <section>
      <h4>
        {title}: {count} {count === 1 ? 'step' : 'steps'}
      </h4>
      <StepButtons run={run} from={from} to={to} at={at} analysis={analysis} areTasksNamed />
    </section>
  );
}
