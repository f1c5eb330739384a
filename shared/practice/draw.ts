/**
 * Draws for drills from the seeded stream: one of a list, a list in another order. The same seed gives the same drill.
 */
import { randomStream, type RandomStream } from '../numbers/random.ts';

/** A stream of draws of its own for each drill: its name keeps two drills of one seed apart. */
export function drawsOf(seed: number, name: string): RandomStream {
  let own = seed | 0;
  for (const letter of name) own = (Math.imul(own, 31) + letter.codePointAt(0)!) | 0;
  return randomStream(own);
}

/** A whole number from 0 to `count` - 1. */
export function oneOf(draws: RandomStream, count: number): number {
  return Math.min(Math.floor(draws.even() * count), count - 1);
}

/** The list in another order. */
export function shuffled<T>(draws: RandomStream, list: readonly T[]): T[] {
  const rest = [...list];
  for (let k = rest.length - 1; k > 0; k--) {
    const other = oneOf(draws, k + 1);
    [rest[k], rest[other]] = [rest[other]!, rest[k]!];
  }
  return rest;
}
