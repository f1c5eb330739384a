/**
 * The clamp solve against the reference behaviour of the design, and against a quadratic programme solved by the dual
 * method of Goldfarb and Idnani (`quadprog` 1.6.1), which is first held to its own published cases.
 *
 * Forces of a piecewise quadratic energy are the same at all of its least points, so that they may be compared even
 * where loose bodies leave the shifts open; shifts are compared where one body held still leaves a single least point.
 */
import { describe, expect, test } from 'vitest';
import { analyse, checkClamp, clamp, type ClampProblem, type ContactLaw, type SpringLaw } from '../../shared/index.ts';
import { clampProblem, makeJoint } from '../../shared/joint/joint.ts';
import { tighten } from '../../shared/joint/tightening.ts';
import { clampInstance, FAMILIES } from '../bench/instances.ts';
import { demoModels } from '../bench/models.ts';
import { clampByProgramme, clampByProximalRounds, clampByTetheredProgramme, solveProgramme } from '../bench/oracles.ts';
import { referenceModel } from '../fixtures/reference-joint.ts';
import reference from './data/clamp-reference.json';
import qp from './data/qp.json';
import { seeds } from '../setup/series.ts';
import { resolveModel } from '../../shared/model/resolve.ts';

/** Bodies of the reference joint from the non-drive to the drive side, with the rocker's bridge last. */
const BODIES = [
  'head',
  'rocker-bearing-nd',
  'rocker-arm-nd',
  'spacer-nd',
  'frame-bearing-nd',
  'frame',
  'sleeve',
  'frame-bearing-d',
  'spacer-d',
  'rocker-arm-d',
  'rocker-bearing-d',
  'nut',
  'bridge',
] as const;
type Body = (typeof BODIES)[number];
const COLUMN: readonly Body[] = [
  'head',
  'rocker-bearing-nd',
  'spacer-nd',
  'frame-bearing-nd',
  'sleeve',
  'frame-bearing-d',
  'spacer-d',
  'rocker-bearing-d',
  'nut',
];
const at = (body: Body): number => BODIES.indexOf(body);

/** The reference joint written down by hand: bodies, gaps and springs, no geometry. */
function handBuilt(without: readonly string[]): ClampProblem {
  const column = COLUMN.filter((body) => !without.includes(body));
  const contacts = column.slice(1).map((body, k): ContactLaw => {
    const between = COLUMN.slice(COLUMN.indexOf(column[k]!) + 1, COLUMN.indexOf(body));
    return {
      a: at(column[k]!),
      b: at(body),
      gap_mm: 5 * between.length,
      stiffness_N_per_mm: reference.contactStiffness_N_per_mm,
    };
  });
  const spring = (a: Body, b: Body, stiffness_N_per_mm: number, play_mm: number): SpringLaw => ({
    a: at(a),
    b: at(b),
    stiffness_N_per_mm,
    play_mm,
    rest_mm: 0,
  });
  return {
    bodies: BODIES.length,
    contacts,
    springs: [
      spring('rocker-arm-nd', 'rocker-bearing-nd', 2e4, 0.1),
      spring('frame', 'frame-bearing-nd', 2e4, 0.1),
      spring('frame', 'frame-bearing-d', 2e4, 0.1),
      spring('rocker-arm-d', 'rocker-bearing-d', 2e4, 0.1),
      spring('bridge', 'rocker-arm-nd', reference.armStiffness_N_per_mm, 0),
      spring('bridge', 'rocker-arm-d', reference.armStiffness_N_per_mm, 0),
    ],
    pulls: [{ a: at('head'), b: at('nut'), force_N: reference.preload_N }],
  };
}

function near(value: number, wanted: number, share = reference.allowedShare): void {
  expect(value).toBeGreaterThan(wanted * (1 - share));
  expect(value).toBeLessThan(wanted * (1 + share));
}

describe(`reference behaviour: ${reference.source}`, () => {
  describe.each(reference.cases)('$name', ({ name, without, face_N, arm_mm, sideLoad_N }) => {
    test('as bodies and laws', () => {
      const problem = handBuilt(without);
      const result = clamp(problem);
      expect(result.isSolved).toBe(true);
      const check = checkClamp(problem, result);
      expect(Math.max(check.residual_N, check.balance_N, check.complementarity)).toBeLessThan(1e-4);
      for (const arm of ['rocker-arm-nd', 'rocker-arm-d'] as const) {
        const bend = Math.abs(result.shift_mm[at(arm)]! - result.shift_mm[at('bridge')]!);
        if (arm_mm < 0.1) expect(Math.abs(bend - arm_mm)).toBeLessThan(reference.armRounding_mm);
        else near(bend, arm_mm);
      }
      if (face_N !== null) result.contact_N.slice(1, -1).forEach((force) => near(force, face_N));
      if (sideLoad_N !== null) for (const spring of [0, 3]) near(Math.abs(result.spring_N[spring]!), sideLoad_N);
      // It closes all the same: every face of what is left of the column is pressed.
      result.contact_N.forEach((force) => expect(force).toBeGreaterThan(0.7 * reference.preload_N));
    });

    test('through the model, its profiles and its contacts', () => {
      const analysis = analyse(referenceModel(without), {
        preload_N: reference.preload_N,
        assumptions: { contactStiffness_N_per_mm: reference.contactStiffness_N_per_mm },
      });
      const pivot = analysis.pivots[0]!;
      const stack = pivot.stacks[0]!;
      const arms = stack.items.filter((item) => item.member === 'rocker');
      expect(arms.length).toBe(2);
      // The bridge lies midway between two arms of the same stiffness that carry the same force.
      const bend = Math.abs(arms[0]!.shift_mm - arms[1]!.shift_mm) / 2;
      if (arm_mm < 0.1) expect(Math.abs(bend - arm_mm)).toBeLessThan(reference.armRounding_mm);
      else near(bend, arm_mm);
      if (face_N !== null) {
        for (const bearing of stack.items.filter((item) => item.role === 'bearing')) {
          near(bearing.nonDrive.force_N, face_N);
          near(bearing.drive.force_N, face_N);
        }
        near(stack.clamp_N, face_N);
      }
      stack.column.forEach((link) => {
        expect(link.force_N).toBeGreaterThan(0.7 * reference.preload_N);
        expect(link.gap_mm).toBe(0);
      });
      const drawn = pivot.findings.find((finding) => finding.code === 'arm-drawn');
      const loaded = pivot.findings.find((finding) => finding.code === 'bearing-side-loaded');
      if (sideLoad_N === null) {
        expect(drawn).toBeUndefined();
        expect(loaded).toBeUndefined();
      } else {
        near(drawn!.numbers['bend_mm']!.value, arm_mm);
        near(loaded!.numbers['load_N']!.value, sideLoad_N);
        expect(drawn!.about!['way']).toBe('in');
        expect(drawn!.severity).toBe('stop');
      }
      expect(analysis.verdict).toBe(name === 'all spacers right' ? 'sound' : 'faulty');
    });
  });

  test('the joint made from the model answers as the one written by hand does', () => {
    for (const { without } of reference.cases) {
      const hand = clamp(handBuilt(without));
      const stack = analyse(referenceModel(without), {
        preload_N: reference.preload_N,
        assumptions: { contactStiffness_N_per_mm: reference.contactStiffness_N_per_mm },
      }).pivots[0]!.stacks[0]!;
      // By hand each contact stands once; the model's first and last link are head and nut against the rocker's
      // bearings.
      const links = stack.column.map((link) => link.force_N);
      links.forEach((force, k) => near(force, hand.contact_N[k]!, 1e-3));
    }
  });
});

describe(`the oracle itself: ${qp.source}`, () => {
  test.each(qp.cases)('$name', ({ D, d, constraints, b0, equalities, solution, value, multipliers }) => {
    const found = solveProgramme({ D, d, constraints, b0, equalities });
    found.solution.forEach((x, k) => expect(Math.abs(x - solution[k]!)).toBeLessThan(qp.allowed));
    expect(Math.abs(found.value - value)).toBeLessThan(qp.allowed * Math.max(1, Math.abs(value)));
    multipliers?.forEach((x, k) => expect(Math.abs(found.multipliers[k]! - x)).toBeLessThan(qp.allowed * 1e2));
  });
  test('refuses a matrix that is not positive definite, and says so', () => {
    expect(() =>
      solveProgramme({
        D: [
          [1, 1],
          [1, 1],
        ],
        d: [1, 0],
        constraints: [],
        b0: [],
      }),
    ).toThrow(/positive definite/);
  });
});

describe('clamp, against the quadratic programme', () => {
  const { instances, allowedForce_N, allowedShift_mm } = qp.clamp;
  test.each(FAMILIES.map((family) => [instances[family], family] as const))(
    'a fifteenth of %i seeds of the %s instances',
    (count, family) => {
      for (const seed of seeds(count / 15)) {
        const problem = clampInstance(family, seed);
        const ours = clamp(problem);
        expect(ours.isSolved, `seed ${seed}`).toBe(true);
        const oracle = family === 'sprung' ? clampByProgramme(problem) : clampByProximalRounds(problem);
        oracle.contact_N.forEach((force, k) =>
          expect(Math.abs(ours.contact_N[k]! - force), `contact ${k}, seed ${seed}`).toBeLessThan(allowedForce_N),
        );
        oracle.spring_N.forEach((force, k) =>
          expect(Math.abs(ours.spring_N[k]! - force), `spring ${k}, seed ${seed}`).toBeLessThan(allowedForce_N),
        );
        if (family === 'sprung')
          oracle.shift_mm.forEach((u, k) =>
            expect(Math.abs(ours.shift_mm[k]! - ours.shift_mm[0]! - u), `shift ${k}, seed ${seed}`).toBeLessThan(
              allowedShift_mm,
            ),
          );
      }
    },
  );

  test('every demo pivot at its spec torque, tether and all: forces and places', () => {
    const problems = demoModels().flatMap((model) =>
      model.pivots.map(
        (pivot) =>
          [
            `${model.id} ${pivot.id}`,
            clampProblem(
              makeJoint(resolveModel(model), pivot.id),
              (own) => tighten(own, { engagement_mm: 0, rubbing_mm: undefined }).preload_N.spec,
            ),
          ] as const,
      ),
    );
    expect(problems.length).toBeGreaterThan(10);
    for (const [name, problem] of problems) {
      const [ours, oracle] = [clamp(problem), clampByTetheredProgramme(problem)];
      oracle.contact_N.forEach((force, k) =>
        expect(Math.abs(ours.contact_N[k]! - force), `${name}, contact ${k}`).toBeLessThan(allowedForce_N),
      );
      oracle.spring_N.forEach((force, k) =>
        expect(Math.abs(ours.spring_N[k]! - force), `${name}, spring ${k}`).toBeLessThan(allowedForce_N),
      );
      oracle.shift_mm.forEach((u, k) =>
        expect(Math.abs(ours.shift_mm[k]! - u), `${name}, shift ${k}`).toBeLessThan(qp.clamp.allowedTetheredShift_mm),
      );
    }
  });
});
