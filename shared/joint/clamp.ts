/**
 * The clamp solve: where rigid bodies on one axis come to rest when an axle pulls its head and receiver together.
 *
 * Each body has one freedom, its shift u along z. Laws between two bodies a (non-drive side) and b (drive side):
 * a contact pushes when gap + u_b − u_a < 0, with the stiffness of the two sleeves in series; a spring (an arm of a
 * one-piece member, a bearing beyond its axial play) resists both ways; a pull is a constant force that draws a to +z
 * and b to −z. A spring may have a curve of its own in place of a
 * stiffness. Equilibrium is the least of a convex energy, piecewise quadratic but for those curves. Method: semi-smooth Newton with a
 * proximal term that keeps bodies nothing holds where they are, and a backtracking line search; the proximal term is
 * taken down to nothing as the forces balance. Rigid parallel paths have no unique share of the force; compliant ones
 * do. Units mm, N, N/mm. Deterministic: no random start, no time limit. Laws may be in any order; bodies should be
 * numbered in axle order, which keeps the matrix a narrow band.
 */
import type { ClampCheck } from '../types.ts';
import { Skyline } from '../numbers/skyline.ts';
import type { SpringCurve } from '../standards/index.ts';

/** Unilateral contact: force k·max(0, −(gap + u_b − u_a)). */
export interface ContactLaw {
  readonly a: number;
  readonly b: number;
  readonly gap_mm: number;
  readonly stiffness_N_per_mm: number;
}
/**
 * Two-way spring on u_b − u_a, free within ±play/2; `rest_mm` shifts the middle of the play. With a `curve` that is what
 * it pushes with over how far it is pressed, and `stiffness_N_per_mm` is its slope at rest.
 */
export interface SpringLaw {
  readonly a: number;
  readonly b: number;
  readonly stiffness_N_per_mm: number;
  readonly play_mm: number;
  readonly rest_mm: number;
  readonly curve?: SpringCurve;
}
/** Preload: +force on a, −force on b. */
export interface PullLaw {
  readonly a: number;
  readonly b: number;
  readonly force_N: number;
}
export interface ClampProblem {
  readonly bodies: number;
  readonly contacts: readonly ContactLaw[];
  readonly springs: readonly SpringLaw[];
  readonly pulls: readonly PullLaw[];
  /** Pull of every body back to where it started, N/mm: so weak that it decides only where loose parts come to rest. */
  readonly tether_N_per_mm?: number;
}
/** Where the bodies come to rest. Contact forces ≥ 0; spring forces + when b is pushed to +z against a. */
export interface ClampResult {
  readonly shift_mm: Float64Array;
  readonly contact_N: Float64Array;
  readonly spring_N: Float64Array;
  readonly steps: number;
  readonly isSolved: boolean;
}

const MOST_STEPS = 400;
const START_PROXIMAL_N_per_mm = 200;
const LEAST_PROXIMAL_N_per_mm = 1e-4;
/** Unbalanced force at which the solve stops, N per N of the largest pull (and at least of 1 N). */
const BALANCED = 1e-9;

/**
 * Solve `problem`, from the shifts `start` (one a body, mm) or from none. Bodies are numbered from 0; stiffnesses and
 * pulls must be finite and ≥ 0. Shifts and forces: + to the drive side, pushes ≥ 0. Cost: a banded solve a step,
 * O(bodies · band²), mostly under 1 ms. Never throws: a solve that found no balance says `isSolved: false`.
 */
export function clamp(problem: ClampProblem, start?: Float64Array): ClampResult {
  const n = problem.bodies;
  const matrix = new Skyline(skylineOf(problem));
  const u = new Float64Array(n);
  if (start) u.set(start);
  const anchor = u.slice();
  const gradient = new Float64Array(n);
  const step = new Float64Array(n);
  const trial = new Float64Array(n);
  const force = new Float64Array(n);
  const scale = Math.max(1, ...problem.pulls.map((pull) => Math.abs(pull.force_N)));
  // Shifts are kept to about 1e-12 mm by the arithmetic, so no stiffness can balance better than this.
  const stiffest = problem.contacts.reduce((most, law) => Math.max(most, law.stiffness_N_per_mm), 1);
  const tolerance = Math.max(BALANCED * scale, stiffest * 1e-12);
  let proximal = START_PROXIMAL_N_per_mm;
  let steps = 0;
  let isSolved = false;
  for (; steps < MOST_STEPS; steps++) {
    forces(problem, u, force);
    if (largest(force) <= tolerance) {
      isSolved = true;
      break;
    }
    matrix.clear();
    fillMatrix(problem, u, proximal, matrix);
    for (let i = 0; i < n; i++) step[i] = force[i]! - proximal * (u[i]! - anchor[i]!);
    gradient.set(step);
    if (largest(step) <= Math.max(tolerance / 2, proximal * 1e-6)) {
      anchor.set(u);
      proximal = Math.max(LEAST_PROXIMAL_N_per_mm, proximal / 20);
      continue;
    }
    if (!matrix.factorise()) {
      proximal *= 100;
      continue;
    }
    matrix.solve(step);
    const before = energy(problem, u, proximal, anchor);
    let slope = 0;
    for (let i = 0; i < n; i++) slope -= gradient[i]! * step[i]!;
    let length = 1;
    for (; length > 1e-10; length /= 2) {
      for (let i = 0; i < n; i++) trial[i] = u[i]! + length * step[i]!;
      if (energy(problem, trial, proximal, anchor) <= before + 1e-4 * length * slope + 1e-12 * Math.abs(before)) break;
    }
    u.set(trial);
  }
  return { ...forcesOf(problem, u), shift_mm: u, steps, isSolved };
}

function skylineOf({ bodies, contacts, springs }: ClampProblem): Int32Array {
  const first = new Int32Array(bodies);
  for (let i = 0; i < bodies; i++) first[i] = i;
  for (const laws of [contacts, springs])
    for (const { a, b } of laws) {
      const high = Math.max(a, b);
      first[high] = Math.min(first[high]!, a, b);
    }
  return first;
}

function overlap(law: ContactLaw, u: Float64Array): number {
  return u[law.a]! - u[law.b]! - law.gap_mm;
}

/** Stretch of a spring beyond its play: 0 within it. */
function stretch(law: SpringLaw, u: Float64Array): number {
  const d = u[law.b]! - u[law.a]! - law.rest_mm;
  const half = law.play_mm / 2;
  return d > half ? d - half : d < -half ? d + half : 0;
}

/** What a spring draws its bodies together with, N; < 0 where it is pressed. */
function draw_N(law: SpringLaw, u: Float64Array): number {
  const d = stretch(law, u);
  return law.curve ? -law.curve.force_N(-d) : law.stiffness_N_per_mm * d;
}

/** Net force on every body, N. */
function forces(problem: ClampProblem, u: Float64Array, out: Float64Array): void {
  out.fill(0);
  for (const law of problem.contacts) {
    const depth = overlap(law, u);
    if (depth <= 0) continue;
    const push = law.stiffness_N_per_mm * depth;
    out[law.a]! -= push;
    out[law.b]! += push;
  }
  for (const law of problem.springs) {
    const push = draw_N(law, u);
    out[law.a]! += push;
    out[law.b]! -= push;
  }
  for (const law of problem.pulls) {
    out[law.a]! += law.force_N;
    out[law.b]! -= law.force_N;
  }
  const tether = problem.tether_N_per_mm ?? 0;
  for (let i = 0; i < u.length; i++) out[i]! -= tether * u[i]!;
}

function energy(problem: ClampProblem, u: Float64Array, proximal: number, anchor: Float64Array): number {
  let sum = 0;
  for (const law of problem.contacts) {
    const depth = overlap(law, u);
    if (depth > 0) sum += 0.5 * law.stiffness_N_per_mm * depth * depth;
  }
  for (const law of problem.springs) {
    const d = stretch(law, u);
    sum += law.curve ? law.curve.energy_Nmm(-d) : 0.5 * law.stiffness_N_per_mm * d * d;
  }
  for (const law of problem.pulls) sum += law.force_N * (u[law.b]! - u[law.a]!);
  const tether = problem.tether_N_per_mm ?? 0;
  for (let i = 0; i < u.length; i++) {
    const d = u[i]! - anchor[i]!;
    sum += 0.5 * proximal * d * d + 0.5 * tether * u[i]! * u[i]!;
  }
  return sum;
}

function fillMatrix(problem: ClampProblem, u: Float64Array, proximal: number, matrix: Skyline): void {
  for (let i = 0; i < problem.bodies; i++) matrix.add(i, i, proximal + (problem.tether_N_per_mm ?? 0));
  for (const law of problem.contacts) if (overlap(law, u) > 0) couple(matrix, law.a, law.b, law.stiffness_N_per_mm);
  for (const law of problem.springs)
    if (law.curve) couple(matrix, law.a, law.b, law.curve.slope_N_per_mm(-stretch(law, u)));
    else if (stretch(law, u) !== 0 || law.play_mm === 0) couple(matrix, law.a, law.b, law.stiffness_N_per_mm);
}

function couple(matrix: Skyline, a: number, b: number, k: number): void {
  matrix.add(a, a, k);
  matrix.add(b, b, k);
  matrix.add(Math.max(a, b), Math.min(a, b), -k);
}

function largest(values: Float64Array): number {
  let most = 0;
  for (let i = 0; i < values.length; i++) most = Math.max(most, Math.abs(values[i]!));
  return most;
}

function forcesOf(problem: ClampProblem, u: Float64Array): Pick<ClampResult, 'contact_N' | 'spring_N'> {
  // `Float64Array.from` goes through an iterator: at a hundred laws it costs as much as a step of the solve.
  const contact_N = new Float64Array(problem.contacts.length);
  const spring_N = new Float64Array(problem.springs.length);
  problem.contacts.forEach((law, k) => {
    contact_N[k] = Math.max(0, law.stiffness_N_per_mm * overlap(law, u));
  });
  problem.springs.forEach((law, k) => {
    spring_N[k] = -draw_N(law, u);
  });
  return { contact_N, spring_N };
}

/**
 * The solver's own check, from the result alone: unbalanced force, complementarity, and balance at every cut of the
 * column, each ≥ 0 and 0 when exact. `result` must be of this `problem`. O(bodies + laws).
 */
export function checkClamp(problem: ClampProblem, result: ClampResult): ClampCheck {
  const tether = problem.tether_N_per_mm ?? 0;
  const net = result.shift_mm.map((shift) => -tether * shift);
  let complementarity = 0;
  problem.contacts.forEach((law, k) => {
    const push = result.contact_N[k]!;
    net[law.a]! -= push;
    net[law.b]! += push;
    // The elastic gap: what is left of the gap once the sleeves have given way by force / stiffness.
    const left = -overlap(law, result.shift_mm) + push / law.stiffness_N_per_mm;
    complementarity = Math.max(complementarity, -left, -push, Math.abs(left * push));
  });
  problem.springs.forEach((law, k) => {
    net[law.a]! -= result.spring_N[k]!;
    net[law.b]! += result.spring_N[k]!;
  });
  for (const law of problem.pulls) {
    net[law.a]! += law.force_N;
    net[law.b]! -= law.force_N;
  }
  // The sum over all bodies is nothing by construction; over the bodies on one side of a cut it is not.
  let side = 0;
  let balance = 0;
  for (const value of net) {
    side += value;
    balance = Math.max(balance, Math.abs(side));
  }
  return { steps: result.steps, residual_N: largest(net), complementarity, balance_N: balance };
}
