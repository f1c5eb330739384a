/**
 * The door of the standards layer: every name the rest of the core may use, listed by hand.
 *
 * The layer is the only place where numbers of a standard or a data sheet stand; each carries its source. It imports
 * nothing but itself.
 */
export {
  BEARINGS,
  CLEARANCE_GROUPS,
  GROOVE_CONSTANTS,
  PURE_AXIAL_SHARE,
  axialPlayExact_mm,
  axialPlay_mm,
  boreTolerance,
  estimateAxialPlay_mm,
  estimateAxialStiffness_N_per_mm,
  estimateBalls,
  estimateShoulders,
  estimateStaticRating_N,
  findBearing,
  grooveOffset_mm,
  nearestClearance,
  outsideTolerance,
  radialClearance,
  ringWidthTolerance,
  suggestBearing,
} from './bearings.ts';
export type {
  BearingBore,
  BearingRow,
  Clearance,
  ClearanceGroup,
  EstimatedFigure,
  RingTolerance,
  ShoulderEstimate,
} from './bearings.ts';
export { HOLE_SYMBOLS, SHAFT_SYMBOLS, deviation, fit, nearestDeviation, sizeLimits } from './fits.ts';
export type { Bounded, Deviation, Fit, FitSymbol, HoleSymbol, ShaftSymbol } from './fits.ts';
export { FRICTION, FRICTION_CLASSES, NUT_FACTORS, THREAD_TREATMENTS, friction } from './friction.ts';
export type { FrictionBand, FrictionClass, NutFactorRow, ThreadFriction, ThreadTreatment } from './friction.ts';
export { bushPressure_MPa, fittedBore_mm, LINING_PRESSURE, LINING_KEYS } from './bushes.ts';
export { circlipFor, grooveLoad_N } from './circlips.ts';
export { STEEPEST_CONE, discSpring, nested, waveWasher } from './springs.ts';
export type { SpringCurve } from './springs.ts';
export { MATERIALS, MATERIAL_KEYS, material } from './materials.ts';
export type { Material, MaterialFamily, MaterialKey } from './materials.ts';
export { pressure_MPa, seatPress, shankPress } from './press-fit.ts';
export type { Elastic, PressFit, PressedBearing } from './press-fit.ts';
export { axialLoad_N, axialShift_mm, contactConstant, freeShift_mm } from './point-contact.ts';
export type { BallGeometry } from './point-contact.ts';
export {
  PROPERTY_CLASS_KEYS,
  THREADS,
  coarsePitch_mm,
  engagementRule,
  findThread,
  leastEngagement_mm,
  metricThread,
  nearestThread,
  propertyClass,
} from './threads.ts';
export type { EngagementRule, MetricThread, PropertyClass, PropertyClassKey, ThreadRow } from './threads.ts';
export { tighteningTurn } from './tightening.ts';
export type { BikeSide, Turn, TurnQuestion } from './tightening.ts';
export {
  nutFactor,
  preloadAtYield,
  preloadBand,
  preloadFromNutFactor,
  preloadFromTorque,
  tighteningStress,
  torqueFromNutFactor,
  torqueFromPreload,
  wrenchScatter,
  wrenchSetting,
} from './torque.ts';
export type { PreloadBand, ScrewFriction, ScrewSection, TighteningStress } from './torque.ts';
