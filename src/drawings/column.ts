/**
 * The clamp column under a section: a band from the axle's head to its receiver, as thick as the force is large.
 *
 * Every link of the column (a face pressed on a face) gives the band's thickness there; between two links the band
 * belongs to one part and stands under it, also when the parts are drawn apart. Where a link carries no force or has a
 * gap, the band is cut with torn ends, marked with '!' and the gap in mm. Thickness is proportional to force: the full
 * height is the largest of the preload at the spec torque and the forces met. Forces N, gaps mm; drawn in px.
 */
import { wordForce } from '../../shared/index.ts';
import type { ColumnLink, PlacedItem, StackAnalysis } from '../../shared/index.ts';
import { placeFlags } from './labels.ts';
import { badge } from './marks.ts';
import { endsOf } from './outline.ts';
import { areas, corners, group, lines, rect, textWidth, words, type Point, type Shape } from './shapes.ts';
import type { Sheet } from './sheet.ts';

/** Full thickness of the band, px. */
export const COLUMN_px = 16;
/**
 * A link that carries less than this share of the preload counts as broken: the fit check's own least share of a ring.
 */
const BROKEN_SHARE = 0.05;
/** Contacts of the analysis close to well under this, mm. */
const CLOSED_mm = 1e-3;
/** Length of band under a head or receiver, however long its part is, mm. */
const JAW_mm = 5;
/** Thickness of a stretch that carries nothing, or nothing yet, px. */
const IDLE_px = COLUMN_px * 0.45;
/** Half the width of a drawn break, px. */
const TEAR_px = 9;

/** True where the clamp force does not pass: a gap, or next to no force. */
export function isBroken(link: ColumnLink, reference_N: number): boolean {
  return link.gap_mm > CLOSED_mm || link.force_N < BROKEN_SHARE * reference_N;
}

/** Force that the full thickness stands for, N. */
export function columnReference(stack: StackAnalysis): number {
  return Math.max(1, stack.tightening.preload_N.spec, ...stack.column.map((link) => link.force_N));
}

/** A gap for people, with the digits of the fit check; never '0.00'. */
export function wordGap(gap_mm: number): string {
  if (gap_mm < 0.005) return '< 0.01 mm';
  return `${gap_mm.toFixed(gap_mm < 10 ? 2 : 1)} mm`;
}

/**
 * Links at which the band is torn and marked: every gap, and one link of each run that carries nothing without a gap.
 */
export function markedBreaks(links: readonly ColumnLink[], reference_N: number): ReadonlySet<ColumnLink> {
  const marked = new Set<ColumnLink>();
  let run: ColumnLink[] = [];
  const closeRun = () => {
    const gaps = run.filter((link) => link.gap_mm > CLOSED_mm);
    const middle = run[Math.floor(run.length / 2)];
    for (const link of gaps.length > 0 ? gaps : middle ? [middle] : []) marked.add(link);
    run = [];
  };
  for (const link of links) {
    if (isBroken(link, reference_N)) run.push(link);
    else closeRun();
  }
  closeRun();
  return marked;
}

/** The stretch of band under one part. */
interface Piece {
  readonly id: string;
  readonly left_px: number;
  readonly right_px: number;
  readonly before: ColumnLink | undefined;
  readonly after: ColumnLink | undefined;
}

interface Column {
  readonly sheet: Sheet;
  readonly links: readonly ColumnLink[];
  readonly pieces: readonly Piece[];
  readonly withForces: boolean;
  readonly reference_N: number;
  readonly torn: ReadonlySet<ColumnLink>;
  readonly middle_px: number;
}

/**
 * The band with its breaks, figures and caption, from `top_px` down, its figures no further right than `to_px`; nothing
 * when the stack has no column. Without figures where the joint is not tight.
 */
export function drawColumn(sheet: Sheet, top_px: number, to_px: number): readonly Shape[] {
  const { options, shown, stack, text_px, span_px, colours } = sheet;
  const links = [...stack.column].sort((a, b) => a.z_mm - b.z_mm);
  if (links.length === 0) return [];
  const isTight = shown.every(
    ({ item, on, offset_mm }) => !item.inColumn || !options.places || (on && Math.abs(offset_mm) < 1e-3),
  );
  const withForces = options.forces !== false && isTight;
  const reference_N = columnReference(stack);
  const torn = markedBreaks(links, reference_N);
  const middle_px = top_px + COLUMN_px / 2;
  const column = { sheet, links, pieces: piecesOf(links, sheet), withForces, reference_N, torn, middle_px };
  const size = text_px;
  const y = top_px + COLUMN_px + text_px * 1.35;
  const caption = withForces ? 'Clamp column' : 'Clamp column, not tight';
  const from_px = span_px[0] + textWidth(caption, size) + 10;
  const { badges, texts } = figures(column);
  const shapes = [
    ...bridges(column),
    ...column.pieces.map((piece) => drawPiece(piece, column)),
    ...badges,
    ...figureTexts(texts, sheet, y, from_px, to_px),
  ];
  return [
    group(shapes, { class: 'aws-column' }),
    words(caption, span_px[0], y, size, { fill: colours.columnText, weight: 600 }),
  ];
}

function piecesOf(links: readonly ColumnLink[], { shown, x }: Sheet): readonly Piece[] {
  const ids = [links[0]!.from, ...links.map((link) => link.to)];
  return ids.flatMap((id, k): Piece[] => {
    const own = shown.find((each) => each.id === id && each.on);
    if (!own) return [];
    const [before, after] = [links[k - 1], links[k]];
    const [left_px, right_px] = stretchOf(own.item, before, after).map((z_mm) => x(z_mm + own.offset_mm));
    return [{ id, left_px: left_px!, right_px: right_px!, before, after }];
  });
}

/**
 * The stretch of axis along which an item carries the column, mm: a head or receiver only a jaw's length at its face.
 */
function stretchOf(item: PlacedItem, before: ColumnLink | undefined, after: ColumnLink | undefined): readonly number[] {
  if (!before && after) {
    const face_mm = after.z_mm - after.gap_mm;
    return [Math.max(face_mm - JAW_mm, item.from_mm), face_mm];
  }
  if (before && !after) {
    const face_mm = before.z_mm + before.gap_mm;
    return [face_mm, Math.min(face_mm + JAW_mm, item.to_mm)];
  }
  const ring = item.solids.filter((solid) => solid.role === 'inner-ring');
  return endsOf(item, ring.length > 0 ? ring : item.solids);
}

/** Dots between pieces that stand apart. */
function bridges({ pieces, middle_px, sheet }: Column): readonly Shape[] {
  const runs = pieces.slice(1).flatMap(({ left_px }, k) => {
    const from_px = pieces[k]!.right_px;
    return left_px - from_px < 2 * TEAR_px ? [] : [corners(from_px + 2, middle_px, left_px - 2, middle_px)];
  });
  return runs.map((run) => lines([run], { stroke: sheet.colours.column, pen: 1.2, dash: [1.5, 4] }));
}

function drawPiece({ id, before, after, ...piece }: Piece, column: Column): Shape {
  const { torn, middle_px: middle, withForces, reference_N, sheet } = column;
  const { colours } = sheet;
  const isTorn = (link: ColumnLink | undefined) => link !== undefined && torn.has(link);
  const thickness = (link: ColumnLink | undefined) => {
    if (!link) return undefined;
    if (!withForces) return IDLE_px;
    return isBroken(link, reference_N) ? 0 : Math.max(1.6, (COLUMN_px * link.force_N) / reference_N);
  };
  const tear = Math.min(TEAR_px, (piece.right_px - piece.left_px) * 0.4);
  const left = piece.left_px + (isTorn(before) ? tear : 0);
  const right = piece.right_px - (isTorn(after) ? tear : 0);
  const [start, end] = [thickness(before), thickness(after)];
  const isIdle = Math.max(start ?? 0, end ?? 0) === 0;
  // An end that carries nothing, or has no link, is as thick as the other.
  const half = (own: number | undefined, other: number | undefined) => (isIdle ? IDLE_px : own || other || 0) / 2;
  const [h0, h1] = [half(start, end), half(end, start)];
  const outline = [
    ...corners(left, middle - h0, right, middle - h1),
    ...tornEdge(right, middle, h1, isTorn(after) ? 1 : 0),
    ...corners(right, middle + h1, left, middle + h0),
    ...tornEdge(left, middle, -h0, isTorn(before) ? -1 : 0),
  ];
  const isOpen = isIdle || !withForces;
  const look = isOpen
    ? { stroke: colours.column, pen: 1.3, dash: isIdle ? [3, 2.5] : undefined }
    : { fill: colours.column, stroke: colours.ground, pen: 0.9 };
  const isJaw = !isOpen && (start === undefined || end === undefined);
  const [jaw, jawHalf] = [3.5, COLUMN_px / 2 + 3];
  const x = start === undefined ? left - jaw : right;
  const jaws = isJaw ? [rect(x, middle - jawHalf, jaw, 2 * jawHalf, { fill: colours.column })] : [];
  return group([areas([outline], look), ...jaws], { data: { piece: id } });
}

function tornEdge(x: number, middle: number, half: number, way: 1 | -1 | 0): readonly Point[] {
  if (way === 0) return [];
  return [0.6, 0.2, -0.2, -0.6].map((share, k) => [x + way * (k % 2 === 0 ? 3.2 : -0.5), middle - half * share]);
}

interface Figure {
  readonly text: string;
  readonly x_px: number;
  readonly isTrouble: boolean;
}

/** A badge and a gap at every break, one force under each stretch that carries the same. */
function figures({ links, pieces, sheet, withForces, reference_N, torn, middle_px }: Column) {
  const xOf = (k: number) => {
    const [left, right] = [pieces[k], pieces[k + 1]];
    return left && right ? (left.right_px + right.left_px) / 2 : sheet.x(links[k]!.z_mm);
  };
  const badges: Shape[] = [];
  const breaks: Figure[] = [];
  const runs: number[][] = [[]];
  links.forEach((link, k) => {
    const run = runs.at(-1)!;
    if (!isBroken(link, reference_N)) {
      const last = links[run.at(-1) ?? -1];
      if (last && Math.abs(last.force_N - link.force_N) > 0.03 * reference_N) runs.push([k]);
      else run.push(k);
      return;
    }
    runs.push([]);
    if (!torn.has(link)) return;
    badges.push(...badge(xOf(k), middle_px, sheet.colours, 6.5));
    const text = link.gap_mm > CLOSED_mm ? `gap ${wordGap(link.gap_mm)}` : withForces ? 'no force' : '';
    if (text !== '') breaks.push({ text, x_px: xOf(k), isTrouble: true });
  });
  const forces = runs
    .filter((run) => withForces && run.length > 0)
    .map((run): Figure => {
      // The least of a stretch, as the clamp of the card and of the findings is: a mean would be a third number.
      const least_N = Math.min(...run.map((k) => links[k]!.force_N));
      return { text: wordForce(least_N), x_px: (xOf(run[0]!) + xOf(run.at(-1)!)) / 2, isTrouble: false };
    });
  return { badges, texts: [...breaks, ...forces] };
}

/** As many of the figures as have room: breaks come first, so a force is left out before a gap is. */
function figureTexts(
  wanted: readonly Figure[],
  { text_px, colours }: Sheet,
  y: number,
  from_px: number,
  to_px: number,
): readonly Shape[] {
  const size = text_px;
  const flags = wanted.map(({ text, x_px }, k) => {
    const half = textWidth(text, size) / 2;
    return { id: String(k), anchor_px: x_px, left_px: half, right_px: half };
  });
  for (let count = flags.length; count > 0; count -= 1) {
    const placed = placeFlags(flags.slice(0, count), from_px, to_px, 1, Infinity);
    if (!placed) continue;
    return placed.map((flag) => {
      const { text, isTrouble } = wanted[Number(flag.id)]!;
      const fill = isTrouble ? colours.troubleText : colours.columnText;
      return words(text, flag.port_px, y, size, { anchor: 'middle', weight: 600, fill });
    });
  }
  return [];
}
