/**
 * Seeded random numbers for tests and benches: sfc32 (Doty-Humphrey's small fast counter), 32 bits a draw.
 *
 * The seed is mixed first, because neighbouring seeds would otherwise share their first draws. The same seed gives the
 * same numbers on every machine; print it in the test's name.
 */
export interface Random {
  /** A number in [0, 1). */
  (): number;
  /** A number in [low, high). */
  between(low: number, high: number): number;
  /** A whole number from low to high, both included. */
  whole(low: number, high: number): number;
  /** Spread evenly over the decades between low and high. */
  decades(low: number, high: number): number;
  /** One of the values. */
  pick<T>(values: readonly T[]): T;
  /** True with the given chance. */
  chance(share: number): boolean;
  /** The values in another order. */
  shuffled<T>(values: readonly T[]): T[];
}

/** A stream of numbers of its own for every seed. */
export function random(seed: number): Random {
  let a = mix(seed);
  let b = mix(seed + 0x9e3779b9);
  let c = mix(seed + 0x3c6ef372);
  let counter = 1;
  const draw = (): number => {
    const sum = (a + b + counter++) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + sum;
    return (sum >>> 0) / 4294967296;
  };
  // The first draws still carry the seed's pattern.
  for (let k = 0; k < 12; k++) draw();
  const whole = (low: number, high: number): number => low + Math.floor(draw() * (high - low + 1));
  return Object.assign(draw, {
    between: (low: number, high: number) => low + draw() * (high - low),
    whole,
    decades: (low: number, high: number) => low * (high / low) ** draw(),
    pick: <T>(values: readonly T[]): T => values[whole(0, values.length - 1)]!,
    chance: (share: number) => draw() < share,
    shuffled: <T>(values: readonly T[]): T[] => {
      const rest = [...values];
      for (let k = rest.length - 1; k > 0; k--) {
        const other = whole(0, k);
        [rest[k], rest[other]] = [rest[other]!, rest[k]!];
      }
      return rest;
    },
  });
}

function mix(value: number): number {
  let x = value | 0;
  x = Math.imul(x ^ (x >>> 16), 0x21f0aaad);
  x = Math.imul(x ^ (x >>> 15), 0x735a2d97);
  return x ^ (x >>> 15);
}
