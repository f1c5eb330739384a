/**
 * Mistakes against the reference behaviour of the design (one and both spacers left out), and friction torque against
 * printed problems with answers and against the integral it stands for.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  applyMistake,
  frictionRadius_mm,
  frictionTorque_Nm,
  listMistakes,
  mistakes,
  weightMoment,
  type LinkageModel,
  type PlacedItem,
} from '../../shared/index.ts';
import { demoModels } from '../bench/models.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import { random } from '../setup/random.ts';
import reference from './data/clamp-reference.json';
import annulus from './data/friction-annulus.json';
import { resolveModel } from '../../shared/model/resolve.ts';

const judging = {
  preload_N: reference.preload_N,
  assumptions: { contactStiffness_N_per_mm: reference.contactStiffness_N_per_mm },
};

describe(`spacers left out: ${reference.source}`, () => {
  const table = mistakes(referenceModel(), { two: true, kinds: ['left-out', 'two'], judging });
  test.each(reference.cases.filter(({ without }) => without.length > 0))('$name', ({ without, arm_mm, sideLoad_N }) => {
    const wanted = without.map((row) => `left-out:main/${row}`).join('+');
    const row = table.find(({ mistake }) => mistake.id === (without.length === 1 ? wanted : `two:${wanted}`))!;
    const allowed = reference.allowedShare;
    expect(Math.abs(row.arms[0]!.bend_mm - arm_mm)).toBeLessThan(allowed * arm_mm);
    expect(Math.abs(row.arms[1]!.bend_mm - arm_mm)).toBeLessThan(allowed * arm_mm);
    for (const load of row.sideLoads.slice(0, 2))
      expect(Math.abs(load.load_N - sideLoad_N!)).toBeLessThan(allowed * sideLoad_N!);
    // It tightens all the same: the column is closed and the wrench meets most of the clamp.
    expect(row.open_mm).toBe(0);
    expect(row.clamp_N).toBeGreaterThan(0.7 * reference.preload_N);
    expect(row.written_N).toBeGreaterThan(0.99 * 7990);
    expect(row.assembly.goes).toBe('yes');
    expect(row.verdict).toBe('faulty');
    expect(row.check).toEqual({ kind: 'count', part: 'spacer' });
  });
});

/** The radius at which μ·p·r summed over thin rings acts, as the area does. */
function meanRadius(bands: readonly (readonly [number, number])[]): number {
  const LOOSE = 4000;
  let area = 0;
  let moment = 0;
  for (const [r0, r1] of bands) {
    const width = (r1 - r0) / LOOSE;
    for (let k = 0; k < LOOSE; k++) {
      const r = r0 + (k + 0.5) * width;
      area += r * width;
      moment += r * r * width;
    }
  }
  return moment / area;
}

describe(`friction torque of an annulus: ${annulus.source}`, () => {
  test.each(annulus.cases)(
    '$name',
    ({ inside_mm, outside_mm, force_N, friction, speed_rpm, torque_Nm, power_W, allowedShare }) => {
      const torque = frictionTorque_Nm({ force_N, bands_mm: [[inside_mm / 2, outside_mm / 2]], friction });
      if (torque_Nm !== null) expect(Math.abs(torque - torque_Nm)).toBeLessThan(allowedShare * torque_Nm);
      const power = (torque * 2 * Math.PI * speed_rpm) / 60;
      if (power_W !== null) expect(Math.abs(power - power_W)).toBeLessThan(allowedShare * power_W);
      expect(torque_Nm ?? power_W).not.toBeNull();
    },
  );

  test('six collars that share the thrust rub as one does', () => {
    const [, block] = annulus.cases;
    const one = { bands_mm: [[block!.inside_mm / 2, block!.outside_mm / 2]] as const, friction: block!.friction };
    const shared = 6 * frictionTorque_Nm({ ...one, force_N: block!.force_N / 6 });
    expect(shared).toBeCloseTo(frictionTorque_Nm({ ...one, force_N: block!.force_N }), 6);
  });

  test('is the mean radius of the evenly pressed face, seeds 1 to 40', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const draw = random(seed);
      const bands: [number, number][] = [];
      let r = draw.between(2, 8);
      for (let k = draw.whole(1, 3); k > 0; k--) {
        const end = r + draw.between(0.05, 4);
        bands.push([r, end]);
        r = end + draw.between(0.05, 3);
      }
      const byRings = meanRadius(bands);
      expect(Math.abs(frictionRadius_mm(bands) - byRings), `seed ${seed}`).toBeLessThan(1e-4);
    }
  });

  test('an edge rubs at its own radius', () => {
    expect(frictionRadius_mm([[9.25, 9.25]])).toBe(9.25);
    expect(frictionTorque_Nm({ force_N: 1000, bands_mm: [[10, 10]], friction: 0.2 })).toBeCloseTo(2, 12);
  });
});

describe('friction of a solved build', () => {
  /** The rig with spacers that bear on the outer rings only: 20 mm bore, so that the inner ring is never met. */
  function onOuterRings(greased: boolean): LinkageModel {
    const rig = demoModels().find(({ id }) => id === 'class-rig')!;
    const stack = rig.pivots[0]!.stacks[0]!;
    const wide = {
      kind: 'spacer',
      name: 'Wide ring',
      outside_mm: 27,
      bore_mm: 20,
      length_mm: (rig.parts['rig-taper'] as { length_mm: number }).length_mm,
      chamfer_mm: 0,
      material: 'steel',
    } as const;
    const row = stack.row.map((entry) =>
      entry.part === 'rig-taper'
        ? { id: entry.id, part: 'wide', greased }
        : { ...entry, ...(entry.part ? { greased: false } : {}) },
    );
    return {
      ...rig,
      parts: { ...rig.parts, wide },
      pivots: [{ ...rig.pivots[0]!, stacks: [{ ...stack, greased: [], row }] }],
    };
  }
  /** Forces on the outer rings as the analysis tells them, face by face. */
  function outerForces(items: readonly PlacedItem[]): number[] {
    return items
      .filter(({ part }) => part === 'wide')
      .flatMap(({ nonDrive, drive }) =>
        [nonDrive, drive].flatMap(({ touches }) =>
          touches.filter(({ bears }) => bears === 'outer-ring').map(({ force_N }) => force_N),
        ),
      );
  }

  test.each([
    [true, 'greased', 0.08, 0.16],
    [false, 'dry', 0.14, 0.35],
  ] as const)('greased %s: μ·F·r by hand, μ of a %s face from the VDI 2230 classes', (greased, _name, low, high) => {
    const model = onOuterRings(greased);
    // A mistake that changes nothing of this: the axle from the other side.
    const row = mistakes(model, { kinds: ['wrong-side'] })[0]!;
    const forces = outerForces(analyse(applyMistake(model, row.mistake)).pivots[0]!.stacks[0]!.items);
    expect(forces).toHaveLength(2);
    expect(Math.min(...forces)).toBeGreaterThan(1000);
    // The band reaches from the outer ring's shoulder, 25.3 mm in the bearing table, to the ring's outside, 27 mm.
    const [ri, ro] = [25.3 / 2, 27 / 2];
    const radius = ((2 / 3) * (ro ** 3 - ri ** 3)) / (ro ** 2 - ri ** 2);
    const force = forces.reduce((sum, one) => sum + one, 0);
    const drag = row.drags[0]!;
    // The rings stand with the arm and rub on what the shell of the post holds; the post stands, so that the arm hangs.
    expect([drag.member, drag.hangs]).toEqual(['post', 'arm']);
    expect(Math.abs(drag.torque_Nm.low - (low * force * radius) / 1000)).toBeLessThan(1e-3 * drag.torque_Nm.low);
    expect(Math.abs(drag.torque_Nm.high - (high * force * radius) / 1000)).toBeLessThan(1e-3 * drag.torque_Nm.high);
    expect(drag.letGo).toBe('sticks');
    expect(row.bench[0]).toBe('tight');
    expect(row.isSilent).toBe(false);
  });

  test('the demo models as written press no face that should turn', () => {
    for (const model of demoModels()) {
      for (const row of mistakes(model, { kinds: ['under-tightened'] }))
        for (const drag of row.drags) expect(drag.torque_Nm.high).toBe(0);
    }
  });
});

describe('the weight moment of an arm, by hand', () => {
  /** A bar of 100 × 10 × 20 mm between two points, in 7075: 2810 kg/m³. */
  function bar(): LinkageModel {
    const rig = demoModels().find(({ id }) => id === 'class-rig')!;
    const arm = rig.members['arm']!;
    return {
      ...rig,
      members: {
        ...rig.members,
        arm: {
          ...arm,
          points: {
            near: { x_mm: 20, y_mm: 0, z_mm: 0, boss_mm: 20 },
            far: { x_mm: 120, y_mm: 0, z_mm: 0, boss_mm: 20 },
          },
          webs: [{ from: 'near', to: 'far', thickness_mm: 10, height_mm: 20 }],
        },
      },
    };
  }

  test('solid at the most, hollow at the least', () => {
    const moment = weightMoment(resolveModel(bar()).members['arm']!, { x_mm: 0, y_mm: 0 })!;
    // Middle 70 mm out; the bosses sit on the pivot and add nothing. 2810e-9 · 20 000 mm³ = 0.0562 kg.
    const solid = 0.0562 * 9.80665 * 0.07;
    expect(moment.high_Nm).toBeCloseTo(solid, 6);
    expect(moment.low_Nm).toBeCloseTo(0.3 * solid, 6);
  });

  test('about its own middle only the bosses turn it', () => {
    const moment = weightMoment(resolveModel(bar()).members['arm']!, { x_mm: 70, y_mm: 0 })!;
    expect(moment.high_Nm).toBeCloseTo(moment.low_Nm, 9);
    expect(moment.high_Nm).toBeGreaterThan(0);
  });

  test('frame and shocks get no figure', () => {
    for (const model of demoModels()) {
      for (const [id, { kind }] of Object.entries(model.members)) {
        const moment = weightMoment(resolveModel(model).members[id]!, model.pivots[0]!);
        if (kind === 'frame' || kind.startsWith('shock')) expect(moment).toBeUndefined();
        else expect(moment!.high_Nm).toBeGreaterThan(0);
      }
    }
  });
});

test('a mistake list is the same from run to run', () => {
  for (const model of demoModels()) {
    for (const { id } of model.pivots)
      expect(listMistakes(model, id).map((mistake) => mistake.id)).toEqual(
        listMistakes(structuredClone(model), id).map((mistake) => mistake.id),
      );
  }
});
