/**
 * A pivot with plain bushes, worked by hand on the reference joint: a flanged bush of 5 mm each side in place of the
 * spacers, and what it does when its flange is too wide, when it is turned, and when it is a little long.
 *
 * The column is as long as before, so that the joint carries the same preload through every face. The small end of a
 * bush (16.5 mm outside, edge broken by 0.2 mm: radius 8.05) lies on the inner ring of a 15 × 28 × 7 bearing, whose
 * flat begins behind a chamfer of 0.3 mm, at radius 7.8; its flange (18 mm, edge at 8.8) from there on as well.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  listMistakes,
  partSizes,
  readData,
  sortTray,
  wordKind,
  type Analysis,
  type FaceReading,
  type LinkageModel,
} from '../../shared/index.ts';
import { referenceData, referenceModel } from '../fixtures/reference-joint.ts';

const BUSH = {
  kind: 'bush',
  name: 'Bush, 5 mm',
  outside_mm: 16.5,
  bore_mm: 15.1,
  length_mm: 5,
  chamfer_mm: 0.2,
  material: 'aluminium-7075',
};

function withBush(more: Readonly<Record<string, unknown>>, turnedDrive = false): LinkageModel {
  const data = referenceData();
  data.parts['spacer'] = { ...BUSH, ...more };
  const row = data.pivots[0]!.stacks[0]!.row;
  row.find(({ id }) => id === 'spacer-d')!['turned'] = turnedDrive;
  const read = readData(data);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.model;
}

const stackOf = (analysis: Analysis) => analysis.pivots[0]!.stacks[0]!;
const itemOf = (analysis: Analysis, rowId: string) => stackOf(analysis).items.find((item) => item.rowId === rowId)!;
const flatOf = ({ touches }: FaceReading) => touches.flatMap(({ bands_mm }) => bands_mm);

describe('a plain bush without a flange', () => {
  const analysis = analyse(withBush({ outside_mm: 17.5 }));
  test('is a spacer to the solve: every face carries what it carried', () => {
    const before = analyse(referenceModel());
    expect(analysis.pivots[0]!.verdict).toBe(before.pivots[0]!.verdict);
    expect(stackOf(analysis).clamp_N).toBeCloseTo(stackOf(before).clamp_N, 6);
    for (const { rowId, nonDrive, drive } of stackOf(before).items) {
      const now = itemOf(analysis, rowId);
      expect([now.nonDrive.bears, now.drive.bears]).toEqual([nonDrive.bears, drive.bears]);
      expect(now.drive.force_N).toBeCloseTo(drive.force_N, 6);
    }
    expect(itemOf(analysis, 'spacer-nd').smallFace).toBeUndefined();
  });
});

describe('a flanged bush', () => {
  const flange = { flange_mm: 18, flange_length_mm: 1.5 };
  const analysis = analyse(withBush(flange, true));

  test('bears on the inner rings with flange and end, its small face away from its flange', () => {
    const [left, right] = [itemOf(analysis, 'spacer-nd'), itemOf(analysis, 'spacer-d')];
    expect([left.smallFace, right.smallFace]).toEqual(['drive', 'non-drive']);
    for (const { nonDrive, drive } of [left, right])
      expect([nonDrive.bears, drive.bears]).toEqual(['inner-ring', 'inner-ring']);
    for (const [face, outer] of [
      [left.nonDrive, 8.8],
      [left.drive, 8.05],
      [right.nonDrive, 8.05],
      [right.drive, 8.8],
    ] as const) {
      expect(flatOf(face)).toHaveLength(1);
      expect(flatOf(face)[0]![0]).toBeCloseTo(7.8, 9);
      expect(flatOf(face)[0]![1]).toBeCloseTo(outer, 9);
    }
  });

  test('is pressed by force over flat: π (8.05² − 7.8²) = 12.45 mm² at its end', () => {
    const { drive } = itemOf(analysis, 'spacer-nd');
    const [touch] = drive.touches;
    expect(touch!.pressure_MPa / (touch!.force_N / 12.4485)).toBeCloseTo(1, 4);
    expect(touch!.force_N).toBeCloseTo(stackOf(analysis).clamp_N, -2);
  });

  test('with a flange beyond 25.3 mm touches the outer ring, and the pivot does not fit', () => {
    const wide = analyse(withBush({ ...flange, flange_mm: 27 }, true));
    expect(itemOf(wide, 'spacer-nd').nonDrive.bears).toBe('outer-ring');
    expect(itemOf(wide, 'spacer-nd').drive.bears).toBe('inner-ring');
    expect(wide.pivots[0]!.verdict).toBe('faulty');
    expect(wide.pivots[0]!.findings.map(({ code }) => code)).toContain('outer-ring-touched');
  });

  test('can be turned, left out and taken for the sleeve of its bore', () => {
    const kinds = listMistakes(withBush(flange), 'main').map(({ id }) => id);
    expect(kinds).toContain('turned:main/spacer-nd');
    expect(kinds).toContain('left-out:main/spacer-d');
    expect(kinds.some((id) => id.startsWith('swapped:main/spacer-nd:main/sleeve'))).toBe(true);
  });

  test('wears in the bore and outside, and the tray tells it by its flange', () => {
    const model = withBush(flange);
    const sizes = partSizes(model.parts['spacer']!);
    expect([sizes.bore_mm!.wears, sizes.outside_mm!.wears, sizes.large_mm!.wears]).toEqual([1, -1, 0]);
    const read = { kind: 'bush', large_mm: 18, bore_mm: 15.32, outside_mm: 16.5, count: 1 } as const;
    const tray = sortTray(model, { readings: [read], setting: { accuracy_mm: 0.02, wear: true } });
    const [placed] = tray.rows[0]!.placements;
    expect(placed!.candidate).toBe('spacer');
    expect(placed!.worn.map(({ name, isBeyond }) => [name, isBeyond])).toEqual([['bore_mm', true]]);
    expect(wordKind('bush')).toBe('plain bush');
  });

  test('contradicts itself with half a flange, or one that is no wider than its tube', () => {
    for (const [more, path] of [
      [{ flange_mm: 18 }, 'parts.spacer.flange_length_mm'],
      [{ flange_length_mm: 2 }, 'parts.spacer.flange_mm'],
      [{ flange_mm: 16, flange_length_mm: 2 }, 'parts.spacer.flange_mm'],
      [{ flange_mm: 18, flange_length_mm: 5 }, 'parts.spacer.length_mm'],
      [{ chamfer_mm: 0.36 }, 'parts.spacer.chamfer_mm'],
    ] as const) {
      const data = referenceData();
      data.parts['spacer'] = { ...BUSH, ...more };
      const read = readData(data);
      expect(read.ok ? [] : read.problems.map((problem) => problem.path)).toContain(path);
    }
  });
});
