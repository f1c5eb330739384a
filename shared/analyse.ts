/**
 * The one call: from a linkage model to everything the screens, the command line and the tests use.
 *
 * Each pivot is solved by itself, its members free to slide along z; what a neighbouring pivot would hold is not in it.
 * Where a figure was estimated the pivot is solved again with the estimate at the ends of its doubt: a verdict that
 * flips is `unsure`. Pure and deterministic.
 */
import { makeJoint, type Assumptions, type Joint } from './joint.ts';
import { findAll, type Evidence } from './findings.ts';
import { resolveBearing } from './model/resolve.ts';
import type { LinkageModel, Pivot } from './model/schema.ts';
import { applyVariant } from './model/variant.ts';
import { passage } from './passage.ts';
import { clampForce_N, meetAll, placeColumn, placeItems, readColumn } from './reading.ts';
import { solveJoint, type SolvedJoint } from './solve.ts';
import type { Analysis, Finding, PivotAnalysis, StackAnalysis, Verdict } from './types.ts';

export interface AnalyseOptions {
  /** Id of a variant of the model. */
  readonly variant?: string;
  /** Preload of every stack, N, instead of the one its torque gives: for reference cases. */
  readonly preload_N?: number;
  readonly assumptions?: Assumptions;
}

/** Analyse a model that has been read without problems. Throws when `variant` names none of its variants. */
export function analyse(base: LinkageModel, options: AnalyseOptions = {}): Analysis {
  const variant =
    options.variant === undefined ? undefined : base.variants?.find((candidate) => candidate.id === options.variant);
  if (options.variant !== undefined && !variant) {
    const known = (base.variants ?? []).map((candidate) => candidate.id).join(', ') || 'none';
    throw new RangeError(`analyse: variant: met "${options.variant}", allowed: ${known}`);
  }
  const model = variant ? applyVariant(base, variant) : base;
  const pivots = model.pivots.map((pivot) => workPivot(model, pivot, options));
  return {
    model,
    ...(variant ? { variant: variant.id } : {}),
    verdict: worst(pivots.map((pivot) => pivot.verdict)),
    pivots,
    // The counts are the base build's: a variant displaces parts on purpose.
    findings: variant ? [] : countParts(model),
  };
}

function workPivot(model: LinkageModel, pivot: Pivot, options: AnalyseOptions): PivotAnalysis {
  const judged = judge(model, pivot, options, options.assumptions ?? {});
  const { joint, solved, evidence } = judged;
  const estimates = estimatesOf(joint);
  const isFaulty = hasStop(judged.findings);
  const flips = cornersOf(estimates).filter(
    (corner) =>
      hasStop(judge(model, pivot, options, { ...options.assumptions, ...corner.assumptions }).findings) !== isFaulty,
  );
  const findings = [
    ...judged.findings,
    ...estimateNote(
      pivot,
      estimates,
      flips.map((corner) => corner.name),
    ),
  ];
  const verdict: Verdict = flips.length > 0 ? 'unsure' : isFaulty ? 'faulty' : 'sound';
  const stacks = joint.stacks.map((own): StackAnalysis => {
    const { stack } = own;
    const items = placeItems(solved, own, evidence.met);
    const here = evidence.passages.get(stack.id)!;
    const across = passage(joint, own, stack.from === 'drive' ? 'non-drive' : 'drive');
    return {
      id: stack.id,
      name: stack.name ?? pivot.name,
      pivotId: pivot.id,
      from: stack.from,
      clamp_N: evidence.clamp_N.get(stack.id)!,
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
    findings,
    check: solved.check,
  };
}

function hasStop(findings: readonly Finding[]): boolean {
  return findings.some((finding) => finding.severity === 'stop');
}

/** One pivot solved and checked under one set of assumptions: what `analyse` reads its verdict from. */
export interface Judged {
  readonly joint: Joint;
  readonly solved: SolvedJoint;
  readonly evidence: Evidence;
  readonly findings: readonly Finding[];
}

/** Solve one pivot under one set of assumptions and check its fit, without the corners of the estimates. */
export function judge(
  model: LinkageModel,
  pivot: Pivot,
  options: AnalyseOptions = {},
  assumptions: Assumptions = {},
): Judged {
  const joint = makeJoint(model, pivot, assumptions);
  const solved = solveJoint(joint, options.preload_N);
  const met = meetAll(solved);
  const columns = new Map(joint.stacks.map((own) => [own.stack.id, readColumn(own, met)] as const));
  const evidence: Evidence = {
    solved,
    met,
    columns,
    clamp_N: new Map(joint.stacks.map((own) => [own.stack.id, clampForce_N(own, met, columns.get(own.stack.id)!)])),
    passages: new Map(joint.stacks.map((own) => [own.stack.id, passage(joint, own, own.stack.from)])),
  };
  return { joint, solved, evidence, findings: findAll(evidence) };
}

type Estimate = 'shoulders' | 'arm-stiffness' | 'axial-play';

function estimatesOf(joint: Joint): Estimate[] {
  const bearings = joint.stacks.flatMap(({ stack }) =>
    stack.row.flatMap((entry) => {
      const part = entry.part === undefined ? undefined : joint.model.parts[entry.part];
      return part?.kind === 'bearing' ? [resolveBearing(part)] : [];
    }),
  );
  const found: Estimate[] = [];
  if (bearings.some((bearing) => bearing.estimated.includes('shoulders'))) found.push('shoulders');
  if (bearings.some((bearing) => bearing.estimated.some((what) => what !== 'shoulders'))) found.push('axial-play');
  if (joint.arms.some(({ arm }) => arm.isEstimated)) found.push('arm-stiffness');
  return found;
}

/** The ends of each estimate's doubt: shoulders by their stated doubt, stiffness and play by a factor of two. */
function cornersOf(estimates: readonly Estimate[]): { name: Estimate; assumptions: Assumptions }[] {
  const ends: Record<Estimate, readonly Assumptions[]> = {
    shoulders: [{ shoulderShift: 1 }, { shoulderShift: -1 }],
    'arm-stiffness': [{ armFactor: 2 }, { armFactor: 0.5 }],
    'axial-play': [{ axialFactor: 2 }, { axialFactor: 0.5 }],
  };
  return estimates.flatMap((name) => ends[name].map((assumptions) => ({ name, assumptions })));
}

/** The ends of the doubt of everything a joint estimates: under which other assumptions its verdict must hold. */
export function doubtsOf(joint: Joint): readonly Assumptions[] {
  return cornersOf(estimatesOf(joint)).map(({ assumptions }) => assumptions);
}

function estimateNote(pivot: Pivot, estimates: readonly Estimate[], flips: readonly Estimate[]): Finding[] {
  if (estimates.length === 0) return [];
  const decides = [...new Set(flips)];
  return [
    {
      code: 'estimate-used',
      severity: decides.length > 0 ? 'warn' : 'note',
      pivot: pivot.id,
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
