/**
 * The one bar under the picture: how far the picked pivot is apart, the steps once they are gone through, or the travel;
 * never two of them.
 */
import type { ReactNode } from 'react';
import { useApp } from '../page/store.ts';
import { BackButton, NextButton, StepTrack } from '../build/Steps.tsx';
import { TravelBar } from '../travel/TravelBar.tsx';
import { ApartControl, CutButton, LeaveSteps } from './ApartControl.tsx';

export function HandBar({ isUpright }: { readonly isUpright: boolean }): ReactNode {
  const isApart = useApp((state) => state.pivotId !== undefined && state.step === undefined);
  const isTravelling = useApp((state) => state.travel !== undefined);
  if (isTravelling) return <TravelBar />;
  return (
    <div className="hand-bar line gap-5 slim" role="group" aria-label={isApart ? 'Apart and cut' : 'Steps'}>
      {isApart ? (
        <>
          <ApartControl />
          {isUpright && <CutButton />}
        </>
      ) : (
        <>
          {!isUpright && <LeaveSteps />}
          <BackButton />
          <StepTrack />
        </>
      )}
      <NextButton />
    </div>
  );
}
