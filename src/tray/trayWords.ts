/**
 * The tray's fields in words, and small choices of its screens. Pure.
 */
import {
  nextForRow,
  wordHow,
  wordsOfSize,
  type CalliperReading,
  type NextName,
  type Part,
  type Tray,
  type TrayRow,
} from '../../shared/index.ts';
import { fieldOf, shownFields, SIZE_OF, type Draft, type Field, type PartKindName, type SortedDrafts } from './tray.ts';

const FIELD_WORDS = { drive: 'Tool', slides: 'Slides on', count: 'Alike', label: 'Label' } as const;

/** What a field is called, in a word or two, for a part of a kind. */
export function fieldWord(field: Field, kind: PartKindName | undefined): string {
  return field in SIZE_OF
    ? wordsOfSize(SIZE_OF[field as keyof typeof SIZE_OF], kind).short
    : FIELD_WORDS[field as keyof typeof FIELD_WORDS];
}

/** How a field's size is taken, as an instruction. */
export function fieldHow(field: Field, kind: PartKindName | undefined): string {
  switch (field) {
    case 'count':
      return 'How many of these lie on the tray, all alike?';
    case 'label':
      return 'A name to write on the bag or the mat.';
    case 'slides':
      return 'Try the axles: which one does it slide on without hanging loose?';
    default:
      return `${wordHow(field === 'drive' ? 'drive' : SIZE_OF[field], kind)}.`;
  }
}

/** The field in which a next measurement is entered; the kind has none. */
export function fieldOfNext(name: NextName): Field | undefined {
  if (name === 'kind') return undefined;
  return name === 'drive' ? 'drive' : fieldOf(name);
}

/** The size that would settle most about a part in the hand: what is asked for next; none where nothing is open. */
export function askedField({ tray, rowOf }: SortedDrafts, draft: Draft): Field | undefined {
  const row = rowOf.get(draft.key);
  const next = row === undefined ? undefined : nextForRow(tray, row);
  const field = next && fieldOfNext(next.name);
  return field !== undefined && shownFields(draft).includes(field) ? field : undefined;
}

/** How a row stands, for its mark. */
export type Standing = 'sure' | 'open' | 'worn' | 'over' | 'nothing';

/** The standing of a sorted row: worn out goes before all, since it is what must not be missed. */
export function standingOf({ placements, isSure, leftOver, looksLike }: TrayRow): Standing {
  if (placements.some(({ worn }) => worn.some(({ isBeyond }) => isBeyond))) return 'worn';
  if (placements.length === 0) return looksLike === undefined ? 'nothing' : 'over';
  if (leftOver > 0) return 'over';
  return isSure ? 'sure' : 'open';
}

/** A standing in a word or two. */
export const STANDING_WORDS: Readonly<Record<Standing, string>> = {
  sure: 'Found',
  open: 'Not certain',
  worn: 'Worn out',
  over: 'One too many',
  nothing: 'Fits nothing',
};

/** The part to draw for a row: what it was matched with, what it looks like, or a plain spacer of the sizes read. */
export function drawnPart(row: TrayRow, tray: Tray): Part | undefined {
  const id = row.placements[0]?.candidate ?? row.looksLike;
  const part = id === undefined ? undefined : tray.candidates.get(id)?.part;
  return part ?? ringOf(row.reading);
}

function ringOf({ length_mm, outside_mm, large_mm, bore_mm, small_mm }: CalliperReading): Part | undefined {
  const outside = outside_mm ?? large_mm;
  if (length_mm === undefined || outside === undefined) return undefined;
  const bore = bore_mm ?? outside * 0.6;
  if (bore >= outside) return undefined;
  if (small_mm !== undefined && small_mm < outside && small_mm > bore)
    return {
      kind: 'tapered-spacer',
      name: 'Unknown',
      small_mm,
      large_mm: outside,
      bore_mm: bore,
      length_mm,
      material: 'steel',
    };
  return { kind: 'spacer', name: 'Unknown', outside_mm: outside, bore_mm: bore, length_mm, material: 'steel' };
}
