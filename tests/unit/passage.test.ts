/**
 * Whether an axle passes through its row: every bore on its way against the thickest of the axle that goes through it.
 */
import { describe, expect, test } from 'vitest';
import { analyse, readData, type Passage, type PivotAnalysis, type Side } from '../../shared/index.ts';
import { demoModels, flippedModel, otherSide, pivotAlone, withStacks } from '../bench/models.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

type Cylinder = { diameter_mm: number; length_mm: number };

/** Lugs of one frame with the given bores, 10 mm each and side by side, and an axle of the given shank with its nut. */
function rowOf(bores: readonly number[], shank: readonly Cylinder[], from: Side, threadLength = 12): PivotAnalysis {
  const reading = readData({
    schema: 1,
    id: 'row',
    name: 'Row',
    units: 'mm, N, N·m, deg',
    parts: {
      axle: {
        kind: 'axle',
        name: 'Axle',
        material: 'steel',
        head: { diameter_mm: 26, height_mm: 4 },
        shank,
        thread: { size_mm: shank.at(-1)!.diameter_mm, pitch_mm: 1, length_mm: threadLength },
      },
      nut: {
        kind: 'nut',
        name: 'Nut',
        material: 'steel',
        outside_mm: 24,
        length_mm: 10,
        thread: { size_mm: shank.at(-1)!.diameter_mm, pitch_mm: 1, length_mm: 10 },
      },
    },
    members: {
      frame: {
        kind: 'frame',
        name: 'Frame',
        material: 'steel',
        bores: Object.fromEntries(
          bores.map((bore_mm, k) => [`lug-${k}`, { z_from_mm: 10 * k, z_to_mm: 10 * k + 10, bore_mm, boss_mm: 24 }]),
        ),
      },
    },
    pivots: [
      {
        id: 'row',
        name: 'Row',
        x_mm: 0,
        y_mm: 0,
        stacks: [
          {
            id: 'row',
            axle: 'axle',
            receiver: 'nut',
            from,
            torque_Nm: 10,
            thread_treatment: 'dry',
            drives: { head: { tool: 'hex-key', size_mm: 6 } },
            turned: 'head',
            row: bores.map((_, k) => ({ id: `lug-${k}`, member: 'frame', bore: `lug-${k}` })),
          },
        ],
      },
    ],
  });
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return analyse(reading.model).pivots[0]!;
}

const passageOf = (pivot: PivotAnalysis, side: Side): Passage =>
  pivot.stacks[0]!.passage[side === 'drive' ? 'drive' : 'nonDrive'];
const blockedBy = (pivot: PivotAnalysis, side: Side): string[] =>
  passageOf(pivot, side).blocks.map((block) => block.with.split('/')[1]!);

describe('passage, by hand', () => {
  const plain = [{ diameter_mm: 10, length_mm: 42 }];
  const stepped = [
    { diameter_mm: 16, length_mm: 10 },
    { diameter_mm: 10, length_mm: 32 },
  ];

  test('a plain axle through like bores passes from both sides', () => {
    const pivot = rowOf([10.2, 10.2, 10.2], plain, 'non-drive');
    expect([passageOf(pivot, 'non-drive'), passageOf(pivot, 'drive')]).toEqual([
      { from: 'non-drive', passes: true, blocks: [] },
      { from: 'drive', passes: true, blocks: [] },
    ]);
  });

  test('one bore too small blocks both sides, and says by how much', () => {
    const pivot = rowOf([10.2, 9.5, 10.2], plain, 'non-drive');
    for (const side of ['non-drive', 'drive'] as const)
      expect(passageOf(pivot, side)).toEqual({
        from: side,
        passes: false,
        blocks: [{ with: 'row/lug-1', bore_mm: 9.5, axle_mm: 10 }],
      });
    expect(pivot.findings.find(({ code }) => code === 'axle-will-not-pass')).toMatchObject({
      severity: 'stop',
      about: { side: 'non-drive', reason: 'bore-too-small' },
      numbers: { axle_mm: { value: 10 }, bore_mm: { value: 9.5 } },
    });
  });

  test('a hair of play is enough, a hair too little is not', () => {
    expect(passageOf(rowOf([10], plain, 'non-drive'), 'non-drive').passes).toBe(true);
    expect(passageOf(rowOf([9.99], plain, 'non-drive'), 'non-drive').passes).toBe(false);
  });

  test('a stepped axle passes only from the side where the wide bore is', () => {
    const pivot = rowOf([16.2, 10.2, 10.2], stepped, 'non-drive');
    expect(passageOf(pivot, 'non-drive').passes).toBe(true);
    expect(blockedBy(pivot, 'drive')).toEqual(['lug-2']);
    const wrong = rowOf([16.2, 10.2, 10.2], stepped, 'drive');
    expect(passageOf(wrong, 'drive').passes).toBe(false);
    expect(passageOf(wrong, 'non-drive').passes).toBe(true);
    expect(wrong.findings.map(({ code }) => code)).toContain('axle-will-not-pass');
    const mirrored = rowOf([10.2, 10.2, 16.2], stepped, 'drive');
    expect(passageOf(mirrored, 'drive').passes).toBe(true);
    expect(blockedBy(mirrored, 'non-drive')).toEqual(['lug-0']);
  });

  test('a step that ends where a narrow bore begins does not meet it', () => {
    expect(blockedBy(rowOf([16.2, 10.2], stepped, 'non-drive'), 'non-drive')).toEqual([]);
    expect(
      blockedBy(
        rowOf(
          [16.2, 10.2],
          [
            { diameter_mm: 16, length_mm: 10.5 },
            { diameter_mm: 10, length_mm: 32 },
          ],
          'non-drive',
        ),
        'non-drive',
      ),
    ).toEqual(['lug-1']);
  });

  test('a tip thicker than the waist behind it must pass every bore on its way', () => {
    const waisted = [
      { diameter_mm: 16, length_mm: 10 },
      { diameter_mm: 10, length_mm: 16 },
      { diameter_mm: 14, length_mm: 16 },
    ];
    // The thick tip goes through all three; the waist that ends up in the middle lug does not help it there.
    expect(blockedBy(rowOf([16.2, 12, 14.2], waisted, 'non-drive'), 'non-drive')).toEqual(['lug-1']);
    expect(blockedBy(rowOf([16.2, 14.2, 14.2], waisted, 'non-drive'), 'non-drive')).toEqual([]);
  });

  test('what lies beyond the tip is not on the way', () => {
    expect(blockedBy(rowOf([10.2, 10.2, 10.2, 10.2, 10.2, 8], plain, 'non-drive'), 'non-drive')).toEqual([]);
  });
});

describe('passage into a threaded member', () => {
  /** The reference axle into a lug of the frame, from z 34 on. */
  const lug = (thread: Record<string, unknown>, bore_mm = 13.9): PivotAnalysis => {
    const data = referenceData();
    (data.members['frame'] as { bores: Record<string, unknown> }).bores['lug'] = {
      z_from_mm: 34,
      z_to_mm: 60,
      bore_mm,
      boss_mm: 30,
      thread: { size_mm: 15, pitch_mm: 1, length_mm: 20, ...thread },
    };
    const stack = data.pivots[0]!.stacks[0]! as { receiver: string; drives: object };
    stack.receiver = 'frame/lug';
    stack.drives = { head: { tool: 'hex-key', size_mm: 8 } };
    const reading = readData(data);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    return analyse(reading.model).pivots[0]!;
  };
  test('from the side away from it, into a thread that opens there', () => {
    const pivot = lug({ opens: 'non-drive' });
    expect(passageOf(pivot, 'non-drive').passes).toBe(true);
    expect(passageOf(pivot, 'drive')).toEqual({ from: 'drive', passes: false, blocks: [], reason: 'receiver-is-here' });
  });
  test('not into a thread that opens at the far face, unless it runs through or its lead is wide enough', () => {
    expect(passageOf(lug({ opens: 'drive' }), 'non-drive')).toMatchObject({
      passes: false,
      reason: 'thread-opens-other-side',
    });
    expect(passageOf(lug({ opens: 'drive', length_mm: 26 }), 'non-drive').passes).toBe(true);
    expect(passageOf(lug({ opens: 'drive' }, 15.1), 'non-drive').passes).toBe(true);
    expect(passageOf(lug({ opens: 'drive', blind: true }, 15.1), 'non-drive').passes).toBe(false);
  });
});

describe('passage, demo models', () => {
  const models = demoModels();
  test.each(models.map((model) => [model.id, model] as const))(
    '%s: every axle passes from its own side',
    (_, model) => {
      for (const pivot of analyse(model).pivots)
        for (const stack of pivot.stacks)
          expect(stack.passage[stack.from === 'drive' ? 'drive' : 'nonDrive'], stack.id).toMatchObject({
            from: stack.from,
            passes: true,
            blocks: [],
          });
    },
  );
  test.each(models.map((model) => [model.id, model] as const))(
    '%s: seen from the other side, what passed from one side passes from the other',
    (_, model) => {
      const [one, other] = [analyse(model), analyse(flippedModel(model))];
      one.pivots.forEach((pivot, p) =>
        pivot.stacks.forEach((stack, s) => {
          const mirrored = other.pivots[p]!.stacks[s]!.passage;
          expect([mirrored.drive.passes, mirrored.nonDrive.passes], stack.id).toEqual([
            stack.passage.nonDrive.passes,
            stack.passage.drive.passes,
          ]);
        }),
      );
    },
  );
  test('an axle that goes into a lug does not pass from the lug’s own side, and a build that says so is told', () => {
    let tried = 0;
    for (const model of models) {
      for (const { id, stacks } of model.pivots) {
        for (const { id: stackId, from, receiver } of stacks) {
          if (!receiver.includes('/')) continue;
          tried++;
          const across = otherSide(from);
          const turned = withStacks(pivotAlone(model, id), (own) =>
            own.id === stackId ? { ...own, from: across } : own,
          );
          const pivot = analyse(turned).pivots[0]!;
          expect(
            passageOf({ ...pivot, stacks: pivot.stacks.filter((stack) => stack.id === stackId) }, across),
            stackId,
          ).toMatchObject({ passes: false, reason: 'receiver-is-here' });
          expect(
            pivot.findings.find(({ code, stack }) => code === 'axle-will-not-pass' && stack === stackId)?.about,
          ).toMatchObject({ reason: 'receiver-is-here' });
        }
      }
    }
    expect(tried).toBeGreaterThan(4);
  });
  test.each(models.map((model) => [model.id, model] as const))(
    '%s: an axle put in from the side it does not pass from is a fault',
    (_, model) => {
      for (const { id, stacks } of model.pivots) {
        for (const { id: stackId, from } of stacks) {
          const across = otherSide(from);
          const turned = withStacks(pivotAlone(model, id), (own) =>
            own.id === stackId ? { ...own, from: across } : own,
          );
          const pivot = analyse(turned).pivots[0]!;
          const { passes } = passageOf(
            { ...pivot, stacks: pivot.stacks.filter((stack) => stack.id === stackId) },
            across,
          );
          expect(
            pivot.findings.some(({ code, stack }) => code === 'axle-will-not-pass' && stack === stackId),
            stackId,
          ).toBe(!passes);
          if (!passes) expect(pivot.verdict).not.toBe('sound');
        }
      }
    },
  );
});
