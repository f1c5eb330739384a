/**
 * What `planOf(analysis)` gives: plain data, safe to print as JSON, the one source of every list of steps.
 *
 * A plan is the whole bike from bare frame to hand-over: tasks (what is begun and finished in one go), what must come
 * before what and why, the order, and every step a hand does in it. Places are offsets along z from the tight place. Lengths mm, angles of the side plane rad anticlockwise from x (forward) seen from
 * the drive side, counts of any size as decimal strings. Words are not here: `words/order.ts` makes them.
 */
import type { DriveTool, Side } from '../model/schema.ts';
import type { Analysis, StepPlace } from '../types.ts';
import type { Block, Edge, TaskKind, Reason } from './precedence.ts';
import type { Cost } from './search.ts';
import type { Approach } from './way-in.ts';

/** What a step of a plan is. */
export type PlanStepKind =
  | 'stand'
  | 'clean-seat'
  | 'clean-axle'
  | 'clean-thread'
  | 'press-bearing'
  | 'prepare'
  | 'grease'
  | 'offer-member'
  | 'shock'
  | 'swing-away'
  | 'swing-back'
  | 'set-spacer'
  | 'push-axle'
  | 'axle-home'
  | 'wipe-thread'
  | 'threadlock'
  | 'start-receiver'
  | 'hold-turn'
  | 'half-torque'
  | 'torque'
  | 'free-check'
  | 'brake'
  | 'derailleur'
  | 'cables'
  | 'chainset'
  | 'wheel'
  | 'chain'
  | 'air'
  | 'travel-o-ring'
  | 'dropper-post'
  | 'settings'
  | 'hand-over'
  | 'cure';

/** A tool with a size, at the end of an axle where it works. */
export interface DriveInHand {
  readonly kind: 'drive';
  readonly role: 'turns' | 'holds';
  readonly tool: DriveTool;
  readonly side: Side;
  /** Scene id of what it sits on. */
  readonly item: string;
  /** z of the face it is put on. */
  readonly end_mm: number;
  /** Where its handle has room: from an angle anticlockwise seen from the drive side; nothing where it has none. */
  readonly open?: { readonly from_deg: number; readonly wide_deg: number };
  /** Pulled tight with the torque wrench. */
  readonly isTorque: boolean;
}
/** Anything else a hand takes up. */
export interface BenchTool {
  readonly kind: 'bench';
  readonly what:
    | 'stand'
    | 'cloth'
    | 'brush'
    | 'bearing-press'
    | 'grease'
    | 'threadlocker'
    | 'anti-seize'
    | 'oil'
    | 'shock-pump'
    | 'heat'
    | 'marker'
    | 'tray';
}
/** What a step takes in hand. */
export type PlanTool = DriveInHand | BenchTool;

/** Why a step or a task stands where it does. Without `before` it waits for nothing that one task alone could give. */
export interface Because {
  readonly before?: string;
  readonly after?: string;
  readonly reason: Reason;
}

/** How far a hand moves a unit in a free check: from where it is drawn to one end and the other, and no further. */
export interface HandSwing {
  readonly unit: string;
  /** Turn to the end of the travel, or each way where the model has none; deg, anticlockwise seen from the drive side. */
  readonly turn_deg: number;
  /** How far its furthest boss goes, mm, and where to, rad; without a place where it goes as far both ways. */
  readonly far_mm: number;
  readonly toward_rad?: number;
}

/** One thing a hand does, of the whole bike. */
export interface PlanStep {
  /** `taskId:number`. */
  readonly id: string;
  readonly taskId: string;
  readonly kind: PlanStepKind;
  readonly pivotId?: string;
  readonly stackId?: string;
  /** Scene ids of what is moved or worked on, of its own stack. */
  readonly items: readonly string[];
  /** Scene ids at other stacks that come in with it: bosses and what is pressed into them. */
  readonly carried: readonly string[];
  /** Units that come onto the bike (or are moved away and back), their members, and obstacles that come. */
  readonly units: readonly string[];
  readonly members: readonly string[];
  readonly obstacles: readonly string[];
  /** Side the hand works from. */
  readonly side: Side;
  /** Done at the bench: what is worked on is not on the bike, although `places` shows it. */
  readonly atBench: boolean;
  /** How far the axle has gone in, its tip from the first face it meets, mm; only where there is one. */
  readonly depth_mm?: number;
  readonly greased: boolean;
  readonly heldBy?: 'fingertip' | 'grease' | 'axle';
  /** How units are brought in: from an angle of the side plane, or along the axle from a side. */
  readonly approach?: Approach;
  readonly tools: readonly PlanTool[];
  readonly torque_Nm?: number;
  /** All that is laid out before an axle goes in: what the steps of its task set, of other stacks too. */
  readonly laidOut?: readonly string[];
  /** Between what places a free check moves each unit by hand; none where no unit is moved. */
  readonly swings?: readonly HandSwing[];
  /** Stacks that this step is about together: bolts of one axis that are felt at once, threads that set. */
  readonly together?: readonly string[];
  /** Where every item of its stack is once it is done; empty for a step about none. */
  readonly places: Readonly<Record<string, StepPlace>>;
  /** Units and obstacles on the bike once it is done, the frame among them. */
  readonly on: readonly string[];
  readonly because: readonly Because[];
}

/** A task of a plan. */
export interface PlanTask {
  readonly id: string;
  readonly kind: TaskKind;
  readonly stackId?: string;
  readonly pivotId?: string;
  /** Side one stands on as it begins; none where it does not matter. */
  readonly side?: Side | 'bench';
  readonly tools: readonly DriveInHand[];
  /** Units it brings onto the bike in this order, and obstacles. */
  readonly brings: readonly string[];
  readonly because: readonly Because[];
  /** Ids of its steps. */
  readonly steps: readonly string[];
}

/** An edge of the plan. `isDirect`: not implied by others. */
export interface PlanEdge extends Edge {
  readonly isDirect: boolean;
}

/** How many possible orders there are, exactly or between two bounds; whole numbers in decimal. */
export type PlanCount =
  | { readonly isExact: true; readonly orders: string }
  | { readonly isExact: false; readonly atLeast: string; readonly atMost: string };

/** One task that stands too early in an order. */
export interface OrderFault {
  readonly task: string;
  /** Tasks that stand after it and must come before. */
  readonly blockedBy: readonly string[];
  readonly reasons: readonly Because[];
  /** Index at which it would be possible, nearest to where it stands, counted in the order without it; undefined where none is. */
  readonly nearestPossibleIndex?: number;
}

/** An order checked task by task. */
export interface OrderCheck {
  readonly faults: readonly OrderFault[];
  /** Tasks of the plan that the order leaves out, and those it names that the plan does not know or names twice. */
  readonly missing: readonly string[];
  readonly unknown: readonly string[];
  readonly cost: Cost;
}

/** Whose order a plan follows: the one computed here, or the one its maker gives. */
export type Follow = 'ours' | 'makers';

/** Axles in the order the model's author pins, against the computed one. */
export interface MakersOrder {
  /** Stack ids as the model writes them. */
  readonly stacks: readonly string[];
  /** Stack ids as computed, and what that order costs. */
  readonly computed: readonly string[];
  readonly computedCost: Cost;
  /** The maker’s order is the recommended one. */
  readonly isSame: boolean;
  /** Tasks in the cheapest possible order that keeps the maker’s sequence of axles; empty where none does. */
  readonly tasks: readonly string[];
  readonly cost?: Cost;
  /** No order that keeps it costs less. */
  readonly isBest: boolean;
  /** What stands against it: axles of the maker’s order that cannot be fitted when it is their turn. */
  readonly conflicts: readonly OrderFault[];
  /** Tasks round which pin and geometry chase one another, each before the next and the last before the first. */
  readonly cycle?: readonly { readonly task: string; readonly isPin: boolean; readonly because: readonly Because[] }[];
}

/** The build order of a bike. */
export interface Plan {
  readonly analysis: Analysis;
  readonly variant?: string;
  /** Whose order it follows: ours where the maker gives none, or none that is possible. */
  readonly follows: Follow;
  /** In that order. */
  readonly tasks: readonly PlanTask[];
  readonly edges: readonly PlanEdge[];
  /** Trouble that no order mends. */
  readonly blocks: readonly Block[];
  /** Tasks that cannot be done at all: then `tasks` ends with them, in the model's order. */
  readonly stuck: readonly OrderFault[];
  /** Edges that chase one another: then no order is possible. */
  readonly cycle?: readonly string[];
  readonly cost: Cost;
  /** No possible order costs less; of the maker's, none that keeps it. */
  readonly isBest: boolean;
  /** Possible orders of the work at the bike; what is done at the bench can be done in any order before. */
  readonly orders: PlanCount;
  readonly makersOrder?: MakersOrder;
  readonly steps: readonly PlanStep[];
}

/** Steps that only taking apart knows. */
export type StripOnlyKind =
  | 'note-settings'
  | 'release-air'
  | 'support'
  | 'feel'
  | 'mark-facing'
  | 'warm-threadlocker'
  | 'keep-together';

/** One thing a hand does when taking apart. */
export interface StripStep {
  readonly id: string;
  readonly kind: StripOnlyKind | 'undo';
  /** The build step it takes back; none for what only taking apart needs. */
  readonly undoes?: string;
  /** The build step, or for one of its own a step of the same form. */
  readonly step: PlanStep;
  /** Where every item of its stack is before it, and after. */
  readonly before: Readonly<Record<string, StepPlace>>;
  readonly after: Readonly<Record<string, StepPlace>>;
  /** Units and obstacles on the bike once it is done. */
  readonly on: readonly string[];
}

/** Taking a whole bike apart. */
export interface Strip {
  readonly tasks: readonly string[];
  readonly steps: readonly StripStep[];
}

/** What can be asked for. */
export interface AccessTarget {
  readonly kind: 'item' | 'unit' | 'obstacle';
  readonly id: string;
}

/** What must come off to get at one part, and how it goes back. */
export interface Access {
  readonly target: AccessTarget;
  /** Stacks that are opened, in the order they are. */
  readonly stacks: readonly string[];
  /** Tasks taken back, in the order they are. */
  readonly tasks: readonly string[];
  /** Units and obstacles that come off. */
  readonly off: readonly string[];
  /** Nothing smaller frees it. */
  readonly isLeast: boolean;
  readonly strip: readonly StripStep[];
  readonly back: readonly PlanStep[];
  /** Tools with a size, each once, those that turn before those that hold. */
  readonly tools: readonly DriveTool[];
  /** Stacks whose thread wants new threadlocker. */
  readonly threadlocker: readonly { readonly stackId: string; readonly strength?: string }[];
  /** Stacks opened whose axle the model calls fitted for now. */
  readonly fitted_for_now: readonly { readonly stackId: string; readonly why: string }[];
  /** Why each stack beyond the target's own is opened. */
  readonly because: readonly Because[];
  /** Nothing frees it: what stands against it. */
  readonly blocked: readonly Because[];
}

/** One variant's order beside the base build's. */
export interface VariantOrder {
  /** Undefined for the base build. */
  readonly variant?: string;
  readonly plan: Plan;
  /** Tasks whose place among the others differs from the base build's: they have to be moved, as few as can be. */
  readonly moved: readonly string[];
  /** Edges that only the one of the two has. */
  readonly gained: readonly PlanEdge[];
  readonly lost: readonly PlanEdge[];
  /** Tasks whose side or tools differ. */
  readonly changed: readonly { readonly task: string; readonly what: readonly ('side' | 'tools')[] }[];
}

export type { Approach, Block, Cost, Edge, TaskKind, Reason };
