/**
 * What a shop learns over its jobs: which axles' parts are found bad how often, and how reached torques stand against
 * what was set. Counts alone, and a table to take away; below a least number of jobs they say so little that the caller
 * does not show them.
 */
import { csv } from '../numbers/table.ts';
import type { Condition, Job } from '../envelope/job.ts';
import { JOB_LIMITS } from './limits.ts';

/** One axle of one model over its jobs. */
export interface Learned {
  readonly model: string;
  readonly stackId: string;
  /** Jobs in which something was said of its parts. */
  readonly looked: number;
  /** Jobs in which at least one of its parts or seats was bad. */
  readonly bad: number;
  readonly renewed: number;
  /** What was found how often, the most frequent first. */
  readonly found: readonly { readonly condition: Condition; readonly count: number }[];
  readonly torques: number;
  /** Reached less set, N·m: mean, least and most. */
  readonly off_Nm?: { readonly mean: number; readonly least: number; readonly most: number };
}

/** Whether so many jobs say something. */
export function isEnough(jobs: number): boolean {
  return jobs >= JOB_LIMITS.leastJobs.value;
}

/** What jobs come to, by model and axle: what is bad most often first. O(parts of all jobs). */
export function learned(jobs: readonly Job[]): Learned[] {
  const groups = new Map<string, { model: string; stackId: string; jobs: Job[] }>();
  for (const job of jobs)
    for (const stackId of stacksIn(job)) {
      const key = `${job.model} ${stackId}`;
      const group = groups.get(key) ?? { model: job.model, stackId, jobs: [] };
      group.jobs.push(job);
      groups.set(key, group);
    }
  return [...groups.values()]
    .map(({ model, stackId, jobs: own }) => rowOf(model, stackId, own))
    .sort(
      (a, b) =>
        share(b) - share(a) || b.bad - a.bad || (`${a.model} ${a.stackId}` < `${b.model} ${b.stackId}` ? -1 : 1),
    );
}

function share({ bad, looked }: Learned): number {
  return looked === 0 ? 0 : bad / looked;
}

const stackOf = (id: string): string => id.slice(0, id.indexOf('/'));

function stacksIn(job: Job): string[] {
  const looked = [...Object.keys(job.parts), ...Object.keys(job.seats)].map(stackOf);
  return [...new Set([...looked, ...Object.keys(job.axles)])];
}

function conditionsAt(job: Job, stackId: string): readonly (readonly Condition[])[] {
  return [...Object.entries(job.parts), ...Object.entries(job.seats)].flatMap(([id, { condition }]) =>
    stackOf(id) === stackId && condition && condition.length > 0 ? [condition] : [],
  );
}

function rowOf(model: string, stackId: string, jobs: readonly Job[]): Learned {
  const said = jobs.map((job) => conditionsAt(job, stackId));
  const bad = said.map((conditions) => new Set(conditions.flat().filter((one) => one !== 'good')));
  const counts = new Map<Condition, number>();
  for (const one of bad.flatMap((conditions) => [...conditions])) counts.set(one, (counts.get(one) ?? 0) + 1);
  const off = jobs.flatMap(({ axles }) => {
    const axle = axles[stackId];
    return axle ? [axle.reached_Nm - axle.set_Nm] : [];
  });
  return {
    model,
    stackId,
    looked: said.filter((conditions) => conditions.length > 0).length,
    bad: bad.filter(({ size }) => size > 0).length,
    renewed: jobs.filter(({ parts }) =>
      Object.entries(parts).some(([id, { renewed }]) => stackOf(id) === stackId && renewed !== undefined),
    ).length,
    found: [...counts].map(([condition, count]) => ({ condition, count })).sort((a, b) => b.count - a.count),
    torques: off.length,
    ...(off.length > 0 && {
      off_Nm: {
        mean: off.reduce((sum, one) => sum + one, 0) / off.length,
        least: Math.min(...off),
        most: Math.max(...off),
      },
    }),
  };
}

const HEAD = ['job', 'date', 'model', 'frame', 'axle', 'part', 'found', 'renewed', 'set_Nm', 'reached_Nm', 'wrench'];

/** Every finding and every torque of some jobs as a table, one line each (RFC 4180). */
export function learnedCsv(jobs: readonly Job[]): string {
  const rows = jobs.flatMap((job): (readonly string[])[] => {
    const about = [job.reference, job.date, job.model, job.frame];
    const parts = Object.entries(job.parts).map(([id, { condition = [], renewed = '' }]) => [
      ...about,
      stackOf(id),
      id,
      condition.join(' '),
      renewed,
      ...['', '', ''],
    ]);
    const seats = Object.entries(job.seats).map(([id, { condition = [] }]) => [
      ...about,
      stackOf(id),
      `${id} seat`,
      condition.join(' '),
      ...['', '', '', ''],
    ]);
    const axles = Object.entries(job.axles).map(([stackId, { reached_Nm, set_Nm, wrench = '' }]) => [
      ...about,
      stackId,
      ...['', '', ''],
      String(set_Nm),
      String(reached_Nm),
      job.wrenches[wrench]?.name ?? '',
    ]);
    return [...parts, ...seats, ...axles];
  });
  return csv([HEAD, ...rows]);
}
