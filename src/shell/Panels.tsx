/**
 * What lies round the picture: the row under it, the side sheet with its tabs, and one bar of pivots and of what a hand
 * does. On an upright phone the sheet comes up from below, to one of three heights.
 */
import type { ReactNode } from 'react';
import type { PivotAnalysis } from '../../shared/index.ts';
import type { Room } from '../page/room.ts';
import { toldOf, type Tab } from '../page/state.ts';
import { useSheetHeight } from '../page/sheetHeight.ts';
import { act, useApp } from '../page/store.ts';
import { HandBar } from '../bike/HandBar.tsx';
import { RowPanel } from '../row/RowPanel.tsx';
import { TheRow } from '../row/TheRow.tsx';
import { Card } from '../bike/Card.tsx';
import { PivotStrip } from '../widgets/PivotStrip.tsx';
import { Deference } from '../widgets/Deference.tsx';
import { StepChoices, StepWords } from '../build/Steps.tsx';
import { TabList, type TabWord } from '../widgets/TabList.tsx';
import { SheetHandle, useSheetDrag } from '../widgets/sheet.tsx';

const TABS: readonly TabWord<Tab>[] = [
  { tab: 'steps', word: 'Steps' },
  { tab: 'the-row', word: 'The row' },
  { tab: 'card', word: 'Findings' },
];

const NONE: readonly PivotAnalysis[] = [];

export function Panels({ room }: { readonly room: Room }): ReactNode {
  const chosen = useApp((state) => state.tab);
  const told = useApp((state) => toldOf(state)?.pivots);
  const pivotId = useApp((state) => state.pivotId);
  const hasPivot = pivotId !== undefined;
  const pivots = <PivotStrip pivots={told ?? NONE} picked={pivotId} onPick={act.pickPivot} />;
  const height = useSheetHeight((state) => state.height);
  const drag = useSheetDrag();
  const isUpright = room === 'tall';
  const hasRow = room === 'wide' || room === 'flat';
  const tab = chosen;
  const isOpen = !isUpright || height !== 'low';
  const pick = (to: Tab): void => {
    if (isUpright) useSheetHeight.getState().show(true);
    act.setTab(to);
  };
  return (
    <>
      {hasRow && hasPivot && <TheRow />}
      <div className="side stack fit on-sheet" data-sheet={isUpright ? height : undefined}>
        <div className="side-head flex" {...(isUpright ? drag : {})}>
          <TabList
            tabs={TABS}
            tab={tab}
            label="Panels"
            className="tabs stack"
            idFrom="tab-"
            panelId="panel"
            onPick={pick}
          />
          {isUpright && <SheetHandle />}
        </div>
        <div className="panel stack fit" role="tabpanel" id="panel" aria-labelledby={`tab-${tab}`} hidden={!isOpen}>
          {tab === 'steps' && (
            <div className="panel-scroll scroll">
              <StepWords />
              <StepChoices />
              <Deference />
            </div>
          )}
          {tab === 'the-row' && (
            <RowPanel hasSection={hasRow && hasPivot}>
              <Deference />
            </RowPanel>
          )}
          {tab === 'card' && (
            <Card>
              <Deference />
            </Card>
          )}
        </div>
      </div>
      <div className="bar line gap-5 slim on-sheet">
        {!isUpright && pivots}
        <HandBar isUpright={isUpright} />
      </div>
      {isUpright && pivots}
    </>
  );
}
