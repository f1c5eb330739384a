/**
 * How much dearer the cheapest assignment gets when one piece of a row is made to go to another column, for every row
 * and column at once.
 *
 * From the potentials of a cheapest assignment: moving a piece opens a chain of moves in the residual graph, one column
 * handing a piece on to the next until one has room or the first is filled again, and the cheapest chain is a shortest
 * path over reduced costs, which are never negative. Chains dearer than a stated bound are not followed, so that a tray
 * of well-told parts costs next to nothing. The result is exact: forcing the pair and assigning anew gives the same
 * figure.
 */
import type { AssignProblem, Assignment } from './assign.ts';

/** The extra cost of putting one piece of a row into a column that the cheapest assignment does not use for it. */
export interface Margin {
  readonly row: number;
  /** The number of columns stands for 'unmatched'. */
  readonly column: number;
  readonly extra: number;
}

/** One handing-on: a piece that sits at one column could go to another at this extra cost. */
interface Move {
  readonly to: number;
  readonly cost: number;
}

/** Every margin up to `bound`, by row, then column. */
export function margins(problem: AssignProblem, { chosen, unmatched, u, v }: Assignment, bound: number): Margin[] {
  const nowhere = problem.capacity.length;
  const columns = v.length;
  const priceOf = (row: number, column: number): number =>
    column === nowhere ? problem.unmatched![row]! : problem.cost[row]![column]!;
  const reduced = (row: number, column: number): number => Math.max(0, priceOf(row, column) - u[row]! - v[column]!);
  const placed = [
    ...chosen,
    ...unmatched.flatMap((pieces, row) => (pieces > 0 ? [{ row, column: nowhere, pieces }] : [])),
  ];
  const taken = new Float64Array(columns);
  for (const { column, pieces } of placed) taken[column]! += pieces;
  const hasRoom = (column: number): boolean => column === nowhere || taken[column]! < problem.capacity[column]!;

  const moves: Map<number, number>[] = Array.from({ length: columns }, () => new Map());
  const wanted: { row: number; from: number; to: number; cost: number }[] = [];
  for (const { row, column } of placed) {
    for (let to = 0; to < columns; to++) {
      if (to === column) continue;
      const cost = reduced(row, to);
      if (!(cost <= bound)) continue;
      wanted.push({ row, from: column, to, cost });
      if (cost < (moves[column]!.get(to) ?? Infinity)) moves[column]!.set(to, cost);
    }
  }
  const edges: readonly Move[][] = moves.map((own) => [...own].map(([to, cost]) => ({ to, cost })));
  const chains = new Map<number, Float64Array>();
  const best = new Map<string, Margin>();
  const sits = new Set(placed.map(({ row, column }) => `${row} ${column}`));
  for (const { row, from, to, cost } of wanted) {
    if (sits.has(`${row} ${to}`)) continue;
    let chain = chains.get(to);
    if (!chain) chains.set(to, (chain = chainsFrom(to)));
    // The chain ends where a piece is missing: back at `from`, or anywhere with room while `from` stays one short.
    const extra = cost + chain[from]!;
    const key = `${row} ${to}`;
    if (extra <= bound && extra < (best.get(key)?.extra ?? Infinity)) best.set(key, { row, column: to, extra });
  }
  return [...best.values()].sort((a, b) => a.row - b.row || a.column - b.column);

  /**
   * Cheapest chain that starts with one piece too many at `start`, to every column that may end it, up to the bound.
   */
  function chainsFrom(start: number): Float64Array {
    const away = new Float64Array(columns + 1).fill(Infinity);
    const done = new Uint8Array(columns + 1);
    const pool = columns;
    away[start] = 0;
    const open = new Set([start]);
    while (open.size > 0) {
      let at = -1;
      for (const candidate of open) if (at < 0 || away[candidate]! < away[at]!) at = candidate;
      open.delete(at);
      done[at] = 1;
      const step = (to: number, cost: number): void => {
        const next = away[at]! + cost;
        if (done[to] === 0 && next < away[to]! && next <= bound) {
          away[to] = next;
          open.add(to);
        }
      };
      if (at === pool) {
        // From the pool of free places any column that holds a piece may be left one short, at its potential.
        for (let to = 0; to < columns; to++) if (taken[to]! > 0) step(to, -v[to]!);
        continue;
      }
      for (const { to, cost } of edges[at]!) step(to, cost);
      if (hasRoom(at)) step(pool, 0);
    }
    return away.subarray(0, columns);
  }
}
