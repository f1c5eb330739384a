/** A line of the bench: a figure of ours, what it is compared with, and what was hoped for. Times in ms. */
export interface TheRow {
  readonly what: string;
  readonly ours_ms: number;
  readonly theirs_ms?: number;
  readonly ratio?: number;
  readonly goal?: string;
}

/** A line of the bench that is no time beside a time: figures in words with their units, and what was hoped for. */
export interface FigureRow {
  readonly what: string;
  readonly figure: string;
  readonly goal?: string;
}
