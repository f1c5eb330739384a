/**
 * What a hand at the bench knows of one loose part, and what cannot be true of any part.
 *
 * Everything but `count` may be left out: a part seen but not measured is a reading too. Lengths are mm;
 * `turns_in_10mm` counts the crests of a thread along 10 mm; `slides_on` names an axle of the parts list, or another
 * reading's label, that passes through the bore. Readings come as JSON (this schema) or as a table (`csv.ts`); both
 * give the same data and all their problems at once. `words/sort.ts` makes the sentences.
 */
import { figure } from '../numbers/figures.ts';
import { harmless } from '../numbers/harmless.ts';
import * as z from 'zod';
import { jsonFault } from '../model/json.ts';
import { nearestName, showName, showValue } from '../model/problems.ts';
import { deepestNesting } from '../model/text.ts';
import { DEEPEST } from '../model/read.ts';
import type { LinkageModel } from '../model/schema.ts';
import { size_mm } from '../parts/fields.ts';
import { DEFAULT_ACCURACY_mm, type Setting } from './misfit.ts';
import { kindOf, PART_KINDS, type PartKind } from '../parts/kinds.ts';
import { hasDrive, sizesOfKind } from '../parts/measuring.ts';
import { SIZE_NAMES, turnsIn10mm, type SizeName } from '../parts/sizes.ts';

/** Most readings taken at once: a tray, not a warehouse. */
export const MOST_READINGS = 2000;
/** Longest text of readings read, in characters. */
export const LONGEST_READINGS = 400_000;

/** Tools a drive can take, as the schema of the model names them. */
export const DRIVE_TOOLS = ['hex-key', 'star-key', 'spanner', 'pin-spanner', 'cassette-socket'] as const;

const calliperReading = z.strictObject({
  label: z.string().trim().overwrite(harmless).min(1).max(40).optional(),
  kind: z.enum(PART_KINDS).optional(),
  count: z.number().int().min(1).max(99).default(1),
  length_mm: size_mm.optional(),
  outside_mm: size_mm.optional(),
  bore_mm: size_mm.optional(),
  head_mm: size_mm.optional(),
  large_mm: size_mm.optional(),
  small_mm: size_mm.optional(),
  thread_mm: z.number().min(2).max(60).optional(),
  pitch_mm: z.number().min(0.2).max(6).optional(),
  turns_in_10mm: z.number().min(1).max(50).optional(),
  slides_on: z.string().trim().overwrite(harmless).min(1).max(48).optional(),
  drive: z.strictObject({ tool: z.enum(DRIVE_TOOLS), size_mm: z.number().min(1).max(60) }).optional(),
});

const sheet = z.strictObject({
  accuracy_mm: z.number().min(0.001).max(2).optional(),
  wear: z.boolean().optional(),
  readings: z.array(z.unknown()).max(MOST_READINGS),
});

/** One loose part, or several alike, as read. Lengths mm. */
export type CalliperReading = z.output<typeof calliperReading>;

/** Everything that can be wrong with readings. */
export const READING_PROBLEM_CODES = [
  'not-readings',
  'too-many',
  'unknown-column',
  'unit-missing',
  'column-twice',
  'not-a-number',
  'out-of-range',
  'unknown-kind',
  'unknown-drive',
  'unknown-key',
  'wrong-type',
  'says-nothing',
  'label-twice',
  'bore-over-outside',
  'bore-over-face',
  'small-over-large',
  'face-over-outside',
  'shank-over-head',
  'thread-over-outside',
  'pitch-over-thread',
  'pitch-against-count',
  'kind-lacks-size',
  'no-such-axle',
  'axle-not-measured',
] as const;
export type ReadingProblemCode = (typeof READING_PROBLEM_CODES)[number];

/** What is wrong with a reading, as data. `row` counts from 1; it is absent for the table as a whole. */
export interface ReadingProblem {
  readonly code: ReadingProblemCode;
  readonly row?: number;
  readonly label?: string;
  /** The column or key concerned. */
  readonly field?: string;
  readonly met: string;
  readonly allowed: string;
  readonly suggestion?: string;
}

/** Readings with how they were taken. */
export interface Readings {
  readonly setting: Setting;
  readonly readings: readonly CalliperReading[];
}

export type ReadingsResult =
  | ({ readonly ok: true } & Readings)
  | { readonly ok: false; readonly problems: readonly ReadingProblem[] };

/** The setting where nothing is stated. */
export const DEFAULT_SETTING: Setting = { accuracy_mm: DEFAULT_ACCURACY_mm, wear: true };

/**
 * One reading from plain data, with its problems; `row` counts from 1. Never throws; without problems there is a
 * reading.
 */
export function readReading(
  data: unknown,
  row: number,
): { readonly reading?: CalliperReading; readonly problems: readonly ReadingProblem[] } {
  const result = calliperReading.safeParse(data, { reportInput: true });
  if (result.success) return { reading: result.data, problems: [] };
  const label = labelOf(data);
  return { problems: result.error.issues.flatMap((issue) => schemaProblems(issue, row, label)) };
}

function labelOf(data: unknown): { label?: string } {
  const label = typeof data === 'object' && data !== null ? (data as { label?: unknown }).label : undefined;
  return typeof label === 'string' ? { label: harmless(label.slice(0, 40)) } : {};
}

function schemaProblems(issue: z.core.$ZodIssue, row: number, label: { label?: string }): ReadingProblem[] {
  const field = issue.path.map(String).join('.');
  const at = (code: ReadingProblemCode, allowed: string, more: Partial<ReadingProblem> = {}): ReadingProblem => ({
    code,
    ...(row > 0 ? { row } : {}),
    ...label,
    ...(field === '' ? {} : { field }),
    met: showValue(issue.input),
    allowed,
    ...more,
  });
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => {
        const known =
          field === 'drive'
            ? ['tool', 'size_mm']
            : row === 0
              ? ['accuracy_mm', 'wear', 'readings']
              : Object.keys(calliperReading.shape);
        const suggestion = nearestName(key, known);
        return at('unknown-key', known.join(', '), {
          field: showName(key),
          met: showValue(key),
          ...(suggestion === undefined ? {} : { suggestion }),
        });
      });
    case 'too_small':
      return [at('out-of-range', `at least ${String(issue.minimum)}`)];
    case 'too_big':
      return [
        issue.origin === 'array'
          ? at('too-many', `at most ${String(issue.maximum)} readings`)
          : at('out-of-range', `at most ${String(issue.maximum)}`),
      ];
    case 'invalid_value': {
      const known = issue.values.map(String);
      const suggestion = typeof issue.input === 'string' ? nearestName(issue.input, known) : undefined;
      return [
        at(
          field === 'kind' ? 'unknown-kind' : 'unknown-drive',
          known.join(', '),
          suggestion === undefined ? {} : { suggestion },
        ),
      ];
    }
    default:
      return [
        at(
          'wrong-type',
          issue.code === 'invalid_type' ? (TYPE_WORDS[issue.expected] ?? issue.expected) : issue.message,
        ),
      ];
  }
}

const TYPE_WORDS: Readonly<Record<string, string>> = {
  number: 'a number',
  int: 'a whole number',
  string: 'a text in quotes',
  boolean: 'true or false',
  array: 'a list in [ ]',
  object: 'an object in { }',
};

/** Readings from the text of a JSON file: a list of readings, or an object that states the accuracy too. */
export function readReadingsJson(text: string): ReadingsResult {
  const refused = (met: string, allowed: string): ReadingsResult => ({
    ok: false,
    problems: [{ code: 'not-readings', met, allowed }],
  });
  const depth = deepestNesting(text);
  if (depth > DEEPEST) return refused(`${depth} levels of brackets`, `at most ${DEEPEST} levels`);
  const body = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  let data: unknown;
  try {
    data = JSON.parse(body);
  } catch {
    const fault = body.trim() === '' ? undefined : jsonFault(body);
    return fault
      ? refused(`${fault.met} at line ${fault.line}, column ${fault.column}`, fault.allowed)
      : refused('an empty file', 'a list of readings, or an object with "readings"');
  }
  const head = sheet.safeParse(Array.isArray(data) ? { readings: data } : data, { reportInput: true });
  if (!head.success) return { ok: false, problems: head.error.issues.flatMap((issue) => schemaProblems(issue, 0, {})) };
  return gather(
    head.data.readings.map((entry, index) => readReading(entry, index + 1)),
    {
      accuracy_mm: head.data.accuracy_mm ?? DEFAULT_SETTING.accuracy_mm,
      wear: head.data.wear ?? DEFAULT_SETTING.wear,
    },
  );
}

/** Readings and their problems as one result. */
export function gather(entries: readonly ReturnType<typeof readReading>[], setting: Setting): ReadingsResult {
  const problems = entries.flatMap((entry) => entry.problems);
  if (problems.length > 0) return { ok: false, problems };
  return { ok: true, setting, readings: entries.flatMap((entry) => (entry.reading ? [entry.reading] : [])) };
}

/** Sizes given in a reading, quickest first. */
export function sizesRead(reading: CalliperReading): SizeName[] {
  return SIZE_NAMES.filter((name) => reading[name] !== undefined);
}

/** True when a reading says nothing at all about its part. */
export function isEmptyReading(reading: CalliperReading): boolean {
  return (
    sizesRead(reading).length === 0 &&
    reading.kind === undefined &&
    reading.slides_on === undefined &&
    reading.drive === undefined
  );
}

/**
 * Two readings must contradict each other by this many times the accuracy before they are refused: less happens by the
 * calliper's error.
 */
const IMPOSSIBLE_ACCURACIES = 4;

/** A flange stands over the tube that is called its outside. */
function isFlanged(kind: PartKind | undefined): boolean {
  if (kind === undefined) return false;
  const { sample, sizes } = kindOf({ kind });
  return (sizes.large_mm?.get(sample) ?? 0) > (sizes.outside_mm?.get(sample) ?? Infinity);
}

/** What one reading says that no part can be; comparisons allow for the accuracy of both readings. */
function impossibilities(reading: CalliperReading, row: number, { accuracy_mm }: Setting): ReadingProblem[] {
  const found: ReadingProblem[] = [];
  const say = (code: ReadingProblemCode, field: string, met: string, allowed: string): void => {
    found.push({ code, row, ...(reading.label === undefined ? {} : { label: reading.label }), field, met, allowed });
  };
  const {
    bore_mm: bore,
    outside_mm: outside,
    small_mm: small,
    large_mm: large,
    head_mm: head,
    thread_mm: thread,
    pitch_mm: pitch,
    turns_in_10mm: turns,
  } = reading;
  const slack = IMPOSSIBLE_ACCURACIES * accuracy_mm;
  const mm = (value: number): string => `${figure(value, 3)} mm`;
  if (isEmptyReading(reading)) say('says-nothing', 'kind', 'no size and no kind', 'at least a kind or one size');
  if (bore !== undefined && outside !== undefined && bore >= outside)
    say('bore-over-outside', 'bore_mm', mm(bore), `below the outside, ${mm(outside)}`);
  if (bore !== undefined && small !== undefined && bore >= small)
    say('bore-over-face', 'bore_mm', mm(bore), `below the small face, ${mm(small)}`);
  if (small !== undefined && large !== undefined && small > large + slack)
    say('small-over-large', 'small_mm', mm(small), `at most the large face, ${mm(large)}`);
  const { kind } = reading;
  const half = kind === undefined ? undefined : kindOf({ kind }).thread;
  const isHeaded = kind !== undefined && sizesOfKind(kind).includes('head_mm');
  if (large !== undefined && outside !== undefined && !isFlanged(kind) && large > outside + slack)
    say('face-over-outside', 'large_mm', mm(large), `at most the outside, ${mm(outside)}`);
  if (!isHeaded && head === undefined && small !== undefined && outside !== undefined && small > outside + slack)
    say('face-over-outside', 'small_mm', mm(small), `at most the outside, ${mm(outside)}`);
  if (head !== undefined && outside !== undefined && outside > head + slack)
    say('shank-over-head', 'outside_mm', mm(outside), `at most the head, ${mm(head)}`);
  if (half === 'inner' && !isHeaded && thread !== undefined && outside !== undefined && thread >= outside)
    say('thread-over-outside', 'thread_mm', mm(thread), `below the outside, ${mm(outside)}`);
  // A crest stands up to 0.4 mm below the name of its thread, and a named thread may be on a shank of that size.
  if (half === 'outer' && thread !== undefined && outside !== undefined && thread > outside + 0.5 + slack)
    say('thread-over-outside', 'thread_mm', mm(thread), `about the shank at most, ${mm(outside)}`);
  if (pitch !== undefined && thread !== undefined && pitch > thread / 3)
    say('pitch-over-thread', 'pitch_mm', mm(pitch), `a third of the thread at most, ${mm(thread / 3)}`);
  if (pitch !== undefined && turns !== undefined && Math.abs(turnsIn10mm(pitch) - turns) > 1)
    say(
      'pitch-against-count',
      'turns_in_10mm',
      `${turns} turns`,
      `about ${figure(turnsIn10mm(pitch), 1)} turns for a pitch of ${mm(pitch)}`,
    );
  if (kind !== undefined) {
    const shown = sizesOfKind(kind);
    for (const name of sizesRead(reading)) {
      if (!shown.includes(name)) say('kind-lacks-size', name, `${name} on a ${kind}`, shown.join(', '));
    }
    if (reading.drive && !hasDrive(kind)) say('kind-lacks-size', 'drive', `a drive on a ${kind}`, shown.join(', '));
    if (reading.slides_on !== undefined && !shown.includes('bore_mm'))
      say('kind-lacks-size', 'slides_on', `a bore on a ${kind}`, shown.join(', '));
  }
  return found;
}

/**
 * Every problem of a tray of readings: each impossible one, labels given twice, axles that nobody knows; in the order
 * of the rows, empty when the tray can be sorted.
 */
export function checkReadings({ readings, setting }: Readings, model: LinkageModel): ReadingProblem[] {
  const problems = readings.flatMap((reading, index) => impossibilities(reading, index + 1, setting));
  const labels = new Map<string, number>();
  readings.forEach(({ label }, index) => {
    if (label === undefined) return;
    if (labels.has(label))
      problems.push({
        code: 'label-twice',
        row: index + 1,
        label,
        field: 'label',
        met: showValue(label),
        allowed: `another label: row ${labels.get(label)! + 1} has this one`,
      });
    else labels.set(label, index);
  });
  readings.forEach((reading, index) => {
    if (reading.slides_on === undefined) return;
    const axle = findAxle(reading.slides_on, model, readings);
    if (axle && axle.length > 0) return;
    const known = [...axleNames(model), ...labels.keys()];
    const suggestion = nearestName(reading.slides_on, known);
    problems.push({
      code: axle ? 'axle-not-measured' : 'no-such-axle',
      row: index + 1,
      ...(reading.label === undefined ? {} : { label: reading.label }),
      field: 'slides_on',
      met: showValue(reading.slides_on),
      allowed: axle ? 'a reading whose outside is measured' : known.join(', ') || 'an axle of the parts list',
      ...(suggestion === undefined || axle ? {} : { suggestion }),
    });
  });
  return problems.sort((a, b) => (a.row ?? 0) - (b.row ?? 0));
}

function axleNames(model: LinkageModel): string[] {
  return Object.entries(model.parts).flatMap(([id, part]) => ('shank' in part ? [id] : []));
}

/**
 * Diameters a spacer may slide on, mm: an axle of the list by id or name, or a labelled reading's outside. Undefined
 * where nobody is called that.
 */
export function findAxle(
  name: string,
  model: LinkageModel,
  readings: readonly CalliperReading[],
): number[] | undefined {
  const wanted = name.trim().toLowerCase();
  const listed = Object.entries(model.parts).find(
    ([id, part]) => 'shank' in part && (id === wanted || part.name.toLowerCase() === wanted),
  )?.[1];
  if (listed && 'shank' in listed) return [...new Set(listed.shank.map((cylinder) => cylinder.diameter_mm))];
  const labelled = readings.find(({ label }) => label?.toLowerCase() === wanted);
  return labelled && (labelled.outside_mm === undefined ? [] : [labelled.outside_mm]);
}
