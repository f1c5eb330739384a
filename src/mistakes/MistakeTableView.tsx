/**
 * The rows of a mistake table under their headings, sifted by kind. A tap shows the mistaken build.
 */
import { useState, type ReactNode } from 'react';
import {
  wordFeel,
  wordMistake,
  wordMistakeKind,
  wordBrief,
  wordCheck,
  type Analysis,
  type MistakeKind,
  type TriedMistake,
} from '../../shared/index.ts';
import { focusRegion } from '../page/focus.ts';
import { countKinds, sortIntoGroups, type MistakeGroup } from './mistakes.ts';
import { act } from '../page/store.ts';
import { VerdictMark } from '../widgets/marks.tsx';

interface Props {
  readonly rows: readonly TriedMistake[];
  readonly analysis: Analysis;
  /** Name the pivot in each row. */
  readonly hasPivots: boolean;
  readonly children?: ReactNode;
}

const HEADINGS: Readonly<Record<MistakeGroup, readonly [title: string, text: string]>> = {
  silent: ['Silent', 'They tighten up normally and give no clear sign at the bench.'],
  telling: ['Felt at the bench', 'Worst first.'],
  passing: ['Pass the fit check', 'Not what is written, but nothing stops them here.'],
  'not-together': ['Do not go together', 'You notice at once.'],
};
/** Rows shown of a heading before the rest is asked for. */
const FIRST_ROWS = 8;

export function MistakeTableView({ rows, analysis, hasPivots, children }: Props): ReactNode {
  const [kind, setKind] = useState<MistakeKind | undefined>(undefined);
  const kinds = countKinds(rows);
  const shownKind = kinds.some((entry) => entry.kind === kind) ? kind : undefined;
  return (
    <>
      <div className="flow gap-3">
        <label className="mistakes-kind slim">
          <span className="away clip no-wrap">Kind of mistake</span>
          <select
            className="select strong slim on-sheet"
            value={shownKind ?? ''}
            onChange={(event) => setKind(kinds.find((entry) => entry.kind === event.target.value)?.kind)}
          >
            <option value="">All kinds ({rows.length})</option>
            {kinds.map((entry) => (
              <option key={entry.kind} value={entry.kind}>
                {wordMistakeKind(entry.kind)} ({entry.count})
              </option>
            ))}
          </select>
        </label>
        {children}
      </div>
      {sortIntoGroups(rows, shownKind).map(({ group, rows: own }) => (
        <Group key={`${group} ${shownKind ?? ''}`} group={group} rows={own} analysis={analysis} hasPivots={hasPivots} />
      ))}
    </>
  );
}

function Group({
  group,
  rows,
  analysis,
  hasPivots,
}: Omit<Props, 'children'> & { readonly group: MistakeGroup }): ReactNode {
  const [isWhole, setWhole] = useState(false);
  const [title, text] = HEADINGS[group];
  const shown = isWhole ? rows : rows.slice(0, group === 'not-together' ? 0 : FIRST_ROWS);
  return (
    <div className={`mistake-group stack gap-2 mistake-group-${group}`}>
      <h4>
        {title} <span className="mistake-count soft numbers medium">{rows.length}</span>
      </h4>
      <p className="mistake-note soft small">{text}</p>
      <ul className="stack hair">
        {shown.map((row) => (
          <li key={`${row.pivot} ${row.mistake.id}`}>
            <Row row={row} group={group} analysis={analysis} hasPivots={hasPivots} />
          </li>
        ))}
      </ul>
      {shown.length < rows.length && (
        <button type="button" className="button button-small small medium no-wrap" onClick={() => setWhole(true)}>
          {shown.length === 0 ? 'Show them' : `Show ${rows.length - shown.length} more`}
        </button>
      )}
    </div>
  );
}

function Row({
  row,
  group,
  analysis,
  hasPivots,
}: {
  readonly row: TriedMistake;
  readonly group: MistakeGroup;
  readonly analysis: Analysis;
  readonly hasPivots: boolean;
}): ReactNode {
  const body = (
    <>
      <VerdictMark verdict={row.verdict} />
      <span className="slim">
        <span className="bold snug as-block">{wordMistake(row.mistake, analysis)}</span>
        {hasPivots && (
          <span className="mistake-pivot soft as-block">
            {analysis.pivots.find((pivot) => pivot.id === row.pivot)?.name}
          </span>
        )}
        <span className="mistake-brief numbers as-block">{wordBrief(row)}</span>
        {group === 'silent' && <span className="mistake-check soft as-block">{wordCheck(row.check, analysis)}</span>}
        {group === 'telling' && (
          <span className="mistake-check soft as-block">At the bench: {row.bench.map(wordFeel).join(', ')}</span>
        )}
      </span>
    </>
  );
  if (group === 'not-together') return <div className="mistake-row flex gap-4 full">{body}</div>;
  return (
    <button
      type="button"
      className="mistake-row flex gap-4 full"
      onClick={(event) => {
        focusRegion(event.currentTarget);
        act.pickPivot(row.pivot);
        act.tryWhatIf(row.mistake.id);
      }}
    >
      {body}
    </button>
  );
}
