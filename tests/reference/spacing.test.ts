/**
 * When a drill is due again: the published vectors of the scheduler, through our own cards, each kept and read again in
 * between as the store does.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Grade } from '../../shared/index.ts';
import { reviewed, type DrillCard } from '../../src/practice/scheduler.ts';

interface Published {
  readonly sequence: {
    readonly grades: readonly Grade[];
    readonly begins: string;
    readonly intervals_days: readonly number[];
    readonly stability: readonly number[];
  };
  readonly delayed: {
    readonly grades: readonly Grade[];
    readonly after_days: readonly number[];
    readonly stability: number;
    readonly difficulty: number;
  };
  readonly first: Readonly<Record<Grade, { readonly stability: number; readonly difficulty: number }>>;
}

const published = JSON.parse(readFileSync(new URL('data/spacing-fsrs6.json', import.meta.url), 'utf8')) as Published;
const DAY_ms = 86_400_000;

describe('the scheduler', () => {
  test('gives the published days, each drill done when it is due', () => {
    const { grades, begins, intervals_days, stability } = published.sequence;
    let card: DrillCard | undefined;
    grades.forEach((grade, k) => {
      card = reviewed(card, grade, card?.due_ms ?? Date.parse(begins));
      expect(card.scheduled_days, `no. ${k + 1}`).toBe(intervals_days[k]);
      expect(card.stability, `no. ${k + 1}`).toBeCloseTo(stability[k]!, 3);
    });
  });

  test('gives the published stability and difficulty after days of its own', () => {
    const { grades, after_days, stability, difficulty } = published.delayed;
    let card: DrillCard | undefined;
    let now = Date.parse('2022-11-29T12:30:00Z');
    grades.forEach((grade, k) => {
      now += after_days[k]! * DAY_ms;
      card = reviewed(card, grade, now);
    });
    expect(card!.stability).toBeCloseTo(stability, 4);
    expect(card!.difficulty).toBeCloseTo(difficulty, 5);
  });

  test('begins as published, by the first grade', () => {
    for (const [grade, { stability, difficulty }] of Object.entries(published.first)) {
      const card = reviewed(undefined, grade as Grade, 0);
      expect(card.stability).toBeCloseTo(stability, 5);
      expect(card.difficulty).toBeCloseTo(difficulty, 5);
    }
  });
});
