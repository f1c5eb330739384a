/**
 * The lessons there are: to be given, to be written on, to be taken along.
 */
import { useCallback, useEffect, useState, type ReactNode } from 'react';
import { wordEnvelopeTrouble, type Lesson } from '../../shared/index.ts';
import { openRoute } from '../page/models.ts';
import { readRoute } from '../page/route.ts';
import { act } from '../page/store.ts';
import { KEPT_WORDS } from '../words.ts';
import { FilePicker } from '../widgets/FilePicker.tsx';
import { Removal } from '../widgets/Removal.tsx';
import { saveFile } from '../widgets/saveFile.ts';
import { LessonEditor } from './LessonEditor.tsx';
import { BUNDLED_LESSONS, freeId, lessonText, ownLessons, readLesson, removeLesson, takeLesson } from './lessons.ts';
import { useLesson } from './lessonStore.ts';

interface Props {
  readonly modelId: string;
}

/** What came of a lesson's file. */
const TAKEN: Readonly<Record<Awaited<ReturnType<typeof takeLesson>>, (title: string) => string>> = {
  fresh: (title) => `${title} is here now.`,
  beside: (title) => `${title} is here now, beside the one that was here: nothing of that was changed.`,
  known: (title) => `${title} was here already.`,
  unkept: (title) => `Free some room and open it again: ${title} could not be kept.`,
};

/** Give a lesson from its first card, on the picture. */
function give(lesson: Lesson): void {
  useLesson.getState().play(lesson);
  act.goToPlace(undefined);
}

export function LessonList({ modelId }: Props): ReactNode {
  const [own, setOwn] = useState<readonly Lesson[]>([]);
  const [edited, setEdited] = useState<Lesson | undefined>(undefined);
  const [asked, setAsked] = useState<string | undefined>(undefined);
  const [told, setTold] = useState('');
  const look = useCallback(() => void ownLessons().then(setOwn), []);
  useEffect(look, [look]);
  const take = async (file: File): Promise<void> => {
    const reading = readLesson(await file.text());
    if (!reading.lesson) return setTold(wordEnvelopeTrouble(reading.trouble));
    setTold(TAKEN[await takeLesson(reading.lesson)](`“${reading.lesson.title}”`));
    look();
  };
  // What a card can show is picked from the model that the lesson is about.
  const edit = (lesson: Lesson): void => {
    if (lesson.model !== modelId) void openRoute({ ...readRoute(''), place: 'practice', model: lesson.model });
    setEdited(lesson);
  };
  const row = (lesson: Lesson, isOwn: boolean): ReactNode => (
    <li key={`${isOwn} ${lesson.id}`} className="lesson-row flow gap-2">
      <button type="button" className="drill-choice press warms line gap-3 strong" onClick={() => give(lesson)}>
        <span>{lesson.title}</span>
        <span className="end soft small no-wrap">{lesson.cards.length} cards</span>
      </button>
      <button
        type="button"
        className="button button-small small medium no-wrap"
        onClick={() => edit(isOwn ? lesson : { ...lesson, id: freeId(`${lesson.id}-own`, own) })}
      >
        {isOwn ? 'Write on' : 'Copy and change'}
        <span className="away clip no-wrap">: {lesson.title}</span>
      </button>
      <button
        type="button"
        className="button button-small small medium no-wrap"
        onClick={() => saveFile(`lesson-${lesson.id}.json`, lessonText(lesson), 'application/json')}
      >
        Save as a file
        <span className="away clip no-wrap">: {lesson.title}</span>
      </button>
      {isOwn && (
        <button type="button" className="button button-small small medium no-wrap" onClick={() => setAsked(lesson.id)}>
          Remove…
          <span className="away clip no-wrap">: {lesson.title}</span>
        </button>
      )}
      {isOwn && asked === lesson.id && (
        <Removal
          label={`Remove ${lesson.title}`}
          says={KEPT_WORDS.remove}
          onRemove={() => void removeLesson(lesson.id).then(look)}
          onKeep={() => setAsked(undefined)}
        />
      )}
    </li>
  );
  return (
    <section className="drill-list stack gap-2" aria-label="Lessons">
      <h3>Lessons</h3>
      <p className="soft">Cards on the picture, to go through alone or before a class.</p>
      <ul className="stack gap-2">
        {BUNDLED_LESSONS.map((lesson) => row(lesson, false))}
        {own.map((lesson) => row(lesson, true))}
      </ul>
      <div className="flow gap-2">
        <button
          type="button"
          className="button medium no-wrap"
          onClick={() =>
            setEdited({
              id: freeId('own-1', own),
              title: 'New lesson',
              model: modelId,
              cards: [{ show: 'words', text: 'What this lesson is about.' }],
            })
          }
        >
          Write a lesson
        </button>
        <FilePicker label="Lesson file" onPicked={(file) => void take(file)}>
          Open a lesson file
        </FilePicker>
      </div>
      <p className="small" role="status">
        {told}
      </p>
      {edited && (
        <LessonEditor
          lesson={edited}
          onClose={() => setEdited(undefined)}
          onKept={() => {
            setEdited(undefined);
            look();
          }}
        />
      )}
    </section>
  );
}
