/** The materials table against open cards and data tables; one data file a source. */
import { describe, expect, it, test } from 'vitest';
import { MATERIALS, MATERIAL_KEYS, engagementRule, material, type MaterialKey } from '../../shared/standards/index.ts';
import btimetals from './data/materials-btimetals.json';
import fcm from './data/materials-fcm.json';
import fmat from './data/materials-fmat.json';
import p678 from './data/materials-p678.json';

interface Row {
  key: string;
  allowed: number;
  E_MPa?: number;
  tensile_MPa?: number;
  yield_MPa?: number;
  poisson?: number;
  density_kg_m3?: number;
}
const figures = ['E_MPa', 'tensile_MPa', 'yield_MPa', 'poisson', 'density_kg_m3'] as const;

for (const { source, rows } of [fcm, fmat, btimetals] as { source: string; rows: Row[] }[]) {
  describe(source, () => {
    test.each(rows)('$key', (row) => {
      const ours = material(row.key as MaterialKey);
      for (const figure of figures) {
        const published = row[figure];
        if (published !== undefined)
          expect(Math.abs(ours[figure] - published) / published, figure).toBeLessThanOrEqual(row.allowed);
      }
    });
    test.each(rows)('$key is no stronger than published', (row) => {
      const ours = material(row.key as MaterialKey);
      // A thousandth allows for the MPa that ksi were rounded to.
      if (row.yield_MPa !== undefined) expect(ours.yield_MPa).toBeLessThanOrEqual(row.yield_MPa * 1.001);
      if (row.tensile_MPa !== undefined) expect(ours.tensile_MPa).toBeLessThanOrEqual(row.tensile_MPa * 1.001);
    });
  });
}

describe(p678.source, () => {
  test.each(p678.rows)('$key may press no harder than $kin', ({ key, limit_MPa }) => {
    expect(material(key as MaterialKey).bearingPressure_MPa).toBeLessThanOrEqual(limit_MPa);
  });
});

describe('the table as a whole', () => {
  test.each(MATERIAL_KEYS.map((key) => ({ key })))('$key is complete and in order', ({ key }) => {
    const row = MATERIALS[key];
    expect(row.key).toBe(key);
    expect(row.E_low_MPa).toBeLessThanOrEqual(row.E_MPa);
    expect(row.E_MPa).toBeLessThanOrEqual(row.E_high_MPa);
    expect(row.yield_MPa).toBeLessThanOrEqual(row.tensile_MPa);
    expect(row.poisson).toBeGreaterThan(0);
    expect(row.poisson).toBeLessThan(0.5);
    expect(row.bearingPressure_MPa).toBeLessThan(row.tensile_MPa);
    expect(row.source.length).toBeGreaterThan(10);
  });
  it('marks what has no published figure as an estimate', () => {
    expect(MATERIAL_KEYS.filter((key) => MATERIALS[key].isEstimate)).toEqual([
      'carbon-laminate',
      'acetal',
      'nitrile-rubber',
    ]);
  });
  it('gives metals a narrow modulus band and carbon a wide one', () => {
    for (const key of MATERIAL_KEYS) {
      const { family, E_low_MPa, E_high_MPa } = MATERIALS[key];
      if (family === 'steel' || family === 'aluminium' || family === 'titanium')
        expect(E_high_MPa / E_low_MPa).toBeLessThan(1.06);
      if (family === 'carbon') expect(E_high_MPa / E_low_MPa).toBeGreaterThan(1.3);
    }
  });
  it('asks more thread of aluminium than of steel and cuts none in carbon (common practice, no source)', () => {
    expect(engagementRule('steel')?.least).toBe(0.8);
    expect(engagementRule('aluminium')).toMatchObject({ least: 1, usual: 1.5, source: 'common practice, no source' });
    expect(engagementRule('carbon')).toBeUndefined();
  });
});
