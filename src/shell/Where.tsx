/**
 * Where one is, and the way back, at the same place of the head whatever is shown: bike, pivot, part, step, mistake,
 * travel, build order, tray.
 */
import type { ReactNode } from 'react';
import { nameOf, type Analysis } from '../../shared/index.ts';
import { itemOf, pivotOf, runOf, shownOf, stepOf, type AppState } from '../page/state.ts';
import type { PlaceName } from '../page/route.ts';
import { act, useApp } from '../page/store.ts';
import { useLent } from '../picture/lent.ts';

interface Here {
  /** Where the way back leads. */
  readonly back: string;
  readonly name: string;
  readonly about: string;
}

const PLACE_NAMES = {
  order: 'Build order',
  tray: 'Sorting tray',
  mat: 'Sorting mat',
  practice: 'Practice',
  felt: 'What is wrong with it?',
  class: 'Class screen',
  measure: 'Measure up',
  job: 'Jobs',
} as const;

/** Whether there is anything to go back from: all but the whole bike at rest. */
export function isAway({ place, pivotId, travel, step }: AppState): boolean {
  return place !== undefined || pivotId !== undefined || travel !== undefined || step !== undefined;
}

/** From one thing of a place to the list of them, from there to the bike. */
function backFrom({ draft, job }: AppState, place: PlaceName): string {
  if (place === 'mat') return 'Tray';
  if (place === 'measure' && draft !== undefined) return 'Drafts';
  return place === 'job' && job !== undefined ? 'All jobs' : 'Bike';
}

function hereOf(state: AppState, lentTo: string | undefined): Here | undefined {
  const analysis = shownOf(state);
  if (!analysis || !isAway(state)) return undefined;
  const { place, order, travel, whatIf, edits, step } = state;
  const { name: model } = analysis.model;
  if (place === 'order') return { back: 'Bike', ...orderWords(order, analysis, lentTo) };
  if (place) return { back: backFrom(state, place), name: PLACE_NAMES[place], about: place === 'measure' ? '' : model };
  const pivot = pivotOf(state);
  const item = itemOf(state, state.selectedId);
  const name = pivot?.name ?? model;
  if (travel) return { back: pivot?.name ?? 'Bike', name, about: 'Travel' };
  if (item) return { back: name, name, about: nameOf(item.id, analysis) };
  if (whatIf) return { back: 'The right build', name, about: edits.done.length > 0 ? 'Your row' : 'A mistake' };
  if (stepOf(state)) return { back: name, name, about: `Step ${(step ?? 0) + 1} of ${runOf(state).steps.length}` };
  return { back: 'Bike', name, about: model };
}

/** Where the build order stands: the pivot it works at, else the bike, and its step. */
function orderWords({ at, of }: AppState['order'], { pivots, model }: Analysis, pivotId?: string): Omit<Here, 'back'> {
  const what = of === 'access' ? 'Access' : PLACE_NAMES.order;
  return {
    name: pivots.find(({ id }) => id === pivotId)?.name ?? model.name,
    about: at > 0 ? `${what}, step ${at}` : what,
  };
}

export function Where(): ReactNode {
  const lentTo = useLent((state) => state.pivotId);
  const words = useApp((state) => JSON.stringify(hereOf(state, lentTo)));
  if (words === undefined) return null;
  const { back, name, about } = JSON.parse(words) as Here;
  return (
    <div className="where line slim">
      <button type="button" className="button where-back medium no-wrap rigid" onClick={goBack}>
        <span className="away clip no-wrap">‹ </span>
        <svg className="arrow icon" viewBox="0 0 20 20" aria-hidden="true">
          <path d="M12.5 4 6.5 10l6 6" />
        </svg>
        <span className="where-to">{back}</span>
      </button>
      <p className="where-name stack slim">
        <strong className="where-line clip no-wrap">{name}</strong>
        <span className="where-line soft small clip no-wrap">{about}</span>
      </p>
    </div>
  );
}

/** Back one level; the focus goes to the words when the button goes with what it led back from. */
function goBack(): void {
  const { place, draft, job } = useApp.getState();
  if (place === 'measure' && draft !== undefined) act.openDraft(undefined);
  else if (place === 'job' && job !== undefined) act.setJob(undefined);
  else if (place) act.goToPlace(place === 'mat' ? 'tray' : undefined);
  else act.goBack();
  requestAnimationFrame(() => {
    if (document.activeElement === document.body) document.querySelector<HTMLElement>('.panel [tabindex="0"]')?.focus();
  });
}
