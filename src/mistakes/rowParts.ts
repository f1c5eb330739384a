/**
 * The parts of a pivot's row as the row editor has them: what they are called, how they are drawn, what may be done.
 */
import {
  canTurnNut,
  mayEdit,
  nameOf,
  type Analysis,
  type MayEdit,
  type PlacedItem,
  type StackAnalysis,
  type StackEdit,
  type WorkedRow,
} from '../../shared/index.ts';
import { itemOf, shownOf, type AppState } from '../page/state.ts';
import { drawItem } from '../drawings/item.ts';
import { radiusOf } from '../drawings/outline.ts';
import type { EditorPart } from '../editor/part.ts';

/** The edit that turns a part of the picked pivot round, where its two ways differ. */
export function mayTurn(state: AppState, id: string): StackEdit | undefined {
  const written = state.opened?.analysis.model;
  const item = itemOf(state, id);
  if (!item || !written) return undefined;
  const { stackId: stack, rowId } = item;
  const can = rowId === 'receiver' ? canTurnNut(written, stack) : mayOf(state, item).turn;
  return can ? { stack, edit: { do: 'turn', item: rowId } } : undefined;
}

/** The edit that leaves a part of the picked pivot out, where it lies loose. */
export function mayLeaveOut(state: AppState, id: string): StackEdit | undefined {
  const item = itemOf(state, id);
  return item && mayOf(state, item).leaveOut
    ? { stack: item.stackId, edit: { do: 'leave-out', item: item.rowId } }
    : undefined;
}

function mayOf(state: AppState, { stackId, rowId }: PlacedItem): MayEdit {
  const model = shownOf(state)?.model;
  const stack = model?.pivots.flatMap(({ stacks }) => stacks).find(({ id }) => id === stackId);
  return model && stack ? mayEdit({ row: stack.row, out: [] }, rowId, model.parts) : NONE;
}

/** A part's field in its button, px. */
const FIELD_px = { width: 44, height: 28 } as const;
const NONE: MayEdit = { turn: false, leaveOut: false, swap: [], places: [] };

interface Row {
  /** As it is now, solved. */
  readonly stack: StackAnalysis;
  readonly analysis: Analysis;
  /** The same as an edited row, with what was left out. */
  readonly worked: WorkedRow;
  /** As it is written. */
  readonly written: Analysis;
  /** Scene ids that are not as written. */
  readonly changed: readonly string[];
}

/** The line of a stack: axle and nut at their ends, the row between, then what was left out. */
export function rowParts({ stack, analysis, worked, written, changed }: Row): readonly EditorPart[] {
  const { model } = analysis;
  const items = new Map(stack.items.map((item) => [item.rowId, item] as const));
  const troubled = new Set(
    analysis.pivots
      .find(({ id }) => id === stack.pivotId)
      ?.findings.filter(({ severity }) => severity === 'stop')
      .flatMap(({ parts }) => parts),
  );
  const asPart = (item: PlacedItem, may: MayEdit): EditorPart => ({
    id: item.rowId,
    name: nameOf(item.id, analysis),
    ...(item.role === 'spacer' ? { toward: item.smallFace ?? 'same' } : { drawing: draw(item) }),
    may,
    isChanged: changed.includes(item.id),
    isTroubled: troubled.has(item.id),
  });
  const end = (rowId: string): EditorPart[] => {
    const item = items.get(rowId);
    const canTurn = rowId === 'receiver' && canTurnNut(written.model, stack.id);
    return item ? [{ ...asPart(item, canTurn ? { ...NONE, turn: true } : NONE), isEnd: true }] : [];
  };
  const row = worked.row.flatMap(({ id }) => {
    const item = items.get(id);
    return item ? [asPart(item, mayEdit(worked, id, model.parts))] : [];
  });
  const headFirst = stack.from === 'non-drive';
  return [
    ...end(headFirst ? 'axle' : 'receiver'),
    ...row,
    ...end(headFirst ? 'receiver' : 'axle'),
    ...worked.out.flatMap(({ entry }) => leftOut(`${stack.id}/${entry.id}`, entry, written)),
  ];
}

/** A part of another row of the pivot, taken along to lie beside this one. */
export function takenAlong(id: string, analysis: Analysis, may: Pick<MayEdit, 'swap' | 'places'>): EditorPart[] {
  return besideRow(id, id, analysis, { ...NONE, ...may });
}

/** One that has come out of another row goes by the name it has there. */
function leftOut(id: string, { id: rowId, part }: WorkedRow['row'][number], written: Analysis): EditorPart[] {
  const like = written.pivots
    .flatMap(({ stacks }) => stacks.flatMap(({ items }) => items))
    .find((one) => one.part === part);
  return besideRow(itemIn(written, id) ? id : (like?.id ?? id), rowId, written, NONE);
}

function besideRow(id: string, as: string, analysis: Analysis, may: MayEdit): EditorPart[] {
  const item = itemIn(analysis, id);
  if (!item) return [];
  const face = item.role === 'spacer' ? { toward: item.smallFace ?? ('same' as const) } : { drawing: draw(item) };
  return [{ id: as, name: nameOf(id, analysis), ...face, may, isOut: true, isChanged: true }];
}

function itemIn({ pivots }: Analysis, id: string): PlacedItem | undefined {
  return pivots.flatMap(({ stacks }) => stacks.flatMap(({ items }) => items)).find((item) => item.id === id);
}

function draw(item: PlacedItem): ReturnType<typeof drawItem> {
  const { from_mm, to_mm } = item;
  return drawItem(item, Math.min(FIELD_px.width / (to_mm - from_mm + 2), FIELD_px.height / (2 * radiusOf(item) + 2)));
}
