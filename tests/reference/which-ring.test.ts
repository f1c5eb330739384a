/**
 * Which ring of a bearing a spacer touches, from the two profiles alone and through a whole joint; then every mistake
 * with a ring of the demo models: left out, or turned, it must show in what the fit check finds.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  gap,
  kindOf,
  mirrorPolygon,
  partProfile,
  readData,
  shiftPolygon,
  type Analysis,
  type Finding,
  type Part,
  type PlacedItem,
  type SolidRole,
} from '../../shared/index.ts';
import { LIMITS } from '../../shared/limits.ts';
import { ASSUMED } from '../../shared/parts/entry.ts';
import { demoModels, pivotAlone, withRow } from '../bench/models.ts';
import { referenceData } from '../fixtures/reference-joint.ts';
import reference from './data/which-ring.json';
import harmless from './data/which-ring-harmless.json';

const bearing = partProfile({ kind: 'bearing', name: 'bearing', designation: reference.designation });

/** Gap of every solid of the bearing to a ring laid against its drive face, least first. */
function laidAgainst(part: Part, turned: boolean): { role: SolidRole; gap_mm: number }[] {
  const [solid] = partProfile(part).solids;
  const polygon = turned ? mirrorPolygon(solid!.polygon) : solid!.polygon;
  const found = bearing.solids.flatMap(({ role, polygon: own }) => {
    const met = gap(own, shiftPolygon(polygon, 100));
    return met ? [{ role, gap_mm: met.gap_mm }] : [];
  });
  const rings = found.filter(({ role }) => role !== 'seal');
  const home = Math.min(...rings.map(({ gap_mm }) => gap_mm));
  return found.map(({ role, gap_mm }) => ({ role, gap_mm: gap_mm - home }));
}

const rolesWithin = (met: readonly { role: SolidRole; gap_mm: number }[], from: number, to: number): string[] =>
  [...new Set(met.filter(({ gap_mm }) => gap_mm >= from && gap_mm <= to).map(({ role }) => role))].sort();

describe(`which ring, by the profiles: ${reference.source}`, () => {
  test('the bearing has the faces the cases were derived on', () => {
    const radius = (role: SolidRole, pick: (...radii: number[]) => number): number =>
      2 * pick(...bearing.solids.find((solid) => solid.role === role)!.polygon.map(([r]) => r));
    expect(radius('inner-ring', Math.max)).toBeCloseTo(reference.innerFace_mm, 9);
    expect(radius('outer-ring', Math.min)).toBeCloseTo(reference.outerFace_mm, 9);
    expect(ASSUMED.sealRecess_mm).toBe(reference.seal_mm.recess);
  });

  test.each(reference.rings)('$name', ({ outside_mm, bore_mm, length_mm, touches, near }) => {
    const met = laidAgainst({ kind: 'spacer', name: '', outside_mm, bore_mm, length_mm, material: 'steel' }, false);
    expect(rolesWithin(met, -1e-9, 1e-9)).toEqual(touches);
    expect(rolesWithin(met, 1e-9, LIMITS.sealClearance_mm.value)).toEqual(near);
  });

  test.each([
    ['small', false],
    ['large', true],
  ] as const)('tapered spacer, %s face at the bearing', (face, turned) => {
    const met = laidAgainst({ kind: 'tapered-spacer', name: '', ...reference.cone.part, material: 'steel' }, turned);
    expect(rolesWithin(met, -1e-9, 1e-9)).toEqual(reference.cone[face].touches);
    expect(rolesWithin(met, 1e-9, LIMITS.sealClearance_mm.value)).toEqual(reference.cone[face].near);
  });
});

/**
 * The reference joint with both its 5 mm spacers replaced; a cone's small face looks at the rocker's bearing unless
 * turned.
 */
function withSpacers(part: Record<string, unknown>, turned?: readonly [boolean, boolean]): Analysis {
  const data = referenceData();
  data.parts['spacer'] = { name: 'Ring under test', material: 'aluminium-7075', count: 2, ...part };
  if (turned) {
    for (const entry of data.pivots[0]!.stacks[0]!.row) {
      if (entry['id'] === 'spacer-nd') entry['turned'] = turned[0];
      if (entry['id'] === 'spacer-d') entry['turned'] = turned[1];
    }
  }
  const reading = readData(data);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return analyse(reading.model);
}

const itemOf = (analysis: Analysis, id: string): PlacedItem =>
  analysis.pivots[0]!.stacks[0]!.items.find((item) => item.rowId === id)!;
const stops = (findings: readonly Finding[]): string[] => [
  ...new Set(findings.filter(({ severity }) => severity === 'stop').map(({ code }) => code)),
];

describe('which ring, through a tight joint', () => {
  test.each(reference.rings)('$name', ({ outside_mm, bore_mm, length_mm, touches, near, verdict, codes }) => {
    const analysis = withSpacers({ kind: 'spacer', outside_mm, bore_mm, length_mm, chamfer_mm: 0.2 });
    for (const id of ['spacer-nd', 'spacer-d']) {
      const ring = itemOf(analysis, id);
      for (const face of [ring.nonDrive, ring.drive]) {
        const pressed = [...new Set(face.touches.filter((touch) => touch.force_N > 0).map((touch) => touch.bears))];
        expect(
          pressed.every((bears) => touches.includes(bears)),
          `${id}: ${pressed.join(' ')}`,
        ).toBe(true);
        expect(face.touches.map((touch) => touch.bears)).toEqual(expect.arrayContaining(touches));
        expect(face.touches.some((touch) => touch.bears === 'seal')).toBe(near.includes('seal'));
        expect(face.bears).toBe(
          touches.includes('outer-ring') ? 'outer-ring' : near.includes('seal') ? 'seal' : 'inner-ring',
        );
      }
    }
    expect(analysis.verdict).toBe(verdict);
    expect(stops(analysis.pivots[0]!.findings)).toEqual(expect.arrayContaining(codes));
    if (verdict === 'sound') expect(stops(analysis.pivots[0]!.findings)).toEqual([]);
    // A ring that misses the outer ring is not said to touch it, nor the other way round.
    const found = analysis.pivots[0]!.findings.map(({ code }) => code);
    expect(found.includes('outer-ring-touched')).toBe(touches.includes('outer-ring'));
    expect(found.includes('inner-ring-loose')).toBe(!touches.includes('inner-ring'));
  });

  describe(`a tapered spacer between two bearings: ${reference.cone.source}`, () => {
    const cone = { kind: 'tapered-spacer', ...reference.cone.part, large_land_mm: 1, small_land_mm: 1 };
    test.each([
      // Small face to the frame's bearing or to the rocker's: the large face finds the other bearing either way.
      ['large faces at the rocker', [true, false]],
      ['large faces at the frame', [false, true]],
    ] as const)('%s: one face bears on the inner ring alone, the other on the outer ring as well', (_, turned) => {
      const analysis = withSpacers(cone, turned);
      for (const id of ['spacer-nd', 'spacer-d']) {
        const ring = itemOf(analysis, id);
        const smallFace = ring.smallFace === 'drive' ? ring.drive : ring.nonDrive;
        const largeFace = ring.smallFace === 'drive' ? ring.nonDrive : ring.drive;
        expect(smallFace.bears).toBe('inner-ring');
        expect(largeFace.bears).toBe('outer-ring');
      }
      expect(analysis.verdict).toBe('faulty');
      expect(stops(analysis.pivots[0]!.findings)).toContain('outer-ring-touched');
    });
  });
});

interface Mistake {
  readonly name: string;
  /** A circlip or a seal carries nothing: without it the pivot clamps as it should, and the fit check says LOOK. */
  readonly isClip: boolean;
  readonly before: Analysis['pivots'][number];
  readonly after: Analysis['pivots'][number];
}

/** Every ring of the demo models left out, and turned where it has two ways; each pivot by itself. */
function mistakesOf(): Mistake[] {
  return demoModels().flatMap((model) =>
    model.pivots.flatMap((pivot) => {
      const alone = pivotAlone(model, pivot.id);
      const before = analyse(alone).pivots[0]!;
      return before.stacks.flatMap((stack) =>
        stack.items
          .filter((item) => item.role === 'spacer')
          .flatMap((item) => {
            const mistakes = [
              ['left out', withRow(alone, stack.id, (row) => row.filter((entry) => entry.id !== item.rowId))] as const,
            ];
            const isTwoWay = partProfile(model.parts[item.part!]!).hasTwoWays;
            const turned = withRow(alone, stack.id, (row) =>
              row.map((entry) => (entry.id === item.rowId ? { ...entry, turned: entry.turned !== true } : entry)),
            );
            return [...mistakes, ...(isTwoWay ? [['turned', turned] as const] : [])].map(
              ([what, broken]): Mistake => ({
                name: `${model.id} ${item.id} ${what}`,
                isClip: item.seat !== undefined || kindOf(model.parts[item.part!]!).seals !== undefined,
                before,
                after: analyse(broken).pivots[0]!,
              }),
            );
          }),
      );
    }),
  );
}

describe('mistakes with one ring, demo models', () => {
  const mistakes = mistakesOf();
  const kept = new Set(harmless.cases.map(({ name }: { name: string }) => name));
  // Counting parts is no merit of the contact: what a count alone tells does not count here.
  const codes = ({ findings }: Mistake['before']): Set<string> =>
    new Set(findings.filter(({ code }) => code !== 'part-left-over').map(({ code }) => code));
  const isSeen = ({ before, after }: Mistake): boolean =>
    before.verdict !== after.verdict || [...codes(after)].some((code) => !codes(before).has(code));

  test('the demo models give enough of them', () => {
    expect(mistakes.filter(({ name }) => name.endsWith('left out')).length).toBeGreaterThan(20);
    expect(mistakes.filter(({ name }) => name.endsWith('turned')).length).toBeGreaterThan(8);
  });
  test.each(mistakes.map((mistake) => [mistake.name, mistake] as const))('%s is seen', (name, mistake) => {
    if (kept.has(name)) expect(isSeen(mistake), 'stands in the table of harmless mistakes without need').toBe(false);
    else
      expect(
        isSeen(mistake),
        'neither verdict nor findings change: if it truly makes no difference, name it in which-ring-harmless.json with the reason',
      ).toBe(true);
  });
  test.each(
    mistakes
      .filter(({ before, isClip }) => before.verdict === 'sound' && !isClip)
      .map((mistake) => [mistake.name, mistake] as const),
  )('%s is no sound build', (name, mistake) => {
    if (!kept.has(name)) expect(mistake.after.verdict).not.toBe('sound');
  });
  test('the table of harmless mistakes names nothing that does not exist', () => {
    for (const name of kept) expect(mistakes.map((mistake) => mistake.name)).toContain(name);
  });
});
