/**
 * Find the mistake: one or two of a pivot's mistakes are built and tight, and whoever looks for them may feel, look and
 * measure, each for its minutes.
 *
 * What a check tells is read off the build as it is: how it turns and plays from its solve, what lies over from what it
 * uses, sizes from the parts that are in it. Nothing else is told. The cause is found when what is named leaves the same
 * build. The minutes are held against those of the checks that tell most a minute (`next/`), among all the single
 * mistakes of the pivot, each as likely as the other; of two mistakes, against both one after the other. N, mm, min.
 */
import type { BenchFeel } from '../mistakes/felt.ts';
import { applyMistake, listMistakes, type Mistake } from '../mistakes/list.ts';
import { beginMistakes, tryMistake, type TriedMistake } from '../mistakes/try.ts';
import type { LinkageModel, Pivot, Side, Stack } from '../model/schema.ts';
import { afterAnswer, nextQuestion } from '../next/next.ts';
import { kindOf, partProfile, stands } from '../parts/kinds.ts';
import { partSizes } from '../parts/measuring.ts';
import type { SizeName } from '../parts/sizes.ts';
import { drawsOf, oneOf, shuffled } from './draw.ts';
import { PRACTICE_LIMITS } from './limits.ts';

/** Something that can be felt, looked at or measured. */
export type BenchCheck =
  | { readonly do: 'turn' | 'rock' | 'line' | 'count' }
  | { readonly do: 'head' | 'wrench'; readonly stack: string }
  | { readonly do: 'look' | 'measure' | 'depth'; readonly stack: string; readonly row: string };

/** What a check tells. */
export type BenchAnswer =
  | { readonly is: 'feel'; readonly feel: Extract<BenchFeel, 'tight' | 'notchy' | 'drags' | 'free'> }
  | { readonly is: 'play' | 'off-line'; readonly there: boolean }
  /** Parts that lie over, by their part ids. */
  | { readonly is: 'over'; readonly parts: readonly string[] }
  | { readonly is: 'head'; readonly side: Side }
  | { readonly is: 'wrench'; readonly turnsOn: boolean }
  | { readonly is: 'nothing-there' }
  /** Which way the small face looks; none where both are alike. */
  | { readonly is: 'way'; readonly toward: Side | undefined }
  | { readonly is: 'sizes'; readonly sizes: readonly (readonly [SizeName, number])[] }
  | { readonly is: 'depth'; readonly off_mm: number };

/** A pivot with something wrong in it. */
export interface FindDrill {
  readonly pivotId: string;
  /** How many mistakes are in it. */
  readonly count: 1 | 2;
  readonly hidden: TriedMistake;
  readonly checks: readonly BenchCheck[];
  /** Every mistake that can be named. */
  readonly causes: readonly Mistake[];
  /** Minutes of the checks that tell most. */
  readonly par_min: number;
}

/** Levels: one that shows itself, one that does not, two at once. */
export const FIND_LEVELS = 3;

/** Pairs that are tried until one goes together. */
const MOST_PAIRS = 24;
/** Checks of the best way at the most. */
const MOST_CHECKS = 20;
/** A depth is read to a twentieth, mm. */
const DEPTH_STEP_mm = 0.05;

/**
 * The drill of a pivot from a seed, harder with its level from 1 on; none where nothing can be hidden in it. About 300
 * ms. Throws a RangeError when the model has no such pivot.
 */
export function findDrill(model: LinkageModel, pivotId: string, seed: number, level: number): FindDrill | undefined {
  const draws = drawsOf(seed, `find ${model.id} ${pivotId} ${level}`);
  const work = beginMistakes(model);
  const causes = listMistakes(model, pivotId).filter(({ also }) => also === undefined);
  const single = causes.map((mistake) => tryMistake(work, mistake)).filter(isHidden);
  const bench = benchOf(model, pivotId);
  const checks = bench.checks;
  const of = (hidden: TriedMistake, count: 1 | 2, par_min: number): FindDrill => ({
    pivotId,
    count,
    hidden,
    checks,
    causes,
    par_min: Math.max(par_min, bench.minutes(checks[0]!, new Set())),
  });
  if (level >= FIND_LEVELS) {
    const pairs = listMistakes(model, pivotId, { two: true }).filter(
      (mistake) =>
        mistake.kind === 'two' && mistake.of!.every((one) => single.some((row) => row.mistake.id === one.id)),
    );
    for (const pair of shuffled(draws, pairs).slice(0, MOST_PAIRS)) {
      const hidden = tryMistake(work, pair);
      if (!isHidden(hidden)) continue;
      const par = pair.of!.map((one) => bestMinutes(bench, single, single.find((row) => row.mistake.id === one.id)!));
      return of(hidden, 2, par[0]! + par[1]!);
    }
  }
  const loud = single.filter(({ isSilent }) => !isSilent);
  const quiet = single.filter(({ isSilent }) => isSilent);
  const wanted =
    level <= 1 ? [...loud, ...quiet].slice(0, loud.length || quiet.length) : quiet.length > 0 ? quiet : loud;
  const hidden = wanted[oneOf(draws, wanted.length)];
  return hidden && of(hidden, 1, bestMinutes(bench, single, hidden));
}

/** What can be tightened, and is wrong. */
function isHidden({ assembly, verdict }: TriedMistake): boolean {
  return assembly.goes !== 'no' && verdict === 'faulty';
}

interface Bench {
  readonly model: LinkageModel;
  readonly pivot: Pivot;
  readonly checks: readonly BenchCheck[];
  /** Minutes of a check while these stacks are open. */
  readonly minutes: (check: BenchCheck, open: ReadonlySet<string>) => number;
}

function benchOf(model: LinkageModel, pivotId: string): Bench {
  const pivot = model.pivots.find(({ id }) => id === pivotId)!;
  const within = pivot.stacks.flatMap((stack): BenchCheck[] => [
    { do: 'head', stack: stack.id },
    { do: 'wrench', stack: stack.id },
    ...stack.row.flatMap(({ id, part }): BenchCheck[] => {
      const own = part === undefined ? undefined : model.parts[part];
      if (!own) return [];
      const at = { stack: stack.id, row: id };
      if (own.kind === 'bearing') return [{ do: 'depth', ...at }];
      if (!stands(own, 'loose')) return [];
      return [
        { do: 'look', ...at },
        { do: 'measure', ...at },
      ];
    }),
  ]);
  const checks: readonly BenchCheck[] = [{ do: 'turn' }, { do: 'rock' }, { do: 'line' }, { do: 'count' }, ...within];
  return { model, pivot, checks, minutes: (check, open) => minutesOf(check, open) };
}

/** The stack that has to be taken apart for a check; none for what is done on the tight pivot. */
export function opensFor(check: BenchCheck): string | undefined {
  return check.do === 'look' || check.do === 'measure' || check.do === 'depth' ? check.stack : undefined;
}

/** What a check takes, minutes, with what has to be opened for it unless that is open already. */
export function minutesOf(check: BenchCheck, open: ReadonlySet<string>): number {
  const own = {
    turn: PRACTICE_LIMITS.turn_min,
    rock: PRACTICE_LIMITS.rock_min,
    line: PRACTICE_LIMITS.look_min,
    count: PRACTICE_LIMITS.count_min,
    head: PRACTICE_LIMITS.look_min,
    wrench: PRACTICE_LIMITS.wrench_min,
    look: PRACTICE_LIMITS.look_min,
    measure: PRACTICE_LIMITS.measure_min,
    depth: PRACTICE_LIMITS.measure_min,
  }[check.do].value;
  const stack = opensFor(check);
  return stack === undefined || open.has(stack) ? own : own + PRACTICE_LIMITS.open_min.value;
}

/** What a check tells of the build. O(parts of the pivot). */
export function benchAnswer(
  model: LinkageModel,
  { mistake, bench, pivot: pivotId }: TriedMistake,
  check: BenchCheck,
): BenchAnswer {
  const built = applyMistake(model, mistake);
  const pivotIn = ({ pivots }: LinkageModel): Pivot => pivots.find(({ id }) => id === pivotId)!;
  const stackIn = (of: LinkageModel, id: string): Stack => pivotIn(of).stacks.find((stack) => stack.id === id)!;
  switch (check.do) {
    case 'turn': {
      const feel = (['tight', 'notchy', 'drags'] as const).find((one) => bench.includes(one)) ?? 'free';
      return { is: 'feel', feel };
    }
    case 'rock':
      return { is: 'play', there: bench.includes('play') };
    case 'line':
      return { is: 'off-line', there: bench.includes('off-line') };
    case 'count': {
      const left = usedIn(pivotIn(built));
      const over = usedIn(pivotIn(model)).filter((id) => {
        const at = left.indexOf(id);
        if (at >= 0) left.splice(at, 1);
        return at < 0;
      });
      return { is: 'over', parts: over.sort() };
    }
    case 'head':
      return { is: 'head', side: stackIn(built, check.stack).from };
    case 'wrench': {
      const [now, asked] = [stackIn(built, check.stack).torque_Nm, stackIn(model, check.stack).torque_Nm];
      return { is: 'wrench', turnsOn: now < asked };
    }
    case 'depth': {
      const entry = stackIn(built, check.stack).row.find(({ id }) => id === check.row);
      const off_mm = Math.round((entry?.proud_mm ?? 0) / DEPTH_STEP_mm) * DEPTH_STEP_mm;
      return { is: 'depth', off_mm: Number(off_mm.toFixed(2)) };
    }
    case 'look':
    case 'measure': {
      const entry = stackIn(built, check.stack).row.find(({ id }) => id === check.row);
      const part = entry?.part === undefined ? undefined : built.parts[entry.part];
      if (!part) return { is: 'nothing-there' };
      if (check.do === 'measure') {
        const sizes = partSizes(part);
        return { is: 'sizes', sizes: kindOf(part).told.map((name) => [name, sizes[name]!.nominal] as const) };
      }
      const face = partProfile(part).hasTwoWays ? kindOf(part).smallFace?.(part) : undefined;
      const isTurned = entry!.turned === true;
      return {
        is: 'way',
        toward: face === undefined ? undefined : (face === 'first') === isTurned ? 'drive' : 'non-drive',
      };
    }
  }
}

/** Part ids that a pivot uses, one for each piece. */
function usedIn({ stacks }: Pivot): string[] {
  return stacks.flatMap(({ axle, receiver, row }) => [
    axle,
    ...(receiver.includes('/') ? [] : [receiver]),
    ...row.flatMap(({ part }) => (part === undefined ? [] : [part])),
  ]);
}

/** Minutes of the checks that tell most, one after the other, until one cause is left or nothing tells any more. */
function bestMinutes({ model, checks, minutes }: Bench, single: readonly TriedMistake[], hidden: TriedMistake): number {
  const told = checks.map((check) => single.map((row) => JSON.stringify(benchAnswer(model, row, check))));
  const real = single.indexOf(hidden);
  const opened = new Set<string>();
  let open = single.map(() => 1 / single.length);
  let spent = 0;
  for (let k = 0; k < MOST_CHECKS; k++) {
    const questions = checks.map((check, c) => {
      const words = [...new Set(told[c])];
      const answers = told[c]!.map((word) => words.map((other) => (other === word ? 1 : 0)));
      return { check, c, minutes: minutes(check, opened), answers };
    });
    const next = nextQuestion(open, questions);
    if (!next) break;
    const { check, c, minutes: own } = next.question;
    const stack = opensFor(check);
    if (stack !== undefined) opened.add(stack);
    spent += own;
    const word = told[c]![real];
    open = afterAnswer(
      open,
      told[c]!.map((other) => (other === word ? 1 : 0)),
    )!;
  }
  return spent;
}

/** Whether what is named leaves the build that is there: by the parts, their ways and their torques, not by its name. */
export function isFound(model: LinkageModel, { hidden, pivotId }: FindDrill, named: readonly Mistake[]): boolean {
  const keyOf = (of: LinkageModel): string => buildKey(of.pivots.find(({ id }) => id === pivotId)!);
  return keyOf(named.reduce(applyMistake, model)) === keyOf(applyMistake(model, hidden.mistake));
}

function buildKey({ stacks }: Pivot): string {
  return JSON.stringify(
    stacks.map(({ axle, receiver, from, torque_Nm, row }) => [
      axle,
      receiver,
      from,
      torque_Nm,
      row.map(({ id, part, turned, proud_mm }) => [id, part, turned === true, proud_mm ?? 0]),
    ]),
  );
}
