/** Metric threads against printed tables of ISO 724, ISO 262 and EN ISO 898-1; one data file a source. */
import { describe, expect, it, test } from 'vitest';
import {
  THREADS,
  coarsePitch_mm,
  findThread,
  metricThread,
  propertyClass,
  type PropertyClassKey,
} from '../../shared/standards/index.ts';
import derived from './data/threads-derived.json';
import fsw from './data/threads-fsw.json';
import iso898 from './data/threads-iso898.json';
import tables from './data/threads-tables.json';

const off = (one: number, other: number) => Math.abs(one - other);
interface Row {
  size_mm: number;
  pitch_mm: number;
  d2_mm: number;
  D1_mm: number;
  d3_mm: number;
  area_mm2: number;
}

function expectThread(row: Row, allowed_mm: number): void {
  const thread = metricThread(row);
  expect(off(thread.pitchDiameter_mm, row.d2_mm)).toBeLessThanOrEqual(allowed_mm);
  expect(off(thread.minorDiameter_mm, row.D1_mm)).toBeLessThanOrEqual(allowed_mm);
  expect(off(thread.rootDiameter_mm, row.d3_mm)).toBeLessThanOrEqual(allowed_mm);
  expect(off(thread.stressArea_mm2, row.area_mm2)).toBeLessThanOrEqual(0.00051);
}

describe(tables.source, () => {
  test.each(tables.rows)('M$size_mm × $pitch_mm', (row) => {
    expectThread(row, tables.allowed_mm);
    if (row.areaFromMemory) return;
    // Three printed figures: half a unit of the third one may be lost to rounding.
    const digit = row.areaPrinted_mm2 < 100 ? 0.1 : row.areaPrinted_mm2 % 1 === 0 ? 1 : 0.1;
    expect(off(metricThread(row).stressArea_mm2, row.areaPrinted_mm2)).toBeLessThanOrEqual(digit / 2 + 1e-9);
  });
});

describe(derived.source, () => {
  test.each(derived.rows)('M$size_mm × $pitch_mm', (row) => {
    expectThread(row, derived.allowed_mm);
  });
});

describe(iso898.source, () => {
  const strength = (key: string, size_mm: number) => propertyClass(key as PropertyClassKey, size_mm);
  const coarse = (size_mm: number) => metricThread({ size_mm, pitch_mm: coarsePitch_mm(size_mm) ?? NaN });
  test.each(iso898.proof)(
    'M$size_mm class $propertyClass proof load $load_N N',
    ({ size_mm, propertyClass: key, load_N }) => {
      const load = coarse(size_mm).stressArea_mm2 * strength(key, size_mm).proof_MPa;
      expect(off(load, load_N) / load_N).toBeLessThanOrEqual(iso898.allowed);
    },
  );
  test.each(iso898.ultimate)(
    'M$size_mm class $propertyClass ultimate load $load_N N',
    ({ size_mm, propertyClass: key, load_N }) => {
      const load = coarse(size_mm).stressArea_mm2 * strength(key, size_mm).tensile_MPa;
      expect(off(load, load_N) / load_N).toBeLessThanOrEqual(iso898.allowed);
    },
  );
});

describe(fsw.source, () => {
  test.each(fsw.pitches)('M$size_mm has the listed pitches, coarse first', ({ size_mm, pitches_mm }) => {
    const [coarse] = pitches_mm;
    expect(coarsePitch_mm(size_mm)).toBe(coarse);
    const ours = THREADS.filter((row) => row.size_mm === size_mm && row.source.startsWith('ISO 262')).map(
      (row) => row.pitch_mm,
    );
    expect(ours).toEqual(pitches_mm);
  });
  test.each(fsw.outside)('M$size_mm × $pitch_mm is not ISO 262’s and says so', ({ size_mm, pitch_mm }) => {
    const row = THREADS.find((entry) => entry.size_mm === size_mm && entry.pitch_mm === pitch_mm);
    expect(row?.source).toMatch(/ISO 261.*memory/);
    expect(findThread(`M${size_mm}x${pitch_mm}`)?.designation).toBe(`M${size_mm}×${pitch_mm}`);
  });
  it('has no coarse thread for sizes only ISO 261 knows', () => {
    expect([15, 17].map(coarsePitch_mm)).toEqual([undefined, undefined]);
  });
});
