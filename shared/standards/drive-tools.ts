/**
 * Hexagon keys, star keys and spanners: the sizes there are, how far they reach, and the torque a key is sure to carry.
 *
 * Tables. Keys: sizes and long arms of HKJ (to 14 mm, 7 mm from DIN 7984 in OCT, the rest from memory); torques of ISO
 * 2936 as remembered, for a size it was not remembered for by the least ratio of torque to s³ in the table. Star keys:
 * point circles of ISO 10664 (OCT; size 27 from memory), torques the low ends of published ranges, most from memory.
 * Across flats of hexagons: ISO 272 (OCT). Spanners: what a workshop's set holds, common practice, no source. Lengths
 * mm, torque N·m.
 */

/** One hexagon key. */
export interface HexKeyRow {
  readonly size_mm: number;
  /** Long arm of the standard form, mm. */
  readonly arm_mm: number;
  /** Least torque the key carries; from memory. */
  readonly torque_Nm: number;
}

/** Hexagon keys with remembered torques. */
export const HEX_KEYS: readonly HexKeyRow[] = [
  { size_mm: 2, arm_mm: 52, torque_Nm: 1.9 },
  { size_mm: 2.5, arm_mm: 58.5, torque_Nm: 3.8 },
  { size_mm: 3, arm_mm: 66, torque_Nm: 6.6 },
  { size_mm: 4, arm_mm: 74, torque_Nm: 16 },
  { size_mm: 5, arm_mm: 85, torque_Nm: 30 },
  { size_mm: 6, arm_mm: 96, torque_Nm: 52 },
  { size_mm: 8, arm_mm: 108, torque_Nm: 120 },
  { size_mm: 10, arm_mm: 122, torque_Nm: 220 },
  { size_mm: 12, arm_mm: 137, torque_Nm: 370 },
  { size_mm: 14, arm_mm: 154, torque_Nm: 590 },
];

/** Sizes of keys that are sold beside those, mm; 7 as DIN 7984 uses it (OCT), the rest from memory. */
const OTHER_KEYS_mm: readonly number[] = [1.5, 7, 9, 11, 13, 17, 19, 22, 24];

/** Where sizes, arms and torques of hexagon keys come from. */
export const HEX_KEY_SOURCE = 'ISO 2936: sizes and arms HKJ, torques from memory';

/** A hexagon key by its size across flats, mm; undefined for one that nobody makes. */
export function hexKey(size_mm: number): HexKeyRow | undefined {
  const known = HEX_KEYS.find((row) => row.size_mm === size_mm);
  if (known || !OTHER_KEYS_mm.includes(size_mm)) return known;
  const ratio = Math.min(...HEX_KEYS.map((row) => row.torque_Nm / row.size_mm ** 3));
  const shorter = HEX_KEYS.filter((row) => row.size_mm <= size_mm).at(-1);
  return { size_mm, arm_mm: (shorter ?? HEX_KEYS[0]!).arm_mm, torque_Nm: ratio * size_mm ** 3 };
}

/** One star key: its size is a number, not a length. */
export interface StarKeyRow {
  readonly size: number;
  /** Circle round its points, mm. */
  readonly points_mm: number;
  /** Least torque it carries; undefined where none was remembered. */
  readonly torque_Nm?: number;
}

/** Star keys. */
export const STAR_KEYS: readonly StarKeyRow[] = [
  { size: 10, points_mm: 2.8, torque_Nm: 3.7 },
  { size: 15, points_mm: 3.35, torque_Nm: 6.4 },
  { size: 20, points_mm: 3.95, torque_Nm: 10.5 },
  { size: 25, points_mm: 4.5, torque_Nm: 15.9 },
  { size: 27, points_mm: 5.07 },
  { size: 30, points_mm: 5.6, torque_Nm: 31 },
  { size: 40, points_mm: 6.75, torque_Nm: 54 },
  { size: 45, points_mm: 7.93, torque_Nm: 86 },
  { size: 50, points_mm: 8.95, torque_Nm: 132 },
  { size: 55, points_mm: 11.35, torque_Nm: 218 },
  { size: 60, points_mm: 13.45, torque_Nm: 379 },
];

/** Where sizes and torques of star keys come from. */
export const STAR_KEY_SOURCE = 'ISO 10664: point circles OCT, torques most from memory';

/** A star key by its number; undefined for one that nobody makes. */
export function starKey(size: number): StarKeyRow | undefined {
  return STAR_KEYS.find((row) => row.size === size);
}

/** Sizes of spanners beyond every whole millimetre from 5 to 36, mm: common practice, no source. */
const OTHER_SPANNERS_mm: readonly number[] = [5.5, 38, 41, 46, 50, 55, 60];

/** True for a spanner that a workshop can buy, by its size across flats, mm; common practice, no source. */
export function isSpanner(size_mm: number): boolean {
  return (Number.isInteger(size_mm) && size_mm >= 5 && size_mm <= 36) || OTHER_SPANNERS_mm.includes(size_mm);
}

/** Width across flats of a standard nut or head by thread size, mm. Source: ISO 272 (OCT). */
export const ACROSS_FLATS: readonly (readonly [thread_mm: number, flats_mm: number])[] = [
  [5, 8],
  [6, 10],
  [8, 13],
  [10, 16],
  [12, 18],
  [14, 21],
  [16, 24],
];

/**
 * Least width across flats that leaves a nut its wall, mm: the least ratio to the thread in ISO 272, less a tenth,
 * since bicycle nuts are made narrower.
 */
export function leastFlats_mm(thread_mm: number): number {
  return 0.9 * Math.min(...ACROSS_FLATS.map(([thread, flats]) => flats / thread)) * thread_mm;
}

/**
 * Depth of a hexagon socket as a share of its size across flats below which a key finds no hold. Source: ISO 7380-1
 * (OCT), the shallowest standard socket: 1.56 mm for a 3 mm key.
 */
export const LEAST_SOCKET_SHARE = 0.52;
