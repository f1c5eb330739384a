/**
 * The order of axles that a model's author pins, against the computed one.
 *
 * The pin says which axle is fitted after which. Where it can be kept, the cheapest legal order that keeps it is found;
 * where edges and pin chase one another, the shortest such cycle is named link by link; where an axle cannot be fitted
 * when it is its turn, what stands against it is named.
 */
import { digraph, findCycle, pairsOf } from './graph.ts';
import { faultsOf } from './own.ts';
import { recommend } from './recommend.ts';
import type { Pinned } from './types.ts';
import type { Works } from './works.ts';

/** The pinned order of a model, or undefined where it pins none. `order` is the recommended one. */
export function pinnedOf(works: Works, order: readonly number[]): Pinned | undefined {
  const stacks = works.bike.model.order;
  if (!stacks) return undefined;
  const fits = stacks.flatMap((id) => works.at.get(`fit:${id}`) ?? []);
  const pins = fits.slice(1).map((fit, k) => [fits[k]!, fit] as const);
  const graph = digraph(works.graph.count, [...pairsOf(works.graph), ...pins]);
  const own = order.filter((node) => works.jobs[node]!.kind === 'fit');
  const isSame = own.length === fits.length && own.every((node, k) => node === fits[k]);
  const cycle = findCycle(graph);
  if (cycle)
    return {
      stacks,
      isSame,
      jobs: [],
      conflicts: [],
      cycle: cycle.map((node, k) => link(works, node, cycle[(k + 1) % cycle.length]!, pins)),
    };
  const kept = recommend(graph, works.costs, works.mayGo);
  if (kept)
    return { stacks, isSame, jobs: kept.order.map((node) => works.jobs[node]!.id), cost: kept.cost, conflicts: [] };
  // The work at the bench is done before; what is left is the axles alone.
  const rest = works.jobs.flatMap((_, node) => (fits.includes(node) ? [] : [node]));
  const first = rest.filter((node) => works.jobs[node]!.kind === 'inspect' || works.jobs[node]!.kind === 'stand');
  const conflicts = faultsOf(works, [...first, ...fits]).filter(({ job }) => job.startsWith('fit:'));
  return { stacks, isSame, jobs: [], conflicts };
}

function link(
  works: Works,
  node: number,
  next: number,
  pins: readonly (readonly [number, number])[],
): NonNullable<Pinned['cycle']>[number] {
  const [job, after] = [works.jobs[node]!.id, works.jobs[next]!.id];
  const edge = works.edges.find((candidate) => candidate.before === job && candidate.after === after);
  const isPin = !edge && pins.some(([one, other]) => one === node && other === next);
  return { job, isPin, because: edge?.reasons.map((reason) => ({ after, reason })) ?? [] };
}
