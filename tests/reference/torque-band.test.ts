/**
 * What the torque card adds to the standards layer: the preload band of a nut factor, stripping, drag, shim rings,
 * units.
 */
import { describe, expect, it, test } from 'vitest';
import { worstDrag_Nm } from '../../shared/standards/ring-drag.ts';
import { shimFor } from '../../shared/standards/shim-washers.ts';
import { SHEAR_SHARE, stripForce, threadShear } from '../../shared/standards/thread-strip.ts';
import { nutFactorBand } from '../../shared/torque/short-form.ts';
import { inAllUnits, toNm, TORQUE_UNITS, unitOf } from '../../shared/torque/units.ts';
import nasa from './data/torque-nasa5020.json';
import shear from './data/thread-shear.json';

describe(nasa.source, () => {
  // Inches and pounds go through unconverted; only the 1/1000 of mm to m has to be undone.
  const band = (settling: number) =>
    nutFactorBand({
      leastTorque_Nm: nasa.leastTorque_inlb / 1000,
      mostTorque_Nm: nasa.mostTorque_inlb / 1000,
      size_mm: nasa.size_in,
      nutFactor: nasa.nutFactor,
      uncertainty: nasa.uncertainty,
      screws: nasa.screws,
      settling,
    });
  it('initial preload', () => {
    expect(Math.abs(band(0).high_N - nasa.initialMost_lb)).toBeLessThanOrEqual(nasa.allowed_lb);
    expect(Math.abs(band(0).low_N - nasa.initialLeast_lb)).toBeLessThanOrEqual(nasa.allowed_lb);
  });
  it('after settling and heat', () => {
    const { low_N, high_N } = band(nasa.settling);
    expect(Math.abs(low_N - nasa.thermal_lb - nasa.least_lb)).toBeLessThanOrEqual(nasa.allowed_lb);
    expect(Math.abs(high_N + nasa.thermal_lb - nasa.most_lb)).toBeLessThanOrEqual(nasa.allowed_lb);
  });
  it('refuses a nut factor, an uncertainty and torques that cannot be', () => {
    const good = { leastTorque_Nm: 9, mostTorque_Nm: 10, size_mm: 10, nutFactor: 0.2, uncertainty: 0.25 };
    expect(() => nutFactorBand({ ...good, nutFactor: 0 })).toThrow(/nutFactor is 0, allowed: above 0 and up to 1/);
    expect(() => nutFactorBand({ ...good, uncertainty: 1 })).toThrow(/uncertainty is 1, allowed: from 0 and below 1/);
    expect(() => nutFactorBand({ ...good, leastTorque_Nm: -1 })).toThrow(/leastTorque_Nm is -1/);
    expect(() => nutFactorBand({ ...good, mostTorque_Nm: 8 })).toThrow(
      /mostTorque_Nm is 8, allowed: a finite number of at least 9/,
    );
  });
});

describe('thread stripping', () => {
  test.each(shear.alloys)(
    `shear is tensile/√3 for $name (${shear.source})`,
    ({ tensile_MPa, shear_MPa, allowedShare }) => {
      expect(Math.abs(SHEAR_SHARE * tensile_MPa - shear_MPa) / shear_MPa).toBeLessThanOrEqual(allowedShare);
    },
  );
  it('on the basic profile the external thread keeps three quarters, the internal seven eighths of its cylinder (first principles, ISO 68-1)', () => {
    const size = { size_mm: 12, pitch_mm: 1, engagement_mm: 10 };
    const { external_mm2, internal_mm2 } = threadShear(size);
    // d2 − D1 = H/2 and d − d2 = 3H/4, and H·tan 30° = P/2: so 1/2 + 1/4 and 1/2 + 3/8 of the length.
    expect(external_mm2).toBeCloseTo(0.75 * Math.PI * (12 - 1.0825318) * 10, 4);
    expect(internal_mm2).toBeCloseTo(0.875 * Math.PI * 12 * 10, 9);
  });
  it('the softer thread goes first, and none holds without engagement', () => {
    const size = { size_mm: 12, pitch_mm: 1, engagement_mm: 10 };
    expect(stripForce({ ...size, externalTensile_MPa: 1200, internalTensile_MPa: 290 }).weaker).toBe('internal');
    expect(stripForce({ ...size, externalTensile_MPa: 580, internalTensile_MPa: 580 }).weaker).toBe('external');
    expect(stripForce({ ...size, engagement_mm: -3, externalTensile_MPa: 580, internalTensile_MPa: 580 }).force_N).toBe(
      0,
    );
  });
});

it('the drag of a bearing: sliding friction 0.15 on half the static rating at the middle circle, hand-worked for 15 × 28', () => {
  expect(worstDrag_Nm({ bore_mm: 15, outside_mm: 28, staticRating_N: 2240 })).toBeCloseTo(0.15 * 1120 * 10.75e-3, 12);
  expect(() => worstDrag_Nm({ bore_mm: 15, outside_mm: 10, staticRating_N: 2240 })).toThrow(/outside_mm is 10/);
});

it('shim rings of DIN 988 (open part library): the tightest hole that slides on', () => {
  expect(shimFor(14.98)).toMatchObject({ bore_mm: 15, outside_mm: 21 });
  expect(shimFor(11.98)).toMatchObject({ bore_mm: 12, outside_mm: 18 });
  expect(shimFor(10)).toMatchObject({ bore_mm: 10, outside_mm: 16 });
  expect(shimFor(31)).toBeUndefined();
});

describe('units of torque, by definition (international pound and yard, 1959)', () => {
  it('one ft·lb is 1.3558179483314 N·m, one in·lb a twelfth of it', () => {
    expect(toNm(1, 'ft·lb')).toBeCloseTo(1.3558179483314004, 12);
    expect(toNm(12, 'in·lb')).toBeCloseTo(toNm(1, 'ft·lb'), 12);
  });
  it('there and back', () => {
    for (const unit of TORQUE_UNITS) expect(toNm(inAllUnits(13.7)[unit], unit)).toBeCloseTo(13.7, 12);
  });
  it('reads units as people write them, and no others', () => {
    expect(['Nm', 'N·m', 'N m', 'ft-lb', 'lbf ft', 'ft.lbs', 'in·lb', 'LB-IN'].map(unitOf)).toEqual([
      'N·m',
      'N·m',
      'N·m',
      'ft·lb',
      'ft·lb',
      'ft·lb',
      'in·lb',
      'in·lb',
    ]);
    expect(['kg', 'kgfcm', '', 'constructor'].map(unitOf)).toEqual([undefined, undefined, undefined, undefined]);
  });
});
