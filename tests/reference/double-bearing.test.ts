/**
 * Two bearings side by side in one seat, worked by hand on the reference joint: the shell's seats are 14 mm deep, so
 * that two rings of 7 mm stand in each, and the sleeve between the shoulders is 16 mm. And a bearing with two rows of
 * balls, which is one bearing with two rings.
 *
 * The shell runs from −22 to 22 mm: shoulders at ±8, the inner bearings from 8 to 15, the outer ones from 15 to 22, on
 * either side. Inner ring bears on inner ring with the whole clamp; outer ring lies on outer ring and carries none of it.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  ballRows,
  listDimensions,
  mistakes,
  partProfile,
  planOf,
  readData,
  resolveBearing,
  wordPlanStep,
  wordProblem,
  type Analysis,
  type LinkageModel,
  type PlacedItem,
} from '../../shared/index.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

/** The reference joint with bearings of these widths from the shoulder outward in each seat of the shell. */
function withPairs(
  widths_mm: readonly number[],
  depth_mm = 14,
  change?: (data: ReturnType<typeof referenceData>) => void,
) {
  const data = referenceData();
  const { frame } = data.members as { frame: { bores: { shell: { seats: { depth_mm: number }[] } } } };
  for (const seat of frame.bores.shell.seats) seat.depth_mm = depth_mm;
  data.parts['sleeve']!['length_mm'] = 44 - 2 * depth_mm;
  widths_mm.forEach((width_mm, k) => {
    data.parts[`pair-${k}`] = {
      kind: 'bearing',
      name: `Bearing of the pair, ${k}`,
      bore_mm: 15,
      outside_mm: 28,
      width_mm,
      chamfer_mm: 0.3,
      inner_shoulder_mm: 18.5,
      outer_shoulder_mm: 25.3,
    };
  });
  const { row } = data.pivots[0]!.stacks[0]!;
  const at = (id: string): number => row.findIndex((entry) => entry['id'] === id);
  const pair = (side: string): Record<string, unknown>[] =>
    widths_mm.map((_, k) => ({ id: `${side}-${k}`, part: `pair-${k}` }));
  row.splice(at('frame-bearing-nd'), 1, ...pair('nd').reverse());
  row.splice(at('frame-bearing-d'), 1, ...pair('d'));
  change?.(data);
  return readData(data);
}

function model(...how: Parameters<typeof withPairs>): LinkageModel {
  const reading = withPairs(...how);
  if (!reading.ok) throw new Error(reading.problems.map(wordProblem).join('; '));
  return reading.model;
}

const itemOf = ({ pivots }: Analysis, id: string): PlacedItem =>
  pivots[0]!.stacks[0]!.items.find(({ rowId }) => rowId === id)!;
const codes = ({ pivots }: Analysis): string[] => pivots[0]!.findings.map(({ code }) => code);
/** Where a bearing's outer ring stands, from the frame's middle. */
const outerOf = (item: PlacedItem): readonly [number, number] => {
  const z = item.solids.find(({ role }) => role === 'outer-ring')!.polygon.map(([, at]) => at);
  return [Math.min(...z), Math.max(...z)];
};

describe('two bearings side by side in one seat', () => {
  const analysis = analyse(model([7, 7]));

  test('stand on the shoulder and on one another', () => {
    const places = { 'nd-1': [-22, -15], 'nd-0': [-15, -8], 'd-0': [8, 15], 'd-1': [15, 22] } as const;
    for (const [id, [from, to]] of Object.entries(places)) {
      const [low, high] = outerOf(itemOf(analysis, id));
      expect(low, id).toBeCloseTo(from, 9);
      expect(high, id).toBeCloseTo(to, 9);
    }
    expect(itemOf(analysis, 'd-1').seat).toMatchObject({ bore: 'shell', side: 'drive', on: 'main/d-0' });
    expect(itemOf(analysis, 'nd-1').seat).toMatchObject({ bore: 'shell', side: 'non-drive', on: 'main/nd-0' });
    expect(itemOf(analysis, 'd-0').seat).not.toHaveProperty('on');
  });

  test('inner ring bears on inner ring with the whole clamp, outer ring on outer ring with none', () => {
    const { clamp_N, tightening } = analysis.pivots[0]!.stacks[0]!;
    expect(clamp_N).toBeGreaterThan(0.9 * tightening.preload_N.spec);
    const touches = itemOf(analysis, 'd-0').drive.touches.filter((touch) => touch.with === 'main/d-1');
    expect(touches.map(({ own, bears }) => [own, bears])).toEqual([['inner-ring', 'inner-ring']]);
    expect(touches[0]!.force_N).toBeCloseTo(itemOf(analysis, 'd-0').nonDrive.force_N, 3);
    expect(analysis.verdict).toBe('sound');
    expect(codes(analysis)).not.toContain('bearing-recessed');
  });

  test('the outer one below the face is told, the covered one never', () => {
    const deep = analyse(model([7, 7], 15));
    const told = deep.pivots[0]!.findings.filter(({ code }) => code === 'bearing-recessed');
    expect(told.flatMap(({ parts }) => parts).sort()).toEqual(['main/d-1', 'main/nd-1']);
    for (const { numbers } of told) expect(numbers['below_mm']!.value).toBeCloseTo(1, 9);
  });

  test('a seat that holds less than half of the second has no place for it', () => {
    const shallow = withPairs([7, 7], 10.4);
    expect(shallow.ok).toBe(false);
    expect(shallow.ok ? [] : shallow.problems.map(({ code }) => code)).toEqual(['seat-missing', 'seat-missing']);
    expect(withPairs([7, 7], 10.5).ok).toBe(true);
  });

  test('one left 0.5 mm off its shoulder pushes the other out by as much', () => {
    const proud = analyse(
      model([7, 7], 14, ({ pivots }) => {
        pivots[0]!.stacks[0]!.row.find(({ id }) => id === 'd-0')!['proud_mm'] = 0.5;
      }),
    );
    expect(outerOf(itemOf(proud, 'd-1'))[0]).toBeCloseTo(15.5, 9);
    expect(codes(proud)).toContain('bearing-not-home');
  });

  test('the widths of both move the face of the outer one, once each', () => {
    const widths = listDimensions(analysis.model, 'main').filter(({ id }) => /^main\/d-[01]:width/.test(id));
    expect(widths.map(({ nominal_mm }) => nominal_mm)).toEqual([7, 7]);
    const wider = analyse(model([7.5, 7], 14));
    expect(outerOf(itemOf(wider, 'd-1'))[1]).toBeCloseTo(22.5, 9);
  });

  test('the one on the shoulder is pressed first, the other onto it, rings on rings', () => {
    const { steps } = planOf(analysis);
    const pressing = steps.filter(({ kind }) => kind === 'press-bearing');
    expect(pressing.map(({ items }) => items[0]!.split('/')[1]!).filter((id) => !id.startsWith('rocker'))).toEqual([
      'nd-0',
      'nd-1',
      'd-0',
      'd-1',
    ]);
    const onto = pressing.find(({ items }) => items[0] === 'main/d-1')!;
    expect(wordPlanStep(onto, analysis).text).toMatch(
      /until it stands on bearing of the pair, 0 .*outer ring on outer ring/,
    );
  });

  test('the second left out draws the arm in by 7 mm, and is found', () => {
    const out = mistakes(analysis.model).filter(({ mistake }) => /^left-out:main\/n?d-\d$/.test(mistake.id));
    expect(out.map(({ mistake }) => mistake.id).sort()).toEqual(['left-out:main/d-1', 'left-out:main/nd-1']);
    for (const { verdict, findings, mistake } of out) {
      expect(verdict, mistake.id).toBe('faulty');
      expect(
        findings.map(({ code }) => code),
        mistake.id,
      ).toContain('arm-drawn');
    }
  });
});

describe('a bearing with two rows of balls', () => {
  const own = { kind: 'bearing', name: 'Own', bore_mm: 17, outside_mm: 26, width_mm: 10 } as const;

  test('is known by its designation, or says so itself, but not against its table', () => {
    expect(resolveBearing({ kind: 'bearing', name: 'Two rows', designation: '3803-2RS' }).ballRows).toBe(2);
    expect(resolveBearing(own).ballRows).toBe(1);
    expect(resolveBearing({ ...own, ball_rows: 2 }).ballRows).toBe(2);
    const reading = withPairs([7, 7], 14, ({ parts }) => Object.assign(parts['bearing']!, { ball_rows: 2 }));
    expect(reading.ok ? [] : reading.problems.map(({ code, path }) => [code, path])).toEqual([
      ['bearing-contradicts', 'parts.bearing.ball_rows'],
    ]);
  });

  test('is one bearing with one pair of rings: its rows stand apart and within it', () => {
    const { balls, solids } = partProfile({ ...own, ball_rows: 2 });
    const [low, high] = ballRows(balls!);
    expect(solids.filter(({ role }) => role === 'inner-ring').length).toBe(1);
    expect(low!.z_mm + high!.z_mm).toBeCloseTo(10, 9);
    expect(high!.z_mm - low!.z_mm).toBeGreaterThan(low!.diameter_mm);
    expect(low!.z_mm - low!.diameter_mm / 2).toBeGreaterThan(0.8);
    expect(ballRows(partProfile(own).balls!).map(({ z_mm }) => z_mm)).toEqual([5]);
  });
});
