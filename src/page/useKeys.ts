/**
 * Listens for the keys of `keys.ts` and does what they mean.
 */
import { useEffect } from 'react';
import { actionOf, type Focus, type KeyAction } from './keys.ts';
import { runOf } from './state.ts';
import { act, useApp } from './store.ts';

/** Put the keys to work for as long as the page lives. */
export function useKeys(): void {
  useEffect(() => {
    const listen = (event: KeyboardEvent): void => {
      if (event.defaultPrevented) return;
      const action = actionOf({
        key: event.key,
        focus: focusOf(event.target),
        hasDialog: document.querySelector('dialog[open]') !== null,
        isElsewhere: useApp.getState().place !== undefined,
        hasControl: (event.ctrlKey || event.metaKey) && !event.altKey && !event.shiftKey,
        hasModifier: event.ctrlKey || event.altKey || event.metaKey,
        letters: useApp.getState().settings.letterKeys,
      });
      if (!action) return;
      event.preventDefault();
      perform(action);
    };
    window.addEventListener('keydown', listen);
    return () => window.removeEventListener('keydown', listen);
  }, []);
}

function perform(action: KeyAction): void {
  const state = useApp.getState();
  switch (action.do) {
    case 'step':
      return act.stepBy(action.by);
    case 'step-end':
      return act.stepTo(action.end === 'first' ? 0 : runOf(state).steps.length - 1);
    case 'apart':
      if (state.travel) return act.setTravel({ ...state.travel, share: state.travel.share + action.by });
      return state.step === undefined ? act.glideApart(state.apart + action.by) : undefined;
    case 'view':
      return act.lookFrom(action.view);
    case 'pivot':
      return act.pickNextPivot(action.by);
    case 'cut':
      return act.setCut(!state.cut);
    case 'bike':
      return act.backToBike();
    case 'undo':
      return act.undoEdit();
    case 'redo':
      return act.redoEdit();
    case 'as-written':
      return act.showAsWritten(!state.asWritten);
    case 'keys':
    case 'find':
      return act.openDialog(action.do);
    case 'escape':
      return act.goBack();
  }
}

/** What the control an event comes from does with keys of its own. */
export function focusOf(target: EventTarget | null): Focus {
  if (!(target instanceof HTMLElement)) return 'nothing';
  if (target.isContentEditable || target instanceof HTMLTextAreaElement) return 'text';
  if (target instanceof HTMLInputElement)
    return target.type === 'range' || target.type === 'radio'
      ? 'arrows'
      : target.type === 'checkbox'
        ? 'button'
        : 'text';
  if (target instanceof HTMLSelectElement) return 'text';
  if (target.closest('[role="tablist"], [role="toolbar"], [role="radiogroup"], [data-arrows]')) return 'arrows';
  return target instanceof HTMLButtonElement ? 'button' : 'nothing';
}
