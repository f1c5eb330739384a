/**
 * The form of a lesson: cards in their order, each of which shows something of one model and says something about it.
 *
 * What a card shows stays until a later card shows otherwise, so that a card of words alone leaves the picture as it is.
 * Notes are for who gives the lesson; the class never sees them. Steps count from 1 within the pivot's own.
 */
import { z } from 'zod';

const LONGEST_TITLE = 80;
const LONGEST_TEXT = 400;
const LONGEST_NOTES = 1000;
const MOST_CARDS = 60;
const MOST_CHOICES = 6;
const LARGEST_STEP = 10_000;

const id = z
  .string()
  .max(48)
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'kebab-case');
const title = z.string().min(1).max(LONGEST_TITLE);
const text = z.string().min(1).max(LONGEST_TEXT);
const said = { text, notes: z.string().max(LONGEST_NOTES).optional() };

const card = z.discriminatedUnion('show', [
  z.strictObject({ show: z.literal('words'), ...said }),
  z.strictObject({ show: z.literal('pivot'), pivot: id, stack: id.optional(), ...said }),
  z.strictObject({ show: z.literal('apart'), apart: z.number().min(0).max(1), ...said }),
  z.strictObject({ show: z.literal('step'), step: z.int().min(1).max(LARGEST_STEP), ...said }),
  z.strictObject({ show: z.literal('cut'), cut: z.boolean(), ...said }),
  z
    .strictObject({
      show: z.literal('question'),
      choices: z.array(z.string().min(1).max(LONGEST_TITLE)).min(2).max(MOST_CHOICES),
      right: z.int().min(1).describe('number of the right choice, from 1'),
      why: text,
      ...said,
    })
    .refine(({ right, choices }) => right <= choices.length, { path: ['right'] }),
]);

/** A lesson as a file of the kind `lesson` holds it. */
export const lessonBody = z.strictObject({
  id,
  title,
  model: id.describe('id of the model it is about'),
  cards: z.array(card).min(1).max(MOST_CARDS),
});
/** A lesson. */
export type Lesson = z.infer<typeof lessonBody>;
/** One card of it. */
export type LessonCard = Lesson['cards'][number];
