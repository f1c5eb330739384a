/**
 * The form of what was practised: by initials, each time a drill was done. When a drill is due again follows from that,
 * so that runs from several tablets come together without a clash.
 */
import { z } from 'zod';
import { contentKey } from '../numbers/figures.ts';
import type { KeptBody } from './kept.ts';

/** Grades in the words of the published schedulers, the worst first. */
export const GRADES = ['again', 'hard', 'good', 'easy'] as const;

const MOST_PEOPLE = 500;
const MOST_RUNS = 20_000;
const LONGEST_DRILL = 160;
const few = (most: number) => (record: object) => Object.keys(record).length <= most;

const run = z.strictObject({
  /** `lay/skarn-140/main`: kind, model, and what of it. */
  drill: z
    .string()
    .max(LONGEST_DRILL)
    .regex(/^[a-z]+(\/[a-z0-9-]+)+$/),
  at_ms: z.number().min(0).max(8.64e15),
  grade: z.enum(GRADES),
  tries: z.int().min(0).max(1000),
  minutes: z.number().min(0).max(100_000),
});
const initials = z.string().regex(/^[a-z0-9]{1,4}$/);
/** When it was done, and letters that no other device gives. */
const runKey = z.string().regex(/^\d{1,16}-[a-z0-9]{1,40}$/);

/** What a file of the kind `progress` holds. */
export const progressBody = z.strictObject({
  people: z
    .record(initials, z.strictObject({ runs: z.record(runKey, run).refine(few(MOST_RUNS)) }))
    .refine(few(MOST_PEOPLE)),
});
/** What was practised, by initials. */
export type PractisedBody = z.infer<typeof progressBody>;
/** One time a drill was done. */
export type DrillDone = z.infer<typeof run>;

/** How the field of a run begins, in what is kept of a person. */
export const RUN_FIELD = 'run/';
/** How what is kept of a person is called, before the initials. */
export const PRACTICE_THING = 'practice/';

/** The file as things to take in: each run is one event, the same from whichever file it comes. */
export function keptProgress({ people }: PractisedBody): KeptBody {
  return {
    things: Object.entries(people).map(([who, { runs }]) => ({
      name: PRACTICE_THING + who,
      events: Object.entries(runs).map(([key, done]) => ({
        id: `file-${contentKey({ who, key, done })}`,
        device: 'file',
        counter: 1,
        at_ms: done.at_ms,
        what: { do: 'set', fields: { [RUN_FIELD + key]: done }, over: {} },
      })),
    })),
  };
}
