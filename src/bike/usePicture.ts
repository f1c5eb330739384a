/**
 * What the picture is to draw now: the state's picture, or one on the way to it.
 *
 * Apart-ness glides when a pivot is picked and follows a hand at once; places glide from step to step, into the first
 * and out of the last one.
 */
import { useMemo } from 'react';
import { spreadPivot, type Analysis, type PivotAnalysis } from '../../shared/index.ts';
import { placesAt } from '../build/orderRun.ts';
import { runIn } from '../build/planned.ts';
import { pivotOf, seenIn, shownOf, stepOf } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { isSameCast, mixNumber, mixPlaces, type Places } from '../picture/tween.ts';
import { useGlide, type Way } from '../picture/useGlide.ts';
import { useStillness } from '../page/useMedia.ts';

interface Picture {
  readonly analysis: Analysis | undefined;
  readonly apart: number;
  readonly places: Places | undefined;
}

interface Scene {
  readonly places: Places;
  readonly isStep: boolean;
}

const NUMBERS: Way<number> = { mix: mixNumber, hasWay: () => true };
const SCENES: Way<Scene> = {
  mix: (from, to, share) => (share >= 1 ? to : { places: mixPlaces(from.places, to.places, share), isStep: true }),
  hasWay: (from, to) => (from.isStep || to.isStep) && isSameCast(from.places, to.places),
};

/** The picture in force. */
export function usePicture(): Picture {
  const analysis = useApp((state) => shownOf(seenIn(state)));
  const pivot = useApp((state) => pivotOf(seenIn(state)));
  const step = useApp(stepOf);
  const whole = useApp((state) => runIn(state.planned, undefined, state.direction));
  const wantedApart = useApp((state) => state.apart);
  const isGliding = useApp((state) => state.isGliding);
  const isStill = useStillness();

  const wanted = useMemo<Scene>(() => {
    if (!analysis || !pivot) return { places: {}, isStep: false };
    // Where the parts stand follows from every step of the bike before this one, whichever of them are gone through.
    return step === undefined
      ? { places: standing(pivot, wantedApart), isStep: false }
      : { places: placesAt(whole, pivot, whole.steps.indexOf(step) + 1), isStep: true };
  }, [analysis, pivot, whole, step, wantedApart]);

  const apart = useGlide(wantedApart, NUMBERS, isStill || !isGliding);
  const scene = useGlide(wanted, SCENES, isStill);
  return { analysis, apart, places: scene.isStep ? scene.places : undefined };
}

/** All on the bike, as far apart as the slider says. */
function standing(pivot: PivotAnalysis, apart: number): Places {
  return Object.fromEntries(
    Object.entries(spreadPivot(pivot, apart)).map(([id, offset_mm]) => [id, { offset_mm, on: true }]),
  );
}
