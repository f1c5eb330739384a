/**
 * The panels where the window has not room for all: tabs, with the step buttons always at hand below. Where it lies flat
 * the row has a place of its own under the picture, and only steps and card take turns.
 */
import type { ReactNode } from 'react';
import type { Room } from '../page/room.ts';
import type { Tab } from '../page/state.ts';
import { act, useApp } from '../page/store.ts';
import { HandRow } from '../bike/ApartControl.tsx';
import { TheRow } from '../row/TheRow.tsx';
import { Card } from '../bike/Card.tsx';
import { PivotStrip } from '../bike/PivotStrip.tsx';
import { Deference } from '../widgets/Deference.tsx';
import { BackButton, NextButton, StepChoices, StepCount, StepSlider, StepWords } from '../build/Steps.tsx';
import { TabList, type TabWord } from '../widgets/TabList.tsx';

const TABS: readonly TabWord<Tab>[] = [
  { tab: 'steps', word: 'Steps' },
  { tab: 'the-row', word: 'The row' },
  { tab: 'card', word: 'Findings' },
];

interface Props {
  readonly room: Exclude<Room, 'wide'>;
}

export function CompactPanels({ room }: Props): ReactNode {
  const chosen = useApp((state) => state.tab);
  const isFlat = room === 'flat';
  const tabs = isFlat ? TABS.filter((entry) => entry.tab !== 'the-row') : TABS;
  const tab = isFlat && chosen === 'the-row' ? 'card' : chosen;
  return (
    <>
      {isFlat && <TheRow />}
      <div className="panel stack fit on-sheet" role="tabpanel" id="panel" aria-labelledby={`tab-${tab}`}>
        {tab === 'steps' && (
          <div className="panel-scroll scroll">
            <StepWords />
            <StepChoices />
            <Deference />
          </div>
        )}
        {tab === 'the-row' && <TheRow />}
        {tab === 'card' && (
          <Card>
            <Deference />
          </Card>
        )}
      </div>
      {room === 'tall' && <HandRow />}
      <div className="step-bar line gap-5 slim on-sheet">
        <BackButton />
        <div className="step-bar-middle stack small medium slim">
          <StepCount />
          <StepSlider />
        </div>
        <NextButton />
      </div>
      <TabList
        tabs={tabs}
        tab={tab}
        label="Panels"
        className="tabs stack on-sheet"
        idFrom="tab-"
        panelId="panel"
        onPick={act.setTab}
      />
      <PivotStrip />
    </>
  );
}
