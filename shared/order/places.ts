/**
 * What is on the bike before and after every step of a plan or a part of one, and where; what is swung away for a
 * moment.
 *
 * Folded from the steps: places of the items of every stack touched so far, units and obstacles that are on, and axles
 * whose thread is started. What is done at the bench leaves no trace on the bike: what is pressed or laid into a unit
 * there comes with it when it is offered up. A unit is swung about the axle it hangs on, so that a spacer can be laid
 * between it and another: as far as the spacers need to get in one after another, and no further; what hangs on one
 * axle besides and is in the way is held aside first. By bodies, looked at every degree and a half both ways. mm, rad,
 * offsets from the tight place.
 */
import type { Place } from '../travel/planar.ts';
import type { Analysis, PlacedItem } from '../types.ts';
import { type Bike, type Joined, type SpacerPlace, deeperSide, remembered, wayOf } from './bike.ts';
import {
  after,
  along,
  type Body,
  Course,
  FROM_mm,
  HOME,
  type Path,
  type Shift,
  Space,
  spacerPath,
  type Stander,
  SWING,
  turnAbout,
} from './bodies.ts';
import { worksOf } from './possible.ts';
import { FITS, type PlanStep } from './tasks.ts';

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
  readonly row: StepRow;
  /** Units swung away, by the step that swings them, as far as they have been asked for. */
  readonly swings: Map<number, ReadonlyMap<string, Shift>>;
}

/** Kinds of steps after which what they handle is on the bike. */
const PUTTING: ReadonlySet<PlanStep['kind']> = new Set<PlanStep['kind']>([
  ...FITS,
  'offer-member',
  'shock',
  'hold-turn',
  'half-torque',
  'torque',
]);

/** The worlds of a row. */
export function worldsOf(row: StepRow): Worlds {
  const { bike, bodies, space } = worksOf(row.analysis).sense.solids;
  const items = new Map(bike.stacks.flatMap((own) => own.items.map((item) => [item.id, { item, own }] as const)));
  const hostOf = hostsOf(bike);
  const before: World[] = [begun(bike, row, hostOf)];
  for (const step of row.steps) before.push(next(before.at(-1)!, step, items, bike));
  return { row, bike, bodies, space, items, hostOf, before, swings: new Map() };
}

/** Units and obstacles among some ids; the shock's shaft goes by the name of its body. */
function known(bike: Bike, ids: readonly string[]): Set<string> {
  return new Set(ids.filter((id) => bike.pieces.has(id)));
}

/** Items a step puts on the bike by itself; an axle that is cleaned in the hand is not on it. */
function putBy({ kind, items, carried }: PlanStep): readonly string[] {
  return PUTTING.has(kind) ? [...items, ...carried] : [];
}

function begun(bike: Bike, { on, steps }: StepRow, hosts: Worlds['hostOf']): World {
  if (!on) return { on: new Set(bike.frame), items: new Map(), fitted: new Set() };
  const there = new Set([...bike.frame, ...on]);
  const put = new Set(steps.flatMap(putBy));
  const later = steps.filter(({ kind }) => kind === 'start-receiver').map(({ stackId }) => stackId);
  const isThere = ({ id, member }: PlacedItem): boolean =>
    member === undefined && !put.has(id) && (!hosts.has(id) || there.has(hosts.get(id)!));
  const items = bike.stacks.flatMap((own) => own.items.filter(isThere));
  return {
    on: known(bike, [...there]),
    items: new Map(items.map(({ id }) => [id, 0])),
    fitted: new Set(bike.stacks.map(({ id }) => id).filter((id) => !later.includes(id))),
  };
}

function next(world: World, step: PlanStep, all: Worlds['items'], bike: Bike): World {
  const on = known(bike, step.on);
  if (step.atBench) return { ...world, on };
  const items = new Map(world.items);
  const puts = new Set(putBy(step));
  const isLoose = (id: string): boolean => all.get(id)?.item.member === undefined;
  for (const [id, { on: isOn, offset_mm }] of Object.entries(step.places)) {
    const isAxle = step.heldBy === 'axle' && all.get(id)?.item.role === 'axle';
    if (!isOn) items.delete(id);
    else if (isLoose(id) && (items.has(id) || puts.has(id) || isAxle)) items.set(id, offset_mm);
  }
  for (const id of step.carried) if (isLoose(id)) items.set(id, 0);
  const started = step.kind === 'start-receiver' && step.stackId !== undefined ? [step.stackId] : [];
  return { on, items, fitted: new Set([...world.fitted, ...started]) };
}

/** Bearings go with their seat; a spacer with what shuts it in, or with the bore it reaches into deeper. */
function hostsOf({ stacks, unitOf }: Bike): Map<string, string> {
  const members = stacks.flatMap(({ items, spacers }) => [
    ...items.map(({ id, seat }) => [id, seat?.member] as const),
    ...spacers.map((spacer) => [spacer.item.id, hostOfSpacer(spacer)] as const),
  ]);
  return new Map(
    members.flatMap(([id, member]) => {
      const unit = unitOf.get(member ?? '');
      return unit === undefined ? [] : [[id, unit]];
    }),
  );
}

function hostOfSpacer(spacer: SpacerPlace): string | undefined {
  if (spacer.shutBy) return spacer.shutBy[0].seat?.member;
  return wayOf(spacer).startsWith('before-they-meet') ? spacer[deeperSide(spacer)]!.boss.member : undefined;
}

const NOTHING_AWAY: ReadonlyMap<string, Shift> = new Map();

/** Units that are swung away before a step, and how far. */
export function awayAt(worlds: Worlds, index: number): ReadonlyMap<string, Shift> {
  const { swings, row } = worlds;
  const start = row.steps.findLastIndex(({ kind }, k) => k < index && (kind === 'swing-away' || kind === 'swing-back'));
  if (row.steps[start]?.kind !== 'swing-away') return NOTHING_AWAY;
  return remembered(swings, start, () => new Swings(worlds, start).away());
}

/** Units of one body that hang on one axis, with what is pressed or laid into them. */
interface Swinger {
  readonly units: readonly string[];
  readonly about: Place;
  readonly bodies: readonly Stander[];
}

/** What is swung away in one step, and how far. */
class Swings {
  private readonly worlds: Worlds;
  private readonly world: World;
  private readonly named: string;
  /** Spacers that are set before the unit is swung back. */
  private readonly spacers: readonly string[];

  constructor(worlds: Worlds, index: number) {
    this.worlds = worlds;
    this.world = worlds.before[index]!;
    const { steps } = worlds.row;
    const back = steps.findIndex(({ kind }, k) => k > index && kind === 'swing-back');
    this.named = steps[index]!.units[0]!;
    this.spacers = steps
      .slice(index + 1, back < 0 ? steps.length : back)
      .flatMap(({ kind, items }) => (kind === 'set-spacer' ? items : []));
  }

  /**
   * The least turn of the unit that lets in the spacers that are set before it is swung back. Where something stops it
   * before, the other member that they lie between gives way instead.
   */
  away(): ReadonlyMap<string, Shift> {
    const { bike, items } = this.worlds;
    if (this.spacers.length === 0) return NOTHING_AWAY;
    const beside = this.spacers.flatMap((spacer) => {
      const place = items.get(spacer)?.own.spacers.find(({ item }) => item.id === spacer);
      return [place?.low, place?.high].flatMap((side) => bike.unitOf.get(side?.boss.member ?? '') ?? []);
    });
    // A piece by itself, or with those that make one body with it.
    const candidates = [...new Set([this.named, ...beside])].flatMap((unit): Swinger[] => {
      const body = this.bodyOf(unit);
      return (body.length > 1 ? [[unit], body] : [body]).flatMap((units) => this.swinger(units) ?? []);
    });
    const alone = () => firstOf(candidates, (one) => this.leastSwing(one, []));
    const helped = () => firstOf(candidates, (one) => this.leastSwing(one, this.helpers(one)));
    return alone() ?? helped() ?? (candidates[0] ? this.furthest(candidates[0]) : NOTHING_AWAY);
  }

  /** Units on the bike that make one body with a unit. */
  private bodyOf(unit: string): string[] {
    const { units } = this.worlds.bike;
    return [...this.world.on].filter((id) => units.get(id)?.body === units.get(unit)?.body);
  }

  private swinger(units: readonly string[]): Swinger | undefined {
    const about = swingAxle(this.worlds, this.world, units);
    if (!about || units.some((id) => this.worlds.bike.frame.includes(id))) return undefined;
    return { units, about, bodies: this.standers((unit) => units.includes(unit)) };
  }

  /**
   * What is on the bike of some units, with the items that go with them; items that go with none are asked for as ''.
   */
  private standers(isAsked: (unit: string) => boolean): Stander[] {
    const { bodies, hostOf } = this.worlds;
    const items = [...this.world.items].filter(([id]) => isAsked(hostOf.get(id) ?? ''));
    return [
      ...[...this.world.on].filter(isAsked).map((id) => ({ body: bodies.get(id)!, at: HOME })),
      ...items.map(([id, offset]) => ({ body: bodies.get(id)!, at: along(offset) })),
    ];
  }

  /** Others that hang on one axis, too, and may be held aside by a hand. */
  private helpers({ units }: Swinger): Swinger[] {
    const found = new Map<string, Swinger>();
    for (const unit of this.world.on) {
      if (!this.worlds.bike.units.has(unit)) continue;
      const body = this.bodyOf(unit);
      const helper = body.some((id) => units.includes(id)) ? undefined : this.swinger(body);
      if (helper) found.set(body.join(' '), helper);
    }
    return [...found.values()];
  }

  private firm(...swingers: readonly Swinger[]): Stander[] {
    return this.standers((unit) => !swingers.some(({ units }) => units.includes(unit)));
  }

  private course(moving: readonly Stander[], standing: readonly Stander[]): Course {
    return new Course(this.worlds.space, moving, standing);
  }

  /** The least turn that lets the spacers in, with what has to be held aside for it; undefined where none does. */
  private leastSwing(swinger: Swinger, others: readonly Swinger[]): ReadonlyMap<string, Shift> | undefined {
    const firm = this.firm(swinger, ...others);
    return firstOf(turns(this.course(swinger.bodies, firm), swinger.about), (angle) => {
      const at = turnAbout(swinger.about, angle);
      const there = [...firm, ...moved(swinger.bodies, at)];
      if (!this.canBeLaid(swinger, at, there)) return undefined;
      const aside = this.heldAside(swinger, angle, others, firm);
      if (!aside || (others.length > 0 && !this.canBeLaid(swinger, at, [...there, ...aside.bodies]))) return undefined;
      return new Map([...aside.at, ...swinger.units.map((unit) => [unit, at] as const)]);
    });
  }

  /** Where the others have to be for a whole swing, one after another: at home where they are in nobody's way. */
  private heldAside(
    swinger: Swinger,
    angle: number,
    others: readonly Swinger[],
    firm: readonly Stander[],
  ): { readonly at: ReadonlyMap<string, Shift>; readonly bodies: readonly Stander[] } | undefined {
    const at = new Map<string, Shift>();
    const count = Math.ceil(Math.abs(angle) / SWING.step_rad);
    const way = Array.from({ length: count + 1 }, (_, k) => turnAbout(swinger.about, (angle * (count - k)) / count));
    const isPassed = (bodies: readonly Stander[]): boolean => {
      const course = this.course(swinger.bodies, bodies);
      return way.every((turn) => course.isFree(turn));
    };
    const bodies: Stander[] = [];
    for (const [k, other] of others.entries()) {
      let aside = other.bodies;
      if (!isPassed(aside)) {
        const waiting = others.slice(k + 1).flatMap((later) => later.bodies);
        const course = this.course(other.bodies, [...firm, ...swinger.bodies, ...bodies, ...waiting]);
        const found = firstOf(turns(course, other.about), (angle) => {
          const turn = turnAbout(other.about, angle);
          return isPassed(moved(other.bodies, turn)) ? turn : undefined;
        });
        if (!found) return undefined;
        for (const unit of other.units) at.set(unit, found);
        aside = moved(other.bodies, found);
      }
      bodies.push(...aside);
    }
    return { at, bodies };
  }

  /** As far as it goes by itself. */
  private furthest(swinger: Swinger): ReadonlyMap<string, Shift> {
    const all = [...turns(this.course(swinger.bodies, this.firm(swinger)), swinger.about)];
    const angle = all.reduce((most, turn) => (Math.abs(turn) > Math.abs(most) ? turn : most), 0);
    return new Map(swinger.units.map((unit) => [unit, turnAbout(swinger.about, angle)]));
  }

  /** Whether spacers find their way in one after another with a unit swung away. */
  private canBeLaid(swinger: Swinger, at: Shift, standing: readonly Stander[]): boolean {
    const { items, bodies, hostOf } = this.worlds;
    const there = [...standing];
    return this.spacers.every((spacer) => {
      const { own } = items.get(spacer)!;
      const goal = swinger.units.includes(hostOf.get(spacer) ?? '') ? at : HOME;
      const body = bodies.get(spacer)!;
      const path = spacerPath(this.course([{ body, at: HOME }], there), goal, own, spacer, own.from, 0);
      there.push({ body, at: goal });
      const [first, last] = [path[0]!, path.at(-1)!];
      return Math.hypot(first.x_mm - last.x_mm, first.y_mm - last.y_mm, first.z_mm - last.z_mm) >= FROM_mm.spacer - 2;
    });
  }
}

/** The first answer there is to one of some questions. */
function firstOf<One, Answer>(all: Iterable<One>, ask: (one: One) => Answer | undefined): Answer | undefined {
  for (const one of all) {
    const answer = ask(one);
    if (answer !== undefined) return answer;
  }
  return undefined;
}

/** Signed turns to one side, as far as the course is free. */
function* turns(course: Course, about: Place): Generator<number> {
  for (const sign of [1, -1]) {
    for (let angle = SWING.step_rad; angle <= SWING.most_rad; angle += SWING.step_rad) {
      if (!course.isFree(turnAbout(about, sign * angle))) break;
      yield sign * angle;
    }
  }
}

function moved(bodies: readonly Stander[], at: Shift): Stander[] {
  return bodies.map(({ body, at: home }) => ({ body, at: after(home, at) }));
}

/** The one axis that units hang on together and can turn about; undefined where they hang on none or on several. */
export function swingAxle({ bike }: Worlds, { fitted }: World, units: readonly string[]): Place | undefined {
  const isOwn = (id: string): boolean => units.includes(id);
  const held = bike.stacks.filter((own) => fitted.has(own.id) && own.units.some(isOwn) && !own.units.every(isOwn));
  return held.every(({ axis }) => axis === held[0]!.axis) ? held[0]?.place : undefined;
}

/** From one turn about its axle to another, in steps small enough to be straight. */
export function swingPath(worlds: Worlds, world: World, units: readonly string[], from: Shift, to: Shift): Path {
  const about = swingAxle(worlds, world, units);
  if (!about) return [from, to];
  const by = to.angle_rad - from.angle_rad;
  const count = Math.max(1, Math.ceil(Math.abs(by) / (SWING.step_rad / 2)));
  return Array.from({ length: count + 1 }, (_, k) => turnAbout(about, from.angle_rad + (by * k) / count));
}
