/**
 * What sits amiss in its place and yet stops no pivot: the one form of such a fault, whatever is amiss.
 */
import type { JointItem } from '../joint/joint.ts';
import type { Limit } from '../limits.ts';
import type { FindingCode, Measure, Severity } from '../types.ts';

/** A part that sits amiss, and how. */
export interface Misfit<C extends FindingCode, How extends string> {
  readonly code: C;
  readonly severity: Severity;
  readonly items: readonly JointItem[];
  readonly numbers: Record<string, Measure>;
  readonly limit?: Measure & { readonly source: string };
  readonly about: { readonly how: How } & Readonly<Record<string, string>>;
}

/** A length as findings tell it. */
export const mm = (value: number): Measure => ({ value, unit: 'mm' });
/** More than rounding, less than any gauge reads. */
export const HAIR_mm = 1e-6;

/** What makes the faults of one code: to be looked at, with a limit in mm, unless `more` says otherwise. */
export function misfits<C extends FindingCode, How extends string>(code: C) {
  return (
    how: How,
    items: readonly JointItem[],
    numbers: Record<string, Measure> = {},
    limit?: Limit,
    more: { readonly unit?: Measure['unit']; readonly severity?: Severity } = {},
  ): Misfit<C, How> => ({
    code,
    severity: more.severity ?? 'warn',
    items,
    numbers,
    ...(limit ? { limit: { ...limit, unit: more.unit ?? 'mm' } } : {}),
    about: { how },
  });
}
