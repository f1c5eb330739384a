/**
 * The row of a drill as the row editor has it: what is pressed in under its own name, what is laid in by its letter.
 */
import {
  kindOf,
  mayEdit,
  nameOf,
  partProfile,
  wordTold,
  type Analysis,
  type LayDrill,
  type MayEdit,
  type Part,
  type RowEntry,
  type Side,
  type WorkedRow,
} from '../../shared/index.ts';
import { drawItem } from '../drawings/item.ts';
import { radiusOf } from '../drawings/outline.ts';
import type { EditorPart } from '../editor/part.ts';

const NOTHING: MayEdit = { turn: false, leaveOut: false, swap: [], places: [] };
/** A part's field in its button, px. */
const FIELD_px = { width: 44, height: 28 } as const;

/** From the non-drive to the drive side, then what lies beside the row. */
export function layParts(written: Analysis, drill: LayDrill, worked: WorkedRow): readonly EditorPart[] {
  const { parts } = drill.model;
  const items = new Map(
    written.pivots
      .flatMap(({ stacks }) => stacks.flatMap((stack) => stack.items))
      .map((item) => [item.id, item] as const),
  );
  const loose = (entry: RowEntry, isOut: boolean): EditorPart => {
    const part = parts[entry.part!]!;
    return {
      id: entry.id,
      name: `${part.name}: ${wordTold(part)}`,
      toward: towardOf(part, entry.turned === true),
      may: mayEdit(worked, entry.id, parts),
      ...(isOut ? { isOut } : {}),
    };
  };
  return [
    ...worked.row.map((entry): EditorPart => {
      if (entry.id.startsWith('loose-')) return loose(entry, false);
      const item = items.get(`${drill.stackId}/${entry.id}`)!;
      const { from_mm, to_mm } = item;
      const scale = Math.min(FIELD_px.width / (to_mm - from_mm + 2), FIELD_px.height / (2 * radiusOf(item) + 2));
      return { id: entry.id, name: nameOf(item.id, written), drawing: drawItem(item, scale), may: NOTHING };
    }),
    ...worked.out.map(({ entry }) => loose(entry, true)),
  ];
}

/** Which way its small face looks as it lies. */
function towardOf(part: Part, isTurned: boolean): Side | 'same' {
  const face = partProfile(part).hasTwoWays ? kindOf(part).smallFace?.(part) : undefined;
  if (face === undefined) return 'same';
  return (face === 'first') === isTurned ? 'drive' : 'non-drive';
}
