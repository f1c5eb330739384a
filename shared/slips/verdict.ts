/**
 * The verdict of one judged pivot, as `analyse` reads it: faulty with a stop finding, sound without one, and unsure where
 * the end of an estimate's doubt turns the one into the other.
 *
 * The corners are solved only where they could: a stop that follows from given sizes alone stands whatever is estimated.
 */
import { doubtsOf, judge, type AnalyseOptions, type Judged } from '../analyse.ts';
import type { LinkageModel, Pivot } from '../model/schema.ts';
import type { Finding, Verdict } from '../types.ts';

/** Stops that no estimate can take away. */
const CERTAIN: readonly Finding['code'][] = ['bearing-not-home', 'thread-mismatch'];

/** The verdict of a pivot that has been judged under the model's own figures. */
export function verdictOf(
  model: LinkageModel,
  pivot: Pivot,
  { joint, findings }: Pick<Judged, 'joint' | 'findings'>,
  judging: AnalyseOptions = {},
): Verdict {
  if (findings.some(({ code, severity }) => severity === 'stop' && CERTAIN.includes(code))) return 'faulty';
  const isFaulty = hasStop(findings);
  const flips = doubtsOf(joint).some(
    (assumptions) =>
      hasStop(judge(model, pivot, judging, { ...judging.assumptions, ...assumptions }).findings) !== isFaulty,
  );
  return flips ? 'unsure' : isFaulty ? 'faulty' : 'sound';
}

/** True when a finding forbids riding. */
export function hasStop(findings: readonly Finding[]): boolean {
  return findings.some(({ severity }) => severity === 'stop');
}
