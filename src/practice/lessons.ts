/**
 * Lessons: those that come with Axlewright, and those that were written here, each kept as a thing of its own.
 */
import { lessonView, readEnvelope, writeEnvelope, type EnvelopeTrouble, type Lesson } from '../../shared/index.ts';
import { listThings, openThing, removeThing } from '../page/keep.ts';
import { openRoute } from '../page/models.ts';
import { readRoute, type Route } from '../page/route.ts';
import { act, useApp } from '../page/store.ts';
import { APP_VERSION } from '../page/version.ts';
import { useLesson } from './lessonStore.ts';

const texts = import.meta.glob<string>('../../models/lessons/*.json', {
  query: '?raw',
  import: 'default',
  eager: true,
});
const KIND = 'lesson/';
const LONGEST_ID = 48;

/** The lessons that come with Axlewright. */
export const BUNDLED_LESSONS: readonly Lesson[] = Object.values(texts).flatMap((text) => {
  const reading = readEnvelope(text, 'lesson');
  return reading.ok ? [reading.body] : [];
});

/** The lessons that were written on this device. */
export async function ownLessons(): Promise<readonly Lesson[]> {
  return (await listThings())
    .filter(({ name }) => name.startsWith(KIND))
    .flatMap(({ sum }) => {
      const text = sum.fields.get('text');
      const reading = typeof text === 'string' ? readEnvelope(text, 'lesson') : undefined;
      return reading?.ok === true ? [reading.body] : [];
    });
}

/** The id itself, or the next like it that none of these lessons has. */
export function freeId(id: string, taken: readonly Lesson[]): string {
  for (let k = 1; ; k++) {
    const end = k === 1 ? '' : `-${k}`;
    const made = `${id.slice(0, LONGEST_ID - end.length).replace(/-+$/, '')}${end}`;
    if (!taken.some((lesson) => lesson.id === made)) return made;
  }
}

/** Take in a lesson of a file: beside one of the same id that says something else, never over it. */
export async function takeLesson(lesson: Lesson): Promise<'fresh' | 'beside' | 'known' | 'unkept'> {
  const own = await ownLessons();
  const bare = (one: Lesson): string => lessonText({ ...one, id: '' });
  if (own.some((one) => bare(one) === bare(lesson))) return 'known';
  const id = freeId(lesson.id, own);
  if (!(await keepLesson({ ...lesson, id }))) return 'unkept';
  return id === lesson.id ? 'fresh' : 'beside';
}

/** Keep a lesson under its id; one of the same id is kept on top of the earlier one. */
export async function keepLesson(lesson: Lesson): Promise<boolean> {
  const thing = await openThing(KIND + lesson.id);
  return thing.set({ text: lessonText(lesson), name: lesson.title });
}

/** Take a lesson off this device. */
export function removeLesson(id: string): Promise<boolean> {
  return removeThing(KIND + id);
}

/** A lesson as a file. */
export function lessonText(lesson: Lesson): string {
  return writeEnvelope('lesson', APP_VERSION, lesson);
}

/** A lesson out of a file, or what is wrong with it. */
export function readLesson(
  text: string,
): { readonly lesson: Lesson } | { readonly lesson?: undefined; readonly trouble: EnvelopeTrouble } {
  const reading = readEnvelope(text, 'lesson');
  return reading.ok ? { lesson: reading.body } : { trouble: reading.trouble };
}

/** The lesson of an id, if it is here. */
export async function lessonNamed(id: string): Promise<Lesson | undefined> {
  return [...BUNDLED_LESSONS, ...(await ownLessons())].find((lesson) => lesson.id === id);
}

/** What an address would say of a card. */
function routeAt(lesson: Lesson, at: number): Route {
  const { pivotId, stackId, apart, step, cut } = lessonView(lesson, at);
  return {
    ...readRoute(''),
    ...(pivotId === undefined ? {} : { pivot: pivotId, apart }),
    ...(stackId === undefined ? {} : { stack: stackId }),
    ...(step === undefined || pivotId === undefined ? {} : { step }),
    cut,
  };
}

/** Bring the picture to what the card in hand shows, on the model that the lesson is about. */
export function showCard(): void {
  const { lesson, at } = useLesson.getState();
  if (!lesson) return;
  const { opened } = useApp.getState();
  const route = routeAt(lesson, at);
  if (opened?.analysis.model.id === lesson.model) act.show(route);
  else void openRoute({ ...route, model: lesson.model });
}
