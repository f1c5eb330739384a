/**
 * Torque in the units wrenches are marked in: N·m, ft·lb, in·lb.
 *
 * Exact by definition: one pound-force is 4.4482216152605 N (0.45359237 kg at 9.80665 m/s²), one inch 25.4 mm, twelve
 * inches a foot (international yard and pound agreement, 1959).
 */

/** Units of torque a wrench may be marked in. */
export const TORQUE_UNITS = ['N·m', 'ft·lb', 'in·lb'] as const;
/** One of `TORQUE_UNITS`. */
export type TorqueUnit = (typeof TORQUE_UNITS)[number];

const POUND_N = 0.45359237 * 9.80665;
const INCH_m = 0.0254;
const ONE_Nm: Readonly<Record<TorqueUnit, number>> = { N·m: 1, ft·lb: 12 * INCH_m * POUND_N, in·lb: INCH_m * POUND_N };

/** A torque in one of the units, from N·m. */
export function inUnit(torque_Nm: number, unit: TorqueUnit): number {
  return torque_Nm / ONE_Nm[unit];
}

/** A torque in N·m, from one of the units; signs are kept. */
export function toNm(value: number, unit: TorqueUnit): number {
  return value * ONE_Nm[unit];
}

/** One torque in all three units. */
export type TorqueInUnits = Readonly<Record<TorqueUnit, number>>;

/** A torque in all three units, from N·m; signs are kept. */
export function inAllUnits(torque_Nm: number): TorqueInUnits {
  return { N·m: torque_Nm, ft·lb: inUnit(torque_Nm, 'ft·lb'), in·lb: inUnit(torque_Nm, 'in·lb') };
}

/** A unit as a person writes it (`Nm`, `N·m`, `ft-lb`, `lbf ft`, `in.lb`), or undefined. */
export function unitOf(words: string): TorqueUnit | undefined {
  const plain = words
    .toLowerCase()
    .replace(/[\s·.\-*/]/g, '')
    .replace(/lbf|lbs/g, 'lb');
  const known: Readonly<Record<string, TorqueUnit>> = {
    nm: 'N·m',
    ftlb: 'ft·lb',
    lbft: 'ft·lb',
    inlb: 'in·lb',
    lbin: 'in·lb',
  };
  return Object.hasOwn(known, plain) ? known[plain] : undefined;
}
