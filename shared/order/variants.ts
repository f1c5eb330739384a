/**
 * A model's variants and what each changes in the build order.
 *
 * A job has moved where it is none of the longest run of jobs that stand in the same order in both (longest rising row,
 * patience sorting): as few jobs as can be have to be named.
 */
import { analyse } from '../analyse.ts';
import type { LinkageModel } from '../model/schema.ts';
import { planOf } from './plan.ts';
import type { Plan, PlanEdge, PlanJob, VariantOrder } from './types.ts';

/** The base build's order first, then each variant's beside it. */
export function compareVariants(model: LinkageModel): VariantOrder[] {
  const base = planOf(analyse(model));
  const variants = (model.variants ?? []).map(({ id }) => beside(base, planOf(analyse(model, { variant: id }))));
  return [{ plan: base, moved: [], gained: [], lost: [], changed: [] }, ...variants];
}

/** One plan beside another of the same bike. */
export function beside(base: Plan, plan: Plan): VariantOrder {
  const before = new Map(base.jobs.map((job, k) => [job.id, { job, k }]));
  const shared = plan.jobs.filter(({ id }) => before.has(id));
  const stay = longestRise(shared.map(({ id }) => before.get(id)!.k));
  const key = ({ before: one, after, reasons }: PlanEdge): string =>
    `${one} ${after} ${[...new Set(reasons.filter(({ isSolid }) => isSolid).map(({ code }) => code))].join()}`;
  const keys = [base, plan].map(({ edges }) => new Set(edges.map(key)));
  return {
    ...(plan.variant === undefined ? {} : { variant: plan.variant }),
    plan,
    moved: shared.flatMap(({ id }, k) => (stay.has(k) ? [] : [id])),
    gained: plan.edges.filter((edge) => !keys[0]!.has(key(edge))),
    lost: base.edges.filter((edge) => !keys[1]!.has(key(edge))),
    changed: shared.flatMap((job) => {
      const what = differences(before.get(job.id)!.job, job);
      return what.length === 0 ? [] : [{ job: job.id, what }];
    }),
  };
}

function differences(one: PlanJob, other: PlanJob): ('side' | 'tools')[] {
  const tools = ({ tools: list }: PlanJob): string =>
    list.map(({ role, tool, side }) => `${role} ${tool.tool} ${tool.size_mm} ${side}`).join();
  return [
    ...(one.side === other.side ? [] : (['side'] as const)),
    ...(tools(one) === tools(other) ? [] : (['tools'] as const)),
  ];
}

/** Places of a longest strictly rising row of numbers. */
export function longestRise(row: readonly number[]): Set<number> {
  const ends: number[] = [];
  const before = row.map((): number | undefined => undefined);
  row.forEach((value, k) => {
    let [low, high] = [0, ends.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (row[ends[middle]!]! < value) low = middle + 1;
      else high = middle;
    }
    before[k] = ends[low - 1];
    ends[low] = k;
  });
  const rise = new Set<number>();
  for (let at = ends.at(-1); at !== undefined; at = before[at]) rise.add(at);
  return rise;
}
