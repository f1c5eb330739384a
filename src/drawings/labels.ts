/**
 * Names of the parts over a section: where each leader ends, where each name stands, and their drawing.
 *
 * A leader ends with a dot inside its part (practice of ISO 128-22: leader and reference lines), if possible where
 * nothing lies between the part and the names. Names stand in up to three rows; where they do not fit, numbers stand in
 * their place and a key gives the names.
 *
 * A flag is a name, number or figure with its leader, which goes straight down through the rows nearer to the drawing,
 * then slants to its anchor. Ports (where leaders cross the rows) keep the order of the anchors, so no two slants
 * cross; a text must end before the next leader that passes its row. That is a set of difference constraints p_j − p_i
 * ≥ d_ij, whose solutions are closed under minimum, maximum and mean: the flags pushed right and the flags pushed left
 * are both solutions, and so is their mean, which stands nearest to the anchors. px; row 0 is nearest to the drawing.
 */
import type { PlacedItem } from '../../shared/index.ts';
import { badge, FACING_MARK_px, facingMark, isFacingItem } from './marks.ts';
import { outerRadiusAt } from './outline.ts';
import { circle, corners, fitText, group, lines, rect, textWidth, words, type Shape, type Type } from './shapes.ts';
import { LEAST_TYPE_px, type Sheet, type ShownItem } from './sheet.ts';

/** A flag to place: where its leader must arrive and how far its box reaches left and right of the leader. */
export interface Flag {
  readonly id: string;
  readonly anchor_px: number;
  readonly left_px: number;
  readonly right_px: number;
}

/** A flag with its leader's port and its row. */
export interface PlacedFlag extends Flag {
  readonly port_px: number;
  readonly row: number;
}

/** Free px between a box and the next box or leader. */
const AIR_px = 7;

/**
 * Flags in at most `rowsMost` rows between `from_px` and `to_px`, as few rows as keep every flag within `reach_px` of
 * its anchor, else the closest fit; undefined when they do not fit at all.
 */
export function placeFlags(
  flags: readonly Flag[],
  from_px: number,
  to_px: number,
  rowsMost: number,
  reach_px: number,
): readonly PlacedFlag[] | undefined {
  const sorted = [...flags].sort((a, b) => a.anchor_px - b.anchor_px || (a.id < b.id ? -1 : 1));
  if (sorted.length === 0) return [];
  let best: { flags: PlacedFlag[]; off: number } | undefined;
  for (let rows = 1; rows <= rowsMost; rows += 1) {
    for (let phase = 0; phase < rows; phase += 1) {
      const rowOf = (k: number) => rows - 1 - ((k + phase) % rows);
      const ports = portsOf(sorted, rowOf, from_px, to_px);
      if (!ports) continue;
      const placed = sorted.map((flag, k) => ({ ...flag, port_px: ports[k]!, row: rowOf(k) }));
      const off = Math.max(...placed.map((flag) => Math.abs(flag.port_px - flag.anchor_px)));
      if (!best || off < best.off - 0.5) best = { flags: placed, off };
    }
    if (best && best.off <= reach_px) break;
  }
  return best?.flags;
}

function apartNeeded(left: Flag, leftRow: number, right: Flag, rightRow: number): number {
  if (leftRow === rightRow) return left.right_px + AIR_px + right.left_px;
  // The farther flag's leader passes the nearer flag's row.
  return rightRow > leftRow ? left.right_px + AIR_px : AIR_px + right.left_px;
}

function portsOf(
  flags: readonly Flag[],
  rowOf: (k: number) => number,
  from_px: number,
  to_px: number,
): number[] | undefined {
  const count = flags.length;
  const need = (i: number, j: number) => apartNeeded(flags[i]!, rowOf(i), flags[j]!, rowOf(j));
  const pushRight = (start: (k: number) => number) => {
    const ports: number[] = [];
    for (let j = 0; j < count; j += 1) {
      let port = start(j);
      for (let i = 0; i < j; i += 1) port = Math.max(port, ports[i]! + need(i, j));
      ports.push(port);
    }
    return ports;
  };
  const pushLeft = (start: (k: number) => number) => {
    const ports = new Array<number>(count).fill(0);
    for (let i = count - 1; i >= 0; i -= 1) {
      let port = start(i);
      for (let j = i + 1; j < count; j += 1) port = Math.min(port, ports[j]! - need(i, j));
      ports[i] = port;
    }
    return ports;
  };
  const lowest = pushRight((k) => from_px + flags[k]!.left_px);
  const highest = pushLeft((k) => to_px - flags[k]!.right_px);
  if (lowest.some((port, k) => port > highest[k]! + 1e-9)) return undefined;
  const right = pushRight((k) => flags[k]!.anchor_px).map((port, k) =>
    Math.max(lowest[k]!, Math.min(port, highest[k]!)),
  );
  const left = pushLeft((k) => flags[k]!.anchor_px).map((port, k) => Math.min(highest[k]!, Math.max(port, lowest[k]!)));
  return right.map((port, k) => (port + left[k]!) / 2);
}

/** Where a leader ends: px along the drawing, mm off the axis. */
interface Anchor {
  readonly x_px: number;
  readonly r_mm: number;
}

/** Anchors nearer than this read as one. */
const CLOSEST_px = 4;
/** How far inside its part a dot should stand, px. */
const INSIDE_px = 3;

/** One anchor a part, no two at nearly the same place if that can be helped. */
function chooseAnchors({ shown, x, scale_px_per_mm }: Sheet): ReadonlyMap<string, Anchor> {
  const length_mm = ({ from_mm, to_mm }: ShownItem) => to_mm - from_mm;
  const byLength = [...shown].sort((a, b) => length_mm(a) - length_mm(b) || (a.id < b.id ? -1 : 1));
  const anchors = new Map<string, Anchor>();
  for (const own of byLength) {
    const middle_mm = (own.from_mm + own.to_mm) / 2;
    let anchor: Anchor = { x_px: x(middle_mm), r_mm: own.radius_mm };
    let least = Infinity;
    for (const z_mm of placesToTry(own)) {
      const r_mm = outerRadiusAt(own.outline, z_mm - own.offset_mm);
      if (r_mm <= 0) continue;
      const over = shown.filter((other) => other !== own && isOver(other, z_mm, r_mm)).length;
      const x_px = x(z_mm);
      const crowd = Math.min(...[...anchors.values()].map((other) => Math.abs(other.x_px - x_px)), Infinity);
      const edge_px = Math.min(z_mm - own.from_mm, own.to_mm - z_mm) * scale_px_per_mm;
      // A dot on a part's very edge could mean its neighbour; a head says 'axle' better than the land beside it.
      const cost =
        8 * over +
        3 * (Math.abs(z_mm - middle_mm) / Math.max(1e-6, length_mm(own))) +
        2 * (1 - r_mm / Math.max(1e-6, own.radius_mm)) +
        (edge_px < INSIDE_px ? 6 : 0) +
        (crowd < CLOSEST_px ? 40 - 5 * crowd : 0);
      if (cost >= least - 1e-9) continue;
      least = cost;
      anchor = { x_px, r_mm };
    }
    anchors.set(own.id, anchor);
  }
  return anchors;
}

/** Evenly along the part, and the middle of every stretch of its outline: a head is short against its axle. */
function placesToTry({ from_mm, to_mm, outline, offset_mm }: ShownItem): readonly number[] {
  const tries = 24;
  const even = Array.from({ length: tries + 1 }, (_, k) => from_mm + (0.06 + (0.88 * k) / tries) * (to_mm - from_mm));
  return [...even, ...outline.map(({ z0, z1 }) => (z0 + z1) / 2 + offset_mm)];
}

function isOver(other: ShownItem, z_mm: number, r_mm: number): boolean {
  if (z_mm < other.from_mm || z_mm > other.to_mm) return false;
  return outerRadiusAt(other.outline, z_mm - other.offset_mm) > r_mm + 1e-6;
}

/** Flags placed over the drawing, and how they are shown. */
export interface NamePlan {
  readonly flags: readonly PlacedFlag[];
  readonly anchors: ReadonlyMap<string, Anchor>;
  readonly rows: number;
  readonly row_px: number;
  /** Height of the stretch in which leaders slant. */
  readonly slant_px: number;
  /** Radius of a number's circle; nothing where names stand. */
  readonly circle_px: number | undefined;
}

/** Rows that names, and numbers, may take. */
const NAME_ROWS = 3;
const NUMBER_ROWS = 4;
/** Of a number's circle, so that its digits are as large as other words. */
const CIRCLE_px = { one: LEAST_TYPE_px / 1.28, two: LEAST_TYPE_px / 1.12 } as const;

/** Places the names, or numbers in their stead; nothing where they do not fit. */
export function planNames(sheet: Sheet, with_: 'names' | 'numbers'): NamePlan | undefined {
  const { shown, text_px: size, width_px, span_px } = sheet;
  const anchors = chooseAnchors(sheet);
  const plan = (
    row_px: number,
    circle_px: number | undefined,
    rowsMost: number,
    reach_px: number,
    room: (item: PlacedItem) => readonly [left_px: number, right_px: number],
  ): NamePlan | undefined => {
    const wanted = shown.map(({ id, item }) => {
      const [left_px, right_px] = room(item);
      return { id, anchor_px: anchors.get(id)!.x_px, left_px, right_px };
    });
    const flags = placeFlags(wanted, span_px[0] - 4, span_px[1] + 4, rowsMost, reach_px);
    if (!flags) return undefined;
    const rows = Math.max(0, ...flags.map(({ row }) => row + 1));
    const off = Math.max(0, ...flags.map(({ port_px, anchor_px }) => Math.abs(port_px - anchor_px)));
    const slant_px = off < 2 ? 6 : Math.min(30, Math.max(12, off * 0.35));
    return { flags, anchors, rows, row_px, slant_px, circle_px };
  };
  if (with_ === 'names')
    return plan(size * 1.5, undefined, NAME_ROWS, width_px * 0.06, (item) => [
      2,
      prefixes(item, sheet).width_px + 5 + textWidth(item.name, size),
    ]);
  const circle_px = Math.max(shown.length > 9 ? CIRCLE_px.two : CIRCLE_px.one, size * 0.78);
  return plan(2 * circle_px + 5, circle_px, NUMBER_ROWS, 26, () => [circle_px, circle_px]);
}

/** The marks before a name: trouble, then facing. */
function prefixes(item: PlacedItem, { troubled, colours }: Sheet, afterBadge_px = 18, afterFacing_px = 5) {
  const isTrouble = troubled.has(item.id);
  const facing_px = isTrouble ? afterBadge_px : 0;
  return {
    width_px: facing_px + (isFacingItem(item) ? FACING_MARK_px + afterFacing_px : 0),
    at: (x: number, y: number, height_px: number): readonly Shape[] => [
      ...(isTrouble ? badge(x + 6, y, colours, 6.5) : []),
      ...(isFacingItem(item)
        ? facingMark(item.smallFace, x + facing_px + FACING_MARK_px / 2, y, colours, height_px)
        : []),
    ],
  };
}

/** How a part's name is set: trouble and what the step or the user has in hand stand out. */
function typeOf(id: string, { troubled, strong, colours }: Sheet): Type {
  const isTrouble = troubled.has(id);
  return {
    weight: strong.has(id) || isTrouble ? 700 : 500,
    fill: isTrouble ? colours.troubleText : colours.ink,
  };
}

/** All flags with their leaders, between the upper edge of the rows and the axis. */
export function drawFlags(plan: NamePlan, sheet: Sheet, top_px: number, axis_px: number): readonly Shape[] {
  const { colours, scale_px_per_mm, shown, text_px: size } = sheet;
  const parts_px = axis_px - sheet.half_px - 5;
  const halos: Shape[] = [];
  const leaders: Shape[] = [];
  const names: Shape[] = [];
  plan.flags.forEach((flag, k) => {
    const { id, port_px } = flag;
    const { item } = shown.find((each) => each.id === id)!;
    const { x_px, r_mm } = plan.anchors.get(id)!;
    const dot_px = axis_px - r_mm * scale_px_per_mm + Math.min(3.5, r_mm * scale_px_per_mm * 0.4);
    const top = top_px + (plan.rows - 1 - flag.row) * plan.row_px;
    const r = plan.circle_px;
    const start = top + 2 * (r ?? 0);
    const stroke = sheet.troubled.has(id) ? colours.troubleText : colours.muted;
    const leader = corners(port_px, start, port_px, parts_px - plan.slant_px, x_px, parts_px, x_px, dot_px);
    halos.push(lines([corners(x_px, parts_px, x_px, dot_px)], { stroke: colours.ground, pen: 2.6 }));
    leaders.push(lines([leader], { stroke, pen: 0.9 }));
    leaders.push(circle([x_px, dot_px], 2, { fill: stroke, stroke: colours.ground, pen: 0.7 }));
    const height = r === undefined ? size * 1.2 : 2 * r;
    const box = [port_px - flag.left_px, top, port_px + flag.right_px, top + height];
    const prefix = prefixes(item, sheet);
    const name =
      r === undefined
        ? [
            ...prefix.at(port_px + 5, top + size * 0.55, size * 0.72),
            words(item.name, port_px + 5 + prefix.width_px, top + size * 0.92, size, typeOf(id, sheet)),
          ]
        : numberCircle(k + 1, id, port_px, top + r, r, sheet);
    names.push(group(name, { class: 'aws-name', data: { item: id }, box }));
  });
  return [
    group(halos, { class: 'aws-halos' }),
    group(leaders, { class: 'aws-leaders' }),
    group(names, { class: 'aws-names' }),
  ];
}

function numberCircle(
  number: number,
  id: string,
  x: number,
  y: number,
  r: number,
  { troubled, strong, colours }: Sheet,
): readonly Shape[] {
  const size = Math.max(LEAST_TYPE_px, r * (number > 9 ? 1.12 : 1.28));
  const [isTrouble, isStrong] = [troubled.has(id), strong.has(id)];
  const { ink, ground, trouble, troubleText } = colours;
  const ring = { fill: isStrong ? ink : ground, stroke: isTrouble ? trouble : ink, pen: isTrouble ? 2.2 : 1.1 };
  const fill = isStrong ? ground : isTrouble ? troubleText : ink;
  return [
    circle([x, y], r, ring),
    words(String(number), x, y + size * 0.36, size, { weight: 600, anchor: 'middle', fill }),
  ];
}

/** The key that goes with numbers: how much room it takes, and its shapes from its upper left corner. */
export interface Key {
  readonly width_px: number;
  readonly height_px: number;
  readonly at: (left_px: number, top_px: number) => Shape;
}

const KEY_NUMBER_px = 28;
const KEY_BETWEEN_px = 10;

/** The key of a plan's numbers, which run from left to right, within `room_px` across and in at most `columnsMost`. */
export function keyOf(
  plan: NamePlan,
  sheet: Sheet,
  nameOf: (id: string) => string,
  room_px: number,
  columnsMost = 4,
): Key {
  const { text_px: size } = sheet;
  const shown = plan.flags.map((flag) => sheet.shown.find(({ id }) => id === flag.id)!);
  const row_px = Math.max(22, size * 1.6);
  const prefixOf = (item: PlacedItem) => prefixes(item, sheet, 17, 4);
  const widthOf = (item: PlacedItem, name: string) =>
    KEY_NUMBER_px + prefixOf(item).width_px + textWidth(name, size) + KEY_BETWEEN_px;
  const widest = (name: (item: PlacedItem) => string) =>
    Math.max(0, ...shown.map(({ item }) => widthOf(item, name(item))));
  // The numbers tell twins apart, so short names do where the whole ones would need twice the height; a cut name
  // loses the size that tells look-alikes apart, so it is the last resort.
  const columnsFor = (name: (item: PlacedItem) => string) =>
    Math.max(0, Math.min(columnsMost, Math.floor(room_px / Math.max(1, widest(name)))));
  const whole = columnsFor(({ id }) => nameOf(id));
  const short = columnsFor(({ name }) => name);
  const isShort = whole < Math.min(2, columnsMost) && short > whole;
  const listed = (item: PlacedItem) => (isShort ? item.name : nameOf(item.id));
  const columns = Math.max(1, isShort ? short : whole);
  const column_px = Math.min(room_px / columns, columns === 1 && columnsMost > 1 ? room_px : widest(listed));
  const rows = Math.ceil(shown.length / columns);
  const entry = ({ id, item, on }: ShownItem, k: number, x0: number, y0: number) => {
    const left = x0 + Math.floor(k / rows) * column_px;
    const middle = y0 + (k % rows) * row_px + row_px / 2;
    const prefix = prefixOf(item);
    const x = left + KEY_NUMBER_px + prefix.width_px;
    const name = fitText(listed(item), size, left + column_px - 2 - x);
    const weight = sheet.strong.has(id) ? 700 : 500;
    const type = { ...typeOf(id, sheet), weight, isItalic: !on, title: nameOf(id) };
    return group(
      [
        rect(left, middle - row_px / 2, column_px, row_px, { hits: 'all' }),
        ...numberCircle(k + 1, id, left + 12, middle, Math.min(plan.circle_px ?? 0, row_px / 2 - 0.5), sheet),
        ...prefix.at(left + KEY_NUMBER_px, middle, 9),
        words(name, x, middle + size * 0.36, size, type),
      ],
      { class: 'aws-list', data: { item: id } },
    );
  };
  return {
    width_px: columns * column_px,
    height_px: rows * row_px,
    at: (left_px, top_px) =>
      group(
        shown.map((each, k) => entry(each, k, left_px, top_px)),
        { class: 'aws-lists' },
      ),
  };
}
