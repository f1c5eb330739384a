/**
 * The section drawing of one stack: a whole drawing, from the non-drive side (left) to the drive side.
 *
 * Method: parts take their places from apart-ness or from a step, one scale fits them into the width, and the picture
 * is composed downward: side headings, names on leaders, the cut parts, facing marks, the clamp column, scale and key,
 * list. Drawing practice after ISO 128-3 (sections), ISO 128-22 (leaders) and ISO 6410-1 (threads). A pure function of
 * its arguments: the same input gives the same shapes. Input mm and N, composed in px of the view box.
 */
import { nameOf, sideWord, wordForce, wordTool } from '../../shared/index.ts';
import type { Analysis, PlacedItem, Side, StackAnalysis } from '../../shared/index.ts';
import { COLUMN_px, columnReference, drawColumn, isBroken, wordGap } from './column.ts';
import { cutPart } from './cut.ts';
import { hatchStyles } from './hatch.ts';
import { drawFlags, drawList, placeFlags, planNames } from './labels.ts';
import {
  axleArrow,
  badge,
  faceBand,
  FACING_MARK_px,
  facingMark,
  isFacingItem,
  scaleBar,
  turnArrow,
  type ScaleBar,
} from './marks.ts';
import {
  arranged,
  corners,
  fitText,
  group,
  lines,
  PX_PER_MM,
  rect,
  textWidth,
  words,
  type Drawing,
  type Shape,
} from './shapes.ts';
import { EDGE_px, sheetOf, showItems, type SectionOptions, type Sheet, type ShownItem } from './sheet.ts';

const STYLE = '.aws-item,.aws-name,.aws-list{cursor:pointer}.aws-item:hover .aws-o{stroke-width:2.4}';

/**
 * Below this height of the cut parts nothing can be read off them, px; beside a drawing that can be read less will do.
 */
const LEAST_PARTS_px = 72;
const LEAST_BARE_px = 44;

/** Where the parts would be lower than this, px, the key and the row of facing marks make room for them. */
const DENSE_PARTS_px = 150;

/** Draws `stack` of `analysis`. */
export function drawSection(stack: StackAnalysis, analysis: Analysis, options: SectionOptions): Drawing {
  const width_px = Math.max(240, options.width_px ?? 1024);
  const most_px = Math.min(360, Math.max(120, width_px * 0.22));
  const shown = showItems(stack, options, width_px);
  const draw = (parts_px: number, isDense: boolean) =>
    compose(sheetOf(stack, analysis, options, shown, width_px, parts_px), analysis, isDense);
  let drawn = draw(most_px, false);
  const { height_px } = options;
  if (height_px !== undefined && drawn.height_px > height_px) {
    // Names may need another row at a smaller scale, so the room is worked out anew until it settles.
    const least_px = options.bare ? LEAST_BARE_px : LEAST_PARTS_px;
    const isDense = drawn.parts_px + height_px - drawn.height_px < DENSE_PARTS_px;
    let fitting: Composed | undefined;
    for (let tries = 0; tries < 5; tries += 1) {
      const room_px = drawn.parts_px + height_px - drawn.height_px;
      drawn = draw(Math.min(most_px, Math.max(least_px, room_px)), isDense);
      if (drawn.height_px > height_px) continue;
      if (!fitting || drawn.parts_px > fitting.parts_px) fitting = drawn;
      if (height_px - drawn.height_px < 4) break;
    }
    drawn = fitting ?? drawn;
  }
  const label = `Section of ${stack.name}, from the non-drive side to the drive side`;
  return {
    class: `aws aws-${options.theme}`,
    data: { stack: stack.id },
    label,
    title: label,
    description: describe(drawn.sheet, analysis),
    style: STYLE,
    shown: { scale: PX_PER_MM, unit: 'px' },
    ...arranged(drawn.shapes, width_px, drawn.height_px),
  };
}

interface Composed {
  readonly sheet: Sheet;
  readonly shapes: readonly Shape[];
  readonly height_px: number;
  /** Height that the cut parts take. */
  readonly parts_px: number;
}

function compose(sheet: Sheet, analysis: Analysis, isDense: boolean): Composed {
  const { options, width_px, text_px: size, colours } = sheet;
  const isBare = options.bare === true;

  let y = options.heading ? size * 2.4 : size * 0.6;
  const heading = options.heading ? [headingOf(`${analysis.model.name}: ${sheet.stack.name}`, sheet)] : [];
  const sides = isBare ? { shapes: [], height_px: 0 } : drawSides(sheet, y);
  y += sides.height_px + size * 0.5;

  const plan = isBare ? undefined : planNames(sheet);
  const namesTop = y;
  y += plan ? plan.rows * plan.row_px + plan.slant_px + 8 : 0;
  const axis_px = y + sheet.half_px;
  const flags = plan ? drawFlags(plan, sheet, namesTop, axis_px) : [];
  y = axis_px + sheet.half_px + 10;

  const marks = drawMarks(sheet, y + 8, !isDense);
  y += marks.length === 0 ? 2 : 23;

  const bar = scaleBar(sheet.scale_px_per_mm, size * 0.9, colours);
  const column = drawColumn(sheet, y, width_px - EDGE_px - (isDense ? bar.width_px + 8 : 0));
  y += column.length === 0 && !isDense ? 0 : COLUMN_px + size * (isDense ? 1.6 : 1.9) + 4;
  const foot = isDense
    ? bar.at(width_px - EDGE_px - bar.width_px, y - size * 0.25 - 4)
    : drawFoot(bar, sheet, y + size, !isBare);
  y += isDense ? 0 : size * 1.7;

  const list = plan?.circle_px === undefined ? undefined : drawList(plan, sheet, (id) => nameOf(id, analysis), y);
  const height_px = Math.ceil(y + (list?.height_px ?? 0) + 5);
  const shapes = [
    rect(0, 0, width_px, height_px, { class: 'aws-ground', fill: colours.ground }),
    drawHits(sheet, axis_px),
    ...heading,
    ...sides.shapes,
    axisLine(sheet, axis_px, Math.min(10, sheet.margin_px), { class: 'aws-axis', stroke: colours.muted, pen: 0.8 }),
    drawParts(sheet, analysis, axis_px),
    ...drawEnds(sheet, axis_px),
    ...flags,
    ...marks,
    ...column,
    foot,
    ...(list ? [list.shape] : []),
  ];
  return { sheet, shapes, height_px, parts_px: 2 * sheet.half_px };
}

const TURN_RADIUS_px = { narrow: 9, wide: 12 } as const;

function drawEnds({ stack, isNarrow, colours, ...sheet }: Sheet, axis_px: number): readonly Shape[] {
  const { stand, turn } = stack.tightening;
  return (['non-drive', 'drive'] as const).flatMap((side) => {
    const outward = side === 'drive' ? 1 : -1;
    let x = side === 'drive' ? sheet.right_px : sheet.left_px;
    const shapes: Shape[] = [];
    if (stack.from === side) {
      const length = isNarrow ? 16 : 32;
      const arrow = axleArrow(x + outward * 6, axis_px, length, outward === 1 ? -1 : 1, colours);
      shapes.push(group(arrow, { class: 'aws-insert' }));
      x += outward * (length + 8);
    }
    if (stand === side) {
      const radius = isNarrow ? TURN_RADIUS_px.narrow : TURN_RADIUS_px.wide;
      const arrow = turnArrow(turn, x + outward * (radius + 8), axis_px, radius, colours);
      shapes.push(group(arrow, { class: 'aws-turn', data: { turn } }));
    }
    return shapes;
  });
}

function headingOf(text: string, { text_px, width_px, colours }: Sheet): Shape {
  const size = text_px * 1.15;
  const fitting = fitText(text, size, width_px - 2 * EDGE_px);
  return words(fitting, width_px / 2, size * 1.5, size, { weight: 700, anchor: 'middle', fill: colours.ink });
}

/** What happens at one side, one line each. */
function sideLines({ stack, isNarrow }: Sheet, side: Side): readonly string[] {
  const { stand, turn, tool, held, torque_Nm } = stack.tightening;
  const wordWith = (used: typeof tool) => (used ? `, ${wordTool(used)}` : '');
  const said: string[] = [];
  if (stack.from === side) said.push(isNarrow ? 'axle goes in here' : 'axle goes in from this side');
  if (stand === side)
    said.push(isNarrow ? `turn ${turn}` : `turn ${turn}, seen from here${wordWith(tool)}, ${torque_Nm} N·m`);
  if (held?.side === side) said.push(`hold still${isNarrow ? '' : wordWith(held.tool)}`);
  return said;
}

function drawSides(sheet: Sheet, top_px: number): { readonly shapes: readonly Shape[]; readonly height_px: number } {
  const { text_px: size, width_px, colours } = sheet;
  const small = size * 0.92;
  const line_px = small * 1.4;
  const ends = (['non-drive', 'drive'] as const).map((side) => {
    const name = side === 'drive' ? 'DRIVE SIDE' : 'NON-DRIVE SIDE';
    const said = sideLines(sheet, side);
    return { side, name, name_px: textWidth(name, size) + name.length * 0.6, said, row: said.join(' · ') };
  });
  const inOne_px = ends.map(({ name_px, row }) => name_px + (row === '' ? 0 : 12 + textWidth(row, small)));
  // Height is dear under the picture: what fits beside the side's name goes there.
  const isOneLine = !sheet.isNarrow && inOne_px[0]! + inOne_px[1]! + 60 < width_px;
  const shapes = ends.flatMap(({ side, name, name_px, said, row }) => {
    const inward = side === 'drive' ? -1 : 1;
    const x = side === 'drive' ? width_px - EDGE_px : EDGE_px;
    const y = top_px + size;
    const anchor = side === 'drive' ? 'end' : undefined;
    const look = { anchor, fill: colours.muted } as const;
    const beside = row === '' ? [] : [words(row, x + inward * (name_px + 6), y, small, look)];
    const below = said.map((line, k) =>
      words(fitText(line, small, width_px / 2 - 20), x, y + (k + 1) * line_px, small, look),
    );
    const title = words(name, x, y, size, { weight: 700, spacing: 0.6, anchor, fill: colours.ink });
    return [title, ...(isOneLine ? beside : below)];
  });
  const most = isOneLine ? 0 : Math.max(...ends.map(({ said }) => said.length));
  return { shapes: [group(shapes, { class: 'aws-sides' })], height_px: size * 1.2 + most * line_px };
}

function axisLine({ left_px, right_px }: Sheet, axis_px: number, over_px: number, look: Parameters<typeof lines>[1]) {
  const ends = corners(left_px - over_px, axis_px, right_px + over_px, axis_px);
  return lines([ends], { ...look, dash: [14, 3, 2.5, 3] });
}

const DRAWING_ORDER: readonly PlacedItem['role'][] = ['boss', 'bearing', 'spacer', 'axle', 'receiver'];

function drawParts(sheet: Sheet, analysis: Analysis, axis_px: number): Shape {
  const { shown, options, troubled } = sheet;
  const hatches = hatchStyles(shown.map((each) => each.item));
  const groups = [...shown]
    .sort((a, b) => rank(a) - rank(b))
    .map((each) => {
      const { id, item } = each;
      const states = {
        'is-ghost': !each.on,
        'is-troubled': troubled.has(id),
        'is-active': options.activeIds?.includes(id),
        'is-lit': options.litId === id,
        'is-selected': options.selectedId === id,
      };
      const names = Object.entries(states).flatMap(([state, holds]) => (holds ? [state] : []));
      return group(cutPart(each, sheet, axis_px, hatches.get(id)!), {
        class: ['aws-item', `aws-${item.role}`, ...names].join(' '),
        data: { item: id, facing: isFacingItem(item) ? (item.smallFace ?? 'equal') : undefined },
        title: nameOf(id, analysis),
      });
    });
  // The axis runs over what is not cut, thin, as drawings have it.
  const axis = axisLine(sheet, axis_px, 0, { stroke: sheet.colours.line, pen: 0.7, hits: 'none' });
  return group([...groups, axis], { class: 'aws-parts' });
}

// Ghosts go on top of what is there already, or a boss would hide them; a sleeve lies under the screw inside it.
function rank({ item, on }: ShownItem): number {
  const isSleeve = item.role === 'axle' && item.thread?.inner === true;
  return DRAWING_ORDER.indexOf(item.role) - (isSleeve ? 0.5 : 0) + (on ? 0 : 10);
}

/** Invisible rectangles under everything, so that a finger beside a small part still finds it. */
function drawHits({ shown, x, scale_px_per_mm }: Sheet, axis_px: number): Shape {
  const least = 44;
  const area = ({ radius_mm, from_mm, to_mm }: ShownItem) => radius_mm * (to_mm - from_mm);
  const middles = shown.map((each) => x((each.from_mm + each.to_mm) / 2)).sort((a, b) => a - b);
  const hits = [...shown]
    .sort((a, b) => area(b) - area(a))
    .map(({ id, from_mm, to_mm, radius_mm }) => {
      const [from, to] = [x(from_mm), x(to_mm)];
      const middle = (from + to) / 2;
      // A finger's width, but no further than half way to the next part's middle.
      const before = middles.filter((other) => other < middle - 0.5).at(-1) ?? -Infinity;
      const after = middles.find((other) => other > middle + 0.5) ?? Infinity;
      const left = Math.min(from, Math.max(middle - least / 2, (before + middle) / 2));
      const right = Math.max(to, Math.min(middle + least / 2, (after + middle) / 2));
      const half = Math.max(least / 2, radius_mm * scale_px_per_mm);
      const look = { class: 'aws-hit', data: { item: id }, hits: 'all' } as const;
      return rect(left, axis_px - half, right - left, 2 * half, look);
    });
  return group(hits, { class: 'aws-hits' });
}

/** Facing marks and trouble badges in one row under the parts; badges alone where the marks would stand too far off. */
function drawMarks(sheet: Sheet, y: number, wantFacing: boolean): readonly Shape[] {
  const { shown, troubled, colours, x, width_px } = sheet;
  const fit = (withFacing: boolean) => {
    const marked = shown.flatMap(({ item, id, from_mm, to_mm }) => {
      const [hasFacing, isTrouble] = [withFacing && isFacingItem(item), troubled.has(id)];
      const room_px = ((hasFacing ? FACING_MARK_px : 0) + (isTrouble ? 14 : 0)) / 2 - 2;
      const flag = { id, anchor_px: x((from_mm + to_mm) / 2), left_px: room_px, right_px: room_px };
      return hasFacing || isTrouble ? [{ ...flag, smallFace: item.smallFace, hasFacing, isTrouble }] : [];
    });
    const flags = placeFlags(marked, 4, width_px - 4, 1, Infinity);
    return flags?.map((flag) => ({ ...marked.find(({ id }) => id === flag.id)!, ...flag }));
  };
  const both = wantFacing ? fit(true) : undefined;
  const isNear = both?.every((flag) => Math.abs(flag.port_px - flag.anchor_px) <= 30);
  const marks = ((isNear ? both : fit(false)) ?? []).map(({ id, port_px, smallFace, hasFacing, isTrouble }) =>
    group(
      [
        ...(hasFacing ? facingMark(smallFace, port_px + (isTrouble ? 8 : 0), y, colours) : []),
        ...(isTrouble ? badge(port_px - (hasFacing ? 8 : 0), y, colours) : []),
      ],
      { class: 'aws-mark', data: { item: id } },
    ),
  );
  return marks.length === 0 ? [] : [group(marks, { class: 'aws-marks' })];
}

const KEY = [
  ['inner-ring', 'bears on inner ring'],
  ['outer-ring', 'on outer ring'],
  ['seal', 'on seal'],
  ['arm', 'on arm'],
  ['ring', 'on spacer or land'],
  ['nothing', 'on nothing'],
] as const;

/** Scale bar at the left; the key of face bands to the right where there is room. */
function drawFoot(bar: ScaleBar, sheet: Sheet, base_px: number, wantKey: boolean): Shape {
  const { text_px, isNarrow, width_px, colours, shown } = sheet;
  const size = text_px * 0.9;
  const scale = bar.at(EDGE_px, base_px);
  const widths = KEY.map(([, text]) => 9 + textWidth(text, size) + 12);
  let x = width_px - EDGE_px - widths.reduce((sum, width) => sum + width, 0);
  const hasKey = wantKey && !isNarrow && shown.some(({ item }) => isFacingItem(item));
  if (!hasKey || x < EDGE_px + bar.width_px + 16) return scale;
  const key = KEY.flatMap(([bears, text], k) => {
    const left = x;
    x += widths[k]!;
    return [
      ...faceBand(bears, left, base_px - size * 0.95, base_px + size * 0.15, 1, colours),
      words(text, left + 9, base_px, size, { fill: colours.muted }),
    ];
  });
  return group([scale, group(key, { class: 'aws-key' })], { class: 'aws-foot' });
}

/** The drawing in words, for people who do not see it. */
function describe({ stack, shown, troubled }: Sheet, analysis: Analysis): string {
  const name = (id: string) => nameOf(id, analysis);
  const list = shown.map(({ id, item }) =>
    item.smallFace === undefined || !isFacingItem(item)
      ? name(id)
      : `${name(id)}, small face to the ${sideWord(item.smallFace)}`,
  );
  const sentences = [
    `From the non-drive side to the drive side: ${list.join('; ')}.`,
    `The axle goes in from the ${sideWord(stack.from)}.`,
    `It is tightened ${stack.tightening.turn}, seen from the ${sideWord(stack.tightening.stand)}.`,
  ];
  const reference_N = columnReference(stack);
  const broken = stack.column.filter((link) => isBroken(link, reference_N));
  if (stack.column.length > 0 && broken.length === 0)
    sentences.push(`The clamp column is whole and carries ${wordForce(stack.clamp_N)}.`);
  for (const link of broken) {
    const gap = link.gap_mm > 0 ? `a gap of ${wordGap(link.gap_mm)}` : 'no force';
    sentences.push(`The clamp column is broken between ${name(link.from)} and ${name(link.to)}: ${gap}.`);
  }
  if (troubled.size > 0) sentences.push(`In trouble: ${[...troubled].map(name).join('; ')}.`);
  const off = shown.filter((each) => !each.on);
  if (off.length > 0) sentences.push(`Not fitted yet: ${off.map(({ id }) => name(id)).join('; ')}.`);
  return sentences.join(' ');
}
