/**
 * How much room the window gives, in words of the layout.
 *
 * `wide`: everything at once (a desk, a projector). `flat`: picture over row, one panel beside them (a tablet lying
 * flat, a small laptop). `tall`: picture above, one panel below (a phone or tablet held upright). `short`: picture
 * beside one panel (a phone on its side). Sizes are CSS pixels divided by the size of the type, so that big words make
 * the layout give up columns before words give up size.
 */
export type Room = 'wide' | 'flat' | 'tall' | 'short';

const WIDE_px = { width: 1360, height: 860 } as const;
const FLAT_px = { width: 900, height: 600 } as const;

/** The layout for a window; `scale` is 1 for type of the usual size. */
export function roomFor(width_px: number, height_px: number, scale: number): Room {
  const width = width_px / scale;
  const height = height_px / scale;
  if (width >= WIDE_px.width && height >= WIDE_px.height) return 'wide';
  if (width >= FLAT_px.width && height >= FLAT_px.height && width > height) return 'flat';
  return width > height ? 'short' : 'tall';
}
