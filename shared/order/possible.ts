/**
 * Whether a task is possible when others are done, and what of that no edge can say, because it depends on everything
 * that is on the bike at a time: is there anything to hang the axle's members on, is there a way in for those that are
 * not there yet, do the spacers between them still find theirs.
 *
 * Two units meet when the second of them is brought to its place. A spacer between them that reaches into a bore is
 * then set before, unless the two can still be moved apart where it lies: they can while they are joined on no other
 * axis than theirs there, one of them hangs on a single axle, and they are not one body. An axle is fitted where at
 * least one of what it joins is on the bike; sub-assemblies on the bench are not looked at. The answer depends on what
 * is done, never in which order it was done. Everything that asks about an order (plan, check, access) asks here.
 */
import type { Analysis } from '../types.ts';
import { type Bike, type Joined, type SpacerPlace, bikeOf, deeperSide, grouped, remembered, wayOf } from './bike.ts';
import { Solids, swingRoom_rad } from './bodies.ts';
import type { Work } from './best.ts';
import { type Digraph, type MayGo, digraph, reversed } from './graph.ts';
import { Ways, radiusOf, widest } from './room.ts';
import { type Block, type Edge, type Reason, type Task, mm, precedence, solid, tasksOf } from './tasks.ts';

/** A spacer that lies between two different units, with its stack and them. */
export interface Between {
  readonly own: Joined;
  readonly ring: SpacerPlace;
  /** Unit of its boss toward the non-drive side, and toward the drive side. */
  readonly low: string;
  readonly high: string;
  /** The two can meet along the axle only. */
  readonly isAlong: boolean;
}

/** Spacers of a stack that cannot come in from the side, in the order in which they are laid. */
export function betweenOf(bike: Bike, own: Joined): Between[] {
  const found = own.spacers.flatMap((ring): Between[] => {
    const way = wayOf(ring);
    if (way !== 'before-they-meet' && way !== 'before-they-meet-along') return [];
    const [low, high] = [ring.low!.boss, ring.high!.boss].map((boss) => bike.unitOf.get(boss.member!)!);
    return [{ own, ring, low: low!, high: high!, isAlong: way === 'before-they-meet-along' }];
  });
  // Between the same two bosses what stands nearer to the boss it is laid on goes first.
  const gaps = grouped(found, ({ ring }) => [`${ring.low!.boss.id} ${ring.high!.boss.id}`]);
  return [...gaps.values()].flatMap((gap) => {
    const onto = (side: 'low' | 'high'): Between[] => gap.filter(({ ring }) => deeperSide(ring) === side);
    return [...onto('low'), ...onto('high').reverse()];
  });
}

/** All such spacers of a bike, by the two units they lie between. */
function allBetween(bike: Bike): ReadonlyMap<string, readonly Between[]> {
  return grouped(
    bike.stacks.flatMap((own) => betweenOf(bike, own)),
    ({ low, high }) => [low, high],
  );
}

/**
 * Whether a spacer lies in its place already and cannot leave it, given the axles that are in and the units that are
 * on.
 */
export function isSet(
  bike: Bike,
  { own, low, high }: Between,
  fitted: ReadonlySet<string>,
  on: ReadonlySet<string>,
): boolean {
  if (fitted.has(own.id) || (isOneBody(bike, low, high) && on.has(low) && on.has(high))) return true;
  return bike.stacks.some(
    ({ id, axis, units }) => axis === own.axis && fitted.has(id) && units.includes(low) && units.includes(high),
  );
}

function isOneBody(bike: Bike, one: string, other: string): boolean {
  return bike.units.get(one)!.body === bike.units.get(other)!.body;
}

/** Spacers that have to be set as an axle is fitted, all of them before the two units they lie between meet. */
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

/**
 * How far two bosses have to be moved apart in the side plane so that a spacer between them comes free: its own radius
 * and that of the boss it does not lie in, mm.
 */
export function clear_mm({ ring }: Pick<Between, 'ring'>): number {
  const over = deeperSide(ring) === 'low' ? ring.high! : ring.low!;
  return radiusOf(ring.item) + radiusOf(over.boss);
}

/**
 * Those of the two units that can be moved away again at the spacer's axle, given the axles that are in: they hang on
 * one axis alone, and the swing about it that is left moves their bores by `clear_mm`. What else stands in its way is
 * `others`; without it only the frame and the other unit are looked at.
 */
export function movables(
  solids: Solids,
  { own, low, high }: Pick<Between, 'own' | 'low' | 'high'>,
  fitted: ReadonlySet<string>,
  clear_mm: number,
  others: Iterable<string> = [],
): Movable[] {
  const { bike } = solids;
  if (isOneBody(bike, low, high)) return [];
  const on = new Set([...bike.frame, low, high, ...others]);
  return [low, high].flatMap((unit): Movable[] => {
    if (bike.units.get(unit)!.isFrame) return [];
    const [about, ...more] = bike.byUnit.get(unit)!.filter(({ id }) => fitted.has(id));
    if (!about || about.axis === own.axis || more.some(({ axis }) => axis !== about.axis)) return [];
    const arm_mm = Math.hypot(own.place.x_mm - about.place.x_mm, own.place.y_mm - about.place.y_mm);
    const moved_mm = 2 * arm_mm * Math.sin(swingRoom_rad(solids, unit, about.place, on) / 2);
    return moved_mm >= clear_mm ? [{ unit, about }] : [];
  });
}

/** A spacer that cannot come in any more. */
export function shutOut({ own, ring, low, high }: Between): Reason {
  return solid(
    'spacer-shut-out',
    { stack: own.id, item: ring.item.id, unit: low, owner: high, ...(ring.round && { round: ring.round.id }) },
    { into_mm: mm(Math.max(ring.low!.into_mm, ring.high!.into_mm)) },
  );
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

/** Answers for one bike. */
export class Sense {
  readonly bike: Bike;
  readonly ways: Ways;
  readonly solids: Solids;
  readonly between: ReadonlyMap<string, readonly Between[]>;

  constructor(bike: Bike) {
    this.bike = bike;
    this.ways = new Ways(bike);
    this.solids = new Solids(bike);
    this.between = allBetween(bike);
  }

  /** What is on the bike once these axles are in and these obstacles on. */
  standing(fitted: Iterable<string>, obstacles: Iterable<string> = []): Standing {
    const axles = new Set(fitted);
    const units = new Set([...this.bike.frame, ...[...axles].flatMap((id) => this.bike.byStack.get(id)!.units)]);
    return { fitted: axles, units, obstacles: new Set(obstacles) };
  }

  /** Why an axle cannot be fitted now; empty where it can. */
  whyNot(own: Joined, { fitted, units, obstacles }: Standing): Reason[] {
    if (!own.units.some((unit) => units.has(unit)))
      return [solid('nothing-to-hang-on', { stack: own.id, unit: own.units[0] ?? '' }, {})];
    const { beforeIn, apart } = toSet(this.bike, this.between, own, fitted, units);
    const reasons: Reason[] = [];
    const on = new Set([...units, ...obstacles]);
    for (const unit of own.units.filter((id) => !units.has(id))) {
      const isAlong = beforeIn.some(
        ({ isAlong: mustBe, low, high }) =>
          mustBe && ((low === unit && on.has(high)) || (high === unit && on.has(low))),
      );
      if (!this.isOpen(unit, on, isAlong)) reasons.push(this.noWay(own, unit, on, isAlong));
      on.add(unit);
    }
    const isShut = (between: Between) => movables(this.solids, between, fitted, clear_mm(between)).length === 0;
    return [...reasons, ...apart.filter(isShut).map(shutOut)];
  }

  private isOpen(unit: string, on: ReadonlySet<string>, isAlong: boolean): boolean {
    const { sides, arcs } = this.ways.into(unit, on);
    return sides.length > 0 || (!isAlong && arcs.length > 0);
  }

  /** Names what shuts the way: everything whose absence alone would open it, or else all that shuts something. */
  private noWay(own: Joined, unit: string, on: ReadonlySet<string>, isAlong: boolean): Reason {
    const shutting = [...on].filter((owner) => {
      if (owner === unit || this.bike.frame.includes(owner)) return false;
      const { arcs, drive, nonDrive } = this.ways.shut(unit, owner);
      return arcs.length > 0 || drive || nonDrive;
    });
    const opens = shutting.filter((owner) =>
      this.isOpen(unit, new Set([...on].filter((other) => other !== owner)), isAlong),
    );
    const open = widest(this.ways.into(unit, new Set(this.bike.frame)).arcs);
    return solid(
      'no-way-in',
      { stack: own.id, unit, owners: (opens.length > 0 ? opens : shutting).join(' ') },
      { frame_deg: { value: open ? ((open.to - open.from) * 180) / Math.PI : 0, unit: '1' } },
    );
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
  /** For each task those it needs. */
  readonly needs: readonly (readonly number[])[];
  readonly costs: readonly Work[];
  readonly sense: Sense;
  /** Edges into and out of each task. */
  readonly edgesAt: ReadonlyMap<string, readonly Edge[]>;
  private readonly relevant = new Map<string, readonly number[]>();
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
      edges.map(({ before, after }) => [this.at.get(before)!, this.at.get(after)!]),
    );
    this.needs = reversed(this.graph).next;
    this.sense = new Sense(this.bike);
    this.edgesAt = grouped(edges, ({ before, after }) => [before, after]);
    this.costs = this.tasks.map((task) => this.workOf(task));
  }

  /** The axle a task is about. */
  joined(node: number): Joined | undefined {
    return this.bike.byStack.get(this.tasks[node]!.stackId ?? '');
  }

  /** Why an axle cannot be fitted when these tasks are done; nothing for any other task. */
  whyNot(node: number, isDone: (other: number) => boolean): readonly Reason[] {
    if (this.tasks[node]!.kind !== 'fit') return [];
    const own = this.joined(node)!;
    const done = this.relevantTo(own).filter(isDone);
    return remembered(this.known, `${node}:${done.join()}`, () => this.sense.whyNot(own, this.standing(done)));
  }

  /** What is on the bike once these tasks are done. */
  standing(done: readonly number[]): Standing {
    return this.sense.standing(
      done.flatMap((node) => (this.tasks[node]!.kind === 'fit' ? [this.tasks[node]!.stackId!] : [])),
      done.flatMap((node) => this.tasks[node]!.brings),
    );
  }

  /**
   * Tasks that what can be said of an axle depends on: those that bring one of its own units, or a unit or an obstacle
   * so near to one that it could stand in its way. The frame is on at all times: what hangs on it beside the axle does
   * not matter. A long row of bikes is as fast to ask about as one.
   */
  relevantTo(own: Joined): readonly number[] {
    return remembered(this.relevant, own.id, () => {
      const { frame } = this.bike;
      const units = own.units.filter((unit) => !frame.includes(unit));
      const near = new Set(units.flatMap((unit) => [unit, ...this.sense.ways.nearOf(unit)]));
      for (const unit of frame) near.delete(unit);
      return [...this.tasks.keys()].filter((node) => this.brings(node).some((owner) => near.has(owner)));
    });
  }

  /** Units an axle joins, or obstacles a task brings. */
  brings(node: number): readonly string[] {
    const { kind, brings } = this.tasks[node]!;
    return kind === 'fit' ? this.joined(node)!.units : brings;
  }

  /** The rule beyond the edges. */
  readonly mayGo: MayGo = (node, isDone) => this.whyNot(node, isDone).length === 0;

  private workOf({ id, kind, stackId, begins, ends, tools }: Task): Work {
    const own = this.bike.byStack.get(stackId ?? '');
    /** Whether members that stand together have to be moved apart for the axle. */
    const isSwung = (isDone: (other: number) => boolean): boolean => {
      const done = this.relevantTo(own!).filter(isDone);
      return remembered(this.swung, `${id}:${done.join()}`, () => {
        const { fitted, units } = this.standing(done);
        return toSet(this.bike, this.sense.between, own!, fitted, units).apart.length > 0;
      });
    };
    const covering = this.edgesAt
      .get(id)!
      .filter(({ before, reasons }) => before === id && reasons.some(({ code }) => COVERING.has(code)));
    return {
      ...(begins && { begins }),
      ...(ends && { ends }),
      isBench: kind === 'inspect',
      tools: tools.map(({ tool }) => `${tool.tool} ${tool.size_mm}`),
      ...(own &&
        (kind === 'fit' || kind === 'tighten') && {
          part: kind,
          isThreadlocked: own.isThreadlocked,
          isFittedForNow: own.written.fitted_for_now !== undefined,
        }),
      covered: covering.length,
      ...(kind === 'fit' && { isSwung }),
      asks: kind === 'fit' ? this.relevantTo(own!) : [],
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
