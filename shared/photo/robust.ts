/**
 * How much a residual counts, so that one mark clicked wrongly does not bend all others: the weights of Huber (1964,
 * from memory), their scale from the median of what is left over.
 */

/** From here on, in units of the scale, a residual counts less: 95 % as good as least squares where nothing is wrong. */
const HUBER_FROM = 1.345;
/** Of a normal spread, the standard deviation over the median of its sizes. */
const MAD_TO_SIGMA = 1.482602218505602;

/** The spread of residuals by their median size. */
export function spreadOf(residuals: readonly number[]): number {
  const sizes = residuals.map(Math.abs).sort((a, b) => a - b);
  const middle = sizes.length >> 1;
  const median = sizes.length % 2 === 1 ? sizes[middle]! : (sizes[middle - 1]! + sizes[middle]!) / 2;
  return median * MAD_TO_SIGMA;
}

/** The weight of each residual. */
export function huberWeights(residuals: readonly number[], scale: number): number[] {
  return residuals.map((residual) => Math.min(1, (HUBER_FROM * scale) / Math.abs(residual) || 1));
}
