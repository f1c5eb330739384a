/**
 * What stands in place of the bike, loaded when it is first asked for.
 */
import { Suspense, type ReactNode } from 'react';
import type { PlaceName } from '../page/route.ts';
import { later } from '../later.ts';
import { act, useApp } from '../page/store.ts';
import { PlaceBoundary } from '../widgets/PlaceBoundary.tsx';

const Tray = later(() => import('../tray/TrayPlace.tsx'));
const Mat = later(() => import('../tray/MatPlace.tsx'));
const Measure = later(() => import('../measure/MeasurePlace.tsx'));
const Order = later(() => import('../build/OrderPlace.tsx'));
const ClassScreen = later(() => import('../class/ClassScreen.tsx'));
const Jobs = later(() => import('../job/JobPlace.tsx'));
const Felt = later(() => import('../felt/FeltPlace.tsx'));
const Practice = later(() => import('../practice/PracticePlace.tsx'));

/** The build order round the page's one picture. */
export function OrderOfBike(): ReactNode {
  const analysis = useApp((state) => state.opened?.analysis);
  const waiting = (words: ReactNode): ReactNode => (
    <div className="side stack fit on-sheet">
      <div className="tray-wait">{words}</div>
    </div>
  );
  if (!analysis) return waiting('Opening…');
  return (
    <PlaceBoundary onLeave={() => act.goToPlace(undefined)} frame={waiting}>
      <Suspense fallback={waiting('Opening…')}>
        <Order analysis={analysis} />
      </Suspense>
    </PlaceBoundary>
  );
}

export function Places({ place }: { readonly place: PlaceName }): ReactNode {
  const analysis = useApp((state) => state.opened?.analysis);
  if (!analysis) return <main className="tray-wait">Opening…</main>;
  return (
    <PlaceBoundary
      key={place}
      onLeave={() => act.goToPlace(undefined)}
      frame={(fault) => <main className="tray-wait">{fault}</main>}
    >
      <Suspense fallback={<main className="tray-wait">Opening…</main>}>
        {place === 'measure' ? (
          <Measure />
        ) : place === 'tray' ? (
          <Tray analysis={analysis} />
        ) : place === 'job' ? (
          <Jobs analysis={analysis} />
        ) : place === 'practice' ? (
          <Practice analysis={analysis} />
        ) : place === 'felt' ? (
          <Felt analysis={analysis} />
        ) : place === 'class' ? (
          <ClassScreen analysis={analysis} />
        ) : (
          <Mat analysis={analysis} />
        )}
      </Suspense>
    </PlaceBoundary>
  );
}
