/**
 * The search: one field over everything that can be gone to, by arrow keys and Enter or by a tap.
 *
 * The focus stays in the field; what Enter would go to is told by the field (the combobox pattern with a list in
 * groups).
 */
import { useEffect, useId, useMemo, useRef, useState, type KeyboardEvent, type ReactNode } from 'react';
import { useApp } from '../page/store.ts';
import { Dialog } from '../widgets/Dialog.tsx';
import { entriesFor, find, type Entry, type Found } from './find.ts';
import { go } from './go.ts';

const GROUP_WORDS: Readonly<Record<Found['group'], string>> = {
  pivot: 'Pivots',
  part: 'Parts',
  piece: 'Whole pieces',
  tool: 'Tools',
  word: 'Words of the trade',
  place: 'On this page',
};

export default function FindSheet({ onClose }: { readonly onClose: () => void }): ReactNode {
  // A mistake that is looked at is not searched: its parts go by the build as written.
  const analysis = useApp((state) => state.opened?.analysis);
  const planned = useApp((state) => state.planned);
  const [text, setText] = useState('');
  const [at, setAt] = useState(0);
  const field = useRef<HTMLInputElement>(null);
  const list = useRef<HTMLDivElement>(null);
  const ids = useId();
  const entries = useMemo(() => (analysis ? entriesFor(analysis, planned) : []), [analysis, planned]);
  const found = useMemo(() => find(entries, text), [entries, text]);
  const flat = useMemo(() => found.flatMap((group) => group.list), [found]);
  const here = Math.min(at, flat.length - 1);
  const optionId = (k: number): string => `${ids}option-${k}`;

  useEffect(() => field.current?.focus(), []);
  useEffect(() => {
    list.current?.querySelector('[aria-selected="true"]')?.scrollIntoView({ block: 'nearest' });
  }, [here, found]);

  const press = (event: KeyboardEvent): void => {
    const to = {
      ArrowDown: here + 1 < flat.length ? here + 1 : 0,
      ArrowUp: here > 0 ? here - 1 : flat.length - 1,
      PageDown: Math.min(here + 6, flat.length - 1),
      PageUp: Math.max(here - 6, 0),
    }[event.key];
    if (to !== undefined) {
      event.preventDefault();
      setAt(Math.max(0, to));
    } else if (event.key === 'Enter') {
      event.preventDefault();
      const one = flat[here];
      if (one) go(one.going);
    }
  };

  let k = -1;
  return (
    <Dialog title="Search" onClose={onClose}>
      <div className="find stack gap-3">
        <input
          ref={field}
          type="text"
          className="input full usual"
          role="combobox"
          aria-label="Pivot, part, tool or word"
          aria-autocomplete="list"
          aria-expanded={flat.length > 0}
          aria-controls={`${ids}list`}
          {...(flat.length > 0 ? { 'aria-activedescendant': optionId(here) } : {})}
          placeholder="Pivot, part, tool or word"
          autoComplete="off"
          autoCapitalize="off"
          spellCheck={false}
          enterKeyHint="go"
          maxLength={80}
          value={text}
          onChange={(event) => {
            setText(event.target.value);
            setAt(0);
          }}
          onKeyDown={press}
        />
        <p className={flat.length === 0 ? undefined : 'away clip no-wrap'} role="status">
          {flat.length === 0
            ? 'Nothing here by that name. Try fewer letters, or a size such as 15 × 32.'
            : `${flat.length} found`}
        </p>
        <div ref={list} role="listbox" id={`${ids}list`} aria-label="Found">
          {found.map(({ group, list: own, more }) => (
            <div key={group} role="group" aria-labelledby={`${ids}${group}`} className="find-group">
              <p id={`${ids}${group}`} className="soft small strong">
                {GROUP_WORDS[group]}
                {more > 0 ? ` (${more} more, type on)` : ''}
              </p>
              {own.map((one) => {
                k += 1;
                return <Option key={one.id} entry={one} id={optionId(k)} isHere={k === here} />;
              })}
            </div>
          ))}
        </div>
      </div>
    </Dialog>
  );
}

function Option({
  entry,
  id,
  isHere,
}: {
  readonly entry: Entry;
  readonly id: string;
  readonly isHere: boolean;
}): ReactNode {
  return (
    <div
      role="option"
      id={id}
      aria-selected={isHere}
      className="find-option stack tints"
      onClick={() => go(entry.going)}
    >
      <span className="strong">{entry.name}</span>
      {entry.about !== '' && <span className="find-about small">{entry.about}</span>}
    </div>
  );
}
