/**
 * The one store of the page: whatever a hand has entered and has to be there tomorrow lies here and nowhere else.
 *
 * What is kept is things by name, each the sum of its events (the core's `envelope/log.ts`); a row of the browser's
 * database is one event. Open a thing, look at its sum, set fields, take back, put back:
 *
 *     const tray = await openThing('tray/skarn-140');
 *     tray.watch(() => draw(tray.sum.fields));
 *     await tray.set({ unit: 'mm' });
 *
 * A write is over when it is on the disk (strict durability, the end of the transaction awaited), and only then do
 * `sum` and the watchers change: what the screen says is what a killed browser brings back. Every write first reads,
 * in its own transaction, what other tabs have written since; the other tabs are told over a channel and read it from
 * the disk. Where the browser keeps nothing, is full or gives back rubbish, the thing goes on in memory, `useKeep` says
 * so, and all of it can still be saved as a file. Each row has a second copy, since a browser can lose all of the first
 * (`second.ts` says how).
 */
import { openDB, unwrap } from 'idb';
import { create } from 'zustand';
import {
  checkSum,
  joined,
  logOf,
  nextCounter,
  ordered,
  redoing,
  settingOver,
  stepsLeft,
  sumOf,
  thingName,
  undoing,
  type FieldValue,
  type KeptBody,
  type KeptEvent,
  type Log,
  type Setting,
  type Sum,
  type Turning,
} from '../../shared/index.ts';
import {
  alone,
  deleteRows,
  deleteSecond,
  hasSecond,
  level,
  makeStores,
  NAME,
  openSecond,
  putRows,
  VERSION,
  wholeRows,
  type Database,
  type Row,
  type Store,
} from './second.ts';

/**
 * Why something is not kept: the browser refuses to; the disk is full; it failed for another reason; a newer Axlewright
 * has the store, or an older one will not let go of it.
 */
export type KeepTrouble = 'refused' | 'full' | 'failed' | 'newer' | 'older';

interface KeepState {
  readonly trouble: KeepTrouble | undefined;
  /** Events that are in memory alone. */
  readonly unkept: number;
  /** Rows that could not be read again, and were left where they are. */
  readonly damaged: number;
  /** The browser has begun anew where something had been kept. */
  readonly isLost: boolean;
  /** What was opened with other content than the one kept under its name. */
  readonly replaced: string | undefined;
}

/** How the store is. */
export const useKeep = create<KeepState>(() => ({
  trouble: undefined,
  unkept: 0,
  damaged: 0,
  isLost: false,
  replaced: undefined,
}));

/** A thing that is kept. */
export interface Thing {
  readonly name: string;
  /** What it comes to, as it is on the disk; with what could not be kept, where something could not. */
  readonly sum: Sum;
  /** Steps of this device that can be taken back and put back. */
  readonly steps: { readonly undo: number; readonly redo: number };
  /** Set fields; null empties one. `isTyped`: one of a row of keys, taken back together. False if it was not kept. */
  readonly set: (fields: Readonly<Record<string, FieldValue>>, isTyped?: boolean) => Promise<boolean>;
  readonly undo: () => Promise<boolean>;
  readonly redo: () => Promise<boolean>;
  /** Be told of every change, of this tab or another; the function returned ends it. */
  readonly watch: (onChange: () => void) => () => void;
}

/** A thing as the list of what is kept shows it. */
export interface Listed {
  readonly name: string;
  readonly sum: Sum;
  readonly last_at_ms: number;
}

/** Says that something has been kept here, in the one place that does not go down together with the database. */
const WITNESS = 'axlewright.kept';

/** A text from where earlier versions kept theirs, or null. */
export function recallOld(where: 'localStorage' | 'sessionStorage', key: string): string | null {
  try {
    return globalThis[where].getItem(key);
  } catch {
    return null;
  }
}

function forgetOld(where: 'localStorage' | 'sessionStorage', key: string): void {
  try {
    globalThis[where].removeItem(key);
  } catch {
    // What cannot be reached cannot be in the way.
  }
}

/** The entries of a stored object; none where the text says no such thing. */
export function entriesOf(text: string | null): Readonly<Record<string, unknown>> {
  try {
    const data: unknown = JSON.parse(text ?? 'null');
    return typeof data === 'object' && data !== null ? (data as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}

/** Small letters and digits that nobody has used before. */
function randomName(bytes: number): string {
  return [...crypto.getRandomValues(new Uint8Array(bytes))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

let device = randomName(8);
let opening: Promise<Database | undefined> | undefined;
/** The second copy, once it is level with the first; undefined where there is none. */
let second: Promise<Database | undefined> = Promise.resolve(undefined);
const handles = new Map<string, Handle>();
let channel: BroadcastChannel | undefined;

function tell(trouble: KeepTrouble): void {
  useKeep.setState({ trouble });
}

function count(): void {
  useKeep.setState({ unkept: [...handles.values()].reduce((sum, handle) => sum + handle.unkept.length, 0) });
}

function countDamaged(): void {
  useKeep.setState({ damaged: [...handles.values()].reduce((sum, handle) => sum + handle.damaged, 0) });
}

/** Something has reached the disk: what stood in the way before does no more. */
function onDisk(): void {
  const { trouble } = useKeep.getState();
  if (trouble === 'full' || trouble === 'failed') useKeep.setState({ trouble: undefined });
  try {
    globalThis.localStorage.setItem(WITNESS, 'yes');
  } catch {
    // Without the witness a loss goes untold; nothing is lost by that.
  }
}

let hasAsked = false;

/** Once something is kept that could be missed, ask the browser not to throw it away when it wants room. */
function askToStay(): void {
  if (hasAsked) return;
  hasAsked = true;
  // Over plain http there is nobody to ask; a browser that says no keeps it as long as it likes.
  void navigator.storage?.persist?.().catch(() => undefined);
}

function troubleOf(error: unknown): KeepTrouble {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  if (name === 'QuotaExceededError') return 'full';
  if (name === 'VersionError') return 'newer';
  return name === 'SecurityError' || name === 'InvalidAccessError' ? 'refused' : 'failed';
}

/** The open database; undefined where there is none to be had. */
function database(): Promise<Database | undefined> {
  opening ??= open();
  return opening;
}

function open(): Promise<Database | undefined> {
  return new Promise((resolve) => {
    const fail = (error: unknown): void => {
      const trouble = troubleOf(error);
      tell(trouble);
      // There may be room, or sense, at the next write.
      if (trouble === 'full' || trouble === 'failed') opening = undefined;
      resolve(undefined);
    };
    let isNew = false;
    try {
      if (typeof indexedDB === 'undefined' || indexedDB === null) {
        tell('refused');
        return resolve(undefined);
      }
      openDB<Store>(NAME, VERSION, {
        upgrade: (db, from, _to, tx) => {
          if (from >= 1) return;
          isNew = true;
          makeStores(unwrap(db));
          void tx.objectStore('about').put(device, 'device');
        },
        // Once it lets go, the promise below is kept after all; until then nobody waits for it.
        blocked: () => {
          tell('older');
          resolve(undefined);
        },
        blocking: (_from, _to, event) => {
          (event.target as IDBDatabase).close();
          opening = Promise.resolve(undefined);
          tell('newer');
        },
        terminated: () => {
          opening = undefined;
          second = Promise.resolve(undefined);
          // Nobody knows what of it is still on the disk: the next write brings all of it.
          for (const handle of handles.values()) handle.unkept = [...ordered(handle.log)];
          count();
        },
      }).then(async (db) => {
        const wasThere = isNew && (await hasSecond());
        device = (await db.get('about', 'device')) ?? device;
        second = joinSecond(db, isNew);
        // All of the first is gone, and what the second still has comes back before anybody looks.
        if (wasThere) await second;
        if (isNew && (await db.count('events')) === 0)
          useKeep.setState({ isLost: wasThere || recallOld('localStorage', WITNESS) !== null });
        listen();
        opening = Promise.resolve(db);
        resolve(db);
        if (useKeep.getState().trouble !== 'older') return;
        useKeep.setState({ trouble: undefined });
        // What was opened and entered meanwhile was in memory alone.
        for (const handle of handles.values()) void handle.settle();
      }, fail);
    } catch (error) {
      // A browser that refuses all storage throws at the first touch.
      fail(error);
    }
  });
}

/** The second copy, level with the first; `isNew`: the first has begun anew. */
async function joinSecond(first: Database, isNew: boolean): Promise<Database | undefined> {
  const db = await openSecond(dropSecond);
  if (!db) return undefined;
  try {
    const known = await db.get('about', 'device');
    if (isNew && known !== undefined) {
      device = known;
      await first.put('about', known, 'device');
    } else await db.put('about', device, 'device');
    await level(first, db);
    return db;
  } catch {
    db.close();
    return undefined;
  }
}

/** What is kept is kept once from now on, until the next start. */
function dropSecond(): void {
  second = Promise.resolve(undefined);
}

/** Write to the first copy and then to the second, which may be gone by now: the first has it. */
async function twice(first: (copy: Database) => Promise<readonly Row[]>, db: Database): Promise<void> {
  const copy = await second;
  if (!copy) return void (await first(db));
  await alone(async () => {
    const rows = await first(db);
    await putRows(copy, rows).catch(dropSecond);
  });
}

/** What a tab says to the others: the thing that has changed or is gone; read from the disk by whoever has it open. */
interface Said {
  readonly thing: string;
}

function listen(): void {
  if (channel !== undefined || typeof BroadcastChannel === 'undefined') return;
  channel = new BroadcastChannel(NAME);
  channel.onmessage = ({ data }: MessageEvent<Said>) => void handles.get(data.thing)?.read();
}

function say(thing: string): void {
  channel?.postMessage({ thing } satisfies Said);
}

const rangeOf = (thing: string, from = 0): IDBKeyRange => IDBKeyRange.bound([thing, from], [thing, []]);

const eventsOf = (rows: readonly unknown[]): readonly KeptEvent[] => wholeRows(rows).map(({ event }) => event);

function asRow(thing: string, event: KeptEvent): Row {
  return { thing, counter: event.counter, id: event.id, event, sum: checkSum(event) };
}

/** Puts the whole rows of the second copy over a thing's damaged ones; whether there are any. */
async function mended(db: Database, thing: string): Promise<boolean> {
  const rows = wholeRows((await (await second)?.getAll('events', rangeOf(thing))) ?? []);
  await putRows(db, rows);
  return rows.length > 0;
}

const NOTHING: Log = new Map();

class Handle implements Thing {
  log = NOTHING;
  sum = sumOf(NOTHING);
  steps = { undo: 0, redo: 0 };
  unkept: KeptEvent[] = [];
  /** Highest counter of the rows that were seen on the disk. */
  private seen = 0;
  /** Rows of it that were found damaged. */
  damaged = 0;
  private readonly watchers = new Set<() => void>();
  /** One write after another: each builds on what the last one left. */
  private last: Promise<unknown> = Promise.resolve();

  constructor(readonly name: string) {}

  set = (fields: Readonly<Record<string, FieldValue>>, isTyped = false): Promise<boolean> =>
    this.write((log) => settingOver(log, fields, isTyped));
  undo = (): Promise<boolean> => this.write((log) => undoing(log, device));
  redo = (): Promise<boolean> => this.write((log) => redoing(log, device));

  watch = (onChange: () => void): (() => void) => {
    this.watchers.add(onChange);
    return () => this.watchers.delete(onChange);
  };

  /** Read all of it from the disk. */
  read(): Promise<void> {
    return this.inTurn(async () => {
      const db = await database();
      if (!db) return this.show(logOf([...this.log.values(), ...this.unkept]));
      try {
        let rows = await db.getAll('events', rangeOf(this.name));
        let events = eventsOf(rows);
        if (events.length < rows.length && (await mended(db, this.name))) {
          rows = await db.getAll('events', rangeOf(this.name));
          events = eventsOf(rows);
        }
        this.damaged = rows.length - events.length;
        this.seen = rows.reduce((most, { counter }) => Math.max(most, counter), 0);
        this.show(logOf([...events, ...this.unkept]));
        countDamaged();
      } catch (error) {
        tell(troubleOf(error));
      }
    });
  }

  private write(make: (log: Log) => Setting | Turning | undefined): Promise<boolean> {
    return this.inTurn(async () => {
      const db = await database();
      let log = this.log;
      let made: KeptEvent | undefined;
      try {
        if (!db) throw new DOMException('no database', 'NoDatabaseError');
        await twice(async (first) => {
          const tx = first.transaction('events', 'readwrite', { durability: 'strict' });
          const fresh = await tx.store.getAll(rangeOf(this.name, this.seen + 1));
          log = joined(log, logOf(eventsOf(fresh)));
          made = eventOf(log, make(log));
          const rows = (made ? [...this.unkept, made] : this.unkept).map((event) => asRow(this.name, event));
          await Promise.all([...rows.map((row) => tx.store.put(row)), tx.done]);
          this.seen = [...fresh, ...rows].reduce((most, { counter }) => Math.max(most, counter), this.seen);
          return rows;
        }, db);
        this.unkept = [];
        onDisk();
        if (this.name !== 'settings') askToStay();
        say(this.name);
      } catch (error) {
        made ??= eventOf(log, make(log));
        if (made) this.unkept = [...this.unkept, made];
        if (db) tell(troubleOf(error));
      }
      this.show(made ? joined(log, logOf([made])) : log);
      count();
      return this.unkept.length === 0;
    });
  }

  /** Bring what is in memory alone to the disk, and what is on the disk alone here. */
  settle(): Promise<unknown> {
    return this.unkept.length > 0 ? this.write(() => undefined) : this.read();
  }

  /** Take away all of it, here and on the disk. */
  remove(): Promise<boolean> {
    return this.inTurn(async () => {
      const db = await database();
      try {
        if (db) {
          const copy = await second;
          const both = async (): Promise<void> => {
            for (const each of copy ? [db, copy] : [db]) await deleteRows(each, rangeOf(this.name));
          };
          await (copy ? alone(both) : both());
          // It would give back at the next start what was taken out of the first alone.
          if (!copy) await deleteSecond();
          say(this.name);
        }
      } catch (error) {
        tell(troubleOf(error));
        return false;
      }
      this.unkept = [];
      this.seen = 0;
      this.damaged = 0;
      this.show(NOTHING);
      count();
      countDamaged();
      return true;
    });
  }

  private show(log: Log): void {
    this.log = log;
    this.sum = sumOf(log);
    this.steps = stepsLeft(log, device);
    for (const watcher of this.watchers) watcher();
  }

  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    const done = this.last.then(work);
    this.last = done.catch(() => undefined);
    return done;
  }
}

function eventOf(log: Log, what: Setting | Turning | undefined): KeptEvent | undefined {
  if (!what) return undefined;
  const counter = nextCounter(log);
  // Two tabs that keep nothing may count alike: chance keeps their events apart.
  return { id: `${device}-${counter}-${randomName(4)}`, device, counter, at_ms: Date.now(), what };
}

/** Where an earlier version kept a thing: its key, and what its text says as fields. */
interface Old {
  readonly where: 'localStorage' | 'sessionStorage';
  readonly key: string;
  readonly fieldsOf: (text: string) => Readonly<Record<string, FieldValue>>;
}

/** Open a thing, empty where nothing is kept of it; what an earlier version kept elsewhere is taken over once. */
export async function openThing(name: string, old?: Old): Promise<Thing> {
  if (!thingName.safeParse(name).success) throw new Error(`keep: “${name}” is no name of a thing`);
  const known = handles.get(name);
  const handle = known ?? new Handle(name);
  handles.set(name, handle);
  // Another tab may have written while this one was not listening yet.
  await handle.read();
  const text = old === undefined ? null : recallOld(old.where, old.key);
  if (old !== undefined && text !== null) {
    const fields = handle.log.size === 0 ? old.fieldsOf(text) : {};
    if (Object.keys(fields).length === 0 || (await handle.set(fields))) forgetOld(old.where, old.key);
  }
  return handle;
}

/** Everything that is kept, with what is in memory alone, by name. */
async function everything(): Promise<ReadonlyMap<string, Log>> {
  const logs = new Map<string, Log>();
  const db = await database();
  try {
    const rows = (await db?.getAll('events')) ?? [];
    for (const row of rows) {
      const log = logs.get(row.thing) ?? new Map<string, KeptEvent>();
      for (const event of eventsOf([row])) (log as Map<string, KeptEvent>).set(event.id, event);
      logs.set(row.thing, log);
    }
  } catch (error) {
    tell(troubleOf(error));
  }
  for (const { name, log, unkept } of handles.values())
    if (!db || unkept.length > 0) logs.set(name, joined(logs.get(name) ?? NOTHING, log));
  return new Map([...logs].filter(([, log]) => log.size > 0));
}

/** Every thing that is kept, the last one changed first. */
export async function listThings(): Promise<readonly Listed[]> {
  return [...(await everything())]
    .map(([name, log]) => ({
      name,
      sum: sumOf(log),
      last_at_ms: [...log.values()].reduce((last, { at_ms }) => Math.max(last, at_ms), 0),
    }))
    .sort((a, b) => b.last_at_ms - a.last_at_ms || (a.name < b.name ? -1 : 1));
}

/** Take a thing away for good, with its whole log, in every tab. */
export async function removeThing(name: string): Promise<boolean> {
  const handle = handles.get(name) ?? new Handle(name);
  handles.set(name, handle);
  return handle.remove();
}

/** Everything that lies here under a name, also where nobody can read it any more. */
async function namesKept(): Promise<ReadonlySet<string>> {
  const names = new Set([...handles.values()].flatMap(({ name, log }) => (log.size > 0 ? [name] : [])));
  const db = await database();
  for (const copy of [db, await second]) for (const [name] of (await copy?.getAllKeys('events')) ?? []) names.add(name);
  return names;
}

/** Whether there is anything to take away. */
export async function isAnythingKept(): Promise<boolean> {
  return (await namesKept().catch(() => NOTHING)).size > 0;
}

/** Take everything away for good, in both copies. */
export async function removeAll(): Promise<boolean> {
  try {
    return (await Promise.all([...(await namesKept())].map(removeThing))).every(Boolean);
  } catch (error) {
    tell(troubleOf(error));
    return false;
  }
}

/** The named things, or all, as the body of a file. */
export async function takeOut(names?: readonly string[]): Promise<KeptBody> {
  const things = [...(await everything())]
    .filter(([name]) => names === undefined || names.includes(name))
    .map(([name, log]) => ({ name, events: [...ordered(log)] }))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
  return { things };
}

/** What taking a file in came to, by things. */
export interface TakenIn {
  /** Were not here. */
  readonly fresh: readonly string[];
  /** Were here and have learned something. */
  readonly grown: readonly string[];
  /** Said nothing that was not known. */
  readonly known: readonly string[];
  /** Now show two values somewhere. */
  readonly clashing: readonly string[];
  readonly isKept: boolean;
}

/** Join the things of a file to what is here: nothing that is here is written over. */
export async function putIn({ things }: KeptBody): Promise<TakenIn> {
  const here = await everything();
  const fresh: string[] = [];
  const grown: string[] = [];
  const known: string[] = [];
  const clashing: string[] = [];
  const rows: Row[] = [];
  for (const { name, events } of things) {
    const before = here.get(name) ?? NOTHING;
    const added = events.filter(({ id }) => !before.has(id));
    (before.size === 0 ? fresh : added.length > 0 ? grown : known).push(name);
    if (added.length === 0) continue;
    rows.push(...added.map((event) => asRow(name, event)));
    const had = sumOf(before).clashes;
    const has = sumOf(joined(before, logOf(added))).clashes;
    if ([...has].some(([field, values]) => values.length > (had.get(field)?.length ?? 0))) clashing.push(name);
  }
  const names = [...new Set(rows.map(({ thing }) => thing))];
  const db = await database();
  let isKept = db !== undefined;
  try {
    if (db) {
      await twice(async (first) => {
        await putRows(first, rows);
        return rows;
      }, db);
      onDisk();
    }
  } catch (error) {
    tell(troubleOf(error));
    isKept = false;
  }
  for (const name of names) {
    if (!isKept) {
      const handle = handles.get(name) ?? new Handle(name);
      handles.set(name, handle);
      handle.unkept = [...handle.unkept, ...rows.filter(({ thing }) => thing === name).map(({ event }) => event)];
    }
    say(name);
    await handles.get(name)?.read();
  }
  count();
  return { fresh, grown, known, clashing, isKept };
}
