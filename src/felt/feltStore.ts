/**
 * What was said of each pivot, as long as the page lives: a look at the picture and back loses nothing.
 */
import { create } from 'zustand';
import type { FeltAnswer } from '../../shared/index.ts';

interface FeltStore {
  /** Answers by build and pivot, in the order they were given. */
  readonly said: Readonly<Record<string, readonly FeltAnswer[]>>;
  readonly say: (at: string, answers: readonly FeltAnswer[]) => void;
}

export const useFelt = create<FeltStore>((set) => ({
  said: {},
  say: (at, answers) => set(({ said }) => ({ said: { ...said, [at]: answers } })),
}));

/** Answers with these in place of what was said of the same things before. */
export function withAnswers(said: readonly FeltAnswer[], added: readonly FeltAnswer[]): readonly FeltAnswer[] {
  return [...said.filter(({ key }) => !added.some((one) => one.key === key)), ...added];
}
