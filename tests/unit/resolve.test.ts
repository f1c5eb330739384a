/**
 * Look-ups: which seat a bearing goes into, where a bore stands, what is known of a bearing and what is estimated, and
 * that names every object inherits are never taken for entries of a file.
 */
import { describe, expect, test } from 'vitest';
import {
  applyMistake,
  listMistakes,
  readData,
  resolveBearing,
  resolveModel,
  wordProblem,
  type LinkageModel,
  type PartOf,
} from '../../shared/index.ts';
import { entryOf, pivotOf, resolveChange, seatsOf } from '../../shared/model/resolve.ts';
import { estimateStaticRating_N } from '../../shared/standards/bearings.ts';
import { demoModels } from '../bench/models.ts';
import { patched, type Patch } from '../fixtures/problems/patch.ts';
import { referenceData, referenceModel } from '../fixtures/reference-joint.ts';
import { someOf } from '../setup/series.ts';

const stackOf = (model: LinkageModel) => model.pivots[0]!.stacks[0]!;

/** Seats by row id: `member/bore side`. */
function seats(model: LinkageModel): Record<string, string> {
  const stack = stackOf(model);
  return Object.fromEntries(
    [...seatsOf(model, stack)].map(([k, seat]) => [stack.row[k]!.id, `${seat.member}/${seat.bore} ${seat.side}`]),
  );
}

function model(patch: Patch): LinkageModel {
  const reading = readData(patched(referenceData(), patch));
  if (!reading.ok) throw new Error(reading.problems.map(wordProblem).join('\n'));
  return reading.model;
}

describe('seatsOf', () => {
  test('a bearing before a bore sits in its non-drive seat, one after it in its drive seat, a sleeve between being passed over', () => {
    expect(seats(referenceModel())).toEqual({
      'rocker-bearing-nd': 'rocker/left drive',
      'frame-bearing-nd': 'frame/shell non-drive',
      'frame-bearing-d': 'frame/shell drive',
      'rocker-bearing-d': 'rocker/right non-drive',
    });
  });

  test('the same with the sleeve listed before the shell', () => {
    const row = referenceData().pivots[0]!.stacks[0]!.row;
    const moved = [...row.slice(0, 4), row[5]!, row[4]!, ...row.slice(6)];
    expect(seats(model({ set: { 'pivots[0].stacks[0].row': moved } }))).toEqual(seats(referenceModel()));
  });

  test('the nearest free seat wins, and no seat takes two', () => {
    const base = referenceModel();
    const row = stackOf(base).row;
    const crowded = { ...stackOf(base), row: [...row.slice(0, 7), { id: 'extra', part: 'bearing' }, ...row.slice(7)] };
    const found = seatsOf(base, crowded);
    expect(found.get(6)).toMatchObject({ bore: 'shell', side: 'drive' });
    expect(found.has(7)).toBe(false);
  });

  test('a bearing does not reach past another bore', () => {
    const base = referenceModel();
    const row = stackOf(base).row;
    // The rocker's bearing behind the rocker's own boss: only the drive seat of that boss could take it, and it has
    // none.
    const wrong = { ...stackOf(base), row: [...row.slice(0, 8), row[9]!, row[8]!] };
    expect(seatsOf(base, wrong).has(9)).toBe(false);
  });

  test('names that every object inherits find no member, bore or part', () => {
    const base = referenceModel();
    const row = stackOf(base).row.map((entry, k) =>
      k === 0
        ? { id: 'a', member: 'constructor', bore: 'constructor' }
        : k === 4
          ? { id: 'b', member: 'frame', bore: 'constructor' }
          : entry,
    );
    expect([...seatsOf(base, { ...stackOf(base), row: [...row, { id: 'c', part: 'constructor' }] }).keys()]).toEqual([
      8,
    ]);
  });

  test('every bearing of the demo models has its seat', () => {
    for (const demo of demoModels()) {
      for (const stack of demo.pivots.flatMap((pivot) => pivot.stacks)) {
        const bearings = stack.row.flatMap((entry, k) =>
          entry.part !== undefined && demo.parts[entry.part]!.kind === 'bearing' ? [k] : [],
        );
        expect([...seatsOf(demo, stack).keys()].sort(), `${demo.id} ${stack.id}`).toEqual(bearings.sort());
      }
    }
  });
});

describe('entryOf', () => {
  test('gives what the file defines and nothing else', () => {
    const record = JSON.parse('{"axle":1,"__proto__":2}') as Record<string, number>;
    expect(entryOf(record, 'axle')).toBe(1);
    expect(entryOf(record, '__proto__')).toBe(2);
    for (const name of ['constructor', 'toString', 'valueOf', 'hasOwnProperty', 'nut', '', undefined])
      expect(entryOf({ axle: 1 }, name)).toBeUndefined();
    expect(entryOf({ axle: 1 }, '__proto__')).toBeUndefined();
    expect(entryOf(undefined, 'axle')).toBeUndefined();
  });
});

describe('resolveModel', () => {
  const base = referenceModel();

  test('a receiver is a bore where it names member and bore, else a part', () => {
    const [part] = resolveModel(base).pivots[0]!.stacks;
    expect(part!.receiver).toMatchObject({ partId: stackOf(base).receiver, part: base.parts[stackOf(base).receiver] });
    const stack = { ...stackOf(base), receiver: 'rocker/right' };
    const bored = resolveModel({ ...base, pivots: [{ ...base.pivots[0]!, stacks: [stack] }] });
    const { bore } = bored.pivots[0]!.stacks[0]!.receiver;
    expect(bore).toBe(bored.members['rocker']!.bores['right']);
    expect(bore).toMatchObject({ memberId: 'rocker', boreId: 'right', member: base.members['rocker'], z_from_mm: 28 });
  });

  test('a bore stands where the pivot that holds it is, else where it says itself, and a web’s ends with it', () => {
    const moved = resolveModel(
      model({
        set: {
          'pivots[0].x_mm': 12,
          'pivots[0].y_mm': -3,
          'members.frame.bores.spare': { z_from_mm: -5, z_to_mm: 5, bore_mm: 8, boss_mm: 20, x_mm: 40, y_mm: 50 },
          'members.frame.points': { tip: { x_mm: 7, y_mm: 8, z_mm: 9 } },
          'members.frame.webs': [{ from: 'spare', to: 'tip', thickness_mm: 4 }],
        },
      }),
    );
    expect(moved.members['rocker']!.bores['left']!.place).toEqual({ x_mm: 12, y_mm: -3 });
    const { spare } = moved.members['frame']!.bores;
    expect(spare!.place).toEqual({ x_mm: 40, y_mm: 50 });
    expect(spare!.webs.map(({ ends }) => ends)).toEqual([
      [
        { x_mm: 40, y_mm: 50, z_mm: 0, boss_mm: 20, isBore: true },
        { x_mm: 7, y_mm: 8, z_mm: 9, isBore: false },
      ],
    ]);
  });

  test.each(demoModels())(
    'every reference of $id is the thing itself, and goes through a clone as it is',
    (written) => {
      const resolved = resolveModel(written);
      expect(structuredClone(resolved)).toEqual(resolved);
      expect(JSON.parse(JSON.stringify(resolved.written))).toEqual(JSON.parse(JSON.stringify(written)));
      for (const [k, { stacks, members }] of resolved.pivots.entries()) {
        for (const [at, stack] of stacks.entries()) {
          const raw = written.pivots[k]!.stacks[at]!;
          expect(stack.axle.part).toBe(written.parts[raw.axle]);
          expect(stack.row.map(({ id }) => id)).toEqual(raw.row.map(({ id }) => id));
          for (const [place, entry] of stack.row.entries()) {
            const { part, member, bore } = raw.row[place]!;
            if (entry.role === 'boss') {
              expect(entry.bore).toBe(resolved.members[member!]!.bores[bore!]);
              expect(members).toContain(member);
            } else expect(entry.part).toBe(written.parts[part!]);
            if (entry.role !== 'bearing') continue;
            expect(entry.bearing).toEqual(resolveBearing(entry.part));
            expect(members).toContain(entry.seat.bore.memberId);
            expect(entry.seat.bore.seats).toContainEqual(expect.objectContaining({ side: entry.seat.side }));
          }
        }
      }
    },
  );

  test.each(demoModels())('every mistake on $id resolves from what is known as it does afresh', (written) => {
    const base = resolveModel(written);
    for (const mistake of someOf(
      written.pivots.flatMap(({ id }) => listMistakes(written, id)),
      5,
    )) {
      const changed = applyMistake(written, mistake);
      expect(resolveChange(base, changed), mistake.id).toEqual(resolveModel(changed));
    }
  });

  test('a pivot it has not is refused with those it has', () => {
    expect(() => pivotOf(resolveModel(base), 'none', 'test')).toThrow(/test: pivot is none, allowed: main/);
  });
});

describe('resolveBearing', () => {
  const bearing = (sizes: Partial<PartOf<'bearing'>>): PartOf<'bearing'> => ({
    kind: 'bearing',
    name: 'Bearing',
    ...sizes,
  });

  test('a designation in any spelling: the table’s sizes, only play and stiffness estimated', () => {
    for (const designation of ['61902', '6902', '6902-2RS', '61902 2rs1']) {
      expect(resolveBearing(bearing({ designation }))).toMatchObject({
        designation: '61902',
        bore_mm: 15,
        outside_mm: 28,
        width_mm: 7,
        innerShoulder_mm: 18.8,
        outerShoulder_mm: 25.3,
        abutmentMax_mm: 18.3,
        staticRating_N: 2240,
        estimated: ['axial-play', 'axial-stiffness'],
        shoulderSpread_mm: 0,
      });
    }
  });

  test('what the file says of it comes first', () => {
    const own = resolveBearing(
      bearing({
        designation: '61902',
        inner_shoulder_mm: 18.2,
        outer_shoulder_mm: 25,
        chamfer_mm: 0.2,
        axial_play_mm: 0,
        axial_stiffness_N_per_mm: 5000,
      }),
    );
    expect(own).toMatchObject({
      innerShoulder_mm: 18.2,
      outerShoulder_mm: 25,
      abutmentMax_mm: 18.2,
      chamfer_mm: 0.2,
      axialPlay_mm: 0,
      axialStiffness_N_per_mm: 5000,
      estimated: [],
    });
  });

  test('known by its size alone: the faces are estimated, and how far they may be off is said', () => {
    // 15 + 0.2448 × 13, 28 − 0.215 × 13, the larger spread 0.0886 × 13 (the rule of the bearing table).
    const sized = resolveBearing(bearing({ bore_mm: 15, outside_mm: 28, width_mm: 7 }));
    expect(sized.innerShoulder_mm).toBeCloseTo(18.1824, 4);
    expect(sized.outerShoulder_mm).toBeCloseTo(25.205, 4);
    expect(sized.shoulderSpread_mm).toBeCloseTo(1.1518, 4);
    expect(sized.estimated).toEqual(['shoulders', 'axial-play', 'axial-stiffness', 'static-rating']);
    expect(sized.staticRating_N).toBe(estimateStaticRating_N(sized));
  });

  test('a table row whose faces are taken over from a like bearing is an estimate too, with a smaller spread', () => {
    const wide = resolveBearing(bearing({ designation: '63002' }));
    expect(wide.estimated).toContain('shoulders');
    expect(wide.shoulderSpread_mm).toBe(0.6);
    expect(
      resolveBearing(bearing({ designation: '63002', inner_shoulder_mm: 18.3, outer_shoulder_mm: 28.2 })).estimated,
    ).not.toContain('shoulders');
  });

  test('without sizes it is a fault of the program', () => {
    expect(() => resolveBearing(bearing({ bore_mm: 15 }))).toThrow(/resolve: bearing Bearing/);
  });
});
