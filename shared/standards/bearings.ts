/**
 * Ball bearings of linkage pivots: boundary dimensions, what the side faces of their rings are like, ratings,
 * tolerances and play.
 *
 * A table, attributed row by row (bearing catalogue, 2018 unless it says otherwise; ratings in N), with the tolerances
 * of ISO 492 Normal and the clearances of ISO 5753-1 as bearing catalogue, 2018 reprints them. What no table gives (the
 * ring faces of a bearing known by its boundary dimensions, its ball set, its stiffness along the axis) is estimated by
 * rules stated beside each function and carries a spread. Convention: linkage bearings are sealed on both sides, so a
 * bare designation means the sealed type (-2RS); the open type is written with 'open' behind it. `innerShoulder_mm` is
 * the outside diameter of the inner ring's side face, `outerShoulder_mm` the inside diameter of the outer ring's;
 * between the two stand seal or balls. Lengths mm, forces N; a deviation is signed from nominal.
 */
import { refuse, requireAbove, requireAtLeast } from './guard.ts';
import { axialShift_mm, freeShift_mm, type BallGeometry } from './point-contact.ts';

/** Boundary dimensions that tell one bearing from another, mm. */
export interface BearingBore {
  readonly bore_mm: number;
  readonly outside_mm: number;
}

/** A figure of a bearing row that no table gave and a rule supplied. */
export type EstimatedFigure =
  | 'innerShoulder_mm'
  | 'outerShoulder_mm'
  | 'innerAbutmentMax_mm'
  | 'staticRating_N'
  | 'dynamicRating_N';

/** One row of the bearing table. */
export interface BearingRow extends BearingBore {
  /** As a workshop writes it, bare for the sealed type. */
  readonly designation: string;
  /** Other spellings of the same bearing; case, spaces, hyphens and slashes do not matter. */
  readonly aliases: readonly string[];
  readonly width_mm: number;
  /** Smallest chamfer r_s min of the ring edges, mm. */
  readonly chamfer_mm: number;
  /** Outside diameter of the inner ring's side face: d1, or the seal land d2 of a capped bearing, mm. */
  readonly innerShoulder_mm: number;
  /** Inside diameter of the outer ring's side face: D1, or D2 of a capped bearing, mm. */
  readonly outerShoulder_mm: number;
  /** Largest outside diameter of a ring that bears on the inner ring without rubbing the seal (da max), mm. */
  readonly innerAbutmentMax_mm: number;
  /** Static rating C0, N. Makers and editions differ by some 20 %. */
  readonly staticRating_N: number;
  /** Dynamic rating C, N. */
  readonly dynamicRating_N: number;
  /** Factor f0 of the axial load table, where known; dimensionless. */
  readonly f0?: number;
  readonly isSealed: boolean;
  /** Rows of balls; two mean an angular contact bearing that carries tilt. */
  readonly ballRows: 1 | 2;
  /** Figures of this row that a rule supplied. */
  readonly estimated: readonly EstimatedFigure[];
  readonly source: string;
}

type Dimensions = readonly [bore_mm: number, outside_mm: number, width_mm: number, chamfer_mm: number];
type Faces = readonly [innerShoulder_mm: number, outerShoulder_mm: number, innerAbutmentMax_mm: number];
type Ratings = readonly [static_N: number, dynamic_N: number, f0?: number];

/** The ending for contact seals on both sides. */
const SEALED_ENDING = '-2RS';

function makeRow(
  names: readonly [string, ...string[]],
  aliases: readonly string[],
  [bore_mm, outside_mm, width_mm, chamfer_mm]: Dimensions,
  [innerShoulder_mm, outerShoulder_mm, innerAbutmentMax_mm]: Faces,
  [staticRating_N, dynamicRating_N, f0]: Ratings,
  rest: Pick<BearingRow, 'isSealed' | 'ballRows' | 'estimated' | 'source'>,
): BearingRow {
  return {
    designation: names[0],
    aliases: [...names.slice(1), ...aliases],
    bore_mm,
    outside_mm,
    width_mm,
    chamfer_mm,
    innerShoulder_mm,
    outerShoulder_mm,
    innerAbutmentMax_mm,
    staticRating_N,
    dynamicRating_N,
    ...(f0 === undefined ? {} : { f0 }),
    ...rest,
  };
}

function sealed(
  names: readonly [string, ...string[]],
  dimensions: Dimensions,
  faces: Faces,
  ratings: Ratings,
  {
    source = 'bearing catalogue, 2018',
    estimated = [],
    ballRows = 1,
  }: Partial<Pick<BearingRow, 'source' | 'estimated' | 'ballRows'>> = {},
): BearingRow {
  const aliases = names.map((name) => name + SEALED_ENDING);
  return makeRow(names, aliases, dimensions, faces, ratings, { isSealed: true, ballRows, estimated, source });
}

/** An open bearing has no seal to rub, so its abutment limit is the face itself. */
function open(
  names: readonly [string, ...string[]],
  dimensions: Dimensions,
  [innerShoulder_mm, outerShoulder_mm]: readonly [number, number],
  ratings: Ratings,
): BearingRow {
  const [first, ...others] = names.map((name) => `${name} open`);
  return makeRow(
    [first ?? '', ...others],
    [],
    dimensions,
    [innerShoulder_mm, outerShoulder_mm, innerShoulder_mm],
    ratings,
    {
      isSealed: false,
      ballRows: 1,
      estimated: ['innerAbutmentMax_mm'],
      source: 'bearing catalogue, 2018',
    },
  );
}

const WIDE =
  'bearing catalogue, 2018 boundary dimensions; faces and ratings taken as those of the narrow bearing of the same bore and outside';
const WIDE_ESTIMATES = [
  'innerShoulder_mm',
  'outerShoulder_mm',
  'innerAbutmentMax_mm',
  'staticRating_N',
  'dynamicRating_N',
] as const;
const DOUBLE =
  'bearing catalogue, 2006, pp. 258-259; outer face and abutment taken as those of the one-row bearing of the same size (bearing catalogue, 2018)';
const DOUBLE_ESTIMATES = ['outerShoulder_mm', 'innerAbutmentMax_mm'] as const;

/** The bearing table: sealed rows first, so that a search by size meets the type a linkage uses. */
export const BEARINGS: readonly BearingRow[] = [
  sealed(['688', '628/8'], [8, 16, 5, 0.2], [10.1, 14.2, 9.4], [570, 1330, 11], {
    source: 'bearing catalogue, 2018, shoulder page joined by row order: trust faces to 0.3 mm',
  }),
  sealed(['698', '619/8'], [8, 19, 6, 0.3], [9.8, 16.7, 9.8], [465, 1460, 6.6], {
    source: 'bearing catalogue, 2018 (its ratings are the lowest of three makers)',
  }),
  sealed(['608'], [8, 22, 7, 0.3], [10.5, 19.2, 10.5], [1370, 3450, 12]),
  sealed(['61800', '6800'], [10, 19, 5, 0.3], [11.8, 17.2, 11.8], [830, 1720, 15]),
  sealed(['61801', '6801'], [12, 21, 5, 0.3], [14.1, 19, 13.8], [915, 1740, 13]),
  sealed(['61802', '6802'], [15, 24, 5, 0.3], [17.8, 22.2, 17.8], [1100, 1900, 14]),
  sealed(['61803', '6803'], [17, 26, 5, 0.3], [19.8, 24.2, 18.6], [1270, 2030, 14]),
  sealed(['61804', '6804'], [20, 32, 7, 0.3], [23.8, 29.4, 23.6], [2320, 4030, 15]),
  sealed(['61805', '6805'], [25, 37, 7, 0.3], [27.4, 34.2, 27.3], [2600, 4360, 14]),
  sealed(['61806', '6806'], [30, 42, 7, 0.3], [32.6, 39.4, 32.5], [2900, 4490, 14]),
  sealed(['61900', '6900'], [10, 22, 6, 0.3], [13.2, 19.4, 12], [1270, 2700, 14]),
  sealed(['61901', '6901'], [12, 24, 6, 0.3], [15.3, 21.4, 15.2], [1460, 2910, 15]),
  sealed(['61902', '6902'], [15, 28, 7, 0.3], [18.8, 25.3, 18.3], [2240, 4360, 14]),
  sealed(['61903', '6903'], [17, 30, 7, 0.3], [19.4, 27.7, 19.3], [2550, 4620, 15]),
  sealed(['61904', '6904'], [20, 37, 9, 0.3], [25.5, 32.7, 23], [3650, 6370, 15]),
  sealed(['61905', '6905'], [25, 42, 9, 0.3], [30.2, 37.7, 29], [4300, 7020, 15]),
  sealed(['61906', '6906'], [30, 47, 9, 0.3], [34.2, 42.7, 34], [4550, 7280, 14]),
  sealed(['6000'], [10, 26, 8, 0.3], [12.5, 22.6, 12.5], [1960, 4750, 12]),
  sealed(['6001'], [12, 28, 8, 0.3], [14.7, 24.8, 15], [2360, 5400, 13]),
  sealed(['6002'], [15, 32, 9, 0.3], [18.3, 28.2, 18.5], [2850, 5850, 14]),
  sealed(['6003'], [17, 35, 10, 0.3], [20.4, 31.2, 20.5], [3250, 6370, 14]),
  sealed(['63000'], [10, 26, 12, 0.3], [12.5, 22.6, 12.5], [1960, 4750], { source: WIDE, estimated: WIDE_ESTIMATES }),
  sealed(['63001'], [12, 28, 12, 0.3], [14.7, 24.8, 15], [2360, 5400], { source: WIDE, estimated: WIDE_ESTIMATES }),
  sealed(['63002'], [15, 32, 13, 0.3], [18.3, 28.2, 18.5], [2850, 5850], { source: WIDE, estimated: WIDE_ESTIMATES }),
  sealed(['63003'], [17, 35, 14, 0.3], [20.4, 31.2, 20.5], [3250, 6370], { source: WIDE, estimated: WIDE_ESTIMATES }),
  sealed(['3802'], [15, 24, 7, 0.3], [18, 22.2, 17.8], [1960, 2430], {
    source: DOUBLE,
    estimated: DOUBLE_ESTIMATES,
    ballRows: 2,
  }),
  sealed(['3803'], [17, 26, 7, 0.3], [20, 24.2, 18.6], [2080, 2480], {
    source: DOUBLE,
    estimated: DOUBLE_ESTIMATES,
    ballRows: 2,
  }),
  open(['618/8', '688'], [8, 16, 4, 0.2], [10.5, 13.5], [570, 1330, 11]),
  open(['619/8', '698'], [8, 19, 6, 0.3], [10.5, 16.7], [465, 1460, 6.6]),
  open(['608'], [8, 22, 7, 0.3], [12.1, 19.2], [1370, 3450, 12]),
  open(['61800', '6800'], [10, 19, 5, 0.3], [12.7, 16.3], [830, 1720, 15]),
  open(['61801', '6801'], [12, 21, 5, 0.3], [14.8, 18.3], [915, 1740, 13]),
  open(['61802', '6802'], [15, 24, 5, 0.3], [17.8, 21.3], [1100, 1900, 14]),
  open(['61803', '6803'], [17, 26, 5, 0.3], [19.8, 23.3], [1270, 2030, 14]),
  open(['61804', '6804'], [20, 32, 7, 0.3], [23.8, 28.3], [2320, 4030, 15]),
  open(['61805', '6805'], [25, 37, 7, 0.3], [28.5, 33.2], [2600, 4360, 14]),
  open(['61806', '6806'], [30, 42, 7, 0.3], [33.7, 38.4], [2900, 4490, 14]),
  open(['61900', '6900'], [10, 22, 6, 0.3], [13.9, 18.2], [1270, 2700, 14]),
  open(['61901', '6901'], [12, 24, 6, 0.3], [16, 20.3], [1460, 2910, 15]),
  open(['61902', '6902'], [15, 28, 7, 0.3], [18.8, 25.3], [2240, 4360, 14]),
  open(['61903', '6903'], [17, 30, 7, 0.3], [20.4, 27.7], [2550, 4620, 15]),
  open(['61904', '6904'], [20, 37, 9, 0.3], [25.5, 32.7], [3650, 6370, 15]),
  open(['61905', '6905'], [25, 42, 9, 0.3], [30.2, 37.7], [4300, 7020, 15]),
  open(['61906', '6906'], [30, 47, 9, 0.3], [35.2, 42.7], [4550, 7280, 14]),
  open(['6000'], [10, 26, 8, 0.3], [14.8, 22.6], [1960, 4750, 12]),
  open(['6001'], [12, 28, 8, 0.3], [17, 24.8], [2360, 5400, 13]),
  open(['6002'], [15, 32, 9, 0.3], [20.5, 28.2], [2850, 5850, 14]),
  open(['6003'], [17, 35, 10, 0.3], [23, 31.2], [3250, 6370, 14]),
];

/**
 * Makers put a letter or figure of their own behind the seals' ending; it tells of lip and grease, not of the faces at
 * stake.
 */
const plain = (designation: string) =>
  designation
    .toUpperCase()
    .replace(/[\s\-/_.]/g, '')
    .replace(/2RS[A-Z0-9]{1,2}$/, '2RS');

const NAMES: readonly { readonly name: string; readonly key: string; readonly row: BearingRow }[] = BEARINGS.flatMap(
  (row) => [row.designation, ...row.aliases].map((name) => ({ name, key: plain(name), row })),
);
const BY_KEY: ReadonlyMap<string, BearingRow> = new Map(NAMES.map(({ key, row }) => [key, row]));

/** The row a designation names, whatever its case, spaces, hyphens and slashes; undefined when the table lacks it. */
export function findBearing(designation: string): BearingRow | undefined {
  return BY_KEY.get(plain(designation));
}

/** Fewest letters to put in, take out or change to make one word of the other. */
function editDistance(one: string, other: string): number {
  let above = Array.from({ length: other.length + 1 }, (_, column) => column);
  for (let row = 1; row <= one.length; row += 1) {
    const line = [row];
    for (let column = 1; column <= other.length; column += 1) {
      const changed = (above[column - 1] ?? 0) + (one[row - 1] === other[column - 1] ? 0 : 1);
      line.push(Math.min(changed, (above[column] ?? 0) + 1, (line[column - 1] ?? 0) + 1));
    }
    above = line;
  }
  return above.at(-1) ?? 0;
}

/** The known name nearest to what was written, for 'did you mean'; undefined when more than half of it would change. */
export function suggestBearing(designation: string): string | undefined {
  const key = plain(designation);
  let best: { name: string; distance: number } | undefined;
  for (const candidate of NAMES) {
    const distance = editDistance(key, candidate.key);
    if (!best || distance < best.distance) best = { name: candidate.name, distance };
  }
  return best && best.distance <= key.length / 2 ? best.name : undefined;
}

/** Ring faces estimated from boundary dimensions, mm, each with the most it was off over the table's sealed rows. */
export interface ShoulderEstimate {
  readonly innerShoulder_mm: number;
  readonly outerShoulder_mm: number;
  readonly innerAbutmentMax_mm: number;
  /** The rule in words, for a finding that rests on it. */
  readonly rule: string;
  /** Largest of the three spreads. */
  readonly accuracy_mm: number;
  readonly innerShoulderSpread_mm: number;
  readonly outerShoulderSpread_mm: number;
  readonly innerAbutmentSpread_mm: number;
}

/**
 * Shares of (outside − bore): each the middle of the smallest and largest share among the table's sealed rows, and half
 * their spread, rounded up, as ±. Both ends are met, so no constant share does better. The table is two crops
 * in one: inner rings with a recess for the seal have a narrow face (0.16), plain ones a wide one (0.33).
 */
const SHOULDER_SHARES = {
  inner: { share: 0.2448, spread: 0.0886 },
  outer: { share: 0.215, spread: 0.0382 },
  abutment: { share: 0.2337, spread: 0.0775 },
} as const;
const SHOULDER_RULE =
  'sealed bearing: inner face out to bore + 0.2448 (outside − bore), outer face from outside − 0.215 (outside − bore), abutment up to bore + 0.2337 (outside − bore)';

function requireBearing({ bore_mm, outside_mm }: BearingBore): void {
  requireAbove('bearings', 'bore_mm', bore_mm, 0);
  requireAbove('bearings', 'outside_mm', outside_mm, bore_mm);
}

/**
 * Estimates the ring faces of a sealed bearing known by its boundary dimensions alone. Source: fitted to `BEARINGS`,
 * ours.
 */
export function estimateShoulders(bearing: BearingBore): ShoulderEstimate {
  requireBearing(bearing);
  const { bore_mm, outside_mm } = bearing;
  const section_mm = outside_mm - bore_mm;
  const { inner, outer, abutment } = SHOULDER_SHARES;
  return {
    innerShoulder_mm: bore_mm + inner.share * section_mm,
    outerShoulder_mm: outside_mm - outer.share * section_mm,
    innerAbutmentMax_mm: bore_mm + abutment.share * section_mm,
    rule: SHOULDER_RULE,
    accuracy_mm: Math.max(inner.spread, outer.spread, abutment.spread) * section_mm,
    innerShoulderSpread_mm: inner.spread * section_mm,
    outerShoulderSpread_mm: outer.spread * section_mm,
    innerAbutmentSpread_mm: abutment.spread * section_mm,
  };
}

/** Deviation from nominal, mm; `lower_mm` ≤ `upper_mm` ≤ 0 for bearings. */
export interface RingTolerance {
  readonly lower_mm: number;
  readonly upper_mm: number;
}

/** The entry of the first range whose upper end the value does not pass: ranges read 'over … up to and including'. */
function inRange<T>(quantity: string, value_mm: number, over_mm: number, ranges: readonly (readonly [number, T])[]): T {
  requireAbove('bearings', quantity, value_mm, over_mm);
  const found = ranges.find(([end_mm]) => value_mm <= end_mm);
  return found ? found[1] : refuse('bearings', quantity, value_mm, `above ${over_mm} and up to ${ranges.at(-1)?.[0]}`);
}

/**
 * Width of a single ring, mm: 0/−0.12. Source: ISO 492 Normal, bearing catalogue, 2018, table 2 p. 38 (bores over 2.5
 * up to 50 mm).
 */
export function ringWidthTolerance(bore_mm: number): RingTolerance {
  return inRange('bore_mm', bore_mm, 2.5, [[50, { lower_mm: -0.12, upper_mm: 0 }]]);
}

/** Mean bore diameter, mm. Source: ISO 492 Normal, bearing catalogue, 2018, table 2 p. 38. */
export function boreTolerance(bore_mm: number): RingTolerance {
  const lower_mm = inRange('bore_mm', bore_mm, 2.5, [
    [18, -0.008],
    [30, -0.01],
    [50, -0.012],
  ]);
  return { lower_mm, upper_mm: 0 };
}

/** Mean outside diameter, mm. Source: ISO 492 Normal, bearing catalogue, 2018, table 2 p. 38. */
export function outsideTolerance(outside_mm: number): RingTolerance {
  const lower_mm = inRange('outside_mm', outside_mm, 2.5, [
    [18, -0.008],
    [30, -0.009],
    [50, -0.011],
    [80, -0.013],
  ]);
  return { lower_mm, upper_mm: 0 };
}

/** Groups of radial internal clearance, from tight to loose; a bearing without a mark is CN. */
export const CLEARANCE_GROUPS = ['C2', 'CN', 'C3', 'C4', 'C5'] as const;
/** One of `CLEARANCE_GROUPS`. */
export type ClearanceGroup = (typeof CLEARANCE_GROUPS)[number];

/** Limits of a clearance, mm. */
export interface Clearance {
  readonly low_mm: number;
  readonly high_mm: number;
}

/** Low and high in µm, by group, for each range of bores. */
const CLEARANCES_um: readonly (readonly [
  number,
  Readonly<Partial<Record<ClearanceGroup, readonly [number, number]>>>,
])[] = [
  [10, { C2: [0, 7], CN: [2, 13], C3: [8, 23], C4: [14, 29], C5: [20, 37] }],
  [18, { C2: [0, 9], CN: [3, 18], C3: [11, 25], C4: [18, 33], C5: [25, 45] }],
  [24, { C2: [0, 10], CN: [5, 20], C3: [13, 28], C4: [20, 36], C5: [28, 48] }],
  [30, { C2: [1, 11], CN: [5, 20], C3: [13, 28], C4: [23, 41], C5: [30, 53] }],
  [40, { C2: [1, 11], CN: [6, 20], C3: [15, 33] }],
];

/**
 * Radial internal clearance of an unmounted deep-groove bearing, mm. Source: ISO 5753-1, bearing catalogue, 2018, table
 * 6 p. 252.
 */
export function radialClearance(bore_mm: number, group: ClearanceGroup = 'CN'): Clearance {
  const groups = inRange('bore_mm', bore_mm, 2.5, CLEARANCES_um);
  const limits_um = Object.hasOwn(groups, group) ? groups[group] : undefined;
  if (!limits_um) return refuse('bearings', 'clearance group', group, Object.keys(groups).join(', '));
  return { low_mm: limits_um[0] / 1000, high_mm: limits_um[1] / 1000 };
}

/** The same for any bearing: a bore or a group that the table lacks gets the nearest that it holds. */
export function nearestClearance(bore_mm: number, group: ClearanceGroup): Clearance {
  const bore = Math.min(Math.max(bore_mm, SMALLEST_TABLED_mm), LARGEST_TABLED_mm);
  const groups = inRange('bore_mm', bore, 2.5, CLEARANCES_um);
  const looser = CLEARANCE_GROUPS.slice(0, CLEARANCE_GROUPS.indexOf(group) + 1);
  return radialClearance(bore, looser.findLast((one) => Object.hasOwn(groups, one)) ?? 'CN');
}

/**
 * Whole axial play from the radial clearance, mm: Δa ≈ K·√Δr, K in mm^½. Source: second bearing catalogue, section 15.3
 * p. A132.
 */
export function axialPlay_mm(radialClearance_mm: number, grooveConstantK: number): number {
  requireAtLeast('bearings', 'radialClearance_mm', radialClearance_mm, 0);
  requireAbove('bearings', 'grooveConstantK', grooveConstantK, 0);
  return grooveConstantK * Math.sqrt(radialClearance_mm);
}

/**
 * Whole axial play, mm, exactly: 2A·sin(arccos(1 − s/(2A))), A the groove offset r_i + r_e − D_w, mm. Source: MAS
 * (ISO/TS 16281).
 */
export function axialPlayExact_mm(radialClearance_mm: number, grooveOffset_mm: number): number {
  requireAtLeast('bearings', 'radialClearance_mm', radialClearance_mm, 0);
  requireAbove('bearings', 'grooveOffset_mm', grooveOffset_mm, 0);
  if (radialClearance_mm >= 2 * grooveOffset_mm) {
    refuse(
      'bearings',
      'radialClearance_mm',
      radialClearance_mm,
      `below twice the groove offset, ${2 * grooveOffset_mm} mm`,
    );
  }
  return 2 * grooveOffset_mm * Math.sin(Math.acos(1 - radialClearance_mm / (2 * grooveOffset_mm)));
}

/** The groove offset A a constant K stands for, mm: K = 2√A. Source: second bearing catalogue, section 15.3. */
export function grooveOffset_mm(grooveConstantK: number): number {
  requireAbove('bearings', 'grooveConstantK', grooveConstantK, 0);
  return (grooveConstantK / 2) ** 2;
}

/** Published groove constants K of the 60 series, mm^½. Source: second bearing catalogue, table 15.4. */
export const GROOVE_CONSTANTS: Readonly<Record<string, number>> = { '6001': 0.8, '6002': 0.93, '6003': 0.93 };

const BALL_SHARE = 0.3;
const INNER_GROOVE_SHARE = 0.52;
const OUTER_GROOVE_SHARE = 0.53;
const SMALLEST_TABLED_mm = 3;
const LARGEST_TABLED_mm = 40;
/**
 * Half the arc the balls fill when a deep-groove bearing is put together through its eccentric rings, deg; from memory.
 */
const FILLING_HALF_ANGLE_deg = 95;

/**
 * Ball set of a one-row bearing, estimated from its boundary dimensions: ball 0.3 (outside − bore), on the middle
 * circle, as many as fill 190° of the eccentric rings, grooves 0.52 and 0.53 of the ball (the radii of the ISO/TS 16281
 * worked case, MAS). Its clearance is the middle of the group's, that of the nearest bore the table holds. An estimate:
 * ball count and size are the maker's.
 */
export function estimateBalls(bearing: BearingBore, group: ClearanceGroup = 'CN'): BallGeometry {
  requireBearing(bearing);
  const { bore_mm, outside_mm } = bearing;
  const ballDiameter_mm = BALL_SHARE * (outside_mm - bore_mm);
  const pitchDiameter_mm = (outside_mm + bore_mm) / 2;
  const pitchAngle_deg = (Math.asin(ballDiameter_mm / pitchDiameter_mm) * 180) / Math.PI;
  const clearance = nearestClearance(bore_mm, group);
  return {
    ballCount: Math.floor(1 + FILLING_HALF_ANGLE_deg / pitchAngle_deg),
    ballDiameter_mm,
    pitchDiameter_mm,
    innerGroove_mm: INNER_GROOVE_SHARE * ballDiameter_mm,
    outerGroove_mm: OUTER_GROOVE_SHARE * ballDiameter_mm,
    radialClearance_mm: (clearance.low_mm + clearance.high_mm) / 2,
  };
}

/**
 * Whole axial play of a bearing at the middle of its clearance group, mm: an estimate on `estimateBalls`. Mounting may
 * have taken `lost_mm` of its radial clearance; with nothing left it has no play.
 */
export function estimateAxialPlay_mm(bearing: BearingBore, group: ClearanceGroup = 'CN', lost_mm = 0): number {
  requireAtLeast('bearings', 'lost_mm', lost_mm, 0);
  const balls = estimateBalls(bearing, group);
  return 2 * freeShift_mm({ ...balls, radialClearance_mm: Math.max(0, balls.radialClearance_mm - lost_mm) });
}

const TYPICAL_f0 = 14;

/**
 * Static rating C0 of a one-row bearing known by its boundary dimensions, N: f0·Z·D_w² with f0 = 14 on `estimateBalls`
 * (ISO 76's form). An estimate: within 30 % of the table but for the 698, whose makers differ by a factor of two.
 */
export function estimateStaticRating_N(bearing: BearingBore): number {
  const { ballCount, ballDiameter_mm } = estimateBalls(bearing);
  return TYPICAL_f0 * ballCount * ballDiameter_mm ** 2;
}

/** Share of C0 a small or thin bearing may carry along its axis. Source: bearing catalogue, 2018, p. 254. */
export const PURE_AXIAL_SHARE = 0.25;

/** Most a bearing may be pushed sideways, N. Source: bearing catalogue, 2018, p. 254, for small and thin bearings. */
export function sideLimit_N({ staticRating_N }: { readonly staticRating_N: number }): number {
  return PURE_AXIAL_SHARE * staticRating_N;
}

/**
 * Axial stiffness of a bearing beyond its play, N/mm: the secant from the end of the play to the pure axial load limit,
 * 0.25 C0 (bearing catalogue, 2018, p. 254), by point contact (ISO/TS 16281) on `estimateBalls`; some 19 kN/mm for 15×28×7. An estimate: true
 * stiffness rises from almost nothing to more than twice this at the limit. Of two rows one carries a push from one
 * side.
 */
export function estimateAxialStiffness_N_per_mm(bearing: BearingBore & { readonly staticRating_N?: number }): number {
  const balls = estimateBalls(bearing);
  const limit_N = PURE_AXIAL_SHARE * (bearing.staticRating_N ?? estimateStaticRating_N(bearing));
  requireAbove('bearings', 'staticRating_N', limit_N, 0);
  return limit_N / (axialShift_mm(balls, limit_N) - freeShift_mm(balls));
}
