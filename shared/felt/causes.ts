/**
 * What can be wrong at a pivot: every single mistake of it and of its neighbours, the likeliest pairs within it, wear and
 * damage of its parts, nothing at all, and something that none of these is.
 *
 * The chance of a kind is that at one place; where one place can be got wrong in several ways of a kind, they share it.
 */
import { judge, type Judged } from '../findings/judge.ts';
import { dragOf } from '../mistakes/felt.ts';
import { applyChanges, listMistakes, type Change, type Mistake } from '../mistakes/list.ts';
import { beginMistakes, buildMistake, type MistakeWork } from '../mistakes/try.ts';
import { resolveChange } from '../model/resolve.ts';
import type { LinkageModel, Part } from '../model/schema.ts';
import { resolveBearing } from '../parts/bearing.ts';
import { DAMAGE } from './chance.ts';
import { FELT_LIMITS, PRIORS, type CauseKind } from './limits.ts';
import { NO_SIGNS, signsOf, signsOfOther, type Signs } from './signs.ts';
import type { SymptomCode } from './symptoms.ts';

/** One thing that can be wrong. */
export interface Cause {
  /** The mistake's id, or `kind:place`. */
  readonly id: string;
  readonly kind: CauseKind;
  readonly pivot: string;
  /** Its share of the chance of its kind. */
  readonly share: number;
  /** Its row does not go together at all, so that there is no build to show. */
  readonly isStuck?: true;
  readonly mistake?: Mistake;
  /** The item (`stack/row`) that is worn, damaged or another. */
  readonly item?: string;
  readonly stack?: string;
}

/** Chances before anything is asked, in place of those of the table. */
export type Priors = Readonly<Partial<Record<CauseKind, number>>>;

/** A cause with what it gives to notice at its own pivot; `wear` adds chances by symptom. */
export interface Signed {
  readonly cause: Cause;
  readonly signs: Signs;
  readonly wear?: Partial<Record<SymptomCode, number>>;
}

/** Put right with the axle in its place, or not here. */
const SHUT: readonly CauseKind[] = ['under-tightened', 'nothing-wrong', 'something-else'];

/** The stack of a pivot whose axle has to come out to put a cause right, where one has. */
export function openedBy({ kind, pivot, stack, mistake }: Cause, here: string): string | undefined {
  return pivot === here && !SHUT.includes(kind) ? (stack ?? mistake?.slots[0]?.stack) : undefined;
}

/** Pivots that share a member with one, in the order of the model. */
export function neighboursOf(model: LinkageModel, pivotId: string): readonly string[] {
  const members = (id: string): Set<string> =>
    new Set(
      model.pivots
        .filter((pivot) => pivot.id === id)
        .flatMap(({ stacks }) => stacks)
        .flatMap(({ row, receiver }) => [
          ...row.flatMap((entry) => (entry.member === undefined ? [] : [entry.member])),
          ...(receiver.includes('/') ? [receiver.split('/')[0]!] : []),
        ]),
    );
  const own = members(pivotId);
  // The frame carries nothing from one pivot to the next: it stands in the stand.
  const isMoving = (id: string): boolean => model.members[id]?.kind !== 'frame';
  return model.pivots
    .map(({ id }) => id)
    .filter((id) => id !== pivotId && [...members(id)].some((member) => own.has(member) && isMoving(member)));
}

/**
 * Every cause at a pivot with its signs, a solve at a time; then those of its neighbours. Yields how many are done and
 * how many there are about.
 */
export function* causesAt(
  model: LinkageModel,
  pivotId: string,
): Generator<{ readonly done: number; readonly total: number }, readonly Signed[]> {
  const work = beginMistakes(model);
  const singles = listMistakes(model, pivotId);
  const pairs = likelyPairs(model, pivotId);
  const neighbours = neighboursOf(model, pivotId);
  const near = neighbours.flatMap((id) => listMistakes(model, id).filter(({ also }) => also !== pivotId));
  const total = singles.length + pairs.length + near.length;
  const found: Signed[] = [];
  for (const [k, mistake] of [...singles, ...pairs, ...near].entries()) {
    const list = k < singles.length ? singles : k < singles.length + pairs.length ? pairs : near;
    found.push(ofMistake(work, mistake, shareOf(mistake, list)));
    yield { done: k + 1, total };
  }
  return [...found, ...wornAt(work, pivotId), ...NO_CAUSES.map((kind) => ofNothing(kind, pivotId))];
}

const NO_CAUSES = ['nothing-wrong', 'something-else'] as const;

function ofNothing(kind: (typeof NO_CAUSES)[number], pivot: string): Signed {
  return { cause: { id: kind, kind, pivot, share: 1 }, signs: NO_SIGNS };
}

function ofMistake(work: MistakeWork, mistake: Mistake, share: number): Signed {
  const { id, kind, pivot } = mistake;
  const signs = signsOf(buildMistake(work, mistake), (part, single) => partOf(work, part, single));
  const cause = { id, kind: kind as CauseKind, pivot, share, mistake };
  return { cause: signs.goes === 'no' ? { ...cause, isStuck: true } : cause, signs };
}

function partOf({ model }: MistakeWork, id: string, { changes }: Mistake): Part | undefined {
  const added = changes.find((change) => change.what === 'part' && change.part === id);
  return added?.what === 'part' ? added.after : model.written.parts[id];
}

/** Mistakes of one kind at one first place share its chance. */
function shareOf(mistake: Mistake, list: readonly Mistake[]): number {
  if (mistake.of) return 1;
  const placeOf = ({ kind, slots }: Mistake): string => `${kind} ${slots[0]?.stack}/${slots[0]?.row}`;
  const ways = list.filter((other) => !other.of && placeOf(other) === placeOf(mistake)).length;
  return 1 / ways;
}

const PAIRED: readonly Mistake['kind'][] = ['left-out', 'turned', 'swapped', 'not-home', 'under-tightened'];

/** What a cause's chance is before anything is asked, not yet added up to one; a pair's is that of both its mistakes. */
export function priorOf({ kind, share, pivot, mistake }: Cause, here: string, priors: Priors): number {
  const kinds = [kind, ...(mistake?.of ?? []).map((single) => single.kind as CauseKind)];
  const chance = kinds.reduce((all, one) => all * (priors[one] ?? PRIORS[one].value), share);
  return chance * (pivot === here ? 1 : FELT_LIMITS.neighbour.value);
}

function pairChance({ of = [] }: Mistake): number {
  return of.reduce((chance, { kind }) => chance * PRIORS[kind as CauseKind].value, 1);
}

/** The likeliest pairs of one pivot, of mistakes that touch no other. */
function likelyPairs(model: LinkageModel, pivotId: string): readonly Mistake[] {
  return listMistakes(model, pivotId, { two: true })
    .filter(({ of }) => of?.every(({ kind }) => PAIRED.includes(kind)))
    .sort((a, b) => pairChance(b) - pairChance(a) || (a.id < b.id ? -1 : 1))
    .slice(0, FELT_LIMITS.pairs.value);
}

/** Wear and damage of a pivot's own parts, and a bearing of another width. */
function wornAt(work: MistakeWork, pivotId: string): Signed[] {
  const written = judge(work.model, pivotId);
  return written.joint.stacks.flatMap(({ stack, items }) => {
    const bearings = items.filter(({ role }) => role === 'bearing');
    const worn = (kind: keyof typeof DAMAGE, item?: string): Signed => ({
      cause: {
        id: `${kind}:${item ?? stack.id}`,
        kind,
        pivot: pivotId,
        share: 1,
        stack: stack.id,
        ...(item === undefined ? {} : { item }),
      },
      signs: { ...NO_SIGNS, letGo: 'falls' },
      wear: DAMAGE[kind],
    });
    return [
      ...bearings.flatMap(({ id }) => [worn('bearing-worn', id), worn('seat-loose', id)]),
      worn('axle-bent'),
      worn('thread-stretched'),
      worn('grit'),
      ...bearings.flatMap((item) => [1, -1].map((by_mm) => wrongBearing(work, written, item, by_mm))),
    ];
  });
}

type Item = Judged['joint']['stacks'][number]['items'][number];

/** A bearing of the same bore and outside from the drawer, a millimetre wider or narrower. */
function wrongBearing({ model }: MistakeWork, written: Judged, item: Item, by_mm: number): Signed {
  const own = resolveBearing(item.made as Extract<Part, { kind: 'bearing' }>);
  const part = `${item.part}-${by_mm > 0 ? 'wider' : 'narrower'}`;
  const entry = model.written.pivots
    .flatMap(({ stacks }) => stacks)
    .find(({ id }) => id === item.stack.id)!
    .row.find(({ id }) => id === item.rowId)!;
  const changes: Change[] = [
    {
      what: 'part',
      part,
      after: {
        kind: 'bearing',
        name: item.name,
        count: 1,
        bore_mm: own.bore_mm,
        outside_mm: own.outside_mm,
        width_mm: own.width_mm + by_mm,
        inner_shoulder_mm: own.innerShoulder_mm,
        outer_shoulder_mm: own.outerShoulder_mm,
      },
    },
    { what: 'entry', stack: item.stack.id, row: item.rowId, before: entry, after: { ...entry, part } },
  ];
  const judged = judge(resolveChange(model, applyChanges(model.written, changes)), written.joint.pivot.id);
  return {
    cause: {
      id: `wrong-bearing:${item.id}${by_mm > 0 ? '' : ':narrow'}`,
      kind: 'wrong-bearing',
      pivot: written.joint.pivot.id,
      share: 0.5,
      item: item.id,
      stack: item.stack.id,
    },
    signs: { ...signsOfOther(judged, written, dragOf(judged)), size_mm: { [item.id]: Math.abs(by_mm) } },
  };
}
