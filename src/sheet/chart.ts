/**
 * The wall chart of one linkage, A3 across: the side view with every axle's number, and beside it every row apart with
 * its facings, its torque, the side its axle goes in from, and its place in the order of tightening.
 */
import {
  CAUTIONS,
  linkageOf,
  outlinesOf,
  SHEET_WORDS,
  sheetCautions,
  torqueList,
  wordInsertion,
  wordTorque,
  wordSecuring,
  wordTurn,
  wordVerdict,
  type Analysis,
  type Plan,
  type TorqueRow,
} from '../../shared/index.ts';
import {
  circle,
  corners,
  group,
  lines,
  PX_PER_MM,
  rect,
  scaled,
  textWidth,
  words,
  type Drawing,
  type Point,
  type Shape,
  type Tag,
} from '../drawings/shapes.ts';
import { drawSide } from '../drawings/side.ts';
import { BLACK, GROUND, PAPER_INK, POSES, WHITE } from '../look.ts';
import type { Line } from './blocks.ts';
import { altOf, bikeName, facings, hasCarbon, sidedSection, stackOf, toolsOf } from './common.ts';
import { markAt, wrapped } from './pages.ts';

/** ISO 216, across. */
const A3 = { width_mm: 420, height_mm: 297, margin_mm: 10 } as const;
const HEAD_mm = 18;
const FOOT_mm = 6;
/** What the side view and the words under it take of the width. */
const SIDE_mm = 122;
const GAP_mm = 8;
/** Of the side view, more than what moves. */
const AIR_mm = 40;
const TYPE = { title: 11, large: 6.5, name: 4.4, body: 3.5, small: 3.1, foot: 2.8 } as const;
const LEADING = 1.36;

/** Where rows stand: between head and foot, mm. */
const TOP_mm = A3.margin_mm + HEAD_mm;
const BOTTOM_mm = A3.height_mm - A3.margin_mm - FOOT_mm;
const LEFT_mm = A3.margin_mm + SIDE_mm + GAP_mm;
/** Under each row, and the least height in which its section is told from two steps away, and the most it is given. */
const UNDER_mm = 4;
const LEAST_mm = 20;
const MOST_mm = 110;
/** As few rows as this stand in one column. */
const FEW = 3;

const widthOf = (across: number): number => (A3.width_mm - A3.margin_mm - LEFT_mm - (across - 1) * GAP_mm) / across;

/** The chart of a plan: one paper, or several where it has more rows than one holds. */
export function wallChart(plan: Plan): Drawing[] {
  const rows = torqueList(plan);
  const across = rows.length > FEW ? 2 : 1;
  const needs = rows.map((row) => rowWords(row, plan.analysis, widthOf(across)).height_mm + LEAST_mm + UNDER_mm);
  let papers = 1;
  let columns = inColumns(rows, across * papers);
  const fits = (some: readonly TorqueRow[]): boolean =>
    some.length <= 1 || some.reduce((sum, row) => sum + needs[rows.indexOf(row)]!, 0) <= BOTTOM_mm - TOP_mm;
  while (!columns.every(fits)) {
    papers += 1;
    columns = inColumns(rows, across * papers);
  }
  return Array.from({ length: papers }, (_, k) =>
    paper(plan, rows, columns.slice(k * across, (k + 1) * across), papers === 1 ? '' : `, ${k + 1} of ${papers}`),
  );
}

/** Rows in so many columns, in order, none much longer than another. */
function inColumns(rows: readonly TorqueRow[], count: number): TorqueRow[][] {
  const each = Math.ceil(rows.length / count);
  return Array.from({ length: count }, (_, k) => rows.slice(k * each, (k + 1) * each));
}

function paper(
  plan: Plan,
  all: readonly TorqueRow[],
  columns: readonly (readonly TorqueRow[])[],
  which: string,
): Drawing {
  const { analysis } = plan;
  const { width_mm, height_mm, margin_mm } = A3;
  const name = `${bikeName(analysis)}${which}`;
  const bottom_mm = BOTTOM_mm;
  const top_mm = TOP_mm;
  const side = sideView(analysis, all);
  const blocks: readonly (readonly Line[])[] = [
    Object.values(SHEET_WORDS.key).map((text): Line => ({ text, isSmall: true })),
    [...sheetCautions(hasCarbon(analysis)), CAUTIONS.after].map(
      (text): Line => ({ text, mark: 'caution', isSmall: true }),
    ),
    [
      { text: SHEET_WORDS.tools, isStrong: true, isSmall: true },
      { text: toolsOf(plan), isSmall: true },
    ],
  ];
  let y_mm = top_mm + side.height_mm + 8;
  const told = blocks.flatMap((block) => {
    y_mm += 2.5;
    return block.map((line) => {
      const { shapes, height_mm: taken_mm } = setLine(line, SIDE_mm, margin_mm, y_mm);
      y_mm += taken_mm;
      return tagged('P', shapes);
    });
  });
  return {
    label: `${name}: ${SHEET_WORDS.chart.toLowerCase()}`,
    title: `${name}: ${SHEET_WORDS.chart.toLowerCase()}`,
    from: [0, 0],
    width_mm,
    height_mm,
    unit: 'mm',
    shown: { scale: 1, unit: 'mm' },
    shapes: [
      rect(0, 0, width_mm, height_mm, { fill: WHITE }),
      tagged('H1', [word(name, margin_mm, margin_mm + TYPE.title * 0.9, TYPE.title, true)]),
      words(
        `${SHEET_WORDS.verdict}: ${wordVerdict(analysis)}`,
        width_mm - margin_mm,
        margin_mm + TYPE.title * 0.9,
        TYPE.name,
        {
          anchor: 'end',
          weight: 700,
          fill: BLACK,
        },
      ),
      group([group(side.shapes, { at: [margin_mm, top_mm] })], { tag: 'Figure', alt: SHEET_WORDS.side }),
      ...told,
      ...SHEET_WORDS.checked.flatMap((text, k) => {
        const [x, width] = [margin_mm + k * (SIDE_mm * 0.68), SIDE_mm * (k === 0 ? 0.64 : 0.32)];
        return [
          lines([corners(x, bottom_mm - 5, x + width, bottom_mm - 5)], { stroke: BLACK, pen: 0.25 }),
          tagged('P', [word(text, x, bottom_mm - 1, TYPE.small, false)]),
        ];
      }),
      ...columns.flatMap((rows, k) => columnOf(rows, analysis, widthOf(columns.length), k)),
      words(CAUTIONS.defer, margin_mm, height_mm - margin_mm, TYPE.foot, { fill: PAPER_INK.soft }),
    ],
  };
}

const tagged = (tag: Tag, shapes: readonly Shape[]): Shape => group(shapes, { tag });

function word(text: string, x: number, y: number, size: number, isStrong: boolean): Shape {
  return words(text, x, y, size, { fill: BLACK, weight: isStrong ? 700 : 400 });
}

/** A number in a disc: white on black, so that it stands on anything. */
function disc(text: string, [x, y]: Point, radius: number): Shape[] {
  const size = radius * (text.length > 2 ? 0.9 : text.length > 1 ? 1.1 : 1.35);
  return [
    circle([x, y], radius, { fill: BLACK, stroke: WHITE, pen: 0.6 }),
    words(text, x, y + size * 0.36, size, { anchor: 'middle', weight: 700, fill: WHITE }),
  ];
}

function sideView(
  analysis: Analysis,
  rows: readonly TorqueRow[],
): { readonly shapes: readonly Shape[]; readonly height_mm: number } {
  const linkage = linkageOf(analysis.resolved);
  const still = { x_mm: 0, y_mm: 0, angle_rad: 0 };
  const motions = Object.fromEntries(Object.keys(analysis.resolved.members).map((id) => [id, still]));
  const discs = [
    ...linkage.bodies.flatMap(({ members }) =>
      members.flatMap((id) =>
        outlinesOf(analysis.resolved, id).flatMap(({ a, b }) =>
          [a, b].map((end) => ({ ...end, by: end.radius_mm + 6 })),
        ),
      ),
    ),
    ...analysis.pivots.map(({ x_mm, y_mm }) => ({ x_mm, y_mm, by: AIR_mm })),
  ];
  const box = {
    left: Math.min(...discs.map(({ x_mm, by }) => x_mm - by)),
    right: Math.max(...discs.map(({ x_mm, by }) => x_mm + by)),
    low: Math.min(...discs.map(({ y_mm, by }) => y_mm - by)),
    high: Math.max(...discs.map(({ y_mm, by }) => y_mm + by)),
  };
  const scale = SIDE_mm / (box.right - box.left);
  const height_mm = (box.high - box.low) * scale;
  const at = ({ x_mm, y_mm }: { readonly x_mm: number; readonly y_mm: number }): Point => [
    (x_mm - box.left) * scale,
    (box.high - y_mm) * scale,
  ];
  const frame = rect(0, 0, SIDE_mm, height_mm, {});
  const ink = { ...POSES.print, ground: GROUND.print };
  // Pens of the side view are of a screen's px.
  const drawn = drawSide({
    linkage,
    motions,
    axle: linkage.wheel?.place,
    at: (place) => scaled(at(place), PX_PER_MM),
    scale: scale * PX_PER_MM,
    ink,
  });
  const numbers = analysis.pivots.flatMap((pivot) => {
    const own = rows.filter(({ pivotId }) => pivotId === pivot.id).map(({ place }) => place);
    const [x, y] = at(pivot);
    // Two axles of one pivot stand behind one another: their numbers stand side by side.
    return own.flatMap((place, k) => disc(String(place), [x + (k - (own.length - 1) / 2) * 7.4, y], 3.9));
  });
  return {
    height_mm,
    shapes: [
      group([...scaled(drawn, 1 / PX_PER_MM), ...numbers], { clip: { id: 'chart-side', to: frame } }),
      rect(0, 0, SIDE_mm, height_mm, { stroke: PAPER_INK.line, pen: 0.3 }),
      words(SHEET_WORDS.side, 2, height_mm + 4.5, TYPE.small, { fill: PAPER_INK.soft }),
    ],
  };
}

/** A line broken into its room, from its upper left corner. */
function setLine(
  line: Line,
  width_mm: number,
  x: number,
  y: number,
  size: number = TYPE.small,
): { readonly shapes: readonly Shape[]; readonly height_mm: number } {
  const left = line.mark === undefined ? 0 : 5;
  const isStrong = line.isStrong === true;
  const said = wrapped(line.text, size, width_mm - left, isStrong);
  return {
    shapes: [
      ...(line.mark === undefined ? [] : markAt(line.mark, x + 1.7, y + size * 0.68)),
      ...said.map((text, k) => word(text, x + left, y + size * (0.98 + k * LEADING), size, isStrong)),
    ],
    height_mm: said.length * size * LEADING + 0.6,
  };
}

/** A column of rows: what their words leave of its height goes to their sections alike. */
function columnOf(rows: readonly TorqueRow[], analysis: Analysis, width_mm: number, place: number): Shape[] {
  const x = LEFT_mm + place * (width_mm + GAP_mm);
  const worded = rows.map((row) => ({ row, words: rowWords(row, analysis, width_mm) }));
  const taken_mm = worded.reduce((sum, { words: { height_mm } }) => sum + height_mm + UNDER_mm, 0);
  const room_mm = Math.max(LEAST_mm, (BOTTOM_mm - TOP_mm - taken_mm) / rows.length);
  let y = TOP_mm;
  return worded.flatMap(({ row, words: said }) => {
    const height_mm = Math.min(MOST_mm, said.height_mm + room_mm);
    const shapes = rowCell(row, analysis, said, width_mm, height_mm, [x, y]);
    y += height_mm + UNDER_mm;
    return shapes;
  });
}

/** What is said of a row, broken into its room, and the height of all of it. */
function rowWords(row: TorqueRow, analysis: Analysis, width_mm: number) {
  const { stack } = stackOf(row.stackId, analysis)!;
  const torque = wordTorque(row.torque['N·m']);
  const names = wrapped(stack.name, TYPE.name, width_mm - 12 - textWidth(torque, TYPE.large) - 2, true);
  const head_mm = Math.max(9.5, names.length * TYPE.name * 1.2 + 4);
  const securing = wordSecuring(row.stackId, analysis);
  const turn: Line = {
    text: `${wordInsertion(stack)}. ${wordTurn(stack.tightening)}${securing === undefined ? '' : `. ${securing}`}`,
  };
  const turn_mm = setLine(turn, width_mm, 0, 0).height_mm + 1;
  const ways = waysOf(facings(stack, analysis));
  const ways_mm = ways.reduce((sum, line) => sum + setLine(line, width_mm, 0, 0, TYPE.foot).height_mm, 0);
  return { stack, torque, names, head_mm, turn, turn_mm, ways, height_mm: head_mm + turn_mm + ways_mm };
}

/** One row: what is turned how, the parts apart between their two sides, and which way each looks. */
function rowCell(
  row: TorqueRow,
  analysis: Analysis,
  { stack, torque, names, head_mm, turn, turn_mm, ways, height_mm: said_mm }: ReturnType<typeof rowWords>,
  width_mm: number,
  height_mm: number,
  [x, y]: Point,
): Shape[] {
  const told = setLine(turn, width_mm, x, y + head_mm);
  const top = y + head_mm + turn_mm;
  const drawing = sidedSection(stack, analysis, { width_mm, height_mm: height_mm - said_mm, apart: 1 });
  let foot = top + drawing.height_mm;
  return [
    lines([corners(x, y, x + width_mm, y)], { stroke: BLACK, pen: 0.4 }),
    tagged('H2', [
      ...disc(String(row.place), [x + 5, y + 5.6], 4.2),
      ...names.map((name, k) => word(name, x + 12, y + 6.8 + k * TYPE.name * 1.2, TYPE.name, true)),
      words(torque, x + width_mm, y + 7.6, TYPE.large, { anchor: 'end', weight: 700, fill: BLACK }),
    ]),
    tagged('P', told.shapes),
    group([group(drawing.shapes, { at: [x, top] })], { tag: 'Figure', alt: altOf(drawing) }),
    ...ways.map((line) => {
      const { shapes, height_mm: taken_mm } = setLine(line, width_mm, x, foot, TYPE.foot);
      foot += taken_mm;
      return tagged('P', shapes);
    }),
  ];
}

/** What looks one way, each in a line, and in one line what does not. */
function waysOf(all: readonly Line[]): Line[] {
  const same = all.filter(({ mark }) => mark === 'same').map(({ text }) => text.slice(0, text.lastIndexOf(': ')));
  return [
    ...all.filter(({ mark }) => mark !== 'same'),
    ...(same.length === 0 ? [] : [{ text: `${SHEET_WORDS.either}: ${same.join('; ')}`, mark: 'same' as const }]),
  ];
}
