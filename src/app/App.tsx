/**
 * The page: one stage and what lies around it, arranged by the room the window gives.
 */
import { useEffect, type ReactNode } from 'react';
import { BenchRow } from '../panels/BenchRow.tsx';
import { Card } from '../panels/Card.tsx';
import { CompactPanels } from '../panels/CompactPanels.tsx';
import { DropZone } from '../panels/DropZone.tsx';
import { Header } from '../panels/Header.tsx';
import { Places } from '../panels/Places.tsx';
import { PivotStrip } from '../panels/PivotStrip.tsx';
import { WhatIfBanner } from '../panels/slips/WhatIfBanner.tsx';
import { Deference, Sheets } from '../panels/Sheets.tsx';
import { StageArea } from '../panels/StageArea.tsx';
import { BackButton, NextButton, StepAnnouncer, StepChoices, StepSlider, StepWords } from '../panels/Steps.tsx';
import { followAddress } from './history.ts';
import { isReady, pivotOf } from './state.ts';
import { useApp } from './store.ts';
import { useKeepAwake } from './useAwake.ts';
import { useKeys } from './useKeys.ts';
import { usePlanning } from './useOrder.ts';
import { useScreen } from './useScreen.ts';

export function App(): ReactNode {
  const { room, theme } = useScreen();
  const place = useApp((state) => state.place);
  useKeys();
  useKeepAwake();
  usePlanning();
  useEffect(() => followAddress(), []);
  useTitle();
  useReadyFlag();
  return (
    <div className="shell">
      <div>
        <Header room={room} />
        <WhatIfBanner />
      </div>
      {place === undefined ? (
        <main className="floor">
          <StageArea theme={theme} room={room} />
          {room === 'wide' ? <WidePanels theme={theme} /> : <CompactPanels theme={theme} room={room} />}
        </main>
      ) : (
        <Places place={place} />
      )}
      {room === 'wide' && place === undefined && (
        <footer className="foot">
          <Deference />
        </footer>
      )}
      <StepAnnouncer />
      <Sheets />
      <DropZone />
    </div>
  );
}

function WidePanels({ theme }: { readonly theme: 'dark' | 'light' }): ReactNode {
  return (
    <>
      <PivotStrip />
      <Card />
      <div className="step-bar">
        <StepChoices />
        <BackButton />
        <StepSlider />
        <NextButton />
      </div>
      <StepWords />
      <BenchRow theme={theme} />
    </>
  );
}

/** Names model and pivot in the window's title. */
function useTitle(): void {
  const model = useApp((state) => state.opened?.analysis.model.name);
  const pivot = useApp((state) => pivotOf(state)?.name);
  useEffect(() => {
    document.title = [pivot, model, 'Axlewright'].filter((word) => word !== undefined).join(' · ');
  }, [model, pivot]);
}

/** Raises the flag that a test or a camera waits for. */
function useReadyFlag(): void {
  const isUp = useApp(isReady);
  useEffect(() => {
    document.documentElement.dataset.ready = String(isUp);
  }, [isUp]);
}
