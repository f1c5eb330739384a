/**
 * The jobs a build is made of: what is begun and finished in one go, before anything else is.
 *
 * A ring held by a fingertip cannot wait, and a pivot is checked the moment it is tight: so an axle is one job up to its
 * thread started by hand, and another for its torque and free check. What a job does step by step is in `hands.ts`.
 */
import type { Side } from '../model/schema.ts';
import type { Bike, Joined } from './bike.ts';
import { toolsOf, type ToolRoom } from './room.ts';

/** Kinds of job, in the order in which what is otherwise the same is done. */
export const JOB_KINDS = [
  'stand',
  'inspect',
  'fit',
  'tighten',
  'cables',
  'chainset',
  'wheel',
  'air',
  'hand-over',
] as const;
/** What a job is about. */
export type JobKind = (typeof JOB_KINDS)[number];

/** One job. */
export interface Job {
  /** Its kind, with the stack's id where it is about one: `fit:main`. */
  readonly id: string;
  readonly kind: JobKind;
  readonly stackId?: string;
  readonly pivotId?: string;
  /** Obstacles that are on the bike once it is done. */
  readonly brings: readonly string[];
  /** Where one stands as it begins and as it ends; a job that can be done from anywhere has neither. */
  readonly begins?: Side | 'bench';
  readonly ends?: Side | 'bench';
  readonly tools: readonly ToolRoom[];
}

/** All jobs of a bike, in the order that settles what is otherwise the same. */
export function jobsOf(bike: Bike): Job[] {
  const { stacks } = bike;
  const bare = { brings: [], tools: [] };
  const about = (kind: JobKind, own: Joined): Pick<Job, 'id' | 'kind' | 'stackId' | 'pivotId'> => ({
    id: `${kind}:${own.id}`,
    kind,
    stackId: own.id,
    pivotId: own.stack.pivotId,
  });
  const jobs: Job[] = [{ id: 'stand', kind: 'stand', ...bare }];
  for (const own of stacks) jobs.push({ ...about('inspect', own), ...bare, begins: 'bench', ends: 'bench' });
  for (const own of stacks) {
    // The hand ends where it started the thread.
    const ends = own.receiver.role === 'boss' ? own.from : own.tipSide;
    jobs.push({ ...about('fit', own), ...bare, begins: own.from, ends });
    jobs.push({
      ...about('tighten', own),
      brings: [],
      tools: toolsOf(own),
      begins: own.stack.tightening.stand,
      ends: own.stack.tightening.stand,
    });
  }
  const isBike = bike.wheel.length > 0 || bike.model.wheel !== undefined;
  if (isBike) jobs.push({ id: 'cables', kind: 'cables', ...bare });
  if (bike.chainset.length > 0) jobs.push({ id: 'chainset', kind: 'chainset', tools: [], brings: bike.chainset });
  if (isBike) jobs.push({ id: 'wheel', kind: 'wheel', tools: [], brings: bike.wheel });
  if (bike.shock !== undefined) jobs.push({ id: 'air', kind: 'air', ...bare });
  jobs.push({ id: 'hand-over', kind: 'hand-over', ...bare });
  return jobs;
}
