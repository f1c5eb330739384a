/**
 * What the row editor knows of one thing of a row.
 */
import type { MayEdit, Side } from '../../shared/index.ts';
import type { Drawing } from '../drawings/shapes.ts';

/** One thing of a row, or one that was left out of it. */
export interface EditorPart {
  readonly id: string;
  readonly name: string;
  /** Which way its small face looks, for a spacer. */
  readonly toward?: Side | 'same';
  /** What else is drawn for it. */
  readonly drawing?: Drawing;
  readonly may: MayEdit;
  /** Ids of other rows that it can be taken along to. */
  readonly goes?: readonly string[];
  /** It closes the row, outside its places: an axle's head, a nut. */
  readonly isEnd?: boolean;
  /** It lies beside the row. */
  readonly isOut?: boolean;
  /** It is not as the row was given. */
  readonly isChanged?: boolean;
  readonly isTroubled?: boolean;
}
