/**
 * The lesson in hand: which card is shown, and whether the answer of its question is. Small, since the page asks at once
 * whether there is one.
 */
import { create } from 'zustand';
import type { Lesson } from '../../shared/index.ts';

interface LessonState {
  readonly lesson: Lesson | undefined;
  readonly at: number;
  readonly isAnswerShown: boolean;
  readonly play: (lesson: Lesson | undefined, at?: number) => void;
  readonly go: (by: 1 | -1) => void;
  readonly showAnswer: () => void;
}

/** The lesson on the page. */
export const useLesson = create<LessonState>((set) => ({
  lesson: undefined,
  at: 0,
  isAnswerShown: false,
  play: (lesson, at = 0) => set({ lesson, at, isAnswerShown: false }),
  go: (by) =>
    set(({ lesson, at }) => {
      const to = Math.min(Math.max(at + by, 0), (lesson?.cards.length ?? 1) - 1);
      return to === at ? {} : { at: to, isAnswerShown: false };
    }),
  showAnswer: () => set({ isAnswerShown: true }),
}));
