/**
 * What a hand does in each task, and where every part is after it: the whole bike from bare frame to hand-over.
 *
 * An axle goes in from its side and meets the row one after another. The first member that is not there yet is offered
 * up before it starts, every later one when the axle's tip has come to it; spacers that reach into a bore are set before
 * the two members meet, with one of them in the hand or swung away again. The receiver is started by hand, then held and
 * turned, then pulled to its torque. mm, offsets along z from the tight place.
 */
import type { PlacedItem, StepPlace } from '../types.ts';
import { type Bike, type Joined, deeperSide, isBeside } from './bike.ts';
import { ORDER_LIMITS } from './limits.ts';
import { swingRoom_rad } from './paths.ts';
import { type Between, type Sense, clear_mm, isSet, movables, toSet } from './possible.ts';
import {
  type Approach,
  type ToolRoom,
  approachOf,
  aroundOf,
  depthOf,
  firstFace,
  outward,
  shutAngles,
  toolsOf,
  widestSweep,
} from './room.ts';
import type { BenchTool, DriveInHand, PlanStep, PlanStepKind, Task } from './tasks.ts';

/** What is done already when the hands begin. */
export interface Begun {
  /** Axles that are tight, and obstacles that are on. */
  readonly fitted: readonly string[];
  readonly obstacles: readonly string[];
  /** Bearings, and rings shut in between them, that are out of their seats all the same. */
  readonly pressedOut?: readonly string[];
}

/** Steps of some tasks in their order, from a bare frame or from what is done already. */
export function handsOf(
  sense: Sense,
  tasks: readonly Task[],
  begun: Begun = { fitted: [], obstacles: [] },
): PlanStep[] {
  const hands = new Hands(sense, begun);
  for (const task of tasks) hands.work(task);
  return hands.steps;
}

/** Where every item is before the hands begin: on the bike what stands on the frame or hangs on it. */
export function placesBefore(sense: Sense, begun: Begun = { fitted: [], obstacles: [] }): Map<string, StepPlace> {
  return new Hands(sense, begun).startPlaces();
}

/** The tools of an axle with where their handles have room, what is always there and these owners in mind. */
export function drivesOf(bike: Bike, own: Joined, on: ReadonlySet<string>): DriveInHand[] {
  const around = [...aroundOf(bike, own)].flatMap(([owner, pieces]) => (on.has(owner) ? pieces : []));
  return toolsOf(own).map((room: ToolRoom): DriveInHand => {
    const open = widestSweep(
      shutAngles(
        room,
        around.filter((piece) => isBeside(room.handle, piece)),
      ),
    );
    return {
      kind: 'drive',
      role: room.role,
      tool: room.tool,
      side: room.side,
      item: room.item,
      end_mm: room.end_mm,
      isTorque: false,
      ...(open ? { open } : {}),
    };
  });
}

const bench = (...what: readonly BenchTool['what'][]): BenchTool[] =>
  what.map((tool) => ({ kind: 'bench', what: tool }));

/** What goes on a thread as it is started; threadlocker goes on before, in a step of its own. */
const AGENTS = { 'anti-seize': 'anti-seize', oiled: 'oil', greased: 'grease' } as const;

type Draft = Partial<
  Pick<
    PlanStep,
    | 'items'
    | 'carried'
    | 'units'
    | 'obstacles'
    | 'atBench'
    | 'heldBy'
    | 'approach'
    | 'tools'
    | 'depth_mm'
    | 'torque_Nm'
    | 'greased'
  >
> & { readonly side: PlanStep['side'] };

class Hands {
  readonly steps: PlanStep[] = [];
  private readonly sense: Sense;
  private readonly bike: Bike;
  private readonly on: Set<string>;
  private readonly fitted: Set<string>;
  private readonly places = new Map<string, StepPlace>();
  private readonly pressed = new Set<string>();
  /** Rings lying in a bore of a unit, by ring. */
  private readonly laid = new Map<string, string>();
  private task!: Task;
  private count = 0;

  constructor(sense: Sense, begun: Begun) {
    this.sense = sense;
    this.bike = sense.bike;
    this.fitted = new Set(begun.fitted);
    const standing = sense.standing(begun.fitted, begun.obstacles);
    this.on = new Set([...standing.units, ...begun.obstacles]);
    for (const own of this.bike.stacks) {
      const isFitted = this.fitted.has(own.id);
      for (const item of own.items) this.places.set(item.id, { offset_mm: 0, on: isFitted });
    }
    if (begun.pressedOut) {
      this.leavePressed(begun.pressedOut);
      this.leaveShutIn();
    }
    for (const unit of standing.units) this.show(this.groupEverywhere(unit));
  }

  /** A part-built bike has its bearings, and what is shut in between them, where they were. */
  private leavePressed(out: readonly string[]): void {
    for (const own of this.bike.stacks) {
      for (const item of own.items) if (item.seat && !out.includes(item.id)) this.pressed.add(item.id);
      for (const { item, shutBy } of own.spacers)
        if (shutBy?.[0].seat && !out.includes(item.id))
          this.laid.set(item.id, this.bike.unitOf.get(shutBy[0].seat.member)!);
    }
  }

  /** So has it the rings of an opened axle whose two bosses another axle still holds together. */
  private leaveShutIn(): void {
    for (const between of new Set([...this.sense.between.values()].flat())) {
      const { own, ring, low, high } = between;
      if (low === high || this.fitted.has(own.id) || !isSet(this.bike, between, this.fitted, this.on)) continue;
      this.laid.set(ring.item.id, between[deeperSide(ring)]);
    }
  }

  work(task: Task): void {
    this.task = task;
    this.count = 0;
    const own = task.stackId === undefined ? undefined : this.bike.byStack.get(task.stackId)!;
    if (task.kind === 'inspect') this.inspect(own!);
    else if (task.kind === 'fit') this.fit(own!);
    else if (task.kind === 'tighten') this.tighten(own!);
    else this.whole(task);
  }

  startPlaces(): Map<string, StepPlace> {
    return new Map(this.places);
  }

  private whole(task: Task): void {
    const { bike } = this;
    switch (task.kind) {
      case 'stand':
        this.step('stand', undefined, { side: 'drive', tools: bench('stand') });
        return;
      case 'chainset':
      case 'wheel':
        for (const id of task.brings) this.on.add(id);
        this.step(task.kind, undefined, { side: 'drive', obstacles: task.brings });
        return;
      case 'air':
        this.step('air', undefined, { side: 'non-drive', tools: bench('shock-pump'), units: [bike.shock!] });
        this.step('travel-o-ring', undefined, { side: 'non-drive', units: [bike.shock!] });
        return;
      case 'cables':
      case 'hand-over':
        this.step(task.kind, undefined, { side: 'drive' });
        return;
      case 'inspect':
      case 'fit':
      case 'tighten':
        throw new Error(`hands: ${task.id}: met no axle, allowed: a task of the whole bike`);
    }
  }

  /** Seats, axle and threads, then the bearings pressed home with what lies between them. */
  private inspect(own: Joined): void {
    const bosses = own.items.filter((item) => item.role === 'boss');
    const bearings = own.items.filter((item) => item.role === 'bearing' && item.seat && !this.pressed.has(item.id));
    const seatsOf = (member: string, bore: string): PlacedItem[] =>
      bosses.filter((boss) => boss.member === member && boss.bore === bore);
    const seats = [...new Set(bearings.flatMap(({ seat }) => seatsOf(seat!.member, seat!.bore)))];
    if (seats.length > 0)
      this.benchStep('clean-seat', own, seats, [], { side: own.from, tools: bench('cloth', 'brush') });
    this.benchStep('clean-axle', own, [own.axle], [], { side: own.from, tools: bench('cloth') });
    this.benchStep('clean-thread', own, [own.axle, own.receiver], [], {
      side: own.tipSide,
      tools: bench('brush', 'cloth'),
    });
    for (const boss of seats) {
      const inHere = bearings.filter(({ seat }) => seat!.member === boss.member && seat!.bore === boss.bore);
      for (const bearing of inHere) {
        // What lies between this bearing and one that is home already can come in no other way any more.
        const shutIn = own.spacers.filter(
          ({ item, shutBy }) =>
            shutBy?.includes(bearing) &&
            !this.laid.has(item.id) &&
            shutBy.every((one) => one === bearing || this.pressed.has(one.id)),
        );
        for (const { item: ring } of shutIn) {
          this.laid.set(ring.id, this.bike.unitOf.get(boss.member!)!);
          this.benchStep('set-spacer', own, [ring], [boss], this.spacer(own, ring, bearing.seat!.side));
        }
        this.pressed.add(bearing.id);
        this.benchStep('press-bearing', own, [bearing], [boss], {
          side: bearing.seat!.side,
          tools: bench('bearing-press'),
          greased: this.isGreased(own, bearing.id),
        });
      }
    }
  }

  /** A step at the bench: a member that is not on the bike is drawn for it, with what is in it, and gone again after. */
  private benchStep(
    kind: PlanStepKind,
    own: Joined,
    items: readonly PlacedItem[],
    bosses: readonly PlacedItem[],
    draft: Draft,
  ): void {
    const worked = [...items, ...bosses].filter((item) => item.role === 'boss');
    const units = [...new Set(worked.map((boss) => this.bike.unitOf.get(boss.member!)!))];
    const isOnBike = worked.length > 0 && units.every((unit) => this.on.has(unit));
    // A loose axle or nut lies at the bench however much of the bike is there.
    const shown = [
      ...units.flatMap((unit) => this.groupAt(own, unit)),
      ...items.filter(
        ({ role, member }) => !isOnBike || (role !== 'axle' && (role !== 'receiver' || member !== undefined)),
      ),
    ];
    const was = new Map(shown.map((item) => [item.id, this.places.get(item.id)!]));
    this.show(shown);
    this.step(kind, own, {
      ...draft,
      items: items.map(({ id }) => id),
      units: isOnBike ? [] : units,
      atBench: !isOnBike,
    });
    if (!isOnBike) for (const [id, place] of was) this.places.set(id, place);
  }

  private fit(own: Joined): void {
    const { bike, sense } = this;
    const row = own.items.filter((item) => item.role !== 'axle' && item.role !== 'receiver');
    const way = own.from === 'non-drive' ? row : [...row].reverse();
    const { beforeIn, apart } = toSet(bike, sense.between, own, this.fitted, this.on);
    const isBefore = (ring: PlacedItem): boolean =>
      [...beforeIn, ...apart].some((between) => between.ring.item.id === ring.id);
    const isFree = (ring: PlacedItem): boolean =>
      ring.role === 'spacer' && !this.places.get(ring.id)!.on && !this.laid.has(ring.id);
    const loose = (): PlacedItem[] => way.filter((ring) => isFree(ring) && !isBefore(ring));
    const pieces = [own.axle, ...(own.receiver.role === 'boss' ? [] : [own.receiver]), ...way.filter(isFree)];
    this.step('prepare', own, { side: own.from, items: pieces.map(({ id }) => id), tools: bench('tray') });
    const greased = own.items.filter((item) => this.isGreased(own, item.id) && item.role !== 'spacer');
    if (greased.length > 0)
      this.step('grease', own, {
        side: own.from,
        items: greased.map(({ id }) => id),
        tools: bench('grease'),
        greased: true,
      });

    this.setApart(own, apart);
    const missing = own.units.filter((unit) => !this.on.has(unit));
    this.depth = undefined;
    const first = missing.shift();
    if (first !== undefined) this.offer(own, first, beforeIn);

    const bosses = way.flatMap((item, k) => (item.role === 'boss' ? [k] : []));
    const [firstBoss, lastBoss] = [bosses[0] ?? 0, bosses.at(-1) ?? way.length];
    this.full = depthOf(own);
    this.carried.length = 0;
    for (const item of way.slice(0, firstBoss).filter((ring) => loose().includes(ring))) {
      this.carried.push(item);
      this.pushTo(own, 0);
      this.step('set-spacer', own, this.spacer(own, item, own.from, 'axle'));
    }
    for (const item of way.slice(firstBoss, lastBoss + 1)) {
      const unit = item.role === 'boss' ? bike.unitOf.get(item.member!)! : undefined;
      const comes = unit !== undefined && missing.includes(unit);
      const isLoose = item.role === 'spacer' && loose().includes(item);
      if (!comes && !isLoose) continue;
      this.pushBefore(own, item);
      if (comes) {
        missing.splice(missing.indexOf(unit), 1);
        this.offer(own, unit, beforeIn);
      } else {
        this.show([item]);
        this.step('set-spacer', own, this.spacer(own, item, own.from));
      }
    }
    const receiver = own.receiver;
    const isScrewedIn = receiver.role === 'boss';
    // A receiver's member that is not there yet is brought to the tip.
    for (const unit of [...missing]) {
      this.pushBefore(own, receiver);
      this.offer(own, unit, beforeIn);
    }
    const treat = own.written.thread_treatment;
    if (isScrewedIn) {
      this.pushBefore(own, receiver);
      if (treat === 'threadlocked')
        this.step('threadlock', own, { side: own.from, items: [own.axle.id], tools: bench('threadlocker') });
    } else {
      this.pushTo(own, this.full);
      this.step('axle-home', own, { side: own.from, items: [own.axle.id] });
      for (const item of way.slice(lastBoss + 1).filter((ring) => loose().includes(ring))) {
        this.show([item]);
        this.step('set-spacer', own, this.spacer(own, item, own.tipSide, 'axle'));
      }
      if (treat === 'threadlocked')
        this.step('threadlock', own, {
          side: own.tipSide,
          items: [(own.axle.thread?.inner === true ? receiver : own.axle).id],
          tools: bench('threadlocker'),
        });
    }
    const left = Math.max(
      0,
      own.stack.tightening.engagement_mm - ORDER_LIMITS.startedTurns.value * (own.axle.thread?.pitch_mm ?? 1),
    );
    if (isScrewedIn) this.pushTo(own, this.full - left);
    else this.places.set(receiver.id, { offset_mm: outward(own.tipSide) * left, on: true });
    this.fitted.add(own.id);
    const agent = treat === 'threadlocked' || treat === 'dry' ? undefined : AGENTS[treat];
    this.step('start-receiver', own, {
      side: isScrewedIn ? own.from : own.tipSide,
      items: [isScrewedIn ? own.axle.id : receiver.id],
      tools: agent === undefined ? [] : bench(agent),
    });
    this.depth = undefined;
  }

  private tighten(own: Joined): void {
    const { bike } = this;
    const { tightening } = own.stack;
    for (const item of own.items) this.places.set(item.id, { offset_mm: 0, on: true });
    const turned = tightening.turned === 'receiver' ? own.receiver : own.axle;
    const held = tightening.held === undefined ? [] : [tightening.held.what === 'axle' ? own.axle : own.receiver];
    const tools = drivesOf(this.bike, own, this.on);
    const items = [...new Set([turned.id, ...held.map(({ id }) => id)])];
    this.step('hold-turn', own, { side: tightening.stand, items, tools });
    const pulled = tools.map((tool): DriveInHand => ({ ...tool, isTorque: tool.role === 'turns' }));
    this.step('torque', own, {
      side: tightening.stand,
      items: [turned.id],
      tools: pulled,
      torque_Nm: tightening.torque_Nm,
    });
    const turns = this.turning(own);
    const felt = own.items.filter((item) => item.role === 'boss' && turns.includes(bike.unitOf.get(item.member!)!));
    const eye = own.items.filter(
      (item) => item.role === 'boss' && item.member !== undefined && bike.unitOf.get(item.member) === bike.shock,
    );
    this.step('free-check', own, {
      side: own.from,
      items: (felt.length > 0 ? felt : eye).map(({ id }) => id),
      units: turns,
    });
  }

  /** What can be turned by hand about an axle once it is tight: not the frame, nor a shock whose other end is held. */
  private turning(own: Joined): string[] {
    const { bike } = this;
    if (own.isShockEnd) {
      const isHeld = bike.stacks.some(
        (other) => other.axis !== own.axis && other.units.includes(bike.shock!) && this.fitted.has(other.id),
      );
      return isHeld ? [] : [bike.shock!];
    }
    const free = own.units.filter((unit) => !bike.units.get(unit)!.isFrame && unit !== bike.shock);
    const loose = free.filter((unit) => !own.clamped.includes(unit));
    return loose.length > 0 ? loose : free;
  }

  /** Rings that have to lie between it and what is there, then the unit itself, from where it can come. */
  private offer(own: Joined, unit: string, beforeIn: readonly Between[]): void {
    const { bike, sense } = this;
    const now = beforeIn.filter(
      ({ low, high, ring }) =>
        !this.laid.has(ring.item.id) &&
        [low, high].includes(unit) &&
        [low, high].every((id) => id === unit || this.on.has(id)),
    );
    for (const between of now) this.lay(between, unit);
    const isAlong = now.some((between) => between.isAlong);
    const way = sense.ways.into(unit, this.on);
    const approach: Approach | undefined = approachOf(way, bike.pieces.get(unit)!, isAlong);
    this.on.add(unit);
    const group = this.groupAt(own, unit);
    const everywhere = this.groupEverywhere(unit);
    this.show(everywhere);
    const side = approach?.how === 'axle' ? approach.side : own.from;
    this.step(unit === bike.shock ? 'shock' : 'offer-member', own, {
      side,
      items: group.map(({ id }) => id),
      carried: everywhere.filter((item) => !group.includes(item)).map(({ id }) => id),
      units: [unit],
      ...(approach ? { approach } : {}),
    });
  }

  /** Lay a ring into the bore it reaches into deeper: in the hand where that is what comes, else on the bike. */
  private lay(between: Between, unit: string): void {
    const { ring, own } = between;
    const into = deeperSide(ring);
    const owner = between[into];
    const { boss } = ring[into]!;
    this.laid.set(ring.item.id, owner);
    const side = into === 'low' ? 'drive' : 'non-drive';
    const draft = this.spacer(own, ring.item, side);
    if (owner === unit) this.benchStep('set-spacer', own, [ring.item], [boss], draft);
    else {
      this.show([ring.item]);
      this.step('set-spacer', own, draft);
    }
  }

  /** Members that stand together already: one of them is swung away, its rings laid, and it is swung back. */
  private setApart(own: Joined, betweens: readonly Between[]): void {
    let left = betweens.filter(({ ring }) => !this.laid.has(ring.item.id));
    while (left.length > 0) {
      const ways = left.flatMap((between) =>
        movables(this.sense.solids, between, this.fitted, clear_mm(between)).map(({ unit, about }) => ({
          unit,
          about,
          between,
        })),
      );
      // The unit that serves the most rings; of equals the one with more room to swing.
      const rank = ({ unit, about }: (typeof ways)[number]): readonly [number, number] => [
        among(ways, unit),
        swingRoom_rad(this.sense.solids, unit, about.place, this.on),
      ];
      const ranked = ways
        .map((way) => ({ unit: way.unit, rank: rank(way) }))
        .sort((one, other) => other.rank[0] - one.rank[0] || other.rank[1] - one.rank[1]);
      const most = ranked[0]?.unit;
      const now =
        most === undefined
          ? left
          : left.filter((between) => ways.some((way) => way.unit === most && way.between === between));
      const group = (): readonly string[] => (most === undefined ? [] : this.groupAt(own, most).map(({ id }) => id));
      if (most !== undefined) this.step('swing-away', own, { side: own.from, units: [most], items: group() });
      for (const between of now) this.lay(between, '');
      if (most !== undefined) this.step('swing-back', own, { side: own.from, units: [most], items: group() });
      left = left.filter((between) => !now.includes(between));
    }
  }

  private depth: number | undefined;
  private full = 0;
  private readonly carried: PlacedItem[] = [];

  private pushTo(own: Joined, depth_mm: number): void {
    this.depth = Math.max(0, Math.min(depth_mm, this.full));
    const offset_mm = outward(own.tipSide) * (this.depth - this.full) + 0;
    for (const item of [own.axle, ...this.carried]) this.places.set(item.id, { offset_mm, on: true });
  }

  /** Push on until the tip stands just short of an item; nothing where it is there already. */
  private pushBefore(own: Joined, item: PlacedItem): void {
    const face = outward(own.tipSide) * ((own.from === 'drive' ? item.to_mm : item.from_mm) - firstFace(own));
    // To the tenth, as a hand would read it.
    const near = Math.round((face - ORDER_LIMITS.tipClearance_mm.value) * 10) / 10;
    const now = this.depth ?? 0;
    if (near <= now + (this.depth === undefined ? 0 : ORDER_LIMITS.tipClearance_mm.value)) return;
    this.pushTo(own, near);
    this.step('push-axle', own, { side: own.from, items: [own.axle.id] });
  }

  private isGreased({ id, written }: Joined, itemId: string): boolean {
    const rowId = itemId.slice(id.length + 1);
    return (
      written.row.some((entry) => entry.id === rowId && entry.greased === true) ||
      (written.greased ?? []).some((greased) => greased === rowId)
    );
  }

  /** Setting a spacer from a side: held by grease or a fingertip where the axle is not through it. */
  private spacer(own: Joined, { id }: PlacedItem, side: PlanStep['side'], heldBy?: 'axle'): Draft {
    const greased = this.isGreased(own, id);
    return { side, items: [id], heldBy: heldBy ?? (greased ? 'grease' : 'fingertip'), greased };
  }

  /** A unit's bosses at a stack with what is pressed into them and laid into their bores. */
  private groupAt(own: Joined, unit: string): PlacedItem[] {
    return own.items.filter((item) => {
      if (item.role === 'boss') return item.member !== undefined && this.bike.unitOf.get(item.member) === unit;
      if (item.role === 'receiver') return item.member !== undefined && this.bike.unitOf.get(item.member) === unit;
      if (item.role === 'bearing')
        return item.seat !== undefined && this.pressed.has(item.id) && this.bike.unitOf.get(item.seat.member) === unit;
      return this.laid.get(item.id) === unit;
    });
  }

  private groupEverywhere(unit: string): PlacedItem[] {
    return (this.bike.byUnit.get(unit) ?? []).flatMap((own) => this.groupAt(own, unit));
  }

  private show(items: readonly PlacedItem[]): void {
    for (const { id } of items) this.places.set(id, { offset_mm: 0, on: true });
  }

  private step(kind: PlanStepKind, own: Joined | undefined, draft: Draft): void {
    const { task, bike } = this;
    this.count++;
    const units = draft.units ?? [];
    this.steps.push({
      id: `${task.id}:${this.count}`,
      taskId: task.id,
      kind,
      ...(own ? { stackId: own.id, pivotId: own.stack.pivotId } : {}),
      items: draft.items ?? [],
      carried: draft.carried ?? [],
      units,
      members: units.flatMap((unit) => bike.units.get(unit)?.members ?? []),
      obstacles: draft.obstacles ?? [],
      side: draft.side,
      atBench: draft.atBench ?? false,
      ...(own && this.depth !== undefined && own.id === task.stackId ? { depth_mm: this.depth } : {}),
      greased: draft.greased ?? false,
      ...(draft.heldBy ? { heldBy: draft.heldBy } : {}),
      ...(draft.approach ? { approach: draft.approach } : {}),
      tools: draft.tools ?? [],
      ...(draft.torque_Nm === undefined ? {} : { torque_Nm: draft.torque_Nm }),
      places: own ? Object.fromEntries(own.items.map(({ id }) => [id, this.places.get(id)!])) : {},
      on: [...this.on],
      because: [],
    });
  }
}

function among(ways: readonly { readonly unit: string }[], unit: string): number {
  return ways.filter((way) => way.unit === unit).length;
}
