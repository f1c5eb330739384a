/**
 * Taking apart: build steps turned round where they can be, and what only taking apart needs.
 *
 * What is cleaned, greased or checked when building is not taken back; bearings stay in their seats. Added are: support
 * and air first, a feel before each axle is opened, heat on old threadlocker, a mark on every ring that has two ways or a
 * look-alike, and each pivot's parts kept together.
 */
import { lookAlikes } from '../parts/look-alike.ts';
import type { PlacedItem, StepPlace } from '../types.ts';
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
  'cables',
  'chainset',
  'wheel',
]);

/** Take a whole plan back, its steps from the last to the first. About 15 ms. Never throws. */
export function stripOf(plan: Plan): Strip {
  const works = worksOf(plan.analysis);
  return {
    tasks: plan.tasks.map(({ id }) => id).reverse(),
    steps: turnRound(works, plan.steps, { fitted: [], obstacles: [] }),
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
  const book = new StripBook(works);
  for (let k = steps.length - 1; k >= 0; k--) {
    const step = steps[k]!;
    const last = steps[k - 1];
    // Loosened means down to where the thread was started.
    const was = step.kind === 'torque' && last?.kind === 'hold-turn' ? before[k - 1]! : before[k]!;
    book.take(step, was, last?.on ?? start, isBearingOut);
  }
  return book.steps;
}

class StripBook {
  readonly steps: StripStep[] = [];
  private readonly works: Works;
  private isBegun = false;

  constructor(works: Works) {
    this.works = works;
  }

  take(
    step: PlanStep,
    was: Readonly<Record<string, StepPlace>>,
    onBefore: readonly string[],
    isBearingOut: boolean,
  ): void {
    if (!this.isBegun) {
      this.isBegun = true;
      this.add('support', step);
    }
    const { kind } = step;
    if (kind === 'air') this.add('release-air', step);
    if (kind === 'free-check') this.add('feel', step);
    if (kind === 'torque' && this.isThreadlocked(step)) this.add('warm-threadlocker', step);
    if (kind === 'set-spacer' && !step.taskId.startsWith('inspect:') && this.marks(step)) this.add('mark-facing', step);
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

  private isThreadlocked(step: PlanStep): boolean {
    return step.stackId !== undefined && this.works.bike.byStack.get(step.stackId)!.isThreadlocked;
  }

  /** Spacers that are worth a mark: not the same both ways, or with a look-alike in the parts list. */
  private marks(step: PlanStep): boolean {
    const own = step.stackId === undefined ? undefined : this.works.bike.byStack.get(step.stackId);
    const ring = own?.items.find((item): item is PlacedItem => item.id === step.items[0]);
    if (!ring) return false;
    return ring.smallFace !== undefined || lookAlikes(this.works.bike.model.parts, ring.part ?? '').length > 0;
  }
}
