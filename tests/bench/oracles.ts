/**
 * Other people's programs behind small doors of ours, for the tests and the bench: the dual method of Goldfarb and
 * Idnani (`quadprog`) for a clamp problem, and a solid kernel (`manifold-3d`) for revolved profiles.
 */
import Module from 'manifold-3d';
import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import quadprog from 'quadprog';
import type { ClampProblem, Polygon } from '../../shared/index.ts';

/** A strictly convex programme: least of ½·bᵀDb − dᵀb with Aᵀb ≥ b0, the first `equalities` columns met exactly. */
export interface Programme {
  readonly D: readonly (readonly number[])[];
  readonly d: readonly number[];
  /** One row per constraint. */
  readonly constraints: readonly (readonly number[])[];
  readonly b0: readonly number[];
  readonly equalities?: number;
}

/** Solve a programme with `quadprog`, whose arrays start at 1; throws with its message when it finds no answer. */
export function solveProgramme({ D, d, constraints, b0, equalities = 0 }: Programme): {
  solution: number[];
  value: number;
  multipliers: number[];
} {
  const from1 = <T>(values: readonly T[]): T[] => [undefined as T, ...values];
  // With no constraint at all the package still reads the first column.
  const columns = constraints.length > 0 ? constraints : [d.map(() => 0)];
  const A = d.map((_, variable) => from1(columns.map((row) => row[variable]!)));
  const result = quadprog.solveQP(
    from1(D.map((row) => from1(row))),
    from1(d),
    from1(A),
    from1(constraints.length > 0 ? b0 : [0]),
    equalities,
  );
  if (result.message !== '') throw new Error(`quadprog: ${result.message}`);
  return { solution: result.solution.slice(1), value: result.value[1]!, multipliers: result.Lagrangian.slice(1) };
}

/** Forces and shifts of a clamp problem by the quadratic programme; N, mm. */
export interface ClampOracle {
  readonly shift_mm: readonly number[];
  readonly contact_N: readonly number[];
  readonly spring_N: readonly number[];
  readonly rounds: number;
}

/** One-sided laws of a clamp problem: each pushes with k·max(0, row·u − gap). A spring with play is two of them. */
function oneSided({ contacts, springs }: ClampProblem): { plus: number; minus: number; gap: number; k: number }[] {
  return [
    ...contacts.map((law) => ({ plus: law.a, minus: law.b, gap: law.gap_mm, k: law.stiffness_N_per_mm })),
    ...springs.flatMap((law) =>
      law.play_mm === 0
        ? []
        : [
            { plus: law.b, minus: law.a, gap: law.rest_mm + law.play_mm / 2, k: law.stiffness_N_per_mm },
            { plus: law.a, minus: law.b, gap: law.play_mm / 2 - law.rest_mm, k: law.stiffness_N_per_mm },
          ],
    ),
  ];
}

/**
 * The programme of a clamp problem: a slack s for every one-sided law, least of Σ½·k·s² + springs − pulls with
 * s ≥ overlap. (s ≥ 0 need not be said: where the overlap is negative the least s is 0.) Slacks are scaled by √k, which
 * keeps the matrix well conditioned. `proximal_N_per_mm` · ½|u − anchor|² makes it strictly convex; with none, body 0
 * is held still and its column left out.
 */
export function clampProgramme(problem: ClampProblem, proximal_N_per_mm: number, anchor: readonly number[]): Programme {
  const laws = oneSided(problem);
  const held = proximal_N_per_mm === 0 ? 1 : 0;
  const n = problem.bodies - held;
  const size = n + laws.length;
  const D = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const d = new Array<number>(size).fill(0);
  const addTo = (i: number, j: number, value: number): void => {
    if (i >= held && j >= held) D[i - held]![j - held]! += value;
  };
  const pushOn = (i: number, value: number): void => {
    if (i >= held) d[i - held]! += value;
  };
  for (const { a, b, stiffness_N_per_mm: k, rest_mm, play_mm } of problem.springs) {
    if (play_mm !== 0) continue;
    addTo(a, a, k);
    addTo(b, b, k);
    addTo(a, b, -k);
    addTo(b, a, -k);
    pushOn(b, k * rest_mm);
    pushOn(a, -k * rest_mm);
  }
  for (const { a, b, force_N } of problem.pulls) {
    pushOn(a, force_N);
    pushOn(b, -force_N);
  }
  for (let i = 0; held === 0 && i < problem.bodies; i++) {
    addTo(i, i, proximal_N_per_mm);
    pushOn(i, proximal_N_per_mm * anchor[i]!);
  }
  laws.forEach((_, k) => (D[n + k]![n + k] = 1));
  const constraints = laws.map((law, k) => {
    const row = new Array<number>(size).fill(0);
    row[n + k] = 1 / Math.sqrt(law.k);
    if (law.plus >= held) row[law.plus - held]! -= 1;
    if (law.minus >= held) row[law.minus - held]! += 1;
    return row;
  });
  return { D, d, constraints, b0: laws.map((law) => -law.gap) };
}

/** Solve a clamp problem that body 0, held still, leaves strictly convex. */
export function clampByProgramme(problem: ClampProblem): ClampOracle {
  const { solution } = solveProgramme(clampProgramme(problem, 0, []));
  return { ...readProgramme(problem, solution, 1), rounds: 1 };
}

/** Solve a clamp problem whose tether makes it strictly convex by itself. */
export function clampByTetheredProgramme(problem: ClampProblem): ClampOracle {
  const { solution } = solveProgramme(
    clampProgramme(problem, problem.tether_N_per_mm ?? 0, new Array<number>(problem.bodies).fill(0)),
  );
  return { ...readProgramme(problem, solution, 0), rounds: 1 };
}

/** Solve any clamp problem: the programme with a proximal term, its anchor moved to the last answer until it stands. */
export function clampByProximalRounds(problem: ClampProblem, proximal_N_per_mm = 50, most = 400): ClampOracle {
  let anchor: number[] = new Array<number>(problem.bodies).fill(0);
  for (let round = 1; round <= most; round++) {
    const { solution } = solveProgramme(clampProgramme(problem, proximal_N_per_mm, anchor));
    const next = solution.slice(0, problem.bodies);
    const moved = Math.max(...next.map((u, i) => Math.abs(u - anchor[i]!)));
    anchor = next;
    if (moved * proximal_N_per_mm < 1e-5) return { ...readProgramme(problem, solution, 0), rounds: round };
  }
  throw new Error(`proximal rounds: not settled after ${most}`);
}

/** Forces from the slacks (√k·s each), which keep more digits than the shifts of stiff bodies do. */
function readProgramme(
  problem: ClampProblem,
  solution: readonly number[],
  held: 0 | 1,
): Pick<ClampOracle, 'shift_mm' | 'contact_N' | 'spring_N'> {
  const free = problem.bodies - held;
  const shift_mm = [...new Array<number>(held).fill(0), ...solution.slice(0, free)];
  const push = oneSided(problem).map((law, k) => Math.sqrt(law.k) * solution[free + k]!);
  let at = problem.contacts.length;
  const spring_N = problem.springs.map((law) => {
    if (law.play_mm === 0) return -law.stiffness_N_per_mm * (shift_mm[law.b]! - shift_mm[law.a]! - law.rest_mm);
    at += 2;
    return push[at - 1]! - push[at - 2]!;
  });
  return { shift_mm, contact_N: push.slice(0, problem.contacts.length), spring_N };
}

/** The solid kernel, started once. */
export async function solidKernel(): Promise<ManifoldToplevel> {
  const kernel = await Module();
  kernel.setup();
  return kernel;
}

/** A profile turned about the axis into a solid of `facets` flat sides; the caller must `.delete()` it. */
export function turnedSolid(kernel: ManifoldToplevel, polygon: Polygon, facets: number): Manifold {
  return kernel.Manifold.revolve([polygon.map(([r, z]): [number, number] => [r, z])], facets);
}

/** How much of a round solid is left when it has `facets` flat sides, its corners on the circle: (n/2π)·sin(2π/n). */
export function facetShare(facets: number): number {
  return (facets / (2 * Math.PI)) * Math.sin((2 * Math.PI) / facets);
}

const STRIDE_mm = 0.5;

/**
 * Free travel of B toward A along the axis until the two solids touch, by halving on the shift alone; mm, within
 * `within_mm`. `far_mm` is a shift at which they stand clear. Undefined when they pass one another.
 */
export function travelToTouch(
  kernel: ManifoldToplevel,
  a: Polygon,
  b: Polygon,
  far_mm: number,
  facets: number,
  within_mm: number,
): number | undefined {
  const [solidA, solidB] = [turnedSolid(kernel, a, facets), turnedSolid(kernel, b, facets)];
  const isTouching = (shift: number): boolean => {
    const moved = solidB.translate([0, 0, shift]);
    const gap = solidA.minGap(moved, 1);
    moved.delete();
    return gap <= 0;
  };
  try {
    // In steps finer than any part is thick, so that B cannot jump through A.
    let touching = far_mm;
    while (touching > -far_mm && !isTouching(touching)) touching -= STRIDE_mm;
    if (touching <= -far_mm) return undefined;
    let clear = touching + STRIDE_mm;
    while (clear - touching > within_mm) {
      const middle = (clear + touching) / 2;
      if (isTouching(middle)) touching = middle;
      else clear = middle;
    }
    return -(clear + touching) / 2;
  } finally {
    solidA.delete();
    solidB.delete();
  }
}
