/**
 * What a person has set for this screen, kept in the browser's storage where it allows that.
 *
 * Storage may be switched off, full or hold rubbish: then the usual settings serve and nothing is said.
 */

export type Theme = 'auto' | 'dark' | 'light';

export interface Settings {
  readonly theme: Theme;
  /** Type for a projector, read from the back of a class. */
  readonly bigWords: boolean;
  /** Single letters work as keys. */
  readonly letterKeys: boolean;
}

export const USUAL_SETTINGS: Settings = { theme: 'auto', bigWords: false, letterKeys: true };
/** Type size of big words against usual ones. */
export const BIG_WORDS_SCALE = 1.3;
const KEY = 'axlewright.settings';

/** Settings from stored text; whatever it does not say soundly stays as usual. */
export function readSettings(text: string | null): Settings {
  if (text === null) return USUAL_SETTINGS;
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    return USUAL_SETTINGS;
  }
  if (typeof data !== 'object' || data === null) return USUAL_SETTINGS;
  const { theme, bigWords, letterKeys } = data as Record<string, unknown>;
  return {
    theme: theme === 'dark' || theme === 'light' ? theme : 'auto',
    bigWords: bigWords === true,
    letterKeys: letterKeys !== false,
  };
}

export function loadSettings(): Settings {
  return readSettings(recall('localStorage', KEY));
}

export function saveSettings(settings: Settings): void {
  remember('localStorage', KEY, JSON.stringify(settings));
}

/** A stored text, or null where there is none or storage is refused. */
export function recall(where: 'localStorage' | 'sessionStorage', key: string): string | null {
  try {
    return globalThis[where].getItem(key);
  } catch {
    return null;
  }
}

/** Store a text if the browser lets us; false if not. */
export function remember(where: 'localStorage' | 'sessionStorage', key: string, text: string): boolean {
  try {
    globalThis[where].setItem(key, text);
    return true;
  } catch {
    return false;
  }
}
