/**
 * The normal distribution and its sum with a one-sided exponential one, by their logarithms.
 *
 * Logarithms, because a misfit of twenty deviations is an ordinary question here and its density is no number a double
 * can hold. Φ comes from the Taylor series of the error function near zero and from Laplace's continued fraction of its
 * complement in the tail. Dimensionless unless a function says otherwise; a log density is per unit of its argument.
 */
const LN_SQRT_2PI = 0.5 * Math.log(2 * Math.PI);
/** From here out the continued fraction beats the series. */
const TAIL = 2.5;

/** Logarithm of the standard normal density. */
export function logNormal(z: number): number {
  return -0.5 * z * z - LN_SQRT_2PI;
}

/** Logarithm of the share of a standard normal that lies above z, z ≥ TAIL: φ(z)/(z + 1/(z + 2/(z + 3/…))). */
function logTail(z: number): number {
  const terms = Math.ceil(8 + 220 / (z * z));
  let fraction = z;
  for (let k = terms; k >= 1; k--) fraction = z + k / fraction;
  return logNormal(z) - Math.log(fraction);
}

/** Share between 0 and z of a standard normal, |z| < TAIL: φ(z)·(z + z³/3 + z⁵/(3·5) + …). */
function middle(z: number): number {
  let term = z;
  let sum = z;
  for (let k = 1; Math.abs(term) > 1e-17 * Math.abs(sum); k++) {
    term *= (z * z) / (2 * k + 1);
    sum += term;
  }
  return sum * Math.exp(logNormal(z));
}

/** Logarithm of the share of a standard normal that lies below z. */
export function logShareBelow(z: number): number {
  if (z <= -TAIL) return logTail(-z);
  return z < TAIL ? Math.log(0.5 + middle(z)) : Math.log1p(-Math.exp(logTail(z)));
}

/** Logarithm of the share between two limits, low < high. */
export function logShareBetween(low: number, high: number): number {
  // Mirrored so that both limits are on the side where the shares are small and their difference keeps its digits.
  if (low + high > 0) return logShareBetween(-high, -low);
  const below = logShareBelow(high);
  return below + Math.log1p(-Math.exp(logShareBelow(low) - below));
}

/** Logarithm of e^a + e^b. */
export function logSum(a: number, b: number): number {
  const [high, low] = a > b ? [a, b] : [b, a];
  return high === -Infinity ? high : high + Math.log1p(Math.exp(low - high));
}

/** Log density at x of a normal of deviation `sd` plus an exponential of mean `mean` that only adds; per unit of x. */
export function logNormalPlusExponential(x: number, sd: number, mean: number): number {
  const rate = 1 / mean;
  return Math.log(rate) + (rate * sd) ** 2 / 2 - rate * x + logShareBelow(x / sd - rate * sd);
}
