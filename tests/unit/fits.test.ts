/**
 * Fits judged both ways: a seat and a shank walked from sound to both ends never come back, what a press does is told,
 * and a worn shank is a finding, not an impossible size.
 */
import { describe, expect, test } from 'vitest';
import { analyse, readData, resolveBearing, type Analysis, type Finding } from '../../shared/index.ts';
import { makeJoint } from '../../shared/joint/joint.ts';
import { resolveModel } from '../../shared/model/resolve.ts';
import { nearestClearance, nearestDeviation, sizeLimits } from '../../shared/standards/index.ts';
import { patched } from '../fixtures/problems/patch.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

function built(set: Readonly<Record<string, unknown>>): Analysis {
  const reading = readData(patched(referenceData(), { set }));
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return analyse(reading.model);
}

const SEAT = 'members.frame.bores.shell.seats[0].diameter_mm';
const seatOf = (diameter_mm: number): Analysis => built({ [SEAT]: diameter_mm });
const shankOf = (diameter_mm: number): Analysis =>
  built({
    'parts.axle.shank': [
      { diameter_mm, length_mm: 10 },
      { diameter_mm: 14.98, length_mm: 78 },
    ],
  });

const FITS: readonly string[] = ['fit-too-tight', 'fit-too-loose', 'bore-mismatch', 'axle-will-not-pass'];
const fitsOf = ({ pivots }: Analysis): readonly Finding[] =>
  pivots.flatMap(({ findings }) => findings).filter(({ code }) => FITS.includes(code));
const rankOf = (analysis: Analysis): number =>
  Math.max(0, ...fitsOf(analysis).map(({ severity }) => (severity === 'stop' ? 2 : severity === 'warn' ? 1 : 0)));

describe('walked a hundredth and less at a time from the written size, a fit gets no better', () => {
  const WALKS = [
    ['seat, tighter', 28, -0.005, 40, seatOf],
    ['seat, wider', 28, 0.003, 40, seatOf],
    ['shank, thinner', 14.98, -0.005, 40, shankOf],
    ['shank, thicker', 14.98, 0.004, 40, shankOf],
  ] as const;
  test.each(WALKS)('%s', (_, from_mm, by_mm, steps, make) => {
    const ranks = Array.from({ length: steps }, (__, k) => rankOf(make(Math.round((from_mm + k * by_mm) * 1e4) / 1e4)));
    expect(ranks[0]).toBe(0);
    expect(ranks).toEqual([...ranks].sort());
    expect(ranks).toContain(1);
    expect(ranks.at(-1)).toBe(2);
  });
});

describe('an axle thicker than its bearing’s bore', () => {
  const codes = (analysis: Analysis): string[] => fitsOf(analysis).map(({ code }) => code);

  test('an ordinary press fit goes in, and is told', () => {
    const pivot = shankOf(15.012).pivots[0]!;
    expect(pivot.stacks[0]!.passage.nonDrive.passes).toBe(true);
    expect(codes(shankOf(15.012))).toEqual(['fit-too-tight']);
    // Pressed on, the shank is no shoulder: the column is clamped as with a shank that slides.
    const ratio = pivot.stacks[0]!.clamp_N / shankOf(14.98).pivots[0]!.stacks[0]!.clamp_N;
    expect(Math.abs(ratio - 1)).toBeLessThan(0.001);
  });

  test('the heaviest fit of the table is the last that goes', () => {
    expect(codes(shankOf(15.02))).toEqual(['fit-too-tight']);
    expect(codes(shankOf(15.021))).toEqual(['axle-will-not-pass']);
  });
});

describe('a shank worn thinner than its thread', () => {
  const whole = (diameter_mm: number) =>
    readData(patched(referenceData(), { set: { 'parts.axle.shank[0].diameter_mm': diameter_mm } }));

  test.each([
    [14.93, 'fit-too-loose'],
    [14.5, 'bore-mismatch'],
  ] as const)('%d is read, and refused by the fit check', (diameter_mm, code) => {
    const reading = whole(diameter_mm);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    const analysis = analyse(reading.model);
    expect(analysis.verdict).toBe('faulty');
    expect(new Set(fitsOf(analysis).map((finding) => finding.code))).toEqual(new Set([code]));
    expect(fitsOf(analysis).length).toBe(4);
  });

  test('thinner than the root of its thread it cannot be', () => {
    expect(whole(13.8).ok).toBe(true);
    expect(whole(13.7).ok).toBe(false);
  });

  test('its thread is still as thick as it was', () => {
    const reading = readData(
      patched(referenceData(), { set: { 'parts.axle.shank[0].diameter_mm': 14.5, 'parts.sleeve.bore_mm': 14.9 } }),
    );
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    expect(fitsOf(analyse(reading.model)).map(({ code }) => code)).toContain('axle-will-not-pass');
  });
});

describe('limits of a size', () => {
  test('come from the class, else from the tolerance, else are the size itself', () => {
    const n7 = sizeLimits(28, { fit: 'N7', diameter_tol_mm: 1 });
    expect([n7.lower_mm, n7.upper_mm].map((value) => Math.round(value * 1e3))).toEqual([27972, 27993]);
    expect(sizeLimits(28, { diameter_tol_mm: 0.01 })).toEqual({ lower_mm: 27.99, upper_mm: 28.01 });
    expect(sizeLimits(28, {})).toEqual({ lower_mm: 28, upper_mm: 28 });
  });

  test('beyond the table are those of its nearest range', () => {
    expect(nearestDeviation('H7', 62)).toEqual(nearestDeviation('H7', 50));
    expect(nearestDeviation('H7', 5)).toEqual(nearestDeviation('H7', 8));
    expect(nearestClearance(45, 'C5')).toEqual(nearestClearance(40, 'C3'));
    expect(nearestClearance(2, 'C5')).toEqual(nearestClearance(10, 'C5'));
  });

  test('a tolerance on the drawing counts as its middle', () => {
    expect(fitsOf(built({ [SEAT]: 28.02, 'members.frame.bores.shell.seats[0].fit': 'P7' }))).toEqual([]);
    expect(fitsOf(built({ [SEAT]: 28.021, 'members.frame.bores.shell.seats[0].diameter_tol_mm': 0.01 }))).toHaveLength(
      1,
    );
  });
});

describe('a plain bush on its axle', () => {
  const bushOf = (bore_mm: number): readonly Finding[] =>
    fitsOf(
      built({
        'parts.spacer': {
          kind: 'bush',
          name: 'Bush, 5 mm',
          outside_mm: 17.5,
          bore_mm,
          length_mm: 5,
          chamfer_mm: 0.2,
          material: 'aluminium-7075',
        },
      }),
    );

  // On a shank of 14.98 mm: 0.145 mm of play is what an E10 bore on h9 leaves at the most, 0.203 mm what D11 does.
  test.each([
    [15.05, []],
    [15.124, []],
    [15.126, ['warn', 'warn']],
    [15.182, ['warn', 'warn']],
    [15.184, ['stop', 'stop']],
    [15.6, ['stop', 'stop']],
  ])('of %d mm', (bore_mm, severities) => {
    const found = bushOf(bore_mm);
    expect(found.map(({ severity }) => severity)).toEqual(severities);
    for (const { code, about, limit } of found) {
      expect([code, about!['what']]).toEqual(['fit-too-loose', 'bush']);
      expect(limit!.source).toContain('plain-bush catalogue');
    }
  });
});

describe('what mounting takes of a bearing’s play', () => {
  const BEARING = { kind: 'bearing', name: 'Bearing', designation: '61902' };
  const playOf = (set: Readonly<Record<string, unknown>>): readonly number[] => {
    const reading = readData(patched(referenceData(), { set: { 'parts.bearing': BEARING, ...set } }));
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    const { springs, bearingSprings } = makeJoint(resolveModel(reading.model), 'main');
    return bearingSprings.map(({ spring }) => springs[spring]!.play_mm);
  };
  const free = playOf({});

  test('goes with the clearance that is left: the root of its share, as a bearing catalogue has it', () => {
    // 15 µm between ring and seat shrink the ring of 15 × 28 × 7 by 7.9 µm in aluminium of 40 mm, by hand (Lamé); the
    // boss here is 38 mm, so a little less. Of the 10.5 µm at the middle of CN a quarter is left, of the play a half.
    const pressed = playOf({ [SEAT]: 28 - 0.0045 - 0.015 });
    const ratios = pressed.map((play, k) => play / free[k]!);
    expect(ratios.filter((ratio) => ratio === 1)).toHaveLength(3);
    const tight = ratios.find((ratio) => ratio !== 1)!;
    expect(tight).toBeGreaterThan(Math.sqrt(1 - 8.2 / 10.5));
    expect(tight).toBeLessThan(Math.sqrt(1 - 7.2 / 10.5));
  });

  test('is all of it at last, and nothing of a play that the file gives', () => {
    expect(Math.min(...playOf({ [SEAT]: 27.96 }))).toBe(0);
    expect(playOf({ [SEAT]: 27.96, 'parts.bearing': { ...BEARING, axial_play_mm: 0.2 } })).toEqual([
      0.2, 0.2, 0.2, 0.2,
    ]);
  });
});

test('a bearing without a mark is of the normal group; one of another has more play', () => {
  const part = { kind: 'bearing', name: 'Bearing', designation: '61902' } as const;
  expect(resolveBearing(part).clearance_mm).toEqual({ low_mm: 0.003, high_mm: 0.018 });
  expect(resolveBearing({ ...part, clearance: 'C3' }).clearance_mm).toEqual({ low_mm: 0.011, high_mm: 0.025 });
  expect(resolveBearing({ ...part, clearance: 'C3' }).axialPlay_mm).toBeGreaterThan(resolveBearing(part).axialPlay_mm);
});
