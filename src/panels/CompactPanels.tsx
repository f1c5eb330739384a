/**
 * The panels where the window has not room for all: tabs, with the step buttons always at hand below. Where it lies flat
 * the bench row has a place of its own under the stage, and only steps and card take turns.
 */
import { useRef, type KeyboardEvent, type ReactNode } from 'react';
import type { Room } from '../app/room.ts';
import type { Tab } from '../app/state.ts';
import { useApp } from '../app/store.ts';
import { HandRow } from './ApartControl.tsx';
import { BenchRow } from './BenchRow.tsx';
import { Card } from './Card.tsx';
import { PivotStrip } from './PivotStrip.tsx';
import { Deference } from './Sheets.tsx';
import { BackButton, NextButton, StepChoices, StepCount, StepSlider, StepWords } from './Steps.tsx';

const TABS: readonly { readonly tab: Tab; readonly word: string }[] = [
  { tab: 'steps', word: 'Steps' },
  { tab: 'bench-row', word: 'Bench row' },
  { tab: 'card', word: 'Findings' },
];

interface Props {
  readonly theme: 'dark' | 'light';
  readonly room: Exclude<Room, 'wide'>;
}

export function CompactPanels({ theme, room }: Props): ReactNode {
  const chosen = useApp((state) => state.tab);
  const isFlat = room === 'flat';
  const tabs = isFlat ? TABS.filter((entry) => entry.tab !== 'bench-row') : TABS;
  const tab = isFlat && chosen === 'bench-row' ? 'card' : chosen;
  return (
    <>
      {isFlat && <BenchRow theme={theme} />}
      <div className="panel" role="tabpanel" id="panel" aria-labelledby={`tab-${tab}`}>
        {tab === 'steps' && (
          <div className="panel-scroll">
            <StepWords />
            <StepChoices />
            <Deference />
          </div>
        )}
        {tab === 'bench-row' && <BenchRow theme={theme} />}
        {tab === 'card' && (
          <Card>
            <Deference />
          </Card>
        )}
      </div>
      {room === 'tall' && <HandRow />}
      <div className="step-bar">
        <BackButton />
        <div className="step-bar-middle">
          <StepCount />
          <StepSlider />
        </div>
        <NextButton />
      </div>
      <TabList tabs={tabs} tab={tab} />
      <PivotStrip />
    </>
  );
}

function TabList({ tabs, tab }: { readonly tabs: typeof TABS; readonly tab: Tab }): ReactNode {
  const act = useApp((state) => state.act);
  const list = useRef<HTMLDivElement>(null);
  const move = (event: KeyboardEvent): void => {
    const at = tabs.findIndex((entry) => entry.tab === tab);
    const to = { ArrowRight: (at + 1) % tabs.length, ArrowLeft: (at + tabs.length - 1) % tabs.length, Home: 0, End: tabs.length - 1 }[event.key];
    const next = to === undefined ? undefined : tabs[to];
    if (!next) return;
    event.preventDefault();
    act.setTab(next.tab);
    list.current?.querySelector<HTMLElement>(`#tab-${next.tab}`)?.focus();
  };
  return (
    <div className="tabs" role="tablist" aria-label="Panels" ref={list} onKeyDown={move}>
      {tabs.map((entry) => (
        <button
          key={entry.tab}
          id={`tab-${entry.tab}`}
          type="button"
          role="tab"
          className="tab"
          aria-selected={entry.tab === tab}
          aria-controls="panel"
          tabIndex={entry.tab === tab ? 0 : -1}
          onClick={() => act.setTab(entry.tab)}
        >
          {entry.word}
        </button>
      ))}
    </div>
  );
}
