/**
 * What is on the bike before and after every step of a plan or a part of one, and where.
 *
 * Folded from the steps: places of the items of every stack touched so far, units and obstacles that are on, axles whose
 * thread is started, and units that are swung away for a moment. What is done at the bench leaves no trace on the bike:
 * what is pressed or laid into a unit there comes with it when it is offered up. mm, offsets from the tight place.
 */
import type { Analysis, PlacedItem } from '../types.ts';
import { bodiesOf, Space, type Body } from './bodies.ts';
import type { Bike, Joined } from './bike.ts';
import { wayOf, type RingPlace } from './rings.ts';
import type { PlanStep } from './types.ts';
import { worksOf } from './works.ts';

/** What is on the bike at a time. */
export interface World {
  /** Units and obstacles. */
  readonly on: ReadonlySet<string>;
  /** Items that are no bosses, by their offset along z, mm. */
  readonly items: ReadonlyMap<string, number>;
  /** Axles whose thread is started. */
  readonly fitted: ReadonlySet<string>;
}

/**
 * Steps in a row: a plan, or any part of one. Without `on` they begin with the bare frame; with it, on a built bike of
 * which only these units and obstacles are left, and without the items the row itself puts on.
 */
export interface StepRow {
  readonly analysis: Analysis;
  readonly steps: readonly PlanStep[];
  readonly on?: readonly string[];
}

/** The worlds of a row: one more than it has steps. */
export interface Worlds {
  readonly bike: Bike;
  readonly bodies: ReadonlyMap<string, Body>;
  readonly space: Space;
  readonly items: ReadonlyMap<string, { readonly item: PlacedItem; readonly own: Joined }>;
  /** The unit an item is pressed or laid into, and goes with. */
  readonly hostOf: ReadonlyMap<string, string>;
  readonly before: readonly World[];
}

/** Kinds of steps after which what they handle is on the bike. */
const PUTTING: ReadonlySet<PlanStep['kind']> = new Set([
  'press-bearing',
  'set-ring',
  'offer-member',
  'shock',
  'push-axle',
  'axle-home',
  'start-receiver',
  'hold-turn',
  'torque',
]);

const kept = new WeakMap<StepRow, Worlds>();

/** The worlds of a row, worked out once. */
export function worldsOf(row: StepRow): Worlds {
  const known = kept.get(row);
  if (known) return known;
  const { bike } = worksOf(row.analysis);
  const items = new Map(bike.stacks.flatMap((own) => own.items.map((item) => [item.id, { item, own }] as const)));
  const before: World[] = [begun(bike, row)];
  for (const step of row.steps) before.push(next(before.at(-1)!, step, items, bike));
  const worlds = { bike, ...spaceOf(bike), items, hostOf: hostsOf(bike), before };
  kept.set(row, worlds);
  return worlds;
}

const spaces = new WeakMap<Bike, Pick<Worlds, 'bodies' | 'space'>>();

/** Bodies of a bike and what is known of their places, shared by all its rows. */
function spaceOf(bike: Bike): Pick<Worlds, 'bodies' | 'space'> {
  const known = spaces.get(bike) ?? { bodies: bodiesOf(bike), space: new Space() };
  spaces.set(bike, known);
  return known;
}

/** Units and obstacles among some ids; the shock's shaft goes by the name of its body. */
function known(bike: Bike, ids: readonly string[]): Set<string> {
  return new Set(ids.filter((id) => bike.pieces.has(id)));
}

function begun(bike: Bike, { on, steps }: StepRow): World {
  const frame = [...bike.units.values()].filter(({ isFrame }) => isFrame).map(({ id }) => id);
  if (!on) return { on: new Set(frame), items: new Map(), fitted: new Set() };
  const put = new Set(steps.flatMap((step) => (PUTTING.has(step.kind) ? [...step.items, ...step.carried] : [])));
  const fitted = steps.flatMap(({ kind, stackId }) =>
    kind === 'start-receiver' && stackId !== undefined ? [stackId] : [],
  );
  const hosts = hostsOf(bike);
  const isThere = (id: string): boolean =>
    !put.has(id) && (!hosts.has(id) || on.includes(hosts.get(id)!) || frame.includes(hosts.get(id)!));
  const items = bike.stacks.flatMap((own) =>
    own.items.filter(({ id, member }) => member === undefined && isThere(id)).map(({ id }) => [id, 0] as const),
  );
  return {
    on: known(bike, [...frame, ...on]),
    items: new Map(items),
    fitted: new Set(bike.stacks.map(({ id }) => id).filter((id) => !fitted.includes(id))),
  };
}

function next(world: World, step: PlanStep, all: Worlds['items'], bike: Bike): World {
  const on = known(bike, step.on);
  if (step.atBench) return { ...world, on };
  const items = new Map(world.items);
  // A step puts on what it handles and nothing else: an axle that is cleaned in the hand is not on the bike.
  const puts = new Set(PUTTING.has(step.kind) ? [...step.items, ...step.carried] : []);
  if (step.heldBy === 'axle')
    for (const id of Object.keys(step.places)) if (all.get(id)?.item.role === 'axle') puts.add(id);
  for (const [id, { on: isOn, offset_mm }] of Object.entries(step.places)) {
    if (!isOn) items.delete(id);
    else if (all.get(id)?.item.member === undefined && (items.has(id) || puts.has(id))) items.set(id, offset_mm);
  }
  for (const id of step.carried) if (all.get(id)?.item.member === undefined) items.set(id, 0);
  const fitted =
    step.kind === 'start-receiver' && step.stackId !== undefined
      ? new Set([...world.fitted, step.stackId])
      : world.fitted;
  return { on, items, fitted };
}

/** Bearings go with their seat; a ring with what shuts it in, or with the bore it reaches into deeper. */
function hostsOf(bike: Bike): Map<string, string> {
  const hosts = new Map<string, string>();
  const host = (id: string, member: string | undefined): void => {
    const unit = member === undefined ? undefined : bike.unitOf.get(member);
    if (unit !== undefined) hosts.set(id, unit);
  };
  for (const own of bike.stacks) {
    for (const item of own.items) if (item.seat) host(item.id, item.seat.member);
    for (const ring of own.rings) host(ring.item.id, hostOfRing(ring));
  }
  return hosts;
}

function hostOfRing(ring: RingPlace): string | undefined {
  if (ring.shutBy) return ring.shutBy[0].seat?.member;
  const way = wayOf(ring);
  if (way !== 'before-they-meet' && way !== 'before-they-meet-along') return undefined;
  return (ring.low!.into_mm >= ring.high!.into_mm ? ring.low! : ring.high!).boss.member;
}
