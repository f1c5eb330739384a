/**
 * The page: one picture and what lies around it, arranged by the room the window gives.
 */
import { useEffect, type ReactNode } from 'react';
import { AddressLine } from './AddressLine.tsx';
import { TheRow } from '../row/TheRow.tsx';
import { Card } from '../bike/Card.tsx';
import { CompactPanels } from './CompactPanels.tsx';
import { DropZone } from './DropZone.tsx';
import { Header } from './Header.tsx';
import { Places } from './Places.tsx';
import { PivotStrip } from '../bike/PivotStrip.tsx';
import { WhatIfBanner } from '../mistakes/WhatIfBanner.tsx';
import { Deference } from '../widgets/Deference.tsx';
import { Sheets } from '../menu/Sheets.tsx';
import { PictureArea } from '../bike/PictureArea.tsx';
import { BackButton, NextButton, StepAnnouncer, StepChoices, StepSlider, StepWords } from '../build/Steps.tsx';
import { followAddress } from '../page/history.ts';
import { isReady, pivotOf, shownOf } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { useKeepAwake } from '../page/useAwake.ts';
import { useKeys } from '../page/useKeys.ts';
import { useTravelled } from '../travel/useTravel.ts';
import { useScreen } from '../page/useScreen.ts';
import { usePlanning } from '../build/useOrder.ts';

export function App(): ReactNode {
  const room = useScreen();
  const place = useApp((state) => state.place);
  useKeys();
  useKeepAwake();
  usePlanning();
  useEffect(() => followAddress(), []);
  useTitle();
  useReadyFlag();
  return (
    <div className="shell stack clip">
      <div>
        <Header room={room} />
        <WhatIfBanner />
        <AddressLine />
      </div>
      {place === undefined ? (
        <main className="floor stack hair fit">
          <PictureArea room={room} />
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
      <div className="step-bar line gap-5 slim on-sheet">
        <StepChoices />
        <BackButton />
        <StepSlider />
        <NextButton />
      </div>
      <StepWords />
      <TheRow />
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
