/**
 * Taking apart: build steps turned round where they can be, and what only taking apart needs.
 *
 * What is cleaned, greased or checked when building is not taken back; bearings come out last, at the bench, as far as
 * they are to be renewed. Added are: what to write down before anything is opened, air out on the ground, support; a feel
 * before each axle is opened; heat on old threadlocker, but none where the shock or carbon is near; a mark on the rim of
 * every ring that has two ways and shows its rim; and each pivot's parts kept together.
 */
import { hullGap } from '../travel/clearance.ts';
import type { StepPlace } from '../types.ts';
import { type Bike, type Joined, spacersOf } from './bike.ts';
import { ORDER_LIMITS } from './limits.ts';
import { type Works, worksOf } from './possible.ts';
import { type Begun, placesBefore } from './steps.ts';
import type { Plan, PlanStep, PlanStepKind, Strip, StripOnlyKind, StripStep } from './types.ts';

/** Build steps that taking apart turns round. */
const REVERSED: ReadonlySet<PlanStepKind> = new Set<PlanStepKind>([
  'offer-member',
  'shock',
  'set-spacer',
  'push-axle',
  'axle-home',
  'start-receiver',
  'torque',
  'swing-away',
  'swing-back',
  'brake',
  'derailleur',
  'cables',
  'chainset',
  'wheel',
  'chain',
  'dropper-post',
]);

/** Steps that are taken back, or come to nothing, while the bike still stands on its wheels. */
const ON_THE_GROUND: ReadonlySet<PlanStepKind> = new Set<PlanStepKind>([
  'cure',
  'hand-over',
  'settings',
  'dropper-post',
]);

/** Take a whole plan back. */
export function stripOf(plan: Plan): Strip {
  const works = worksOf(plan.analysis);
  return {
    tasks: plan.tasks.map(({ id }) => id).reverse(),
    steps: turnRound(works, plan.steps, { fitted: [], obstacles: [] }, true),
  };
}

/** What a step changes, carried into a bike's places; a step at the bench changes none. */
export function move(places: Map<string, StepPlace>, step: PlanStep): void {
  if (step.atBench) return;
  for (const [id, place] of Object.entries(step.places)) places.set(id, place);
  for (const id of step.carried) places.set(id, { offset_mm: 0, on: true });
}

/** Steps of a build turned round, from its end back to where it was begun; `isBearingOut` presses bearings out as well. */
export function turnRound(works: Works, steps: readonly PlanStep[], begun: Begun, isBearingOut = false): StripStep[] {
  const places = placesBefore(works.sense, begun);
  const before = steps.map((step): Record<string, StepPlace> => {
    const was = Object.fromEntries(Object.keys(step.places).map((id) => [id, places.get(id)!]));
    move(places, step);
    return was;
  });
  const start = [...works.sense.standing(begun.fitted).units, ...begun.obstacles];
  const book = new StripBook(
    works,
    steps.some(({ kind }) => kind === 'air'),
  );
  for (let k = steps.length - 1; k >= 0; k--) {
    const step = steps[k]!;
    const last = steps[k - 1];
    // Loosened means down to where the thread was started.
    const seated = step.kind === 'torque' ? seatedAt(steps, k) : k;
    book.take(step, before[seated]!, last?.on ?? start, isBearingOut);
  }
  return book.steps;
}

/** The step at which an axle was first turned with a tool, before it was pulled tight. */
function seatedAt(steps: readonly PlanStep[], torque: number): number {
  const { stackId } = steps[torque]!;
  const at = steps.findLastIndex((step, k) => k < torque && step.kind === 'hold-turn' && step.stackId === stackId);
  return at < 0 ? torque : at;
}

/** Whether an axle may be warmed: neither the shock nor anything of carbon is held by it or stands near it. */
function mayWarm(bike: Bike, own: Joined, on: readonly string[]): boolean {
  const isDelicate = (unit: string): boolean =>
    unit === bike.shock ||
    (bike.units.get(unit)?.members ?? []).some((id) => bike.model.members[id]?.material === 'carbon-laminate');
  const here = { ...own.place, radius_mm: 0 };
  const isNear = (unit: string): boolean =>
    (bike.pieces.get(unit) ?? []).some(
      (piece) => hullGap({ a: here, b: here }, piece).gap_mm < ORDER_LIMITS.heatReach_mm.value,
    );
  return ![...new Set([...own.units, ...on.filter(isNear)])].some(isDelicate);
}

class StripBook {
  readonly steps: StripStep[] = [];
  private readonly works: Works;
  private first: PlanStep | undefined;
  private isHeld = false;
  private readonly hasAir: boolean;

  constructor(works: Works, hasAir: boolean) {
    this.works = works;
    this.hasAir = hasAir;
  }

  take(
    step: PlanStep,
    was: Readonly<Record<string, StepPlace>>,
    onBefore: readonly string[],
    isBearingOut: boolean,
  ): void {
    this.begin(step);
    const { kind } = step;
    const own = step.stackId === undefined ? undefined : this.works.bike.byStack.get(step.stackId)!;
    if (kind === 'free-check') this.add('feel', step);
    if (kind === 'torque' && own?.isThreadlocked === true && mayWarm(this.works.bike, own, step.on))
      this.add('warm-threadlocker', step);
    if (kind === 'set-spacer' && !step.taskId.startsWith('inspect:') && own && isMarked(own, step))
      this.add('mark-facing', step);
    // A shut-in ring and a bearing come out of their seat only where that is what is wanted.
    const isSeat = kind === 'press-bearing' || (kind === 'set-spacer' && step.taskId.startsWith('inspect:'));
    if (isSeat ? isBearingOut : REVERSED.has(kind)) {
      this.steps.push({
        id: `strip:${step.id}`,
        kind: 'undo',
        undoes: step.id,
        step,
        before: step.places,
        after: step.atBench ? this.without(step) : was,
        on: onBefore,
      });
    }
    if (kind === 'prepare') this.add('keep-together', step);
  }

  /** What was there is written down and the air let out on the ground, before the bike is held. */
  private begin(step: PlanStep): void {
    const { bike } = this.works;
    if (!this.first) {
      this.first = step;
      const isBike = bike.wheel.length > 0 || bike.model.wheel !== undefined;
      if (isBike || bike.shock !== undefined) this.add('note-settings', step);
      if (this.hasAir) this.add('release-air', step);
    }
    if (this.isHeld || ON_THE_GROUND.has(step.kind)) return;
    this.isHeld = true;
    this.add('support', this.first);
  }

  /** At the bench the part lies beside what it came out of. */
  private without(step: PlanStep): Record<string, StepPlace> {
    return { ...step.places, ...Object.fromEntries(step.items.map((id) => [id, { offset_mm: 0, on: false }])) };
  }

  private add(kind: StripOnlyKind, step: PlanStep): void {
    this.steps.push({
      id: `strip:${step.id}:${kind}`,
      kind,
      step,
      before: step.places,
      after: step.places,
      on: step.on,
    });
  }
}

/** A ring that has two ways gets a mark, on its rim: one that lies in a bore shows none and goes on the wire at once. */
function isMarked(own: Joined, step: PlanStep): boolean {
  const place = spacersOf(own.stack).find(({ item }) => item.id === step.items[0]);
  if (place?.item.smallFace === undefined) return false;
  const into_mm = Math.max(place.low?.into_mm ?? 0, place.high?.into_mm ?? 0);
  return into_mm <= ORDER_LIMITS.intoBore_mm.value;
}
