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

/** Whether a part or seat of an axle was bad by its size alone: only such a one is renewed, awaited or decided on. */
function isWornBySize(job: Job, stackId: string): boolean {
  const isHere = ([id, { measured }]: readonly [string, Job['seats'][string]]): boolean =>
    stackOf(id) === stackId && measured !== undefined;
  return (
    Object.entries(job.parts).some(
      (own) => isHere(own) && (own[1].renewed ?? own[1].awaited ?? own[1].for_now) !== undefined,
    ) ||
    Object.entries(job.seats).some(
      (own) => isHere(own) && Object.keys(job.decisions).some((key) => key.startsWith(`${own[0]}/seat/`)),
    )
  );
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
    looked: said.filter((conditions, k) => conditions.length > 0 || isWornBySize(jobs[k]!, stackId)).length,
    bad: bad.filter(({ size }, k) => size > 0 || isWornBySize(jobs[k]!, stackId)).length,
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

const SIZES = ['length_mm', 'across_mm', 'other_way_mm'] as const;
const HEAD = [
  ...['job', 'date', 'model', 'frame', 'axle', 'part', 'found', 'renewed', 'set_Nm', 'reached_Nm', 'wrench'],
  ...SIZES,
];

const sizesIn = (measured: Job['seats'][string]['measured']): string[] =>
  SIZES.map((name) => String(measured?.[name] ?? ''));

/** Every finding and every torque of some jobs as a table, one line each (RFC 4180). */
export function learnedCsv(jobs: readonly Job[]): string {
  const rows = jobs.flatMap((job): (readonly string[])[] => {
    const about = [job.reference, job.date, job.model, job.frame];
    const parts = Object.entries(job.parts).map(([id, { condition = [], renewed = '', measured }]) => [
      ...about,
      stackOf(id),
      id,
      condition.join(' '),
      renewed,
      ...['', '', ''],
      ...sizesIn(measured),
    ]);
    const seats = Object.entries(job.seats).map(([id, { condition = [], measured }]) => [
      ...about,
      stackOf(id),
      `${id} seat`,
      condition.join(' '),
      ...['', '', '', ''],
      ...sizesIn(measured),
    ]);
    const axles = Object.entries(job.axles).map(([stackId, { reached_Nm, set_Nm, wrench = '' }]) => [
      ...about,
      stackId,
      ...['', '', ''],
      String(set_Nm),
      String(reached_Nm),
      job.wrenches[wrench]?.name ?? '',
      ...sizesIn(undefined),
    ]);
    return [...parts, ...seats, ...axles];
  });
  return csv([HEAD, ...rows]);
}
