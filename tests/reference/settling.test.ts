/** The preload that settling takes, against losses computed apart from this program. */
import { describe, expect, it, test } from 'vitest';
import { screwResilience_mm_per_N, settlingLoss_N, settling_mm } from '../../shared/standards/settling.ts';
import { metricThread } from '../../shared/standards/threads.ts';
import data from './data/settling-vdi2230.json';

describe(data.source, () => {
  const { size_mm, pitch_mm, sleeve, screw_MPa } = data;
  const area_mm2 = metricThread({ size_mm, pitch_mm }).stressArea_mm2;
  const sleeve_mm2 = (Math.PI / 4) * (sleeve.outside_mm ** 2 - sleeve.bore_mm ** 2);

  it('thread, one face under the head and two between the parts', () => {
    expect(settling_mm({ bearingFaces: 1, innerFaces: data.innerFaces, load: 'along' })).toBeCloseTo(
      data.settled_mm,
      12,
    );
  });
  test.each(data.rows)('grip $grip_mm mm: $loss_N N', ({ grip_mm, loss_N }) => {
    const screw = screwResilience_mm_per_N({
      cylinders: [{ length_mm: grip_mm, area_mm2 }],
      end: { size_mm, area_mm2 },
      E_MPa: screw_MPa,
    });
    const loss = settlingLoss_N({
      settled_mm: data.settled_mm,
      screw_mm_per_N: screw,
      parts_mm_per_N: grip_mm / (sleeve.E_MPa * sleeve_mm2),
    });
    expect(Math.abs(loss / loss_N - 1)).toBeLessThanOrEqual(data.allowedShare);
  });
});

it('a pivot is loaded across its axis: each face settles more, and more faces more', () => {
  expect(settling_mm({ bearingFaces: 2, innerFaces: 6 })).toBeCloseTo(0.021, 12);
  expect(settling_mm({ bearingFaces: 2, innerFaces: 6, load: 'along' })).toBeCloseTo(0.017, 12);
});

it('refuses what cannot be', () => {
  const good = { settled_mm: 0.01, screw_mm_per_N: 1e-6, parts_mm_per_N: 0 };
  expect(() => settlingLoss_N({ ...good, screw_mm_per_N: 0 })).toThrow(/screw_mm_per_N is 0/);
  expect(() => settlingLoss_N({ ...good, parts_mm_per_N: -1 })).toThrow(/parts_mm_per_N is -1/);
  expect(() => settling_mm({ bearingFaces: -1, innerFaces: 0 })).toThrow(/bearingFaces is -1/);
});
