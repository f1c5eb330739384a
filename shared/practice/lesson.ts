/**
 * Lessons: what the picture shows at a card, what the class may see of it, and whether a lesson suits its model.
 */
import type { Lesson } from '../envelope/lesson.ts';
import type { LinkageModel } from '../model/schema.ts';

/** What the picture shows at a card. */
export interface LessonView {
  readonly pivotId: string | undefined;
  readonly stackId: string | undefined;
  /** 0 (tight) to 1 (fully apart). */
  readonly apart: number;
  /** From 0, of the pivot's own steps. */
  readonly step: number | undefined;
  readonly cut: boolean;
}

/** What a class is shown of a card: no notes, and of a question no more than is asked until it is answered. */
export interface CardShown {
  readonly title: string;
  readonly at: number;
  readonly of: number;
  readonly text: string;
  readonly choices?: readonly string[];
  readonly answer?: { readonly right: number; readonly why: string };
}

/** Where a lesson does not suit a model: the card, from 0, and what it asks for that is not there. */
export interface LessonTrouble {
  readonly card: number;
  readonly what: 'pivot' | 'stack' | 'no-pivot';
  readonly id: string;
}

/** What the picture shows at card `at`: all that the cards up to it have asked for. */
export function lessonView({ cards }: Lesson, at: number): LessonView {
  let view: LessonView = { pivotId: undefined, stackId: undefined, apart: 0, step: undefined, cut: false };
  for (const card of cards.slice(0, at + 1)) {
    switch (card.show) {
      case 'pivot':
        view = { ...view, pivotId: card.pivot, stackId: card.stack, apart: 1, step: undefined };
        break;
      case 'apart':
        view = { ...view, apart: card.apart, step: undefined };
        break;
      case 'step':
        view = { ...view, step: card.step - 1 };
        break;
      case 'cut':
        view = { ...view, cut: card.cut };
        break;
      default:
        break;
    }
  }
  return view;
}

/** Card `at` as the class sees it; the answer of a question only once it is shown. */
export function cardShown({ title, cards }: Lesson, at: number, isAnswerShown: boolean): CardShown {
  const card = cards[at]!;
  const shown = { title, at, of: cards.length, text: card.text };
  if (card.show !== 'question') return shown;
  return {
    ...shown,
    choices: card.choices,
    ...(isAnswerShown ? { answer: { right: card.right - 1, why: card.why } } : {}),
  };
}

/** Every card that asks for what the model does not have. */
export function lessonTroubles({ cards }: Lesson, { pivots }: LinkageModel): readonly LessonTrouble[] {
  let hasPivot = false;
  return cards.flatMap((card, k): LessonTrouble[] => {
    if (card.show === 'pivot') {
      hasPivot = true;
      const pivot = pivots.find(({ id }) => id === card.pivot);
      if (!pivot) return [{ card: k, what: 'pivot', id: card.pivot }];
      const isKnown = card.stack === undefined || pivot.stacks.some(({ id }) => id === card.stack);
      return isKnown ? [] : [{ card: k, what: 'stack', id: card.stack! }];
    }
    const needsPivot = card.show === 'apart' || card.show === 'step';
    return needsPivot && !hasPivot ? [{ card: k, what: 'no-pivot', id: card.show }] : [];
  });
}
