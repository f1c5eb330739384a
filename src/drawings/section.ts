/**
 * The section drawing of one stack: a whole drawing, from the non-drive side (left) to the drive side.
 *
 * Method: parts take their places from apart-ness or from a step, one scale fits them into the width, and the picture
 * is composed downward: side headings, names on leaders, the cut parts, facing marks, the clamp column, scale and key,
 * list. Drawing practice after ISO 128-3 (sections), ISO 128-22 (leaders) and ISO 6410-1 (threads). A pure function of
 * its arguments: the same input gives the same shapes. Input mm and N, composed in px of the view box.
 */
import { nameOf, sideWord, wordForce, wordMarkedFace, wordTool, wordTorque } from '../../shared/index.ts';
import type { Analysis, PlacedItem, Side, StackAnalysis } from '../../shared/index.ts';
import { COLUMN_px, columnReference, drawColumn, isBroken, wordGap } from './column.ts';
import { cutPart } from './cut.ts';
import { hatchStyles } from './hatch.ts';
import { drawFlags, keyOf, placeFlags, planNames, type Key, type NamePlan } from './labels.ts';
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
import {
  BELOW_HALF_px,
  EDGE_px,
  LEAST_TYPE_px,
  NARROW_px,
  sheetOf,
  showItems,
  sideRoom,
  type RowLine,
  type SectionOptions,
  type Sheet,
  type SheetRoom,
  type ShownItem,
} from './sheet.ts';
import { SECTION_STYLE } from './sectionStyle.ts';

/** How a drawing is arranged: what it leaves out for want of room. */
interface Form {
  readonly names: 'names' | 'numbers' | 'none';
  readonly parts: 'whole' | 'half' | 'none';
  /** Without the row of facing marks and the key of bands, the scale beside the clamp column. */
  readonly isDense: boolean;
  /** Where the key of the numbers stands. */
  readonly key?: 'beside' | 'below';
  /** Least share of the scale that the width allows, and least height of the parts, px, at which it will do. */
  readonly share: number;
  readonly least_px: number;
}

/** Where the parts would be lower than this, px, the key and the row of facing marks make room for them. */
const DENSE_PARTS_px = 150;
/** Below this height of the cut parts nothing can be read off them, px; of the upper half alone, less will do. */
const LEAST_PARTS_px = 72;
const LEAST_HALF_px = 34;
/** Width that a key beside the parts must leave them, px. */
const LEAST_BESIDE_px = 320;
/** In line with the picture no part stands nearer to the drawing's ends, px. */
const LINE_EDGE_px = 6;

/** From the fullest to the barest: the first that leaves the parts large enough is taken. */
const FORMS: readonly Form[] = [
  { names: 'names', parts: 'whole', isDense: false, share: 0.85, least_px: DENSE_PARTS_px },
  { names: 'names', parts: 'whole', isDense: true, share: 0.8, least_px: LEAST_PARTS_px },
  { names: 'numbers', parts: 'whole', isDense: true, key: 'beside', share: 0.7, least_px: LEAST_PARTS_px },
  { names: 'numbers', parts: 'whole', isDense: true, key: 'below', share: 0.6, least_px: LEAST_PARTS_px },
  { names: 'numbers', parts: 'half', isDense: true, key: 'beside', share: 0.6, least_px: LEAST_HALF_px },
  { names: 'numbers', parts: 'half', isDense: true, key: 'below', share: 0.4, least_px: LEAST_HALF_px },
  { names: 'none', parts: 'whole', isDense: true, share: 0, least_px: LEAST_PARTS_px },
  { names: 'none', parts: 'half', isDense: true, share: 0, least_px: LEAST_HALF_px },
  { names: 'none', parts: 'none', isDense: true, share: 0, least_px: 0 },
];

/** A drawing that keeps to no height has names, or numbers where those do not fit. */
const FREE_FORMS: readonly Form[] = [
  { names: 'names', parts: 'whole', isDense: false, share: 0, least_px: 0 },
  { names: 'numbers', parts: 'whole', isDense: false, key: 'below', share: 0, least_px: 0 },
  { names: 'none', parts: 'whole', isDense: false, share: 0, least_px: 0 },
];

/** Draws `stack` of `analysis`. */
export function drawSection(stack: StackAnalysis, analysis: Analysis, options: SectionOptions): Drawing {
  const width_px = Math.max(240, options.width_px ?? 1024);
  const shown = showItems(stack, options, width_px);
  const bench: Bench = { stack, analysis, options, shown, width_px };
  const { line, height_px } = options;
  const inLine = line && height_px !== undefined ? layInLine(bench, line, height_px) : undefined;
  const isInLine = inLine !== undefined;
  const laid = inLine ?? (height_px === undefined ? layFree(bench) : layWithin(bench, height_px));
  const label = `Section of ${stack.name}, from the non-drive side to the drive side`;
  return {
    class: `aws aws-${options.theme}`,
    data: { stack: stack.id, form: `${laid.form.parts} ${laid.form.names}${isInLine ? ' in-line' : ''}` },
    label,
    title: label,
    description: describe(laid.sheet, analysis),
    style: SECTION_STYLE,
    shown: { scale: PX_PER_MM, unit: 'px' },
    ...arranged(compose(laid, analysis), width_px, laid.height_px),
  };
}

/** What is to be drawn, and how wide. */
interface Bench {
  readonly stack: StackAnalysis;
  readonly analysis: Analysis;
  readonly options: SectionOptions;
  readonly shown: readonly ShownItem[];
  readonly width_px: number;
}

function layFree(bench: Bench): Laid {
  const { options, width_px } = bench;
  const height_px = Math.min(360, Math.max(120, width_px * 0.22));
  const wantsNames = options.names !== false && width_px >= NARROW_px;
  const forms = options.bare ? FREE_FORMS.slice(2) : wantsNames ? FREE_FORMS : FREE_FORMS.slice(1);
  for (const form of forms) {
    const laid = lay(bench, form, height_px);
    if (laid) return laid;
  }
  throw new Error(`section: ${bench.stack.id} cannot be drawn ${width_px} px wide`);
}

const formsFor = ({ options }: Bench): readonly Form[] =>
  FORMS.filter(({ names }) => (options.bare ? names === 'none' : options.names !== false || names !== 'names'));

/** In the scale and at the place of the picture's axle; nothing where that does not fit. */
function layInLine(bench: Bench, line: RowLine, height_px: number): Laid | undefined {
  for (const form of formsFor(bench)) {
    if (form.parts === 'none') continue;
    const laid = lay(bench, form, Infinity, line);
    if (!laid) continue;
    if (laid.sheet.left_px < LINE_EDGE_px || laid.sheet.right_px > bench.width_px - LINE_EDGE_px) return undefined;
    if (laid.height_px <= height_px) return laid;
  }
  return undefined;
}

/** The fullest form that leaves the parts large enough within the height. */
function layWithin(bench: Bench, height_px: number): Laid {
  const forms = formsFor(bench);
  const bare = fitHeight(bench, { names: 'none', parts: 'whole', isDense: true, share: 0, least_px: 0 }, height_px);
  for (const form of forms) {
    const laid = fitHeight(bench, form, height_px);
    if (!laid) continue;
    const { scale_px_per_mm, half_px } = laid.sheet;
    const parts_px = form.parts === 'whole' ? 2 * half_px : half_px;
    const isLarge = form.parts === 'none' || parts_px >= form.least_px || laid.isWidthFull;
    const best = bare?.sheet.scale_px_per_mm ?? 0;
    if (isLarge && scale_px_per_mm >= form.share * best) return laid;
  }
  return lay(bench, forms.at(-1)!, 0)!;
}

/** A form whose parts are as large as the height allows; nothing where it does not fit at all. */
function fitHeight(bench: Bench, form: Form, height_px: number): Laid | undefined {
  // Names may need another row at a smaller scale, so the room is worked out anew until it settles.
  let fitting: Laid | undefined;
  let parts_px = Infinity;
  for (let tries = 0; tries < 5; tries += 1) {
    const laid = lay(bench, form, parts_px);
    if (!laid) return fitting;
    const over_px = laid.height_px - height_px;
    if (over_px <= 0 && (!fitting || laid.parts_px > fitting.parts_px)) fitting = laid;
    if (form.parts === 'none' || (over_px <= 0 && (over_px > -4 || laid.isWidthFull))) return fitting;
    parts_px = laid.parts_px - over_px;
    if (parts_px < 8) return fitting;
  }
  return fitting;
}

/** A drawing measured out, before anything of it is drawn. */
interface Laid {
  readonly form: Form;
  readonly sheet: Sheet;
  readonly sides: readonly Shape[];
  readonly plan: NamePlan | undefined;
  readonly key: Shape | undefined;
  readonly marks: readonly Shape[];
  readonly bar: ScaleBar;
  readonly y: { readonly names: number; readonly axis: number; readonly column: number; readonly foot: number };
  readonly height_px: number;
  /** Height that the cut parts take. */
  readonly parts_px: number;
  /** True where a greater height would not make the parts larger. */
  readonly isWidthFull: boolean;
}

/** Measures a form out; nothing where its names or its key do not fit. */
function lay(bench: Bench, form: Form, parts_px: number, line?: RowLine): Laid | undefined {
  const { stack, analysis, options, shown, width_px } = bench;
  const isHalf = form.parts === 'half';
  const hasParts = form.parts !== 'none';
  const most_px = hasParts ? parts_px - (isHalf ? BELOW_HALF_px : 0) : Infinity;
  const sheetWith = (key_px: SheetRoom['key_px']) =>
    sheetOf(stack, analysis, options, shown, { width_px, height_px: most_px, isHalf, key_px, line });
  const keyWith = (plan: NamePlan, on: Sheet) =>
    keyOf(plan, on, (id) => nameOf(id, analysis), width_px - 2 * EDGE_px, form.key === 'beside' ? 1 : 4);

  let sheet = sheetWith([0, 0]);
  let plan = form.names === 'none' ? undefined : planNames(sheet, form.names);
  if (form.names !== 'none' && !plan) return undefined;
  let key = form.key && plan ? keyWith(plan, sheet) : undefined;
  let keyLeft_px = EDGE_px;
  if (form.key === 'beside' && key) {
    const side = sideOfKey(key, sheet, line !== undefined);
    if (side === undefined) return undefined;
    const taken_px = key.width_px + EDGE_px;
    sheet = sheetWith(side === 'drive' ? [0, taken_px] : [taken_px, 0]);
    plan = planNames(sheet, 'numbers');
    if (!plan) return undefined;
    key = keyWith(plan, sheet);
    keyLeft_px = side === 'drive' ? width_px - EDGE_px - key.width_px : EDGE_px;
  }

  const { text_px: size } = sheet;
  let y = options.heading ? size * 2.4 : size * 0.4;
  const sides = options.bare ? { shapes: [], height_px: 0 } : drawSides(sheet, y, form);
  y += sides.height_px + size * 0.4;
  const names = y;
  y += plan ? plan.rows * plan.row_px + plan.slant_px + 8 : 0;
  const axis = y + (hasParts ? sheet.half_px : 0);
  y = axis + (hasParts ? sheet.below_px + 6 : 0);
  const marks = hasParts ? drawMarks(sheet, y + 8, !form.isDense) : [];
  y += marks.length === 0 ? 2 : 21;
  const column = y;
  y += options.column === false ? 0 : COLUMN_px + size * 1.6 + 4;
  const foot = form.isDense ? y - size * 0.25 - 4 : y + size;
  y += form.isDense ? 0 : size * 1.5;
  const keyTop_px = form.key === 'beside' && key ? Math.max(names, (names + y - key.height_px) / 2) : y;
  if (key) y = Math.max(y, keyTop_px + key.height_px);
  const drawn_px = hasParts ? sheet.half_px + sheet.below_px : 0;
  return {
    form,
    sheet,
    sides: sides.shapes,
    plan,
    key: key?.at(keyLeft_px, keyTop_px),
    marks,
    bar: scaleBar(sheet.scale_px_per_mm, Math.max(LEAST_TYPE_px, size * 0.9), sheet.colours),
    y: { names, axis, column, foot },
    height_px: Math.ceil(y + 4),
    parts_px: drawn_px,
    isWidthFull: drawn_px < parts_px - 1,
  };
}

/** At which end of the parts a key stands: where the drawing may choose, the drive end. */
function sideOfKey({ width_px }: Key, sheet: Sheet, isInLine: boolean): Side | undefined {
  const needed_px = width_px + 2 * EDGE_px;
  if (!isInLine) return sheet.width_px - needed_px >= LEAST_BESIDE_px ? 'drive' : undefined;
  const { stack, isNarrow } = sheet;
  if (sheet.width_px - sheet.right_px - sideRoom(stack, 'drive', isNarrow) >= needed_px) return 'drive';
  return sheet.left_px - sideRoom(stack, 'non-drive', isNarrow) >= needed_px ? 'non-drive' : undefined;
}

/** Draws what has been measured out. */
function compose({ form, sheet, sides, plan, key, marks, bar, y, height_px }: Laid, analysis: Analysis): Shape[] {
  const { options, width_px, span_px, colours } = sheet;
  const { isDense } = form;
  const hasParts = form.parts !== 'none';
  const over_px = Math.min(10, sheet.margin_px);
  const foot = !isDense
    ? [drawFoot(bar, sheet, y.foot, !options.bare)]
    : options.column === false
      ? []
      : [bar.at(span_px[1] - bar.width_px, y.foot)];
  return [
    rect(0, 0, width_px, height_px, { class: 'aws-ground', fill: colours.ground }),
    ...(hasParts ? [drawHits(sheet, y.axis)] : []),
    ...(options.heading ? [headingOf(`${analysis.model.name}: ${sheet.stack.name}`, sheet)] : []),
    ...sides,
    ...(hasParts
      ? [
          axisLine(sheet, y.axis, over_px, { class: 'aws-axis', stroke: colours.muted, pen: 0.8 }),
          drawParts(sheet, analysis, y.axis, form.parts === 'half'),
          ...drawEnds(sheet, y.axis),
        ]
      : []),
    ...(plan ? drawFlags(plan, sheet, y.names, y.axis) : []),
    ...marks,
    ...(options.column === false ? [] : drawColumn(sheet, y.column, span_px[1] - (isDense ? bar.width_px + 8 : 0))),
    ...foot,
    ...(key ? [key] : []),
  ];
}

/** The arrows at an end: the axle's way in, and the turn; px. */
const ENDS_px = { wide: { arrow: 32, turn: 12 }, narrow: { arrow: 16, turn: 9 } } as const;

function drawEnds(sheet: Sheet, axis_px: number): readonly Shape[] {
  const { stack, isNarrow, colours, span_px, left_px, right_px } = sheet;
  const { stand, turn } = stack.tightening;
  return (['non-drive', 'drive'] as const).flatMap((side) => {
    const outward = side === 'drive' ? 1 : -1;
    let x = side === 'drive' ? right_px : left_px;
    const end_px = side === 'drive' ? span_px[1] : span_px[0];
    const isSmall = isNarrow || Math.abs(end_px - x) < sideRoom(stack, side, false) - 2 * EDGE_px;
    const { arrow: length, turn: radius } = ENDS_px[isSmall ? 'narrow' : 'wide'];
    const hasRoom = (needed_px: number) => outward * (end_px + outward * EDGE_px - x) >= needed_px;
    const shapes: Shape[] = [];
    if (stack.from === side && hasRoom(length + 8)) {
      const arrow = axleArrow(x + outward * 6, axis_px, length, outward === 1 ? -1 : 1, colours);
      shapes.push(group(arrow, { class: 'aws-insert' }));
      x += outward * (length + 8);
    }
    if (stand === side && hasRoom(2 * radius + 8)) {
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
function sideLines({ stack }: Sheet, side: Side, isShort: boolean): readonly string[] {
  const { stand, turn, tool, held, torque_Nm } = stack.tightening;
  const wordWith = (used: typeof tool) => (used ? `, ${wordTool(used)}` : '');
  const said: string[] = [];
  if (stack.from === side) said.push(isShort ? 'axle in here' : 'axle goes in from this side');
  if (stand === side)
    said.push(isShort ? `turn ${turn}` : `turn ${turn}, seen from here${wordWith(tool)}, ${wordTorque(torque_Nm)}`);
  if (held?.side === side) said.push(`hold still${isShort ? '' : wordWith(held.tool)}`);
  return said;
}

interface Sides {
  readonly shapes: readonly Shape[];
  readonly height_px: number;
}

/** The two sides with what happens there: beside their names while it fits, in few words if need be, else below. */
function drawSides(sheet: Sheet, top_px: number, { isDense, parts }: Form): Sides {
  const { text_px: size, width_px, colours } = sheet;
  const small = Math.max(LEAST_TYPE_px, size * 0.92);
  const line_px = small * 1.3;
  const side_px = width_px / 2 - EDGE_px - 5;
  const ends = (['non-drive', 'drive'] as const).map((side) => {
    const name = side === 'drive' ? 'DRIVE SIDE' : 'NON-DRIVE SIDE';
    return { side, name, name_px: textWidth(name, size) + name.length * 0.6 };
  });
  const wordsFor = (isShort: boolean) => ends.map(({ side }) => sideLines(sheet, side, isShort));
  const isOneLine = (said: readonly (readonly string[])[]) => {
    const row_px = said.map(
      (each, k) => ends[k]!.name_px + (each.length === 0 ? 0 : 12 + textWidth(joined(each), small)),
    );
    return row_px[0]! + row_px[1]! + 40 < width_px;
  };
  const said = [wordsFor(false), wordsFor(true)].find(isOneLine);
  // One line a side where height is dear, unless it would be cut.
  const inOneLine = (each: readonly string[]) =>
    isDense && each.length > 1 && textWidth(joined(each), small) <= side_px ? [joined(each)] : each;
  const below = said || parts === 'none' ? [[], []] : wordsFor(true).map(inOneLine);
  const shapes = ends.flatMap(({ side, name, name_px }, k) => {
    const inward = side === 'drive' ? -1 : 1;
    const x = side === 'drive' ? width_px - EDGE_px : EDGE_px;
    const y = top_px + size;
    const anchor = side === 'drive' ? 'end' : undefined;
    const look = { anchor, fill: colours.muted } as const;
    const row = said ? joined(said[k]!) : '';
    return [
      words(name, x, y, size, { weight: 700, spacing: 0.6, anchor, fill: colours.ink }),
      ...(row === '' ? [] : [words(row, x + inward * (name_px + 6), y, small, look)]),
      ...below[k]!.map((line, j) => words(fitText(line, small, side_px), x, y + (j + 1) * line_px, small, look)),
    ];
  });
  const most = Math.max(...below.map((lines) => lines.length));
  return { shapes: [group(shapes, { class: 'aws-sides' })], height_px: size * 1.2 + most * line_px };
}

const joined = (said: readonly string[]): string => said.join(' · ');

function axisLine({ left_px, right_px }: Sheet, axis_px: number, over_px: number, look: Parameters<typeof lines>[1]) {
  const ends = corners(left_px - over_px, axis_px, right_px + over_px, axis_px);
  return lines([ends], { ...look, dash: [14, 3, 2.5, 3] });
}

const DRAWING_ORDER: readonly PlacedItem['role'][] = ['boss', 'bearing', 'lining', 'spacer', 'axle', 'receiver', 'tip'];

function drawParts(sheet: Sheet, analysis: Analysis, axis_px: number, isHalf: boolean): Shape {
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
  const gone = options.seat && shown.find(({ id }) => id === options.seat?.id);
  const seated = gone && { ...gone, offset_mm: options.seat?.offset_mm ?? 0, on: false };
  const seat = seated
    ? [
        group(cutPart(seated, sheet, axis_px, hatches.get(seated.id)!), { class: 'aws-seat' }),
        ...wayOf(gone, seated, sheet, axis_px),
      ]
    : [];
  // The axis runs over what is not cut, thin, as drawings have it.
  const axis = axisLine(sheet, axis_px, 0, { stroke: sheet.colours.line, pen: 0.7, hits: 'none' });
  if (!isHalf) return group([...groups, ...seat, axis], { class: 'aws-parts' });
  // Of a half section all is drawn, and the lower half kept out of sight: a part is cut the same way in both.
  const over = rect(0, 0, sheet.width_px, axis_px, {});
  const upper = group([...groups, ...seat], { clip: { id: `upper-${sheet.stack.id}`, to: over } });
  return group([upper, axis], { class: 'aws-parts' });
}

/** The arrow from where a part in the hand stands to its seat. */
function wayOf(from: ShownItem, to: ShownItem, sheet: Sheet, axis_px: number): readonly Shape[] {
  const middle_mm = (from.from_mm + from.to_mm) / 2;
  const [start, end] = [sheet.x(middle_mm), sheet.x(middle_mm - from.offset_mm + to.offset_mm)];
  if (Math.abs(end - start) < 12) return [];
  const y = axis_px - Math.max(8, from.radius_mm * sheet.scale_px_per_mm * 0.5);
  const arrow = axleArrow(end, y, Math.abs(end - start), end > start ? 1 : -1, sheet.colours);
  return [group(arrow, { class: 'aws-way' })];
}

// Ghosts go on top of what is there already, or a boss would hide them; a sleeve lies under the screw inside it.
function rank({ item, on }: ShownItem): number {
  const isSleeve = item.role === 'axle' && item.thread?.inner === true;
  return DRAWING_ORDER.indexOf(item.role) - (isSleeve ? 0.5 : 0) + (on ? 0 : 10);
}

/** Invisible rectangles under everything, so that a finger beside a small part still finds it. */
function drawHits({ shown, x, scale_px_per_mm, half_px, below_px }: Sheet, axis_px: number): Shape {
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
      const below = below_px < half_px ? Math.max(below_px, least - half) : half;
      const look = { class: 'aws-hit', data: { item: id }, hits: 'all' } as const;
      return rect(left, axis_px - half, right - left, half + below, look);
    });
  return group(hits, { class: 'aws-hits' });
}

/** Facing marks and trouble badges in one row under the parts; badges alone where the marks would stand too far off. */
function drawMarks(sheet: Sheet, y: number, wantFacing: boolean): readonly Shape[] {
  const { shown, troubled, colours, x, span_px } = sheet;
  const fit = (withFacing: boolean) => {
    const marked = shown.flatMap(({ item, id, from_mm, to_mm }) => {
      const [hasFacing, isTrouble] = [withFacing && isFacingItem(item), troubled.has(id)];
      const room_px = ((hasFacing ? FACING_MARK_px : 0) + (isTrouble ? 14 : 0)) / 2 - 2;
      const flag = { id, anchor_px: x((from_mm + to_mm) / 2), left_px: room_px, right_px: room_px };
      return hasFacing || isTrouble ? [{ ...flag, smallFace: item.smallFace, hasFacing, isTrouble }] : [];
    });
    const flags = placeFlags(marked, span_px[0] - 8, span_px[1] + 8, 1, Infinity);
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
  const size = Math.max(LEAST_TYPE_px, text_px * 0.9);
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
      : `${name(id)}, ${wordMarkedFace(item.kind)} to the ${sideWord(item.smallFace)}`,
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
