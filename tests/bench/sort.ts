/**
 * How long the sorting tray takes: the assignment alone on 10, 100 and 1,000 parts against `munkres` on the same costs,
 * and whole demo trays from readings to matches, alternatives and next measurement.
 *
 * Medians of turns taken in one run; compare the ratios. Nothing here passes or fails. Instances are seeded: costs of a
 * tray as it is (each part has a few look-alikes, the rest is far off), and evenly random costs, the hardest for ours.
 */
import munkres from 'munkres';
import {
  assign,
  DEFAULT_SETTING,
  listed,
  nextReading,
  sortTray,
  type AssignProblem,
  type CalliperReading,
} from '../../shared/index.ts';
import { random } from '../setup/random.ts';
import { demoModels } from './models.ts';
import type { TheRow } from './row.ts';

const SEED = 20_261;

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

/** Medians of works that take turns; the first turns warm up and are not counted. */
function inTurn(works: readonly (() => unknown)[], turns: number): number[] {
  const times = works.map((): number[] => []);
  for (let turn = -3; turn < turns; turn++) {
    works.forEach((work, k) => {
      const from = performance.now();
      work();
      if (turn >= 0) times[k]!.push(performance.now() - from);
    });
  }
  return times.map(median);
}

/** Costs of a tray: lengths in families of look-alikes, squared misfit in deviations, cut where nobody would look. */
function trayCosts(parts: number): number[][] {
  const draw = random(SEED + parts);
  const sizes = Array.from({ length: parts }, () => [draw.whole(8, 16), draw.whole(4, 80) / 2] as const);
  const read = draw
    .shuffled(sizes)
    .map(([outside, length]) => [outside + draw.between(-0.05, 0.05), length + draw.between(-0.05, 0.05)] as const);
  return read.map(([outside, length]) =>
    sizes.map(([a, b]) => Math.min(2000, (((outside - a) / 0.025) ** 2 + ((length - b) / 0.025) ** 2) / 2)),
  );
}

function randomCosts(parts: number): number[][] {
  const draw = random(SEED + parts);
  return Array.from({ length: parts }, () => Array.from({ length: parts }, () => draw.between(0, 100)));
}

function against(what: string, cost: number[][]): TheRow {
  const problem: AssignProblem = { supply: cost.map(() => 1), capacity: cost.map(() => 1), cost };
  const total = (munkres(cost) as [number, number][]).reduce((sum, [row, column]) => sum + cost[row]![column]!, 0);
  if (Math.abs(assign(problem)!.total - total) > 1e-6 * (1 + total))
    throw new Error(`bench: ${what}: the two disagree`);
  const [ours_ms, theirs_ms] = inTurn([() => assign(problem), () => munkres(cost)], cost.length >= 1000 ? 5 : 25);
  return { what, ours_ms: ours_ms!, theirs_ms: theirs_ms!, ratio: theirs_ms! / ours_ms! };
}

/** The rows of the bench. */
export function benchSort(): TheRow[] {
  const rows: TheRow[] = [];
  for (const parts of [10, 100, 1000]) {
    rows.push(against(`assignment of ${parts} parts, a tray’s costs; against munkres`, trayCosts(parts)));
    rows.push(against(`assignment of ${parts} parts, random costs; against munkres`, randomCosts(parts)));
  }
  for (const model of demoModels()) {
    const readings = listed(model).map(
      (candidate): CalliperReading => ({
        label: candidate.id,
        kind: candidate.kind!,
        count: candidate.count,
        ...(candidate.sizes.outside_mm ? { outside_mm: candidate.sizes.outside_mm.nominal } : {}),
      }),
    );
    const [ours_ms] = inTurn([() => nextReading(sortTray(model, { readings, setting: DEFAULT_SETTING }))], 25);
    rows.push({
      what: `${model.id}: ${readings.length} half-measured readings sorted, next measurement chosen`,
      ours_ms: ours_ms!,
      goal: 'under 16 ms: at every key',
    });
  }
  return rows;
}
