/**
 * The standards layer's own behaviour: which way a tightening turn goes (against a helix built point by point), names
 * found and suggested, refusals in words, inverses and monotony. Published values are held in tests/reference.
 */
import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it, test } from 'vitest';
import * as fc from 'fast-check';
import {
  BEARINGS,
  FRICTION,
  THREAD_TREATMENTS,
  axialPlayExact_mm,
  axialPlay_mm,
  axialShift_mm,
  boreTolerance,
  coarsePitch_mm,
  contactConstant,
  deviation,
  estimateAxialStiffness_N_per_mm,
  estimateBalls,
  estimateShoulders,
  findBearing,
  findThread,
  fit,
  friction,
  leastEngagement_mm,
  material,
  metricThread,
  nutFactor,
  outsideTolerance,
  preloadAtYield,
  preloadBand,
  preloadFromNutFactor,
  preloadFromTorque,
  propertyClass,
  radialClearance,
  ringWidthTolerance,
  suggestBearing,
  tighteningStress,
  tighteningTurn,
  torqueFromPreload,
  wrenchScatter,
  wrenchSetting,
  type BikeSide,
  type Turn,
} from '../../shared/standards/index.ts';

const SEED = 20_261;

describe('tightening turn, derived from a helix built point by point (first principles, mark d)', () => {
  type Vector = readonly [x: number, y: number, z: number];
  const PITCH = 1;
  const RADIUS = 5;

  /** Points of a thread crest; a right-hand one climbs along +z while it turns from +x towards +y. */
  function helix(hand: 'right' | 'left'): Vector[] {
    const climb = hand === 'right' ? 1 : -1;
    return Array.from({ length: 1441 }, (_, index) => {
      const angle = ((index - 720) * Math.PI) / 180;
      return [RADIUS * Math.cos(angle), RADIUS * Math.sin(angle), (climb * PITCH * angle) / (2 * Math.PI)] as const;
    });
  }
  const turnAboutZ = ([x, y, z]: Vector, angle: number): Vector => [
    x * Math.cos(angle) - y * Math.sin(angle),
    x * Math.sin(angle) + y * Math.cos(angle),
    z,
  ];
  /**
   * How far the body must slide along z, once turned, for its crest to lie on the fixed thread again (nearest groove).
   */
  function slideAfter(hand: 'right' | 'left', angle: number): number {
    const fixed = helix(hand);
    const turned = fixed.slice(700, 740).map((point) => turnAboutZ(point, angle));
    const shifts = Array.from({ length: 401 }, (_, index) => (index - 200) * 0.0025 * PITCH);
    const misfit = (shift: number) =>
      turned.reduce((sum, [x, y, z]) => {
        const squares = fixed.map(([fx, fy, fz]) => (fx - x) ** 2 + (fy - y) ** 2 + (fz - z - shift) ** 2);
        return sum + Math.min(...squares);
      }, 0);
    return shifts.reduce((best, shift) => (misfit(shift) < misfit(best) ? shift : best), 0);
  }
  /** Sense of a small turn as an eye on one side sees it, from the picture a mark at the top of the part draws. */
  function seenTurn(standing: BikeSide, angle: number): Turn {
    const look = standing === 'drive' ? -1 : 1;
    // Up is +y; the eye's right is look × up = (0, 0, look) × (0, 1, 0) = (−look, 0, 0).
    const top = turnAboutZ([0, 1, 0], angle);
    const toTheRight = -look * top[0];
    return toTheRight > 0 ? 'clockwise' : 'anticlockwise';
  }

  const QUARTER = Math.PI / 4;
  const slides = { right: slideAfter('right', QUARTER), left: slideAfter('left', QUARTER) };
  it('the helix itself says: an eighth of a turn slides an eighth of the pitch, mirrored for the other hand', () => {
    expect(slides.right).toBeCloseTo(PITCH / 8, 2);
    expect(slides.left).toBeCloseTo(-PITCH / 8, 2);
  });

  const cases = (['right', 'left'] as const).flatMap((threadHand) =>
    (['axle', 'receiver'] as const).flatMap((turned) =>
      (['non-drive', 'drive'] as const).flatMap((axleFrom) =>
        (['non-drive', 'drive'] as const).map((standing) => ({ threadHand, turned, axleFrom, standing })),
      ),
    ),
  );
  it('covers eight cases a hand', () => expect(cases).toHaveLength(16));
  test.each(cases)('$threadHand thread, $turned turned, axle from $axleFrom, standing $standing', (question) => {
    const { threadHand, turned, axleFrom, standing } = question;
    // Head and receiver must come closer: the axle moves towards its tip, or the receiver towards the head.
    const tip = axleFrom === 'non-drive' ? 1 : -1;
    const wanted = turned === 'axle' ? tip : -tip;
    const angle = Math.sign(slides[threadHand]) === wanted ? QUARTER : -QUARTER;
    expect(tighteningTurn(question)).toBe(seenTurn(standing, angle));
  });
  it('agrees with every hand that ever drove a screw: right-hand, at its head, clockwise (common practice, no source)', () => {
    for (const side of ['non-drive', 'drive'] as const) {
      expect(tighteningTurn({ threadHand: 'right', turned: 'axle', axleFrom: side, standing: side })).toBe('clockwise');
    }
  });
  it('turns anticlockwise when the wrench works at the tip (design.md section 2)', () => {
    expect(tighteningTurn({ threadHand: 'right', turned: 'axle', axleFrom: 'non-drive', standing: 'drive' })).toBe(
      'anticlockwise',
    );
  });
});

describe('names of bearings', () => {
  it('reads a designation whatever its case, spaces, hyphens and slashes', () => {
    const row = findBearing('61902');
    expect(row).toBeDefined();
    for (const name of ['6902', ' 6902-2rs ', '61902-2RSX', '6902 2RS', '61902_2rs'])
      expect(findBearing(name)).toBe(row);
    expect(findBearing('628/8-2RS')).toBe(findBearing('688'));
  });
  it('takes a bare designation for the sealed type and keeps the open one apart', () => {
    for (const row of BEARINGS.filter(({ isSealed }) => !isSealed)) {
      expect(row.designation).toMatch(/ open$/);
      const sealed = findBearing(row.aliases[0]?.replace(' open', '') ?? row.designation.replace(' open', ''));
      expect(sealed?.isSealed, row.designation).toBe(true);
    }
  });
  it('gives every name to one row only', () => {
    const names = BEARINGS.flatMap((row) => [row.designation, ...row.aliases].map((name) => ({ name, row })));
    for (const { name, row } of names) expect(findBearing(name), name).toBe(row);
  });
  it('suggests the nearest known name, and nothing for what is no bearing', () => {
    expect(suggestBearing('61909')).toMatch(/^6190\d$/);
    expect(suggestBearing('6902-2RX')).toBe('6902-2RS');
    expect(suggestBearing('6082')).toBe('608');
    expect(suggestBearing('banana bread')).toBeUndefined();
    expect(findBearing(suggestBearing('3802-2SR') ?? '')?.ballRows).toBe(2);
    expect(findBearing('')).toBeUndefined();
  });
  it('orders every row from bore to outside', () => {
    for (const row of BEARINGS) {
      const ladder = [
        row.bore_mm + row.chamfer_mm,
        row.innerShoulder_mm,
        row.outerShoulder_mm,
        row.outside_mm - row.chamfer_mm,
      ];
      expect(ladder, row.designation).toEqual([...ladder].sort((one, other) => one - other));
      expect(row.innerAbutmentMax_mm).toBeGreaterThan(row.bore_mm);
      expect(row.innerAbutmentMax_mm).toBeLessThan(row.outerShoulder_mm);
    }
  });
});

describe('names of threads', () => {
  it('reads the spellings a workshop uses', () => {
    for (const name of ['M12x1', 'm12 × 1', 'M12X1', 'M12*1'])
      expect(findThread(name)).toEqual(metricThread({ size_mm: 12, pitch_mm: 1 }));
    expect(findThread('M10 x 1,25')?.pitch_mm).toBe(1.25);
    expect(findThread('M8')?.pitch_mm).toBe(1.25);
    expect(findThread('M8')?.designation).toBe('M8');
  });
  it('knows nothing of what the table lacks', () => {
    for (const name of ['M15', 'M12x0.6', 'M99', '12x1', 'M12x', 'G1/4', ''])
      expect(findThread(name), name).toBeUndefined();
    expect(coarsePitch_mm(15)).toBeUndefined();
    expect(leastEngagement_mm(12, 'polymer')).toBeUndefined();
    expect(leastEngagement_mm(12, 'aluminium')).toBe(12);
  });
});

describe('torque and preload', () => {
  const screw = fc.record({
    size_mm: fc.double({ min: 5, max: 30, noNaN: true }),
    pitch_mm: fc.double({ min: 0.5, max: 2, noNaN: true }),
    threadFriction: fc.double({ min: 0.03, max: 0.4, noNaN: true }),
    faceFriction: fc.double({ min: 0.03, max: 0.4, noNaN: true }),
    faceMeanDiameter_mm: fc.double({ min: 6, max: 40, noNaN: true }),
  });
  it(`inverts, and the exact helix form lies a little above the long form (seed ${SEED})`, () => {
    fc.assert(
      fc.property(screw, fc.double({ min: 0.5, max: 100, noNaN: true }), (joint, torque_Nm) => {
        const preload_N = preloadFromTorque({ ...joint, torque_Nm });
        expect(torqueFromPreload({ ...joint, preload_N })).toBeCloseTo(torque_Nm, 8);
        const long = (torque_Nm * 1000) / (preload_N * joint.size_mm);
        const exact = nutFactor(joint);
        expect(exact).toBeGreaterThan(long);
        expect(exact / long).toBeLessThan(1.12);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });
  it('gives less preload for more friction, so a band is ordered', () => {
    for (const treatment of THREAD_TREATMENTS) {
      const { thread: threadFriction, face: faceFriction } = FRICTION[treatment];
      const joint = { torque_Nm: 12, size_mm: 12, pitch_mm: 1, threadFriction, faceFriction, faceMeanDiameter_mm: 18 };
      const band = preloadBand(joint);
      expect(band.low_N).toBeLessThan(band.nominal_N);
      expect(band.nominal_N).toBeLessThan(band.high_N);
      expect(band.wrenchScatter).toBe(0.04);
      const end = (which: 'low' | 'high', torque_Nm: number) =>
        preloadFromTorque({
          ...joint,
          torque_Nm,
          threadFriction: threadFriction[which],
          faceFriction: faceFriction[which],
        });
      // Most friction meets the wrench that clicks early, least friction the one that clicks late.
      expect(band.low_N).toBeCloseTo(end('high', 12 * 0.96), 6);
      expect(band.high_N).toBeCloseTo(end('low', 12 * 1.04), 6);
      expect(preloadBand({ ...joint, torque_Nm: 8 }).wrenchScatter).toBe(0.06);
      expect(preloadBand({ ...joint, torque_Nm: 8, wrenchMaximum_Nm: 25 }).wrenchScatter).toBe(0.04);
    }
  });
  it('stresses a hollow axle more than a full one and agrees with the textbook sum of squares', () => {
    const section = { size_mm: 15, pitch_mm: 1, threadFriction: 0.12, outside_mm: 14, preload_N: 8000 };
    const full = tighteningStress(section);
    const hollow = tighteningStress({ ...section, bore_mm: 10 });
    expect(full.tension_MPa).toBeCloseTo(8000 / ((Math.PI / 4) * 14 ** 2), 10);
    expect(full.vonMises_MPa).toBeCloseTo(Math.hypot(full.tension_MPa, Math.sqrt(3) * full.torsion_MPa), 10);
    expect(hollow.tension_MPa / full.tension_MPa).toBeCloseTo(14 ** 2 / (14 ** 2 - 10 ** 2), 10);
    expect(hollow.torsion_MPa / full.torsion_MPa).toBeCloseTo(14 ** 3 / (14 ** 3 - 10 ** 3), 10);
  });
  it('reaches the asked share of the yield at the preload it names', () => {
    const section = { size_mm: 12, pitch_mm: 1, threadFriction: 0.14, outside_mm: 11, bore_mm: 6 };
    const preload_N = preloadAtYield({ ...section, yield_MPa: 462, utilisation: 0.7 });
    expect(tighteningStress({ ...section, preload_N }).vonMises_MPa).toBeCloseTo(0.7 * 462, 8);
  });
});

describe('bearing give', () => {
  it(`grows with the load, and its exact play stays under the square root (seed ${SEED})`, () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.05, noNaN: true }),
        fc.double({ min: 0.7, max: 1.2, noNaN: true }),
        (clearance_mm, K) => {
          const exact = axialPlayExact_mm(clearance_mm, (K / 2) ** 2);
          const root = axialPlay_mm(clearance_mm, K);
          expect(exact).toBeLessThan(root);
          // s_a = K√s·√(1 − s/(4A)): the exact form written out.
          expect(exact).toBeCloseTo(root * Math.sqrt(1 - clearance_mm / K ** 2), 10);
        },
      ),
      { seed: SEED, numRuns: 200 },
    );
    const balls = estimateBalls({ bore_mm: 15, outside_mm: 28 });
    const shifts = [0, 10, 100, 1000].map((load_N) => axialShift_mm(balls, load_N));
    expect(shifts).toEqual([...shifts].sort((one, other) => one - other));
    expect(new Set(shifts).size).toBe(4);
  });
  it('answers for every bearing of the table, and for a size beyond the clearance table', () => {
    for (const row of BEARINGS) {
      const stiffness = estimateAxialStiffness_N_per_mm(row);
      expect(stiffness, row.designation).toBeGreaterThan(5_000);
      expect(stiffness, row.designation).toBeLessThan(60_000);
    }
    expect(estimateAxialStiffness_N_per_mm({ bore_mm: 60, outside_mm: 78 })).toBeGreaterThan(0);
  });
  it('scales as Hertz does: twice the size at the same clearance share, √2 times the contact constant', () => {
    const small = { ...estimateBalls({ bore_mm: 10, outside_mm: 22 }), radialClearance_mm: 0 };
    const large = {
      ...small,
      ballDiameter_mm: 2 * small.ballDiameter_mm,
      pitchDiameter_mm: 2 * small.pitchDiameter_mm,
      innerGroove_mm: 2 * small.innerGroove_mm,
      outerGroove_mm: 2 * small.outerGroove_mm,
    };
    expect(contactConstant(large) / contactConstant(small)).toBeCloseTo(Math.SQRT2, 6);
  });
});

describe('refusals name the value met and what was allowed', () => {
  const joint = { size_mm: 12, pitch_mm: 1, threadFriction: 0.12, faceFriction: 0.12, faceMeanDiameter_mm: 15 };
  const refusals: readonly (readonly [string, () => unknown, RegExp])[] = [
    [
      'zero pitch',
      () => preloadFromTorque({ ...joint, pitch_mm: 0, torque_Nm: 5 }),
      /pitch_mm is 0, allowed: .*above 0/,
    ],
    ['pitch with no core left', () => metricThread({ size_mm: 2, pitch_mm: 2 }), /pitch_mm is 2, allowed: below 1\.63/],
    ['no number', () => metricThread({ size_mm: NaN, pitch_mm: 1 }), /size_mm is NaN/],
    ['endless size', () => metricThread({ size_mm: Infinity, pitch_mm: 1 }), /size_mm is Infinity/],
    [
      'frictionless thread',
      () => preloadFromTorque({ ...joint, threadFriction: 0, torque_Nm: 5 }),
      /threadFriction is 0, allowed: above 0 and up to 1/,
    ],
    [
      'friction above 1',
      () => torqueFromPreload({ ...joint, faceFriction: 1.2, preload_N: 5 }),
      /faceFriction is 1\.2/,
    ],
    ['negative torque', () => preloadFromTorque({ ...joint, torque_Nm: -1 }), /torque_Nm is -1/],
    ['negative preload', () => torqueFromPreload({ ...joint, preload_N: -1 }), /preload_N is -1/],
    ['no face', () => nutFactor({ ...joint, faceMeanDiameter_mm: 0 }), /faceMeanDiameter_mm is 0/],
    ['nut factor 0', () => preloadFromNutFactor({ torque_Nm: 5, size_mm: 8, nutFactor: 0 }), /nutFactor is 0/],
    [
      'bore as wide as the axle',
      () => tighteningStress({ ...joint, preload_N: 1, outside_mm: 10, bore_mm: 10 }),
      /bore_mm is 10, allowed: below/,
    ],
    ['yield 0', () => preloadAtYield({ ...joint, yield_MPa: 0 }), /yield_MPa is 0/],
    [
      'utilisation above 1',
      () => preloadAtYield({ ...joint, yield_MPa: 400, utilisation: 1.1 }),
      /utilisation is 1\.1/,
    ],
    [
      'wrench too small',
      () =>
        preloadBand({
          ...joint,
          torque_Nm: 20,
          threadFriction: FRICTION.dry.thread,
          faceFriction: FRICTION.dry.face,
          wrenchMaximum_Nm: 10,
        }),
      /wrenchMaximum_Nm is 10/,
    ],
    ['wrench 0', () => wrenchScatter(0), /wrenchMaximum_Nm is 0/],
    [
      'adapter folded past the grip',
      () => wrenchSetting({ torque_Nm: 5, length_mm: 100, adapter_mm: 100, angle_deg: 180 }),
      /adapter_mm is 100/,
    ],
    [
      'angle no number',
      () => wrenchSetting({ torque_Nm: 5, length_mm: 100, adapter_mm: 10, angle_deg: NaN }),
      /angle_deg is NaN/,
    ],
    ['bearing inside out', () => estimateShoulders({ bore_mm: 20, outside_mm: 15 }), /outside_mm is 15/],
    ['clearance of a large bore', () => radialClearance(41), /bore_mm is 41, allowed: above 2\.5 and up to 40/],
    ['group that the row lacks', () => radialClearance(35, 'C5'), /clearance group is C5, allowed: C2, CN, C3/],
    ['ring width of a large bore', () => ringWidthTolerance(50.01), /bore_mm is 50\.01/],
    ['bore of nothing', () => boreTolerance(0), /bore_mm is 0/],
    ['outside too large', () => outsideTolerance(81), /outside_mm is 81/],
    ['negative clearance', () => axialPlay_mm(-0.001, 0.9), /radialClearance_mm is -0\.001/],
    ['clearance that frees the balls', () => axialPlayExact_mm(0.5, 0.2), /radialClearance_mm is 0\.5/],
    [
      'balls without a ring',
      () => contactConstant({ ...estimateBalls({ bore_mm: 15, outside_mm: 28 }), innerGroove_mm: 1 }),
      /innerGroove_mm is 1/,
    ],
    ['fit of 6 mm', () => deviation('H7', 6), /diameter_mm is 6/],
    ['fit of 51 mm', () => deviation('H7', 51), /diameter_mm is 51/],
    ['fit nobody tabled', () => deviation('X9' as 'H7', 20), /symbol is X9/],
    [
      'limits the wrong way round',
      () => fit({ lower_mm: 1, upper_mm: 0 }, { lower_mm: 0, upper_mm: 0 }),
      /hole is 1 to 0 mm/,
    ],
    ['unknown material', () => material('cheese' as 'steel'), /key is cheese, allowed: steel/],
    ['inherited name', () => material('toString' as 'steel'), /key is toString/],
    ['unknown treatment', () => friction('wet' as 'dry'), /treatment is wet, allowed: dry/],
    ['unknown class', () => propertyClass('9.9' as '8.8', 8), /property class is 9\.9/],
  ];
  test.each(refusals)('%s', (_, ask, words) => {
    expect(ask).toThrow(RangeError);
    expect(ask).toThrow(words);
  });
});

describe('the layer stands alone', () => {
  const folder = new URL('../../shared/standards/', import.meta.url);
  const files = readdirSync(folder).filter((name) => name.endsWith('.ts'));
  test.each(files)('%s imports nothing from outside the folder', (name) => {
    const imports = [...readFileSync(new URL(name, folder), 'utf8').matchAll(/from '([^']+)'/g)].map(
      (match) => match[1],
    );
    expect(imports.filter((path) => !path?.startsWith('./'))).toEqual([]);
  });
});
