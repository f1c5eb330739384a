/**
 * Springs in a column: the law of the disc spring against its standard and what catalogues print, that of the wave
 * washer against a published rate; the clamp solve with such a law against a bisection of our own; and a pivot worked by
 * hand on the reference joint, two discs in place of one spacer.
 *
 * The discs (18.6 × 15.2 × 1.5, cone 0.5) stand with their inner edges outward: one on the inner ring, one on the spacer
 * that fills up what the two leave of 5 mm. They are turned against one another, so each carries the whole force and
 * they go twice as far; turned the same way they share the force and go once.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  checkClamp,
  clamp,
  listMistakes,
  lookAlikes,
  mistakes,
  readData,
  sortTray,
  wordFacing,
  wordProblem,
  type Analysis,
  type ClampProblem,
  type LinkageModel,
} from '../../shared/index.ts';
import { discSpring, nested, waveWasher, type SpringCurve } from '../../shared/standards/index.ts';
import { random } from '../setup/random.ts';
import { seeds } from '../setup/series.ts';
import { referenceData } from '../fixtures/reference-joint.ts';
import data from './data/springs-din16984.json';

const off = (ours: number, theirs: number): number => Math.abs(ours / theirs - 1);

describe(data.source, () => {
  test('20 × 10.2 × 1.1 at every quarter of its cone', () => {
    const { force_N, ...spring } = data.worked;
    const ours = force_N.map((_, k) => discSpring(spring).force_N((spring.cone_mm * (k + 1)) / 4));
    for (const [k, force] of ours.entries()) expect(off(force, force_N[k]!)).toBeLessThan(1e-4);
  });

  test.each(data.catalogue)('$outside_mm × $thickness_mm, cone $cone_mm: $printed_N N', (row) => {
    const force = discSpring(row).force_N(0.75 * row.cone_mm);
    expect(off(force, row.derived_N)).toBeLessThan(1e-3);
    expect(off(force, row.printed_N)).toBeLessThan(row.allowed);
  });

  test.each(data.waves)('a wave washer of $waves waves, $force_N N', ({ by_mm, force_N, ...spring }) => {
    expect(off(waveWasher({ ...spring, rise_mm: 2 }).force_N(by_mm), force_N)).toBeLessThan(2e-3);
  });
});

describe('the law of a spring', () => {
  const discs = data.catalogue.map((row) => ({ row, curve: discSpring(row) }));
  test.each(discs)(
    'of $row.outside_mm × $row.thickness_mm never falls, and its force and energy are its integrals',
    ({ row, curve }) => {
      const step = row.cone_mm / 400;
      for (let k = -40; k < 480; k++) {
        const [from, to] = [k * step, (k + 1) * step];
        expect(curve.slope_N_per_mm(from)).toBeGreaterThan(0);
        const middle = (from + to) / 2;
        expect(curve.force_N(to) - curve.force_N(from)).toBeCloseTo(curve.slope_N_per_mm(middle) * step, 2);
        const work = ((curve.force_N(from) + 4 * curve.force_N(middle) + curve.force_N(to)) / 6) * step;
        expect(curve.energy_Nmm(to) - curve.energy_Nmm(from)).toBeCloseTo(work, 6);
      }
    },
  );

  test('is refused where it would fall: a cone of more than √2 thicknesses', () => {
    const flat = { outside_mm: 20, bore_mm: 10.2, thickness_mm: 1 };
    expect(() => discSpring({ ...flat, cone_mm: 1.42 })).toThrow(RangeError);
    expect(discSpring({ ...flat, cone_mm: 1.41 }).slope_N_per_mm(1.41)).toBeGreaterThan(0);
  });

  test('nested, has the force of each at the same way', () => {
    const { curve } = discs[0]!;
    expect(nested(curve, 3).force_N(0.1)).toBeCloseTo(3 * curve.force_N(0.1), 9);
  });
});

/** Least root of a rising function between two bounds. */
function bisect(rising: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let k = 0; k < 200; k++) {
    const middle = (a + b) / 2;
    if (rising(middle) < 0) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}

describe('the clamp solve with springs', () => {
  test.each(seeds(60))('in series and beside a stop, seed %i, as a bisection has it', (seed) => {
    const next = random(seed);
    const pick = (): SpringCurve => discSpring(data.catalogue[Math.floor(next() * data.catalogue.length)]!);
    const [first, second] = [pick(), pick()];
    const [gap_mm, k, force_N] = [next() * 0.8, 1e4 * (1 + 9 * next()), 3000 * next()];
    const at = (a: number, curve: SpringCurve) => ({
      a,
      b: a + 1,
      stiffness_N_per_mm: curve.slope_N_per_mm(0),
      play_mm: 0,
      rest_mm: 0,
      curve,
    });
    const problem: ClampProblem = {
      bodies: 3,
      contacts: [{ a: 0, b: 2, gap_mm, stiffness_N_per_mm: k }],
      springs: [at(0, first), at(1, second)],
      pulls: [{ a: 0, b: 2, force_N }],
    };
    const result = clamp(problem);
    expect(result.isSolved).toBe(true);
    expect(checkClamp(problem, result).residual_N).toBeLessThan(1e-5);
    const wayOf = (curve: SpringCurve, force: number): number => bisect((by) => curve.force_N(by) - force, 0, 5);
    const through = bisect(
      (force) => {
        const by = wayOf(first, force) + wayOf(second, force);
        return force + k * Math.max(0, by - gap_mm) - force_N;
      },
      0,
      force_N,
    );
    expect(result.spring_N[0]).toBeCloseTo(through, 4);
    expect(result.spring_N[1]).toBeCloseTo(through, 4);
    expect(result.shift_mm[0]! - result.shift_mm[1]!).toBeCloseTo(wayOf(first, through), 6);
  });
});

const DISC = {
  kind: 'disc-spring',
  name: 'Disc spring',
  outside_mm: 18.6,
  bore_mm: 15.2,
  thickness_mm: 1.5,
  length_mm: 2,
  material: 'steel',
};
const CONE = { ...DISC, cone_mm: 0.5 };

/** The reference joint with two discs and a spacer of `short_mm` in place of the first spacer. */
function withDiscs(
  turned: readonly boolean[],
  short_mm: number,
  disc: Readonly<Record<string, unknown>> = DISC,
): LinkageModel {
  const data = referenceData();
  data.parts['disc'] = { ...disc, count: turned.length };
  data.parts['short'] = { ...data.parts['spacer'], name: 'Spacer, short', length_mm: short_mm, count: 1 };
  data.parts['spacer']!['count'] = 1;
  const { row } = data.pivots[0]!.stacks[0]!;
  const at = row.findIndex(({ id }) => id === 'spacer-nd');
  const discs = turned.map((isTurned, k) => ({ id: `disc-${k + 1}`, part: 'disc', turned: isTurned }));
  row.splice(at, 1, ...discs, { id: 'short', part: 'short' });
  const read = readData(data);
  if (!read.ok) throw new Error(read.problems.map(wordProblem).join('; '));
  return read.model;
}

const stackOf = (analysis: Analysis) => analysis.pivots[0]!.stacks[0]!;
const itemOf = (analysis: Analysis, rowId: string) => stackOf(analysis).items.find((item) => item.rowId === rowId)!;
const heightOf = (analysis: Analysis, rowId: string): number => {
  const { from_mm, to_mm } = itemOf(analysis, rowId);
  return to_mm - from_mm;
};
/** Height of one disc under a force. */
const heightUnder = (force_N: number): number => 2 - bisect((by) => discSpring(CONE).force_N(by) - force_N, 0, 5);

describe('a pivot with two disc springs', () => {
  test('turned against one another: each carries the whole force at the height the formula has for it', () => {
    const analysis = analyse(withDiscs([true, false], 1.66));
    const force = itemOf(analysis, 'disc-1').drive.force_N;
    expect(analysis.pivots[0]!.verdict).toBe('sound');
    expect(itemOf(analysis, 'disc-2').drive.force_N).toBeCloseTo(force, 1);
    expect(force).toBeGreaterThan(9000);
    for (const disc of ['disc-1', 'disc-2']) expect(heightOf(analysis, disc)).toBeCloseTo(heightUnder(force), 4);
    expect(analysis.pivots[0]!.check.residual_N).toBeLessThan(1e-5);
  });

  test('stands up again once nothing presses on it, about the same middle', () => {
    const analysis = analyse(withDiscs([true, false], 1.66));
    for (const disc of ['disc-1', 'disc-2']) {
      const { free, from_mm, to_mm, solids } = itemOf(analysis, disc);
      const heights = free![0]!.polygon.map(([, z]) => z);
      const [low, high] = [Math.min(...heights), Math.max(...heights)];
      expect([high - low, (low + high) / 2]).toEqual([expect.closeTo(2, 9), expect.closeTo((from_mm + to_mm) / 2, 9)]);
      expect(to_mm - from_mm).toBeLessThan(1.9);
      // The inner edge stands up to the same side, free or pressed.
      const inner = (polygon: (typeof solids)[number]['polygon']): number =>
        Math.max(...polygon.filter(([r]) => r === 15.2 / 2).map(([, z]) => z)) -
        Math.max(...polygon.filter(([r]) => r !== 15.2 / 2).map(([, z]) => z));
      expect(Math.sign(inner(free![0]!.polygon))).toBe(Math.sign(inner(solids[0]!.polygon)));
    }
    expect(itemOf(analysis, 'short').free).toBeUndefined();
  });

  test('turned the same way: they lie in one another, 1.5 mm apart, and share the force', () => {
    const analysis = analyse(withDiscs([true, true], 1.66));
    const { nonDrive, drive, from_mm } = itemOf(analysis, 'disc-1');
    const other = itemOf(analysis, 'disc-2');
    expect(drive.touches.map(({ with: one }) => one)).toEqual(['main/disc-2']);
    expect(other.from_mm - from_mm).toBeCloseTo(1.5, 9);
    expect(other.drive.force_N).toBeCloseTo(nonDrive.force_N, 1);
    for (const disc of ['disc-1', 'disc-2'])
      expect(heightOf(analysis, disc)).toBeCloseTo(heightUnder(nonDrive.force_N / 2), 4);
  });

  test('either can be turned or left out; left out, it draws the arm in', () => {
    const model = withDiscs([true, false], 1.66);
    const ids = listMistakes(model, 'main').map(({ id }) => id);
    expect(ids).toEqual(expect.arrayContaining(['left-out:main/disc-1', 'turned:main/disc-1', 'turned:main/disc-2']));
    const alone = analyse(withDiscs([true], 1.66));
    expect(alone.pivots[0]!.findings.map(({ code }) => code)).toContain('arm-drawn');
  });

  test('worn by half of its cone, each is pressed flat', () => {
    const analysis = analyse(withDiscs([true, false], 1.66, { ...DISC, length_mm: 1.75 }));
    const flat = analysis.pivots[0]!.findings.filter(({ code }) => code === 'spring-misfitted');
    expect(flat.map(({ about, parts }) => [about!['how'], ...parts])).toEqual([
      ['flat', 'main/disc-1'],
      ['flat', 'main/disc-2'],
    ]);
    for (const disc of ['disc-1', 'disc-2']) expect(heightOf(analysis, disc)).toBeCloseTo(1.5, 9);
  });

  test('is refused where its force would fall, and says what is the highest', () => {
    const data = referenceData();
    data.parts['disc'] = { ...DISC, length_mm: 3.7 };
    const read = readData(data);
    const said = read.ok ? [] : read.problems.filter(({ path }) => path === 'parts.disc.length_mm').map(wordProblem);
    expect(said.join()).toContain('at most 3.62: a steeper disc snaps through');
  });
});

describe('a pivot with a wave washer', () => {
  const wave = { outside_mm: 18.6, bore_mm: 15.2, thickness_mm: 1.2, waves: 4 };
  test('is held by a linear law until it is flat', () => {
    const washer = { kind: 'wave-washer', name: 'Wave washer', ...wave, length_mm: 1.5, material: 'steel' };
    const analysis = analyse(withDiscs([false], 3.6, washer));
    const force = itemOf(analysis, 'disc-1').drive.force_N;
    const rate = waveWasher({ ...wave, rise_mm: 0.3 }).force_N(0.1) / 0.1;
    expect(1.5 - heightOf(analysis, 'disc-1')).toBeCloseTo(Math.min(0.3, force / rate), 4);
    expect(force).toBeGreaterThan(9000);
    expect(wordFacing(itemOf(analysis, 'disc-1'), analysis)).toContain('not the waves');
  });

  test('left out it leaves the arm to be drawn in; on the tray its height tells it from a flat washer', () => {
    const washer = { kind: 'wave-washer', name: 'Wave washer', ...wave, length_mm: 1.5, material: 'steel' };
    const model = withDiscs([false], 3.6, washer);
    const row = mistakes(model, { pivot: 'main' }).find(({ mistake }) => mistake.id === 'left-out:main/disc-1')!;
    expect(row.verdict).not.toBe('sound');
    expect(row.check).toEqual({ kind: 'count', part: 'disc' });
    const flat = { kind: 'washer', name: 'Washer', outside_mm: 18.6, bore_mm: 15.2, length_mm: 1.2, material: 'steel' };
    const both = { ...model, parts: { ...model.parts, flat: { ...flat, count: 1 } } } as LinkageModel;
    expect(lookAlikes(both.parts, 'disc').map(({ id }) => id)).toContain('flat');
    const read = { outside_mm: 18.6, bore_mm: 15.2, length_mm: 1.48, count: 1 } as const;
    const tray = sortTray(both, { readings: [read], setting: { accuracy_mm: 0.05, wear: false } });
    expect(tray.rows[0]!.placements.map(({ candidate }) => candidate)).toEqual(['disc']);
  });
});
