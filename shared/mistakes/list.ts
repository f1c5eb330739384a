/**
 * Which single mistakes can be made at a pivot, each as data: what changes in the model, and nothing of what it does.
 *
 * Every loose spacer left out; every spacer or nut that is not the same both ways turned; every pair of look-alikes
 * swapped, within the pivot and with other pivots; another axle or nut that starts on the thread; the axle from the
 * other side; half and twice the torque; what is tightened beside the axle left loose; a bearing off its shoulder. Two at once are made of two singles that touch
 * different slots of one pivot. A spacer that goes where a plain one sat may face either way, and both are listed. A
 * bearing is pressed home and is not left out; axle and nut are not left out either, since nobody fails to see that.
 */
import type { LinkageModel, Part, Pivot, RowEntry, Side, Stack } from '../model/schema.ts';
import { otherSide } from '../numbers/figures.ts';
import { seatsOf } from '../model/resolve.ts';
import { everyPart } from '../model/variant.ts';
import { partProfile, stands } from '../parts/kinds.ts';
import { isLookAlike, LOOK_ALIKE_LIMITS, startsInstead } from '../parts/look-alike.ts';
import { MISTAKE_LIMITS } from './limits.ts';

/** Kinds of mistake, in the order a list shows them. */
export const MISTAKE_KINDS = [
  'left-out',
  'turned',
  'swapped',
  'other-part',
  'wrong-side',
  'under-tightened',
  'over-tightened',
  'not-home',
  'two',
] as const;
/** Beside the kinds that are listed, what a row worked by hand comes to: a part in another place, more than one. */
export type MistakeKind = (typeof MISTAKE_KINDS)[number] | 'moved' | 'several';

/** What a stack's slot held, and holds. */
export type Change =
  | {
      readonly what: 'entry';
      readonly stack: string;
      readonly row: string;
      readonly before: RowEntry;
      readonly after?: RowEntry;
    }
  | { readonly what: 'axle' | 'receiver'; readonly stack: string; readonly before: string; readonly after: string }
  | { readonly what: 'from'; readonly stack: string; readonly before: Side; readonly after: Side }
  | { readonly what: 'torque'; readonly stack: string; readonly before: number; readonly after: number }
  | { readonly what: 'row'; readonly stack: string; readonly before: readonly RowEntry[]; readonly after: RowEntry[] }
  | { readonly what: 'part'; readonly part: string; readonly after: Part };

/** A place of a stack that a mistake gets wrong, and the part that the build as written has there. */
export interface Slot {
  readonly stack: string;
  /** Row id, or `axle` or `receiver`. */
  readonly row: string;
  readonly part?: string;
  /** What the mistake puts there instead: another part, or the same one another way. */
  readonly now?: { readonly part: string; readonly turned: boolean };
}

/** One mistake, as data. */
export interface Mistake {
  /** Unique in the model, the same from run to run. */
  readonly id: string;
  readonly kind: MistakeKind;
  /** The pivot it is looked at from. */
  readonly pivot: string;
  /** The other pivot of a swap between two. */
  readonly also?: string;
  readonly slots: readonly Slot[];
  readonly changes: readonly Change[];
  /** Between two pivots: the same swap with the spacer at the other pivot the other way round. */
  readonly otherWay?: readonly Change[];
  /** The singles of two at once, or of a row that differs in several ways. */
  readonly of?: readonly Mistake[];
}

/**
 * The model as the mistake leaves it; the model given is not touched. The mistake must be one of `listMistakes` of that
 * model. O(parts of the pivot).
 */
export function applyMistake(model: LinkageModel, mistake: Mistake): LinkageModel {
  return applyChanges(model, mistake.changes);
}

/** Scene ids (`stackId/rowId`) of the places a mistake gets wrong. */
export function mistakeItems(mistake: Mistake): readonly string[] {
  return mistake.slots.map(({ stack, row }) => `${stack}/${row}`);
}

export interface MistakeOptions {
  /** Add every two singles of one pivot that touch different slots. */
  readonly two?: boolean;
}

/**
 * Every mistake of one pivot, in a fixed order; with `two`, every pair of them as well. About 1 ms, with pairs the
 * square of that. Throws a RangeError when the model has no such pivot.
 */
export function listMistakes(
  model: LinkageModel,
  pivotId: string,
  { two = false }: MistakeOptions = {},
): readonly Mistake[] {
  const pivot = model.pivots.find((candidate) => candidate.id === pivotId);
  if (!pivot)
    throw new RangeError(
      `mistakes: pivot: met "${pivotId}", allowed: ${model.pivots.map((candidate) => candidate.id).join(', ')}`,
    );
  const singles = [
    ...pivot.stacks.flatMap((stack) => leftOut(model, pivot, stack)),
    ...pivot.stacks.flatMap((stack) => turned(model, pivot, stack)),
    ...swapped(model, pivot),
    ...pivot.stacks.flatMap((stack) => otherParts(model, pivot, stack)),
    ...pivot.stacks.map((stack) => wrongSide(pivot, stack)),
    ...pivot.stacks.flatMap((stack) => torques(pivot, stack)),
    ...pivot.stacks.flatMap((stack) => leftLoose(pivot, stack)),
    ...pivot.stacks.flatMap((stack) => notHome(model, pivot, stack)),
  ];
  return two ? [...singles, ...pairs(singles)] : singles;
}

/** A spacer, or the second bearing of a seat: the first leaves its seat empty, which no one overlooks. */
function leftOut(model: LinkageModel, pivot: Pivot, stack: Stack): Mistake[] {
  const seats = seatsOf(model, stack);
  const seconds = entries(model, stack, (part) => stands(part, 'seat')).filter(
    ({ entry }) => seats.get(stack.row.indexOf(entry))?.on !== undefined,
  );
  return [...spacers(model, stack), ...seconds].map(({ entry, slot }) => ({
    id: `left-out:${slot.stack}/${slot.row}`,
    kind: 'left-out',
    pivot: pivot.id,
    slots: [slot],
    changes: [entryChange(stack, entry)],
  }));
}

function turned(model: LinkageModel, pivot: Pivot, stack: Stack): Mistake[] {
  const rows = spacers(model, stack).flatMap(({ entry, slot, part }): Mistake[] => {
    if (!partProfile(part).hasTwoWays) return [];
    const after = facing(entry, entry.part!, entry.turned !== true);
    return [
      {
        id: `turned:${slot.stack}/${slot.row}`,
        kind: 'turned',
        pivot: pivot.id,
        slots: [{ ...slot, now: { part: entry.part!, turned: after.turned === true } }],
        changes: [entryChange(stack, entry, after)],
      },
    ];
  });
  const nut = turnedNut(model, stack.receiver);
  if (!nut) return rows;
  return [
    ...rows,
    {
      id: `turned:${stack.id}/receiver`,
      kind: 'turned',
      pivot: pivot.id,
      slots: [{ stack: stack.id, row: 'receiver', part: stack.receiver, now: { part: stack.receiver, turned: true } }],
      changes: [
        { what: 'part', part: nut.id, after: nut.part },
        { what: 'receiver', stack: stack.id, before: stack.receiver, after: nut.id },
      ],
    },
  ];
}

/**
 * A nut with a land put on back to front bears with its flat side; the file has no word for that, so that the mistake
 * adds a nut without a land. Its contact is the turned nut's exactly; the land that now looks outward is left off.
 */
export function turnedNut(model: LinkageModel, receiver: string): { id: string; part: Part } | undefined {
  const part = Object.hasOwn(model.parts, receiver) ? model.parts[receiver] : undefined;
  if (part?.kind !== 'nut' || part.land_mm === undefined || part.closed === true) return undefined;
  if (part.thread.length_mm < part.length_mm - LOOK_ALIKE_LIMITS.sameSize_mm.value) return undefined;
  const { land_mm: _land, land_height_mm: _height, ...flat } = part;
  return { id: freeName(model, `${receiver}-turned`), part: flat };
}

function freeName(model: LinkageModel, name: string): string {
  return Object.hasOwn(model.parts, name) ? freeName(model, `${name}-1`) : name;
}

interface Held {
  readonly pivot: Pivot;
  readonly stack: Stack;
  readonly entry: RowEntry;
  readonly slot: Slot;
  readonly part: Part;
}

function swapped(model: LinkageModel, pivot: Pivot): Mistake[] {
  const here = held(model, pivot);
  const there = model.pivots.filter((other) => other.id !== pivot.id).flatMap((other) => held(model, other));
  return [
    ...here.flatMap((mine, k) => here.slice(k + 1).flatMap((other) => swap(mine, other))),
    ...here.flatMap((mine) => there.flatMap((other) => swap(mine, other))),
  ];
}

function held(model: LinkageModel, pivot: Pivot): Held[] {
  return pivot.stacks.flatMap((stack) =>
    entries(model, stack, (part) => stands(part, 'loose', 'seat', 'groove', 'bore', 'tip')).map((one) => ({
      pivot,
      stack,
      ...one,
    })),
  );
}

function swap(mine: Held, other: Held): Mistake[] {
  if (!isLookAlike(mine.part, other.part)) return [];
  const isAcross = mine.pivot.id !== other.pivot.id;
  const here = waysInto(mine, other.part);
  const there = waysInto(other, mine.part);
  const into = (slot: Held, from: Held, way: boolean): Change =>
    entryChange(slot.stack, slot.entry, facing(slot.entry, from.entry.part!, way));
  const one = (way: boolean, otherWay: boolean, suffix: string): Mistake => ({
    id: `swapped:${mine.slot.stack}/${mine.slot.row}:${other.slot.stack}/${other.slot.row}${suffix}`,
    kind: 'swapped',
    pivot: mine.pivot.id,
    ...(isAcross ? { also: other.pivot.id } : {}),
    slots: [
      { ...mine.slot, now: { part: other.entry.part!, turned: way } },
      { ...other.slot, now: { part: mine.entry.part!, turned: otherWay } },
    ],
    changes: [into(mine, other, way), into(other, mine, otherWay)],
    ...(isAcross && there.length > 1 ? { otherWay: [into(mine, other, way), into(other, mine, true)] } : {}),
  });
  // Which way round it lies at the other pivot makes no difference here; that pivot's own table has both.
  if (isAcross) return here.map((way) => one(way, there[0]!, here.length > 1 ? `:${wayWord(way)}` : ''));
  const isOne = here.length * there.length === 1;
  return here.flatMap((way) =>
    there.map((otherWay) => one(way, otherWay, isOne ? '' : `:${wayWord(here.length > 1 ? way : otherWay)}`)),
  );
}

function wayWord(isTurned: boolean): string {
  return isTurned ? 'turned' : 'as-drawn';
}

/**
 * Which ways round a part goes into a slot: as the spacer before it faced, or either way where that one had no facing.
 */
function waysInto(slot: Held, part: Part): readonly boolean[] {
  if (part.kind === 'bearing' || !partProfile(part).hasTwoWays) return [false];
  return partProfile(slot.part).hasTwoWays ? [slot.entry.turned === true] : [false, true];
}

function otherParts(model: LinkageModel, pivot: Pivot, stack: Stack): Mistake[] {
  return (['axle', 'receiver'] as const).flatMap((role) => {
    const mine = Object.hasOwn(model.parts, stack[role]) ? model.parts[stack[role]] : undefined;
    if (!mine) return [];
    return everyPart(model)
      .filter(([id, other]) => id !== stack[role] && startsInstead(mine, other))
      .map(([id, other]): Mistake => {
        const isKnown = Object.hasOwn(model.parts, id);
        return {
          id: `other-part:${stack.id}/${role}:${id}`,
          kind: 'other-part',
          pivot: pivot.id,
          slots: [{ stack: stack.id, row: role, part: stack[role], now: { part: id, turned: false } }],
          changes: [
            ...(isKnown ? [] : [{ what: 'part', part: id, after: other } as const]),
            { what: role, stack: stack.id, before: stack[role], after: id },
          ],
        };
      });
  });
}

function wrongSide(pivot: Pivot, stack: Stack): Mistake {
  return {
    id: `wrong-side:${stack.id}`,
    kind: 'wrong-side',
    pivot: pivot.id,
    slots: [{ stack: stack.id, row: 'axle', part: stack.axle }],
    changes: [{ what: 'from', stack: stack.id, before: stack.from, after: otherSide(stack.from) }],
  };
}

function torques(pivot: Pivot, stack: Stack): Mistake[] {
  const one = (kind: 'under-tightened' | 'over-tightened', factor: number): Mistake => ({
    id: `${kind}:${stack.id}`,
    kind,
    pivot: pivot.id,
    slots: [{ stack: stack.id, row: 'axle', part: stack.axle }],
    changes: [{ what: 'torque', stack: stack.id, before: stack.torque_Nm, after: stack.torque_Nm * factor }],
  });
  return [
    one('under-tightened', MISTAKE_LIMITS.halfTorque.value),
    one('over-tightened', MISTAKE_LIMITS.doubleTorque.value),
  ];
}

/** What is tightened beside the axle, put on and forgotten. */
function leftLoose(pivot: Pivot, stack: Stack): Mistake[] {
  return stack.row.flatMap((entry): Mistake[] => {
    const { torque_Nm, drive: _drive, ...loose } = entry;
    if (torque_Nm === undefined) return [];
    return [
      {
        id: `under-tightened:${stack.id}/${entry.id}`,
        kind: 'under-tightened',
        pivot: pivot.id,
        slots: [{ stack: stack.id, row: entry.id, ...(entry.part === undefined ? {} : { part: entry.part }) }],
        changes: [entryChange(stack, entry, loose)],
      },
    ];
  });
}

function notHome(model: LinkageModel, pivot: Pivot, stack: Stack): Mistake[] {
  return entries(model, stack, (part) => part.kind === 'bearing').map(({ entry, slot }) => ({
    id: `not-home:${slot.stack}/${slot.row}`,
    kind: 'not-home',
    pivot: pivot.id,
    slots: [slot],
    changes: [entryChange(stack, entry, { ...entry, proud_mm: (entry.proud_mm ?? 0) + MISTAKE_LIMITS.proud_mm.value })],
  }));
}

/** Two at once: what touches one pivot only, in two different slots. */
function pairs(singles: readonly Mistake[]): Mistake[] {
  const own = singles.filter((mistake) => mistake.also === undefined);
  return own.flatMap((first, k) =>
    own.slice(k + 1).flatMap((second): Mistake[] => {
      const taken = new Set(first.changes.flatMap(slotKey));
      if (second.changes.flatMap(slotKey).some((key) => taken.has(key))) return [];
      return [
        {
          id: `two:${first.id}+${second.id}`,
          kind: 'two',
          pivot: first.pivot,
          slots: [...first.slots, ...second.slots],
          changes: [...first.changes, ...second.changes],
          of: [first, second],
        },
      ];
    }),
  );
}

/** The slot a change writes to; a part added to the list takes none. */
function slotKey(change: Change): string[] {
  if (change.what === 'part') return [];
  return [change.what === 'entry' ? `${change.stack}/${change.row}` : `${change.stack} ${change.what}`];
}

function spacers(model: LinkageModel, stack: Stack): { entry: RowEntry; slot: Slot; part: Part }[] {
  return entries(model, stack, (part) => stands(part, 'loose', 'groove', 'bore', 'tip'));
}

function entries(
  model: LinkageModel,
  stack: Stack,
  wanted: (part: Part) => boolean,
): { entry: RowEntry; slot: Slot; part: Part }[] {
  return stack.row.flatMap((entry) => {
    const part = entry.part === undefined ? undefined : model.parts[entry.part];
    return part && wanted(part) ? [{ entry, part, slot: { stack: stack.id, row: entry.id, part: entry.part! } }] : [];
  });
}

/** The entry with another part, or the same one another way; what else it says stays. */
export function facing(entry: RowEntry, part: string, isTurned: boolean): RowEntry {
  const { turned: _turned, ...rest } = entry;
  return { ...rest, part, ...(isTurned ? { turned: true } : {}) };
}

/** A row's entry changed, or taken out where nothing comes after it. */
export function entryChange(stack: Stack, before: RowEntry, after?: RowEntry): Change {
  return { what: 'entry', stack: stack.id, row: before.id, before, ...(after ? { after } : {}) };
}

/** The model with the changes made, first to last. */
export function applyChanges(model: LinkageModel, changes: readonly Change[]): LinkageModel {
  return changes.reduce((current, change) => make(current, change), model);
}

function make(model: LinkageModel, change: Change): LinkageModel {
  switch (change.what) {
    case 'part':
      return { ...model, parts: { ...model.parts, [change.part]: change.after } };
    case 'entry': {
      const { row, after } = change;
      return inStack(model, change.stack, (stack) => ({
        ...stack,
        row: after
          ? stack.row.map((entry) => (entry.id === row ? after : entry))
          : stack.row.filter((entry) => entry.id !== row),
      }));
    }
    case 'row':
      return inStack(model, change.stack, (stack) => ({ ...stack, row: change.after }));
    default:
      return inStack(model, change.stack, (stack) => ({ ...stack, ...slotOf(change.what, change.after) }));
  }
}

function slotOf(what: 'axle' | 'receiver' | 'from' | 'torque', value: string | number): Partial<Stack> {
  return { [what === 'torque' ? 'torque_Nm' : what]: value };
}

function inStack(model: LinkageModel, stackId: string, change: (stack: Stack) => Stack): LinkageModel {
  return {
    ...model,
    pivots: model.pivots.map((pivot) =>
      pivot.stacks.some((stack) => stack.id === stackId)
        ? { ...pivot, stacks: pivot.stacks.map((stack) => (stack.id === stackId ? change(stack) : stack)) }
        : pivot,
    ),
  };
}
