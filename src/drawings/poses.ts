/**
 * A strip of poses: the linkage in a few poses side by side, from the drive side, for screen and print.
 *
 * Frame and members are the hulls the clearance check works with, so what is seen passing is what was measured. Every
 * pivot carries the angle it has turned since the first pose. All cells share one scale. Input mm, output px of the
 * view box; x forward, y up on paper.
 */
import { GROUND, POSES } from '../look.ts';
import {
  axleAt,
  memberMotions,
  outlinesOf,
  pivotPlaces,
  wordAngle,
  wordTurns,
  wordMeasure,
  type Motion,
  type Outline,
  type Place,
  type Pose,
  type Run as Travelling,
  type TravelPose,
  type TravelResult,
} from '../../shared/index.ts';
import {
  arranged,
  areas,
  circle,
  group,
  lines,
  rect,
  textWidth,
  words,
  type Arc,
  type Drawing,
  type Point,
  type Run,
  type Shape,
} from './shapes.ts';

/** How the strip is drawn. */
export interface StripOptions {
  /** Number of poses, 2 to 9. */
  readonly cells?: number;
  readonly theme?: 'print' | 'light' | 'dark';
}

type Ink = Readonly<Record<keyof (typeof POSES)['print'] | 'ground', string>>;

const CELL_px = 250;
const GAP_px = 14;
const HEAD_px = 46;
const CAPTION_px = 44;
const FOOT_px = 26;
const MARGIN_mm = 40;
const LABEL_px = 12;

/** The whole drawing; undefined where nothing moves. */
export function drawPoses(
  { run, travel }: TravelResult,
  { cells = 5, theme = 'print' }: StripOptions = {},
): Drawing | undefined {
  if (!run || run.poses.length === 0) return undefined;
  const last = run.poses.length - 1;
  const count = Math.max(1, Math.min(Math.max(2, cells), 9, run.poses.length));
  const shown = Array.from({ length: count }, (_, k) => Math.round((k * last) / Math.max(1, count - 1)));
  const ink: Ink = { ...POSES[theme], ground: GROUND[theme] };
  const box = boxOf(
    run,
    shown.map((k) => run.poses[k]!),
  );
  const scale = CELL_px / Math.max(1, box.right - box.left);
  const height_px = (box.top - box.bottom) * scale;
  const width_px = count * CELL_px + (count + 1) * GAP_px;
  const whole_px = HEAD_px + height_px + CAPTION_px + FOOT_px;
  const isShock = run.drive.kind === 'shock';
  const heading = `${run.linkage.model.name}: ${isShock ? 'travel, shock full length to full stroke' : 'swing, shock out'}`;
  const frame = (look: Parameters<typeof rect>[4]) => ({ ...rect(0, 0, CELL_px, height_px, look), radius: 6 });
  const drawn = shown.map((k, place) => {
    const cell: Cell = {
      run,
      pose: run.poses[k]!,
      motions: memberMotions(run, run.poses[k]!),
      at: ({ x_mm, y_mm }) => [(x_mm - box.left) * scale, (box.top - y_mm) * scale],
      scale,
      ink,
    };
    const row = travel.poses[k]!;
    const [drive, rise] = captions(row, isShock);
    const picture = group(drawPose(cell), { clip: { id: `cell-${place}`, to: frame({}) } });
    const shapes = [
      frame({ stroke: ink.muted, pen: 1 }),
      picture,
      ...drawAngles(cell, place === 0 ? undefined : row.turns_deg),
      words(drive, CELL_px / 2, height_px + 18, 14, { anchor: 'middle', weight: 600, fill: ink.ink }),
      words(rise, CELL_px / 2, height_px + 36, LABEL_px, { anchor: 'middle', fill: ink.muted }),
    ];
    return group(shapes, { at: [GAP_px + place * (CELL_px + GAP_px), HEAD_px], data: { pose: String(k) } });
  });
  const seen = 'Seen from the drive side. Angles: what each pivot has turned since the first pose.';
  const defer = 'The frame maker’s instructions, local rules and a qualified mechanic have the last word.';
  const shapes = [
    rect(0, 0, width_px, whole_px, { fill: ink.ground }),
    words(heading, GAP_px, 22, 16, { weight: 650, fill: ink.ink }),
    words(seen, GAP_px, 38, LABEL_px, { fill: ink.muted }),
    ...drawn,
    words(defer, GAP_px, whole_px - 9, 11, { fill: ink.muted }),
  ];
  const label = `${heading}, ${count} poses from the drive side`;
  return { label, title: heading, ...arranged(shapes, width_px, whole_px) };
}

/** How far it has gone, and where that takes the axle. */
function captions({ drive, rise_mm }: TravelPose, isShock: boolean): readonly [drive: string, rise: string] {
  const wordLength = (value: number) => wordMeasure({ value, unit: 'mm' });
  return [
    isShock ? `${wordLength(drive)} stroke` : `${drive < 0 ? '−' : ''}${wordAngle(drive)}`,
    rise_mm === undefined ? '' : `axle ${wordLength(Math.abs(rise_mm))} ${rise_mm < -0.05 ? 'lower' : 'up'}`,
  ];
}

/** One pose and how it is put on the sheet. */
interface Cell {
  readonly run: Travelling;
  readonly pose: Pose;
  readonly motions: Readonly<Record<string, Motion>>;
  readonly at: (place: Place) => Point;
  readonly scale: number;
  readonly ink: Ink;
}

/**
 * Room for everything that moves in the poses shown, the pivots and the axle; the frame and the tyre are cut off there.
 */
function boxOf(run: Travelling, poses: readonly Pose[]) {
  const { bodies, model } = run.linkage;
  const discs = poses.flatMap((pose) => {
    const motions = memberMotions(run, pose);
    const axle = axleAt(run, pose);
    const places = [...Object.values(pivotPlaces(run, pose)), ...(axle ? [axle] : [])];
    const ends = bodies.flatMap(({ members }) =>
      members.flatMap((member) =>
        outlinesOf(model, member)
          .flatMap(({ a, b }) => [a, b])
          .map((disc) => ({ ...moved(disc, motions[member]!), by: disc.radius_mm + 6 })),
      ),
    );
    return [...places.map((place) => ({ ...place, by: MARGIN_mm })), ...ends];
  });
  return {
    left: Math.min(...discs.map(({ x_mm, by }) => x_mm - by)),
    right: Math.max(...discs.map(({ x_mm, by }) => x_mm + by)),
    bottom: Math.min(...discs.map(({ y_mm, by }) => y_mm - by)),
    top: Math.max(...discs.map(({ y_mm, by }) => y_mm + by)),
  };
}

function moved({ x_mm, y_mm }: Place, { x_mm: x, y_mm: y, angle_rad }: Motion): Place {
  const [cos, sin] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  return { x_mm: x + cos * x_mm - sin * y_mm, y_mm: y + sin * x_mm + cos * y_mm };
}

function fillOf(kind: string, ink: Ink): string {
  if (kind === 'frame') return ink.frame;
  if (kind === 'rocker' || kind === 'link') return ink.link;
  return kind.startsWith('shock') ? ink.shock : ink.stay;
}

function drawPose(cell: Cell): readonly Shape[] {
  const { run, pose, motions, at, scale, ink } = cell;
  const { model, bodyOf } = run.linkage;
  // What stands still behind, what turns in front of it, in the order of the file.
  const order = [...bodyOf].sort(([, one], [, other]) => one - other).map(([member]) => member);
  const wheel = model.obstacles?.find((obstacle) => obstacle.kind === 'wheel');
  const axle = axleAt(run, pose);
  const rubber = { stroke: ink.muted, pen: 1.2, dash: [5, 4] };
  const tyre = wheel && axle ? [circle(at(axle), wheel.radius_mm * scale, rubber)] : [];
  const bodies = order.map((member) => {
    const hulls = outlinesOf(model, member).map((outline) => hull(outline, motions[member]!, cell));
    const shapes = [
      areas(hulls, { fill: ink.line, stroke: ink.line, pen: 1.6, join: 'round' }),
      areas(hulls, { fill: fillOf(model.members[member]!.kind, ink) }),
    ];
    return group(shapes, { data: { member } });
  });
  return [...tyre, ...bodies, ...drawShock(cell)];
}

/** The two halves of the shock as one bar between its eyes, where the model gives them no body of their own. */
function drawShock({ run, motions, at, scale, ink }: Cell): readonly Shape[] {
  const { shock, model } = run.linkage;
  if (!shock || !model.shock) return [];
  const from = moved(shock.from, motions[model.shock.body]!);
  const to = moved(shock.to, motions[model.shock.shaft]!);
  const [long_mm, high_mm] = [to.x_mm - from.x_mm, to.y_mm - from.y_mm];
  // The can does not get shorter: it ends where the full stroke would bring the shaft's eye.
  const can = (model.shock.eye_to_eye_mm - model.shock.stroke_mm * 1.35) / Math.hypot(long_mm, high_mm);
  const on = (share: number) => at({ x_mm: from.x_mm + long_mm * share, y_mm: from.y_mm + high_mm * share });
  const bar = (share0: number, share1: number, width_mm: number, fill: string) => {
    const run = [on(share0), on(share1)];
    const pen = width_mm * scale;
    return [lines([run], { stroke: ink.line, pen: pen + 1.6 }), lines([run], { stroke: fill, pen })];
  };
  return [...bar(0.5, 1, 9, ink.ground), ...bar(0.02, Math.min(0.97, Math.max(0.2, can)), 34, ink.shock)];
}

/** The hull of two discs as arcs and tangents. */
function hull({ a, b }: Outline, motion: Motion, { at, scale }: Cell): Run {
  const [p, q] = [moved(a, motion), moved(b, motion)];
  const length = Math.hypot(q.x_mm - p.x_mm, q.y_mm - p.y_mm);
  const arc = (radius_mm: number, isLong: boolean, to: Point): Arc => ({
    to,
    radius: radius_mm * scale,
    isLong,
    isClockwise: false,
  });
  if (length <= Math.abs(a.radius_mm - b.radius_mm)) {
    const [x, y] = at(a.radius_mm >= b.radius_mm ? p : q);
    const most_mm = Math.max(a.radius_mm, b.radius_mm);
    const left: Point = [x - most_mm * scale, y];
    return [left, arc(most_mm, true, [x + most_mm * scale, y]), arc(most_mm, true, left)];
  }
  const angle = Math.atan2(q.y_mm - p.y_mm, q.x_mm - p.x_mm);
  const lean = Math.acos((a.radius_mm - b.radius_mm) / length);
  const on = (middle: Place, radius: number, turn: number) =>
    at({ x_mm: middle.x_mm + radius * Math.cos(turn), y_mm: middle.y_mm + radius * Math.sin(turn) });
  return [
    on(q, b.radius_mm, angle - lean),
    arc(b.radius_mm, 2 * lean > Math.PI, on(q, b.radius_mm, angle + lean)),
    on(p, a.radius_mm, angle + lean),
    arc(a.radius_mm, 2 * (Math.PI - lean) > Math.PI, on(p, a.radius_mm, angle - lean)),
  ];
}

/** A dot on every pivot and, but for the first pose, the angle it has turned. */
function drawAngles({ run, pose, at, ink }: Cell, turns_deg?: Readonly<Record<string, number>>): readonly Shape[] {
  const dots = Object.entries(pivotPlaces(run, pose)).map(([id, place]) => ({ id, at: at(place) }));
  const middle = dots.reduce((sum, dot) => sum + dot.at[0], 0) / Math.max(1, dots.length);
  const taken: Label[] = dots.map(({ at: [x, y] }) => ({ left: x - 4, right: x + 4, y }));
  return dots.flatMap(({ id, at: [x, y] }) => {
    const dot = circle([x, y], 3.2, { fill: ink.ground, stroke: ink.ink, pen: 1.6 });
    if (!turns_deg) return [dot];
    const { model, pivots } = run.linkage;
    const type = { weight: 650, fill: ink.ink, stroke: ink.ground, pen: 3, data: { pivot: id } };
    const turned = wordTurns(model.written, pivots.find((pivot) => pivot.id === id)!, turns_deg);
    return [
      dot,
      ...turned.map((text) => {
        const label = placeLabel(x, y, textWidth(text, LABEL_px), x < middle, taken);
        taken.push(label);
        return words(text, label.left, label.y + 4, LABEL_px, type);
      }),
    ];
  });
}

/** A label's ends along its line and the middle of its height, px. */
interface Label {
  readonly left: number;
  readonly right: number;
  readonly y: number;
}

/** Beside the dot, outward first, else over or under it: the first place within the cell where nothing else stands. */
function placeLabel(x: number, y: number, width: number, isLeft: boolean, taken: readonly Label[]): Label {
  const outward = isLeft ? x - 7 - width : x + 7;
  const inward = isLeft ? x + 7 : x - 7 - width;
  const over = x - width / 2;
  const tries = [
    [outward, y],
    [inward, y],
    [over, y - 13],
    [over, y + 13],
    [outward, y - 12],
    [outward, y + 12],
  ].map(([left, at]) => {
    const start = Math.max(3, Math.min(CELL_px - width - 3, left!));
    return { left: start, right: start + width, y: at! };
  });
  const isFree = (label: Label): boolean =>
    taken.every(
      (other) =>
        Math.abs(other.y - label.y) >= LABEL_px || other.right + 1 < label.left || label.right + 1 < other.left,
    );
  return tries.find(isFree) ?? tries[0]!;
}
