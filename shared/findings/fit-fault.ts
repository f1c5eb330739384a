/**
 * A fit that is found wanting, whatever fits into what.
 */
import type { JointItem } from '../joint/joint.ts';
import type { FindingCode, Measure, Severity } from '../types.ts';

/** A fit that is not as it should be. */
export interface FitFault {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly items: readonly JointItem[];
  readonly numbers: Record<string, Measure>;
  readonly limit?: Measure & { readonly source: string };
  readonly about: Record<string, string>;
}
