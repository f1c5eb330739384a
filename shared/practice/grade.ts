/**
 * How well a drill went, from what was answered and how long it took: nobody judges himself by a button.
 */
import { GRADES } from '../envelope/progress.ts';
import { PRACTICE_LIMITS } from './limits.ts';

/** How well a drill went. */
export type Grade = (typeof GRADES)[number];

/** How a drill was done. */
export interface DrillRun {
  /** Answers given until one was right; none right counts as never. */
  readonly tries: number;
  readonly isRight: boolean;
  readonly minutes: number;
  /** What it may take, minutes. */
  readonly par_min: number;
}

/** The grade of a drill. A second try is hard at best, a third is to be done again. */
export function gradeOf({ tries, isRight, minutes, par_min }: DrillRun): Grade {
  if (!isRight || tries > 2) return 'again';
  if (tries === 2 || minutes > par_min * PRACTICE_LIMITS.goodShare.value) return 'hard';
  return minutes > par_min * PRACTICE_LIMITS.easyShare.value ? 'good' : 'easy';
}
