/**
 * One tab stop for a list of buttons, and arrow keys, Home and End within it.
 *
 * The stop is the button that had the focus last, else the one that is pressed, else the first. In a row all arrow keys
 * move; in a list upright ones alone, so that the others go on stepping.
 */
import { useEffect, useRef, type RefObject } from 'react';

const BUTTONS = 'button:not(:disabled)';
const MOVES: Readonly<Record<'row' | 'list', Readonly<Record<string, 1 | -1>>>> = {
  row: { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 },
  list: { ArrowDown: 1, ArrowUp: -1 },
};

/** For the element around the buttons. */
export function useRoving<E extends HTMLElement>(way: 'row' | 'list'): RefObject<E | null> {
  const frame = useRef<E>(null);
  const last = useRef<Element | undefined>(undefined);

  // After each drawing: buttons come and go, and another may be pressed.
  useEffect(() => {
    const buttons = [...(frame.current?.querySelectorAll<HTMLElement>(BUTTONS) ?? [])];
    const stop =
      buttons.find((button) => button === last.current) ??
      buttons.find((button) => button.getAttribute('aria-pressed') === 'true') ??
      buttons[0];
    for (const button of buttons) button.tabIndex = button === stop ? 0 : -1;
  });

  useEffect(() => {
    const own = frame.current;
    if (!own) return undefined;
    const buttons = (): HTMLElement[] => [...own.querySelectorAll<HTMLElement>(BUTTONS)];
    const stay = ({ target }: FocusEvent): void => {
      const button = target instanceof Element ? target.closest(BUTTONS) : null;
      if (!button) return;
      last.current = button;
      for (const each of buttons()) each.tabIndex = each === button ? 0 : -1;
    };
    const move = (event: KeyboardEvent): void => {
      if (event.altKey || event.ctrlKey || event.metaKey) return;
      const all = buttons();
      const at = all.findIndex((button) => button === document.activeElement);
      const by = MOVES[way][event.key];
      const to = by !== undefined ? at + by : { Home: 0, End: all.length - 1 }[event.key];
      if (at < 0 || to === undefined) return;
      event.preventDefault();
      all[Math.max(0, Math.min(all.length - 1, to))]?.focus();
    };
    own.addEventListener('focusin', stay);
    own.addEventListener('keydown', move);
    return () => {
      own.removeEventListener('focusin', stay);
      own.removeEventListener('keydown', move);
    };
  }, [way]);

  return frame;
}
