/**
 * Dragging a part along its row: between two others it moves there, on the middle of another it swaps with it.
 *
 * A mouse takes any part that can go somewhere; a finger only the picked one, since the line scrolls under all others.
 * The line may lie or stand: what counts is the direction in which its parts follow one another. Letting go is one
 * edit; Escape, a lost pointer or a place where nothing may go leave all as it was.
 */
import { useCallback, useEffect, useRef, useState, type PointerEvent } from 'react';
import type { RowEdit } from '../../shared/index.ts';
import type { EditorPart } from './part.ts';

/** The part in the hand, and how far the hand has moved it, px. */
interface Held {
  readonly id: string;
  readonly dx: number;
  readonly dy: number;
}

/** The part that it would be laid before, after or in the place of. */
interface Over {
  readonly id: string;
  readonly how: 'before' | 'after' | 'swap';
}

interface Grip {
  readonly onPointerDown: (event: PointerEvent<HTMLElement>) => void;
  readonly onPointerMove: (event: PointerEvent<HTMLElement>) => void;
  readonly onPointerUp: () => void;
  readonly onPointerCancel: () => void;
  readonly onClickCapture: (event: { preventDefault: () => void; stopPropagation: () => void }) => void;
}

/** A press that has moved less than this is a tap, px. */
const TAP_px = 8;
/** The middle of a part, as a share of its length, where a drop swaps. */
const SWAP_SHARE = 0.4;

interface Drag {
  readonly id: string;
  readonly x: number;
  readonly y: number;
  readonly pointer: number;
  isMoving: boolean;
  drop?: { readonly edit: RowEdit; readonly over: Over } | undefined;
}

/** The drag of one line; `onEdit` is told once, at its end. */
export function useDragAlong(
  line: { readonly current: HTMLElement | null },
  row: readonly EditorPart[],
  onEdit: (edit: RowEdit) => void,
): {
  readonly held: Held | undefined;
  readonly over: Over | undefined;
  readonly grip: (part: EditorPart) => Partial<Grip>;
} {
  const drag = useRef<Drag | undefined>(undefined);
  /** The click that ends a drag is no tap. */
  const isDragged = useRef(false);
  const [held, setHeld] = useState<Held | undefined>(undefined);
  const [over, setOver] = useState<Over | undefined>(undefined);

  const leave = useCallback((): void => {
    drag.current = undefined;
    setHeld(undefined);
    setOver(undefined);
  }, []);
  useEffect(() => {
    const escape = (event: globalThis.KeyboardEvent): void => {
      if (event.key !== 'Escape' || drag.current?.isMoving !== true) return;
      event.preventDefault();
      event.stopPropagation();
      leave();
    };
    window.addEventListener('keydown', escape, true);
    return () => window.removeEventListener('keydown', escape, true);
  }, [leave]);

  const grip = (part: EditorPart): Partial<Grip> => {
    if (part.may.places.length + part.may.swap.length === 0) return {};
    return {
      onPointerDown: (event) => {
        isDragged.current = false;
        const isPicked = event.currentTarget.getAttribute('aria-pressed') === 'true';
        if (event.button !== 0 || drag.current || (event.pointerType === 'touch' && !isPicked)) return;
        drag.current = { id: part.id, x: event.clientX, y: event.clientY, pointer: event.pointerId, isMoving: false };
      },
      onPointerMove: (event) => {
        const now = drag.current;
        if (!now || now.pointer !== event.pointerId || !line.current) return;
        const [dx, dy] = [event.clientX - now.x, event.clientY - now.y];
        if (!now.isMoving) {
          if (Math.hypot(dx, dy) < TAP_px) return;
          now.isMoving = true;
          event.currentTarget.setPointerCapture(event.pointerId);
        }
        now.drop = dropAt(line.current, row, part, event.clientX, event.clientY);
        setHeld({ id: part.id, dx, dy });
        setOver(now.drop?.over);
      },
      onPointerUp: () => {
        const now = drag.current;
        leave();
        if (!now?.isMoving) return;
        isDragged.current = true;
        if (now.drop) onEdit(now.drop.edit);
      },
      onPointerCancel: leave,
      onClickCapture: (event) => {
        if (!isDragged.current) return;
        isDragged.current = false;
        event.preventDefault();
        event.stopPropagation();
      },
    };
  };
  return { held, over, grip };
}

/** What a drop there would do. */
function dropAt(line: HTMLElement, row: readonly EditorPart[], part: EditorPart, x: number, y: number): Drag['drop'] {
  const places = row
    .filter(({ isEnd }) => isEnd !== true)
    .map(({ id }) => ({ id, box: line.querySelector(`[data-part="${CSS.escape(id)}"]`)?.getBoundingClientRect() }));
  const [first, last] = [places[0]?.box, places.at(-1)?.box];
  if (!first || !last) return undefined;
  const stands = last.top - first.top > last.left - first.left;
  const at = stands ? y : x;
  const spans = places.flatMap(({ id, box }) =>
    box ? [{ id, from: stands ? box.top : box.left, to: stands ? box.bottom : box.right }] : [],
  );
  const own = spans.findIndex(({ id }) => id === part.id);
  const rest = spans.filter(({ id }) => id !== part.id);
  const on = rest.find(({ from, to }) => Math.abs(at - (from + to) / 2) < ((to - from) * SWAP_SHARE) / 2);
  if (on && part.may.swap.includes(on.id))
    return { edit: { do: 'swap', item: part.id, with: on.id }, over: { id: on.id, how: 'swap' } };
  const to = rest.filter((span) => (span.from + span.to) / 2 < at).length;
  if (to === own || !part.may.places.includes(to)) return undefined;
  const before = rest[to - 1];
  const after = rest[to];
  const over: Over = after ? { id: after.id, how: 'before' } : { id: before!.id, how: 'after' };
  return { edit: { do: 'move', item: part.id, to }, over };
}
