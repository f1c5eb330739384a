/**
 * The bike of a job: its analysis, its plan and strip-down, and what at it goes wrong without a sign.
 *
 * Nothing new is worked out here: steps are those of the order, silent mistakes those of the mistake table. A torque or
 * a facing whose mistake no hand feels and that does not fit is countersigned.
 */
import { analyse } from '../analyse.ts';
import type { Job } from '../envelope/job.ts';
import { mistakeItems } from '../mistakes/list.ts';
import { tryMistakes } from '../mistakes/table.ts';
import type { LinkageModel } from '../model/schema.ts';
import { planOf, type Plan } from '../order/plan.ts';
import { stripOf, type Strip } from '../order/strip.ts';

/** Torques and facings whose mistake is silent and does not fit: a stack by its id, a part by its scene id. */
export interface Silent {
  readonly torques: readonly string[];
  readonly facings: readonly string[];
}

/** What a job's view is made from beside the job. */
export interface JobBike {
  readonly plan: Plan;
  readonly strip: Strip;
  readonly silent: Silent;
}

const WATCHED = ['turned', 'under-tightened', 'over-tightened'] as const;

/** What at a bike goes wrong without a sign. About 30 ms a pivot. */
function silentOf(model: LinkageModel): Silent {
  const work = watching(model);
  for (let step = work.next(); ; step = work.next()) if (step.done) return step.value;
}

/** The same work with places where it may be left. */
export function* watching(model: LinkageModel): Generator<{ readonly done: number; readonly total: number }, Silent> {
  const work = tryMistakes(model, { kinds: WATCHED });
  const torques = new Set<string>();
  const facings = new Set<string>();
  for (let step = work.next(); !step.done; step = work.next()) {
    const { mistake, isSilent, verdict } = step.value.row;
    if (isSilent && verdict === 'faulty') {
      if (mistake.kind === 'turned') for (const id of mistakeItems(mistake)) facings.add(id);
      else
        for (const { stack } of mistake.changes.filter(({ what }) => what === 'torque') as readonly { stack: string }[])
          torques.add(stack);
    }
    yield { done: step.value.done, total: step.value.total };
  }
  return { torques: [...torques], facings: [...facings] };
}

/** The bike of a job from its model, in the job's variant and order. Throws nothing; about half a second. */
export function jobBike(model: LinkageModel, job: Pick<Job, 'variant' | 'follow'>): JobBike {
  const known = model.variants?.some(({ id }) => id === job.variant) === true;
  const analysis = analyse(model, known && job.variant !== undefined ? { variant: job.variant } : {});
  const plan = planOf(analysis, { follow: job.follow });
  return { plan, strip: stripOf(plan), silent: silentOf(analysis.model) };
}
