/**
 * The linkage seen from the drive side: frame and members as the hulls that the clearance check works with, so that
 * what is seen passing is what was measured, the shock as a bar where it has no body, and the tyre. x forward, y up on
 * paper; mm of the bike through `at` and `scale`.
 */
import { outlinesOf, type linkageOf, type Motion, type Outline, type Place } from '../../shared/index.ts';
import type { POSES } from '../look.ts';
import { areas, circle, group, lines, type Arc, type Point, type Run, type Shape } from './shapes.ts';

/** What members, lines and the ground are painted with. */
export type Ink = Readonly<Record<keyof (typeof POSES)['print'] | 'ground', string>>;

/** A linkage, where each member stands, and how that is put on the sheet. */
export interface SideView {
  readonly linkage: ReturnType<typeof linkageOf>;
  readonly motions: Readonly<Record<string, Motion>>;
  /** The axle of the wheel. */
  readonly axle: Place | undefined;
  readonly at: (place: Place) => Point;
  readonly scale: number;
  readonly ink: Ink;
}

/** A place of a member where the member's motion has brought it. */
export function moved({ x_mm, y_mm }: Place, { x_mm: x, y_mm: y, angle_rad }: Motion): Place {
  const [cos, sin] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  return { x_mm: x + cos * x_mm - sin * y_mm, y_mm: y + sin * x_mm + cos * y_mm };
}

function fillOf(kind: string, ink: Ink): string {
  if (kind === 'frame') return ink.frame;
  if (kind === 'rocker' || kind === 'link') return ink.link;
  return kind.startsWith('shock') ? ink.shock : ink.stay;
}

/** Frame, members, shock and tyre. */
export function drawSide(view: SideView): readonly Shape[] {
  const { linkage, axle, motions, at, scale, ink } = view;
  const { model, bodyOf } = linkage;
  // What stands still behind, what turns in front of it, in the order of the file.
  const order = [...bodyOf].sort(([, one], [, other]) => one - other).map(([member]) => member);
  const wheel = model.obstacles?.find((obstacle) => obstacle.kind === 'wheel');
  const rubber = { stroke: ink.muted, pen: 1.2, dash: [5, 4] };
  const tyre = wheel && axle ? [circle(at(axle), wheel.radius_mm * scale, rubber)] : [];
  const bodies = order.map((member) => {
    const hulls = outlinesOf(model, member).map((outline) => hull(outline, motions[member]!, view));
    const shapes = [
      areas(hulls, { fill: ink.line, stroke: ink.line, pen: 1.6, join: 'round' }),
      areas(hulls, { fill: fillOf(model.members[member]!.kind, ink) }),
    ];
    return group(shapes, { data: { member } });
  });
  return [...tyre, ...bodies, ...drawShock(view)];
}

/** The two halves of the shock as one bar between its eyes, where the model gives them no body of their own. */
function drawShock({ linkage, motions, at, scale, ink }: SideView): readonly Shape[] {
  const { shock, model } = linkage;
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
function hull({ a, b }: Outline, motion: Motion, { at, scale }: SideView): Run {
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
