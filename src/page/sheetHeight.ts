/**
 * How high the sheet of an upright phone stands: a hand's choice, kept while the page is open.
 */
import { create } from 'zustand';

const HEIGHTS = ['low', 'half', 'high'] as const;
type Height = (typeof HEIGHTS)[number];

interface Sheet {
  readonly height: Height;
  readonly moveBy: (by: number) => void;
  /** Opens a low sheet half, or lowers an open one. */
  readonly show: (isShown: boolean) => void;
}

export const useSheetHeight = create<Sheet>()((set) => ({
  height: 'half',
  moveBy: (by) => set(({ height }) => ({ height: stepped(height, by) })),
  show: (isShown) => set(({ height }) => ({ height: isShown ? (height === 'low' ? 'half' : height) : 'low' })),
}));

function stepped(height: Height, by: number): Height {
  const at = HEIGHTS.indexOf(height) + Math.sign(by);
  return HEIGHTS[Math.max(0, Math.min(HEIGHTS.length - 1, at))]!;
}
