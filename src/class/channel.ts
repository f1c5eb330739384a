/**
 * What the trainer's window and the class screen say to one another: plain data over a channel of this browser.
 *
 * The trainer's window says what is to be shown, whole each time, whenever it changes and whenever a screen asks; the
 * screen asks when it opens. So it does not matter which of them was opened first, or is loaded again: the last one to
 * come gets all of it. What may not be seen yet is not said.
 */
import type { CardShown } from '../../shared/index.ts';

/** A place on the picture, from its middle, in heights of it: the same on a window of another shape. */
export interface Dot {
  readonly x: number;
  readonly y: number;
}

/** What the class screen shows. */
export interface Shown {
  /** The address of what the trainer's picture shows. */
  readonly hash: string;
  /** The part that is pointed at. */
  readonly lit?: string | undefined;
  /** Where the trainer's hand points. */
  readonly dot?: Dot | undefined;
  readonly isBlank: boolean;
  readonly card?: CardShown | undefined;
}

/** One thing said. */
export type Said =
  | { readonly say: 'show'; readonly shown: Shown }
  /** A screen has opened, or wants to hear it all again. */
  | { readonly say: 'ask' }
  | { readonly say: 'gone' }
  /** The remote is in the hand of whoever stands at the screen. */
  | { readonly say: 'step'; readonly by: 1 | -1 };

const NAME = 'axlewright.class';

/** Take part; `hear` gets what other windows say. A browser without channels hears nothing. */
export function takePart(hear: (said: Said) => void): {
  readonly say: (said: Said) => void;
  readonly leave: () => void;
} {
  if (typeof BroadcastChannel === 'undefined') return { say: () => undefined, leave: () => undefined };
  const channel = new BroadcastChannel(NAME);
  channel.onmessage = ({ data }: MessageEvent<Said>) => hear(data);
  return { say: (said) => channel.postMessage(said), leave: () => channel.close() };
}
