/**
 * Profiles as polygons: broken edges, mirror, shift and volume by hand, and whether every part the file format lets
 * through is drawn as one simple outline with its material inside.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  bossSolid,
  checkModel,
  linkageModel,
  mirrorPolygon,
  partProfile,
  revolvedVolume_mm3,
  tubePolygon,
  shiftPolygon,
  type LinkageModel,
  type MemberBore,
  type Part,
  type Polygon,
} from '../../shared/index.ts';
import { placeSolid, radiusRange, zRange } from '../../shared/profile/polygon.ts';
import { cases, property } from '../setup/series.ts';

/** Twice the signed area in (r, z), mm². */
const area = (polygon: Polygon): number =>
  polygon.reduce((sum, [r0, z0], k) => {
    const [r1, z1] = polygon[(k + 1) % polygon.length]!;
    return sum + r0 * z1 - r1 * z0;
  }, 0);

/** The first two edges that cross or run back over one another; undefined for a simple polygon. */
function firstCrossing(polygon: Polygon): string | undefined {
  const corner = (k: number) => polygon[k % polygon.length]!;
  const side = (k: number, [r, z]: readonly [number, number]): number => {
    const [[r0, z0], [r1, z1]] = [corner(k), corner(k + 1)];
    return ((r1 - r0) * (z - z0) - (z1 - z0) * (r - r0)) / Math.max(1e-12, Math.hypot(r1 - r0, z1 - z0));
  };
  const tiny = 1e-9;
  for (let i = 0; i < polygon.length; i++) {
    if (Math.hypot(corner(i + 1)[0] - corner(i)[0], corner(i + 1)[1] - corner(i)[1]) < tiny) return `corner ${i} twice`;
    for (let j = i + 2; j < polygon.length; j++) {
      if (i === 0 && j === polygon.length - 1) continue;
      const [a, b, c, d] = [side(i, corner(j)), side(i, corner(j + 1)), side(j, corner(i)), side(j, corner(i + 1))];
      if (a * b < -tiny * tiny && c * d < -tiny * tiny) return `edges ${i} and ${j} cross`;
    }
    const [[r0, z0], [r1, z1], [r2, z2]] = [corner(i), corner(i + 1), corner(i + 2)];
    const turn = (r1 - r0) * (z2 - z1) - (z1 - z0) * (r2 - r1);
    const along = (r1 - r0) * (r2 - r1) + (z1 - z0) * (z2 - z1);
    if (Math.abs(turn) < tiny && along < 0) return `corner ${i + 1} turns back`;
  }
  return undefined;
}

describe('polygons, by hand', () => {
  test('a ring without broken edges', () => {
    expect(tubePolygon(2, 5, 1, 4)).toEqual([
      [2, 1],
      [5, 1],
      [5, 4],
      [2, 4],
    ]);
  });
  test('a ring with them, no larger than a third of wall and length', () => {
    expect(tubePolygon(2, 5, 0, 6, { outer: 0.5 })).toEqual([
      [2, 0],
      [4.5, 0],
      [5, 0.5],
      [5, 5.5],
      [4.5, 6],
      [2, 6],
    ]);
    expect(tubePolygon(2, 5, 0, 6, { inner: 9 })).toEqual([
      [2, 1],
      [3, 0],
      [5, 0],
      [5, 6],
      [3, 6],
      [2, 5],
    ]);
  });
  test('the mirror swaps the ends and keeps the corner order', () => {
    const polygon: Polygon = [
      [2, 0],
      [6, 0],
      [4, 3],
      [2, 3],
    ];
    expect(mirrorPolygon(polygon)).toEqual([
      [2, -3],
      [4, -3],
      [6, -0],
      [2, -0],
    ]);
    expect(area(mirrorPolygon(polygon))).toBeCloseTo(area(polygon), 12);
    expect(mirrorPolygon(mirrorPolygon(polygon))).toEqual(polygon);
    expect(revolvedVolume_mm3(mirrorPolygon(polygon))).toBeCloseTo(revolvedVolume_mm3(polygon), 10);
  });
  test('a solid is turned first and moved then', () => {
    const solid = {
      role: 'body',
      material: 'steel',
      polygon: [
        [2, 0],
        [6, 0],
        [2, 3],
      ],
    } as const;
    expect(placeSolid(solid, true, 10).polygon).toEqual([
      [2, 7],
      [6, 10],
      [2, 10],
    ]);
    expect(placeSolid(solid, false, 10).polygon).toEqual([
      [2, 10],
      [6, 10],
      [2, 13],
    ]);
  });
  test('ranges of radius and z', () => {
    const polygon: Polygon = [
      [2, -1],
      [6, 0],
      [4, 3],
    ];
    expect(radiusRange(polygon)).toEqual([2, 6]);
    expect(zRange([polygon, shiftPolygon(polygon, 10)])).toEqual([-1, 13]);
  });
  test('volume: a cone and a ball cut into frusta', () => {
    expect(
      revolvedVolume_mm3([
        [0, 0],
        [3, 0],
        [0, 5],
      ]),
    ).toBeCloseTo((Math.PI * 9 * 5) / 3, 10);
    const half = Array.from(
      { length: 2001 },
      (_, k) => [2 * Math.sin((Math.PI * k) / 2000), -2 * Math.cos((Math.PI * k) / 2000)] as const,
    );
    expect(revolvedVolume_mm3(half)).toBeCloseTo((4 / 3) * Math.PI * 8, 4);
  });
  test('volume is negative for corners in the other order', () => {
    expect(revolvedVolume_mm3([...tubePolygon(2, 5, 0, 3)].reverse())).toBeCloseTo(-Math.PI * 21 * 3, 10);
  });
});

// Dimensions as a file could give them, in steps of 0.05 mm; `checkModel` decides which make a part.
const size = (low: number, high: number) =>
  fc.integer({ min: Math.round(low * 20), max: Math.round(high * 20) }).map((value) => value / 20);
const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });
const thread = fc.record({
  size_mm: size(4, 16),
  pitch_mm: fc.constantFrom(0.5, 0.75, 1, 1.25, 1.5),
  length_mm: size(1, 30),
});
const material = 'steel' as const;
const headOf = fc
  .record({ diameter_mm: size(5, 40), height_mm: size(0.5, 10), land: maybe(fc.tuple(size(4, 35), size(0.1, 4))) })
  .map(({ land, ...head }) => ({ ...head, ...(land ? { land_mm: land[0], land_height_mm: land[1] } : {}) }));
const shanked = fc
  .record({
    kind: fc.constantFrom('axle', 'bolt', 'screw', 'sleeve'),
    head: headOf,
    shank: fc.array(fc.record({ diameter_mm: size(4, 20), length_mm: size(0.2, 40) }), { minLength: 1, maxLength: 4 }),
    thread,
    bore_mm: maybe(size(1, 10)),
    fits: fc.boolean(),
  })
  .map(({ fits, shank, ...part }) => {
    // Half of them end at the thread's own size, which the checks ask of an external one.
    const tip = {
      ...shank.at(-1)!,
      diameter_mm: part.kind === 'sleeve' ? part.thread.size_mm + 1 : part.thread.size_mm,
    };
    return { ...part, name: 'Part', material, shank: fits ? [...shank.slice(0, -1), tip] : shank };
  });
const ring = fc
  .record({
    kind: fc.constantFrom('spacer', 'washer'),
    outside_mm: size(5, 40),
    bore_mm: size(3, 39),
    length_mm: size(0.1, 40),
    chamfer_mm: maybe(size(0, 3)),
  })
  .map((part) => ({ ...part, name: 'Part', material }));
const cone = fc
  .record({
    small_mm: size(5, 30),
    wider: size(0.05, 15),
    wall: size(0.1, 8),
    length_mm: size(0.5, 30),
    small_land_mm: maybe(size(0, 30)),
    large_land_mm: maybe(size(0, 30)),
    chamfer_mm: maybe(size(0, 2)),
  })
  .map(({ wider, wall, ...part }) => ({
    ...part,
    kind: 'tapered-spacer' as const,
    name: 'Part',
    material,
    large_mm: part.small_mm + wider,
    bore_mm: part.small_mm - wall,
  }));
const cap = fc
  .record({
    outside_mm: size(10, 40),
    bore_mm: size(3, 30),
    length_mm: size(0.5, 20),
    land_mm: size(4, 39),
    land_height_mm: size(0.05, 15),
  })
  .map((part) => ({ ...part, kind: 'end-cap' as const, name: 'Part', material }));
const bearing = fc
  .record({
    bore_mm: size(5, 30),
    outside_mm: size(8, 50),
    width_mm: size(2, 15),
    inner_shoulder_mm: maybe(size(5, 45)),
    outer_shoulder_mm: maybe(size(5, 50)),
    chamfer_mm: maybe(size(0, 1)),
  })
  .map((part) => ({ ...part, kind: 'bearing' as const, name: 'Part' }));
const nut = fc
  .record({
    outside_mm: size(6, 40),
    length_mm: size(1, 30),
    land: maybe(fc.tuple(size(4, 39), size(0.05, 15))),
    thread,
    closed: fc.boolean(),
  })
  .map(({ land, ...part }) => ({
    ...part,
    kind: 'nut' as const,
    name: 'Part',
    material,
    ...(land ? { land_mm: land[0], land_height_mm: land[1] } : {}),
  }));
const bore = fc
  .record({
    z_from_mm: size(-40, 40),
    width: size(1, 50),
    bore_mm: size(3, 30),
    boss_mm: size(5, 60),
    seats: fc.array(
      fc.record({ side: fc.constantFrom('drive', 'non-drive'), diameter_mm: size(8, 40), depth_mm: size(1, 20) }),
      { maxLength: 2 },
    ),
    thread: maybe(
      fc.record({
        ...{ size_mm: size(4, 16), pitch_mm: fc.constant(1), length_mm: size(1, 30) },
        opens: fc.constantFrom('drive', 'non-drive'),
        blind: fc.boolean(),
      }),
    ),
  })
  .map(({ width, ...sizes }) => ({ ...sizes, z_to_mm: sizes.z_from_mm + width, x_mm: 0, y_mm: 0 }));

/** A model that holds one part and one bore and nothing else, where the checks let both through. */
function accepted(part: object, sizes?: object): LinkageModel | undefined {
  const clean = JSON.parse(
    JSON.stringify({
      schema: 1,
      id: 'one',
      name: 'One',
      units: 'mm, N, N·m, deg',
      parts: { part },
      members: sizes ? { member: { kind: 'link', name: 'Member', material, bores: { bore: sizes } } } : {},
      pivots: [
        {
          id: 'p',
          name: 'P',
          x_mm: 0,
          y_mm: 0,
          stacks: [
            {
              id: 's',
              axle: 'part',
              receiver: 'part',
              from: 'drive',
              torque_Nm: 1,
              thread_treatment: 'dry',
              drives: {},
              turned: 'head',
              row: [{ id: 'r', part: 'part' }],
            },
          ],
        },
      ],
    }),
  ) as unknown;
  const read = linkageModel.safeParse(clean);
  if (!read.success) return undefined;
  // Only what is said of the part or the bore itself counts here.
  return checkModel(read.data).problems.some(({ path }) => path.startsWith('parts.') || path.startsWith('members.'))
    ? undefined
    : read.data;
}

function expectDrawn(polygon: Polygon, what: unknown): void {
  const where = JSON.stringify(what);
  expect(firstCrossing(polygon), where).toBeUndefined();
  expect(area(polygon), where).toBeGreaterThan(0);
  expect(radiusRange(polygon)[0], where).toBeGreaterThanOrEqual(0);
}

describe('every part the format lets through is drawn as a simple outline', () => {
  const KINDS = { ring, cone, cap, bearing, shanked, nut } as const;
  test.each(Object.keys(KINDS) as (keyof typeof KINDS)[])('%s, seed 4711', (kind) => {
    let drawn = 0;
    fc.assert(
      fc.property(KINDS[kind] as fc.Arbitrary<object>, (raw) => {
        const model = accepted(raw);
        if (!model) return;
        drawn++;
        const part: Part = model.parts['part']!;
        const profile = partProfile(part);
        for (const solid of profile.solids) {
          expectDrawn(solid.polygon, part);
          const [low, high] = zRange([solid.polygon]);
          expect(low).toBeGreaterThanOrEqual(profile.from_mm - 1e-9);
          expect(high).toBeLessThanOrEqual(profile.to_mm + 1e-9);
        }
      }),
      property(4711, 600),
    );
    expect(drawn).toBeGreaterThan(cases(600) / 40);
  });

  test('bosses, seed 4711', () => {
    let drawn = 0;
    fc.assert(
      fc.property(bore, (raw) => {
        const model = accepted({ kind: 'spacer', name: 'P', outside_mm: 10, bore_mm: 5, length_mm: 5, material }, raw);
        const sizes: MemberBore | undefined = model?.members['member']!.bores['bore'];
        if (!sizes) return;
        drawn++;
        const { polygon } = bossSolid(sizes, 'steel');
        expectDrawn(polygon, sizes);
        expect(zRange([polygon])).toEqual([sizes.z_from_mm, sizes.z_to_mm]);
        expect(2 * radiusRange(polygon)[1]).toBeCloseTo(sizes.boss_mm, 9);
      }),
      property(4711, 900),
    );
    expect(drawn).toBeGreaterThan(cases(900) / 30);
  });
});
