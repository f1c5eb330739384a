/**
 * What an analysis is told apart by: its content, so that a copy of it, from the worker or opened again, is the same.
 */
import type { Analysis } from '../shared/index.ts';

/** The same text for the same build and variant, whatever object holds it. */
export function keyOf({ model, variant }: Pick<Analysis, 'model' | 'variant'>): string {
  return `${variant ?? ''} ${JSON.stringify(model)}`;
}

/** A map that lets go of what was used longest ago once it holds more than `most`. */
export class Kept<T> {
  private readonly values = new Map<string, T>();

  constructor(private readonly most: number) {}

  get(key: string): T | undefined {
    const value = this.values.get(key);
    if (value !== undefined) this.set(key, value);
    return value;
  }

  set(key: string, value: T): void {
    this.values.delete(key);
    this.values.set(key, value);
    const oldest = this.values.keys().next();
    if (this.values.size > this.most && oldest.done !== true) this.values.delete(oldest.value);
  }

  /** What is kept under a key, made where it is not. */
  of(key: string, make: () => T): T {
    const known = this.get(key);
    if (known !== undefined) return known;
    const made = make();
    this.set(key, made);
    return made;
  }
}
