/**
 * What stands on a sheet, before it has pages: headings, lines, tables, drawings and rules to write on, in the order in
 * which they are read. The same blocks are composed into pages (`pages.ts`) and printed as text (`text.ts`).
 */
import type { Drawing } from '../drawings/shapes.ts';

/** What stands before a line: a box to tick, a dot, a warning, or which way a part's small face looks. */
export type Mark = 'box' | 'ticked' | 'dot' | 'caution' | 'stop' | 'look' | 'note' | 'non-drive' | 'drive' | 'same';

/** A line of words, broken where its column ends. */
export interface Line {
  readonly text: string;
  readonly mark?: Mark | undefined;
  readonly isStrong?: boolean;
  readonly isSmall?: boolean;
  /** Large, for what is read from a step away. */
  readonly isLarge?: boolean;
}

/** A column of a table. */
export interface Column {
  readonly name: string;
  /** Of the table's width. */
  readonly share: number;
}

/** A row of a table; an empty cell of a `write` column has a rule to write on. */
export interface Row {
  readonly cells: readonly (readonly Line[])[];
  /** A row across all columns: what the rows below it have in common. */
  readonly isAcross?: boolean;
}

/** A place to write on, or what was written. */
export interface Field {
  readonly name: string;
  readonly value?: string;
}

/** One piece of a sheet. */
export type Block =
  | { readonly kind: 'title'; readonly text: string; readonly under: readonly string[] }
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'lines'; readonly lines: readonly Line[]; readonly isList?: boolean }
  | { readonly kind: 'fields'; readonly fields: readonly Field[] }
  | {
      readonly kind: 'table';
      readonly columns: readonly Column[];
      readonly rows: readonly Row[];
      /** Columns to write in, by number. */
      readonly written?: readonly number[];
    }
  | { readonly kind: 'drawing'; readonly drawing: Drawing; readonly alt: string }
  /** Pieces that stay on one page. */
  | { readonly kind: 'together'; readonly blocks: readonly Block[] }
  /** Where a piece of the sheet is cut off, for another reader. */
  | { readonly kind: 'cut'; readonly text: string };

/** A whole sheet. */
export interface SheetText {
  readonly title: string;
  /** At the foot of every page. */
  readonly foot: string;
  readonly blocks: readonly Block[];
}
