/**
 * Analysis, plan and mistakes of what many tests look at, worked out once for all files of a worker. A test of `analyse` or
 * `planOf` themselves calls them itself.
 */
import { analyse, mistakes, planOf, type Analysis, type LinkageModel, type TriedMistake } from '../../shared/index.ts';
import { once } from './once.ts';

type Plan = ReturnType<typeof planOf>;

const analyses = new Map<string, Analysis>();
const plans = new WeakMap<Analysis, Plan>();
const tables = new Map<string, readonly TriedMistake[]>();

/** The analysis of a model as written, or of its variant; one for every model of the same content. */
export function analysed(model: LinkageModel, variant?: string): Analysis {
  const key = JSON.stringify([variant, model]);
  return once(analyses, key, () => analyse(model, variant === undefined ? {} : { variant }));
}

/** The plan of an analysis, in our order. */
export function plannedOnce(analysis: Analysis): Plan {
  return once(plans, analysis, () => planOf(analysis));
}

/** Every single mistake of a model, solved. */
export function triedOnce(model: LinkageModel): readonly TriedMistake[] {
  return once(tables, JSON.stringify(model), () => mistakes(model));
}
