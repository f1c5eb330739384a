/**
 * Readings from a table: pasted from a spreadsheet, typed, or picked as a file. Text that cannot be read stays where it
 * is.
 */
import { useState, type ReactNode } from 'react';
import { checkReadings, readReadings, wordReadingProblem, type ReadingProblem } from '../../shared/index.ts';
import { useApp } from '../page/store.ts';
import { MOST_DRAFTS } from './tray.ts';
import { useTray } from './trayStore.ts';
import { Dialog } from '../widgets/Dialog.tsx';

const EXAMPLE = 'kind; outside mm; bore mm; length mm; alike\ntapered spacer; 27; 15.2; 5.5; 1\nbearing; 28; 15; 7; 4';
/** The text of the sheet outlives its closing: a mistake of the finger beside it must not cost a table. */
let keptText = '';
const LARGEST_FILE_bytes = 2_000_000;

export function PasteSheet({ onClose }: { readonly onClose: () => void }): ReactNode {
  const model = useApp((state) => state.opened?.analysis.model);
  const [text, setText] = useState(keptText);
  const [problems, setProblems] = useState<readonly ReadingProblem[]>([]);
  const [remark, setRemark] = useState('');
  const change = (next: string): void => {
    keptText = next;
    setText(next);
    setProblems([]);
    setRemark('');
  };
  const read = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    if (file.size > LARGEST_FILE_bytes) return setRemark(`${file.name} is too large to be a table of readings.`);
    try {
      change(await file.text());
    } catch {
      setRemark(`${file.name} cannot be read.`);
    }
  };
  const take = (): void => {
    const { drafts, addReadings } = useTray.getState();
    const result = readReadings(text);
    const found = result.ok ? (model ? checkReadings(result, model) : []) : result.problems;
    if (!result.ok || found.length > 0) return setProblems(found);
    if (drafts.length + result.readings.length > MOST_DRAFTS)
      return setRemark(
        `A tray holds ${MOST_DRAFTS} loose parts; there is room for ${MOST_DRAFTS - drafts.length} more.`,
      );
    addReadings(result.readings);
    keptText = '';
    onClose();
  };
  return (
    <Dialog title="Paste a table" isWide onClose={onClose}>
      <p className="lead">
        A header row with the unit in each column of lengths (mm or in), then a row a part. Tabs, semicolons or commas
        part the cells; decimals take a point or a comma. A bore may read “slides on” and an axle’s name.
      </p>
      <pre className="tray-example">{EXAMPLE}</pre>
      <label className="tray-paste stack gap-1 strong">
        <span>Table</span>
        <textarea
          className="tray-text full on-sheet"
          rows={8}
          spellCheck={false}
          value={text}
          onChange={(event) => change(event.target.value)}
          placeholder="Paste here"
        />
      </label>
      <div className="choices flow gap-3">
        <button
          type="button"
          className="button button-main medium no-wrap"
          onClick={take}
          aria-disabled={text.trim() === ''}
        >
          Put on the tray
        </button>
        <label className="button tray-file medium anchor no-wrap">
          Open a file
          <input
            type="file"
            className="away clip no-wrap"
            accept=".csv,.tsv,.txt,.json,text/csv,text/plain,application/json"
            onChange={(event) => void read(event.target.files?.[0])}
          />
        </label>
      </div>
      <div role="alert" className="tray-problems trouble-words any-break">
        {remark !== '' && <p>{remark}</p>}
        {problems.length > 0 && <p>Nothing was put on the tray yet:</p>}
        <ul>
          {problems.slice(0, 30).map((problem) => (
            <li key={`${problem.row} ${problem.code} ${problem.field} ${problem.met}`}>
              {wordReadingProblem(problem)}
            </li>
          ))}
        </ul>
        {problems.length > 30 && <p>… and {problems.length - 30} more.</p>}
      </div>
    </Dialog>
  );
}
