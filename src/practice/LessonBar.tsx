/**
 * The card of the lesson in hand, over the picture it speaks of: its words, its question, and the way on. The notes are
 * for who gives the lesson, and go to no other window.
 */
import { useEffect, type ReactNode } from 'react';
import { cardShown } from '../../shared/index.ts';
import { focusOf } from '../page/useKeys.ts';
import { act, useApp } from '../page/store.ts';
import { useScreen } from '../page/useScreen.ts';
import { useLesson } from './lessonStore.ts';
import { showCard } from './lessons.ts';
import { QuestionChoices } from './QuestionChoices.tsx';

export default function LessonBar(): ReactNode {
  const { lesson, at, isAnswerShown } = useLesson();
  const { go, play, showAnswer } = useLesson.getState();
  const place = useApp((state) => state.place);
  const isUpright = useScreen() === 'tall';
  useEffect(showCard, [lesson, at]);
  useEffect(() => {
    // A presenter's remote goes through the cards, not through the steps, as long as there is a lesson.
    const listen = (event: KeyboardEvent): void => {
      const by = event.key === 'PageDown' ? 1 : event.key === 'PageUp' ? -1 : undefined;
      if (useApp.getState().place !== undefined) return;
      if (by === undefined || focusOf(event.target) === 'text' || document.querySelector('dialog[open]')) return;
      event.preventDefault();
      useLesson.getState().go(by);
    };
    window.addEventListener('keydown', listen, true);
    return () => window.removeEventListener('keydown', listen, true);
  }, []);
  if (!lesson || place !== undefined) return null;
  const card = cardShown(lesson, at, isAnswerShown);
  const { notes } = lesson.cards[at]!;
  return (
    <section className="lesson stack gap-3 on-sheet" aria-label="Lesson">
      <div className="line wrap gap-3">
        <p className="lesson-title small strong slim">
          {card.title}, {at + 1} of {card.of}
        </p>
        <span className="flow gap-2 end">
          <button
            type="button"
            className="button medium no-wrap"
            aria-disabled={at === 0}
            aria-keyshortcuts="PageUp"
            onClick={() => go(-1)}
          >
            Back
          </button>
          <button
            type="button"
            className="button button-main medium no-wrap"
            aria-disabled={at === card.of - 1}
            aria-keyshortcuts="PageDown"
            onClick={() => go(1)}
          >
            Next card
          </button>
          <button
            type="button"
            className="button medium no-wrap"
            onClick={() => {
              play(undefined);
              act.goToPlace('practice');
            }}
          >
            End the lesson
          </button>
        </span>
      </div>
      <div className="lesson-body stack gap-4">
        <div className="stack gap-3">
          <p className="lesson-text usual" role="status">
            {card.text}
          </p>
          {card.choices && <QuestionChoices card={card} onAnswer={showAnswer} />}
        </div>
        {notes !== undefined && (
          <details className="lesson-notes fold small" open={!isUpright}>
            <summary>Your notes</summary>
            <p className="soft">{notes}</p>
          </details>
        )}
      </div>
    </section>
  );
}
