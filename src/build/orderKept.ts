/**
 * The user's own order as the browser keeps it for this tab: the one in force and the one before the last change.
 *
 * The address holds the order in force, so that it can be sent on; this brings it back when the place is left by
 * another way and entered again, and keeps what a reset would lose.
 */
import { readOwn, writeOwn } from './order.ts';
import { recall, remember } from '../page/keep.ts';

/** What is kept of one build. */
export interface KeptOrder {
  readonly own: readonly number[] | undefined;
  readonly before: readonly number[] | undefined;
}

const KEY = 'axlewright.order.';
const NOTHING: KeptOrder = { own: undefined, before: undefined };

/** The name of a build: its model and variant. */
export function buildName(modelId: string, variant: string | undefined): string {
  return `${modelId} ${variant ?? ''}`;
}

/** What is kept of a build. */
export function recallOrder(name: string): KeptOrder {
  const [own, before] = (recall('sessionStorage', KEY + name) ?? '').split(' ');
  return own === undefined ? NOTHING : { own: readOwn(own), before: readOwn(before ?? null) };
}

/** Keep an order; false where the browser keeps nothing. */
export function rememberOrder(name: string, { own, before }: KeptOrder): boolean {
  return remember('sessionStorage', KEY + name, `${writeOwn(own)} ${writeOwn(before)}`);
}
