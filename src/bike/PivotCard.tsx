/**
 * The card of a pivot: verdict, what is wrong, torque, and what else to know, in that order.
 */
import type { ReactNode } from 'react';
import { toldVerdict, wordVerdict, type Analysis, type PivotAnalysis } from '../../shared/index.ts';
import { act } from '../page/store.ts';
import { FindingList } from '../widgets/FindingList.tsx';
import { VerdictMark } from '../widgets/marks.tsx';
import { MistakeSection } from '../mistakes/MistakeSection.tsx';
import { PivotWays, TorqueWays } from './Ways.tsx';
import { WhichWay } from './WhichWay.tsx';
import { TorqueCard } from '../torque/TorqueCard.tsx';

export function PivotCard({
  pivot,
  told,
  analysis,
}: {
  readonly pivot: PivotAnalysis;
  /** The same pivot with the torques that were reached. */
  readonly told: PivotAnalysis;
  readonly analysis: Analysis;
}): ReactNode {
  const pressing = told.findings.filter((finding) => finding.severity !== 'note');
  const notes = told.findings.filter((finding) => finding.severity === 'note');
  const written = analysis.model.pivots.find((candidate) => candidate.id === pivot.id);
  return (
    <>
      <h2 className="card-title huge">{pivot.name}</h2>
      <p className="line gap-3 large bold">
        <VerdictMark verdict={toldVerdict(told)} /> <span className="verdict-words">{wordVerdict(told)}</span>{' '}
        <TorqueWays pivot={pivot} />
      </p>
      <FindingList findings={pressing} analysis={analysis} />
      <WhichWay pivot={pivot} analysis={analysis} />
      <PivotWays pivot={pivot} />
      <button type="button" className="button medium no-wrap" onClick={() => act.goToPlace('felt')}>
        What is wrong with it?
      </button>
      {pivot.stacks.map((stack) => (
        <TorqueCard key={stack.id} stack={stack} analysis={analysis} isOnlyOne={pivot.stacks.length === 1} />
      ))}
      <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('tolerance')}>
        What tolerances do
      </button>
      <button type="button" className="button medium no-wrap" onClick={() => act.openDialog('share')}>
        Link, picture, paper
      </button>
      <MistakeSection key={pivot.id} analysis={analysis} pivotId={pivot.id} />
      {notes.length > 0 && (
        <section>
          <h3>Good to know</h3>
          <FindingList findings={notes} analysis={analysis} />
        </section>
      )}
      {written?.notes !== undefined && (
        <section>
          <h3>From the model file</h3>
          {written.notes.map((note) => (
            <p key={note}>{note}</p>
          ))}
        </section>
      )}
    </>
  );
}
