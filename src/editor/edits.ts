/**
 * The edits of a row as the page keeps them: done, taken back, and as they stand in an address.
 *
 * `turn:stack/row,out:stack/row,back:stack/row,swap:stack/row/row,move:stack/row/place`, in the order they were done; what
 * leads into another row of the pivot has its stack before the place or the other row: `swap:stack/row/stack/row`.
 * Pure; what an address cannot mean is left aside.
 */
import type { RowEdit, StackEdit } from '../../shared/index.ts';

/** Edits done, the last one last, and those taken back, the one to be done again first last. */
export interface Edits {
  readonly done: readonly StackEdit[];
  readonly undone: readonly StackEdit[];
}

/** No edits. */
export const NO_EDITS: Edits = { done: [], undone: [] };

/** Edits that an address holds at the most. */
const MOST_EDITS = 40;
const NAMES = { turn: 'turn', out: 'leave-out', back: 'put-back', swap: 'swap', move: 'move' } as const;
const ID = /^[a-z0-9]+(-[a-z0-9]+)*$/;

/** After one more edit: what was taken back before it is gone. */
export function withEdit({ done }: Edits, edit: StackEdit): Edits {
  return { done: [...done, edit], undone: [] };
}

/** The last edit taken back; the same where there is none. */
export function undo(edits: Edits): Edits {
  const last = edits.done.at(-1);
  return last ? { done: edits.done.slice(0, -1), undone: [...edits.undone, last] } : edits;
}

/** The edit last taken back done again; the same where there is none. */
export function redo(edits: Edits): Edits {
  const next = edits.undone.at(-1);
  return next ? { done: [...edits.done, next], undone: edits.undone.slice(0, -1) } : edits;
}

/** Every edit taken back, so that they can be done again. */
export function undoAll({ done, undone }: Edits): Edits {
  return { done: [], undone: [...undone, ...done.toReversed()] };
}

/** Edits as an address has them. */
export function writeEdits(edits: readonly StackEdit[]): string {
  return edits
    .map(({ stack, edit, into }) => {
      const name = Object.entries(NAMES).find(([, known]) => known === edit.do)![0];
      const more = edit.do === 'swap' ? `/${edit.with}` : edit.do === 'move' ? `/${edit.to}` : '';
      return `${name}:${stack}/${edit.item}${into === undefined ? '' : `/${into}`}${more}`;
    })
    .join(',');
}

/** The edits of an address; none where one of them cannot be meant. */
export function readEdits(text: string | null): readonly StackEdit[] | undefined {
  if (text === null || text === '') return undefined;
  const words = text.split(',');
  if (words.length > MOST_EDITS) return undefined;
  const found = words.map(readEdit);
  return found.every((edit) => edit !== undefined) ? found : undefined;
}

function readEdit(word: string): StackEdit | undefined {
  const [name = '', place = '', ...rest] = word.split(':');
  const [stack = '', item = '', ...where] = place.split('/');
  const last = where.at(-1);
  const [into] = where.length === 2 ? where : [];
  if (
    rest.length > 0 ||
    where.length > 2 ||
    (into !== undefined && !ID.test(into)) ||
    !ID.test(stack) ||
    !ID.test(item) ||
    !Object.hasOwn(NAMES, name)
  )
    return undefined;
  const does: RowEdit['do'] = NAMES[name as keyof typeof NAMES];
  if (does === 'swap')
    return last !== undefined && ID.test(last)
      ? { stack, edit: { do: does, item, with: last }, ...(into === undefined ? {} : { into }) }
      : undefined;
  if (does === 'move')
    return last !== undefined && /^\d{1,2}$/.test(last)
      ? { stack, edit: { do: does, item, to: Number(last) }, ...(into === undefined ? {} : { into }) }
      : undefined;
  return last === undefined ? { stack, edit: { do: does, item } } : undefined;
}
