/**
 * Which torque wrench to take and what to set it to.
 *
 * An adapter moves the drive, so the setting is not the torque (`wrenchSetting`, any angle). A wrench is a poor choice
 * in the lowest fifth of its range, and none beyond its ends; of those that serve, the one whose permitted error leaves
 * the narrowest band is taken, the smallest first. Torque N·m, lengths mm, angle in degrees from straight ahead.
 */
import { requireAbove, refuse } from '../standards/guard.ts';
import { wrenchScatter, wrenchSetting } from '../standards/index.ts';
import { TORQUE_LIMITS, WORKSHOP_WRENCHES_Nm } from './limits.ts';
import { inAllUnits, type TorqueInUnits } from './units.ts';

/** An adapter between wrench and bolt. */
export interface Adapter {
  /** Wrench, grip centre to drive. */
  readonly length_mm: number;
  /** Adapter, drive centre to bolt. */
  readonly adapter_mm: number;
  /** 0° straight ahead, 90° square to the wrench, 180° folded back. */
  readonly angle_deg: number;
}

/** How a wrench's range suits a setting. */
export type WrenchFit = 'good' | 'lowest-fifth' | 'below-range' | 'above-range';

/** One wrench judged. */
export interface WrenchChoice {
  readonly from_Nm: number;
  readonly to_Nm: number;
  readonly fit: WrenchFit;
  /** Place of the setting in the range, 0 at its lower and 1 at its upper end. */
  readonly place: number;
  /** Permitted error, as a fraction. */
  readonly scatter: number;
}

/** What to set, and on which wrench. */
export interface WrenchAdvice {
  readonly torque_Nm: number;
  readonly setting: TorqueInUnits;
  readonly adapter?: Adapter;
  readonly choices: readonly WrenchChoice[];
  /** The one to take; undefined where none serves. */
  readonly best?: WrenchChoice;
}

/**
 * The lower end from which a range serves well: a fifth of the way up it, and no less than a fifth of its full scale.
 */
function goodFrom_Nm(from_Nm: number, to_Nm: number): number {
  const share = TORQUE_LIMITS.poorShare.value;
  return Math.max(from_Nm + share * (to_Nm - from_Nm), share * to_Nm);
}

/** Judge one range for a setting; both N·m, > 0. Told as one of the choices, never thrown. */
export function judgeWrench(setting_Nm: number, [from_Nm, to_Nm]: readonly [number, number]): WrenchChoice {
  requireAbove('wrench', 'setting_Nm', setting_Nm, 0);
  if (!(Number.isFinite(from_Nm) && from_Nm >= 0))
    refuse('wrench', 'from_Nm', from_Nm, 'a finite number of at least 0');
  requireAbove('wrench', 'to_Nm', to_Nm, from_Nm);
  const fit: WrenchFit =
    setting_Nm < from_Nm
      ? 'below-range'
      : setting_Nm > to_Nm
        ? 'above-range'
        : setting_Nm < goodFrom_Nm(from_Nm, to_Nm)
          ? 'lowest-fifth'
          : 'good';
  return { from_Nm, to_Nm, fit, place: (setting_Nm - from_Nm) / (to_Nm - from_Nm), scatter: wrenchScatter(to_Nm) };
}

const FITS: readonly WrenchFit[] = ['good', 'lowest-fifth', 'below-range', 'above-range'];

/**
 * What to set and which wrench of `ranges_Nm` ([least, most] each) to take for a torque > 0 N·m, with an adapter if one
 * is on. No wrench that fits is told in the advice. Throws a RangeError for a torque or an adapter that means nothing.
 */
export function adviseWrench({
  torque_Nm,
  ranges_Nm = WORKSHOP_WRENCHES_Nm,
  adapter,
}: {
  readonly torque_Nm: number;
  readonly ranges_Nm?: readonly (readonly [number, number])[];
  readonly adapter?: Adapter;
}): WrenchAdvice {
  requireAbove('wrench', 'torque_Nm', torque_Nm, 0);
  const setting_Nm = adapter ? wrenchSetting({ torque_Nm, ...adapter }) : torque_Nm;
  const choices = ranges_Nm.map((range) => judgeWrench(setting_Nm, range));
  const serving = choices
    .filter(({ fit }) => fit === 'good' || fit === 'lowest-fifth')
    .sort((a, b) => FITS.indexOf(a.fit) - FITS.indexOf(b.fit) || a.scatter - b.scatter || a.to_Nm - b.to_Nm);
  return {
    torque_Nm,
    setting: inAllUnits(setting_Nm),
    ...(adapter ? { adapter } : {}),
    choices,
    ...(serving[0] ? { best: serving[0] } : {}),
  };
}
