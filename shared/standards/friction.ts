/**
 * Friction of threads and of the faces that turn under torque, as bands.
 *
 * A table: each thread treatment of a model is one of the VDI 2230 friction classes A to E (sources FRIC, P681, AMES),
 * with low and high ends as published and a nominal value of ours inside the band. Beside it the nut factors K met in
 * workshops (SWK and two shop sheets). Convention: coefficients are dimensionless; the thread's is the one along the
 * flank (VDI 2230's μ_G), the face's that of the annulus under the turning head or nut (μ_K). A band is what is known
 * of a joint nobody has measured; preload follows as a band and never as a number.
 */
import { refuse } from './guard.ts';

/** A coefficient of friction with its ends; dimensionless, 0 < low ≤ nominal ≤ high. */
export interface FrictionBand {
  readonly low: number;
  readonly nominal: number;
  readonly high: number;
}

/** How a thread (or the face that turns on its seat) was prepared; the words of a model's `thread_treatment`. */
export const THREAD_TREATMENTS = ['dry', 'oiled', 'greased', 'threadlocked', 'anti-seize'] as const;
/** One of `THREAD_TREATMENTS`. */
export type ThreadTreatment = (typeof THREAD_TREATMENTS)[number];

/** One row of VDI 2230's classes; class E has no upper end. */
export interface FrictionClass {
  readonly low: number;
  readonly high?: number;
  /** What the class stands for, in our words. */
  readonly standsFor: string;
  readonly source: string;
}

const CLASSES = 'VDI 2230 friction classes (FRIC, P681, AMES)';

/** VDI 2230 friction classes; the same ends hold for thread and face. */
export const FRICTION_CLASSES: Readonly<Record<'A' | 'B' | 'C' | 'D' | 'E', FrictionClass>> = {
  A: { low: 0.04, high: 0.1, standsFor: 'MoS2, graphite, PTFE or wax in the thread', source: CLASSES },
  B: { low: 0.08, high: 0.16, standsFor: 'grease, oil, as delivered; light alloys with lubricant', source: CLASSES },
  C: { low: 0.14, high: 0.24, standsFor: 'nothing or hardly oiled; adhesive in the thread', source: CLASSES },
  D: { low: 0.2, high: 0.35, standsFor: 'austenitic steel with oil', source: CLASSES },
  E: { low: 0.3, standsFor: 'dry zinc alloy, austenitic steel or light alloy', source: CLASSES },
};

/** Friction of one treatment, on the flank and on the face that turns. */
export interface ThreadFriction {
  readonly thread: FrictionBand;
  /** The face when it had the same treatment; a threadlocked thread has a dry face unless it was greased. */
  readonly face: FrictionBand;
  /** VDI 2230 classes the band spans. */
  readonly classes: string;
  readonly source: string;
}

const NOMINAL = 'nominal: ours, inside the band';
const classA: FrictionBand = { low: 0.04, nominal: 0.08, high: 0.1 };
const classB: FrictionBand = { low: 0.08, nominal: 0.12, high: 0.16 };
const classC: FrictionBand = { low: 0.14, nominal: 0.18, high: 0.24 };
const classCtoD: FrictionBand = { low: 0.14, nominal: 0.2, high: 0.35 };

/** Friction bands by treatment. 'Dry' spans classes C and D, since a dry light alloy rubs harder than dry steel. */
export const FRICTION: Readonly<Record<ThreadTreatment, ThreadFriction>> = {
  dry: { thread: classCtoD, face: classCtoD, classes: 'C-D', source: `${CLASSES}; span C-D and ${NOMINAL}` },
  oiled: {
    thread: { ...classB, nominal: 0.14 },
    face: { ...classB, nominal: 0.14 },
    classes: 'B',
    source: `${CLASSES}; ${NOMINAL}`,
  },
  greased: { thread: classB, face: classB, classes: 'B', source: `${CLASSES}; ${NOMINAL}` },
  threadlocked: { thread: classC, face: classC, classes: 'C', source: `${CLASSES}; ${NOMINAL}` },
  'anti-seize': { thread: classA, face: classA, classes: 'A', source: `${CLASSES}; ${NOMINAL}` },
};

/** The friction row of a treatment; throws a RangeError for a treatment the table lacks. */
export function friction(treatment: ThreadTreatment): ThreadFriction {
  return Object.hasOwn(FRICTION, treatment)
    ? FRICTION[treatment]
    : refuse('friction', 'treatment', treatment, THREAD_TREATMENTS.join(', '));
}

/** One published nut factor K in T = K·F·d; dimensionless. */
export interface NutFactorRow {
  readonly surface: string;
  readonly nutFactor: number;
  readonly source: string;
}

const SWK = 'SWK';

/** Published nut factors, for the line beside the long form; never used for a verdict. */
export const NUT_FACTORS: readonly NutFactorRow[] = [
  { surface: 'unplated, black', nutFactor: 0.3, source: SWK },
  { surface: 'zinc plated', nutFactor: 0.2, source: SWK },
  { surface: 'lubricated', nutFactor: 0.18, source: SWK },
  { surface: 'cadmium plated', nutFactor: 0.16, source: SWK },
  { surface: 'anti-seize paste', nutFactor: 0.12, source: SWK },
  { surface: 'not known', nutFactor: 0.2, source: SWK },
  { surface: 'threadlocker on steel', nutFactor: 0.14, source: 'one unsourced sheet, weak' },
];
