/**
 * Motion toward a goal that may change at any moment: named lengths that run to their goals and then stand still.
 *
 * Each value closes a fixed share of its way per second (an exponential approach), so that a new goal needs no restart,
 * and lands exactly once nothing of the way can be seen any more. Time in s.
 */

/** Named values on their way to their goals. */
export class Motion {
  private readonly goals = new Map<string, number>();
  private readonly values = new Map<string, number>();
  private readonly tolerance: number;

  constructor(tolerance = 0.02) {
    this.tolerance = tolerance;
  }

  /** Sets a goal; a value never seen before starts there, and so does any value when `isInstant`. */
  aim(name: string, goal: number, isInstant: boolean): void {
    this.goals.set(name, goal);
    if (isInstant || !this.values.has(name)) this.values.set(name, goal);
  }

  /** Where a value is now; 0 for a name that was never aimed. */
  at(name: string): number {
    return this.values.get(name) ?? 0;
  }

  /** Moves all values on by `time_s` with the given time constant; true while something still moves. */
  step(time_s: number, constant_s: number): boolean {
    const share = 1 - Math.exp(-time_s / constant_s);
    let moves = false;
    for (const [name, goal] of this.goals) {
      const value = this.values.get(name) ?? goal;
      if (value === goal) continue;
      const next = value + (goal - value) * share;
      const isHome = Math.abs(goal - next) < this.tolerance;
      this.values.set(name, isHome ? goal : next);
      moves ||= !isHome;
    }
    return moves;
  }

  /** True when every value has reached its goal. */
  isStill(): boolean {
    for (const [name, goal] of this.goals) if (this.values.get(name) !== goal) return false;
    return true;
  }
}

/** Longest step of time that an animation takes at once, s: after a pause the first frame brings the whole pause. */
export const LONGEST_STEP_s = 0.1;

/** Slow start and slow end over 0 to 1. */
export function ease(t: number): number {
  const s = Math.min(1, Math.max(0, t));
  return s * s * s * (s * (6 * s - 15) + 10);
}
