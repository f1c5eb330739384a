/**
 * A run of steps as the slider goes through it, and the picture of any place in it.
 *
 * A run is a build in some order, its strip-down, or what it takes to reach one part and put all back; a pivot's own is
 * the same with the steps of other pivots left out. A step says where
 * every item of its own stack is once it is done; here the stacks of a pivot are put together. A stack no step has
 * touched lies spread out where it is to be built and is tight where it is to be taken apart.
 */
import {
  spread,
  spreadPivot,
  type Analysis,
  type Because,
  type DriveInHand,
  type PivotAnalysis,
  type Plan,
  type PlanStep,
  type Side,
  type StepPlace,
  type StripStep,
} from '../../shared/index.ts';
import type { RunSource } from '../worker.ts';
import { ease, mixPlaces, type Places } from '../picture/tween.ts';

/** One step of a run. */
export interface RunStep {
  readonly id: string;
  readonly taskId: string;
  readonly step: PlanStep;
  /** Present where something is taken apart. */
  readonly strip?: StripStep;
  /** Where the items of its stack are once it is done. */
  readonly places: Places;
  /** Units and obstacles on the bike once it is done. */
  readonly on: readonly string[];
}

/** Steps in the order they are gone through, and what is there before the first of them. */
export interface Run {
  readonly steps: readonly RunStep[];
  /** Units and obstacles on the bike at first. */
  readonly on: readonly string[];
  /** Stacks that no step has touched yet are tight, not laid out. */
  readonly isBuilt: boolean;
  /** Absent of a run without steps. */
  readonly source?: RunSource;
}

/** A run without steps: the built bike, or the bare frame. */
export function emptyRun(analysis: Analysis, isBuilt: boolean): Run {
  return { steps: [], on: isBuilt ? everything(analysis) : framesOf(analysis), isBuilt };
}

/** A run that builds. */
export function buildRun(analysis: Analysis, steps: readonly PlanStep[], source: RunSource): Run {
  return { steps: steps.map(built), on: framesOf(analysis), isBuilt: false, source };
}

/** A run that takes apart and, where `back` is given, puts together again. */
export function stripRun(
  analysis: Analysis,
  steps: readonly StripStep[],
  source: RunSource,
  back: readonly PlanStep[] = [],
): Run {
  return {
    steps: [
      ...steps.map((strip) => ({
        id: `off ${strip.id}`,
        taskId: strip.step.taskId,
        step: strip.step,
        strip,
        places: strip.after,
        on: strip.on,
      })),
      ...back.map((step) => ({ ...built(step), id: `on ${step.id}` })),
    ],
    on: everything(analysis),
    isBuilt: true,
    source,
  };
}

function built(step: PlanStep): RunStep {
  return { id: step.id, taskId: step.taskId, step, places: step.places, on: step.on };
}

function framesOf({ model }: Analysis): string[] {
  return Object.entries(model.members).flatMap(([id, member]) => (member.kind === 'frame' ? [id] : []));
}

/** All units and obstacles; the shock's two halves are one unit. */
function everything({ model }: Analysis): string[] {
  return [
    ...Object.keys(model.members).filter((member) => member !== model.shock?.shaft),
    ...(model.obstacles ?? []).map(({ id }) => id),
  ];
}

/** The steps of a run that are done at one pivot. */
export function ofPivot(run: Run, pivotId: string): Run {
  const { on, isBuilt } = run;
  return { on, isBuilt, steps: run.steps.filter(({ step }) => step.pivotId === pivotId) };
}

/** What the picture is told of a place in a run. */
export interface RunPicture {
  readonly pivotId: string | undefined;
  readonly places: Places | undefined;
  /** Members, obstacles and pivots that are not there. */
  readonly hidden: ReadonlySet<string>;
  readonly activeIds: readonly string[];
}

/** The picture at a position: whole numbers are steps done, a fraction lies within the next one. */
export function pictureOf(analysis: Analysis, run: Run, position: number, isClose: boolean): RunPicture {
  const done = Math.floor(position);
  const share = position - done;
  const shown = run.steps[Math.ceil(position) - 1];
  const pivot = isClose ? analysis.pivots.find(({ id }) => id === shown?.step.pivotId) : undefined;
  const on = new Set(share > 0 ? [...onAt(run, done), ...onAt(run, done + 1)] : onAt(run, done));
  return {
    pivotId: pivot?.id,
    places:
      pivot &&
      (share > 0
        ? mixPlaces(placesAt(run, pivot, done), placesAt(run, pivot, done + 1), ease(share))
        : placesAt(run, pivot, done)),
    hidden: hiddenOf(analysis, run, on, Math.ceil(position), pivot?.id),
    activeIds: shown?.step.items ?? [],
  };
}

function onAt(run: Run, done: number): readonly string[] {
  return done === 0 ? run.on : (run.steps[done - 1]?.on ?? run.on);
}

/** Where every item of a pivot is once `done` steps are done. */
export function placesAt(run: Run, pivot: PivotAnalysis, done: number): Places {
  const places: Record<string, StepPlace> = {};
  for (const stack of pivot.stacks) {
    const last = run.steps
      .slice(0, done)
      .findLast((step) => step.step.stackId === stack.id && Object.keys(step.places).length > 0);
    if (last) Object.assign(places, last.places);
    else if (run.isBuilt) for (const { id } of stack.items) places[id] = { offset_mm: 0, on: true };
    else for (const [id, offset_mm] of Object.entries(spread(stack, 1))) places[id] = { offset_mm, on: false };
  }
  const apart = spreadPivot(pivot, 1);
  // What is not on the bike is drawn at its spread place, wherever its step says; a movement has to begin there.
  return Object.fromEntries(
    Object.entries(places).map(([id, place]) => [
      id,
      place.on ? place : { offset_mm: apart[id] ?? place.offset_mm, on: false },
    ]),
  );
}

function hiddenOf(
  analysis: Analysis,
  run: Run,
  on: ReadonlySet<string>,
  reached: number,
  openId: string | undefined,
): ReadonlySet<string> {
  const { model } = analysis;
  const unitOf = (member: string): string => (model.shock && member === model.shock.shaft ? model.shock.body : member);
  const hidden = new Set(Object.keys(model.members).filter((member) => !on.has(unitOf(member))));
  for (const { id } of model.obstacles ?? []) if (!on.has(id)) hidden.add(id);
  for (const pivot of analysis.pivots) {
    if (pivot.id === openId) continue;
    const isThere = Object.values(placesAt(run, pivot, reached)).some((place) => place.on);
    if (!isThere) hidden.add(pivot.id);
  }
  return hidden;
}

/** Steps at which another task begins, counted from 1. */
export function taskStarts(run: Run): readonly number[] {
  return run.steps.flatMap(({ taskId }, k) => (taskId === run.steps[k - 1]?.taskId ? [] : [k + 1]));
}

/** Where one stands for each step: its side, `bench` for work at the bench. */
export function standOf({ step }: RunStep): Side | 'bench' {
  return step.atBench ? 'bench' : step.side;
}

/** A task of a run: where it begins and ends in it. */
export interface TaskRow {
  readonly id: string;
  readonly stand: Side | 'bench' | undefined;
  readonly tools: readonly DriveInHand[];
  readonly because: readonly Because[];
  /** Step numbers of the run, from 1. */
  readonly from: number;
  readonly to: number;
}

/** The tasks of a run with what the plan knows of them: the rows of the list and of the sheet. */
export function taskRows(run: Run, plan: Plan): readonly TaskRow[] {
  const tasks = new Map(plan.tasks.map((task) => [task.id, task]));
  const starts = taskStarts(run);
  return starts.map((from, k): TaskRow => {
    const first = run.steps[from - 1]!;
    const task = tasks.get(first.taskId);
    return {
      id: first.taskId,
      stand: first.strip ? standOf(first) : task?.side,
      tools: task?.tools ?? [],
      because: first.strip ? [] : (task?.because ?? []),
      from,
      to: (starts[k + 1] ?? run.steps.length + 1) - 1,
    };
  });
}

/**
 * The same moment of a build in its strip-down, and the other way: as many steps done as leave the picture as it is.
 */
export function turnedAt(
  steps: readonly PlanStep[],
  strip: readonly StripStep[],
  at: number,
  to: 'build' | 'strip',
): number {
  if (to === 'strip') {
    for (let k = at; k > 0; k--) {
      const found = strip.findIndex(({ undoes }) => undoes === steps[k - 1]!.id);
      if (found >= 0) return found;
    }
    return strip.length;
  }
  const last = strip.slice(0, at).findLast(({ undoes }) => undoes !== undefined)?.undoes;
  return last === undefined ? steps.length : steps.findIndex(({ id }) => id === last);
}
