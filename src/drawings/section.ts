/**
 * The section drawing of one stack, the 'bench row': a whole SVG text, from the non-drive side (left) to the drive side.
 *
 * Method: parts take their places from apart-ness or from a step, one scale fits them into the width, and the picture is
 * composed downward: side headings, names on leaders, the cut parts, facing marks, the clamp column, scale and key, list.
 * Drawing practice after ISO 128-3 (sections), ISO 128-22 (leaders) and ISO 6410-1 (threads). A pure function of its
 * arguments: the same input gives the same text, no ids are used, colours stand as attributes, so that many
 * drawings can share a page and converters need no style sheet. Input mm and N, output px of the view box.
 */
import { nameOf, sideWord, wordForce, wordTool } from '../../shared/index.ts';
import type { Analysis, PlacedItem, Side, StackAnalysis, StepPlace } from '../../shared/index.ts';
import { PALETTES, type Palette, type SectionTheme } from './colours.ts';
import { COLUMN_px, columnReference, drawColumn, isBroken, wordGap } from './column.ts';
import { frameOf, NARROW_px, showItems, type Frame, type ShownItem } from './frame.ts';
import { placeFlags } from './flags.ts';
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
import { drawFlags, drawList, planNames } from './labels.ts';
import { drawPart, hatchStyles } from './cut.ts';
import { radiusOf } from './outline.ts';
import { escapeText, fitText, px, tag, textWidth, words } from './svg.ts';

export type { SectionTheme } from './colours.ts';

/** What the drawing shows; everything but the theme has a default. */
export interface SectionOptions {
  /** 0 closed, 1 fully apart. */
  readonly apart?: number | undefined;
  /** Where a step leaves each part; parts that are not on yet stand at their full spread place as ghosts. */
  readonly places?: Readonly<Record<string, StepPlace>> | undefined;
  /** Parts the current step moves. */
  readonly activeIds?: readonly string[] | undefined;
  readonly litId?: string | undefined;
  readonly selectedId?: string | undefined;
  readonly theme: SectionTheme;
  /** Width of the view box, px: the drawing arranges itself for it (1024 unless told otherwise). */
  readonly width_px?: number | undefined;
  /** Height the whole drawing should keep to, px: the parts shrink for it, down to `LEAST_PARTS_px`; free unless told otherwise. */
  readonly height_px?: number | undefined;
  /** False: numbers and a list even where names would fit. */
  readonly names?: boolean | undefined;
  /** False: the clamp column as an outline, without figures (a joint that is not tight yet). */
  readonly forces?: boolean | undefined;
  /** False: parts that are not on yet are left out. */
  readonly ghosts?: boolean | undefined;
  /** True: parts and clamp column alone, for a drawing beside another one that has sides, names and key. */
  readonly bare?: boolean | undefined;
  /** True: the stack's name as a heading, for a drawing that stands alone. */
  readonly heading?: boolean | undefined;
}

const FONT = "'Inter Variable', Inter, system-ui, sans-serif";
const STYLE = '.aws-item,.aws-name,.aws-list{cursor:pointer}.aws-item:hover .aws-o{stroke-width:2.4}';

/** Below this height of the cut parts nothing can be read off them, px; beside a drawing that can be read less will do. */
const LEAST_PARTS_px = 72;
const LEAST_BARE_px = 44;

/** Where the parts would be lower than this, px, the key and the row of facing marks make room for them. */
const DENSE_PARTS_px = 150;

/** Draws `stack` of `analysis` as SVG text. */
export function drawSection(stack: StackAnalysis, analysis: Analysis, options: SectionOptions): string {
  const width_px = Math.max(240, options.width_px ?? 1024);
  const most_px = Math.min(360, Math.max(120, width_px * 0.22));
  let drawn = compose(stack, analysis, options, width_px, most_px, false);
  const { height_px } = options;
  if (height_px === undefined || drawn.height_px <= height_px) return drawn.svg;
  // Names may need another row at a smaller scale, so the room is worked out anew until it settles.
  const isDense = drawn.parts_px + height_px - drawn.height_px < DENSE_PARTS_px;
  let fitting: Composed | undefined;
  for (let tries = 0; tries < 5; tries += 1) {
    const room_px = drawn.parts_px + height_px - drawn.height_px;
    drawn = compose(
      stack,
      analysis,
      options,
      width_px,
      Math.min(most_px, Math.max(options.bare ? LEAST_BARE_px : LEAST_PARTS_px, room_px)),
      isDense,
    );
    if (drawn.height_px <= height_px && (!fitting || drawn.parts_px > fitting.parts_px)) fitting = drawn;
    if (drawn.height_px <= height_px && height_px - drawn.height_px < 4) break;
  }
  return (fitting ?? drawn).svg;
}

interface Composed {
  readonly svg: string;
  readonly height_px: number;
  /** Height that the cut parts take. */
  readonly parts_px: number;
}

function compose(
  stack: StackAnalysis,
  analysis: Analysis,
  options: SectionOptions,
  width_px: number,
  most_px: number,
  isDense: boolean,
): Composed {
  const isNarrow = width_px < NARROW_px;
  const colours = PALETTES[options.theme];
  const all = showItems(stack, options.apart ?? 0, options.places, isNarrow);
  const kept = options.ghosts === false ? all.filter((each) => each.on) : all;
  const shown = kept.length > 0 ? kept : all;
  const troubled = troubledIds(stack, analysis);
  const endRoom = sideRoom(stack, isNarrow);
  const frame = frameOf(shown, width_px, most_px, endRoom);
  const strong = new Set([...(options.activeIds ?? []), ...(options.selectedId ? [options.selectedId] : [])]);
  const place = { frame, colours, troubled, strong };
  const size = frame.text_px;

  let y = options.heading ? size * 2.4 : size * 0.6;
  const heading = options.heading ? headingOf(stack, analysis, frame, colours) : '';
  const isBare = options.bare === true;
  const sides = isBare ? { svg: '', height_px: 0 } : drawSides(stack, frame, y, colours);
  y += sides.height_px + size * 0.5;

  const plan = isBare ? undefined : planNames(shown, frame, troubled, options.names !== false);
  const namesTop = y;
  y += plan ? plan.rows * plan.row_px + plan.slant_px + 8 : 0;
  const axis_px = y + frame.half_px;
  const flags = plan ? drawFlags(plan, shown, { ...place, top_px: namesTop, axis_px }) : '';
  const parts = drawParts(shown, analysis, frame, axis_px, troubled, options);
  y = axis_px + frame.half_px + 10;

  const marks = drawMarks(shown, frame, y + 8, troubled, !isDense, colours);
  y += marks === '' ? 2 : 23;

  const isTight = shown.every(
    (each) => !each.item.inColumn || options.places === undefined || (each.on && Math.abs(each.offset_mm) < 1e-3),
  );
  const bar = scaleBar(frame.scale_px_per_mm, size * 0.9, colours);
  const figuresEnd_px = width_px - 12 - (isDense ? bar.width_px + 8 : 0);
  const column = drawColumnRow(
    stack,
    shown.filter((each) => each.on),
    frame,
    y,
    figuresEnd_px,
    options.forces !== false && isTight,
    colours,
  );
  y += column === '' && !isDense ? 0 : COLUMN_px + size * (isDense ? 1.6 : 1.9) + 4;
  const hasKey = !isDense && !isBare && shown.some((each) => isFacingItem(each.item));
  const foot = isDense
    ? bar.at(width_px - 12 - bar.width_px, y - size * 0.25 - 4)
    : drawFoot(bar, frame, y + size, colours, hasKey);
  y += isDense ? 0 : size * 1.7;

  const list =
    plan?.mode === 'numbers'
      ? drawList(plan, shown, (id) => nameOf(id, analysis), y, place)
      : { svg: '', height_px: 0 };
  const height_px = Math.ceil(y + list.height_px + 5);
  const label = `Section of ${stack.name}, from the non-drive side to the drive side`;
  const svg = tag(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: `aws aws-${options.theme}`,
      viewBox: `0 0 ${px(width_px)} ${px(height_px)}`,
      width: width_px,
      height: height_px,
      role: 'img',
      'aria-label': label,
      'font-family': FONT,
      'data-stack': stack.id,
    },
    tag('title', {}, escapeText(label)),
    tag('desc', {}, escapeText(describe(stack, analysis, shown, troubled))),
    tag('style', {}, STYLE),
    tag('rect', { class: 'aws-ground', width: width_px, height: height_px, fill: colours.ground }),
    drawHits(shown, frame, axis_px),
    heading,
    sides.svg,
    axisLine(frame, axis_px, endRoom, colours),
    parts,
    drawEnds(stack, frame, axis_px, colours),
    flags,
    marks,
    column,
    foot,
    list.svg,
  );
  return { svg, height_px, parts_px: 2 * frame.half_px };
}

/** Ids of parts that a finding of severity `stop` names. */
function troubledIds(stack: StackAnalysis, analysis: Analysis): ReadonlySet<string> {
  const findings = analysis.pivots.filter((pivot) => pivot.id === stack.pivotId).flatMap((pivot) => pivot.findings);
  const own = new Set(stack.items.map((item) => item.id));
  return new Set(
    findings
      .filter((finding) => finding.severity === 'stop')
      .flatMap((finding) => finding.parts.filter((id) => own.has(id))),
  );
}

const TURN_RADIUS_px = { narrow: 9, wide: 12 } as const;

/** Room at each end for the arrow of the axle and the arrow of the turn. */
function sideRoom(stack: StackAnalysis, isNarrow: boolean): { readonly left: number; readonly right: number } {
  const room = (side: Side) => {
    const arrow = stack.from === side ? (isNarrow ? 24 : 44) : 0;
    const turn = stack.tightening.stand === side ? (isNarrow ? 26 : 40) : 0;
    return (isNarrow ? 10 : 24) + arrow + turn;
  };
  return { left: room('non-drive'), right: room('drive') };
}

function drawEnds(stack: StackAnalysis, frame: Frame, axis_px: number, colours: Palette): string {
  let svg = '';
  for (const side of ['non-drive', 'drive'] as const) {
    const outward = side === 'drive' ? 1 : -1;
    let x = side === 'drive' ? frame.right_px : frame.left_px;
    if (stack.from === side) {
      const length = frame.isNarrow ? 16 : 32;
      svg += tag(
        'g',
        { class: 'aws-insert' },
        axleArrow(x + outward * 6, axis_px, length, outward === 1 ? -1 : 1, colours),
      );
      x += outward * (length + 8);
    }
    if (stack.tightening.stand === side) {
      const radius = frame.isNarrow ? TURN_RADIUS_px.narrow : TURN_RADIUS_px.wide;
      const middle = x + outward * (radius + 8);
      svg += tag(
        'g',
        { class: 'aws-turn', 'data-turn': stack.tightening.turn },
        turnArrow(stack.tightening.turn, middle, axis_px, radius, colours),
      );
    }
  }
  return svg;
}

function headingOf(stack: StackAnalysis, analysis: Analysis, frame: Frame, colours: Palette): string {
  const size = frame.text_px * 1.15;
  const text = fitText(`${analysis.model.name}: ${stack.name}`, size, frame.width_px - 24);
  return words(text, frame.width_px / 2, size * 1.5, {
    'font-size': size,
    'font-weight': 700,
    'text-anchor': 'middle',
    fill: colours.ink,
  });
}

/** What happens at one side, one line each. */
function sideLines(stack: StackAnalysis, side: Side, isNarrow: boolean): readonly string[] {
  const { stand, turn, tool, held, torque_Nm } = stack.tightening;
  const lines: string[] = [];
  if (stack.from === side) lines.push(isNarrow ? 'axle goes in here' : 'axle goes in from this side');
  if (stand === side)
    lines.push(
      isNarrow ? `turn ${turn}` : `turn ${turn}, seen from here${tool ? `, ${wordTool(tool)}` : ''}, ${torque_Nm} N·m`,
    );
  if (held?.side === side)
    lines.push(isNarrow ? 'hold still' : `hold still${held.tool ? `, ${wordTool(held.tool)}` : ''}`);
  return lines;
}

function drawSides(
  stack: StackAnalysis,
  frame: Frame,
  top_px: number,
  colours: Palette,
): { readonly svg: string; readonly height_px: number } {
  const size = frame.text_px;
  const small = size * 0.92;
  const line_px = small * 1.4;
  const ends = (['non-drive', 'drive'] as const).map((side) => {
    const name = side === 'drive' ? 'DRIVE SIDE' : 'NON-DRIVE SIDE';
    return {
      side,
      name,
      name_px: textWidth(name, size) + name.length * 0.6,
      lines: sideLines(stack, side, frame.isNarrow),
    };
  });
  const inOne = ends.map(
    ({ name_px, lines }) => name_px + (lines.length > 0 ? 12 + textWidth(lines.join(' · '), small) : 0),
  );
  // Height is dear on a bench row: what fits beside the side's name goes there.
  const isOneLine = !frame.isNarrow && inOne[0]! + inOne[1]! + 60 < frame.width_px;
  let svg = '';
  for (const { side, name, name_px, lines } of ends) {
    const inward = side === 'drive' ? -1 : 1;
    const x = side === 'drive' ? frame.width_px - 12 : 12;
    const anchor = side === 'drive' ? 'end' : 'start';
    svg += words(name, x, top_px + size, {
      'font-size': size,
      'font-weight': 700,
      'letter-spacing': 0.6,
      'text-anchor': anchor,
      fill: colours.ink,
    });
    const look = { 'font-size': small, 'text-anchor': anchor, fill: colours.muted };
    if (isOneLine) {
      if (lines.length > 0) svg += words(lines.join(' · '), x + inward * (name_px + 6), top_px + size, look);
      continue;
    }
    lines.forEach((line, k) => {
      svg += words(fitText(line, small, frame.width_px / 2 - 20), x, top_px + size + (k + 1) * line_px, look);
    });
  }
  const most = isOneLine ? 0 : Math.max(...ends.map(({ lines }) => lines.length));
  return { svg: tag('g', { class: 'aws-sides' }, svg), height_px: size * 1.2 + most * line_px };
}

function axisLine(
  frame: Frame,
  axis_px: number,
  room: { readonly left: number; readonly right: number },
  colours: Palette,
): string {
  const over = Math.min(10, room.left, room.right);
  return tag('path', {
    class: 'aws-axis',
    d: `M${px(frame.left_px - over)} ${px(axis_px)}H${px(frame.right_px + over)}`,
    stroke: colours.muted,
    'stroke-width': 0.8,
    'stroke-dasharray': '14 3 2.5 3',
  });
}

const DRAWING_ORDER: readonly PlacedItem['role'][] = ['boss', 'bearing', 'ring', 'axle', 'receiver'];

function drawParts(
  shown: readonly ShownItem[],
  analysis: Analysis,
  frame: Frame,
  axis_px: number,
  troubled: ReadonlySet<string>,
  options: SectionOptions,
): string {
  const hatches = hatchStyles(shown.map((each) => each.item));
  const ordered = [...shown].sort((a, b) => rank(a) - rank(b));
  const groups = ordered.map((each) => {
    const { id } = each.item;
    const look = {
      colours: PALETTES[options.theme],
      theme: options.theme,
      hatch: hatches.get(id)!,
      isTroubled: troubled.has(id),
      isSelected: options.selectedId === id,
      isLit: options.litId === id,
      isActive: options.activeIds?.includes(id) ?? false,
    };
    const states = [
      ['is-ghost', !each.on],
      ['is-troubled', look.isTroubled],
      ['is-active', look.isActive],
      ['is-lit', look.isLit],
      ['is-selected', look.isSelected],
    ] as const;
    const names = states.filter(([, holds]) => holds).map(([state]) => ` ${state}`);
    return tag(
      'g',
      {
        class: `aws-item aws-${each.item.role}${names.join('')}`,
        'data-item': id,
        'data-facing': isFacingItem(each.item) ? (each.item.smallFace ?? 'equal') : undefined,
      },
      tag('title', {}, escapeText(nameOf(id, analysis))),
      drawPart(each, frame, axis_px, look),
    );
  });
  // The axis runs over what is not cut, thin, as drawings have it.
  const axis = tag('path', {
    d: `M${px(frame.left_px)} ${px(axis_px)}H${px(frame.right_px)}`,
    stroke: PALETTES[options.theme].line,
    'stroke-width': 0.7,
    'stroke-dasharray': '14 3 2.5 3',
    'pointer-events': 'none',
  });
  return tag('g', { class: 'aws-parts' }, ...groups, axis);
}

// Ghosts go on top of what is there already, or a boss would hide them; a sleeve lies under the screw inside it.
function rank({ item, on }: ShownItem): number {
  const own = item.kind === 'sleeve' ? DRAWING_ORDER.indexOf('axle') - 0.5 : DRAWING_ORDER.indexOf(item.role);
  return own + (on ? 0 : 10);
}

/** Invisible rectangles under everything, so that a finger beside a small part still finds it. */
function drawHits(shown: readonly ShownItem[], frame: Frame, axis_px: number): string {
  const least = 44;
  const bySize = [...shown].sort(
    (a, b) => radiusOf(b.item) * (b.to_mm - b.from_mm) - radiusOf(a.item) * (a.to_mm - a.from_mm),
  );
  const middles = shown.map((each) => frame.x((each.from_mm + each.to_mm) / 2)).sort((a, b) => a - b);
  return tag(
    'g',
    { class: 'aws-hits' },
    ...bySize.map((each) => {
      const [from, to] = [frame.x(each.from_mm), frame.x(each.to_mm)];
      const middle = (from + to) / 2;
      // A finger's width, but no further than half way to the next part's middle.
      const before = middles.filter((other) => other < middle - 0.5).at(-1);
      const after = middles.find((other) => other > middle + 0.5);
      const left = Math.min(
        from,
        Math.max(middle - least / 2, before === undefined ? -Infinity : (before + middle) / 2),
      );
      const right = Math.max(to, Math.min(middle + least / 2, after === undefined ? Infinity : (after + middle) / 2));
      const half = Math.max(least / 2, radiusOf(each.item) * frame.scale_px_per_mm);
      return tag('rect', {
        class: 'aws-hit',
        'data-item': each.item.id,
        x: left,
        y: axis_px - half,
        width: right - left,
        height: 2 * half,
        fill: 'none',
        'pointer-events': 'all',
      });
    }),
  );
}

/** Facing marks and trouble badges in one row under the parts. */
function drawMarks(
  shown: readonly ShownItem[],
  frame: Frame,
  y: number,
  troubled: ReadonlySet<string>,
  wantFacing: boolean,
  colours: Palette,
): string {
  const marked = shown.filter((each) => (wantFacing && isFacingItem(each.item)) || troubled.has(each.item.id));
  const flagOf = (each: ShownItem, withFacing: boolean) => {
    const half =
      ((withFacing && isFacingItem(each.item) ? FACING_MARK_px : 0) + (troubled.has(each.item.id) ? 14 : 0)) / 2;
    return {
      id: each.item.id,
      anchor_px: frame.x((each.from_mm + each.to_mm) / 2),
      left_px: half - 2,
      right_px: half - 2,
    };
  };
  const fit = (withFacing: boolean) => {
    const some = withFacing ? marked : marked.filter((each) => troubled.has(each.item.id));
    return placeFlags(
      some.map((each) => flagOf(each, withFacing)),
      4,
      frame.width_px - 4,
      1,
      Infinity,
    );
  };
  const isFar = (flags: ReturnType<typeof fit>) =>
    !flags || flags.some((flag) => Math.abs(flag.port_px - flag.anchor_px) > 30);
  const first = fit(wantFacing);
  const withFacing = wantFacing && !isFar(first);
  const flags = (withFacing ? first : fit(false)) ?? [];
  const items = new Map(marked.map((each) => [each.item.id, each.item] as const));
  const svg = flags
    .map((flag) => {
      const item = items.get(flag.id)!;
      const hasFacing = withFacing && isFacingItem(item);
      const isTrouble = troubled.has(item.id);
      const facing = hasFacing ? facingMark(item.smallFace, flag.port_px + (isTrouble ? 8 : 0), y, colours) : '';
      const mark = isTrouble ? badge(flag.port_px - (hasFacing ? 8 : 0), y, colours) : '';
      return tag('g', { class: 'aws-mark', 'data-item': item.id }, facing, mark);
    })
    .join('');
  return svg === '' ? '' : tag('g', { class: 'aws-marks' }, svg);
}

function drawColumnRow(
  stack: StackAnalysis,
  shown: readonly ShownItem[],
  frame: Frame,
  top_px: number,
  to_px: number,
  withForces: boolean,
  colours: Palette,
): string {
  const size = frame.text_px;
  const caption = withForces ? 'Clamp column' : 'Clamp column, not tight';
  const figures_px = top_px + COLUMN_px + size * 1.35;
  const from_px = 12 + textWidth(caption, size * 0.95) + 10;
  const band = drawColumn(stack, shown, frame, { top_px, figures_px, withForces, from_px, to_px }, colours);
  if (band === '') return '';
  return (
    band + words(caption, 12, figures_px, { 'font-size': size * 0.95, fill: colours.columnText, 'font-weight': 600 })
  );
}

/** Scale bar at the left; the key of face bands to the right where there is room. */
function drawFoot(bar: ScaleBar, frame: Frame, base_px: number, colours: Palette, hasKey: boolean): string {
  const size = frame.text_px * 0.9;
  const scale = bar.at(12, base_px);
  if (!hasKey || frame.isNarrow) return scale;
  const entries = [
    ['inner-ring', 'bears on inner ring'],
    ['outer-ring', 'on outer ring'],
    ['seal', 'on seal'],
    ['arm', 'on arm'],
    ['ring', 'on ring or land'],
    ['nothing', 'on nothing'],
  ] as const;
  const widths = entries.map(([, text]) => 9 + textWidth(text, size) + 12);
  const whole = widths.reduce((sum, width) => sum + width, 0);
  let x = frame.width_px - 12 - whole;
  if (x < 12 + bar.width_px + 16) return scale;
  let key = '';
  entries.forEach(([bears, text], k) => {
    key += faceBand(bears, x, base_px - size * 0.95, base_px + size * 0.15, 1, colours.ink, colours.ground);
    key += words(text, x + 9, base_px, { 'font-size': size, fill: colours.muted });
    x += widths[k]!;
  });
  return tag('g', { class: 'aws-foot' }, scale, tag('g', { class: 'aws-key' }, key));
}

/** The drawing in words, for people who do not see it. */
function describe(
  stack: StackAnalysis,
  analysis: Analysis,
  shown: readonly ShownItem[],
  troubled: ReadonlySet<string>,
): string {
  const name = (id: string) => nameOf(id, analysis);
  const sentences = [
    `From the non-drive side to the drive side: ${shown.map(({ item }) => wordItem(item, name(item.id))).join('; ')}.`,
  ];
  sentences.push(`The axle goes in from the ${sideWord(stack.from)}.`);
  sentences.push(`It is tightened ${stack.tightening.turn}, seen from the ${sideWord(stack.tightening.stand)}.`);
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
  if (off.length > 0) sentences.push(`Not fitted yet: ${off.map((each) => name(each.item.id)).join('; ')}.`);
  return sentences.join(' ');
}

function wordItem(item: PlacedItem, name: string): string {
  return item.smallFace === undefined || !isFacingItem(item)
    ? name
    : `${name}, small face to the ${sideWord(item.smallFace)}`;
}
