/**
 * Findings, worst first; a tap marks the parts of one on picture and row.
 */
import type { ReactNode } from 'react';
import { wordFinding, type Analysis, type Finding, type Severity } from '../../shared/index.ts';
import { act, useApp } from '../page/store.ts';
import { useRoving } from '../page/useRoving.ts';
import { SeverityMark } from './marks.tsx';

const RANK: Readonly<Record<Severity, number>> = { stop: 0, warn: 1, note: 2 };
const WORD: Readonly<Record<Severity, string>> = { stop: 'Stop', warn: 'Look into', note: 'Note' };

interface Props {
  readonly findings: readonly Finding[];
  readonly analysis: Analysis;
}

export function FindingList({ findings, analysis }: Props): ReactNode {
  const sorted = [...findings].sort((a, b) => RANK[a.severity] - RANK[b.severity]);
  const list = useRoving<HTMLUListElement>('list');
  if (sorted.length === 0) return null;
  return (
    <ul className="findings stack gap-2" ref={list}>
      {sorted.map((finding, k) => (
        <li key={`${finding.code} ${finding.parts.join(' ')} ${k}`}>
          <FindingRow finding={finding} analysis={analysis} />
        </li>
      ))}
    </ul>
  );
}

/** What stands in the row of a finding. */
export function FindingBody(words: {
  readonly severity: Severity;
  readonly title: string;
  readonly text: string;
}): ReactNode {
  return (
    <>
      <SeverityMark severity={words.severity} />
      <span className="slim">
        <span className="finding-title snug as-block">
          <span className="away clip no-wrap">{WORD[words.severity]}: </span>
          {words.title}
        </span>
        <span className="finding-text as-block">{words.text}</span>
      </span>
    </>
  );
}

function FindingRow({ finding, analysis }: { readonly finding: Finding; readonly analysis: Analysis }): ReactNode {
  const isMarked = useApp((state) => state.marked === finding.parts);
  const { title, text } = wordFinding(finding, analysis);
  const body = <FindingBody severity={finding.severity} title={title} text={text} />;
  if (finding.parts.length === 0)
    return <div className={`finding edged flex gap-4 full finding-${finding.severity}`}>{body}</div>;
  return (
    <button
      type="button"
      className={`finding edged flex gap-4 full finding-${finding.severity}`}
      aria-pressed={isMarked}
      onClick={() => act.mark(finding.parts)}
    >
      {body}
    </button>
  );
}
