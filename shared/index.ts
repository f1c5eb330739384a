/**
 * The one door of the core: every name that the app, the command line, the worker and the tests may use.
 *
 * The core imports no React, no three, no DOM and nothing of node. Data flows one way: file → model → profiles →
 * contacts → findings; see DEVELOPERS.md for the map.
 */
export { analyse, analyseChange, analyseReached } from './analyse.ts';
export type { AnalyseOptions } from './analyse.ts';
export { checkClamp, clamp } from './joint/clamp.ts';
export type { ClampProblem, ClampResult, ContactLaw, PullLaw, SpringLaw } from './joint/clamp.ts';
export { gap, pressedArea_mm2 } from './joint/contact.ts';
export type { Gap } from './joint/contact.ts';
export { LIMITS } from './limits.ts';
export { checkModel } from './model/check.ts';
export { MOST_PROBLEMS, nearestName, PROBLEM_CODES } from './model/problems.ts';
export type { Problem, ProblemCode } from './model/problems.ts';
export { DEEPEST, LARGEST_FILE, readData, readModel } from './model/read.ts';
export type { Reading } from './model/read.ts';
export { spotsOf } from './model/where.ts';
export type { Spot } from './model/where.ts';
export { resolveModel } from './model/resolve.ts';
export type { ResolvedModel } from './model/resolve.ts';
export { resolveBearing } from './parts/bearing.ts';
export type { ResolvedBearing } from './parts/bearing.ts';
export { linkageModel } from './model/schema.ts';
export { draftBody } from './envelope/draft.ts';
export { harmless, harmlessLines } from './numbers/harmless.ts';
export type {
  DriveTool,
  LinkageModel,
  Member,
  MemberBore,
  Obstacle,
  Part,
  PartKind,
  PartOf,
  Pivot,
  RowEntry,
  Side,
  Stack,
  Thread,
  Variant,
  Web,
} from './model/schema.ts';
export { applyVariant } from './model/variant.ts';
export { figure, otherSide } from './numbers/figures.ts';
export { csv } from './numbers/table.ts';
export { capital } from './words/figures.ts';
export type { Shift } from './order/bodies.ts';
export { frameAt, motionsIn, motionsOf, stretchOf, undone } from './order/motion.ts';
export type { Frame, ItemPose, ToolPose } from './order/motion.ts';
export type { Cost } from './order/best.ts';
export { ORDER_COSTS, ORDER_LIMITS, TOOL_SIZES } from './order/limits.ts';
export type { StepMotion } from './order/motion.ts';
export { checkOrder, compareVariants, comparing, planning, planOf, stepsInOrder, torqueList } from './order/plan.ts';
export type {
  Follow,
  MakersOrder,
  OrderCheck,
  OrderFault,
  Plan,
  PlanCount,
  PlanEdge,
  PlanTask,
  TorqueRow,
  VariantOrder,
} from './order/plan.ts';
export type { Approach } from './order/room.ts';
export { accessOf, accessTargets, stripOf, targetOf } from './order/strip.ts';
export type { Access, AccessTarget, Strip, StripOnlyKind, StripStep } from './order/strip.ts';
export { FITS, REASON_CODES, TASK_KINDS } from './order/tasks.ts';
export type {
  Because,
  BenchTool,
  Block,
  DriveInHand,
  PlanStep,
  PlanStepKind,
  PlanTool,
  Reason,
  ReasonCode,
  TaskKind,
} from './order/tasks.ts';
export { bossSolid } from './joint/member.ts';
export { kindNamed, kindOf, PART_KINDS, partProfile } from './parts/kinds.ts';
export { isLookAlike, isSamePart, lookAlikes, LOOK_ALIKE_LIMITS, sizeDifferences } from './parts/look-alike.ts';
export type { LookAlike, SizeDifference } from './parts/look-alike.ts';
export { calliperPlace, partSizes, sizesAsked, sizesOfKind, wordsOfSize } from './parts/measuring.ts';
export { SIZE_NAMES } from './parts/sizes.ts';
export type { CalliperPlace, SizeName as CalliperSize } from './parts/sizes.ts';
export { shankLength_mm } from './parts/shanked.ts';
export { ballRows } from './profile/solid.ts';
export type { PartProfile } from './profile/solid.ts';
export { mirrorPolygon, revolvedVolume_mm3, tubePolygon, shiftPolygon } from './profile/polygon.ts';
export { frictionRadius_mm, frictionTorque_Nm } from './joint/rubbing.ts';
export type { Drag } from './mistakes/felt.ts';
export {
  addBoss,
  addPart,
  addPivot,
  duplicateItem,
  mirrorItem,
  removeItem,
  stackIn,
  tellApart,
  usesOf,
  withStack,
} from './measure/make.ts';
export type { Made } from './measure/make.ts';
export { bandsOf } from './measure/bands.ts';
export { accuracyOf, bandOf, readingsOf } from './measure/known.ts';
export { pathKeys, pathText, valueAt } from './measure/path.ts';
export { sizePaths } from './envelope/draft.ts';
export { BEARINGS, CLEARANCE_GROUPS as CLEARANCES, findBearing } from './standards/bearings.ts';
export { MANNERS } from './measure/manners.ts';
export type { Manner, MannerKey } from './measure/manners.ts';
export { MISTAKE_LIMITS } from './mistakes/limits.ts';
export { canTurnNut, editModel, editRow, mayEdit, mayGo, mistakeOf } from './mistakes/edit.ts';
export type { MayEdit, RowEdit, StackEdit, WorkedRow } from './mistakes/edit.ts';
export { applyMistake, listMistakes, MISTAKE_KINDS, mistakeItems } from './mistakes/list.ts';
export type { Mistake, MistakeKind } from './mistakes/list.ts';
export { placements } from './mistakes/placements.ts';
export type { Placement, Placements } from './mistakes/placements.ts';
export { rankMistakes, mistakes, tryMistakes } from './mistakes/table.ts';
export { beginMistakes, tryMistake } from './mistakes/try.ts';
export type { TriedMistake } from './mistakes/try.ts';
export { weightMoment } from './mistakes/weight.ts';
export { benchAnswer, FIND_LEVELS, findDrill, isFound, minutesOf, opensFor } from './practice/find.ts';
export type { BenchAnswer, BenchCheck, FindDrill } from './practice/find.ts';
export { gradeOf } from './practice/grade.ts';
export type { Grade } from './practice/grade.ts';
export { GREASED, judgeLaid, layDrill, layStacks, WORKS } from './practice/lay.ts';
export type { Greased, LaidRow, LayAnswer, LayDrill, LayFault, Treatment, TurnedEnd, Work } from './practice/lay.ts';
export { lessonBody } from './envelope/lesson.ts';
export type { Lesson, LessonCard } from './envelope/lesson.ts';
export { cardShown, lessonTroubles, lessonView } from './practice/lesson.ts';
export type { CardShown, LessonTrouble, LessonView } from './practice/lesson.ts';
export { PRACTICE_LIMITS } from './practice/limits.ts';
export { rightOf, SIGHT_KINDS, sightQuestion } from './practice/sight.ts';
export type { SightChoice, SightKind, SightQuestion } from './practice/sight.ts';
export { diagnose, settingUpFelt } from './felt/diagnose.ts';
export type { Diagnosing, Diagnosis, FeltAnswer, NextCheck, RankedCause } from './felt/diagnose.ts';
export type { Cause, Priors } from './felt/causes.ts';
export { CAUSE_KINDS, FELT_LIMITS, PRIORS } from './felt/limits.ts';
export type { CauseKind } from './felt/limits.ts';
export { readFelt, withAnswers } from './felt/read.ts';
export { FELT_CODES, SIDED } from './felt/symptoms.ts';
export type { Ask, SymptomCode } from './felt/symptoms.ts';
export { assign } from './sort/assign.ts';
export type { AssignProblem, Assignment } from './sort/assign.ts';
export { differences, listed, nearestLookAlike, nearestOf, standardCandidates } from './sort/candidates.ts';
export type { Candidate, Difference } from './sort/candidates.ts';
export { readDrive, readLength, readNumber, readReadings, readThread } from './sort/csv.ts';
export { groupsByEye } from './sort/by-eye.ts';
export { measuredSizes, withMeasured } from './sort/measured.ts';
export type { MeasuredModel, MeasuredSize } from './sort/measured.ts';
export { BELIEFS } from './sort/misfit.ts';
export type { Fit, Setting as TraySetting, SizeFit } from './sort/misfit.ts';
export { nextForRow, nextReading } from './sort/next.ts';
export type { NextName, NextReading } from './sort/next.ts';
export { placesOf } from './sort/places.ts';
export type { PartPlace } from './sort/places.ts';
export {
  checkReadings,
  DEFAULT_SETTING,
  DRIVE_TOOLS,
  isEmptyReading,
  readReading,
  READING_PROBLEM_CODES,
} from './sort/reading.ts';
export type { CalliperReading, ReadingProblem, ReadingProblemCode, Readings, ReadingsResult } from './sort/reading.ts';
export { CLOSE_ODDS, sortTray } from './sort/tray.ts';
export type { Alternative, Placement as TrayPlacement, Tray, TrayRow, Worn } from './sort/tray.ts';
export { inAxleOrder, layApart, spread, spreadPivot, SPREAD_GAP_mm, type ApartOf, type Eye } from './apart.ts';
export { GENERAL_CLASSES } from './standards/general-tolerances.ts';
export type { GeneralClass } from './standards/general-tolerances.ts';
export { material, MATERIAL_KEYS, metricThread, THREAD_TREATMENTS, THREADS } from './standards/index.ts';
export type { MaterialKey } from './standards/index.ts';
export { clearances, hullGap } from './travel/clearance.ts';
export { fall, pivotDrags } from './travel/fall.ts';
export type { Fall, PivotDrag } from './travel/fall.ts';
export { linkageOf } from './travel/linkage.ts';
export { outlinesOf } from './travel/outline.ts';
export type { Outline } from './travel/outline.ts';
export type { Motion, Place } from './travel/planar.ts';
export { axleAt, memberMotions, pivotPlaces, poseAt, runShock, turnsAt } from './travel/poses.ts';
export type { Pose, Run } from './travel/poses.ts';
export { DEFAULT_LOAD_N, travel, travelling, TRAVEL_FINDING_CODES } from './travel/travel.ts';
export type {
  Travel,
  TravelFinding,
  TravelFindingCode,
  TravelOptions,
  TravelPose,
  TravelResult,
} from './travel/travel.ts';
export { SET_CLASSES, setUpSets } from './tolerance/sets.ts';
export type { Build, SetTrial, SetClass } from './tolerance/sets.ts';
export type { Dimension, ToleranceOptions } from './tolerance/dimensions.ts';
export { checkTolerances, listDimensions } from './tolerance/report.ts';
export type { ChainReport, ToleranceQuestion, ToleranceReport } from './tolerance/report.ts';
export { DEFAULT_SETS, sampleSets } from './tolerance/sampling.ts';
export type { Bin, Sampling, Spread } from './tolerance/sampling.ts';
export { stackUp } from './tolerance/stack-up.ts';
export type { ChainTerm } from './tolerance/stack-up.ts';
export { torqueStack, setUpTorque } from './torque/setup.ts';
export type { TorqueStack } from './torque/setup.ts';
export { torqueCards } from './torque/card.ts';
export type { TorqueCard, WrenchInHand } from './torque/card.ts';
export { TORQUE_LIMITS } from './torque/limits.ts';
export { torqueForClamp } from './torque/reverse.ts';
export type { TorqueForClamp } from './torque/reverse.ts';
export { inAllUnits, toNm, TORQUE_UNITS, unitOf } from './torque/units.ts';
export { limitsOf, torqueWindow, WINDOW_LIMITS } from './torque/window.ts';
export type { TorqueWindow } from './torque/window.ts';
export { adviseWrench, judgeWrench } from './torque/wrench.ts';
export type { Adapter, WrenchAdvice } from './torque/wrench.ts';
export { FINDING_CODES } from './types.ts';
export type {
  Analysis,
  Balls,
  Bears,
  ColumnLink,
  Corner,
  FaceReading,
  Finding,
  FindingCode,
  Measure,
  Passage,
  PivotAnalysis,
  PlacedItem,
  Polygon,
  Severity,
  Solid,
  SolidRole,
  StackAnalysis,
  StepPlace,
  Tightening,
  Touch,
  Verdict,
} from './types.ts';
export {
  CAUTIONS,
  nameOf,
  sideWord,
  wordBears,
  wordFace,
  wordFacing,
  wordMarkedFace,
  wordWay,
  wordFinding,
  wordForce,
  wordMeasure,
  wordMoreProblems,
  wordProblem,
  wordProblemCode,
  wordTool,
  wordTreatment,
  wordTurn,
  wordVerdict,
  wordWeakest,
} from './words/fit.ts';
export { toldVerdict } from './findings/told.ts';
export type { Worded } from './words/fit.ts';
export {
  wordBecause,
  wordBlock,
  wordChange,
  wordCost,
  wordCount,
  wordFault,
  wordTask,
  wordMoved,
  wordOwn,
  wordMakersOrder,
  wordAccess,
  wordAccessTarget,
  wordReason,
  wordRecommended,
  wordVariantOrder,
} from './words/order.ts';
export type { WordedAccess } from './words/order.ts';
export {
  HAND_OVER_LINES,
  OWNER_LINES,
  SHEET_WORDS,
  sheetCautions,
  wordInsertion,
  wordTightening,
} from './words/sheet.ts';
export { wordPlanStep, wordPlanTool } from './words/steps.ts';
export type { WordedStep } from './words/steps.ts';
export { wordStripStep } from './words/taking-apart.ts';
export {
  asMistaken,
  wordBrief,
  wordCheck,
  wordFeel,
  wordPlacements,
  wordMistake,
  wordMistakeFinding,
  wordMistakeKind,
  wordTried,
} from './words/mistakes.ts';
export {
  wordAsk,
  wordCause,
  wordCauseKind,
  wordDiagnosis,
  wordNextCheck,
  wordFeltQuestion,
  wordRemedy,
  wordSymptom,
} from './words/felt.ts';
export {
  wordAlternative,
  wordDifference,
  wordEyeGroup,
  wordHow,
  wordKind,
  wordMeasured,
  wordMissing,
  wordNext,
  wordOdds,
  wordPartPlace,
  wordPlaceBrief,
  wordReading,
  wordReadingProblem,
  wordReadingSizes,
  wordReadingTrouble,
  wordSetting,
  wordSize,
  wordSizeValue,
  wordTrayRow,
  wordWorn,
} from './words/sort.ts';
export {
  wordAngle,
  wordDrag,
  wordFall,
  wordJoint,
  wordLowPivots,
  wordPassing,
  wordPivotReason,
  wordPivotTravel,
  wordPlace,
  wordRanking,
  wordSafeties,
  wordTravelFeel,
  wordTurns,
  wordTravelFinding,
  wordTravelVerdict,
} from './words/travel.ts';
export {
  wordAdapter,
  wordSetClass,
  wordChain,
  wordChoice,
  wordDimension,
  wordDimensionLimits,
  wordFades,
  wordSecuring,
  wordSlips,
  wordTooLittle,
  wordFriction,
  wordPair,
  wordHabit,
  wordLimit,
  wordOtherUnits,
  wordSampling,
  wordShims,
  wordShortForm,
  wordTake,
  wordTorque,
  wordTorqueForClamp,
  wordWindow,
  wordWindowStrip,
  wordWrench,
} from './words/torque.ts';
export {
  ENVELOPE_TROUBLE_CODES,
  looksLikeEnvelope,
  readAs,
  readEnvelope,
  writeEnvelope,
} from './envelope/envelope.ts';
export type { EnvelopeKind, EnvelopeReading, EnvelopeTrouble } from './envelope/envelope.ts';
export { JOB_FEELS, STOPS } from './envelope/job.ts';
export type {
  Condition,
  Job,
  JobFeel,
  JobWrench,
  PartMark,
  SeatMark,
  StepMark,
  StopCode,
} from './envelope/job.ts';
export { jobBike, watching } from './job/bike.ts';
export type { JobBike, Silent } from './job/bike.ts';
export { calendar, dayOf } from './job/calendar.ts';
export type { CalendarEntry } from './job/calendar.ts';
export type { JobSubject, MeasuredLimit, Subject } from './job/condition.ts';
export { emptyJob, fieldOf as jobField, fieldsOfJob, jobFrom, keptJob, nextJob } from './job/fields.ts';
export type { Compared, CompareTool, Draft, DraftModel, SizeEntry, SizeOrigin, SizeReading } from './envelope/draft.ts';
export { completed, draftOf, questionsOf, readDraft, readDraftData, setSize, writeDraft } from './measure/draft.ts';
export type { Assumed, Completed, DraftQuestion, DraftReading } from './measure/draft.ts';
export { MEASURE_LIMITS } from './measure/limits.ts';
export type { BandOrigin, SizeBand } from './measure/known.ts';
export { asker, askOf } from './measure/ask.ts';
export { comparisonsOf } from './measure/compare.ts';
export type { Comparison } from './measure/compare.ts';
export type { Asked, NextMeasure } from './measure/ask.ts';
export { benchesOf, completionsOf } from './measure/bench.ts';
export { verdictsOf } from './measure/judge.ts';
export type { Deciding, DraftVerdict } from './measure/judge.ts';
export { adjust, misfitsOf } from './measure/adjust.ts';
export { proofKey, proofOf } from './measure/proof.ts';
export type { Proof, ProofStep } from './measure/proof.ts';
export { sizesOf } from './measure/sizes.ts';
export type { DraftSize, SizeOwner } from './measure/sizes.ts';
export {
  wordBand,
  wordComparing,
  wordComparison,
  wordDraftHow,
  wordDraftQuestion,
  wordDraftSize,
  wordDraftSizeOf,
  wordDraftVerdict,
  wordGuesses,
  wordNextHow,
  wordNextMeasure,
  wordNextWhy,
  wordOrigin,
  wordProofEnd,
  wordProofStep,
  wordRange,
} from './words/measure.ts';
export { findCamera, placeAt } from './photo/camera.ts';
export { sideOf } from './photo/side.ts';
export type { Board as PhotoBoard, Side as PhotoSide } from './photo/side.ts';
export type { Camera, Found as PhotoPlace, Mark as PhotoMark, PhotoKnown } from './photo/camera.ts';
export { photoHeader } from './photo/header.ts';
export type { PhotoHeader } from './photo/header.ts';
export { distorted, undistorted } from './photo/lens.ts';
export { PHOTO_LIMITS } from './photo/limits.ts';
export { mapped, planeMap } from './photo/plane.ts';
export { huberWeights, spreadOf } from './photo/robust.ts';
export { JOB_LIMITS } from './job/limits.ts';
export { isEnough, learned, learnedCsv } from './job/learned.ts';
export type { Learned } from './job/learned.ts';
export type { Consumable, JobTool, OrderLine } from './job/supplies.ts';
export { jobView, OPEN_CODES } from './job/view.ts';
export type { JobDecision, JobStep, JobView, Need, OpenItem } from './job/view.ts';
export {
  AS_IT_CAME_WORDS,
  CONDITION_WORDS,
  JOB_DRAFT_WORDS,
  JOB_FEEL_WORDS,
  STAND_INS,
  STEP_STATE_WORDS,
  wordCalendar,
  wordConsumable,
  wordDecision,
  wordFound,
  wordJobStep,
  wordJobTool,
  wordLearned,
  wordMinutes,
  wordNeed,
  wordOpen,
  wordOrderLine,
  wordSecond,
  wordStop,
  wordSubject,
  wordWrenchFit,
} from './words/job.ts';
export type { WordedStop, WordTime } from './words/job.ts';
export { spoken } from './words/spoken.ts';
export { keptEvent, thingName } from './envelope/kept.ts';
export type { KeptBody } from './envelope/kept.ts';
export { GRADES, keptProgress, PRACTICE_THING, progressBody, RUN_FIELD } from './envelope/progress.ts';
export type { DrillDone, PractisedBody } from './envelope/progress.ts';
export {
  checkSum,
  joined,
  logOf,
  nextCounter,
  ordered,
  redoing,
  settingOver,
  stepsLeft,
  sumOf,
  undoing,
} from './envelope/log.ts';
export type { FieldValue, KeptEvent, Log, Setting, Sum, Turning } from './envelope/log.ts';
export { wordEnvelopeTrouble } from './words/envelope.ts';
export {
  wordBenchAnswer,
  wordBenchCheck,
  wordEnd,
  wordGreased,
  wordLayFault,
  wordQuestion,
  wordSightChoice,
  wordSightWhy,
  wordThread,
  wordTold,
  wordWork,
} from './words/practice.ts';
export { TRADE_WORDS } from './words/trade.ts';
export type { TradeSubject, TradeWord } from './words/trade.ts';
