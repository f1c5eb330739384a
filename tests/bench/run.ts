/**
 * `npm run bench`: how long the core takes, and how that compares with other people's programs on the same work.
 *
 * Every figure is a median after a warm-up, taken in this one run; compare ratios within a run, not times between runs
 * or machines. Instances are seeded. Nothing here passes or fails: goals stand beside the ratios for a person to read.
 */
import { cpus, totalmem } from 'node:os';
import { analyse, clamp, gap, shiftPolygon, type ClampProblem, type LinkageModel } from '../../shared/index.ts';
import { clampProblem, makeJoint } from '../../shared/joint/joint.ts';
import { tighten } from '../../shared/joint/tightening.ts';
import { random } from '../setup/random.ts';
import { clampInstance } from './instances.ts';
import { demoModels, repeatedModel } from './models.ts';
import { clampByProximalRounds, clampProgramme, solidKernel, solveProgramme, turnedSolid } from './oracles.ts';
import { randomProfile } from './profiles.ts';
import { benchOrder } from './order.ts';
import type { TheRow } from './row.ts';
import { benchMistakes } from './mistakes.ts';
import { benchScale } from './scale.ts';
import { benchSort } from './sort.ts';
import { benchPicture } from './picture.ts';
import { benchTorque } from './torque.ts';
import { benchTravel } from './travel.ts';
import { resolveModel } from '../../shared/model/resolve.ts';

const SEEDS = Array.from({ length: 24 }, (_, k) => k + 1);
const FACETS = 64;

interface Budget {
  readonly warmUp_ms: number;
  readonly measure_ms: number;
  /** Runs at least this often, however long one takes. */
  readonly least: number;
}
const SHORT: Budget = { warmUp_ms: 400, measure_ms: 800, least: 5 };

/** Median time of one call of each, ms; they take turns, so that what else the machine does falls on all alike. */
function timedInTurn(works: readonly (() => unknown)[], { warmUp_ms, measure_ms, least }: Budget): number[] {
  for (const work of works) {
    const start = performance.now();
    while (performance.now() - start < warmUp_ms) work();
  }
  const times = works.map((): number[] => []);
  const from = performance.now();
  while (times[0]!.length < least || performance.now() - from < measure_ms * works.length) {
    works.forEach((work, k) => {
      const before = performance.now();
      work();
      times[k]!.push(performance.now() - before);
    });
  }
  return times.map((taken) => taken.sort((a, b) => a - b)[Math.floor(taken.length / 2)]!);
}

function timed(work: () => unknown): number {
  return timedInTurn([work], SHORT)[0]!;
}

/**
 * Median processor time of one call out of `runs`, ms: for calls too long to take turns, so that other work counts
 * less.
 */
function processorTime(work: () => unknown, runs: number): number {
  work();
  const times = Array.from({ length: runs }, () => {
    const before = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1000;
  });
  return times.sort((a, b) => a - b)[Math.floor(runs / 2)]!;
}

function show(value: number | undefined): string {
  return value === undefined ? '' : value < 0.1 ? `${(1000 * value).toPrecision(3)} µs` : `${value.toPrecision(3)} ms`;
}

function print(
  title: string,
  headings: readonly [string, string, string, string, string],
  rows: readonly TheRow[],
): void {
  table(
    title,
    headings,
    rows.map(({ what, ours_ms, theirs_ms, ratio, goal }) => [
      what,
      show(ours_ms),
      show(theirs_ms),
      ratio === undefined ? '' : `${ratio.toPrecision(3)} ×`,
      goal ?? '',
    ]),
  );
}

function table(title: string, headings: readonly string[], cells: readonly (readonly string[])[]): void {
  const rows = [headings, ...cells];
  const widths = headings.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
  console.log(`\n${title}`);
  for (const row of rows)
    console.log(
      `  ${row.map((cell, column) => (column === 0 ? cell.padEnd(widths[column]!) : cell.padStart(widths[column]!))).join('  ')}`.trimEnd(),
    );
}

/** Time of our call and of theirs, with how many times longer theirs takes. */
function against(what: string, ours: () => unknown, theirs: () => unknown, goal: string): TheRow {
  const [ours_ms, theirs_ms] = timedInTurn([ours, theirs], SHORT);
  return { what, ours_ms: ours_ms!, theirs_ms: theirs_ms!, ratio: theirs_ms! / ours_ms!, goal };
}

/** The clamp problem of every pivot of the models at its spec torque. */
function pivotProblems(models: readonly LinkageModel[]): ClampProblem[] {
  return models.flatMap((model) =>
    model.pivots.map((pivot) => {
      const joint = makeJoint(resolveModel(model), pivot.id);
      return clampProblem(joint, (own) => tighten(own, { engagement_mm: 0, rubbing_mm: undefined }).preload_N.spec);
    }),
  );
}

const machine = cpus();
console.log(
  `${machine[0]?.model.trim() ?? 'unknown processor'}, ${machine.length} cores, ${Math.round(totalmem() / 2 ** 30)} GiB, ${process.platform} ${process.arch}, node ${process.version}`,
);
console.log(`medians after a warm-up; seeds 1 to ${SEEDS.length}`);

const models = demoModels();

print(
  'The whole model: from the file’s data to every finding and step',
  ['model', 'analyse', '', '', ''],
  models.map((model) => ({ what: `${model.id}, ${model.pivots.length} pivots`, ours_ms: timed(() => analyse(model)) })),
);

const problems = pivotProblems(models);
const anchors = problems.map(({ bodies }) => new Array<number>(bodies).fill(0));
const programmes = problems.map((problem, k) => clampProgramme(problem, problem.tether_N_per_mm ?? 0, anchors[k]!));
const sprung = SEEDS.map((seed) => clampInstance('sprung', seed));
const sprungProgrammes = sprung.map((problem) => clampProgramme(problem, 0, []));
const floating = SEEDS.map((seed) => clampInstance('floating', seed));
const each =
  <T>(values: readonly T[], work: (value: T) => unknown) =>
  (): void =>
    values.forEach(work);
print(
  'Clamp solve, against the same instances through quadprog (programme written beforehand, not timed)',
  ['instances', 'clamp', 'quadprog', 'theirs / ours', 'goal'],
  [
    against(
      `${problems.length} demo pivots from hand-tight to the spec; quadprog: all of it`,
      each(problems, (problem) => clamp(problem)),
      each(programmes, solveProgramme),
      '≥ 5 ×',
    ),
    against(
      `${sprung.length} strictly convex, 12 to 40 bodies; quadprog: all of it`,
      each(sprung, (problem) => clamp(problem)),
      each(sprungProgrammes, solveProgramme),
      '≥ 5 ×',
    ),
    against(
      `${floating.length} floating, 12 to 40 bodies; quadprog: proximal rounds to the end`,
      each(floating, (problem) => clamp(problem)),
      each(floating, (problem) => clampByProximalRounds(problem)),
      '≥ 5 ×',
    ),
  ],
);

const kernel = await solidKernel();
const pairs = SEEDS.map((seed) => {
  const draw = random(seed);
  const [a, b] = [randomProfile(draw), shiftPolygon(randomProfile(draw), 16)] as const;
  // How far theirs has to look is told beforehand: a wide search costs it much more.
  const search_mm = (gap(a, b)?.gap_mm ?? 5) + 1;
  return { a, b, search_mm, solidA: turnedSolid(kernel, a, FACETS), solidB: turnedSolid(kernel, b, FACETS) };
});
print(
  `Contact of two profiles, against a solid kernel at ${FACETS} facets (solids built beforehand, not timed)`,
  ['pairs', 'gap', 'minGap', 'theirs / ours', 'goal'],
  [
    against(
      `${pairs.length} random pairs`,
      each(pairs, ({ a, b }) => gap(a, b)),
      each(pairs, ({ solidA, solidB, search_mm }) => solidA.minGap(solidB, search_mm)),
      '≥ 100 ×',
    ),
  ],
);
for (const { solidA, solidB } of pairs) {
  solidA.delete();
  solidB.delete();
}

const growth: TheRow[] = [];
for (const pivots of [10, 100, 1000]) {
  const model = repeatedModel(models, pivots);
  const ours_ms = processorTime(() => analyse(model), pivots === 1000 ? 3 : 1000 / pivots / 2);
  const first = growth[0];
  growth.push({
    what: `${pivots} pivots`,
    ours_ms,
    theirs_ms: ours_ms / pivots,
    ratio: first ? ours_ms / pivots / first.theirs_ms! : 1,
    goal: first ? 'near 1 ×' : '',
  });
}
print(
  'Growth: the demo pivots over and over, processor time',
  ['model', 'analyse', 'a pivot', 'a pivot / first row', 'goal'],
  growth,
);

const TASK_HEADINGS = ['work', 'ours', 'theirs', 'theirs / ours', 'goal'] as const;
print('Mistakes', TASK_HEADINGS, benchMistakes());
print('Tolerance: sampled sets of parts', TASK_HEADINGS, benchTorque());
print('Travel', TASK_HEADINGS, benchTravel());
print('Sorting tray', TASK_HEADINGS, benchSort());
print('Build order', TASK_HEADINGS, benchOrder());
table(
  'Scale: order, travel and mistakes of 8 to 200 pivots, processor time',
  ['work', 'figure', 'goal'],
  benchScale().map(({ what, figure, goal }) => [what, figure, goal ?? '']),
);

const picture = await benchPicture();
print('Picture: times', ['what', 'ours', '', '', 'goal'], picture.times);
table(
  'Picture: the built app in the browser of the tests',
  ['what', 'figure', 'goal'],
  picture.figures.map(({ what, figure, goal }) => [what, figure, goal ?? '']),
);
