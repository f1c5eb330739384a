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
import type { Palette } from './colours.ts';
import type { Frame, ShownItem } from './frame.ts';
import { placeFlags } from './flags.ts';
import { badge } from './marks.ts';
import { pathThrough, px, tag, textWidth, words } from './svg.ts';

/** Full thickness of the band, px. */
export const COLUMN_px = 16;
/** A link that carries less than this share of the preload counts as broken: the fit check's own least share of a ring. */
const BROKEN_SHARE = 0.05;
/** Contacts of the analysis close to well under this, mm. */
const CLOSED_mm = 1e-3;
/** Length of band under a head or receiver, however long its part is, mm. */
const JAW_mm = 5;
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

/** A gap for people: two decimals below 1 mm, one above; never '0.00'. */
export function wordGap(gap_mm: number): string {
  if (gap_mm < 0.005) return '< 0.01 mm';
  return gap_mm < 1 ? `${gap_mm.toFixed(2)} mm` : `${gap_mm.toFixed(1)} mm`;
}

/** Links at which the band is torn and marked: every gap, and one link of each run that carries nothing without a gap. */
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

interface Piece {
  readonly id: string;
  readonly left_px: number;
  readonly right_px: number;
  readonly before?: ColumnLink;
  readonly after?: ColumnLink;
}

/** What to draw and where: `top_px` is the upper edge of the full band. */
export interface ColumnPlan {
  readonly top_px: number;
  readonly figures_px: number;
  readonly withForces: boolean;
  /** Ends of the room for figures. */
  readonly from_px: number;
  readonly to_px: number;
}

/** SVG text of the band with its breaks and figures; empty when the stack has no column. */
export function drawColumn(
  stack: StackAnalysis,
  shown: readonly ShownItem[],
  frame: Frame,
  plan: ColumnPlan,
  colours: Palette,
): string {
  const links = [...stack.column].sort((a, b) => a.z_mm - b.z_mm);
  if (links.length === 0) return '';
  const reference_N = columnReference(stack);
  const middle = plan.top_px + COLUMN_px / 2;
  const torn = markedBreaks(links, reference_N);
  const pieces = piecesOf(links, shown, frame);
  const thickness = (link: ColumnLink | undefined) => {
    if (!link) return undefined;
    if (!plan.withForces) return COLUMN_px * 0.45;
    return isBroken(link, reference_N) ? 0 : Math.max(1.6, (COLUMN_px * link.force_N) / reference_N);
  };
  let svg = '';
  pieces.forEach((piece, k) => {
    const next = pieces[k + 1];
    if (!next || next.left_px - piece.right_px < 2 * TEAR_px) return;
    svg += tag('path', {
      d: `M${px(piece.right_px + 2)} ${px(middle)}H${px(next.left_px - 2)}`,
      stroke: colours.column,
      'stroke-width': 1.2,
      'stroke-dasharray': '1.5 4',
    });
  });
  for (const piece of pieces) svg += drawPiece(piece, middle, thickness, torn, plan, colours);
  return tag(
    'g',
    { class: 'aws-column' },
    svg,
    figures(links, pieces, frame, plan, reference_N, torn, middle, colours),
  );
}

function piecesOf(links: readonly ColumnLink[], shown: readonly ShownItem[], frame: Frame): readonly Piece[] {
  const ids = [links[0]!.from, ...links.map((link) => link.to)];
  return ids.flatMap((id, k): Piece[] => {
    const own = shown.find((each) => each.item.id === id);
    if (!own) return [];
    const before = links[k - 1];
    const after = links[k];
    const [from_mm, to_mm] = stretchOf(own.item, before, after);
    const left_px = frame.x(from_mm + own.offset_mm);
    const right_px = frame.x(to_mm + own.offset_mm);
    return [{ id, left_px, right_px, ...(before && { before }), ...(after && { after }) }];
  });
}

/** The stretch of axis along which an item carries the column, mm: a head or receiver only a jaw's length at its face. */
function stretchOf(
  item: PlacedItem,
  before: ColumnLink | undefined,
  after: ColumnLink | undefined,
): readonly [number, number] {
  if (!before && after) return [Math.max(after.z_mm - after.gap_mm - JAW_mm, item.from_mm), after.z_mm - after.gap_mm];
  if (before && !after)
    return [before.z_mm + before.gap_mm, Math.min(before.z_mm + before.gap_mm + JAW_mm, item.to_mm)];
  const ring = item.solids.filter((solid) => solid.role === 'inner-ring');
  const places = (ring.length > 0 ? ring : item.solids).flatMap((solid) => solid.polygon.map(([, z]) => z));
  return places.length === 0 ? [item.from_mm, item.to_mm] : [Math.min(...places), Math.max(...places)];
}

function drawPiece(
  piece: Piece,
  middle: number,
  thickness: (link: ColumnLink | undefined) => number | undefined,
  torn: ReadonlySet<ColumnLink>,
  plan: ColumnPlan,
  colours: Palette,
): string {
  const isTorn = (link: ColumnLink | undefined) => link !== undefined && torn.has(link);
  const width = piece.right_px - piece.left_px;
  const tear = Math.min(TEAR_px, width * 0.4);
  const left = piece.left_px + (isTorn(piece.before) ? tear : 0);
  const right = piece.right_px - (isTorn(piece.after) ? tear : 0);
  const before = thickness(piece.before);
  const after = thickness(piece.after);
  const isJaw = before === undefined || after === undefined;
  const carried = Math.max(before ?? 0, after ?? 0);
  const isIdle = carried === 0;
  const idle = COLUMN_px * 0.45;
  const pick = (own: number | undefined, other: number | undefined) =>
    isIdle ? idle : own === 0 || own === undefined ? (other ?? 0) : own;
  const h0 = pick(before, after) / 2;
  const h1 = pick(after, before) / 2;
  const points: (readonly [number, number])[] = [
    [left, middle - h0],
    [right, middle - h1],
    ...tornEdge(right, middle, h1, isTorn(piece.after) ? 1 : 0),
    [right, middle + h1],
    [left, middle + h0],
    ...tornEdge(left, middle, -h0, isTorn(piece.before) ? -1 : 0),
  ];
  const isOpen = isIdle || !plan.withForces;
  const shape = tag('path', {
    d: pathThrough(points),
    fill: isOpen ? 'none' : colours.column,
    stroke: isOpen ? colours.column : colours.ground,
    'stroke-width': isOpen ? 1.3 : 0.9,
    'stroke-dasharray': isIdle ? '3 2.5' : undefined,
  });
  if (!isJaw || isOpen) return tag('g', { 'data-piece': piece.id }, shape);
  const jawHalf = COLUMN_px / 2 + 3;
  const jaw = 3.5;
  const x = before === undefined ? left - jaw : right;
  return tag(
    'g',
    { 'data-piece': piece.id },
    shape,
    tag('rect', { x, y: middle - jawHalf, width: jaw, height: 2 * jawHalf, fill: colours.column }),
  );
}

function tornEdge(x: number, middle: number, half: number, way: 1 | -1 | 0): (readonly [number, number])[] {
  if (way === 0) return [];
  return [0.6, 0.2, -0.2, -0.6].map(
    (share, k) => [x + way * (k % 2 === 0 ? 3.2 : -0.5), middle - half * share] as const,
  );
}

interface Figure {
  readonly text: string;
  readonly x_px: number;
  readonly isTrouble: boolean;
}

function figures(
  links: readonly ColumnLink[],
  pieces: readonly Piece[],
  frame: Frame,
  plan: ColumnPlan,
  reference_N: number,
  torn: ReadonlySet<ColumnLink>,
  middle: number,
  colours: Palette,
): string {
  const xOf = (k: number) => {
    const [left, right] = [pieces[k], pieces[k + 1]];
    return left && right ? (left.right_px + right.left_px) / 2 : frame.x(links[k]!.z_mm);
  };
  let svg = '';
  const breaks: Figure[] = [];
  const groups: Figure[] = [];
  let run: number[] = [];
  const closeRun = () => {
    if (run.length > 0) {
      const mean_N = run.reduce((sum, k) => sum + links[k]!.force_N, 0) / run.length;
      groups.push({ text: wordForce(mean_N), x_px: (xOf(run[0]!) + xOf(run[run.length - 1]!)) / 2, isTrouble: false });
    }
    run = [];
  };
  links.forEach((link, k) => {
    if (isBroken(link, reference_N)) {
      closeRun();
      if (!torn.has(link)) return;
      svg += badge(xOf(k), middle, colours, 6.5);
      const text = link.gap_mm > CLOSED_mm ? `gap ${wordGap(link.gap_mm)}` : plan.withForces ? 'no force' : '';
      if (text !== '') breaks.push({ text, x_px: xOf(k), isTrouble: true });
      return;
    }
    const before = links[run[run.length - 1] ?? -1];
    if (before && Math.abs(before.force_N - link.force_N) > 0.03 * reference_N) closeRun();
    run.push(k);
  });
  closeRun();
  return svg + figureTexts(breaks, plan.withForces ? groups : [], frame, plan, colours);
}

function figureTexts(
  breaks: readonly Figure[],
  groups: readonly Figure[],
  frame: Frame,
  plan: ColumnPlan,
  colours: Palette,
): string {
  const size = frame.text_px * 0.95;
  const flagOf = (figure: Figure, k: number) => {
    const half = textWidth(figure.text, size) / 2;
    return { id: String(k), anchor_px: figure.x_px, left_px: half, right_px: half };
  };
  // Breaks come first: a force is left out before a gap is.
  let chosen = [...breaks, ...groups];
  let placed = placeFlags(chosen.map(flagOf), plan.from_px, plan.to_px, 1, Infinity);
  while (!placed && chosen.length > 0) {
    chosen = chosen.slice(0, -1);
    placed = placeFlags(chosen.map(flagOf), plan.from_px, plan.to_px, 1, Infinity);
  }
  return (placed ?? [])
    .map((flag) => {
      const figure = chosen[Number(flag.id)]!;
      return words(figure.text, flag.port_px, plan.figures_px, {
        'text-anchor': 'middle',
        'font-size': size,
        'font-weight': 600,
        fill: figure.isTrouble ? colours.troubleText : colours.columnText,
      });
    })
    .join('');
}
