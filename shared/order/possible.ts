/**
 * Whether a task is possible when others are done, and what of that no edge can say, because it depends on everything
 * that is on the bike at a time: is there anything to hang the axle's members on, is there a way in for those that are
 * not there yet, do the spacers between them still find theirs.
 *
 * Two units meet when the second of them is brought to its place. A spacer between them that reaches into a bore is then
 * set before, unless the two can still be moved apart where it lies: they can while they are joined on no other axis than
 * theirs there, one of them hangs on a single axle, and they are not one body. An axle is fitted where at least one of
 * what it joins is on the bike; sub-assemblies on the bench are not looked at. The answer depends on what is done, never
 * in which order it was done. Everything that asks about an order (plan, check, access) asks here.
 */
import type { Analysis } from '../types.ts';
import { type Bike, type Joined, type SpacerPlace, bikeOf, deeperSide, wayOf } from './bike.ts';
import { Solids } from './bodies.ts';
import { type Digraph, type MayGo, type Work, digraph } from './graph.ts';
import { swingRoom_rad } from './paths.ts';
import { Ways, radiusOf, widest } from './room.ts';
import { type Block, type Edge, type Reason, type Task, precedence, tasksOf } from './tasks.ts';

/** A ring that lies between two different units, with its stack and them. */
export interface Between {
  readonly own: Joined;
  readonly ring: SpacerPlace;
  /** Unit of its boss toward the non-drive side, and toward the drive side. */
  readonly low: string;
  readonly high: string;
  /** The two can meet along the axle only. */
  readonly isAlong: boolean;
}

/** Rings of a stack that cannot come in from the side. */
export function betweenOf(bike: Bike, own: Joined): Between[] {
  return own.rings.flatMap((ring): Between[] => {
    const way = wayOf(ring);
    if (way !== 'before-they-meet' && way !== 'before-they-meet-along') return [];
    const [low, high] = [ring.low!.boss, ring.high!.boss].map((boss) => bike.unitOf.get(boss.member!)!);
    return [{ own, ring, low: low!, high: high!, isAlong: way === 'before-they-meet-along' }];
  });
}

/** All such rings of a bike, by the two units they lie between. */
function allBetween(bike: Bike): ReadonlyMap<string, readonly Between[]> {
  const found = new Map<string, Between[]>();
  for (const own of bike.stacks) {
    for (const between of betweenOf(bike, own)) {
      for (const unit of new Set([between.low, between.high])) found.set(unit, [...(found.get(unit) ?? []), between]);
    }
  }
  return found;
}

/** Whether a ring lies in its place already and cannot leave it, given the axles that are in and the units that are on. */
export function isSet(
  bike: Bike,
  { own, low, high }: Between,
  fitted: ReadonlySet<string>,
  on: ReadonlySet<string>,
): boolean {
  if (fitted.has(own.id) || (isOneBody(bike, low, high) && on.has(low) && on.has(high))) return true;
  return bike.byAxis
    .get(own.axis)!
    .some((other) => fitted.has(other.id) && other.units.includes(low) && other.units.includes(high));
}

function isOneBody(bike: Bike, one: string, other: string): boolean {
  return bike.units.get(one)!.body === bike.units.get(other)!.body;
}

/** Rings that have to be set as an axle is fitted, all of them before the two units they lie between meet. */
export interface ToSet {
  /** One of the two is still to come: set before it is brought in. */
  readonly beforeIn: readonly Between[];
  /** Both are on: they have to be moved apart first. */
  readonly apart: readonly Between[];
}

/** What has to be set as the axle `own` is fitted, with these axles in and these units on. */
export function toSet(
  bike: Bike,
  all: ReadonlyMap<string, readonly Between[]>,
  own: Joined,
  fitted: ReadonlySet<string>,
  on: ReadonlySet<string>,
): ToSet {
  const comes = (unit: string): boolean => own.units.includes(unit) && !on.has(unit);
  const beforeIn: Between[] = [];
  const apart: Between[] = [];
  for (const between of new Set(own.units.flatMap((unit) => all.get(unit) ?? []))) {
    const { low, high } = between;
    const areBothHere = own.units.includes(low) && own.units.includes(high);
    const isHere = between.own === own || (between.own.axis === own.axis && areBothHere);
    const meetsHere = (comes(low) && (on.has(high) || comes(high))) || (comes(high) && (on.has(low) || comes(low)));
    if (!isHere && !(meetsHere && isOneBody(bike, low, high))) continue;
    if (isSet(bike, between, fitted, on)) continue;
    (comes(low) || comes(high) ? beforeIn : apart).push(between);
  }
  return { beforeIn, apart };
}

/** A unit that can be moved away again at a spacer's axle, and the axle it swings about. */
export interface Movable {
  readonly unit: string;
  readonly about: Joined;
}

/** How far two bosses have to be moved apart in the side plane so that a ring between them comes free: its own radius and that of the boss it does not lie in, mm. */
export function clear_mm({ ring }: Pick<Between, 'ring'>): number {
  const over = deeperSide(ring) === 'low' ? ring.high! : ring.low!;
  return radiusOf(ring.item) + radiusOf(over.boss);
}

/**
 * Those of the two units that can be moved away again at the ring's axle, given the axles that are in: they hang on one
 * axis alone, and the swing about it that is left moves their bores by `clear_mm`. What else stands in its way is `others`;
 * without it only the frame and the other unit are looked at.
 */
export function movables(
  solids: Solids,
  between: Pick<Between, 'own' | 'low' | 'high'>,
  fitted: ReadonlySet<string>,
  clear_mm: number,
  others: Iterable<string> = [],
): Movable[] {
  const { bike } = solids;
  if (isOneBody(bike, between.low, between.high)) return [];
  const frame = [...bike.units.values()].filter(({ isFrame }) => isFrame).map(({ id }) => id);
  const on = new Set([...frame, between.low, between.high, ...others]);
  return [between.low, between.high].flatMap((unit): Movable[] => {
    if (bike.units.get(unit)!.isFrame) return [];
    const held = (bike.byUnit.get(unit) ?? []).filter((own) => fitted.has(own.id));
    const about = held[0];
    if (!about || about.axis === between.own.axis || held.some((own) => own.axis !== about.axis)) return [];
    const { place } = between.own;
    const arm_mm = Math.hypot(place.x_mm - about.place.x_mm, place.y_mm - about.place.y_mm);
    const moved_mm = 2 * arm_mm * Math.sin(swingRoom_rad(solids, unit, about.place, on) / 2);
    return moved_mm >= clear_mm ? [{ unit, about }] : [];
  });
}

/** What is on the bike. */
export interface Standing {
  /** Axles that are in. */
  readonly fitted: ReadonlySet<string>;
  /** Units that are on. */
  readonly units: ReadonlySet<string>;
  /** Obstacles that are on. */
  readonly obstacles: ReadonlySet<string>;
}

/** Answers for one bike; what was asked once is remembered. */
export class Sense {
  readonly bike: Bike;
  readonly ways: Ways;
  readonly solids: Solids;
  readonly between: ReadonlyMap<string, readonly Between[]>;
  private readonly frame: readonly string[];
  private readonly known = new Map<string, readonly Reason[]>();

  constructor(bike: Bike) {
    this.bike = bike;
    this.ways = new Ways(bike);
    this.solids = new Solids(bike);
    this.between = allBetween(bike);
    this.frame = [...bike.units.values()].filter(({ isFrame }) => isFrame).map(({ id }) => id);
  }

  /** What is on the bike once these axles are in and these obstacles on. */
  standing(fitted: Iterable<string>, obstacles: Iterable<string> = []): Standing {
    const axles = new Set(fitted);
    const units = new Set([...this.frame, ...[...axles].flatMap((id) => this.bike.byStack.get(id)!.units)]);
    return { fitted: axles, units, obstacles: new Set(obstacles) };
  }

  /** Why an axle cannot be fitted now; empty where it can. */
  whyNot(stackId: string, standing: Standing): readonly Reason[] {
    const key = `${stackId} ${[...standing.fitted].sort().join(' ')} | ${[...standing.obstacles].sort().join(' ')}`;
    const known = this.known.get(key);
    if (known) return known;
    const found = this.find(this.bike.byStack.get(stackId)!, standing);
    this.known.set(key, found);
    return found;
  }

  private find(own: Joined, standing: Standing): Reason[] {
    const isHeld = own.units.some((unit) => standing.units.has(unit));
    if (!isHeld)
      return [
        { code: 'nothing-to-hang-on', isSolid: true, numbers: {}, about: { stack: own.id, unit: own.units[0] ?? '' } },
      ];
    const { beforeIn, apart } = toSet(this.bike, this.between, own, standing.fitted, standing.units);
    const reasons: Reason[] = [];
    const on = new Set([...standing.units, ...standing.obstacles]);
    for (const unit of own.units.filter((id) => !standing.units.has(id))) {
      const mustBeAlong = beforeIn.some(
        (between) =>
          between.isAlong &&
          (between.low === unit ? on.has(between.high) : between.high === unit && on.has(between.low)),
      );
      const way = this.ways.into(unit, on);
      if (mustBeAlong ? way.sides.length === 0 : way.sides.length + way.arcs.length === 0)
        reasons.push(this.noWay(own, unit, on, mustBeAlong));
      on.add(unit);
    }
    for (const between of apart) {
      if (movables(this.solids, between, standing.fitted, clear_mm(between)).length > 0) continue;
      const into = Math.max(between.ring.low!.into_mm, between.ring.high!.into_mm);
      reasons.push({
        code: 'spacer-shut-out',
        isSolid: true,
        numbers: { into_mm: { value: into, unit: 'mm' } },
        about: { stack: own.id, item: between.ring.item.id, unit: between.low, owner: between.high },
      });
    }
    return reasons;
  }

  /** Names what shuts the way: everything whose absence alone would open it, or else all that shuts something. */
  private noWay(own: Joined, unit: string, on: ReadonlySet<string>, isAlong: boolean): Reason {
    const shutting = [...on].filter(
      (owner) => owner !== unit && this.bike.units.get(owner)?.isFrame !== true && this.shuts(unit, owner),
    );
    const opens = shutting.filter((owner) => {
      const way = this.ways.into(unit, new Set([...on].filter((other) => other !== owner)));
      return isAlong ? way.sides.length > 0 : way.sides.length + way.arcs.length > 0;
    });
    const open = widest(this.ways.into(unit, new Set(this.frame)).arcs);
    return {
      code: 'no-way-in',
      isSolid: true,
      numbers: { frame_deg: { value: open ? ((open.to - open.from) * 180) / Math.PI : 0, unit: '1' } },
      about: { stack: own.id, unit, owners: (opens.length > 0 ? opens : shutting).join(' ') },
    };
  }

  private shuts(unit: string, owner: string): boolean {
    const shut = this.ways.shut(unit, owner);
    return shut.arcs.length > 0 || shut.drive || shut.nonDrive;
  }
}

/** All that is worked out for one analysis. */
export class Works {
  readonly bike: Bike;
  readonly tasks: readonly Task[];
  readonly at: ReadonlyMap<string, number>;
  readonly edges: readonly Edge[];
  readonly blocks: readonly Block[];
  readonly graph: Digraph;
  readonly costs: readonly Work[];
  readonly sense: Sense;
  /** Edges into and out of each task. */
  readonly edgesAt: ReadonlyMap<string, readonly Edge[]>;
  private readonly relevant = new Map<string, readonly number[]>();
  private readonly bringers: readonly number[];
  private readonly swung = new Map<string, boolean>();
  private readonly known = new Map<string, readonly Reason[]>();

  constructor(analysis: Analysis) {
    this.bike = bikeOf(analysis);
    this.tasks = tasksOf(this.bike);
    this.at = new Map(this.tasks.map(({ id }, k) => [id, k]));
    const { edges, blocks } = precedence(this.bike, this.tasks);
    this.edges = edges;
    this.blocks = blocks;
    this.graph = digraph(
      this.tasks.length,
      edges.map(({ before, after }) => [this.at.get(before)!, this.at.get(after)!] as const),
    );
    this.sense = new Sense(this.bike);
    const edgesAt = new Map<string, Edge[]>(this.tasks.map(({ id }) => [id, []]));
    for (const edge of edges) for (const id of new Set([edge.before, edge.after])) edgesAt.get(id)!.push(edge);
    this.edgesAt = edgesAt;
    this.bringers = this.tasks.flatMap(({ brings }, k) => (brings.length > 0 ? [k] : []));
    this.costs = this.tasks.map((task) => this.workOf(task));
  }

  /** Why an axle cannot be fitted when these tasks are done; nothing for any other task. */
  whyNot(node: number, isDone: (other: number) => boolean): readonly Reason[] {
    const task = this.tasks[node]!;
    if (task.kind !== 'fit') return [];
    const fits = this.relevantTo(this.bike.byStack.get(task.stackId!)!).filter(isDone);
    const bringers = this.bringers.filter(isDone);
    const key = `${node}:${fits.join()}:${bringers.join()}`;
    let found = this.known.get(key);
    if (!found) {
      const standing = this.sense.standing(
        fits.map((k) => this.tasks[k]!.stackId!),
        bringers.flatMap((k) => this.tasks[k]!.brings),
      );
      found = this.sense.whyNot(task.stackId!, standing);
      this.known.set(key, found);
    }
    return found;
  }

  /**
   * Axles that what can be said of one depends on: those that join its own units, or any so near that it could stand in
   * the way of them or be moved away for them. A long row of bikes is as fast to ask about as one.
   */
  relevantTo(own: Joined): readonly number[] {
    const known = this.relevant.get(own.id);
    if (known) return known;
    const { byUnit, units } = this.bike;
    const near = new Set(
      own.units.flatMap((unit) => [unit, ...this.sense.ways.nearOf(unit)]).filter((id) => units.has(id)),
    );
    const found = new Set(
      [...near].flatMap((unit) => (byUnit.get(unit) ?? []).map(({ id }) => this.at.get(`fit:${id}`)!)),
    );
    const sorted = [...found].sort((one, other) => one - other);
    this.relevant.set(own.id, sorted);
    return sorted;
  }

  /** Units an axle joins, or obstacles a task brings. */
  brings(node: number): readonly string[] {
    const { stackId, kind, brings } = this.tasks[node]!;
    return kind === 'fit' && stackId !== undefined ? this.bike.byStack.get(stackId)!.units : brings;
  }

  /** The rule beyond the edges. */
  readonly mayGo: MayGo = (node, isDone) => this.whyNot(node, isDone).length === 0;

  /** Whether members that stand together have to be moved apart for an axle. */
  private isSwung(own: Joined, isDone: (other: number) => boolean): boolean {
    const fits = this.relevantTo(own).filter(isDone);
    const key = `${own.id}:${fits.join()}`;
    let found = this.swung.get(key);
    if (found === undefined) {
      const { fitted, units } = this.sense.standing(fits.map((k) => this.tasks[k]!.stackId!));
      found = toSet(this.bike, this.sense.between, own, fitted, units).apart.length > 0;
      this.swung.set(key, found);
    }
    return found;
  }

  private workOf(task: Task): Work {
    const own = task.stackId === undefined ? undefined : this.bike.byStack.get(task.stackId);
    const isAxle = task.kind === 'fit' || task.kind === 'tighten';
    const covering = this.edgesAt
      .get(task.id)!
      .filter(({ before, reasons }) => before === task.id && reasons.some(({ code }) => COVERING.has(code)));
    return {
      ...(task.begins === undefined ? {} : { begins: task.begins }),
      ...(task.ends === undefined ? {} : { ends: task.ends }),
      isBench: task.kind === 'inspect',
      tools: task.tools.map(({ tool }) => `${tool.tool} ${tool.size_mm}`),
      ...(own && isAxle
        ? {
            axle: this.bike.stacks.indexOf(own),
            part: task.kind as 'fit' | 'tighten',
            isThreadlocked: own.isThreadlocked,
            isFittedForNow: own.isFittedForNow,
          }
        : {}),
      covered: covering.length,
      ...(own && task.kind === 'fit'
        ? { isSwung: (isDone: (other: number) => boolean) => this.isSwung(own, isDone) }
        : {}),
    };
  }
}

const COVERING: ReadonlySet<string> = new Set(['axle-path', 'nut-path', 'tool-room', 'handle-room']);

/** Works of the analyses last asked about, by their content: a copy that a worker sent is the same bike. */
const kept = new Map<string, Works>();
const MOST_KEPT = 24;

/** The works of an analysis. */
export function worksOf(analysis: Analysis): Works {
  const { key } = analysis;
  const works = kept.get(key) ?? new Works(analysis);
  // The last asked about stands last.
  kept.delete(key);
  kept.set(key, works);
  for (const oldest of kept.keys()) if (kept.size > MOST_KEPT) kept.delete(oldest);
  return works;
}
