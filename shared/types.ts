/**
 * What `analyse(model)` gives: plain data, safe to print as JSON, the one input of picture, row and report.
 *
 * Lengths are mm, forces N, pressures MPa, angles degrees. z runs to the drive side; `nonDrive` is the face toward −z,
 * `drive` the face toward +z. A polygon is closed, in (r, z), without its first point repeated, and stands where the
 * tight joint holds the part. Words are not here: `words/fit.ts` makes them from these data.
 */
export type { Balls, Corner, Polygon, Solid, SolidRole } from './profile/solid.ts';
import type { ResolvedModel } from './model/resolve.ts';
import type { DriveTool, LinkageModel, Side } from './model/schema.ts';
import type { Thread } from './parts/fields.ts';
import type { Balls, Solid, SolidRole } from './profile/solid.ts';

export type Severity = 'stop' | 'warn' | 'note';
export type Verdict = 'sound' | 'faulty' | 'unsure';
/** What a face bears on; `ring` is any loose spacer, `land` the land or face of a head, nut or cap. */
export type Bears = 'inner-ring' | 'outer-ring' | 'seal' | 'arm' | 'land' | 'ring' | 'nothing';

/** One place where a face touches, or nearly touches, a neighbour. */
export interface Touch {
  /** Scene id of the neighbour (`stackId/rowId`). */
  readonly with: string;
  /** Which solid of this part touches (a bearing has several). */
  readonly own: SolidRole;
  readonly bears: Exclude<Bears, 'nothing'>;
  readonly force_N: number;
  /** Free distance along the axis when tight; 0 when pressed together. */
  readonly gap_mm: number;
  /** Radii between which the two faces lie flat on one another; equal ends mean an edge. */
  readonly bands_mm: readonly (readonly [number, number])[];
  readonly pressure_MPa: number;
}

/** One end face of a part in the tight joint. */
export interface FaceReading {
  /** The worst thing the face bears on: outer ring before seal before arm before the rest. */
  readonly bears: Bears;
  /** Whole axial force through the face, N, ≥ 0. */
  readonly force_N: number;
  readonly touches: readonly Touch[];
  /** Nearest thing ahead that it does not touch, for an open face; undefined where nothing lies ahead. */
  readonly nearest?: { readonly with: string; readonly gap_mm: number };
}

/** A thread and its ends along z. */
export interface PlacedThread extends Thread {
  readonly from_mm: number;
  readonly to_mm: number;
  readonly inner: boolean;
}

/** A part, bearing or member boss where it stands when the pivot is tight. */
export interface PlacedItem {
  /** Unique in the model: `stackId/rowId`, with `axle` and `receiver` as the row ids of those two. */
  readonly id: string;
  readonly rowId: string;
  readonly stackId: string;
  readonly pivotId: string;
  /** `lining` is a bush pressed into a boss; `tip` stands on the axle's tip, beyond what receives it. */
  readonly role: 'axle' | 'receiver' | 'spacer' | 'bearing' | 'boss' | 'lining' | 'tip';
  /** Kind of the part, or of the member a boss belongs to. */
  readonly kind: string;
  readonly name: string;
  readonly part?: string;
  readonly member?: string;
  readonly bore?: string;
  /** For a bearing, its circlip or a bush: the bore that it, or its outer ring, is pressed into, the side that seat opens to, and the bearing
   *  it rests on where that is not the shoulder. */
  readonly seat?: { readonly member: string; readonly bore: string; readonly side: Side; readonly on?: string };
  readonly turned: boolean;
  readonly solids: readonly Solid[];
  readonly balls?: Balls;
  /** External or internal thread, its ends along z. */
  readonly thread?: PlacedThread;
  /** Of a spring, which `solids` has as it is pressed: its free shape about the same middle. */
  readonly free?: readonly Solid[];
  /** The second thread of an axle, at its tip. */
  readonly tip_thread?: PlacedThread;
  /** Drive socket or flats, at which end, for the picture. */
  readonly drives: readonly { readonly tool: DriveTool; readonly side: Side; readonly turned: boolean }[];
  /** Non-drive and drive end of the part, mm. */
  readonly from_mm: number;
  readonly to_mm: number;
  /** Moved by tightening, against where the model's members and a hand would place it; mm, + to the drive side. */
  readonly shift_mm: number;
  /** True when it belongs to the clamp column: it should carry the clamp force and stand still. */
  readonly inColumn: boolean;
  /** A ring that is not the same both ways, and where its small face looks. */
  readonly smallFace?: Side;
  readonly nonDrive: FaceReading;
  readonly drive: FaceReading;
}

/** The clamp column between two neighbours of it. */
export interface ColumnLink {
  readonly from: string;
  readonly to: string;
  readonly z_mm: number;
  readonly force_N: number;
  /** > 0 where the column is broken. */
  readonly gap_mm: number;
}

/** Torque and what it does, for one stack. */
export interface Tightening {
  readonly torque_Nm: number;
  readonly preload_N: { readonly low: number; readonly spec: number; readonly high: number };
  readonly threadFriction: { readonly low: number; readonly nominal: number; readonly high: number };
  /** Mean diameter of the face that rubs under what turns, mm. */
  readonly rubbing_mm: number;
  /** The end the wrench works at and where the mechanic stands for it. */
  readonly turned: 'head' | 'tip' | 'receiver';
  readonly stand: Side;
  readonly turn: 'clockwise' | 'anticlockwise';
  readonly tool?: DriveTool;
  /** What goes through the column, by its noun. */
  readonly axle: 'axle' | 'bolt' | 'screw' | 'sleeve';
  /** What takes its thread. */
  readonly receiver: 'nut' | 'screw' | 'member';
  /** What holds still, and with which tool; absent where a member's thread holds. */
  readonly held?: { readonly what: 'axle' | 'receiver'; readonly side: Side; readonly tool?: DriveTool };
  readonly engagement_mm: number;
  readonly engagementNeeded_mm: number;
  readonly axleStress_MPa: number;
  readonly axleYield_MPa: number;
}

/** Whether the axle passes when pushed in from one side. */
export interface Passage {
  readonly from: Side;
  readonly passes: boolean;
  readonly blocks: readonly { readonly with: string; readonly bore_mm: number; readonly axle_mm: number }[];
  /** Why the side cannot serve although every bore is wide enough. */
  readonly reason?: 'receiver-is-here' | 'thread-opens-other-side';
}

export interface StackAnalysis {
  readonly id: string;
  readonly name: string;
  readonly pivotId: string;
  readonly from: Side;
  /** Smallest force that any inner ring (or, without bearings, any spacer) of the column carries. */
  readonly clamp_N: number;
  /** From the non-drive to the drive side, axle and receiver included. */
  readonly items: readonly PlacedItem[];
  readonly column: readonly ColumnLink[];
  readonly tightening: Tightening;
  readonly passage: { readonly nonDrive: Passage; readonly drive: Passage };
}

export interface Measure {
  readonly value: number;
  readonly unit: 'mm' | 'N' | 'N·m' | 'MPa' | '1';
}

/** A verdict as data. */
export interface Finding {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly pivot: string;
  readonly stack?: string;
  /** Scene ids of the items concerned. */
  readonly parts: readonly string[];
  readonly numbers: Readonly<Record<string, Measure>>;
  readonly limit?: Measure & { readonly source: string };
  /** What the finding rests on that was estimated, not given. */
  readonly rests?: readonly string[];
  /** Words that belong to the finding but are no numbers (a side, a name). */
  readonly about?: Readonly<Record<string, string>>;
}

/** Everything the fit check can find; `words/fit.ts` says each, and a fixture stands for each in the tests. */
export const FINDING_CODES = [
  'inner-ring-loose',
  'outer-ring-touched',
  'seal-rubbed',
  'seal-misfitted',
  'spring-misfitted',
  'circlip-misfitted',
  'tip-misfitted',
  'arm-rubbed',
  'arm-drawn',
  'member-off-line',
  'bearing-side-loaded',
  'bearing-not-home',
  'side-play',
  'bottoms-before-clamp',
  'thread-mismatch',
  'thread-too-short',
  'axle-will-not-pass',
  'row-too-long',
  'bore-mismatch',
  'fit-too-tight',
  'fit-too-loose',
  'bearing-recessed',
  'part-missing',
  'part-left-over',
  'face-crushed',
  'axle-overstressed',
  'clamp-too-low',
  'edge-contact',
  'turns-against-habit',
  'torque-too-low',
  'torque-too-high',
  'tool-mismatch',
  'size-doubtful',
  'estimate-used',
] as const;
export type FindingCode = (typeof FINDING_CODES)[number];

export interface PivotAnalysis {
  readonly id: string;
  readonly name: string;
  readonly x_mm: number;
  readonly y_mm: number;
  readonly verdict: Verdict;
  readonly stacks: readonly StackAnalysis[];
  readonly findings: readonly Finding[];
  /** The solver's own check of the joint at the spec torque. */
  readonly check: ClampCheck;
}

/** How well a clamp result holds: all three are 0 in exact arithmetic. */
export interface ClampCheck {
  readonly steps: number;
  /** Largest unbalanced force on any body, N. */
  readonly residual_N: number;
  /** Largest of −gap, −force and gap·force over all contacts, N·mm or N or mm. */
  readonly complementarity: number;
  /** Largest unbalanced force on one side of any cut of the column, N. */
  readonly balance_N: number;
}

/**
 * Where an item is after a step: its distance along z from its tight place, mm (0 = home), and whether it is on the
 * bike.
 */
export interface StepPlace {
  readonly offset_mm: number;
  readonly on: boolean;
}

export interface Analysis {
  /** Equal for equal models and options, in whatever objects they come: what results are kept under. */
  readonly key: string;
  /** As written, its variant applied. */
  readonly model: LinkageModel;
  /** The same with every reference the thing itself. */
  readonly resolved: ResolvedModel;
  readonly variant?: string;
  readonly verdict: Verdict;
  readonly pivots: readonly PivotAnalysis[];
  /** What a file cannot carry as a pivot’s finding: parts counted over the whole bike. */
  readonly findings: readonly Finding[];
}
