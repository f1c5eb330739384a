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
import { countKinds, joinSame, sortIntoGroups, type MistakeGroup, type SameOutcome } from './mistakes.ts';
import { act } from '../page/store.ts';
import { useRoving } from '../page/useRoving.ts';
import { VerdictMark } from '../widgets/marks.tsx';

interface Props {
  readonly rows: readonly TriedMistake[];
  readonly analysis: Analysis;
  /** Name the pivot in each row. */
  readonly hasPivots: boolean;
  readonly children?: ReactNode;
}

const HEADINGS: Readonly<Record<MistakeGroup, readonly [title: string, text: string]>> = {
  turned: ['Turned round', 'A spacer goes in either way. Look at these first.'],
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
  const list = useRoving<HTMLUListElement>('list');
  const [title, text] = HEADINGS[group];
  const entries = joinSame(rows);
  const shown = isWhole ? entries : entries.slice(0, group === 'not-together' ? 0 : FIRST_ROWS);
  return (
    <div className={`mistake-group stack gap-2 mistake-group-${group}`}>
      <h4>
        {title} <span className="mistake-count soft numbers medium">{rows.length}</span>
      </h4>
      <p className="mistake-note soft small">{text}</p>
      <ul className="stack hair" ref={list}>
        {shown.map((entry) => (
          <li key={`${entry.rows[0].pivot} ${entry.rows[0].mistake.id}`}>
            <Entry entry={entry} group={group} analysis={analysis} hasPivots={hasPivots} />
          </li>
        ))}
      </ul>
      {shown.length < entries.length && (
        <button type="button" className="button button-small small medium no-wrap" onClick={() => setWhole(true)}>
          {shown.length === 0 ? 'Show them' : `Show ${entries.length - shown.length} more`}
        </button>
      )}
    </div>
  );
}

interface EntryProps {
  readonly entry: SameOutcome;
  readonly group: MistakeGroup;
  readonly analysis: Analysis;
  readonly hasPivots: boolean;
}

/** One mistake, or several that do the same. */
function Entry({ entry, group, analysis, hasPivots }: EntryProps): ReactNode {
  const [row] = entry.rows;
  const outcome = <Outcome row={row} group={group} />;
  if (entry.rows.length > 1)
    return (
      <div className="mistake-same stack hair">
        <p className="strong">These {COUNTS[entry.rows.length] ?? entry.rows.length} do the same:</p>
        <ul className="stack hair">
          {entry.rows.map((same) => (
            <li key={same.mistake.id}>
              {group === 'not-together' ? (
                <span className="mistake-name snug as-block">{wordMistake(same.mistake, analysis)}</span>
              ) : (
                <button
                  type="button"
                  className="mistake-row flex gap-4 full"
                  onClick={(event) => look(event.currentTarget, same)}
                >
                  <VerdictMark verdict={same.verdict} />
                  <span className="slim">
                    <span className="bold snug as-block">{wordMistake(same.mistake, analysis)}</span>
                    {hasPivots && <PivotName id={same.pivot} analysis={analysis} />}
                  </span>
                </button>
              )}
            </li>
          ))}
        </ul>
        <div className="mistake-outcome slim">
          {outcome}
          {row.isSilent &&
            [...new Set(entry.rows.map(({ check }) => wordCheck(check, analysis)))].map((check) => (
              <span key={check} className="mistake-check soft as-block">
                {check}
              </span>
            ))}
        </div>
      </div>
    );
  const body = (
    <>
      <VerdictMark verdict={row.verdict} />
      <span className="slim">
        <span className="bold snug as-block">{wordMistake(row.mistake, analysis)}</span>
        {hasPivots && <PivotName id={row.pivot} analysis={analysis} />}
        {outcome}
        {row.isSilent && <span className="mistake-check soft as-block">{wordCheck(row.check, analysis)}</span>}
      </span>
    </>
  );
  if (group === 'not-together') return <div className="mistake-row flex gap-4 full">{body}</div>;
  return (
    <button type="button" className="mistake-row flex gap-4 full" onClick={(event) => look(event.currentTarget, row)}>
      {body}
    </button>
  );
}

const COUNTS: Readonly<Record<number, string>> = { 2: 'two', 3: 'three', 4: 'four', 5: 'five', 6: 'six' };

function look(button: Element, row: TriedMistake): void {
  focusRegion(button);
  act.pickPivot(row.pivot);
  act.tryWhatIf(row.mistake.id);
}

function PivotName({ id, analysis }: { readonly id: string; readonly analysis: Analysis }): ReactNode {
  return <span className="mistake-pivot soft as-block">{analysis.pivots.find((pivot) => pivot.id === id)?.name}</span>;
}

function Outcome({ row, group }: { readonly row: TriedMistake; readonly group: MistakeGroup }): ReactNode {
  return (
    <>
      <span className="mistake-brief numbers as-block">{wordBrief(row)}</span>
      {!row.isSilent && group !== 'passing' && group !== 'not-together' && (
        <span className="mistake-check soft as-block">At the bench: {row.bench.map(wordFeel).join(', ')}</span>
      )}
    </>
  );
}
