/** Static safety of bearings after ISO 76, against the rows SKF18 prints and the cases worked on them. */
import { describe, expect, test } from 'vitest';
import { findBearing } from '../../shared/standards/bearings.ts';
import {
  axialLimit_N,
  LEAST_STATIC_SAFETY,
  LEAST_STATIC_SAFETY_CERTAIN,
  staticEquivalentLoad_N,
  staticSafety,
  type DiameterSeries,
} from '../../shared/standards/static-load.ts';
import skf18 from './data/static-load-skf18.json';

describe(`static load: ${skf18.source}`, () => {
  test.each(skf18.equivalent)(
    '$what: $radial_N N across, $axial_N N along',
    ({ radial_N, axial_N, equivalent_N, staticRating_N, safety, tolerance }) => {
      const load = staticEquivalentLoad_N(radial_N, axial_N);
      expect(load).toBeCloseTo(equivalent_N, 9);
      expect(Math.abs(staticSafety(staticRating_N, load) - safety)).toBeLessThanOrEqual(tolerance);
    },
  );
  test.each(skf18.axialLimit)(
    '$name takes $limit_N N along its axis',
    ({ bore_mm, series, staticRating_N, limit_N }) => {
      expect(axialLimit_N(staticRating_N, bore_mm, series as DiameterSeries)).toBeCloseTo(limit_N, 9);
    },
  );
  test('a load along the axis can pass the limit while its safety looks well', () => {
    const { staticRating_N, bore_mm } = findBearing('61902-2RS')!;
    expect(staticSafety(staticRating_N, staticEquivalentLoad_N(500, 800))).toBeGreaterThan(3);
    expect(800).toBeGreaterThan(axialLimit_N(staticRating_N, bore_mm));
  });
  test('a bearing of no known series counts as thin', () => {
    expect(axialLimit_N(3000, 20)).toBe(axialLimit_N(3000, 20, '9'));
  });
  test('guide lines are those of the table', () => {
    expect([LEAST_STATIC_SAFETY, LEAST_STATIC_SAFETY_CERTAIN]).toEqual([
      skf18.guideline.lowCertaintyInfrequent,
      skf18.guideline.highCertaintyInfrequent,
    ]);
  });
  test('no load is endless safety, nonsense is refused', () => {
    expect(staticSafety(2240, 0)).toBe(Infinity);
    expect(() => staticEquivalentLoad_N(-1, 0)).toThrow(RangeError);
    expect(() => staticEquivalentLoad_N(1, NaN)).toThrow(RangeError);
    expect(() => staticSafety(0, 1)).toThrow(RangeError);
    expect(() => axialLimit_N(2240, 0)).toThrow(RangeError);
  });
});
