/**
 * Numbers as near to where they would like to be as the distances between them allow.
 *
 * Least squares under conditions `to ≥ from + by`, each condition in turn pushing as hard as it must and no harder, till
 * nothing moves: the answer is one and changes without a leap while the wishes do.
 */

/** `to` shall be at least `by` more than `from`; without one of the two that side stands at 0. */
export interface Apart {
  readonly from?: number;
  readonly to?: number;
  readonly by: number;
}

/** A number's wish and how much each step away from it counts. */
export interface Wanted {
  readonly at: number;
  readonly weight: number;
}

const SWEEPS = 400;
const STILL = 0.002;

/** Whether any numbers meet all conditions. */
export function canSpread(count: number, aparts: readonly Apart[]): boolean {
  const low = Array.from({ length: count }, () => -Infinity);
  const at = (k: number | undefined): number => (k === undefined ? 0 : low[k]!);
  for (let pass = 0; pass <= count; pass += 1) {
    let isStill = true;
    for (const { from, to, by } of aparts) {
      if (at(from) + by <= at(to) + 1e-9) continue;
      // What is pushed over a border, or still moves when all have been reached, can never be met.
      if (to === undefined || pass === count) return false;
      low[to] = at(from) + by;
      isStill = false;
    }
    if (isStill) return true;
  }
  return true;
}

/** The numbers; where not all conditions can be met they are as nearly so as the sweeps came. */
export function spread(wanted: readonly Wanted[], aparts: readonly Apart[]): number[] {
  const values = wanted.map(({ at }) => at);
  const give = (k: number | undefined): number => (k === undefined ? 0 : 1 / wanted[k]!.weight);
  const at = (k: number | undefined): number => (k === undefined ? 0 : values[k]!);
  const pushes = aparts.map(() => 0);
  for (let sweep = 0; sweep < SWEEPS; sweep += 1) {
    let most = 0;
    aparts.forEach(({ from, to, by }, k) => {
      const short = by - (at(to) - at(from));
      const push = Math.max(0, pushes[k]! + short / (give(from) + give(to)));
      const more = push - pushes[k]!;
      pushes[k] = push;
      if (to !== undefined) values[to] = values[to]! + more * give(to);
      if (from !== undefined) values[from] = values[from]! - more * give(from);
      most = Math.max(most, Math.abs(more) * Math.max(give(from), give(to)));
    });
    if (most < STILL) break;
  }
  return values;
}
