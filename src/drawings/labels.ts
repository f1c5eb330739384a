/**
 * Names of the parts over a section: where each leader ends, names on flags or numbers with a list, and their drawing.
 *
 * A leader ends with a dot inside its part (practice of ISO 128-22: leader and reference lines), if possible where
 * nothing lies between the part and the flags. Names stand in up to three rows; where they do not fit, or the drawing is
 * narrow, numbers stand in their place and a list below gives the names. px of the view box.
 */
import type { PlacedItem } from '../../shared/index.ts';
import type { Palette } from './colours.ts';
import { facingHue } from './colours.ts';
import type { Frame, ShownItem } from './frame.ts';
import { placeFlags, type PlacedFlag } from './flags.ts';
import { badge, FACING_MARK_px, facingMark, isFacingItem } from './marks.ts';
import { outerRadiusAt, outlineOf, radiusOf } from './outline.ts';
import { escapeText, fitText, pathThrough, px, tag, textWidth, words } from './svg.ts';

/** Where a leader ends: px along the drawing, mm off the axis. */
export interface Anchor {
  readonly id: string;
  readonly x_px: number;
  readonly r_mm: number;
}

/** Anchors nearer than this read as one. */
const CLOSEST_px = 4;
/** How far inside its part a dot should stand, px. */
const EDGE_px = 3;

/** One anchor a part, no two at nearly the same place if that can be helped. */
export function chooseAnchors(shown: readonly ShownItem[], frame: Frame): readonly Anchor[] {
  const taken: number[] = [];
  const byWidth = [...shown].sort(
    (a, b) => a.to_mm - a.from_mm - (b.to_mm - b.from_mm) || (a.item.id < b.item.id ? -1 : 1),
  );
  const anchors = new Map<string, Anchor>();
  for (const own of byWidth) {
    const middle_mm = (own.from_mm + own.to_mm) / 2;
    const length_mm = Math.max(1e-6, own.to_mm - own.from_mm);
    const most_mm = Math.max(1e-6, radiusOf(own.item));
    let best: { anchor: Anchor; cost: number } | undefined;
    for (const z_mm of placesToTry(own)) {
      const r_mm = outerRadiusAt(own.item, z_mm - own.offset_mm);
      if (r_mm <= 0) continue;
      const over = shown.filter((other) => other !== own && isOver(other, z_mm, r_mm)).length;
      const x_px = frame.x(z_mm);
      const crowd = Math.min(...taken.map((other) => Math.abs(other - x_px)), Infinity);
      const edge_px = Math.min(z_mm - own.from_mm, own.to_mm - z_mm) * frame.scale_px_per_mm;
      // A dot on a part's very edge could mean its neighbour; a head says 'axle' better than the land beside it.
      const cost =
        8 * over +
        3 * (Math.abs(z_mm - middle_mm) / length_mm) +
        2 * (1 - r_mm / most_mm) +
        (edge_px < EDGE_px ? 6 : 0) +
        (crowd < CLOSEST_px ? 40 - 5 * crowd : 0);
      if (!best || cost < best.cost - 1e-9) best = { anchor: { id: own.item.id, x_px, r_mm }, cost };
    }
    const anchor = best?.anchor ?? { id: own.item.id, x_px: frame.x(middle_mm), r_mm: radiusOf(own.item) };
    taken.push(anchor.x_px);
    anchors.set(own.item.id, anchor);
  }
  return shown.map((each) => anchors.get(each.item.id)!);
}

/** Evenly along the part, and the middle of every stretch of its outline: a head is short against its axle. */
function placesToTry(own: ShownItem): readonly number[] {
  const tries = 24;
  const length_mm = own.to_mm - own.from_mm;
  const even = Array.from({ length: tries + 1 }, (_, k) => own.from_mm + (0.06 + (0.88 * k) / tries) * length_mm);
  const stretches = outlineOf(own.item).map(({ z0, z1 }) => (z0 + z1) / 2 + own.offset_mm);
  return [...even, ...stretches];
}

function isOver(other: ShownItem, z_mm: number, r_mm: number): boolean {
  if (z_mm < other.from_mm || z_mm > other.to_mm) return false;
  return outerRadiusAt(other.item, z_mm - other.offset_mm) > r_mm + 1e-6;
}

/** Flags placed over the drawing, and how they are shown. */
export interface NamePlan {
  readonly mode: 'names' | 'numbers' | 'none';
  readonly flags: readonly PlacedFlag[];
  readonly anchors: ReadonlyMap<string, Anchor>;
  readonly rows: number;
  readonly row_px: number;
  /** Height of the stretch in which leaders slant. */
  readonly slant_px: number;
  /** Radius of a number's circle. */
  readonly circle_px: number;
}

/** Decides between names and numbers and places the flags. */
export function planNames(
  shown: readonly ShownItem[],
  frame: Frame,
  troubled: ReadonlySet<string>,
  wantNames: boolean,
): NamePlan {
  const anchors = chooseAnchors(shown, frame);
  const anchorOf = new Map(anchors.map((anchor) => [anchor.id, anchor] as const));
  const edge = 8;
  const size = frame.text_px;
  if (wantNames && !frame.isNarrow) {
    const wanted = shown.map(({ item }) => ({
      id: item.id,
      anchor_px: anchorOf.get(item.id)!.x_px,
      left_px: 2,
      right_px: prefixWidth(item, troubled) + 5 + textWidth(item.name, size),
    }));
    const flags = placeFlags(wanted, edge, frame.width_px - edge, 3, frame.width_px * 0.06);
    if (flags) return planOf('names', flags, anchorOf, size * 1.5, 0);
  }
  if (!wantNames && shown.length === 0) return planOf('none', [], anchorOf, 0, 0);
  // A very crowded drawing gets smaller circles rather than overlapping ones.
  for (const circle_px of [size * 0.78, size * 0.62, 5, 3.5, 2]) {
    const wanted = shown.map(({ item }) => ({
      id: item.id,
      anchor_px: anchorOf.get(item.id)!.x_px,
      left_px: circle_px,
      right_px: circle_px,
    }));
    const flags = placeFlags(wanted, edge, frame.width_px - edge, 3, 26);
    if (flags) return planOf('numbers', flags, anchorOf, 2 * circle_px + 5, circle_px);
  }
  return planOf('none', [], anchorOf, 0, 0);
}

function planOf(
  mode: NamePlan['mode'],
  flags: readonly PlacedFlag[],
  anchors: ReadonlyMap<string, Anchor>,
  row_px: number,
  circle_px: number,
): NamePlan {
  const rows = flags.reduce((most, flag) => Math.max(most, flag.row + 1), 0);
  const off = flags.reduce((most, flag) => Math.max(most, Math.abs(flag.port_px - flag.anchor_px)), 0);
  return {
    mode,
    flags,
    anchors,
    rows,
    row_px,
    slant_px: off < 2 ? 6 : Math.min(30, Math.max(12, off * 0.35)),
    circle_px,
  };
}

function prefixWidth(item: PlacedItem, troubled: ReadonlySet<string>): number {
  return (isFacingItem(item) ? FACING_MARK_px + 5 : 0) + (troubled.has(item.id) ? 18 : 0);
}

/** Place of the drawing that the flags belong to. */
export interface NamePlace {
  /** Baseline zone: the upper edge of the rows. */
  readonly top_px: number;
  readonly axis_px: number;
  readonly frame: Frame;
  readonly colours: Palette;
  readonly troubled: ReadonlySet<string>;
  readonly strong: ReadonlySet<string>;
}

/** SVG text of all flags with their leaders. */
export function drawFlags(plan: NamePlan, shown: readonly ShownItem[], place: NamePlace): string {
  const { frame, axis_px, colours } = place;
  const parts_px = axis_px - frame.half_px - 5;
  const items = new Map(shown.map((each) => [each.item.id, each.item] as const));
  const rowTop = (row: number) => place.top_px + (plan.rows - 1 - row) * plan.row_px;
  let halos = '';
  let lines = '';
  let texts = '';
  for (const flag of plan.flags) {
    const item = items.get(flag.id)!;
    const anchor = plan.anchors.get(flag.id)!;
    const isTrouble = place.troubled.has(flag.id);
    const inset_px = Math.min(3.5, anchor.r_mm * frame.scale_px_per_mm * 0.4);
    const dot_px = axis_px - anchor.r_mm * frame.scale_px_per_mm + inset_px;
    const top = rowTop(flag.row);
    const start = plan.mode === 'numbers' ? top + 2 * plan.circle_px : top;
    const line = pathThrough(
      [
        [flag.port_px, start],
        [flag.port_px, parts_px - plan.slant_px],
        [anchor.x_px, parts_px],
        [anchor.x_px, dot_px],
      ],
      false,
    );
    const stroke = isTrouble ? colours.troubleText : colours.muted;
    halos += tag('path', {
      d: `M${px(anchor.x_px)} ${px(parts_px)}V${px(dot_px)}`,
      stroke: colours.ground,
      'stroke-width': 2.6,
    });
    lines += tag('path', { d: line, fill: 'none', stroke, 'stroke-width': 0.9 });
    lines += tag('circle', {
      cx: anchor.x_px,
      cy: dot_px,
      r: 2,
      fill: stroke,
      stroke: colours.ground,
      'stroke-width': 0.7,
    });
    texts +=
      plan.mode === 'names'
        ? nameFlag(item, flag, top, place)
        : numberFlag(plan.flags.indexOf(flag) + 1, flag, top, plan, place);
  }
  return tag('g', { class: 'aws-leaders' }, halos, lines) + tag('g', { class: 'aws-names' }, texts);
}

function nameFlag(item: PlacedItem, flag: PlacedFlag, top: number, place: NamePlace): string {
  const { colours, frame } = place;
  const size = frame.text_px;
  const isTrouble = place.troubled.has(item.id);
  const middle = top + size * 0.55;
  let x = flag.port_px + 5;
  let marks = '';
  if (isTrouble) {
    marks += badge(x + 6, middle, colours, 6.5);
    x += 18;
  }
  if (isFacingItem(item)) {
    marks += facingMark(item.smallFace, x + FACING_MARK_px / 2, middle, colours, size * 0.72);
    x += FACING_MARK_px + 5;
  }
  const text = words(item.name, x, top + size * 0.92, {
    'font-size': size,
    'font-weight': place.strong.has(item.id) || isTrouble ? 700 : 500,
    fill: isTrouble ? colours.troubleText : colours.ink,
  });
  return tag('g', { class: 'aws-name', 'data-item': item.id, 'data-box': boxOf(flag, top, size * 1.2) }, marks, text);
}

function numberFlag(number: number, flag: PlacedFlag, top: number, plan: NamePlan, place: NamePlace): string {
  const { colours } = place;
  const r = plan.circle_px;
  const isTrouble = place.troubled.has(flag.id);
  return tag(
    'g',
    { class: 'aws-name', 'data-item': flag.id, 'data-box': boxOf(flag, top, 2 * r) },
    numberCircle(number, flag.port_px, top + r, r, isTrouble, place.strong.has(flag.id), colours),
  );
}

// Read by the tests, which hold that no two boxes meet.
function boxOf(flag: PlacedFlag, top: number, height: number): string {
  return [flag.port_px - flag.left_px, top, flag.port_px + flag.right_px, top + height].map(px).join(' ');
}

function numberCircle(
  number: number,
  x: number,
  y: number,
  r: number,
  isTrouble: boolean,
  isStrong: boolean,
  colours: Palette,
): string {
  const size = r * (number > 9 ? 1.12 : 1.28);
  return (
    tag('circle', {
      cx: x,
      cy: y,
      r,
      fill: isStrong ? colours.ink : colours.ground,
      stroke: isTrouble ? colours.trouble : colours.ink,
      'stroke-width': isTrouble ? 2.2 : 1.1,
    }) +
    words(String(number), x, y + size * 0.36, {
      'font-size': size,
      'font-weight': 600,
      'text-anchor': 'middle',
      fill: isStrong ? colours.ground : isTrouble ? colours.troubleText : colours.ink,
    })
  );
}

/** The list that goes with numbers, which run from left to right: its SVG text from `top_px` down, and its height. */
export function drawList(
  plan: NamePlan,
  all: readonly ShownItem[],
  nameOf: (id: string) => string,
  top_px: number,
  place: Omit<NamePlace, 'top_px' | 'axis_px'>,
): { readonly svg: string; readonly height_px: number } {
  const { frame, colours, troubled } = place;
  const shown = plan.flags.map((flag) => all.find((each) => each.item.id === flag.id)!);
  const size = frame.text_px;
  const edge = 12;
  const row_px = Math.max(22, size * 1.9);
  const room_px = frame.width_px - 2 * edge;
  const widest = (name: (item: PlacedItem) => string) =>
    Math.max(
      0,
      ...shown.map(
        ({ item }) =>
          textWidth(name(item), size) +
          36 +
          (isFacingItem(item) ? FACING_MARK_px + 4 : 0) +
          (troubled.has(item.id) ? 17 : 0),
      ),
    );
  // The numbers tell twins apart, so short names do where the whole ones would need twice the height; a cut name
  // loses the size that tells look-alikes apart, so it is the last resort.
  const fitsTwice = (name: (item: PlacedItem) => string) => widest(name) <= room_px / 2;
  const isShort = !fitsTwice((item) => nameOf(item.id)) && fitsTwice((item) => item.name);
  const listed = (item: PlacedItem) => (isShort ? item.name : nameOf(item.id));
  const columns = Math.max(1, Math.min(4, Math.floor(room_px / Math.max(1, widest(listed)))));
  const column_px = room_px / columns;
  const rows = Math.ceil(shown.length / columns);
  let svg = '';
  shown.forEach(({ item, on }, k) => {
    const left = edge + Math.floor(k / rows) * column_px;
    const middle = top_px + (k % rows) * row_px + row_px / 2;
    const isTrouble = troubled.has(item.id);
    let x = left + 26;
    let marks = numberCircle(
      k + 1,
      left + 10,
      middle,
      Math.min(9, size * 0.78),
      isTrouble,
      place.strong.has(item.id),
      colours,
    );
    if (isTrouble) {
      marks += badge(x + 6, middle, colours, 6.5);
      x += 17;
    }
    if (facingHue(item) !== undefined) {
      marks += facingMark(item.smallFace, x + FACING_MARK_px / 2, middle, colours, 9);
      x += FACING_MARK_px + 4;
    }
    const name = fitText(listed(item), size, left + column_px - 6 - x);
    const text = tag(
      'text',
      {
        x,
        y: middle + size * 0.36,
        'font-size': size,
        'font-weight': place.strong.has(item.id) ? 700 : 500,
        fill: isTrouble ? colours.troubleText : colours.ink,
        'font-style': on ? undefined : 'italic',
      },
      tag('title', {}, escapeText(nameOf(item.id))),
      escapeText(name),
    );
    const hit = tag('rect', {
      x: left,
      y: middle - row_px / 2,
      width: column_px,
      height: row_px,
      fill: 'none',
      'pointer-events': 'all',
    });
    svg += tag('g', { class: 'aws-list', 'data-item': item.id }, hit, marks, text);
  });
  return { svg: tag('g', { class: 'aws-lists' }, svg), height_px: rows * row_px };
}
