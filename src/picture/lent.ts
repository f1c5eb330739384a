/**
 * The one picture of the page, lent to a place that works on it: what the build order has it show, and where the words
 * of that place stand on it. Nobody else mounts a picture, so none is set up anew on the way from place to place.
 */
import { create } from 'zustand';
import type { OwnPicture } from './PictureFrame.tsx';

interface Lent {
  /** What the picture shows for the place; the bike's own picture where there is none. */
  readonly picture: OwnPicture | undefined;
  /** The pivot that the place works at. */
  readonly pivotId: string | undefined;
  /** What the place puts on the picture goes in here. */
  readonly host: HTMLElement | null;
}

export const useLent = create<Lent>()(() => ({ picture: undefined, pivotId: undefined, host: null }));

/** Have the picture show something, or give it back. */
export function lend(picture: OwnPicture | undefined, pivotId?: string): void {
  useLent.setState({ picture, pivotId });
}

/** The section that holds the picture. */
export function hostPicture(host: HTMLElement | null): void {
  useLent.setState({ host });
}
