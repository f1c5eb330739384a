/**
 * All that is known of a pivot's tolerances, as plain data: dimensions, chains, limits of each span, sampled sets, and
 * what would mend a measured span.
 *
 * What the command prints and the worker sends. Measured lengths may be named by a dimension's whole id or by the row's
 * own (`tube` for the length of the spacer in that row). Lengths mm.
 */
import { makeJoint, type Joint } from '../joint/joint.ts';
import { resolveModel } from '../model/resolve.ts';
import type { LinkageModel } from '../model/schema.ts';
import type { GeneralClass } from '../standards/general-tolerances.ts';
import { refuse } from '../standards/guard.ts';
import { setUpSets } from './sets.ts';
import type { Chain } from './chain.ts';
import { DEFAULT_CLASS, dimensionsOf, type Dimension, type ToleranceOptions } from './dimensions.ts';
import { sampleSets, type Sampling, type SamplingOptions, type SamplingProgress } from './sampling.ts';
import { adviseShims, type ShimAdvice } from './shims.ts';
import { spanLimits, type SpanLimits } from './span-limits.ts';

/** A chain without its inner workings. */
export interface ChainReport extends Omit<Chain, 'effect' | 'terms'> {
  readonly terms: readonly { readonly dimension: string; readonly coefficient: number; readonly share: number }[];
  readonly limits?: SpanLimits;
}

/** What is known of a pivot's tolerances. */
export interface ToleranceReport {
  readonly pivotId: string;
  readonly generalClass: GeneralClass;
  readonly dimensions: readonly Dimension[];
  readonly chains: readonly ChainReport[];
  readonly sampling: Sampling;
  /** One for every span that a measured length belongs to. */
  readonly shims: readonly ShimAdvice[];
}

/** What to look at. */
export interface ToleranceQuestion extends ToleranceOptions, SamplingOptions {
  readonly pivotId: string;
}

/**
 * Work out a pivot's tolerances, mm; hands back progress as the sets are sampled. About 0.5 ms a set, so some seconds
 * for the usual 10,000. Throws a RangeError for a pivot, a dimension or an option that the model lacks.
 */
export function* checkTolerances(
  model: LinkageModel,
  question: ToleranceQuestion,
): Generator<SamplingProgress, ToleranceReport> {
  const joint = jointOf(model, question.pivotId);
  const options = withMeasured(joint, question);
  const trial = setUpSets(joint, options);
  const sampling = yield* sampleSets(trial, question);
  const measured = new Set(trial.dimensions.list.filter(({ basis }) => basis === 'measured').map(({ id }) => id));
  return {
    pivotId: question.pivotId,
    generalClass: question.generalClass ?? DEFAULT_CLASS,
    dimensions: trial.dimensions.list,
    chains: trial.chains.map((chain): ChainReport => {
      const { effect: _effect, terms, ...plain } = chain;
      const limits = spanLimits(trial, chain);
      return {
        ...plain,
        terms: terms.map(({ dimension, coefficient }, k) => ({
          dimension: dimension.id,
          coefficient,
          share: chain.sum.shares[k]!,
        })),
        ...(limits ? { limits } : {}),
      };
    }),
    sampling,
    shims: trial.chains.flatMap((chain) =>
      chain.kind === 'span' && chain.terms.some(({ dimension }) => measured.has(dimension.id))
        ? [adviseShims(trial, chain.id)]
        : [],
    ),
  };
}

/**
 * Every dimension of a pivot under the stated class, mm, for a list to measure by. About 15 ms. Throws a RangeError for
 * a pivot, a dimension or an option that the model lacks.
 */
export function listDimensions(
  model: LinkageModel,
  pivotId: string,
  options: ToleranceOptions = {},
): readonly Dimension[] {
  const joint = jointOf(model, pivotId);
  return dimensionsOf(joint, withMeasured(joint, options)).list;
}

function jointOf(model: LinkageModel, pivotId: string): Joint {
  return makeJoint(resolveModel(model), pivotId);
}

/** Options with every measured length under its dimension's whole id. */
function withMeasured(joint: Joint, options: ToleranceOptions): ToleranceOptions {
  const { measured_mm } = options;
  if (!measured_mm) return options;
  const known = dimensionsOf(
    joint,
    options.generalClass === undefined ? {} : { generalClass: options.generalClass },
  ).list.map(({ id }) => id);
  const named = Object.entries(measured_mm).map(([name, value]) => {
    const found = known.includes(name)
      ? [name]
      : known.filter(
          (id) =>
            id.endsWith(`/${name}:length`) ||
            id.endsWith(`/${name}:width`) ||
            id.split('/').slice(1).join('/') === name,
        );
    if (found.length !== 1)
      return refuse(
        'tolerance',
        'measured dimension',
        name,
        found.length > 1 ? `one of ${found.join(', ')}` : known.join(', '),
      );
    return [found[0]!, value] as const;
  });
  return { ...options, measured_mm: Object.fromEntries(named) };
}
