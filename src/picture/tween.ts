/**
 * Movement between two pictures: numbers and places mixed by a share of the way, 0 to 1.
 *
 * Pure: the clock lives in `useGlide.ts`. A part that is on the bike at either end of the way is drawn as on the bike
 * along it, so that it is seen going in or coming out, and ghosted only once it has come out.
 */
import type { StepPlace } from '../../shared/index.ts';

/** Where every item of a pivot stands, by its scene id. */
export type Places = Readonly<Record<string, StepPlace>>;

/** Time one movement takes, ms. */
export const GLIDE_ms = 600;

/** Share of the way at a share of the time: slow at both ends, no overshoot. */
export function ease(share: number): number {
  const t = Math.min(Math.max(share, 0), 1);
  return t * t * (3 - 2 * t);
}

/** The number a share of the way from one to the other. */
export function mixNumber(from: number, to: number, share: number): number {
  return share >= 1 ? to : from + (to - from) * share;
}

/** Places a share of the way from one set to the other; items only one of them knows stand where that one says. */
export function mixPlaces(from: Places, to: Places, share: number): Places {
  if (share >= 1) return to;
  const mixed: Record<string, StepPlace> = {};
  for (const [id, end] of Object.entries(to)) {
    const start = from[id] ?? end;
    mixed[id] = { offset_mm: mixNumber(start.offset_mm, end.offset_mm, share), on: start.on || end.on };
  }
  return mixed;
}

/** Whether both sets place the same items; a movement between different ones has no meaning and is a cut instead. */
export function isSameCast(a: Places, b: Places): boolean {
  const ids = Object.keys(a);
  return ids.length === Object.keys(b).length && ids.every((id) => Object.hasOwn(b, id));
}
