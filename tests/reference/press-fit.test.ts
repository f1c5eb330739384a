/** Press fits: pressure, clearance lost and push against worked values and two published cases of a pin in a hub. */
import { describe, expect, test } from 'vitest';
import { deviation, outsideTolerance, pressure_MPa, seatPress, shankPress } from '../../shared/standards/index.ts';
import data from './data/press-fit.json';

const STEEL = { E_MPa: 206_000, poisson: 0.3 };
const ALUMINIUM = { E_MPa: 71_000, poisson: 0.33 };
const PRESS_mm = 0.01;

describe('a pin in a hub', () => {
  test.each(data.pinInHub)(
    '$source',
    ({ diameter_mm, hub_mm, interference_mm, E_MPa, pressure_MPa: p, allowed_MPa }) => {
      const steel = { E_MPa, poisson: 0.3 };
      const ours = pressure_MPa(
        diameter_mm,
        interference_mm,
        { ...steel, bore_mm: 0 },
        { ...steel, outside_mm: hub_mm },
      );
      expect(Math.abs(ours - p)).toBeLessThanOrEqual(allowed_MPa);
    },
  );

  test('with play there is no pressure; a ring without a wall is refused', () => {
    expect(pressure_MPa(25, -0.02, { ...STEEL, bore_mm: 0 }, { ...STEEL, outside_mm: 50 })).toBe(0);
    expect(() => pressure_MPa(25, 0.02, { ...STEEL, bore_mm: 0 }, { ...STEEL, outside_mm: 25 })).toThrow(RangeError);
    expect(() => pressure_MPa(25, 0.02, { ...STEEL, bore_mm: 25 }, { ...STEEL, outside_mm: 50 })).toThrow(RangeError);
  });
});

describe(data.source, () => {
  test.each(data.lost)('share of the interference that $bearing loses', (row) => {
    const bearing = { ...row, width_mm: 6 };
    const seat = (wall_mm: number): number =>
      seatPress(bearing, { ...ALUMINIUM, boss_mm: row.outside_mm + wall_mm }, PRESS_mm).lost_mm / PRESS_mm;
    const shank = (metal: typeof STEEL, share: number): number =>
      shankPress(bearing, { ...metal, hole_mm: share * row.bore_mm }, PRESS_mm).lost_mm / PRESS_mm;
    const pairs = [
      [seat(12), row.hub12],
      [seat(6), row.hub6],
      [shank(STEEL, 0), row.solidSteel],
      [shank(STEEL, 0.6), row.steel06],
      [shank(ALUMINIUM, 0.6), row.aluminium06],
      [shank(ALUMINIUM, 0.8), row.aluminium08],
    ] as const;
    for (const [ours, theirs] of pairs) expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(data.lostAllowed);
  });

  test.each(data.pushes)('push of $bearing into aluminium with a 6 mm wall', (row) => {
    const { push_N } = seatPress(row, { ...ALUMINIUM, boss_mm: row.outside_mm + 12 }, PRESS_mm);
    expect(Math.abs(push_N / row.per10um_N - 1)).toBeLessThanOrEqual(data.pushAllowedShare);
  });

  test.each(data.seat6902)('15×28×7 in $boss of 40, $interference_um µm', (row) => {
    const boss = { ...(row.boss === 'steel' ? STEEL : ALUMINIUM), boss_mm: 40 };
    const bearing = { bore_mm: 15, outside_mm: 28, width_mm: 7 };
    const ours = seatPress(bearing, boss, row.interference_um / 1000);
    expect(Math.abs(ours.pressure_MPa / row.pressure_MPa - 1)).toBeLessThanOrEqual(data.pushAllowedShare);
    expect(Math.abs(ours.push_N / row.push_N - 1)).toBeLessThanOrEqual(data.pushAllowedShare);
    if (row.lost_um !== undefined)
      expect(Math.abs(ours.lost_mm * 1000 - row.lost_um)).toBeLessThanOrEqual(data.lostAllowed_um);
  });

  test('the thinner the wall, the less it presses; one that has none, by rounding or by a wrong bearing, presses nothing', () => {
    const bearing = { bore_mm: 15, outside_mm: 28, width_mm: 7 };
    const seat = (wall_mm: number) => seatPress(bearing, { ...ALUMINIUM, boss_mm: 28 + wall_mm }, PRESS_mm);
    const shank = (wall_mm: number) => shankPress(bearing, { ...STEEL, hole_mm: 15 - wall_mm }, PRESS_mm);
    for (const press of [seat, shank]) {
      const pressures = [2, 0.2, 0.002].map((wall_mm) => press(wall_mm).pressure_MPa);
      expect(pressures).toEqual([...pressures].sort((a, b) => b - a));
      expect(pressures[2]).toBeLessThan(pressures[0]! / 500);
      for (const wall_mm of [0, -0.5]) expect(press(wall_mm)).toEqual({ pressure_MPa: 0, lost_mm: 0, push_N: 0 });
    }
  });

  test('what is left of a normal 15×28×7 in the tightest N7: -11.8 to +3.2 µm', () => {
    const tightest_mm = outsideTolerance(28).upper_mm - deviation('N7', 28).lower_mm;
    const boss = { ...ALUMINIUM, boss_mm: 40 };
    const { lost_mm } = seatPress({ bore_mm: 15, outside_mm: 28, width_mm: 7 }, boss, tightest_mm);
    expect(Math.abs(3 - 1000 * lost_mm + 11.8)).toBeLessThanOrEqual(data.lostAllowed_um);
    expect(Math.abs(18 - 1000 * lost_mm - 3.2)).toBeLessThanOrEqual(data.lostAllowed_um);
  });
});
