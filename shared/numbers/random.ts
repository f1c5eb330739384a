/**
 * Seeded random numbers for sampled sets of parts: sfc32 (a small fast counter generator), 32 bits a draw, and the
 * polar method of Marsaglia for the bell curve. The same seed gives the same builds everywhere.
 */

/** A stream of numbers. */
export interface RandomStream {
  /** A number in [0, 1). */
  even(): number;
  /** A number of the standard normal distribution. */
  bell(): number;
}

/** The stream of a seed; neighbouring seeds share nothing. */
export function randomStream(seed: number): RandomStream {
  let a = mix(seed);
  let b = mix(seed ^ 0x5bd1e995);
  let c = mix(seed + 0x9e3779b9);
  let counter = 1;
  const even = (): number => {
    const sum = (a + b + counter++) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + sum;
    return (sum >>> 0) / 4294967296;
  };
  // The first draws still carry the seed's pattern.
  for (let k = 0; k < 12; k++) even();
  let spare: number | undefined;
  const bell = (): number => {
    if (spare !== undefined) {
      const value = spare;
      spare = undefined;
      return value;
    }
    for (;;) {
      const x = 2 * even() - 1;
      const y = 2 * even() - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const scale = Math.sqrt((-2 * Math.log(square)) / square);
      spare = y * scale;
      return x * scale;
    }
  };
  return { even, bell };
}

function mix(value: number): number {
  let x = value | 0;
  x = Math.imul(x ^ (x >>> 16), 0x7feb352d);
  x = Math.imul(x ^ (x >>> 15), 0x846ca68b);
  return x ^ (x >>> 16);
}
