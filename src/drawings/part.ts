/**
 * Small drawings of single parts from their profiles, as SVG: the section at a stated scale, with what a hand needs to
 * see beside it (the outline of a look-alike, the difference between the two, calipers in place).
 *
 * The axis lies flat, z runs to the right from the non-drive to the drive side as in the part's own frame, r upward. All
 * coordinates are mm; `width` and `height` say how large a millimetre is drawn, so that several drawings of one scale are
 * at true relative size. Colours come from style classes, so that one drawing serves dark, light and paper.
 */
import {
  partProfile,
  shankLength_mm,
  type CaliperPlace,
  type CaliperSize,
  type Corner,
  type Part,
  type Polygon,
} from '../../shared/index.ts';
import { px, tag, type AttributeValue } from './svg.ts';

/** What to draw, and how large. */
export interface PartDrawing {
  readonly part: Part;
  /** How many units of `unit` a millimetre takes. */
  readonly scale: number;
  readonly unit?: 'px' | 'mm';
  /** A look-alike, drawn as an outline from the same face. */
  readonly ghost?: Part;
  /** The size in which the look-alike differs, marked where the two part. */
  readonly telling?: CaliperSize;
  /** Calipers or a gauge in place. */
  readonly calipers?: CaliperPlace;
  /** Room to keep free left of z = 0, mm, so that several drawings line up on their datum. */
  readonly lead_mm?: number;
  /** What a screen reader says; without it the drawing is left to the words beside it. */
  readonly title?: string;
}

/** Half-height and ends of a part, mm. */
export interface PartExtent {
  readonly from_mm: number;
  readonly to_mm: number;
  readonly radius_mm: number;
}

/** How far a part reaches, mm. */
export function partExtent(part: Part): PartExtent {
  const { solids, from_mm, to_mm } = partProfile(part);
  return { from_mm, to_mm, radius_mm: Math.max(...solids.flatMap(({ polygon }) => polygon.map(([r]) => r))) };
}

/** Edge kept free round a drawing, mm. */
const EDGE_mm = 1;
/** How far jaws stand off and reach, mm. */
const JAW_mm = 3.5;

/** The drawing as one SVG text. */
export function drawPart({
  part,
  scale,
  unit = 'px',
  ghost,
  telling,
  calipers,
  lead_mm = 0,
  title,
}: PartDrawing): string {
  const own = partExtent(part);
  const other = ghost ? partExtent(ghost) : own;
  const grip = calipers ? JAW_mm + EDGE_mm : 0;
  const left = Math.min(own.from_mm, other.from_mm, -lead_mm) - EDGE_mm - grip;
  const right = Math.max(own.to_mm, other.to_mm) + EDGE_mm + grip;
  const radius = Math.max(own.radius_mm, other.radius_mm) + EDGE_mm + grip;
  const shapes = [
    ...section(part),
    ...(ghost ? [outline(ghost)] : []),
    ...(ghost && telling ? [difference(part, ghost, telling)] : []),
    ...(calipers ? [tool(calipers, own)] : []),
  ];
  const [width, height] = [(right - left) * scale, 2 * radius * scale];
  return tag(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      class: 'part-drawing',
      viewBox: [left, -radius, right - left, 2 * radius].map(px).join(' '),
      width: `${px(width)}${unit === 'mm' ? 'mm' : ''}`,
      height: `${px(height)}${unit === 'mm' ? 'mm' : ''}`,
      ...(title === undefined ? { 'aria-hidden': 'true' } : { role: 'img', 'aria-label': title }),
    },
    ...shapes,
  );
}

function at([r, z]: Corner): string {
  return `${px(z)} ${px(-r)}`;
}

function path(polygon: Polygon, mirrored: boolean): string {
  return `${polygon.map(([r, z], k) => `${k === 0 ? 'M' : 'L'}${at([mirrored ? -r : r, z])}`).join('')}Z`;
}

function line(a: Corner, b: Corner, attributes: Readonly<Record<string, AttributeValue>>): string {
  return tag('path', { d: `M${at(a)}L${at(b)}`, ...attributes });
}

/** The cut faces above and below the axis, the far wall of the bore between them, the thread. */
function section(part: Part): string[] {
  const { solids, balls, from_mm, to_mm } = partProfile(part);
  const body = solids.filter(({ role }) => role !== 'seal');
  const radius = Math.max(...body.flatMap(({ polygon }) => polygon.map(([r]) => r)));
  const shapes = [tag('path', { class: 'part-far', d: farWall(part, from_mm, to_mm, radius) })];
  for (const { role, polygon } of solids) {
    for (const mirrored of [false, true])
      shapes.push(tag('path', { class: role === 'seal' ? 'part-seal' : 'part-cut', d: path(polygon, mirrored) }));
  }
  if (balls)
    for (const r of [balls.circle_mm / 2, -balls.circle_mm / 2])
      shapes.push(tag('circle', { class: 'part-ball', cx: balls.z_mm, cy: -r, r: balls.diameter_mm / 2 }));
  shapes.push(...threadMarks(part));
  shapes.push(line([0, from_mm - EDGE_mm / 2], [0, to_mm + EDGE_mm / 2], { class: 'part-axis' }));
  return shapes;
}

/** What is seen through the cut behind it: the part's own outline, filled lightly. */
function farWall(part: Part, from_mm: number, to_mm: number, radius: number): string {
  const upper = silhouette(part);
  if (upper.length === 0)
    return path(
      [
        [-radius, from_mm],
        [radius, from_mm],
        [radius, to_mm],
        [-radius, to_mm],
      ],
      false,
    );
  return `${[...upper, ...upper.map(([r, z]): Corner => [-r, z]).reverse()].map((corner, k) => `${k === 0 ? 'M' : 'L'}${at(corner)}`).join('')}Z`;
}

/** The widest radius along z, left to right, of all solids: what the eye takes for the part's shape. */
export function silhouette(part: Part): Corner[] {
  const edges = partProfile(part).solids.flatMap(({ polygon }) =>
    polygon.map((corner, k) => [corner, polygon[(k + 1) % polygon.length]!] as const),
  );
  const stops = [...new Set(edges.flatMap(([[, z]]) => z))].sort((a, b) => a - b);
  const corners: Corner[] = [];
  for (let k = 0; k + 1 < stops.length; k++) {
    const [z0, z1] = [stops[k]!, stops[k + 1]!];
    // Just inside both ends, so that a step shows its two radii.
    for (const z of [z0 + (z1 - z0) * 1e-6, z1 - (z1 - z0) * 1e-6]) {
      const widest = edges.reduce((most, [[ra, za], [rb, zb]]) => {
        if ((za - z) * (zb - z) > 0 || za === zb) return most;
        return Math.max(most, ra + ((rb - ra) * (z - za)) / (zb - za));
      }, 0);
      corners.push([widest, z < (z0 + z1) / 2 ? z0 : z1]);
    }
  }
  return corners;
}

function threadMarks(part: Part): string[] {
  if (!('thread' in part)) return [];
  const { size_mm, pitch_mm, length_mm } = part.thread;
  const end = part.kind === 'nut' ? length_mm : 'shank' in part ? shankLength_mm(part) : length_mm;
  const isInner = part.kind === 'nut' || part.kind === 'sleeve';
  const depth = 0.6 * pitch_mm;
  const [crest, root] = isInner ? [size_mm / 2 - depth, size_mm / 2] : [size_mm / 2, size_mm / 2 - depth];
  const marks: string[] = [];
  // Drawn coarser than it is, so that it still reads as a thread when it is small.
  const step = Math.max(pitch_mm, 1.5);
  for (let z = end - length_mm + step / 2; z < end - step / 4; z += step) {
    for (const side of [1, -1]) marks.push(`M${at([side * root, z - step / 4])}L${at([side * crest, z + step / 4])}`);
  }
  return [tag('path', { class: 'part-thread', d: marks.join('') })];
}

function outline(part: Part): string {
  const upper = silhouette(part);
  return tag('path', {
    class: 'part-ghost',
    d: `${[...upper, ...upper.map(([r, z]): Corner => [-r, z]).reverse()].map((corner, k) => `${k === 0 ? 'M' : 'L'}${at(corner)}`).join('')}Z`,
  });
}

/** The stretch between the two sizes, as a band where they part. */
function difference(part: Part, ghost: Part, telling: CaliperSize): string {
  const [own, other] = [partExtent(part), partExtent(ghost)];
  const wide = Math.max(own.radius_mm, other.radius_mm);
  if (telling === 'length_mm') {
    const [from, to] = [Math.min(own.to_mm, other.to_mm), Math.max(own.to_mm, other.to_mm)];
    return band([wide, from], [-wide, to]);
  }
  const [mine, its] = [radiusOf(part, telling), radiusOf(ghost, telling)];
  if (mine === undefined || its === undefined) return '';
  const place = spotOf(part, telling, own);
  const half = Math.max(0.6, Math.min(2, (own.to_mm - own.from_mm) / 5));
  const [low, high] = [Math.min(mine, its), Math.max(mine, its)];
  return band([high, place - half], [low, place + half]) + band([-low, place - half], [-high, place + half]);
}

function band([r0, z0]: Corner, [r1, z1]: Corner): string {
  return tag('rect', {
    class: 'part-telling',
    x: Math.min(z0, z1),
    y: Math.min(-r0, -r1),
    width: Math.abs(z1 - z0),
    height: Math.abs(r1 - r0),
  });
}

/** Radius at which a diameter stands, mm. */
function radiusOf(part: Part, name: CaliperSize): number | undefined {
  switch (name) {
    case 'outside_mm':
      if ('shank' in part) return Math.max(...part.shank.map(({ diameter_mm }) => diameter_mm)) / 2;
      return partExtent(part).radius_mm;
    case 'bore_mm':
      if (part.kind === 'nut') return part.thread.size_mm / 2;
      return Math.min(...partProfile(part).solids.flatMap(({ polygon }) => polygon.map(([r]) => r)));
    case 'head_mm':
      return 'head' in part ? part.head.diameter_mm / 2 : undefined;
    case 'small_mm':
      if (part.kind === 'tapered-spacer') return part.small_mm / 2;
      if (part.kind === 'end-cap') return part.land_mm / 2;
      if (part.kind === 'nut') return (part.land_mm ?? part.outside_mm) / 2;
      return 'head' in part ? (part.head.land_mm ?? part.head.diameter_mm) / 2 : undefined;
    case 'large_mm':
      return part.kind === 'tapered-spacer'
        ? part.large_mm / 2
        : 'outside_mm' in part && part.outside_mm !== undefined
          ? part.outside_mm / 2
          : undefined;
    case 'thread_mm':
      return 'thread' in part ? part.thread.size_mm / 2 : undefined;
    default:
      return undefined;
  }
}

/** Where along z a diameter is looked at. */
function spotOf(part: Part, name: CaliperSize, { from_mm, to_mm }: PartExtent): number {
  if (name === 'head_mm') return 'head' in part ? from_mm + part.head.height_mm / 2 : 0;
  if (name === 'small_mm') return 'head' in part ? -(part.head.land_height_mm ?? 0) / 2 : from_mm;
  if (name === 'large_mm') return to_mm;
  if (name === 'thread_mm' && 'shank' in part) return to_mm - part.thread.length_mm / 2;
  if (name === 'outside_mm' && part.kind === 'tapered-spacer') return to_mm;
  return (from_mm + to_mm) / 2;
}

/** Jaws, rod or gauge where they touch the part. */
function tool({ jaws, from, to }: CaliperPlace, { radius_mm }: PartExtent): string {
  const [[r0, z0], [r1, z1]] = [from, to];
  const parts: string[] = [];
  const bar = (a: Corner, b: Corner): void => {
    parts.push(line(a, b, { class: 'caliper' }));
  };
  const beam = radius_mm + JAW_mm;
  switch (jaws) {
    case 'outside-jaws':
      if (Math.abs(z1 - z0) > 1e-6) {
        // Along the axis: jaws come down over both ends.
        bar([beam, z0], [r0 * 0.6, z0]);
        bar([beam, z1], [r1 * 0.6, z1]);
        bar([beam, z0], [beam, z1]);
      } else {
        bar([r0, z0 - 1.2], [r0, z0 + JAW_mm]);
        bar([r1, z0 - 1.2], [r1, z0 + JAW_mm]);
        bar([r0, z0 + JAW_mm], [r1, z0 + JAW_mm]);
      }
      break;
    case 'inside-jaws':
      bar([r0, z0 + 1.5], [r0, z0 - JAW_mm]);
      bar([r1, z0 + 1.5], [r1, z0 - JAW_mm]);
      bar([r0, z0 - JAW_mm], [r1, z0 - JAW_mm]);
      break;
    case 'depth-rod':
      bar([radius_mm, z0], [r0, z0]);
      bar([r0 + 1.2, z0], [r1 + 1.2, z1]);
      bar([r0 + 1.2, z1], [r1 - 1.5, z1]);
      break;
    case 'pitch-gauge':
    case 'count': {
      const step = Math.max(1.2, Math.abs(z1 - z0) / 8);
      for (let z = Math.min(z0, z1) + step / 2; z < Math.max(z0, z1); z += step) bar([r0 + 2.2, z], [r0 + 0.3, z]);
      bar([r0 + 2.2, z0], [r1 + 2.2, z1]);
      break;
    }
    case 'key':
      bar([0, z0 - JAW_mm], [0, z0 + 1.5]);
      bar([2.5, z0 - JAW_mm], [-2.5, z0 - JAW_mm]);
      break;
    case 'eye':
      break;
  }
  return parts.join('');
}
