/**
 * The sorting tray: from readings of loose parts to what each one is, what else it could be, what is missing, left over
 * and worn.
 *
 * All readings are assigned to all candidates at once, at the least whole negative log likelihood, so that two spacers
 * are never both taken for the one of which there is only one. Then every other placement is priced: what it would cost
 * if this reading were that part, everything else rearranged as well as possible. Placements that are not far less
 * likely stay as alternatives, and so does every part that differs by less than the accuracy in everything measured,
 * whatever the noise of this one reading says. Of several parts alike each piece carries the likelihood of their one
 * reading. Readings are worked in an order of their own content: the order of entry never changes the result.
 */
import type { LinkageModel, PartKind } from '../model/schema.ts';
import { sizeOf } from '../parts/measuring.ts';
import type { SizeName } from '../parts/sizes.ts';
import { assign, type AssignProblem, type Assignment } from './assign.ts';
import { differences, listed, standardCandidates, type Candidate, type Difference } from './candidates.ts';
import { margins } from './margins.ts';
import { BELIEFS, foreignCost, misfit, type Fit, type Read, type Setting, type SizeFit } from './misfit.ts';
import { findAxle, isEmptyReading, sizesRead, type CalliperReading, type Readings } from './reading.ts';

/** A placement stays an alternative while it is not this many times less likely: our own rule. */
export const CLOSE_ODDS = 1000;
/**
 * Parts that differ by less than this many times the accuracy in everything measured cannot be told apart: more a
 * reading does not promise.
 */
const TELLING_ACCURACIES = 1;
/** A match further off than this many times the accuracy is itself unsure. */
const BAD_FIT_ACCURACIES = 1.5;

/** A size that has gone by more than the accuracy, in the direction in which it wears. */
export interface Worn {
  readonly name: SizeName;
  readonly read: number;
  readonly nominal: number;
  /** How far it has gone, mm, > 0. */
  readonly gone_mm: number;
  readonly limit_mm: number;
  readonly isBeyond: boolean;
}

/** Pieces of one reading that were put to one candidate. */
export interface Placement {
  readonly candidate: string;
  readonly pieces: number;
  readonly fit: Fit;
  readonly worn: readonly Worn[];
}

/** Something else a reading could be. */
export interface Alternative {
  /** Undefined: no part of this bike, or one too many of its like. */
  readonly candidate?: string;
  readonly fit?: Fit;
  /** How many times likelier the placement is, up to CLOSE_ODDS; 1 where both are equally likely. */
  readonly odds: number;
  /** True when nothing measured tells the two apart by the accuracy. */
  readonly cannotBeTold: boolean;
  /** Sizes that would tell the two apart by the accuracy or more, measured or not, the most telling first. */
  readonly apart: readonly Difference[];
}

/** What one reading turned out to be. */
export interface TrayRow {
  readonly reading: CalliperReading;
  readonly placements: readonly Placement[];
  /** Pieces that no candidate took, and the part they look like where all of its kind are found already. */
  readonly leftOver: number;
  readonly looksLike?: string;
  readonly alternatives: readonly Alternative[];
  /** True when every piece has its place and nothing else is likely. */
  readonly isSure: boolean;
  /** True when what was measured would fit another part as well, which other readings have taken for good. */
  readonly byElimination: boolean;
}

/** A sorted tray. */
export interface Tray {
  readonly setting: Setting;
  /** In the order of entry. */
  readonly rows: readonly TrayRow[];
  /** Parts the build uses and the tray lacks, by id. */
  readonly missing: readonly { readonly candidate: string; readonly pieces: number }[];
  /** Everything that was offered, by id. */
  readonly candidates: ReadonlyMap<string, Candidate>;
  /** Negative log likelihood of the whole tray; a figure to compare trays of the same readings by. */
  readonly cost: number;
}

/**
 * Sort a tray. The readings must have passed `checkReadings`: one that says nothing throws an Error. Odds are ratios ≥
 * 1, costs natural logarithms. About 0.1 s for a dozen readings; O(readings² · parts).
 */
export function sortTray(model: LinkageModel, input: Readings): Tray {
  const { readings, setting } = input;
  for (const reading of readings)
    if (isEmptyReading(reading)) throw new Error('tray: a reading says nothing; the readings were not checked');
  const list = listed(model);
  const offered = [...list, ...standardCandidates(list)];
  const order = readings
    .map((reading, index) => ({ key: readingKey(reading), index }))
    .sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : a.index - b.index))
    .map(({ index }) => index);
  const entries = order.map((index) => lookUp(readings[index]!, model, readings));
  const fits = entries.map((read) => offered.map((candidate) => misfit(read, candidate, setting)));
  const { problem, best } = keepTogether(priced(entries, offered, fits, setting));
  const judged = judge(problem, best, entries, offered, fits, setting);
  const rows: TrayRow[] = [];
  order.forEach((index, row) => {
    rows[index] = { reading: readings[index]!, ...judged[row]! };
  });
  const placed = new Map<string, number>();
  for (const { column, pieces } of best.chosen)
    placed.set(offered[column]!.id, (placed.get(offered[column]!.id) ?? 0) + pieces);
  return {
    setting,
    rows,
    missing: list.flatMap(({ id, used }) =>
      (placed.get(id) ?? 0) < used ? [{ candidate: id, pieces: used - (placed.get(id) ?? 0) }] : [],
    ),
    candidates: new Map(offered.map((candidate) => [candidate.id, candidate])),
    cost: best.total,
  };
}

/** What a reading says, written so that equal readings have equal keys, whatever their place in the table. */
export function readingKey(reading: CalliperReading): string {
  return JSON.stringify([
    reading.kind ?? '',
    sizesRead(reading).map((name) => [name, reading[name]]),
    reading.drive ? [reading.drive.tool, reading.drive.size_mm] : [],
    reading.slides_on ?? '',
    reading.count,
    reading.label ?? '',
  ]);
}

function lookUp(
  reading: CalliperReading,
  model: LinkageModel,
  readings: readonly CalliperReading[],
): Read & { count: number } {
  const slidesOn_mm = reading.slides_on === undefined ? undefined : findAxle(reading.slides_on, model, readings);
  return {
    count: reading.count,
    ...(reading.kind === undefined ? {} : { kind: reading.kind }),
    sizes: Object.fromEntries(sizesRead(reading).map((name) => [name, reading[name]])),
    ...(slidesOn_mm ? { slidesOn_mm } : {}),
    ...(reading.drive ? { drive: reading.drive } : {}),
  };
}

type Entry = Read & { readonly count: number };
type Fits = readonly (readonly (Fit | undefined)[])[];
/** Extra cost up to which a placement is an alternative. */
const CLOSE = Math.log(CLOSE_ODDS);

function priced(entries: readonly Entry[], offered: readonly Candidate[], fits: Fits, setting: Setting): AssignProblem {
  const unmatched = entries.map((read) => foreignCost(read, setting));
  return {
    supply: entries.map((read) => read.count),
    capacity: offered.map((candidate) => candidate.count),
    cost: entries.map((_read, row) => {
      const isListed = fits[row]!.some(
        (fit, column) => fit && offered[column]!.from === 'list' && fit.cost <= unmatched[row]!,
      );
      return fits[row]!.map((fit, column) => {
        // The tables are asked only where the list has nothing like it.
        if (!fit || (isListed && offered[column]!.from === 'standard')) return Infinity;
        const price = fit.cost - (offered[column]!.from === 'standard' ? Math.log(BELIEFS.standardShare) : 0);
        // Dearer than leaving it by more than an alternative may be: never part of any answer.
        return price > unmatched[row]! + CLOSE ? Infinity : price;
      });
    }),
    unmatched,
  };
}

/**
 * The cheapest assignment in which pieces said to be alike stay one part, unless that is far less likely. Where the
 * cheapest parts them, its dearer pair is raised by just what keeping them together costs, so that the result is again
 * a cheapest assignment, of nearly the same prices.
 */
function keepTogether(problem: AssignProblem): { problem: AssignProblem; best: Assignment } {
  let now = problem;
  let best = assign(now)!;
  for (let row = 0; row < problem.supply.length; row++) {
    const own = best.chosen.filter((choice) => choice.row === row);
    if (own.length < 2) continue;
    const ways = own.map(({ column: kept }) => {
      const others = own.filter(({ column }) => column !== kept);
      return {
        others,
        total: assign(
          withCost(
            now,
            row,
            others.map(({ column }) => column),
            Infinity,
          ),
        )!.total,
      };
    });
    const way = ways.reduce((least, other) => (other.total < least.total ? other : least));
    const dearer = way.total - best.total;
    if (dearer >= CLOSE) continue;
    const raised = withCost(
      now,
      row,
      way.others.map(({ column }) => column),
      dearer + 1e-9,
    );
    const again = assign(raised)!;
    now = raised;
    best = again;
  }
  return { problem: now, best };
}

/** The problem with some of a row's prices raised. */
function withCost(problem: AssignProblem, row: number, columns: readonly number[], by: number): AssignProblem {
  return {
    ...problem,
    cost: problem.cost.map((own, k) =>
      k === row ? own.map((price, column) => (columns.includes(column) ? price + by : price)) : own,
    ),
  };
}

function judge(
  problem: AssignProblem,
  best: Assignment,
  entries: readonly Entry[],
  offered: readonly Candidate[],
  fits: Fits,
  setting: Setting,
): Omit<TrayRow, 'reading'>[] {
  // The column after the last candidate stands for 'unmatched'.
  const width = offered.length + 1;
  const likeOf = (row: number): string | undefined => likeliest(fits[row]!, offered, problem.unmatched![row]!);
  const rivals = new Set(best.unmatched.flatMap((pieces, row) => (pieces > 0 ? (likeOf(row) ?? []) : [])));
  const priceOf = new Map(margins(problem, best, CLOSE).map(({ row, column, extra }) => [row * width + column, extra]));
  const { untold, eliminated } = untoldPlacements(best, entries, offered, fits, problem, setting);
  return entries.map((read, row): Omit<TrayRow, 'reading'> => {
    const own = best.chosen.filter((choice) => choice.row === row);
    const leftOver = best.unmatched[row]!;
    const placements = own.map(({ column, pieces }): Placement => {
      const fit = fits[row]![column]!;
      return {
        candidate: offered[column]!.id,
        pieces,
        fit,
        worn: wornSizes(fit.sizes, offered[column]!.kind, setting),
      };
    });
    const sits = new Set(own.map(({ column }) => column));
    const main = own.reduce<number | undefined>(
      (most, choice) =>
        most === undefined || choice.pieces > (own.find(({ column }) => column === most)?.pieces ?? 0)
          ? choice.column
          : most,
      undefined,
    );
    const alternatives = offered
      .flatMap((candidate, column): Alternative[] => {
        const fit = fits[row]![column];
        if (!fit) return [];
        const extra = priceOf.get(row * width + column) ?? Infinity;
        const cannotBeTold = untold.has(row * width + column);
        if (sits.has(column) || (!cannotBeTold && !(extra < CLOSE))) return [];
        return [
          {
            candidate: candidate.id,
            fit,
            odds: Math.exp(Math.min(extra, CLOSE)),
            cannotBeTold,
            apart:
              main === undefined
                ? []
                : differences(offered[main]!, candidate, setting.accuracy_mm).filter(
                    ({ accuracies }) => accuracies >= TELLING_ACCURACIES,
                  ),
          },
        ];
      })
      .sort((a, b) => a.odds - b.odds);
    const looksLike = leftOver > 0 ? likeOf(row) : undefined;
    const out = priceOf.get(row * width + offered.length);
    const isBad = placements.some(({ fit }) => fit.misfit_accuracies > BAD_FIT_ACCURACIES);
    const hasRival = main !== undefined && rivals.has(offered[main]!.id);
    if (leftOver === 0 && out !== undefined && (isBad || hasRival))
      alternatives.push({ odds: Math.exp(out), cannotBeTold: false, apart: [] });
    return {
      placements,
      leftOver,
      ...(looksLike === undefined ? {} : { looksLike }),
      alternatives,
      isSure: leftOver === 0 && alternatives.length === 0 && placements.length === 1,
      byElimination: alternatives.length === 0 && eliminated.has(row),
    };
  });
}

function likeliest(
  fits: readonly (Fit | undefined)[],
  offered: readonly Candidate[],
  price: number,
): string | undefined {
  let best: { id: string; cost: number } | undefined;
  fits.forEach((fit, column) => {
    const candidate = offered[column]!;
    if (fit && candidate.from === 'list' && fit.cost < price && fit.cost < (best?.cost ?? Infinity))
      best = { id: candidate.id, cost: fit.cost };
  });
  return best?.id;
}

function wornSizes(sizes: readonly SizeFit[], kind: PartKind | undefined, { wear }: Setting): Worn[] {
  if (!wear || kind === undefined) return [];
  return sizes.flatMap(({ name, read, nominal, off, accuracies, isWearSide }): Worn[] => {
    const limit_mm = sizeOf(kind, name)?.wears?.limit.value;
    if (!isWearSide || Math.abs(accuracies) <= 1 || limit_mm === undefined) return [];
    return [{ name, read, nominal, gone_mm: Math.abs(off), limit_mm, isBeyond: Math.abs(off) > limit_mm }];
  });
}

/**
 * Placements that nothing measured rules out: a chain of exchanges from the one to the other in which no step changes a
 * measured size by the accuracy. What is settled by elimination (the other place is held by a part that can only be
 * that one) has no such chain.
 */
function untoldPlacements(
  best: Assignment,
  entries: readonly Entry[],
  offered: readonly Candidate[],
  fits: Fits,
  problem: AssignProblem,
  setting: Setting,
): { untold: Set<number>; eliminated: Set<number> } {
  const width = offered.length + 1;
  const steps: Set<number>[] = offered.map(() => new Set());
  const firsts: { row: number; from: number; to: number }[] = [];
  const taken = offered.map(() => 0);
  for (const { row, column, pieces } of best.chosen) {
    taken[column]! += pieces;
    const names = Object.keys(entries[row]!.sizes) as (keyof Candidate['sizes'])[];
    offered.forEach((other, to) => {
      if (to === column || !fits[row]![to] || other.from !== offered[column]!.from) return;
      if (!isUntold(entries[row]!, offered[column]!, other, names, setting)) return;
      steps[column]!.add(to);
      firsts.push({ row, from: column, to });
    });
  }
  const ends = new Map<number, Set<number>>();
  const found = new Set<number>();
  const eliminated = new Set<number>();
  for (const { row, from, to } of firsts) {
    let reach = ends.get(to);
    if (!reach) ends.set(to, (reach = accessOf(to, steps)));
    if (reach.has(from) || [...reach].some((column) => taken[column]! < problem.capacity[column]!))
      found.add(row * width + to);
    else eliminated.add(row);
  }
  return { untold: found, eliminated };
}

function isUntold(
  read: Entry,
  one: Candidate,
  other: Candidate,
  names: readonly (keyof Candidate['sizes'])[],
  setting: Setting,
): boolean {
  if (names.some((name) => (one.sizes[name] === undefined) !== (other.sizes[name] === undefined))) return false;
  if (differences(one, other, setting.accuracy_mm, names).some(({ accuracies }) => accuracies >= TELLING_ACCURACIES))
    return false;
  if (read.kind !== undefined && one.kind !== other.kind) return false;
  const [here, there] = [misfitOfWords(read, one, setting), misfitOfWords(read, other, setting)];
  return Math.abs(here - there) < Math.log(2);
}

/** What a reading says beside its sizes (a tool, an axle it slides on), as a cost. */
function misfitOfWords(read: Entry, candidate: Candidate, setting: Setting): number {
  const { kind: _kind, ...rest } = read;
  return misfit({ ...rest, sizes: {} }, candidate, setting)?.cost ?? Infinity;
}

function accessOf(start: number, steps: readonly ReadonlySet<number>[]): Set<number> {
  const seen = new Set([start]);
  const open = [start];
  while (open.length > 0) {
    for (const next of steps[open.pop()!]!) {
      if (seen.has(next)) continue;
      seen.add(next);
      open.push(next);
    }
  }
  return seen;
}
