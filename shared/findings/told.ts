/**
 * The verdict as it is told. A finding that asks for a look stops nothing, and yet nobody may read "fits" above it.
 */
import type { Finding, Verdict } from '../types.ts';

/** What carries a verdict with its findings: a pivot, a row of the mistake table, or the analysis of a bike. */
export interface Told {
  readonly verdict: Verdict;
  readonly findings: readonly Finding[];
  readonly pivots?: readonly { readonly findings: readonly Finding[] }[];
}

/** The verdict as it is told: what is sound but has a finding to look at is to be looked at again. */
export function toldVerdict({ verdict, findings, pivots = [] }: Told): Verdict {
  const all = [...findings, ...pivots.flatMap((pivot) => pivot.findings)];
  return verdict === 'sound' && all.some(({ severity }) => severity === 'warn') ? 'unsure' : verdict;
}
