/**
 * What stands in place of the bike, loaded when it is first asked for.
 */
import { lazy, Suspense, type ReactNode } from 'react';
import type { PlaceName } from '../page/route.ts';
import { useApp } from '../page/store.ts';

const Tray = lazy(() => import('../tray/TrayPlace.tsx'));
const Mat = lazy(() => import('../tray/MatPlace.tsx'));
const Order = lazy(() => import('../build/OrderPlace.tsx'));

export function Places({ place }: { readonly place: PlaceName }): ReactNode {
  const analysis = useApp((state) => state.opened?.analysis);
  if (!analysis) return <main className="tray-wait">Opening…</main>;
  return (
    <Suspense fallback={<main className="tray-wait">Opening…</main>}>
      {place === 'order' ? (
        <Order analysis={analysis} />
      ) : place === 'tray' ? (
        <Tray analysis={analysis} />
      ) : (
        <Mat analysis={analysis} />
      )}
    </Suspense>
  );
}
