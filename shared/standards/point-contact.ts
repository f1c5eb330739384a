/**
 * Elastic contact of balls in grooves, and from it how a deep-groove bearing gives way along its axis.
 *
 * Method: Hertz contact of a ball in a curved groove (complete elliptic integrals by the arithmetic-geometric mean, the
 * ellipse's axis ratio by bisection), both rings in series as one spring Q = c·δ^1.5, as ISO/TS 16281 sets it out.
 * Under a pure axial load every ball carries the same force along its tilted line of contact. Checked against published
 * ISO/TS 16281 results (MAS). Lengths mm, forces N, E in MPa. Convention: the axial shift is measured from mid position
 * and positive; the load is the magnitude that holds the ring there.
 */
import { refuse, requireAbove, requireAtLeast } from './guard.ts';

/** Inside of a one-row ball bearing. */
export interface BallGeometry {
  readonly ballCount: number;
  readonly ballDiameter_mm: number;
  /** Circle of the ball centres, mm. */
  readonly pitchDiameter_mm: number;
  /** Radius of the groove across the ring, inner and outer, mm. */
  readonly innerGroove_mm: number;
  readonly outerGroove_mm: number;
  /** Radial internal clearance, the whole of it (diametral), mm. */
  readonly radialClearance_mm: number;
}

const STEEL_E_MPa = 210_000;
const STEEL_POISSON = 0.3;
const HALVINGS = 120;

/** Complete elliptic integrals K and E of parameter m = k², 0 ≤ m < 1, by the arithmetic-geometric mean. */
function ellipticIntegrals(m: number): { K: number; E: number } {
  let a = 1;
  let b = Math.sqrt(1 - m);
  let power = 0.5;
  let sum = power * m;
  for (let round = 0; round < 40 && Math.abs(a - b) > 1e-16 * a; round += 1) {
    const c = (a - b) / 2;
    [a, b] = [(a + b) / 2, Math.sqrt(a * b)];
    power *= 2;
    sum += power * c * c;
  }
  const K = Math.PI / (2 * a);
  return { K, E: K * (1 - sum) };
}

/** The argument in [low, high] where a rising function passes `target`. */
function bisect(rising: (x: number) => number, low: number, high: number, target: number): number {
  for (let round = 0; round < HALVINGS; round += 1) {
    const middle = (low + high) / 2;
    if (rising(middle) < target) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Approach of ball and groove at 1 N, mm: Hertz, from the curvature sum (1/mm) and the curvature difference. */
function unitApproach_mm(curvatureSum: number, curvatureDifference: number): number {
  const eccentricity = (m: number) => {
    const { K, E } = ellipticIntegrals(m);
    // With 1 − m = 1/κ²; the classic F(ρ) = ((κ² + 1)E − 2K)/((κ² − 1)E) multiplied through by 1/κ².
    return ((2 - m) * E - 2 * (1 - m) * K) / (m * E);
  };
  const m = bisect(eccentricity, 1e-6, 1 - 1e-12, curvatureDifference);
  const { K, E } = ellipticIntegrals(m);
  const shape = ((2 * K) / Math.PI) * Math.cbrt((Math.PI * (1 - m)) / (2 * E));
  const compliance = (2 * (1 - STEEL_POISSON ** 2)) / STEEL_E_MPa;
  return shape * ((1.5 / curvatureSum) * compliance) ** (2 / 3) * (curvatureSum / 2);
}

/** Spring constant c of ball against both rings in Q = c·δ^1.5, N/mm^1.5. Source: Hertz as in ISO/TS 16281. */
export function contactConstant(geometry: BallGeometry): number {
  const {
    ballCount,
    ballDiameter_mm: ball,
    pitchDiameter_mm,
    innerGroove_mm,
    outerGroove_mm,
    radialClearance_mm,
  } = geometry;
  requireAtLeast('point-contact', 'ballCount', ballCount, 1);
  requireAbove('point-contact', 'ballDiameter_mm', ball, 0);
  requireAbove('point-contact', 'pitchDiameter_mm', pitchDiameter_mm, ball);
  requireAbove('point-contact', 'innerGroove_mm', innerGroove_mm, ball / 2);
  requireAbove('point-contact', 'outerGroove_mm', outerGroove_mm, ball / 2);
  requireAtLeast('point-contact', 'radialClearance_mm', radialClearance_mm, 0);
  const ratio = ball / pitchDiameter_mm;
  const along = { inner: ratio / (1 - ratio), outer: -ratio / (1 + ratio) };
  const approach = (rolling: number, groove_mm: number) => {
    const across = ball / (2 * groove_mm);
    const sum = 2 + rolling - across;
    return unitApproach_mm((2 / ball) * sum, (rolling + across) / sum);
  };
  return (approach(along.inner, innerGroove_mm) + approach(along.outer, outerGroove_mm)) ** -1.5;
}

/** Distance of the groove centres at rest, A = r_i + r_e − D_w, mm. */
const grooveOffset_mm = (geometry: BallGeometry) =>
  geometry.innerGroove_mm + geometry.outerGroove_mm - geometry.ballDiameter_mm;

/**
 * Axial shift from mid position at which the balls just touch both rings, mm: A·sin(arccos(1 − s/(2A))). Source: MAS.
 */
export function freeShift_mm(geometry: BallGeometry): number {
  const A_mm = grooveOffset_mm(geometry);
  const { radialClearance_mm } = geometry;
  requireAtLeast('point-contact', 'radialClearance_mm', radialClearance_mm, 0);
  if (radialClearance_mm >= 2 * A_mm) {
    refuse('point-contact', 'radialClearance_mm', radialClearance_mm, `below twice the groove offset, ${2 * A_mm} mm`);
  }
  return A_mm * Math.sin(Math.acos(1 - radialClearance_mm / (2 * A_mm)));
}

/** Load at a shift when the contact constant is known, N: it depends on the geometry alone and is dear to compute. */
function loadWith(constant: number, geometry: BallGeometry, shift_mm: number): number {
  const A_mm = grooveOffset_mm(geometry);
  const length_mm = Math.hypot(A_mm - geometry.radialClearance_mm / 2, shift_mm);
  const approach_mm = length_mm - A_mm;
  if (approach_mm <= 0) return 0;
  return geometry.ballCount * constant * approach_mm ** 1.5 * (shift_mm / length_mm);
}

/** Load that holds the inner ring `shift_mm` from mid position, N; 0 within the free shift. Source: ISO/TS 16281. */
export function axialLoad_N(geometry: BallGeometry, shift_mm: number): number {
  requireAtLeast('point-contact', 'shift_mm', shift_mm, 0);
  return loadWith(contactConstant(geometry), geometry, shift_mm);
}

/** Shift from mid position under a pure axial load, mm: the inverse of `axialLoad_N`. Source: ISO/TS 16281. */
export function axialShift_mm(geometry: BallGeometry, load_N: number): number {
  requireAtLeast('point-contact', 'load_N', load_N, 0);
  const constant = contactConstant(geometry);
  const free_mm = freeShift_mm(geometry);
  if (load_N === 0) return free_mm;
  let high_mm = free_mm + grooveOffset_mm(geometry);
  while (loadWith(constant, geometry, high_mm) < load_N) high_mm *= 2;
  return bisect((shift_mm) => loadWith(constant, geometry, shift_mm), free_mm, high_mm, load_N);
}
