/**
 * Whether this window drives a class screen, and what of it is held back.
 *
 * The window's own name says that it drives one, and at which card its lesson is: it outlasts a reload and nothing else,
 * so that the trainer goes on where he was and a second tab does not join in.
 */
import { create } from 'zustand';

/** How the name of the window that drives begins; a lesson and its card may follow. */
const TRAINER_WINDOW = 'axlewright-trainer';
/** Name of the window that shows. */
export const SCREEN_WINDOW = 'axlewright-screen';

interface ClassState {
  readonly isOn: boolean;
  readonly isFrozen: boolean;
  readonly isBlank: boolean;
  readonly isPointing: boolean;
  /** Where the hand points on the picture, from its middle, in heights of it. */
  readonly dot: { readonly x: number; readonly y: number } | undefined;
  /** A screen has answered and has not been closed since. */
  readonly isSeen: boolean;
  readonly begin: () => void;
  readonly end: () => void;
  readonly set: (state: Partial<Pick<ClassState, 'isFrozen' | 'isBlank' | 'isPointing' | 'dot' | 'isSeen'>>) => void;
}

/** The class as this window drives it. */
export const useClass = create<ClassState>((set) => ({
  isOn: window.name.split(' ')[0] === TRAINER_WINDOW,
  isFrozen: false,
  isBlank: false,
  isPointing: false,
  dot: undefined,
  isSeen: false,
  begin: () => {
    window.name = TRAINER_WINDOW;
    set({ isOn: true });
  },
  end: () => {
    window.name = '';
    set({ isOn: false, isFrozen: false, isBlank: false, isPointing: false, dot: undefined, isSeen: false });
  },
  set: (state) => set(state),
}));

/** Put into the window's name where the lesson before the class stands. */
export function nameCard(lesson: string | undefined, at: number): void {
  window.name = lesson === undefined ? TRAINER_WINDOW : `${TRAINER_WINDOW} ${lesson} ${at}`;
}

/** Where the lesson stood when this window was loaded last. */
export function namedCard(): { readonly lesson: string; readonly at: number } | undefined {
  const [, lesson, at] = window.name.split(' ');
  return lesson === undefined || at === undefined || !/^\d{1,2}$/.test(at) ? undefined : { lesson, at: Number(at) };
}
