/**
 * The one composer of sheets: blocks into pages, each a drawing in mm that any writer writes.
 *
 * Blocks become pieces that no page's end may cut, set one under the other; a heading stays with what it heads, a table
 * repeats its head on every page it reaches. Black on white alone: no meaning rests on a colour.
 */
import { BLACK, PAPER_INK, WHITE } from '../look.ts';
import {
  areas,
  circle,
  corners,
  group,
  lines as strokes,
  rect,
  textWidth,
  words,
  type Drawing,
  type Group,
  type Shape,
  type Tag,
} from '../drawings/shapes.ts';
import type { Block, Column, Line, Mark, Row, SheetText } from './blocks.ts';

/** A size of paper with its margins, mm. */
export interface Paper {
  readonly width_mm: number;
  readonly height_mm: number;
  readonly margin_mm: number;
}

/** ISO 216, upright. */
export const A4: Paper = { width_mm: 210, height_mm: 297, margin_mm: 14 };

/** Heights of type, mm: read at arm's length with the sheet on the bench. */
const TYPE = { title: 7, heading: 4.6, body: 3.3, small: 2.8, large: 4.2, foot: 2.5 } as const;
const LEADING = 1.36;
const MARK_mm = 5;
const FOOT_mm = 9;
const CELL_mm = 1.4;
/** A rule to write on stands so far under what is before it, mm. */
const WRITE_mm = 8;
/** What letters take of the widths that the drawings reckon with, which leave room for any font: measured, and a little. */
const PLAIN_WIDTH = 0.9;
const BOLD_WIDTH = 0.97;

/** What no page's end may cut. */
interface Piece {
  readonly height_mm: number;
  /** Free room over it where it does not begin a page. */
  readonly over_mm: number;
  /** It never stands last on a page. */
  readonly isHead?: boolean;
  /** What holds it together with its neighbours, and what is repeated where that goes on over a page's end. */
  readonly within?: { readonly tag: Tag; readonly head?: Piece };
  readonly draw: (x_mm: number, y_mm: number) => readonly Shape[];
}

/** The pages of a sheet. */
export function pagesOf({ blocks, foot, title }: SheetText, paper: Paper = A4): Drawing[] {
  const { width_mm, height_mm, margin_mm } = paper;
  const pieces = blocks.flatMap((block) => piecesOf(block, width_mm - 2 * margin_mm));
  const bottom_mm = height_mm - margin_mm - FOOT_mm;
  const pages: { readonly piece: Piece; readonly y_mm: number }[][] = [[]];
  let y_mm = margin_mm;
  pieces.forEach((piece, k) => {
    let page = pages.at(-1)!;
    let needed_mm = piece.height_mm;
    for (let next = k; pieces[next]?.isHead && pieces[next + 1]; next += 1)
      needed_mm += pieces[next + 1]!.over_mm + pieces[next + 1]!.height_mm;
    if (page.length > 0 && y_mm + piece.over_mm + needed_mm > bottom_mm) {
      page = [];
      pages.push(page);
      y_mm = margin_mm;
      const head = piece.within?.head;
      if (head && head !== piece) {
        page.push({ piece: head, y_mm });
        y_mm += head.height_mm;
      }
    }
    if (page.length > 0) y_mm += piece.over_mm;
    page.push({ piece, y_mm });
    y_mm += piece.height_mm;
  });
  return pages.map((page, k) => ({
    from: [0, 0],
    width_mm,
    height_mm,
    unit: 'mm',
    shown: { scale: 1, unit: 'mm' },
    label: `${title}, ${k + 1} of ${pages.length}`,
    shapes: [
      rect(0, 0, width_mm, height_mm, { fill: WHITE }),
      ...drawn(page, margin_mm),
      ...footOf(foot, `${title} · ${k + 1} of ${pages.length}`, paper),
    ],
  }));
}

/** Between pages on one drawing, mm. */
const BETWEEN_mm = 6;

/** Pages under one another, for a writer that knows no pages. */
export function asOne(pages: readonly Drawing[]): Drawing {
  const [first] = pages;
  if (!first) throw new Error('sheet: no page');
  const height_mm = pages.reduce((sum, page) => sum + page.height_mm + BETWEEN_mm, -BETWEEN_mm);
  let y_mm = 0;
  const shapes = pages.map((page) => {
    const at = y_mm;
    y_mm += page.height_mm + BETWEEN_mm;
    return group(page.shapes, { at: [0, at] });
  });
  return { ...first, label: first.label, height_mm, shapes };
}

/** Pieces in their places, those of one table or list under one tag. */
function drawn(page: readonly { readonly piece: Piece; readonly y_mm: number }[], x_mm: number): Shape[] {
  const shapes: Shape[] = [];
  let open: { readonly within: Piece['within']; readonly inner: Shape[] } | undefined;
  for (const { piece, y_mm } of page) {
    const { within } = piece;
    if (!within || open?.within !== within) open = undefined;
    if (within && !open) {
      open = { within, inner: [] };
      shapes.push(group(open.inner, { tag: within.tag }));
    }
    (open?.inner ?? shapes).push(...piece.draw(x_mm, y_mm));
  }
  return shapes;
}

function footOf(foot: string, page: string, { width_mm, height_mm, margin_mm }: Paper): Shape[] {
  const y = height_mm - margin_mm;
  const broken = wrapped(foot, TYPE.foot, width_mm - 2 * margin_mm - textWidth(page, TYPE.foot) - 8, false);
  return [
    strokes([corners(margin_mm, y - 7.5, width_mm - margin_mm, y - 7.5)], { stroke: PAPER_INK.line, pen: 0.2 }),
    ...broken.map((text, k) => words(text, margin_mm, y - 4 + k * 3.4, TYPE.foot, { fill: PAPER_INK.soft })),
    words(page, width_mm - margin_mm, y - 4, TYPE.foot, { anchor: 'end', fill: PAPER_INK.soft }),
  ];
}

function piecesOf(block: Block, width_mm: number): Piece[] {
  switch (block.kind) {
    case 'title':
      return [titleOf(block, width_mm)];
    case 'heading':
      return [headingOf(block.text)];
    case 'lines': {
      const within = block.isList ? { tag: 'L' as const } : undefined;
      return block.lines.map((line, k) => ({
        ...linePiece(line, width_mm, within ? 'LI' : 'P'),
        over_mm: k === 0 ? 1.6 : 0.9,
        ...(within && { within }),
      }));
    }
    case 'fields':
      return fieldRows(block.fields, width_mm);
    case 'table':
      return tablePieces(block, width_mm);
    case 'drawing':
      return [drawingPiece(block, width_mm)];
    case 'together':
      return [stacked(block.blocks.flatMap((inner) => piecesOf(inner, width_mm)))];
    case 'cut':
      return [cutPiece(block.text, width_mm)];
  }
}

/** Pieces as one that is not cut. */
function stacked(pieces: readonly Piece[]): Piece {
  let height_mm = 0;
  const placed = pieces.map((piece, k) => {
    const y_mm = height_mm + (k === 0 ? 0 : piece.over_mm);
    height_mm = y_mm + piece.height_mm;
    return { piece, y_mm };
  });
  return {
    height_mm,
    over_mm: pieces[0]?.over_mm ?? 0,
    draw: (x, y) =>
      drawn(
        placed.map(({ piece, y_mm }) => ({ piece, y_mm: y + y_mm })),
        x,
      ),
  };
}

function titleOf({ text, under }: Extract<Block, { kind: 'title' }>, width_mm: number): Piece {
  const names = wrapped(text, TYPE.title, width_mm, true);
  const more = under.flatMap((line) => wrapped(line, TYPE.body, width_mm, false));
  const lead_mm = TYPE.title * 1.2;
  return {
    height_mm: names.length * lead_mm + more.length * TYPE.body * LEADING + 1,
    over_mm: 6,
    draw: (x, y) => [
      tagged(
        'H1',
        names.map((line, k) => word(line, x, y + k * lead_mm + TYPE.title * 0.86, TYPE.title, true)),
      ),
      ...more.map((line, k) =>
        tagged('P', [word(line, x, y + names.length * lead_mm + (k + 0.9) * TYPE.body * LEADING, TYPE.body, false)]),
      ),
    ],
  };
}

function headingOf(text: string): Piece {
  const { heading: size } = TYPE;
  return {
    height_mm: size * 1.25,
    over_mm: 5,
    isHead: true,
    draw: (x, y) => [tagged('H2', [word(text, x, y + size * 0.95, size, true)])],
  };
}

/** A line broken to its room. */
interface Broken {
  readonly line: Line;
  readonly size: number;
  readonly said: readonly string[];
  readonly height_mm: number;
}

function brokenLine(line: Line, width_mm: number): Broken {
  const size = line.isLarge ? TYPE.large : line.isSmall ? TYPE.small : TYPE.body;
  const room_mm = width_mm - (line.mark === undefined ? 0 : MARK_mm);
  const said = wrapped(line.text, size, room_mm, line.isStrong === true);
  return { line, size, said, height_mm: said.length * size * LEADING };
}

function drawBroken({ line, size, said }: Broken, x: number, y: number): Shape[] {
  const { mark } = line;
  const left = x + (mark === undefined ? 0 : MARK_mm);
  return [
    ...(mark === undefined ? [] : markAt(mark, x + 1.7, y + size * 0.68)),
    ...said.map((text, k) => word(text, left, y + size * (0.98 + k * LEADING), size, line.isStrong === true)),
  ];
}

function linePiece(line: Line, width_mm: number, tag: Tag): Piece {
  const broken = brokenLine(line, width_mm);
  return {
    height_mm: broken.height_mm,
    over_mm: 1,
    draw: (x, y) => [tagged(tag, drawBroken(broken, x, y))],
  };
}

/** As many fields beside one another as have room. */
function fieldRows(fields: Extract<Block, { kind: 'fields' }>['fields'], width_mm: number): Piece[] {
  const across = Math.min(fields.length, Math.max(1, Math.floor(width_mm / 42)));
  const rows = Array.from({ length: Math.ceil(fields.length / across) }, (_, k) =>
    fields.slice(k * across, (k + 1) * across),
  );
  const column_mm = width_mm / across;
  return rows.map((row) => {
    const names = row.map(({ name }) => wrapped(name, TYPE.small, column_mm - 4, false));
    const values = row.map(({ value = '' }) => wrapped(value, TYPE.body, column_mm - 4, true));
    const lines = Math.max(...names.map(({ length }) => length));
    const lead_mm = TYPE.body * LEADING;
    const rule_mm = WRITE_mm + lead_mm * (Math.max(...values.map(({ length }) => length)) - 1);
    return {
      height_mm: rule_mm + (lines * LEADING + 0.3) * TYPE.small,
      over_mm: 2,
      draw: (x, y) =>
        row.flatMap((_, k) => {
          const left = x + k * column_mm;
          const rule = y + rule_mm;
          const said = values[k]!.filter((text) => text !== '');
          return [
            strokes([corners(left, rule, left + column_mm - 4, rule)], { stroke: BLACK, pen: 0.25 }),
            tagged('P', [
              ...said.map((text, j) => word(text, left, rule - 1.4 - lead_mm * (said.length - 1 - j), TYPE.body, true)),
              ...names[k]!.map((name, j) =>
                word(name, left, rule + TYPE.small * (1.15 + j * LEADING), TYPE.small, false),
              ),
            ]),
          ];
        }),
    };
  });
}

function tablePieces({ columns, rows, written }: Extract<Block, { kind: 'table' }>, width_mm: number): Piece[] {
  const sum = columns.reduce((all, { share }) => all + share, 0);
  const widths = columns.map(({ share }) => (share / sum) * width_mm);
  const lefts = widths.map((_, k) => widths.slice(0, k).reduce((all, width) => all + width, 0));
  const names = { cells: columns.map(({ name }): Line[] => [{ text: name, isSmall: true, isStrong: true }]) };
  const head: Piece = { ...rowPiece(names, columns, lefts, widths, width_mm, 'TH'), over_mm: 2, isHead: true };
  const within = { tag: 'Table' as const, head };
  return [
    { ...head, within },
    ...rows.map((row) => ({
      ...rowPiece(row, columns, lefts, widths, width_mm, 'TD', written),
      ...(row.isAcross && { isHead: true }),
      within,
    })),
  ];
}

function rowPiece(
  { cells, isAcross }: Row,
  columns: readonly Column[],
  lefts: readonly number[],
  widths: readonly number[],
  width_mm: number,
  tag: 'TH' | 'TD',
  written: readonly number[] = [],
): Piece {
  const broken = (isAcross ? [cells.flat()] : cells).map((cell, k) =>
    cell.map((line) => brokenLine(line, (isAcross ? width_mm : widths[k]!) - CELL_mm)),
  );
  const heights = broken.map((cell) => cell.reduce((sum, { height_mm }) => sum + height_mm, 0));
  const toWrite = isAcross || tag === 'TH' ? [] : written.filter((k) => (cells[k]?.length ?? 0) === 0);
  const height_mm = Math.max(toWrite.length > 0 ? 7.5 : 0, ...heights) + 2.2;
  return {
    height_mm,
    over_mm: 0,
    draw: (x, y) => {
      const inner = broken.map((cell, k) => {
        let top = y + 1.1;
        const shapes = cell.flatMap((line) => {
          const drawing = drawBroken(line, x + (isAcross ? 0 : lefts[k]!), top);
          top += line.height_mm;
          return drawing;
        });
        return tagged(tag, shapes);
      });
      const pen = tag === 'TH' ? 0.5 : 0.15;
      return [
        ...(isAcross ? [rect(x, y + 0.4, width_mm, height_mm - 0.8, { fill: PAPER_INK.ground })] : []),
        group(inner, { tag: 'TR' }),
        strokes([corners(x, y + height_mm, x + width_mm, y + height_mm)], { stroke: BLACK, pen }),
        ...toWrite.map((k) =>
          strokes([corners(x + lefts[k]!, y + 7.6, x + lefts[k]! + widths[k]! - 2.5, y + 7.6)], {
            stroke: BLACK,
            pen: 0.25,
            dash: [0.6, 0.6],
          }),
        ),
      ];
    },
  };
}

function drawingPiece({ drawing, alt }: Extract<Block, { kind: 'drawing' }>, width_mm: number): Piece {
  const [left, top] = drawing.from;
  return {
    height_mm: drawing.height_mm,
    over_mm: 1.5,
    draw: (x, y) => [
      group([group(drawing.shapes, { at: [x - left + (width_mm - drawing.width_mm) / 2, y - top] })], {
        tag: 'Figure',
        alt,
      }),
    ],
  };
}

function cutPiece(text: string, width_mm: number): Piece {
  return {
    height_mm: 5,
    over_mm: 5,
    isHead: true,
    draw: (x, y) => [
      strokes([corners(x, y + 2.5, x + width_mm, y + 2.5)], { stroke: BLACK, pen: 0.25, dash: [2, 1.4] }),
      rect(x + 6, y, textWidth(text, TYPE.small) + 4, 5, { fill: WHITE }),
      tagged('P', [word(text, x + 8, y + 3.5, TYPE.small, false)]),
    ],
  };
}

const tagged = (tag: Tag, shapes: readonly Shape[]): Group => group(shapes, { tag });

function word(text: string, x: number, y: number, size: number, isStrong: boolean): Shape {
  return words(text, x, y, size, { fill: BLACK, weight: isStrong ? 700 : 400 });
}

/** What stands before a line, its middle on (x, y); told apart by its form alone. */
export function markAt(mark: Mark, x: number, y: number): Shape[] {
  const pen = 0.35;
  switch (mark) {
    case 'box':
      return [rect(x - 1.6, y - 1.6, 3.2, 3.2, { stroke: BLACK, pen })];
    case 'ticked':
      return [
        rect(x - 1.6, y - 1.6, 3.2, 3.2, { stroke: BLACK, pen }),
        strokes([corners(x - 1, y, x - 0.3, y + 0.9, x + 1.2, y - 1.1)], { stroke: BLACK, pen: 0.5 }),
      ];
    case 'dot':
      return [circle([x, y], 0.45, { fill: BLACK })];
    case 'caution':
    case 'look':
      return [
        areas([corners(x, y - 1.8, x + 1.9, y + 1.5, x - 1.9, y + 1.5)], { stroke: BLACK, pen, join: 'round' }),
        strokes([corners(x, y - 0.7, x, y + 0.45)], { stroke: BLACK, pen: 0.4 }),
        circle([x, y + 1], 0.25, { fill: BLACK }),
      ];
    case 'stop':
      return [
        rect(x - 1.7, y - 1.7, 3.4, 3.4, { fill: BLACK }),
        strokes([corners(x, y - 1.1, x, y + 0.3)], { stroke: WHITE, pen: 0.5 }),
        circle([x, y + 1.05], 0.3, { fill: WHITE }),
      ];
    case 'note':
      return [circle([x, y], 1.6, { stroke: BLACK, pen }), circle([x, y], 0.5, { fill: BLACK })];
    case 'same':
      return [
        strokes([corners(x - 0.7, y - 1.5, x - 0.7, y + 1.5), corners(x + 0.7, y - 1.5, x + 0.7, y + 1.5)], {
          stroke: BLACK,
          pen: 0.6,
        }),
      ];
    case 'drive':
    case 'non-drive': {
      const to = mark === 'drive' ? 0.7 : -0.7;
      const chevron = (at: number) => corners(at - to, y - 1.5, at + to, y, at - to, y + 1.5);
      return [strokes([chevron(x - 0.8), chevron(x + 0.8)], { stroke: BLACK, pen: 0.6 })];
    }
  }
}

const FAST = '\u00a0';
/** A figure stays with its unit, and what parts two things with the first of them. */
const TOGETHER = / (?=(?:[·×|]|N·m|mm|ft·lb|in·lb|kN)(?:[ ,.;:)]|$))/g;

/** Words in as many lines as they need within `width_mm`; a word longer than that is cut. */
export function wrapped(text: string, size: number, width_mm: number, isStrong: boolean): string[] {
  const room = width_mm / (isStrong ? BOLD_WIDTH : PLAIN_WIDTH);
  const broken: string[] = [];
  for (const word of text.replace(TOGETHER, FAST).split(' ')) {
    const next = word.replaceAll(FAST, ' ');
    const last = broken.at(-1);
    if (last !== undefined && textWidth(`${last} ${next}`, size) <= room) broken[broken.length - 1] = `${last} ${next}`;
    else broken.push(...cutToFit(next, size, room));
  }
  return broken;
}

function cutToFit(word: string, size: number, room_mm: number): string[] {
  const cut = [''];
  for (const letter of word) {
    const last = cut.at(-1)!;
    if (last === '' || textWidth(`${last}${letter}`, size) <= room_mm) cut[cut.length - 1] = `${last}${letter}`;
    else cut.push(letter);
  }
  return cut;
}
