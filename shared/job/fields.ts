/**
 * A job from the fields of its thing, and its fields: one field for one thing that a person would call one.
 *
 * `step/fit.main.3` a step (a colon is no letter of a field's name), `part/main/bearing-nd/condition` one thing of a
 * part, `seat/…` the seat of a bearing, `axle/main`, `felt/main/before`, `sign/…`, `wrench/…`, `decision/…`. A field
 * that says what its form does not allow is left aside: another version may know it.
 */
import { JOB_FORMS, jobBody, type Job } from '../envelope/job.ts';
import type { KeptBody } from '../envelope/kept.ts';
import type { FieldValue, Sum } from '../envelope/log.ts';
import { contentKey } from '../numbers/figures.ts';

const AS_IT_CAME = ['air', 'clicks', 'spacers', 'sag', 'runs'] as const;
const PART_FIELDS = {
  condition: JOB_FORMS.condition,
  measured: JOB_FORMS.measured,
  renewed: JOB_FORMS.word,
  awaited: JOB_FORMS.word,
  awaited_on: JOB_FORMS.day,
  for_now: JOB_FORMS.text,
};
const SEAT_FIELDS = { condition: JOB_FORMS.condition, measured: JOB_FORMS.measured };
const FELT_FIELDS = { before: JOB_FORMS.felt, after: JOB_FORMS.felt };
/** Records by id, of one form each. */
const RECORDS = {
  step: ['steps', JOB_FORMS.stepMark],
  axle: ['axles', JOB_FORMS.axleMark],
  wrench: ['wrenches', JOB_FORMS.wrench],
  sign: ['signs', JOB_FORMS.sign],
  decision: ['decisions', JOB_FORMS.decision],
  photo: ['photos', JOB_FORMS.photo],
} as const;
/** Records by id that hold several things each. */
const NESTED = {
  part: ['parts', PART_FIELDS],
  seat: ['seats', SEAT_FIELDS],
  felt: ['felt', FELT_FIELDS],
} as const;
const WHOLE = ['model', 'key', 'reference', 'frame', 'date', 'initials', 'remarks', 'air_put_back'] as const;

/** A job of a model that nothing has been done to. */
export function emptyJob(of: Pick<Job, 'model' | 'key'> & Partial<Job>): Job {
  return {
    is_draft: false,
    follow: 'ours',
    is_archived: false,
    reference: '',
    frame: '',
    date: '',
    initials: '',
    remarks: '',
    as_it_came: { air: '', clicks: '', spacers: '', sag: '', runs: '' },
    photos: {},
    air_put_back: '',
    steps: {},
    parts: {},
    seats: {},
    axles: {},
    wrenches: {},
    felt: {},
    signs: {},
    decisions: {},
    ...of,
  };
}

/** The name of a field for an id of a plan, and back. */
const written = (id: string): string => id.replaceAll(':', '.');
const read = (name: string): string => name.replaceAll('.', ':');

/** A new job of the same model, with what stays the same from one of its bikes to the next. */
export function nextJob({ model, variant, is_draft, follow, initials, wrenches }: Job, key: string): Job {
  return emptyJob({ model, key, ...(variant === undefined ? {} : { variant }), is_draft, follow, initials, wrenches });
}

/** The job that fields come to; undefined where they name no model. */
export function jobFrom({ fields }: Pick<Sum, 'fields'>): Job | undefined {
  const found: Record<string, unknown> = {};
  const put = (record: string, id: string, more: string | undefined, value: unknown): void => {
    const records = (found[record] ??= {}) as Record<string, unknown>;
    if (more === undefined) records[id] = value;
    else records[id] = { ...(records[id] as object), [more]: value };
  };
  for (const [name, value] of fields) {
    if (value === null) continue;
    const [kind = '', ...rest] = name.split('/');
    const id = read(rest.join('/'));
    if (rest.length === 0) {
      found[name] = value;
    } else if (Object.hasOwn(RECORDS, kind)) {
      const [record, form] = RECORDS[kind as keyof typeof RECORDS];
      if (form.safeParse(value).success) put(record, id, undefined, value);
    } else if (Object.hasOwn(NESTED, kind)) {
      const [record, forms] = NESTED[kind as keyof typeof NESTED];
      const more = rest.at(-1)!;
      const form = Object.hasOwn(forms, more) ? forms[more as keyof typeof forms] : undefined;
      if (form && (form as { safeParse: typeof JOB_FORMS.word.safeParse }).safeParse(value).success)
        put(record, read(rest.slice(0, -1).join('/')), more, value);
    } else if (kind === 'came' && AS_IT_CAME.some((known) => known === id)) {
      put('as_it_came', id, undefined, value);
    }
  }
  if (typeof found['model'] !== 'string' || typeof found['key'] !== 'string') return undefined;
  const base = emptyJob({ model: found['model'], key: found['key'] });
  const known = Object.keys(jobBody.shape);
  const whole = Object.fromEntries(Object.entries(found).filter(([name]) => known.includes(name)));
  const came = { ...base.as_it_came, ...(found['as_it_came'] as object) };
  const made = jobBody.safeParse({ ...base, ...whole, as_it_came: came });
  return made.success ? made.data : undefined;
}

/** The fields of a whole job: what begins its thing, or takes a file of one in. */
export function fieldsOfJob(job: Job): Record<string, FieldValue> {
  const fields: Record<string, FieldValue> = {};
  // Without a key a thing is no job: an empty one is said as well.
  for (const name of WHOLE) if (job[name] !== '' || name === 'key') fields[name] = job[name];
  if (job.variant !== undefined) fields['variant'] = job.variant;
  if (job.is_draft) fields['is_draft'] = true;
  if (job.is_archived) fields['is_archived'] = true;
  if (job.follow !== 'ours') fields['follow'] = job.follow;
  for (const name of AS_IT_CAME) if (job.as_it_came[name] !== '') fields[`came/${name}`] = job.as_it_came[name];
  for (const [kind, [record]] of Object.entries(RECORDS))
    for (const [id, value] of Object.entries(job[record])) fields[fieldOf(kind, id)] = value as FieldValue;
  for (const [kind, [record]] of Object.entries(NESTED))
    for (const [id, things] of Object.entries(job[record]))
      for (const [more, value] of Object.entries(things)) fields[fieldOf(kind, id, more)] = value as FieldValue;
  return fields;
}

/** A job of a file as a thing to take in: under a name made from what it says, so that taken in twice it is one. */
export function keptJob(job: Job): KeptBody {
  const id = `${job.model}-${contentKey(job)}`;
  const at_ms = Math.max(0, ...Object.values(job.steps).map((mark) => mark.at_ms));
  const event: KeptBody['things'][number]['events'][number] = {
    id,
    device: 'file',
    counter: 1,
    at_ms,
    what: { do: 'set', fields: fieldsOfJob(job), over: {} },
  };
  return { things: [{ name: `job/${id}`, events: [event] }] };
}

/** The name of the field that holds one thing of a job. */
export function fieldOf(kind: string, id: string, more?: string): string {
  return `${kind}/${written(id)}${more === undefined ? '' : `/${more}`}`;
}
