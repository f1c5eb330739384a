/**
 * What is said when a model did not open: every problem of the file with its place, or that the program is at fault.
 */
import type { ReactNode } from 'react';
import { capital, wordMoreProblems, wordProblemCode, type Problem, type Spot } from '../../shared/index.ts';
import type { Trouble } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { serverName } from '../widgets/PlaceBoundary.tsx';
import { OpenButton, SampleButton } from './ModelControls.tsx';
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
              <ProblemRow key={k} problem={problem} spot={trouble.spots?.[k]} />
            ))}
          </ol>
          {trouble.more === 0 ? null : <p>{capital(wordMoreProblems(trouble.more))}.</p>}
          <div className="choices flow gap-3">
            {trouble.again && (
              <button type="button" className="button button-main medium no-wrap" onClick={trouble.again}>
                Read it again
              </button>
            )}
            <OpenButton />
            <SampleButton />
          </div>
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
    case 'not-sent':
      return (
        <Dialog title="This model did not come" onClose={onClose}>
          <p className="lead">
            The server at {serverName()} did not send <strong className="any-break">{trouble.name}</strong>. Look
            whether it runs and the network is there, then try again.
            {kept === undefined ? '' : ` ${kept} stays open as it was.`}
          </p>
          <button type="button" className="button button-main medium no-wrap" onClick={trouble.again}>
            Try again
          </button>
        </Dialog>
      );
    case 'not-here':
      return (
        <Dialog title="That model is not here" onClose={onClose}>
          <p>
            The address names <strong className="any-break">{trouble.name}</strong>, which neither comes with Axlewright
            nor is kept on this device. Open its file or drop it onto the page: it opens where the address says.
          </p>
        </Dialog>
      );
  }
}

function ProblemRow({ problem, spot }: { readonly problem: Problem; readonly spot: Spot | undefined }): ReactNode {
  return (
    <li className="problem">
      <code className="problem-path trouble-words any-break">{problem.path}</code>
      {spot && (
        <p className="problem-spot">
          Line {spot.line}, column {spot.column}: <code className="any-break">{spot.text}</code>
        </p>
      )}
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
