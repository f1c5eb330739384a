/**
 * The steps a hand does to build up one stack, and where every part is after each.
 *
 * The axle goes in from its side and meets the row's items one after another. Members that are not on the bike yet are
 * offered up first, rings already inside their bosses staying with them; a loose ring between two bosses is set just
 * before the axle reaches it and held by grease, a fingertip, or by the axle itself. The receiver is started by hand
 * and the wrench comes last. Places are what the screens draw: offsets along z from the tight place, in mm.
 */
import type { JointItem, JointStack } from './joint/joint.ts';
import type { Side } from './model/schema.ts';
import type { PlacedItem, Step, StepKind, StepPlace } from './types.ts';

/** Clearance the axle's tip keeps to the ring it is about to enter, mm: a hand's feel, no source. */
const TIP_CLEARANCE_mm = 1;
/** Turns a receiver is started by hand before a tool touches it: common practice, no source. */
const STARTED_TURNS = 2;

/** Steps of one stack. `onBike` names the members already in place and is added to. */
export function buildSteps(
  own: JointStack,
  placed: readonly PlacedItem[],
  engagement_mm: number,
  onBike: Set<string>,
): Step[] {
  const bench = new Bench(own, placed, onBike);
  const { stack } = own;
  bench.step('prepare', [], stack.from);
  for (const member of bench.missingMembers()) {
    onBike.add(member);
    bench.put(bench.groupOf(member));
    bench.step('offer-member', bench.groupOf(member), stack.from);
  }
  const way = bench.inInsertionOrder();
  const bosses = way.map((item, k) => (item.role === 'boss' ? k : -1)).filter((k) => k >= 0);
  const firstBoss = bosses[0] ?? 0;
  const lastBoss = bosses.at(-1) ?? way.length;
  const loose = way.filter((item) => item.role === 'ring' && !bench.isOn(item));
  const isUnderHead = (item: PlacedItem): boolean => way.indexOf(item) < firstBoss;
  const isAtTip = (item: PlacedItem): boolean => way.indexOf(item) > lastBoss;

  bench.put([bench.axle]);
  bench.pushTo(0);
  for (const item of loose.filter(isUnderHead)) {
    bench.carry(item);
    bench.step('set-ring', [item], stack.from, 'axle');
  }
  for (const item of loose.filter((ring) => !isUnderHead(ring) && !isAtTip(ring))) {
    const depth = bench.depthOfNear(item);
    if (depth > bench.depth + TIP_CLEARANCE_mm) {
      bench.pushTo(depth - TIP_CLEARANCE_mm);
      bench.step('push-axle', [bench.axle], stack.from);
    }
    bench.put([item]);
    bench.step('set-ring', [item], stack.from, bench.isGreased(item) ? 'grease' : 'fingertip');
  }
  const isScrewedIn = own.receiver.role === 'boss';
  if (isScrewedIn && stack.thread_treatment === 'threadlocked') bench.step('threadlock', [bench.axle], stack.from);
  if (!isScrewedIn) {
    bench.pushHome();
    bench.step('axle-home', [bench.axle], stack.from);
    for (const item of loose.filter(isAtTip)) {
      bench.put([item]);
      bench.step('set-ring', [item], bench.tipSide, 'axle');
    }
    if (stack.thread_treatment === 'threadlocked') bench.step('threadlock', [bench.axle], bench.tipSide);
  }
  const left = Math.max(0, engagement_mm - STARTED_TURNS * own.thread.axle.pitch_mm);
  bench.start(left, isScrewedIn);
  bench.step('start-receiver', [isScrewedIn ? bench.axle : bench.receiver], isScrewedIn ? stack.from : bench.tipSide);
  bench.tight();
  bench.step(
    'torque',
    [stack.turned === 'receiver' ? bench.receiver : bench.axle],
    stack.turned === 'head' ? stack.from : bench.tipSide,
  );
  bench.step(
    'free-check',
    placed.filter((item) => item.role === 'boss' && !item.inColumn),
    stack.from,
  );
  return bench.steps;
}

/** The state of the bench while a stack is built up. */
class Bench {
  readonly steps: Step[] = [];
  readonly axle: PlacedItem;
  readonly receiver: PlacedItem;
  readonly tipSide: Side;
  depth = 0;
  private readonly own: JointStack;
  private readonly placed: readonly PlacedItem[];
  private readonly places = new Map<string, StepPlace>();
  private readonly carried: PlacedItem[] = [];
  private readonly sign: number;
  private readonly full: number;

  constructor(own: JointStack, placed: readonly PlacedItem[], onBike: ReadonlySet<string>) {
    this.own = own;
    this.placed = placed;
    this.sign = own.stack.from === 'non-drive' ? 1 : -1;
    this.tipSide = own.stack.from === 'non-drive' ? 'drive' : 'non-drive';
    this.axle = placed.find((item) => item.rowId === 'axle')!;
    this.receiver = placed.find((item) => item.rowId === 'receiver')!;
    for (const item of placed) this.places.set(item.id, { offset_mm: 0, on: false });
    for (const member of onBike) this.put(this.groupOf(member));
    this.full = this.sign * (this.tipEnd() - this.firstFace());
  }

  inInsertionOrder(): PlacedItem[] {
    const row = this.placed.filter((item) => item.role !== 'axle' && item.role !== 'receiver');
    return this.sign > 0 ? row : row.reverse();
  }

  /** Members of this stack that are not on the bike yet, in the order the axle meets them. */
  missingMembers(): string[] {
    const members = this.inInsertionOrder().flatMap((item) =>
      item.member !== undefined && !this.places.get(item.id)!.on ? [item.member] : [],
    );
    return [...new Set(members)];
  }

  /** A member's bosses here, with the bearings pressed into them. */
  groupOf(member: string): PlacedItem[] {
    const ids = new Set<string>();
    for (const item of this.own.items) {
      if (item.boss?.memberId === member || this.enclosing(item) === member) ids.add(item.id);
    }
    return this.placed.filter((item) => ids.has(item.id));
  }

  /** The member a ring is shut up in: it lies between two bearings of one boss, and went in with them. */
  private enclosing(item: JointItem): string | undefined {
    if (item.role !== 'ring') return undefined;
    const at = this.own.items.indexOf(item);
    const before = this.own.items
      .slice(0, at)
      .reverse()
      .find((other) => other.role === 'bearing');
    const after = this.own.items.slice(at + 1).find((other) => other.role === 'bearing');
    return before?.boss !== undefined && before.boss === after?.boss ? before.boss.memberId : undefined;
  }

  isGreased(item: PlacedItem): boolean {
    const { greased, row } = this.own.stack;
    return (
      row.some((entry) => entry.id === item.rowId && entry.greased === true) ||
      (greased ?? []).some((id) => id === item.rowId)
    );
  }

  isOn(item: PlacedItem): boolean {
    return this.places.get(item.id)!.on;
  }

  put(items: readonly PlacedItem[]): void {
    for (const item of items) this.places.set(item.id, { offset_mm: 0, on: true });
  }

  /** A ring pushed up under the head, which travels in with the axle. */
  carry(item: PlacedItem): void {
    this.carried.push(item);
    this.pushTo(this.depth);
  }

  pushTo(depth_mm: number): void {
    this.depth = Math.max(0, Math.min(depth_mm, this.full));
    const offset_mm = -this.sign * (this.full - this.depth);
    for (const item of [this.axle, ...this.carried]) this.places.set(item.id, { offset_mm, on: true });
  }

  pushHome(): void {
    this.pushTo(this.full);
  }

  /** How deep the tip is when it reaches the near face of an item. */
  depthOfNear(item: PlacedItem): number {
    return this.sign * ((this.sign > 0 ? item.from_mm : item.to_mm) - this.firstFace());
  }

  /** Started by hand: the thread holds, `left_mm` are still to be run up. */
  start(left_mm: number, isScrewedIn: boolean): void {
    if (isScrewedIn) this.pushTo(this.full - left_mm);
    else this.places.set(this.receiver.id, { offset_mm: this.sign * left_mm, on: true });
  }

  tight(): void {
    this.pushHome();
    for (const id of this.places.keys()) this.places.set(id, { offset_mm: 0, on: true });
  }

  step(kind: StepKind, items: readonly PlacedItem[], side: Side, heldBy?: Step['heldBy']): void {
    const { stack } = this.own;
    this.steps.push({
      id: `${stack.id}:${this.steps.length + 1}`,
      kind,
      pivotId: this.axle.pivotId,
      stackId: stack.id,
      items: items.map((item) => item.id),
      side,
      depth_mm: this.depth,
      greased: items.some((item) => this.isGreased(item)),
      ...(heldBy ? { heldBy } : {}),
      places: Object.fromEntries(this.places),
    });
  }

  private tipEnd(): number {
    return this.sign > 0 ? this.axle.to_mm : this.axle.from_mm;
  }

  /** The first face the tip meets: the outermost item of the row on its side. */
  private firstFace(): number {
    const first =
      this.inInsertionOrder().find((item) => item.role === 'boss' || item.role === 'bearing') ??
      this.inInsertionOrder()[0]!;
    return this.sign > 0 ? first.from_mm : first.to_mm;
  }
}
