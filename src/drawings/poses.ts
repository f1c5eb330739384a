/**
 * A strip of poses: the linkage in a few poses side by side, from the drive side, as SVG for screen and print.
 *
 * Frame and members are the hulls the clearance check works with, so what is seen passing is what was measured. Every
 * pivot carries the angle it has turned since the first pose. All cells share one scale. Input mm, output px of the view
 * box; x forward, y up on paper.
 */
import {
  axleAt,
  memberMotions,
  outlinesOf,
  pivotPlaces,
  wordAngle,
  wordMeasure,
  type Motion,
  type Outline,
  type Place,
  type Pose,
  type Run,
  type TravelResult,
} from '../../shared/index.ts';
import { escapeText, px, tag, textWidth, words } from './svg.ts';

/** How the strip is drawn. */
export interface StripOptions {
  /** Number of poses, 2 to 9. */
  readonly cells?: number;
  readonly theme?: 'print' | 'light' | 'dark';
}

interface Ink {
  readonly ground: string;
  readonly ink: string;
  readonly muted: string;
  readonly frame: string;
  readonly stay: string;
  readonly link: string;
  readonly shock: string;
  readonly line: string;
}

const INKS: Readonly<Record<NonNullable<StripOptions['theme']>, Ink>> = {
  print: {
    ground: '#ffffff',
    ink: '#111111',
    muted: '#555555',
    frame: '#e4e4e4',
    stay: '#c3ddee',
    link: '#f3d9a8',
    shock: '#cfcfcf',
    line: '#333333',
  },
  light: {
    ground: '#f3f1ec',
    ink: '#1b1f24',
    muted: '#555a61',
    frame: '#dedbd3',
    stay: '#b9d7ea',
    link: '#f0d39b',
    shock: '#c9c6be',
    line: '#3a3f46',
  },
  dark: {
    ground: '#14181c',
    ink: '#f2f0ea',
    muted: '#a9b0b8',
    frame: '#2a3138',
    stay: '#1f4a63',
    link: '#6b4c10',
    shock: '#3b434b',
    line: '#c3c9cf',
  },
};

const CELL_px = 250;
const GAP_px = 14;
const HEAD_px = 46;
const CAPTION_px = 44;
const FOOT_px = 26;
const MARGIN_mm = 40;
const LABEL_px = 12;

/** The whole drawing; undefined where nothing moves. */
export function drawPoses(
  { run, travel, turns }: TravelResult,
  { cells = 5, theme = 'print' }: StripOptions = {},
): string | undefined {
  if (!run || run.poses.length === 0) return undefined;
  const count = Math.max(1, Math.min(Math.max(2, cells), 9, run.poses.length));
  const shown = Array.from({ length: count }, (_, k) =>
    count === 1 ? 0 : Math.round((k * (run.poses.length - 1)) / (count - 1)),
  );
  const ink = INKS[theme];
  const box = boxOf(
    run,
    shown.map((k) => run.poses[k]!),
  );
  const scale = CELL_px / Math.max(1, box.right - box.left);
  const height_px = (box.top - box.bottom) * scale;
  const width_px = count * CELL_px + (count + 1) * GAP_px;
  const whole_px = HEAD_px + height_px + CAPTION_px + FOOT_px;
  const { model } = run.linkage;
  const heading = `${model.name}: ${run.drive.kind === 'shock' ? 'travel, shock full length to full stroke' : 'swing, shock out'}`;
  const drawn = shown.map((k, at) => {
    const pose = run.poses[k]!;
    const row = travel.poses[k]!;
    const left = GAP_px + at * (CELL_px + GAP_px);
    const angles = Object.fromEntries(turns.map((turn) => [turn.pivot, row.turns_deg[turn.pivot] ?? 0]));
    const drive =
      run.drive.kind === 'shock'
        ? `${wordMeasure({ value: row.drive, unit: 'mm' })} stroke`
        : `${row.drive < 0 ? '−' : ''}${wordAngle(row.drive)}`;
    const rise =
      row.rise_mm === undefined
        ? ''
        : `axle ${wordMeasure({ value: Math.abs(row.rise_mm), unit: 'mm' })} ${row.rise_mm < -0.05 ? 'lower' : 'up'}`;
    return tag(
      'g',
      { transform: `translate(${px(left)} ${HEAD_px})`, 'data-pose': k },
      tag('clipPath', { id: `cell-${at}` }, tag('rect', { x: 0, y: 0, width: CELL_px, height: height_px, rx: 6 })),
      tag('rect', {
        x: 0,
        y: 0,
        width: CELL_px,
        height: height_px,
        rx: 6,
        fill: 'none',
        stroke: ink.muted,
        'stroke-width': 1,
      }),
      tag('g', { 'clip-path': `url(#cell-${at})` }, drawPose(run, pose, box, scale, ink)),
      drawAngles(run, pose, box, scale, ink, angles, at === 0),
      words(drive, CELL_px / 2, height_px + 18, {
        'text-anchor': 'middle',
        'font-size': 14,
        'font-weight': 600,
        fill: ink.ink,
      }),
      words(rise, CELL_px / 2, height_px + 36, { 'text-anchor': 'middle', 'font-size': LABEL_px, fill: ink.muted }),
    );
  });
  return tag(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${px(width_px)} ${px(whole_px)}`,
      role: 'img',
      'aria-label': `${heading}, ${count} poses from the drive side`,
      'font-family': 'Inter Variable, Inter, system-ui, sans-serif',
    },
    tag('title', {}, escapeText(heading)),
    tag('rect', { x: 0, y: 0, width: width_px, height: whole_px, fill: ink.ground }),
    words(heading, GAP_px, 22, { 'font-size': 16, 'font-weight': 650, fill: ink.ink }),
    words('Seen from the drive side. Angles: what each pivot has turned since the first pose.', GAP_px, 38, {
      'font-size': LABEL_px,
      fill: ink.muted,
    }),
    ...drawn,
    words(
      'The frame maker’s instructions, local rules and a qualified mechanic have the last word.',
      GAP_px,
      whole_px - 9,
      { 'font-size': 11, fill: ink.muted },
    ),
  );
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/** Room for everything that moves in the poses shown, the pivots and the axle; the frame and the tyre are cut off there. */
function boxOf(run: Run, poses: readonly Pose[]): Box {
  const box = { left: Infinity, right: -Infinity, bottom: Infinity, top: -Infinity };
  const grow = ({ x_mm, y_mm }: Place, by: number): void => {
    box.left = Math.min(box.left, x_mm - by);
    box.right = Math.max(box.right, x_mm + by);
    box.bottom = Math.min(box.bottom, y_mm - by);
    box.top = Math.max(box.top, y_mm + by);
  };
  for (const pose of poses) {
    for (const place of Object.values(pivotPlaces(run, pose))) grow(place, MARGIN_mm);
    const axle = axleAt(run, pose);
    if (axle) grow(axle, MARGIN_mm);
    const motions = memberMotions(run, pose);
    for (const { members } of run.linkage.bodies) {
      for (const member of members) {
        for (const { a, b } of outlinesOf(run.linkage.model, member)) {
          for (const disc of [a, b]) grow(moved(disc, motions[member]!), disc.radius_mm + 6);
        }
      }
    }
  }
  return box;
}

function moved({ x_mm, y_mm }: Place, { x_mm: x, y_mm: y, angle_rad }: Motion): Place {
  const [cos, sin] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  return { x_mm: x + cos * x_mm - sin * y_mm, y_mm: y + sin * x_mm + cos * y_mm };
}

function drawPose(run: Run, pose: Pose, box: Box, scale: number, ink: Ink): string {
  const { model } = run.linkage;
  const motions = memberMotions(run, pose);
  const at = (place: Place): readonly [number, number] => [
    (place.x_mm - box.left) * scale,
    (box.top - place.y_mm) * scale,
  ];
  const fillOf = (kind: string): string =>
    kind === 'frame'
      ? ink.frame
      : kind === 'rocker' || kind === 'link'
        ? ink.link
        : kind.startsWith('shock')
          ? ink.shock
          : ink.stay;
  // What stands still behind, what turns in front of it, in the order of the file.
  const order = [...run.linkage.bodyOf].sort(([, one], [, other]) => one - other).map(([member]) => member);
  const wheel = model.obstacles?.find((obstacle) => obstacle.kind === 'wheel');
  const axle = axleAt(run, pose);
  const tyre =
    wheel && axle
      ? circle(at(axle), wheel.radius_mm * scale, {
          fill: 'none',
          stroke: ink.muted,
          'stroke-width': 1.2,
          'stroke-dasharray': '5 4',
        })
      : '';
  const bodies = order.map((member) => {
    const kind = model.members[member]!.kind;
    const outlines = outlinesOf(model, member).map((outline) => hullPath(outline, motions[member]!, at, scale));
    const paths = [
      tag('path', {
        d: outlines.join(''),
        fill: ink.line,
        stroke: ink.line,
        'stroke-width': 1.6,
        'stroke-linejoin': 'round',
      }),
      tag('path', { d: outlines.join(''), fill: fillOf(kind) }),
    ];
    return tag('g', { 'data-member': member }, ...paths);
  });
  return [tyre, ...bodies, drawShock(run, pose, at, scale, ink)].join('');
}

/** The two halves of the shock as one bar between its eyes, where the model gives them no body of their own. */
function drawShock(
  run: Run,
  pose: Pose,
  at: (place: Place) => readonly [number, number],
  scale: number,
  ink: Ink,
): string {
  const { shock, model } = run.linkage;
  if (!shock || !model.shock) return '';
  const motions = memberMotions(run, pose);
  const from = moved(shock.from, motions[model.shock.body]!);
  const to = moved(shock.to, motions[model.shock.shaft]!);
  const length = Math.hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm);
  // The can does not get shorter: it ends where the full stroke would bring the shaft's eye.
  const can = Math.max(0.2, (model.shock.eye_to_eye_mm - model.shock.stroke_mm * 1.35) / length);
  const bar = (share0: number, share1: number, width_mm: number, fill: string): string => {
    const [x0, y0] = at({
      x_mm: from.x_mm + (to.x_mm - from.x_mm) * share0,
      y_mm: from.y_mm + (to.y_mm - from.y_mm) * share0,
    });
    const [x1, y1] = at({
      x_mm: from.x_mm + (to.x_mm - from.x_mm) * share1,
      y_mm: from.y_mm + (to.y_mm - from.y_mm) * share1,
    });
    const line = { x1: x0, y1: y0, x2: x1, y2: y1 };
    return (
      tag('line', { ...line, stroke: ink.line, 'stroke-width': width_mm * scale + 1.6 }) +
      tag('line', { ...line, stroke: fill, 'stroke-width': width_mm * scale })
    );
  };
  return bar(0.5, 1, 9, ink.ground) + bar(0.02, Math.min(0.97, can), 34, ink.shock);
}

function circle(
  [cx, cy]: readonly [number, number],
  r: number,
  paint: Readonly<Record<string, string | number>>,
): string {
  return tag('circle', { cx, cy, r, ...paint });
}

/** The hull of two discs as arcs and tangents. */
function hullPath(
  { a, b }: Outline,
  motion: Motion,
  at: (place: Place) => readonly [number, number],
  scale: number,
): string {
  const [p, q] = [moved(a, motion), moved(b, motion)];
  const length = Math.hypot(q.x_mm - p.x_mm, q.y_mm - p.y_mm);
  if (length <= Math.abs(a.radius_mm - b.radius_mm)) {
    const [x, y] = at(a.radius_mm >= b.radius_mm ? p : q);
    const r = Math.max(a.radius_mm, b.radius_mm) * scale;
    return `M${px(x - r)} ${px(y)}A${px(r)} ${px(r)} 0 1 0 ${px(x + r)} ${px(y)}A${px(r)} ${px(r)} 0 1 0 ${px(x - r)} ${px(y)}Z`;
  }
  const angle = Math.atan2(q.y_mm - p.y_mm, q.x_mm - p.x_mm);
  const lean = Math.acos((a.radius_mm - b.radius_mm) / length);
  const on = (middle: Place, radius: number, turn: number): readonly [number, number] =>
    at({ x_mm: middle.x_mm + radius * Math.cos(turn), y_mm: middle.y_mm + radius * Math.sin(turn) });
  const [bLow, bHigh] = [on(q, b.radius_mm, angle - lean), on(q, b.radius_mm, angle + lean)];
  const [aHigh, aLow] = [on(p, a.radius_mm, angle + lean), on(p, a.radius_mm, angle - lean)];
  const arc = (radius: number, isLarge: boolean, to: readonly [number, number]): string =>
    `A${px(radius * scale)} ${px(radius * scale)} 0 ${isLarge ? 1 : 0} 0 ${px(to[0])} ${px(to[1])}`;
  return `M${px(bLow[0])} ${px(bLow[1])}${arc(b.radius_mm, 2 * lean > Math.PI, bHigh)}L${px(aHigh[0])} ${px(aHigh[1])}${arc(a.radius_mm, 2 * (Math.PI - lean) > Math.PI, aLow)}Z`;
}

function drawAngles(
  run: Run,
  pose: Pose,
  box: Box,
  scale: number,
  ink: Ink,
  angles: Readonly<Record<string, number>>,
  isFirst: boolean,
): string {
  const dots = Object.entries(pivotPlaces(run, pose)).map(([id, place]) => ({
    id,
    x: (place.x_mm - box.left) * scale,
    y: (box.top - place.y_mm) * scale,
  }));
  const middle = dots.reduce((sum, { x }) => sum + x, 0) / Math.max(1, dots.length);
  const taken: Label[] = dots.map(({ x, y }) => ({ left: x - 4, right: x + 4, y }));
  return dots
    .map(({ id, x, y }) => {
      const dot = circle([x, y], 3.2, { fill: ink.ground, stroke: ink.ink, 'stroke-width': 1.6 });
      if (isFirst) return dot;
      const words_deg = wordAngle(angles[id] ?? 0);
      const label = placeLabel(x, y, textWidth(words_deg, LABEL_px), x < middle, taken);
      taken.push(label);
      const paint = {
        'font-size': LABEL_px,
        'font-weight': 650,
        fill: ink.ink,
        stroke: ink.ground,
        'stroke-width': 3,
        'paint-order': 'stroke',
      };
      return dot + words(words_deg, label.left, label.y + 4, { ...paint, 'data-pivot': id });
    })
    .join('');
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
