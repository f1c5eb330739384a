/**
 * The sheet of an upright phone: low, half or high, by its handle, by a drag on its head, by keys.
 */
import { useRef, type KeyboardEvent, type PointerEvent, type ReactNode } from 'react';
import { create } from 'zustand';

const HEIGHTS = ['low', 'half', 'high'] as const;
type Height = (typeof HEIGHTS)[number];

/** A drag of this length moves the sheet by one height, px. */
const DRAG_px = 36;

interface Sheet {
  readonly height: Height;
  readonly moveBy: (by: number) => void;
  /** Opens a low sheet half, or lowers an open one. */
  readonly show: (isShown: boolean) => void;
}

/** How high the sheet stands: a hand's choice, kept while the page is open. */
export const useSheet = create<Sheet>()((set) => ({
  height: 'half',
  moveBy: (by) => set(({ height }) => ({ height: stepped(height, by) })),
  show: (isShown) => set(({ height }) => ({ height: isShown ? (height === 'low' ? 'half' : height) : 'low' })),
}));

function stepped(height: Height, by: number): Height {
  const at = HEIGHTS.indexOf(height) + Math.sign(by);
  return HEIGHTS[Math.max(0, Math.min(HEIGHTS.length - 1, at))]!;
}

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
      if (Math.abs(up_px) >= DRAG_px) useSheet.getState().moveBy(up_px);
    },
  };
}

/** Raises the sheet, and from its full height lowers it; arrow keys move it up and down. */
export function SheetHandle(): ReactNode {
  const height = useSheet((state) => state.height);
  const moveBy = useSheet((state) => state.moveBy);
  const show = useSheet((state) => state.show);
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
