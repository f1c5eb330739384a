/**
 * What is said when a model did not open: every problem of the file with its place, or that the program is at fault.
 */
import type { ReactNode } from 'react';
import { capital, wordMoreProblems, wordProblemCode, type Problem } from '../../shared/index.ts';
import type { Trouble } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { Dialog } from '../widgets/Dialog.tsx';

export function TroubleSheet({
  trouble,
  onClose,
}: {
  readonly trouble: Trouble;
  readonly onClose: () => void;
}): ReactNode {
  const kept = useApp((state) => state.opened?.analysis.model.name);
  switch (trouble.kind) {
    case 'file':
      return (
        <Dialog title="This file is no linkage model yet" isWide onClose={onClose}>
          <p className="lead">
            <strong className="any-break">{trouble.name}</strong>: {countOf(trouble.problems.length + trouble.more)} to
            put right.
            {kept === undefined ? '' : ` ${kept} stays open as it was.`}
          </p>
          <ol className="problems">
            {trouble.problems.map((problem, k) => (
              <ProblemRow key={k} problem={problem} />
            ))}
          </ol>
          {trouble.more === 0 ? null : <p>{capital(wordMoreProblems(trouble.more))}.</p>}
        </Dialog>
      );
    case 'program':
      return (
        <Dialog title="Axlewright has failed, not your file" onClose={onClose}>
          <p>
            Computing <strong className="any-break">{trouble.name}</strong> stopped with an error of the program. Please
            report these words with the file:
          </p>
          <p className="failure any-break">{trouble.message}</p>
          {kept === undefined ? null : <p>{kept} stays open as it was.</p>}
        </Dialog>
      );
    case 'not-here':
      return (
        <Dialog title="That model is not here" onClose={onClose}>
          <p>
            The address names <strong className="any-break">{trouble.name}</strong>, which does not come with
            Axlewright. If it is a file of your own, open it again or drop it onto the page.
          </p>
        </Dialog>
      );
  }
}

function ProblemRow({ problem }: { readonly problem: Problem }): ReactNode {
  return (
    <li className="problem">
      <code className="problem-path trouble-words any-break">{problem.path}</code>
      <p className="problem-words">{wordProblemCode(problem.code)}</p>
      <dl className="problem-facts">
        <div>
          <dt>Found</dt>
          <dd>{problem.met}</dd>
        </div>
        <div>
          <dt>Allowed</dt>
          <dd>{problem.allowed}</dd>
        </div>
        {problem.suggestion === undefined ? null : (
          <div>
            <dt>Meant?</dt>
            <dd>{problem.suggestion}</dd>
          </div>
        )}
      </dl>
    </li>
  );
}

function countOf(count: number): string {
  return count === 1 ? 'one thing' : `${count} things`;
}
