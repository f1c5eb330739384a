/**
 * The sorting tray: likelihoods, matches, what cannot be told apart, wear, what is left over, the next measurement,
 * places.
 */
import { describe, expect, it, test } from 'vitest';
import {
  kindOf,
  analyse,
  calliperPlace,
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
  type CalliperReading,
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
  given: readonly Partial<CalliperReading>[],
  setting: TraySetting = DEFAULT_SETTING,
): Tray {
  const readings = given.map((reading): CalliperReading => ({ count: 1, ...reading }));
  expect(checkReadings({ readings, setting }, model)).toEqual([]);
  return sortTray(model, { readings, setting });
}
const names = (tray: Tray, row = 0): (string | undefined)[] => [
  tray.rows[row]!.placements[0]?.candidate,
  ...tray.rows[row]!.alternatives.map(({ candidate }) => candidate),
];
const nominal = (model: LinkageModel, part: string, name: (typeof SIZE_NAMES)[number]): number =>
  partSizes(model.parts[part]!)[name]!.nominal;

/**
 * The two tapered spacers of the rocker, alike but for their length, and the two plain spacers of the upper shock eye.
 */
const CONE = {
  outside_mm: nominal(SKARN, 'rocker-cone-short', 'outside_mm'),
  large_mm: nominal(SKARN, 'rocker-cone-short', 'large_mm'),
  small_mm: nominal(SKARN, 'rocker-cone-short', 'small_mm'),
  bore_mm: nominal(SKARN, 'rocker-cone-short', 'bore_mm'),
  short_mm: nominal(SKARN, 'rocker-cone-short', 'length_mm'),
  long_mm: nominal(SKARN, 'rocker-cone-long', 'length_mm'),
} as const;
const MOUNT = {
  kind: 'spacer',
  outside_mm: nominal(SKARN, 'shock-rear-spacer', 'outside_mm'),
  bore_mm: nominal(SKARN, 'shock-rear-spacer', 'bore_mm'),
} as const;
const MOUNT_mm = nominal(SKARN, 'shock-rear-spacer', 'length_mm');

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
    const at = (read: number, wear = true): number => sizeCost(read, worn, 'length_mm', { accuracy_mm: 0.05, wear });
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
    // The long one is 1.5 mm longer here, so that the first reading lies nearer the short one, of which there is one.
    const long = { ...SKARN.parts['rocker-cone-long']!, length_mm: CONE.short_mm + 1.5 };
    const near = { ...SKARN, parts: { ...SKARN.parts, 'rocker-cone-long': long as LinkageModel['parts'][string] } };
    const tray = sorted(near, [
      { kind: 'tapered-spacer', outside_mm: CONE.outside_mm, length_mm: CONE.short_mm + 0.5 },
      { kind: 'tapered-spacer', outside_mm: CONE.outside_mm, length_mm: CONE.short_mm },
    ]);
    expect(tray.rows.map(({ placements }) => placements[0]?.candidate)).toEqual([
      'rocker-cone-long',
      'rocker-cone-short',
    ]);
  });
  it('says so when a part is known by elimination only', () => {
    const tray = sorted(SKARN, [
      { kind: 'tapered-spacer', outside_mm: CONE.outside_mm, length_mm: CONE.short_mm },
      { kind: 'tapered-spacer', outside_mm: CONE.outside_mm },
    ]);
    expect(tray.rows[1]).toMatchObject({ isSure: true, byElimination: true });
    expect(wordTrayRow(tray.rows[1]!, tray).text).toContain('By elimination');
    expect(tray.rows[0]!.byElimination).toBe(false);
  });
  it('never hides a part that could as well be meant', () => {
    const { outside_mm, small_mm, bore_mm } = CONE;
    const tray = sorted(SKARN, [{ kind: 'tapered-spacer', outside_mm, small_mm, bore_mm }]);
    expect(names(tray)).toEqual(['rocker-cone-long', 'rocker-cone-short']);
    const [other] = tray.rows[0]!.alternatives;
    expect(other!.odds).toBeCloseTo(1, 9);
    const words = wordAlternative(other!, tray.rows[0]!, tray);
    expect(words).toContain('cannot be told apart by what you measured');
    const { name } = SKARN.parts['rocker-cone-short']!;
    expect(words).toContain(`${name} is ${CONE.long_mm - CONE.short_mm} mm shorter`);
  });
  it('takes a bore given only by the axle it slides on', () => {
    const length_mm = nominal(HOLT, 'link-spacer', 'length_mm');
    const narrow = {
      ...HOLT.parts['link-spacer']!,
      name: 'Narrow spacer',
      bore_mm: 10.2,
    } as LinkageModel['parts'][string];
    const bolt = HOLT.parts['swing-bolt'] as Extract<LinkageModel['parts'][string], { kind: 'bolt' }>;
    const shank = bolt.shank.map((step, k) => (k === 0 ? { ...step, diameter_mm: 9.98 } : step));
    const model: LinkageModel = { ...HOLT, parts: { ...HOLT.parts, narrow, 'swing-bolt': { ...bolt, shank } } };
    const on = (slides_on: string): Tray => sorted(model, [{ kind: 'spacer', length_mm, slides_on }]);
    // A bore of 12.2 passes an 11.98 shank; a 10.2 one does not, but goes on the 9.98 step of the same axle.
    expect(names(on('swing-bolt'))).toEqual(['narrow']);
    expect(new Set(names(on('link-axle')))).toEqual(new Set(['narrow', 'link-spacer']));
    const byLabel = sorted(model, [
      { label: 'B', kind: 'axle', outside_mm: 11.98, head_mm: nominal(HOLT, 'link-axle', 'head_mm') },
      { kind: 'spacer', length_mm, slides_on: 'B' },
    ]);
    expect(names(byLabel, 1)).toEqual(['link-spacer']);
  });
  it('goes by thread, pitch or count of turns, and by the tool', () => {
    const m10 = sorted(SKARN, [{ kind: 'nut', thread_mm: 10, turns_in_10mm: 10 }]);
    expect(names(m10).sort()).toEqual(['nut-m10', 'rear-nut', 'shock-rear-nut']);
    const spanner = SKARN.pivots.flatMap(({ stacks }) => stacks).find(({ receiver }) => receiver === 'shock-rear-nut')!
      .drives!.receiver!;
    expect(names(sorted(SKARN, [{ kind: 'nut', thread_mm: 10, drive: spanner }]))).toEqual(['shock-rear-nut']);
    // A thread measures under its name over its crests: M14×1 13.794 to 13.974 (ISO 965, class 6g).
    expect(names(sorted(SKARN, [{ kind: 'axle', thread_mm: 13.85 }]))).toEqual(['main-axle']);
    // The hole of an M14×1 nut (ISO 965, 6H): 12.917 to 13.153.
    expect(names(sorted(SKARN, [{ kind: 'nut', bore_mm: 13.05 }]))).toEqual(['main-nut']);
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
      { ...MOUNT, count: 3, length_mm: MOUNT_mm },
    ]);
    expect(tray.rows[0]).toMatchObject({ placements: [], leftOver: 1, isSure: false });
    expect(tray.rows[0]!.looksLike).toBeUndefined();
    expect(tray.rows[1]).toMatchObject({ leftOver: 1, looksLike: 'shock-rear-spacer', isSure: false });
    expect(tray.rows[1]!.placements[0]).toMatchObject({ candidate: 'shock-rear-spacer', pieces: 2 });
  });
  it('says which of several look-alikes may be the one too many', () => {
    const tray = sorted(
      SKARN,
      [0, 0.01, -0.01].map((off_mm) => ({ ...MOUNT, length_mm: MOUNT_mm + off_mm })),
    );
    expect(tray.rows.filter(({ leftOver }) => leftOver === 1).length).toBe(1);
    expect(tray.rows.every(({ isSure, alternatives }) => !isSure && alternatives.length > 0)).toBe(true);
  });
  it('keeps pieces said to be alike together', () => {
    const tray = sorted(SKARN, [
      { label: 'pair', kind: 'spacer', count: 2, outside_mm: MOUNT.outside_mm },
      { label: 'one', kind: 'spacer', outside_mm: MOUNT.outside_mm },
    ]);
    expect(tray.rows[0]!.placements).toMatchObject([{ candidate: 'shock-rear-spacer', pieces: 2 }]);
    expect(tray.rows.map(({ isSure }) => isSure)).toEqual([false, false]);
  });
  it('counts what is missing by what the build uses', () => {
    const tray = sorted(RIG, [{ kind: 'tapered-spacer', length_mm: nominal(RIG, 'rig-taper', 'length_mm') }]);
    expect(tray.missing).toEqual([
      { candidate: 'rig-axle', pieces: 1 },
      { candidate: 'rig-bearing', pieces: 2 },
      { candidate: 'rig-nut', pieces: 1 },
      { candidate: 'rig-plain', pieces: 1 },
      { candidate: 'rig-taper', pieces: 1 },
      { candidate: 'rig-tube', pieces: 1 },
    ]);
  });
  it('does not depend on the order of entry, seeds 1 to 20', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const draw = random(seed);
      const list = listed(SKARN);
      const given = list.flatMap((candidate): CalliperReading[] => {
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
  it.each([
    [0.02, 0, false],
    [0.08, 1, false],
    [0.2, 1, true],
  ])('a ring %f mm under its length', (gone_mm, count, isBeyond) => {
    const tray = sorted(SKARN, [{ ...MOUNT, length_mm: MOUNT_mm - gone_mm }]);
    const { worn } = tray.rows[0]!.placements[0]!;
    expect(worn.length).toBe(count);
    if (count === 0) return;
    expect(worn[0]).toMatchObject({ name: 'length_mm', isBeyond });
    expect(worn[0]!.gone_mm).toBeCloseTo(gone_mm, 9);
    expect(wordWorn(worn[0]!, 'spacer')).toMatch(
      isBeyond ? /more than the 0.1 mm.*Do not fit it again/ : /within the 0.1 mm/,
    );
  });
  it('is not what makes a ring longer, and can be left out', () => {
    const longer = sorted(SKARN, [{ ...MOUNT, length_mm: MOUNT_mm + 0.2 }]).rows[0]!;
    expect(longer.placements.flatMap(({ worn }) => worn)).toEqual([]);
    expect(longer.isSure).toBe(false);
    const shorter = [{ ...MOUNT, length_mm: MOUNT_mm - 0.2 }];
    expect(sorted(SKARN, shorter, { accuracy_mm: 0.05, wear: false }).rows[0]!.isSure).toBe(false);
  });
});

describe('the next measurement', () => {
  it('is the length where only the length tells two rings apart, and then settles them', () => {
    const [outside_mm, bore_mm] = [14.6, 12.2];
    const alike = listed(HOLT).filter(
      ({ kind, sizes }) =>
        kind === 'spacer' && sizes.outside_mm?.nominal === outside_mm && sizes.bore_mm?.nominal === bore_mm,
    );
    expect(alike.map(({ id }) => id).sort()).toEqual(['link-spacer', 'shock-spacer', 'swing-spacer']);
    const given = { kind: 'spacer', outside_mm, bore_mm } as const;
    const tray = sorted(HOLT, [{ label: 'X', ...given }]);
    const next = nextReading(tray)!;
    expect(next).toMatchObject({ row: 0, name: 'length_mm', again: false });
    expect(next.between.slice().sort()).toEqual(alike.map(({ id }) => id).sort());
    // Three parts, equally likely, told apart surely: log2 3 bits.
    expect(next.gain_bits).toBeCloseTo(Math.log2(3), 6);
    expect(next.sureAfter).toBeCloseTo(1, 6);
    expect(wordNext(next, tray).title).toBe('Measure next: the length of “X”');
    for (const { id, sizes } of alike) {
      const { isSure, placements } = sorted(HOLT, [{ ...given, length_mm: sizes.length_mm!.nominal }]).rows[0]!;
      expect([isSure, placements[0]!.candidate]).toEqual([true, id]);
    }
  });
  it('asks what a part is before it asks for sizes that not every part has', () => {
    const next = nextReading(sorted(FJORD, [{ length_mm: 7 }]))!;
    expect(next.name).toBe('kind');
  });
  it('asks for the tool where sizes cannot tell', () => {
    const twins: LinkageModel = {
      ...SKARN,
      parts: { ...SKARN.parts, 'shock-rear-nut': { ...SKARN.parts['nut-m10']!, name: 'Twin nut', count: 1 } },
    };
    const outside_mm = nominal(SKARN, 'nut-m10', 'outside_mm');
    const next = nextReading(sorted(twins, [{ kind: 'nut', thread_mm: 10, outside_mm }]))!;
    expect(next).toMatchObject({ name: 'drive' });
    expect(next.gain_bits).toBeCloseTo(1, 6);
  });
  it('asks for nothing when nothing is undecided, or nothing would settle it', () => {
    expect(nextReading(sorted(SKARN, [{ kind: 'bearing', outside_mm: 32 }]))).toBeUndefined();
    const twins: LinkageModel = {
      ...SKARN,
      parts: { ...SKARN.parts, 'eye-tube': { ...SKARN.parts['shock-rear-spacer']!, name: 'Twin', count: 1 } },
    };
    const tray = sorted(twins, [{ kind: 'spacer', length_mm: MOUNT_mm, outside_mm: MOUNT.outside_mm }]);
    expect(tray.rows[0]!.isSure).toBe(false);
    expect(nextForRow(tray, 0)).toBeUndefined();
    expect(wordAlternative(tray.rows[0]!.alternatives[0]!, tray.rows[0]!, tray)).toContain('either will do');
  });
  it('asks for a reading once more where parts lie within a few times the accuracy', () => {
    const near: LinkageModel = {
      ...SKARN,
      parts: {
        ...SKARN.parts,
        'rocker-cone-short': {
          ...SKARN.parts['rocker-cone-long']!,
          name: 'Nearly',
          length_mm: CONE.long_mm - 0.08,
        } as LinkageModel['parts'][string],
      },
    };
    const { outside_mm, bore_mm, small_mm, large_mm } = CONE;
    const taken = { outside_mm, bore_mm, small_mm, large_mm, length_mm: CONE.long_mm - 0.04 };
    const reading = { kind: 'tapered-spacer', ...taken } as const;
    expect(nextReading(sorted(near, [reading]))).toMatchObject({ name: 'length_mm', again: true });
  });
  it('has a place for the callipers on every size of every part, on the part itself', () => {
    for (const part of MODELS.flatMap((model) => Object.values(model.parts))) {
      const { from_mm, to_mm, solids } = partProfile(part);
      const widest = Math.max(...solids.flatMap(({ polygon }) => polygon.map(([r]) => r)));
      for (const name of [...sizesOfKind(part.kind), 'kind'] as NextName[]) {
        if (name === 'bore_mm' && partSizes(part).bore_mm === undefined) continue;
        const place = calliperPlace(part, name);
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
          // A circlip is drawn as it sits in its groove, narrower than the free ring that is measured.
          expect(span, `${part.name} ${name}`).toBeCloseTo(
            name === 'outside_mm' ? (kindOf(part).snapsIn?.(part).groove_mm ?? size.nominal) : size.nominal,
            6,
          );
      }
    }
  });
});

describe('where it goes', () => {
  it('names pivot, side, neighbours and facing', () => {
    const analysis = analyse(SKARN);
    const [short] = placesOf(analysis, 'rocker-cone-short');
    expect(short).toMatchObject({ pivotId: 'rocker-frame', side: 'non-drive', smallFace: 'non-drive' });
    expect(wordPartPlace(short!, analysis)).toContain(
      'non-drive side, between rocker boss (non-drive) and frame boss, small face to the non-drive side',
    );
    expect(placesOf(analysis, 'main-tube')[0]!.side).toBe('middle');
    expect(placesOf(analysis, 'seatstay-axle')[0]).toMatchObject({ role: 'axle', from: 'drive' });
  });
  it('has as many places for each part as the build uses', () => {
    for (const model of MODELS) {
      const analysis = analyse(model);
      for (const { id, used } of listed(model)) expect(placesOf(analysis, id).length).toBe(used);
    }
  });
  it('names the look-alike and what tells it apart', () => {
    // Spacers of 1, 2.5 and 5 mm share bore and outside; of the 2.5 mm one the 1 mm one is nearest.
    const list = listed(HOLT);
    const own = list.find(({ id }) => id === 'shock-spacer')!;
    const nearest = nearestLookAlike(own, list, 0.05)!;
    expect(nearest.other.id).toBe('swing-spacer');
    expect(wordDifference(nearest.telling!)).toBe('1.5 mm longer');
  });
});

describe('into the task', () => {
  it('takes over only sure sizes that differ by more than the accuracy, the furthest off of several', () => {
    const tray = sorted(SKARN, [
      { ...MOUNT, length_mm: MOUNT_mm - 0.06 },
      { ...MOUNT, length_mm: MOUNT_mm - 0.15 },
      { kind: 'tapered-spacer', outside_mm: CONE.outside_mm, length_mm: CONE.long_mm + 0.02, bore_mm: CONE.bore_mm },
    ]);
    expect(measuredSizes(tray)).toEqual([
      { part: 'shock-rear-spacer', name: 'length_mm', nominal_mm: MOUNT_mm, measured_mm: MOUNT_mm - 0.15 },
    ]);
    const { model, taken, refused } = withMeasured(SKARN, measuredSizes(tray));
    expect([taken.length, refused.length]).toEqual([1, 0]);
    expect(model.parts['shock-rear-spacer']).toMatchObject({ length_mm: MOUNT_mm - 0.15 });
    expect(SKARN.parts['shock-rear-spacer']).toMatchObject({ length_mm: MOUNT_mm });
  });
  it('leaves alone what it is not sure of, however far off', () => {
    const tray = sorted(SKARN, [{ kind: 'tapered-spacer', outside_mm: CONE.outside_mm, bore_mm: CONE.bore_mm + 0.2 }]);
    expect(tray.rows[0]).toMatchObject({ isSure: false, placements: [{ worn: [{ name: 'bore_mm' }] }] });
    expect(measuredSizes(tray)).toEqual([]);
  });
  it('lets the fit check see a worn ring', () => {
    const { model } = withMeasured(SKARN, [
      { part: 'main-washer', name: 'length_mm', nominal_mm: 2.5, measured_mm: 1.2 },
    ]);
    const before = analyse(SKARN).pivots.find(({ id }) => id === 'main')!;
    const after = analyse(model).pivots.find(({ id }) => id === 'main')!;
    expect(before.verdict).toBe('sound');
    expect(after.verdict).toBe('faulty');
  });
  it('refuses a size that contradicts the model, and gives a model that can be read again', () => {
    const { model, refused } = withMeasured(SKARN, [
      { part: 'shock-rear-spacer', name: 'bore_mm', nominal_mm: 12.2, measured_mm: 14.8 },
      { part: 'rocker-cone-short', name: 'small_mm', nominal_mm: 18.2, measured_mm: 18 },
      { part: 'main-axle', name: 'head_mm', nominal_mm: 26, measured_mm: 25.8 },
      { part: 'main-axle', name: 'outside_mm', nominal_mm: 14.98, measured_mm: 14.9 },
      { part: 'rocker-nut', name: 'small_mm', nominal_mm: 18.2, measured_mm: 18.1 },
      { part: 'bearing-15-7', name: 'length_mm', nominal_mm: 7, measured_mm: 6.7 },
    ]);
    expect(refused.map(({ part }) => part)).toEqual(['shock-rear-spacer', 'bearing-15-7']);
    expect(readModel(JSON.stringify(model)).ok).toBe(true);
    expect(model.parts['main-axle']).toMatchObject({
      head: { diameter_mm: 25.8 },
      shank: [{ diameter_mm: 14.9 }, { diameter_mm: 14 }],
    });
  });
});

it('a misfit is counted in units of the accuracy and forbids what cannot be meant', () => {
  const [cone] = listed(SKARN).filter(({ id }) => id === 'rocker-cone-long');
  expect(
    misfit({ kind: 'tapered-spacer', sizes: { length_mm: CONE.long_mm + 0.1 } }, cone!, DEFAULT_SETTING)!
      .misfit_accuracies,
  ).toBeCloseTo(2, 9);
  expect(misfit({ kind: 'bearing', sizes: { length_mm: 7 } }, cone!, DEFAULT_SETTING)).toBeUndefined();
  expect(misfit({ sizes: { head_mm: 20 } }, cone!, DEFAULT_SETTING)).toBeUndefined();
});
