/**
 * ISO 286 limit deviations of the shafts and bores that carry bearings, and the play or interference of two mated
 * limits.
 *
 * A table lookup: deviations in µm for four diameter ranges, 'over 6 up to and including 10' to 'over 30 up to and
 * including 50', as a bearing maker prints ISO 286-2 (bearing catalogue, 2018, shaft and housing tables from p. 154).
 * Small letters are shafts, capitals holes. A fit is the difference of limits; its probable range takes both tolerances
 * as independent and adds them by squares. Convention: deviations in mm from nominal; fit positive for play, negative
 * for interference.
 */
import { refuse, requireAbove } from './guard.ts';

/** Shaft zones the table holds. */
export const SHAFT_SYMBOLS = [
  'g5',
  'g6',
  'h5',
  'h6',
  'h8',
  'h9',
  'f6',
  'j5',
  'j6',
  'js6',
  'k5',
  'k6',
  'm5',
  'm6',
  'n5',
] as const;
/** Hole zones the table holds. */
export const HOLE_SYMBOLS = [
  'H7',
  'H8',
  'H9',
  'J6',
  'J7',
  'JS7',
  'K6',
  'K7',
  'M6',
  'M7',
  'N6',
  'N7',
  'P6',
  'P7',
] as const;
/** One of `SHAFT_SYMBOLS`. */
export type ShaftSymbol = (typeof SHAFT_SYMBOLS)[number];
/** One of `HOLE_SYMBOLS`. */
export type HoleSymbol = (typeof HOLE_SYMBOLS)[number];
/** Any tolerance zone the table holds. */
export type FitSymbol = ShaftSymbol | HoleSymbol;

/** Limits about a nominal dimension, mm; `lower_mm` ≤ `upper_mm`. */
export interface Deviation {
  readonly lower_mm: number;
  readonly upper_mm: number;
}

/** [lower, upper] in µm for each range of `UPPER_ENDS_mm`. */
type Limits = readonly [
  readonly [number, number],
  readonly [number, number],
  readonly [number, number],
  readonly [number, number],
];

const OVER_mm = 6;
/** Just inside the table's smallest range. */
const LEAST_mm = 6.001;
const UPPER_ENDS_mm = [10, 18, 30, 50] as const;

const TABLE: Readonly<Record<FitSymbol, Limits>> = {
  g5: [
    [-11, -5],
    [-14, -6],
    [-16, -7],
    [-20, -9],
  ],
  g6: [
    [-14, -5],
    [-17, -6],
    [-20, -7],
    [-25, -9],
  ],
  h5: [
    [-6, 0],
    [-8, 0],
    [-9, 0],
    [-11, 0],
  ],
  h6: [
    [-9, 0],
    [-11, 0],
    [-13, 0],
    [-16, 0],
  ],
  h8: [
    [-22, 0],
    [-27, 0],
    [-33, 0],
    [-39, 0],
  ],
  h9: [
    [-36, 0],
    [-43, 0],
    [-52, 0],
    [-62, 0],
  ],
  f6: [
    [-22, -13],
    [-27, -16],
    [-33, -20],
    [-41, -25],
  ],
  j5: [
    [-2, 4],
    [-3, 5],
    [-4, 5],
    [-5, 6],
  ],
  j6: [
    [-2, 7],
    [-3, 8],
    [-4, 9],
    [-5, 11],
  ],
  // The last two ranges of js6 are from memory; they are half the IT6 width that h6 confirms.
  js6: [
    [-4.5, 4.5],
    [-5.5, 5.5],
    [-6.5, 6.5],
    [-8, 8],
  ],
  k5: [
    [1, 7],
    [1, 9],
    [2, 11],
    [2, 13],
  ],
  k6: [
    [1, 10],
    [1, 12],
    [2, 15],
    [2, 18],
  ],
  m5: [
    [6, 12],
    [7, 15],
    [8, 17],
    [9, 20],
  ],
  m6: [
    [6, 15],
    [7, 18],
    [8, 21],
    [9, 25],
  ],
  n5: [
    [10, 16],
    [12, 20],
    [15, 24],
    [17, 28],
  ],
  H7: [
    [0, 15],
    [0, 18],
    [0, 21],
    [0, 25],
  ],
  H8: [
    [0, 22],
    [0, 27],
    [0, 33],
    [0, 39],
  ],
  H9: [
    [0, 36],
    [0, 43],
    [0, 52],
    [0, 62],
  ],
  J6: [
    [-4, 5],
    [-5, 6],
    [-5, 8],
    [-6, 10],
  ],
  J7: [
    [-7, 8],
    [-8, 10],
    [-9, 12],
    [-11, 14],
  ],
  JS7: [
    [-7.5, 7.5],
    [-9, 9],
    [-10.5, 10.5],
    [-12.5, 12.5],
  ],
  K6: [
    [-7, 2],
    [-9, 2],
    [-11, 2],
    [-13, 3],
  ],
  K7: [
    [-10, 5],
    [-12, 6],
    [-15, 6],
    [-18, 7],
  ],
  M6: [
    [-12, -3],
    [-15, -4],
    [-17, -4],
    [-20, -4],
  ],
  M7: [
    [-15, 0],
    [-18, 0],
    [-21, 0],
    [-25, 0],
  ],
  N6: [
    [-16, -7],
    [-20, -9],
    [-24, -11],
    [-28, -12],
  ],
  N7: [
    [-19, -4],
    [-23, -5],
    [-28, -7],
    [-33, -8],
  ],
  P6: [
    [-21, -12],
    [-26, -15],
    [-31, -18],
    [-37, -21],
  ],
  P7: [
    [-24, -9],
    [-29, -11],
    [-35, -14],
    [-42, -17],
  ],
};

/**
 * Limit deviations of a tolerance zone at a nominal diameter over 6 up to 50 mm, mm. Source: ISO 286-2 as bearing
 * catalogue, 2018 prints it.
 */
export function deviation(symbol: FitSymbol, diameter_mm: number): Deviation {
  if (!Object.hasOwn(TABLE, symbol)) refuse('fits', 'symbol', symbol, [...SHAFT_SYMBOLS, ...HOLE_SYMBOLS].join(', '));
  requireAbove('fits', 'diameter_mm', diameter_mm, OVER_mm);
  const limits_um = TABLE[symbol][UPPER_ENDS_mm.findIndex((end_mm) => diameter_mm <= end_mm)];
  if (!limits_um)
    return refuse('fits', 'diameter_mm', diameter_mm, `above ${OVER_mm} and up to ${UPPER_ENDS_mm.at(-1)}`);
  return { lower_mm: limits_um[0] / 1000, upper_mm: limits_um[1] / 1000 };
}

/**
 * Limit deviations where the table has none of its own: those of its nearest range, for what must be judged all the
 * same.
 */
export function nearestDeviation(symbol: FitSymbol, diameter_mm: number): Deviation {
  return deviation(symbol, Math.min(Math.max(diameter_mm, LEAST_mm), UPPER_ENDS_mm.at(-1)!));
}

/** How a drawing bounds a diameter: by a tolerance class, or by ± a tolerance; by neither it is taken as measured. */
export interface Bounded {
  readonly fit?: FitSymbol | undefined;
  readonly diameter_tol_mm?: number | undefined;
}

/** Smallest and largest of a written diameter, mm. A class comes before a tolerance. */
export function sizeLimits(diameter_mm: number, { fit: symbol, diameter_tol_mm = 0 }: Bounded): Deviation {
  const { lower_mm, upper_mm } =
    symbol === undefined
      ? { lower_mm: -diameter_tol_mm, upper_mm: diameter_tol_mm }
      : nearestDeviation(symbol, diameter_mm);
  return { lower_mm: diameter_mm + lower_mm, upper_mm: diameter_mm + upper_mm };
}

/** Play (positive) or interference (negative) of a hole on a shaft, mm. */
export interface Fit {
  readonly least_mm: number;
  readonly most_mm: number;
  /** Middle of the range. */
  readonly mean_mm: number;
  /** Range that nearly all pairs fall in, tolerances added by squares. */
  readonly probableLeast_mm: number;
  readonly probableMost_mm: number;
}

/**
 * Fit of a hole on a shaft of the same nominal diameter: limits of the one less limits of the other, mm. Source: ISO
 * 286-1.
 */
export function fit(hole: Deviation, shaft: Deviation): Fit {
  for (const [what, limits] of [
    ['hole', hole],
    ['shaft', shaft],
  ] as const) {
    if (!(limits.lower_mm <= limits.upper_mm)) {
      refuse('fits', what, `${limits.lower_mm} to ${limits.upper_mm} mm`, 'finite limits, the lower one first');
    }
  }
  const least_mm = hole.lower_mm - shaft.upper_mm;
  const most_mm = hole.upper_mm - shaft.lower_mm;
  const mean_mm = (least_mm + most_mm) / 2;
  const spread_mm = Math.hypot(hole.upper_mm - hole.lower_mm, shaft.upper_mm - shaft.lower_mm) / 2;
  return { least_mm, most_mm, mean_mm, probableLeast_mm: mean_mm - spread_mm, probableMost_mm: mean_mm + spread_mm };
}
