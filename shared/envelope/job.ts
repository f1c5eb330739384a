/**
 * The form of a job: one real bike from strip-down to hand-over, as a file of the kind `job` holds it.
 *
 * A job is a model, or a draft of one, and what is true of this bike. `shared/job/fields.ts` makes one of the fields of
 * its thing, and gives its fields. Ids are those of the plan and of the scene: a step by its id, an axle by its stack, a
 * part by `stackId/rowId`; the seat of a bearing goes by the id of the bearing that stands in it.
 */
import { z } from 'zod';

/** Longest text of a field, and longest name of a thing. */
const LONGEST_TEXT = 2000;
const LONGEST_WORD = 120;
const LONGEST_ID = 160;
/** A photo of a phone, made small by the page, in base64. */
const LARGEST_PHOTO = 400_000;
const MOST = 5000;
/** More than any wrench of a bicycle workshop gives. */
const LARGEST_TORQUE_Nm = 400;
const LARGEST_SIZE_mm = 1000;

const text = z.string().max(LONGEST_TEXT);
const word = z.string().max(LONGEST_WORD);
const at_ms = z.number().min(0).max(8.64e15);
const day = z.string().regex(/^(\d{4}-\d{2}-\d{2})?$/);
const id = z
  .string()
  .max(LONGEST_ID)
  .regex(/^[a-z0-9][a-z0-9/:-]*$/);

/** How far a step is: done, not yet (which says why where it was put off), not on this bike. */
const STEP_STATES = ['done', 'not-yet', 'not-here'] as const;

/** What a hand and an eye find: `good`, or what is wrong. */
const CONDITIONS = [
  'good',
  'notchy',
  'play',
  'rust',
  'groove',
  'bent',
  'thread-torn',
  'socket-rounded',
  'seized',
  'loose',
  'oval',
  'crack',
  'pitted',
  'faces-marked',
  'short',
] as const;

/** What is felt when a pivot is moved and rocked. */
export const JOB_FEELS = ['good', 'notch', 'play', 'stiff', 'grates', 'noise'] as const;

/** Trouble that has a point at which the workshop stops. */
export const STOPS = [
  'seized-axle',
  'rounded-socket',
  'torn-thread',
  'loose-seat',
  'oval-seat',
  'cracked-arm',
] as const;

const stepMark = z.strictObject({ is: z.enum(STEP_STATES), at_ms, why: text.optional() });
/** A calliper's figures, mm: the length of a spacer, a seat across one way and the other. */
const measured = z.strictObject({
  length_mm: z.number().positive().max(LARGEST_SIZE_mm).optional(),
  across_mm: z.number().positive().max(LARGEST_SIZE_mm).optional(),
  other_way_mm: z.number().positive().max(LARGEST_SIZE_mm).optional(),
});
const condition = z.array(z.enum(CONDITIONS)).max(CONDITIONS.length);
const axleMark = z.strictObject({
  reached_Nm: z.number().positive().max(LARGEST_TORQUE_Nm),
  /** What the model asked for when it was reached. */
  set_Nm: z.number().positive().max(LARGEST_TORQUE_Nm),
  /** Key of the wrench it was reached with. */
  wrench: word.optional(),
});
const wrench = z.strictObject({
  name: word,
  least_Nm: z.number().min(0).max(LARGEST_TORQUE_Nm),
  most_Nm: z.number().positive().max(LARGEST_TORQUE_Nm),
  /** Day of its last calibration, `2026-05-31`; empty where nobody knows. */
  calibrated: day,
});
const felt = z.strictObject({ is: z.array(z.enum(JOB_FEELS)).min(1).max(JOB_FEELS.length), words: text.optional() });
const sign = z.strictObject({ by: word.min(1), at_ms });
/** A photo of how it came, small enough to be kept with the rest. */
const photo = z.strictObject({
  jpeg: z
    .string()
    .max(LARGEST_PHOTO)
    .regex(/^data:image\/jpeg;base64,[A-Za-z0-9+/=]+$/),
  at_ms,
});
const decision = z.strictObject({
  /** How many of what may be tried was tried. */
  tried: z.int().min(0).max(20),
  came: z.enum(['mended', 'to-maker']).optional(),
});

const part = z.strictObject({
  condition: condition.optional(),
  measured: measured.optional(),
  /** What was fitted in its place. */
  renewed: word.optional(),
  /** What is on order and has not come. */
  awaited: word.optional(),
  /** Day on which one asks after it. */
  awaited_on: day.optional(),
  /** Why what is fitted is fitted for now. */
  for_now: text.optional(),
});
const seat = z.strictObject({ condition: condition.optional(), measured: measured.optional() });
const few = (record: object): boolean => Object.keys(record).length <= MOST;
const byId = <T extends z.ZodType>(value: T) => z.record(id, value).refine(few);

/** The parts of a job's form that stand for one thing each, to check one field by. */
export const JOB_FORMS = {
  text,
  word,
  day,
  stepMark,
  condition,
  measured,
  axleMark,
  wrench,
  felt,
  sign,
  decision,
  photo,
};

/** A job. */
export const jobBody = z.strictObject({
  model: z
    .string()
    .max(LONGEST_WORD)
    .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
  variant: word.optional(),
  /** Whether the model is a draft that is still being measured up. */
  is_draft: z.boolean(),
  /** The model's content when the job was begun. */
  key: word,
  follow: z.enum(['ours', 'makers']),
  is_archived: z.boolean(),
  reference: word,
  frame: word,
  date: day,
  initials: word,
  remarks: text,
  as_it_came: z.strictObject({ air: text, clicks: text, spacers: text, sag: text, runs: text }),
  /** Photos of how it came: hoses and cables above all. */
  photos: byId(photo).default({}),
  /** What was put back at the end, in the words of the pump and the spring. */
  air_put_back: text,
  steps: byId(stepMark),
  parts: byId(part),
  seats: byId(seat),
  axles: byId(axleMark),
  wrenches: byId(wrench),
  felt: byId(z.strictObject({ before: felt.optional(), after: felt.optional() })),
  signs: byId(sign),
  /** By part (or seat) and trouble: `main/axle/seized-axle`. */
  decisions: byId(decision),
});

/** One real bike from strip-down to hand-over. */
export type Job = z.infer<typeof jobBody>;
/** How far a step is, and since when. */
export type StepMark = z.infer<typeof stepMark>;
/** What is true of one part. */
export type PartMark = z.infer<typeof part>;
/** What is true of the seat of a bearing. */
export type SeatMark = z.infer<typeof seat>;
/** A torque wrench as the shop writes it down. */
export type JobWrench = z.infer<typeof wrench>;
/** What a hand and an eye find. */
export type Condition = (typeof CONDITIONS)[number];
/** What is felt when a pivot is moved. */
export type JobFeel = (typeof JOB_FEELS)[number];
/** Trouble that has a point at which the workshop stops. */
export type StopCode = (typeof STOPS)[number];
