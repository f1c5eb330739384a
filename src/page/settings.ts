/**
 * What a person has set for this device, kept with everything else that is kept.
 *
 * What is not kept soundly stays as usual, and nothing is said.
 */
import type { FieldValue } from '../../shared/index.ts';
import { entriesOf, openThing, type Thing } from './keep.ts';

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
/** Name of the thing, and where the first versions kept it. */
const NAME = 'settings';
const OLD_KEY = 'axlewright.settings';

/** Settings from stored entries; whatever they do not say soundly stays as usual. */
export function readSettings({
  theme,
  bigWords,
  letterKeys,
  followsSide,
}: Readonly<Record<string, unknown>>): Settings {
  return {
    theme: theme === 'dark' || theme === 'light' ? theme : USUAL_SETTINGS.theme,
    bigWords: typeof bigWords === 'boolean' ? bigWords : USUAL_SETTINGS.bigWords,
    letterKeys: typeof letterKeys === 'boolean' ? letterKeys : USUAL_SETTINGS.letterKeys,
    followsSide: typeof followsSide === 'boolean' ? followsSide : USUAL_SETTINGS.followsSide,
  };
}

let opened: Promise<Thing> | undefined;

function open(): Promise<Thing> {
  opened ??= openThing(NAME, {
    where: 'localStorage',
    key: OLD_KEY,
    fieldsOf: (text) => ({ ...readSettings(entriesOf(text)) }),
  });
  return opened;
}

/** Give what is set now, and again whenever it changes, in this tab or another. */
export async function followSettings(onChange: (settings: Settings) => void): Promise<void> {
  const thing = await open();
  const give = (): void => onChange(readSettings(Object.fromEntries(thing.sum.fields)));
  thing.watch(give);
  give();
}

/** Keep what has been set; who follows is told once it is kept. */
export async function keepSettings(settings: Partial<Settings>): Promise<void> {
  const thing = await open();
  await thing.set(settings as Readonly<Record<string, FieldValue>>);
}
