/**
 * The one envelope of every file that Axlewright writes of what it keeps: {kind, schema, app, body}.
 *
 * `kind` says what lies in it, `schema` in which version of its form, `app` which Axlewright wrote it (for a person to
 * read), and `body` is the thing itself, checked in full before anything is taken from it. An older body is brought up
 * to date by the steps in `migrations/`; a newer one is refused. Reading never throws; what is wrong is data, its words
 * are in `words/envelope.ts`.
 */
import { z } from 'zod';
import { jsonFault } from '../model/json.ts';
import { writePath } from '../model/problems.ts';
import { harmless } from '../numbers/harmless.ts';
import { draftBody, type Draft } from './draft.ts';
import { jobBody, type Job } from './job.ts';
import { keptBody, type KeptBody } from './kept.ts';
import { lessonBody, type Lesson } from './lesson.ts';
import { progressBody, type PractisedBody } from './progress.ts';
import { MIGRATIONS, type Migration } from './migrations/list.ts';

/** Largest file of what is kept, in characters: a few hundred own models. */
const LARGEST_ENVELOPE = 50_000_000;

/** What a kind of file is. */
export interface EnvelopeKind<Body> {
  /** The version of its form that is written today. */
  readonly schema: number;
  readonly form: z.ZodType<Body>;
  /** The step from each older version to the one after it. */
  readonly migrations: Readonly<Record<number, Migration>>;
}

/** The bodies there are, by kind. */
interface Bodies {
  readonly kept: KeptBody;
  readonly job: Job;
  readonly draft: Draft;
  readonly lesson: Lesson;
  readonly progress: PractisedBody;
}

/** Every kind of file there is. */
export const ENVELOPE_KINDS: { readonly [K in keyof Bodies]: EnvelopeKind<Bodies[K]> } = {
  kept: { schema: 1, form: keptBody, migrations: MIGRATIONS.kept },
  job: { schema: 1, form: jobBody, migrations: MIGRATIONS.job },
  draft: { schema: 1, form: draftBody, migrations: MIGRATIONS.draft },
  lesson: { schema: 1, form: lessonBody, migrations: MIGRATIONS.lesson },
  progress: { schema: 1, form: progressBody, migrations: MIGRATIONS.progress },
};

/** Why a file was not taken. */
export type EnvelopeTrouble =
  | { readonly code: 'too-large'; readonly met: string; readonly allowed: string }
  | { readonly code: 'not-json'; readonly met: string; readonly allowed: string; readonly path: string }
  | { readonly code: 'no-envelope' }
  | { readonly code: 'unknown-kind'; readonly met: string }
  | { readonly code: 'newer'; readonly app: string }
  | { readonly code: 'too-old'; readonly app: string }
  | { readonly code: 'bad-body'; readonly path: string; readonly more: number };

/** Codes of the troubles there are. */
export const ENVELOPE_TROUBLE_CODES = [
  'too-large',
  'not-json',
  'no-envelope',
  'unknown-kind',
  'newer',
  'too-old',
  'bad-body',
] as const satisfies readonly EnvelopeTrouble['code'][];

/** A file that was read. */
export type EnvelopeReading<Body> =
  | { readonly ok: true; readonly app: string; readonly body: Body }
  | { readonly ok: false; readonly trouble: EnvelopeTrouble };

const LONGEST_APP = 40;
const LONGEST_KIND = 40;
const envelope = z.strictObject({
  kind: z.string().min(1).max(LONGEST_KIND),
  schema: z.int().min(1).max(100_000),
  app: z.string().min(1).max(LONGEST_APP),
  $schema: z.string().max(200).optional(),
  body: z.unknown(),
});

/** Whether a text means to be such a file, whatever is wrong with it: then it is read as one, and as nothing else. */
export function looksLikeEnvelope(text: string): boolean {
  return /^\ufeff?\s*\{\s*"kind"\s*:\s*"[^"]*"\s*,\s*"schema"\s*:/.test(text.slice(0, 400));
}

/** A file of a kind, as text. */
export function writeEnvelope<K extends keyof Bodies>(kind: K, app: string, body: Bodies[K]): string {
  return `${JSON.stringify({ kind, schema: ENVELOPE_KINDS[kind].schema, app, body })}\n`;
}

/** Read a file that should be of a kind; never throws on what it says. */
export function readEnvelope<K extends keyof Bodies>(text: string, kind: K): EnvelopeReading<Bodies[K]> {
  return readAs(text, kind, ENVELOPE_KINDS[kind]);
}

/** The same for a kind that is given whole. */
export function readAs<Body>(text: string, name: string, kind: EnvelopeKind<Body>): EnvelopeReading<Body> {
  if (text.length > LARGEST_ENVELOPE)
    return refused({
      code: 'too-large',
      met: `${text.length} characters`,
      allowed: `at most ${LARGEST_ENVELOPE} characters`,
    });
  const plain = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  let data: unknown;
  try {
    data = JSON.parse(plain);
  } catch {
    const fault = jsonFault(plain);
    return refused({
      code: 'not-json',
      path: fault ? `line ${fault.line}, column ${fault.column}` : '(the whole file)',
      met: fault?.met ?? 'no JSON',
      allowed: fault?.allowed ?? 'a JSON object',
    });
  }
  const outer = envelope.safeParse(data);
  if (!outer.success) return refused({ code: 'no-envelope' });
  const { kind: met, schema, body, app: by } = outer.data;
  const app = harmless(by);
  if (met !== name) return refused({ code: 'unknown-kind', met: harmless(met) });
  // Told apart from a broken one before its body is looked at: a newer form is not wrong.
  if (schema > kind.schema) return refused({ code: 'newer', app });
  let today = body;
  for (let at = schema; at < kind.schema; at++) {
    const step = kind.migrations[at];
    if (!step) return refused({ code: 'too-old', app });
    try {
      today = step(today);
    } catch {
      return refused({ code: 'bad-body', path: '(the body)', more: 0 });
    }
  }
  const inner = kind.form.safeParse(today);
  if (inner.success) return { ok: true, app, body: inner.data };
  const [first, ...rest] = inner.error.issues;
  const path = first && first.path.length > 0 ? `body.${writePath(first.path)}` : 'body';
  return refused({ code: 'bad-body', path, more: rest.length });
}

function refused(trouble: EnvelopeTrouble): { readonly ok: false; readonly trouble: EnvelopeTrouble } {
  return { ok: false, trouble };
}
