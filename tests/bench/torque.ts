/**
 * How long sampled sets take: ten thousand of the largest demo pivot, and the same sampling with each build solved by
 * `quadprog` (one proximal step of it, its programme's gaps rewritten for every build) instead of the clamp solve.
 *
 * Fewer sets stand for the many where theirs would take minutes; the ratio is a build's. Nothing here passes or fails.
 */
import { DEFAULT_SETS, sampleSets, setUpSets, torqueCards, analyse, type SetTrial } from '../../shared/index.ts';
import { clampProblem, makeJoint } from '../../shared/joint/joint.ts';
import { gapEffects } from '../../shared/tolerance/faces.ts';
import { travel_mm } from '../../shared/tolerance/effect.ts';
import { judge } from '../../shared/findings/judge.ts';
import { torqueFindings } from '../../shared/torque/findings.ts';
import { randomStream } from '../../shared/numbers/random.ts';
import { demoModels } from './models.ts';
import { clampProgramme, solveProgramme } from './oracles.ts';
import type { TheRow } from './row.ts';
import { resolveModel } from '../../shared/model/resolve.ts';

const THEIR_SETS = 200;
const PROXIMAL_N_per_mm = 50;

/** Milliseconds of a call. */
function once(work: () => unknown): number {
  const from = performance.now();
  work();
  return performance.now() - from;
}

/** The same sets by the quadratic programme. */
function sampleByProgramme({ joint, solved, dimensions }: SetTrial, sets: number): void {
  const problem = clampProblem(joint, (own) => solved.pull_N.get(own.stack.id)!);
  const effects = gapEffects(joint, dimensions);
  const anchor = [...solved.spec.shift_mm];
  const stream = randomStream(1);
  for (let k = 0; k < sets; k++) {
    const deviation = dimensions.list.map(
      ({ lower_mm, upper_mm }) => (lower_mm + upper_mm) / 2 + ((upper_mm - lower_mm) / 6) * stream.bell(),
    );
    const contacts = problem.contacts.map((law, i) => ({
      ...law,
      gap_mm: law.gap_mm + travel_mm(effects[i]!, deviation),
    }));
    solveProgramme(clampProgramme({ ...problem, contacts }, PROXIMAL_N_per_mm, anchor));
  }
}

/** The rows of the bench. */
export function benchTorque(): TheRow[] {
  const pivots = demoModels().flatMap((model) =>
    model.pivots.map((pivot) => ({ model, pivot, joint: makeJoint(resolveModel(model), pivot.id) })),
  );
  const largest = [...pivots].sort((a, b) => b.joint.bodies - a.joint.bodies)[0]!;
  const busiest = [...pivots].sort((a, b) => b.joint.contacts.length - a.joint.contacts.length)[0]!;
  const rows = [largest, busiest].map(({ model, pivot, joint }): TheRow => {
    const bench = setUpSets(joint);
    for (const _step of sampleSets(bench, { sets: 500 }));
    const ours_ms = once(() => {
      for (const _step of sampleSets(bench, { sets: DEFAULT_SETS }));
    });
    const theirs_ms = (once(() => sampleByProgramme(bench, THEIR_SETS)) * DEFAULT_SETS) / THEIR_SETS;
    const size = `${joint.bodies} bodies, ${joint.contacts.length} contacts, ${bench.dimensions.list.length} dimensions`;
    return {
      what: `${model.id} ${pivot.id} (${size}): ${DEFAULT_SETS} sampled sets; by quadprog from ${THEIR_SETS} of them`,
      ours_ms,
      theirs_ms,
      ratio: theirs_ms / ours_ms,
      goal: 'under 3000 ms, ≥ 5 ×',
    };
  });
  const analysis = analyse(largest.model);
  const judged = largest.model.pivots.map(({ id }) => judge(analysis.resolved, id));
  const judged_ms = once(() => largest.model.pivots.map(({ id }) => judge(analysis.resolved, id)));
  const torque_ms = once(() => judged.map(({ solved, evidence }) => torqueFindings(solved, evidence.met, () => false)));
  return [
    ...rows,
    {
      what: `${largest.model.id}: torque cards of all ${largest.model.pivots.length} pivots`,
      ours_ms: once(() => largest.model.pivots.map(({ id }) => torqueCards(analysis, id))),
    },
    {
      what: `${largest.model.id}: torque in the fit check of all pivots; beside it the whole fit check, torque included`,
      ours_ms: torque_ms,
      theirs_ms: judged_ms,
      ratio: judged_ms / torque_ms,
      goal: '≥ 8 ×',
    },
  ];
}
