/**
 * The verdict of each pivot of a draft, whatever its sizes are within their bands, and the sizes that decide it.
 *
 * A pivot is built at the middle of its bands and at their corners: every size at either end, all diameters at their
 * tightest and at their loosest, each chain of lengths at its longest and its shortest, and all of these together; then
 * at seeded corners and between them. `sound` asks that none of these stops and that no estimate of the core changes
 * that; `faulty` that one and the same stop is there in all of them; else it depends on the sizes whose ends change the
 * outcome, alone or, where none does alone, together. Deterministic.
 */
import type { Draft } from '../envelope/draft.ts';
import type { Problem } from '../model/problems.ts';
import { BUILD_REASONS } from '../tolerance/sets.ts';
import type { Verdict } from '../types.ts';
import { benchesOf, completionsOf, type Bench, type Outcome, type Values } from './bench.ts';

/** A size that decides a verdict. */
export interface Deciding {
  /** As `setSize` takes it. */
  readonly path: string;
  /** The share of its band in which the outcome is another one, 0 to 1; 0 where it takes others with it. */
  readonly share: number;
}

/** What is known of one pivot. */
export interface DraftVerdict {
  readonly pivot: string;
  readonly name: string;
  readonly verdict: Verdict;
  /** The sizes that decide, the widest open first; empty where the verdict is settled. */
  readonly depends_on: readonly Deciding[];
  /** Codes of the stops there are for certain, or, where nothing is certain, at the middle of the bands. */
  readonly stops: readonly string[];
  /** Why it cannot be judged: what contradicts what. */
  readonly lacks: readonly Problem[];
}

/** Seeded completions that a verdict is tried with, besides the corners. */
const SEEDED = 24;
const SEED = 18;
/** How finely the end of a fitting stretch is looked for, in halvings. */
const HALVINGS = 1;

/** A size that takes one stop of several away, and one that takes all of them: how much of its band is thought to. */
const LEAST_LIFT = 0.1;
const LIFT = 0.4;

/** Verdicts of every pivot of a draft, in its order. Some 50 solves of one joint a pivot that is open. */
export function verdictsOf(draft: Draft): DraftVerdict[] {
  return benchesOf(draft).map(verdictAt);
}

/** The verdict of one pivot. */
export function verdictAt(bench: Bench): DraftVerdict {
  const about = { pivot: bench.pivot, name: bench.name };
  const middle: Values = new Map();
  const base = bench.outcome(middle);
  const stopsOf = ({ stops }: Pick<Outcome, 'stops'>): string[] => [
    ...new Set(stops.map((stop) => stop.split(' ')[0]!)),
  ];
  if (base.faults.length > 0) {
    const named = bench.open.filter((path) => base.faults.some((fault) => isAbout(fault.path, path)));
    const mends = named.filter((path) => {
      const { least, most } = bench.bands.get(path)!;
      return [least, most].some((end) => bench.outcome(new Map([[path, end]])).faults.length < base.faults.length);
    });
    const [depends] = [mends, named, bench.open]
      .filter((own) => own.length > 0)
      .map((own) => own.map((path) => ({ path, share: 0 })));
    return { ...about, verdict: 'unsure', depends_on: depends ?? [], stops: [], lacks: base.faults };
  }
  if (bench.open.length === 0)
    return { ...about, verdict: bench.verdict(middle), depends_on: [], stops: stopsOf(base), lacks: [] };
  const isStopped = base.stops.length > 0;
  let always = base.stops;
  /** By stop, the sizes nobody has read that it rests on: while there are any, it is not certain. */
  const rests = new Map<string, Set<string>>();
  /** By size, how many of the stops one of its ends takes away. */
  const lifts = new Map<string, number>();
  const before = figuresOf(base);
  let flipped: Values | undefined;
  const flips = (values: Values): boolean => {
    if (!isStopped) return bench.stopped(values) === true;
    const outcome = bench.outcome(values);
    const { stops, faults } = outcome;
    // What cannot be built is no completion.
    if (faults.length > 0) return false;
    const [path] = values.keys();
    const gone = base.stops.filter((stop) => !stops.includes(stop)).length;
    if (values.size === 1 && gone > 0) lifts.set(path!, Math.max(gone, lifts.get(path!) ?? 0));
    if (values.size === 1 && bench.bands.get(path!)!.isOpen) {
      const now = figuresOf(outcome);
      for (const stop of base.stops)
        if (now.get(stop) !== before.get(stop)) rests.set(stop, (rests.get(stop) ?? new Set()).add(path!));
    }
    always = always.filter((stop) => stops.includes(stop));
    return stops.length === 0;
  };
  const alone = bench.open.flatMap((path): Deciding[] => {
    const { least, most, middle: at } = bench.bands.get(path)!;
    let share = 0;
    for (const end of [least, most]) {
      if (Math.abs(end - at) < 1e-9 || !flips(new Map([[path, end]]))) continue;
      share += Math.abs(flippingFrom(path, at, end, flips) - end) / (most - least);
    }
    return share > 0 ? [{ path, share }] : [];
  });
  let made: Values[] | undefined;
  const corners = (): Values[] => (made ??= cornersOf(bench));
  /** A row that is far too long or too short presses alike whatever its lengths are: all of them have to be read. */
  const unreadLengths = bench.open.filter((path) => bench.bands.get(path)!.isOpen && LENGTH.test(path));
  const unreadOf = (stop: string): string[] => {
    const heads = ownersOf(bench, stop);
    return bench.open.filter((path) => bench.bands.get(path)!.isOpen && heads.some((head) => path.startsWith(head)));
  };
  const isCertain = (stop: string): boolean => {
    const unread = [...unreadOf(stop), ...(isOfLengths(stop) ? unreadLengths : [])];
    if (unread.length > 0) rests.set(stop, new Set([...(rests.get(stop) ?? []), ...unread]));
    return !rests.has(stop);
  };
  // A stop is certain only where every try has it; whether there is none is decided by the first that has one.
  const isToTry = isStopped ? always.some(isCertain) || (alone.length === 0 && lifts.size === 0) : alone.length === 0;
  if (isToTry)
    for (const values of [...corners(), ...seeded(bench)])
      if (flips(values)) {
        flipped = values;
        break;
      }
  const certain = isStopped && isToTry ? always.filter(isCertain) : [];
  const depends =
    alone.length > 0 || (lifts.size > 0 && certain.length === 0)
      ? [
          ...alone,
          ...[...lifts]
            .filter(([path]) => !alone.some((own) => own.path === path))
            .map(([path, gone]) => ({ path, share: LEAST_LIFT + (LIFT * gone) / base.stops.length })),
        ]
      : flipped
        ? together(bench, flipped, flips).map((path) => ({ path, share: 0 }))
        : [];
  const width = ({ path }: Deciding): number => bench.bands.get(path)!.most - bench.bands.get(path)!.least;
  const depends_on = depends.sort((a, b) => width(b) - width(a));
  if (certain.length > 0 && bench.verdict(middle) === 'faulty')
    return { ...about, verdict: 'faulty', depends_on: [], stops: stopsOf({ stops: certain }), lacks: [] };
  if (depends_on.length > 0) return { ...about, verdict: 'unsure', depends_on, stops: stopsOf(base), lacks: [] };
  if (isStopped)
    // Every try stops, though not all by one and the same: nothing tells yet which of the sizes is to blame.
    return {
      ...about,
      verdict: 'unsure',
      depends_on: bench.open
        .filter((path) => rests.size === 0 || [...rests.values()].some((own) => own.has(path)))
        .map((path) => ({ path, share: 0 }))
        .sort((a, b) => width(b) - width(a)),
      stops: stopsOf(base),
      lacks: [],
    };
  const shaken = [middle, ...corners()].find((values) => bench.verdict(values) !== 'sound');
  if (!shaken) return { ...about, verdict: 'sound', depends_on: [], stops: [], lacks: [] };
  const isShaken = (values: Values): boolean => bench.verdict(values) !== 'sound';
  const why = shaken.size === 0 ? [] : together(bench, shaken, isShaken);
  return {
    ...about,
    verdict: 'unsure',
    depends_on: why.map((path) => ({ path, share: 0 })).sort((a, b) => width(b) - width(a)),
    stops: [],
    lacks: [],
  };
}

/** Where the sizes of the parts that a stop names begin. */
function ownersOf(bench: Bench, stop: string): string[] {
  const { stacks } = bench.model(new Map()).pivots[0]!;
  return stop
    .split(' ')
    .slice(1)
    .flatMap((id) => {
      const [stackId, rowId] = id.split('/');
      const stack = stacks.find((own) => own.id === stackId);
      if (!stack) return [];
      const boss = (name: string): string => `members.${name.replace('/', '.bores.')}.`;
      if (rowId === 'axle') return [`parts.${stack.axle}.`];
      if (rowId === 'receiver')
        return [stack.receiver.includes('/') ? boss(stack.receiver) : `parts.${stack.receiver}.`];
      const entry = stack.row.find((own) => own.id === rowId);
      if (!entry) return [];
      return entry.part === undefined ? [boss(`${entry.member}/${entry.bore}`)] : [`parts.${entry.part}.`];
    });
}

/** Stops that lengths cause: those a set of parts can have, and a row that cannot be put together. */
function isOfLengths(stop: string): boolean {
  const [code] = stop.split(' ');
  return code === 'row-too-long' || BUILD_REASONS.some((own) => own === code);
}

/** The figures of each stop, to see whether it moves. */
function figuresOf({ findings }: Outcome): ReadonlyMap<string, string> {
  return new Map(
    findings.flatMap(({ severity, code, parts, numbers }) =>
      severity === 'stop' ? [[`${code} ${parts.join(' ')}`, JSON.stringify(numbers)] as const] : [],
    ),
  );
}

function seeded(bench: Bench): Values[] {
  const all = completionsOf(bench, SEED);
  return Array.from({ length: SEEDED }, () => all.next().value as Values);
}

/** Whether a problem is about a size, or about the thing that it belongs to. */
function isAbout(problem: string, path: string): boolean {
  const head = problem.replace(/(\.|\[)[^.[]*$/, '');
  return problem.startsWith(path) || path.startsWith(head);
}

/** Where between the middle and an end the outcome turns. */
function flippingFrom(path: string, middle: number, end: number, flips: (values: Values) => boolean): number {
  let [same, other] = [middle, end];
  for (let k = 0; k < HALVINGS; k++) {
    const half = (same + other) / 2;
    if (flips(new Map([[path, half]]))) other = half;
    else same = half;
  }
  return (same + other) / 2;
}

/** The sizes that it takes, of those of a completion that changes the outcome: each of them is needed. */
function together(bench: Bench, values: Values, flips: (values: Values) => boolean): string[] {
  const width = (path: string): number => bench.bands.get(path)!.most - bench.bands.get(path)!.least;
  const needed = new Map(values);
  // Those that are known best are let go first, so that what stays is worth a reading.
  for (const path of [...values.keys()].sort((a, b) => width(a) - width(b))) {
    const value = needed.get(path)!;
    needed.delete(path);
    if (needed.size === 0 || !flips(needed)) needed.set(path, value);
  }
  return [...needed.keys()];
}

/** Sizes into which something goes: the smaller, the tighter. */
const INNER = /(bore_mm|seats\[\d+\]\.diameter_mm)$/;
/** Sizes along the axle. */
const LENGTH = /(length_mm|width_mm|gap_mm|depth_mm|height_mm|thickness_mm|proud_mm)$/;

/** How far a length is moved to see which way it moves a chain, mm. */
const STEP_mm = 0.001;

/** The worst that the bands allow, one kind of trouble a corner. */
function cornersOf(bench: Bench): Values[] {
  const end = (path: string, isHigh: boolean): readonly [string, number] => {
    const { least, most } = bench.bands.get(path)!;
    return [path, isHigh ? most : least];
  };
  const across = bench.open.filter((path) => !LENGTH.test(path));
  const tight = new Map(across.map((path) => end(path, !isInner(path))));
  const loose = new Map(across.map((path) => end(path, isInner(path))));
  const chains = chainEnds(bench);
  return [tight, loose, ...chains, ...chains.flatMap((own) => [merged(tight, own), merged(loose, own)])];
}

/** The bore of a hollow axle takes nothing in: it is the wider the weaker, as a bore beside it is the looser. */
function isInner(path: string): boolean {
  return INNER.test(path);
}

function merged(one: Values, other: Values): Values {
  return new Map([...one, ...other]);
}

function chainEnds(bench: Bench): Values[] {
  const lengths = bench.open.filter((path) => LENGTH.test(path));
  const slopes = slopesOf(bench, lengths);
  return [...slopes.values()].flatMap((slope) => {
    const moved = lengths.filter((path) => Math.abs(slope.get(path) ?? 0) > 1e-6);
    if (moved.length === 0) return [];
    return [true, false].map(
      (isWide) =>
        new Map(
          moved.map((path) => {
            const { least, most } = bench.bands.get(path)!;
            return [path, slope.get(path)! > 0 === isWide ? most : least] as const;
          }),
        ),
    );
  });
}

/** How each chain of a pivot moves with some of its sizes, mm a mm, by the chain’s id. */
export function slopesOf(bench: Bench, paths: readonly string[]): ReadonlyMap<string, ReadonlyMap<string, number>> {
  const found = new Map<string, Map<string, number>>();
  const at = bench.gaps(new Map());
  if (!at) return found;
  for (const path of paths) {
    const { least, most, middle } = bench.bands.get(path)!;
    const step = Math.min(STEP_mm, (most - least) / 2);
    const to = middle + step <= most ? middle + step : middle - step;
    const moved = step > 0 ? bench.gaps(new Map([[path, to]])) : undefined;
    if (!moved) continue;
    for (const [id, gap] of moved) {
      const before = at.get(id);
      if (before === undefined) continue;
      const own = found.get(id) ?? new Map<string, number>();
      own.set(path, (gap - before) / (to - middle));
      found.set(id, own);
    }
  }
  return found;
}
