/**
 * Words for measuring a pivot: what a size is called and how it is taken, what is known of it and from where, and what
 * a hand should look at again.
 */
import type { Compared } from '../envelope/draft.ts';
import type { NextMeasure } from '../measure/ask.ts';
import type { DraftQuestion } from '../measure/draft.ts';
import type { DraftVerdict } from '../measure/judge.ts';
import type { BandOrigin, SizeBand } from '../measure/known.ts';
import type { DraftSize } from '../measure/sizes.ts';
import type { Proof, ProofStep } from '../measure/proof.ts';
import { figure } from '../numbers/figures.ts';
import { wordsOfSize } from '../parts/measuring.ts';
import { capital, list, lower } from './figures.ts';

const BOSS_WORDS: Readonly<Record<string, readonly [word: string, how: string]>> = {
  width_mm: ['width of the boss', 'Close the outside jaws on the two faces of the boss'],
  gap_mm: ['free distance to the next boss', 'Open the inside jaws between the two bosses, square to both faces'],
  bore_mm: ['bore of the boss', 'Open the inside jaws in the bore and rock them to the widest reading'],
  boss_mm: ['outside of the boss', 'Close the outside jaws across the boss'],
  z_from_mm: ['non-drive end of the boss', 'Read it off the drawing'],
  z_to_mm: ['drive end of the boss', 'Read it off the drawing'],
  'seats.diameter_mm': ['seat diameter', 'Open the inside jaws in the empty seat and rock them to the widest reading'],
  'seats.depth_mm': ['seat depth', 'Stand the scale on the face of the boss and run the depth rod to the shoulder'],
  'seats.groove.diameter_mm': ['diameter of the groove', 'Open the inside jaws in the groove'],
  'seats.groove.width_mm': ['width of the groove', 'Try feelers or the circlip in the groove'],
  'seats.groove.margin_mm': ['metal outside the groove', 'Run the depth rod from the face to the groove'],
  'thread.size_mm': ['thread diameter', 'Try a screw of known thread, or read the size off the part'],
  'thread.pitch_mm': ['thread pitch', 'Try the leaves of a pitch gauge on the screw that goes in'],
  'thread.length_mm': ['length of the thread', 'Run the depth rod to the end of the thread'],
  'thread.sleeve.outside_mm': ['outside of the threaded sleeve', 'Lay the jaws across the end of the sleeve'],
  'thread.sleeve.pitch_mm': ['pitch of the sleeve’s outer thread', 'Read it off the drawing: the sleeve stays in'],
  slot_mm: ['width of the slot', 'Try feelers in the slot, its bolt loose'],
};

const STACK_WORDS: Readonly<Record<string, readonly [word: string, how: string]>> = {
  torque_Nm: ['torque', 'Read it off the part or in the frame maker’s manual'],
  'row.torque_Nm': ['torque on the tip', 'Read it off the part or in the frame maker’s manual'],
  'row.drive.size_mm': ['tool on the tip', 'Try the keys in it'],
  'row.proud_mm': ['how far the bearing stands off its shoulder', 'Run the depth rod from the face to the bearing'],
  'thread.size_mm': ['thread diameter of the drawing', 'Read it off the drawing'],
  'thread.pitch_mm': ['thread pitch of the drawing', 'Read it off the drawing'],
  'drives.head.size_mm': ['tool of the head', 'Try the keys in the head'],
  'drives.tip.size_mm': ['tool of the tip', 'Try the keys in the tip'],
  'drives.receiver.size_mm': ['tool of the nut', 'Try the spanners on the nut'],
};

const PART_WORDS: Readonly<Record<string, readonly [word: string, how: string]>> = {
  'shank.diameter_mm': ['shank diameter', 'Close the outside jaws across this part of the shank'],
  'shank.length_mm': ['length of the shank', 'Run the depth rod along this part of the shank'],
  'tip_thread.size_mm': ['diameter of the tip’s thread', 'Close the outside jaws on the tip’s thread'],
  'tip_thread.pitch_mm': ['pitch of the tip’s thread', 'Try the leaves of a pitch gauge on it'],
  'tip_thread.length_mm': ['length of the tip’s thread', 'Lay the scale along the tip’s thread'],
  'groove.diameter_mm': ['diameter of the groove', 'Close the outside jaws in the groove'],
  'groove.width_mm': ['width of the groove', 'Try feelers or the circlip in the groove'],
  'groove.margin_mm': ['metal outside the groove', 'Lay the scale from the groove to the tip'],
  small_land_mm: ['length behind the small face', 'Lay the scale along the edge behind the small face'],
  large_land_mm: ['length behind the large face', 'Lay the scale along the edge behind the large face'],
  thickness_mm: ['thickness of the sheet', 'Close the outside jaws on the edge of the sheet'],
  flange_length_mm: ['thickness of the flange', 'Close the outside jaws on the flange'],
  free_mm: ['diameter while free', 'Measure the free ring, square to its gap'],
  slot_mm: ['width of the slot', 'Try feelers in the slot, its bolt loose'],
  lip_mm: ['height of the lip', 'Run the depth rod from the lip to the body'],
  chamfer_mm: ['broken edge', 'Lay the scale across the broken edge'],
  inner_shoulder_mm: ['outside of the inner ring’s face', 'Close the outside jaws lightly on the inner ring’s face'],
  outer_shoulder_mm: ['inside of the outer ring’s face', 'Open the inside jaws on the outer ring’s face'],
  axial_play_mm: ['play along the axle', 'Push and pull the inner ring under a dial gauge'],
};

function wordsAt({ owner, key, size }: Pick<DraftSize, 'owner' | 'key' | 'size'>): readonly [string, string] {
  if (owner.what === 'boss') return BOSS_WORDS[key] ?? [key, ''];
  if (owner.what === 'stack') return STACK_WORDS[key] ?? [key, ''];
  if (size === undefined) return PART_WORDS[key] ?? [key, ''];
  const { word, how } = wordsOfSize(size, owner.kind);
  return [size === 'length_mm' && key === 'length_mm' ? 'length' : word, how];
}

/** What a size is called, without what it belongs to: `seat diameter, drive side`. */
export function wordDraftSize(size: Pick<DraftSize, 'owner' | 'key' | 'size' | 'at'>): string {
  const [word] = wordsAt(size);
  return size.at === undefined ? word : `${word} ${size.at}`;
}

/** A size with what it belongs to: `Spacer, 5 mm: length`. */
export function wordDraftSizeOf(size: Pick<DraftSize, 'owner' | 'key' | 'size' | 'at'>): string {
  const { owner } = size;
  const name = owner.what === 'boss' ? `${owner.name} (${owner.bore})` : owner.name;
  return `${name}: ${wordDraftSize(size)}`;
}

/** How a size is taken, as an instruction. */
export function wordDraftHow(size: Pick<DraftSize, 'owner' | 'key' | 'size'>): string {
  return wordsAt(size)[1];
}

const ORIGINS: Readonly<Record<BandOrigin, string>> = {
  manual: 'from the frame maker’s manual',
  measured: 'measured',
  guess: 'a guess',
  standard: 'from the standard',
  written: 'as written',
  beside: 'from what stands beside it',
  kind: 'unknown',
};

/** Where what is known of a size is from. */
export function wordOrigin(from: BandOrigin): string {
  return ORIGINS[from];
}

/** What is known of a size: `12 mm, ± 0.05 mm, measured`. */
export function wordBand({ least, most, middle, from }: SizeBand, unit: DraftSize['unit']): string {
  const origin = wordOrigin(from);
  if (most - least < 1e-9) return `${figure(middle)} ${unit}, ${origin}`;
  const half = (most - least) / 2;
  return Math.abs(middle - (least + most) / 2) < 1e-6
    ? `${figure(middle)} ${unit}, ± ${figure(half)} ${unit}, ${origin}`
    : `${figure(middle)} ${unit}, from ${figure(least)} to ${figure(most)} ${unit}, ${origin}`;
}

/** What a hand should look at again, as a sentence. `name` is what the place is called. */
export function wordDraftQuestion({ code, met, allowed }: DraftQuestion, name: string): string {
  switch (code) {
    case 'readings-differ':
      return `Read it once more: ${lower(name)} was read ${met} mm, which do not agree within their accuracies.`;
    case 'contradicts':
      return `Read it once more: ${lower(name)} is ${met}, and the other sizes ask for ${allowed}.`;
    case 'no-such-size':
      return `Choose the sizes of this comparison again: ${met} is not a size of this row.`;
    case 'sum-differs':
      return `Read it once more: ${lower(name)} is ${met} mm, and the sums of the row ask for ${allowed}.`;
  }
}

const VERDICTS: Readonly<Record<DraftVerdict['verdict'], string>> = {
  sound: 'Fits',
  faulty: 'Does not fit',
  unsure: 'Look again',
};

/** The verdict of a pivot of a draft. */
export function wordDraftVerdict({ verdict }: Pick<DraftVerdict, 'verdict'>): string {
  return VERDICTS[verdict];
}

const COMPARING: Readonly<Record<NonNullable<NextMeasure['compare']>['with'], string>> = {
  'outside-jaws': 'Close the outside jaws over all of it at once',
  'inside-jaws': 'Open the inside jaws between the two ends',
  'depth-rod': 'Run the depth rod from one face to the other',
  'straight-edge': 'Lay a straight edge across ring and tube, hold it to the light, and put a feeler under it',
  feeler: 'Put the row together by hand and try feelers in the gap that is left',
  gauge: 'Try the one in the other, or a plug gauge beside it',
};

/** What is asked for: a size, or several at once. */
export function wordNextMeasure(next: NextMeasure, sizes: readonly DraftSize[]): string {
  if (next.path !== undefined) return wordDraftSizeOf(sizeNamed(sizes, next.path));
  return wordComparison(next.compare!.terms, sizes);
}

/** A difference or a sum by the sizes in it: `Shell: width, less tube: length`. */
export function wordComparison(terms: Compared['terms'], sizes: readonly DraftSize[]): string {
  const named = (isMore: boolean): string =>
    list(
      terms
        .filter(({ times }) => times > 0 === isMore)
        .map(({ size, times }) => {
          const word = wordDraftSizeOf(sizeNamed(sizes, size));
          return Math.abs(times) === 1 ? word : `${figure(Math.abs(times))} × ${word}`;
        }),
    );
  const [more, less] = [named(true), named(false)];
  return less === '' ? `${more}, all at once` : `${more}, against ${less}`;
}

/** How a comparison is made, as an instruction. */
export function wordComparing(tool: Compared['with']): string {
  return COMPARING[tool];
}

/** How it is taken, as an instruction. */
export function wordNextHow(next: NextMeasure, sizes: readonly DraftSize[]): string {
  return next.path === undefined ? wordComparing(next.compare!.with) : wordDraftHow(sizeNamed(sizes, next.path));
}

/** Why it is asked for. */
export function wordNextWhy(next: NextMeasure, sizes: readonly DraftSize[], pivot: string): string {
  if (next.path !== undefined)
    return `${capital(pivot)} fits or not by this size: it may be ${wordRange(sizeNamed(sizes, next.path))}.`;
  return `${capital(pivot)} fits or not by less than the calliper reads: the difference itself tells it to ± ${figure(next.accuracy)} mm.`;
}

/** From least to most, without where it is from. */
export function wordRange({ band: { least, most }, unit }: Pick<DraftSize, 'band' | 'unit'>): string {
  return most - least < 1e-9 ? `${figure(least)} ${unit}` : `${figure(least)} to ${figure(most)} ${unit}`;
}

function sizeNamed(sizes: readonly DraftSize[], path: string): DraftSize {
  const found = sizes.find((size) => size.path === path);
  if (!found) throw new Error(`words: size ${path}: not of this draft`);
  return found;
}

const PROOF: Readonly<Record<ProofStep['code'], readonly [done: string, open: string]>> = {
  settled: ['Every verdict is settled.', 'Measure on: not every verdict is settled yet.'],
  agrees: ['All readings agree with one another and with their sums.', 'Read again what does not agree.'],
  mistakes: ['The mistakes were run on it as it stands.', 'Run the mistakes on it: its sizes have changed since.'],
  'second-reading': [
    'A second person has read the sizes that matter most.',
    'Let a second person read the sizes that matter most.',
  ],
};

/** A line of the list that ends at what can be trusted. */
export function wordProofStep({ code, isDone }: Pick<ProofStep, 'code' | 'isDone'>): string {
  return PROOF[code][isDone ? 0 : 1];
}

/** What the list comes to. */
export function wordProofEnd({ steps, isTrusted }: Pick<Proof, 'steps' | 'isTrusted'>): string {
  if (isTrusted) return 'These readings can be trusted.';
  const open = steps.filter(({ isDone }) => !isDone).length;
  return `Not to be trusted yet: ${open === 1 ? '1 line is' : `${open} lines are`} open.`;
}

/** What of a pivot nobody has read, for whoever works with its model. */
export function wordGuesses(open: readonly DraftSize[], most: number): string {
  const told = open.slice(0, most).map((size) => lower(wordDraftSizeOf(size)));
  const more = open.length - told.length;
  if (told.length === 0) return `Guessed, not measured: ${more} sizes.`;
  return `Guessed, not measured: ${told.join('; ')}${more > 0 ? `; and ${more} more` : ''}.`;
}
