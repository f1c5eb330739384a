/**
 * Analysis and plan of what many tests look at, worked out once for all files of a worker. A test of `analyse` or
 * `planOf` themselves calls them itself.
 */
import { analyse, mistakes, planOf, type Analysis, type LinkageModel, type TriedMistake } from '../../shared/index.ts';

type Plan = ReturnType<typeof planOf>;

const analyses = new Map<string, Analysis>();
const plans = new WeakMap<Analysis, Plan>();
const tables = new Map<string, readonly TriedMistake[]>();

/** The analysis of a model as written, or of its variant; one for every model of the same content. */
export function analysed(model: LinkageModel, variant?: string): Analysis {
  const key = JSON.stringify([variant, model]);
  const known = analyses.get(key) ?? analyse(model, variant === undefined ? {} : { variant });
  analyses.set(key, known);
  return known;
}

/** The plan of an analysis, in our order. */
export function plannedOnce(analysis: Analysis): Plan {
  const known = plans.get(analysis) ?? planOf(analysis);
  plans.set(analysis, known);
  return known;
}

/** Every single mistake of a model, solved. */
export function triedOnce(model: LinkageModel): readonly TriedMistake[] {
  const key = JSON.stringify(model);
  const known = tables.get(key) ?? mistakes(model);
  tables.set(key, known);
  return known;
}
