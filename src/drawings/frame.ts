/**
 * Where everything of a section drawing stands: each part's place along the axis, the scale, and the drawing's ends.
 *
 * One scale holds along and across the axis, so that a ring looks like itself. It is the largest that fits the parts
 * shown between the margins and under the allowed height; it follows the parts continuously, so a picture sliding apart
 * zooms out instead of jumping. Input mm, output px of the view box; x grows to the drive side, y downward.
 */
import { spread } from '../../shared/index.ts';
import type { PlacedItem, StackAnalysis, StepPlace } from '../../shared/index.ts';
import { endsOf, radiusOf } from './outline.ts';

/** A part and where the drawing puts it. */
export interface ShownItem {
  readonly item: PlacedItem;
  /** Distance from its tight place, + to the drive side, mm. */
  readonly offset_mm: number;
  /** False for a part that is not on the bike yet at this step. */
  readonly on: boolean;
  /** Ends of its solids where they are drawn, mm. */
  readonly from_mm: number;
  readonly to_mm: number;
}

/** The drawing's measures along the axis and its scale. */
export interface Frame {
  readonly width_px: number;
  readonly isNarrow: boolean;
  /** Size of ordinary text. */
  readonly text_px: number;
  readonly scale_px_per_mm: number;
  /** Left and right end of what is drawn. */
  readonly left_px: number;
  readonly right_px: number;
  /** Half height of what is drawn. */
  readonly half_px: number;
  readonly x: (z_mm: number) => number;
}

/** Below this width, px, numbers and a list stand for names. */
export const NARROW_px = 560;
/** A bigger scale only makes hatching coarse, px a mm. */
const LARGEST_SCALE = 12;
/** Free gap between parts when apart: on a narrow screen size matters more than air, mm. */
const NARROW_GAP_mm = 7;
const WIDE_GAP_mm = 12;

/** Offsets and presence of every part, from apart-ness or from a step's places. */
export function showItems(
  stack: StackAnalysis,
  apart: number,
  places: Readonly<Record<string, StepPlace>> | undefined,
  isNarrow: boolean,
): readonly ShownItem[] {
  const gap_mm = isNarrow ? NARROW_GAP_mm : WIDE_GAP_mm;
  const share = Math.min(1, Math.max(0, apart));
  const now = spread(stack, share, gap_mm);
  const full = places ? spread(stack, 1, gap_mm) : now;
  return stack.items.map((item) => {
    const place = places?.[item.id];
    const offset_mm = (place ? (place.on ? place.offset_mm : full[item.id]) : now[item.id]) ?? 0;
    const [from_mm, to_mm] = endsOf(item);
    return { item, offset_mm, on: place?.on ?? true, from_mm: from_mm + offset_mm, to_mm: to_mm + offset_mm };
  });
}

/** The frame of a drawing `width_px` wide whose parts may be `height_px` high in all. */
export function frameOf(
  shown: readonly ShownItem[],
  width_px: number,
  height_px: number,
  margins_px: { readonly left: number; readonly right: number },
): Frame {
  const isNarrow = width_px < NARROW_px;
  const from_mm = Math.min(...shown.map((each) => each.from_mm));
  const to_mm = Math.max(...shown.map((each) => each.to_mm));
  const radius_mm = Math.max(1, ...shown.map((each) => radiusOf(each.item)));
  const room_px = width_px - margins_px.left - margins_px.right;
  const scale = Math.min(room_px / Math.max(1, to_mm - from_mm), height_px / (2 * radius_mm), LARGEST_SCALE);
  const middle_px = margins_px.left + room_px / 2;
  const x = (z_mm: number) => middle_px + (z_mm - (from_mm + to_mm) / 2) * scale;
  return {
    width_px,
    isNarrow,
    text_px: Math.min(16, Math.max(11, 9.5 + width_px / 320)),
    scale_px_per_mm: scale,
    left_px: x(from_mm),
    right_px: x(to_mm),
    half_px: radius_mm * scale,
    x,
  };
}
