/**
 * The page: one stage and what lies around it, arranged by the room the window gives.
 */
import { useEffect, type ReactNode } from 'react';
import { AddressLine } from '../panels/AddressLine.tsx';
import { BenchRow } from '../panels/BenchRow.tsx';
import { Card } from '../panels/Card.tsx';
import { CompactPanels } from '../panels/CompactPanels.tsx';
import { DropZone } from '../panels/DropZone.tsx';
import { Header } from '../panels/Header.tsx';
import { Places } from '../panels/Places.tsx';
import { PivotStrip } from '../panels/PivotStrip.tsx';
import { WhatIfBanner } from '../panels/slips/WhatIfBanner.tsx';
import { Deference } from '../panels/Deference.tsx';
import { Sheets } from '../panels/Sheets.tsx';
import { StageArea } from '../panels/StageArea.tsx';
import { BackButton, NextButton, StepAnnouncer, StepChoices, StepSlider, StepWords } from '../panels/Steps.tsx';
import { followAddress } from './history.ts';
import { isReady, pivotOf, shownOf } from './state.ts';
import { useApp } from './store.ts';
import { useKeepAwake } from './useAwake.ts';
import { useKeys } from './useKeys.ts';
import { useTravelled } from './useTravel.ts';
import { useScreen } from './useScreen.ts';

export function App(): ReactNode {
  const room = useScreen();
  const place = useApp((state) => state.place);
  useKeys();
  useKeepAwake();
  useEffect(() => followAddress(), []);
  useTitle();
  useReadyFlag();
  return (
    <div className="shell">
      <div>
        <Header room={room} />
        <WhatIfBanner />
        <AddressLine />
      </div>
      {place === undefined ? (
        <main className="floor">
          <StageArea room={room} />
          {room === 'wide' ? <WidePanels /> : <CompactPanels room={room} />}
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

function WidePanels(): ReactNode {
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
      <BenchRow />
    </>
  );
}

/** Names model and pivot in the window's title. */
function useTitle(): void {
  const model = useApp((state) => shownOf(state)?.model.name);
  const pivot = useApp((state) => pivotOf(state)?.name);
  useEffect(() => {
    document.title = [pivot, model, 'Axlewright'].filter((word) => word !== undefined).join(' · ');
  }, [model, pivot]);
}

/** Raises the flag that a test or a camera waits for. */
function useReadyFlag(): void {
  const { work } = useTravelled();
  // What is still to come would change the picture under the camera.
  const isUp = useApp(isReady) && work.state.is !== 'running';
  useEffect(() => {
    document.documentElement.dataset.ready = String(isUp);
  }, [isUp]);
}
