/**
 * What no edge can say, because it depends on everything that is on the bike at a time: is there anything to hang the
 * axle's members on, is there a way in for those that are not there yet, do the rings between them still find theirs.
 *
 * An axle is fitted where at least one of what it joins is on the bike; sub-assemblies on the bench are not looked at.
 * The answer depends on what is done, never in which order it was done.
 */
import { allBetween, clear_mm, movables, toSet, type Between } from './between.ts';
import type { Bike, Joined } from './bike.ts';
import type { Reason } from './precedence.ts';
import { widest } from './arcs.ts';
import { Ways } from './way-in.ts';

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
  readonly between: ReadonlyMap<string, readonly Between[]>;
  private readonly frame: readonly string[];
  private readonly known = new Map<string, readonly Reason[]>();

  constructor(bike: Bike) {
    this.bike = bike;
    this.ways = new Ways(bike);
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
      if (movables(this.bike, between, standing.fitted, clear_mm(between)).length > 0) continue;
      const into = Math.max(between.ring.low!.into_mm, between.ring.high!.into_mm);
      reasons.push({
        code: 'ring-shut-out',
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
