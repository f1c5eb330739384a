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
  type Pose,
  type Run as Travelling,
  type TravelPose,
  type TravelResult,
} from '../../shared/index.ts';
import { arranged, circle, group, rect, textWidth, words, type Drawing, type Shape } from './shapes.ts';
import { drawSide, moved, type Ink, type SideView } from './side.ts';

/** How the strip is drawn. */
export interface StripOptions {
  /** Number of poses, 2 to 9. */
  readonly cells?: number;
  readonly theme?: 'print' | 'light' | 'dark';
}

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
      linkage: run.linkage,
      motions: memberMotions(run, run.poses[k]!),
      axle: axleAt(run, run.poses[k]!),
      at: ({ x_mm, y_mm }) => [(x_mm - box.left) * scale, (box.top - y_mm) * scale],
      scale,
      ink,
    };
    const row = travel.poses[k]!;
    const [drive, rise] = captions(row, isShock);
    const picture = group(drawSide(cell), { clip: { id: `cell-${place}`, to: frame({}) } });
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
interface Cell extends SideView {
  readonly run: Travelling;
  readonly pose: Pose;
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
