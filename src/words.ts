/**
 * Words of the page that no panel owns: as they are typed, and what is said of what is kept.
 */

/** A number as a person types it, comma or point; undefined for an empty field, NaN for what is none. */
export function readTyped(text: string): number | undefined {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  return plain === '' ? undefined : Number(plain);
}

/** Of a field for which two hands have entered two values. */
export const TWO_VALUES = 'Two values were entered. Tap the one that holds:';

/** Of a thing that two devices have written further without knowing of one another. */
export function wordClashes(count: number): string {
  const places = count === 1 ? 'one place' : `${count} places`;
  return `Open Own files and pick: in ${places} of this job two devices say something else.`;
}

/** What is said of what is kept: what to do, then why. */
export const KEPT_WORDS = {
  save: 'Save it as a file',
  stays: 'All of this lies in this browser on this device. Nothing leaves it unless you save it as a file.',
  noModels: 'None yet. A model file that you open or drop on the page is kept here.',
  remove: 'Save it first if you may want it again: what is removed is gone, in every tab.',
  removeAll: 'Save all first if you may want it again: every model, reading and setting here will be gone.',
  twoModels:
    'Save both, compare them and say which one holds: they came from two devices. Until then the last one opens.',
  joins: 'What is here stays. Where both say something else, both values are shown.',
  lost: 'Take in your last saved file: what was kept here could not be read, and the browser began anew.',
} as const;

const changes = (count: number): string => (count === 1 ? 'one change is' : `${count} changes are`);

/** Why something is not kept. */
export function wordTrouble(trouble: 'refused' | 'full' | 'failed' | 'newer' | 'older', unkept: number): string {
  switch (trouble) {
    case 'refused':
      return 'Save it as a file before you close the page: this browser keeps nothing.';
    case 'full':
      return `Make room on this device, then go on: it is full, and ${changes(unkept)} not kept.`;
    case 'failed':
      return `Save it as a file, then load the page again: writing failed, and ${changes(unkept)} not kept.`;
    case 'newer':
      return 'Load this page again: a newer Axlewright is open in another tab, and nothing entered here is kept any more.';
    case 'older':
      return 'Close the other tabs with Axlewright: an older one holds what is kept, and nothing entered here is kept yet.';
  }
}

/** Of entries that the disk gave back otherwise than they were written. */
export function wordDamaged(count: number): string {
  const [what, they] = count === 1 ? ['one entry', 'it was'] : [`${count} entries`, 'they were'];
  return `Check what you entered against the parts: ${what} kept on this device cannot be read, and ${they} left out.`;
}

/** Of a model file that is opened over another content under the same name. */
export function wordReplaced(name: string): string {
  return `${name} was here already with other content. Menu, Own files, Undo brings the earlier one back.`;
}

/** What came of taking in a file. */
export function wordTakenIn(came: {
  readonly fresh: readonly string[];
  readonly grown: readonly string[];
  readonly known: readonly string[];
  readonly clashing: readonly string[];
  readonly isKept: boolean;
}): readonly string[] {
  const counts = [
    [came.fresh.length, 'new'],
    [came.grown.length, 'joined to what was here'],
    [came.known.length, 'known already'],
  ] as const;
  const said = counts.flatMap(([count, word]) => (count > 0 ? [`${count} ${word}`] : []));
  return [
    said.length === 0 ? 'Nothing lies in this file.' : `Taken in: ${said.join(', ')}.`,
    ...(came.clashing.length > 0 ? ['Look at what shows two values: both are kept until you pick one.'] : []),
    ...(came.isKept ? [] : ['Save it as a file: it could not be kept on this device.']),
  ];
}

/** How the app itself is kept on this device. */
export const APP_WORDS = {
  'not-offered':
    'Keep the server or this file at hand: here the browser does not keep the app for work without a network.',
  coming: 'Stay connected for a moment: the app is being kept for work without a network.',
  kept: 'Works without a network: the whole app and its bikes are kept on this device.',
  failed: 'Load the page again with a network: the app could not be kept for work without one.',
  update: 'A newer Axlewright is ready. It loads when you say so, and nothing that is kept is lost.',
} as const;
export const TAKE_UPDATE = 'Load the newer one';
