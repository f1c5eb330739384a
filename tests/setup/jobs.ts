/**
 * Whole jobs for the tests: a hand that goes through every step, gives each value it asks for, and marks it done.
 */
import {
  fieldsOfJob,
  jobField,
  jobView,
  type FieldValue,
  type Job,
  type JobBike,
  type Need,
} from '../../shared/index.ts';

/** Begin of a day on which nothing in particular happened, ms. */
export const MORNING_ms = 1_800_000_000_000;
const MINUTE_ms = 60_000;

/** What a careful hand writes down for a need, where all is well. */
export function answerTo(need: Need): Readonly<Record<string, FieldValue>> {
  switch (need.what) {
    case 'came':
      return { 'came/air': '165 psi' };
    case 'air':
      return { air_put_back: '165 psi' };
    case 'torque':
      return { [jobField('axle', need.stackId)]: { reached_Nm: need.set_Nm, set_Nm: need.set_Nm } };
    case 'felt':
      return { [jobField('felt', need.stackId, need.when)]: { is: ['good'] } };
    case 'condition':
      return { [jobField(need.subject.of, need.subject.id, 'condition')]: ['good'] };
    case 'fate':
      return { [jobField('part', need.subject.id, 'renewed')]: 'new' };
    case 'cured':
      return {};
  }
}

/** What a job comes to with more fields set. */
export type Store = (fields: Readonly<Record<string, FieldValue>>) => Job;

/** A store of fields that starts from a job. */
export function storeOf(
  job: Job,
  jobFrom: (sum: { fields: ReadonlyMap<string, FieldValue> }) => Job | undefined,
): Store {
  const fields = new Map(Object.entries(fieldsOfJob(job)));
  return (more) => {
    for (const [name, value] of Object.entries(more)) fields.set(name, value);
    return jobFrom({ fields })!;
  };
}

/** Go through a whole job; gives it as it ends, and the ids of its steps in the order in which they were closed. */
export function wholeJob(
  bike: JobBike,
  begun: Job,
  put: Store,
): { readonly job: Job; readonly closed: readonly string[] } {
  let job = begun;
  let now_ms = MORNING_ms;
  const closed: string[] = [];
  for (;;) {
    const view = jobView(bike, job, now_ms);
    const step = view.steps[view.next];
    if (!step) return { job, closed };
    const cured = step.lacks.find((need) => need.what === 'cured');
    now_ms = Math.max(now_ms + step.minutes * MINUTE_ms, cured?.until_ms ?? 0);
    job = put({
      ...Object.assign({}, ...step.lacks.map(answerTo)),
      [jobField('step', step.id)]: { is: 'done', at_ms: now_ms },
      ...(step.second ? { [jobField('sign', step.id)]: { by: 'cd', at_ms: now_ms } } : {}),
    });
    closed.push(step.id);
  }
}
