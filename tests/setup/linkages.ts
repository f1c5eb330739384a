/**
 * Small models for the travel tests: members given by the places where pivots hold them, rows without rings.
 *
 * They have no parts and would not pass the file's check; the side plane of a model needs none. Also here: a model
 * moved, turned, mirrored or scaled as a whole. mm, deg.
 */
import type { LinkageModel, Member } from '../../shared/index.ts';

export interface SketchMember {
  readonly kind?: Member['kind'];
  /** Pivots that hold it. */
  readonly at: readonly string[];
  readonly boss_mm?: number;
  readonly z_mm?: readonly [number, number];
  readonly webs?: Member['webs'];
  readonly points?: Member['points'];
}

export interface Sketch {
  readonly pivots: Readonly<Record<string, readonly [x_mm: number, y_mm: number]>>;
  readonly members: Readonly<Record<string, SketchMember>>;
  readonly shock?: LinkageModel['shock'];
  readonly wheel?: LinkageModel['wheel'];
  readonly obstacles?: LinkageModel['obstacles'];
}

/** A model of a sketch; bores carry the ids of their pivots. */
export function sketchModel({ pivots, members, shock, wheel, obstacles }: Sketch): LinkageModel {
  return {
    schema: 1,
    id: 'sketch',
    name: 'Sketch',
    units: 'mm, N, N·m, deg',
    parts: {},
    members: Object.fromEntries(
      Object.entries(members).map(([id, member]): [string, Member] => {
        const [z_from_mm, z_to_mm] = member.z_mm ?? [-10, 10];
        const bore = { z_from_mm, z_to_mm, bore_mm: 10, boss_mm: member.boss_mm ?? 20 };
        return [
          id,
          {
            kind: member.kind ?? 'link',
            name: id,
            material: 'aluminium-7075',
            bores: Object.fromEntries(member.at.map((pivot) => [pivot, bore])),
            ...(member.webs ? { webs: member.webs } : {}),
            ...(member.points ? { points: member.points } : {}),
          },
        ];
      }),
    ),
    pivots: Object.entries(pivots).map(([id, [x_mm, y_mm]]) => ({
      id,
      name: id,
      x_mm,
      y_mm,
      stacks: [
        {
          id,
          axle: 'axle',
          receiver: 'nut',
          from: 'drive',
          row: Object.entries(members).flatMap(([member, { at }]) =>
            at.includes(id) ? [{ id: member, member, bore: id }] : [],
          ),
          torque_Nm: 10,
          thread_treatment: 'dry',
          drives: {},
          turned: 'head',
        },
      ],
    })),
    ...(shock ? { shock } : {}),
    ...(wheel ? { wheel } : {}),
    ...(obstacles ? { obstacles } : {}),
  };
}

/** A swingarm on one pivot with the shock straight on it: frame eye, swingarm eye, axle. */
export function oneArm(
  pivot: readonly [number, number],
  frameEye: readonly [number, number],
  armEye: readonly [number, number],
  axle: readonly [number, number],
  stroke_mm: number,
): LinkageModel {
  return sketchModel({
    pivots: { main: pivot, 'eye-frame': frameEye, 'eye-arm': armEye },
    members: {
      frame: { kind: 'frame', at: ['main', 'eye-frame'] },
      arm: { kind: 'swingarm', at: ['main', 'eye-arm'], points: { axle: { x_mm: axle[0], y_mm: axle[1], z_mm: 0 } } },
      body: { kind: 'shock-body', at: ['eye-frame'] },
      shaft: { kind: 'shock-shaft', at: ['eye-arm'] },
    },
    shock: {
      body: 'body',
      shaft: 'shaft',
      eye_to_eye_mm: Math.hypot(frameEye[0] - armEye[0], frameEye[1] - armEye[1]),
      stroke_mm,
    },
    wheel: { member: 'arm', point: 'axle' },
  });
}

/**
 * How a whole model is laid elsewhere in its side plane: mirrored left for right, then scaled, then turned, then moved.
 */
export interface Layout {
  readonly isMirrored?: boolean;
  readonly scale?: number;
  readonly turn_deg?: number;
  readonly move_mm?: readonly [number, number];
}

/** Where a place goes in a layout. */
export function laidOut(
  { isMirrored = false, scale = 1, turn_deg = 0, move_mm = [0, 0] }: Layout,
  x_mm: number,
  y_mm: number,
): [number, number] {
  const turn = (turn_deg * Math.PI) / 180;
  const [x, y] = [scale * (isMirrored ? -x_mm : x_mm), scale * y_mm];
  return [Math.cos(turn) * x - Math.sin(turn) * y + move_mm[0], Math.sin(turn) * x + Math.cos(turn) * y + move_mm[1]];
}

/** The model in a layout; sizes in the side plane grow with its scale, those along z stay. */
export function layModel(model: LinkageModel, layout: Layout): LinkageModel {
  const scale = layout.scale ?? 1;
  const place = <T extends { readonly x_mm: number; readonly y_mm: number }>(thing: T): T => {
    const [x_mm, y_mm] = laidOut(layout, thing.x_mm, thing.y_mm);
    return { ...thing, x_mm, y_mm };
  };
  return {
    ...model,
    members: Object.fromEntries(
      Object.entries(model.members).map(([id, member]) => [
        id,
        {
          ...member,
          bores: Object.fromEntries(
            Object.entries(member.bores).map(([bore, sizes]) => [
              bore,
              { ...sizes, boss_mm: sizes.boss_mm * scale, bore_mm: sizes.bore_mm * scale },
            ]),
          ),
          ...(member.points
            ? {
                points: Object.fromEntries(
                  Object.entries(member.points).map(([name, point]) => [
                    name,
                    { ...place(point), ...(point.boss_mm === undefined ? {} : { boss_mm: point.boss_mm * scale }) },
                  ]),
                ),
              }
            : {}),
          ...(member.webs
            ? {
                webs: member.webs.map((web) =>
                  web.height_mm === undefined ? web : { ...web, height_mm: web.height_mm * scale },
                ),
              }
            : {}),
        },
      ]),
    ),
    pivots: model.pivots.map(place),
    ...(model.obstacles
      ? {
          obstacles: model.obstacles.map((obstacle) => ({ ...place(obstacle), radius_mm: obstacle.radius_mm * scale })),
        }
      : {}),
    ...(model.shock
      ? {
          shock: {
            ...model.shock,
            eye_to_eye_mm: model.shock.eye_to_eye_mm * scale,
            stroke_mm: model.shock.stroke_mm * scale,
          },
        }
      : {}),
  };
}
