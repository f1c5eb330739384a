/**
 * Placement of flags over a drawing: names (or numbers) on leader lines that never touch one another.
 *
 * A flag stands in one of a few rows; its leader goes straight down through the rows nearer to the drawing, then slants
 * to its anchor. Ports (where leaders cross the rows) keep the order of the anchors, so no two slants cross; a text
 * must end before the next leader that passes its row. That is a set of difference constraints p_j − p_i ≥ d_ij, whose
 * solutions are closed under minimum, maximum and mean: the flags pushed right and the flags pushed left are both
 * solutions, and so is their mean, which stands nearest to the anchors. px; row 0 is nearest to the drawing.
 */

/** A flag to place: where its leader must arrive and how far its box reaches left and right of the leader. */
export interface Flag {
  readonly id: string;
  readonly anchor_px: number;
  readonly left_px: number;
  readonly right_px: number;
}

/** A flag with its leader's port and its row. */
export interface PlacedFlag extends Flag {
  readonly port_px: number;
  readonly row: number;
}

/** Free px between a box and the next box or leader. */
const AIR_px = 7;

/**
 * Flags in at most `rowsMost` rows between `from_px` and `to_px`, as few rows as keep every flag within `reach_px` of
 * its anchor, else the closest fit; undefined when they do not fit at all.
 */
export function placeFlags(
  flags: readonly Flag[],
  from_px: number,
  to_px: number,
  rowsMost: number,
  reach_px: number,
): readonly PlacedFlag[] | undefined {
  const sorted = [...flags].sort((a, b) => a.anchor_px - b.anchor_px || (a.id < b.id ? -1 : 1));
  if (sorted.length === 0) return [];
  let best: { flags: PlacedFlag[]; off: number } | undefined;
  for (let rows = 1; rows <= rowsMost; rows += 1) {
    for (let phase = 0; phase < rows; phase += 1) {
      const rowOf = (k: number) => rows - 1 - ((k + phase) % rows);
      const ports = portsOf(sorted, rowOf, from_px, to_px);
      if (!ports) continue;
      const placed = sorted.map((flag, k) => ({ ...flag, port_px: ports[k]!, row: rowOf(k) }));
      const off = Math.max(...placed.map((flag) => Math.abs(flag.port_px - flag.anchor_px)));
      if (!best || off < best.off - 0.5) best = { flags: placed, off };
    }
    if (best && best.off <= reach_px) break;
  }
  return best?.flags;
}

function apartNeeded(left: Flag, leftRow: number, right: Flag, rightRow: number): number {
  if (leftRow === rightRow) return left.right_px + AIR_px + right.left_px;
  // The farther flag's leader passes the nearer flag's row.
  return rightRow > leftRow ? left.right_px + AIR_px : AIR_px + right.left_px;
}

function portsOf(
  flags: readonly Flag[],
  rowOf: (k: number) => number,
  from_px: number,
  to_px: number,
): number[] | undefined {
  const count = flags.length;
  const need = (i: number, j: number) => apartNeeded(flags[i]!, rowOf(i), flags[j]!, rowOf(j));
  const pushRight = (start: (k: number) => number) => {
    const ports: number[] = [];
    for (let j = 0; j < count; j += 1) {
      let port = start(j);
      for (let i = 0; i < j; i += 1) port = Math.max(port, ports[i]! + need(i, j));
      ports.push(port);
    }
    return ports;
  };
  const pushLeft = (start: (k: number) => number) => {
    const ports = new Array<number>(count).fill(0);
    for (let i = count - 1; i >= 0; i -= 1) {
      let port = start(i);
      for (let j = i + 1; j < count; j += 1) port = Math.min(port, ports[j]! - need(i, j));
      ports[i] = port;
    }
    return ports;
  };
  const lowest = pushRight((k) => from_px + flags[k]!.left_px);
  const highest = pushLeft((k) => to_px - flags[k]!.right_px);
  if (lowest.some((port, k) => port > highest[k]! + 1e-9)) return undefined;
  const right = pushRight((k) => flags[k]!.anchor_px).map((port, k) =>
    Math.max(lowest[k]!, Math.min(port, highest[k]!)),
  );
  const left = pushLeft((k) => flags[k]!.anchor_px).map((port, k) => Math.min(highest[k]!, Math.max(port, lowest[k]!)));
  return right.map((port, k) => (port + left[k]!) / 2);
}
