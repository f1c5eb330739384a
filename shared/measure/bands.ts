/**
 * The band of every size of a draft: what is said of it, within what it may be by its kind and by what stands beside it.
 *
 * Bands of sizes that a hand has read are never narrowed by their neighbours: a reading that contradicts one is a
 * question. Open sizes are, over a few rounds. A thread is one of the series, a bearing one of the table: once a single
 * one is left, its sizes are known.
 */
import { sizePaths, type Draft, type DraftModel, type SizeEntry, type SizePath } from '../envelope/draft.ts';
import { bossBefore } from './row.ts';
import { BEARINGS, findBearing, type BearingRow } from '../standards/bearings.ts';
import { THREADS } from '../standards/threads.ts';
import { besideOf, usualOf, type Beside } from './beside.ts';
import { bandOf, type SizeBand } from './known.ts';
import { pathText, valueAt } from './path.ts';

/** Bands of a draft by path, and the bearings that are still possible by part. */
export interface Bands {
  readonly sizes: ReadonlyMap<string, SizeBand>;
  readonly paths: ReadonlyMap<string, SizePath>;
  readonly bearings: ReadonlyMap<string, readonly BearingRow[]>;
}

/** Rounds over the pairs: a bound travels from a shank over a bearing to its seat and the boss round it. */
const ROUNDS = 4;
/** Crests stand below the name of their thread, mm: class 6g up to a pitch of 2. */
const CREST_mm = 0.32;
const HAIR = 1e-9;

const BEARING_KEYS = ['bore_mm', 'outside_mm', 'width_mm'] as const;

type Working = {
  least: number;
  most: number;
  middle: number | undefined;
  from: SizeBand['from'];
  isOpen: boolean;
  clash?: number;
};

/** The bands of a draft. About 1 ms a pivot. */
export function bandsOf(draft: Draft): Bands {
  const { model } = draft;
  const paths = new Map(
    sizePaths(model)
      .filter((path) => path.at(-1) !== 'gap_mm' || bossBefore(model, String(path[1]), String(path[3])) !== undefined)
      .map((path) => [pathText(path), path] as const),
  );
  const working = new Map<string, Working>();
  for (const [name, path] of paths) working.set(name, startOf(model, path));
  const pairs = besideOf(model).filter(({ size, of }) => working.has(size) && working.has(of));
  const bearings = new Map<string, readonly BearingRow[]>();
  for (let round = 0; round < ROUNDS; round++) {
    for (const [id, part] of Object.entries(model.parts))
      if (part.kind === 'bearing') bearings.set(id, narrowBearing(id, part.designation, working));
    for (const name of paths.keys()) narrowThread(name, working.get(name)!);
    for (const pair of pairs) narrowPair(pair, working);
  }
  // What tells a size best speaks first.
  const tightest = pairs.toSorted((a, b) => a.less[2] - a.less[0] - (b.less[2] - b.less[0]));
  settleMiddles(working, tightest, paths);
  for (const name of paths.keys()) narrowThread(name, working.get(name)!);
  for (const [id, rows] of bearings) if (rows.length > 0) pickBearing(id, rows, working);
  return { sizes: new Map([...working].map(([name, own]) => [name, bandFrom(own)])), paths, bearings };
}

function bandFrom({ middle, clash, ...rest }: Working): SizeBand {
  const own = Math.min(rest.most, Math.max(rest.least, middle ?? (rest.least + rest.most) / 2));
  return { ...rest, middle: own, ...(clash === undefined ? {} : { clash }) };
}

function startOf(model: DraftModel, path: SizePath): Working {
  const entry = valueAt(model, path) as SizeEntry | undefined;
  const said = bandOf(entry);
  const [least, , most] = usualOf(path);
  if (!said) return { least, most, middle: undefined, from: 'kind', isOpen: true };
  if (!said.isOpen) return { ...said };
  const low = Math.max(least, said.least);
  const high = Math.min(most, said.most);
  return low <= high ? { ...said, least: low, most: high } : { ...said };
}

function narrow(own: Working, least: number, most: number, binds = false): void {
  if (!own.isOpen && !binds) return;
  const low = Math.max(own.least, least);
  const high = Math.min(own.most, most);
  if (low > high + HAIR) return;
  if (low > own.least + HAIR || high < own.most - HAIR) {
    own.least = low;
    own.most = Math.max(low, high);
    if (own.from === 'kind') own.from = 'beside';
  }
}

function narrowPair({ size, of, less: [least, , most], binds }: Beside, working: ReadonlyMap<string, Working>): void {
  const [a, b] = [working.get(size)!, working.get(of)!];
  narrow(a, b.least + least, b.most + most, binds);
  narrow(b, a.least - most, a.most - least);
}

/** A thread that was read is the one of the series whose crests read so; one that nobody read is any of them. */
function narrowThread(name: string, own: Working): void {
  if (own.least === own.most) return;
  const key = /thread\.(size|pitch)_mm$/.exec(name)?.[1];
  if (key === undefined || own.from === 'written') return;
  const above = key === 'size' ? CREST_mm : 0;
  const known = [...new Set(THREADS.map((row) => (key === 'size' ? row.size_mm : row.pitch_mm)))];
  const within = known.filter((value) => value >= own.least - HAIR && value <= own.most + above + HAIR);
  const near = own.middle === undefined ? undefined : nearest(own.middle + above / 2, within);
  if (within.length === 1) {
    own.least = own.most = own.middle = within[0]!;
    if (own.from === 'measured') own.from = 'standard';
  } else if (near !== undefined) own.middle = near;
}

function nearest(value: number, known: readonly number[]): number | undefined {
  return known.reduce<number | undefined>(
    (best, own) => (best === undefined || Math.abs(own - value) < Math.abs(best - value) ? own : best),
    undefined,
  );
}

/** The sealed bearings of the table, one a set of dimensions: a linkage has them sealed, and a calliper cannot tell. */
const SEALED: readonly BearingRow[] = BEARINGS.filter(
  (row, k) =>
    row.isSealed &&
    BEARINGS.findIndex((other) => other.isSealed && BEARING_KEYS.every((key) => other[key] === row[key])) === k,
);

/** Rings are read with the calliper's accuracy and made to a hundredth. */
const RING_mm = 0.015;

function narrowBearing(
  id: string,
  designation: string | undefined,
  working: ReadonlyMap<string, Working>,
): readonly BearingRow[] {
  const named = designation === undefined ? undefined : findBearing(designation);
  const bands = BEARING_KEYS.map((key) => working.get(`parts.${id}.${key}`)!);
  const rows = named
    ? [named]
    : SEALED.filter((row) =>
        BEARING_KEYS.every((key, k) => row[key] >= bands[k]!.least - RING_mm && row[key] <= bands[k]!.most + RING_mm),
      );
  if (rows.length === 0) return rows;
  BEARING_KEYS.forEach((key, k) => {
    const own = bands[k]!;
    const values = rows.map((row) => row[key]);
    const [low, high] = [Math.min(...values), Math.max(...values)];
    if (own.isOpen || (rows.length === 1 && low >= own.least - RING_mm && high <= own.most + RING_mm)) {
      own.least = low;
      own.most = high;
      if (rows.length === 1) {
        own.middle = low;
        own.isOpen = false;
        own.from = 'standard';
      }
    }
  });
  return rows;
}

/** A bearing’s three middles are those of one row: the one nearest to what is known of it. */
function pickBearing(id: string, rows: readonly BearingRow[], working: ReadonlyMap<string, Working>): void {
  const bands = BEARING_KEYS.map((key) => working.get(`parts.${id}.${key}`)!);
  const row = nearestRow(
    rows,
    bands.map((own) => own.middle),
  );
  BEARING_KEYS.forEach((key, k) => {
    const own = bands[k]!;
    if (row[key] >= own.least - RING_mm && row[key] <= own.most + RING_mm) own.middle = row[key];
  });
}

/** Of some bearings the one nearest to three sizes, the first where they are as near. */
export function nearestRow(rows: readonly BearingRow[], sizes: readonly (number | undefined)[]): BearingRow {
  const off = (row: BearingRow): number =>
    BEARING_KEYS.reduce((sum, key, k) => sum + (sizes[k] === undefined ? 0 : Math.abs(row[key] - sizes[k])), 0);
  return rows.reduce((best, row) => (off(row) < off(best) - HAIR ? row : best));
}

/** Middles of the sizes that nobody named: the usual distance from one that has a middle, else the usual size. */
function settleMiddles(
  working: ReadonlyMap<string, Working>,
  pairs: readonly Beside[],
  paths: ReadonlyMap<string, SizePath>,
): void {
  // A guess that its neighbours rule out is none.
  for (const own of working.values())
    if (own.isOpen && own.middle !== undefined && (own.middle < own.least || own.middle > own.most))
      own.middle = undefined;
  const sure = new Set([...working].filter(([, own]) => !own.isOpen).map(([name]) => name));
  for (const isSure of [true, false])
    for (let moved = true; moved; ) {
      moved = false;
      for (const { size, of, less } of pairs) {
        const [a, b] = [working.get(size)!, working.get(of)!];
        if (a.middle === undefined && b.middle !== undefined && (!isSure || sure.has(of))) {
          a.middle = clamped(a, b.middle + less[1]);
          sure.add(size);
          moved = true;
        } else if (b.middle === undefined && a.middle !== undefined && (!isSure || sure.has(size))) {
          b.middle = clamped(b, a.middle - less[1]);
          sure.add(of);
          moved = true;
        }
      }
      // One that hangs on nothing starts from the usual size, and the rest goes on from it.
      if (!moved && !isSure) {
        const lone = [...working].find(([, own]) => own.middle === undefined);
        if (lone) {
          lone[1].middle = clamped(lone[1], usualOf(paths.get(lone[0])!)[1]);
          moved = true;
        }
      }
    }
}

const clamped = ({ least, most }: Working, value: number): number => Math.min(most, Math.max(least, value));
