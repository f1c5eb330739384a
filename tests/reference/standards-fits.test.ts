/** ISO 286 deviations and fits against a bearing maker's shaft and housing tables. */
import { describe, expect, it, test } from 'vitest';
import {
  HOLE_SYMBOLS,
  SHAFT_SYMBOLS,
  boreTolerance,
  deviation,
  fit,
  outsideTolerance,
  type FitSymbol,
} from '../../shared/standards/index.ts';
import skf18 from './data/fits-skf18.json';

const um = (value_mm: number) => Math.round(value_mm * 1e4) / 10;

describe(skf18.source, () => {
  test.each(skf18.zones.filter(({ fromMemory }) => !fromMemory))(
    '$symbol over $over_mm up to $upTo_mm mm',
    ({ symbol, over_mm, upTo_mm, lower_um, upper_um }) => {
      for (const diameter_mm of [over_mm + 0.001, upTo_mm]) {
        const { lower_mm, upper_mm } = deviation(symbol as FitSymbol, diameter_mm);
        expect([um(lower_mm), um(upper_mm)]).toEqual([lower_um, upper_um]);
      }
    },
  );
  test.each(skf18.zones.filter(({ fromMemory }) => fromMemory))(
    '$symbol up to $upTo_mm mm, from memory: half of IT6 either way',
    ({ symbol, upTo_mm }) => {
      const grade_mm = deviation('h6', upTo_mm).upper_mm - deviation('h6', upTo_mm).lower_mm;
      expect(deviation(symbol as FitSymbol, upTo_mm)).toEqual({ lower_mm: -grade_mm / 2, upper_mm: grade_mm / 2 });
    },
  );
  it('covers every zone of the table', () => {
    expect(new Set(skf18.zones.map(({ symbol }) => symbol))).toEqual(new Set([...SHAFT_SYMBOLS, ...HOLE_SYMBOLS]));
  });
  test.each(skf18.resultants)('$kind $symbol on a $diameter_mm mm bearing: $least_um to $most_um µm', (wanted) => {
    const zone = deviation(wanted.symbol as FitSymbol, wanted.diameter_mm);
    const isHousing = wanted.kind === 'housing';
    const ring = isHousing ? outsideTolerance(wanted.diameter_mm) : boreTolerance(wanted.diameter_mm);
    expect([um(ring.lower_mm), um(ring.upper_mm)]).toEqual(wanted.ring_um);
    const ours = isHousing ? fit(zone, ring) : fit(ring, zone);
    expect([um(ours.least_mm), um(ours.most_mm)]).toEqual([wanted.least_um, wanted.most_um]);
    const probable_um = 'probable_um' in wanted ? wanted.probable_um : undefined;
    if (!probable_um) return;
    const [least = NaN, most = NaN] = probable_um;
    expect(Math.abs(um(ours.probableLeast_mm) - least)).toBeLessThanOrEqual(skf18.probableAllowed_um);
    expect(Math.abs(um(ours.probableMost_mm) - most)).toBeLessThanOrEqual(skf18.probableAllowed_um);
  });
});

describe('ISO 286-1 grades (self-consistency, mark d): a grade is one width whatever the letter', () => {
  const symbols: readonly FitSymbol[] = [...SHAFT_SYMBOLS, ...HOLE_SYMBOLS];
  const widthOf = (symbol: FitSymbol, diameter_mm: number) => {
    const { lower_mm, upper_mm } = deviation(symbol, diameter_mm);
    return um(upper_mm - lower_mm);
  };
  test.each([8, 14, 24, 40])('at %i mm', (diameter_mm) => {
    for (const grade of ['5', '6', '7', '8', '9']) {
      const widths = symbols.filter((symbol) => symbol.endsWith(grade)).map((symbol) => widthOf(symbol, diameter_mm));
      expect(new Set(widths).size, `IT${grade}`).toBe(1);
    }
  });
});
