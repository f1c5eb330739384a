/**
 * The tabs of the build order's place.
 */
import { useRef, type KeyboardEvent, type ReactNode } from 'react';
import type { OrderTab } from '../../app/order.ts';

/** A tab and its word. */
export interface TabWord {
  readonly tab: OrderTab;
  readonly word: string;
}

interface Props {
  readonly tabs: readonly TabWord[];
  readonly tab: OrderTab;
  readonly pick: (tab: OrderTab) => void;
}

export function OrderTabs({ tabs, tab, pick }: Props): ReactNode {
  const list = useRef<HTMLDivElement>(null);
  const move = (event: KeyboardEvent): void => {
    const at = tabs.findIndex((entry) => entry.tab === tab);
    const to = { ArrowRight: (at + 1) % tabs.length, ArrowLeft: (at + tabs.length - 1) % tabs.length, Home: 0, End: tabs.length - 1 }[event.key];
    const next = to === undefined ? undefined : tabs[to];
    if (!next) return;
    event.preventDefault();
    pick(next.tab);
    list.current?.querySelector<HTMLElement>(`#plan-tab-${next.tab}`)?.focus();
  };
  return (
    <div className="plan-tabs" role="tablist" aria-label="Build order" ref={list} onKeyDown={move}>
      {tabs.map((entry) => (
        <button
          key={entry.tab}
          id={`plan-tab-${entry.tab}`}
          type="button"
          role="tab"
          className="tab"
          aria-selected={entry.tab === tab}
          aria-controls="plan-page"
          tabIndex={entry.tab === tab ? 0 : -1}
          onClick={() => pick(entry.tab)}
        >
          {entry.word}
        </button>
      ))}
    </div>
  );
}
