/**
 * Dragging a row of a list to another place, with a mouse, a pen or a finger.
 *
 * The grip takes the pointer; the row follows it, a line shows where it would come to lie, and the list scrolls when
 * the hand comes near its ends. Letting go moves it, Escape or a lost pointer leaves all as it was.
 */
import { useCallback, useEffect, useRef, useState, type PointerEvent } from 'react';
import { dropPlace } from './order.ts';

/** A row on its way: which it is, the place it would take, how far the hand has moved it, px. */
export interface Dragged {
  readonly from: number;
  readonly to: number;
  readonly dy: number;
}

/** Nearer than this to an end of what scrolls, the list moves along, px. */
const EDGE_px = 56;
const SCROLL_px = 9;

interface Hold {
  readonly pointer: number;
  readonly from: number;
  readonly y: number;
  readonly scroller: HTMLElement;
  readonly top: number;
  /** The row's middle when it was taken, px. */
  readonly middle: number;
  last: number;
}

/** The drag of one list; `move` is told once, at its end. */
export function useReorder(move: (from: number, to: number) => void): {
  readonly dragged: Dragged | undefined;
  readonly list: { current: HTMLOListElement | null };
  readonly grip: (index: number) => {
    onPointerDown: (event: PointerEvent<HTMLElement>) => void;
    onPointerMove: (event: PointerEvent<HTMLElement>) => void;
    onPointerUp: (event: PointerEvent<HTMLElement>) => void;
    onPointerCancel: () => void;
    onLostPointerCapture: () => void;
  };
} {
  const list = useRef<HTMLOListElement>(null);
  const hold = useRef<Hold | undefined>(undefined);
  const frame = useRef(0);
  const [dragged, setDragged] = useState<Dragged | undefined>(undefined);

  const leave = useCallback(() => {
    hold.current = undefined;
    cancelAnimationFrame(frame.current);
    setDragged(undefined);
  }, []);

  /** Where the hand is now, against the rows as they lie without the one in hand. */
  const look = useCallback((): Dragged | undefined => {
    const held = hold.current;
    if (!held || !list.current) return undefined;
    const dy = held.last - held.y + held.scroller.scrollTop - held.top;
    const rows = [...list.current.children].map((row) => row.getBoundingClientRect());
    return {
      from: held.from,
      dy,
      to: dropPlace(
        rows.map((row) => row.top + row.height / 2),
        held.from,
        held.middle + held.last - held.y,
      ),
    };
  }, []);

  const scroll = useCallback(() => {
    const held = hold.current;
    if (!held) return;
    const { top, bottom } = held.scroller.getBoundingClientRect();
    const by = held.last < top + EDGE_px ? -SCROLL_px : held.last > bottom - EDGE_px ? SCROLL_px : 0;
    if (by !== 0) {
      held.scroller.scrollBy(0, by);
      setDragged(look());
    }
    frame.current = requestAnimationFrame(scroll);
  }, [look]);

  useEffect(() => {
    const escape = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape' || !hold.current) return;
      event.preventDefault();
      leave();
    };
    window.addEventListener('keydown', escape, true);
    return () => {
      window.removeEventListener('keydown', escape, true);
      cancelAnimationFrame(frame.current);
    };
  }, [leave]);

  const grip = useCallback(
    (index: number) => ({
      onPointerDown: (event: PointerEvent<HTMLElement>): void => {
        const scroller = event.currentTarget.closest<HTMLElement>('[data-scrolls]');
        const row = list.current?.children[index]?.getBoundingClientRect();
        if (event.button !== 0 || !scroller || !row) return;
        event.currentTarget.setPointerCapture(event.pointerId);
        hold.current = {
          pointer: event.pointerId,
          from: index,
          y: event.clientY,
          last: event.clientY,
          scroller,
          top: scroller.scrollTop,
          middle: row.top + row.height / 2,
        };
        setDragged({ from: index, to: index, dy: 0 });
        cancelAnimationFrame(frame.current);
        frame.current = requestAnimationFrame(scroll);
      },
      onPointerMove: (event: PointerEvent<HTMLElement>): void => {
        if (hold.current?.pointer !== event.pointerId) return;
        hold.current.last = event.clientY;
        setDragged(look());
      },
      onPointerUp: (event: PointerEvent<HTMLElement>): void => {
        if (hold.current?.pointer !== event.pointerId) return;
        hold.current.last = event.clientY;
        const at = look();
        leave();
        if (at && at.to !== at.from) move(at.from, at.to);
      },
      onPointerCancel: leave,
      onLostPointerCapture: leave,
    }),
    [leave, look, move, scroll],
  );
  return { dragged, list, grip };
}
