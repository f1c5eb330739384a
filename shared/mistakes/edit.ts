/**
 * Edits of a row, as data: a part turned round, left out, put back, swapped with another, moved to another place.
 *
 * A row runs from the non-drive to the drive side; parts that were left out lie beside it. `editRow` is the row alone,
 * for whoever has one (a model, a draft being measured, a set to practise with); `editModel` lays the same edits into a
 * model, and `mistakeOf` says which mistakes the difference comes to, so that a row somebody has worked is told and
 * solved as the mistake table tells and solves its rows. A change that is one of `listMistakes` comes out as that one.
 * A part may go into another row of its pivot as well.
 * What an edit may do: only parts that lie loose are left out, moved or swapped, and bearings swapped; a part turns
 * round where its two ways differ. Whether there is room where it lands the solve says. Pure.
 */
import type { LinkageModel, Part, RowEntry, Stack } from '../model/schema.ts';
import { partProfile, stands } from '../parts/kinds.ts';
import {
  applyChanges,
  entryChange,
  facing,
  listMistakes,
  turnedNut,
  type Change,
  type Mistake,
  type Slot,
} from './list.ts';

/** One thing a hand does to a row; parts are named by their row ids. */
export type RowEdit =
  | { readonly do: 'turn' | 'leave-out' | 'put-back'; readonly item: string }
  | { readonly do: 'swap'; readonly item: string; readonly with: string }
  /** `to` counts the places of the row without the part, from the non-drive side; what lies beside it is laid in. */
  | { readonly do: 'move'; readonly item: string; readonly to: number };

/** A row and what was taken out of it. */
export interface WorkedRow {
  readonly row: readonly RowEntry[];
  readonly out: readonly { readonly entry: RowEntry; readonly at: number }[];
}

/** What a hand may do with a part of a row. */
export interface MayEdit {
  readonly turn: boolean;
  readonly leaveOut: boolean;
  /** Row ids of the parts that it can change places with. */
  readonly swap: readonly string[];
  /** Places it can be moved to, counted as in a move; its own is not among them. */
  readonly places: readonly number[];
}

/** An edit of one of a model's rows; the item `receiver` is the stack's nut, which can only be turned. */
export interface StackEdit {
  readonly stack: string;
  readonly edit: RowEdit;
  /**
   * Another row of the same pivot that a move or a swap leads into: the place, or the other part, is there. A part that
   * is moved there may be called otherwise.
   */
  readonly into?: string;
}

const NOTHING: MayEdit = { turn: false, leaveOut: false, swap: [], places: [] };

/** The parts list that a row's parts are named from. */
type Parts = Readonly<Record<string, Part>>;

/** What may be done with the part `item` of a row, or with one that lies beside it: that can be laid in anywhere. */
export function mayEdit({ row, out }: WorkedRow, item: string, parts: Parts): MayEdit {
  if (out.some(({ entry }) => entry.id === item)) return { ...NOTHING, places: [...row.keys(), row.length] };
  const at = row.findIndex(({ id }) => id === item);
  const part = partOf(row[at], parts);
  if (!part) return NOTHING;
  const isLoose = stands(part, 'loose');
  const isByHand = stands(part, 'loose', 'groove', 'bore', 'tip');
  return {
    turn: isByHand && partProfile(part).hasTwoWays,
    leaveOut: isByHand,
    swap: row.filter((other) => other.id !== item && canSwap(part, partOf(other, parts))).map(({ id }) => id),
    places: isLoose ? [...row.keys()].filter((to) => to !== at) : [],
  };
}

/** What may be done with a part of one row in another row: laid in, or changed with what stands there. */
export function mayGo(
  row: readonly RowEntry[],
  item: string,
  into: readonly RowEntry[],
  parts: Parts,
): Pick<MayEdit, 'swap' | 'places'> {
  const part = partOf(
    row.find(({ id }) => id === item),
    parts,
  );
  if (!part) return NOTHING;
  return {
    swap: into.filter((other) => canSwap(part, partOf(other, parts))).map(({ id }) => id),
    places: stands(part, 'loose') ? [...into.keys(), into.length] : [],
  };
}

/** A spacer changes places with a spacer, a bearing with a bearing, a circlip with a circlip. */
function canSwap(mine: Part, other: Part | undefined): boolean {
  if (!other) return false;
  return (['loose', 'seat', 'groove', 'bore', 'tip'] as const).some(
    (place) => stands(mine, place) && stands(other, place),
  );
}

function partOf(entry: RowEntry | undefined, parts: Parts): Part | undefined {
  return entry?.part === undefined ? undefined : parts[entry.part];
}

/** The row after an edit, or none where the edit cannot be done. */
export function editRow(worked: WorkedRow, edit: RowEdit, parts: Parts): WorkedRow | undefined {
  const { row, out } = worked;
  if (edit.do === 'put-back') {
    const back = out.find(({ entry }) => entry.id === edit.item);
    if (!back) return undefined;
    const at = Math.min(back.at, row.length);
    return { row: [...row.slice(0, at), back.entry, ...row.slice(at)], out: out.filter((one) => one !== back) };
  }
  const may = mayEdit(worked, edit.item, parts);
  const beside = out.find(({ entry }) => entry.id === edit.item);
  if (beside && edit.do === 'move' && may.places.includes(edit.to))
    return {
      row: [...row.slice(0, edit.to), beside.entry, ...row.slice(edit.to)],
      out: out.filter((one) => one !== beside),
    };
  const at = row.findIndex(({ id }) => id === edit.item);
  const entry = row[at]!;
  switch (edit.do) {
    case 'turn':
      return may.turn ? { row: row.with(at, facing(entry, entry.part!, entry.turned !== true)), out } : undefined;
    case 'leave-out':
      return may.leaveOut ? { row: row.filter((one) => one !== entry), out: [...out, { entry, at }] } : undefined;
    case 'swap': {
      if (!may.swap.includes(edit.with)) return undefined;
      const to = row.findIndex(({ id }) => id === edit.with);
      const [mine, other] = exchanged(entry, row[to]!, parts);
      return { row: row.with(at, mine).with(to, other), out };
    }
    case 'move': {
      if (!may.places.includes(edit.to)) return undefined;
      const rest = row.filter((one) => one !== entry);
      return { row: [...rest.slice(0, edit.to), entry, ...rest.slice(edit.to)], out };
    }
  }
}

/** Two parts with two ways each face as the slot's own one did; a part with two ways takes its own facing along. */
function exchanged(mine: RowEntry, other: RowEntry, parts: Parts): readonly [RowEntry, RowEntry] {
  const hasWays = (entry: RowEntry): boolean => partProfile(partOf(entry, parts)!).hasTwoWays;
  const keeps = hasWays(mine) === hasWays(other);
  return [
    facing(mine, other.part!, (keeps ? mine : other).turned === true),
    facing(other, mine.part!, (keeps ? other : mine).turned === true),
  ];
}

/** A model with edits laid into it, by stack the rows they leave, and the scene id of what was worked last. */
interface EditedModel {
  readonly model: LinkageModel;
  readonly rows: ReadonlyMap<string, WorkedRow>;
  readonly last?: string;
}

/** The model after edits, first to last; an edit that cannot be done leaves all of them undone. */
export function editModel(model: LinkageModel, edits: readonly StackEdit[]): EditedModel | undefined {
  let now: EditedModel = { model, rows: new Map() };
  for (const one of edits) {
    const { stack: id, edit } = one;
    const stack = stackOf(now.model, id);
    if (!stack) return undefined;
    if (one.into !== undefined) {
      const gone = across(model, now, one);
      if (!gone) return undefined;
      now = gone;
      continue;
    }
    if (edit.item === 'receiver') {
      const change = edit.do === 'turn' ? turnNut(model, now.model, stack) : undefined;
      if (!change) return undefined;
      now = { ...now, model: applyChanges(now.model, change), last: `${id}/receiver` };
      continue;
    }
    const worked = editRow(now.rows.get(id) ?? { row: stack.row, out: [] }, edit, now.model.parts);
    if (!worked) return undefined;
    const order: Change = { what: 'row', stack: id, before: stack.row, after: [...worked.row] };
    now = {
      model: applyChanges(now.model, [order]),
      rows: new Map(now.rows).set(id, worked),
      last: `${id}/${edit.item}`,
    };
  }
  return now;
}

/** After an edit that leads from one row of a pivot into another; nothing where it cannot be done. */
function across(
  written: LinkageModel,
  now: EditedModel,
  { stack, edit, into = '' }: StackEdit,
): EditedModel | undefined {
  const pivot = now.model.pivots.find(({ stacks }) => stacks.some(({ id }) => id === stack));
  const [from, to] = [stack, into].map((wanted) => pivot?.stacks.find(({ id }) => id === wanted));
  if (!from || !to || from === to) return undefined;
  const { parts } = now.model;
  const entry = from.row.find(({ id }) => id === edit.item);
  const may = mayGo(from.row, edit.item, to.row, parts);
  const [mine, other] = [from, to].map(({ id, row }) => now.rows.get(id) ?? { row, out: [] }) as [WorkedRow, WorkedRow];
  const laid = (row: readonly RowEntry[], there: readonly RowEntry[], last: string): EditedModel => ({
    model: applyChanges(now.model, [
      { what: 'row', stack: from.id, before: from.row, after: [...row] },
      { what: 'row', stack: to.id, before: to.row, after: [...there] },
    ]),
    rows: new Map(now.rows).set(from.id, { ...mine, row }).set(to.id, { ...other, row: there }),
    last: `${to.id}/${last}`,
  });
  if (entry && edit.do === 'swap' && may.swap.includes(edit.with)) {
    const at = to.row.findIndex(({ id }) => id === edit.with);
    const [here, there] = exchanged(entry, to.row[at]!, parts);
    return laid(from.row.with(from.row.indexOf(entry), here), to.row.with(at, there), edit.with);
  }
  if (entry && edit.do === 'move' && may.places.includes(edit.to)) {
    const id = homeId(written, to.id, other, entry);
    return laid(
      from.row.filter((one) => one !== entry),
      [...to.row.slice(0, edit.to), { ...entry, id }, ...to.row.slice(edit.to)],
      id,
    );
  }
  return undefined;
}

/** What a part is called in a row it comes into: as one like it that is missing there, else by a name that is free. */
function homeId(written: LinkageModel, stack: string, { row, out }: WorkedRow, { id, part }: RowEntry): string {
  const taken = new Set([...row, ...out.map(({ entry }) => entry)].map((one) => one.id));
  const home = stackOf(written, stack)!.row.find((one) => one.part === part && !taken.has(one.id));
  if (home) return home.id;
  let [name, k] = [id, 2];
  while (taken.has(name)) name = `${id}-${k++}`;
  return name;
}

/** Whether the nut of a stack of the model as written can be put on the other way round. */
export function canTurnNut(written: LinkageModel, stackId: string): boolean {
  const stack = stackOf(written, stackId);
  return stack !== undefined && turnedNut(written, stack.receiver) !== undefined;
}

function turnNut(written: LinkageModel, model: LinkageModel, stack: Stack): Change[] | undefined {
  const right = stackOf(written, stack.id)!.receiver;
  if (stack.receiver !== right) return [{ what: 'receiver', stack: stack.id, before: stack.receiver, after: right }];
  const nut = turnedNut(model, right);
  return (
    nut && [
      { what: 'part', part: nut.id, after: nut.part },
      { what: 'receiver', stack: stack.id, before: right, after: nut.id },
    ]
  );
}

function stackOf(model: LinkageModel, id: string): Stack | undefined {
  return model.pivots.flatMap(({ stacks }) => stacks).find((stack) => stack.id === id);
}

/**
 * The mistake that a model comes to at a pivot whose rows a hand has worked, or none where nothing differs; `base` is
 * the mistake the hand began with, and `written` the model as written.
 */
export function mistakeOf(
  written: LinkageModel,
  pivotId: string,
  edited: LinkageModel,
  base?: Mistake,
): Mistake | undefined {
  const began = base ? applyChanges(written, base.changes) : written;
  const listed = listMistakes(written, pivotId);
  const stacks = began.pivots.find(({ id }) => id === pivotId)?.stacks ?? [];
  const rows = stacks.map((stack) => ({ stack, now: stackOf(edited, stack.id)! }));
  const goings = goingsOf(pivotId, rows);
  const isGone = ({ kind, slots: [slot] }: Mistake): boolean =>
    kind === 'left-out' && goings.some(({ slots: [gone] }) => gone!.stack === slot!.stack && gone!.row === slot!.row);
  const singles = exchangedAcross(rows.flatMap(({ stack, now }) => differences(began, pivotId, stack, now)))
    .filter((own) => !isGone(own))
    .concat(goings)
    .map((own) => listed.find(({ changes }) => JSON.stringify(changes) === JSON.stringify(own.changes)) ?? own);
  const [first, ...more] = base ? [base, ...singles] : singles;
  if (!first || more.length === 0) return first;
  const of = [first, ...more];
  return {
    ...(base?.also === undefined ? {} : { also: base.also }),
    ...(base?.otherWay === undefined ? {} : { otherWay: base.otherWay }),
    id: `several:${of.map(({ id }) => id).join('+')}`,
    kind: 'several',
    pivot: pivotId,
    slots: of.flatMap(({ slots }) => slots),
    changes: of.flatMap(({ changes }) => changes),
    of,
  };
}

interface RowPair {
  readonly stack: Stack;
  readonly now: Stack;
}

/** What has gone out of one row into another: both rows change. */
function goingsOf(pivot: string, rows: readonly RowPair[]): Mistake[] {
  const gone = rows.flatMap(({ stack, now }) =>
    stack.row.filter(({ id }) => !now.row.some((one) => one.id === id)).map((entry) => ({ stack, now, entry })),
  );
  return rows.flatMap((to) =>
    to.now.row
      .filter(({ id }) => !to.stack.row.some((one) => one.id === id))
      .flatMap((come): Mistake[] => {
        const at = gone.findIndex(({ stack, entry }) => stack !== to.stack && entry.part === come.part);
        const [from] = at < 0 ? [] : gone.splice(at, 1);
        if (!from) return [];
        const part = come.part === undefined ? {} : { part: come.part };
        const order = ({ stack, now }: RowPair): Change => ({
          what: 'row',
          stack: stack.id,
          before: stack.row,
          after: [...now.row],
        });
        return [
          {
            id: `moved:${from.stack.id}/${from.entry.id}:${to.stack.id}/${come.id}`,
            kind: 'moved',
            pivot,
            slots: [
              { stack: from.stack.id, row: from.entry.id, ...part },
              { stack: to.stack.id, row: come.id, ...part },
            ],
            changes: [order(from), order(to)],
          },
        ];
      }),
  );
}

/** Two other parts that are each the other's own, in two rows, are one swap. */
function exchangedAcross(singles: readonly Mistake[]): Mistake[] {
  const rest = [...singles];
  return singles.flatMap((one): Mistake[] => {
    if (!rest.includes(one)) return [];
    rest.splice(rest.indexOf(one), 1);
    const [mine] = one.slots;
    const other = rest.find(
      ({ kind, slots: [slot] }) =>
        one.kind === 'other-part' &&
        kind === 'other-part' &&
        slot!.stack !== mine!.stack &&
        slot!.part === mine!.now?.part &&
        slot!.now?.part === mine!.part,
    );
    if (!other) return [one];
    rest.splice(rest.indexOf(other), 1);
    const slots = [...one.slots, ...other.slots];
    return [
      {
        id: `swapped:${slots.map(({ stack, row }) => `${stack}/${row}`).join(':')}`,
        kind: 'swapped',
        pivot: one.pivot,
        slots,
        changes: [...one.changes, ...other.changes],
      },
    ];
  });
}

/** What differs between a stack and the same one worked: left out, swapped, another part, turned, moved. */
function differences(model: LinkageModel, pivot: string, stack: Stack, edited: Stack): Mistake[] {
  const now = new Map(edited.row.map((entry) => [entry.id, entry] as const));
  const slotAt = ({ id, part }: RowEntry, after?: RowEntry): Slot => ({
    stack: stack.id,
    row: id,
    ...(part === undefined ? {} : { part }),
    ...(after?.part === undefined ? {} : { now: { part: after.part, turned: after.turned === true } }),
  });
  const one = (kind: Mistake['kind'], name: string, slots: readonly Slot[], changes: readonly Change[]): Mistake => ({
    id: `${kind}:${stack.id}/${name}`,
    kind,
    pivot,
    slots,
    changes,
  });
  const known = new Set(stack.row.map(({ id }) => id));
  const taken = new Set<string>();
  const found = stack.row.flatMap((entry): Mistake[] => {
    const after = now.get(entry.id);
    if (!after) return [one('left-out', entry.id, [slotAt(entry)], [entryChange(stack, entry)])];
    if (taken.has(entry.id) || isAlike(entry, after)) return [];
    const change = entryChange(stack, entry, after);
    if (entry.part === after.part) return [one('turned', entry.id, [slotAt(entry, after)], [change])];
    const other = stack.row.find(({ id, part }) => part === after.part && now.get(id)?.part === entry.part);
    if (!other) return [one('other-part', `${entry.id}:${after.part}`, [slotAt(entry, after)], [change])];
    taken.add(other.id);
    const otherAfter = now.get(other.id)!;
    return [
      one(
        'swapped',
        `${entry.id}:${stack.id}/${other.id}`,
        [slotAt(entry, after), slotAt(other, otherAfter)],
        [change, entryChange(stack, other, otherAfter)],
      ),
    ];
  });
  const stays = staying(stack, edited);
  const moved = edited.row.filter(({ id }) => known.has(id) && !stays.has(id));
  const order: Change = { what: 'row', stack: stack.id, before: stack.row, after: edited.row };
  if (edited.receiver !== stack.receiver) {
    const nut = listMistakes(model, pivot).find(({ id }) => id === `turned:${stack.id}/receiver`);
    if (nut) found.push(nut);
  }
  return [...found, ...moved.map((entry) => one('moved', entry.id, [slotAt(entry)], [order]))];
}

function isAlike(a: RowEntry, b: RowEntry): boolean {
  return a.part === b.part && (a.turned === true) === (b.turned === true);
}

/** A boss stays put: where the order may be told either way it is the loose part that has moved. */
const PUT = 100;

/** Row ids of the entries that kept their order: the run of them that weighs most. */
function staying(stack: Stack, edited: Stack): ReadonlySet<string> {
  const places = new Map(stack.row.map(({ id }, at) => [id, at] as const));
  const none = { weight: 0, ids: [] as readonly string[] };
  const runs: (typeof none & { readonly at: number })[] = [];
  for (const entry of edited.row) {
    const at = places.get(entry.id);
    // What has come out of another row has kept no place in this one.
    if (at === undefined) continue;
    const before = heaviest(runs.filter((run) => run.at < at)) ?? none;
    runs.push({ at, weight: before.weight + (entry.member === undefined ? 1 : PUT), ids: [...before.ids, entry.id] });
  }
  return new Set((heaviest(runs) ?? none).ids);
}

function heaviest<T extends { readonly weight: number }>(runs: readonly T[]): T | undefined {
  return runs.reduce<T | undefined>((best, run) => (best && best.weight >= run.weight ? best : run), undefined);
}
