/**
 * The one call: from a linkage model to everything the screens, the command line and the tests use.
 *
 * The model is resolved once and each pivot judged by itself, its members free to slide along z; what a neighbouring
 * pivot would hold is not in it. Pure and deterministic.
 */
import { estimatesOf, flipsOf, hasStop, judge, type Estimate, type Judging } from './findings/judge.ts';
import { passage } from './joint/passage.ts';
import { placeColumn, placeItems } from './joint/reading.ts';
import { pivotOf, resolveChange, resolveModel, type ResolvedModel, type ResolvedPivot } from './model/resolve.ts';
import type { LinkageModel } from './model/schema.ts';
import { applyVariant } from './model/variant.ts';
import { contentKey, otherSide } from './numbers/figures.ts';
import type { Analysis, Finding, PivotAnalysis, StackAnalysis, Verdict } from './types.ts';

export interface AnalyseOptions extends Judging {
  /** Id of a variant of the model. */
  readonly variant?: string;
}

/**
 * Analyse a model. It must have been read without problems (`readModel`); it is not changed. Every figure says its unit
 * in its name; z grows to the drive side. Cost: one judging a pivot and estimate, about 10 ms a pivot. Throws a
 * RangeError when `variant` or `reached_Nm` names what the model does not have; what is wrong with the build is told as
 * findings, never thrown.
 */
export function analyse(base: LinkageModel, options: AnalyseOptions = {}): Analysis {
  const variant =
    options.variant === undefined ? undefined : base.variants?.find((candidate) => candidate.id === options.variant);
  if (options.variant !== undefined && !variant) {
    const known = (base.variants ?? []).map((candidate) => candidate.id).join(', ') || 'none';
    throw new RangeError(`analyse: variant: met "${options.variant}", allowed: ${known}`);
  }
  const model = variant ? applyVariant(base, variant) : base;
  checkReached(model, options);
  const resolved = resolveModel(model);
  const pivots = resolved.pivots.map((pivot) => workPivot(resolved, pivot, options));
  return {
    key: contentKey([base, options]),
    model,
    resolved,
    ...(variant ? { variant: variant.id } : {}),
    verdict: worst(pivots.map((pivot) => pivot.verdict)),
    pivots,
    // The counts are the base build's: a variant displaces parts on purpose.
    findings: variant ? [] : countParts(model),
  };
}

/** A torque that was reached belongs to a pivot or a stack of the model. */
function checkReached({ pivots }: LinkageModel, { reached_Nm = {} }: AnalyseOptions): void {
  const known = [...new Set(pivots.flatMap(({ id, stacks }) => [id, ...stacks.map((stack) => stack.id)]))];
  for (const [id, value] of Object.entries(reached_Nm)) {
    if (!known.includes(id)) throw new RangeError(`analyse: reached_Nm: met "${id}", allowed: ${known.join(', ')}`);
    if (!(Number.isFinite(value) && value > 0))
      throw new RangeError(`analyse: reached_Nm: ${id}: met ${value}, allowed: a torque above 0`);
  }
}

/**
 * The analysis of a model that was made from the analysed one by changes to some pivots: what `analyse` makes of it,
 * pivots that are still the same object kept. About 20 ms a pivot that has changed.
 */
export function analyseChange(analysis: Analysis, model: LinkageModel): Analysis {
  const resolved = resolveChange(analysis.resolved, model);
  const pivots = resolved.pivots.map((pivot, k) =>
    pivot === analysis.resolved.pivots[k] ? analysis.pivots[k]! : workPivot(resolved, pivot, {}),
  );
  return {
    ...analysis,
    key: contentKey([model, {}]),
    model,
    resolved,
    verdict: worst(pivots.map(({ verdict }) => verdict)),
    pivots,
    findings: analysis.variant === undefined ? countParts(model) : [],
  };
}

/**
 * The same analysis with torques that were reached told to it: the pivots they belong to are judged again and the rest
 * is kept, so that it comes to what `analyse` makes of them. It must have been made with no option but a variant. About
 * 10 ms a pivot that is named. Throws a RangeError for what `analyse` refuses.
 */
export function analyseReached(analysis: Analysis, reached_Nm: Readonly<Record<string, number>>): Analysis {
  checkReached(analysis.model, { reached_Nm });
  const pivots = analysis.pivots.map((pivot) =>
    [pivot.id, ...pivot.stacks.map(({ id }) => id)].some((id) => Object.hasOwn(reached_Nm, id))
      ? workPivot(analysis.resolved, pivotOf(analysis.resolved, pivot.id, 'analyse'), { reached_Nm })
      : pivot,
  );
  return {
    ...analysis,
    key: contentKey([analysis.key, reached_Nm]),
    verdict: worst(pivots.map(({ verdict }) => verdict)),
    pivots,
  };
}

function workPivot(model: ResolvedModel, pivot: ResolvedPivot, options: AnalyseOptions): PivotAnalysis {
  const judged = judge(model, pivot.id, options);
  const { joint, solved, evidence } = judged;
  const flips = [...flipsOf(judged)];
  const verdict: Verdict = flips.length > 0 ? 'unsure' : hasStop(judged.findings) ? 'faulty' : 'sound';
  const stacks = joint.stacks.map((own): StackAnalysis => {
    const { stack } = own;
    const items = placeItems(solved, own, evidence.met);
    const here = evidence.passages.get(stack.id)!;
    const across = passage(joint, own, otherSide(stack.from));
    return {
      id: stack.id,
      name: stack.name ?? pivot.name,
      pivotId: pivot.id,
      from: stack.from,
      // What does not go together clamps nothing, whatever the solve makes of it.
      clamp_N: evidence.squeeze.by === 'nothing' ? 0 : evidence.clamp_N.get(stack.id)!,
      items,
      column: placeColumn(evidence.columns.get(stack.id)!, items),
      tightening: solved.tightening.get(stack.id)!,
      passage: stack.from === 'drive' ? { nonDrive: across, drive: here } : { nonDrive: here, drive: across },
    };
  });
  return {
    id: pivot.id,
    name: pivot.name,
    x_mm: pivot.x_mm,
    y_mm: pivot.y_mm,
    verdict,
    stacks,
    findings: [...judged.findings, ...estimateNote(pivot.id, estimatesOf(joint), [...new Set(flips)])],
    check: solved.check,
  };
}

function estimateNote(pivot: string, estimates: readonly Estimate[], decides: readonly Estimate[]): Finding[] {
  if (estimates.length + decides.length === 0) return [];
  return [
    {
      code: 'estimate-used',
      severity: decides.length > 0 ? 'warn' : 'note',
      pivot,
      parts: [],
      numbers: {},
      rests: decides.length > 0 ? decides : estimates,
      about: { decides: decides.length > 0 ? 'yes' : 'no' },
    },
  ];
}

function worst(verdicts: readonly Verdict[]): Verdict {
  return verdicts.includes('faulty') ? 'faulty' : verdicts.includes('unsure') ? 'unsure' : 'sound';
}

/** Parts used against the number the maker's list calls for. */
function countParts(model: LinkageModel): Finding[] {
  const used = new Map<string, { count: number; pivot: string }>();
  for (const pivot of model.pivots) {
    for (const stack of pivot.stacks) {
      for (const id of [stack.axle, stack.receiver, ...stack.row.map((entry) => entry.part)]) {
        if (id === undefined || !model.parts[id]) continue;
        used.set(id, { count: (used.get(id)?.count ?? 0) + 1, pivot: used.get(id)?.pivot ?? pivot.id });
      }
    }
  }
  return Object.entries(model.parts).flatMap(([id, part]): Finding[] => {
    const { count, pivot } = used.get(id) ?? { count: 0, pivot: '' };
    if (part.count === undefined || count === part.count) return [];
    return [
      {
        code: count < part.count ? 'part-left-over' : 'part-missing',
        severity: 'warn',
        pivot,
        parts: [],
        numbers: { used: { value: count, unit: '1' }, listed: { value: part.count, unit: '1' } },
        about: { part: id, name: part.name },
      },
    ];
  });
}
