/**
 * Tabs that take turns on one panel: arrows, Home and End move along them, as a reader of the screen expects.
 */
import { useRef, type KeyboardEvent, type ReactNode } from 'react';

/** A tab and its word. */
export interface TabWord<Tab extends string> {
  readonly tab: Tab;
  readonly word: string;
}

interface Props<Tab extends string> {
  readonly tabs: readonly TabWord<Tab>[];
  readonly tab: Tab;
  readonly label: string;
  readonly className: string;
  /** A tab's id is this with its name behind; `panelId` is what it shows. */
  readonly idFrom: string;
  readonly panelId: string;
  readonly onPick: (tab: Tab) => void;
}

export function TabList<Tab extends string>({
  tabs,
  tab,
  label,
  className,
  idFrom,
  panelId,
  onPick,
}: Props<Tab>): ReactNode {
  const list = useRef<HTMLDivElement>(null);
  const move = (event: KeyboardEvent): void => {
    const at = tabs.findIndex((entry) => entry.tab === tab);
    const to = {
      ArrowRight: (at + 1) % tabs.length,
      ArrowLeft: (at + tabs.length - 1) % tabs.length,
      Home: 0,
      End: tabs.length - 1,
    }[event.key];
    const next = to === undefined ? undefined : tabs[to];
    if (!next) return;
    event.preventDefault();
    onPick(next.tab);
    list.current?.querySelector<HTMLElement>(`#${idFrom}${next.tab}`)?.focus();
  };
  return (
    <div className={className} role="tablist" aria-label={label} ref={list} onKeyDown={move}>
      {tabs.map((entry) => (
        <button
          key={entry.tab}
          id={`${idFrom}${entry.tab}`}
          type="button"
          role="tab"
          className="tab soft strong"
          aria-selected={entry.tab === tab}
          aria-controls={panelId}
          tabIndex={entry.tab === tab ? 0 : -1}
          onClick={() => onPick(entry.tab)}
        >
          {entry.word}
        </button>
      ))}
    </div>
  );
}
