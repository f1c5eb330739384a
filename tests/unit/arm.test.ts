/**
 * How stiffly a boss is held: given, rigid, or the cantilever k = 3·E·I/L³ with I = h·t³/12 (textbook beam formula).
 */
import { describe, expect, test } from 'vitest';
import { armOf } from '../../shared/joint/arm.ts';
import { analyse, readData, type LinkageModel, type Member } from '../../shared/index.ts';
import { resolveModel } from '../../shared/model/resolve.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

const bore = { z_from_mm: 0, z_to_mm: 10, bore_mm: 12, boss_mm: 30 };

/** A model with one member; only what `armOf` looks at is filled in. */
function modelOf(member: Partial<Member>): LinkageModel {
  return {
    schema: 1,
    id: 'arms',
    name: 'Arms',
    units: 'mm, N, N·m, deg',
    parts: {},
    pivots: [],
    members: { one: { kind: 'rocker', name: 'One', material: 'aluminium-7075', bores: {}, ...member } },
  };
}

const armAt = (model: LinkageModel, bore: string) => armOf(resolveModel(model).members['one']!.bores[bore]!);

describe('arm', () => {
  test('a figure in the file stands as it is', () => {
    const model = modelOf({ bores: { a: { ...bore, arm_stiffness_N_per_mm: 400 } }, kind: 'frame' });
    expect(armAt(model, 'a')).toEqual({ stiffness_N_per_mm: 400, isRigid: false, isEstimated: false });
  });

  test.each([
    ['frame', true],
    ['shock-body', true],
    ['shock-shaft', true],
    ['rocker', false],
    ['swingarm', false],
    ['chainstay', false],
    ['seatstay', false],
    ['link', false],
  ] as const)('a %s holds its boss rigidly: %s', (kind, isRigid) => {
    expect(armAt(modelOf({ kind, bores: { a: bore } }), 'a').isRigid).toBe(isRigid);
  });

  test('the file may say otherwise', () => {
    expect(armAt(modelOf({ kind: 'rocker', bores: { a: { ...bore, rigid: true } } }), 'a')).toEqual({
      stiffness_N_per_mm: Infinity,
      isRigid: true,
      isEstimated: false,
    });
    expect(armAt(modelOf({ kind: 'frame', bores: { a: { ...bore, rigid: false } } }), 'a').isRigid).toBe(false);
  });

  test('a web is a cantilever: 7075, 8 mm thick, 30 mm high, 60 mm long', () => {
    const model = modelOf({
      bores: { a: { ...bore, x_mm: 0, y_mm: 0 }, b: { ...bore, x_mm: 36, y_mm: 48 } },
      webs: [{ from: 'a', to: 'b', thickness_mm: 8, height_mm: 30 }],
    });
    // 3 · 71 000 · (30 · 8³ / 12) / 60³
    const wanted = (3 * 71_000 * 1280) / 216_000;
    for (const name of ['a', 'b']) {
      const arm = armAt(model, name);
      expect(arm.stiffness_N_per_mm).toBeCloseTo(wanted, 9);
      expect(arm.isEstimated).toBe(true);
    }
  });

  test('twice as long is eight times softer, twice as thick eight times stiffer', () => {
    const stiffness = (length: number, thickness_mm: number): number =>
      armAt(
        modelOf({
          bores: { a: { ...bore, x_mm: 0, y_mm: 0 }, b: { ...bore, x_mm: length, y_mm: 0 } },
          webs: [{ from: 'a', to: 'b', thickness_mm }],
        }),
        'a',
      ).stiffness_N_per_mm;
    expect(stiffness(50, 8) / stiffness(100, 8)).toBeCloseTo(8, 9);
    expect(stiffness(50, 16) / stiffness(50, 8)).toBeCloseTo(8, 9);
  });

  test('without a height the smaller boss tells it, to a point as to a bore', () => {
    const member = {
      bores: { a: { ...bore, x_mm: 0, y_mm: 0 }, b: { ...bore, boss_mm: 22, x_mm: 40, y_mm: 0 } },
      points: { tip: { x_mm: 0, y_mm: 40, z_mm: 0, boss_mm: 22 } },
    };
    const toBore = armAt(
      modelOf({ ...member, webs: [{ from: 'a', to: 'b', thickness_mm: 6 }] }),
      'a',
    ).stiffness_N_per_mm;
    const toPoint = armAt(
      modelOf({ ...member, webs: [{ from: 'tip', to: 'a', thickness_mm: 6 }] }),
      'a',
    ).stiffness_N_per_mm;
    expect(toBore).toBeCloseTo((3 * 71_000 * ((22 * 216) / 12)) / 64_000, 9);
    expect(toPoint).toBeCloseTo(toBore, 9);
  });

  test('webs of one boss add up; a bridge along z, and webs of other bosses, do not', () => {
    const bores = {
      a: { ...bore, x_mm: 0, y_mm: 0 },
      b: { ...bore, x_mm: 40, y_mm: 0 },
      c: { ...bore, x_mm: 0, y_mm: 40 },
      across: { ...bore, x_mm: 0, y_mm: 5 },
    };
    const web = { thickness_mm: 6, height_mm: 20 };
    const one = armAt(modelOf({ bores, webs: [{ ...web, from: 'a', to: 'b' }] }), 'a').stiffness_N_per_mm;
    const two = armAt(
      modelOf({
        bores,
        webs: [
          { ...web, from: 'a', to: 'b' },
          { ...web, from: 'c', to: 'a' },
          { ...web, from: 'a', to: 'across' },
          { ...web, from: 'b', to: 'c' },
        ],
      }),
      'a',
    ).stiffness_N_per_mm;
    expect(two).toBeCloseTo(2 * one, 9);
  });

  test('where nothing is known it is still springy, and says it is an estimate', () => {
    const arm = armAt(modelOf({ bores: { a: bore } }), 'a');
    expect(arm.isEstimated).toBe(true);
    expect(arm.isRigid).toBe(false);
    expect(arm.stiffness_N_per_mm).toBeGreaterThan(100);
    expect(arm.stiffness_N_per_mm).toBeLessThan(10_000);
  });
});

describe('which way an arm bends', () => {
  type Boss = Record<string, unknown>;

  /** The reference joint with one boss of its rocker rigid, and what is changed of its row and spacers. */
  function waysOf(rigid: 'left' | 'right' | undefined, change: (data: ReturnType<typeof referenceData>) => void) {
    const data = referenceData();
    const bores = (data.members['rocker'] as { bores: Record<string, Boss> }).bores;
    if (rigid) {
      const { arm_stiffness_N_per_mm: _, ...bore } = bores[rigid]!;
      bores[rigid] = { ...bore, rigid: true };
    }
    change(data);
    const read = readData(data);
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    const drawn = analyse(read.model).pivots[0]!.findings.filter(({ code }) => code === 'arm-drawn');
    return drawn.map(({ about, parts }) => `${about!['way']} ${parts.join(' ')}`);
  }

  // The middle of a member is that of all its bosses: that of the flexible ones alone lies in the boss that bends.
  const CASES = [
    ['left', 'main/rocker-d'],
    ['right', 'main/rocker-nd'],
    [undefined, 'main/rocker-nd main/rocker-d'],
  ] as const;

  test.each(CASES)('a spacer left out draws it in: rigid %s', (rigid, parts) => {
    for (const out of ['spacer-nd', 'spacer-d'])
      expect(
        waysOf(rigid, (data) => {
          const stack = data.pivots[0]!.stacks[0]!;
          stack.row = stack.row.filter(({ id }) => id !== out);
        }),
      ).toEqual([`in ${parts}`]);
  });

  test.each(CASES)('a spacer too long pushes it out: rigid %s', (rigid, parts) => {
    expect(
      waysOf(rigid, (data) => {
        data.parts['spacer']!['length_mm'] = 5.8;
      }),
    ).toEqual([`out ${parts}`]);
  });
});
