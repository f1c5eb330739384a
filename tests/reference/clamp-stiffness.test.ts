/**
 * The stiffness a joint gives its contacts, against a clamped sleeve's E·A/L: between the middles of two like sleeves
 * lies one whole sleeve, half of each.
 */
import { describe, expect, test } from 'vitest';
import { material, readData, type LinkageModel, type MaterialKey } from '../../shared/index.ts';
import { makeJoint } from '../../shared/joint/joint.ts';
import { solveJoint } from '../../shared/joint/solve.ts';
import reference from './data/stiffness.json';
import { resolveModel } from '../../shared/model/resolve.ts';

interface Sleeve {
  readonly outside_mm: number;
  readonly bore_mm: number;
  readonly length_mm: number;
  readonly material: string;
}

/** A pivot of sleeves alone on an axle, head and nut wide enough to cover them. */
function sleeveModel(sleeves: readonly Sleeve[]): LinkageModel {
  const bore = Math.min(...sleeves.map((sleeve) => sleeve.bore_mm));
  const outside = Math.max(...sleeves.map((sleeve) => sleeve.outside_mm)) + 4;
  const length = sleeves.reduce((sum, sleeve) => sum + sleeve.length_mm, 0) + 20;
  const thread = { size_mm: bore - 1, pitch_mm: 1 };
  const reading = readData({
    schema: 1,
    id: 'sleeves',
    name: 'Sleeves',
    units: 'mm, N, N·m, deg',
    parts: {
      axle: {
        kind: 'axle',
        name: 'Axle',
        material: 'steel',
        head: { diameter_mm: outside, height_mm: 5 },
        shank: [{ diameter_mm: bore - 1, length_mm: length }],
        thread: { ...thread, length_mm: Math.min(40, length) },
      },
      nut: {
        kind: 'nut',
        name: 'Nut',
        material: 'steel',
        outside_mm: outside,
        length_mm: 15,
        thread: { ...thread, length_mm: 15 },
      },
      ...Object.fromEntries(
        sleeves.map((sleeve, k) => [`sleeve-${k}`, { kind: 'spacer', name: `Sleeve ${k}`, ...sleeve, chamfer_mm: 0 }]),
      ),
    },
    members: {},
    pivots: [
      {
        id: 'pivot',
        name: 'Pivot',
        x_mm: 0,
        y_mm: 0,
        stacks: [
          {
            id: 'stack',
            axle: 'axle',
            receiver: 'nut',
            from: 'non-drive',
            torque_Nm: 10,
            thread_treatment: 'greased',
            drives: { head: { tool: 'hex-key', size_mm: 8 } },
            turned: 'head',
            row: sleeves.map((_, k) => ({ id: `sleeve-${k}`, part: `sleeve-${k}` })),
          },
        ],
      },
    ],
  });
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.model;
}

const areaOf = ({ outside_mm, bore_mm }: Sleeve): number => (Math.PI / 4) * (outside_mm ** 2 - bore_mm ** 2);
const stiffnessOf = (sleeve: Sleeve): number =>
  (material(sleeve.material as MaterialKey).E_MPa * areaOf(sleeve)) / sleeve.length_mm;

/** The stiffness between two neighbours of a row, N/mm. */
function between(sleeves: readonly Sleeve[], first: string, second: string): number {
  const model = sleeveModel(sleeves);
  const joint = makeJoint(resolveModel(model), model.pivots[0]!.id);
  const meeting = joint.meetings.find(({ a, b }) => a.item.rowId === first && b.item.rowId === second)!;
  return joint.contacts[meeting.law!]!.stiffness_N_per_mm;
}

const pick = ({ outside_mm, bore_mm, length_mm, material: key }: Sleeve): Sleeve => ({
  outside_mm,
  bore_mm,
  length_mm,
  material: key,
});

describe(`sleeve stiffness: ${reference.source}`, () => {
  const { sleeve } = reference;
  test('area and stiffness of the published sleeve', () => {
    expect(material(sleeve.material as MaterialKey).E_MPa).toBe(sleeve.modulus_MPa);
    expect(Math.abs(areaOf(sleeve) / sleeve.area_mm2 - 1)).toBeLessThan(reference.allowedShare);
    const found = between([pick(sleeve), pick(sleeve)], 'sleeve-0', 'sleeve-1');
    expect(Math.abs(found / sleeve.stiffness_N_per_mm - 1)).toBeLessThan(reference.allowedShare);
  });

  test.each(reference.others)('two like sleeves, $name', (other) => {
    const found = between([pick(other), pick(other)], 'sleeve-0', 'sleeve-1');
    expect(Math.abs(found / stiffnessOf(other) - 1)).toBeLessThan(1e-9);
  });

  test('unlike sleeves give way in series, half of each', () => {
    const [one, two]: Sleeve[] = [pick(sleeve), { outside_mm: 21, bore_mm: 15, length_mm: 8, material: 'steel' }];
    const found = between([one!, two!], 'sleeve-0', 'sleeve-1');
    expect(Math.abs(found / (1 / (0.5 / stiffnessOf(one!) + 0.5 / stiffnessOf(two!))) - 1)).toBeLessThan(1e-9);
  });

  test('a column shortens by Hooke’s law: four sleeves, from middle to middle three lengths', () => {
    const model = sleeveModel([sleeve, sleeve, sleeve, sleeve].map(pick));
    const force = 6000;
    const solved = solveJoint(makeJoint(resolveModel(model), model.pivots[0]!.id), force);
    const items = solved.joint.stacks[0]!.items;
    const shift = (id: string): number => solved.spec.shift_mm[items.find((item) => item.rowId === id)!.body]!;
    const wanted = (3 * force) / sleeve.stiffness_N_per_mm;
    expect(Math.abs((shift('sleeve-0') - shift('sleeve-3')) / wanted - 1)).toBeLessThan(1e-4);
  });

  test('a narrow face makes a wide part softer: no more than three times the touching area counts', () => {
    const narrow = { ...pick(sleeve), outside_mm: 16 };
    const wide = { ...pick(sleeve), outside_mm: 40 };
    const half = (one: Sleeve, area: number): number => one.length_mm / 2 / (sleeve.modulus_MPa * area);
    const found = between([narrow, wide], 'sleeve-0', 'sleeve-1');
    const wanted = 1 / (half(narrow, areaOf(narrow)) + half(wide, 3 * areaOf(narrow)));
    expect(Math.abs(found / wanted - 1)).toBeLessThan(1e-9);
  });
});
