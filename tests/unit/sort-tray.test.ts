/** The sorting tray: likelihoods, matches, what cannot be told apart, wear, what is left over, the next measurement, places. */
import { describe, expect, it, test } from 'vitest';
import {
  analyse,
  caliperPlace,
  checkReadings,
  DEFAULT_SETTING,
  listed,
  measuredSizes,
  nearestLookAlike,
  nextForRow,
  nextReading,
  partProfile,
  placesOf,
  readModel,
  sortTray,
  withMeasured,
  wordAlternative,
  wordDifference,
  wordNext,
  wordPartPlace,
  wordTrayRow,
  wordWorn,
  type CaliperReading,
  type LinkageModel,
  type NextName,
  type Tray,
  type TraySetting,
} from '../../shared/index.ts';
import { BELIEFS, misfit, sizeCost } from '../../shared/sort/misfit.ts';
import { partSizes, sizesOfKind } from '../../shared/parts/measuring.ts';
import { SIZE_NAMES } from '../../shared/parts/sizes.ts';
import { demoModels } from '../bench/models.ts';
import { random } from '../setup/random.ts';

const MODELS = demoModels();
const SKARN = MODELS.find(({ id }) => id === 'skarn-140')!;
const HOLT = MODELS.find(({ id }) => id === 'holt-120')!;
const FJORD = MODELS.find(({ id }) => id === 'fjordside-150')!;
const RIG = MODELS.find(({ id }) => id === 'class-rig')!;

/** Sorts readings after holding that nothing about them is refused. */
function sorted(
  model: LinkageModel,
  given: readonly Partial<CaliperReading>[],
  setting: TraySetting = DEFAULT_SETTING,
): Tray {
  const readings = given.map((reading): CaliperReading => ({ count: 1, ...reading }));
  expect(checkReadings({ readings, setting }, model)).toEqual([]);
  return sortTray(model, { readings, setting });
}
const names = (tray: Tray, row = 0): (string | undefined)[] => [
  tray.rows[row]!.placements[0]?.candidate,
  ...tray.rows[row]!.alternatives.map(({ candidate }) => candidate),
];

describe('the likelihood of one size', () => {
  const peak = 1 / (0.025 * Math.sqrt(2 * Math.PI));
  const share = (size: Parameters<typeof sizeCost>[1], setting: TraySetting): number => {
    let sum = 0;
    for (let read = 4; read <= 8; read += 0.001)
      sum += peak * Math.exp(-sizeCost(read, size, 'length_mm', setting)) * 0.001;
    return sum;
  };
  const exact = { nominal: 6, low: 6, high: 6 };
  test.each([
    ['exact, unworn', { ...exact, wears: 0 }],
    ['exact, wears shorter', { ...exact, wears: -1 }],
    ['exact, wears wider', { ...exact, wears: 1 }],
    ['with a tolerance', { nominal: 6, low: 5.88, high: 6, wears: 0 }],
    ['with a tolerance, wears shorter', { nominal: 6, low: 5.9, high: 6, wears: -1 }],
  ] as const)('adds up to one over everything that can be read: %s', (_, size) => {
    expect(share(size, DEFAULT_SETTING)).toBeCloseTo(1, 5);
  });
  it('forgives what wear explains and nothing else', () => {
    const worn = { ...exact, wears: -1 as const };
    const at = (read: number, wear = true): number => sizeCost(read, worn, 'length_mm', { doubt_mm: 0.05, wear });
    expect(at(5.7)).toBeLessThan(at(6.3));
    expect(at(5.7, false)).toBeCloseTo(at(6.3, false), 9);
    expect(at(6.3)).toBeGreaterThan(30);
    expect(at(5.7)).toBeLessThan(-Math.log(BELIEFS.wornShare) + 0.3 / BELIEFS.meanWear_mm + 3);
  });
  it('is a normal’s where nothing wears: ½z² above its least', () => {
    const cost = (read: number): number => sizeCost(read, { ...exact, wears: 0 }, 'length_mm', DEFAULT_SETTING);
    for (const z of [0, 1, 2, 5, 12, 30]) expect(cost(6 + z * 0.025)).toBeCloseTo((z * z) / 2, 6);
  });
  it('tells every size of every part, and no size its kind cannot have', () => {
    for (const part of MODELS.flatMap((model) => Object.values(model.parts))) {
      const sizes = partSizes(part);
      for (const name of SIZE_NAMES) {
        const size = sizes[name];
        if (!sizesOfKind(part.kind).includes(name)) expect(size).toBeUndefined();
        if (size) expect(size.low <= size.nominal && size.nominal <= size.high).toBe(true);
      }
    }
  });
});

describe('matches', () => {
  it('never takes two readings for the one ring of which there is only one', () => {
    const tray = sorted(SKARN, [
      { kind: 'tapered-spacer', outside_mm: 27, length_mm: 4.5 },
      { kind: 'tapered-spacer', outside_mm: 27, length_mm: 4 },
    ]);
    expect(tray.rows.map(({ placements }) => placements[0]?.candidate)).toEqual(['link-cone-long', 'link-cone-short']);
  });
  it('says so when a part is known by elimination only', () => {
    const tray = sorted(SKARN, [
      { kind: 'tapered-spacer', outside_mm: 27, length_mm: 4 },
      { kind: 'tapered-spacer', outside_mm: 27 },
    ]);
    expect(tray.rows[1]).toMatchObject({ isSure: true, byElimination: true });
    expect(wordTrayRow(tray.rows[1]!, tray).text).toContain('By elimination');
    expect(tray.rows[0]!.byElimination).toBe(false);
  });
  it('never hides a part that could as well be meant', () => {
    const tray = sorted(SKARN, [{ kind: 'tapered-spacer', outside_mm: 27, small_mm: 17.8, bore_mm: 15.2 }]);
    expect(names(tray)).toEqual(['link-cone-long', 'link-cone-short']);
    const [other] = tray.rows[0]!.alternatives;
    expect(other!.odds).toBeCloseTo(1, 9);
    const words = wordAlternative(other!, tray.rows[0]!, tray);
    expect(words).toContain('cannot be told apart by what you measured');
    expect(words).toContain('Tapered spacer, 4 mm is 1.5 mm shorter');
  });
  it('takes a bore given only by the axle it slides on', () => {
    const on = (slides_on: string): Tray =>
      sorted(HOLT, [{ kind: 'spacer', outside_mm: 19.2, length_mm: 6, slides_on }]);
    // Bores of 17.2 pass a 16.98 shank; a 15.2 one does not, but goes on the 14.98 step of the same axle.
    expect(names(on('rocker-axle'))).toEqual(['main-spacer-15']);
    expect(new Set(names(on('main-axle')))).toEqual(new Set(['main-spacer-15', 'main-spacer-17']));
    const byLabel = sorted(HOLT, [
      { label: 'B', kind: 'axle', outside_mm: 16.98, head_mm: 27 },
      { kind: 'spacer', outside_mm: 19.2, length_mm: 6, slides_on: 'B' },
    ]);
    expect(names(byLabel, 1)).toEqual(['main-spacer-17']);
  });
  it('goes by thread, pitch or count of turns, and by the tool', () => {
    const m12 = sorted(SKARN, [{ kind: 'nut', thread_mm: 12, turns_in_10mm: 10 }]);
    expect(names(m12).sort()).toEqual(['tip-nut', 'waisted-nut']);
    expect(names(sorted(SKARN, [{ kind: 'nut', thread_mm: 12, drive: { tool: 'spanner', size_mm: 20 } }]))).toEqual([
      'tip-nut',
    ]);
    // The crest of crest measures under its name (ISO 965, class 6g).
    expect(names(sorted(SKARN, [{ kind: 'axle', thread_mm: 14.85 }]))).toEqual(['lower-link-axle']);
    // The hole of an M15×1 nut (ISO 965, 6H): 13.917 to 14.153.
    expect(names(sorted(SKARN, [{ kind: 'nut', bore_mm: 14.05 }]))).toEqual(['lower-link-nut']);
  });
  it('looks in the standard tables for what the list has not', () => {
    const tray = sorted(SKARN, [
      { kind: 'bearing', bore_mm: 17, outside_mm: 30, length_mm: 6.95 },
      { kind: 'nut', thread_mm: 14, pitch_mm: 1.5 },
    ]);
    expect(tray.rows.map(({ placements }) => placements[0]?.candidate)).toEqual(['bearing:61903', 'thread:M14×1.5']);
    expect(wordTrayRow(tray.rows[0]!, tray).text).toContain('parts list has none');
  });
  it('leaves a stranger unmatched, and one too many left over', () => {
    const tray = sorted(SKARN, [
      { kind: 'spacer', outside_mm: 40, bore_mm: 20, length_mm: 3.3 },
      { kind: 'spacer', count: 3, outside_mm: 17.8, bore_mm: 15.2, length_mm: 5.5 },
    ]);
    expect(tray.rows[0]).toMatchObject({ placements: [], leftOver: 1, isSure: false });
    expect(tray.rows[0]!.looksLike).toBeUndefined();
    expect(tray.rows[1]).toMatchObject({ leftOver: 1, looksLike: 'rocker-spacer', isSure: false });
    expect(tray.rows[1]!.placements[0]).toMatchObject({ candidate: 'rocker-spacer', pieces: 2 });
  });
  it('says which of several look-alikes may be the one too many', () => {
    const tray = sorted(
      SKARN,
      [5.5, 5.51, 5.49].map((length_mm) => ({ kind: 'spacer', outside_mm: 17.8, bore_mm: 15.2, length_mm }) as const),
    );
    expect(tray.rows.filter(({ leftOver }) => leftOver === 1).length).toBe(1);
    expect(tray.rows.every(({ isSure, alternatives }) => !isSure && alternatives.length > 0)).toBe(true);
  });
  it('keeps pieces said to be alike together', () => {
    const tray = sorted(SKARN, [
      { label: 'pair', kind: 'spacer', count: 2, outside_mm: 15 },
      { label: 'one', kind: 'spacer', outside_mm: 15 },
    ]);
    expect(tray.rows[0]!.placements).toMatchObject([{ candidate: 'trunnion-spacer', pieces: 2 }]);
    expect(tray.rows.map(({ isSure }) => isSure)).toEqual([false, false]);
  });
  it('counts what is missing by what the build uses', () => {
    const tray = sorted(RIG, [{ kind: 'tapered-spacer', length_mm: 6 }]);
    expect(tray.missing).toEqual([
      { candidate: 'rig-axle', pieces: 1 },
      { candidate: 'rig-bearing', pieces: 2 },
      { candidate: 'rig-nut', pieces: 1 },
      { candidate: 'rig-spacer', pieces: 1 },
    ]);
  });
  it('does not depend on the order of entry, seeds 1 to 20', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const draw = random(seed);
      const list = listed(SKARN);
      const given = list.flatMap((candidate): CaliperReading[] => {
        if (draw.chance(0.3)) return [];
        const taken = SIZE_NAMES.filter(
          (name) => candidate.sizes[name] && name !== 'turns_in_10mm' && draw.chance(0.35),
        );
        if (taken.length === 0) return [];
        return [
          {
            label: `${candidate.id} ${seed}`,
            kind: candidate.kind!,
            count: draw.whole(1, candidate.count),
            ...Object.fromEntries(
              taken.map((name) => [name, candidate.sizes[name]!.nominal + draw.between(-0.04, 0.04)]),
            ),
          },
        ];
      });
      const said = (tray: Tray): string[] =>
        tray.rows
          .map((row) =>
            JSON.stringify([
              row.reading.label,
              row.placements,
              row.leftOver,
              row.looksLike,
              row.alternatives,
              row.isSure,
            ]),
          )
          .sort();
      const first = sorted(SKARN, given);
      const next = nextReading(first);
      for (let turn = 0; turn < 3; turn++) {
        const again = sorted(SKARN, draw.shuffled(given));
        expect(said(again)).toEqual(said(first));
        expect(again.missing).toEqual(first.missing);
        const nextAgain = nextReading(again);
        expect([nextAgain?.name, nextAgain && again.rows[nextAgain.row]!.reading.label]).toEqual([
          next?.name,
          next && first.rows[next.row]!.reading.label,
        ]);
      }
    }
  });
});

describe('wear', () => {
  const ring = { kind: 'spacer', outside_mm: 17.8, bore_mm: 15.2 } as const;
  it.each([
    [5.48, 0, false],
    [5.42, 1, false],
    [5.3, 1, true],
  ])('a 5.5 mm ring of %f mm', (length_mm, count, isBeyond) => {
    const tray = sorted(SKARN, [{ ...ring, length_mm }]);
    const { worn } = tray.rows[0]!.placements[0]!;
    expect(worn.length).toBe(count);
    if (count === 0) return;
    expect(worn[0]).toMatchObject({ name: 'length_mm', isBeyond });
    expect(worn[0]!.gone_mm).toBeCloseTo(5.5 - length_mm, 9);
    expect(wordWorn(worn[0]!, 'spacer')).toMatch(
      isBeyond ? /more than the 0.1 mm.*Do not fit it again/ : /within the 0.1 mm/,
    );
  });
  it('is not what makes a ring longer, and can be left out', () => {
    const longer = sorted(SKARN, [{ ...ring, length_mm: 5.7 }]).rows[0]!;
    expect(longer.placements.flatMap(({ worn }) => worn)).toEqual([]);
    expect(longer.isSure).toBe(false);
    expect(sorted(SKARN, [{ ...ring, length_mm: 5.3 }], { doubt_mm: 0.05, wear: false }).rows[0]!.isSure).toBe(false);
  });
});

describe('the next measurement', () => {
  it('is the length where only the length tells two rings apart, and then settles them', () => {
    const given = { kind: 'tapered-spacer', outside_mm: 26, bore_mm: 15.2, small_mm: 17.8 } as const;
    const tray = sorted(SKARN, [{ label: 'X', ...given }]);
    const next = nextReading(tray)!;
    expect(next).toMatchObject({ row: 0, name: 'length_mm', again: false });
    expect(next.between.slice().sort()).toEqual(['rocker-cone', 'swing-cone-long', 'swing-cone-short']);
    // Three parts, equally likely, told apart without doubt: log2 3 bits.
    expect(next.gain_bits).toBeCloseTo(Math.log2(3), 6);
    expect(next.sureAfter).toBeCloseTo(1, 6);
    expect(wordNext(next, tray).title).toBe('Measure next: the length of “X”');
    for (const length_mm of [7, 8.5, 10]) expect(sorted(SKARN, [{ ...given, length_mm }]).rows[0]!.isSure).toBe(true);
  });
  it('asks what a part is before it asks for sizes that not every part has', () => {
    const next = nextReading(sorted(FJORD, [{ length_mm: 12 }]))!;
    expect(next.name).toBe('kind');
  });
  it('asks for the tool where sizes cannot tell', () => {
    const twins: LinkageModel = {
      ...SKARN,
      parts: { ...SKARN.parts, 'tip-nut': { ...SKARN.parts['waisted-nut']!, name: 'Twin nut' } },
    };
    const next = nextReading(sorted(twins, [{ kind: 'nut', thread_mm: 12, outside_mm: 24 }]))!;
    expect(next).toMatchObject({ name: 'drive' });
    expect(next.gain_bits).toBeCloseTo(1, 6);
  });
  it('asks for nothing when nothing is in doubt, or nothing would settle it', () => {
    expect(nextReading(sorted(SKARN, [{ kind: 'bearing', bore_mm: 12 }]))).toBeUndefined();
    const twins: LinkageModel = {
      ...SKARN,
      parts: { ...SKARN.parts, 'eye-tube': { ...SKARN.parts['trunnion-spacer']!, name: 'Twin', count: 1 } },
    };
    const tray = sorted(twins, [{ kind: 'spacer', length_mm: 7, outside_mm: 15 }]);
    expect(tray.rows[0]!.isSure).toBe(false);
    expect(nextForRow(tray, 0)).toBeUndefined();
    expect(wordAlternative(tray.rows[0]!.alternatives[0]!, tray.rows[0]!, tray)).toContain('either will do');
  });
  it('asks for a reading once more where parts lie within a few doubts', () => {
    const near: LinkageModel = {
      ...SKARN,
      parts: {
        ...SKARN.parts,
        'link-cone-short': {
          ...SKARN.parts['link-cone-long']!,
          name: 'Nearly',
          length_mm: 5.42,
        } as LinkageModel['parts'][string],
      },
    };
    const reading = {
      kind: 'tapered-spacer',
      outside_mm: 27,
      bore_mm: 15.2,
      small_mm: 17.8,
      large_mm: 27,
      length_mm: 5.46,
    } as const;
    expect(nextReading(sorted(near, [reading]))).toMatchObject({ name: 'length_mm', again: true });
  });
  it('has a place for the calipers on every size of every part, on the part itself', () => {
    for (const part of MODELS.flatMap((model) => Object.values(model.parts))) {
      const { from_mm, to_mm, solids } = partProfile(part);
      const widest = Math.max(...solids.flatMap(({ polygon }) => polygon.map(([r]) => r)));
      for (const name of [...sizesOfKind(part.kind), 'kind'] as NextName[]) {
        if (name === 'bore_mm' && partSizes(part).bore_mm === undefined) continue;
        const place = caliperPlace(part, name);
        expect(place, `${part.name} ${name}`).toBeDefined();
        for (const [r, z] of [place!.from, place!.to]) {
          expect(Math.abs(r)).toBeLessThanOrEqual(widest + 1e-9);
          expect(z).toBeGreaterThanOrEqual(from_mm - 1e-9);
          expect(z).toBeLessThanOrEqual(to_mm + 1e-9);
        }
        const size = partSizes(part)[name as (typeof SIZE_NAMES)[number]];
        const span = Math.hypot(place!.from[0] - place!.to[0], place!.from[1] - place!.to[1]);
        // What stands between the jaws is the size itself; a thread's hole is drawn at its nominal size.
        if (size && ['length_mm', 'outside_mm', 'head_mm', 'small_mm', 'large_mm'].includes(name))
          expect(span, `${part.name} ${name}`).toBeCloseTo(size.nominal, 6);
      }
    }
  });
});

describe('where it goes', () => {
  it('names pivot, side, neighbours and facing', () => {
    const analysis = analyse(SKARN);
    const [short] = placesOf(analysis, 'link-cone-short');
    expect(short).toMatchObject({ pivotId: 'lower-frame', side: 'non-drive', smallFace: 'drive' });
    expect(wordPartPlace(short!, analysis)).toContain(
      'non-drive side, between Lower link boss (non-drive) and Bearing 15 × 28 × 7 (non-drive), small face to the drive side',
    );
    expect(placesOf(analysis, 'frame-tube')[0]!.side).toBe('middle');
    expect(placesOf(analysis, 'lower-link-axle')[0]).toMatchObject({ role: 'axle', from: 'drive' });
  });
  it('has as many places for each part as the build uses', () => {
    for (const model of MODELS) {
      const analysis = analyse(model);
      for (const { id, used } of listed(model)) expect(placesOf(analysis, id).length).toBe(used);
    }
  });
  it('names the look-alike and what tells it apart', () => {
    const list = listed(SKARN);
    const own = list.find(({ id }) => id === 'swing-cone-short')!;
    const nearest = nearestLookAlike(own, list, 0.05)!;
    expect(nearest.other.id).toBe('rocker-cone');
    expect(wordDifference(nearest.telling!)).toBe('1.5 mm longer');
  });
});

describe('into the job', () => {
  const ring = { kind: 'spacer', outside_mm: 17.8, bore_mm: 15.2 } as const;
  it('takes over only sure sizes that differ by more than the doubt, the furthest off of several', () => {
    const tray = sorted(SKARN, [
      { ...ring, length_mm: 5.44 },
      { ...ring, length_mm: 5.35 },
      { kind: 'tapered-spacer', outside_mm: 26, length_mm: 7.02, bore_mm: 15.2 },
    ]);
    expect(measuredSizes(tray)).toEqual([
      { part: 'rocker-spacer', name: 'length_mm', nominal_mm: 5.5, measured_mm: 5.35 },
    ]);
    const { model, taken, refused } = withMeasured(SKARN, measuredSizes(tray));
    expect([taken.length, refused.length]).toEqual([1, 0]);
    expect(model.parts['rocker-spacer']).toMatchObject({ length_mm: 5.35 });
    expect(SKARN.parts['rocker-spacer']).toMatchObject({ length_mm: 5.5 });
  });
  it('leaves alone what it is not sure of, however far off', () => {
    const tray = sorted(SKARN, [{ kind: 'tapered-spacer', outside_mm: 26, bore_mm: 15.4 }]);
    expect(tray.rows[0]).toMatchObject({ isSure: false, placements: [{ worn: [{ name: 'bore_mm' }] }] });
    expect(measuredSizes(tray)).toEqual([]);
  });
  it('lets the fit check see a worn ring', () => {
    const { model } = withMeasured(SKARN, [
      { part: 'rocker-spacer', name: 'length_mm', nominal_mm: 5.5, measured_mm: 4.2 },
    ]);
    const before = analyse(SKARN).pivots.find(({ id }) => id === 'rocker-swingarm')!;
    const after = analyse(model).pivots.find(({ id }) => id === 'rocker-swingarm')!;
    expect(before.verdict).toBe('sound');
    expect(after.verdict).toBe('faulty');
  });
  it('refuses a size that contradicts the model, and gives a model that can be read again', () => {
    const { model, refused } = withMeasured(SKARN, [
      { part: 'rocker-spacer', name: 'bore_mm', nominal_mm: 15.2, measured_mm: 17.9 },
      { part: 'rocker-cone', name: 'small_mm', nominal_mm: 17.8, measured_mm: 17.6 },
      { part: 'eye-axle', name: 'head_mm', nominal_mm: 20, measured_mm: 19.8 },
      { part: 'eye-axle', name: 'outside_mm', nominal_mm: 11.98, measured_mm: 11.9 },
      { part: 'tip-nut', name: 'small_mm', nominal_mm: 18, measured_mm: 17.9 },
      { part: 'bearing-15', name: 'length_mm', nominal_mm: 7, measured_mm: 6.7 },
    ]);
    expect(refused.map(({ part }) => part)).toEqual(['rocker-spacer', 'bearing-15']);
    expect(readModel(JSON.stringify(model)).ok).toBe(true);
    expect(model.parts['eye-axle']).toMatchObject({
      head: { diameter_mm: 19.8 },
      shank: [{ diameter_mm: 11.9 }, { diameter_mm: 10 }],
    });
  });
});

it('a misfit is counted in doubts and forbids what cannot be meant', () => {
  const [cone] = listed(SKARN).filter(({ id }) => id === 'rocker-cone');
  expect(
    misfit({ kind: 'tapered-spacer', sizes: { length_mm: 7.1 } }, cone!, DEFAULT_SETTING)!.misfit_doubts,
  ).toBeCloseTo(2, 9);
  expect(misfit({ kind: 'bearing', sizes: { length_mm: 7 } }, cone!, DEFAULT_SETTING)).toBeUndefined();
  expect(misfit({ sizes: { head_mm: 20 } }, cone!, DEFAULT_SETTING)).toBeUndefined();
});
