/**
 * A draft as the fields of a thing that is kept, and back: its make in one field, each of its sizes in one of its own,
 * so that two hands that take different sizes both have their way. Pure.
 */
import {
  pathKeys,
  sizePaths,
  valueAt,
  type Compared,
  type Draft,
  type DraftModel,
  type FieldValue,
  type SizeEntry,
  type Sum,
} from '../../shared/index.ts';

/** The kind of the things that drafts are kept as. */
const THING = 'draft/';
const MAKE = 'make';
const NAME = 'name';
const RUN = 'mistakes-run';
const SIZE = 'size/';
const SUM = 'sum/';

type Fields = Readonly<Record<string, FieldValue>>;
type Step = string | number;

/** What a draft is kept under. */
export function thingOf(id: string): string {
  return THING + id;
}

/** The id of a draft by the thing it is kept as; undefined for any other thing. */
export function draftIdOf(thing: string): string | undefined {
  return thing.startsWith(THING) ? thing.slice(THING.length) : undefined;
}

/** All fields of a draft. */
export function fieldsOf({ model, compared = [], mistakes_run }: Draft): Fields {
  const make = structuredClone(model) as DraftModel;
  const sizes = sizePaths(model).flatMap((path): [string, FieldValue][] => {
    const entry = valueAt(model, path);
    if (entry === undefined || entry === null) return [];
    put(make, path, null);
    return [[SIZE + path.join('.'), entry as FieldValue]];
  });
  return {
    [NAME]: model.name,
    [MAKE]: JSON.stringify({ ...make, name: '' }),
    ...Object.fromEntries(sizes),
    ...Object.fromEntries(compared.map((one) => [SUM + one.id, one as unknown as FieldValue])),
    ...(mistakes_run === undefined ? {} : { [RUN]: mistakes_run }),
  };
}

/** The fields in which a draft differs from the one before it; null empties one. */
export function changedFields(before: Draft, after: Draft): Fields {
  const [old, now] = [fieldsOf(before), fieldsOf(after)];
  const names = [...new Set([...Object.keys(old), ...Object.keys(now)])];
  return Object.fromEntries(
    names
      .filter((name) => JSON.stringify(old[name]) !== JSON.stringify(now[name]))
      .map((name) => [name, now[name] ?? null]),
  );
}

/** The draft that a thing comes to; undefined where it holds none. */
export function draftFrom({ fields }: Sum): Draft | undefined {
  const make = fields.get(MAKE);
  if (typeof make !== 'string') return undefined;
  const model = JSON.parse(make) as DraftModel;
  const compared: Compared[] = [];
  for (const [name, value] of fields) {
    if (value === null) continue;
    if (name.startsWith(SUM)) compared.push(value as unknown as Compared);
    if (!name.startsWith(SIZE)) continue;
    const path = pathIn(model, name.slice(SIZE.length));
    // A size of what another tab has taken out of the row waits for its undo.
    if (path) put(model, path, value as SizeEntry);
  }
  const [name, run] = [fields.get(NAME), fields.get(RUN)];
  return {
    model: { ...model, name: typeof name === 'string' ? name : '' },
    ...(compared.length > 0 ? { compared } : {}),
    ...(typeof run === 'string' ? { mistakes_run: run } : {}),
  };
}

/** The field that holds a size. */
export function sizeField(path: string): string {
  return SIZE + pathKeys(path).join('.');
}

/** Where a field's steps lead; undefined where its holder is gone. */
function pathIn(model: DraftModel, text: string): readonly Step[] | undefined {
  const path: Step[] = [];
  let at: unknown = model;
  for (const step of text.split('.')) {
    if (typeof at !== 'object' || at === null) return undefined;
    const key = Array.isArray(at) ? Number(step) : step;
    path.push(key);
    at = (at as Record<Step, unknown>)[key];
  }
  const holder = valueAt(model, path.slice(0, -1));
  return typeof holder === 'object' && holder !== null ? path : undefined;
}

function put(model: DraftModel, path: readonly Step[], value: SizeEntry): void {
  const holder = valueAt(model, path.slice(0, -1)) as Record<Step, unknown>;
  holder[path.at(-1)!] = value;
}
