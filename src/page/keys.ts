/**
 * What a key means. Pure: from the key and where the focus is to an action, or none.
 *
 * A presenter's remote sends PageDown and PageUp: they step from anywhere but a text field or an open dialog. Arrow
 * keys step only where they mean nothing else. Single letters can be switched off (WCAG 2.1.4).
 */
import type { View } from './route.ts';

export type KeyAction =
  | { readonly do: 'step'; readonly by: 1 | -1 }
  | { readonly do: 'step-end'; readonly end: 'first' | 'last' }
  | { readonly do: 'apart'; readonly by: number }
  | { readonly do: 'view'; readonly view: View }
  | { readonly do: 'pivot'; readonly by: 1 | -1 }
  | { readonly do: 'cut' | 'bike' | 'keys' | 'find' | 'escape' | 'undo' | 'redo' | 'as-written' };

/** What the focused control does with keys of its own. */
export type Focus = 'nothing' | 'button' | 'arrows' | 'text';

export interface KeyPress {
  readonly key: string;
  readonly focus: Focus;
  readonly hasDialog: boolean;
  /** Another place stands where the bike was: of all keys the search alone means the same there. */
  readonly isElsewhere?: boolean;
  readonly hasModifier: boolean;
  /** Control or Command alone is held. */
  readonly hasControl?: boolean;
  readonly letters: boolean;
}

/** One step of the apart slider by key. */
const APART_KEY_STEP = 0.1;

/** The rows of the keys dialog, in the order shown. */
export const KEY_LIST: readonly { readonly keys: readonly string[]; readonly what: string; readonly letter?: true }[] =
  [
    { keys: ['Page Down', '→'], what: 'Next step' },
    { keys: ['Page Up', '←'], what: 'Step back' },
    { keys: ['Home', 'End'], what: 'First step, last step' },
    { keys: ['Esc'], what: 'Back one level: part, steps, pivot' },
    { keys: ['+', '−'], what: 'Further apart, closer together', letter: true },
    { keys: ['P', 'Shift P'], what: 'Next pivot, pivot before', letter: true },
    {
      keys: ['D', 'N', 'A', 'T'],
      what: 'Stand on the drive side, non-drive side, look from above, three-quarter',
      letter: true,
    },
    { keys: ['B'], what: 'Back to the bike', letter: true },
    { keys: ['C'], what: 'Cut open or whole', letter: true },
    { keys: ['W'], what: 'As written, or as you have it', letter: true },
    { keys: ['/'], what: 'Search pivots, parts, tools and words', letter: true },
    { keys: ['?'], what: 'This list', letter: true },
  ];

const LETTERS: Readonly<Record<string, KeyAction>> = {
  '+': { do: 'apart', by: APART_KEY_STEP },
  '=': { do: 'apart', by: APART_KEY_STEP },
  '-': { do: 'apart', by: -APART_KEY_STEP },
  p: { do: 'pivot', by: 1 },
  P: { do: 'pivot', by: -1 },
  d: { do: 'view', view: 'drive' },
  n: { do: 'view', view: 'non-drive' },
  a: { do: 'view', view: 'above' },
  t: { do: 'view', view: 'three-quarter' },
  b: { do: 'bike' },
  c: { do: 'cut' },
  w: { do: 'as-written' },
  '/': { do: 'find' },
  '?': { do: 'keys' },
};

/** The action of a key press, or undefined where the key is left to the page. */
export function actionOf(press: KeyPress): KeyAction | undefined {
  const { key, focus } = press;
  if (press.hasDialog || focus === 'text') return undefined;
  if (press.isElsewhere) return press.letters && !press.hasModifier && key === '/' ? LETTERS[key] : undefined;
  if (press.hasControl === true && (key === 'z' || key === 'y')) return { do: key === 'z' ? 'undo' : 'redo' };
  if (press.hasModifier) return undefined;
  if (key === 'PageDown') return { do: 'step', by: 1 };
  if (key === 'PageUp') return { do: 'step', by: -1 };
  if (key === 'Escape') return { do: 'escape' };
  if (focus !== 'arrows') {
    if (key === 'ArrowRight') return { do: 'step', by: 1 };
    if (key === 'ArrowLeft') return { do: 'step', by: -1 };
    if (key === 'Home') return { do: 'step-end', end: 'first' };
    if (key === 'End') return { do: 'step-end', end: 'last' };
  }
  if (press.letters && Object.hasOwn(LETTERS, key)) return LETTERS[key];
  return undefined;
}

/** Which way a swipe asks to step: to the left goes on, to the right goes back; undefined for a tap or a scroll. */
export function swipeOf(dx_px: number, dy_px: number): 1 | -1 | undefined {
  const SHORTEST_px = 48;
  if (Math.abs(dx_px) < SHORTEST_px || Math.abs(dx_px) < 1.5 * Math.abs(dy_px)) return undefined;
  return dx_px < 0 ? 1 : -1;
}
