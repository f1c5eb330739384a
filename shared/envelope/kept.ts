/**
 * The form of what is kept, as a file holds it and as the store gives it back: things with their names and logs.
 */
import { z } from 'zod';
import type { KeptEvent } from './log.ts';

/** Most things, and most events, in one file. */
const MOST_THINGS = 5_000;
const MOST_EVENTS = 200_000;
const MOST_FIELDS = 5_000;

const id = z.string().regex(/^[a-z0-9][a-z0-9.-]{0,79}$/);
/** A field's name; none can be one that every object has. */
const fieldName = z.string().regex(/^[a-z0-9][A-Za-z0-9/._-]{0,159}$/);
const few = (count: number) => (record: object) => Object.keys(record).length <= count;

const setting = z.strictObject({
  do: z.literal('set'),
  fields: z.record(fieldName, z.json()).refine(few(MOST_FIELDS)),
  over: z.record(fieldName, z.array(id).max(MOST_EVENTS)).refine(few(MOST_FIELDS)),
  typed: z.literal(true).optional(),
});
const turning = z.strictObject({ do: z.enum(['undo', 'redo']), of: z.array(id).min(1).max(MOST_EVENTS) });

/** One event, whatever wrote it. */
export const keptEvent: z.ZodType<KeptEvent> = z.strictObject({
  id,
  device: z.string().regex(/^[a-z0-9]{4,40}$/),
  counter: z.int().min(1).max(1e12),
  at_ms: z.number().min(0).max(8.64e15),
  what: z.discriminatedUnion('do', [setting, turning]),
});

/** What a thing is called: what kind of thing, and which of them. */
export const thingName = z.string().regex(/^[a-z]{1,24}(\/[a-z0-9][a-z0-9 -]{0,119})?$/);

/** A thing and its log. */
const keptThing = z.strictObject({ name: thingName, events: z.array(keptEvent).max(MOST_EVENTS) });

/** What a file of kept things holds. */
export const keptBody = z.strictObject({ things: z.array(keptThing).max(MOST_THINGS) });
/** Things with their events. */
export type KeptBody = z.infer<typeof keptBody>;
