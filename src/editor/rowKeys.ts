/**
 * What a key means in a row that is being worked, and where a step along it leads. Pure.
 */
import type { RowEdit } from '../../shared/index.ts';
import type { EditorPart } from './part.ts';

/** The rows of the keys dialog that hold in the row, in the order shown. */
export const ROW_KEY_LIST: readonly { readonly keys: readonly string[]; readonly what: string }[] = [
  { keys: ['←', '→'], what: 'Pick the part before, the part after' },
  { keys: ['R'], what: 'Turn the picked part round' },
  { keys: ['Del'], what: 'Leave it out, or put it back' },
  { keys: ['S'], what: 'Swap it: arrows to the other part, then Enter' },
  { keys: ['Shift ←', 'Shift →'], what: 'Move it one place' },
  { keys: ['O'], what: 'Take it along to the pivot’s other axle' },
  { keys: ['Z', 'Shift Z'], what: 'Undo, redo; with Ctrl from anywhere' },
];

/** A key as it was pressed. */
export interface RowPress {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
}

const ALONG: Readonly<Record<string, 1 | -1>> = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };

/** The part that an arrow, Home or End leads to from `stop`; only among `ids` where they are given. */
export function stepAlong(
  { key, shiftKey, ctrlKey, metaKey, altKey }: RowPress,
  parts: readonly EditorPart[],
  stop: string | undefined,
  ids?: readonly string[],
): string | undefined {
  if (shiftKey || ctrlKey || metaKey || altKey) return undefined;
  const line = ids ? parts.filter(({ id }) => ids.includes(id)) : parts;
  const at = line.findIndex(({ id }) => id === stop);
  if (key === 'Home') return line[0]?.id;
  if (key === 'End') return line.at(-1)?.id;
  const by = ALONG[key];
  return by === undefined ? undefined : (line[Math.min(Math.max(at + by, 0), line.length - 1)]?.id ?? stop);
}

/** The move of a part by one place, if it can be made. */
export function movedBy({ id, may }: EditorPart, row: readonly EditorPart[], by: 1 | -1): RowEdit | undefined {
  const at = row.filter(({ isEnd }) => isEnd !== true).findIndex((one) => one.id === id);
  return may.places.includes(at + by) ? { do: 'move', item: id, to: at + by } : undefined;
}

/** What a key does to the picked part, or to the edits. */
export function editOfKey(
  press: RowPress,
  part: EditorPart | undefined,
  row: readonly EditorPart[],
): RowEdit | 'undo' | 'redo' | 'swap' | 'take-along' | 'let-go' | undefined {
  const { key, shiftKey, altKey } = press;
  if (altKey) return undefined;
  const letter = key.toLowerCase();
  if (letter === 'z') return shiftKey ? 'redo' : 'undo';
  if (press.ctrlKey || press.metaKey) return letter === 'y' ? 'redo' : undefined;
  if (!part) return undefined;
  if (key === 'Escape') return 'let-go';
  if (letter === 's' && !shiftKey) return part.may.swap.length > 0 ? 'swap' : undefined;
  if (part.isOut === true)
    return key === 'Delete' || key === 'Backspace' || key === 'Insert' ? { do: 'put-back', item: part.id } : undefined;
  if (letter === 'r') return part.may.turn ? { do: 'turn', item: part.id } : undefined;
  if (key === 'Delete' || key === 'Backspace')
    return part.may.leaveOut ? { do: 'leave-out', item: part.id } : undefined;
  if (letter === 'o') return (part.goes?.length ?? 0) > 0 ? 'take-along' : undefined;
  const by = shiftKey ? ALONG[key] : undefined;
  return by === undefined ? undefined : movedBy(part, row, by);
}
