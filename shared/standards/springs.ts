/**
 * Springs that stand in a column: force, slope and energy over how far they are pressed, for the disc spring and the
 * single-turn wave washer.
 *
 * Disc spring: the formula of DIN EN 16984 without contact flats, E and ν its own; exact within it, 2 % against
 * catalogues. Its force never falls up to a cone height of √2 thicknesses. Wave washer: a published rate equation, from
 * memory; makers allow ± 20 % or more. Drawn out a spring is linear, so that a loose one keeps its shape; pressed flat
 * it is as stiff as a solid part. N, mm, N/mm, N·mm; compression + when pressed.
 */
import { requireAbove, requireAtLeast } from './guard.ts';

/** A spring's law over its compression: smooth but where it goes flat, and never falling. */
export interface SpringCurve {
  readonly force_N: (by_mm: number) => number;
  readonly slope_N_per_mm: (by_mm: number) => number;
  readonly energy_Nmm: (by_mm: number) => number;
}

const E_MPa = 206_000;
const POISSON = 0.3;
/** A spring pressed flat, N/mm: as stiff as a thread is taken to be. */
const FLAT_N_per_mm = 1e6;
/** Cone height over thickness beyond which the force of a disc spring falls on the way to flat. */
export const STEEPEST_CONE = Math.SQRT2;

/** A disc spring; `cone_mm` is its free height less its thickness. Refuses a cone whose force would fall. */
export function discSpring(spring: {
  readonly outside_mm: number;
  readonly bore_mm: number;
  readonly thickness_mm: number;
  readonly cone_mm: number;
}): SpringCurve {
  const { outside_mm, bore_mm, thickness_mm: t, cone_mm } = spring;
  requireAbove('springs', 'bore_mm', bore_mm, 0);
  requireAbove('springs', 'outside_mm', outside_mm, bore_mm);
  requireAbove('springs', 'thickness_mm', t, 0);
  requireAbove('springs', 'cone_mm', cone_mm, 0);
  const h = cone_mm / t;
  requireAtLeast('springs', 'steepest cone less cone_mm / thickness_mm', STEEPEST_CONE - h, 0);
  const ratio = outside_mm / bore_mm;
  const k1 = ((ratio - 1) / ratio) ** 2 / ((ratio + 1) / (ratio - 1) - 2 / Math.log(ratio)) / Math.PI;
  const unit = ((4 * E_MPa) / (1 - POISSON ** 2)) * (t ** 4 / (k1 * outside_mm ** 2));
  return untilFlat(cone_mm, {
    force_N: (by) => unit * (by / t) * ((h - by / t) * (h - by / t / 2) + 1),
    slope_N_per_mm: (by) => (unit / t) * (h * h + 1 - 3 * h * (by / t) + 1.5 * (by / t) ** 2),
    energy_Nmm: (by) => unit * t * (by / t) ** 2 * ((h * h + 1) / 2 - (h / 2) * (by / t) + (by / t) ** 2 / 8),
  });
}

/** A single-turn wave washer; `rise_mm` is its free height less its thickness. Source: rate from memory. */
export function waveWasher(spring: {
  readonly outside_mm: number;
  readonly bore_mm: number;
  readonly thickness_mm: number;
  readonly rise_mm: number;
  readonly waves: number;
}): SpringCurve {
  const { outside_mm, bore_mm, thickness_mm: t, rise_mm, waves } = spring;
  requireAbove('springs', 'bore_mm', bore_mm, 0);
  requireAbove('springs', 'outside_mm', outside_mm, bore_mm);
  requireAbove('springs', 'thickness_mm', t, 0);
  requireAbove('springs', 'rise_mm', rise_mm, 0);
  requireAtLeast('springs', 'waves', waves, 2);
  const [middle, width] = [(outside_mm + bore_mm) / 2, (outside_mm - bore_mm) / 2];
  const rate = (E_MPa * width * t ** 3 * waves ** 4 * (outside_mm / bore_mm)) / (2.4 * middle ** 3);
  return untilFlat(rise_mm, {
    force_N: (by) => rate * by,
    slope_N_per_mm: () => rate,
    energy_Nmm: (by) => (rate * by * by) / 2,
  });
}

/** `count` equal springs that lie in one another and are pressed as one. */
export function nested(curve: SpringCurve, count: number): SpringCurve {
  return {
    force_N: (by) => count * curve.force_N(by),
    slope_N_per_mm: (by) => count * curve.slope_N_per_mm(by),
    energy_Nmm: (by) => count * curve.energy_Nmm(by),
  };
}

/** The law between free and flat, carried on beyond both ends. */
function untilFlat(flat_mm: number, inside: SpringCurve): SpringCurve {
  const first = inside.slope_N_per_mm(0);
  const most_N = inside.force_N(flat_mm);
  const full_Nmm = inside.energy_Nmm(flat_mm);
  return {
    force_N: (by) =>
      by < 0 ? first * by : by > flat_mm ? most_N + FLAT_N_per_mm * (by - flat_mm) : inside.force_N(by),
    slope_N_per_mm: (by) => (by < 0 ? first : by > flat_mm ? FLAT_N_per_mm : inside.slope_N_per_mm(by)),
    energy_Nmm: (by) =>
      by < 0
        ? (first * by * by) / 2
        : by > flat_mm
          ? full_Nmm + (by - flat_mm) * (most_N + (FLAT_N_per_mm * (by - flat_mm)) / 2)
          : inside.energy_Nmm(by),
  };
}
