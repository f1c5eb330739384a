/**
 * The side card: one thing at a time, in large type. The picked part, else the picked pivot, else the bike.
 */
import { Suspense, useEffect, useRef, type ReactNode } from 'react';
import { later } from '../later.ts';
import { itemOf, pivotOf, shownOf, toldOf } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { BikeCard } from './BikeCard.tsx';
import { PartCard } from './PartCard.tsx';
import { PivotCard } from './PivotCard.tsx';
import { PlaceBoundary } from '../widgets/PlaceBoundary.tsx';
import { WhatIfCard } from '../mistakes/WhatIfCard.tsx';

const TravelCard = later(() => import('../travel/TravelCard.tsx'));

export function Card({ children }: { readonly children?: ReactNode }): ReactNode {
  const analysis = useApp(shownOf);
  const told = useApp(toldOf);
  const pivot = useApp(pivotOf);
  const toldPivot = told?.pivots.find(({ id }) => id === pivot?.id);
  const item = useApp((state) => itemOf(state, state.selectedId));
  const written = useApp((state) => state.opened?.analysis);
  const whatIf = useApp((state) => state.whatIf);
  const isTravelling = useApp((state) => state.travel !== undefined);
  const page = useRef<HTMLElement>(null);

  useEffect(() => {
    if (page.current) page.current.scrollTop = 0;
  }, [pivot, item, whatIf, isTravelling]);

  return (
    <section className="card usual fit on-sheet anchor scroll" aria-label="Side card" ref={page} tabIndex={0}>
      <PlaceBoundary key={`${pivot?.id ?? ''} ${item?.id ?? ''} ${isTravelling} ${whatIf?.row.mistake.id ?? ''}`}>
        {!analysis ? (
          <p>Opening…</p>
        ) : isTravelling ? (
          <Suspense fallback={<p>Opening…</p>}>
            <TravelCard analysis={analysis} />
          </Suspense>
        ) : item && pivot ? (
          <PartCard item={item} pivot={toldPivot ?? pivot} analysis={analysis} />
        ) : whatIf && written ? (
          <WhatIfCard whatIf={whatIf} written={written} />
        ) : pivot ? (
          <PivotCard pivot={pivot} told={toldPivot ?? pivot} analysis={analysis} />
        ) : (
          <BikeCard analysis={analysis} told={told ?? analysis} />
        )}
      </PlaceBoundary>
      {children}
    </section>
  );
}
