/**
 * A job as it is gone through: the one list of steps, each with how far it is and what it needs before it closes; the
 * conditions; what must be decided; and what is open, so that nothing is forgotten.
 *
 * The steps are those of the plan, taking apart and then building, and nothing is added to them. Plain data; words are
 * in `words/job.ts`. Times are ms since 1970, as the caller's clock has them.
 */
import type { Job, StepMark, StopCode } from '../envelope/job.ts';
import { ORDER_LIMITS } from '../order/limits.ts';
import { accessOf, type StripOnlyKind, type StripStep } from '../order/strip.ts';
import { FITS, type PlanStep, type PlanStepKind } from '../order/tasks.ts';
import type { Plan } from '../order/plan.ts';
import { wrenchScatter } from '../standards/index.ts';
import { judgeWrench } from '../torque/wrench.ts';
import type { Analysis, PlacedItem } from '../types.ts';
import type { JobBike } from './bike.ts';
import { keyOf, stopOf, STOP_TRIES, subjectsOf, type JobSubject, type Subject } from './condition.ts';
import { JOB_LIMITS, STEP_MINUTES } from './limits.ts';
import { orderList, supplies, type OrderLine, type Supplies } from './supplies.ts';

const DAY_ms = 24 * 3600 * 1000;
/** A day without an hour is taken at its noon, which is that day by nearly every clock. */
const NOON_ms = DAY_ms / 2;

/** A value that a step wants before it closes. */
export type Need =
  | { readonly what: 'came' | 'air' }
  | { readonly what: 'torque'; readonly stackId: string; readonly set_Nm: number }
  | { readonly what: 'felt'; readonly stackId: string; readonly when: 'before' | 'after' }
  | { readonly what: 'condition'; readonly subject: Subject }
  /** What becomes of something that was found bad. */
  | { readonly what: 'fate'; readonly subject: Subject }
  | { readonly what: 'cured'; readonly until_ms: number };

/** One step of a job. */
export interface JobStep {
  readonly id: string;
  readonly way: 'strip' | 'build';
  readonly step: PlanStep;
  readonly strip?: StripStep;
  readonly kind: PlanStepKind | StripOnlyKind;
  readonly state: StepMark['is'] | 'open';
  readonly mark?: StepMark;
  readonly needs: readonly Need[];
  /** Those of them that are still wanting. */
  readonly lacks: readonly Need[];
  readonly minutes: number;
  /** Why a second person looks; absent where none has to. */
  readonly second?: 'torque' | 'facing';
  readonly sign?: Job['signs'][string];
}

/** Trouble with a stop point. */
export interface JobDecision {
  /** Key in the job's decisions. */
  readonly key: string;
  readonly subject: JobSubject;
  readonly stop: StopCode;
  readonly tried: number;
  readonly tries: number;
  readonly came?: 'mended' | 'to-maker';
}

/** What is not finished, each with when to ask again where there is such a time. */
export type OpenItem = { readonly due_ms?: number } & (
  | { readonly is: 'to-maker' | 'decide'; readonly decision: JobDecision }
  | { readonly is: 'bad'; readonly subject: JobSubject }
  | { readonly is: 'awaited'; readonly subject: JobSubject; readonly what: string }
  | { readonly is: 'for-now'; readonly id: string; readonly why: string; readonly opens: readonly string[] }
  | { readonly is: 'torque-off'; readonly stackId: string; readonly reached_Nm: number; readonly set_Nm: number }
  | { readonly is: 'wrench'; readonly stackId: string; readonly wrench: string; readonly why: 'range' | 'calibration' }
  | { readonly is: 'felt'; readonly stackId: string }
  | { readonly is: 'put-off'; readonly step: JobStep; readonly why: string }
  | { readonly is: 'unsigned'; readonly step: JobStep }
  | { readonly is: 'cures'; readonly stacks: readonly string[]; readonly until_ms: number }
  | { readonly is: 'first-ride' | 'check-again' | 'feel-again' | 'strip-again' }
);

/** Codes of what can be open. */
export const OPEN_CODES = [
  'to-maker',
  'decide',
  'bad',
  'awaited',
  'for-now',
  'torque-off',
  'wrench',
  'felt',
  'put-off',
  'unsigned',
  'cures',
  'first-ride',
  'check-again',
  'feel-again',
  'strip-again',
] as const satisfies readonly OpenItem['is'][];

/** A job as it is gone through. */
export interface JobView extends Supplies {
  readonly analysis: Analysis;
  readonly steps: readonly JobStep[];
  /** Place of the first step that is open; that of the end where none is. */
  readonly next: number;
  readonly done: number;
  readonly minutes: number;
  readonly minutes_left: number;
  readonly subjects: readonly JobSubject[];
  readonly decisions: readonly JobDecision[];
  readonly open: readonly OpenItem[];
  readonly orders: readonly OrderLine[];
  /** The model holds what it held when the job was begun. */
  readonly isSameModel: boolean;
}

/** A job as it is gone through at a time. Under 20 ms, and 40 ms a part that is fitted for now. Never throws. */
export function jobView(bike: JobBike, job: Job, now_ms: number): JobView {
  const { plan, strip } = bike;
  const { analysis } = plan;
  const subjects = subjectsOf(analysis, job);
  const decisions = subjects.flatMap((subject) => decisionsOf(subject, job));
  const cures = curesOf(plan, job);
  const tell = (step: PlanStep, turned?: StripStep): JobStep =>
    stepOf(bike, job, subjects, cures, now_ms, step, turned);
  const steps = [...strip.steps.map((one) => tell(one.step, one)), ...plan.steps.map((step) => tell(step))];
  const first = steps.findIndex(({ state }) => state === 'open');
  const minutesOf = (list: readonly JobStep[]): number => list.reduce((sum, { minutes }) => sum + minutes, 0);
  const ahead = steps.filter(({ state }) => state === 'open' || state === 'not-yet');
  return {
    analysis,
    steps,
    next: first < 0 ? steps.length : first,
    done: steps.length - ahead.length,
    minutes: minutesOf(steps),
    minutes_left: minutesOf(ahead),
    subjects,
    decisions,
    open: openItems(plan, job, { steps, subjects, decisions, cures }, now_ms),
    orders: orderList(analysis, job, subjects),
    ...supplies(analysis, plan, strip),
    isSameModel: job.key === analysis.key,
  };
}

function decisionsOf(subject: JobSubject, job: Job): JobDecision[] {
  return subject.found.flatMap((condition): JobDecision[] => {
    const stop = stopOf(subject, subject.item, condition);
    if (!stop) return [];
    const key = `${keyOf(subject)}/${stop}`;
    const { tried = 0, came } = job.decisions[key] ?? {};
    return [{ key, subject, stop, tried, tries: STOP_TRIES[stop], ...(came && { came }) }];
  });
}

/** Until when the threadlocker of each axle sets that has been tightened, ms. */
function curesOf({ analysis, steps }: Plan, job: Job): ReadonlyMap<string, number> {
  const locked = new Set(
    analysis.model.pivots.flatMap(({ stacks }) =>
      stacks.flatMap(({ id, thread_treatment }) => (thread_treatment === 'threadlocked' ? [id] : [])),
    ),
  );
  return new Map(
    steps.flatMap(({ id, kind, stackId = '' }): [string, number][] => {
      const mark = job.steps[id];
      return kind === 'torque' && locked.has(stackId) && mark?.is === 'done'
        ? [[stackId, mark.at_ms + ORDER_LIMITS.cure_h.value * 3600 * 1000]]
        : [];
    }),
  );
}

function stepOf(
  { plan, silent }: JobBike,
  job: Job,
  subjects: readonly JobSubject[],
  cures: ReadonlyMap<string, number>,
  now_ms: number,
  step: PlanStep,
  strip?: StripStep,
): JobStep {
  const id = strip?.id ?? step.id;
  const kind = strip && strip.kind !== 'undo' ? strip.kind : step.kind;
  const mark = job.steps[id];
  const needs = needsOf(plan.analysis, subjects, cures, kind, step, strip);
  const second = strip
    ? undefined
    : step.kind === 'torque' && silent.torques.includes(step.stackId ?? '')
      ? 'torque'
      : FITS.has(step.kind) && step.items.some((item) => silent.facings.includes(item))
        ? 'facing'
        : undefined;
  const sign = job.signs[id];
  return {
    id,
    way: strip ? 'strip' : 'build',
    step,
    ...(strip && { strip }),
    kind,
    state: mark?.is ?? 'open',
    ...(mark && { mark }),
    needs,
    lacks: needs.filter((need) => isWanting(need, job, subjects, now_ms)),
    minutes: mark?.is === 'not-here' ? 0 : STEP_MINUTES[kind],
    ...(second && { second }),
    ...(sign && { sign }),
  };
}

function needsOf(
  analysis: Analysis,
  subjects: readonly JobSubject[],
  cures: ReadonlyMap<string, number>,
  kind: PlanStepKind | StripOnlyKind,
  step: PlanStep,
  strip: StripStep | undefined,
): Need[] {
  const { stackId = '' } = step;
  const about = (isIt: (subject: JobSubject) => boolean, what: 'condition' | 'fate'): Need[] =>
    subjects
      .filter((subject) => isIt(subject) && (what === 'condition' || subject.isBad))
      .map(({ of, id }) => ({ what, subject: { of, id } }));
  const own = (role: PlacedItem['role']) => (subject: JobSubject) =>
    subject.of === 'part' && subject.stackId === stackId && subject.item.role === role;
  const isMoved = ({ id }: JobSubject): boolean => step.items.includes(id);
  if (strip && strip.kind === 'undo') return [];
  switch (kind) {
    case 'note-settings':
      return analysis.model.shock ? [{ what: 'came' }] : [];
    case 'feel':
    case 'free-check':
      return (step.together ?? [stackId]).map((id) => ({
        what: 'felt',
        stackId: id,
        when: kind === 'feel' ? 'before' : 'after',
      }));
    case 'keep-together':
      return about(own('bearing'), 'condition');
    case 'clean-axle':
      return about(own('axle'), 'condition');
    case 'clean-thread':
      return about(
        ({ of, stackId: at, item }) => of === 'part' && at === stackId && item.rowId === 'receiver',
        'condition',
      );
    case 'clean-seat':
      return about(
        ({ of, stackId: at, item }) => of === 'seat' && at === stackId && seatIsAt(step, item, analysis),
        'condition',
      );
    case 'prepare':
      return about(
        ({ of, item }) => of === 'part' && item.role === 'spacer' && (step.laidOut ?? step.items).includes(item.id),
        'condition',
      );
    case 'torque':
      return step.torque_Nm === undefined ? [] : [{ what: 'torque', stackId, set_Nm: step.torque_Nm }];
    case 'air':
      return [{ what: 'air' }];
    case 'cure': {
      const ends = (step.together ?? []).flatMap((id) => cures.get(id) ?? []);
      return ends.length > 0 ? [{ what: 'cured', until_ms: Math.max(...ends) }] : [];
    }
    case 'set-spacer':
      // One that is shut in between bearings is laid out with none: it is looked at where it goes in.
      return [...(step.taskId.startsWith('inspect:') ? about(isMoved, 'condition') : []), ...about(isMoved, 'fate')];
    case 'press-bush':
    case 'set-circlip':
      // Like those: it came out with its bearing, before anything was laid out.
      return [...about(isMoved, 'condition'), ...about(isMoved, 'fate')];
    default:
      return FITS.has(step.kind) ? about(isMoved, 'fate') : [];
  }
}

/** Whether a bearing's seat is one of the bosses that a step cleans. */
function seatIsAt(step: PlanStep, { seat }: PlacedItem, analysis: Analysis): boolean {
  const items = analysis.pivots.flatMap(({ stacks }) => stacks.flatMap((stack) => stack.items));
  return items.some(
    ({ id, member, bore }) => step.items.includes(id) && member === seat?.member && bore === seat?.bore,
  );
}

function isWanting(need: Need, job: Job, subjects: readonly JobSubject[], now_ms: number): boolean {
  const known = (subject: Subject): JobSubject | undefined =>
    subjects.find(({ of, id }) => of === subject.of && id === subject.id);
  switch (need.what) {
    case 'came':
      return job.as_it_came.air === '';
    case 'air':
      return job.air_put_back === '';
    case 'torque':
      return job.axles[need.stackId] === undefined;
    case 'felt':
      return job.felt[need.stackId]?.[need.when] === undefined;
    case 'condition':
      return known(need.subject)?.found.length === 0;
    case 'fate':
      return known(need.subject)?.isSettled === false;
    case 'cured':
      return now_ms < need.until_ms;
  }
}

interface Known {
  readonly steps: readonly JobStep[];
  readonly subjects: readonly JobSubject[];
  readonly decisions: readonly JobDecision[];
  readonly cures: ReadonlyMap<string, number>;
}

function openItems(plan: Plan, job: Job, { steps, subjects, decisions, cures }: Known, now_ms: number): OpenItem[] {
  const isBuilt = steps.some(({ kind, state }) => kind === 'hand-over' && state === 'done');
  const handed_ms = steps.find(({ kind, state }) => kind === 'hand-over' && state === 'done')?.mark?.at_ms ?? 0;
  const later = (is: 'first-ride' | 'check-again' | 'feel-again' | 'strip-again', days: number): OpenItem[] =>
    isBuilt && job.steps[`after:${is}`]?.is !== 'done' ? [{ is, due_ms: handed_ms + days * DAY_ms }] : [];
  const curing = [...cures].filter(([, until]) => until > now_ms);
  const until_ms = Math.max(...curing.map(([, until]) => until));
  const mark = (id: string): Job['parts'][string] => job.parts[id] ?? {};
  return [
    ...decisions.filter(({ came }) => came === 'to-maker').map((decision): OpenItem => ({ is: 'to-maker', decision })),
    ...decisions.filter(({ came }) => came === undefined).map((decision): OpenItem => ({ is: 'decide', decision })),
    ...subjects.flatMap((subject): OpenItem[] => {
      const { awaited, awaited_on = '' } = mark(subject.id);
      if (subject.of === 'part' && awaited !== undefined && mark(subject.id).renewed === undefined) {
        const asked_ms = dayAt_ms(awaited_on);
        const due_ms = asked_ms === undefined ? now_ms + JOB_LIMITS.awaited_d.value * DAY_ms : asked_ms + NOON_ms;
        return [{ is: 'awaited', subject, what: awaited, due_ms }];
      }
      const isDecided = decisions.some((one) => one.subject === subject);
      return subject.isBad && !subject.isSettled && !isDecided ? [{ is: 'bad', subject }] : [];
    }),
    ...forNow(plan, job),
    ...Object.entries(job.axles).flatMap(([stackId, axle]) => torqueItems(job, stackId, axle, now_ms)),
    ...Object.entries(job.felt).flatMap(([stackId, { after }]): OpenItem[] =>
      after && after.is.some((one) => one !== 'good') ? [{ is: 'felt', stackId }] : [],
    ),
    ...steps.flatMap((step): OpenItem[] => [
      ...(step.state === 'not-yet' ? [{ is: 'put-off', step, why: step.mark?.why ?? '' } as const] : []),
      ...(step.second && step.state === 'done' && !step.sign ? [{ is: 'unsigned', step } as const] : []),
    ]),
    ...(curing.length > 0
      ? [{ is: 'cures', stacks: curing.map(([id]) => id), until_ms, due_ms: until_ms } as const]
      : []),
    ...later('first-ride', JOB_LIMITS.firstRide_d.value),
    ...later('check-again', JOB_LIMITS.checkAgain_d.value),
    ...later('feel-again', JOB_LIMITS.feelAgain_d.value),
    ...later('strip-again', JOB_LIMITS.stripAgain_d.value),
  ];
}

/** What is fitted for now, by hand or by the model, and which axles are opened when the right part goes in. */
function forNow(plan: Plan, job: Job): OpenItem[] {
  const parts = Object.entries(job.parts).flatMap(([id, { for_now, renewed }]) =>
    for_now === undefined || renewed !== undefined ? [] : [[id, for_now] as const],
  );
  const written = plan.analysis.model.pivots.flatMap(({ stacks }) =>
    stacks.flatMap(({ id, fitted_for_now }) =>
      fitted_for_now === undefined ? [] : [[`${id}/axle`, fitted_for_now] as const],
    ),
  );
  return [...parts, ...written].flatMap(([id, why]): OpenItem[] => {
    const isThere = plan.analysis.pivots.some(({ stacks }) =>
      stacks.some(({ items }) => items.some((one) => one.id === id)),
    );
    return isThere ? [{ is: 'for-now', id, why, opens: opensFor(plan, id) }] : [];
  });
}

const opened = new WeakMap<Plan, Map<string, readonly string[]>>();

function opensFor(plan: Plan, id: string): readonly string[] {
  const known = opened.get(plan) ?? new Map<string, readonly string[]>();
  opened.set(plan, known);
  const own = known.get(id) ?? accessOf(plan, id).stacks;
  known.set(id, own);
  return own;
}

function torqueItems(job: Job, stackId: string, axle: Job['axles'][string], now_ms: number): OpenItem[] {
  const { reached_Nm, set_Nm, wrench: key } = axle;
  const wrench = key === undefined ? undefined : job.wrenches[key];
  // As far as the wrench itself may be off, a reached torque is the one that was set.
  const scatter = wrenchScatter(wrench?.most_Nm ?? set_Nm);
  const calibrated_ms = wrench && dayAt_ms(wrench.calibrated);
  const isOld = calibrated_ms !== undefined && (now_ms - calibrated_ms) / DAY_ms > JOB_LIMITS.calibration_d.value;
  const fit =
    wrench && wrench.most_Nm > wrench.least_Nm
      ? judgeWrench(reached_Nm, [wrench.least_Nm, wrench.most_Nm]).fit
      : 'good';
  return [
    ...(Math.abs(reached_Nm - set_Nm) > scatter * set_Nm + 1e-9
      ? [{ is: 'torque-off', stackId, reached_Nm, set_Nm } as const]
      : []),
    ...(wrench && fit !== 'good' ? [{ is: 'wrench', stackId, wrench: wrench.name, why: 'range' } as const] : []),
    ...(wrench && (isOld || calibrated_ms === undefined)
      ? [{ is: 'wrench', stackId, wrench: wrench.name, why: 'calibration' } as const]
      : []),
  ];
}

/** The begin of a day, `2026-05-31`, in ms since 1970 by universal time; undefined for no day. */
export function dayAt_ms(day: string): number | undefined {
  const [year, month, date] = day.split('-').map(Number);
  if (year === undefined || month === undefined || date === undefined || !(month >= 1 && month <= 12)) return undefined;
  // Days since a day in March of the year 0, so that the leap day is the last of its year.
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const ofEra = y - era * 400;
  const ofYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + date - 1;
  const days = era * 146097 + ofEra * 365 + Math.floor(ofEra / 4) - Math.floor(ofEra / 100) + ofYear - 719468;
  return days * DAY_ms;
}
