/**
 * What a draft comes to on the screen: the completed model, its analysis where it can be judged, the row as the editor
 * has it, its sizes and their pictures. Pure.
 */
import {
  analyse,
  bossSolid,
  completed,
  editRow,
  kindOf,
  mayEdit,
  otherSide,
  questionsOf,
  sizesOf,
  stackIn,
  usesOf,
  withStack,
  wordGuesses,
  type Analysis,
  type Asked,
  type Draft,
  type DraftModel,
  type DraftQuestion,
  type DraftSize,
  type LinkageModel,
  type PlacedItem,
  type RowEdit,
  type RowEntry,
  type Stack,
} from '../../shared/index.ts';
import { drawItem } from '../drawings/item.ts';
import { radiusOf } from '../drawings/outline.ts';
import { drawBosses, drawPart, partExtent } from '../drawings/part.ts';
import type { Drawing } from '../drawings/shapes.ts';
import type { EditorPart } from '../editor/part.ts';

/** A draft, worked out. */
export interface Bench {
  readonly draft: Draft;
  readonly model: LinkageModel;
  /** None where sizes contradict one another so that nothing can be drawn. */
  readonly analysis: Analysis | undefined;
  readonly sizes: readonly DraftSize[];
  readonly questions: readonly DraftQuestion[];
}

/** Works a draft out; some 30 ms. */
export function benchOf(draft: Draft): Bench {
  const { model, faults } = completed(draft);
  return {
    draft,
    model,
    analysis: faults.length === 0 ? analyse(model) : undefined,
    sizes: sizesOf(draft),
    questions: questionsOf(draft),
  };
}

/** Names of sizes that are told on a pivot; more are counted. */
const MOST_TOLD = 6;
const LONGEST_NAME = 80;

/**
 * The model for the whole page: its name, which every page and print bears, says how many sizes are guesses, and each
 * pivot names its own.
 */
export function asModel({ model, sizes }: Bench): LinkageModel {
  const open = sizes.filter(({ band }) => band.isOpen);
  if (open.length === 0) return model;
  const mark = open.length === 1 ? ' (1 size guessed)' : ` (${open.length} sizes guessed)`;
  const pivots = model.pivots.map((pivot) => {
    const own = open.filter((size) =>
      size.owner.what === 'stack'
        ? size.owner.pivot === pivot.id
        : pivot.stacks.some((stack) => itemOf(stack, size) !== undefined),
    );
    if (own.length === 0) return pivot;
    const counts = Array.from({ length: MOST_TOLD + 1 }, (_, k) => MOST_TOLD - k);
    const told = counts.map((most) => wordGuesses(own, most)).find((text) => text.length <= LONGEST_NOTE);
    return told === undefined ? pivot : { ...pivot, notes: [told, ...(pivot.notes ?? [])].slice(0, MOST_NOTES) };
  });
  return { ...model, name: model.name.slice(0, LONGEST_NAME - mark.length) + mark, pivots };
}

const MOST_NOTES = 20;
const LONGEST_NOTE = 400;

/** The stack of a completed model. */
export function stackOf(model: LinkageModel, id: string | undefined): Stack | undefined {
  return model.pivots.flatMap(({ stacks }) => stacks).find((stack) => stack.id === id);
}

/** Where a size stands: its stack, and its item there unless it is one of the stack's own; undefined where it is gone. */
export function placeOf(
  { pivots }: LinkageModel,
  size: DraftSize,
): { readonly stackId: string; readonly item: string | undefined } | undefined {
  for (const stack of pivots.flatMap(({ stacks }) => stacks)) {
    const item = itemOf(stack, size);
    if (size.owner.what === 'stack' ? stack.id === size.owner.stack : item !== undefined)
      return { stackId: stack.id, item };
  }
  return undefined;
}

/** The items of a stack that the next measurement is about. */
export function itemsAsked({ sizes }: Bench, stack: Stack, asked: Asked | undefined): readonly string[] {
  const [next] = asked?.next ?? [];
  const paths = next?.path === undefined ? (next?.compare?.terms.map(({ size }) => size) ?? []) : [next.path];
  return sizes.flatMap((size) => (paths.includes(size.path) ? (itemOf(stack, size) ?? []) : []));
}

/** What stands at a place of a row: a part by its id, or a boss. */
export type Held =
  | { readonly part: string; readonly name: string; readonly times: number }
  | { readonly member: string; readonly bore: string; readonly name: string };

/** What an item of a stack is; undefined where it is gone. */
export function heldAt({ model }: Bench, stack: Stack, item: string): Held | undefined {
  const boss = (member: string, bore: string): Held | undefined => {
    const own = model.members[member];
    return own && { member, bore, name: `${own.name}, ${bore}` };
  };
  const partOf = (part: string): Held | undefined => {
    const own = model.parts[part];
    return own && { part, name: own.name, times: usesOf(model as unknown as DraftModel, part) };
  };
  if (item === 'axle') return partOf(stack.axle);
  if (item === 'receiver') {
    const [member, bore] = stack.receiver.split('/') as [string, string?];
    return bore === undefined ? partOf(stack.receiver) : boss(member, bore);
  }
  const entry = stack.row.find(({ id }) => id === item);
  if (entry?.part !== undefined) return partOf(entry.part);
  return entry?.member === undefined ? undefined : boss(entry.member, entry.bore!);
}

/** The row id by which a stack has what a size belongs to; undefined where it does not. */
export function itemOf(stack: Stack, { owner }: DraftSize): string | undefined {
  if (owner.what === 'stack') return undefined;
  if (owner.what === 'part') {
    if (stack.axle === owner.part) return 'axle';
    if (stack.receiver === owner.part) return 'receiver';
    return stack.row.find(({ part }) => part === owner.part)?.id;
  }
  if (stack.receiver === `${owner.member}/${owner.bore}`) return 'receiver';
  return stack.row.find(({ member, bore }) => member === owner.member && bore === owner.bore)?.id;
}

/** The sizes of what is held, those that a hand takes. */
export function sizesHeld({ sizes }: Bench, held: Held): readonly DraftSize[] {
  const head = 'part' in held ? `parts.${held.part}.` : `members.${held.member}.bores.${held.bore}.`;
  return sizes.filter(({ path }) => path.startsWith(head));
}

/** A part's field in its button, px. */
const FIELD_px = { width: 44, height: 28 } as const;

/** The row of a stack as the editor has it, axle and nut at its ends. */
export function rowOf(bench: Bench, stack: Stack): readonly EditorPart[] {
  const { model, analysis } = bench;
  const pivot = analysis?.pivots.find(({ stacks }) => stacks.some(({ id }) => id === stack.id));
  const items = new Map(
    pivot?.stacks
      .flatMap((own) => own.items.filter(({ stackId }) => stackId === stack.id))
      .map((one) => [one.rowId, one]),
  );
  const troubled = new Set(pivot?.findings.filter(({ severity }) => severity === 'stop').flatMap(({ parts }) => parts));
  const asPart = (id: string, more: Partial<EditorPart>): EditorPart => {
    const item = items.get(id);
    return {
      id,
      name: heldAt(bench, stack, id)?.name ?? id,
      ...(item ? { drawing: draw(item) } : {}),
      may: { turn: false, leaveOut: false, swap: [], places: [] },
      isTroubled: troubled.has(`${stack.id}/${id}`),
      ...more,
    };
  };
  const worked = { row: stack.row, out: [] };
  const row = stack.row.map((entry) => {
    const part = entry.part === undefined ? undefined : model.parts[entry.part];
    const small = part && kindOf(part).smallFace?.(part);
    const first = entry.turned === true ? ('drive' as const) : ('non-drive' as const);
    const toward = small && (small === 'first' ? first : otherSide(first));
    const isLoose = part !== undefined && part.kind !== 'bearing';
    return asPart(entry.id, {
      ...(isLoose ? { toward: toward ?? 'same' } : {}),
      may: mayEdit(worked, entry.id, model.parts),
    });
  });
  const end = (id: 'axle' | 'receiver'): EditorPart => asPart(id, { isEnd: true });
  const headFirst = stack.from === 'non-drive';
  return [end(headFirst ? 'axle' : 'receiver'), ...row, end(headFirst ? 'receiver' : 'axle')];
}

function draw(item: PlacedItem): Drawing {
  const { from_mm, to_mm } = item;
  return drawItem(item, Math.min(FIELD_px.width / (to_mm - from_mm + 2), FIELD_px.height / (2 * radiusOf(item) + 2)));
}

/** The draft's model after an edit of its row that keeps every part; undefined where it cannot be done. */
export function edited({ draft, model }: Bench, stack: Stack, edit: RowEdit): DraftModel | undefined {
  const worked = editRow({ row: stack.row, out: [] }, edit, model.parts);
  const own = stackIn(draft.model, stack.id);
  if (!worked || !own) return undefined;
  const entries = new Map(own.row.map((entry) => [entry.id, entry] as const));
  const row = worked.row.map(({ id, part, turned }: RowEntry) => {
    const { turned: _, ...entry } = entries.get(id)!;
    return { ...entry, ...(part === undefined ? {} : { part }), ...(turned === true ? { turned } : {}) };
  });
  return withStack(draft.model, stack.id, (before) => ({ ...before, row }));
}

/** How large a picture of a part or a boss may be, px. */
const PICTURE_px = { width: 300, height: 170 } as const;
/** Room that jaws take round a part, mm. */
const ROOM_mm = 9;

/** Where the calliper goes for a size; undefined where it is read off something. */
export function pictureOf(
  { model }: Bench,
  { owner, place, key, beside }: DraftSize,
  title?: string,
): Drawing | undefined {
  if (!place) return undefined;
  const scaled = (width_mm: number, height_mm: number): number =>
    Math.min(6, PICTURE_px.width / (width_mm + ROOM_mm), PICTURE_px.height / (height_mm + ROOM_mm));
  if (owner.what === 'part') {
    const part = model.parts[owner.part]!;
    const { from_mm, to_mm, radius_mm } = partExtent(part);
    const scale = scaled(to_mm - from_mm, 2 * radius_mm);
    return drawPart({ part, scale, callipers: place, ...(title === undefined ? {} : { title }) });
  }
  if (owner.what !== 'boss') return undefined;
  const member = model.members[owner.member]!;
  const names = key === 'gap_mm' && beside !== undefined ? [beside, owner.bore] : [owner.bore];
  const bosses = names.map((name) => bossSolid(member.bores[name]!, member.material).polygon);
  const z = bosses.flat().map((corner) => corner[1]);
  const radius_mm = Math.max(...bosses.flat().map(([r]) => r));
  return drawBosses(bosses, place, scaled(Math.max(...z) - Math.min(...z), 2 * radius_mm), title);
}
