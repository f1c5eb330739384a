/**
 * The sheet of a section drawing: what it shows, each part's place along the axis, the scale, and the drawing's ends.
 *
 * One scale holds along and across the axis, so that a spacer looks like itself. It is the largest that fits the parts
 * shown between the margins and under the allowed height; it follows the parts continuously, so a picture sliding apart
 * zooms out instead of jumping. Under a picture that is looked at square to the axle, scale and places are the
 * picture's. Input mm, output px of the view box; x grows to the drive side, y downward.
 */
import { spread } from '../../shared/index.ts';
import type { Analysis, PlacedItem, Side, StackAnalysis, StepPlace } from '../../shared/index.ts';
import { PALETTES, type Palette, type SectionTheme } from './colours.ts';
import { endsOf, outlineOf, radiusOf, type Stretch } from './outline.ts';

/** What the drawing shows; everything but the theme has a default. */
export interface SectionOptions {
  /** 0 closed, 1 fully apart. */
  readonly apart?: number | undefined;
  /** Where a step leaves each part; parts that are not on yet stand at their full spread place as ghosts. */
  readonly places?: Readonly<Record<string, StepPlace>> | undefined;
  /** Where the picture above has each part, mm from its tight place; goes before apart-ness and places. */
  readonly offsets_mm?: Readonly<Record<string, number>> | undefined;
  /** The axle as the picture above shows it: the drawing stands in line with it while all of it fits so. */
  readonly line?: RowLine | undefined;
  /** Where the part in the hand goes, mm from its tight place: a ghost of it stands there. */
  readonly seat?: { readonly id: string; readonly offset_mm: number } | undefined;
  /** Parts the current step moves. */
  readonly activeIds?: readonly string[] | undefined;
  readonly litId?: string | undefined;
  readonly selectedId?: string | undefined;
  readonly theme: SectionTheme;
  /** Width of the view box, px: the drawing arranges itself for it (1024 unless told otherwise). */
  readonly width_px?: number | undefined;
  /**
   * Height the whole drawing keeps to, px: names give way to numbers for it, then the lower half goes, then all but the
   * clamp column; free unless told otherwise.
   */
  readonly height_px?: number | undefined;
  /** False: numbers and a list even where names would fit. */
  readonly names?: boolean | undefined;
  /** False: the clamp column as an outline, without figures (a joint that is not tight yet). */
  readonly forces?: boolean | undefined;
  /** False: without the clamp column, which another drawing beside this one has. */
  readonly column?: boolean | undefined;
  /** False: parts that are not on yet are left out. */
  readonly ghosts?: boolean | undefined;
  /** True: parts and clamp column alone, for a drawing beside another one that has sides, names and key. */
  readonly bare?: boolean | undefined;
  /** True: the stack's name as a heading, for a drawing that stands alone. */
  readonly heading?: boolean | undefined;
}

/** An axle seen square to it: where its z = 0 stands across, and how large a millimetre of it is, px. */
export interface RowLine {
  readonly zero_px: number;
  readonly px_per_mm: number;
}

/** A part and where the drawing puts it. */
export interface ShownItem {
  readonly item: PlacedItem;
  readonly id: string;
  /** Distance from its tight place, + to the drive side, mm. */
  readonly offset_mm: number;
  /** False for a part that is not on the bike yet at this step. */
  readonly on: boolean;
  /** Ends of its solids where they are drawn, mm. */
  readonly from_mm: number;
  readonly to_mm: number;
  /** Its outer envelope at its tight place: placing leaders asks for it hundreds of times a drawing. */
  readonly outline: readonly Stretch[];
  readonly radius_mm: number;
}

/** What every piece of one drawing goes by. */
export interface Sheet {
  readonly stack: StackAnalysis;
  readonly options: SectionOptions;
  readonly shown: readonly ShownItem[];
  readonly colours: Palette;
  /** Parts that a finding of severity `stop` names. */
  readonly troubled: ReadonlySet<string>;
  /** Parts whose names stand out. */
  readonly strong: ReadonlySet<string>;
  readonly width_px: number;
  /** From where to where parts, names and column may stand: a key beside them takes the rest. */
  readonly span_px: readonly [from: number, to: number];
  readonly isNarrow: boolean;
  /** Size of ordinary text. */
  readonly text_px: number;
  readonly scale_px_per_mm: number;
  /** Left and right end of what is drawn. */
  readonly left_px: number;
  readonly right_px: number;
  /** Room kept free at the nearer end. */
  readonly margin_px: number;
  /** Height of what is drawn over the axis, and under it: of a half section only what an arrow needs. */
  readonly half_px: number;
  readonly below_px: number;
  readonly x: (z_mm: number) => number;
}

/** Below this width, px, numbers and a list stand for names. */
export const NARROW_px = 560;
/** Free px at the left and right of what stands at the drawing's ends. */
export const EDGE_px = 12;
/** A bigger scale only makes hatching coarse, px a mm. */
const LARGEST_SCALE = 12;
/** Free gap between parts when apart: on a narrow screen size matters more than air, mm. */
const NARROW_GAP_mm = 7;
const WIDE_GAP_mm = 12;

/** The parts shown, with offsets and presence from apart-ness or from a step's places. */
export function showItems(stack: StackAnalysis, options: SectionOptions, width_px: number): readonly ShownItem[] {
  const { places } = options;
  const gap_mm = width_px < NARROW_px ? NARROW_GAP_mm : WIDE_GAP_mm;
  const now = spread(stack, Math.min(1, Math.max(0, options.apart ?? 0)), gap_mm);
  const full = places ? spread(stack, 1, gap_mm) : now;
  const all = stack.items.map((item) => {
    const { id } = item;
    const place = places?.[id];
    const offset_mm = options.offsets_mm?.[id] ?? (place ? (place.on ? place.offset_mm : full[id]) : now[id]) ?? 0;
    const [from_mm, to_mm] = endsOf(item);
    const ends = { from_mm: from_mm + offset_mm, to_mm: to_mm + offset_mm };
    return { item, id, offset_mm, on: place?.on ?? true, ...ends, outline: outlineOf(item), radius_mm: radiusOf(item) };
  });
  const kept = options.ghosts === false ? all.filter(({ on }) => on) : all;
  return kept.length > 0 ? kept : all;
}

/** Type is never smaller, px: a drawing is read from a step away. */
export const LEAST_TYPE_px = 14;
const LARGEST_TYPE_px = 17;

/** Size of ordinary words in a drawing of this width. */
function typeFor(width_px: number): number {
  return Math.min(LARGEST_TYPE_px, Math.max(LEAST_TYPE_px, 12.5 + width_px / 320));
}

/** Under the axis of a half section: half an arrow. */
export const BELOW_HALF_px = 15;

/** What a sheet is arranged for. */
export interface SheetRoom {
  readonly width_px: number;
  /** Most that the parts may be high, in all. */
  readonly height_px: number;
  /** True where only what lies over the axis is drawn. */
  readonly isHalf: boolean;
  /** Kept free at the left and the right end, for a key. */
  readonly key_px: readonly [left: number, right: number];
  /** The axle of the picture above. */
  readonly line?: RowLine | undefined;
}

/** The sheet of a drawing. */
export function sheetOf(
  stack: StackAnalysis,
  analysis: Analysis,
  options: SectionOptions,
  shown: readonly ShownItem[],
  { width_px, height_px, isHalf, key_px, line }: SheetRoom,
): Sheet {
  const isNarrow = width_px < NARROW_px;
  const margins = [sideRoom(stack, 'non-drive', isNarrow), sideRoom(stack, 'drive', isNarrow)] as const;
  const from_mm = Math.min(...shown.map((each) => each.from_mm));
  const to_mm = Math.max(...shown.map((each) => each.to_mm));
  const radius_mm = Math.max(1, ...shown.map((each) => each.radius_mm));
  const span_px = [EDGE_px + key_px[0], width_px - EDGE_px - key_px[1]] as const;
  const room_px = width_px - key_px[0] - key_px[1] - margins[0] - margins[1];
  const own = Math.min(
    room_px / Math.max(1, to_mm - from_mm),
    height_px / ((isHalf ? 1 : 2) * radius_mm),
    LARGEST_SCALE,
  );
  const scale = line?.px_per_mm ?? own;
  const x = line
    ? (z_mm: number) => line.zero_px + z_mm * scale
    : (z_mm: number) => key_px[0] + margins[0] + room_px / 2 + (z_mm - (from_mm + to_mm) / 2) * scale;
  const half_px = radius_mm * scale;
  return {
    stack,
    options,
    shown,
    colours: PALETTES[options.theme],
    troubled: troubledIds(stack, analysis),
    strong: new Set([...(options.activeIds ?? []), options.selectedId ?? '']),
    width_px,
    span_px,
    isNarrow,
    text_px: typeFor(width_px),
    scale_px_per_mm: scale,
    left_px: x(from_mm),
    right_px: x(to_mm),
    margin_px: Math.min(...margins),
    half_px,
    below_px: isHalf ? Math.min(BELOW_HALF_px, half_px) : half_px,
    x,
  };
}

/** Room at an end for the arrow of the axle and the arrow of the turn. */
export function sideRoom(stack: StackAnalysis, side: Side, isNarrow: boolean): number {
  const arrow = stack.from === side ? (isNarrow ? 24 : 44) : 0;
  const turn = stack.tightening.stand === side ? (isNarrow ? 26 : 40) : 0;
  return (isNarrow ? 10 : 24) + arrow + turn;
}

function troubledIds(stack: StackAnalysis, analysis: Analysis): ReadonlySet<string> {
  const findings = analysis.pivots.filter(({ id }) => id === stack.pivotId).flatMap((pivot) => pivot.findings);
  const named = new Set(findings.filter(({ severity }) => severity === 'stop').flatMap(({ parts }) => parts));
  return new Set([...named].filter((id) => stack.items.some((item) => item.id === id)));
}
