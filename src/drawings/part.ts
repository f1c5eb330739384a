/**
 * Small drawings of single parts from their profiles: the section at a stated scale, with what a hand needs to see
 * beside it (the outline of a look-alike, the difference between the two, callipers in place).
 *
 * The axis lies flat, z runs to the right from the non-drive to the drive side as in the part's own frame, r upward.
 * All coordinates are mm; `width` and `height` say how large a millimetre is drawn, so that several drawings of one
 * scale are at true relative size. Colours come from style classes, so that one drawing serves dark, light and paper.
 */
import {
  calliperPlace,
  kindOf,
  partProfile,
  shankLength_mm,
  type CalliperPlace,
  type CalliperSize,
  type Corner,
  type Part,
} from '../../shared/index.ts';
import { envelope } from './outline.ts';
import { areas, circle, lines, rect, type Drawing, type Point, type Run, type Shape } from './shapes.ts';

/** What to draw, and how large. */
export interface PartDrawing {
  readonly part: Part;
  /** How many units of `unit` a millimetre takes. */
  readonly scale: number;
  readonly unit?: 'px' | 'mm';
  /** A look-alike, drawn as an outline from the same face. */
  readonly ghost?: Part;
  /** The size in which the look-alike differs, marked where the two part. */
  readonly telling?: CalliperSize;
  /** Callipers or a gauge in place. */
  readonly callipers?: CalliperPlace;
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

/** Draws a part. */
export function drawPart({
  part,
  scale,
  unit = 'px',
  ghost,
  telling,
  callipers,
  lead_mm = 0,
  title,
}: PartDrawing): Drawing {
  const own = partExtent(part);
  const other = ghost ? partExtent(ghost) : own;
  const grip = callipers ? JAW_mm + EDGE_mm : 0;
  const left = Math.min(own.from_mm, other.from_mm, -lead_mm) - EDGE_mm - grip;
  const right = Math.max(own.to_mm, other.to_mm) + EDGE_mm + grip;
  const radius = Math.max(own.radius_mm, other.radius_mm) + EDGE_mm + grip;
  return {
    class: 'part-drawing',
    label: title,
    from: [left, -radius],
    width_mm: right - left,
    height_mm: 2 * radius,
    unit: 'mm',
    shown: { scale, unit },
    shapes: [
      ...section(part, own),
      ...(ghost ? [areas([wholeOutline(ghost)], { class: 'part-ghost' })] : []),
      ...(ghost && telling ? difference(part, ghost, telling) : []),
      ...(callipers ? [tool(callipers, own)] : []),
    ],
  };
}

/** Bosses of a member cut along their bore, in the frame of the model, with a tool in place. */
export function drawBosses(
  bosses: readonly (readonly Corner[])[],
  callipers: CalliperPlace | undefined,
  scale: number,
  title?: string,
): Drawing {
  const corners = bosses.flat();
  const own: PartExtent = {
    from_mm: Math.min(...corners.map(([, z]) => z)),
    to_mm: Math.max(...corners.map(([, z]) => z)),
    radius_mm: Math.max(...corners.map(([r]) => r)),
  };
  const room = EDGE_mm + JAW_mm;
  const axis: Run = [at([0, own.from_mm - EDGE_mm / 2]), at([0, own.to_mm + EDGE_mm / 2])];
  return {
    class: 'part-drawing',
    label: title,
    from: [own.from_mm - room, -(own.radius_mm + room)],
    width_mm: own.to_mm - own.from_mm + 2 * room,
    height_mm: 2 * (own.radius_mm + room),
    unit: 'mm',
    shown: { scale, unit: 'px' },
    shapes: [
      ...bosses.flatMap((polygon) =>
        [polygon, polygon.map(mirrored)].map((half) => areas([half.map(at)], { class: 'part-cut' })),
      ),
      lines([axis], { class: 'part-axis' }),
      ...(callipers ? [tool(callipers, own)] : []),
    ],
  };
}

/** A corner above the axis, or below it where r is negative. */
const at = ([r, z]: Corner): Point => [z, -r];

const mirrored = ([r, z]: Corner): Corner => [-r, z];

/** The widest radius along z, left to right, of all solids: what the eye takes for the part's shape. */
export function silhouette(part: Part): Corner[] {
  const outline = envelope(
    partProfile(part).solids.map(({ polygon }) => polygon),
    'outer',
  );
  return outline.flatMap(({ r0, z0, r1, z1 }): Corner[] => [
    [r0, z0],
    [r1, z1],
  ]);
}

/** Its silhouette and the mirror image of it, from the datum face at the origin. */
export function wholeOutline(part: Part): Point[] {
  const upper = silhouette(part);
  return [...upper, ...upper.map(mirrored).reverse()].map(at);
}

/** The cut faces above and below the axis, the far wall of the bore between them, the thread. */
function section(part: Part, { from_mm, to_mm }: PartExtent): readonly Shape[] {
  const { solids, balls } = partProfile(part);
  const faces = solids.flatMap(({ role, polygon }) =>
    [polygon, polygon.map(mirrored)].map((half) =>
      areas([half.map(at)], { class: role === 'seal' ? 'part-seal' : 'part-cut' }),
    ),
  );
  const rolling = balls
    ? [1, -1].map((side) =>
        circle(at([(side * balls.circle_mm) / 2, balls.z_mm]), balls.diameter_mm / 2, { class: 'part-ball' }),
      )
    : [];
  const axis: Run = [at([0, from_mm - EDGE_mm / 2]), at([0, to_mm + EDGE_mm / 2])];
  return [
    areas([wholeOutline(part)], { class: 'part-far' }),
    ...faces,
    ...rolling,
    lines(threadMarks(part), { class: 'part-thread' }),
    lines([axis], { class: 'part-axis' }),
  ];
}

function threadMarks(part: Part): readonly Run[] {
  if (!('thread' in part)) return [];
  const { size_mm, pitch_mm, length_mm } = part.thread;
  const end = 'shank' in part ? shankLength_mm(part) : length_mm;
  const isInner = kindOf(part).thread === 'inner';
  const deep = size_mm / 2 - 0.6 * pitch_mm;
  const [crest, root] = isInner ? [deep, size_mm / 2] : [size_mm / 2, deep];
  const marks: Run[] = [];
  // Drawn coarser than it is, so that it still reads as a thread when it is small.
  const step = Math.max(pitch_mm, 1.5);
  for (let z = end - length_mm + step / 2; z < end - step / 4; z += step) {
    for (const side of [1, -1]) marks.push([at([side * root, z - step / 4]), at([side * crest, z + step / 4])]);
  }
  return marks;
}

/** The stretch between the two sizes, as a band where the calliper takes them. */
function difference(part: Part, ghost: Part, telling: CalliperSize): readonly Shape[] {
  const [own, other] = [partExtent(part), partExtent(ghost)];
  const band = (r: number, from: number, height: number, width: number) =>
    rect(from, -r, width, height, { class: 'part-telling' });
  if (telling === 'length_mm') {
    const wide = Math.max(own.radius_mm, other.radius_mm);
    return [band(wide, Math.min(own.to_mm, other.to_mm), 2 * wide, Math.abs(own.to_mm - other.to_mm))];
  }
  const [mine, its] = [calliperPlace(part, telling), calliperPlace(ghost, telling)];
  if (!mine || !its || mine.from[1] !== mine.to[1]) return [];
  const half = Math.max(0.6, Math.min(2, (own.to_mm - own.from_mm) / 5));
  const from = Math.min(Math.max(mine.from[1], own.from_mm + half), own.to_mm - half) - half;
  const radii = [mine.from[0], its.from[0]];
  const [low, high] = [Math.min(...radii), Math.max(...radii)];
  return [high, -low].map((r) => band(r, from, high - low, 2 * half));
}

/** Jaws, rod or gauge where they touch the part. */
function tool({ jaws, from: [r0, z0], to: [r1, z1] }: CalliperPlace, { radius_mm }: PartExtent): Shape {
  const runs: Run[] = [];
  const bar = (...bars: readonly Corner[]) => runs.push(bars.map(at));
  const beam = radius_mm + JAW_mm;
  switch (jaws) {
    case 'outside-jaws':
      // Along the axis: jaws come down over both ends.
      if (Math.abs(z1 - z0) > 1e-6) bar([r0 * 0.6, z0], [beam, z0], [beam, z1], [r1 * 0.6, z1]);
      else bar([r0, z0 - 1.2], [r0, z0 + JAW_mm], [r1, z0 + JAW_mm], [r1, z0 - 1.2]);
      break;
    case 'inside-jaws':
      bar([r0, z0 + 1.5], [r0, z0 - JAW_mm], [r1, z0 - JAW_mm], [r1, z0 + 1.5]);
      break;
    case 'depth-rod':
      bar([radius_mm, z0], [r0, z0]);
      bar([r0 + 1.2, z0], [r1 + 1.2, z1], [r1 - 1.5, z1]);
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
  return lines(runs, { class: 'calliper' });
}
