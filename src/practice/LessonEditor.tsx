/**
 * Writing a lesson: its cards one under the other, each with what it shows, what it says and the notes to it. What is
 * written is shown as it will be once the lesson is given.
 */
import { useState, type ReactNode } from 'react';
import { cardShown, lessonBody, lessonTroubles, lessonView, type Lesson, type LessonCard } from '../../shared/index.ts';
import { runIn } from '../build/planned.ts';
import { stepWords } from '../build/StepFacts.tsx';
import { useApp } from '../page/store.ts';
import { Dialog } from '../widgets/Dialog.tsx';
import { LaidSection } from './LaidSection.tsx';
import { keepLesson } from './lessons.ts';
import { QuestionChoices } from './QuestionChoices.tsx';

interface Props {
  readonly lesson: Lesson;
  readonly onClose: () => void;
  readonly onKept: () => void;
}

const SHOWS: readonly (readonly [LessonCard['show'], string])[] = [
  ['words', 'Words alone'],
  ['pivot', 'A pivot'],
  ['apart', 'How far apart'],
  ['step', 'A step'],
  ['cut', 'Cut open or whole'],
  ['question', 'A question'],
];

export function LessonEditor({ lesson, onClose, onKept }: Props): ReactNode {
  const model = useApp((state) => state.opened?.analysis.model);
  const [now, setNow] = useState(lesson);
  const [told, setTold] = useState('');
  const set = (k: number, card: LessonCard): void => setNow({ ...now, cards: now.cards.with(k, card) });
  const keep = async (): Promise<void> => {
    const read = lessonBody.safeParse(now);
    if (!read.success) return setTold('Every card needs words, and every choice as well.');
    const [trouble] = model?.id === now.model ? lessonTroubles(read.data, model) : [];
    if (trouble)
      return setTold(
        trouble.what === 'no-pivot'
          ? `Card ${trouble.card + 1} needs a card before it that shows a pivot.`
          : `Card ${trouble.card + 1}: this bike has no “${trouble.id}”.`,
      );
    if (await keepLesson(read.data)) onKept();
    else setTold('It could not be kept here. Save it as a file.');
  };
  return (
    <Dialog title="Write a lesson" isWide onClose={onClose}>
      <div className="lesson-form stack gap-4">
        <label className="stack gap-1">
          <span className="strong">Title</span>
          <input
            className="input"
            value={now.title}
            maxLength={80}
            onChange={(event) => setNow({ ...now, title: event.target.value })}
          />
        </label>
        <ol className="stack gap-4">
          {now.cards.map((card, k) => (
            // Cards have no names of their own: their place is what they are called by.
            <li key={`card ${k + 1}`} className="lesson-card stack gap-2">
              <div className="lesson-both">
                <div className="stack gap-2">
                  <CardFields card={card} number={k + 1} set={(next) => set(k, next)} />
                </div>
                <Preview lesson={now} at={k} />
              </div>
              <div className="flow gap-2">
                <button
                  type="button"
                  className="button button-small small medium no-wrap"
                  aria-disabled={k === 0}
                  onClick={() =>
                    k > 0 && setNow({ ...now, cards: now.cards.with(k, now.cards[k - 1]!).with(k - 1, card) })
                  }
                >
                  Earlier<span className="away clip no-wrap">: card {k + 1}</span>
                </button>
                <button
                  type="button"
                  className="button button-small small medium no-wrap"
                  aria-disabled={now.cards.length === 1}
                  onClick={() =>
                    now.cards.length > 1 && setNow({ ...now, cards: now.cards.filter((_, other) => other !== k) })
                  }
                >
                  Take out<span className="away clip no-wrap">: card {k + 1}</span>
                </button>
              </div>
            </li>
          ))}
        </ol>
        <div className="flow gap-3">
          <button
            type="button"
            className="button medium no-wrap"
            onClick={() => setNow({ ...now, cards: [...now.cards, { show: 'words', text: '' }] })}
          >
            Another card
          </button>
          <button type="button" className="button button-main medium no-wrap" onClick={() => void keep()}>
            Keep the lesson
          </button>
        </div>
        <p role="alert">{told}</p>
      </div>
    </Dialog>
  );
}

/** The card as the class will see it, while it is written: its words, and of its pivot what the picture shows. */
function Preview({ lesson, at }: { readonly lesson: Lesson; readonly at: number }): ReactNode {
  const analysis = useApp((state) => state.opened?.analysis);
  const planned = useApp((state) => state.planned);
  const { pivotId, stackId, apart, step, cut } = lessonView(lesson, at);
  const pivot = analysis?.model.id === lesson.model ? analysis.pivots.find(({ id }) => id === pivotId) : undefined;
  const stack = pivot?.stacks.find(({ id }) => id === stackId) ?? pivot?.stacks[0];
  const steps = pivot ? runIn(planned, pivot.id, 'build').steps : [];
  const shown = step === undefined ? undefined : steps[step];
  const card = cardShown(lesson, at, true);
  const { show } = lesson.cards[at]!;
  return (
    <section className="lesson-preview edged stack gap-2" aria-label={`Card ${at + 1} as the class sees it`}>
      {pivot && (
        <p className="strong">
          {pivot.name}
          {shown && analysis
            ? `, ${step! + 1} of ${steps.length}: ${stepWords(shown, analysis).title}`
            : `, ${apart === 0 ? 'tight' : `${Math.round(apart * 100)} % apart`}${cut ? ', cut open' : ''}`}
        </p>
      )}
      {analysis && stack && show !== 'words' && show !== 'question' && (
        <LaidSection analysis={analysis} stackId={stack.id} label={`Section of ${stack.name}`} />
      )}
      <p className="any-break">{card.text === '' ? 'No words yet.' : card.text}</p>
      {card.choices && <QuestionChoices card={card} />}
    </section>
  );
}

function CardFields({
  card,
  number,
  set,
}: {
  readonly card: LessonCard;
  readonly number: number;
  readonly set: (card: LessonCard) => void;
}): ReactNode {
  const pivots = useApp((state) => state.opened?.analysis.pivots) ?? [];
  return (
    <>
      <label className="stack gap-1">
        <span className="strong">Card {number} shows</span>
        <select
          className="select"
          value={card.show}
          onChange={(event) => set(asShown(card, event.target.value as LessonCard['show'], pivots[0]?.id ?? ''))}
        >
          {SHOWS.map(([show, word]) => (
            <option key={show} value={show}>
              {word}
            </option>
          ))}
        </select>
      </label>
      {card.show === 'pivot' && (
        <label className="stack gap-1">
          <span>Which pivot</span>
          <select
            className="select"
            value={card.pivot}
            onChange={(event) => set({ ...card, pivot: event.target.value })}
          >
            {pivots.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
      )}
      {card.show === 'apart' && (
        <label className="stack gap-1">
          <span>How far: {Math.round(card.apart * 100)} %</span>
          <input
            type="range"
            min={0}
            max={1}
            step={0.05}
            value={card.apart}
            onChange={(event) => set({ ...card, apart: Number(event.target.value) })}
          />
        </label>
      )}
      {card.show === 'step' && (
        <label className="stack gap-1">
          <span>Step of the pivot</span>
          <input
            className="input"
            type="number"
            min={1}
            max={200}
            value={card.step}
            onChange={(event) => set({ ...card, step: Math.max(1, Math.trunc(Number(event.target.value)) || 1) })}
          />
        </label>
      )}
      {card.show === 'cut' && (
        <label className="choice">
          <input type="checkbox" checked={card.cut} onChange={(event) => set({ ...card, cut: event.target.checked })} />
          Cut open
        </label>
      )}
      <label className="stack gap-1">
        <span>{card.show === 'question' ? 'Question' : 'Words'}</span>
        <textarea
          className="input lesson-area"
          value={card.text}
          maxLength={400}
          onChange={(event) => set({ ...card, text: event.target.value })}
        />
      </label>
      {card.show === 'question' && (
        <>
          {card.choices.map((choice, k) => (
            <div key={`choice ${k + 1}`} className="line gap-2">
              <input
                className="input slim"
                aria-label={`Choice ${k + 1}`}
                value={choice}
                maxLength={80}
                onChange={(event) => set({ ...card, choices: card.choices.with(k, event.target.value) })}
              />
              <label className="choice rigid">
                <input
                  type="radio"
                  name={`right ${number}`}
                  checked={card.right === k + 1}
                  onChange={() => set({ ...card, right: k + 1 })}
                />
                right
              </label>
            </div>
          ))}
          <p>
            <button
              type="button"
              className="button button-small small medium no-wrap"
              aria-disabled={card.choices.length >= 6}
              onClick={() => card.choices.length < 6 && set({ ...card, choices: [...card.choices, ''] })}
            >
              Another choice<span className="away clip no-wrap">: card {number}</span>
            </button>
          </p>
          <label className="stack gap-1">
            <span>Why</span>
            <textarea
              className="input lesson-area"
              value={card.why}
              maxLength={400}
              onChange={(event) => set({ ...card, why: event.target.value })}
            />
          </label>
        </>
      )}
      <label className="stack gap-1">
        <span>Your notes, which the class does not see</span>
        <textarea
          className="input lesson-area"
          value={card.notes ?? ''}
          maxLength={1000}
          onChange={(event) => {
            const { notes: _, ...rest } = card;
            set(event.target.value === '' ? (rest as LessonCard) : { ...card, notes: event.target.value });
          }}
        />
      </label>
    </>
  );
}

/** The card made to show something else; its words and notes stay. */
function asShown({ text, notes }: LessonCard, show: LessonCard['show'], pivot: string): LessonCard {
  const said = { text, ...(notes === undefined ? {} : { notes }) };
  switch (show) {
    case 'words':
      return { show, ...said };
    case 'pivot':
      return { show, pivot, ...said };
    case 'apart':
      return { show, apart: 0, ...said };
    case 'step':
      return { show, step: 1, ...said };
    case 'cut':
      return { show, cut: true, ...said };
    case 'question':
      return { show, choices: ['', ''], right: 1, why: '', ...said };
  }
}
