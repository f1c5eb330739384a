/**
 * The face that rubs under what turns: VDI 2230 takes the mean of the contact's outer and inner diameter,
 * D_Km = (D_o + D_i)/2, and the contact is the metal that touches, not the size of the thread.
 */
import { describe, expect, it, test } from 'vitest';
import { analyse, readData, type LinkageModel } from '../../shared/index.ts';
import { meanDiameter_mm } from '../../shared/joint/rubbing.ts';
import { demoModels } from '../bench/models.ts';
import { patched } from '../fixtures/problems/patch.ts';
import { referenceData } from '../fixtures/reference-joint.ts';

/** The reference joint with some values set; `stack.` stands for its only stack. */
function jointWith(set: Readonly<Record<string, unknown>>): LinkageModel {
  const whole = Object.entries(set).map(([path, value]) => [path.replace(/^stack\./, 'pivots[0].stacks[0].'), value]);
  const reading = readData(patched(referenceData(), { set: Object.fromEntries(whole) as Record<string, unknown> }));
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.model;
}
const tighteningOf = (model: LinkageModel) => analyse(model).pivots[0]!.stacks[0]!.tightening;

describe('mean diameter of a contact', () => {
  it('of one annulus is half its two diameters together, of an edge its own', () => {
    expect(meanDiameter_mm([[7.8, 8.75]])).toBeCloseTo((15.6 + 17.5) / 2, 12);
    expect(meanDiameter_mm([[9, 9]])).toBe(18);
  });
  it('of two rings goes by their areas, hand-worked: 12 of 4 to 8 mm and 22 of 10 to 12 mm', () => {
    // Areas as 8² − 4² = 48 and 12² − 10² = 44.
    const bands = [
      [4, 8],
      [10, 12],
    ] as const;
    expect(meanDiameter_mm(bands)).toBeCloseTo((48 * 12 + 44 * 22) / 92, 12);
  });
});

// 61902: bore 15, chamfer 0.3, inner ring's face to 18.8. Land 17.5 on the head and on the nut, thread 15, shank 14.98.
const CASES: readonly (readonly [string, Record<string, unknown>, number])[] = [
  ['a head’s land within the ring’s face: from the ring’s chamfer to the land’s edge', {}, (15.6 + 17.5) / 2],
  ['a nut’s land on the same ring, turned at the nut', { 'stack.turned': 'receiver' }, (15.6 + 17.5) / 2],
  [
    'a land wider than the ring’s face: to the face’s edge',
    { 'parts.axle.head.land_mm': 19, 'parts.axle.head.land_height_mm': 6 },
    (15.6 + 18.8) / 2,
  ],
];

describe('what rubs in a solved joint', () => {
  test.each(CASES)('%s', (_, set, mean_mm) => {
    const { rubbing_mm, preload_N } = tighteningOf(jointWith(set));
    expect(rubbing_mm).toBeCloseTo(mean_mm, 9);
    // Greased: 0.12 in thread and under the face; the long form of VDI 2230 with the face's mean diameter.
    const lever_mm = 1 / (2 * Math.PI) + (0.12 * (15 - 0.649519)) / Math.sqrt(3) + (0.12 * mean_mm) / 2;
    expect(preload_N.spec).toBeCloseTo(20_000 / lever_mm, 0);
  });

  it('a second face that comes to bear rubs too: the mean goes by force', () => {
    // The land is 0.2 mm short, so that the flange (30) meets the rocker's face (bore 24) as well.
    const model = jointWith({ 'parts.axle.head.land_height_mm': 3.8 });
    const [stack] = analyse(model).pivots[0]!.stacks;
    const axle = stack!.items.find((item) => item.rowId === 'axle')!;
    const [land, flange] = ['inner-ring', 'arm'].map(
      (bears) => axle.drive.touches.find((touch) => touch.bears === bears)!.force_N,
    );
    expect(flange).toBeGreaterThan(100);
    const mean = (land! * ((15.6 + 17.5) / 2) + flange! * ((24 + 30) / 2)) / (land! + flange!);
    expect(stack!.tightening.rubbing_mm).toBeCloseTo(mean, 2);
  });

  test.each(demoModels().flatMap((model) => analyse(model).pivots.flatMap(({ stacks }) => stacks)))(
    '$id: the preload follows from what touches under the thing that turns',
    ({ items, tightening }) => {
      const end = items.find(({ rowId }) => rowId === (tightening.turned === 'receiver' ? 'receiver' : 'axle'))!;
      const touches = [...end.nonDrive.touches, ...end.drive.touches].filter(({ force_N }) => force_N > 1);
      expect(touches.length).toBe(1);
      const [[inner, outer]] = touches[0]!.bands_mm as [readonly [number, number]];
      expect(tightening.rubbing_mm).toBeCloseTo(inner + outer, 9);
    },
  );
});
