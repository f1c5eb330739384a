/**
 * Listens for the keys of the page that mean something in the build order's place.
 */
import { useEffect, useRef } from 'react';
import { actionOf } from '../page/keys.ts';
import { goTo, setPlaying } from './orderClock.ts';
import { useApp } from '../page/store.ts';
import { focusOf } from '../page/useKeys.ts';

/** The keys of the page that mean something here: steps, views, the list of keys. */
export function useOrderKeys(total: number): void {
  const last = useRef(total);
  last.current = total;
  useEffect(() => {
    const listen = (event: KeyboardEvent): void => {
      if (event.defaultPrevented) return;
      const { act, order, settings } = useApp.getState();
      const action = actionOf({
        key: event.key,
        focus: focusOf(event.target),
        hasDialog: document.querySelector('dialog[open]') !== null,
        hasModifier: event.ctrlKey || event.altKey || event.metaKey,
        letters: settings.letterKeys,
      });
      if (!action || (action.do !== 'step' && action.do !== 'step-end' && action.do !== 'view' && action.do !== 'keys'))
        return;
      event.preventDefault();
      if (action.do === 'view') return act.lookFrom(action.view);
      if (action.do === 'keys') return act.openDialog('keys');
      setPlaying(false);
      if (action.do === 'step') goTo(order.at + action.by, last.current);
      else if (action.do === 'step-end') goTo(action.end === 'first' ? 1 : last.current, last.current);
    };
    window.addEventListener('keydown', listen);
    return () => window.removeEventListener('keydown', listen);
  }, []);
}
