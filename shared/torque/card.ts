/**
 * The torque card of a stack: one large number, and everything that must be known before the wrench goes on.
 *
 * What is solved and which way it turns comes from the analysis; window, short form and units are added here. Plain
 * data; the words are in `words/torque.ts`. N, N·m, mm.
 */
import { friction, wrenchScatter, type FrictionBand, type ThreadTreatment } from '../standards/index.ts';
import type { Analysis, StackAnalysis, Tightening } from '../types.ts';
import { torqueStack, setUpTorque, type TorqueSetup } from './setup.ts';
import { shortForm, type ShortForm } from './short-form.ts';
import { inAllUnits, type TorqueInUnits } from './units.ts';
import { torqueWindow, type TorqueWindow } from './window.ts';
import { adviseWrench, type Adapter, type WrenchAdvice } from './wrench.ts';

/** The card of one stack. */
export interface TorqueCard {
  readonly pivotId: string;
  readonly stackId: string;
  readonly name: string;
  readonly torque: TorqueInUnits;
  readonly tightening: Tightening;
  /** Force on the weakest inner ring at the spec, N. */
  readonly clamp_N: number;
  /** Tightens anticlockwise as the mechanic sees it. */
  readonly isAgainstHabit: boolean;
  /** What the preload's band rests on. */
  readonly friction: {
    readonly treatment: ThreadTreatment;
    readonly thread: FrictionBand;
    readonly classes: string;
    readonly source: string;
    readonly wrenchScatter: number;
  };
  readonly window: TorqueWindow;
  readonly shortForm: ShortForm;
  readonly wrench: WrenchAdvice;
  /** Why this pivot will be opened again. */
  readonly fitted_for_now?: string;
}

/** What a mechanic may say about the wrench. */
export interface WrenchInHand {
  readonly ranges_Nm?: readonly (readonly [number, number])[];
  readonly adapter?: Adapter;
}

/**
 * Cards of every stack of a pivot, N·m and N. About 70 ms a stack. Throws a RangeError for a pivot the analysis lacks,
 * or a wrench or adapter that means nothing.
 */
export function torqueCards(analysis: Analysis, pivotId: string, wrench: WrenchInHand = {}): TorqueCard[] {
  const bench = setUpTorque(analysis.resolved, pivotId);
  const analysed = analysis.pivots.find((candidate) => candidate.id === pivotId)!;
  return analysed.stacks.map((stack) => cardOf(bench, stack, wrench));
}

function cardOf(bench: TorqueSetup, stack: StackAnalysis, wrench: WrenchInHand): TorqueCard {
  const own = torqueStack(bench, stack.id);
  const { fitted_for_now, thread_treatment } = own.own.stack;
  const { classes, source } = friction(thread_treatment);
  return {
    pivotId: stack.pivotId,
    stackId: stack.id,
    name: stack.name,
    torque: inAllUnits(stack.tightening.torque_Nm),
    tightening: stack.tightening,
    clamp_N: stack.clamp_N,
    isAgainstHabit: stack.tightening.turn === 'anticlockwise',
    friction: {
      treatment: thread_treatment,
      thread: stack.tightening.threadFriction,
      classes,
      source,
      wrenchScatter: wrenchScatter(stack.tightening.torque_Nm),
    },
    window: torqueWindow(own),
    shortForm: shortForm(own),
    wrench: adviseWrench({ torque_Nm: stack.tightening.torque_Nm, ...wrench }),
    ...(fitted_for_now === undefined ? {} : { fitted_for_now }),
  };
}
