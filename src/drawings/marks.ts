/**
 * Small marks of the section drawing: facing chevrons, the trouble badge, face bands, arrows, and the scale bar.
 *
 * Each returns SVG text about a given point, px. Meanings (ours): chevrons point toward a ring's small face, a double
 * line marks a ring that is the same both ways; a face band is filled where the face bears on an inner ring, hatched on
 * an outer ring, dotted on a seal, one diagonal on an arm, a thin double line on a land or ring, and hollow on nothing.
 */
import type { Bears, PlacedItem, Side, Tightening } from '../../shared/index.ts';
import { FACING_HUES, type Palette } from './colours.ts';
import { pathThrough, px, tag, textWidth, words } from './svg.ts';

/** Width of a facing mark, px. */
export const FACING_MARK_px = 14;
/** Radius of the trouble badge, px. */
export const BADGE_px = 7;

/** The facing mark of a ring, centred on (x, y). */
export function facingMark(
  smallFace: Side | undefined,
  x: number,
  y: number,
  colours: Palette,
  height_px = 10,
): string {
  const h = height_px / 2;
  const hue = FACING_HUES[smallFace ?? 'equal'];
  const common = { fill: 'none', stroke: hue, 'stroke-width': 2.6, 'stroke-linejoin': 'miter' };
  if (smallFace === undefined) {
    return tag('path', {
      d: `M${px(x - 2.6)} ${px(y - h)}V${px(y + h)}M${px(x + 2.6)} ${px(y - h)}V${px(y + h)}`,
      ...common,
    });
  }
  const to = smallFace === 'drive' ? 1 : -1;
  const chevron = (middle: number) =>
    pathThrough(
      [
        [middle - 2.4 * to, y - h],
        [middle + 2.4 * to, y],
        [middle - 2.4 * to, y + h],
      ],
      false,
    );
  const d = chevron(x - 3) + chevron(x + 3);
  // Orange and sky blue are too faint on paper without an edge; on the dark stage they stand by themselves.
  const edge = colours.isDark ? '' : tag('path', { d, ...common, stroke: colours.ink, 'stroke-width': 4 });
  return edge + tag('path', { d, ...common });
}

/** A round badge with an exclamation mark, centred on (x, y). */
export function badge(x: number, y: number, colours: Palette, radius_px = BADGE_px): string {
  const h = radius_px / 7;
  return (
    tag('circle', { cx: x, cy: y, r: radius_px, fill: colours.trouble, stroke: colours.ground, 'stroke-width': 1.2 }) +
    tag('path', {
      d: `M${px(x)} ${px(y - 4.2 * h)}V${px(y + 0.9 * h)}`,
      stroke: '#000000',
      'stroke-width': 2 * h,
      'stroke-linecap': 'round',
    }) +
    tag('circle', { cx: x, cy: y + 3.9 * h, r: 1.25 * h, fill: '#000000' })
  );
}

/** Thickness of a face band, px. */
export const BAND_px = 4;

/** A face band between two heights of one half, its outer edge on the face at `x`, its body to the side `inward` (±1). */
export function faceBand(
  bears: Bears,
  x: number,
  y1: number,
  y2: number,
  inward: 1 | -1,
  ink: string,
  paper: string,
): string {
  const [top, bottom] = y1 < y2 ? [y1, y2] : [y2, y1];
  const height = Math.max(1.5, bottom - top);
  const left = inward === 1 ? x : x - BAND_px;
  const middle = left + BAND_px / 2;
  const box = (fill: string, stroke: string) =>
    tag('rect', { x: left, y: top, width: BAND_px, height, fill, stroke, 'stroke-width': 0.8 });
  const line = (at: number, width: number, more: Readonly<Record<string, string>> = {}) =>
    tag('path', { d: `M${px(at)} ${px(top)}v${px(height)}`, stroke: ink, 'stroke-width': width, ...more });
  switch (bears) {
    case 'inner-ring':
      return box(ink, paper);
    case 'outer-ring':
      return box(paper, ink) + line(middle, BAND_px, { 'stroke-dasharray': '1.6 1.8' });
    case 'seal':
      return box(paper, 'none') + line(middle, 2.4, { 'stroke-dasharray': '0.1 3.4', 'stroke-linecap': 'round' });
    case 'arm':
      return (
        box(paper, ink) +
        tag('path', {
          d: pathThrough(
            [
              [left, top + height],
              [left + BAND_px, top],
            ],
            false,
          ),
          stroke: ink,
          'stroke-width': 1.2,
        })
      );
    case 'land':
    case 'ring':
      return box(paper, 'none') + line(left + 0.7, 1.1) + line(left + BAND_px - 0.9, 1.1);
    case 'nothing':
      return box(paper, ink);
  }
}

/** A straight arrow along the axis toward +x (`to` 1) or −x (`to` −1), its point at x. */
export function axleArrow(x: number, y: number, length_px: number, to: 1 | -1, colours: Palette): string {
  const back = x - to * length_px;
  const neck = x - to * Math.min(11, length_px * 0.55);
  const head = pathThrough([
    [x, y],
    [neck, y - 6.5],
    [neck, y + 6.5],
  ]);
  return (
    tag('path', { d: `M${px(back)} ${px(y)}H${px(neck)}`, stroke: colours.ink, 'stroke-width': 3.2 }) +
    tag('path', { d: head, fill: colours.ink })
  );
}

/** A round arrow as the mechanic sees the turn who looks along the axis at that end, centred on (x, y). */
export function turnArrow(turn: Tightening['turn'], x: number, y: number, radius_px: number, colours: Palette): string {
  const way = turn === 'clockwise' ? 1 : -1;
  const at = (degrees: number): readonly [number, number] => {
    const angle = (degrees * Math.PI) / 180;
    return [x + way * radius_px * Math.cos(angle), y + radius_px * Math.sin(angle)];
  };
  const from = at(-225);
  const to = at(25);
  const sweep = way === 1 ? 1 : 0;
  const head = 0.62 * radius_px;
  // Along the turn at the arrow's end, and square to it.
  const along: readonly [number, number] = [-way * Math.sin((25 * Math.PI) / 180), Math.cos((25 * Math.PI) / 180)];
  const out: readonly [number, number] = [way * Math.cos((25 * Math.PI) / 180), Math.sin((25 * Math.PI) / 180)];
  const tip: readonly [number, number] = [to[0] + along[0] * head, to[1] + along[1] * head];
  const wing = (side: number): readonly [number, number] => [
    to[0] + out[0] * side * head * 0.62,
    to[1] + out[1] * side * head * 0.62,
  ];
  return (
    tag('path', {
      d: `M${px(from[0])} ${px(from[1])}A${px(radius_px)} ${px(radius_px)} 0 1 ${sweep} ${px(to[0])} ${px(to[1])}`,
      fill: 'none',
      stroke: colours.ink,
      'stroke-width': 2.6,
      'stroke-linecap': 'round',
    }) +
    tag('path', { d: pathThrough([tip, wing(1), wing(-1)]), fill: colours.ink }) +
    tag('circle', { cx: x, cy: y, r: 2.2, fill: colours.ink })
  );
}

/** A scale bar: its width with its words, and its SVG text from (x, y) to the right. */
export interface ScaleBar {
  readonly width_px: number;
  readonly at: (x: number, y: number) => string;
}

/** A scale bar of a round length that takes 56 to 140 px. */
export function scaleBar(scale_px_per_mm: number, text_px: number, colours: Palette): ScaleBar {
  const lengths = [1, 2, 5, 10, 20, 50, 100, 200];
  const length_mm = lengths.find((mm) => mm * scale_px_per_mm >= 56) ?? 200;
  const length = length_mm * scale_px_per_mm;
  const label = `${length_mm} mm`;
  const at = (x: number, y: number) =>
    tag(
      'g',
      { class: 'aws-scale' },
      tag('rect', { x, y: y - 4, width: length / 2, height: 4, fill: colours.ink }),
      tag('rect', { x, y: y - 4, width: length, height: 4, fill: 'none', stroke: colours.ink, 'stroke-width': 1 }),
      words(label, x + length + 6, y, { 'font-size': text_px, fill: colours.muted }),
    );
  return { width_px: length + 6 + textWidth(label, text_px), at };
}

/** True for what carries a facing mark: loose rings, and end caps wherever they stand. */
export function isFacingItem(item: PlacedItem): boolean {
  return item.role === 'ring' || item.kind === 'end-cap';
}
