/**
 * How long the mistake table takes: all single mistakes of the largest demo model, against every mistake solved from
 * scratch, and whether starting each clamp solve from the shifts as written would pay.
 *
 * Medians of turns taken in one run; compare the ratios. Nothing here passes or fails.
 */
import {
  applyMistake,
  beginMistakes,
  clamp,
  listMistakes,
  placements,
  mistakes,
  tryMistake,
  type LinkageModel,
} from '../../shared/index.ts';
import { clampProblem, makeJoint, type Joint } from '../../shared/joint/joint.ts';
import { tighten } from '../../shared/joint/tightening.ts';
import { demoModels } from './models.ts';
import { placementsByBruteForce } from './placements.ts';
import type { TheRow } from './row.ts';
import { resolveModel } from '../../shared/model/resolve.ts';

const TURNS = 7;

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

function inTurn(what: string, ours: () => unknown, theirs: () => unknown, goal?: string): TheRow {
  const [mine, other]: [number[], number[]] = [[], []];
  for (let turn = -1; turn < TURNS; turn++) {
    for (const [work, times] of [
      [ours, mine],
      [theirs, other],
    ] as const) {
      const from = performance.now();
      work();
      if (turn >= 0) times.push(performance.now() - from);
    }
  }
  const [ours_ms, theirs_ms] = [median(mine), median(other)];
  return { what, ours_ms, theirs_ms, ratio: theirs_ms / ours_ms, ...(goal === undefined ? {} : { goal }) };
}

/** Body numbers of a joint by what they are, so that two builds of one pivot can be matched. */
function bodyNames(joint: Joint): Map<string, number> {
  const names = new Map<string, number>([...joint.bases].map(([member, body]) => [`base ${member}`, body]));
  for (const { items } of joint.stacks)
    for (const item of items) if (!names.has(item.id)) names.set(item.id, item.body);
  return names;
}

interface Solve {
  readonly joint: Joint;
  readonly written: { readonly names: ReadonlyMap<string, number>; readonly shift_mm: Float64Array };
}

const problemOf = (joint: Joint) =>
  clampProblem(joint, (own) => tighten(own, { engagement_mm: 0, rubbing_mm: undefined }).preload_N.spec);

/** The clamp solve of every mistake that keeps its stack's thread, with the shifts as written beside it. */
function solvesOf(model: LinkageModel): Solve[] {
  return model.pivots.flatMap((pivot) => {
    const joint = makeJoint(resolveModel(model), pivot.id);
    const written = { names: bodyNames(joint), shift_mm: clamp(problemOf(joint)).shift_mm };
    return listMistakes(model, pivot.id).flatMap((mistake) => {
      const built = applyMistake(model, mistake);
      const solve = { joint: makeJoint(resolveModel(built), pivot.id), written };
      return solve.joint.stacks.every((own) => own.thread.matches) ? [solve] : [];
    });
  });
}

function warmStart({ joint, written }: Solve): Float64Array {
  const start = new Float64Array(joint.bodies);
  for (const [name, body] of bodyNames(joint)) {
    const known = written.names.get(name);
    if (known !== undefined) start[body] = written.shift_mm[known]!;
  }
  return start;
}

/** The rows of the bench. */
export function benchMistakes(): TheRow[] {
  const models = demoModels();
  const largest = models
    .map((model) => ({ model, count: model.pivots.reduce((sum, { id }) => sum + listMistakes(model, id).length, 0) }))
    .sort((a, b) => b.count - a.count)[0]!;
  const { model, count } = largest;
  const list = model.pivots.flatMap(({ id }) => listMistakes(model, id));
  const solves = models.flatMap(solvesOf);
  const problems = solves.map((solve) => ({ problem: problemOf(solve.joint), start: warmStart(solve) }));
  const steps = (isWarm: boolean): number =>
    problems.reduce((sum, { problem, start }) => sum + clamp(problem, isWarm ? start : undefined).steps, 0);
  const pivots = models.flatMap((one) => one.pivots.map(({ id }) => [one, id] as const));
  return [
    inTurn(
      `${model.id}: all ${count} single mistakes; against each solved from scratch`,
      () => mistakes(model),
      () => list.map((mistake) => tryMistake(beginMistakes(model), mistake)),
      'under 200 ms',
    ),
    inTurn(
      `clamp solve of ${problems.length} mistakes from nothing (${steps(false)} steps); against from the shifts as written (${steps(true)} steps)`,
      () => problems.forEach(({ problem }) => clamp(problem)),
      () => problems.forEach(({ problem, start }) => clamp(problem, start)),
    ),
    inTurn(
      `placements of ${pivots.length} pivots, pruned; against all of them solved`,
      () => pivots.map(([one, id]) => placements(one, id)),
      () => pivots.map(([one, id]) => placementsByBruteForce(one, id)),
    ),
  ];
}
