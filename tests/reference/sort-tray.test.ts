/**
 * The sorting tray against the outside world: printed tables of the normal distribution, ISO 15 bearing sizes, ISO 965
 * thread limits, and seeded trials with the stated calliper error on every demo model.
 */
import { describe, expect, it, test } from 'vitest';
import {
  checkReadings,
  listed,
  sortTray,
  type CalliperReading,
  type Candidate,
  type LinkageModel,
  type Tray,
} from '../../shared/index.ts';
import { DEVIATIONS_PER_ACCURACY } from '../../shared/sort/misfit.ts';
import { logNormal, logShareBelow, logShareBetween } from '../../shared/numbers/normal.ts';
import { crestLimits, holeLimits } from '../../shared/standards/thread-limits.ts';
import { demoModels } from '../bench/models.ts';
import { random, type Random } from '../setup/random.ts';
import iso15 from './data/bearings-iso15.json';
import limits from './data/thread-limits-b113m.json';
import { cases, seedOf } from '../setup/series.ts';

const MODELS = demoModels();
const ACCURACY_mm = 0.05;
const SETTING = { accuracy_mm: ACCURACY_mm, wear: true };
const modelOf = (id: string): LinkageModel => MODELS.find((model) => model.id === id)!;

/** One draw of a normal, by Box and Muller. */
function normal(draw: Random): number {
  return Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
}

describe('normal distribution, against values of its printed tables (from memory) and bounds (first principles)', () => {
  test.each([
    [0, 0.5],
    [1, 0.8413447461],
    [1.96, 0.9750021049],
    [2.5, 0.9937903347],
    [-1, 0.1586552539],
    [-2.4, 0.008197536],
    [-3, 0.001349898],
    [-6, 9.865876e-10],
  ])('share below %f is %f', (z, share) => {
    expect(Math.exp(logShareBelow(z)) / share).toBeCloseTo(1, 6);
  });
  it('keeps its digits in the far tail, where φ(z)/z·(1 − 1/z² + 3/z⁴) bounds it', () => {
    for (const z of [8, 12, 20, 37]) {
      const upper = logNormal(z) - Math.log(z) + Math.log(1 - z ** -2 + 3 * z ** -4);
      const lower = logNormal(z) - Math.log(z) + Math.log(1 - z ** -2);
      expect(logShareBelow(-z)).toBeLessThan(upper);
      expect(logShareBelow(-z)).toBeGreaterThan(lower);
    }
  });
  it('meets at the seam of its two methods and mirrors', () => {
    for (const z of [-2.5, 2.5]) expect(logShareBelow(z - 1e-9)).toBeCloseTo(logShareBelow(z + 1e-9), 7);
    expect(logShareBetween(-1, 3)).toBeCloseTo(logShareBetween(-3, 1), 12);
    expect(logShareBetween(5, 6)).toBeCloseTo(Math.log(2.8566498e-7), 5);
  });
});

describe(limits.source, () => {
  test.each(limits.holes)('hole of M$size_mm × $pitch_mm', (row) => {
    const { low_mm, high_mm } = holeLimits(row);
    expect(Math.abs(low_mm - row.low_mm)).toBeLessThanOrEqual(limits.allowed_mm);
    expect(Math.abs(high_mm - row.high_mm)).toBeLessThanOrEqual(limits.allowed_mm);
  });
  test.each(limits.crests)('crest of M$size_mm × $pitch_mm', (row) => {
    const { low_mm, high_mm } = crestLimits(row);
    expect(Math.abs(low_mm - row.low_mm)).toBeLessThanOrEqual(limits.allowed_mm);
    expect(Math.abs(high_mm - row.high_mm)).toBeLessThanOrEqual(limits.allowed_mm);
  });
  test.each(limits.crestTolerances.rows)('crest tolerance of pitch $pitch_mm', ({ pitch_mm, es_um, ei_um }) => {
    const { low_mm, high_mm } = crestLimits({ size_mm: 12, pitch_mm });
    expect((high_mm - low_mm) * 1000).toBeCloseTo(es_um - ei_um, 6);
  });
});

describe(`a tray of bearings: ${iso15.source}`, () => {
  const model = modelOf('class-rig');
  const nameOf = ({ placements }: Tray['rows'][number]): string =>
    placements[0]?.candidate === 'rig-bearing' ? '61902' : (placements[0]?.candidate.replace('bearing:', '') ?? '');
  it('names every one by its three sizes, all on one tray', () => {
    const readings = iso15.rows.map(
      (row): CalliperReading => ({
        label: row.name,
        kind: 'bearing',
        count: 1,
        bore_mm: row.bore_mm,
        outside_mm: row.outside_mm,
        length_mm: row.width_mm,
      }),
    );
    const tray = sortTray(model, { readings, setting: SETTING });
    expect(tray.rows.map((row) => [nameOf(row), row.isSure])).toEqual(iso15.rows.map((row) => [row.name, true]));
  });
  it('still does when each ring is 0.12 mm narrower, as ISO 492 Normal allows (SKF18 p. 38)', () => {
    const readings = iso15.rows.map(
      (row): CalliperReading => ({
        label: row.name,
        kind: 'bearing',
        count: 1,
        bore_mm: row.bore_mm,
        outside_mm: row.outside_mm,
        length_mm: row.width_mm - 0.12,
      }),
    );
    const tray = sortTray(model, { readings, setting: SETTING });
    expect(tray.rows.map(nameOf)).toEqual(iso15.rows.map((row) => row.name));
    for (const row of tray.rows) expect(row.placements[0]!.fit.misfit_accuracies).toBeLessThan(0.01);
  });
  it('says which rows share bore and outside and are told by their width alone', () => {
    const pairs = iso15.rows.filter((row) =>
      iso15.rows.some((other) => other !== row && other.bore_mm === row.bore_mm && other.outside_mm === row.outside_mm),
    );
    expect(pairs.length).toBe(12);
    for (const row of pairs) {
      const tray = sortTray(model, {
        readings: [{ kind: 'bearing', count: 1, bore_mm: row.bore_mm, outside_mm: row.outside_mm }],
        setting: SETTING,
      });
      const others = tray.rows[0]!.alternatives;
      expect(others.length).toBe(1);
      expect(others[0]!.cannotBeTold).toBe(true);
      expect(others[0]!.apart[0]!.name).toBe('length_mm');
    }
  });
});

/** The sizes a hand would take of a part; the gauge's are not subject to the calliper's error. */
const CALLIPER = ['length_mm', 'outside_mm', 'bore_mm', 'head_mm', 'large_mm', 'small_mm'] as const;

/** Every part of a model as one tray, read with the stated error; a size with a tolerance is spread over it. */
function readAll(
  list: readonly Candidate[],
  draw: Random,
  names: readonly (typeof CALLIPER)[number][] = CALLIPER,
): CalliperReading[] {
  return draw.shuffled(
    list.map((candidate): CalliperReading => {
      const sizes = names.flatMap((name) => {
        const size = candidate.sizes[name];
        return size
          ? [
              [
                name,
                draw.between(size.low, size.high) + (ACCURACY_mm / DEVIATIONS_PER_ACCURACY) * normal(draw),
              ] as const,
            ]
          : [];
      });
      return { label: candidate.id, kind: candidate.kind!, count: candidate.count, ...Object.fromEntries(sizes) };
    }),
  );
}

/** The most by which any size tells two candidates apart, in units of the accuracy. */
function accuraciesApart(one: Candidate, other: Candidate, names: readonly (typeof CALLIPER)[number][]): number {
  return names.reduce((most, name) => {
    const [mine, its] = [one.sizes[name], other.sizes[name]];
    return mine && its ? Math.max(most, Math.max(its.low - mine.high, mine.low - its.high) / ACCURACY_mm) : most;
  }, 0);
}

const isRight = ({ reading, placements }: Tray['rows'][number]): boolean =>
  placements.length === 1 && placements[0]!.candidate === reading.label;

/**
 * The model with the length of each part pulled toward that of its likeness until they are so many times the accuracy
 * apart.
 */
function drawnTogether(model: LinkageModel, one: string, other: string, accuracies: number): LinkageModel {
  const [a, b] = [model.parts[one]!, model.parts[other]!];
  if (!('length_mm' in a) || !('length_mm' in b)) throw new Error('fixture: no length');
  return {
    ...model,
    parts: {
      ...model.parts,
      [one]: {
        ...b,
        name: a.name,
        ...(a.count === undefined ? {} : { count: a.count }),
        length_mm: b.length_mm + accuracies * ACCURACY_mm,
      },
    },
  };
}

/** Trays of a series, and how many of them one in a thousand is; none in a slice that is shorter. */
const TRAYS = cases(40);
const PER_1000 = Math.floor(TRAYS / 1000);

describe('trays read with a normal error of which the accuracy, 0.05 mm, is two deviations (JCGM 100, k = 2), seed 20261', () => {
  test.each(MODELS.map((model) => [model.id, model] as const))(
    '%s: every part that differs by 4 times the accuracy from all others is sorted right',
    (_, model) => {
      const list = listed(model);
      const told = new Set(
        list
          .filter((own) =>
            list.every(
              (other) => other === own || other.kind !== own.kind || accuraciesApart(own, other, CALLIPER) >= 4,
            ),
          )
          .map(({ id }) => id),
      );
      // Every demo part is that different from every other.
      expect(told.size).toBe(list.length);
      const draw = random(seedOf(20_261));
      let right = 0;
      for (let trial = 0; trial < TRAYS; trial++) {
        const tray = sortTray(model, { readings: readAll(list, draw), setting: SETTING });
        if (tray.rows.every(isRight)) right++;
      }
      expect(right).toBeGreaterThanOrEqual(TRAYS - PER_1000);
    },
  );

  const PAIRS = [
    ['skarn-140', 'rocker-cone-short', 'rocker-cone-long'],
    ['holt-120', 'shock-spacer', 'link-spacer'],
    ['fjordside-150', 'upper-spacer', 'eye-tube'],
    ['skarn-140', 'shock-rear-spacer', 'eye-tube'],
  ] as const;
  const trial = (model: LinkageModel, pair: readonly string[], draw: Random): Tray['rows'] =>
    sortTray(model, { readings: readAll(listed(model), draw), setting: SETTING }).rows.filter(({ reading }) =>
      pair.includes(reading.label!),
    );

  test.each(PAIRS)('%s: %s drawn to 4 times the accuracy from %s is still sorted right', (id, one, other) => {
    const model = drawnTogether(modelOf(id), one, other, 4);
    const draw = random(seedOf(4));
    let right = 0;
    for (let k = 0; k < TRAYS; k++) if (trial(model, [one, other], draw).every(isRight)) right++;
    expect(right).toBeGreaterThanOrEqual(TRAYS - PER_1000);
  });
  test.each(PAIRS)(
    '%s: %s drawn to 0.9 times the accuracy from %s is called undecided every time',
    (id, one, other) => {
      const model = drawnTogether(modelOf(id), one, other, 0.9);
      const draw = random(seedOf(9));
      for (let k = 0; k < cases(20); k++) {
        const rows = trial(model, [one, other], draw);
        expect(rows.length).toBe(2);
        for (const row of rows) {
          const rival = row.reading.label === one ? other : one;
          const named = [
            ...row.placements.map(({ candidate }) => candidate),
            ...row.alternatives.map(({ candidate }) => candidate),
          ];
          expect(row.isSure).toBe(false);
          expect(named).toContain(row.reading.label);
          expect(named).toContain(rival);
          expect(row.alternatives.some(({ cannotBeTold }) => cannotBeTold)).toBe(true);
        }
      }
    },
  );
  test.each(PAIRS)(
    '%s: %s between 1 and 4 times the accuracy from %s is never sorted wrong in silence more than once in 1,000',
    (id, one, other) => {
      const draw = random(seedOf(25));
      let silent = 0;
      for (let k = 0; k < TRAYS; k++) {
        const model = drawnTogether(modelOf(id), one, other, 1 + (k % 30) / 10);
        for (const row of trial(model, [one, other], draw)) if (!isRight(row) && row.isSure) silent++;
      }
      expect(silent).toBeLessThanOrEqual(2 * PER_1000);
    },
  );
  test.each(MODELS.map((model) => [model.id, model] as const))(
    '%s: half a tray, half the sizes: what is called sure is right',
    (_, model) => {
      const list = listed(model);
      const draw = random(seedOf(77));
      let sure = 0;
      let wrong = 0;
      for (let k = 0; k < cases(120); k++) {
        const some = list.filter(() => draw.chance(0.5));
        if (some.length === 0) continue;
        const names = CALLIPER.filter(() => draw.chance(0.5));
        const readings = readAll(some, draw, names);
        expect(checkReadings({ readings, setting: SETTING }, model)).toEqual([]);
        for (const row of sortTray(model, { readings, setting: SETTING }).rows) {
          if (!row.isSure) continue;
          sure++;
          if (!isRight(row)) wrong++;
        }
      }
      expect(sure).toBeGreaterThan(0.2 * cases(120));
      expect(wrong / sure).toBeLessThan(0.001);
    },
  );
});
