/**
 * Profiles of every part kind and of bosses against volumes added up by hand from cylinders, frusta and broken edges,
 * and against `manifold-3d` (3.5.4), whose solid of n flat sides holds exactly (n/2π)·sin(2π/n) of the round one.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import type { ManifoldToplevel } from 'manifold-3d';
import {
  bossSolid,
  PART_KINDS,
  partProfile,
  revolvedVolume_mm3,
  type MemberBore,
  type Part,
  type PartOf,
  type Solid,
} from '../../shared/index.ts';
import { ASSUMED } from '../../shared/parts/entry.ts';
import { demoModels } from '../bench/models.ts';
import { facetShare, solidKernel, turnedSolid } from '../bench/oracles.ts';
import { randomProfile } from '../bench/profiles.ts';
import { random } from '../setup/random.ts';

const FACETS = 64;

// Volumes of the solids a schoolbook knows; diameters and lengths in mm, mm³.
const cylinder = (diameter: number, length: number): number => (Math.PI / 4) * diameter ** 2 * length;
const tube = (outside: number, inside: number, length: number): number =>
  cylinder(outside, length) - cylinder(inside, length);
const frustum = (one: number, other: number, length: number): number =>
  (Math.PI / 12) * length * (one ** 2 + one * other + other ** 2);
/** What breaking an outside edge by `edge` at 45° takes away. */
const outsideEdge = (diameter: number, edge: number): number =>
  cylinder(diameter, edge) - frustum(diameter, diameter - 2 * edge, edge);
/** What breaking the edge of a bore takes away. */
const boreEdge = (diameter: number, edge: number): number =>
  frustum(diameter, diameter + 2 * edge, edge) - cylinder(diameter, edge);

const volumeOf = (solids: readonly Solid[]): number =>
  solids.reduce((sum, solid) => sum + revolvedVolume_mm3(solid.polygon), 0);

interface Case {
  readonly name: string;
  readonly part: Part;
  readonly volume_mm3: number;
}

const material = 'steel';
/** A case of a steel part of a kind, or of a bearing. */
const caseOf = <Kind extends Part['kind']>(
  name: string,
  kind: Kind,
  sizes: Omit<PartOf<Kind>, 'kind' | 'name' | 'material'>,
  volume_mm3: number,
): Case => ({
  name,
  part: { kind, name: '', ...(kind === 'bearing' ? {} : { material }), ...sizes } as unknown as Part,
  volume_mm3,
});
const head = { diameter_mm: 22, height_mm: 4, land_mm: 17.5, land_height_mm: 1.2 };
const m12 = { size_mm: 12, pitch_mm: 1, hand: 'right' } as const;
// Drawn edges: 0.4 mm behind a head, half a pitch at a tip, 0.2 mm at a sleeve’s tip, 0.4 mm behind a nut.
const headVolume = cylinder(22, 4) - outsideEdge(22, 0.4) + cylinder(17.5, 1.2);

const CASES: readonly Case[] = [
  caseOf(
    'a spacer, edges broken by 0.5 mm',
    'spacer',
    { outside_mm: 20, bore_mm: 15, length_mm: 12, chamfer_mm: 0.5 },
    tube(20, 15, 12) - 2 * outsideEdge(20, 0.5) - 2 * boreEdge(15, 0.5),
  ),
  caseOf(
    'a spacer with sharp edges: E·A/L’s own',
    'spacer',
    { outside_mm: 20, bore_mm: 15, length_mm: 12, chamfer_mm: 0 },
    137.4446786 * 12,
  ),
  caseOf(
    'a washer, edges as drawn where the file is silent: a fifth of its thickness',
    'washer',
    { outside_mm: 27, bore_mm: 15.2, length_mm: 0.8 },
    tube(27, 15.2, 0.8) - 2 * outsideEdge(27, 0.16) - 2 * boreEdge(15.2, 0.16),
  ),
  caseOf(
    'a tapered spacer with both lands',
    'tapered-spacer',
    {
      small_mm: 18,
      large_mm: 26,
      bore_mm: 15,
      length_mm: 8,
      small_land_mm: 2,
      large_land_mm: 1,
      chamfer_mm: 0.2,
    },
    cylinder(18, 2) -
      outsideEdge(18, 0.2) +
      frustum(18, 26, 5) +
      cylinder(26, 1) -
      outsideEdge(26, 0.2) -
      cylinder(15, 8) -
      2 * boreEdge(15, 0.2),
  ),
  caseOf(
    'a tapered spacer, cone from edge to edge',
    'tapered-spacer',
    {
      small_mm: 18,
      large_mm: 26,
      bore_mm: 15,
      length_mm: 8,
      chamfer_mm: 0,
    },
    frustum(18, 26, 8) - cylinder(15, 8),
  ),
  caseOf(
    'a plain bush, edges broken by 0.2 mm',
    'bush',
    { outside_mm: 16, bore_mm: 12, length_mm: 10 },
    tube(16, 12, 10) - 2 * outsideEdge(16, 0.2) - 2 * boreEdge(12, 0.2),
  ),
  caseOf(
    'a reducer half, edges broken by 0.2 mm, the edge between flange and tube sharp',
    'reducer',
    { outside_mm: 12.7, bore_mm: 8, length_mm: 20, flange_mm: 20, flange_length_mm: 9 },
    tube(20, 8, 9) + tube(12.7, 8, 11) - outsideEdge(20, 0.2) - outsideEdge(12.7, 0.2) - 2 * boreEdge(8, 0.2),
  ),
  caseOf(
    'an eye bush, a wall of 1 mm, its edges broken by an eighth of it',
    'eye-bush',
    { outside_mm: 15, bore_mm: 13, length_mm: 12, lining: 'polymer' },
    tube(15, 13, 12) - 2 * outsideEdge(15, 0.2) - 2 * boreEdge(13, 0.2),
  ),
  caseOf(
    'a plain bush, its edges broken by the 0.5 mm that the file gives',
    'bush',
    { outside_mm: 16, bore_mm: 12, length_mm: 10, chamfer_mm: 0.5 },
    tube(16, 12, 10) - 2 * outsideEdge(16, 0.5) - 2 * boreEdge(12, 0.5),
  ),
  caseOf(
    'a flanged bush, the edge between flange and tube sharp',
    'bush',
    {
      outside_mm: 16,
      bore_mm: 12,
      length_mm: 10,
      flange_mm: 24,
      flange_length_mm: 2,
    },
    tube(24, 12, 2) + tube(16, 12, 8) - outsideEdge(24, 0.2) - outsideEdge(16, 0.2) - 2 * boreEdge(12, 0.2),
  ),
  caseOf(
    'an end cap: land and flange, the land’s two edges broken by 0.2 mm',
    'end-cap',
    {
      outside_mm: 24,
      bore_mm: 15,
      length_mm: 5,
      land_mm: 18,
      land_height_mm: 1,
    },
    cylinder(18, 1) - outsideEdge(18, 0.2) + cylinder(24, 4) - cylinder(15, 5) - boreEdge(15, 0.2),
  ),
  caseOf(
    'a bearing: two rings and two seals',
    'bearing',
    {
      bore_mm: 15,
      outside_mm: 28,
      width_mm: 7,
      chamfer_mm: 0.3,
      inner_shoulder_mm: 18.8,
      outer_shoulder_mm: 25.3,
    },
    tube(18.8, 15, 7) -
      2 * boreEdge(15, 0.3) +
      tube(28, 25.3, 7) -
      2 * outsideEdge(28, 0.3) +
      2 * tube(25.3, 18.8, 0.7),
  ),
  caseOf(
    'a hollow axle with a land and a stepped shank',
    'axle',
    {
      head,
      shank: [
        { diameter_mm: 14.98, length_mm: 40 },
        { diameter_mm: 12, length_mm: 10 },
      ],
      thread: { ...m12, length_mm: 10 },
      bore_mm: 6,
    },
    headVolume + cylinder(14.98, 40) + cylinder(12, 10) - outsideEdge(12, 0.5) - cylinder(6, 4 + 1.2 + 50),
  ),
  caseOf(
    'a waisted axle without a land',
    'axle',
    {
      head: { diameter_mm: 22, height_mm: 4 },
      shank: [
        { diameter_mm: 14, length_mm: 10 },
        { diameter_mm: 9, length_mm: 30 },
        { diameter_mm: 12, length_mm: 15 },
      ],
      thread: { ...m12, length_mm: 15 },
    },
    cylinder(22, 4) -
      outsideEdge(22, 0.4) +
      cylinder(14, 10) +
      cylinder(9, 30) +
      cylinder(12, 15) -
      outsideEdge(12, 0.5),
  ),
  caseOf(
    'a disc spring: an even thickness along the axle',
    'disc-spring',
    { outside_mm: 28, bore_mm: 14.2, thickness_mm: 1.5, length_mm: 2.15 },
    tube(28, 14.2, 1.5),
  ),
  caseOf(
    'a wave washer, as the tube its waves fill',
    'wave-washer',
    { outside_mm: 24, bore_mm: 18, thickness_mm: 0.3, length_mm: 1.5, waves: 3 },
    tube(24, 18, 1.5),
  ),
  // A rectangle of 2.7 × 1.2 on a mean radius of 13.35, without the two triangles of its rounded face.
  caseOf(
    'a circlip in its groove, one face rounded by 0.2',
    'circlip',
    { outside_mm: 29.4, bore_mm: 24, length_mm: 1.2, free_mm: 30.1 },
    tube(29.4, 24, 1.2) - outsideEdge(29.4, 0.2) - boreEdge(24, 0.2),
  ),
  // The same the other way round: rounded by 0.2 outside and at its bore of 14.3.
  caseOf(
    'a circlip of a shaft in its groove, one face rounded by 0.2',
    'shaft-circlip',
    { outside_mm: 19.2, bore_mm: 14.3, length_mm: 1, free_mm: 13.8 },
    tube(19.2, 14.3, 1) - outsideEdge(19.2, 0.2) - boreEdge(14.3, 0.2),
  ),
  caseOf(
    'a split clamp, its slot not drawn, edges broken by 0.2 mm',
    'split-clamp',
    { outside_mm: 26, bore_mm: 15, length_mm: 8, slot_mm: 1.5 },
    tube(26, 15, 8) - 2 * outsideEdge(26, 0.2) - 2 * boreEdge(15, 0.2),
  ),
  // A cone without its point: π h/3 (R² + R r + r²).
  caseOf(
    'the cone of an expander',
    'expander',
    { small_mm: 8, large_mm: 12, length_mm: 12, thread: { size_mm: 6, pitch_mm: 1, hand: 'right', length_mm: 10 } },
    ((Math.PI * 12) / 3) * (36 + 24 + 16),
  ),
  // Pappus: 16 flats of a circle of 2 mm, 16 r² tan(π/16), on a circle of 20 mm.
  caseOf(
    'an O-ring, true across its flats',
    'o-ring',
    { bore_mm: 18, length_mm: 2 },
    16 * Math.tan(Math.PI / 16) * Math.PI * 20,
  ),
  caseOf(
    'a dust seal, its lip a cone of half the wall that leans out to an edge of a quarter',
    'dust-seal',
    { outside_mm: 28, bore_mm: 20, length_mm: 4, lip_mm: 1.5 },
    tube(28, 20, 2.5) + frustum(24, 28, 1.5) - frustum(20, 26, 1.5),
  ),
  caseOf(
    'a bolt',
    'bolt',
    {
      head,
      shank: [{ diameter_mm: 12, length_mm: 25 }],
      thread: { ...m12, length_mm: 12 },
    },
    headVolume + cylinder(12, 25) - outsideEdge(12, 0.5),
  ),
  caseOf(
    'a screw',
    'screw',
    {
      head,
      shank: [{ diameter_mm: 10, length_mm: 14 }],
      thread: { size_mm: 10, pitch_mm: 1.5, hand: 'left', length_mm: 14 },
    },
    headVolume + cylinder(10, 14) - outsideEdge(10, 0.75),
  ),
  caseOf(
    'a sleeve, its thread behind a through bore',
    'sleeve',
    {
      head,
      shank: [{ diameter_mm: 15, length_mm: 60 }],
      thread: { size_mm: 10, pitch_mm: 1, hand: 'right', length_mm: 16 },
      bore_mm: 7,
    },
    headVolume + cylinder(15, 60) - outsideEdge(15, 0.2) - cylinder(10, 16) - cylinder(7, 60 - 16 + 4 + 1.2),
  ),
  caseOf(
    'a sleeve, its thread in a blind hole',
    'sleeve',
    {
      head,
      shank: [{ diameter_mm: 15, length_mm: 60 }],
      thread: { size_mm: 10, pitch_mm: 1, hand: 'right', length_mm: 16 },
    },
    headVolume + cylinder(15, 60) - outsideEdge(15, 0.2) - cylinder(10, 16),
  ),
  caseOf(
    'a nut with a land',
    'nut',
    {
      outside_mm: 22,
      length_mm: 9,
      land_mm: 17.5,
      land_height_mm: 1.5,
      thread: { ...m12, length_mm: 9 },
    },
    cylinder(17.5, 1.5) + cylinder(22, 7.5) - outsideEdge(22, 0.4) - cylinder(12, 9),
  ),
  caseOf(
    'a closed nut without a land',
    'nut',
    {
      outside_mm: 22,
      length_mm: 12,
      thread: { ...m12, length_mm: 9 },
      closed: true,
    },
    cylinder(22, 12) - outsideEdge(22, 0.4) - cylinder(12, 9),
  ),
];

const bossVolume = (width: number, edge: number): number => cylinder(40, width) - 2 * outsideEdge(40, edge);
const BOSSES: readonly { name: string; bore: MemberBore; volume_mm3: number }[] = [
  {
    name: 'a plain bore',
    bore: { z_from_mm: 10, z_to_mm: 26, bore_mm: 15, boss_mm: 40 },
    volume_mm3: bossVolume(16, 0.5) - cylinder(15, 16),
  },
  {
    name: 'a seat a side',
    bore: {
      z_from_mm: -22,
      z_to_mm: 22,
      bore_mm: 24,
      boss_mm: 40,
      seats: [
        { side: 'non-drive', diameter_mm: 28, depth_mm: 7 },
        { side: 'drive', diameter_mm: 30, depth_mm: 8 },
      ],
    },
    volume_mm3: bossVolume(44, 0.5) - cylinder(28, 7) - cylinder(30, 8) - cylinder(24, 29),
  },
  {
    name: 'one seat, opening to the non-drive side',
    bore: {
      z_from_mm: 0,
      z_to_mm: 12,
      bore_mm: 24,
      boss_mm: 40,
      seats: [{ side: 'non-drive', diameter_mm: 28, depth_mm: 7 }],
    },
    volume_mm3: bossVolume(12, 0.5) - cylinder(28, 7) - cylinder(24, 5),
  },
  {
    name: 'a thread right through',
    bore: { z_from_mm: 0, z_to_mm: 12, bore_mm: 10.2, boss_mm: 40, thread: { ...m12, length_mm: 12, opens: 'drive' } },
    volume_mm3: bossVolume(12, 0.5) - cylinder(12, 12),
  },
  {
    name: 'a thread part of the way',
    bore: { z_from_mm: 0, z_to_mm: 20, bore_mm: 10, boss_mm: 40, thread: { ...m12, length_mm: 14, opens: 'drive' } },
    volume_mm3: bossVolume(20, 0.5) - cylinder(12, 14) - cylinder(10, 6),
  },
  {
    name: 'a blind thread from the drive side',
    bore: {
      z_from_mm: 0,
      z_to_mm: 20,
      bore_mm: 10,
      boss_mm: 40,
      thread: { ...m12, length_mm: 14, opens: 'drive', blind: true },
    },
    volume_mm3: bossVolume(20, 0.5) - cylinder(12, 14),
  },
  {
    name: 'a blind thread from the non-drive side',
    bore: {
      z_from_mm: 0,
      z_to_mm: 20,
      bore_mm: 10,
      boss_mm: 40,
      thread: { ...m12, length_mm: 14, opens: 'non-drive', blind: true },
    },
    volume_mm3: bossVolume(20, 0.5) - cylinder(12, 14),
  },
];

describe('volume of a profile, by hand', () => {
  test.each(CASES)('$name', ({ part, volume_mm3 }) => {
    expect(volumeOf(partProfile(part).solids) / volume_mm3).toBeCloseTo(1, 9);
  });
  test.each(BOSSES)('a boss: $name', ({ bore, volume_mm3 }) => {
    expect(revolvedVolume_mm3(bossSolid(bore, 'aluminium-6061').polygon) / volume_mm3).toBeCloseTo(1, 9);
  });
  test('no kind is left out', () => {
    expect(new Set(CASES.map(({ part }) => part.kind))).toEqual(new Set(PART_KINDS));
  });
});

describe('frame of a profile', () => {
  const named = (name: string) => partProfile(CASES.find((one) => one.name.startsWith(name))!.part);
  const zOf = (solid: Solid): readonly number[] => solid.polygon.map(([, z]) => z);
  test('an axle’s bearing face lies at 0, its head behind it, its tip ahead', () => {
    const axle = named('a hollow axle');
    expect([axle.from_mm, axle.to_mm]).toEqual([-5.2, 50]);
    expect(axle.solids[0]!.polygon.filter(([r, z]) => z === 0 && Math.abs(r - 17.5 / 2) < 1e-9).length).toBe(1);
    expect([Math.min(...zOf(axle.solids[0]!)), Math.max(...zOf(axle.solids[0]!))]).toEqual([-5.2, 50]);
  });
  test('a tapered spacer’s small face lies at 0', () => {
    const cone = named('a tapered spacer, cone');
    const at = (z: number): number =>
      Math.max(...cone.solids[0]!.polygon.filter((corner) => Math.abs(corner[1] - z) < 1e-9).map(([r]) => r));
    expect(2 * at(0)).toBe(18);
    expect(2 * at(8)).toBe(26);
  });
  test('the land of an end cap and of a nut lies at 0', () => {
    for (const [name, land] of [
      ['an end cap', 18],
      ['a nut with', 17.5],
    ] as const) {
      const [solid] = named(name).solids;
      expect(solid!.role).toBe('land');
      expect(2 * Math.max(...solid!.polygon.filter(([, z]) => z === 0).map(([r]) => r))).toBeCloseTo(
        name === 'an end cap' ? land - 0.4 : land,
        9,
      );
    }
  });
  test('only parts that differ end from end have two ways', () => {
    for (const { name, part } of CASES) {
      const { solids, from_mm, to_mm, hasTwoWays } = partProfile(part);
      const corners = (place: (z_mm: number) => number): string[] =>
        solids
          .flatMap(({ role, polygon }) =>
            polygon.map(([r, z]) => `${role} ${r.toFixed(6)} ${Math.abs(place(z)).toFixed(6)}`),
          )
          .sort();
      const isSame = corners((z) => z - from_mm).join() === corners((z) => to_mm - z).join();
      expect(hasTwoWays, name).toBe(!isSame);
    }
  });
  test('seals stand below the ring faces on both sides, and balls run between the rings', () => {
    const profile = named('a bearing');
    const seals = profile.solids.filter((solid) => solid.role === 'seal').map(zOf);
    expect(Math.min(...seals[0]!)).toBeCloseTo(ASSUMED.sealRecess_mm, 12);
    expect(Math.max(...seals[1]!)).toBeCloseTo(7 - ASSUMED.sealRecess_mm, 12);
    const { count, diameter_mm, circle_mm, z_mm } = profile.balls!;
    expect(z_mm).toBe(3.5);
    expect(circle_mm - diameter_mm).toBeGreaterThan(15);
    expect(circle_mm + diameter_mm).toBeLessThan(28);
    expect(count * diameter_mm).toBeLessThan(Math.PI * circle_mm);
  });
});

describe('volume of a profile, against a solid kernel', () => {
  let kernel: ManifoldToplevel;
  beforeAll(async () => {
    kernel = await solidKernel();
  });
  const check = (solid: Solid): void => {
    const turned = turnedSolid(kernel, solid.polygon, FACETS);
    const [volume, parts] = [turned.volume(), turned.decompose()];
    const pieces = parts.length;
    for (const part of [...parts, turned]) part.delete();
    expect(pieces).toBe(1);
    expect(revolvedVolume_mm3(solid.polygon)).toBeGreaterThan(0);
    expect(Math.abs(volume / (facetShare(FACETS) * revolvedVolume_mm3(solid.polygon)) - 1)).toBeLessThan(1e-6);
  };

  test(`the share of ${FACETS} facets is 1.6e-3 short of the whole`, () => {
    expect(1 - facetShare(FACETS)).toBeCloseTo(1.6e-3, 4);
  });
  test.each(CASES)('$name', ({ part }) => partProfile(part).solids.forEach(check));
  test.each(BOSSES)('a boss: $name', ({ bore }) => check(bossSolid(bore, 'steel')));
  test('every part and every boss of the demo models', () => {
    for (const model of demoModels()) {
      Object.values(model.parts).forEach((part) => partProfile(part).solids.forEach(check));
      for (const member of Object.values(model.members))
        for (const bore of Object.values(member.bores)) check(bossSolid(bore, member.material));
    }
  });
  test('60 random profiles, seeds 1 to 60', () => {
    for (let seed = 1; seed <= 60; seed++)
      check({ role: 'body', material: 'steel', polygon: randomProfile(random(seed + 900)) });
  });
});
