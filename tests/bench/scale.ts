/**
 * How order, travel and mistakes grow with the number of pivots: independent rockers and a chain, all alike and of many
 * kinds, at 8 to 200 pivots.
 *
 * One turn each, processor time of this process, since other work on the machine would stretch a clock's. Growth is the
 * power of the size that the last two sizes show. Mistakes are tried one by one, as many as a pivot has. Nothing here
 * passes or fails.
 */
import { execFileSync } from 'node:child_process';
import { analyse, planOf, travel, tryMistakes, type LinkageModel } from '../../shared/index.ts';
import { chainOf, rockersOf } from '../setup/rows.ts';
import type { FigureRow } from './row.ts';

const SIZES = [8, 10, 12, 14, 28, 50, 200];
/** Mistakes of more pivots take minutes: one in every pivot for each other pivot. */
const MOST_TRIED = 50;

const KINDS: readonly { readonly what: string; readonly of: (count: number) => LinkageModel }[] = [
  { what: 'rockers, all alike', of: (count) => rockersOf(count) },
  { what: 'rockers of many kinds', of: (count) => rockersOf(count, true) },
  { what: 'a chain, all alike', of: (count) => chainOf(count) },
  { what: 'a chain of many kinds', of: (count) => chainOf(count, true) },
];

/** What a work gives, and the processor time it takes, s. */
function timed<T>(work: () => T): readonly [T, number] {
  const before = process.cpuUsage();
  const given = work();
  const { user, system } = process.cpuUsage(before);
  return [given, (user + system) / 1e6];
}

interface Grown {
  readonly size: number;
  readonly took_s: number;
  readonly says?: string;
}

function rowOf(what: string, grown: readonly Grown[], goal: string): FigureRow {
  const [last, before] = [grown.at(-1)!, grown.at(-2)!];
  const power = Math.log(last.took_s / before.took_s) / Math.log(last.size / before.size);
  const figures = grown.map(({ size, took_s, says = '' }) => `${size}: ${took_s.toFixed(2)} s${says}`);
  return { what, figure: `${figures.join('; ')}; grows as n^${power.toFixed(1)}`, goal };
}

/** The rows of the bench. */
export function benchScale(): FigureRow[] {
  planOf(analyse(rockersOf(4, true)));
  const rows = KINDS.flatMap(({ what, of }): FigureRow[] => {
    const builds = SIZES.map((size) => {
      const model = of(size);
      return { size, model, analysis: analyse(model) };
    });
    const orders = builds.map(({ size, analysis }): Grown => {
      const [{ isBest, leastChanges, cost }, took_s] = timed(() => planOf(analysis));
      const changes = cost.sideChanges + cost.toolChanges;
      return { size, took_s, says: isBest ? ' proven' : ` ${changes} changes, at least ${leastChanges}` };
    });
    const travels = builds.map(({ size, model, analysis }): Grown => {
      const [, took_s] = timed(() => travel(model, { analysis }));
      return { size, took_s };
    });
    const mistakes = builds
      .filter(({ size }) => size <= MOST_TRIED)
      .map(({ size, model }): Grown => {
        const [count, took_s] = timed(() => [...tryMistakes(model)].length);
        return { size, took_s, says: ` for ${count}` };
      });
    return [
      rowOf(`order, ${what}`, orders, '14 proven in 0.3 s, 50 in 2 s, 200 in 10 s'),
      rowOf(`travel, ${what}`, travels, '50 in 2 s, 200 in 10 s'),
      rowOf(`mistakes, ${what}`, mistakes, '50 in 2 s, 200 in 10 s'),
    ];
  });
  const figure = KINDS.map(({ what }, k) => `${what}: ${memoryOf(k).toFixed(0)} MB`).join('; ');
  return [...rows, { what: 'memory of order and travel at 200 pivots, program and all', figure, goal: '500 MB' }];
}

/** The most memory that a process of its own takes for order and travel of one kind, MB. */
function memoryOf(kind: number): number {
  const work = `import(${JSON.stringify(import.meta.url)}).then(({ workOnce }) => workOnce(${kind}))`;
  const told = execFileSync(process.execPath, ['--import', 'tsx', '-e', work], { encoding: 'utf8' });
  return Number(told) / 1024;
}

/** What such a process does: it tells its largest size, kB. */
export function workOnce(kind: number): void {
  const model = KINDS[kind]!.of(SIZES.at(-1)!);
  const analysis = analyse(model);
  planOf(analysis);
  travel(model, { analysis });
  process.stdout.write(String(process.resourceUsage().maxRSS));
}
