/**
 * Words of the practice page that the core does not have.
 */
import type { Grade, SightKind } from '../../shared/index.ts';

/** What a grade is called. */
export const GRADE_WORDS: Readonly<Record<Grade, string>> = {
  again: 'Once more',
  hard: 'Right, with trouble',
  good: 'Right',
  easy: 'Right at once',
};

/** What a look asks for. */
export const SIGHT_WORDS: Readonly<Record<SightKind, string>> = {
  spacer: 'Which part goes there',
  turn: 'Which way it tightens',
  side: 'From which side',
  wrench: 'What the wrench is set to',
  access: 'What is opened to get there',
};

/** When a drill comes up again. */
export function dueWord(due_ms: number | undefined, now_ms: number): string {
  if (due_ms === undefined) return 'new';
  const days = Math.round((due_ms - now_ms) / 86_400_000);
  if (due_ms <= now_ms) return 'due';
  return days < 1 ? 'later today' : days === 1 ? 'tomorrow' : `in ${days} days`;
}
