/**
 * The cheapest assignment of rows to columns with counts, by successive shortest augmenting paths with potentials.
 *
 * Every row has a number of pieces, every column a number of places; a pair may be forbidden (cost Infinity), and a
 * piece may stay unmatched at its row's stated price. After each path the potentials u, v keep every open pair's
 * reduced cost c − u − v at or above 0 and that of every chosen pair at 0, which is the proof that the assignment is
 * the cheapest. Costs are any finite numbers.
 */

/** What to assign. `capacity` may be Infinity; without `unmatched` every piece must find a place. */
export interface AssignProblem {
  readonly supply: readonly number[];
  readonly capacity: readonly number[];
  /** `cost[row][column]` a piece; Infinity forbids the pair. */
  readonly cost: readonly (readonly number[])[];
  /** Price of leaving one piece of each row unmatched. */
  readonly unmatched?: readonly number[];
}

/** Pieces of one row put into one column. */
export interface Chosen {
  readonly row: number;
  readonly column: number;
  readonly pieces: number;
}

/** A cheapest assignment. `unmatched[row]` counts the pieces left over. */
export interface Assignment {
  readonly total: number;
  readonly chosen: readonly Chosen[];
  readonly unmatched: readonly number[];
  /** Potentials of rows and columns; the last column stands for 'unmatched' where there is a price. */
  readonly u: Float64Array;
  readonly v: Float64Array;
}

/** Differences of path lengths below this share are rounding. */
const ROUNDING = 1e-10;

/**
 * The cheapest assignment, or undefined where a piece finds no place. Supplies are whole and ≥ 0, costs finite or
 * Infinity, one row a supply and one column a capacity. O(pieces · rows · columns).
 */
export function assign({ supply, capacity, cost, unmatched }: AssignProblem): Assignment | undefined {
  const rows = supply.length;
  const columns = capacity.length + (unmatched ? 1 : 0);
  // 'Unmatched' is a last column with room for all.
  const c = unmatched ? cost.map((row, i) => [...row, unmatched[i]!]) : cost;
  const left = Float64Array.from(supply);
  const places = unmatched ? [...capacity, Infinity] : capacity;
  const room = Float64Array.from(places);
  const flow = supply.map(() => new Map<number, number>());
  const rowsAt: Set<number>[] = Array.from({ length: columns }, () => new Set());
  const u = new Float64Array(rows);
  const v = new Float64Array(columns);
  const distance = new Float64Array(columns);
  const reached = new Float64Array(rows);
  const from = new Int32Array(columns);
  const into = new Int32Array(rows);
  const isScanned = new Uint8Array(columns);

  let nearest = -1;
  /** Offers every open column the way through `row`, and finds the nearest column not scanned yet. */
  const relax = (row: number, at: number): void => {
    reached[row] = at;
    const own = c[row]!;
    const potential = at - u[row]!;
    let least = Infinity;
    nearest = -1;
    for (let column = 0; column < columns; column++) {
      if (isScanned[column] === 1) continue;
      const next = own[column]! + potential - v[column]!;
      let known = distance[column]!;
      if (next < known) {
        distance[column] = known = next;
        from[column] = row;
      }
      // Of columns equally near the one with room, which ends the search.
      if (known < least || (known === least && known < Infinity && room[column]! > 0)) {
        least = known;
        nearest = column;
      }
    }
  };
  const findNearest = (): void => {
    nearest = -1;
    for (let column = 0; column < columns; column++) {
      if (isScanned[column] === 0 && distance[column]! < (nearest < 0 ? Infinity : distance[nearest]!))
        nearest = column;
    }
  };

  for (let row = 0; row < rows; row++) u[row] = leastOf(c[row]!);
  outbid();
  for (let start = 0; start < rows; start++) {
    while (left[start]! > 0) {
      distance.fill(Infinity);
      reached.fill(Infinity);
      isScanned.fill(0);
      into[start] = -1;
      relax(start, 0);
      while (nearest >= 0 && room[nearest] === 0) {
        const scanned = nearest;
        isScanned[scanned] = 1;
        let isStale = true;
        for (const row of rowsAt[scanned]!) {
          const at = distance[scanned]! + Math.max(0, u[row]! + v[scanned]! - c[row]![scanned]!);
          // A gain within rounding is none: the way there may lead through this very row.
          if (at >= reached[row]! - ROUNDING * (1 + Math.abs(at))) continue;
          into[row] = scanned;
          relax(row, at);
          isStale = false;
        }
        if (isStale) findNearest();
      }
      if (nearest < 0) return undefined;
      const length = distance[nearest]!;
      for (let row = 0; row < rows; row++) if (reached[row]! < length) u[row]! += length - reached[row]!;
      for (let column = 0; column < columns; column++)
        if (isScanned[column] === 1) v[column]! -= length - distance[column]!;
      push(nearest);
    }
  }

  /**
   * A quick start that leaves few paths to find: each row takes its best column; where that is a single place and
   * taken, it outbids the row there by the distance to its own second best. Potentials stay valid throughout.
   */
  function outbid(): void {
    const waiting = Array.from({ length: rows }, (_, row) => row)
      .filter((row) => left[row] === 1)
      .reverse();
    for (let bids = 12 * rows; bids > 0 && waiting.length > 0; bids--) {
      const row = waiting.pop()!;
      const own = c[row]!;
      let best = -1;
      let first = Infinity;
      let second = Infinity;
      for (let column = 0; column < columns; column++) {
        const value = own[column]! - v[column]!;
        if (value < first) {
          second = first;
          first = value;
          best = column;
        } else if (value < second) {
          second = value;
          // Of two equally good columns the one with room.
          if (value === first && room[best] === 0 && room[column]! > 0) best = column;
        }
      }
      if (best < 0) continue;
      if (room[best]! > 0) u[row] = first;
      else {
        if (places[best] !== 1 || !(second > first) || second === Infinity) continue;
        const [loser] = rowsAt[best]!;
        flow[loser!]!.clear();
        rowsAt[best]!.clear();
        left[loser!] = 1;
        room[best] = 1;
        waiting.push(loser!);
        v[best]! -= second - first;
        u[row] = second;
      }
      flow[row]!.set(best, 1);
      rowsAt[best]!.add(row);
      left[row] = 0;
      room[best]! -= 1;
    }
  }

  /** Sends as many pieces along the path found as it carries. */
  function push(end: number): void {
    let pieces = room[end]!;
    for (let column = end; ; column = into[from[column]!]!) {
      const row = from[column]!;
      if (into[row]! < 0) {
        pieces = Math.min(pieces, left[row]!);
        break;
      }
      pieces = Math.min(pieces, flow[row]!.get(into[row]!)!);
    }
    room[end]! -= pieces;
    for (let column = end; ; column = into[from[column]!]!) {
      const row = from[column]!;
      flow[row]!.set(column, (flow[row]!.get(column) ?? 0) + pieces);
      rowsAt[column]!.add(row);
      const back = into[row]!;
      if (back < 0) {
        left[row]! -= pieces;
        break;
      }
      const rest = flow[row]!.get(back)! - pieces;
      if (rest > 0) flow[row]!.set(back, rest);
      else {
        flow[row]!.delete(back);
        rowsAt[back]!.delete(row);
      }
    }
  }

  let total = 0;
  const chosen: Chosen[] = [];
  const alone = supply.map(() => 0);
  flow.forEach((own, row) => {
    for (let column = 0; column < columns; column++) {
      const pieces = own.get(column) ?? 0;
      if (pieces === 0) continue;
      total += pieces * c[row]![column]!;
      if (column === capacity.length) alone[row] = pieces;
      else chosen.push({ row, column, pieces });
    }
  });
  return Number.isFinite(total) ? { total, chosen, unmatched: alone, u, v } : undefined;
}

/** Least cost of a row; a row with no open pair at all gets any potential, since no path will leave it. */
function leastOf(row: readonly number[]): number {
  let least = Infinity;
  for (let column = 0; column < row.length; column++) if (row[column]! < least) least = row[column]!;
  return least === Infinity ? 0 : least;
}
