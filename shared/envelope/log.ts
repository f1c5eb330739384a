/**
 * The log of a thing that is kept: every change a hand made to it, as events, and what they come to.
 *
 * A thing is the sum of its events and nothing besides. An event says who made it (a device), which number it has (a
 * counter above that of every event its maker knew, so that order needs no clock), when (for display alone), and what:
 * fields set anew, or earlier events taken back or put back. Logs are joined as sets, by the id of their events, so that
 * it does not matter in which order, or how often, two of them meet. An event names the ones it replaces. Two that did
 * not know of one another leave both their values standing: a clash, which is shown and not decided.
 */

/** What a field can hold: what JSON can; null where it holds nothing any more. */
export type FieldValue =
  | string
  | number
  | boolean
  | null
  | readonly FieldValue[]
  | { readonly [key: string]: FieldValue };

/** Fields set to values, over the events that set them before. */
export interface Setting {
  readonly do: 'set';
  readonly fields: Readonly<Record<string, FieldValue>>;
  /** By field, the events whose value this one replaces. */
  readonly over: Readonly<Record<string, readonly string[]>>;
  /** One of a row of keys typed into one field: taken back together. */
  readonly typed?: true | undefined;
}

/** Earlier settings taken back, or put back once more. */
export interface Turning {
  readonly do: 'undo' | 'redo';
  readonly of: readonly string[];
}

/** One change. */
export interface KeptEvent {
  readonly id: string;
  readonly device: string;
  readonly counter: number;
  /** When, by the clock of the device, in ms since 1970: to show, never to sort by. */
  readonly at_ms: number;
  readonly what: Setting | Turning;
}

/** The events of a thing, by id. */
export type Log = ReadonlyMap<string, KeptEvent>;

/** What a log comes to. */
export interface Sum {
  /** What each field holds, in the order in which they were first set; of a clash the last value that is one. */
  readonly fields: ReadonlyMap<string, FieldValue>;
  /** Fields with more than one value, and all of them, the one that is shown last. */
  readonly clashes: ReadonlyMap<string, readonly FieldValue[]>;
}

/** Of two events the one that comes first: the same answer on every device. */
function inOrder(a: KeptEvent, b: KeptEvent): number {
  return a.counter - b.counter || compare(a.device, b.device) || compare(a.id, b.id);
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** The events of a log, the first one first. */
export function ordered(log: Log): readonly KeptEvent[] {
  return [...log.values()].sort(inOrder);
}

/** A log of events; of two that share an id and differ, as no sound device makes them, always the same one stays. */
export function logOf(events: Iterable<KeptEvent>): Log {
  const log = new Map<string, KeptEvent>();
  for (const event of events) {
    const known = log.get(event.id);
    if (known === undefined || (known !== event && compare(canonical(event), canonical(known)) < 0))
      log.set(event.id, event);
  }
  return log;
}

/** Both logs as one. */
export function joined(a: Log, b: Log): Log {
  return logOf([...a.values(), ...b.values()]);
}

/** By event, whether it was last taken back. */
function takenBack(events: readonly KeptEvent[]): ReadonlySet<string> {
  const back = new Set<string>();
  for (const { what } of events) {
    if (what.do === 'undo') for (const id of what.of) back.add(id);
    if (what.do === 'redo') for (const id of what.of) back.delete(id);
  }
  return back;
}

/** By field, the settings that nothing in force has replaced, the first one first. */
function headsOf(log: Log): ReadonlyMap<string, readonly (KeptEvent & { readonly what: Setting })[]> {
  const events = ordered(log);
  const back = takenBack(events);
  const heads = new Map<string, (KeptEvent & { readonly what: Setting })[]>();
  for (const { id, what } of events)
    if (what.do === 'set' && !back.has(id))
      for (const field of Object.keys(what.fields)) if (!heads.has(field)) heads.set(field, []);
  const replaced = new Map<string, Set<string>>();
  for (const event of events.toReversed()) {
    const { id, what } = event;
    if (what.do !== 'set') continue;
    for (const field of Object.keys(what.fields)) {
      const gone = replaced.get(field) ?? new Set<string>();
      replaced.set(field, gone);
      const isGone = gone.has(id);
      const isIn = !back.has(id);
      // What one in force replaces stays replaced all the way down, also through one that was taken back since.
      if (isIn || isGone) for (const earlier of entryOf(what.over, field) ?? []) gone.add(earlier);
      if (isIn && !isGone) heads.get(field)!.unshift(event as KeptEvent & { readonly what: Setting });
    }
  }
  return heads;
}

function entryOf<T>(record: Readonly<Record<string, T>>, key: string): T | undefined {
  return Object.hasOwn(record, key) ? record[key] : undefined;
}

/** What a log comes to. */
export function sumOf(log: Log): Sum {
  const fields = new Map<string, FieldValue>();
  const clashes = new Map<string, readonly FieldValue[]>();
  for (const [field, heads] of headsOf(log)) {
    const values: FieldValue[] = [];
    for (const { what } of heads) {
      const value = what.fields[field]!;
      const same = values.findIndex((other) => canonical(other) === canonical(value));
      if (same >= 0) values.splice(same, 1);
      values.push(value);
    }
    // What a hand has entered outlasts a removal that did not know of it.
    const shown = values.findLast((value) => value !== null) ?? null;
    fields.set(field, shown);
    if (values.length > 1) clashes.set(field, [...values.filter((value) => value !== shown), shown]);
  }
  return { fields, clashes };
}

/** The counter of the next event. */
export function nextCounter(log: Log): number {
  let most = 0;
  for (const { counter } of log.values()) if (counter > most) most = counter;
  return most + 1;
}

/** What sets these fields on top of a log: over everything that it shows there, clashes included. */
export function settingOver(log: Log, fields: Readonly<Record<string, FieldValue>>, isTyped = false): Setting {
  const heads = headsOf(log);
  const over = Object.fromEntries(
    Object.keys(fields).map((field) => [field, (heads.get(field) ?? []).map(({ id }) => id)]),
  );
  return { do: 'set', fields, over, ...(isTyped ? { typed: true } : {}) };
}

/** What a device has done to a thing, as steps to take back, and those it has taken back since its last setting. */
function stepsOf(log: Log, device: string): { readonly done: string[][]; readonly back: string[][] } {
  const done: string[][] = [];
  const back: string[][] = [];
  const isSame = (a: readonly string[], b: readonly string[]): boolean => a.join(' ') === b.join(' ');
  let before: (KeptEvent & { readonly what: Setting }) | undefined;
  for (const event of ordered(log)) {
    if (event.device !== device) continue;
    const { what, id } = event;
    if (what.do === 'set') {
      const fields = Object.keys(what.fields);
      const goesOn =
        what.typed === true &&
        before?.what.typed === true &&
        isSame(fields, Object.keys(before.what.fields)) &&
        (what.over[fields[0] ?? ''] ?? []).includes(before.id);
      if (goesOn) done.at(-1)!.push(id);
      else done.push([id]);
      before = event as KeptEvent & { readonly what: Setting };
      back.length = 0;
      continue;
    }
    before = undefined;
    const [from, to] = what.do === 'undo' ? [done, back] : [back, done];
    const at = from.findLastIndex((step) => isSame(step, what.of));
    if (at >= 0) to.push(...from.splice(at, 1));
  }
  return { done, back };
}

/** What takes back the last step of a device; undefined where there is none. */
export function undoing(log: Log, device: string): Turning | undefined {
  const of = stepsOf(log, device).done.at(-1);
  return of && { do: 'undo', of };
}

/** What puts back the last step that a device took back, until it sets something anew. */
export function redoing(log: Log, device: string): Turning | undefined {
  const of = stepsOf(log, device).back.at(-1);
  return of && { do: 'redo', of };
}

/** How many steps of a device can be taken back and put back. */
export function stepsLeft(log: Log, device: string): { readonly undo: number; readonly redo: number } {
  const { done, back } = stepsOf(log, device);
  return { undo: done.length, redo: back.length };
}

/** The same text for the same value, whatever the order of its keys. */
function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  const entries = Object.entries(value)
    .filter(([, own]) => own !== undefined)
    .sort(([a], [b]) => compare(a, b));
  return `{${entries.map(([key, own]) => `${JSON.stringify(key)}:${canonical(own)}`).join(',')}}`;
}

/**
 * What a row of the store is checked by when it is read again: 32 bits over the UTF-16 units of its canonical text
 * (FNV-1a, whose offset 2166136261 and prime 16777619 are published with it). It finds what a disk has turned, not what
 * somebody has forged.
 */
export function checkSum(value: unknown): number {
  const text = canonical(value);
  let hash = 2166136261;
  for (let k = 0; k < text.length; k++) {
    const unit = text.charCodeAt(k);
    hash = Math.imul(hash ^ (unit & 0xff), 16777619);
    hash = Math.imul(hash ^ (unit >>> 8), 16777619);
  }
  return hash >>> 0;
}
