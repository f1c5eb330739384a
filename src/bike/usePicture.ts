/**
 * What the stage is to draw now: the state's picture, or one on the way to it.
 *
 * Apart-ness glides when a pivot is picked and follows a hand at once; places glide from step to step, into the first
 * and out of the last one.
 */
import { useMemo } from 'react';
import { spreadPivot, type Analysis, type PivotAnalysis, type StepPlace } from '../../shared/index.ts';
import { placesAfter, type Places } from '../app/run.ts';
import { doneOf, pivotOf, scopeOf, shownOf } from '../page/state.ts';
import { useApp } from '../page/store.ts';
import { isSameCast, mixNumber, mixPlaces } from '../picture/tween.ts';
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
  const analysis = useApp(shownOf);
  const pivot = useApp(pivotOf);
  const scope = useApp(scopeOf);
  const done = useApp(doneOf);
  const wantedApart = useApp((state) => state.apart);
  const isGliding = useApp((state) => state.isGliding);
  const isStill = useStillness();

  const wanted = useMemo<Scene>(() => {
    if (!analysis || !pivot) return { places: {}, isStep: false };
    return done === undefined
      ? { places: standing(pivot, wantedApart), isStep: false }
      : { places: asDrawn(pivot, placesAfter(analysis, pivot, scope, done)), isStep: true };
  }, [analysis, pivot, scope, done, wantedApart]);

  const apart = useGlide(wantedApart, NUMBERS, isStill || !isGliding);
  const scene = useGlide(wanted, SCENES, isStill);
  return { analysis, apart, places: scene.isStep ? scene.places : undefined };
}

/** All on the bike, as far apart as the slider says. */
function standing(pivot: PivotAnalysis, apart: number): Places {
  return mapPlaces(spreadPivot(pivot, apart), (offset_mm) => ({ offset_mm, on: true }));
}

/** What is not on the bike is drawn at its spread place, wherever its step says; a movement has to begin there. */
function asDrawn(pivot: PivotAnalysis, places: Places): Places {
  const spread = spreadPivot(pivot, 1);
  return mapPlaces(places, (place, id) => (place.on ? place : { offset_mm: spread[id] ?? place.offset_mm, on: false }));
}

function mapPlaces<T>(from: Readonly<Record<string, T>>, turn: (value: T, id: string) => StepPlace): Places {
  return Object.fromEntries(Object.entries(from).map(([id, value]) => [id, turn(value, id)]));
}
