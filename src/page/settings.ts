/**
 * What a person has set for this screen, kept in the browser's storage where it allows that.
 *
 * What is not kept soundly stays as usual, and nothing is said.
 */
import { entriesOf, recall, remember } from './keep.ts';

export type Theme = 'auto' | 'dark' | 'light';

export interface Settings {
  readonly theme: Theme;
  /** Type for a projector, read from the back of a class. */
  readonly bigWords: boolean;
  /** Single letters work as keys. */
  readonly letterKeys: boolean;
  /** In the steps one goes round to the side each is done from; otherwise one stays. */
  readonly followsSide: boolean;
}

export const USUAL_SETTINGS: Settings = { theme: 'auto', bigWords: false, letterKeys: true, followsSide: true };
/** Type size of big words against usual ones. */
export const BIG_WORDS_SCALE = 1.3;
const KEY = 'axlewright.settings';

/** Settings from stored text; whatever it does not say soundly stays as usual. */
export function readSettings(text: string | null): Settings {
  const { theme, bigWords, letterKeys, followsSide } = entriesOf(text);
  return {
    theme: theme === 'dark' || theme === 'light' ? theme : USUAL_SETTINGS.theme,
    bigWords: typeof bigWords === 'boolean' ? bigWords : USUAL_SETTINGS.bigWords,
    letterKeys: typeof letterKeys === 'boolean' ? letterKeys : USUAL_SETTINGS.letterKeys,
    followsSide: typeof followsSide === 'boolean' ? followsSide : USUAL_SETTINGS.followsSide,
  };
}

export function loadSettings(): Settings {
  return readSettings(recall('localStorage', KEY));
}

export function saveSettings(settings: Settings): void {
  remember('localStorage', KEY, JSON.stringify(settings));
}
