/**
 * The page: one picture and what lies around it, arranged by the room the window gives.
 */
import { Suspense, useEffect, type ReactNode } from 'react';
import { AddressLine } from './AddressLine.tsx';
import { Panels } from './Panels.tsx';
import { DropZone } from './DropZone.tsx';
import { Header } from './Header.tsx';
import { KeptLine } from '../kept/KeptLine.tsx';
import { OrderOfBike, Places } from './Places.tsx';
import { WhatIfBanner } from '../mistakes/WhatIfBanner.tsx';
import { Sheets } from '../menu/Sheets.tsx';
import { PictureArea } from '../bike/PictureArea.tsx';
import { SectionPicture } from '../row/SectionPicture.tsx';
import { StepAnnouncer } from '../build/Steps.tsx';
import { followAddress } from '../page/history.ts';
import { keepApp } from '../page/offline.ts';
import { isReady, pivotOf, shownOf } from '../page/state.ts';
import { hasPicture } from '../page/route.ts';
import { useApp } from '../page/store.ts';
import { useKeepAwake } from '../page/useAwake.ts';
import { useKeys } from '../page/useKeys.ts';
import { useTravelled } from '../travel/useTravel.ts';
import { useScreen } from '../page/useScreen.ts';
import { later } from '../later.ts';
import { useClass } from '../class/classStore.ts';
import { useLesson } from '../practice/lessonStore.ts';
import { PlaceBoundary } from '../widgets/PlaceBoundary.tsx';
import { usePlanning } from '../build/useOrder.ts';

const ClassBar = later(() => import('../class/ClassBar.tsx'));
const LessonBar = later(() => import('../practice/LessonBar.tsx'));

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
      {place !== 'class' && (
        <div>
          <Header room={room} />
          <WhatIfBanner />
          <AddressLine />
          <KeptLine />
          <Teaching />
        </div>
      )}
      {place === undefined || hasPicture(place) ? (
        <main className="floor stack hair fit">
          <PictureArea room={room} instead={<SectionPicture />} />
          {place === 'order' ? <OrderOfBike /> : <Panels room={room} />}
        </main>
      ) : (
        <Places place={place} />
      )}
      <StepAnnouncer />
      <Sheets />
      <DropZone />
    </div>
  );
}

/** What is given to a class: the bar that drives its screen, and the card of the lesson. */
function Teaching(): ReactNode {
  const isOn = useClass((state) => state.isOn);
  const hasLesson = useLesson((state) => state.lesson !== undefined);
  return (
    <PlaceBoundary>
      <Suspense>
        {isOn && <ClassBar />}
        {hasLesson && <LessonBar />}
      </Suspense>
    </PlaceBoundary>
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
    // After all that the first picture needs.
    if (isUp) keepApp();
  }, [isUp]);
}
