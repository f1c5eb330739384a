/**
 * From the text of a file to a linkage model, or to every problem it has.
 *
 * Guards first (size, depth, keys that could poison an object), then the schema, then the rules that tie places
 * together. Later steps run only on what earlier ones let through, so that one fault is not told twice.
 */
import type * as z from 'zod';
import { checkModel } from './check.ts';
import { jsonFault } from './json.ts';
import {
  MOST_PROBLEMS,
  nearestName,
  showName,
  showValue,
  writePath,
  type Problem,
  type ProblemCode,
  type Problems,
} from './problems.ts';
import { entryOf } from './resolve.ts';
import { linkageModel, MOST_BORES, MOST_MEMBERS, MOST_PARTS, type LinkageModel } from './schema.ts';
import { deepestNesting, noText, repeatedNames } from './text.ts';

/** Largest file read, in characters (about 1 MB). */
export const LARGEST_FILE = 1_000_000;
/** Deepest nesting read; the format itself needs seven levels. */
export const DEEPEST = 24;
const FORBIDDEN_KEYS = new Set(['__proto__', 'constructor', 'prototype']);

export type Reading = { readonly ok: true; readonly model: LinkageModel } | ({ readonly ok: false } & Problems);

/**
 * Read a model file of at most `LARGEST_FILE` characters. Never throws on what a file says; `problems` is never empty
 * when `ok` is false. About 40 ms a bike.
 */
export function readModel(text: string): Reading {
  const parsed = readText(text);
  if (!parsed.ok) return parsed;
  const reading = readData(parsed.data);
  const { repeated } = parsed;
  if (repeated.problems.length === 0) return reading;
  return first(
    [...repeated.problems, ...(reading.ok ? [] : reading.problems)],
    repeated.more + (reading.ok ? 0 : reading.more),
  );
}

/** The data of a text, and the names that it says twice; or why it cannot be read at all. */
export type TextReading =
  | { readonly ok: true; readonly data: unknown; readonly repeated: Problems }
  | ({ readonly ok: false } & Problems);

/** The guards that every file goes through before its form is looked at: size, text, depth, JSON, names, keys. */
export function readText(text: string): TextReading {
  if (text.length > LARGEST_FILE) {
    return refused({
      code: 'too-large',
      path: '(the whole file)',
      met: `${text.length} characters`,
      allowed: `at most ${LARGEST_FILE} characters`,
    });
  }
  const bytes = noText(text);
  if (bytes !== undefined) {
    return refused({
      code: 'not-text',
      path: '(the whole file)',
      met: bytes,
      allowed: 'a text saved as UTF-8',
    });
  }
  const tooDeep = deepestNesting(text);
  if (tooDeep > DEEPEST) {
    return refused({
      code: 'too-deep',
      path: '(the whole file)',
      met: `${tooDeep} levels of brackets`,
      allowed: `at most ${DEEPEST} levels`,
    });
  }
  const body = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  let data: unknown;
  try {
    data = JSON.parse(body);
  } catch {
    return refused(notJson(body));
  }
  const names = repeatedNames(body);
  const problems = names.slice(0, MOST_PROBLEMS).map(
    ({ name, path }): Problem => ({
      code: 'duplicate-id',
      path,
      met: showName(name),
      allowed: 'each name once in one object',
    }),
  );
  return { ok: true, data, repeated: { problems, more: names.length - problems.length } };
}

/** The first problems, as many as are told, and how many more there are. */
function first(problems: readonly Problem[], more = 0): { readonly ok: false } & Problems {
  return {
    ok: false,
    problems: problems.slice(0, MOST_PROBLEMS),
    more: more + Math.max(0, problems.length - MOST_PROBLEMS),
  };
}

/**
 * Read a model that is already plain data; the same checks as `readModel` without those of the text. Never throws;
 * problems are told in the result.
 */
export function readData(data: unknown): Reading {
  const result = readForm(data, linkageModel);
  if (!result.ok) return result;
  const { problems, more } = checkModel(result.data);
  return problems.length === 0 ? { ok: true, model: result.data } : first(problems, more);
}

/** Plain data held against a form, with all its problems at once. */
export function readForm<T>(
  data: unknown,
  form: z.ZodType<T>,
): { readonly ok: true; readonly data: T } | ({ readonly ok: false } & Problems) {
  const forbidden = forbiddenKeys(data, []);
  if (forbidden.length > 0) return first(forbidden);
  const crowded = tooMany(data);
  if (crowded.length > 0) return first(crowded);
  const result = form.safeParse(data, { reportInput: true });
  return result.success ? { ok: true, data: result.data } : asProblems(result.error.issues, data, form);
}

function refused(problem: Problem): { readonly ok: false } & Problems {
  return { ok: false, problems: [problem], more: 0 };
}

function notJson(text: string): Problem {
  const fault = text.trim() === '' ? undefined : jsonFault(text);
  const code = 'not-json';
  return fault
    ? { code, path: `line ${fault.line}, column ${fault.column}`, met: fault.met, allowed: fault.allowed }
    : { code, path: '(the whole file)', met: 'an empty file', allowed: 'a JSON object' };
}

/** More parts, members or bores than any bike has: the rules between them would take minutes to run. */
function tooMany(data: unknown): Problem[] {
  const found: Problem[] = [];
  const count = (path: readonly string[], most: number, noun: string): void => {
    const value = valueAt(data, path);
    const entries =
      typeof value === 'object' && value !== null && !Array.isArray(value) ? Object.keys(value).length : 0;
    if (entries > most)
      found.push({
        code: 'bad-count',
        path: writePath(path),
        met: `${entries} ${noun}`,
        allowed: `at most ${most} ${noun}`,
      });
  };
  count(['parts'], MOST_PARTS, 'parts');
  count(['members'], MOST_MEMBERS, 'members');
  const members = valueAt(data, ['members']);
  if (found.length === 0 && typeof members === 'object' && members !== null)
    for (const id of Object.keys(members)) count(['members', id, 'bores'], MOST_BORES, 'bores');
  return found;
}

function forbiddenKeys(data: unknown, path: readonly PropertyKey[]): Problem[] {
  if (typeof data !== 'object' || data === null) return [];
  if (path.length > DEEPEST) {
    return [
      {
        code: 'too-deep',
        path: writePath(path.slice(0, 6)),
        met: `more than ${DEEPEST} levels`,
        allowed: `at most ${DEEPEST} levels`,
      },
    ];
  }
  const found: Problem[] = [];
  for (const key of Object.keys(data)) {
    if (FORBIDDEN_KEYS.has(key)) {
      found.push({
        code: 'forbidden-key',
        path: writePath([...path, key]),
        met: showName(key),
        allowed: 'any other name',
      });
    } else {
      const step = Array.isArray(data) ? Number(key) : key;
      found.push(...forbiddenKeys((data as Record<string, unknown>)[key], [...path, step]));
    }
  }
  return found;
}

type Issue = z.core.$ZodIssue;

/** The schema's words for a kind of value, as a reader of the file would say them. */
const TYPE_WORDS: Readonly<Record<string, string>> = {
  int: 'a whole number',
  number: 'a finite number',
  string: 'a text in quotes',
  boolean: 'true or false',
  array: 'a list in [ ]',
  object: 'an object in { }',
  record: 'an object in { }',
};

/** Issues of the schema as problems. Words are made only for those told: a file may have tens of thousands. */
function asProblems(issues: readonly Issue[], data: unknown, form: z.ZodType): { readonly ok: false } & Problems {
  const problems: Problem[] = [];
  let more = 0;
  for (const issue of issues) {
    const left = MOST_PROBLEMS - problems.length;
    const told = left > 0 ? asProblem(issue, data, left, form) : [];
    problems.push(...told);
    more += (issue.code === 'unrecognized_keys' ? issue.keys.length : 1) - told.length;
  }
  return first(problems, more);
}

/** One issue as at most `most` problems. */
function asProblem(issue: Issue, data: unknown, most: number, form: z.ZodType): Problem[] {
  const met = showValue(valueAt(data, issue.path));
  const at = (code: ProblemCode, allowed: string, suggestion?: string): Problem => ({
    code,
    path: writePath(issue.path),
    met,
    allowed,
    ...(suggestion === undefined ? {} : { suggestion }),
  });
  switch (issue.code) {
    case 'unrecognized_keys': {
      const known = knownKeys(issue.path, data, form);
      return issue.keys.slice(0, most).map((key) => {
        const suggestion = nearestName(key, known);
        return {
          code: 'unknown-key' as const,
          path: writePath([...issue.path, key]),
          met: showName(key),
          allowed: known.length === 0 ? 'no such key here' : known.join(', '),
          ...(suggestion === undefined ? {} : { suggestion }),
        };
      });
    }
    case 'invalid_type': {
      const missing = valueAt(data, issue.path) === undefined;
      return [at(missing ? 'missing' : 'wrong-type', entryOf(TYPE_WORDS, issue.expected) ?? `a ${issue.expected}`)];
    }
    case 'too_small':
    case 'too_big': {
      const bound = issue.code === 'too_small' ? issue.minimum : issue.maximum;
      const word =
        issue.code === 'too_small'
          ? issue.inclusive
            ? 'at least'
            : 'more than'
          : issue.inclusive
            ? 'at most'
            : 'less than';
      const noun = issue.origin === 'string' ? ' characters' : issue.origin === 'array' ? ' entries' : '';
      return [at(noun === '' ? 'out-of-range' : 'bad-count', `${word} ${String(bound)}${noun}`)];
    }
    case 'invalid_value': {
      const known = issue.values.map(String);
      const value = valueAt(data, issue.path);
      if (value === undefined) return [at('missing', known.join(', '))];
      return [at('not-one-of', known.join(', '), typeof value === 'string' ? nearestName(value, known) : undefined)];
    }
    case 'invalid_union': {
      if (issue.path.at(-1) !== 'kind')
        return [at('wrong-type', 'a number, {value, from}, {least, most, from}, a list of readings, or null')];
      const kinds = issue.path.includes('parts') ? partKinds() : [];
      const kind = valueAt(data, issue.path);
      const name = typeof kind === 'string' ? kind : '';
      return [
        at(
          kind === undefined ? 'missing' : 'not-one-of',
          kinds.join(', ') || 'one of the forms of the format',
          nearestName(name, kinds),
        ),
      ];
    }
    case 'invalid_format':
      return [at('bad-text', 'a kebab-case id: small letters, digits, single hyphens')];
    case 'invalid_key':
      return [
        {
          ...at('bad-text', 'a kebab-case id: small letters, digits, single hyphens'),
          met: showName(String(issue.path.at(-1) ?? '')),
        },
      ];
    default:
      return [at('wrong-type', issue.message)];
  }
}

function valueAt(data: unknown, path: readonly PropertyKey[]): unknown {
  let value = data;
  for (const step of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}

interface Shape {
  readonly def?: {
    readonly type?: string;
    readonly shape?: Record<string, Shape>;
    readonly innerType?: Shape;
    readonly element?: Shape;
    readonly valueType?: Shape;
    readonly options?: readonly Shape[];
    readonly values?: readonly unknown[];
  };
}

/** Keys the schema allows at `path`, found by walking the schema beside the data (to choose a part's kind). */
function knownKeys(path: readonly PropertyKey[], data: unknown, form: z.ZodType): string[] {
  let at: Shape | undefined = form as unknown as Shape;
  let value = data;
  for (const step of path) {
    at = unwrap(at, value);
    const def: Shape['def'] = at?.def;
    at = def?.type === 'object' ? def.shape?.[String(step)] : def?.type === 'array' ? def.element : def?.valueType;
    value = typeof value === 'object' && value !== null ? (value as Record<PropertyKey, unknown>)[step] : undefined;
  }
  return Object.keys(unwrap(at, value)?.def?.shape ?? {});
}

function unwrap(shape: Shape | undefined, value: unknown): Shape | undefined {
  let at = shape;
  while (at?.def?.innerType) at = at.def.innerType;
  if (at?.def?.type !== 'union') return at;
  const kind = typeof value === 'object' && value !== null ? (value as { kind?: unknown }).kind : undefined;
  return at.def.options?.find((option) => option.def?.shape?.['kind']?.def?.values?.[0] === kind);
}

function partKinds(): string[] {
  const parts = (linkageModel as unknown as Shape).def?.shape?.['parts']?.def?.valueType;
  return parts?.def?.options?.map((option) => String(option.def?.shape?.['kind']?.def?.values?.[0])) ?? [];
}
