/**
 * The second copy of what is kept, in a bucket of the browser's storage that has a folder of its own.
 *
 * Chromium writes each line of its database's log in two halves. Killed between them it leaves half a line, writes on
 * behind it at the next start, and takes the whole database for damaged and throws it away at the one after. Of some
 * eighty kills in the middle of writing one did that, and nothing a page can ask for prevents it. So every row is
 * written a second time, after the first and never at the same moment: one kill can tear one of the two, not both, and
 * at the next start each gets from the other what it lacks. A browser without buckets keeps one copy; none but Chromium
 * has that log.
 */
import { wrap, type DBSchema, type IDBPDatabase } from 'idb';
import { checkSum, keptEvent, type KeptEvent } from '../../shared/index.ts';

/** One event as the database holds it. */
export interface Row {
  readonly thing: string;
  readonly counter: number;
  readonly id: string;
  readonly event: KeptEvent;
  /** Of the event, so that what a disk has turned is found. */
  readonly sum: number;
}

/** What the database holds. */
export interface Store extends DBSchema {
  readonly events: { readonly key: [string, number, string]; readonly value: Row };
  readonly about: { readonly key: string; readonly value: string };
}
/** One of the two, open. */
export type Database = IDBPDatabase<Store>;

/** Name of both databases, and of the bucket of the second. */
export const NAME = 'axlewright';
/** Version of their form. */
export const VERSION = 1;
const BUCKET = 'kept-twice';
const LOCK = 'axlewright.kept';

/** What of the storage buckets is used; the compiler does not know them. */
interface Buckets {
  readonly keys: () => Promise<readonly string[]>;
  readonly delete: (name: string) => Promise<void>;
  readonly open: (name: string, how: { readonly durability: 'strict' }) => Promise<{ readonly indexedDB: IDBFactory }>;
}

function buckets(): Buckets | undefined {
  return (globalThis.navigator as { readonly storageBuckets?: Buckets } | undefined)?.storageBuckets;
}

/** Makes what a database holds, in an empty one. */
export function makeStores(db: Pick<IDBDatabase, 'createObjectStore'>): void {
  db.createObjectStore('events', { keyPath: ['thing', 'counter', 'id'] });
  db.createObjectStore('about');
}

/** The whole rows among what a database gave back. */
export function wholeRows(rows: readonly unknown[]): readonly Row[] {
  return rows.filter((row): row is Row => {
    const { event, sum } = (typeof row === 'object' && row !== null ? row : {}) as Partial<Row>;
    return keptEvent.safeParse(event).success && checkSum(event) === sum;
  });
}

/** Whether there is a second copy from earlier on. */
export async function hasSecond(): Promise<boolean> {
  try {
    return (await buckets()?.keys())?.includes(BUCKET) === true;
  } catch {
    return false;
  }
}

/** The second database; undefined where the browser has no place for it. `onGone`: it has been taken away since. */
export async function openSecond(onGone: () => void): Promise<Database | undefined> {
  try {
    const bucket = await buckets()?.open(BUCKET, { durability: 'strict' });
    if (!bucket) return undefined;
    const asked = bucket.indexedDB.open(NAME, VERSION);
    asked.onupgradeneeded = ({ oldVersion }) => {
      if (oldVersion < 1) makeStores(asked.result);
    };
    return await new Promise((resolve) => {
      asked.onblocked = () => resolve(undefined);
      asked.onerror = () => resolve(undefined);
      asked.onsuccess = () => {
        const db = asked.result;
        db.onversionchange = () => {
          db.close();
          onGone();
        };
        db.onclose = onGone;
        resolve(wrap(db) as Database);
      };
    });
  } catch {
    return undefined;
  }
}

/** Take the second copy away whole, where nothing can be taken out of it; the next start makes it anew. */
export async function deleteSecond(): Promise<void> {
  await buckets()?.delete(BUCKET);
}

/** One at a time over all tabs: neither copy is written while the other one is. */
export function alone<T>(work: () => Promise<T>): Promise<T> {
  return navigator.locks.request(LOCK, work);
}

/** Put rows into a database, on the disk when it is over. */
export async function putRows(db: Database, rows: readonly Row[]): Promise<void> {
  if (rows.length === 0) return;
  const tx = db.transaction('events', 'readwrite', { durability: 'strict' });
  await Promise.all([...rows.map((row) => tx.store.put(row)), tx.done]);
}

/** Take rows out of a database, on the disk when it is over. */
export async function deleteRows(db: Database, range: IDBKeyRange): Promise<void> {
  const tx = db.transaction('events', 'readwrite', { durability: 'strict' });
  await Promise.all([tx.store.delete(range), tx.done]);
}

/** Each of the two gets what only the other one has; how many rows came back into the first. */
export function level(first: Database, second: Database): Promise<number> {
  return alone(async () => {
    const [here, there] = await Promise.all([first.getAllKeys('events'), second.getAllKeys('events')]);
    const back = await missing(second, there, here);
    await putRows(first, back);
    await putRows(second, await missing(first, here, there));
    return back.length;
  });
}

type Key = Store['events']['key'];

async function missing(from: Database, has: readonly Key[], other: readonly Key[]): Promise<readonly Row[]> {
  const known = new Set(other.map((key) => JSON.stringify(key)));
  const keys = has.filter((key) => !known.has(JSON.stringify(key)));
  return wholeRows(await Promise.all(keys.map((key) => from.get('events', key))));
}
