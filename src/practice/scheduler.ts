/**
 * When a drill is due again: a published scheduler (FSRS) through its library, told nothing but a computed grade.
 *
 * A drill's standing is plain data. Days are whole from the second look on; without the
 * library's fuzz the same answers give the same days everywhere.
 */
import { createEmptyCard, fsrs, generatorParameters, Rating, type Card } from 'ts-fsrs';
import type { Grade } from '../../shared/index.ts';

/** Where a drill stands. */
export interface DrillCard {
  readonly due_ms: number;
  readonly stability: number;
  readonly difficulty: number;
  readonly scheduled_days: number;
  readonly learning_steps: number;
  readonly reps: number;
  readonly lapses: number;
  readonly state: number;
  readonly last_ms: number;
}

const RATINGS = { again: Rating.Again, hard: Rating.Hard, good: Rating.Good, easy: Rating.Easy } as const;
const scheduler = fsrs(generatorParameters({ enable_fuzz: false }));

/** The card after a drill; `card` is none before its first. */
export function reviewed(card: DrillCard | undefined, grade: Grade, now_ms: number): DrillCard {
  const now = new Date(now_ms);
  const { card: next } = scheduler.next(card ? cardOf(card) : createEmptyCard(now), now, RATINGS[grade]);
  return {
    due_ms: next.due.getTime(),
    stability: next.stability,
    difficulty: next.difficulty,
    scheduled_days: next.scheduled_days,
    learning_steps: next.learning_steps,
    reps: next.reps,
    lapses: next.lapses,
    state: next.state,
    last_ms: now_ms,
  };
}

function cardOf({ due_ms, last_ms, ...card }: DrillCard): Card {
  return { ...card, elapsed_days: 0, due: new Date(due_ms), last_review: new Date(last_ms) };
}
