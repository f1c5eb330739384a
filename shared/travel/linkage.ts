/**
 * From a linkage model to the bodies, pins and slider of its side plane.
 *
 * A pivot pins the members that its rows and receivers name, all at its place. Members of kind `frame` stand still.
 * Members that share two pivots cannot move against one another and count as one body (a left and a right plate); one
 * that shares two with the frame stands still with it. The shock is a slider: its shaft slides in its body along the
 * line between their eyes, the two places furthest apart. With the shock out neither of its halves is there. Where more
 * than two bodies meet on one axle, the axle is clamped in one of them and each of the others turns on it: so many
 * joints, each with an angle and a force of its own. mm.
 */
import type { ResolvedModel, ResolvedPivot } from '../model/resolve.ts';
import { GROUND, type Driver, type Pin, type Place, type PlanarSystem, type Slider } from './planar.ts';

/** Members that move as one. */
export interface Body {
  readonly members: readonly string[];
}

/** Two bodies that turn against one another at a pivot. */
export interface Joint {
  /** The pivot's id; where it has several joints, with the member that turns: `pivot:member`. */
  readonly id: string;
  readonly pivot: string;
  /** In the order of the pivot's bodies. */
  readonly bodies: readonly [number, number];
  /** One member of each that stands at the pivot. */
  readonly members: readonly [string, string];
  /** The body that turns on the axle: what it feels there is the joint's force. */
  readonly rider: number;
}

/** A pivot and what meets there. */
export interface LinkPivot {
  readonly id: string;
  readonly place: Place;
  /** Bodies that meet, each once; `GROUND` first where it is among them. */
  readonly bodies: readonly number[];
  /** Its pins: pin k joins the first body (a) to body k + 1 (b). Indices into the system's pins. */
  readonly pins: readonly number[];
  /** Its joints: one fewer than its bodies. */
  readonly joints: readonly Joint[];
}

/** The side plane of a model. */
export interface Linkage {
  readonly model: ResolvedModel;
  readonly bodies: readonly Body[];
  /** Members that stand still, those that two pivots tie to the frame among them. */
  readonly ground: readonly string[];
  /** Body of every member that a pivot holds; `GROUND` for those that stand still. */
  readonly bodyOf: ReadonlyMap<string, number>;
  readonly pivots: readonly LinkPivot[];
  readonly pins: readonly Pin[];
  /** The shock, where both its eyes are held and can move against one another. */
  readonly shock?: Slider;
  /** The point that carries the wheel, as drawn, and its body. */
  readonly wheel?: { readonly body: number; readonly place: Place };
  /** Members that no pivot holds. */
  readonly unattached: readonly string[];
}

/**
 * The linkage of a resolved model as drawn, mm; `isShockOut` leaves both halves of the shock away. O(members + pivots).
 * What it cannot move is told by the run, not here.
 */
export function linkageOf(model: ResolvedModel, isShockOut = false): Linkage {
  const { shock } = model;
  const away = isShockOut && shock ? [shock.body, shock.shaft] : [];
  const present = Object.keys(model.members).filter((id) => !away.includes(id));
  const meets = model.pivots.map((pivot) => ({
    pivot,
    members: pivot.members.filter((id) => present.includes(id)),
  }));
  const groups = rigidGroups(model, present, meets);
  const held = new Set(meets.flatMap(({ members }) => members));
  const frame = present.filter((id) => model.members[id]!.kind === 'frame');
  const groundGroup = frame[0] === undefined ? undefined : groups.get(frame[0]);
  const movers = [...new Set(present.filter((id) => held.has(id)).map((id) => groups.get(id)!))].filter(
    (group) => group !== groundGroup,
  );
  const bodyOf = new Map(
    present.flatMap((id): [string, number][] => {
      const group = groups.get(id)!;
      if (group === groundGroup) return [[id, GROUND]];
      const body = movers.indexOf(group);
      return body < 0 ? [] : [[id, body]];
    }),
  );
  const pins: Pin[] = [];
  const pivots = meets.map(({ pivot, members }): LinkPivot => {
    const place = { x_mm: pivot.x_mm, y_mm: pivot.y_mm };
    const bodies = [...new Set(members.map((id) => bodyOf.get(id)!))].sort(
      (one, other) => Number(other === GROUND) - Number(one === GROUND),
    );
    const own = bodies.slice(1).map((body) => pins.push({ a: bodies[0]!, b: body, onA: place, onB: place }) - 1);
    return { id: pivot.id, place, bodies, pins: own, joints: jointsOf(pivot, members, bodies, bodyOf) };
  });
  const slider = isShockOut ? undefined : shockSlider(model, meets, bodyOf);
  const wheel = wheelOf(model, bodyOf);
  return {
    model,
    bodies: movers.map((group) => ({ members: present.filter((id) => groups.get(id) === group && held.has(id)) })),
    ground: present.filter((id) => bodyOf.get(id) === GROUND),
    bodyOf,
    pivots,
    pins,
    ...(slider ? { shock: slider } : {}),
    ...(wheel ? { wheel } : {}),
    unattached: present.filter((id) => !held.has(id) && !frame.includes(id)),
  };
}

function jointsOf(
  pivot: ResolvedPivot,
  members: readonly string[],
  bodies: readonly number[],
  bodyOf: ReadonlyMap<string, number>,
): Joint[] {
  const memberOf = (body: number): string => members.find((id) => bodyOf.get(id) === body)!;
  const hub = bodies.length > 2 ? clampedBody(pivot, bodies, bodyOf) : bodies[0];
  return bodies.flatMap((rider): Joint[] => {
    if (hub === undefined || rider === hub) return [];
    const pair = bodies.filter((body) => body === rider || body === hub) as [number, number];
    const id = bodies.length > 2 ? `${pivot.id}:${memberOf(rider)}` : pivot.id;
    return [{ id, pivot: pivot.id, bodies: pair, members: [memberOf(pair[0]), memberOf(pair[1])], rider }];
  });
}

/**
 * The body that an axle is clamped in: one without a bearing on it, since a bearing is there to turn; of several the
 * outermost, which the axle's head and nut meet first. Common practice, no source.
 */
function clampedBody(
  { stacks }: ResolvedPivot,
  bodies: readonly number[],
  bodyOf: ReadonlyMap<string, number>,
): number {
  const entries = stacks.flatMap(({ row, receiver }) => [
    ...row.flatMap((entry) => {
      if (entry.role === 'lining') return [{ bore: entry.lines, turns: true }];
      if (entry.role === 'spacer' || entry.role === 'tip') return [];
      return [{ bore: entry.role === 'boss' ? entry.bore : entry.seat.bore, turns: entry.role === 'bearing' }];
    }),
    ...(receiver.bore ? [{ bore: receiver.bore, turns: false }] : []),
  ]);
  const own = (body: number) => entries.filter(({ bore }) => bodyOf.get(bore.memberId) === body);
  const fixed = bodies.filter((body) => own(body).every(({ turns }) => !turns));
  const reach = (body: number): number =>
    Math.max(...own(body).map(({ bore }) => bore.z_to_mm)) - Math.min(...own(body).map(({ bore }) => bore.z_from_mm));
  return (fixed.length > 0 ? fixed : bodies).reduce((widest, body) => (reach(body) > reach(widest) ? body : widest));
}

interface Meet {
  readonly pivot: ResolvedPivot;
  readonly members: readonly string[];
}

/** Two places this near are one: the file's figures are rounded, mm. */
const SAME_mm = 1e-3;

/** A group number for every member: members that cannot move against one another share it. */
function rigidGroups(model: ResolvedModel, present: readonly string[], meets: readonly Meet[]): Map<string, number> {
  const groups = new Map(present.map((id, k) => [id, model.members[id]!.kind === 'frame' ? -1 : k]));
  const join = (from: number, to: number): void => {
    for (const [id, group] of groups) if (group === from) groups.set(id, to);
  };
  for (let again = true; again; ) {
    again = false;
    const shared = new Map<string, Place>();
    for (const { pivot, members } of meets) {
      const here = [...new Set(members.map((id) => groups.get(id)!))].sort((one, other) => one - other);
      for (const [k, one] of here.entries()) {
        for (const other of here.slice(k + 1)) {
          const first = shared.get(`${one} ${other}`);
          if (!first) shared.set(`${one} ${other}`, pivot);
          else if (!again && Math.hypot(first.x_mm - pivot.x_mm, first.y_mm - pivot.y_mm) > SAME_mm) {
            join(other, one);
            again = true;
          }
        }
      }
    }
  }
  return groups;
}

function shockSlider(
  model: ResolvedModel,
  meets: readonly Meet[],
  bodyOf: ReadonlyMap<string, number>,
): Slider | undefined {
  const { shock } = model;
  if (!shock) return undefined;
  const [a, b] = [bodyOf.get(shock.body), bodyOf.get(shock.shaft)];
  if (a === undefined || b === undefined || a === b) return undefined;
  const placesOf = (id: string): Place[] =>
    meets.filter(({ members }) => members.includes(id)).map(({ pivot }) => ({ x_mm: pivot.x_mm, y_mm: pivot.y_mm }));
  let best: Slider | undefined;
  let most = SAME_mm;
  for (const from of placesOf(shock.body)) {
    for (const to of placesOf(shock.shaft)) {
      const length = Math.hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm);
      if (length <= most) continue;
      most = length;
      best = { a, b, from, to };
    }
  }
  return best;
}

function wheelOf(
  model: ResolvedModel,
  bodyOf: ReadonlyMap<string, number>,
): { body: number; place: Place } | undefined {
  const { wheel } = model;
  if (!wheel) return undefined;
  const body = bodyOf.get(wheel.member);
  const point = model.members[wheel.member]?.points?.[wheel.point];
  return body === undefined || !point ? undefined : { body, place: { x_mm: point.x_mm, y_mm: point.y_mm } };
}

/** The body the wheel moves with; it stands still where nothing carries it. */
export function wheelBody(linkage: Linkage): number {
  return linkage.wheel?.body ?? GROUND;
}

/** The linkage as the position solver takes it, with the given driver. */
export function systemOf(linkage: Linkage, driver: Driver): PlanarSystem {
  const bodies = linkage.bodies.map((_, body): Place => {
    const places = linkage.pivots.filter((pivot) => pivot.bodies.includes(body)).map((pivot) => pivot.place);
    const mean = (key: 'x_mm' | 'y_mm'): number => places.reduce((sum, place) => sum + place[key], 0) / places.length;
    return { x_mm: mean('x_mm'), y_mm: mean('y_mm') };
  });
  return { bodies, pins: linkage.pins, sliders: linkage.shock ? [linkage.shock] : [], driver };
}
