/**
 * The sheet of an upright phone: low, half or high, by its handle, by a drag on its head, by keys.
 */
import { useRef, type KeyboardEvent, type PointerEvent, type ReactNode } from 'react';
import { useSheetHeight } from '../page/sheetHeight.ts';

/** A drag of this length moves the sheet by one height, px. */
const DRAG_px = 36;

interface Drag {
  readonly onPointerDown: (event: PointerEvent) => void;
  readonly onPointerUp: (event: PointerEvent) => void;
}

/** A drag up or down raises or lowers the sheet by one height. */
export function useSheetDrag(): Drag {
  const from = useRef<number | undefined>(undefined);
  return {
    onPointerDown: (event) => {
      from.current = event.clientY;
    },
    onPointerUp: (event) => {
      const up_px = from.current === undefined ? 0 : from.current - event.clientY;
      from.current = undefined;
      if (Math.abs(up_px) >= DRAG_px) useSheetHeight.getState().moveBy(up_px);
    },
  };
}

/** Raises the sheet, and from its full height lowers it; arrow keys move it up and down. */
export function SheetHandle(): ReactNode {
  const height = useSheetHeight((state) => state.height);
  const moveBy = useSheetHeight((state) => state.moveBy);
  const show = useSheetHeight((state) => state.show);
  const word = height === 'high' ? 'Lower the sheet' : 'Raise the sheet';
  const press = (event: KeyboardEvent): void => {
    const by = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    moveBy(by);
  };
  return (
    <button
      type="button"
      className="sheet-handle rigid"
      aria-label={word}
      title={word}
      onKeyDown={press}
      onClick={() => (height === 'high' ? show(false) : moveBy(1))}
    >
      <svg className="icon" viewBox="0 0 20 20" aria-hidden="true">
        <path d={height === 'high' ? 'M4 7l6 6 6-6' : 'M4 13l6-6 6 6'} />
      </svg>
    </button>
  );
}
