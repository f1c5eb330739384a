/**
 * Small marks of the section drawing: facing chevrons, the trouble badge, face bands, arrows, and the scale bar.
 *
 * Each returns shapes about a given point, px. Meanings (ours): chevrons point toward a spacer’s small face, a double
 * line marks a spacer that is the same both ways; a face band is filled where the face bears on an inner ring, hatched
 * on an outer ring, dotted on a seal, one diagonal on an arm, a thin double line on a land or ring, and hollow on
 * nothing.
 */
import type { Bears, PlacedItem, Side, Tightening } from '../../shared/index.ts';
import { BLACK, FACING } from '../look.ts';
import { facingHue, type Palette } from './colours.ts';
import { areas, circle, corners, group, lines, rect, textWidth, words, type Point, type Shape } from './shapes.ts';

/** Width of a facing mark, px. */
export const FACING_MARK_px = 14;

/** True for what carries a facing mark: what stands loose in the row. */
export function isFacingItem(item: PlacedItem): boolean {
  return facingHue(item) !== undefined;
}

/** The facing mark of a spacer, centred on (x, y). */
export function facingMark(
  smallFace: Side | undefined,
  x: number,
  y: number,
  colours: Palette,
  height_px = 10,
): readonly Shape[] {
  const h = height_px / 2;
  const look = { stroke: FACING[smallFace ?? 'equal'], pen: 2.6, join: 'miter' } as const;
  const both = (run: (middle: number) => readonly Point[], off: number) => [run(x - off), run(x + off)];
  if (smallFace === undefined)
    return [
      lines(
        both((at) => corners(at, y - h, at, y + h), 2.6),
        look,
      ),
    ];
  const to = smallFace === 'drive' ? 2.4 : -2.4;
  const chevrons = both((at) => corners(at - to, y - h, at + to, y, at - to, y + h), 3);
  const mark = lines(chevrons, look);
  // Orange and sky blue are too faint on paper without an edge; on a dark ground they stand by themselves.
  return colours.isDark ? [mark] : [lines(chevrons, { ...look, stroke: colours.ink, pen: 4 }), mark];
}

/** A round badge with an exclamation mark, centred on (x, y). */
export function badge(x: number, y: number, colours: Palette, radius_px = 7): readonly Shape[] {
  const h = radius_px / 7;
  return [
    circle([x, y], radius_px, { fill: colours.trouble, stroke: colours.ground, pen: 1.2 }),
    lines([corners(x, y - 4.2 * h, x, y + 0.9 * h)], { stroke: BLACK, pen: 2 * h, cap: 'round' }),
    circle([x, y + 3.9 * h], 1.25 * h, { fill: BLACK }),
  ];
}

/** Thickness of a face band, px. */
const BAND_px = 4;

/**
 * A face band between two heights of one half, its outer edge on the face at `x`, its body to the side `inward` (±1).
 */
export function faceBand(
  bears: Bears,
  x: number,
  y1: number,
  y2: number,
  inward: 1 | -1,
  { ink, ground }: Palette,
): readonly Shape[] {
  const top = Math.min(y1, y2);
  const height = Math.max(1.5, Math.abs(y2 - y1));
  const bottom = top + height;
  const left = inward === 1 ? x : x - BAND_px;
  const middle = left + BAND_px / 2;
  const box = (fill: string, stroke?: string) => rect(left, top, BAND_px, height, { fill, stroke, pen: 0.8 });
  const upright = (at: number, pen: number, dash?: readonly number[], cap?: 'round') =>
    lines([corners(at, top, at, bottom)], { stroke: ink, pen, dash, cap });
  switch (bears) {
    case 'inner-ring':
      return [box(ink, ground)];
    case 'outer-ring':
      return [box(ground, ink), upright(middle, BAND_px, [1.6, 1.8])];
    case 'seal':
      return [box(ground), upright(middle, 2.4, [0.1, 3.4], 'round')];
    case 'arm':
      return [box(ground, ink), lines([corners(left, bottom, left + BAND_px, top)], { stroke: ink, pen: 1.2 })];
    case 'land':
    case 'ring':
      return [box(ground), upright(left + 0.7, 1.1), upright(left + BAND_px - 0.9, 1.1)];
    case 'nothing':
      return [box(ground, ink)];
  }
}

/** A straight arrow along the axis toward +x (`to` 1) or −x (`to` −1), its point at x. */
export function axleArrow(x: number, y: number, length_px: number, to: 1 | -1, { ink }: Palette): readonly Shape[] {
  const neck = x - to * Math.min(11, length_px * 0.55);
  return [
    lines([corners(x - to * length_px, y, neck, y)], { stroke: ink, pen: 3.2 }),
    areas([corners(x, y, neck, y - 6.5, neck, y + 6.5)], { fill: ink }),
  ];
}

/** A round arrow as the mechanic sees the turn who looks along the axis at that end, centred on (x, y). */
export function turnArrow(
  turn: Tightening['turn'],
  x: number,
  y: number,
  radius: number,
  { ink }: Palette,
): readonly Shape[] {
  const way = turn === 'clockwise' ? 1 : -1;
  const END = (25 * Math.PI) / 180;
  const at = (angle: number, out: number, on = 0): Point => [
    x + way * (out * Math.cos(angle) - on * Math.sin(angle)),
    y + out * Math.sin(angle) + on * Math.cos(angle),
  ];
  const head = 0.62 * radius;
  const wing = 0.62 * head;
  const arc = { to: at(END, radius), radius, isLong: true, isClockwise: way === 1 };
  return [
    lines([[at((-225 * Math.PI) / 180, radius), arc]], { stroke: ink, pen: 2.6, cap: 'round' }),
    areas([[at(END, radius, head), at(END, radius + wing), at(END, radius - wing)]], { fill: ink }),
    circle([x, y], 2.2, { fill: ink }),
  ];
}

/** A scale bar: its width with its words, and its shapes from (x, y) to the right. */
export interface ScaleBar {
  readonly width_px: number;
  readonly at: (x: number, y: number) => Shape;
}

/** A scale bar of a round length that takes 56 to 140 px. */
export function scaleBar(scale_px_per_mm: number, text_px: number, { ink, muted }: Palette): ScaleBar {
  const length_mm = [1, 2, 5, 10, 20, 50, 100].find((mm) => mm * scale_px_per_mm >= 56) ?? 200;
  const length = length_mm * scale_px_per_mm;
  const label = `${length_mm} mm`;
  const at = (x: number, y: number) =>
    group(
      [
        rect(x, y - 4, length / 2, 4, { fill: ink }),
        rect(x, y - 4, length, 4, { stroke: ink, pen: 1 }),
        words(label, x + length + 6, y, text_px, { fill: muted }),
      ],
      { class: 'aws-scale' },
    );
  return { width_px: length + 6 + textWidth(label, text_px), at };
}
