/**
 * Goes where an entry of the search leads.
 */
import type { TradeSubject } from '../../shared/index.ts';
import { goToAccess, goToMistakes, goToOrder, goToPart, goToPivot, goToTorque } from '../page/go.ts';
import { act, useApp } from '../page/store.ts';
import { type Going, type GoPlace } from './find.ts';

/** Close the search, and go there. */
export function go(going: Going): void {
  act.openDialog(undefined);
  switch (going.to) {
    case 'pivot':
      return goToPivot(going.pivot);
    case 'torque':
      return goToTorque(going.pivot, going.stack);
    case 'part':
      return goToPart(going.pivot, going.part);
    case 'access':
      return goToAccess(going.part);
    case 'step':
      return goToOrder(going.at);
    case 'subject':
      return goToSubject(going.subject);
    case 'place':
      return goToPlace(going.place);
  }
}

function goToSubject(subject: TradeSubject): void {
  switch (subject) {
    case 'marks':
      return goToPlace('legend');
    case 'torque':
      return goToPlace('torque-list');
    case 'cautions':
      return goToPlace('safety');
    case 'mistakes':
      return goToMistakes(useApp.getState().pivotId);
    default:
      return goToPlace(subject);
  }
}

function goToPlace(place: GoPlace): void {
  switch (place) {
    case 'bike':
      return goToPivot(undefined);
    case 'order':
      return goToOrder();
    case 'access':
      return goToAccess(undefined);
    case 'tray':
      return act.goToPlace('tray');
    case 'practice':
      return act.goToPlace('practice');
    case 'felt':
      return act.goToPlace('felt');
    case 'measure':
      return act.openDraft(undefined);
    case 'job':
      return act.goToPlace('job');
    case 'travel':
      act.goToPlace(undefined);
      return act.setTravel({ share: 0, isOut: false });
    default:
      return act.openDialog(place);
  }
}
