/**
 * Keys, star keys and hexagons against other lists of the same standards, and the torque of a key against a formula.
 */
import { describe, expect, it, test } from 'vitest';
import {
  ACROSS_FLATS,
  hexKey,
  HEX_KEYS,
  isSpanner,
  leastFlats_mm,
  LEAST_SOCKET_SHARE,
  starKey,
} from '../../shared/standards/drive-tools.ts';
import data from './data/drive-tools.json';

describe('hexagon keys', () => {
  test.each(Object.entries(data.keys.arms_mm))(`%s mm: long arm %s mm (${data.keys.source})`, (size, arm_mm) => {
    expect(hexKey(Number(size))!.arm_mm).toBe(arm_mm);
  });
  test.each(Object.entries(data.formula.strength_MPa))(`%s mm: torque by ${data.formula.source}`, (size, strength) => {
    const s = Number(size);
    // The formula gives what breaks the key; a minimum that is guaranteed stays below it, not by more than its scatter.
    const breaks_Nm = (data.formula.share * strength * s ** 3) / 1000;
    expect(hexKey(s)!.torque_Nm).toBeLessThan(breaks_Nm);
    expect(hexKey(s)!.torque_Nm * data.formula.allowedTimes).toBeGreaterThan(breaks_Nm);
  });
  test.each(data.use.rows)(
    `$key_mm mm for $torque_Nm N·m: $holds (${data.use.source})`,
    ({ key_mm, torque_Nm, holds }) => {
      expect(hexKey(key_mm)!.torque_Nm >= torque_Nm).toBe(holds);
    },
  );
  it('sizes without a remembered torque take the least ratio, and nobody makes the rest', () => {
    expect(hexKey(7)!.torque_Nm / 7 ** 3).toBeCloseTo(
      Math.min(...HEX_KEYS.map((row) => row.torque_Nm / row.size_mm ** 3)),
    );
    expect(hexKey(7)!.arm_mm).toBe(96);
    expect([hexKey(5.3), hexKey(1), hexKey(30)]).toEqual([undefined, undefined, undefined]);
  });
});

describe('star keys', () => {
  test.each(Object.entries(data.stars.points_mm))(`%s: %s mm (${data.stars.source})`, (size, points_mm) => {
    expect(starKey(Number(size))!.points_mm).toBe(points_mm);
  });
  it('nobody makes a 33', () => expect(starKey(33)).toBeUndefined());
});

describe('hexagons', () => {
  test.each(data.flats.rows)(`M%s: %s mm (${data.flats.source})`, (thread, flats) => {
    expect(ACROSS_FLATS.find(([size]) => size === thread)![1]).toBe(flats);
    expect(leastFlats_mm(thread!)).toBeLessThan(flats!);
  });
  test.each(data.sockets.rows)(`a $key_mm mm socket is $least_mm mm deep or more (${data.sockets.source})`, (row) => {
    expect(LEAST_SOCKET_SHARE * row.key_mm).toBeLessThanOrEqual(row.least_mm + 1e-9);
    expect(LEAST_SOCKET_SHARE * row.key_mm).toBeGreaterThan(0.75 * row.least_mm);
  });
  it('spanners come in whole millimetres and a few sizes more', () => {
    expect([5.5, 8, 13, 21, 36, 41].every(isSpanner)).toBe(true);
    expect([1, 4, 13.5, 37, 61].some(isSpanner)).toBe(false);
  });
});
