/**
 * What a hand does in each task, and where every part is after it: the whole bike from bare frame to hand-over.
 *
 * An axle goes in from its side and meets the row one after another. The first member that is not there yet is offered
 * up before it starts, every later one when the axle's tip has come to it; spacers that reach into a bore are set
 * before the two members meet, with one of them in the hand or swung away again. The receiver is started by hand, then
 * held and turned, then pulled to its torque. mm, offsets along z from the tight place.
 *
 * Threadlocker goes where a hand still gets: into a member's thread before the next member closes it; onto an axle's
 * own thread where that stands free at the far end, wiped clean of the grease it came through; and where a part-built
 * bike has its hole shut already, onto the axle before it goes in. Bolts of one axis that hold one member are all
 * seated, then all at half their torque, then all at their torque, and felt once: with the last of them, unless
 * something that comes in between could cover the first; then with the first, and the others are pulled tight at their
 * own time.
 *
 * How far a hand moves an arm in a free check: between where it is drawn and where the whole travel takes it.
 *
 * Without its shock an arm has no stop, so that whoever lets it fall lets it hit what comes first. The ends are those
 * of the travel: each member's own turn against the drawn pose with the shock at full stroke (position solve of
 * `travel/`), told by how far the furthest place of its outline goes and where to. Where the model has no travel it is
 * a small turn each way about the axle. mm, deg anticlockwise seen from the drive side, rad of the side plane.
 */
import type { Side } from '../model/schema.ts';
import type { Disc } from '../travel/outline.ts';
import type { Motion, Place } from '../travel/planar.ts';
import { degrees, driveShock, memberMotions } from '../travel/poses.ts';
import type { PlacedItem, StepPlace } from '../types.ts';
import { type Bike, deeperSide, isBeside, isSibling, type Joined } from './bike.ts';
import { ORDER_LIMITS } from './limits.ts';
import { swingRoom_rad } from './bodies.ts';
import { type Between, clear_mm, isSet, movables, type Sense, toSet } from './possible.ts';
import {
  type Approach,
  approachOf,
  aroundOf,
  depthOf,
  firstFace,
  outward,
  shutAngles,
  type ToolRoom,
  toolsOf,
  widestSweep,
} from './room.ts';
import type { BenchTool, DriveInHand, HandSwing, PlanStep, PlanStepKind, PlanTool, Task } from './tasks.ts';

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
  const hands = new Hands(sense, begun, tasks);
  for (const task of tasks) hands.work(task);
  return hands.steps;
}

/** Where every item is before the hands begin: on the bike what stands on the frame or hangs on it. */
export function placesBefore(sense: Sense, begun: Begun = { fitted: [], obstacles: [] }): Map<string, StepPlace> {
  return new Hands(sense, begun, []).startPlaces();
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
    | 'swings'
    | 'together'
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
  private readonly tasks: readonly Task[];
  /** Axles whose member's thread holds its threadlocker already. */
  private readonly filled = new Set<string>();
  private task!: Task;
  private count = 0;

  constructor(sense: Sense, begun: Begun, tasks: readonly Task[]) {
    this.sense = sense;
    this.tasks = tasks;
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
        // The chain runs over both.
        if (!this.isToCome('chainset', 'wheel') && this.isBike()) this.step('chain', undefined, { side: 'drive' });
        return;
      case 'air':
        this.step('air', undefined, { side: 'non-drive', tools: bench('shock-pump'), units: [bike.shock!] });
        this.step('travel-o-ring', undefined, { side: 'non-drive', units: [bike.shock!] });
        return;
      case 'cables':
        this.step('brake', undefined, { side: 'non-drive' });
        this.step('derailleur', undefined, { side: 'drive' });
        this.step('cables', undefined, { side: 'drive' });
        return;
      case 'hand-over':
        this.handOver();
        return;
      case 'inspect':
      case 'fit':
      case 'tighten':
        throw new Error(`hands: ${task.id}: met no axle, allowed: a task of the whole bike`);
    }
  }

  private handOver(): void {
    if (this.isBike()) this.step('dropper-post', undefined, { side: 'drive' });
    if (this.isBike() || this.bike.shock !== undefined) this.step('settings', undefined, { side: 'drive' });
    this.step('hand-over', undefined, { side: 'drive' });
    const locked = this.tasks.flatMap(({ kind, stackId }) =>
      kind === 'fit' && this.bike.byStack.get(stackId!)!.isThreadlocked ? [stackId!] : [],
    );
    if (locked.length > 0) this.step('cure', undefined, { side: 'drive', together: locked });
  }

  private isBike(): boolean {
    return this.bike.wheel.length > 0 || this.bike.model.wheel !== undefined;
  }

  /** Whether a task of some kinds stands after this one. */
  private isToCome(...kinds: readonly Task['kind'][]): boolean {
    return this.tasks.slice(this.tasks.indexOf(this.task) + 1).some(({ kind }) => kinds.includes(kind));
  }

  /** Seats, axle and threads, then the bearings pressed home with what lies between them. */
  private inspect(own: Joined): void {
    const bosses = own.items.filter((item) => item.role === 'boss');
    const bearings = own.items.filter((item) => item.role === 'bearing' && item.seat && !this.pressed.has(item.id));
    const seatsOf = (member: string, bore: string): PlacedItem[] =>
      bosses.filter((boss) => boss.member === member && boss.bore === bore);
    const clips = own.items.filter((item) => item.role === 'spacer' && item.seat && !this.pressed.has(item.id));
    const bossesOf = (items: readonly PlacedItem[]): PlacedItem[] => [
      ...new Set(items.flatMap(({ seat }) => seatsOf(seat!.member, seat!.bore))),
    ];
    const linings = own.items.filter(({ id, role }) => role === 'lining' && !this.pressed.has(id));
    const seats = bossesOf([...bearings, ...linings]);
    if (seats.length > 0)
      this.benchStep('clean-seat', own, seats, [], { side: own.from, tools: bench('cloth', 'brush') });
    this.benchStep('clean-axle', own, [own.axle], [], { side: own.from, tools: bench('cloth') });
    this.benchStep('clean-thread', own, [own.axle, own.receiver], [], {
      side: own.tipSide,
      tools: bench('brush', 'cloth'),
    });
    for (const boss of bossesOf([...bearings, ...clips, ...linings])) {
      const inSeat = (side: Side): PlacedItem[] =>
        bearings.filter(({ seat }) => seat!.member === boss.member && seat!.bore === boss.bore && seat!.side === side);
      // Of two in one seat the one on the shoulder goes in first.
      const inHere = [...inSeat('non-drive').reverse(), ...inSeat('drive')];
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
      for (const bush of linings) {
        if (bush.seat!.member !== boss.member || bush.seat!.bore !== boss.bore) continue;
        this.pressed.add(bush.id);
        this.benchStep('press-bush', own, [bush], [boss], { side: bush.seat!.side, tools: bench('bush-press') });
      }
      for (const clip of clips) {
        if (clip.seat!.member !== boss.member || clip.seat!.bore !== boss.bore) continue;
        this.pressed.add(clip.id);
        this.benchStep('set-circlip', own, [clip], [boss], { side: clip.seat!.side, tools: bench('circlip-pliers') });
      }
    }
  }

  /**
   * A step at the bench: a member that is not on the bike is drawn for it, with what is in it, and gone again after.
   */
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
      ring.role === 'spacer' && !ring.seat && !this.places.get(ring.id)!.on && !this.laid.has(ring.id);
    const loose = (): PlacedItem[] => way.filter((ring) => isFree(ring) && !isBefore(ring));
    const laidOutAt = this.steps.length;
    this.step('prepare', own, { side: own.from, tools: bench('tray') });
    const greased = own.items.filter((item) => this.isGreased(own, item.id) && item.role !== 'spacer');
    if (greased.length > 0)
      this.step('grease', own, {
        side: own.from,
        items: greased.map(({ id }) => id),
        tools: bench('grease'),
        greased: true,
      });

    const lockedAtStart = this.lockAtStart(own);
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
    if (isScrewedIn) this.pushBefore(own, receiver);
    else {
      this.pushTo(own, this.full);
      this.step('axle-home', own, { side: own.from, items: [own.axle.id] });
      for (const item of way.slice(lastBoss + 1).filter((ring) => loose().includes(ring))) {
        this.show([item]);
        this.step('set-spacer', own, this.spacer(own, item, own.tipSide, 'axle'));
      }
      if (treat === 'threadlocked' && !lockedAtStart) this.lockAtTip(own);
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
    this.layOut(own, laidOutAt);
  }

  /** What is laid out before an axle goes in is what the steps after it take from there. */
  private layOut(own: Joined, at: number): void {
    const after = this.steps.slice(at + 1);
    const set = after.flatMap(({ kind, items }) => (kind === 'set-spacer' ? items : []));
    const receiver = own.receiver.role === 'boss' ? [] : [own.receiver.id];
    const tips = own.items.filter(({ role }) => role === 'tip').map(({ id }) => id);
    const laidOut = [own.axle.id, ...receiver, ...set, ...tips];
    const isOwn = (id: string): boolean => own.items.some((item) => item.id === id);
    this.steps[at] = { ...this.steps[at]!, items: laidOut.filter(isOwn), laidOut };
  }

  /** Members' threads that a unit closes as it comes are filled first: in the hand where they come with it. */
  private fillBefore(unit: string): void {
    const { bike, on } = this;
    for (const own of bike.byUnit.get(unit) ?? []) {
      const holder = this.lockedIn(own);
      if (holder === undefined || this.filled.has(own.id) || this.fitted.has(own.id)) continue;
      if (!this.tasks.some(({ kind, stackId }) => kind === 'fit' && stackId === own.id)) continue;
      const others = own.units.filter((id) => id !== holder);
      const closes = unit === holder ? others.some((id) => on.has(id)) : on.has(holder);
      if (!closes || this.isShut(own)) continue;
      this.fill(own, unit === holder);
    }
  }

  /** The unit in whose thread an axle is locked, where it is one. */
  private lockedIn(own: Joined): string | undefined {
    const { role, member } = own.receiver;
    return own.isThreadlocked && role === 'boss' && member !== undefined ? this.bike.unitOf.get(member) : undefined;
  }

  /** Whether something stands before a member's thread by now. */
  private isShut(own: Joined): boolean {
    const holder = this.lockedIn(own);
    return (
      holder !== undefined && this.on.has(holder) && own.units.some((unit) => unit !== holder && this.on.has(unit))
    );
  }

  private fill(own: Joined, isInHand: boolean): void {
    this.filled.add(own.id);
    const draft: Draft = { side: own.from, items: [own.receiver.id], tools: bench('threadlocker') };
    if (isInHand) this.benchStep('threadlock', own, [own.receiver], [own.receiver], draft);
    else {
      this.show([own.receiver]);
      this.step('threadlock', own, draft);
    }
  }

  /**
   * Threadlocker before anything of an axle goes in: in an open thread that nothing will close, or on the axle in the
   * hand.
   */
  private lockAtStart(own: Joined): boolean {
    const holder = this.lockedIn(own);
    if (holder === undefined || this.filled.has(own.id)) return false;
    if (own.units.every((unit) => unit === holder)) {
      if (this.on.has(holder)) this.fill(own, false);
      return true;
    }
    if (!this.isShut(own)) return false;
    this.benchStep('threadlock', own, [own.axle], [], { side: own.from, tools: bench('threadlocker') });
    this.filled.add(own.id);
    return true;
  }

  /**
   * Threadlocker on what stands free at the far end: the axle's thread, wiped once more, or the screw's in the hand.
   */
  private lockAtTip(own: Joined): void {
    const isInner = own.axle.thread?.inner === true;
    const items = [(isInner ? own.receiver : own.axle).id];
    const isGreased = own.items.some((item) => this.isGreased(own, item.id));
    if (!isInner && isGreased) this.step('wipe-thread', own, { side: own.tipSide, items, tools: bench('cloth') });
    this.step('threadlock', own, { side: own.tipSide, items, tools: bench('threadlocker') });
  }

  private tighten(own: Joined): void {
    const group = this.groupOf(own);
    const [first, last] = [group[0]!, group.at(-1)!];
    if (group.length === 1) {
      this.seat(own);
      this.pull(own, 'torque');
      this.check(group);
    } else if (this.isCrossed(first, last)) {
      if (own === first) {
        for (const one of group) this.seat(one);
        for (const one of group) this.pull(one, 'half-torque');
      }
      this.pull(own, 'torque');
      if (own === last) this.check(group);
    } else {
      this.seat(own);
      if (own !== last) return;
      for (const one of group) this.pull(one, 'half-torque');
      for (const one of group) this.pull(one, 'torque');
      this.check(group);
    }
  }

  /** Bolts of one axis that are tightened with one another, in the order in which their turn comes. */
  private groupOf(own: Joined): Joined[] {
    return this.tasks.flatMap(({ kind, stackId }) => {
      const other = kind === 'tighten' ? this.bike.byStack.get(stackId!)! : undefined;
      return other && (other === own || isSibling(this.bike, own, other)) ? [other] : [];
    });
  }

  /**
   * Whether something new comes onto the bike between two tasks, which could stand in the way of the first one's tools.
   */
  private isCrossed(first: Joined, last: Joined): boolean {
    const at = (own: Joined): number => this.tasks.findIndex(({ id }) => id === `tighten:${own.id}`);
    const between = this.tasks.slice(at(first) + 1, at(last));
    const known = this.unitsBy(at(first));
    return between.some(
      ({ kind, brings, stackId }) =>
        brings.length > 0 ||
        (kind === 'fit' && this.bike.byStack.get(stackId!)!.units.some((unit) => !known.has(unit))),
    );
  }

  /** Units that are on once the tasks before one are done. */
  private unitsBy(index: number): Set<string> {
    const fits = this.tasks.slice(0, index).filter(({ kind }) => kind === 'fit');
    return new Set([...this.on, ...fits.flatMap(({ stackId }) => this.bike.byStack.get(stackId!)!.units)]);
  }

  /** Held and turned until the faces meet. */
  private seat(own: Joined): void {
    const { tightening } = own.stack;
    this.show(own.items.filter(({ role }) => role !== 'tip'));
    const turned = turnedOf(own);
    const held = tightening.held === undefined ? [] : [tightening.held.what === 'axle' ? own.axle : own.receiver];
    const items = [...new Set([turned.id, ...held.map(({ id }) => id)])];
    this.step('hold-turn', own, { side: tightening.stand, items, tools: drivesOf(this.bike, own, this.on) });
  }

  private pull(own: Joined, kind: 'half-torque' | 'torque'): void {
    const { stand, torque_Nm } = own.stack.tightening;
    this.step(kind, own, {
      side: stand,
      items: [turnedOf(own).id],
      tools: drivesOf(this.bike, own, this.on).map(
        (tool): DriveInHand => ({ ...tool, isTorque: tool.role === 'turns' }),
      ),
      torque_Nm: kind === 'torque' ? torque_Nm : torque_Nm * ORDER_LIMITS.firstPull.value,
    });
    if (kind === 'torque') this.secure(own);
  }

  /** What stands on the tip comes once the axle is tight, the nearest first; then the pinch bolts of bosses. */
  private secure(own: Joined): void {
    const written = (item: PlacedItem) => own.written.row.find(({ id }) => id === item.rowId);
    const tips = own.items.filter(({ role }) => role === 'tip');
    const pinched = own.items.filter((item) => item.role === 'boss' && written(item)?.torque_Nm !== undefined);
    for (const item of [...(own.from === 'non-drive' ? tips : [...tips].reverse()), ...pinched]) {
      if (item.role === 'tip') this.show([item]);
      const { torque_Nm, drive: tool } = written(item) ?? {};
      const hand = { item: item.id, side: own.tipSide, end_mm: own.tipSide === 'drive' ? item.to_mm : item.from_mm };
      const tools: PlanTool[] = tool
        ? [{ kind: 'drive', role: 'turns', tool, ...hand, isTorque: true }]
        : bench('shaft-pliers');
      this.step('secure', own, {
        side: own.tipSide,
        items: [item.id],
        tools,
        ...(torque_Nm === undefined ? {} : { torque_Nm }),
      });
    }
  }

  /** What is felt once an axle is tight, or all those of one axis that were tightened with one another. */
  private check(group: readonly Joined[]): void {
    const { bike } = this;
    const own = group.at(-1)!;
    const turns = [...new Set(group.flatMap((one) => this.turning(one)))];
    const felt = own.items.filter((item) => item.role === 'boss' && turns.includes(bike.unitOf.get(item.member!)!));
    const eye = own.items.filter(
      (item) => item.role === 'boss' && item.member !== undefined && bike.unitOf.get(item.member) === bike.shock,
    );
    this.step('free-check', own, {
      side: own.from,
      items: (felt.length > 0 ? felt : eye).map(({ id }) => id),
      units: turns,
      ...(turns.length > 0 ? { swings: handSwings(bike, own, turns) } : {}),
      ...(group.length > 1 ? { together: group.map(({ id }) => id) } : {}),
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
    this.fillBefore(unit);
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
      if (item.seat) return this.pressed.has(item.id) && this.bike.unitOf.get(item.seat.member) === unit;
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
      ...(draft.swings ? { swings: draft.swings } : {}),
      ...(draft.together ? { together: draft.together } : {}),
      places: own ? Object.fromEntries(own.items.map(({ id }) => [id, this.places.get(id)!])) : {},
      on: [...this.on],
      because: [],
    });
  }
}

/** What the wrench turns. */
function turnedOf(own: Joined): PlacedItem {
  return own.stack.tightening.turned === 'receiver' ? own.receiver : own.axle;
}

function among(ways: readonly { readonly unit: string }[], unit: string): number {
  return ways.filter((way) => way.unit === unit).length;
}

/** Poses of the run: only its end is asked for, the others lead there. */
const POSES = 13;
/** A member that turns by less stands still in the travel, deg. */
const STILL_deg = 0.5;

/** Motion of every member from its drawn place to the end of the travel; empty where the model has none. */
function endOfTravel(bike: Bike): Readonly<Record<string, Motion>> {
  const run = driveShock(bike.linkage, POSES);
  const last = run?.poses.at(-1);
  return run && last ? memberMotions(run, last) : {};
}

/** The swing of each of some units that turn about an axle. */
function handSwings(bike: Bike, own: Joined, units: readonly string[]): HandSwing[] {
  const end = endOfTravel(bike);
  return units.map((unit): HandSwing => {
    const places = (bike.pieces.get(unit) ?? []).flatMap(({ a, b }) => [a, b]);
    const motion = unit === bike.shock ? undefined : end[bike.units.get(unit)!.members[0]!];
    const turn_deg = motion ? degrees(motion.angle_rad) : 0;
    if (!motion || Math.abs(turn_deg) < STILL_deg) return eachWay(unit, places, own.place);
    let far: Pick<HandSwing, 'far_mm' | 'toward_rad'> = { far_mm: 0, toward_rad: 0 };
    for (const place of places) {
      const [x, y] = shiftOf(motion, place);
      const far_mm = Math.hypot(x, y);
      if (far_mm > far.far_mm) far = { far_mm, toward_rad: Math.atan2(y, x) };
    }
    return { unit, turn_deg, ...far };
  });
}

function eachWay(unit: string, places: readonly Disc[], about: Place): HandSwing {
  const turn_deg = ORDER_LIMITS.handSwing_deg.value;
  const arm_mm = Math.max(
    0,
    ...places.map(({ x_mm, y_mm, radius_mm }) => Math.hypot(x_mm - about.x_mm, y_mm - about.y_mm) + radius_mm),
  );
  return { unit, turn_deg, far_mm: 2 * arm_mm * Math.sin((turn_deg * Math.PI) / 360) };
}

function shiftOf({ x_mm, y_mm, angle_rad }: Motion, place: Place): readonly [number, number] {
  const [cos, sin] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  return [
    cos * place.x_mm - sin * place.y_mm + x_mm - place.x_mm,
    sin * place.x_mm + cos * place.y_mm + y_mm - place.y_mm,
  ];
}
