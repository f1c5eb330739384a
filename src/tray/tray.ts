/**
 * The sorting tray as a person fills it: drafts of readings as they were typed, what they say, and how they are kept.
 *
 * A draft holds texts, not numbers, so that nothing typed is ever lost: what cannot be read is told beside its field
 * and left out of the sort, and stays where it is. Lengths are in the tray's unit unless a text says its own. Pure; the
 * store is in `trayStore.ts`.
 */
import {
  checkReadings,
  DEFAULT_SETTING,
  figure,
  kindOf,
  PART_KINDS,
  readDrive,
  readLength,
  readNumber,
  readReading,
  readThread,
  sizesAsked,
  sortTray,
  wordReadingTrouble,
  type CalliperReading,
  type CalliperSize,
  type FieldValue,
  type LinkageModel,
  type Part,
  type ReadingProblem,
  type Sum,
  type Tray,
  type TraySetting,
} from '../../shared/index.ts';
import { entriesOf } from '../page/keep.ts';

/** The fields a hand fills in, besides the kind; `thread` takes a size or a name such as M12×1. */
export const FIELDS = [
  'length',
  'outside',
  'bore',
  'head',
  'large',
  'small',
  'thread',
  'pitch',
  'turns',
  'drive',
  'slides',
  'count',
  'label',
] as const;
export type Field = (typeof FIELDS)[number];
export type Unit = 'mm' | 'in';
export type PartKindName = Part['kind'];

/** One loose part as it stands on the screen. */
export interface Draft {
  /** Unique in the tray. */
  readonly key: number;
  readonly kind?: PartKindName;
  readonly texts: Readonly<Partial<Record<Field, string>>>;
}

/** A tray as it is kept. */
export interface TrayState {
  readonly drafts: readonly Draft[];
  readonly unit: Unit;
  readonly accuracy: string;
  readonly wear: boolean;
}

/** An empty tray. */
export const EMPTY_TRAY: TrayState = {
  drafts: [],
  unit: 'mm',
  accuracy: String(DEFAULT_SETTING.accuracy_mm),
  wear: DEFAULT_SETTING.wear,
};

/** Most loose parts a tray holds. */
export const MOST_DRAFTS = 200;
/** Longest text of a field. */
const LONGEST_TEXT = 60;

/** The size a field stands for, where it stands for one. */
export const SIZE_OF = {
  length: 'length_mm',
  outside: 'outside_mm',
  bore: 'bore_mm',
  head: 'head_mm',
  large: 'large_mm',
  small: 'small_mm',
  thread: 'thread_mm',
  pitch: 'pitch_mm',
  turns: 'turns_in_10mm',
} as const satisfies Partial<Record<Field, CalliperSize>>;
const LENGTH_FIELDS = ['length', 'outside', 'bore', 'head', 'large', 'small', 'pitch'] as const;

/** The field that stands for a size. */
export function fieldOf(size: CalliperSize): Field {
  return (Object.keys(SIZE_OF) as (keyof typeof SIZE_OF)[]).find((field) => SIZE_OF[field] === size)!;
}

/** Fields that a part of a kind can fill, the quickest first; of a part not yet named, all that any part has. */
export function fieldsOf(kind: PartKindName | undefined): readonly Field[] {
  if (kind === undefined) return ['outside', 'bore', 'length', 'count', 'label'];
  const sizes = sizesAsked(kind).map(fieldOf);
  return kindOf({ kind }).thread === undefined
    ? [...sizes, 'count', 'label', 'slides']
    : [...sizes, 'drive', 'count', 'label'];
}

/** Fields that are shown because the kind has them or because something stands in them. */
export function shownFields({ kind, texts }: Draft): readonly Field[] {
  const usual = fieldsOf(kind);
  return [...usual, ...FIELDS.filter((field) => !usual.includes(field) && (texts[field] ?? '').trim() !== '')];
}

/** Trouble with one field of a draft, in words. */
export interface FieldTrouble {
  readonly field: Field | 'kind';
  readonly words: string;
}

/** What a draft says: a reading, or why not. */
interface Understood {
  readonly reading?: CalliperReading;
  readonly troubles: readonly FieldTrouble[];
}

const ASKS: Readonly<Record<Field, string>> = {
  length: 'a number, such as 5.5',
  outside: 'a number, such as 17.8',
  bore: 'a number, such as 15.2',
  head: 'a number, such as 22',
  large: 'a number, such as 27',
  small: 'a number, such as 17.8',
  thread: 'a number or a thread, such as 12 or M12×1',
  pitch: 'a number, such as 1',
  turns: 'a number of turns, such as 10',
  drive: 'a tool and its size, such as hex 6',
  slides: 'the name of an axle',
  count: 'a whole number',
  label: 'a short name',
};

/** The reading a draft gives by itself, with the fields that cannot be read. */
export function understand({ kind, texts }: Draft, unit: Unit): Understood {
  const data: Record<string, unknown> = kind === undefined ? {} : { kind };
  const troubles: FieldTrouble[] = [];
  for (const field of FIELDS) {
    const text = (texts[field] ?? '').trim();
    if (text === '') continue;
    const value = valueOf(field, text, unit);
    if (value === undefined) troubles.push({ field, words: `“${text}” is not ${ASKS[field]}.` });
    else Object.assign(data, value);
  }
  if (troubles.length > 0) return { troubles };
  const { reading, problems } = readReading(data, 1);
  return reading ? { reading, troubles } : { troubles: problems.map(asTrouble) };
}

function valueOf(field: Field, text: string, unit: Unit): Record<string, unknown> | undefined {
  switch (field) {
    case 'thread': {
      const named = readThread(text);
      if (named)
        return { thread_mm: named.size_mm, ...(named.pitch_mm === undefined ? {} : { pitch_mm: named.pitch_mm }) };
      const size_mm = readLength(text, unit);
      return size_mm === undefined ? undefined : { thread_mm: size_mm };
    }
    case 'turns':
    case 'count': {
      const number = readNumber(text);
      return number === undefined ? undefined : { [field === 'turns' ? 'turns_in_10mm' : 'count']: number };
    }
    case 'drive': {
      const drive = readDrive(text);
      return drive && { drive };
    }
    case 'slides':
      return { slides_on: text };
    case 'label':
      return { label: text };
    default: {
      // A pitch is in mm whatever the calliper shows: its gauge says so.
      const length = readLength(text, field === 'pitch' ? 'mm' : unit);
      return length === undefined ? undefined : { [SIZE_OF[field]]: length };
    }
  }
}

const FIELD_OF: Readonly<Record<string, Field | 'kind'>> = {
  ...Object.fromEntries(LENGTH_FIELDS.map((field) => [SIZE_OF[field], field])),
  thread_mm: 'thread',
  turns_in_10mm: 'turns',
  slides_on: 'slides',
  count: 'count',
  label: 'label',
  drive: 'drive',
  'drive.size_mm': 'drive',
  'drive.tool': 'drive',
  kind: 'kind',
};

function asTrouble(problem: ReadingProblem): FieldTrouble {
  return {
    field: (problem.field === undefined ? undefined : FIELD_OF[problem.field]) ?? 'kind',
    words: wordReadingTrouble(problem),
  };
}

/** A tray sorted as far as its drafts can be read. */
export interface SortedDrafts {
  readonly tray: Tray;
  /** Row of the sorted tray by draft key; a draft that cannot be read has none. */
  readonly rowOf: ReadonlyMap<number, number>;
  readonly keyOf: readonly number[];
  readonly troubles: ReadonlyMap<number, readonly FieldTrouble[]>;
}

/** The setting a tray states; an accuracy that cannot be read is the usual one. */
export function settingOf({ accuracy, wear }: TrayState): TraySetting {
  const given = readNumber(accuracy);
  return { accuracy_mm: given !== undefined && given >= 0.001 && given <= 2 ? given : 0.05, wear };
}

/** Sort every draft that can be read; the others keep their troubles. */
export function sortDrafts(model: LinkageModel, state: TrayState): SortedDrafts {
  const troubles = new Map<number, readonly FieldTrouble[]>();
  let good: { readonly key: number; readonly reading: CalliperReading }[] = [];
  for (const draft of state.drafts) {
    const { reading, troubles: own } = understand(draft, state.unit);
    if (own.length > 0) troubles.set(draft.key, own);
    // A draft just begun says nothing and is no trouble.
    else if (reading && (draft.kind !== undefined || isMeasured(draft))) good.push({ key: draft.key, reading });
  }
  const setting = settingOf(state);
  // Leaving a bad reading out can leave another without the axle it names, so this runs until all hold.
  for (;;) {
    const problems = checkReadings({ readings: good.map(({ reading }) => reading), setting }, model);
    if (problems.length === 0) break;
    const bad = new Map<number, FieldTrouble[]>();
    for (const problem of problems) {
      const key = good[(problem.row ?? 1) - 1]!.key;
      bad.set(key, [...(bad.get(key) ?? []), asTrouble(problem)]);
    }
    for (const [key, own] of bad) troubles.set(key, own);
    good = good.filter(({ key }) => !bad.has(key));
  }
  return {
    tray: sortTray(model, { readings: good.map(({ reading }) => reading), setting }),
    rowOf: new Map(good.map(({ key }, row) => [key, row])),
    keyOf: good.map(({ key }) => key),
    troubles,
  };
}

/** Whether anything of a draft has been measured or tried; its kind alone is a look. */
export function isMeasured({ texts }: Draft): boolean {
  return FIELDS.some((field) => field !== 'count' && field !== 'label' && (texts[field] ?? '').trim() !== '');
}

/** A draft that says what a reading from a table says, lengths written in the unit. */
export function draftOf(reading: CalliperReading, key: number, unit: Unit): Draft {
  const texts: Partial<Record<Field, string>> = {};
  for (const field of LENGTH_FIELDS) {
    const value = reading[SIZE_OF[field]];
    if (value !== undefined) texts[field] = written(value, field === 'pitch' ? 'mm' : unit);
  }
  if (reading.thread_mm !== undefined) texts.thread = written(reading.thread_mm, unit);
  if (reading.turns_in_10mm !== undefined) texts.turns = figure(reading.turns_in_10mm, 3);
  if (reading.drive) texts.drive = `${reading.drive.tool.replace(/-key$/, '')} ${reading.drive.size_mm}`;
  if (reading.slides_on !== undefined) texts.slides = reading.slides_on;
  if (reading.count !== 1) texts.count = String(reading.count);
  if (reading.label !== undefined) texts.label = reading.label;
  return { key, ...(reading.kind === undefined ? {} : { kind: reading.kind }), texts };
}

function written(value_mm: number, unit: Unit): string {
  return unit === 'mm' ? figure(value_mm, 3) : figure(value_mm / 25.4, 5);
}

/** Name of a part's field where the tray is kept; `on` says that the part lies there at all. */
const PART_FIELD = /^part\/(\d+)\/([a-z]+)$/;
const nameOf = (key: number, field: Field | 'kind' | 'on'): string => `part/${key}/${field}`;

/** Fields that put a draft on a tray. */
export function keptDraft({ key, kind, texts }: Draft): Readonly<Record<string, FieldValue>> {
  return {
    [nameOf(key, 'on')]: true,
    ...(kind === undefined ? {} : { [nameOf(key, 'kind')]: kind }),
    ...Object.fromEntries(
      FIELDS.flatMap((field) => (texts[field] === undefined ? [] : [[nameOf(key, field), texts[field]]])),
    ),
  };
}

/** The field of a draft set to what a hand has typed or picked; that it is there is said again, should another remove it. */
export function keptField(key: number, field: Field | 'kind', text: string | undefined): Record<string, FieldValue> {
  return { [nameOf(key, 'on')]: true, [nameOf(key, field)]: text === undefined || text === '' ? null : text };
}

/** Fields that take drafts off a tray. */
export function takenOff({ fields }: Sum, keys: readonly number[]): Readonly<Record<string, FieldValue>> {
  const gone = new Set(keys.map(String));
  return Object.fromEntries(
    [...fields].flatMap(([name, value]) =>
      value !== null && gone.has(PART_FIELD.exec(name)?.[1] ?? '') ? [[name, null] as const] : [],
    ),
  );
}

/** The setting of a tray, and all that lies on it, as fields. */
export function keptTray({ drafts, unit, accuracy, wear }: TrayState): Readonly<Record<string, FieldValue>> {
  return { unit, accuracy, wear, ...Object.assign({}, ...drafts.map(keptDraft)) };
}

/** The tray that is kept; what does not say soundly what it is is left out. */
export function trayFrom({ fields }: Sum): TrayState {
  const found = new Map<number, { kind?: PartKindName; texts: Partial<Record<Field, string>>; isOn: boolean }>();
  for (const [name, value] of fields) {
    const [, digits, field] = PART_FIELD.exec(name) ?? [];
    if (digits === undefined) continue;
    const key = Number(digits);
    const part = found.get(key) ?? { texts: {}, isOn: false };
    found.set(key, part);
    const known = FIELDS.find((candidate) => candidate === field);
    if (field === 'on') part.isOn = value === true;
    else if (field === 'kind') {
      const kind = PART_KINDS.find((candidate) => candidate === value);
      if (kind) part.kind = kind;
    } else if (known && typeof value === 'string') part.texts[known] = value.slice(0, LONGEST_TEXT);
  }
  const [unit, accuracy, wear] = ['unit', 'accuracy', 'wear'].map((name) => fields.get(name));
  return {
    drafts: [...found].flatMap(([key, { isOn, ...draft }]) => (isOn ? [{ key, ...draft }] : [])),
    unit: unit === 'in' ? 'in' : 'mm',
    accuracy: typeof accuracy === 'string' ? accuracy.slice(0, 12) : EMPTY_TRAY.accuracy,
    wear: wear !== false,
  };
}

/** What two hands have entered for one field of a part without knowing of one another, the one that counts last. */
export function clashOf({ clashes }: Sum, key: number, field: Field | 'kind'): readonly (string | undefined)[] {
  return (clashes.get(nameOf(key, field)) ?? []).map((value) => (typeof value === 'string' ? value : undefined));
}

/**
 * A tray from the text that the first versions kept; whatever it does not say soundly is left out, the rest stays.
 * Version 1 said `doubt`.
 */
export function readTray(text: string | null): TrayState {
  const { drafts, unit, wear, version, ...rest } = entriesOf(text);
  const accuracy = version === 1 ? rest['doubt'] : rest['accuracy'];
  if ((version !== 1 && version !== 2) || !Array.isArray(drafts)) return EMPTY_TRAY;
  const found: Draft[] = [];
  for (const entry of drafts.slice(0, MOST_DRAFTS) as unknown[]) {
    if (typeof entry !== 'object' || entry === null) continue;
    const { kind, texts } = entry as Record<string, unknown>;
    const kept: Partial<Record<Field, string>> = {};
    if (typeof texts === 'object' && texts !== null) {
      for (const field of FIELDS) {
        const value = Object.hasOwn(texts, field) ? (texts as Record<string, unknown>)[field] : undefined;
        if (typeof value === 'string') kept[field] = value.slice(0, LONGEST_TEXT);
      }
    }
    const known = PART_KINDS.find((candidate) => candidate === kind);
    found.push({ key: found.length + 1, ...(known ? { kind: known } : {}), texts: kept });
  }
  return {
    drafts: found,
    unit: unit === 'in' ? 'in' : 'mm',
    accuracy: typeof accuracy === 'string' ? accuracy.slice(0, 12) : EMPTY_TRAY.accuracy,
    wear: wear !== false,
  };
}

/** What a press of the number pad makes of a field's text. */
export function padded(text: string, key: string): string {
  if (key === '⌫') return text.slice(0, -1);
  if (key === '.' && /[.,]/.test(text)) return text;
  return `${text}${key}`;
}
