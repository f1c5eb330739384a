/**
 * The rows of a slip table under their headings, sifted by kind. A tap shows the slipped build.
 */
import { useState, type ReactNode } from 'react';
import {
  wordFeel,
  wordSlip,
  wordSlipKind,
  wordBrief,
  wordCheck,
  type Analysis,
  type SlipKind,
  type TriedSlip,
} from '../../shared/index.ts';
import { focusRegion } from '../page/focus.ts';
import { countKinds, sortIntoGroups, type SlipGroup } from './slips.ts';
import { act } from '../page/store.ts';
import { VerdictMark } from '../widgets/marks.tsx';

interface Props {
  readonly rows: readonly TriedSlip[];
  readonly analysis: Analysis;
  /** Name the pivot in each row. */
  readonly hasPivots: boolean;
  readonly children?: ReactNode;
}

const HEADINGS: Readonly<Record<SlipGroup, readonly [title: string, text: string]>> = {
  silent: ['Silent', 'They tighten up normally and give no clear sign at the bench.'],
  telling: ['Felt at the bench', 'Worst first.'],
  passing: ['Pass the fit check', 'Not what is written, but nothing stops them here.'],
  'not-together': ['Do not go together', 'You notice at once.'],
};
/** Rows shown of a heading before the rest is asked for. */
const FIRST_ROWS = 8;

export function SlipTableView({ rows, analysis, hasPivots, children }: Props): ReactNode {
  const [kind, setKind] = useState<SlipKind | undefined>(undefined);
  const kinds = countKinds(rows);
  const shownKind = kinds.some((entry) => entry.kind === kind) ? kind : undefined;
  return (
    <>
      <div className="slips-sift">
        <label className="slips-kind">
          <span className="away">Kind of slip</span>
          <select
            className="select"
            value={shownKind ?? ''}
            onChange={(event) => setKind(kinds.find((entry) => entry.kind === event.target.value)?.kind)}
          >
            <option value="">All kinds ({rows.length})</option>
            {kinds.map((entry) => (
              <option key={entry.kind} value={entry.kind}>
                {wordSlipKind(entry.kind)} ({entry.count})
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
}: Omit<Props, 'children'> & { readonly group: SlipGroup }): ReactNode {
  const [isWhole, setWhole] = useState(false);
  const [title, text] = HEADINGS[group];
  const shown = isWhole ? rows : rows.slice(0, group === 'not-together' ? 0 : FIRST_ROWS);
  return (
    <div className={`slip-group slip-group-${group}`}>
      <h4>
        {title} <span className="slip-count">{rows.length}</span>
      </h4>
      <p className="slip-note">{text}</p>
      <ul className="slip-rows">
        {shown.map((row) => (
          <li key={`${row.pivot} ${row.slip.id}`}>
            <Row row={row} group={group} analysis={analysis} hasPivots={hasPivots} />
          </li>
        ))}
      </ul>
      {shown.length < rows.length && (
        <button type="button" className="button button-small" onClick={() => setWhole(true)}>
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
  readonly row: TriedSlip;
  readonly group: SlipGroup;
  readonly analysis: Analysis;
  readonly hasPivots: boolean;
}): ReactNode {
  const body = (
    <>
      <VerdictMark verdict={row.verdict} />
      <span className="slip-words">
        <span className="slip-title">{wordSlip(row.slip, analysis)}</span>
        {hasPivots && (
          <span className="slip-pivot">{analysis.pivots.find((pivot) => pivot.id === row.pivot)?.name}</span>
        )}
        <span className="slip-brief">{wordBrief(row)}</span>
        {group === 'silent' && <span className="slip-check">{wordCheck(row.check, analysis)}</span>}
        {group === 'telling' && <span className="slip-check">At the bench: {row.bench.map(wordFeel).join(', ')}</span>}
      </span>
    </>
  );
  if (group === 'not-together') return <div className="slip-row">{body}</div>;
  return (
    <button
      type="button"
      className="slip-row"
      onClick={(event) => {
        focusRegion(event.currentTarget);
        act.pickPivot(row.pivot);
        act.tryWhatIf(row.slip.id);
      }}
    >
      {body}
    </button>
  );
}
