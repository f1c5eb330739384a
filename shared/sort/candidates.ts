/**
 * What a loose part can turn out to be: every entry of the parts list with the number it calls for, and, where the list
 * has none like it, the bearings and threads of the standard tables.
 *
 * Candidates are sorted by id, so that nothing depends on the order of a file. How many of an entry there are is its
 * stated count, or the number of places that name it where that is more; what the build does not use is a spare.
 */
import { entryOf } from '../model/resolve.ts';
import type { DriveTool, LinkageModel, Part, PartKind } from '../model/schema.ts';
import { BEARINGS, THREADS, metricThread } from '../standards/index.ts';
import { isLookAlike } from '../parts/look-alike.ts';
import { bareThread, partSizes, type Sizes } from '../parts/measuring.ts';
import { SIZE_NAMES, type SizeName } from '../parts/sizes.ts';
import { accuracyOf, isSameDrive, type Target } from './misfit.ts';

/** One thing a reading can be matched with. */
export interface Candidate extends Target {
  /** A part's id, or `bearing:61902`, `thread:M12×1` for a standard one. */
  readonly id: string;
  readonly from: 'list' | 'standard';
  readonly name: string;
  readonly part?: Part;
  readonly kind?: PartKind;
  readonly sizes: Sizes;
  readonly drives: readonly DriveTool[];
  /** How many there can be; Infinity for a standard part. */
  readonly count: number;
  /** How many the build uses. */
  readonly used: number;
}

/** Number of places of the build that name each part. */
function partUses(model: LinkageModel): ReadonlyMap<string, number> {
  const uses = new Map<string, number>();
  const add = (id: string | undefined): void => {
    if (id !== undefined && entryOf(model.parts, id)) uses.set(id, (uses.get(id) ?? 0) + 1);
  };
  for (const pivot of model.pivots) {
    for (const stack of pivot.stacks) {
      add(stack.axle);
      add(stack.receiver);
      for (const entry of stack.row) add(entry.part);
    }
  }
  return uses;
}

/** Every tool the build puts on a part. */
function drivesOf(model: LinkageModel, partId: string): DriveTool[] {
  const found: DriveTool[] = [];
  for (const stack of model.pivots.flatMap((pivot) => pivot.stacks)) {
    const own = [
      ...(stack.axle === partId ? [stack.drives.head, stack.drives.tip] : []),
      ...(stack.receiver === partId ? [stack.drives.receiver] : []),
    ];
    for (const drive of own) if (drive && !found.some((known) => isSameDrive(known, drive))) found.push(drive);
  }
  return found;
}

/** What the parts list of a model offers, by id. The model must have been read without problems. */
export function listed(model: LinkageModel): Candidate[] {
  const uses = partUses(model);
  return Object.entries(model.parts)
    .map(([id, part]): Candidate => {
      const used = uses.get(id) ?? 0;
      return {
        id,
        from: 'list',
        name: part.name,
        part,
        kind: part.kind,
        sizes: partSizes(part),
        drives: drivesOf(model, id),
        count: Math.max(used, part.count ?? 1),
        used,
      };
    })
    .sort(byId);
}

/**
 * Standard bearings and threads that the list does not already offer, by id. Sources: `standards/bearings.ts`,
 * `standards/threads.ts`.
 */
export function standardCandidates(list: readonly Candidate[]): Candidate[] {
  const bearings = new Map<string, Candidate>();
  for (const row of BEARINGS) {
    const dimensions = `${row.bore_mm} × ${row.outside_mm} × ${row.width_mm}`;
    const designation = row.designation.replace(/ open$/, '');
    const { bore_mm, outside_mm, width_mm } = row;
    const part: Part = {
      kind: 'bearing',
      name: `Bearing ${designation}, ${dimensions}`,
      bore_mm,
      outside_mm,
      width_mm,
    };
    const sizes = partSizes(part);
    const isListed = list.some(
      (known) =>
        known.kind === 'bearing' &&
        (['bore_mm', 'outside_mm', 'length_mm'] as const).every(
          (name) => known.sizes[name]?.nominal === sizes[name]?.nominal,
        ),
    );
    // Open and sealed types of the same dimensions cannot be told apart by a calliper.
    if (isListed || bearings.has(dimensions)) continue;
    bearings.set(dimensions, {
      id: `bearing:${designation}`,
      from: 'standard',
      name: part.name,
      part,
      kind: part.kind,
      sizes,
      drives: [],
      count: Infinity,
      used: 0,
    });
  }
  const threads = THREADS.filter(
    (row) =>
      !list.some(
        (known) => known.sizes.thread_mm?.nominal === row.size_mm && known.sizes.pitch_mm?.nominal === row.pitch_mm,
      ),
  ).map((row): Candidate => {
    const { designation } = metricThread(row);
    return {
      id: `thread:${designation}`,
      from: 'standard',
      name: `Part with thread ${designation}`,
      sizes: bareThread(row),
      drives: [],
      count: Infinity,
      used: 0,
    };
  });
  return [...bearings.values(), ...threads].sort(byId);
}

function byId(one: Candidate, other: Candidate): number {
  return one.id < other.id ? -1 : one.id > other.id ? 1 : 0;
}

/** How far apart two candidates are in one size. */
export interface Difference {
  readonly name: SizeName;
  /** Nominal size of the other less that of the one, mm (turns for a count). */
  readonly by: number;
  /** Distance between their nearest limits in units of the accuracy, ≥ 0. */
  readonly accuracies: number;
}

/**
 * The sizes in which two candidates differ beyond their limits, mm and units of the accuracy (which must be > 0), the
 * most telling first; in ties the one that is quicker to take.
 */
export function differences(
  one: Target,
  other: Target,
  accuracy_mm: number,
  names: readonly SizeName[] = SIZE_NAMES,
): Difference[] {
  const found: Difference[] = [];
  for (const name of names) {
    const [mine, its] = [one.sizes[name], other.sizes[name]];
    if (!mine || !its) continue;
    const clear = Math.max(its.low - mine.high, mine.low - its.high);
    if (clear > 0)
      found.push({ name, by: its.nominal - mine.nominal, accuracies: clear / accuracyOf(name, accuracy_mm) });
  }
  return found.sort((a, b) => b.accuracies - a.accuracies);
}

/** A candidate that could be meant instead, and the size that tells the two apart best. */
export interface Rival {
  readonly other: Candidate;
  readonly telling?: Difference;
}

/** Of some candidates the one that is hardest to tell from another; undefined where there is none but itself. */
export function nearestOf(own: Candidate, others: readonly Candidate[], accuracy_mm: number): Rival | undefined {
  const accuracies = ({ telling }: Rival): number => telling?.accuracies ?? 0;
  return others
    .filter(({ id }) => id !== own.id)
    .map((other): Rival => {
      const [telling] = differences(own, other, accuracy_mm);
      return { other, ...(telling ? { telling } : {}) };
    })
    .reduce<Rival | undefined>(
      (best, rival) => (best && accuracies(best) <= accuracies(rival) ? best : rival),
      undefined,
    );
}

/** The candidate most easily taken for another by hand, and the size that tells them apart best. */
export function nearestLookAlike(own: Candidate, others: readonly Candidate[], accuracy_mm: number): Rival | undefined {
  const alike = others.filter(({ part }) => own.part && part && isLookAlike(own.part, part));
  return nearestOf(own, alike, accuracy_mm);
}
