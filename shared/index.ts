/**
 * The one door of the core: every name that the app, the command line, the worker and the tests may use.
 *
 * The core imports no React, no three, no DOM and nothing of node. Data flows one way: file → model → profiles →
 * contacts → findings; see DEVELOPERS.md for the map.
 */
export { analyse } from './analyse.ts';
export type { AnalyseOptions } from './analyse.ts';
export { checkClamp, clamp } from './clamp/clamp.ts';
export type { ClampProblem, ClampResult, ContactLaw, PullLaw, SpringLaw } from './clamp/clamp.ts';
export { bandArea_mm2, gap } from './contact.ts';
export type { Gap } from './contact.ts';
export type { Assumptions } from './joint.ts';
export { LIMITS } from './limits.ts';
export { checkModel } from './model/check.ts';
export { PROBLEM_CODES } from './model/problems.ts';
export type { Problem, ProblemCode } from './model/problems.ts';
export { DEEPEST, LARGEST_FILE, readData, readModel } from './model/read.ts';
export type { Reading } from './model/read.ts';
export { borePlace, receiverBore, resolveBearing } from './model/resolve.ts';
export type { ResolvedBearing } from './model/resolve.ts';
export { linkageModel } from './model/schema.ts';
export type {
  DriveTool, Head, LinkageModel, Member, MemberBore, Obstacle, Part, PartKind, PartOf, Pivot, RowEntry, Side, Stack, Thread, Variant, Web,
} from './model/schema.ts';
export { applyVariant } from './model/variant.ts';
export { bossSolid } from './profile/member.ts';
export { partProfile, shankLength_mm } from './profile/parts.ts';
export type { PartProfile } from './profile/parts.ts';
export { mirrorPolygon, revolvedVolume_mm3, ringPolygon, shiftPolygon } from './profile/polygon.ts';
export { isSamePart, sizeDifferences } from './slips/alike.ts';
export type { SizeName } from './slips/alike.ts';
export type { RevealingCheck } from './slips/check.ts';
export { dragOf, frictionRadius_mm, frictionTorque_Nm } from './slips/felt.ts';
export type { Drag, LetGo } from './slips/felt.ts';
export { SLIP_LIMITS } from './slips/limits.ts';
export { applySlip, listSlips, SLIP_KINDS, slipItems, undoSlip } from './slips/list.ts';
export type { Slip, SlipKind } from './slips/list.ts';
export { everyPlacement, placementOf, placements } from './slips/placements.ts';
export type { Placement, Placements } from './slips/placements.ts';
export { rankSlips, slips, trySlips } from './slips/table.ts';
export type { SlipStep, SlipsOptions } from './slips/table.ts';
export { beginSlips, trySlip } from './slips/try.ts';
export type { Assembly, BenchFeel, TouchedFace, TrailEffect, TriedSlip } from './slips/try.ts';
export { weightMoment } from './slips/weight.ts';
export { inAxleOrder, spread, spreadPivot, SPREAD_GAP_mm } from './spread.ts';
export { material, metricThread } from './standards/index.ts';
export type { MaterialKey } from './standards/index.ts';
export { FINDING_CODES } from './types.ts';
export type {
  Analysis, Balls, Bears, ClampCheck, ColumnLink, Corner, FaceReading, Finding, FindingCode, Measure, Passage, PivotAnalysis, PlacedItem, Polygon,
  Severity, Solid, SolidRole, StackAnalysis, Step, StepKind, StepPlace, Tightening, Touch, Verdict,
} from './types.ts';
export {
  CAUTIONS, nameOf, sideWord, wordBears, wordFace, wordFacing, wordFinding, wordForce, wordMeasure, wordProblem, wordProblemCode, wordStep, wordTool,
  wordTreatment, wordTurn, wordVerdict,
} from './wording.ts';
export type { Worded, WordedStep } from './wording.ts';
export {
  asSlipped, wordBench, wordBrief, wordCheck, wordFeel, wordPlacements, wordSlip, wordSlipFinding, wordSlipKind, wordSlipVerdict, wordTrail, wordTried,
} from './wording-slips.ts';
export type { WordedSlip } from './wording-slips.ts';
