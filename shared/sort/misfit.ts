/**
 * How badly a reading fits a part: the misfit of each size in units of the stated accuracy, and the negative logarithm
 * of its likelihood, by which whole trays are compared.
 *
 * What is read is the part's true size plus the calliper's error. The error is normal; the stated accuracy is its
 * expanded uncertainty with k = 2 (JCGM 100, GUM), two standard deviations. The true size is spread evenly over the
 * part's tolerance, and with a small stated chance it has worn from the worn-side limit by an exponentially distributed
 * amount, in the one direction in which that size of that kind wears. Costs are natural logarithms, 0 for a reading
 * that lies on a size without tolerance; a constant of the reading alone is left out, so differences between parts are
 * exact log likelihood ratios.
 */
import { LIMITS } from '../limits.ts';
import type { DriveTool, PartKind } from '../model/schema.ts';
import { logNormal, logNormalPlusExponential, logShareBetween, logSum } from '../numbers/normal.ts';
import { kindOf } from '../parts/kinds.ts';
import { hasDrive, sizesOfKind, type Size, type Sizes } from '../parts/measuring.ts';
import { SIZE_NAMES, type SizeName } from '../parts/sizes.ts';

/** Calliper accuracy where none is stated, mm, ±, k = 2: common practice for a workshop calliper, no source. */
export const DEFAULT_ACCURACY_mm = 0.05;
/** Standard deviations in one accuracy. Source: JCGM 100, coverage factor 2. */
export const DEVIATIONS_PER_ACCURACY = 2;
/** Accuracy of a pitch gauge, mm: its leaves are 0.25 mm apart; our own rule. */
const PITCH_ACCURACY_mm = 0.05;
/** Accuracy of turns counted over 10 mm: half a turn; our own rule. */
const TURNS_ACCURACY = 0.5;

/** What is believed before anything is read: our own rules, stated so that they can be argued with. */
export const BELIEFS = {
  /** Share of sizes that have worn at all. */
  wornShare: 0.1,
  /** How far a worn size has gone on average, mm. */
  meanWear_mm: 0.1,
  /** Share of loose parts on a tray that belong to no part of the list. */
  foreignShare: 0.05,
  /** Share of loose parts that are a given standard bearing or thread outside the list. */
  standardShare: 0.01,
  /** Range over which the sizes of an unknown part are spread, mm. */
  unknownRange_mm: 20,
  /** Range over which the pitch of an unknown thread is spread, mm, and its turns over 10 mm. */
  unknownPitch_mm: 2,
  unknownTurns: 10,
  /** Chance that a named drive or a kind within its family is a mistake of the finger. */
  misread: 0.0005,
  kindMisread: 0.1,
  /** Chance that an unknown part takes a given tool. */
  unknownDrive: 0.1,
} as const;

/** How a tray is read. */
export interface Setting {
  /** Accuracy of the calliper, ± mm, k = 2. */
  readonly accuracy_mm: number;
  /** Whether sizes may have worn. */
  readonly wear: boolean;
}

/** What a candidate must tell to be compared; `kind` is absent for a bare standard thread. */
export interface Target {
  readonly kind?: PartKind;
  readonly sizes: Sizes;
  readonly drives: readonly DriveTool[];
}

/** What a reading says, its axle looked up: `slidesOn_mm` are the diameters of the axle it slides on. */
export interface Read {
  readonly kind?: PartKind;
  readonly sizes: Readonly<Partial<Record<SizeName, number>>>;
  readonly slidesOn_mm?: readonly number[];
  readonly drive?: DriveTool;
}

/** One size of a match. `off` is what was read less the nearest size the part may have; mm or turns. */
export interface SizeFit {
  readonly name: SizeName;
  readonly read: number;
  readonly nominal: number;
  readonly off: number;
  /** `off` in units of the accuracy, signed alike. */
  readonly accuracies: number;
  /** True when wear explains the sign of `off`. */
  readonly isWearSide: boolean;
}

/** How a reading fits a candidate. */
export interface Fit {
  /** Negative log likelihood, ≥ about 0, dimensionless. */
  readonly cost: number;
  /** Largest misfit of a size in units of its accuracy, ≥ 0. */
  readonly misfit_accuracies: number;
  readonly sizes: readonly SizeFit[];
}

/** Accuracy of one size, k = 2: the calliper's for lengths, the gauge's for pitch, half a turn for a count. */
export function accuracyOf(name: SizeName, accuracy_mm: number): number {
  return name === 'pitch_mm' ? PITCH_ACCURACY_mm : name === 'turns_in_10mm' ? TURNS_ACCURACY : accuracy_mm;
}

function rangeOf(name: SizeName): number {
  return name === 'pitch_mm'
    ? BELIEFS.unknownPitch_mm
    : name === 'turns_in_10mm'
      ? BELIEFS.unknownTurns
      : BELIEFS.unknownRange_mm;
}

/** Negative log likelihood of one size, against the peak of the calliper's own error. */
export function sizeCost(read: number, size: Size, name: SizeName, setting: Setting): number {
  const sd = accuracyOf(name, setting.accuracy_mm) / DEVIATIONS_PER_ACCURACY;
  const peak = logNormal(0) - Math.log(sd);
  const width = size.high - size.low;
  const whole =
    width < sd * 1e-6
      ? logNormal((read - size.nominal) / sd) - Math.log(sd)
      : logShareBetween((size.low - read) / sd, (size.high - read) / sd) - Math.log(width);
  if (!setting.wear || size.wears === 0) return peak - whole;
  const gone = size.wears === 1 ? read - size.high : size.low - read;
  const worn = logNormalPlusExponential(gone, sd, BELIEFS.meanWear_mm);
  return peak - logSum(Math.log(1 - BELIEFS.wornShare) + whole, Math.log(BELIEFS.wornShare) + worn);
}

/** Cost of a size the part does not tell: spread over its whole range. */
function unknownSizeCost(name: SizeName, setting: Setting): number {
  const sd = accuracyOf(name, setting.accuracy_mm) / DEVIATIONS_PER_ACCURACY;
  return logNormal(0) - Math.log(sd) + Math.log(rangeOf(name));
}

function sizeFit(name: SizeName, read: number, size: Size, setting: Setting): SizeFit {
  const nearest = Math.min(Math.max(read, size.low), size.high);
  const off = read - nearest;
  return {
    name,
    read,
    nominal: size.nominal,
    off,
    accuracies: off / accuracyOf(name, setting.accuracy_mm),
    isWearSide: size.wears !== 0 && Math.sign(off) === size.wears,
  };
}

/** Negative log chance that a bore slides on an axle: it must clear one of its diameters, and not hang loose on it. */
function slideCost(axles_mm: readonly number[], bore: Size | undefined, setting: Setting): number {
  // An untold bore may slide on anything as well as not.
  if (!bore) return Math.log(2);
  const sd = setting.accuracy_mm / DEVIATIONS_PER_ACCURACY;
  const loosest = LIMITS.spacerFit_mm.value;
  const best = Math.max(
    ...axles_mm.map((axle) => logShareBetween((bore.low - axle - loosest) / sd, (bore.high - axle) / sd)),
  );
  return Math.min(-best, -Math.log(BELIEFS.misread));
}

/** True when a tool found to fit is the tool the part is made for. */
export function isSameDrive(one: DriveTool, other: DriveTool): boolean {
  return one.tool === other.tool && Math.abs(one.size_mm - other.size_mm) < 0.3;
}

function driveCost(drive: DriveTool, target: Target): number {
  if (target.drives.length === 0) return -Math.log(BELIEFS.unknownDrive);
  return target.drives.some((known) => isSameDrive(known, drive))
    ? -Math.log(1 - BELIEFS.misread)
    : -Math.log(BELIEFS.misread);
}

function kindCost(kind: PartKind, target: Target): number | undefined {
  if (target.kind === undefined) return hasDrive(kind) ? 0 : undefined;
  if (target.kind === kind) return 0;
  return kindOf({ kind }).family === kindOf({ kind: target.kind }).family ? -Math.log(BELIEFS.kindMisread) : undefined;
}

/** True when a part of a kind can show everything a reading gives. */
function canShow(read: Read, target: Target): boolean {
  if (target.kind === undefined) return read.sizes.thread_mm !== undefined;
  const shown = sizesOfKind(target.kind);
  if (read.drive && !hasDrive(target.kind)) return false;
  if (read.slidesOn_mm && !shown.includes('bore_mm')) return false;
  return SIZE_NAMES.every((name) => read.sizes[name] === undefined || shown.includes(name));
}

/** How a reading fits a candidate; undefined where it cannot be meant at all (another kind, a size it cannot have). */
export function misfit(read: Read, target: Target, setting: Setting): Fit | undefined {
  let cost = read.kind === undefined ? 0 : kindCost(read.kind, target);
  if (cost === undefined || !canShow(read, target)) return undefined;
  const sizes: SizeFit[] = [];
  for (const name of SIZE_NAMES) {
    const value = read.sizes[name];
    if (value === undefined) continue;
    const size = target.sizes[name];
    cost += size ? sizeCost(value, size, name, setting) : unknownSizeCost(name, setting);
    if (size) sizes.push(sizeFit(name, value, size, setting));
  }
  if (read.slidesOn_mm) cost += slideCost(read.slidesOn_mm, target.sizes.bore_mm, setting);
  if (read.drive) cost += driveCost(read.drive, target);
  return { cost, misfit_accuracies: sizes.reduce((worst, fit) => Math.max(worst, Math.abs(fit.accuracies)), 0), sizes };
}

/** The stated price of leaving a reading unmatched: the same negative log likelihood for a part of unknown sizes. */
export function foreignCost(read: Read, setting: Setting): number {
  let cost = -Math.log(BELIEFS.foreignShare);
  for (const name of SIZE_NAMES) if (read.sizes[name] !== undefined) cost += unknownSizeCost(name, setting);
  if (read.slidesOn_mm) cost += Math.log(2);
  if (read.drive) cost += -Math.log(BELIEFS.unknownDrive);
  return cost;
}
