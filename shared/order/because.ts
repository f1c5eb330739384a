/**
 * Why a job stands where it does, from its edges and from what had to be on the bike before it could be done.
 *
 * An edge speaks for both of its ends. What no edge can say (is there anything to hang it on, is there a way in) is
 * found by trying: the first place of the order at which the job can be done names the job that made it so.
 */
import type { Reason, ReasonCode } from './precedence.ts';
import type { Because, PlanStep, PlanStepKind } from './types.ts';
import type { Works } from './works.ts';

/** Reasons of the edges into a job (`before` the job it waits for) and out of it (`after` what waits for it). */
export function edgeReasons(works: Works, job: string): Because[] {
  return works.edgesAt.get(job)!.flatMap(({ before, after, reasons }): Because[] => {
    if (after === job) return reasons.map((reason) => ({ before, reason }));
    return before === job ? reasons.map((reason) => ({ after, reason })) : [];
  });
}

/** Why a job could not be done earlier in an order for want of what no edge says. */
export function senseReasons(works: Works, order: readonly number[], job: number): Because[] {
  const { jobs } = works;
  if (jobs[job]!.kind !== 'fit') return [];
  const done = new Set<number>();
  const has = (other: number): boolean => done.has(other);
  let last: readonly Reason[] = works.whyNot(job, has);
  const found: Because[] = [];
  const relevant = new Set(works.relevantTo(works.bike.byStack.get(jobs[job]!.stackId!)!));
  for (const next of order) {
    if (next === job || last.length === 0) break;
    done.add(next);
    if (!relevant.has(next) && jobs[next]!.brings.length === 0) continue;
    const now = works.whyNot(job, has);
    const gone = last.filter(({ code }) => !now.some((reason) => reason.code === code));
    for (const reason of gone) found.push({ before: jobs[next]!.id, reason });
    last = now;
  }
  return found;
}

/** The kinds of step a reason is told at, the likeliest first; the first step of its job has what is left. */
const TOLD_AT: Readonly<Record<ReasonCode, readonly PlanStepKind[]>> = {
  'stand-first': [],
  'clean-first': ['prepare'],
  'bearing-first': ['press-bearing'],
  'started-first': ['hold-turn'],
  'axle-path': ['axle-home', 'start-receiver', 'chainset', 'wheel', 'offer-member', 'shock'],
  'nut-path': ['start-receiver', 'chainset', 'wheel', 'offer-member', 'shock'],
  'tool-room': ['hold-turn', 'chainset', 'wheel', 'offer-member', 'shock'],
  'handle-room': ['hold-turn', 'chainset', 'wheel', 'offer-member', 'shock'],
  'sibling-started': ['hold-turn'],
  'bores-line-up': ['hold-turn'],
  'carries-wheel': ['wheel'],
  'free-check-bare': ['free-check', 'offer-member', 'shock', 'wheel', 'prepare'],
  'travel-bare': ['shock', 'prepare'],
  'all-on-first': ['cables'],
  'air-last': ['air'],
  'check-last': ['hand-over'],
  'nothing-to-hang-on': ['offer-member', 'shock', 'prepare'],
  'no-way-in': ['offer-member', 'shock', 'prepare'],
  'ring-shut-out': ['set-ring', 'prepare'],
  'holds-it': [],
  'seat-covered': ['press-bearing'],
};

/** What every later job waits for and what waits for hand-over is true and says nothing. */
const IDLE: ReadonlySet<ReasonCode> = new Set(['stand-first', 'check-last']);
/** Told at the later of the two jobs alone, where it is what is waited for. */
const TOLD_LATER: ReadonlySet<ReasonCode> = new Set([
  'clean-first',
  'started-first',
  'sibling-started',
  'bores-line-up',
  'carries-wheel',
  'travel-bare',
  'all-on-first',
  'air-last',
]);
/** Told at the earlier alone, where the work is done. */
const TOLD_EARLIER: ReadonlySet<ReasonCode> = new Set(['bearing-first']);

/** Whether a reason is worth telling at its job. */
export function isTelling({ reason, before, after }: Because): boolean {
  if (IDLE.has(reason.code)) return false;
  if (TOLD_LATER.has(reason.code)) return before !== undefined;
  return TOLD_EARLIER.has(reason.code) ? after !== undefined : true;
}

/** The steps of one job, each with the reasons that are told at it. */
export function tellAt(steps: readonly PlanStep[], because: readonly Because[]): PlanStep[] {
  const told = steps.map((): Because[] => []);
  for (const one of because.filter(isTelling)) {
    const kind = TOLD_AT[one.reason.code].find((candidate) => steps.some((step) => step.kind === candidate));
    const unit = one.reason.about['unit'];
    const fits = steps.flatMap((step, k) => (step.kind === kind ? [k] : []));
    const at = fits.find((k) => unit !== undefined && steps[k]!.units.includes(unit)) ?? fits[0] ?? 0;
    told[at]?.push(one);
  }
  return steps.map((step, k) => ({ ...step, because: told[k]! }));
}
