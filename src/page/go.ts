/**
 * The ways from anything to what belongs to it: from a part or a pivot to its access, its torque, its mistakes and its
 * place in the build, wherever on the page one is.
 */
import { FIRST_VIEW } from '../build/order.ts';
import type { Run } from '../build/orderRun.ts';
import { runIn } from '../build/planned.ts';
import { focusSection } from './focus.ts';
import { useSheetHeight } from './sheetHeight.ts';
import type { AppState } from './state.ts';
import { act, useApp } from './store.ts';

/** To the picture of the bike, with the card beside it open. */
function goToCard(): void {
  act.goToPlace(undefined);
  act.setTab('card');
  useSheetHeight.getState().show(true);
}

/** To a pivot, without step and part; none is the whole bike. */
export function goToPivot(pivotId: string | undefined): void {
  goToCard();
  act.pickPivot(pivotId);
  act.stepTo(undefined);
  act.select(undefined);
}

/** To the card of a part. */
export function goToPart(pivotId: string, id: string): void {
  goToPivot(pivotId);
  act.select(id);
}

/** To the torque of an axle. */
export function goToTorque(pivotId: string, stackId: string): void {
  goToPivot(pivotId);
  act.pickStack(stackId);
  focusSection(`torque ${stackId}`);
}

/** To the mistakes of a pivot; without one to those of the whole bike. */
export function goToMistakes(pivotId: string | undefined): void {
  goToPivot(pivotId);
  focusSection('mistakes');
}

/** To what has to come off to get at a part by its scene id; without one, to where a part is asked for. */
export function goToAccess(id: string | undefined): void {
  act.setOrder({
    ...FIRST_VIEW,
    ...rest(useApp.getState()),
    tab: 'access',
    of: 'access',
    ...(id === undefined ? {} : { access: id }),
  });
  act.goToPlace('order');
}

/** What of the build order's place a look at access leaves alone. */
function rest({ order }: AppState): Partial<AppState['order']> {
  return { way: order.way, ...(order.own ? { own: order.own } : {}) };
}

/** To the build order of the whole bike, after so many steps. */
export function goToOrder(at = 0): void {
  act.setOrder({ ...useApp.getState().order, tab: 'plan', of: 'plan', way: 'build', at });
  act.goToPlace('order');
}

/** To the first step that handles a part, in the steps of its pivot. */
export function goToStep(pivotId: string, id: string): void {
  const state = useApp.getState();
  const at = stepWith(runIn(state.planned, pivotId, 'build').steps, id);
  if (at === undefined) return;
  goToCard();
  act.pickPivot(pivotId);
  act.setDirection('build');
  act.setScope('pivot');
  act.stepTo(at);
  act.setTab('steps');
}

/** Where in a run a part is first put in its place, or else handled at all. */
export function stepWith(steps: Run['steps'], id: string): number | undefined {
  const isPut = steps.findIndex(({ step, places }) => step.items.includes(id) && places[id]?.on === true);
  const at = isPut < 0 ? steps.findIndex(({ step }) => step.items.includes(id)) : isPut;
  return at < 0 ? undefined : at;
}
