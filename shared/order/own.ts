/**
 * Any order of a plan's jobs checked job by job: what stands too early, what it waits for, and where it could go.
 *
 * A job is at fault where something it needs has not been done, or where what is on the bike by then leaves it no way in
 * or nothing to hang on. Its nearest legal place is looked for in the order without it, with all that needs it behind it
 * where that can be had.
 */
import { costOf } from './recommend.ts';
import type { Because, OrderCheck, OrderFault, Plan } from './types.ts';
import { worksOf, type Works } from './works.ts';

/** Check an order of job ids against a plan. */
export function checkOrder(plan: Plan, jobIds: readonly string[]): OrderCheck {
  const works = worksOf(plan.analysis);
  const known = jobIds.filter((id, k) => works.at.has(id) && jobIds.indexOf(id) === k);
  const order = known.map((id) => works.at.get(id)!);
  return {
    faults: faultsOf(works, order),
    missing: works.jobs.flatMap(({ id }) => (known.includes(id) ? [] : [id])),
    unknown: jobIds.filter((id, k) => !works.at.has(id) || jobIds.indexOf(id) !== k),
    cost: costOf(order, works.costs),
  };
}

/** Faults of an order of jobs, by their numbers. */
export function faultsOf(works: Works, order: readonly number[]): OrderFault[] {
  const place = new Map(order.map((job, k) => [job, k]));
  const needs = needsOf(works);
  return order.flatMap((job, k): OrderFault[] => {
    const isDone = (other: number): boolean => (place.get(other) ?? Infinity) < k;
    const reasons = [...missingEdges(works, job, needs, isDone), ...outOfSense(works, order, job, k, place)];
    if (reasons.length === 0) return [];
    const blockedBy = [
      ...new Set(reasons.flatMap(({ before, after }) => [before, after].filter((id) => id !== undefined))),
    ];
    const nearest = nearestPlace(works, order, job, k, needs);
    return [
      {
        job: works.jobs[job]!.id,
        blockedBy,
        reasons,
        ...(nearest === undefined ? {} : { nearestLegalIndex: nearest }),
      },
    ];
  });
}

/** For each job the edges into it. */
export function needsOf(
  works: Works,
): readonly (readonly { readonly need: number; readonly edge: Works['edges'][number] }[])[] {
  const needs = works.jobs.map((): { need: number; edge: Works['edges'][number] }[] => []);
  for (const edge of works.edges) needs[works.at.get(edge.after)!]!.push({ need: works.at.get(edge.before)!, edge });
  return needs;
}

type Needs = ReturnType<typeof needsOf>;

function missingEdges(works: Works, job: number, needs: Needs, isDone: (other: number) => boolean): Because[] {
  return needs[job]!.flatMap(({ need, edge }) =>
    isDone(need) ? [] : edge.reasons.map((reason): Because => ({ before: works.jobs[need]!.id, reason })),
  );
}

/** What is on the bike too much or too little: named by the jobs that brought it, or that will make it possible. */
function outOfSense(
  works: Works,
  order: readonly number[],
  job: number,
  k: number,
  place: ReadonlyMap<number, number>,
): Because[] {
  const isDone = (other: number): boolean => (place.get(other) ?? Infinity) < k;
  const reasons = works.whyNot(job, isDone);
  return reasons.flatMap((reason): Because[] => {
    const owners =
      reason.about['owners']?.split(' ') ?? (reason.about['owner'] === undefined ? [] : [reason.about['owner']]);
    const early = order.slice(0, k).filter((other) => owners.some((owner) => works.brings(other).includes(owner)));
    if (early.length > 0) return early.map((other) => ({ after: works.jobs[other]!.id, reason }));
    const later = order.slice(k + 1).find((_, n) => {
      const until = k + 1 + n;
      return works
        .whyNot(job, (other) => other !== job && (place.get(other) ?? Infinity) <= until)
        .every(({ code }) => code !== reason.code);
    });
    return later === undefined ? [{ reason }] : [{ before: works.jobs[later]!.id, reason }];
  });
}

function nearestPlace(
  works: Works,
  order: readonly number[],
  job: number,
  k: number,
  needs: Needs,
): number | undefined {
  const rest = order.filter((other) => other !== job);
  const place = new Map(rest.map((other, n) => [other, n]));
  const low = Math.max(0, ...needs[job]!.map(({ need }) => (place.get(need) ?? -1) + 1));
  const high = Math.min(rest.length, ...works.graph.next[job]!.map((after) => place.get(after) ?? Infinity));
  const isLegal = (index: number): boolean =>
    works.whyNot(job, (other) => (place.get(other) ?? Infinity) < index).length === 0;
  const nearest = (from: number, to: number): number | undefined => {
    const all = Array.from({ length: Math.max(0, to - from + 1) }, (_, n) => from + n);
    return all.sort((one, other) => Math.abs(one - k) - Math.abs(other - k) || other - one).find(isLegal);
  };
  return nearest(low, high) ?? nearest(low, rest.length);
}
